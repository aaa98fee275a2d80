//! Does drawn weather look like the record that it was drawn from? The gates and their misses are
//! described, with the table of results, in `tests/reference/GENERATOR.md`.

#[path = "reference/gates.rs"]
mod gates;
#[path = "reference/stations.rs"]
mod stations;

use gates::{PINS, gates, pinned};
use sim::weather::WeatherPlan;
use stations::Station;

/// Every gate holds, or misses within the wider bounds that its pin states.
fn check(stations: &[Station]) {
    for station in stations {
        for gate in gates(station, WeatherPlan::MatchedBlocks) {
            let (low, high) = pinned(station.name, gate.name)
                .map_or((gate.low, gate.high), |pin| (pin.low, pin.high));
            let (name, value) = (gate.name, gate.value);
            assert!(
                (low..=high).contains(&value),
                "{}, {name}: {value:.3} is not in {low}..{high} ({})",
                station.name,
                gate.detail()
            );
        }
    }
}

#[test]
fn matched_blocks_pass_the_gates_on_the_carried_records() {
    check(&stations::carried());
}

/// No pin is held for these: 15 and 35 years are enough.
#[test]
fn matched_blocks_pass_the_gates_on_long_records() {
    let long = stations::long();
    assert!(long.iter().all(|s| PINS.iter().all(|pin| pin.station != s.name)));
    check(&long);
}

/// A pin whose gate holds has no business: the miss was mended, and the gate should guard it.
#[test]
fn every_pin_is_needed() {
    let stations = stations::carried();
    let mut needed = 0;
    for station in &stations {
        for gate in gates(station, WeatherPlan::MatchedBlocks) {
            if pinned(station.name, gate.name).is_some() {
                assert!(!gate.holds(), "{}, {}: {:.3}", station.name, gate.name, gate.value);
                needed += 1;
            }
        }
    }
    assert_eq!(needed, PINS.len(), "a pin names no gate");
}

/// Whole years keep everything but the spread between four years, which shrinks by 0.87 at worst:
/// so what blocks miss is the blocks' doing, and not the gates'.
#[test]
fn whole_years_pass_the_gates() {
    for station in stations::carried().into_iter().chain(stations::long()) {
        for gate in gates(&station, WeatherPlan::WholeYears) {
            let low = if gate.name.starts_with("SD of monthly rain") { 0.85 } else { gate.low };
            assert!(
                (low..=gate.high).contains(&gate.value),
                "{}, {}: {:.3} ({})",
                station.name,
                gate.name,
                gate.value,
                gate.detail()
            );
        }
    }
}
