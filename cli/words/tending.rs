//! Work on the ground and the turf, as a person would say it.

use sim::quantity::{self, Kind};
use sim::scenario::Tend;
use sim::work::Tending;

use super::practice::shown;
use crate::units::Units;

/// What a practice means to do: "core with hollow tines, holes 2.5 in deep over 5 % of the surface".
pub fn plan(tend: &Tend, units: Units) -> String {
    let amount = amount(&tend.tending, units);
    let what = match tend.tending {
        Tending::Core { .. } => format!("core with hollow tines, {amount}"),
        Tending::Scarify { .. } => format!("scarify (comb thatch out) {amount}"),
    };
    match tend.water_in_mm {
        mm if mm > 0.0 => format!("{what}, watered in with {}", shown(mm, Kind::Depth, units)),
        _ => what,
    }
}

/// What was done: "cored, holes 2.5 in deep over 5 % of the surface".
pub fn done(tending: &Tending, units: Units) -> String {
    let amount = amount(tending, units);
    match tending {
        Tending::Core { .. } => format!("cored, {amount}"),
        Tending::Scarify { .. } => format!("scarified {amount}"),
    }
}

/// How much of it.
pub fn amount(tending: &Tending, units: impl Into<quantity::Units>) -> String {
    let units = units.into();
    let shown = |value, kind| quantity::show(value, kind, units);
    let depth = |mm| shown(mm, Kind::Depth);
    match *tending {
        Tending::Core { depth_mm, opened } => format!(
            "holes {} deep over {} of the surface",
            depth(depth_mm),
            shown(opened, Kind::Share)
        ),
        Tending::Scarify { depth_mm } => format!("{} deep", depth(depth_mm)),
    }
}

/// The amount that a crew would name, and its unit in files.
pub fn in_files(tending: &Tending) -> (f64, &'static str) {
    match *tending {
        Tending::Core { depth_mm, .. } | Tending::Scarify { depth_mm } => (depth_mm, "mm"),
    }
}
