//! The real world of members: station weather and the real lawn.

mod before;
mod choice;

use std::ops::Range;

use rand::RngExt;

use super::condition::Chosen;
use super::facts::{lawn_draw, settle};
use super::part::Part;
use super::retell::{Retold, retell_with};
use super::run::{Pace, Seen, World, outcomes_with, part_with, stretch_with};
use super::spread::spread_with;
use super::{Account, Constants, Factor, Observer, Results, RunFault, RunPlan, run_with};
use crate::calendar::Day;
use crate::draw::{Purpose, Streams, key};
use crate::lawn::turning::Sink;
use crate::lawn::{Setting, State, measures};
use crate::outcomes::Almanac;
use crate::parameters::{Catalogue, Parameters};
use crate::scenario::{Program, Scenario, Settled};
use crate::season::{Lawn, Member, Past, Script, Track, rehearse};
use crate::weather::{Record, RecordDay, Resampler, SiteTables, Sky, SoFar, WeatherPlan, skies_at};
use crate::work::{Act, Signs};
use before::Before;
pub(super) use choice::seen;

impl Lawn for State {
    type Setting = Setting;

    fn signs(&self, setting: &Setting, sky: Option<&Sky>) -> Signs {
        self.look(setting, sky)
    }

    fn day(&mut self, setting: &Setting, sky: &Sky, acts: &[Act]) -> Signs {
        State::day(self, setting, sky, acts)
    }

    fn day_told<S: Sink>(
        &mut self,
        setting: &Setting,
        sky: &Sky,
        acts: &[Act],
        sink: &mut S,
    ) -> Signs {
        State::day_told(self, setting, sky, acts, sink)
    }

    fn measures(&self, setting: &Setting, out: &mut [f32]) {
        measures::fill(self, setting, out);
    }

    fn accounts(&self) -> [Account; 3] {
        let books = [&self.ledger.water, &self.ledger.nitrogen, &self.ledger.carbon];
        books.map(|book| book.account())
    }
}

/// A scenario's lawn under a station's weather.
struct StationWorld<'a> {
    plan: &'a RunPlan<'a>,
    catalogue: &'a Catalogue,
    resampler: Resampler,
    tables: SiteTables,
    /// Luck of the candidates that members were chosen from.
    base: Streams,
    chosen: Option<Chosen>,
}

/// Numbers of members are spread over the choice by this odd step where another lawn is wanted.
const OTHER_LAWN_STEP: u32 = 7919;

impl<'a> StationWorld<'a> {
    /// The world of a plan, its members chosen by what was seen where the scenario says so.
    fn new(
        plan: &'a RunPlan<'a>,
        catalogue: &'a Catalogue,
        observer: Observer,
    ) -> Result<StationWorld<'a>, RunFault> {
        northern(plan.record)?;
        let weather = |reason: String| RunFault::Member { member: 0, reason };
        let mut world = StationWorld {
            plan,
            catalogue,
            resampler: Resampler::new(plan.record).map_err(|fault| weather(fault.to_string()))?,
            tables: SiteTables::new(&plan.record.site, plan.record.anemometer_m),
            base: Streams::new(plan.seed),
            chosen: None,
        };
        let scenario = plan.scenario;
        if plan.members > 0 && (scenario.season_before.is_some() || scenario.scouting.is_some()) {
            world.chosen = Some(world.choose(observer)?);
        }
        Ok(world)
    }

    /// Candidate that a member is made from: itself, where nothing was seen. With the lawn's luck
    /// doubled a member has another of the lawns that were chosen.
    fn origin(&self, streams: &Streams, number: u32) -> u32 {
        let Some(chosen) = &self.chosen else { return number };
        let n = chosen.picks.len() as u32;
        let other = streams.is_doubled(Purpose::Facts);
        let step = if other { OTHER_LAWN_STEP.wrapping_add(n / 2) } else { 0 };
        chosen.picks.get((number.wrapping_add(step) % n.max(1)) as usize).copied().unwrap_or(number)
    }

    /// Last day of the lawn's own past within the run: of the last look, or of the weather so far.
    fn until(&self) -> Option<Day> {
        let scenario = self.plan.scenario;
        let looks = scenario.scouting.as_ref()?.notes.iter();
        let last = looks.map(|note| note.on.in_year(scenario.first_year)).max()?;
        let first = Day::from_ymd(scenario.first_year, 1, 1)?;
        let observed = self.plan.so_far.map_or(0, SoFar::days) as i32;
        Some(last.max(first.plus(observed - 1)))
    }

    /// The sky over some days.
    fn skies(
        &self,
        days: &[RecordDay],
        first: Day,
        parameters: &Parameters,
        mut luck: impl rand::Rng,
    ) -> Vec<Sky> {
        let mut uniform = || luck.random::<f64>();
        skies_at(days, first, &self.tables, &parameters.weather, &mut uniform)
    }

    /// A candidate's days of the run.
    fn path(&self, streams: &Streams, origin: u32) -> Result<Vec<RecordDay>, String> {
        let scenario = self.plan.scenario;
        let nothing = SoFar::default();
        let so_far = self.plan.so_far.unwrap_or(&nothing);
        let mut luck = streams.of_member(origin, Purpose::Weather);
        let (plan, first) = (scenario.weather.plan, scenario.first_year);
        let days = self.resampler.draw_after(plan, first, scenario.seasons, so_far, &mut luck);
        days.map_err(|fault| fault.to_string())
    }

    /// The same days until the programs take over, and others after it.
    fn path_from(
        &self,
        streams: &Streams,
        origin: u32,
        number: u32,
        until: Day,
    ) -> Result<Vec<RecordDay>, String> {
        let scenario = self.plan.scenario;
        let mut days = self.path(&self.base, origin)?;
        let first = Day::from_ymd(scenario.first_year, 1, 1).unwrap_or(until);
        days.truncate((until.0 - first.0 + 1).max(0) as usize);
        let mut luck = streams.of_member(number, Purpose::Future);
        let (plan, first) = (scenario.weather.plan, scenario.first_year);
        let lived = SoFar::lived(&days);
        let days = self.resampler.draw_after(plan, first, scenario.seasons, &lived, &mut luck);
        days.map_err(|fault| fault.to_string())
    }

    /// A candidate's constants, setting and lawn on the run's first morning; `after` sees the
    /// evenings of the year before, where that is run.
    fn lawn(
        &self,
        streams: &Streams,
        constants: &[f64],
        origin: u32,
        mut after: impl FnMut(usize, &State),
    ) -> Result<(Parameters, Setting, State), String> {
        let scenario = self.plan.scenario;
        let parameters = self.catalogue.parameters(constants);
        let settled = settle(scenario, streams, origin);
        let mut drawn = lawn_draw(&settled.place, streams, origin);
        let Some(program) = scenario.season_before else {
            let setting = Setting::new(&parameters, &drawn);
            let start = State::initial(&setting, &drawn);
            return Ok((parameters, setting, start));
        };
        let before = Before::draw(&scenario.lawn, &parameters.seen, streams, origin);
        drawn.turf_cover = before.turf_cover;
        drawn.crabgrass_last_august = before.crabgrass;
        (drawn.dandelion, drawn.clover) = (before.dandelion, before.clover);
        let setting = Setting::new(&parameters, &drawn);
        let start = State::initial(&setting, &drawn);
        let year = scenario.first_year - 1;
        let almanac = Almanac::of_years(year, 1);
        let mut luck = streams.keyed(origin, Purpose::Weather, key("season_before"), 0);
        let plan = match scenario.weather.plan {
            WeatherPlan::WholeYears => WeatherPlan::WholeYears,
            _ => WeatherPlan::MatchedBlocks,
        };
        let days = self.resampler.draw(plan, year, 1, &mut luck).map_err(|f| f.to_string())?;
        let luck = streams.keyed(origin, Purpose::Forecast, key("season_before"), 0);
        let skies = self.skies(&days, almanac.first(), &parameters, luck);
        let script = Script::new(scenario, &scenario.programs[program], &almanac);
        let script = script.of_member(&settled);
        let end = rehearse(&script, streams, origin, start, &setting, &skies, &mut after);
        let end = end.carried_over(&setting);
        Ok((parameters, setting, end))
    }
}

impl World for StationWorld<'_> {
    type Lawn = State;

    fn constants(&self, constants: &Constants, streams: &Streams, number: u32) -> Vec<f64> {
        match &self.chosen {
            None => constants.draw(streams, number),
            Some(_) => constants.draw(&self.base, self.origin(streams, number)),
        }
    }

    fn settled(&self, scenario: &Scenario, streams: &Streams, number: u32) -> Settled {
        match &self.chosen {
            None => settle(scenario, streams, number),
            Some(_) => settle(scenario, &self.base, self.origin(streams, number)),
        }
    }

    fn member(
        &self,
        number: u32,
        constants: Vec<f64>,
        streams: &Streams,
        almanac: &Almanac,
    ) -> Result<Member<State>, String> {
        let first = almanac.first();
        let origin = self.origin(streams, number);
        let own = if self.chosen.is_some() { &self.base } else { streams };
        let (parameters, setting, start) = self.lawn(own, &constants, origin, |_, _| {})?;
        let until = self.chosen.as_ref().and_then(|chosen| chosen.about.until);
        let (days, luck) = match until {
            Some(until) => {
                let days = self.path_from(streams, origin, number, until)?;
                (days, self.base.of_member(origin, Purpose::Forecast))
            }
            None => (self.path(streams, number)?, streams.of_member(number, Purpose::Forecast)),
        };
        let skies = self.skies(&days, first, &parameters, luck);
        let past = until.map(|until| Past { origin, until });
        Ok(Member { number, setting, start, skies, past })
    }
}

/// Refuses a record from south of the equator: the lawn starts in its winter coat on 1 January, and
/// daylength and day-of-year rules are those of the northern half.
///
/// # Errors
/// [`RunFault::Southern`].
pub fn northern(record: &Record) -> Result<(), RunFault> {
    let latitude_deg = record.site.latitude_deg;
    if latitude_deg < 0.0 { Err(RunFault::Southern { latitude_deg }) } else { Ok(()) }
}

/// Plays a checked scenario: the way from members to bands.
///
/// The observer hears the number of members done so far and may stop the run.
///
/// # Errors
/// See [`RunFault`].
pub fn run(plan: &RunPlan, catalogue: &Catalogue, observer: Observer) -> Result<Results, RunFault> {
    Ok(chosen_and_played(plan, catalogue, observer)?.1)
}

/// As [`run`], and works out which luck spreads the outcomes.
///
/// # Errors
/// See [`RunFault`].
pub fn run_explained(
    plan: &RunPlan,
    catalogue: &Catalogue,
    observer: Observer,
) -> Result<Results, RunFault> {
    let part = Stage::new(plan, catalogue, observer)?.part(0..plan.members, observer)?;
    Ok(part.results(plan, catalogue)?)
}

/// Plays as [`run`] does and gives back what `keep` makes of each track, given the program's index:
/// `[member][program]`.
///
/// # Errors
/// See [`RunFault`].
pub fn tracks<T: Send>(
    plan: &RunPlan,
    catalogue: &Catalogue,
    observer: Observer,
    keep: impl Fn(usize, Track) -> T + Sync,
) -> Result<Vec<Vec<T>>, RunFault> {
    let world = StationWorld::new(plan, catalogue, observer)?;
    let pace = Pace::of(plan, plan.members, observer);
    stretch_with(plan, &world, pace, |seen| keep(seen.program, seen.track))
}

/// The members of a plan, made ready once (and chosen once, where the scenario says what was seen), and
/// played under whatever programs one thinks of, or with some of their luck exchanged.
pub struct Stage<'a> {
    plan: &'a RunPlan<'a>,
    world: StationWorld<'a>,
}

impl<'a> Stage<'a> {
    /// Makes the members of a plan ready; its programs need not be those that are played.
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn new(
        plan: &'a RunPlan<'a>,
        catalogue: &'a Catalogue,
        observer: Observer,
    ) -> Result<Stage<'a>, RunFault> {
        Ok(Stage { plan, world: StationWorld::new(plan, catalogue, observer)? })
    }

    /// Plays some of the members under some programs and gives back what `keep` makes of each track:
    /// `[member][program]`. The observer hears how many of these members are done.
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn play<T: Send>(
        &self,
        programs: &[Program],
        members: Range<u32>,
        observer: Observer,
        keep: impl Fn(Seen) -> T + Sync,
    ) -> Result<Vec<Vec<T>>, RunFault> {
        let scenario = self.plan.scenario.with_programs(programs);
        let plan = RunPlan { scenario: &scenario, ..*self.plan };
        let batch = members.len() as u32;
        let pace = Pace { members, programs: programs.len(), batch, observer };
        stretch_with(&plan, &self.world, pace, keep)
    }

    /// Plays some of the members, within `0..plan.members`, under the plan's programs, as a part of the
    /// run. The part with the first of them also tells which luck spreads the outcomes.
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn part(&self, members: Range<u32>, observer: Observer) -> Result<Part, RunFault> {
        let with_first = members.start == 0;
        let done = members.len() as u32;
        let mut part = part_with(self.plan, &self.world, members, observer)?;
        part.chosen = self.world.chosen.as_ref().map(|chosen| (&chosen.about).into());
        if with_first {
            let again = |_: u32| observer(done);
            let played: Vec<_> = part.columns.iter().map(|c| c.outcomes.as_slice()).collect();
            part.spread = spread_with(self.plan, &self.world, &played, &again)?;
        }
        Ok(part)
    }

    /// Plays one member again under some programs, with its turning points.
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn retell(&self, programs: &[Program], number: u32) -> Result<Retold, RunFault> {
        let scenario = self.plan.scenario.with_programs(programs);
        let plan = RunPlan { scenario: &scenario, ..*self.plan };
        let told: Vec<usize> = (0..programs.len()).collect();
        retell_with(&plan, &self.world, number, &told)
    }

    /// Whether members were chosen by what was seen: then no single fact of theirs may be exchanged.
    pub fn chosen(&self) -> bool {
        self.world.chosen.is_some()
    }

    /// Outcomes of so many members, `[program][outcome][member]`, under the programs of `scenario`,
    /// which is the plan's own or its [`Scenario::with_programs`].
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn outcomes(
        &self,
        scenario: &Scenario,
        members: u32,
        streams: &Streams,
        observer: Observer,
    ) -> Result<Vec<Vec<Vec<f64>>>, RunFault> {
        let plan = RunPlan { scenario, members, keep_tracks: false, ..*self.plan };
        outcomes_with(&plan, &self.world, streams, observer)
    }

    /// What each of so many members drew of a factor.
    pub fn draws(&self, factor: &Factor, members: u32, streams: &Streams) -> Vec<f64> {
        let own = if self.chosen() { &self.world.base } else { streams };
        let origin = |member| self.world.origin(streams, member);
        (0..members).map(|member| factor.value(own, origin(member))).collect()
    }
}

/// As [`run`], and tells one of its members again, turning point by turning point: the one whose
/// number, from 0, `pick` gives, under the programs of these indices.
///
/// # Errors
/// See [`RunFault`].
pub fn run_and_retell(
    plan: &RunPlan,
    catalogue: &Catalogue,
    programs: &[usize],
    pick: impl FnOnce(&Results) -> u32,
    observer: Observer,
) -> Result<(Results, Retold), RunFault> {
    let (world, results) = chosen_and_played(plan, catalogue, observer)?;
    let retold = retell_with(plan, &world, pick(&results), programs)?;
    Ok((results, retold))
}

fn chosen_and_played<'a>(
    plan: &'a RunPlan<'a>,
    catalogue: &'a Catalogue,
    observer: Observer,
) -> Result<(StationWorld<'a>, Results), RunFault> {
    let world = StationWorld::new(plan, catalogue, observer)?;
    let mut results = run_with(plan, &world, observer)?;
    results.conditioning = world.chosen.as_ref().map(|chosen| chosen.about.clone());
    Ok((world, results))
}
