//! How each fact is called, how a person finds it out, and about what that costs. The ways are common
//! practice of the trade and its extension leaflets; times and prices are from memory.

use sim::quantity::{self, Kind};
use sim::scenario::Crew;

use crate::round;
use crate::units::Units;
use crate::words::figure;

/// How a fact is spoken of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    key: &'static str,
    /// In a sentence: "last August's crabgrass".
    pub name: &'static str,
    /// What to do, as a sentence starts: "Go and count ...".
    pub act: &'static str,
    /// How.
    pub how: &'static str,
    /// About what it takes: minutes of work, and $ to pay.
    takes: (f64, f64),
    scale: Shown,
}

/// How a value of it is told.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Shown {
    Percent,
    Depth,
    Days,
    Money,
    Speed,
    PerArea,
    /// Several numbers together have no one value.
    No,
}

const fn way(
    key: &'static str,
    name: &'static str,
    act: &'static str,
    how: &'static str,
    takes: (f64, f64),
    scale: Shown,
) -> Way {
    Way { key, name, act, how, takes, scale }
}

const WAYS: [Way; 17] = [
    way(
        "turf_cover",
        "how much of the ground has grass",
        "Go and count how much of the ground has live grass",
        "lay a marked string across the lawn ten times; of 100 marks, count those over live grass",
        (20.0, 0.0),
        Shown::Percent,
    ),
    way(
        "crabgrass_last_august",
        "last August's crabgrass",
        "Go and find out how much crabgrass there was last August",
        "ask for last summer's photos; look for its dead, straw-coloured mats in ten places",
        (20.0, 0.0),
        Shown::Percent,
    ),
    way(
        "seed_bank_m2",
        "the crabgrass seed in the soil",
        "Go and test the soil for crabgrass seed",
        "keep ten plugs of topsoil warm and moist indoors for four weeks; count what comes up, which \
         is part of it",
        (60.0, 5.0),
        Shown::PerArea,
    ),
    way(
        "dandelion",
        "last autumn's dandelion",
        "Go and count the dandelions",
        "of 100 marks on strings laid across the lawn, count those over a rosette; last autumn's photos show \
         them too",
        (20.0, 0.0),
        Shown::Percent,
    ),
    way(
        "clover",
        "last autumn's white clover",
        "Go and count the white clover",
        "of 100 marks on strings laid across the lawn, count those over clover; its creeping stems outlive \
         the winter",
        (20.0, 0.0),
        Shown::Percent,
    ),
    way(
        "nutsedge",
        "last August's yellow nutsedge",
        "Go and find out how much yellow nutsedge there was last August",
        "ask for last summer's photos: a few days after a cut it stands pale and tall over the grass",
        (20.0, 0.0),
        Shown::Percent,
    ),
    way(
        "organic_matter",
        "the soil's organic matter",
        "Have the soil's organic matter tested",
        "send a soil test by mail; it takes about two weeks",
        (30.0, 20.0),
        Shown::Percent,
    ),
    way(
        "slope",
        "the slope",
        "Go and measure the slope",
        "lay a level on a board, or stretch a string and use a tape",
        (10.0, 0.0),
        Shown::Percent,
    ),
    way(
        "sun",
        "how much sun it gets",
        "Go and watch how much sun the lawn gets",
        "look every two hours on one clear day which part is in the sun",
        (30.0, 0.0),
        Shown::Percent,
    ),
    way(
        "irrigation_efficiency",
        "how much of the sprinkler's water gets there",
        "Set out cans and measure what the sprinkler brings",
        "a catch-can test: a dozen straight cans, half an hour of sprinkling, a ruler, the water meter",
        (60.0, 0.0),
        Shown::Percent,
    ),
    way(
        "topsoil_mm",
        "how deep the topsoil goes",
        "Go and dig to see how deep the topsoil goes",
        "dig three holes with a spade, or push a long screwdriver in until it stops",
        (20.0, 0.0),
        Shown::Depth,
    ),
    way(
        "texture",
        "how sandy or clayey the soil is",
        "Have the soil's texture tested",
        "shake a jar of soil with water and leave it for a day, or have texture told with a soil test by \
         mail",
        (30.0, 30.0),
        Shown::No,
    ),
    way(
        "hour_cost",
        "what an hour of work costs",
        "Work out what an hour of work costs you",
        "add up wages, truck and insurance from your own books",
        (60.0, 0.0),
        Shown::Money,
    ),
    way(
        "mower_speed_m_s",
        "how fast the mower goes",
        "Time the mower over a measured stretch",
        "100 ft by tape and a watch, at the pace of a usual day",
        (10.0, 0.0),
        Shown::Speed,
    ),
    way(
        "weeds_found",
        "how many of the weeds the crew finds",
        "Try how many of the weeds the crew finds",
        "put dye into a spot spray; in ten places count the weeds with dye on them and those without",
        (30.0, 0.0),
        Shown::Percent,
    ),
    way(
        "release_days",
        "how long the coated fertilizer lasts",
        "Ask how long the coated fertilizer lasts",
        "the bag, or the maker's sheet, tells it for one soil temperature",
        (15.0, 0.0),
        Shown::Days,
    ),
    way("", "a fact of the lawn", "Find out more about the lawn", "", (0.0, 0.0), Shown::No),
];

/// The way of a fact, by its key; those of release times end with their practice.
pub(super) fn way_of(key: &str) -> &'static Way {
    let first = key.split(' ').next().unwrap_or(key);
    WAYS.iter().find(|way| way.key == first).unwrap_or(&WAYS[WAYS.len() - 1])
}

/// Minutes of an hour.
const HOUR: f64 = 60.0;

impl Way {
    /// About what finding it out costs, in the crew's money: its time, and what is to pay where that
    /// money is the $.
    pub(super) fn price(&self, crew: &Crew) -> f64 {
        let (minutes, fee) = self.takes;
        minutes / HOUR * crew.hour_cost + if crew.currency == "$" { fee } else { 0.0 }
    }

    /// "about 20 minutes, nothing to buy"; "about 30 minutes, and $20 to pay".
    pub(super) fn takes(&self) -> String {
        let (minutes, fee) = self.takes;
        let time = match minutes {
            m if m >= HOUR => format!("{} h", round::spoken(m / HOUR, 0.5)),
            m => format!("{} minutes", round::spoken(m, 1.0)),
        };
        if fee > 0.0 {
            format!("about {time} of work, and some ${} to pay", round::spoken(fee, 1.0))
        } else {
            format!("about {time} of work, nothing to pay")
        }
    }

    /// A value with its error: "about 15 %", "14 to 16 %".
    pub(super) fn value(
        &self,
        at: f64,
        error: f64,
        units: Units,
        currency: &str,
    ) -> Option<String> {
        let told = |scale: f64, unit: &str, finest: f64| {
            let step = round::spoken_step(finest, error * scale);
            format!("about {} {unit}", round::spoken(at * scale, step))
        };
        Some(match self.scale {
            Shown::Percent if at < 0.1 => told(100.0, "%", 0.5),
            Shown::Percent => told(100.0, "%", 1.0),
            Shown::Days => told(1.0, "days", 1.0),
            Shown::Money => format!("about {}", figure::money(at.round(), currency)),
            Shown::Depth => {
                let (unit, factor, _) = quantity::shown(Kind::Depth, units.into());
                told(factor, unit, if units == Units::Us { 0.5 } else { 10.0 })
            }
            Shown::Speed => {
                let (unit, factor, _) = quantity::shown(Kind::Speed, units.into());
                told(factor, unit, 0.1)
            }
            Shown::PerArea => {
                let shown = units.shown("1/m2");
                told(shown.factor, shown.unit, 10.0)
            }
            Shown::No => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_as_fine_as_they_are_known() {
        let told = |key: &str, at, error| way_of(key).value(at, error, Units::Us, "$").unwrap();
        assert_eq!(told("crabgrass_last_august", 0.147, 0.02), "about 15 %");
        assert_eq!(told("crabgrass_last_august", 0.432, 0.004), "about 43 %");
        assert_eq!(told("organic_matter", 0.0214, 0.001), "about 2 %");
        assert_eq!(told("topsoil_mm", 102.0, 5.0), "about 4 in");
        assert_eq!(told("release_days feed", 71.2, 3.0), "about 70 days");
        assert_eq!(way_of("texture").value(1.0, 0.1, Units::Us, "$"), None);
    }
}
