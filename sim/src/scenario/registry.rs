//! The one registry of the scenario language: every key, what it may hold, what it means, and
//! what holds when it is left out. The checks, the messages and the reference page come from it.
//!
//! Defaults name their source and grade (`A` several studies, `B` one study or a handbook,
//! `C` common practice, `D` our judgement) in the key's text.

use super::key::{Def, Key, Need, Shape};
use crate::quantity::Kind;

const MUST: Need = Need::Must;
const MAY: Need = Need::May;

const fn key(name: &'static str, shape: Shape, need: Need, doc: &'static str) -> Key {
    Key { name, shape, need, group: "", doc }
}

const fn grouped(group: &'static str, mut key: Key) -> Key {
    key.group = group;
    key
}

const fn share(low: f64, high: f64) -> Shape {
    Shape::Quantity(Kind::Share, low, high)
}

/// The top of a scenario.
pub(super) static ROOT: Def = Def {
    name: "scenario",
    groups: &[&[
        key("title", Shape::Text(120), MUST, "A line for titles."),
        key("about", Shape::Text(2000), Need::Else(""), "What the scenario is for, in a sentence."),
        key("lawn", Shape::Table(&LAWN), MUST, "The place."),
        key("weather", Shape::Table(&WEATHER), MUST, "The station and how years are made."),
        key("run", Shape::Table(&RUN), MUST, "Which years are simulated."),
        key("crew", Shape::Table(&CREW), MAY, "What work takes and costs."),
        key("slips", Shape::Table(&SLIPS), MAY, "How reliably work is done."),
        key("constants", Shape::Constants, MAY, "Constants of the model that you know better."),
        key("program", Shape::Tables(&PROGRAM), MUST, "The programs; the first is the baseline."),
    ]],
};

static LAWN: Def = Def {
    name: "lawn",
    groups: &[&[
        key("area", Shape::Quantity(Kind::Area, 10.0, 1e6), MUST, "Area of turf."),
        key("slope", Shape::Quantity(Kind::Slope, 0.0, 1.0), Need::Else("2 %"), "Slope."),
        key("sun", Shape::ChoiceOrShare(&SUN), Need::Else("full"), "Share of full sun."),
        key(
            "irrigation-efficiency",
            share(0.2, 1.0),
            Need::Else("75 %"),
            "Share of the water from a sprinkler that reaches the roots (C, common design value).",
        ),
        key("soil", Shape::Table(&SOIL), MUST, "The soil."),
        key("grass", Shape::Tables(&GRASS), MUST, "One or two grasses."),
        key("seen", Shape::Table(&SEEN), MUST, "What the walk-round showed."),
    ]],
};

const SUN: [(&str, f64); 3] = [("full", 1.0), ("most", 0.75), ("half", 0.5)];

/// The twelve texture classes of the USDA.
pub(super) const TEXTURES: [&str; 12] = [
    "sand",
    "loamy sand",
    "sandy loam",
    "loam",
    "silt loam",
    "silt",
    "sandy clay loam",
    "clay loam",
    "silty clay loam",
    "sandy clay",
    "silty clay",
    "clay",
];

static SOIL: Def = Def {
    name: "lawn.soil",
    groups: &[&[
        key("texture", Shape::Choice(&TEXTURES), MAY, "Texture by its USDA name."),
        key("sand", share(0.0, 1.0), MAY, "Sand by weight, with `clay`, instead of `texture`."),
        key("clay", share(0.0, 1.0), MAY, "Clay by weight, with `sand`."),
        key(
            "organic-matter",
            Shape::Uncertain(Kind::Share, 0.002, 0.2),
            MUST,
            "Organic matter of the top 4-6 in, by weight, as on a soil test.",
        ),
        key(
            "topsoil",
            Shape::Quantity(Kind::Depth, 10.0, 1000.0),
            Need::Else("6 in"),
            "Depth of topsoil over subsoil (C).",
        ),
        key(
            "compaction",
            Shape::Choice(&["none", "moderate", "severe"]),
            Need::Else("none"),
            "How a probe goes into the subsoil: freely, with effort, not at all.",
        ),
        key(
            "hydrologic-group",
            Shape::Choice(&["A", "B", "C", "D"]),
            MAY,
            "Curve-number group; from texture and compaction where left out.",
        ),
        key("ph", Shape::Number(3.5, 9.5), MAY, "Soil pH, where tested."),
    ]],
};

static GRASS: Def = Def {
    name: "lawn.grass",
    groups: &[&[
        key("kind", Shape::Text(40), MUST, "The grass."),
        key("share", share(0.01, 1.0), Need::Else("100 %"), "Its share of the live cover."),
    ]],
};

static SEEN: Def = Def {
    name: "lawn.seen",
    groups: &[&[
        key(
            "grass-cover",
            Shape::Uncertain(Kind::Share, 0.01, 1.0),
            MUST,
            "Share of the ground under live grass at the start.",
        ),
        key(
            "crabgrass-last-august",
            Shape::Uncertain(Kind::Share, 0.0, 1.0),
            MUST,
            "Share of the lawn under crabgrass last August; a wide range where nobody looked.",
        ),
        key(
            "seed-bank",
            Shape::Uncertain(Kind::CountPerArea, 0.0, 1e6),
            MAY,
            "Living crabgrass seed in the top inch; worked out from last August where left out.",
        ),
    ]],
};

static WEATHER: Def = Def {
    name: "weather",
    groups: &[&[
        key("station", Shape::Text(60), MAY, "A carried record: \"jfk\" or \"seattle\"."),
        key("file", Shape::Text(400), MAY, "A daily CSV file of your own, instead of `station`."),
        key(
            "years",
            Shape::Choice(&["matched-blocks", "whole-years", "replay"]),
            Need::Else("matched-blocks"),
            "How simulated years are made from the record.",
        ),
        key("replay-from", Shape::Whole(1800, 2200), MAY, "First year of the record to replay."),
    ]],
};

static RUN: Def = Def {
    name: "run",
    groups: &[&[
        key("first-year", Shape::Whole(1900, 2200), MUST, "First simulated year."),
        key("seasons", Shape::Whole(1, 20), Need::Else("2"), "Number of years."),
    ]],
};

const WORK: Shape = Shape::Quantity(Kind::MinutesPerArea, 0.0, 100.0);

/// What work takes and costs.
pub(super) static CREW: Def = Def {
    name: "crew",
    groups: &[&[
        key("currency", Shape::Text(3), Need::Else("$"), "Label of all amounts of money."),
        key(
            "hour-cost",
            Shape::Quantity(Kind::MoneyPerHour, 0.0, 500.0),
            Need::Else("24 $/h"),
            "Cost of a person-hour, burden included (B: US median pay of grounds workers 2023, \
             18.12 $/h, BLS; burden x 1.3 from memory).",
        ),
        key(
            "visit",
            Shape::Quantity(Kind::Minutes, 0.0, 480.0),
            Need::Else("15 min"),
            "Travel and set-up for a visit (D).",
        ),
        key(
            "mower-width",
            Shape::Quantity(Kind::Length, 0.2, 10.0),
            Need::Else("21 in"),
            "Width of cut (C).",
        ),
        key(
            "mower-speed",
            Shape::Quantity(Kind::Speed, 0.2, 8.0),
            Need::Else("2.5 mph"),
            "Mowing speed (C).",
        ),
        key(
            "mower-efficiency",
            share(0.2, 1.0),
            Need::Else("75 %"),
            "What overlap and turning leave of speed x width (C; 80 % in the trade press).",
        ),
        key("trim", WORK, Need::Else("2 min/1000 ft2"), "Trim, edge and blow at a mowing (D)."),
        key(
            "bagging",
            Shape::Number(1.0, 3.0),
            Need::Else("1.4"),
            "Mowing time is multiplied by this when bagging (B: Nebraska Extension, up to 30 % \
             saved by not bagging).",
        ),
        key("spread", WORK, Need::Else("0.8 min/1000 ft2"), "Spreading granules on foot (C)."),
        key("spray", WORK, Need::Else("2 min/1000 ft2"), "Spraying with a walk boom or hose (D)."),
        key(
            "topdress",
            Shape::Quantity(Kind::MinutesPerLayer, 0.0, 100.0),
            Need::Else("228 min/1000 ft2/in"),
            "Topdressing from a wheelbarrow, by depth (D: 57 min/1000 ft2 at 1/4 in).",
        ),
        key(
            "watering",
            Shape::Quantity(Kind::Minutes, 0.0, 240.0),
            Need::Else("5 min"),
            "Setting out a sprinkler (D).",
        ),
        key(
            "water-price",
            Shape::Quantity(Kind::MoneyPerVolume, 0.0, 100.0),
            Need::Else("5 $/1000 gal"),
            "Price of water (D, from memory of US utility rates).",
        ),
    ]],
};

/// How reliably work is done.
pub(super) static SLIPS: Def = Def {
    name: "slips",
    groups: &[&[
        key("missed", share(0.0, 0.9), Need::Else("3 %"), "Chance that a visit is missed (D)."),
        key("late", share(0.0, 1.0), Need::Else("20 %"), "Chance that a visit comes late (D)."),
        key(
            "late-by",
            Shape::Quantity(Kind::Duration, 0.0, 60.0),
            Need::Else("3 days"),
            "How late a late one is, on average (D).",
        ),
        key(
            "rate-error",
            share(0.0, 1.0),
            Need::Else("10 %"),
            "Spread of the rate laid about the rate meant: calibration (D).",
        ),
        key(
            "unevenness",
            share(0.0, 1.0),
            Need::Else("20 %"),
            "Spread of the deposit over the lawn in one pass (D).",
        ),
    ]],
};

/// A program.
pub(super) static PROGRAM: Def = Def {
    name: "program",
    groups: &[&[
        key("id", Shape::Id, MUST, "Short name for files and the command line."),
        key("title", Shape::Text(80), MAY, "Label for pictures."),
        key("based-on", Shape::Text(40), MAY, "The program that this one changes in one thing."),
        key("practice", Shape::Later, MAY, "The practices of a program of its own."),
        key("change", Shape::Later, MAY, "The one change of a program that is based on another."),
    ]],
};

const COMMON: &[Key] = &[
    key("key", Shape::Id, MUST, "Name of the practice, unique in the program."),
    key("do", Shape::Choice(&DO), MUST, "What is done."),
    key("hold", Shape::Holds, MAY, "When a due practice waits."),
    key(
        "give-up",
        Shape::Days(0, 365),
        MAY,
        "How long a held practice waits before it is dropped for this time: a week for mowing \
         and watering, two weeks for the rest, where left out (D).",
    ),
];

/// What a practice may do.
pub(super) const DO: [&str; 5] = ["mow", "pre-emergent", "spread", "water", "topdress"];

const WHEN: &[Key] = &[
    grouped("when", key("on", Shape::Dates, MAY, "On these days of each year.")),
    grouped("when", key("every", Shape::Days(1, 365), MAY, "Every so many days from .. to ..")),
    grouped(
        "when",
        key(
            "soil-temperature",
            Shape::Quantity(Kind::Temperature, -5.0, 40.0),
            MAY,
            "Once a year, when the soil at 2 in has stood at this `for` some days, from .. to ..",
        ),
    ),
    grouped("when", key("for", Shape::Days(1, 60), MAY, "How long the soil must stand there.")),
    grouped(
        "when",
        key(
            "canopy-height",
            Shape::Quantity(Kind::Depth, 20.0, 400.0),
            MAY,
            "When the grass stands this high, from .. to ..",
        ),
    ),
    grouped(
        "when",
        key("days-after", Shape::Table(&DAYS_AFTER), MAY, "So long after another practice."),
    ),
    grouped(
        "when",
        key(
            "dry-soil",
            share(0.01, 0.99),
            MAY,
            "When the water that roots can reach is down to this share, from .. to ..",
        ),
    ),
    grouped("when", key("from", Shape::Day, MAY, "First day of the window.")),
    grouped("when", key("to", Shape::Day, MAY, "Last day of the window.")),
    grouped(
        "when",
        key(
            "at-least-apart",
            Shape::Days(1, 365),
            MAY,
            "Least time between two, with canopy-height (3 days) or dry-soil (2 days).",
        ),
    ),
];

static DAYS_AFTER: Def = Def {
    name: "days-after",
    groups: &[&[
        key("practice", Shape::Text(40), MUST, "Key of the other practice."),
        key("days", Shape::Days(0, 330), MUST, "How long after it."),
    ]],
};

const MOW: &[Key] = &[
    key("height", Shape::Quantity(Kind::Depth, 6.0, 200.0), MUST, "Height of cut."),
    key(
        "clippings",
        Shape::Choice(&["returned", "bagged"]),
        Need::Else("returned"),
        "Where the clippings go.",
    ),
];

const WATERED_IN: Key = key(
    "water-in",
    Shape::Quantity(Kind::Depth, 0.0, 50.0),
    Need::Else("0 in"),
    "Irrigation given right after; none means that rain must do it.",
);

const RATE: &[Kind] = &[Kind::ActiveRate, Kind::MassPerArea, Kind::VolumePerArea];

const PRE_EMERGENT: &[Key] = &[
    grouped("product", key("product", Shape::Text(80), MAY, "A product of the products file.")),
    grouped("product", key("active", Shape::Text(40), MAY, "An active ingredient, instead.")),
    grouped(
        "product",
        key(
            "carrier",
            Shape::Choice(&["spray", "granule"]),
            MAY,
            "With `active`: how it goes out.",
        ),
    ),
    grouped(
        "product",
        key(
            "strength",
            Shape::AnyOf(&[Kind::Share, Kind::Density]),
            MAY,
            "With `active`: its share by weight, or its weight per gallon.",
        ),
    ),
    key("rate", Shape::AnyOf(RATE), MUST, "Rate of product, or of active ingredient (ai)."),
    key(
        "split",
        Shape::Days(7, 180),
        MAY,
        "Half of the rate now and half so much later, instead of all at once.",
    ),
    WATERED_IN,
    key("price", Shape::Quantity(Kind::MoneyPerArea, 0.0, 10.0), MAY, "Price for the whole rate."),
    key("label", Shape::Table(&LABEL), MAY, "Figures from the label in your hand."),
];

static LABEL: Def = Def {
    name: "label",
    groups: &[&[
        key("once", Shape::AnyOf(RATE), MAY, "Most that the label allows at once."),
        key("year", Shape::AnyOf(RATE), MAY, "Most that the label allows in a year."),
        key("water-in", Shape::Quantity(Kind::Depth, 0.0, 50.0), MAY, "Water that it asks for."),
        key("within", Shape::Days(0, 60), MAY, "Days that it gives for the water."),
    ]],
};

const SPREAD: &[Key] = &[
    grouped("product", key("product", Shape::Text(80), MAY, "A product of the products file.")),
    grouped(
        "product",
        key("analysis", Shape::Text(40), MAY, "N-P-K such as \"24-0-11\", instead."),
    ),
    grouped("product", key("slow", share(0.0, 1.0), MAY, "Share of the nitrogen that is slow.")),
    grouped(
        "product",
        key("slow-form", Shape::Choice(&["coated", "organic"]), MAY, "What the slow part is."),
    ),
    grouped(
        "product",
        key("slow-lasts", Shape::Days(7, 365), MAY, "Rated release time of the coated part."),
    ),
    grouped(
        "product",
        key(
            "quick-form",
            Shape::Choice(&["urea", "ammonium", "nitrate"]),
            MAY,
            "What the quick part is (urea where left out).",
        ),
    ),
    grouped(
        "product",
        key("density", Shape::Quantity(Kind::Density, 0.8, 2.0), MAY, "Weight of a liquid."),
    ),
    grouped(
        "amount",
        key(
            "nitrogen",
            Shape::Quantity(Kind::NitrogenRate, 0.01, 30.0),
            MAY,
            "Nitrogen laid each time.",
        ),
    ),
    grouped(
        "amount",
        key(
            "rate",
            Shape::AnyOf(&[Kind::MassPerArea, Kind::VolumePerArea]),
            MAY,
            "Product laid each time, instead.",
        ),
    ),
    WATERED_IN,
    key(
        "price",
        Shape::AnyOf(&[Kind::MoneyPerArea, Kind::MoneyPerNitrogen]),
        MAY,
        "Price by area or by nitrogen.",
    ),
];

const WATER: &[Key] = &[key(
    "depth",
    Shape::Quantity(Kind::Depth, 0.5, 75.0),
    MUST,
    "Water put on the ground each time.",
)];

const TOPDRESS: &[Key] = &[
    key("depth", Shape::Quantity(Kind::Depth, 0.5, 50.0), MUST, "Depth of compost."),
    key(
        "price",
        Shape::Quantity(Kind::MoneyPerVolume, 0.0, 1000.0),
        Need::Else("30 $/yd3"),
        "Price of compost (B: one utility's screened compost; range 20-50).",
    ),
];

const CHANGE: &[Key] = &[key("practice", Shape::Text(40), MUST, "Key of the practice to change.")];

/// Keys that no change may touch: a renamed practice is another practice.
const KEPT: &[Key] = &[
    key("hold", Shape::Holds, MAY, "When a due practice waits."),
    key("give-up", Shape::Days(0, 365), MAY, "How long a held practice waits."),
];

static PRACTICES: [Def; 5] = [
    Def { name: "program.practice", groups: &[COMMON, WHEN, MOW] },
    Def { name: "program.practice", groups: &[COMMON, WHEN, PRE_EMERGENT] },
    Def { name: "program.practice", groups: &[COMMON, WHEN, SPREAD] },
    Def { name: "program.practice", groups: &[COMMON, WHEN, WATER] },
    Def { name: "program.practice", groups: &[COMMON, WHEN, TOPDRESS] },
];

static CHANGES: [Def; 5] = [
    Def { name: "program.change", groups: &[CHANGE, KEPT, WHEN, MOW] },
    Def { name: "program.change", groups: &[CHANGE, KEPT, WHEN, PRE_EMERGENT] },
    Def { name: "program.change", groups: &[CHANGE, KEPT, WHEN, SPREAD] },
    Def { name: "program.change", groups: &[CHANGE, KEPT, WHEN, WATER] },
    Def { name: "program.change", groups: &[CHANGE, KEPT, WHEN, TOPDRESS] },
];

/// A practice whose `do` is missing or misspelt: only what all share is checked.
pub(super) static ANY_PRACTICE: Def = Def { name: "program.practice", groups: &[COMMON, WHEN] };

fn index(what: &str) -> Option<usize> {
    DO.iter().position(|word| *word == what)
}

/// The keys of a practice that does `what`.
pub(super) fn practice(what: &str) -> Option<&'static Def> {
    index(what).map(|i| &PRACTICES[i])
}

/// The keys of a change to a practice that does `what`.
pub(super) fn change(what: &str) -> Option<&'static Def> {
    index(what).map(|i| &CHANGES[i])
}

/// The reference page of the language, in Markdown: every table, key, default and meaning.
pub fn reference() -> String {
    let mut page = String::from("# The keys of a scenario\n");
    let tables = [&ROOT, &LAWN, &SOIL, &GRASS, &SEEN, &WEATHER, &RUN, &CREW, &SLIPS, &PROGRAM];
    for def in tables {
        section(&mut page, &format!("[{}]", def.name), def.keys());
    }
    section(&mut page, "every practice", COMMON.iter());
    section(&mut page, "when a practice happens", WHEN.iter());
    section(&mut page, "days-after", DAYS_AFTER.keys());
    for (word, keys) in DO.iter().zip([MOW, PRE_EMERGENT, SPREAD, WATER, TOPDRESS]) {
        section(&mut page, &format!("do = \"{word}\""), keys.iter());
    }
    section(&mut page, "label", LABEL.keys());
    page
}

fn section(page: &mut String, title: &str, keys: impl Iterator<Item = &'static Key>) {
    page.push_str(&format!(
        "\n## {title}\n\n| key | holds | left out | meaning |\n|---|---|---|---|\n"
    ));
    for key in keys {
        let need = match key.need {
            Need::Must => "must be there".to_string(),
            Need::May => "may be".to_string(),
            Need::Else("") => "empty".to_string(),
            Need::Else(text) => format!("`{text}`"),
        };
        let holds = key.shape.expected().replace('|', "/");
        page.push_str(&format!("| `{}` | {holds} | {need} | {} |\n", key.name, key.doc));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reference_names_every_key() {
        let page = reference();
        for def in PRACTICES.iter().chain([&ROOT, &LAWN, &SOIL, &CREW, &SLIPS, &LABEL]) {
            for key in def.keys() {
                assert!(page.contains(&format!("| `{}` |", key.name)), "{}", key.name);
            }
        }
    }

    #[test]
    fn no_table_has_a_key_twice() {
        for def in PRACTICES.iter().chain(&CHANGES).chain([&ROOT, &LAWN, &SOIL, &CREW]) {
            let mut names: Vec<_> = def.keys().map(|k| k.name).collect();
            let all = names.len();
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), all, "{}", def.name);
        }
    }
}
