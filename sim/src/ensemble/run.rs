//! Plays every member under every program.
//!
//! Members go in tiles over the threads, member outer and program inner, so that weather and draws
//! are made once a member. Results are gathered in the order of members: they are the same, to the
//! byte, for any number of threads.

use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use rayon::prelude::*;

use super::facts::Constants;
use super::{Account, Continue, MEASURES, Observer, ProgramResults, Results, TrackRows};
use crate::calendar::Day;
use crate::draw::Streams;
use crate::outcomes::{Almanac, OUTCOMES};
use crate::parameters::Entry;
use crate::scenario::Scenario;
use crate::season::{Lawn, Member, Script, Track, play};
use crate::weather::Record;
use crate::work::WorkEntry;

/// Members that one thread plays before it looks for more work.
const TILE: u32 = 32;

/// What to run. Everything in it has been checked.
#[derive(Clone, Copy, Debug)]
pub struct RunPlan<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The station record that it names.
    pub record: &'a Record,
    /// Constants of the model.
    pub catalogue: &'a [Entry],
    /// Number of members, 1 or more.
    pub members: u32,
    /// Seed of all draws.
    pub seed: u64,
    /// Threads; 0 takes one for each processor.
    pub threads: usize,
    /// Whether every track is kept in full.
    pub keep_tracks: bool,
}

/// Why a run gave nothing back.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RunFault {
    /// Nobody to play.
    #[error("a run needs at least one member; 200 are a good start")]
    NoMembers,
    /// Nothing to play.
    #[error("the scenario has no program")]
    NoPrograms,
    /// The calendar ends.
    #[error("seasons {first_year} to {last_year} are beyond the calendar (years -9999 to 9999)")]
    NoCalendar {
        /// First year asked for.
        first_year: i32,
        /// Last year asked for.
        last_year: i64,
    },
    /// More rows than this machine can address.
    #[error("{members} members x {programs} programs x {days} days are too many to hold")]
    TooLarge {
        /// Members asked for.
        members: u32,
        /// Programs in the scenario.
        programs: usize,
        /// Days of the run.
        days: usize,
    },
    /// An override names no constant.
    #[error("`{0}` is not a constant of the model")]
    UnknownConstant(String),
    /// A member could not be made.
    #[error("simulated season {member}: {reason}")]
    Member {
        /// Its number.
        member: u32,
        /// What went wrong.
        reason: String,
    },
    /// The threads could not be started.
    #[error("could not start the threads: {0}")]
    Threads(String),
    /// The observer said no.
    #[error("stopped")]
    Stopped,
}

/// Makes members: weather path, drawn facts and constants, the lawn at the start.
pub trait World: Sync {
    /// The daily lawn.
    type Lawn: Lawn;

    /// Makes a member from its number alone; `constants` are in the catalogue's order.
    ///
    /// # Errors
    /// What went wrong, for people.
    fn member(
        &self,
        number: u32,
        constants: Vec<f64>,
        streams: &Streams,
        almanac: &Almanac,
    ) -> Result<Member<Self::Lawn>, String>;
}

/// What a run keeps of one member: one entry a program.
struct Played {
    tracks: Vec<(TrackRows, Track)>,
}

/// Runs a plan in a world.
///
/// The observer hears the number of members done so far, all their programs included, and may stop
/// the run. Memory: 96 bytes for each lawn-day until the bands are made.
///
/// # Errors
/// See [`RunFault`]. Where several members fail, the lowest number is told.
pub fn run_with<W: World>(
    plan: &RunPlan,
    world: &W,
    observer: Observer,
) -> Result<Results, RunFault> {
    let almanac = calendar(plan)?;
    let scenario = plan.scenario;
    let constants =
        Constants::new(plan.catalogue, &scenario.overrides).map_err(RunFault::UnknownConstant)?;
    let scripts: Vec<Script> =
        scenario.programs.iter().map(|p| Script::new(scenario, p, &almanac)).collect();
    let streams = Streams::new(plan.seed);
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(plan.threads)
        .build()
        .map_err(|fault| RunFault::Threads(fault.to_string()))?;

    let progress = Progress { observer, done: AtomicU32::new(0), stop: AtomicBool::new(false) };
    let one = |number: u32| {
        if progress.stop.load(Ordering::Relaxed) {
            return Err(RunFault::Stopped);
        }
        let values = constants.draw(&streams, number);
        let member = world
            .member(number, values, &streams, &almanac)
            .and_then(|member| fits(member, &almanac))
            .map_err(|reason| RunFault::Member { member: number, reason })?;
        let played = play_all(&scripts, &almanac, &streams, &member);
        progress.tick();
        Ok(played)
    };
    pool.install(|| {
        let tiles: Vec<Vec<Result<Played, RunFault>>> = (0..plan.members.div_ceil(TILE))
            .into_par_iter()
            .map(|tile| (tile * TILE..(tile * TILE + TILE).min(plan.members)).map(one).collect())
            .collect();
        if progress.stop.load(Ordering::Relaxed) {
            return Err(RunFault::Stopped);
        }
        let members = tiles.into_iter().flatten().collect::<Result<Vec<Played>, RunFault>>()?;
        Ok(gather(plan, &almanac, members))
    })
}

/// The run's days, once all that could not be played is refused.
fn calendar(plan: &RunPlan) -> Result<Almanac, RunFault> {
    let Scenario { first_year, seasons, programs, .. } = plan.scenario;
    if plan.members == 0 {
        return Err(RunFault::NoMembers);
    }
    if programs.is_empty() {
        return Err(RunFault::NoPrograms);
    }
    let last_year = i64::from(*first_year) + i64::from((*seasons).max(1)) - 1;
    let almanac = Almanac::of_years(*first_year, *seasons);
    if almanac.days() == 0 {
        return Err(RunFault::NoCalendar { first_year: *first_year, last_year });
    }
    let (members, days) = (plan.members, almanac.days());
    let rows = (members as usize).checked_mul(programs.len()).and_then(|n| n.checked_mul(days));
    let bytes = rows.and_then(|n| n.checked_mul(MEASURES.len() * size_of::<f32>()));
    if bytes.is_none_or(|bytes| bytes > isize::MAX as usize) {
        return Err(RunFault::TooLarge { members, programs: programs.len(), days });
    }
    Ok(almanac)
}

/// Refuses a member whose skies are not the run's days.
fn fits<L: Lawn>(member: Member<L>, almanac: &Almanac) -> Result<Member<L>, String> {
    let ends = |first: Option<Day>, last: Option<Day>, days: usize| (first, last, days);
    let skies = &member.skies;
    let given = ends(skies.first().map(|s| s.day), skies.last().map(|s| s.day), skies.len());
    let wanted = ends(Some(almanac.first()), Some(almanac.last()), almanac.days());
    if given == wanted {
        Ok(member)
    } else {
        Err(format!(
            "its weather has {} days, where the run has {} from {} to {}",
            skies.len(),
            almanac.days(),
            almanac.first(),
            almanac.last()
        ))
    }
}

/// Plays one member under every program.
fn play_all<L: Lawn>(
    scripts: &[Script],
    almanac: &Almanac,
    streams: &Streams,
    member: &Member<L>,
) -> Played {
    let tracks = scripts.iter().map(|script| {
        let mut rows = vec![0.0; almanac.days() * MEASURES.len()];
        let track = play(script, almanac, streams, member, &mut rows);
        (rows, track)
    });
    Played { tracks: tracks.collect() }
}

/// Counts members and hears the observer.
struct Progress<'a> {
    observer: Observer<'a>,
    done: AtomicU32,
    stop: AtomicBool,
}

impl Progress<'_> {
    fn tick(&self) {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        if (self.observer)(done) == Continue::No {
            self.stop.store(true, Ordering::Relaxed);
        }
    }
}

/// One program's share of all members.
#[derive(Default)]
struct Column {
    rows: Vec<TrackRows>,
    work: Vec<Vec<WorkEntry>>,
    ledgers: Vec<[Account; 3]>,
    outcomes: Vec<Vec<f64>>,
}

/// Turns members into programs, and makes bands and contrasts.
fn gather(plan: &RunPlan, almanac: &Almanac, members: Vec<Played>) -> Results {
    let programs = &plan.scenario.programs;
    let mut columns: Vec<Column> = programs
        .iter()
        .map(|_| Column { outcomes: vec![Vec::new(); OUTCOMES.len()], ..Column::default() })
        .collect();
    for member in members {
        for (column, (rows, track)) in columns.iter_mut().zip(member.tracks) {
            column.rows.push(rows);
            column.work.push(track.work);
            column.ledgers.push(track.accounts);
            for (values, value) in column.outcomes.iter_mut().zip(track.outcomes) {
                values.push(value);
            }
        }
    }
    let programs: Vec<ProgramResults> = programs
        .iter()
        .zip(columns)
        .map(|(program, column)| ProgramResults {
            id: program.id.clone(),
            title: program.title.clone(),
            bands: super::bands(&column.rows, almanac.days()),
            outcomes: column.outcomes,
            work: column.work,
            ledgers: column.ledgers,
            tracks: plan.keep_tracks.then_some(column.rows),
        })
        .collect();
    Results {
        first: almanac.first(),
        days: almanac.days(),
        members: plan.members,
        seed: plan.seed,
        record_years: record_years(plan.record),
        contrasts: super::contrasts(&plan.scenario.programs, &programs),
        programs,
    }
}

/// Calendar years that the record covers in full, give or take its ends: days / 365.25, rounded.
fn record_years(record: &Record) -> u32 {
    (record.days.len() as f64 / 365.25).round() as u32
}
