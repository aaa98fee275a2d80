//! What is drawn anew in every member, one by one: facts of the lawn and crew that are not known
//! exactly, and constants of the model that have a spread. Each is told by its name, and gives back
//! what a member drew of it without the member being made.

use super::facts::{constant, uncertain};
use crate::draw::{Purpose, Streams, key};
use crate::parameters::{Entry, Spread};
use crate::scenario::{Scenario, Uncertain};

/// One thing that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Name of its stream: "turf_cover", "release_days feed", "water.crop_coefficient".
    pub name: String,
    /// Facts of lawn and crew are drawn for [`Purpose::Facts`], constants for [`Purpose::Parameters`].
    pub purpose: Purpose,
    how: How,
}

#[derive(Clone, Debug, PartialEq)]
enum How {
    Known(Uncertain),
    Constant(Entry),
}

impl Factor {
    fn fact(name: &str, known: Uncertain) -> Option<Factor> {
        let drawn = known.sd() > 0.0;
        let fact = Factor { name: name.into(), purpose: Purpose::Facts, how: How::Known(known) };
        drawn.then_some(fact)
    }

    /// What a member drew, in the unit of the fact or constant.
    pub fn value(&self, streams: &Streams, member: u32) -> f64 {
        let (purpose, name) = self.luck();
        let mut luck = streams.keyed(member, purpose, name, 0);
        match &self.how {
            How::Known(known) => uncertain(known, &mut luck),
            How::Constant(entry) => constant(entry, &mut luck),
        }
    }

    /// Its stream: what [`Streams::exchanging`] exchanges.
    pub fn luck(&self) -> (Purpose, u64) {
        (self.purpose, key(&self.name))
    }
}

/// Everything that a scenario's members draw of lawn, crew and model, facts first. Where the year
/// before is run first, cover and last August's crabgrass come of it and are not drawn.
pub fn factors(scenario: &Scenario, catalogue: &[Entry]) -> Vec<Factor> {
    let (lawn, doubts) = (&scenario.lawn, &scenario.doubts);
    let seen = scenario.season_before.is_none();
    let facts = [
        ("turf_cover", Some(lawn.turf_cover).filter(|_| seen)),
        ("crabgrass_last_august", Some(lawn.crabgrass_last_august).filter(|_| seen)),
        ("seed_bank_m2", lawn.seed_bank_m2),
        ("organic_matter", Some(lawn.soil.organic_matter)),
        ("slope", doubts.slope),
        ("sun", doubts.sun),
        ("irrigation_efficiency", doubts.irrigation_efficiency),
        ("topsoil_mm", doubts.topsoil_mm),
        ("sand", doubts.sand),
        ("clay", doubts.clay),
        ("hour_cost", doubts.hour_cost),
        ("mower_speed_m_s", doubts.mower_speed_m_s),
    ];
    let release = doubts.release_days.iter();
    let release =
        release.filter_map(|(of, known)| Factor::fact(&format!("release_days {of}"), *known));
    let constants = catalogue.iter().filter_map(|entry| {
        let instead = scenario.overrides.iter().rfind(|(name, _)| *name == entry.name);
        let how = match (instead, entry.spread) {
            (Some((_, known)), _) if known.sd() > 0.0 => How::Known(*known),
            (Some(_), _) | (None, Spread::Fixed) => return None,
            (None, _) => How::Constant(entry.clone()),
        };
        Some(Factor { name: entry.name.clone(), purpose: Purpose::Parameters, how })
    });
    let facts = facts.into_iter().filter_map(|(name, known)| Factor::fact(name, known?));
    facts.chain(release).chain(constants).collect()
}
