//! The loop over days: the only place that knows both program and lawn.

use crate::calendar::Day;
use crate::draw::Streams;
use crate::ensemble::{Account, Look, MEASURES, measure};
use crate::lawn::turning::{Off, Sink};
use crate::outcomes::{Almanac, Tally};
use crate::program::{Job, Orders, Runner, Toll, ground, toll_of, toll_on, top_up, travel};
use crate::scenario::{Crew, Hands, Lawn as Place, Program, Scenario, Settled};
use crate::weather::{Forecast, Sky};
use crate::work::{Act, Setback, Signs, WorkEntry};

/// The daily lawn, as the loop sees it.
pub trait Lawn: Clone {
    /// What does not change while a member is played: drawn constants, soil, site.
    type Setting;
    /// What a crew sees, given the day that has just ended (`None` before the first).
    fn signs(&self, setting: &Self::Setting, sky: Option<&Sky>) -> Signs;
    /// One day, all processes: the acts first, then the weather.
    fn day(&mut self, setting: &Self::Setting, sky: &Sky, acts: &[Act]) -> Signs;
    /// The same, and its turning points go to `sink`; a lawn that has none tells none.
    fn day_told<S: Sink>(
        &mut self,
        setting: &Self::Setting,
        sky: &Sky,
        acts: &[Act],
        _sink: &mut S,
    ) -> Signs {
        self.day(setting, sky, acts)
    }
    /// This evening's measures, in the order of [`MEASURES`].
    fn measures(&self, setting: &Self::Setting, out: &mut [f32]);
    /// Water, nitrogen and carbon so far.
    fn accounts(&self) -> [Account; 3];
}

/// One member before any program has touched it: every program starts here.
#[derive(Clone, Debug)]
pub struct Member<L: Lawn> {
    /// Its number.
    pub number: u32,
    /// What does not change.
    pub setting: L::Setting,
    /// The lawn on the evening before the first day.
    pub start: L,
    /// One sky a day of the run.
    pub skies: Vec<Sky>,
    /// What lies behind the lawn when the run's programs take over, where they take over late.
    pub past: Option<Past>,
}

/// A lawn's own past within the run: until a day it had one program, whatever comes after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Past {
    /// Number of the member whose slips the work until then had.
    pub origin: u32,
    /// Last day of the past.
    pub until: Day,
}

/// What all members share when one program is played.
#[derive(Clone, Debug)]
pub struct Script<'a> {
    program: &'a Program,
    orders: Orders,
    /// Orders of the program that a lawn with a past was under.
    followed: Option<Orders>,
    place: &'a Place,
    crew: &'a Crew,
    /// Where in a track's rows the events' looks stand.
    looks: Vec<usize>,
}

/// What remains of one track beside its rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// The work log.
    pub work: Vec<WorkEntry>,
    /// What did not go by the calendar.
    pub setbacks: Vec<Setback>,
    /// What was seen on the days of events, in the order of [`looks`].
    pub looks: Vec<f32>,
    /// Water, nitrogen and carbon.
    pub accounts: [Account; 3],
    /// In the order of [`crate::outcomes::OUTCOMES`].
    pub outcomes: Vec<f64>,
}

impl<'a> Script<'a> {
    /// Makes a scenario's program ready for a run's days.
    pub fn new(scenario: &'a Scenario, program: &'a Program, almanac: &Almanac) -> Script<'a> {
        let (first, last) = (almanac.first(), almanac.last());
        let place_of = |look: &Look| {
            let day = usize::try_from(look.day.0 - first.0).ok()?;
            Some(day * MEASURES.len() + measure(look.measure)?)
        };
        let orders = |program: &Program| {
            Orders::new(program, &scenario.lawn, &scenario.slips, first, last)
                .under(&scenario.crew)
                .around(&scenario.events)
                .obeying(&scenario.rules, &scenario.lawn)
        };
        let scouting = scenario.scouting.as_ref();
        Script {
            orders: orders(program),
            followed: scouting.and_then(|s| scenario.programs.get(s.program)).map(orders),
            looks: looks(scenario, almanac).iter().filter_map(place_of).collect(),
            program,
            place: &scenario.lawn,
            crew: &scenario.crew,
        }
    }

    /// The same program at one member's place, by its crew.
    pub fn of_member<'m>(&'m self, settled: &'m Settled) -> Script<'m> {
        let here = |orders: &Orders| orders.settled(settled);
        Script {
            program: self.program,
            orders: here(&self.orders),
            followed: self.followed.as_ref().map(here),
            place: &settled.place,
            crew: &settled.crew,
            looks: self.looks.clone(),
        }
    }

    /// The program.
    pub fn program(&self) -> &Program {
        self.program
    }
}

/// Plays one member under one program. `rows` takes `MEASURES.len()` values a day; days for which
/// it has no room, or the member no sky, are not played.
///
/// Where the member has a past, the lawn has the scenario's program so far until its last day, and work
/// and its cost are counted after it: the program's own calendar runs on as if its visits had been
/// made, and its next one is the first that the lawn feels.
pub fn play<L: Lawn>(
    script: &Script,
    almanac: &Almanac,
    streams: &Streams,
    member: &Member<L>,
    rows: &mut [f32],
) -> Track {
    play_told(script, almanac, streams, member, rows, &mut Off)
}

/// As [`play`], and the lawn's turning points go to `sink`: those of its past within the run too.
pub fn play_told<L: Lawn, S: Sink>(
    script: &Script,
    almanac: &Almanac,
    streams: &Streams,
    member: &Member<L>,
    rows: &mut [f32],
    sink: &mut S,
) -> Track {
    let setting = &member.setting;
    let mut lawn = member.start.clone();
    let mut signs = lawn.signs(setting, None);
    let lived = streams.plain();
    let mut side = Side::new(script, streams, &lived, member);
    let mut acts = Vec::with_capacity(8);
    let days = member.skies.iter().zip(almanac.marks()).zip(rows.chunks_exact_mut(MEASURES.len()));
    for ((sky, mark), row) in days {
        side.morning(mark.day, &signs, &sky.forecast, &mut acts);
        signs = lawn.day_told(setting, sky, &acts, sink);
        lawn.measures(setting, row);
        side.tally.day(mark, row);
    }
    side.finish(rows, lawn.accounts())
}

/// Plays one member under several programs and gives back, for each, what [`play`] would: the rows of
/// all days, and the track.
///
/// The programs go day by day together, and those that have done the same so far share one lawn: all
/// of them until the first work of the year, a program and its variant until they part.
pub fn play_together<L: Lawn>(
    scripts: &[Script],
    almanac: &Almanac,
    streams: &Streams,
    member: &Member<L>,
) -> Vec<(Vec<f32>, Track)> {
    let setting = &member.setting;
    let lived = streams.plain();
    let side = |script| Side::new(script, streams, &lived, member);
    let mut sides: Vec<Side> = scripts.iter().map(side).collect();
    let mut rows = vec![vec![0.0; almanac.days() * MEASURES.len()]; scripts.len()];
    let mut acts = vec![Vec::with_capacity(8); scripts.len()];
    let mut lawns = vec![Shared {
        lawn: member.start.clone(),
        signs: member.start.signs(setting, None),
        programs: (0..scripts.len()).collect(),
    }];
    for (day, (sky, mark)) in member.skies.iter().zip(almanac.marks()).enumerate() {
        for shared in &lawns {
            for &program in &shared.programs {
                let acts = &mut acts[program];
                sides[program].morning(mark.day, &shared.signs, &sky.forecast, acts);
            }
        }
        // Those that part from the first of a lawn may differ among themselves: they are seen to in
        // their turn.
        let mut at = 0;
        while at < lawns.len() {
            let parted = lawns[at].part(&acts);
            lawns.extend(parted);
            at += 1;
        }
        let cells = day * MEASURES.len()..(day + 1) * MEASURES.len();
        for Shared { lawn, signs, programs } in &mut lawns {
            let Some(first) = programs.first() else { continue };
            *signs = lawn.day(setting, sky, &acts[*first]);
            let mut row = [0.0; MEASURES.len()];
            lawn.measures(setting, &mut row);
            for &program in &*programs {
                rows[program][cells.clone()].copy_from_slice(&row);
                sides[program].tally.day(mark, &row);
            }
        }
    }
    let mut accounts = vec![None; scripts.len()];
    for Shared { lawn, programs, .. } in &lawns {
        programs.iter().for_each(|program| accounts[*program] = Some(lawn.accounts()));
    }
    let tracks = sides.into_iter().zip(accounts).zip(rows);
    let finished = tracks.filter_map(|((side, accounts), rows)| {
        let track = side.finish(&rows, accounts?);
        Some((rows, track))
    });
    finished.collect()
}

/// A lawn, and the programs that it has had: all have done the same so far.
struct Shared<L> {
    lawn: L,
    signs: Signs,
    programs: Vec<usize>,
}

impl<L: Lawn> Shared<L> {
    /// Programs that this morning do otherwise than the first, with a copy of the lawn.
    fn part(&mut self, acts: &[Vec<Act>]) -> Option<Shared<L>> {
        let (first, others) = self.programs.split_first()?;
        let alike = |program: &usize| acts[*program] == acts[*first];
        if others.iter().all(alike) {
            return None;
        }
        let (stay, part) = self.programs.iter().copied().partition(alike);
        self.programs = stay;
        Some(Shared { lawn: self.lawn.clone(), signs: self.signs, programs: part })
    }
}

/// What goes on beside the lawn where a member has a program: crew, work, outcomes.
struct Side<'a> {
    script: &'a Script<'a>,
    crew: Runner<'a>,
    /// Last day of the lawn's past, and the crew that it had until then.
    past: Option<(Day, Runner<'a>)>,
    /// Last day before the program's own crew took the lawn over.
    took_over: Day,
    tally: Tally,
    work: Vec<WorkEntry>,
    /// This morning's jobs.
    jobs: Vec<Job>,
}

impl<'a> Side<'a> {
    /// Before the first morning. `lived` is the luck without anybody's double, which the past had.
    fn new<L: Lawn>(
        script: &'a Script<'a>,
        streams: &'a Streams,
        lived: &'a Streams,
        member: &Member<L>,
    ) -> Side<'a> {
        let past = member.past.zip(script.followed.as_ref());
        Side {
            script,
            crew: Runner::new(&script.orders, streams, member.number),
            past: past.map(|(past, orders)| (past.until, Runner::new(orders, lived, past.origin))),
            took_over: member.past.map_or(Day(i32::MIN), |past| past.until),
            tally: Tally::new(),
            work: Vec::with_capacity(64),
            jobs: Vec::with_capacity(8),
        }
    }

    /// Puts what the lawn gets this morning in the place of `acts`, and writes the work down.
    #[inline]
    fn morning(&mut self, today: Day, signs: &Signs, forecast: &Forecast, acts: &mut Vec<Act>) {
        let Side { script, crew, past, tally, work, jobs, .. } = self;
        jobs.clear();
        acts.clear();
        if let Some((until, runner)) = past
            && today == until.plus(1)
        {
            crew.take_over(runner);
        }
        crew.morning(today, signs, forecast, jobs);
        if let Some((until, runner)) = past
            && today <= *until
        {
            jobs.clear();
            runner.morning(today, signs, forecast, jobs);
            acts.extend(jobs.iter().map(|job| job.act));
        } else if !jobs.is_empty() {
            acts.extend(jobs.iter().map(|job| job.act));
            let before = work.len();
            let visit = log(script, today, jobs, work);
            let today = &work[before..];
            tally.work(today, visit, today.iter().map(|entry| script.tap_mm(entry)).sum());
        }
    }

    /// After the last evening, by the rows of all days.
    fn finish(self, rows: &[f32], accounts: [Account; 3]) -> Track {
        let Side { script, crew, took_over, tally, work, .. } = self;
        let mut setbacks = crew.setbacks();
        // What the program's own crew met with before it took over never happened.
        setbacks.retain(|setback| setback.day > took_over);
        let look = |at: &usize| rows.get(*at).copied().unwrap_or(f32::NAN);
        let looks = script.looks.iter().map(look).collect();
        Track { work, setbacks, looks, accounts, outcomes: tally.finish() }
    }
}

/// What is looked at on the days of a scenario's events, in the order of the events: quality,
/// crabgrass, and whatever else an event asks about.
pub fn looks(scenario: &Scenario, almanac: &Almanac) -> Vec<Look> {
    let mut looks = Vec::new();
    for (event, what) in scenario.events.iter().enumerate() {
        for day in what.days(almanac.first(), almanac.last()) {
            let first = looks.len();
            let asked = what.needs.iter().map(|need| need.measure);
            for measure in ["quality", "crabgrass_cover"].into_iter().chain(asked) {
                if !looks[first..].iter().any(|look: &Look| look.measure == measure) {
                    looks.push(Look { event, day, measure });
                }
            }
        }
    }
    looks
}

/// Plays one lawn under one program over some skies, shows it every evening with the day's place
/// among them, and gives it back as it then stands. `number` is the member whose slips the work has.
pub fn rehearse<L: Lawn>(
    script: &Script,
    streams: &Streams,
    number: u32,
    mut lawn: L,
    setting: &L::Setting,
    skies: &[Sky],
    mut evening: impl FnMut(usize, &L),
) -> L {
    let mut signs = lawn.signs(setting, None);
    let mut crew = Runner::new(&script.orders, streams, number);
    let (mut jobs, mut acts) = (Vec::with_capacity(8), Vec::with_capacity(8));
    for (at, sky) in skies.iter().enumerate() {
        jobs.clear();
        acts.clear();
        crew.morning(sky.day, &signs, &sky.forecast, &mut jobs);
        acts.extend(jobs.iter().map(|job: &Job| job.act));
        signs = lawn.day(setting, sky, &acts);
        evening(at, &lawn);
    }
    lawn
}

impl Script<'_> {
    /// The work log of a day on which these practices are done together, each laid just as written;
    /// with each the share of the lawn that it takes where it treats spots.
    pub fn planned(&self, day: Day, practices: &[(u16, f64)]) -> Vec<WorkEntry> {
        let jobs: Vec<Job> =
            practices.iter().flat_map(|(p, spots)| self.orders.planned(*p, *spots)).collect();
        let mut work = Vec::with_capacity(jobs.len());
        log(self, day, &jobs, &mut work);
        work
    }

    /// What one practice takes by itself, laid just as written: no travel, no least visit.
    pub fn planned_alone(&self, practice: u16, spots: f64) -> Toll {
        let what = self.orders.what(practice);
        let (by, treated) = (self.orders.by(practice), self.orders.treated(practice));
        self.orders.planned(practice, spots).iter().fold(Toll::default(), |sum, job| {
            let taken = toll_on(treated, toll_of(by, self.crew, self.place, what, job), job);
            Toll { minutes: sum.minutes + taken.minutes, cost: sum.cost + taken.cost }
        })
    }

    /// Share of the lawn that a practice's product goes on, 0..=1.
    pub fn treated(&self, practice: u16) -> f64 {
        self.orders.treated(practice)
    }

    /// Water that left the tap for an act, mm over the lawn; 0 for acts that use none.
    pub fn tap_mm(&self, entry: &WorkEntry) -> f64 {
        match entry.act {
            Act::Wet { .. } => crate::program::tap_mm(self.orders.what(entry.practice)),
            _ => 0.0,
        }
    }
}

/// Writes a morning's jobs into the work log; whether they took a visit. Travel goes with the first
/// act of a visit, and so does what is missing to the least that a visit counts for.
fn log(script: &Script, day: Day, jobs: &[Job], work: &mut Vec<WorkEntry>) -> bool {
    let mut travelled = None;
    let mut visit = Toll::default();
    for job in jobs {
        let what = script.orders.what(job.practice);
        let by = script.orders.by(job.practice);
        let whole = toll_of(by, script.crew, script.place, what, job);
        let treated = script.orders.treated(job.practice);
        let mut taken = toll_on(treated, whole, job);
        if by == Hands::Crew {
            if travelled.is_none() {
                travelled = Some(work.len());
                let way = travel(script.crew);
                taken.minutes += way.minutes;
                taken.cost += way.cost;
            }
            visit.minutes += taken.minutes;
            visit.cost += taken.cost;
        }
        let (minutes, cost) = (taken.minutes, taken.cost);
        let (practice, act, ground) = (job.practice, job.act, ground(treated, job));
        work.push(WorkEntry { day, practice, act, minutes, cost, ground });
    }
    if let Some(entry) = travelled.and_then(|first| work.get_mut(first)) {
        let missing = top_up(script.crew, visit);
        entry.minutes += missing.minutes;
        entry.cost += missing.cost;
    }
    travelled.is_some()
}
