//! `lawns`: one scenario on many lawns, each with facts of its own.

mod files;
pub mod table;
pub mod template;
mod words;

use sim::ensemble::stretch;

use crate::args::LawnsArgs;
use crate::engine;
use crate::failure::Failure;
use crate::files::run::{self, Hashed, RunRecord, typed};
use crate::inputs::{self, Inputs};
use crate::interrupt;
use crate::outdir::{INDEX, OutDir};
use crate::parts;
use crate::progress::watched;
use crate::terminal;
use files::Summed;
use table::Table;
use words::Overview;

/// Members of each lawn, where a person does not say.
const MEMBERS: u32 = 200;

/// Runs `lawns`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &LawnsArgs) -> Result<(), Failure> {
    let (inputs, weather) = inputs::read(&args.template, args.options.units)?;
    let mut table = Table::read(&args.table)?;
    let scenarios = template::scenarios(&inputs.source.text, &table);
    let mut scenarios = scenarios.map_err(|faults| table.refuse(&faults))?;
    if let Some(which) = args.part {
        let count = table.rows.len() as u32;
        parts::enough("lawns", count, which.of)?;
        let these = stretch(count, which.number, which.of);
        let these = these.start as usize..these.end as usize;
        table.rows = table.rows.drain(these.clone()).collect();
        scenarios = scenarios.drain(these).collect();
    }
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    let members = args.options.members.unwrap_or(MEMBERS);
    let mut overview = Overview::new(members, inputs.units);
    let mut summed = Vec::new();
    let mut record_years = 0;
    watched(members.saturating_mul(table.rows.len() as u32), |observer| {
        let mut done = 0;
        for (row, checked) in table.rows.iter().zip(&scenarios) {
            let counted = |now: u32| observer(done + now);
            let scenario = &checked.scenario;
            let results = engine::work(scenario, &weather, (members, &args.options), &counted)?;
            overview.add(&row.name, &results, scenario);
            summed.push(Summed::new(&row.name, &results, scenario));
            record_years = results.record_years;
            done += members;
        }
        Ok(())
    })?;
    let cautions = words::cautions(&table, &scenarios, &inputs.checked);
    out.write("lawns.csv", |w| files::outcomes(&summed, w))?;
    out.write("odds.csv", |w| files::odds(&summed, w))?;
    let mut names: Vec<String> = out.names().map(str::to_string).collect();
    names.push(INDEX.to_string());
    names.sort();
    let record = RunRecord {
        repeat: repeat(args, &inputs, members),
        table: Some(Hashed::new(&table.file, &table.text)),
        seed: args.options.seed,
        members,
        programs: inputs.checked.scenario.programs.iter().map(|p| p.id.clone()).collect(),
        files: names,
        ..RunRecord::of_inputs(&inputs, record_years)
    };
    out.write(INDEX, |w| run::write(&record, w))?;
    out.commit()?;
    terminal::say(&overview.tell(&cautions, &args.out.display().to_string()))
}

/// The command line that makes the same files.
fn repeat(args: &LawnsArgs, inputs: &Inputs, members: u32) -> String {
    let part = args.part.map(|w| format!(" --part {}/{}", w.number, w.of)).unwrap_or_default();
    format!(
        "swardplay lawns {} --template {} --members {members} --seed {} --units {}{part}",
        typed(&args.table.display().to_string()),
        typed(&inputs.source.name),
        args.options.seed,
        inputs.units.key()
    )
}
