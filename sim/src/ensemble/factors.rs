//! What is drawn anew in every member, one by one: facts of the lawn and crew that are not known
//! exactly, and constants of the model that have a spread. Each is told by its name, and gives back
//! what a member drew of it without the member being made.

use super::facts::{constant, uncertain};
use crate::draw::{Purpose, Streams, key};
use crate::parameters::{Entry, Spread};
use crate::scenario::{Doubts, Lawn, Scenario, Uncertain};

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
/// before is run first, cover, dandelion, clover and last August's crabgrass come of it and are not
/// drawn.
pub fn factors(scenario: &Scenario, catalogue: &[Entry]) -> Vec<Factor> {
    let Lawn { turf_cover, crabgrass_last_august, seed_bank_m2, soil, .. } = &scenario.lawn;
    let Lawn { dandelion, clover, nutsedge, .. } = &scenario.lawn;
    // Named one by one, so that no doubt is forgotten here.
    let Doubts {
        slope,
        sun,
        irrigation_efficiency,
        topsoil_mm,
        sand,
        clay,
        group_by_texture: _,
        hour_cost,
        mower_speed_m_s,
        weeds_found,
        release_days,
    } = &scenario.doubts;
    let before = scenario.season_before.is_some();
    let seen = |known: Option<Uncertain>| known.filter(|_| !before);
    let facts = [
        ("turf_cover", seen(Some(*turf_cover))),
        ("crabgrass_last_august", seen(Some(*crabgrass_last_august))),
        ("seed_bank_m2", *seed_bank_m2),
        ("dandelion", seen(*dandelion)),
        ("clover", seen(*clover)),
        ("nutsedge", *nutsedge),
        ("organic_matter", Some(soil.organic_matter)),
        ("slope", *slope),
        ("sun", *sun),
        ("irrigation_efficiency", *irrigation_efficiency),
        ("topsoil_mm", *topsoil_mm),
        ("sand", *sand),
        ("clay", *clay),
        ("hour_cost", *hour_cost),
        ("mower_speed_m_s", *mower_speed_m_s),
        ("weeds_found", *weeds_found),
    ];
    let release = release_days.iter();
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
