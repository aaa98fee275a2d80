//! Weeds as a crew tells them apart.

use super::Signs;

/// A weed that a spray may be meant for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weed {
    /// Large and smooth crabgrass.
    Crabgrass,
    /// Dandelion.
    Dandelion,
    /// White clover.
    Clover,
    /// Yellow nutsedge.
    Nutsedge,
}

/// Weeds that are seen together from a standing height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// Crabgrass.
    Crabgrass,
    /// Dandelion and clover.
    Broadleaf,
    /// Yellow nutsedge.
    Nutsedge,
}

impl Weed {
    /// Every weed.
    pub const ALL: [Weed; 4] = [Weed::Crabgrass, Weed::Dandelion, Weed::Clover, Weed::Nutsedge];

    /// As people say it.
    pub fn name(self) -> &'static str {
        match self {
            Weed::Crabgrass => "crabgrass",
            Weed::Dandelion => "dandelion",
            Weed::Clover => "clover",
            Weed::Nutsedge => "nutsedge",
        }
    }

    /// What it is seen with.
    pub fn stand(self) -> Stand {
        match self {
            Weed::Crabgrass => Stand::Crabgrass,
            Weed::Dandelion | Weed::Clover => Stand::Broadleaf,
            Weed::Nutsedge => Stand::Nutsedge,
        }
    }
}

impl Stand {
    /// Every stand.
    pub const ALL: [Stand; 3] = [Stand::Crabgrass, Stand::Broadleaf, Stand::Nutsedge];

    /// As people say it.
    pub fn name(self) -> &'static str {
        match self {
            Stand::Crabgrass => "crabgrass",
            Stand::Broadleaf => "broadleaf weeds",
            Stand::Nutsedge => "nutsedge",
        }
    }

    /// Ground that it covered last evening, 0..=1.
    pub fn cover(self, signs: &Signs) -> f64 {
        match self {
            Stand::Crabgrass => signs.crabgrass,
            Stand::Broadleaf => signs.broadleaf,
            Stand::Nutsedge => signs.nutsedge,
        }
    }
}

/// Some of the stands: what a crew looks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Sought([bool; 3]);

impl Sought {
    /// Of these weeds.
    pub fn of(weeds: impl IntoIterator<Item = Weed>) -> Sought {
        let mut sought = Sought::default();
        for weed in weeds {
            sought.0[weed.stand() as usize] = true;
        }
        sought
    }

    /// The stands that are looked for.
    pub fn stands(self) -> impl Iterator<Item = Stand> {
        Stand::ALL.into_iter().filter(move |stand| self.0[*stand as usize])
    }

    /// Ground that they covered last evening, 0..=1.
    pub fn cover(self, signs: &Signs) -> f64 {
        self.stands().map(|stand| stand.cover(signs)).sum::<f64>().clamp(0.0, 1.0)
    }
}
