//! Keys of other work on the ground and the turf.

use super::super::key::{Key, MUST, Need, Shape, key, share};
use crate::quantity::Kind;

/// Work that takes so long where the practice does not say.
const fn takes(usual: &'static str, doc: &'static str) -> Key {
    key("takes", Shape::Quantity(Kind::MinutesPerArea, 0.0, 2000.0), Need::Else(usual), doc)
}

/// What it costs besides the crew's time, where the practice does not say.
const fn price(usual: &'static str, doc: &'static str) -> Key {
    key("price", Shape::Quantity(Kind::MoneyPerArea, 0.0, 100.0), Need::Else(usual), doc)
}

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
