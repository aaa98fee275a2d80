//! What the crew loads with: as the scenario or the command line states it, else what is typical.

use sim::quantity::{Kind, parse};
use sim::scenario::Gear;

use super::figures::{carrier, water, weight};
use crate::failure::Failure;
use crate::terminal::harmless;
use crate::units::Units;

/// The gear of a sheet, and what of it is only typical.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tools {
    pub bag_kg: f64,
    pub tank_l: f64,
    pub carrier_ml_m2: f64,
    pub spreader_m: f64,
    /// `None` where nobody said it: then minutes are not told.
    pub sprinkler_mm_h: Option<f64>,
    stated: [bool; 4],
}

/// Common sizes: a bag, a hand or backpack tank, mix on an area, a rotary spreader on foot with its
/// overlap taken off (common practice; 8 to 10 ft swaths in the trade, 1 to 2 gal on 1,000 ft2).
const US: [(&str, Kind); 4] = [
    ("50 lb", Kind::Weight),
    ("4 gal", Kind::Volume),
    ("1 gal/1000 ft2", Kind::VolumePerArea),
    ("8 ft", Kind::Length),
];
const METRIC: [(&str, Kind); 4] = [
    ("25 kg", Kind::Weight),
    ("15 L", Kind::Volume),
    ("4 L/100 m2", Kind::VolumePerArea),
    ("2.5 m", Kind::Length),
];

/// Least and most that a tank may hold, L: as in the scenario.
const TANK_L: (f64, f64) = (0.5, 5000.0);

impl Tools {
    /// `tank` is the flag's text, which stands before the scenario's key.
    ///
    /// # Errors
    /// [`Failure::Input`] where the flag is no volume, or one that no tank has.
    pub(super) fn read(gear: &Gear, tank: Option<&str>, units: Units) -> Result<Tools, Failure> {
        let tank = tank.map(read_tank).transpose()?;
        let said = [gear.bag_kg, tank.or(gear.tank_l), gear.carrier_ml_m2, gear.spreader_m];
        let usual = if units == Units::Us { US } else { METRIC };
        let at =
            |n: usize| said[n].unwrap_or_else(|| parse(usual[n].0, usual[n].1).unwrap_or(f64::NAN));
        Ok(Tools {
            bag_kg: at(0),
            tank_l: at(1),
            carrier_ml_m2: at(2),
            spreader_m: at(3),
            sprinkler_mm_h: gear.sprinkler_mm_h,
            stated: said.map(|value| value.is_some()),
        })
    }

    /// What is only typical of that which is used, each with its unit.
    pub(super) fn typical(&self, units: Units, used: [bool; 4]) -> Vec<String> {
        let told = [
            weight(self.bag_kg, units),
            water(self.tank_l, units),
            carrier(self.carrier_ml_m2, units),
            self.width(units),
        ];
        let wanted = told.into_iter().zip(self.stated).zip(used);
        wanted.filter(|((_, stated), used)| !stated && *used).map(|((told, _), _)| told).collect()
    }

    /// "8 ft".
    pub(super) fn width(&self, units: Units) -> String {
        super::figures::shown(self.spreader_m, Kind::Length, units)
    }
}

fn read_tank(text: &str) -> Result<f64, Failure> {
    let wrong = |why: String| {
        Failure::Input(format!(
            "--tank {}: {why}; a volume was expected, such as \"4 gal\" or \"15 L\"",
            harmless(text)
        ))
    };
    let litres = parse(text, Kind::Volume).map_err(|fault| wrong(fault.message))?;
    if (TANK_L.0..=TANK_L.1).contains(&litres) {
        return Ok(litres);
    }
    Err(wrong(format!("a tank holds {} to {} L", TANK_L.0, TANK_L.1)))
}
