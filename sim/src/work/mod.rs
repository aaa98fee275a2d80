//! The vocabulary that crew and lawn share: what is seen, what is done, what it took.

mod setback;
mod tending;
mod weeds;

pub use setback::{Fate, Setback, Why};
pub use tending::{Stimulant, Tending};
pub use weeds::{Sought, Stand, Weed};

use serde::{Deserialize, Serialize};

use crate::calendar::Day;
use crate::scenario::Grass;

/// What happens to clippings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Clippings {
    /// Left on the lawn.
    Return,
    /// Bagged and taken away.
    Collect,
}

/// How a material travels to the lawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Carrier {
    /// Sprayed in water: much stays on leaves until watered in.
    Spray,
    /// Dry granules: most fall through to the soil.
    Granule,
}

/// How grass seed is brought to the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Sowing {
    /// Thrown on top and left.
    Broadcast,
    /// Thrown on top, then raked in or topdressed.
    Raked,
    /// Drilled into slits, or thrown after coring or scarifying.
    Slit,
}

/// Seed of one grass or two that goes out in one pass, as it comes out of the bag.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SeedMix {
    kinds: [(Grass, f64); 2],
}

impl SeedMix {
    /// Seed of one grass, g/m2.
    pub fn one(grass: Grass, seed_g_m2: f64) -> SeedMix {
        SeedMix { kinds: [(grass, seed_g_m2), (grass, 0.0)] }
    }

    /// Seed of two grasses, g/m2 each.
    pub fn two(first: (Grass, f64), second: (Grass, f64)) -> SeedMix {
        SeedMix { kinds: [first, second] }
    }

    /// What is in it, g/m2 each.
    pub fn kinds(&self) -> impl Iterator<Item = (Grass, f64)> {
        self.kinds.into_iter().filter(|(_, seed_g_m2)| *seed_g_m2 > 0.0)
    }

    /// All of it, g/m2.
    pub fn total_g_m2(&self) -> f64 {
        self.kinds().map(|(_, seed_g_m2)| seed_g_m2).sum()
    }

    /// Every part times `factor`.
    pub fn scaled(&self, factor: f64) -> SeedMix {
        SeedMix { kinds: self.kinds.map(|(grass, seed_g_m2)| (grass, seed_g_m2 * factor)) }
    }
}

/// Index of a pre-emergent active ingredient in [`crate::parameters::ACTIVES`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct ActiveId(pub u8);

/// Index of a post-emergent herbicide in [`crate::parameters::POSTS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PostId(pub u8);

/// What of the lawn a spray on standing weeds reaches.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Reach {
    /// All of it.
    Blanket,
    /// Only where the crew sees weeds.
    Spots {
        /// Share of the weeds' ground that the crew finds, 0..=1.
        found: f64,
    },
}

/// Nitrogen by form, g N/m2 each.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct NitrogenForms {
    /// Urea, quick.
    pub urea_g_m2: f64,
    /// Ammonium, quick.
    pub ammonium_g_m2: f64,
    /// Nitrate, quick.
    pub nitrate_g_m2: f64,
    /// Coated or reacted urea that comes out over weeks.
    pub coated_g_m2: f64,
    /// Rated release time of the coated part at 21 C, days (0 where there is none).
    pub coated_days: f64,
    /// Natural organic nitrogen.
    pub organic_g_m2: f64,
    /// Coefficient of variation of the deposit over the area, 0..=1: strips laid over and missed.
    pub unevenness: f64,
    /// Whether it is sprayed, so that leaves catch part of what is quick.
    pub on_leaf: bool,
    /// Phosphate (P2O5) that comes with it, g/m2.
    pub phosphate_g_m2: f64,
}

impl NitrogenForms {
    /// All nitrogen, g N/m2.
    pub fn total_g_m2(&self) -> f64 {
        self.urea_g_m2
            + self.ammonium_g_m2
            + self.nitrate_g_m2
            + self.coated_g_m2
            + self.organic_g_m2
    }

    /// Quick nitrogen, which rules call water-soluble or readily available, g N/m2.
    pub fn quick_g_m2(&self) -> f64 {
        self.urea_g_m2 + self.ammonium_g_m2 + self.nitrate_g_m2
    }

    /// Every form times `factor`; the release time is kept.
    pub fn scaled(&self, factor: f64) -> NitrogenForms {
        NitrogenForms {
            urea_g_m2: self.urea_g_m2 * factor,
            ammonium_g_m2: self.ammonium_g_m2 * factor,
            nitrate_g_m2: self.nitrate_g_m2 * factor,
            coated_g_m2: self.coated_g_m2 * factor,
            coated_days: self.coated_days,
            organic_g_m2: self.organic_g_m2 * factor,
            unevenness: self.unevenness,
            on_leaf: self.on_leaf,
            phosphate_g_m2: self.phosphate_g_m2 * factor,
        }
    }
}

/// One concrete doing with its amount, as the lawn feels it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Act {
    /// Mow to a height.
    Cut {
        /// Bench height of the deck, mm.
        height_mm: f64,
        /// Where the clippings go.
        clippings: Clippings,
    },
    /// Lay a pre-emergent barrier.
    LayBarrier {
        /// Which active ingredient.
        active: ActiveId,
        /// Mean deposit, kg ai/ha.
        rate_kg_ha: f64,
        /// Sprayed or granular.
        carrier: Carrier,
        /// Coefficient of variation of the deposit over the area in this pass, 0..=1.
        unevenness: f64,
    },
    /// Spread nitrogen.
    LayNitrogen(NitrogenForms),
    /// Irrigate: water that reaches the ground, mm.
    Wet {
        /// Depth, mm.
        water_mm: f64,
    },
    /// Topdress with compost.
    LayCompost {
        /// Depth of the layer, mm.
        depth_mm: f64,
    },
    /// Spray weeds that are up.
    Spray {
        /// With what.
        post: PostId,
        /// Rate on the ground that is sprayed, kg ai/ha.
        rate_kg_ha: f64,
        /// All of the lawn, or spots.
        reach: Reach,
    },
    /// Sow turfgrass.
    SowGrass {
        /// Which and how much; a grass that the lawn does not list comes to nothing.
        seed: SeedMix,
        /// Purity times germination, 0..=1.
        pure_live_seed: f64,
        /// How it is brought to the ground.
        method: Sowing,
    },
    /// Any other work on the ground or the turf.
    Tend(Tending),
}

/// What a crew could know in the morning: last evening's lawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Signs {
    /// Height of the canopy, mm.
    pub canopy_height_mm: f64,
    /// Live green cover, 0..=1.
    pub green_cover: f64,
    /// Plant-available water in the root zone, share of capacity, 0..=1.
    pub soil_water: f64,
    /// Mean of the last evening's 5 cm soil temperature, degrees C.
    pub soil_5cm_c: f64,
    /// Whether the ground was frozen or under snow.
    pub frozen_or_snow: bool,
    /// Rain of the day before, mm.
    pub rain_yesterday_mm: f64,
    /// Highest temperature of the day before, degrees C.
    pub t_max_yesterday_c: f64,
    /// Mean of the lowest and the highest temperature of the day before, degrees C.
    pub t_mean_yesterday_c: f64,
    /// Mean wind at 2 m of the day before, m/s (0 on the first morning).
    pub wind_yesterday_m_s: f64,
    /// Colour that a richly fed strip shows beyond the lawn's, points of the scale from 1 to 9.
    pub colour_short: f64,
    /// Whether most of the turf is brown from drought.
    pub dormant: bool,
    /// Ground that crabgrass covers, 0..=1.
    pub crabgrass: f64,
    /// Ground that dandelion and clover cover, 0..=1.
    pub broadleaf: f64,
    /// Ground that yellow nutsedge covers, 0..=1.
    pub nutsedge: f64,
}

/// One line of the work log: an act with what it took.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct WorkEntry {
    /// When it was done.
    pub day: Day,
    /// Index of the practice in its program.
    pub practice: u16,
    /// What was done.
    pub act: Act,
    /// Labour, minutes of one person (travel of the visit included with the visit's first act).
    pub minutes: f64,
    /// Labour, product and water, in the scenario's currency.
    pub cost: f64,
    /// Share of the lawn that it was done on, 0..=1.
    pub ground: f64,
}
