//! `when`: sweeps one setting of one practice, and tells where it does best.

mod ask;
mod picture;
mod speech;
mod table;
mod words;

use sim::analysis::when::{Order, Point, Sweep};
use sim::outcomes::{OUTCOMES, OutcomeKind};
use sim::scenario::{Dial, Fault, Program, Scenario};

use crate::args::WhenArgs;
use crate::engine::{self, Weather};
use crate::failure::Failure;
use crate::files::run::{self, RunRecord};
use crate::inputs::{self, Inputs};
use crate::interrupt;
use crate::outdir::{INDEX, OutDir};
use crate::progress::watched;
use crate::terminal;
use crate::units::Units;
use crate::words::name;
use speech::Speech;

/// Members of each of the two sets, where a person does not say.
const MEMBERS: u32 = 200;

/// Everything that is told of a sweep.
pub(crate) struct Told<'a> {
    scenario: &'a Scenario,
    program: &'a Program,
    practice: &'a str,
    dial: &'a Dial,
    nth: usize,
    /// Index of the outcome, and what it is.
    outcome: usize,
    kind: &'static OutcomeKind,
    points: &'a [Point],
    /// What the scenario itself is warned of.
    cautions: &'a [Fault],
    sweep: &'a Sweep,
    speech: Speech,
    units: Units,
    seed: u64,
    /// What of the practice's words depends on what it does: "The barrier".
    subject: String,
    /// Notes on the weather record.
    notes: &'a [String],
}

/// Runs `when`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &WhenArgs) -> Result<(), Failure> {
    let (inputs, weather) = inputs::read(&args.scenario, args.options.units)?;
    let scenario = &inputs.checked.scenario;
    let asked = ask::read(args, &inputs)?;
    let ask::Swept { program, practice, dial, nth, outcome, .. } = &asked;
    let chosen = (*program, practice.as_str());
    let turned = (dial, *nth);
    let points =
        engine::turned(&inputs.source.text, &inputs.checked, chosen, turned, &asked.values);
    let own_value = dial.now.get(*nth).copied();
    let other = |point: &Point| point.program.is_some() && own_value != Some(point.value);
    if !points.iter().any(other) {
        return Err(refused(&points));
    }
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    let watched =
        if dial.key == "split" { format!("{practice}{}", name::SECOND) } else { practice.clone() };
    let order =
        Order { own: program, own_value, points: &points, watched: &watched, outcome: *outcome };
    let sweep = play(&inputs, &weather, args, &order)?;
    let told = Told {
        scenario,
        program,
        practice,
        dial,
        nth: *nth,
        outcome: *outcome,
        kind: &OUTCOMES[*outcome],
        points: &points,
        cautions: &inputs.checked.cautions,
        sweep: &sweep,
        speech: Speech::new(dial, &asked.values, inputs.units),
        units: inputs.units,
        seed: args.options.seed,
        subject: speech::subject(&asked.what, practice, dial, *nth),
        notes: &weather.notes,
    };
    write(&told, &inputs, args, &mut out)?;
    let names: Vec<String> = out.names().map(str::to_string).collect();
    out.commit()?;
    terminal::say(&words::all(&told, &args.out.display().to_string(), &names))
}

fn play(
    inputs: &Inputs,
    weather: &Weather,
    args: &WhenArgs,
    order: &Order,
) -> Result<Sweep, Failure> {
    let members = args.options.members.unwrap_or(MEMBERS);
    let scenario = &inputs.checked.scenario;
    watched(members.saturating_mul(2), |observer| {
        engine::sweep(scenario, weather, (members, &args.options), order, observer)
    })
}

/// No setting but the program's own may be played: the first reason, which is that of all.
fn refused(points: &[Point]) -> Failure {
    let Some(fault) = points.iter().find_map(|point| point.fault.as_ref()) else {
        return Failure::Input("no other value lies between the two ends".into());
    };
    let why = match fault.code {
        "syntax" => "its programs cannot be added to; write each under a head of its own, \
                     [[program]]"
            .to_string(),
        _ => format!("{}; expected {}", fault.message, fault.expected),
    };
    Failure::Input(format!("no other value can be played: {}", terminal::harmless(&why)))
}

fn write(told: &Told, inputs: &Inputs, args: &WhenArgs, out: &mut OutDir) -> Result<(), Failure> {
    out.write("when.csv", |w| table::write(told, w))?;
    let picture = picture::draw(told)?;
    out.write("when.svg", |w| w.write_all(picture.svg.as_bytes()))?;
    let png = crate::drawing::png("when", &picture)?;
    out.write("when.png", |w| w.write_all(&png))?;
    let names = out.listing();
    let record = record(told, inputs, args, names);
    out.write(INDEX, |w| run::write(&record, w))
}

fn record(told: &Told, inputs: &Inputs, args: &WhenArgs, files: Vec<String>) -> RunRecord {
    RunRecord {
        repeat: repeat(told, inputs, args),
        seed: told.seed,
        members: told.sweep.members,
        units: told.units.key(),
        programs: vec![told.program.id.clone()],
        files,
        ..RunRecord::of_inputs(inputs, told.sweep.record_years)
    }
}

/// The command line that makes the same files.
fn repeat(told: &Told, inputs: &Inputs, args: &WhenArgs) -> String {
    let mut line = format!(
        "swardplay when {} --program {} --practice {} --setting {} --outcome {}",
        run::typed(&inputs.source.name),
        told.program.id,
        told.practice,
        told.dial.key,
        told.kind.key
    );
    if told.dial.now.len() > 1 {
        line.push_str(&format!(" --nth {}", told.nth + 1));
    }
    for (flag, text) in [("from", &args.from), ("to", &args.to)] {
        if let Some(text) = text {
            line.push_str(&format!(" --{flag} {}", run::typed(text)));
        }
    }
    if let Some(steps) = args.steps {
        line.push_str(&format!(" --steps {steps}"));
    }
    line.push_str(&format!(
        " --members {} --seed {} --units {}",
        told.sweep.members,
        told.seed,
        told.units.key()
    ));
    line
}
