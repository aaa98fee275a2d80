//! contrasts.csv: paired differences between programs, member by member.

use std::io::{self, Write};

use sim::ensemble::{Contrast, Results};
use sim::outcomes::OUTCOMES;

use super::outcomes::unit_in_file;
use super::table::Table;
use crate::round;

/// Writes `program,baseline,outcome,unit,p05,p25,p50,p75,p95,share_better,share_same`: program
/// less baseline, and the shares of members in which it is better, or the same within the least
/// difference that matters.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, currency: &str, out: &mut dyn Write) -> io::Result<()> {
    let header = [
        "program",
        "baseline",
        "outcome",
        "unit",
        "p05",
        "p25",
        "p50",
        "p75",
        "p95",
        "share_better",
        "share_same",
    ];
    let mut table = Table::start(out, &header)?;
    for contrast in &results.contrasts {
        row(results, contrast, currency, &mut table)?;
    }
    table.finish()
}

fn row(
    results: &Results,
    contrast: &Contrast,
    currency: &str,
    table: &mut Table,
) -> io::Result<()> {
    let named = |i: usize| results.programs.get(i).map_or("", |p| p.id.as_str());
    let Some(kind) = OUTCOMES.get(contrast.outcome) else { return Ok(()) };
    table.text(named(contrast.program))?;
    table.text(named(contrast.baseline))?;
    table.text(kind.key)?;
    table.text(unit_in_file(kind.unit, currency))?;
    let spread = round::spread_of(contrast.quantiles[0], contrast.quantiles[4]);
    let finest = round::decimals(round::unit_of(kind.key, kind.unit));
    let places = round::supported_decimals(finest, spread, results.members);
    for quantile in contrast.quantiles {
        table.figure(quantile, places)?;
    }
    let places = round::share_decimals(results.members);
    table.figure(contrast.share_better, places)?;
    table.figure(contrast.share_same, places)?;
    table.end()
}
