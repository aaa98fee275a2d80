//! Which two programs, and which outcomes: every fault with its near miss.

use sim::analysis::credit::shapley::MOST_PLAYERS;
use sim::analysis::credit::{players, programs_to_play};
use sim::outcomes::{Almanac, OUTCOMES, outcome};
use sim::scenario::{Program, Scenario};

use super::MEMBERS;
use crate::args::CreditArgs;
use crate::failure::Failure;
use crate::input::{missing, unknown};
use crate::round;
use crate::terminal::harmless;
use crate::words::name::quoted;

/// Most mixes times members: more outcomes than that are not held.
const MOST_TRACKS: u64 = 1_000_000;

/// Seconds of one core for a lawn-day, to tell how long it will take: measured, see DEVELOPERS.md.
const LAWN_DAY_S: f64 = 2e-6;

/// A run shorter than this, s, is not announced.
const PATIENCE_S: f64 = 10.0;

/// What is to be shared out.
pub(super) struct Asked<'a> {
    pub base: &'a Program,
    pub program: &'a Program,
    /// Indices of the outcomes asked for, rising; `None` where nobody asked.
    pub outcomes: Option<Vec<usize>>,
    /// Practices that differ.
    practices: usize,
}

/// Reads what is to be shared out.
///
/// # Errors
/// [`Failure::Input`] with what was expected.
pub(super) fn read<'a>(args: &CreditArgs, scenario: &'a Scenario) -> Result<Asked<'a>, Failure> {
    let ids = || scenario.programs.iter().map(|p| p.id.as_str());
    let find = |flag: &str, id: &str| {
        let found = scenario.programs.iter().find(|program| program.id == id);
        found.ok_or_else(|| unknown(flag, id, "program", ids()))
    };
    let against = args.against.as_deref().map(|id| find("--against", id)).transpose()?;
    let base = against.or(scenario.programs.first());
    let (Some(base), true) = (base, scenario.programs.len() > 1) else {
        return Err(Failure::Input(
            "the scenario has one program; credit is shared out between two. Add a [[program]] with \
             what you would change"
                .into(),
        ));
    };
    let others: Vec<&Program> = scenario.programs.iter().filter(|p| p.id != base.id).collect();
    let program = match (args.program.as_deref(), &others[..]) {
        (Some(id), _) => find("--program", id)?,
        (None, [only]) => only,
        (None, _) => {
            let ids = others.iter().map(|p| p.id.as_str());
            return Err(missing("--program", "program", ids));
        }
    };
    if program.id == base.id {
        let others = others.iter().map(|p| p.id.as_str()).collect::<Vec<_>>().join(", ");
        return Err(Failure::Input(match against {
            Some(_) => format!(
                "--program and --against are both {}; compare it with another: {others}",
                base.id
            ),
            None => format!(
                "--program {}: it is the program that others are compared with. Name another \
                 ({others}), or say with --against what it is to be compared with",
                base.id
            ),
        }));
    }
    let practices = players(base, program).len();
    differ(base, program, practices)?;
    let asked = Asked { base, program, outcomes: outcomes(&args.outcome)?, practices };
    asked.affordable(args.options.members.unwrap_or(MEMBERS))?;
    Ok(asked)
}

fn differ(base: &Program, program: &Program, practices: usize) -> Result<(), Failure> {
    let pair = || harmless(&format!("{} and {}", quoted(&program.title), quoted(&base.title)));
    match practices {
        0 => Err(Failure::Input(format!(
            "{} do the same: no practice differs, so there is nothing to share out",
            pair()
        ))),
        more if more > MOST_PLAYERS => Err(Failure::Input(format!(
            "{} differ in {more} practices; at most {MOST_PLAYERS} can be told apart. Compare with \
             a program that is nearer, with --against",
            pair()
        ))),
        _ => Ok(()),
    }
}

fn outcomes(asked: &[String]) -> Result<Option<Vec<usize>>, Failure> {
    let keys = || OUTCOMES.iter().map(|kind| kind.key);
    let find =
        |key: &String| outcome(key).ok_or_else(|| unknown("--outcome", key, "outcome", keys()));
    let mut found = asked.iter().map(find).collect::<Result<Vec<usize>, Failure>>()?;
    found.sort_unstable();
    found.dedup();
    Ok((!found.is_empty()).then_some(found))
}

impl Asked<'_> {
    fn affordable(&self, members: u32) -> Result<(), Failure> {
        let mixes = programs_to_play(self.practices) as u64;
        if mixes * u64::from(members) <= MOST_TRACKS {
            return Ok(());
        }
        Err(Failure::Input(format!(
            "--members {members}: with {} practices to mix, that is more than can be held; at most {}",
            self.practices,
            MOST_TRACKS / mixes
        )))
    }

    /// A line for a person who will wait; `None` where it will not be long.
    pub(super) fn patience(
        &self,
        members: u32,
        threads: Option<u32>,
        scenario: &Scenario,
    ) -> Option<String> {
        let mixes = programs_to_play(self.practices);
        let days = Almanac::of_years(scenario.first_year, scenario.seasons).days();
        let cores = std::thread::available_parallelism().map_or(1, |n| n.get() as u32);
        let cores = threads.unwrap_or(cores).min(cores);
        let lawn_days = mixes as f64 * f64::from(members) * days as f64;
        let seconds = lawn_days * LAWN_DAY_S / f64::from(cores.max(1));
        (seconds >= PATIENCE_S).then(|| {
            let about = if seconds < 90.0 {
                format!("{} seconds", round::spoken(seconds, 10.0))
            } else {
                format!("{} minutes", round::spoken(seconds / 60.0, 1.0))
            };
            format!(
                "playing {mixes} mixes of {} practices, each through {} futures: about {about}",
                self.practices,
                round::spoken(f64::from(members), 1.0)
            )
        })
    }
}
