//! `thrift`: whether programs hold what is needed, and the cheapest one that does.

mod ask;
mod asked;
mod picture;
mod story;
mod table;
mod words;

use sim::analysis::thrift::{Answer, Asked, Finalist, Order, Space, effort, enough};
use sim::climate::Normal;
use sim::outcomes::{OUTCOMES, OutcomeKind};
use sim::scenario::{Program, Scenario, Spare};

use crate::args::ThriftArgs;
use crate::engine;
use crate::failure::Failure;
use crate::files::run::{self, RunRecord};
use crate::inputs::{self, Inputs};
use crate::interrupt;
use crate::outdir::{INDEX, OutDir};
use crate::progress::watched;
use crate::terminal;
use crate::units::Units;
use crate::words::odds::Odds;
use ask::Question;

/// Members that search, where a person does not say.
const MEMBERS: u32 = 200;
/// So many times as many judge, as halves: odds are told from them. Five halves of the usual number carry
/// odds in twentieths whatever they are (Clopper-Pearson: 0.045 to each side at 1 in 2).
const FRESH_HALVES: u32 = 5;
/// Most members times programs: more marks than that are not held.
const MOST_MARKS: u64 = 20_000_000;
/// Id of the program that was found, in the text that can be added to a scenario.
const FOUND: &str = "thrifty";

/// Everything that is told.
struct Told<'a> {
    scenario: &'a Scenario,
    /// The programs that were judged and searched from.
    programs: &'a [&'a Program],
    asked: &'a [Asked],
    odds: f64,
    /// What the cheapest spends least of.
    spare: Spare,
    answer: &'a Answer,
    space: &'a Space<'a>,
    /// Index of the program whose failure was asked for.
    wanted_story: Option<usize>,
    normals: &'a [Normal; 12],
    units: Units,
    seed: u64,
    /// Notes on the weather record.
    notes: &'a [String],
}

impl Told<'_> {
    /// The finalist that is recommended.
    fn pick(&self) -> Option<&Finalist> {
        self.answer.finalists.get(self.answer.choice.pick?)
    }

    /// How often everything holds under a finalist.
    fn odds_of(&self, finalist: &Finalist) -> Odds {
        let odds = finalist.judged.odds();
        Odds { hits: odds.hits, members: odds.of }
    }

    /// Whether that is often enough.
    fn holds(&self, finalist: &Finalist) -> bool {
        let Odds { hits, members } = self.odds_of(finalist);
        enough(hits as usize, members as usize, self.odds)
    }

    /// The outcome that costs are counted in.
    fn kind(&self) -> &'static OutcomeKind {
        let kind = OUTCOMES.iter().find(|kind| kind.key == self.spare.outcome());
        kind.unwrap_or(&OUTCOMES[0])
    }

    /// What is asked, in words.
    fn asked(&self, at: usize) -> String {
        asked::words(&self.asked[at], self.scenario, self.units)
    }
}

/// Runs `thrift`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &ThriftArgs) -> Result<(), Failure> {
    let (inputs, weather) = inputs::read(&args.scenario, args.options.units)?;
    let Question { programs, asked, odds, spare, limits, story } = ask::read(args, &inputs)?;
    let scenario = &inputs.checked.scenario;
    let mut space = engine::space(&inputs.source.text, &programs, &limits, inputs.units)?;
    let members = args.options.members.unwrap_or(MEMBERS);
    if u64::from(members) * u64::from(args.tries) > MOST_MARKS {
        return Err(Failure::Input(format!(
            "--members {members} with --tries {}: that is more than can be held; at most {} members",
            args.tries,
            MOST_MARKS / u64::from(args.tries)
        )));
    }
    let order = Order {
        asked: &asked,
        odds,
        spare,
        members,
        fresh: (members.saturating_mul(FRESH_HALVES) / 2).max(1),
        tries: args.tries as usize,
        story,
    };
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    let answer = watched(effort(&order, &space), |observer| {
        engine::thrift(scenario, &weather, &args.options, (&mut space, &order), observer)
    })?;
    let told = Told {
        scenario,
        programs: &programs,
        asked: &asked,
        odds,
        spare,
        answer: &answer,
        space: &space,
        wanted_story: story,
        normals: &engine::normals(&weather.record)?,
        units: inputs.units,
        seed: args.options.seed,
        notes: &weather.notes,
    };
    write(&told, &inputs, args, &mut out)?;
    let names: Vec<String> = out.names().map(str::to_string).collect();
    out.commit()?;
    terminal::say(&words::all(&told, &args.out.display().to_string(), &names))
}

fn write(told: &Told, inputs: &Inputs, args: &ThriftArgs, out: &mut OutDir) -> Result<(), Failure> {
    out.write("thrift.csv", |w| table::write(told, w))?;
    let mut pictures = vec![("thrift", picture::draw(told)?)];
    pictures.extend(story::draw(told)?.map(|picture| ("story", picture)));
    for (name, picture) in pictures {
        out.write(&format!("{name}.svg"), |w| w.write_all(picture.svg.as_bytes()))?;
        let png = crate::drawing::png(name, &picture)?;
        out.write(&format!("{name}.png"), |w| w.write_all(&png))?;
    }
    if let Some(pick) = told.pick().filter(|pick| pick.changes > 0) {
        let title = words::found_title(told, pick);
        if let Some(text) = told.space.written(&pick.one, FOUND, &title) {
            let head = "# Add this to the end of your scenario to play it, sweep it or tell its diary.\n\n";
            out.write("program.toml", |w| w.write_all(format!("{head}{text}").as_bytes()))?;
        }
    }
    let names = out.listing();
    let record = RunRecord {
        repeat: repeat(told, inputs, args),
        seed: told.seed,
        members: told.answer.members.0,
        units: told.units.key(),
        programs: told.programs.iter().map(|p| p.id.clone()).collect(),
        files: names,
        ..RunRecord::of_inputs(inputs, told.answer.record_years)
    };
    out.write(INDEX, |w| run::write(&record, w))
}

/// The command line that makes the same files.
fn repeat(told: &Told, inputs: &Inputs, args: &ThriftArgs) -> String {
    let mut line = format!("swardplay thrift {}", run::typed(&inputs.source.name));
    let story = args.story.iter().cloned().collect();
    let odds = args.odds.iter().cloned().collect();
    let cheap_in = args.cheap_in.iter().cloned().collect();
    for (flag, texts) in [
        ("program", &args.program),
        ("need", &args.need),
        ("budget", &args.budget),
        ("odds", &odds),
        ("cheap-in", &cheap_in),
        ("vary", &args.vary),
        ("keep", &args.keep),
        ("story", &story),
    ] {
        for text in texts {
            line.push_str(&format!(" --{flag} {}", run::typed(text)));
        }
    }
    line.push_str(&format!(
        " --tries {} --members {} --seed {} --units {}",
        args.tries,
        told.answer.members.0,
        told.seed,
        told.units.key()
    ));
    line
}
