//! Crabgrass: a seed bank, seedlings that come up with moist warmth, cohorts that live or die by
//! light, seed and frost.

mod cohorts;
mod emergence;
mod loss;
mod tell;

pub use cohorts::seedling_light;
pub(super) use cohorts::{gap_mm, turf_shade};
pub use loss::pull_all;
pub(super) use loss::{doom, kill_smaller_than, wither};
pub(super) use tell::{Telling, tell};

use super::room;
use super::setting::Setting;
use super::state::State;
use crate::parameters::Crabgrass;
use crate::weather::Sky;

/// The most cohorts of one year; later seedlings join the last.
pub const MAX_COHORTS: usize = 14;

/// Seedlings that came up within a few days of each other.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Cohort {
    /// Plants in gaps, 1/m2 of lawn.
    pub in_gaps: f64,
    /// Leaf area of one of them, m2.
    pub gap_area_m2: f64,
    /// Plants under the turf's leaves, 1/m2 of lawn.
    pub in_turf: f64,
    /// Leaf area of one of them, m2.
    pub turf_area_m2: f64,
    /// Of the plants in gaps and under turf, those that a spray will kill, 1/m2 of lawn.
    pub doomed: [f64; 2],
}

/// All the crabgrass of a lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Weed {
    /// Viable seed in the top of the soil, 1/m2.
    pub bank: f64,
    /// Seed that can germinate this year, 1/m2 (part of the bank, at the year's start).
    pub germinable: f64,
    /// Seed shed this year that will join the bank, 1/m2.
    pub fresh: f64,
    /// Moist thermal time above the base since 1 January, C-days.
    pub progress_dd: f64,
    /// Share of the germinable seed that has come up by then, 0..=1.
    pub emerged_share: f64,
    /// Seedlings that came up this year, 1/m2.
    pub emerged: f64,
    /// This year's cohorts.
    pub cohorts: [Cohort; MAX_COHORTS],
    /// Cohorts in use.
    pub used: usize,
    /// Days since the last cohort was opened.
    pub open_days: u32,
    /// Ground that crabgrass covers, 0..=1.
    pub cover: f64,
}

impl Weed {
    /// Leaf area over the lawn, m2/m2.
    pub fn leaf_area(&self) -> f64 {
        let cohorts = &self.cohorts[..self.used];
        cohorts.iter().map(|c| c.in_gaps * c.gap_area_m2 + c.in_turf * c.turf_area_m2).sum()
    }

    /// Dry mass, g/m2.
    pub fn dry_mass(&self, p: &Crabgrass) -> f64 {
        self.leaf_area() * p.leaf_g_m2
    }

    /// Plants of more than a leaf area, 1/m2.
    pub fn plants_over(&self, area_m2: f64) -> f64 {
        let over = |n: f64, a: f64| if a > area_m2 { n } else { 0.0 };
        let cohorts = &self.cohorts[..self.used];
        cohorts
            .iter()
            .map(|c| over(c.in_gaps, c.gap_area_m2) + over(c.in_turf, c.turf_area_m2))
            .sum()
    }

    /// Plants, 1/m2.
    pub fn plants(&self) -> f64 {
        self.cohorts[..self.used].iter().map(|c| c.in_gaps + c.in_turf).sum()
    }
}

/// One day of crabgrass.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    if sky.day_of_year == 1 && state.begun {
        emergence::turn_year(state, setting);
    }
    emergence::step(state, setting, sky);
    if state.weed.used == 0 {
        return;
    }
    loss::frost(state, setting, sky);
    room::read_leaks(state, setting);
    cohorts::grow(state, setting, sky);
    loss::seed(state, setting, sky);
}
