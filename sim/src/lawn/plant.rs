//! One grass of the sward, and what follows from its own state alone.

use super::limits::Limits;
use super::setting::Setting;
use crate::parameters::{GrassTraits, Sward};

/// Below this cover a grass is gone.
pub const GONE_COVER: f64 = 1e-4;

/// One grass of the sward. Masses are dry, per m2 of lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Plant {
    /// Ground that it holds, 0..=1.
    pub cover: f64,
    /// Tillers, 1/m2 of lawn.
    pub tillers: f64,
    /// Height of its leaves, mm; see [`Plant::set_height`].
    pub height_mm: f64,
    /// Blade below that height over blade below the reference height, (h/H)^p: kept because it is
    /// asked for several times a day and changes once.
    pub profile: f64,
    /// Green leaf blade, g/m2.
    pub leaf: f64,
    /// Roots, g/m2.
    pub root: f64,
    /// Reserves, g/m2.
    pub reserves: f64,
    /// Nitrogen in leaf, tiller bases and roots, g/m2.
    pub nitrogen: f64,
    /// Share of root growth stopped by the last cuts, 0..=1.
    pub root_stop: f64,
    /// Days before root growth begins to come back.
    pub root_stop_hold: f64,
    /// Share of the stop that each day of its coming back leaves, 0..=1.
    pub root_stop_left: f64,
    /// Brown stubble showing after a cut, 0..=1.
    pub stubble: f64,
    /// Days of standing drought on the plant's account.
    pub dry_days: f64,
    /// Today's water supply over demand (FAO-56 Ks), 0..=1.
    pub ks: f64,
    /// Today's nitrogen in leaf, share of dry mass; see [`Plant::set_leaf_n`].
    pub leaf_n: f64,
    /// Nitrogen factor of growth that follows from it, 0..=1.
    pub fed: f64,
    /// Share of today's respiration that reserves could not pay, 0..=1.
    pub starving: f64,
    /// Height that the leaves grew today, mm.
    pub extension_mm: f64,
}

/// Blade below a height over blade below the reference height: (h/H)^p.
pub fn profile(height_mm: f64, s: &Sward) -> f64 {
    (height_mm / s.profile_reference_mm).powf(s.blade_profile)
}

/// A power of a share 0..=1 that is 1 most days, when no pow has to be paid for.
pub fn power_of_share(share: f64, power: f64) -> f64 {
    if share < 1.0 { share.powf(power) } else { 1.0 }
}

/// Share of a stop of root growth that a day leaves, by the time constant of its coming back, days
/// (1 at least).
pub fn root_stop_left(days: f64) -> f64 {
    (-1.0 / days.max(1.0)).exp()
}

impl Plant {
    /// Sets the height of its leaves, mm.
    pub fn set_height(&mut self, height_mm: f64, s: &Sward) {
        self.height_mm = height_mm;
        self.profile = profile(height_mm, s);
    }

    /// All dry mass, reserves included, g/m2 of lawn.
    pub fn dry_mass(&self, tiller_mass_g: f64) -> f64 {
        self.leaf + self.tillers * tiller_mass_g + self.root + self.reserves
    }

    /// Leaf area over the ground that it holds, m2/m2.
    pub fn leaf_area_index(&self, specific_leaf_area: f64) -> f64 {
        if self.cover > 0.0 { self.leaf * specific_leaf_area / self.cover } else { 0.0 }
    }

    /// Mass that counts for nitrogen, in units of leaf, g/m2: leaf in full, tiller bases and
    /// roots at their ratio to the leaf's concentration.
    pub fn leaf_equivalent(&self, s: &Sward) -> f64 {
        self.leaf
            + s.nitrogen_base_ratio * self.tillers * s.tiller_mass_g
            + s.nitrogen_root_ratio * self.root
    }

    /// Growth that the plant's nitrogen still allows before leaf is down to the least
    /// concentration, g leaf/m2.
    pub fn nitrogen_room(&self, s: &Sward) -> f64 {
        (self.nitrogen / s.nitrogen_min - self.leaf_equivalent(s)).max(0.0)
    }

    /// Sets the nitrogen in its leaf, share of dry mass, and the factor of growth that follows:
    /// none at the least concentration, full from the critical one on.
    pub fn set_leaf_n(&mut self, leaf_n: f64, s: &Sward) {
        let wanted = s.nitrogen_critical - s.nitrogen_min;
        self.leaf_n = leaf_n;
        self.fed = ((leaf_n - s.nitrogen_min) / wanted).clamp(0.0, 1.0);
    }

    /// Full green leaf of its canopy, g/m2 of lawn: bulk by tillers and height, less where the
    /// plant is hungry, as its leaves are narrower and fewer.
    pub fn full_leaf(&self, traits: &GrassTraits, s: &Sward) -> f64 {
        let fed = 1.0 - s.hungry_leaf * (1.0 - self.fed);
        fed * traits.bulk_g_mm_tiller * self.tillers * s.profile_reference_mm * self.profile
    }

    /// Green leaf over the full leaf of its canopy, 0..=1.
    pub fn green_share(&self, full_leaf: f64) -> f64 {
        if full_leaf > 0.0 { (self.leaf / full_leaf).min(1.0) } else { 0.0 }
    }

    /// Density within its cover over the densest stand's, 0 or more.
    pub fn relative_density(&self, traits: &GrassTraits) -> f64 {
        self.tillers / (self.cover.max(GONE_COVER) * traits.density_max_m2)
    }

    /// The reserves that it can hold, g/m2.
    pub fn reserve_capacity(&self, s: &Sward) -> f64 {
        let tissue =
            self.tillers * s.tiller_mass_g + s.reserve_tissue_ratio * (self.leaf + self.root);
        s.reserve_share_max * tissue
    }

    /// Share of full reserves held, 0..=1.
    pub fn reserve_level(&self, s: &Sward) -> f64 {
        let capacity = self.reserve_capacity(s);
        if capacity > 0.0 { (self.reserves / capacity).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// What of its reserves it spends on roots and tillers: nothing below the floor, 0..=1.
    pub fn surplus(&self, s: &Sward) -> f64 {
        ((self.reserve_level(s) - s.reserve_floor) / (1.0 - s.reserve_floor)).clamp(0.0, 1.0)
    }

    /// Reserves that one day's growth may draw, g/m2.
    pub fn mobile_reserves(&self, s: &Sward) -> f64 {
        self.reserves * s.reserve_mobile_share
    }
}

/// Builds up to `wanted` g/m2 of tissue out of the reserves that a day may draw, and breathes out
/// what growth costs; returns the tissue, which the caller puts in its place.
pub fn build(state: &mut super::State, setting: &Setting, i: usize, wanted: f64) -> f64 {
    if wanted <= 0.0 {
        return 0.0;
    }
    let s = &setting.p.sward;
    let plant = &mut state.plants[i];
    let tissue = wanted.at_most(plant.mobile_reserves(s) * s.growth_efficiency).max(0.0);
    let mut breath = tissue * (1.0 / s.growth_efficiency - 1.0);
    plant.reserves -= tissue + breath;
    breath *= s.carbon_share;
    let all = breath;
    state.ledger.carbon.leave(&mut breath, all);
    tissue
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parameters::Catalogue;

    fn plant() -> Plant {
        let mut plant =
            Plant { cover: 0.8, tillers: 9000.0, leaf: 60.0, root: 90.0, ..Plant::default() };
        plant.set_height(60.0, &Catalogue::embedded().central().sward);
        plant
    }

    #[test]
    fn reserves_run_from_empty_to_full_and_below_the_floor_nothing_is_spent() {
        let s = Catalogue::embedded().central().sward;
        let mut plant = plant();
        assert_eq!(plant.reserve_level(&s), 0.0);
        plant.reserves = 10.0 * plant.reserve_capacity(&s);
        assert_eq!((plant.reserve_level(&s), plant.surplus(&s)), (1.0, 1.0));
        plant.reserves = 0.99 * s.reserve_floor * plant.reserve_capacity(&s);
        assert_eq!(plant.surplus(&s), 0.0);
    }

    #[test]
    fn leaf_between_the_least_and_the_critical_nitrogen() {
        let s = Catalogue::embedded().central().sward;
        let mut plant = plant();
        for (leaf_n, factor) in [
            (0.0, 0.0),
            (s.nitrogen_min, 0.0),
            (0.5 * (s.nitrogen_min + s.nitrogen_critical), 0.5),
            (s.nitrogen_max, 1.0),
        ] {
            plant.set_leaf_n(leaf_n, &s);
            assert!((plant.fed - factor).abs() < 1e-12, "{leaf_n}");
        }
        plant.nitrogen = s.nitrogen_min * plant.leaf_equivalent(&s);
        assert!(plant.nitrogen_room(&s) < 1e-9, "at the least concentration nothing grows");
    }

    /// Blade below a height is a power law: halving the height takes 1 - 2^-p of the blade.
    #[test]
    fn half_the_height_leaves_two_to_the_minus_p() {
        let s = Catalogue::embedded().central().sward;
        let traits = Catalogue::embedded().central().grasses[0];
        let mut plant = plant();
        let tall = plant.full_leaf(&traits, &s);
        plant.set_height(30.0, &s);
        let short = plant.full_leaf(&traits, &s);
        assert!((short / tall - 0.5f64.powf(s.blade_profile)).abs() < 1e-12);
    }
}
