//! The real world of members: station weather and the real lawn.

use super::facts::settle;
use super::run::World;
use super::spread::{Shares, spread_with};
use super::{Facts, Observer, Results, RunFault, RunPlan, run_with};
use crate::draw::{Purpose, Streams};
use crate::ensemble::Account;
use crate::lawn::{LawnDraw, Setting, State, measures};
use crate::outcomes::Almanac;
use crate::parameters::Catalogue;
use crate::season::{Lawn, Member};
use crate::weather::{Record, Resampler, SiteTables, Sky, SoFar, skies_at};
use crate::work::{Act, Signs};
use rand::RngExt;

impl Lawn for State {
    type Setting = Setting;

    fn signs(&self, setting: &Setting, sky: Option<&Sky>) -> Signs {
        self.look(setting, sky)
    }

    fn day(&mut self, setting: &Setting, sky: &Sky, acts: &[Act]) -> Signs {
        State::day(self, setting, sky, acts)
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
}

impl<'a> StationWorld<'a> {
    fn new(plan: &'a RunPlan<'a>, catalogue: &'a Catalogue) -> Result<StationWorld<'a>, RunFault> {
        northern(plan.record)?;
        let weather = |reason: String| RunFault::Member { member: 0, reason };
        Ok(StationWorld {
            plan,
            catalogue,
            resampler: Resampler::new(plan.record).map_err(|fault| weather(fault.to_string()))?,
            tables: SiteTables::new(&plan.record.site, plan.record.anemometer_m),
        })
    }
}

impl World for StationWorld<'_> {
    type Lawn = State;

    fn member(
        &self,
        number: u32,
        constants: Vec<f64>,
        streams: &Streams,
        almanac: &Almanac,
    ) -> Result<Member<State>, String> {
        let scenario = self.plan.scenario;
        let parameters = self.catalogue.parameters(&constants);
        let facts = Facts::draw(&scenario.lawn, streams, number);
        let (place, _) = settle(scenario, streams, number);
        let drawn = LawnDraw {
            facts: &place,
            turf_cover: facts.turf_cover,
            crabgrass_last_august: facts.crabgrass_last_august,
            seed_bank_m2: facts.seed_bank_m2,
            organic_matter: facts.organic_matter,
        };
        let mut luck = streams.of_member(number, Purpose::Weather);
        let (plan, first_year) = (scenario.weather.plan, scenario.first_year);
        let nothing = SoFar::default();
        let so_far = self.plan.so_far.unwrap_or(&nothing);
        let days = self
            .resampler
            .draw_after(plan, first_year, scenario.seasons, so_far, &mut luck)
            .map_err(|fault| fault.to_string())?;
        let mut luck = streams.of_member(number, Purpose::Forecast);
        let mut uniform = || luck.random::<f64>();
        let first = almanac.first();
        let skies = skies_at(&days, first, &self.tables, &parameters.weather, &mut uniform);
        let setting = Setting::new(&parameters, &drawn);
        let start = State::initial(&setting, &drawn);
        Ok(Member { number, setting, start, skies })
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
    run_with(plan, &StationWorld::new(plan, catalogue)?, observer)
}

/// Which luck spreads a run's outcomes: see the module `spread`.
///
/// # Errors
/// See [`RunFault`].
pub fn spread(
    plan: &RunPlan,
    catalogue: &Catalogue,
    results: &Results,
    observer: Observer,
) -> Result<Vec<Vec<Shares>>, RunFault> {
    spread_with(plan, &StationWorld::new(plan, catalogue)?, results, observer)
}
