//! Plays every member under every program.
//!
//! Members go in tiles over the threads, and a member's programs together, so that weather and draws
//! are made once a member. Results are gathered in the order of members: they are the same, to the
//! byte, for any number of threads.

use std::ops::Range;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use rayon::prelude::*;

use super::facts::{Constants, settle};
use super::gather::{Gathering, Played};
use super::part::Part;
use super::{Continue, MEASURES, Observer, Results, TrackRows};
use crate::calendar::Day;
use crate::draw::Streams;
use crate::outcomes::{Almanac, OUTCOMES};
use crate::parameters::Entry;
use crate::scenario::{Scenario, Settled};
use crate::season::{Lawn, Member, Script, Track, play_together};
use crate::weather::{Record, Sky, SoFar};

/// Members that one thread plays before it looks for more work: few, so that none waits long for the
/// last to finish.
const TILE: u32 = 4;

/// Rows up to this many bytes are held for exact bands: 5,000 program-members of two seasons.
const EXACT_BYTES: usize = 400 << 20;

/// Most bytes of rows that a run keeps where tracks are asked for.
const MOST_BYTES: usize = 4 << 30;

/// Members played between two counts in a run too large to hold; the first of them set the edges.
const BATCH: u32 = 256;

/// Members whose work logs are kept in a run too large to hold.
pub(super) const KEPT_LOGS: usize = 1000;

/// What to run. Everything in it has been checked.
#[derive(Clone, Copy, Debug)]
pub struct RunPlan<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The station record that it names.
    pub record: &'a Record,
    /// Weather observed since 1 January of the first year, the same in every member.
    pub so_far: Option<&'a SoFar>,
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
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
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
    /// More tracks than a run keeps.
    #[error(
        "the tracks of {members} members x {programs} programs x {days} days are more than 4 GB; \
         keep no tracks, or run fewer members"
    )]
    TooLarge {
        /// Members asked for.
        members: u32,
        /// Programs in the scenario.
        programs: usize,
        /// Days of the run.
        days: usize,
    },
    /// The model's year is that of the northern half.
    #[error(
        "its station lies at latitude {latitude_deg}, south of the equator. The model knows the \
         northern year only: winter in January, crabgrass up in spring. Take a northern station; \
         if the sign is wrong, mend `latitude_deg`"
    )]
    Southern {
        /// Latitude, degrees north.
        latitude_deg: f64,
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

    /// A member's constants, in the catalogue's order.
    fn constants(&self, constants: &Constants, streams: &Streams, number: u32) -> Vec<f64> {
        constants.draw(streams, number)
    }

    /// A member's place, crew and materials, what is uncertain of them drawn.
    fn settled(&self, scenario: &Scenario, streams: &Streams, number: u32) -> Settled {
        settle(scenario, streams, number)
    }

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

/// Runs a plan in a world.
///
/// The observer hears the number of members done so far, all their programs included, and may stop
/// the run.
///
/// Up to 400 MB of rows (four bytes a measure and lawn-day) are held and give exact bands. Larger runs, unless
/// tracks are kept, are counted between edges in batches: their bands are good to a few thousandths
/// of the range, their memory is flat, and the work logs of the first 1,000 members are kept.
///
/// # Errors
/// See [`RunFault`]. Where several members fail, the lowest number is told.
pub fn run_with<W: World>(
    plan: &RunPlan,
    world: &W,
    observer: Observer,
) -> Result<Results, RunFault> {
    let almanac = calendar(plan)?;
    part_with(plan, world, 0..plan.members, observer)?.summed_up(plan, &almanac)
}

/// Plays some of a plan's members, `members` within `0..plan.members`, as a part of the whole run. The
/// first members of the run are played in every part, and kept in their own.
///
/// # Errors
/// See [`RunFault`].
pub fn part_with<W: World>(
    plan: &RunPlan,
    world: &W,
    members: Range<u32>,
    observer: Observer,
) -> Result<Part, RunFault> {
    let almanac = calendar(plan)?;
    let exact = held(plan, almanac.days());
    let leading = 0..plan.members.min(if exact { 1 } else { BATCH });
    let batch = if exact { plan.members } else { BATCH };
    let mut gathering = Gathering::new(plan, members.clone(), almanac.days(), exact);
    let (streams, programs) = (Streams::new(plan.seed), plan.scenario.programs.len());
    let whole = |seen: Seen| (seen.rows, seen.track);
    let has_leading = members.start == 0 && members.end >= leading.end;
    if !has_leading {
        let quiet = |_: u32| observer(0);
        let pace = Pace { members: leading, programs, batch, observer: &quiet };
        each_batch(plan, world, &streams, &almanac, pace, whole, |first| gathering.begin(&first))?;
    }
    let pace = Pace { members: members.clone(), programs, batch, observer };
    let mut fresh = has_leading;
    each_batch(plan, world, &streams, &almanac, pace, whole, |played| {
        if std::mem::take(&mut fresh) {
            gathering.begin(&played);
        }
        gathering.add(played);
    })?;
    Ok(gathering.finish())
}

/// Whether a plan's rows are all held, for exact bands.
pub(super) fn held(plan: &RunPlan, days: usize) -> bool {
    plan.keep_tracks || row_bytes(plan, days).is_some_and(|bytes| bytes <= EXACT_BYTES)
}

/// One track, as it is shown once it has been played.
#[derive(Debug)]
pub struct Seen<'a> {
    /// Index of the program.
    pub program: usize,
    /// One sky a day.
    pub skies: &'a [Sky],
    /// Its measures: `rows[day * MEASURES.len() + measure]`.
    pub rows: TrackRows,
    /// What remains of it.
    pub track: Track,
}

/// What `keep` makes of the tracks of a pace's members and programs: `[member][program]`; nothing else is
/// held.
pub(super) fn stretch_with<W: World, T: Send>(
    plan: &RunPlan,
    world: &W,
    pace: Pace,
    keep: impl Fn(Seen) -> T + Sync,
) -> Result<Vec<Vec<T>>, RunFault> {
    let almanac = calendar(plan)?;
    let streams = Streams::new(plan.seed);
    let mut kept = Vec::with_capacity(pace.members.len());
    each_batch(plan, world, &streams, &almanac, pace, keep, |members| {
        kept.extend(members.into_iter().map(|member| member.tracks));
    })?;
    Ok(kept)
}

/// Outcomes of every member, `[program][outcome][member]`, and nothing else.
pub(super) fn outcomes_with<W: World>(
    plan: &RunPlan,
    world: &W,
    streams: &Streams,
    observer: Observer,
) -> Result<Vec<Vec<Vec<f64>>>, RunFault> {
    let almanac = calendar(plan)?;
    let mut outcomes = vec![vec![Vec::new(); OUTCOMES.len()]; plan.scenario.programs.len()];
    let keep = |seen: Seen| seen.track.outcomes;
    let pace = Pace::of(plan, BATCH, observer);
    each_batch(plan, world, streams, &almanac, pace, keep, |members| {
        for (program, track) in members.into_iter().flat_map(|m| m.tracks.into_iter().enumerate()) {
            outcomes[program].iter_mut().zip(track).for_each(|(all, one)| all.push(one));
        }
    })?;
    Ok(outcomes)
}

/// Which members and programs are played, how many between two counts, and who hears of them.
pub(super) struct Pace<'a> {
    /// Numbers of the members.
    pub members: Range<u32>,
    /// How many of the scenario's programs, the first ones.
    pub programs: usize,
    /// Members between two counts, 1 or more.
    pub batch: u32,
    /// Who hears of them.
    pub observer: Observer<'a>,
}

impl<'a> Pace<'a> {
    /// All members and programs of a plan.
    pub(super) fn of(plan: &RunPlan, batch: u32, observer: Observer<'a>) -> Pace<'a> {
        Pace { members: 0..plan.members, programs: plan.scenario.programs.len(), batch, observer }
    }
}

/// Plays all members, batch by batch, and hands what `keep` makes of their tracks over in the
/// members' order.
fn each_batch<W: World, T: Send>(
    plan: &RunPlan,
    world: &W,
    streams: &Streams,
    almanac: &Almanac,
    Pace { members, programs, batch, observer }: Pace,
    keep: impl Fn(Seen) -> T + Sync,
    mut take: impl FnMut(Vec<Played<T>>) + Send,
) -> Result<(), RunFault> {
    let scenario = plan.scenario;
    let constants = constants(plan)?;
    let played = scenario.programs.iter().take(programs);
    let scripts: Vec<Script> = played.map(|p| Script::new(scenario, p, almanac)).collect();
    let pool = threads(plan)?;

    let doubtful = doubtful(scenario);
    let progress = Progress { observer, done: AtomicU32::new(0), stop: AtomicBool::new(false) };
    let one = |number: u32| {
        if progress.stop.load(Ordering::Relaxed) {
            return Err(RunFault::Stopped);
        }
        let member = make(world, &constants, streams, number, almanac)?;
        let played = if doubtful {
            let settled = world.settled(scenario, streams, number);
            let own: Vec<Script> = scripts.iter().map(|s| s.of_member(&settled)).collect();
            play_all(&own, almanac, streams, &member, &keep)
        } else {
            play_all(&scripts, almanac, streams, &member, &keep)
        };
        progress.tick();
        Ok(played)
    };
    pool.install(|| {
        for first in members.clone().step_by(batch.max(1) as usize) {
            let end = first.saturating_add(batch).min(members.end);
            let tiles: Vec<Vec<Result<Played<T>, RunFault>>> = (first..end)
                .into_par_iter()
                .step_by(TILE as usize)
                .map(|tile| (tile..tile.saturating_add(TILE).min(end)).map(one).collect())
                .collect();
            if progress.stop.load(Ordering::Relaxed) {
                return Err(RunFault::Stopped);
            }
            take(tiles.into_iter().flatten().collect::<Result<Vec<_>, RunFault>>()?);
        }
        Ok(())
    })
}

/// Whether members' crews differ: what a crew does and costs is the same for all members unless
/// there is a doubt about it.
pub(super) fn doubtful(scenario: &Scenario) -> bool {
    let doubts = &scenario.doubts;
    [doubts.irrigation_efficiency, doubts.hour_cost, doubts.mower_speed_m_s]
        .iter()
        .any(Option::is_some)
        || !doubts.release_days.is_empty()
}

/// Makes a member, and sees that its skies are the run's days.
pub(super) fn make<W: World>(
    world: &W,
    constants: &Constants,
    streams: &Streams,
    number: u32,
    almanac: &Almanac,
) -> Result<Member<W::Lawn>, RunFault> {
    let values = world.constants(constants, streams, number);
    world
        .member(number, values, streams, almanac)
        .and_then(|member| fits(member, almanac))
        .map_err(|reason| RunFault::Member { member: number, reason })
}

/// As many threads as a plan asks for.
pub(crate) fn threads(plan: &RunPlan) -> Result<rayon::ThreadPool, RunFault> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(plan.threads)
        .build()
        .map_err(|fault| RunFault::Threads(fault.to_string()))
}

/// How the constants of a plan are drawn.
pub(super) fn constants<'a>(plan: &RunPlan<'a>) -> Result<Constants<'a>, RunFault> {
    Constants::new(plan.catalogue, &plan.scenario.overrides).map_err(RunFault::UnknownConstant)
}

/// Bytes that the rows of all tracks take; `None` where that cannot be said in a `usize`.
fn row_bytes(plan: &RunPlan, days: usize) -> Option<usize> {
    let rows = (plan.members as usize).checked_mul(plan.scenario.programs.len())?;
    rows.checked_mul(days)?.checked_mul(MEASURES.len() * size_of::<f32>())
}

/// The run's days, once all that could not be played is refused.
pub(super) fn calendar(plan: &RunPlan) -> Result<Almanac, RunFault> {
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
    if plan.keep_tracks && row_bytes(plan, days).is_none_or(|bytes| bytes > MOST_BYTES) {
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
fn play_all<L: Lawn, T>(
    scripts: &[Script],
    almanac: &Almanac,
    streams: &Streams,
    member: &Member<L>,
    keep: &impl Fn(Seen) -> T,
) -> Played<T> {
    let tracks = play_together(scripts, almanac, streams, member);
    let seen = |(program, (rows, track))| keep(Seen { program, skies: &member.skies, rows, track });
    Played { tracks: tracks.into_iter().enumerate().map(seen).collect() }
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
