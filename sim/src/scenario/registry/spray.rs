//! Keys of a spray on weeds that are up.

use super::super::key::{Def, Key, MAY, MUST, Need, Shape, grouped, key};
use super::practice::RATE;
use crate::quantity::Kind;

/// What a practice is meant for; what it does hangs on the product alone.
pub(super) const AGAINST: Key = key(
    "against",
    Shape::Texts(40),
    MAY,
    "Weeds that it is meant for, of \"crabgrass\", \"dandelion\", \"clover\" and \"nutsedge\": the \
     check says where the product does not control one. A spray is for all that its product controls \
     where this is left out.",
);

pub(super) const SPRAY: &[Key] = &[
    grouped("product", key("product", Shape::Text(80), MAY, "A product of the products file.")),
    grouped("product", key("active", Shape::Text(60), MAY, "An active ingredient, instead.")),
    grouped(
        "product",
        key(
            "strength",
            Shape::AnyOf(&[Kind::Share, Kind::Density]),
            MAY,
            "With `active`: its share by weight, or its weight per gallon.",
        ),
    ),
    grouped(
        "product",
        key(
            "rate",
            Shape::AnyOf(RATE),
            MUST,
            "Rate of product, or of active ingredient (ai), on the ground that is sprayed; of a \
             mixture that of its 2,4-D.",
        ),
    ),
    key(
        "where",
        Shape::Choice(&["blanket", "spots"]),
        Need::Else("blanket"),
        "All of the lawn, or only where the crew finds weeds: product, minutes and money go with the \
         ground, and all of the lawn is walked.",
    ),
    AGAINST,
    key(
        "volume",
        Shape::Quantity(Kind::VolumePerArea, 5.0, 1500.0),
        Need::Else("1 gal/1000 ft2"),
        "Water and product together, on the ground that is sprayed (C); nothing but the check reads it.",
    ),
    grouped(
        "product",
        key(
            "price",
            Shape::Quantity(Kind::MoneyPerArea, 0.0, 10.0),
            MAY,
            "Price for the whole rate on the ground that is sprayed.",
        ),
    ),
    grouped(
        "product",
        key("label", Shape::Table(&SPRAY_LABEL), MAY, "Figures from the label in your hand."),
    ),
];

pub(super) const SPRAY_LABEL_KEYS: &[Key] = &[
    key("once", Shape::AnyOf(RATE), MAY, "Most that the label allows at once."),
    key("year", Shape::AnyOf(RATE), MAY, "Most that the label allows in a year."),
    key("times", Shape::Whole(1, 20), MAY, "Most applications that it allows in a year."),
    key("again", Shape::Days(1, 365), MAY, "Least time that it asks for between two."),
    key(
        "rain-free",
        Shape::Quantity(Kind::Duration, 0.0, 7.0),
        MAY,
        "Dry time that it asks for after the spray, such as \"6 h\".",
    ),
    key("mow-before", Shape::Days(0, 30), MAY, "Wait that it asks for from a mowing to the spray."),
    key("mow-after", Shape::Days(0, 30), MAY, "Wait that it asks for from the spray to a mowing."),
    key(
        "coolest",
        Shape::Quantity(Kind::Temperature, -5.0, 40.0),
        MAY,
        "Lowest temperature of the air that it allows.",
    ),
    key(
        "hottest",
        Shape::Quantity(Kind::Temperature, 10.0, 50.0),
        MAY,
        "Highest temperature of the air that it allows.",
    ),
    key("reseed", Shape::Days(0, 730), MAY, "Wait that it asks for before seed is sown."),
    key("after-seeding", Shape::Days(0, 730), MAY, "Wait that it asks for after seed was sown."),
];

static SPRAY_LABEL: Def = Def { name: "spray-label", groups: &[SPRAY_LABEL_KEYS] };
