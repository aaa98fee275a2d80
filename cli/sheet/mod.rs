//! `sheet`: the dated work of one program on one lawn, for the crew.

mod ask;
mod figures;
mod gear;
mod page;
mod phrases;
mod say;
mod table;
mod told;
mod words;

use sim::analysis::sheet::Sheet;
use sim::analysis::typical;
use sim::ensemble::Results;
use sim::scenario::{Fault, Scenario};

use crate::args::SheetArgs;
use crate::engine;
use crate::failure::Failure;
use crate::files::run::{self, RunRecord};
use crate::inputs::{self, Inputs};
use crate::interrupt;
use crate::outdir::{INDEX, OutDir};
use crate::progress::watched;
use crate::terminal;
use ask::Asked;
use gear::Tools;
pub use phrases::Lang;
use say::Voice;
use told::Source;

/// Members that the dates spread over, where a person does not say.
const MEMBERS: u32 = 200;

/// Runs `sheet`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &SheetArgs) -> Result<(), Failure> {
    let members = args.options.members.unwrap_or(MEMBERS);
    let (inputs, weather) = inputs::read(&args.scenario, args.options.units)?;
    let scenario = &inputs.checked.scenario;
    let asked = ask::read(args, scenario, members)?;
    let tools = Tools::read(&scenario.gear, args.tank.as_deref(), inputs.units)?;
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    // The other programs have no bearing on this one's work.
    let alone = scenario.with_programs(std::slice::from_ref(asked.program));
    let results =
        watched(members, |seen| engine::work(&alone, &weather, (members, &args.options), seen))?;
    let member = asked.member.unwrap_or_else(|| typical::most_typical(&results, &[0]));
    let sheet = made(&alone, &results, member)?;
    let cautions: Vec<&Fault> = inputs
        .checked
        .by_program
        .iter()
        .filter(|(id, _)| *id == asked.program.id)
        .map(|(_, fault)| fault)
        .collect();
    let source = Source {
        scenario,
        program: asked.program,
        sheet: &sheet,
        voice: Voice { lang: args.lang, units: inputs.units, tools: &tools },
        member: (member + 1, asked.member.is_none()),
        seed: args.options.seed,
        cautions: &cautions,
        years: &asked.years,
    };
    let record = record(args, &inputs, &asked, &results);
    out.write("sheet.csv", |w| table::write(&source, w))?;
    out.write("sheet.html", |w| w.write_all(page::page(&source, &record.repeat).as_bytes()))?;
    out.write(INDEX, |w| run::write(&record, w))?;
    out.commit()?;
    terminal::say(&terminal::harmless(&words::all(&source, &args.out.display().to_string())))
}

fn made(scenario: &Scenario, results: &Results, member: u32) -> Result<Sheet, Failure> {
    let (program, played) = (scenario.programs.first(), results.programs.first());
    let sheet = program.zip(played).and_then(|(p, r)| Sheet::new(scenario, p, r, member));
    sheet.ok_or_else(|| {
        Failure::Input(format!(
            "future {}: of so many futures only the first {} keep their work; choose one of them with \
             --member, or fewer futures with --members",
            member + 1,
            results.programs.first().map_or(0, |played| played.work.len())
        ))
    })
}

fn record(args: &SheetArgs, inputs: &Inputs, asked: &Asked, results: &Results) -> RunRecord {
    let tank = match &args.tank {
        Some(tank) => format!(" --tank {}", run::typed(tank)),
        None => String::new(),
    };
    let repeat = format!(
        "swardplay sheet {} --program {} --member {} --season {} --lang {}{tank} --members {} --seed {} \
         --units {}",
        run::typed(&inputs.source.name),
        asked.program.id,
        args.member,
        args.season,
        args.lang.tag(),
        results.members,
        args.options.seed,
        inputs.units.key()
    );
    RunRecord {
        repeat,
        seed: args.options.seed,
        members: results.members,
        units: inputs.units.key(),
        programs: vec![asked.program.id.clone()],
        files: [INDEX, "sheet.csv", "sheet.html"].map(str::to_string).to_vec(),
        ..RunRecord::of_inputs(inputs, results.record_years)
    }
}
