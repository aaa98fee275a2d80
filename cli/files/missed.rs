//! missed.csv: due work that was pushed, missed or given up in each track, and why.

use std::io::{self, Write};

use sim::ensemble::Results;
use sim::scenario::Scenario;

use super::table::Table;
use crate::words::setback::{fate, why};

/// Writes `program,member,due,date,practice,fate,reason`. The date is that on which the work was
/// done after all, or on which the crew stopped trying. Waiting for a visit day is left out.
///
/// # Errors
/// Where it cannot be written.
pub fn write(results: &Results, scenario: &Scenario, out: &mut dyn Write) -> io::Result<()> {
    let header = ["program", "member", "due", "date", "practice", "fate", "reason"];
    let mut table = Table::start(out, &header)?;
    for (index, program) in results.programs.iter().enumerate() {
        let practices = scenario.programs.get(index).map_or(&[][..], |p| &p.practices[..]);
        for (member, setbacks) in program.setbacks.iter().enumerate() {
            for setback in setbacks {
                let practice = practices.get(usize::from(setback.practice));
                table.text(&program.id)?;
                table.count(member + 1)?;
                table.text(&setback.due.to_string())?;
                table.text(&setback.day.to_string())?;
                table.text(practice.map_or("", |p| p.key.as_str()))?;
                table.text(fate(setback.fate))?;
                table.text(why(setback.why))?;
                table.end()?;
            }
        }
    }
    table.finish()
}
