//! Emergence: thermal time on moist ground brings seed up, and what comes up meets the barrier.

use super::super::barrier;
use super::super::setting::Setting;
use super::super::state::State;
use super::{MG_PER_G, NONE_M2, seed_to_litter};
use crate::parameters::GrassSeed;
use crate::weather::Sky;

/// Share of a sowing that has come up by a moist thermal time, 0..=1: log-logistic about the
/// grass's middle time.
pub(super) fn emerged_share(progress_dd: f64, middle_dd: f64, shape: f64) -> f64 {
    if progress_dd <= 0.0 {
        return 0.0;
    }
    1.0 / (1.0 + (middle_dd / progress_dd).powf(shape))
}

/// Degree-days that a day of this soil temperature brings: above the base up to the optimum, then
/// falling in a straight line to nothing (the cardinal temperatures of thermal time).
pub(super) fn degree_days(soil_c: f64, seed: &GrassSeed) -> f64 {
    let best = seed.opt_t_c - seed.base_t_c;
    let past = (seed.high_t_c - soil_c) / (seed.high_t_c - seed.opt_t_c);
    (soil_c - seed.base_t_c).min(best * past).max(0.0)
}

/// One day of all seed in the ground.
pub(super) fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    // Hydrothermal time: the mean of the day's wettest hour and its evening.
    let moist = 0.5
        * (setting.grass_germination_pace(state.today.seedbed_wet)
            + setting.grass_germination_pace(state.seedbed));
    let mut barrier = None;
    for k in 0..state.sown.used {
        if state.sown.cohorts[k].seeds < NONE_M2 {
            continue;
        }
        let emerging = emerging(state, setting, sky, moist, k);
        if emerging > 0.0 {
            let stopped =
                *barrier.get_or_insert_with(|| barrier::strength_on_grass(state, setting));
            establish(state, setting, k, emerging, stopped);
        }
    }
}

/// Takes today's dead and today's emerging seed out of sowing `k`; returns the emerging, 1/m2.
fn emerging(state: &mut State, setting: &Setting, sky: &Sky, moist: f64, k: usize) -> f64 {
    let p = &setting.p.seeding;
    let c = &mut state.sown.cohorts[k];
    let seed = &setting.seeds[c.grass];
    let before = emerged_share(c.progress_dd, seed.emergence_dd, p.emergence_shape);
    c.progress_dd += degree_days(sky.soil_5cm_c, seed) * moist;
    let after = emerged_share(c.progress_dd, seed.emergence_dd, p.emergence_shape);
    let share = if after > before { (after - before) / (1.0 - before) } else { 0.0 };
    let emerging = c.seeds * share.min(1.0);
    c.seeds -= emerging;
    let lost = c.seeds * p.seed_loss;
    c.seeds -= lost;
    seed_to_litter(state, setting, lost * seed.mass_mg / MG_PER_G);
    emerging
}

/// Puts today's seedlings into their sowing, in gaps and under the turf as the ground lies; those
/// that the barrier stops become litter with their seed.
fn establish(state: &mut State, setting: &Setting, k: usize, emerging: f64, stopped: f64) {
    let p = &setting.p.seeding;
    let young = &setting.p.seedling;
    let grass = state.sown.cohorts[k].grass;
    let seed_g = setting.seeds[grass].mass_mg / MG_PER_G;
    seed_to_litter(state, setting, emerging * stopped * seed_g);
    let plants = emerging * (1.0 - stopped);
    // A seedling can have no more nitrogen than its seed brought.
    let share = p.seedling_per_seed.min(p.seed_nitrogen / young.nitrogen_share);
    let mass_g = share * seed_g;
    let mut breath = plants * (seed_g - mass_g) * setting.p.sward.carbon_share;
    let all = breath;
    state.ledger.carbon.leave(&mut breath, all);
    // The husk's nitrogen stays with the litter.
    state.litter.n += plants * (seed_g * p.seed_nitrogen - mass_g * young.nitrogen_share);
    let turf = state.sown.turf_cover;
    let parts = &mut state.sown.cohorts[k].parts;
    parts[0].join(plants * (1.0 - turf), mass_g);
    parts[1].join(plants * turf, mass_g);
    state.sown.emerged += plants;
}
