//! Keys of other work on the ground and the turf.

use super::super::key::{Key, MAY, MUST, Need, Shape, grouped, key, share};
use super::super::tend::GLYPHOSATE;
use super::practice::{SEED, WATERED_IN};
use crate::quantity::Kind;

/// Work that takes so long where the practice does not say.
const fn takes(usual: &'static str, doc: &'static str) -> Key {
    key("takes", Shape::Quantity(Kind::MinutesPerArea, 0.0, 2000.0), Need::Else(usual), doc)
}

/// What it costs besides the crew's time, where the practice does not say.
const fn price(usual: &'static str, doc: &'static str) -> Key {
    key("price", Shape::Quantity(Kind::MoneyPerArea, 0.0, 100.0), Need::Else(usual), doc)
}

/// Making a lawn anew is not a thing of every year.
const TIMES: Key = key(
    "times",
    Shape::Choice(&["once", "every year"]),
    Need::Else("once"),
    "Once, in the first season in which it comes about, or every year.",
);

pub(super) const CORE: &[Key] = &[
    key(
        "depth",
        Shape::Quantity(Kind::Depth, 10.0, 200.0),
        Need::Else("2.5 in"),
        "Depth of the holes that hollow tines leave (C).",
    ),
    key(
        "opened",
        share(0.002, 0.3),
        Need::Else("5 %"),
        "Share of the surface that the holes take, all passes together: half-inch tines on two-inch \
         squares take 5 %.",
    ),
    takes("7 min/1000 ft2", "Work: two passes with a 19 in machine, turning included (C)."),
    price("0 $/1000 ft2", "Hire of the machine; nothing where left out."),
];

pub(super) const SCARIFY: &[Key] = &[
    key(
        "depth",
        Shape::Quantity(Kind::Depth, 1.0, 30.0),
        MUST,
        "How deep the knives go below the top of the thatch: 3 mm combs, 10 mm cuts into the soil.",
    ),
    takes("14 min/1000 ft2", "Work: one pass and the raking up and carting off (D)."),
    price("0 $/1000 ft2", "Hire of the machine; nothing where left out."),
];

pub(super) const KILL: &[Key] = &[
    grouped(
        "product",
        key(
            "rate",
            Shape::Quantity(Kind::ActiveRate, 0.05, 10.0),
            Need::Else("1.5 lb ai/ac"),
            "Glyphosate as acid equivalent, written with ai. It kills what is green, grass and weeds \
             alike, and leaves seed in the ground alone (C).",
        ),
    ),
    grouped(
        "product",
        key(
            "strength",
            Shape::Quantity(Kind::Density, 0.01, 1.0),
            Need::Else(GLYPHOSATE),
            "Acid equivalent in the jug, as its label has it: most hold 3 lb/gal, some 4.5 or 5.5 (from \
             memory).",
        ),
    ),
    takes("4 min/1000 ft2", "Work: a backpack sprayer (D)."),
    grouped("product", price("1 $/1000 ft2", "Price for the whole rate (D).")),
    TIMES,
];

pub(super) const TOPSOIL: &[Key] = &[
    key("depth", Shape::Quantity(Kind::Depth, 1.0, 150.0), MUST, "Depth of topsoil, raked level."),
    key(
        "takes",
        Shape::Quantity(Kind::MinutesPerLayer, 0.0, 100.0),
        Need::Else("228 min/1000 ft2/in"),
        "Work by depth, from a wheelbarrow, as for compost (D).",
    ),
    key(
        "price",
        Shape::Quantity(Kind::MoneyPerVolume, 0.0, 1000.0),
        Need::Else("40 $/yd3"),
        "Price of screened topsoil (D: 25-55 from memory, delivery apart).",
    ),
    TIMES,
];

pub(super) const SOD: &[Key] = &[
    key(
        "grass",
        Shape::Tables(&SEED),
        MUST,
        "One or two grasses, also ones that the lawn has not.",
    ),
    takes("150 min/1000 ft2", "Work: carrying, laying, rolling; ground made ready apart (D)."),
    price("450 $/1000 ft2", "Price of sod (C: 300-550 for bluegrass, general web pages)."),
    WATERED_IN,
    TIMES,
];

pub(super) const IRON: &[Key] = &[
    grouped(
        "product",
        key(
            "rate",
            Shape::Quantity(Kind::MassPerArea, 0.01, 20.0),
            Need::Else("3 oz/1000 ft2"),
            "Product each time: ferrous sulfate 2-4 oz/1000 ft2 (B: University of Arizona).",
        ),
    ),
    grouped(
        "product",
        key(
            "strength",
            share(0.01, 0.4),
            Need::Else("20 %"),
            "Iron in the product by weight: 20 % in ferrous sulfate with seven waters.",
        ),
    ),
    takes("4 min/1000 ft2", "Work: a backpack sprayer (D)."),
    grouped("product", price("0.5 $/1000 ft2", "Price for the whole rate (D).")),
];

pub(super) const LIME: &[Key] = &[
    grouped(
        "product",
        key(
            "rate",
            Shape::Quantity(Kind::MassPerArea, 5.0, 1500.0),
            MUST,
            "Lime as bought, each time: 20 to 50 lb/1000 ft2 are usual.",
        ),
    ),
    grouped(
        "product",
        key(
            "kind",
            Shape::Choice(&["calcitic", "dolomitic"]),
            Need::Else("calcitic"),
            "Ground limestone, loose or in pellets; dolomitic brings magnesium too, which the lawn here \
             does not feel.",
        ),
    ),
    grouped(
        "product",
        key(
            "neutralizing-value",
            share(0.2, 1.8),
            MAY,
            "Calcium carbonate equivalent (CCE) on the bag; effective CCE where it is there, as it \
             counts fineness. 90 % calcitic, 95 % dolomitic where left out (D).",
        ),
    ),
    takes("2 min/1000 ft2", "Work: a spreader that is filled often (D)."),
    grouped(
        "product",
        key(
            "price",
            Shape::Quantity(Kind::MoneyPerWeight, 0.0, 20.0),
            Need::Else("0.14 $/lb"),
            "Price of it (D: a 40 lb bag of pellets 4-7 $, from memory).",
        ),
    ),
    key(
        "times",
        Shape::Choice(&["once", "every year"]),
        Need::Else("every year"),
        "Once, in the first season in which it comes about, or every year.",
    ),
];

pub(super) const BIOSTIMULANT: &[Key] = &[
    key("kind", Shape::Choice(&["humic", "seaweed", "microbial"]), MUST, "What it is."),
    key(
        "root-growth",
        share(0.0, 0.5),
        Need::Else("0 %"),
        "More root growth than without, fading over the weeks, if you want to see what a claim would be \
         worth. The evidence from lawns is thin, so nothing where left out.",
    ),
    takes("4 min/1000 ft2", "Work: a backpack sprayer (D)."),
    price("3 $/1000 ft2", "Price for the whole rate (D)."),
];

pub(super) const REFERENCE_STRIP: &[Key] = &[
    takes("0.5 min/1000 ft2", "Work: a hand spreader on a strip a few feet wide (D)."),
    price("0.05 $/1000 ft2", "Fertilizer for the strip (D)."),
];
