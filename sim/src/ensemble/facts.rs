//! Draws of what is uncertain: facts of the lawn and constants of the model. One stream a fact, so
//! that a further fact shifts no other.

use rand::Rng;

use crate::draw::{Purpose, Streams, key, log_normal, normal, triangular, uniform_between};
use crate::lawn::LawnDraw;
use crate::parameters::{Entry, Spread};
use crate::scenario::{Doubts, Lawn, Scenario, Settled, Uncertain, hydrologic_group};

/// One member's draw of what the walk-round left uncertain.
pub fn lawn_draw<'a>(lawn: &'a Lawn, streams: &Streams, member: u32) -> LawnDraw<'a> {
    let fact = |name: &str, known: &Uncertain| {
        uncertain(known, &mut streams.keyed(member, Purpose::Facts, key(name), 0))
    };
    let perhaps =
        |name: &str, known: &Option<Uncertain>| known.as_ref().map(|known| fact(name, known));
    LawnDraw {
        facts: lawn,
        turf_cover: fact("turf_cover", &lawn.turf_cover),
        crabgrass_last_august: fact("crabgrass_last_august", &lawn.crabgrass_last_august),
        seed_bank_m2: perhaps("seed_bank_m2", &lawn.seed_bank_m2),
        dandelion: perhaps("dandelion", &lawn.dandelion),
        clover: perhaps("clover", &lawn.clover),
        nutsedge: perhaps("nutsedge", &lawn.nutsedge),
        organic_matter: fact("organic_matter", &lawn.soil.organic_matter),
    }
}

/// One member's place, crew and materials. One stream a doubt.
pub fn settle(scenario: &Scenario, streams: &Streams, member: u32) -> Settled {
    let (mut lawn, mut crew) = (scenario.lawn.clone(), scenario.crew.clone());
    let Doubts {
        slope,
        sun,
        irrigation_efficiency,
        topsoil_mm,
        sand,
        clay,
        group_by_texture,
        hour_cost,
        mower_speed_m_s,
        weeds_found,
        release_days,
    } = &scenario.doubts;
    let draw = |name: &str, doubt: &Option<Uncertain>, field: &mut f64| {
        if let Some(known) = doubt {
            *field = uncertain(known, &mut streams.keyed(member, Purpose::Facts, key(name), 0));
        }
    };
    draw("slope", slope, &mut lawn.slope);
    draw("sun", sun, &mut lawn.sun);
    draw("irrigation_efficiency", irrigation_efficiency, &mut lawn.irrigation_efficiency);
    draw("topsoil_mm", topsoil_mm, &mut lawn.soil.topsoil_mm);
    draw("sand", sand, &mut lawn.soil.sand);
    draw("clay", clay, &mut lawn.soil.clay);
    if *group_by_texture && (sand.is_some() || clay.is_some()) {
        let soil = &mut lawn.soil;
        soil.hydrologic_group = hydrologic_group(soil.sand, soil.clay, soil.compaction);
    }
    draw("hour_cost", hour_cost, &mut crew.hour_cost);
    draw("mower_speed_m_s", mower_speed_m_s, &mut crew.mower_speed_m_s);
    draw("weeds_found", weeds_found, &mut crew.weeds_found);
    let release_days = release_days.iter().map(|(practice, known)| {
        let name = key(&format!("release_days {practice}"));
        let days = uncertain(known, &mut streams.keyed(member, Purpose::Facts, name, 0));
        (key(practice), *known, days)
    });
    Settled { place: lawn, crew, release_days: release_days.collect() }
}

/// Draws a number that a person knows exactly, as a range or as low / likely / high.
pub fn uncertain(known: &Uncertain, rng: &mut impl Rng) -> f64 {
    match *known {
        Uncertain::Exact(value) => value,
        Uncertain::Range(low, high) => uniform_between(low, high, rng),
        Uncertain::Triple(low, likely, high) => triangular(low, likely, high, rng),
    }
}

/// Draws a constant of the model.
pub fn constant(entry: &Entry, rng: &mut impl Rng) -> f64 {
    match entry.spread {
        Spread::Fixed => entry.value,
        Spread::Uniform(low, high) => uniform_between(low, high, rng),
        Spread::Normal(sd) => normal(entry.value, sd, rng),
        Spread::LogNormal(gsd) => log_normal(entry.value, gsd, rng),
        Spread::Triangular(low, high) => triangular(low, entry.value, high, rng),
    }
}

/// How every constant of a run is drawn: the catalogue with the scenario's overrides in place.
#[derive(Clone, Debug)]
pub struct Constants<'a> {
    /// Entry, key of its name, and what the scenario says instead.
    lines: Vec<(&'a Entry, u64, Option<Uncertain>)>,
}

impl<'a> Constants<'a> {
    /// The catalogue with overrides by name; the last of several for one name holds.
    ///
    /// # Errors
    /// The name of an override that the catalogue does not have.
    pub fn new(
        catalogue: &'a [Entry],
        overrides: &[(String, Uncertain)],
    ) -> Result<Constants<'a>, String> {
        let mut lines: Vec<_> = catalogue.iter().map(|e| (e, key(&e.name), None)).collect();
        for (name, instead) in overrides {
            let line = lines.iter_mut().find(|(entry, ..)| entry.name == *name);
            line.ok_or_else(|| name.clone())?.2 = Some(*instead);
        }
        Ok(Constants { lines })
    }

    /// A member's values, in the catalogue's order.
    pub fn draw(&self, streams: &Streams, member: u32) -> Vec<f64> {
        let value = |(entry, name, instead): &(&Entry, u64, Option<Uncertain>)| {
            let stream = || streams.keyed(member, Purpose::Parameters, *name, 0);
            match (instead, entry.spread) {
                (Some(Uncertain::Exact(value)), _) => *value,
                (Some(known), _) => uncertain(known, &mut stream()),
                (None, Spread::Fixed) => entry.value,
                (None, _) => constant(entry, &mut stream()),
            }
        };
        self.lines.iter().map(value).collect()
    }
}
