//! `credit`: shares what a program changes out among the practices in which it differs from another.

mod ask;
pub(crate) mod change;
mod message;
mod picture;
mod table;
mod words;

use sim::analysis::credit::{Credits, Estimate, OutcomeCredits, Player};
use sim::outcomes::{OUTCOMES, OutcomeKind};
use sim::scenario::{Program, Scenario};

use crate::args::CreditArgs;
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
use crate::words::name;
use ask::Asked;

/// Members, where a person does not say.
const MEMBERS: u32 = 200;

/// Everything that is told of a credit.
struct Told<'a> {
    scenario: &'a Scenario,
    base: &'a Program,
    program: &'a Program,
    credits: &'a Credits,
    /// Outcomes that were asked for; `None` tells those that matter.
    wanted: Option<&'a [usize]>,
    units: Units,
    seed: u64,
    /// Notes on the weather record.
    notes: &'a [String],
}

/// One outcome with its credits.
#[derive(Clone, Copy)]
struct Row<'a> {
    kind: &'static OutcomeKind,
    shared: &'a OutcomeCredits,
}

/// Outcomes that are told where nobody asks for others, where the program changes them by what matters.
const HEADLINES: [&str; 6] = [
    "crabgrass_peak",
    "quality_summer",
    "turf_cover_end",
    "organic_matter_change",
    "crew_hours",
    "cost",
];

impl<'a> Told<'a> {
    /// Outcomes to tell, in the order of files.
    fn rows(&self) -> impl Iterator<Item = Row<'a>> {
        let rows = OUTCOMES.iter().zip(&self.credits.outcomes).enumerate();
        let wanted = self.wanted;
        rows.filter(move |(at, (kind, _))| match wanted {
            Some(wanted) => wanted.contains(at),
            None => HEADLINES.contains(&kind.key),
        })
        .map(|(_, (kind, shared))| Row { kind, shared })
    }

    /// Those of them that were asked for, or in which the whole or a practice changes what matters.
    fn shown(&self) -> Vec<Row<'a>> {
        self.rows().filter(|row| self.wanted.is_some() || row.matters()).collect()
    }

    /// A difference of an outcome in words: "9 points lower".
    fn said(&self, kind: &OutcomeKind, estimate: &Estimate) -> String {
        let error = estimate.standard_error();
        let currency = &self.scenario.crew.currency;
        figure::difference(kind.key, kind.unit, estimate.mean, error, self.units, currency)
    }

    /// The range of a difference in words: "7 to 11".
    fn ends(&self, kind: &OutcomeKind, estimate: &Estimate) -> Option<String> {
        let error = estimate.standard_error();
        let currency = &self.scenario.crew.currency;
        let ends = estimate.interval;
        figure::difference_ends(kind.key, kind.unit, ends, error, self.units, currency)
    }

    /// A player's name inside a sentence.
    fn name(&self, player: &Player) -> String {
        name::practice_in_line(&player.key)
    }

    /// What was changed of a player's practice.
    fn change(&self, player: &Player) -> String {
        change::tell(player, self.base, self.program, self.units)
    }

    /// The words before an outcome's differences are about: "over 2 seasons".
    fn over(&self) -> String {
        name::over(self.scenario)
    }
}

impl Row<'_> {
    /// Whether an estimate is told from nothing, and large enough to matter.
    fn counts(&self, estimate: &Estimate) -> bool {
        estimate.clear() && estimate.mean.abs() >= self.kind.least_difference
    }

    /// Whether the whole or any practice changes what matters.
    fn matters(&self) -> bool {
        [&self.shared.total].into_iter().chain(&self.shared.credits).any(|each| self.counts(each))
    }
}

/// Runs `credit`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &CreditArgs) -> Result<(), Failure> {
    let (inputs, weather) = inputs::read(&args.scenario, args.options.units)?;
    let asked = ask::read(args, &inputs.checked.scenario)?;
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    let credits = play(&inputs, &weather, args, &asked)?;
    let told = Told {
        scenario: &inputs.checked.scenario,
        base: asked.base,
        program: asked.program,
        credits: &credits,
        wanted: asked.outcomes.as_deref(),
        units: inputs.units,
        seed: args.options.seed,
        notes: &weather.notes,
    };
    write(&told, &inputs, &mut out)?;
    out.commit()?;
    terminal::say(&words::all(&told, &args.out.display().to_string()))
}

fn play(
    inputs: &Inputs,
    weather: &Weather,
    args: &CreditArgs,
    asked: &Asked,
) -> Result<Credits, Failure> {
    let members = args.options.members.unwrap_or(MEMBERS);
    let scenario = &inputs.checked.scenario;
    if let Some(note) = asked.patience(members, args.options.threads, scenario) {
        terminal::note(&note);
    }
    let pair = (asked.base, asked.program);
    watched(members, |observer| {
        engine::credit(scenario, weather, (members, &args.options), pair, observer)
    })
}

fn write(told: &Told, inputs: &Inputs, out: &mut OutDir) -> Result<(), Failure> {
    out.write("credit.csv", |w| table::write(told, w))?;
    let picture = picture::draw(told)?;
    out.write("credit.svg", |w| w.write_all(picture.svg.as_bytes()))?;
    let png = crate::drawing::png("credit", &picture)?;
    out.write("credit.png", |w| w.write_all(&png))?;
    let names = out.listing();
    let record = record(told, inputs, names);
    out.write(INDEX, |w| run::write(&record, w))
}

fn record(told: &Told, inputs: &Inputs, files: Vec<String>) -> RunRecord {
    RunRecord {
        repeat: repeat(told, inputs),
        seed: told.seed,
        members: told.credits.members,
        units: told.units.key(),
        programs: vec![told.base.id.clone(), told.program.id.clone()],
        files,
        ..RunRecord::of_inputs(inputs, told.credits.record_years)
    }
}

/// The command line that makes the same files.
fn repeat(told: &Told, inputs: &Inputs) -> String {
    let outcomes: String = match told.wanted {
        Some(wanted) => {
            wanted.iter().map(|at| format!(" --outcome {}", OUTCOMES[*at].key)).collect()
        }
        None => String::new(),
    };
    format!(
        "swardplay credit {} --program {} --against {}{outcomes} --members {} --seed {} --units {}",
        run::typed(&inputs.source.name),
        told.program.id,
        told.base.id,
        told.credits.members,
        told.seed,
        told.units.key()
    )
}
