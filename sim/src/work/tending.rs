//! What is done to a lawn besides mowing, feeding, watering, sowing and keeping weeds down.

use serde::{Deserialize, Serialize};

use crate::scenario::Grass;

/// One doing with its amount, as the lawn feels it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Tending {
    /// Hollow tines take plugs out.
    Core {
        /// Depth of the holes, mm.
        depth_mm: f64,
        /// Share of the surface that the holes take, 0..=1.
        opened: f64,
    },
    /// Upright knives comb thatch out.
    Scarify {
        /// How deep the knives go below the top of the thatch, mm.
        depth_mm: f64,
    },
    /// Spray a herbicide that spares no green plant (glyphosate).
    Kill {
        /// Rate, kg acid equivalent/ha.
        rate_kg_ha: f64,
    },
    /// Level with topsoil.
    Level {
        /// Depth of the layer, mm.
        depth_mm: f64,
    },
    /// Lay mature turf over all of the lawn.
    LaySod {
        /// Which grasses, by share of the cover; one of share 0 is none.
        kinds: [(Grass, f64); 2],
    },
    /// Spread lime.
    Lime {
        /// As much calcium carbonate, g/m2.
        carbonate_g_m2: f64,
    },
    /// Spray iron.
    SprayIron {
        /// Iron, kg Fe/ha.
        iron_kg_ha: f64,
    },
    /// Spray or spread something that is sold to stimulate growth.
    Stimulate {
        /// What it is.
        kind: Stimulant,
        /// More root growth than without, share, as the user wants it played (0: none).
        root_growth: f64,
    },
    /// Keep a strip fed so richly that more nitrogen would not show, to compare the lawn with.
    FeedStrip,
}

/// What is sold to stimulate growth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Stimulant {
    /// Humic and fulvic acids.
    Humic,
    /// Seaweed extracts.
    Seaweed,
    /// Microbes.
    Microbial,
}

impl Tending {
    /// The same where `factor` times what was meant was laid; work without a product is as meant.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Tending {
        match self {
            Tending::Kill { rate_kg_ha } => Tending::Kill { rate_kg_ha: rate_kg_ha * factor },
            Tending::Level { depth_mm } => Tending::Level { depth_mm: depth_mm * factor },
            Tending::Lime { carbonate_g_m2 } => {
                Tending::Lime { carbonate_g_m2: carbonate_g_m2 * factor }
            }
            Tending::SprayIron { iron_kg_ha } => {
                Tending::SprayIron { iron_kg_ha: iron_kg_ha * factor }
            }
            Tending::Core { .. }
            | Tending::Scarify { .. }
            | Tending::LaySod { .. }
            | Tending::Stimulate { .. }
            | Tending::FeedStrip => self,
        }
    }

    /// Whether something is laid, whose rate may be off.
    pub fn lays(&self) -> bool {
        matches!(self, Tending::Level { .. } | Tending::Lime { .. }) || self.sprayed()
    }

    /// Whether it is sprayed.
    pub fn sprayed(&self) -> bool {
        matches!(self, Tending::Kill { .. } | Tending::SprayIron { .. })
    }
}
