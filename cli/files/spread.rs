//! spread.csv: which luck spreads each outcome.

use std::io::{self, Write};

use sim::ensemble::Results;
use sim::outcomes::OUTCOMES;

use super::table::Table;

/// Decimals of a share: its Monte Carlo error is 0.05 at best.
const PLACES: usize = 2;

/// Writes `program,outcome,weather,lawn,slips,error`: first-order shares of the variance on ranks.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, out: &mut dyn Write) -> io::Result<()> {
    let mut table =
        Table::start(out, &["program", "outcome", "weather", "lawn", "slips", "error"])?;
    for (program, outcomes) in results.programs.iter().zip(&results.spread) {
        for (kind, shares) in OUTCOMES.iter().zip(outcomes) {
            table.text(&program.id)?;
            table.text(kind.key)?;
            for figure in [shares.weather, shares.lawn, shares.slips, shares.error] {
                table.figure(figure, PLACES)?;
            }
            table.end()?;
        }
    }
    table.finish()
}
