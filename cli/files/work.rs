//! work.csv: what the crew did in each track, with minutes and cost.

use std::io::{self, Write};

use sim::ensemble::Results;
use sim::program::tap_mm;
use sim::scenario::{Scenario, What};
use sim::work::Act;

use super::table::Table;
use crate::round;
use crate::words::tending;

/// Writes `program,member,date,practice,amount,unit,minutes,cost,ground_m2`. The amount of a mowing is
/// its height of cut, that of a fertilizer its nitrogen, that of a spray its rate on the ground that is
/// sprayed, which may be less than the lawn.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, scenario: &Scenario, out: &mut dyn Write) -> io::Result<()> {
    let header =
        ["program", "member", "date", "practice", "amount", "unit", "minutes", "cost", "ground_m2"];
    let mut table = Table::start(out, &header)?;
    for (index, program) in results.programs.iter().enumerate() {
        let practices = scenario.programs.get(index).map_or(&[][..], |p| &p.practices[..]);
        for (member, entries) in program.work.iter().enumerate() {
            for entry in entries {
                let practice = practices.get(usize::from(entry.practice));
                let (amount, unit) = amount(&entry.act, practice.map(|p| &p.what));
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(&entry.day.to_string())?;
                table.text(practice.map_or("", |p| p.key.as_str()))?;
                table.figure(amount, round::decimals(unit))?;
                table.text(unit)?;
                table.figure(entry.minutes, round::decimals("minutes"))?;
                table.figure(entry.cost, round::decimals("currency"))?;
                table.figure(entry.ground * scenario.lawn.area_m2, round::decimals("m2"))?;
                table.end()?;
            }
        }
    }
    table.finish()
}

/// The amount of an act that a crew would name, and its unit in files. Watering is what leaves the
/// tap: the act itself holds what reaches the roots.
fn amount(act: &Act, what: Option<&What>) -> (f64, &'static str) {
    match act {
        Act::Cut { height_mm, .. } => (*height_mm, "mm"),
        Act::LayBarrier { rate_kg_ha, .. } => (*rate_kg_ha, "kg ai/ha"),
        Act::LayNitrogen(forms) => (forms.total_g_m2(), "g N/m2"),
        Act::Wet { water_mm } => (what.map_or(*water_mm, tap_mm), "mm"),
        Act::LayCompost { depth_mm } => (*depth_mm, "mm"),
        Act::Spray { rate_kg_ha, .. } => (*rate_kg_ha, "kg ai/ha"),
        Act::SowGrass { seed, .. } => (seed.total_g_m2(), "g seed/m2"),
        Act::Tend(tended) => tending::in_files(tended),
    }
}
