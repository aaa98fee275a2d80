//! Work on the ground and the turf, as a person would say it.

use sim::quantity::{self, Kind};
use sim::scenario::Tend;
use sim::work::{Stimulant, Tending};

use super::practice::shown;
use crate::units::Units;

/// What a practice means to do: "core with hollow tines, holes 2.5 in deep over 5 % of the surface".
pub fn plan(tend: &Tend, units: Units) -> String {
    let amount = amount(&tend.tending, units);
    let what = match tend.tending {
        Tending::Core { .. } => format!("core with hollow tines, {amount}"),
        Tending::Scarify { .. } => format!("scarify (comb thatch out) {amount}"),
        Tending::Kill { .. } => format!("kill all that is green with glyphosate, {amount}"),
        Tending::Level { .. } => format!("level with {amount}"),
        Tending::LaySod { .. } => format!("lay {amount}"),
        Tending::Lime { .. } => {
            let bought = tend.product.as_ref().map_or(0.0, |product| product.amount_per_m2);
            format!("spread {} of {}", shown(bought, Kind::MassPerArea, units), product(tend))
        }
        Tending::SprayIron { .. } => format!("spray {amount} for colour"),
        Tending::Stimulate { .. } => format!("spray {amount} (thin evidence)"),
        Tending::FeedStrip => "feed a narrow strip double, to compare the lawn with".into(),
    };
    let what = if tend.once { format!("{what}, once") } else { what };
    match tend.water_in_mm {
        mm if mm > 0.0 => format!("{what}, watered in with {}", shown(mm, Kind::Depth, units)),
        _ => what,
    }
}

/// Name of what is laid.
fn product(tend: &Tend) -> &str {
    tend.product.as_ref().map_or("", |product| product.name.as_str())
}

/// What was done: "cored, holes 2.5 in deep over 5 % of the surface".
pub fn done(tending: &Tending, units: Units) -> String {
    let amount = amount(tending, units);
    match tending {
        Tending::Core { .. } => format!("cored, {amount}"),
        Tending::Scarify { .. } => format!("scarified {amount}"),
        Tending::Kill { .. } => format!("all that is green sprayed with glyphosate, {amount}"),
        Tending::Level { .. } => format!("levelled with {amount}"),
        Tending::LaySod { .. } => format!("{amount} laid"),
        Tending::Lime { .. } => format!("{amount} spread"),
        Tending::SprayIron { .. } | Tending::Stimulate { .. } => format!("{amount} sprayed"),
        Tending::FeedStrip => "the strip fed double".into(),
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
        Tending::Kill { rate_kg_ha } => shown(rate_kg_ha, Kind::ActiveRate),
        Tending::Level { depth_mm } => format!("{} of topsoil", depth(depth_mm)),
        Tending::LaySod { kinds } => {
            let names: Vec<String> = kinds
                .iter()
                .filter(|(_, share)| *share > 0.0)
                .map(|(grass, share)| match share {
                    share if *share > 0.995 => grass.name().to_string(),
                    share => format!("{} ({})", grass.name(), shown(*share, Kind::Share)),
                })
                .collect();
            format!("sod of {}", names.join(" and "))
        }
        Tending::Lime { carbonate_g_m2 } => {
            format!("lime worth {} of pure limestone", shown(carbonate_g_m2, Kind::MassPerArea))
        }
        // 1 kg/ha is 0.1 g/m2.
        Tending::SprayIron { iron_kg_ha } => {
            format!("{} of iron", shown(0.1 * iron_kg_ha, Kind::MassPerArea))
        }
        Tending::Stimulate { kind, root_growth } => {
            let what = match kind {
                Stimulant::Humic => "a humic product",
                Stimulant::Seaweed => "a seaweed extract",
                Stimulant::Microbial => "a microbial product",
            };
            if root_growth > 0.0 {
                let more = shown(root_growth, Kind::Share);
                format!("{what}, taken to make roots grow {more} more")
            } else {
                what.into()
            }
        }
        Tending::FeedStrip => String::new(),
    }
}

/// The amount that a crew would name, and its unit in files.
pub fn in_files(tending: &Tending) -> (f64, &'static str) {
    match *tending {
        Tending::Core { depth_mm, .. }
        | Tending::Scarify { depth_mm }
        | Tending::Level { depth_mm } => (depth_mm, "mm"),
        Tending::Kill { rate_kg_ha } => (rate_kg_ha, "kg ai/ha"),
        Tending::Lime { carbonate_g_m2 } => (carbonate_g_m2, "g CaCO3/m2"),
        Tending::LaySod { kinds } => (100.0 * kinds.iter().map(|k| k.1).sum::<f64>(), "%"),
        Tending::SprayIron { iron_kg_ha } => (0.1 * iron_kg_ha, "g Fe/m2"),
        Tending::Stimulate { .. } | Tending::FeedStrip => (1.0, "count"),
    }
}
