//! tracks.csv: every track, day by day.

use std::io::{self, Write};

use sim::ensemble::{MEASURES, Results};

use super::table::{Table, dates};
use crate::round;

/// Writes `program,member,date` and one column a measure. Nothing but the header where the run
/// kept no tracks.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, out: &mut dyn Write) -> io::Result<()> {
    let mut header = vec!["program", "member", "date"];
    header.extend(MEASURES.iter().map(|m| m.key));
    let mut table = Table::start(out, &header)?;
    let places = MEASURES.map(|m| round::decimals(round::unit_of(m.key, m.unit)));
    let dates = dates(results.first, results.days);
    for program in &results.programs {
        for (member, rows) in program.tracks.iter().flatten().enumerate() {
            for (date, values) in dates.iter().zip(rows.chunks_exact(MEASURES.len())) {
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(date)?;
                for (value, places) in values.iter().zip(places) {
                    table.figure(f64::from(*value), places)?;
                }
                table.end()?;
            }
        }
    }
    table.finish()
}
