//! Sown turfgrass: seed in the ground that comes up with moist warmth, and seedlings that live or
//! die by light, water, heat and frost until they tiller and are grass like the rest.
//!
//! Seedlings stand on ground that counts as bare: they hold it only from their first tiller on.

mod emergence;
mod seedlings;
mod sow;
mod tell;
mod tillering;

pub use seedlings::{kill as kill_seedlings, light_below, mown, sprayed};
pub use sow::sow;
pub(super) use tell::{Telling, sown as tell_sown, tell};

use super::ledger::shift;
use super::setting::Setting;
use super::state::{Pool, State};
use super::warmth::Warmth;
use crate::weather::Sky;

/// The most sowings that are told apart; one more and the oldest is given up.
pub const MAX_SOWINGS: usize = 8;

/// Fewer seeds or seedlings than this are none, 1/m2.
const NONE_M2: f64 = 1e-3;

/// Seedlings in gaps or under turf.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Seedlings {
    /// Plants, 1/m2 of lawn.
    pub plants: f64,
    /// Dry mass of one of them, g.
    pub mass_g: f64,
}

impl Seedlings {
    /// Adds plants of a mass, keeping the mean of their masses.
    fn join(&mut self, plants: f64, mass_g: f64) {
        if plants > 0.0 {
            self.mass_g = (self.plants * self.mass_g + plants * mass_g) / (self.plants + plants);
            self.plants += plants;
        }
    }

    /// Dry mass of all of them, g/m2.
    fn dry_mass(&self) -> f64 {
        self.plants * self.mass_g
    }
}

/// What was sown of one grass on one day.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Cohort {
    /// The grass, by its place in [`Setting::grasses`].
    pub grass: usize,
    /// Live seed with soil around it that has not come up, 1/m2.
    pub seeds: f64,
    /// Moist thermal time since sowing, C-days.
    pub progress_dd: f64,
    /// Seedlings in gaps and under turf.
    pub parts: [Seedlings; 2],
}

impl Cohort {
    fn is_spent(&self) -> bool {
        self.seeds + self.parts[0].plants + self.parts[1].plants < NONE_M2
    }
}

/// All that was sown and is not yet grown.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Sown {
    /// Sowings, the oldest first.
    pub cohorts: [Cohort; MAX_SOWINGS],
    /// Sowings in use.
    pub used: usize,
    /// Seedlings that came up since the first day, 1/m2.
    pub emerged: f64,
    /// Turf cover when the seedlings' ground was last shared out, 0..=1.
    turf_cover: f64,
}

impl Sown {
    /// Seedlings, 1/m2.
    pub fn plants(&self) -> f64 {
        total(self.cohorts(), |c| c.parts[0].plants + c.parts[1].plants)
    }

    /// Live seed in the ground, 1/m2.
    pub fn seeds(&self) -> f64 {
        total(self.cohorts(), |c| c.seeds)
    }

    /// Leaf area of seedlings in gaps, m2 per m2 of lawn.
    pub fn gap_leaf_area(&self, setting: &Setting) -> f64 {
        total(self.cohorts(), |c| c.parts[0].plants * seedlings::area_m2(setting, c, 0))
    }

    /// Carbon and nitrogen in seed and seedlings, g/m2.
    pub fn stock(&self, setting: &Setting) -> Pool {
        let (mut seed, mut young) = (0.0, 0.0);
        for c in self.cohorts() {
            seed += c.seeds * setting.seeds[c.grass].mass_mg / MG_PER_G;
            young += c.parts[0].dry_mass() + c.parts[1].dry_mass();
        }
        Pool {
            c: (seed + young) * setting.p.sward.carbon_share,
            n: seed * setting.p.seeding.seed_nitrogen + young * setting.p.seedling.nitrogen_share,
        }
    }

    fn cohorts(&self) -> &[Cohort] {
        &self.cohorts[..self.used]
    }
}

/// A sum from 0 (that of no floats at all is -0).
fn total(cohorts: &[Cohort], of: impl Fn(&Cohort) -> f64) -> f64 {
    cohorts.iter().fold(0.0, |sum, c| sum + of(c))
}

const MG_PER_G: f64 = 1000.0;

/// One day of seed and seedlings.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    if state.sown.used == 0 {
        return;
    }
    seedlings::follow_ground(state);
    emergence::step(state, setting, sky);
    seedlings::grow(state, setting, sky, warmth);
    for k in 0..state.sown.used {
        tillering::step(state, setting, warmth, k);
    }
    drop_spent(state, setting);
}

/// Seed mass becomes litter, g/m2.
fn seed_to_litter(state: &mut State, setting: &Setting, grams: f64) {
    state.litter.c += grams * setting.p.sward.carbon_share;
    state.litter.n += grams * setting.p.seeding.seed_nitrogen;
}

/// Dead seedlings become litter, g/m2, their roots below ground.
fn seedlings_to_litter(state: &mut State, setting: &Setting, grams: f64) {
    let p = &setting.p.seedling;
    let mut dead = Pool { c: grams * setting.p.sward.carbon_share, n: grams * p.nitrogen_share };
    let root = Pool { c: dead.c * p.root_share, n: dead.n * p.root_share };
    shift(&mut dead.c, &mut state.root_litter.c, root.c);
    shift(&mut dead.n, &mut state.root_litter.n, root.n);
    state.litter.c += dead.c;
    state.litter.n += dead.n;
}

/// Gives up sowing `k`: what is left of it becomes litter.
fn give_up(state: &mut State, setting: &Setting, k: usize) {
    let c = state.sown.cohorts[k];
    seed_to_litter(state, setting, c.seeds * setting.seeds[c.grass].mass_mg / MG_PER_G);
    seedlings_to_litter(state, setting, c.parts[0].dry_mass() + c.parts[1].dry_mass());
    let used = state.sown.used;
    state.sown.cohorts.copy_within(k + 1..used, k);
    state.sown.used -= 1;
}

fn drop_spent(state: &mut State, setting: &Setting) {
    for k in (0..state.sown.used).rev() {
        if state.sown.cohorts[k].is_spent() {
            give_up(state, setting, k);
        }
    }
}

#[cfg(test)]
mod tests;
