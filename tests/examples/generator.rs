//! Draws weather from the station records, holds it against them (gates), leaves years out
//! (hindcast), and prints the tables; `--write` puts them into tests/reference/GENERATOR.md.

#[path = "../reference/gates.rs"]
mod gates;
#[path = "../reference/hindcast.rs"]
mod hindcast;
#[path = "../reference/stations.rs"]
mod stations;
#[path = "../support/mod.rs"]
mod support;

use std::fmt::{Error, Write as _};

use gates::{PINS, Pin, gates};
use hindcast::{Hindcast, MEMBERS, QUANTITIES, hindcasts};
use sim::parameters::Catalogue;
use sim::weather::WeatherPlan;
use stations::Station;

const INTRO: &str = "# Drawn weather against its records

Made by `cargo run --release --example generator -- --write`. Records that the project does not carry
enter where `SWARDPLAY_RECORDS` names a folder that has them. The gates are those proposed by a trial
of several generators on two of these stations; no published tolerance for weather generators was
found. Each synthetic record is as long as its record and on the same calendar. Monthly rows show the
worst month. Whole years stand beside matched blocks for comparison. Gates compare drawn years with
the record that they came from: they say that the generator is faithful, not that the record is
typical.

A frost is a low of at most 0.28 C (32.5 F): these records are in whole degrees F, and at 32 F sharp a
shift of temperatures by hundredths, as matched blocks make in short records, undoes it. The last row
counts frosts at 0 C sharp all the same.
";

const HINDCAST: &str = "
Each year is left out in turn; members are drawn by matched blocks from the station's other years; the
year's own weather goes through the same soil filter, evapotranspiration and lawn (unwatered, mown
weekly, central constants). `place` is the share of members below what the year itself gave, ties
counted half. In a calibrated ensemble places are even over 0..1 and a tenth of them lie outside
5-95 %.

What this can show: a year that is the most extreme of its station's four (one in two is, in each
quantity) must lie beyond nearly all that the other three can give. Eight station-years at two places
cannot prove calibration, and the five quantities of one year are not independent; they can show
gross faults only: members all on one side, or far too narrow. From four years the bands are too
narrow, as they must be. The 15 and 35 years below are the better evidence.
";

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut text = String::from(INTRO);
    let p = Catalogue::embedded().central();
    let stations: Vec<Station> = stations::carried().into_iter().chain(stations::long()).collect();
    text.push_str("\n## Gates\n");
    for station in &stations {
        gate_table(&mut text, station)?;
    }
    misses(&mut text)?;
    text.push_str("\n## Hindcast\n");
    text.push_str(HINDCAST);
    for station in &stations {
        hindcast_table(&mut text, station, &hindcasts(station, &p))?;
    }
    print!("{text}");
    if std::env::args().any(|a| a == "--write") {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/GENERATOR.md");
        std::fs::write(path, text)?;
    }
    Ok(())
}

fn gate_table(text: &mut String, station: &Station) -> Result<(), Error> {
    let whose = if station.carried { "" } else { " (record not carried)" };
    writeln!(text, "\n### {}{whose}, {} synthetic records\n", station.name, station.replicates)?;
    writeln!(text, "| gate | allowed | matched blocks | record -> drawn | | whole years |")?;
    writeln!(text, "|---|---|---|---|---|---|")?;
    let whole = gates(station, WeatherPlan::WholeYears);
    for (gate, other) in gates(station, WeatherPlan::MatchedBlocks).iter().zip(&whole) {
        let verdict = if gate.holds() { "holds" } else { "MISS" };
        writeln!(
            text,
            "| {} | {} to {} {} | {:.3} | {} | {verdict} | {:.3} |",
            gate.name,
            gate.low,
            gate.high,
            gate.unit,
            gate.value,
            gate.detail(),
            other.value
        )?;
    }
    Ok(())
}

fn misses(text: &mut String) -> Result<(), Error> {
    writeln!(
        text,
        "\n### Misses, each pinned by a test\n\n| station | gate | kept within | why |"
    )?;
    writeln!(text, "|---|---|---|---|")?;
    for pin in &PINS {
        let Pin { station, gate, low, high, why } = pin;
        writeln!(text, "| {station} | {gate} | {low} to {high} | {why} |")?;
    }
    Ok(())
}

fn hindcast_table(text: &mut String, station: &Station, all: &[Hindcast]) -> Result<(), Error> {
    let whose = if station.carried { "" } else { " (record not carried)" };
    writeln!(text, "\n### {}{whose}, {MEMBERS} members a year\n", station.name)?;
    let few = all.len() <= 6;
    if few {
        writeln!(text, "| left-out year | quantity | seen | members 5 / 50 / 95 % | place |")?;
        writeln!(text, "|---|---|---|---|---|")?;
        for h in all {
            for (q, name) in QUANTITIES.iter().enumerate() {
                let digits = if q == 3 { 2 } else { 0 };
                let [low, mid, high] = h.band[q];
                writeln!(
                    text,
                    "| {} | {name} | {:.digits$} | {low:.digits$} / {mid:.digits$} / {high:.digits$} | {:.2} |",
                    h.year, h.seen[q], h.place[q]
                )?;
            }
        }
        writeln!(text)?;
    }
    writeln!(text, "| quantity | years by fifth of the members | outside 5-95 % |\n|---|---|---|")?;
    for (q, name) in QUANTITIES.iter().enumerate() {
        let mut fifths = [0; 5];
        all.iter().for_each(|h| fifths[h.fifth(q)] += 1);
        let outside = all.iter().filter(|h| h.outside(q, 1.0)).count();
        writeln!(text, "| {name} | {fifths:?} | {outside} of {} |", all.len())?;
    }
    Ok(())
}
