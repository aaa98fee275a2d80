//! `measure-first`: tells which facts, if known, would change the choice between programs.

mod ask;
mod how;
mod message;
mod picture;
mod table;
mod words;

use sim::analysis::measure_first::{Findings, plays};
use sim::outcomes::{OUTCOMES, OutcomeKind};
use sim::scenario::{Program, Scenario};

use crate::args::MeasureFirstArgs;
use crate::engine::{self, Weather};
use crate::failure::Failure;
use crate::files::run::{self, RunRecord};
use crate::inputs::{self, Inputs};
use crate::interrupt;
use crate::outdir::{INDEX, OutDir};
use crate::progress::watched;
use crate::terminal;
use crate::units::Units;
use crate::words::figure;
use crate::words::name::quoted;
use ask::Chosen;

/// Members, where a person does not say.
const MEMBERS: u32 = 1000;

/// An amount that rounds to nothing, in words.
const NOTHING: &str = "next to nothing";

/// Everything that is told.
struct Told<'a> {
    scenario: &'a Scenario,
    /// The programs to choose from.
    programs: &'a [Program],
    findings: &'a Findings,
    /// What is compared: the outcome, or the money that it is worth less the cost.
    kind: &'static OutcomeKind,
    /// What one unit of the outcome is worth, as told.
    worth: Option<String>,
    /// Whether the outcome was chosen for want of another.
    usual: bool,
    units: Units,
    seed: u64,
    /// Notes on the weather record.
    notes: &'a [String],
}

impl Told<'_> {
    /// The outcome's index, or the cost's where gains are money.
    fn gain_kind(&self) -> &'static OutcomeKind {
        let money = OUTCOMES.iter().find(|kind| kind.key == "cost");
        money.filter(|_| self.worth.is_some()).unwrap_or(self.kind)
    }

    /// A gain in words: "2 points", "$40", "12 days"; `error` sets how finely it is told.
    fn amount(&self, gain: f64, error: f64) -> String {
        self.amount_of(self.gain_kind(), gain, error)
    }

    /// The same of a kind of outcome.
    fn amount_of(&self, kind: &OutcomeKind, gain: f64, error: f64) -> String {
        let currency = &self.scenario.crew.currency;
        let told = figure::difference(kind.key, kind.unit, gain.abs(), error, self.units, currency);
        if told == figure::SAME {
            return NOTHING.into();
        }
        let ends = [" higher", " more"];
        let plain = ends.iter().find_map(|end| told.strip_suffix(end)).unwrap_or(&told);
        // "1.0 points" is one point.
        plain.strip_suffix(".0 points").map_or(plain.to_string(), |whole| match whole {
            "1" => "1 point".into(),
            more => format!("{more} points"),
        })
    }

    /// The same twice as finely: what knowing is worth, and how far something moves, are small beside
    /// what programs differ by.
    fn finely(&self, gain: f64, error: f64) -> String {
        self.amount(gain, error / 2.0)
    }

    /// The same for a picture, whose columns name the unit.
    fn short(&self, gain: f64, error: f64) -> String {
        let amount = self.finely(gain, error);
        if amount == NOTHING {
            return "almost 0".into();
        }
        amount.split(' ').next().unwrap_or_default().to_string()
    }

    /// A gain in the shown unit.
    fn shown(&self, gain: f64) -> f64 {
        self.units.shown(self.gain_kind().unit).difference(gain)
    }

    /// Whether futures were picked by what was seen, so that no fact could be changed by itself.
    fn picked(&self) -> bool {
        self.findings.facts.iter().any(|judged| judged.effect.is_none())
    }

    /// The program that is best on average.
    fn best(&self) -> String {
        quoted(&self.programs[self.findings.best].title)
    }

    /// One of the others, by its place among the gains.
    fn other(&self, at: usize) -> String {
        quoted(&self.programs[self.findings.others[at]].title)
    }
}

/// Runs `measure-first`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &MeasureFirstArgs) -> Result<(), Failure> {
    let (inputs, weather) = inputs::read(&args.scenario, args.options.units)?;
    let scenario = &inputs.checked.scenario;
    let chosen = ask::read(args, &inputs)?;
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    let findings = play(scenario, &weather, args, &chosen)?;
    let told = Told {
        scenario,
        programs: &chosen.programs,
        findings: &findings,
        kind: &OUTCOMES[findings.aim.outcome],
        worth: chosen.worth_in_words,
        usual: chosen.asked.outcome.is_none(),
        units: inputs.units,
        seed: args.options.seed,
        notes: &weather.notes,
    };
    write(&told, &inputs, args, &mut out)?;
    out.commit()?;
    terminal::say(&words::all(&told, &args.out.display().to_string()))
}

fn play(
    scenario: &Scenario,
    weather: &Weather,
    args: &MeasureFirstArgs,
    chosen: &Chosen,
) -> Result<Findings, Failure> {
    let members = args.options.members.unwrap_or(MEMBERS);
    let total = plays(scenario, &engine::catalogue()?, members);
    watched(total, |observer| {
        let question = (&chosen.programs[..], chosen.asked);
        engine::measure_first(scenario, weather, (members, &args.options), question, observer)
    })
}

fn write(
    told: &Told,
    inputs: &Inputs,
    args: &MeasureFirstArgs,
    out: &mut OutDir,
) -> Result<(), Failure> {
    out.write("measure-first.csv", |w| table::write(told, w))?;
    let picture = picture::draw(told)?;
    out.write("measure-first.svg", |w| w.write_all(picture.svg.as_bytes()))?;
    let png = crate::drawing::png("measure-first", &picture)?;
    out.write("measure-first.png", |w| w.write_all(&png))?;
    let names = out.listing();
    let record = record(told, inputs, args, names);
    out.write(INDEX, |w| run::write(&record, w))
}

fn record(told: &Told, inputs: &Inputs, args: &MeasureFirstArgs, files: Vec<String>) -> RunRecord {
    RunRecord {
        repeat: repeat(told, inputs, args),
        seed: told.seed,
        members: told.findings.members,
        units: told.units.key(),
        programs: told.programs.iter().map(|program| program.id.clone()).collect(),
        files,
        ..RunRecord::of_inputs(inputs, told.findings.record_years)
    }
}

/// The command line that makes the same files.
fn repeat(told: &Told, inputs: &Inputs, args: &MeasureFirstArgs) -> String {
    let programs: String =
        told.programs.iter().map(|program| format!(" --program {}", program.id)).collect();
    let worth = args.worth.as_deref().map(|text| format!(" --worth {}", run::typed(text)));
    format!(
        "swardplay measure-first {}{programs} --outcome {}{} --members {} --seed {} --units {}",
        run::typed(&inputs.source.name),
        told.kind.key,
        worth.unwrap_or_default(),
        told.findings.members,
        told.seed,
        told.units.key()
    )
}
