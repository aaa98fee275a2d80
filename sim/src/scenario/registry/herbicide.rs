//! Keys that barriers and sprays share: the product, its price and the figures of its label.

use super::super::key::{Def, Key, MAY, Shape, grouped, key};
use crate::quantity::Kind;

pub(super) const RATE: &[Kind] = &[Kind::ActiveRate, Kind::MassPerArea, Kind::VolumePerArea];

pub(super) const PRODUCT: Key =
    grouped("product", key("product", Shape::Text(80), MAY, "A product of the products file."));

pub(super) const ACTIVE: Key =
    grouped("product", key("active", Shape::Text(60), MAY, "An active ingredient, instead."));

pub(super) const STRENGTH: Key = grouped(
    "product",
    key(
        "strength",
        Shape::AnyOf(&[Kind::Share, Kind::Density]),
        MAY,
        "With `active`: its share by weight, or its weight per gallon.",
    ),
);

pub(super) const PRICE: Key = grouped(
    "product",
    key(
        "price",
        Shape::Quantity(Kind::MoneyPerArea, 0.0, 10.0),
        MAY,
        "Price for the whole rate, on the ground that gets it.",
    ),
);

/// The table of label figures.
pub(super) const fn label(figures: &'static Def) -> Key {
    grouped(
        "product",
        key(
            "label",
            Shape::Table(figures),
            MAY,
            "Figures from the label in your hand: the stricter of each and the typical one is held to.",
        ),
    )
}

/// What every herbicide's label limits.
pub(super) const LABEL: &[Key] = &[
    key("once", Shape::AnyOf(RATE), MAY, "Most that the label allows at once."),
    key("year", Shape::AnyOf(RATE), MAY, "Most that the label allows in a year."),
    key("times", Shape::Whole(1, 20), MAY, "Most applications that it allows in a year."),
    key("again", Shape::Days(1, 365), MAY, "Least time that it asks for between two."),
    key("reseed", Shape::Days(0, 730), MAY, "Wait that it asks for before seed is sown."),
    key("after-seeding", Shape::Days(0, 730), MAY, "Wait that it asks for after seed was sown."),
];

/// What a barrier's label asks for besides.
pub(super) const BARRIER_LABEL: &[Key] = &[
    key("water-in", Shape::Quantity(Kind::Depth, 0.0, 50.0), MAY, "Water that it asks for."),
    key("within", Shape::Days(0, 60), MAY, "Days that it gives for the water."),
];
