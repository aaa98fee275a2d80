//! bands.csv: quantiles of each measure over the members, by day.

use std::io::{self, Write};

use sim::ensemble::{Band, MEASURES, Results};

use super::table::{Table, dates};
use crate::round;

/// Writes `program,measure,unit,date,p05,p25,p50,p75,p95,mean`.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, out: &mut dyn Write) -> io::Result<()> {
    let header = ["program", "measure", "unit", "date", "p05", "p25", "p50", "p75", "p95", "mean"];
    let mut table = Table::start(out, &header)?;
    let dates = dates(results.first, results.days);
    for program in &results.programs {
        for (kind, band) in MEASURES.iter().zip(&program.bands) {
            let places = places(round::unit_of(kind.key, kind.unit), band, results.members);
            let columns = [&band.p05, &band.p25, &band.p50, &band.p75, &band.p95, &band.mean];
            for (day, date) in dates.iter().enumerate() {
                table.text(&program.id)?;
                table.text(kind.key)?;
                table.text(kind.unit)?;
                table.text(date)?;
                for column in columns {
                    table.figure(column.get(day).copied().unwrap_or(f64::NAN), places)?;
                }
                table.end()?;
            }
        }
    }
    table.finish()
}

/// One number of decimals for the whole band: from its median spread over the days.
fn places(unit: &str, band: &Band, members: u32) -> usize {
    let mut spreads: Vec<f64> =
        band.p05.iter().zip(&band.p95).map(|(low, high)| round::spread_of(*low, *high)).collect();
    spreads.sort_by(f64::total_cmp);
    let typical = spreads.get(spreads.len() / 2).copied().unwrap_or(0.0);
    round::supported_decimals(round::decimals(unit), typical, members)
}
