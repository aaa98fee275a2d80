//! What is done to a lawn besides mowing, feeding, watering, sowing and keeping weeds down.

/// One doing with its amount, as the lawn feels it.
#[derive(Clone, Copy, Debug, PartialEq)]
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
}

impl Tending {
    /// The same where `factor` times what was meant was laid; work without a product is as meant.
    #[must_use]
    pub fn scaled(self, _factor: f64) -> Tending {
        match self {
            Tending::Core { .. } | Tending::Scarify { .. } => self,
        }
    }

    /// Whether something is laid, whose rate may be off.
    pub fn lays(&self) -> bool {
        match self {
            Tending::Core { .. } | Tending::Scarify { .. } => false,
        }
    }

    /// Whether it is sprayed.
    pub fn sprayed(&self) -> bool {
        match self {
            Tending::Core { .. } | Tending::Scarify { .. } => false,
        }
    }
}
