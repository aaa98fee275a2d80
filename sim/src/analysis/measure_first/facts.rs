//! What could be known: facts of the lawn and crew that a person can find out, constants of the model.

use crate::draw::Purpose;
use crate::ensemble::{Factor, factors};
use crate::parameters::Entry;
use crate::program::tap_mm;
use crate::scenario::{Scenario, Uncertain, What};

/// One thing that is known or not as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Subject {
    /// Its name; sand and clay are one, "texture".
    pub key: String,
    /// What is drawn of it.
    pub factors: Vec<Factor>,
}

impl Subject {
    /// Whether a person can find it out; a constant of the model nobody can.
    pub fn findable(&self) -> bool {
        self.factors.iter().all(|factor| factor.purpose == Purpose::Facts)
    }
}

/// Name of sand and clay together: one test tells both.
pub const TEXTURE: &str = "texture";

/// All that a scenario's members draw, facts first.
pub fn subjects(scenario: &Scenario, catalogue: &[Entry]) -> Vec<Subject> {
    let mut subjects: Vec<Subject> = Vec::new();
    for factor in factors(scenario, catalogue) {
        let soil = factor.purpose == Purpose::Facts && matches!(&*factor.name, "sand" | "clay");
        let key = if soil { TEXTURE.into() } else { factor.name.clone() };
        match subjects.iter_mut().find(|subject| subject.key == key) {
            Some(subject) => subject.factors.push(factor),
            None => subjects.push(Subject { key, factors: vec![factor] }),
        }
    }
    subjects
}

/// Facts that a person can find out and that the scenario states as one number, taken for known.
pub fn stated(scenario: &Scenario) -> Vec<&'static str> {
    let (lawn, doubts) = (&scenario.lawn, &scenario.doubts);
    let sure = |sd: f64| sd == 0.0;
    let weed = |known: &Option<Uncertain>| known.is_some_and(|known| sure(known.sd()));
    let does = |done: fn(&What) -> bool| {
        scenario.programs.iter().flat_map(|p| &p.practices).any(|p| done(&p.what))
    };
    let waters = does(|what| tap_mm(what) > 0.0);
    let spots = does(|what| matches!(what, What::Spray(spray) if spray.spots));
    [
        ("turf_cover", sure(lawn.turf_cover.sd())),
        ("crabgrass_last_august", sure(lawn.crabgrass_last_august.sd())),
        ("dandelion", weed(&lawn.dandelion)),
        ("clover", weed(&lawn.clover)),
        ("nutsedge", weed(&lawn.nutsedge)),
        ("organic_matter", sure(lawn.soil.organic_matter.sd())),
        ("irrigation_efficiency", waters && doubts.irrigation_efficiency.is_none()),
        ("slope", doubts.slope.is_none()),
        ("sun", doubts.sun.is_none()),
        ("topsoil_mm", doubts.topsoil_mm.is_none()),
        (TEXTURE, doubts.sand.is_none() && doubts.clay.is_none()),
        ("weeds_found", spots && doubts.weeds_found.is_none()),
    ]
    .into_iter()
    .filter_map(|(key, sure)| sure.then_some(key))
    .collect()
}

/// Luck that is judged as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// All facts of the lawn and crew together.
    Lawn,
    /// All constants of the model together.
    Model,
    /// All the weather, the forecast's errors too.
    Weather,
    /// What people get wrong.
    Slips,
}

impl Group {
    /// Every group.
    pub const ALL: [Group; 4] = [Group::Lawn, Group::Model, Group::Weather, Group::Slips];

    /// Name in files.
    pub fn key(self) -> &'static str {
        match self {
            Group::Lawn => "all_facts",
            Group::Model => "all_constants",
            Group::Weather => "weather",
            Group::Slips => "slips",
        }
    }

    /// What its luck is drawn for.
    pub fn purposes(self) -> &'static [Purpose] {
        match self {
            Group::Lawn => &[Purpose::Facts],
            Group::Model => &[Purpose::Parameters],
            Group::Weather => &[Purpose::Weather, Purpose::Future, Purpose::Forecast],
            Group::Slips => &[Purpose::Slips],
        }
    }

    /// The luck of all the others.
    pub fn others(self) -> Vec<Purpose> {
        let others = Group::ALL.into_iter().filter(|group| *group != self);
        others.flat_map(|group| group.purposes().iter().copied()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::Streams;
    use crate::ensemble::Constants;
    use crate::ensemble::facts::{lawn_draw, settle};
    use crate::lawn::LawnDraw;
    use crate::parameters::Catalogue;
    use crate::scenario::{Settled, check};

    /// With every fact of lawn and crew as a range, a member draws nothing that is not among the factors:
    /// each of its draws is that of one factor, and every factor has a draw.
    #[test]
    fn no_fact_is_forgotten() {
        let text = include_str!("../../../../scenarios/dry-summer-lawn.toml")
            .replace("slope = \"2 %\"", "slope = [\"1 %\", \"4 %\"]")
            .replace("texture = \"sandy loam\"", "sand = [\"50 %\", \"60 %\"]\nclay = [\"8 %\", \"14 %\"]")
            .replace("hour-cost = \"30 $/h\"", "hour-cost = [\"25 $/h\", \"40 $/h\"]\nmower-speed = [\"2 mph\", \"3 mph\"]\nweeds-found = [\"60 %\", \"90 %\"]")
            .replace("[weather]", "dandelion = [\"1 %\", \"4 %\"]\nclover = [\"2 %\", \"9 %\"]\nnutsedge = [\"1 %\", \"3 %\"]\nseed-bank = [\"200 /m2\", \"900 /m2\"]\n\n[weather]");
        let products = include_str!("../../../../scenarios/products.toml");
        let scenario = check(&text, products).unwrap_or_else(|f| panic!("{f:#?}")).scenario;
        let catalogue = Catalogue::embedded();
        let streams = Streams::new(9);
        let mut drawn: Vec<f64> = factors(&scenario, &catalogue.entries)
            .iter()
            .filter(|factor| factor.purpose == Purpose::Facts)
            .map(|factor| factor.value(&streams, 5))
            .collect();
        let LawnDraw {
            facts: _,
            turf_cover,
            crabgrass_last_august,
            seed_bank_m2,
            dandelion,
            clover,
            nutsedge,
            organic_matter,
        } = lawn_draw(&scenario.lawn, &streams, 5);
        let Settled { place, crew, release_days } = settle(&scenario, &streams, 5);
        let mut all = vec![turf_cover, crabgrass_last_august, organic_matter];
        all.extend([seed_bank_m2, dandelion, clover, nutsedge].into_iter().flatten());
        all.extend([place.slope, place.sun, place.irrigation_efficiency, place.soil.topsoil_mm]);
        all.extend([place.soil.sand, place.soil.clay]);
        all.extend([crew.hour_cost, crew.mower_speed_m_s, crew.weeds_found]);
        all.extend(release_days.iter().map(|(.., days)| *days));
        drawn.sort_by(f64::total_cmp);
        all.sort_by(f64::total_cmp);
        assert_eq!(drawn, all);
        assert_eq!(drawn.len(), 16);
        assert!(stated(&scenario).is_empty(), "{:?}", stated(&scenario));
    }

    /// A factor's value is what the members themselves draw; exchanged, it is that of the double.
    #[test]
    fn factors_are_what_members_draw() {
        let text = include_str!("../../../../scenarios/dry-summer-lawn.toml");
        let products = include_str!("../../../../scenarios/products.toml");
        let scenario = check(text, products).expect("sound").scenario;
        let catalogue = Catalogue::embedded();
        let all = subjects(&scenario, &catalogue.entries);
        let streams = Streams::new(4);
        let value = |name: &str| {
            let mut factors = all.iter().flat_map(|subject| &subject.factors);
            factors.find(|factor| factor.name == name).unwrap().value(&streams, 7)
        };
        let facts = lawn_draw(&scenario.lawn, &streams, 7);
        assert_eq!(value("turf_cover"), facts.turf_cover);
        assert_eq!(value("crabgrass_last_august"), facts.crabgrass_last_august);
        assert_eq!(value("organic_matter"), facts.organic_matter);
        let place = settle(&scenario, &streams, 7).place;
        assert_eq!(value("sun"), place.sun);
        assert_eq!(value("irrigation_efficiency"), place.irrigation_efficiency);
        assert_eq!(value("topsoil_mm"), place.soil.topsoil_mm);
        let constants = Constants::new(&catalogue.entries, &scenario.overrides).unwrap();
        let drawn = constants.draw(&streams, 7);
        let spread: Vec<_> = all.iter().filter(|subject| !subject.findable()).collect();
        for subject in &spread {
            let at = catalogue.position(&subject.key).expect("a constant");
            assert_eq!(value(&subject.key), drawn[at], "{}", subject.key);
        }
        // All that varies between two members is among them.
        let other = constants.draw(&streams, 8);
        let differ = drawn.iter().zip(&other).filter(|(a, b)| a != b).count();
        assert_eq!(differ, spread.len());
        let sun = all.iter().find(|subject| subject.key == "sun").unwrap();
        let exchanged = streams.exchanging(&[sun.factors[0].luck()]);
        let double = streams.doubled(&[Purpose::Facts]);
        assert_eq!(
            settle(&scenario, &exchanged, 7).place.sun,
            settle(&scenario, &double, 7).place.sun
        );
        assert_eq!(lawn_draw(&scenario.lawn, &exchanged, 7), facts);
    }
}
