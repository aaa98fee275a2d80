//! outcomes.csv: one number for each track and outcome.

use std::io::{self, Write};

use sim::ensemble::Results;
use sim::outcomes::OUTCOMES;

use super::table::Table;
use crate::round;

/// Writes `program,member,outcome,unit,value`. Members count from 1; money is in `currency`.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, currency: &str, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::start(out, &["program", "member", "outcome", "unit", "value"])?;
    for program in &results.programs {
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
        }
    }
    table.finish()
}

/// The unit as printed: money is named.
pub fn unit_in_file<'a>(unit: &'a str, currency: &'a str) -> &'a str {
    if unit == "currency" { currency } else { unit }
}
