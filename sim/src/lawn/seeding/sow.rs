//! Sowing: how much of the seed comes to lie where it can grow.

use super::super::cultivation;
use super::super::setting::Setting;
use super::super::state::State;
use super::{Cohort, MAX_SOWINGS, MG_PER_G, give_up, seed_to_litter};
use crate::scenario::Grass;
use crate::work::{SeedMix, Sowing};

/// Sows one pass of seed: live seed that has soil around it waits to come up; all other seed, and
/// what the bag holds besides, becomes litter. Seed of a grass that the lawn does not list is
/// litter too.
pub fn sow(
    state: &mut State,
    setting: &Setting,
    seed: SeedMix,
    pure_live_seed: f64,
    method: Sowing,
) {
    let p = &setting.p.seeding;
    let (contact, caught) = match method {
        Sowing::Broadcast => (p.contact_broadcast, p.catch_broadcast),
        Sowing::Raked => (p.contact_raked, p.catch_raked),
        Sowing::Slit => (p.contact_slit, p.catch_slit),
    };
    if method == Sowing::Slit {
        cultivation::take_turf(state, setting, p.slit_opening);
    }
    // Where tools have just opened the ground, seed lies as in slits.
    let open = state.ground.seedbed;
    let contact = contact + open * (p.contact_slit - contact).max(0.0);
    let caught = caught - open * (caught - p.catch_slit).max(0.0);
    // Leaves and thatch keep seed off the soil as far as turf covers it.
    let reaching = 1.0 - caught * state.turf_cover().clamp(0.0, 1.0);
    for (grass, seed_g_m2) in seed.kinds() {
        let good = contact * reaching * pure_live_seed.clamp(0.0, 1.0);
        sow_one(state, setting, grass, seed_g_m2, good);
    }
}

/// Sows one grass, of whose seed a share `good` is alive and lies where it can grow.
fn sow_one(state: &mut State, setting: &Setting, grass: Grass, seed_g_m2: f64, good: f64) {
    let p = &setting.p.seeding;
    let place = setting.place_of(grass);
    let live_g_m2 = seed_g_m2 * good * place.map_or(0.0, |i| setting.seeds[i].field_survival);
    let (mut carbon, mut nitrogen) = (0.0, 0.0);
    let share = setting.p.sward.carbon_share;
    state.ledger.carbon.enter(&mut carbon, seed_g_m2 * share);
    state.ledger.nitrogen.enter(&mut nitrogen, seed_g_m2 * p.seed_nitrogen);
    seed_to_litter(state, setting, seed_g_m2 - live_g_m2);
    if let Some(grass) = place.filter(|_| live_g_m2 > 0.0) {
        add(state, setting, grass, live_g_m2);
    }
}

fn add(state: &mut State, setting: &Setting, grass: usize, live_g_m2: f64) {
    if state.sown.used == MAX_SOWINGS {
        give_up(state, setting, 0);
    }
    if state.sown.used == 0 {
        state.sown.turf_cover = state.turf_cover().clamp(0.0, 1.0);
    }
    let seeds = live_g_m2 * MG_PER_G / setting.seeds[grass].mass_mg;
    state.sown.cohorts[state.sown.used] = Cohort { grass, seeds, ..Cohort::default() };
    state.sown.used += 1;
}
