//! The seed bank and emergence: how many seedlings come up today, and how many come through the
//! barrier.

use super::super::barrier;
use super::super::setting::Setting;
use super::super::state::State;
use super::{Cohort, MAX_COHORTS, Weed, loss};
use crate::parameters::Crabgrass;
use crate::weather::Sky;

/// Days that one cohort stays open to new seedlings.
const COHORT_DAYS: u32 = 10;

/// Fewer seedlings than this are none, 1/m2.
const NONE_M2: f64 = 1e-6;

/// Share of the year's germinable seed that has come up by a moist thermal time, 0..=1: a main
/// flush (lagged Weibull) and a tail into late summer.
fn emerged_share(progress_dd: f64, p: &Crabgrass) -> f64 {
    let past = progress_dd - p.lag_dd;
    if past <= 0.0 {
        return 0.0;
    }
    let main = 1.0 - (-(past / p.scale_dd).powf(p.shape)).exp();
    let tail = 1.0 - (-past / p.late_scale_dd).exp();
    (1.0 - p.late_share) * main + p.late_share * tail
}

/// Winter: part of the bank dies, fresh seed joins it, and a share can germinate next.
pub(super) fn turn_year(state: &mut State, setting: &Setting) {
    let p = &setting.p.crabgrass;
    loss::pull_all(state, setting);
    let bank = state.weed.bank * p.bank_survival + state.weed.fresh;
    state.weed = Weed { bank, germinable: bank * p.germinable_share, ..Weed::default() };
}

/// Today's emergence. Thermal time runs on moist soil only; what comes up meets the barrier.
pub(super) fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    state.today.barrier = barrier::strength(state, setting);
    let warm = (sky.soil_5cm_c - p.base_t_c).max(0.0);
    // The mean of the day's wettest hour and its evening.
    let moist = 0.5
        * (setting.germination_pace(state.today.seedbed_wet)
            + setting.germination_pace(state.seedbed));
    let w = &mut state.weed;
    w.open_days += 1;
    if warm * moist <= 0.0 || w.germinable <= 0.0 {
        return;
    }
    let before = w.emerged_share;
    w.progress_dd += warm * moist;
    w.emerged_share = emerged_share(w.progress_dd, p);
    let emerging = w.germinable * (w.emerged_share - before);
    let through = emerging * (1.0 - state.today.barrier);
    w.bank = (w.bank - emerging).max(0.0);
    w.emerged += through;
    state.today.emerging = emerging;
    state.today.through = through;
    if through > NONE_M2 {
        establish(state, setting, through);
    }
}

/// Puts today's seedlings into a cohort, in gaps and under the turf as the ground lies.
fn establish(state: &mut State, setting: &Setting, seedlings: f64) {
    let area = setting.p.crabgrass.seedling_area_m2;
    // Perennial weeds shade what comes up under them as turf does.
    let turf = (state.turf_cover() + state.perennial_cover()).clamp(0.0, 1.0);
    let w = &mut state.weed;
    if w.used == 0 || (w.open_days >= COHORT_DAYS && w.used < MAX_COHORTS) {
        w.used += 1;
        w.open_days = 0;
        w.cohorts[w.used - 1] = Cohort::default();
    }
    let c = &mut w.cohorts[w.used - 1];
    join(&mut c.in_gaps, &mut c.gap_area_m2, seedlings * (1.0 - turf), area);
    join(&mut c.in_turf, &mut c.turf_area_m2, seedlings * turf, area);
    // Seedlings bring their first leaf's carbon and nitrogen with the seed.
    let grams = seedlings * area * setting.p.crabgrass.leaf_g_m2;
    let (mut seed_c, mut seed_n) = (0.0, 0.0);
    state.ledger.carbon.enter(&mut seed_c, grams * setting.p.sward.carbon_share);
    state.ledger.nitrogen.enter(&mut seed_n, grams * setting.p.crabgrass.nitrogen_share);
}

/// Adds `more` plants of an area to a cohort's part, keeping the mean of their areas.
fn join(plants: &mut f64, area_m2: &mut f64, more: f64, more_area_m2: f64) {
    if more > 0.0 {
        *area_m2 = (*plants * *area_m2 + more * more_area_m2) / (*plants + more);
        *plants += more;
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::tests_support::{lawn, sky};
    use super::*;
    use crate::parameters::Catalogue;

    /// Fidanza, Dernoeden & Zhang 1996 (base 12 C): first seedlings at 42-78 degree-days, the
    /// fastest flush at 140-230, on moist soil; the flush is read as the steepest 10 degree-days.
    #[test]
    fn flush_by_thermal_time() {
        let p = Catalogue::embedded().central().crabgrass;
        assert_eq!(emerged_share(p.lag_dd, &p), 0.0);
        assert!(emerged_share(78.0, &p) > 0.01, "{}", emerged_share(78.0, &p));
        let gain = |dd: f64| emerged_share(dd + 10.0, &p) - emerged_share(dd, &p);
        let late = gain(230.0);
        assert!(gain(70.0) > late && gain(100.0) > late);
        assert!((emerged_share(1e5, &p) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn no_seedling_in_dry_cold_or_seedless_ground() {
        let (setting, lawn) = lawn();
        let up = |t_c: f64, moist: f64, germinable: f64| {
            let mut state = lawn.clone();
            state.weed.germinable = germinable;
            for _ in 0..60 {
                (state.seedbed, state.today.seedbed_wet) = (moist, moist);
                step(&mut state, &setting, &sky(t_c));
            }
            state.weed.emerged
        };
        assert!(up(20.0, 1.0, 500.0) > 100.0);
        assert_eq!(up(20.0, 0.0, 500.0), 0.0);
        assert_eq!(up(12.0, 1.0, 500.0), 0.0);
        assert_eq!(up(20.0, 1.0, 0.0), 0.0);
    }

    /// Seed is neither made nor lost by coming up: bank and seedlings, stopped or not, add up.
    #[test]
    fn seed_that_comes_up_leaves_the_bank() {
        let (setting, mut state) = lawn();
        let bank = state.weed.bank;
        for _ in 0..60 {
            (state.seedbed, state.today.seedbed_wet) = (1.0, 1.0);
            step(&mut state, &setting, &sky(20.0));
        }
        assert!((state.weed.bank + state.weed.emerged - bank).abs() < 1e-9 * bank);
    }
}
