//! ledger.csv: what came in, went out and stayed, for water, nitrogen and carbon.

use std::io::{self, Write};

use sim::ensemble::{Results, SUBSTANCES};

use super::table::Table;

/// Decimals of the sums, and of the residual: finer than other figures, so that a reader can do
/// the sum, and coarser than the noise of 64-bit sums over a run.
const SUM_PLACES: usize = 6;
const RESIDUAL_PLACES: usize = 9;

/// Writes `program,member,substance,unit,entered,left,stored_change,residual`. The residual is the
/// worst day's, absolute.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, out: &mut dyn Write) -> io::Result<()> {
    let header =
        ["program", "member", "substance", "unit", "entered", "left", "stored_change", "residual"];
    let mut table = Table::start(out, &header)?;
    for program in &results.programs {
        for (member, accounts) in program.ledgers.iter().enumerate() {
            for ((substance, unit), account) in SUBSTANCES.iter().zip(accounts) {
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(substance)?;
                table.text(unit)?;
                table.figure(account.entered, SUM_PLACES)?;
                table.figure(account.left, SUM_PLACES)?;
                table.figure(account.stored_change, SUM_PLACES)?;
                table.figure(account.worst_day, RESIDUAL_PLACES)?;
                table.end()?;
            }
        }
    }
    table.finish()
}
