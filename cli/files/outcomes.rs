//! outcomes.csv: one number for each track and outcome.

use std::io::{self, Write};

use sim::ensemble::{MEASURES, Results, measure};
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::table::Table;
use crate::round;
use crate::words::event::occasions;

/// Writes `program,member,outcome,unit,value`. Members count from 1; money is in the scenario's
/// currency. Events add what was seen on their days (`quality_on_2026-06-20`) and whether all that
/// they need was met (`ready_on_2026-06-20`: 1 or 0).
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, scenario: &Scenario, out: &mut dyn Write) -> io::Result<()> {
    let currency = scenario.crew.currency.as_str();
    let mut table = Table::start(out, &["program", "member", "outcome", "unit", "value"])?;
    for program in &results.programs {
        let occasions = occasions(results, scenario, program);
        for member in 0..results.members as usize {
            for (kind, values) in OUTCOMES.iter().zip(&program.outcomes) {
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(kind.key)?;
                table.text(unit_in_file(kind.unit, currency))?;
                let value = values.get(member).copied().unwrap_or(f64::NAN);
                table.figure(value, round::decimals(round::unit_of(kind.key, kind.unit)))?;
                table.end()?;
            }
            for (look, values) in results.looks.iter().zip(&program.looks) {
                let unit = measure(look.measure).map_or("", |at| MEASURES[at].unit);
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(&format!("{}_on_{}", look.measure, look.day))?;
                table.text(unit)?;
                let value = values.get(member).copied().map_or(f64::NAN, f64::from);
                table.figure(value, round::decimals(unit))?;
                table.end()?;
            }
            for occasion in &occasions {
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(&format!("ready_on_{}", occasion.day))?;
                table.text("1 = yes")?;
                table.count(usize::from(occasion.ready(member)))?;
                table.end()?;
            }
        }
    }
    table.finish()
}

/// The unit as printed: money is named.
pub fn unit_in_file<'a>(unit: &'a str, currency: &'a str) -> &'a str {
    if unit == "currency" { currency } else { unit }
}
