//! Keys of a practice and of a change to one.

use super::super::key::{Def, Key, MAY, MUST, Need, Shape, grouped, key, share};
use super::herbicide::{ACTIVE, BARRIER_LABEL, LABEL, PRICE, PRODUCT, RATE, STRENGTH, label};
use super::spray::{AGAINST, SPRAY, SPRAY_LABEL};
use super::tend::{BIOSTIMULANT, CORE, IRON, KILL, LIME, REFERENCE_STRIP, SCARIFY, SOD, TOPSOIL};
use crate::quantity::Kind;

const COMMON: &[Key] = &[
    key("key", Shape::Id, MUST, "Name of the practice, unique in the program."),
    key("do", Shape::Choice(DO), MUST, "What is done."),
    key("hold", Shape::Holds, MAY, "When a due practice waits."),
    key(
        "give-up",
        Shape::Days(0, 365),
        MAY,
        "How long a held practice waits before it is dropped for this time: a week for mowing \
         and watering, two weeks for the rest, where left out (D).",
    ),
    key(
        "by",
        Shape::Choice(&["crew", "client"]),
        MAY,
        "Whose hands do it. The client's need no visit and no visit day, and cost no crew time. \
         The crew's where left out, but for watering, which is no visit unless this says crew.",
    ),
];

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
    grouped(
        "when",
        key(
            "for",
            Shape::Days(1, 60),
            MAY,
            "How long the soil must stand there: 3 days where left out (D).",
        ),
    ),
    grouped(
        "when",
        key(
            "degree-days",
            Shape::Quantity(Kind::DegreeDays, 1.0, 4000.0),
            MAY,
            "Once a year, when the air's degree-days above `base` since `from` come to this, until \
             `to`: what the mean of each day's low and high has above the base, added up.",
        ),
    ),
    grouped(
        "when",
        key(
            "base",
            Shape::Quantity(Kind::Temperature, -5.0, 25.0),
            MAY,
            "With degree-days: what is counted from; 50 degF where left out (C).",
        ),
    ),
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
    grouped(
        "when",
        key(
            "crabgrass-cover",
            share(0.001, 0.99),
            MAY,
            "When crabgrass covers this share of the lawn, as seen last evening, from .. to ..",
        ),
    ),
    grouped(
        "when",
        key(
            "broadleaf-cover",
            share(0.001, 0.99),
            MAY,
            "When dandelion and clover together cover this share, from .. to ..",
        ),
    ),
    grouped(
        "when",
        key(
            "nutsedge-cover",
            share(0.001, 0.99),
            MAY,
            "When nutsedge covers this share, from .. to ..",
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
            "Least time between two, with canopy-height (3 days), dry-soil (2 days) or a cover of weeds \
             (21 days).",
        ),
    ),
];

const DAYS_AFTER_KEYS: &[Key] = &[
    key("practice", Shape::Text(40), MUST, "Key of the other practice."),
    key("days", Shape::Days(0, 330), MUST, "How long after it."),
];

static DAYS_AFTER: Def = Def { name: "days-after", groups: &[DAYS_AFTER_KEYS] };

const MOW: &[Key] = &[
    key("height", Shape::Quantity(Kind::Depth, 6.0, 200.0), MUST, "Height of cut."),
    key(
        "clippings",
        Shape::Choice(&["returned", "bagged"]),
        Need::Else("returned"),
        "Where the clippings go.",
    ),
];

pub(super) const WATERED_IN: Key = key(
    "water-in",
    Shape::Quantity(Kind::Depth, 0.0, 50.0),
    Need::Else("0 in"),
    "Irrigation given right after; none means that rain must do it.",
);

const PRE_EMERGENT: &[Key] = &[
    PRODUCT,
    ACTIVE,
    grouped(
        "product",
        key(
            "carrier",
            Shape::Choice(&["spray", "granule"]),
            MAY,
            "With `active`: how it goes out.",
        ),
    ),
    STRENGTH,
    grouped(
        "product",
        key("rate", Shape::AnyOf(RATE), MUST, "Rate of product, or of active ingredient (ai)."),
    ),
    key(
        "split",
        Shape::Days(7, 180),
        MAY,
        "Half of the rate now and half so much later, instead of all at once.",
    ),
    WATERED_IN,
    AGAINST,
    PRICE,
    label(&BARRIER_FIGURES),
];

static BARRIER_FIGURES: Def = Def { name: "label", groups: &[LABEL, BARRIER_LABEL] };

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
        key(
            "slow-lasts",
            Shape::UncertainDays(7, 365),
            MAY,
            "Rated release time of the coated part. A practice of the same key draws the same luck \
             in every program.",
        ),
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
    grouped(
        "product",
        key(
            "price",
            Shape::AnyOf(&[Kind::MoneyPerArea, Kind::MoneyPerNitrogen]),
            MAY,
            "Price by area or by nitrogen.",
        ),
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

const SEED_KEYS: &[Key] = &[
    key("kind", Shape::Text(40), MUST, "The grass, also one that the lawn does not have yet."),
    key("share", share(0.01, 1.0), Need::Else("100 %"), "Its share of the seed, by weight."),
];

pub(super) static SEED: Def = Def { name: "program.practice.seed", groups: &[SEED_KEYS] };

const OVERSEED: &[Key] = &[
    grouped("product", key("seed", Shape::Tables(&SEED), MUST, "One or two grasses.")),
    grouped(
        "product",
        key(
            "rate",
            Shape::Quantity(Kind::MassPerArea, 0.1, 500.0),
            MUST,
            "Seed by weight, of all grasses together.",
        ),
    ),
    grouped(
        "product",
        key(
            "pure-live-seed",
            share(0.05, 1.0),
            Need::Else("81 %"),
            "Purity times germination, as the bag's tag has them (B: Cornell, 95 % by 85 %).",
        ),
    ),
    key(
        "method",
        Shape::Choice(&["broadcast", "raked", "slit"]),
        Need::Else("broadcast"),
        "Thrown on top and left; thrown and raked in; drilled into slits, or thrown after coring, \
         which opens a little of the turf.",
    ),
    WATERED_IN,
    grouped(
        "product",
        key(
            "price",
            Shape::AnyOf(&[Kind::MoneyPerWeight, Kind::MoneyPerArea]),
            MAY,
            "Price by weight of seed or by area; from the products file where left out (C).",
        ),
    ),
];

const CHANGE: &[Key] = &[key("practice", Shape::Text(40), MUST, "Key of the practice to change.")];

/// The forms of a change, for the reference page and the schema; [`super::super::change`] reads them.
pub(super) const CHANGE_FORMS: &[Key] = &[
    key(
        "practice",
        Shape::Text(40),
        MAY,
        "Key of the practice to change, with the keys of one choice: another `every`, another \
         `product` at its `rate`, `hold = []`.",
    ),
    key(
        "without",
        Shape::Text(40),
        MAY,
        "With `practice`: the key that is taken out, such as \"split\".",
    ),
    key("add", Shape::Later, MAY, "Instead: a practice more, a table [program.change.add]."),
    key("drop", Shape::Text(40), MAY, "Instead: the key of a practice to leave out."),
];

/// Keys that no change may touch: a renamed practice is another practice.
const KEPT: &[Key] = &[
    key("hold", Shape::Holds, MAY, "When a due practice waits."),
    key("give-up", Shape::Days(0, 365), MAY, "How long a held practice waits."),
    key("by", Shape::Choice(&["crew", "client"]), MAY, "Whose hands do it."),
];

/// What a practice may do, with the keys of each.
macro_rules! doings {
    ($($word:literal: $keys:ident,)*) => {
        /// What a practice may do.
        pub(super) const DO: &[&str] = &[$($word),*];

        /// Keys of what a practice does, in the order of [`DO`].
        pub(super) const ROWS: &[&[Key]] = &[$($keys),*];

        /// All keys of a practice, in the order of [`DO`].
        pub(super) static PRACTICES: &[Def] =
            &[$(Def { name: "program.practice", groups: &[COMMON, WHEN, $keys] }),*];

        /// All keys of a change to a practice, in the order of [`DO`].
        pub(super) static CHANGES: &[Def] =
            &[$(Def { name: "program.change", groups: &[CHANGE, KEPT, WHEN, $keys] }),*];
    };
}

doings! {
    "mow": MOW,
    "pre-emergent": PRE_EMERGENT,
    "spread": SPREAD,
    "water": WATER,
    "topdress": TOPDRESS,
    "overseed": OVERSEED,
    "spray": SPRAY,
    "core": CORE,
    "scarify": SCARIFY,
    "kill": KILL,
    "topsoil": TOPSOIL,
    "sod": SOD,
    "iron": IRON,
    "biostimulant": BIOSTIMULANT,
    "reference-strip": REFERENCE_STRIP,
    "lime": LIME,
}

/// A practice whose `do` is missing or misspelt: only what all share is checked.
pub(in crate::scenario) static ANY_PRACTICE: Def =
    Def { name: "program.practice", groups: &[COMMON, WHEN] };

fn index(what: &str) -> Option<usize> {
    DO.iter().position(|word| *word == what)
}

/// The keys of a practice that does `what`.
pub(in crate::scenario) fn practice(what: &str) -> Option<&'static Def> {
    index(what).map(|i| &PRACTICES[i])
}

/// The keys of a change to a practice that does `what`.
pub(in crate::scenario) fn change(what: &str) -> Option<&'static Def> {
    index(what).map(|i| &CHANGES[i])
}

/// Keys that practices share, with a title each.
pub(super) const SHARED: [(&str, &[Key]); 8] = [
    ("every practice", COMMON),
    ("when a practice happens", WHEN),
    ("days-after", DAYS_AFTER_KEYS),
    ("label", LABEL),
    ("label of a barrier", BARRIER_LABEL),
    ("label of a spray", SPRAY_LABEL),
    ("seed", SEED_KEYS),
    ("[program.change]", CHANGE_FORMS),
];
