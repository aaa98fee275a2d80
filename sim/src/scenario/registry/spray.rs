//! Keys of a spray on weeds that are up.

use super::super::key::{Def, Key, MAY, MUST, Need, Shape, grouped, key};
use super::herbicide::{ACTIVE, LABEL, PRICE, PRODUCT, RATE, STRENGTH, label};
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
    PRODUCT,
    ACTIVE,
    STRENGTH,
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
    PRICE,
    label(&SPRAY_FIGURES),
];

static SPRAY_FIGURES: Def = Def { name: "spray-label", groups: &[LABEL, SPRAY_LABEL] };

/// What a spray's label limits besides.
pub(super) const SPRAY_LABEL: &[Key] = &[
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
];
