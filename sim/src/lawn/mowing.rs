//! What a cut does: leaf away, roots stopped, stubble, clumps, and tillers lost to scalping.

use super::growth::Warmth;
use super::setting::Setting;
use super::state::State;
use super::tillers;
use crate::parameters::Mowing;
use crate::weather::Sky;
use crate::work::Clippings;

/// Share of root growth stopped by removing a share `r` of the green blade: 0 up to
/// `root_stop_from`, else 1/(1 + exp(-(r - half)/width)) (fit to Crider 1955).
pub fn root_stop(r: f64, m: &Mowing) -> f64 {
    if r <= m.root_stop_from {
        return 0.0;
    }
    1.0 / (1.0 + (-(r - m.root_stop_half) / m.root_stop_width).exp())
}

/// Mows every grass that stands taller than the deck.
pub fn cut(state: &mut State, setting: &Setting, sky: &Sky, height_mm: f64, clippings: Clippings) {
    let profile = setting.p.sward.blade_profile;
    let mut cut_share = 0.0;
    for i in 0..setting.grasses.len() {
        let plant = &state.plants[i];
        if plant.cover <= 0.0 || plant.height_mm <= height_mm {
            continue;
        }
        let r = 1.0 - (height_mm.max(1.0) / plant.height_mm).powf(profile);
        cut_share += r * plant.cover;
        state.plants[i].height_mm = height_mm.max(1.0);
        remove(state, setting, sky, i, r, clippings);
    }
    if clippings == Clippings::Collect {
        state.deposits.carried_off(cut_share);
    }
}

/// Removes a share of one grass's green blade at one stroke (also what studies do by hand).
pub fn remove(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    i: usize,
    r: f64,
    clippings: Clippings,
) {
    let m = &setting.p.mowing;
    let s = &setting.p.sward;
    let plant = &mut state.plants[i];
    let leaf = plant.leaf * r.clamp(0.0, 1.0);
    plant.leaf -= leaf;
    let mut nitrogen = leaf * plant.leaf_n;
    nitrogen = nitrogen.min(plant.nitrogen);
    plant.nitrogen -= nitrogen;
    state.totals.clippings += leaf;
    state.totals.clippings_n += nitrogen;
    match clippings {
        Clippings::Return => {
            state.litter.c += leaf * s.carbon_share;
            state.litter.n += nitrogen;
            state.today.clumps += leaf;
        }
        Clippings::Collect => {
            let mut carbon = leaf * s.carbon_share;
            let all = carbon;
            state.ledger.carbon.leave(&mut carbon, all);
            let all = nitrogen;
            state.ledger.nitrogen.leave(&mut nitrogen, all);
        }
    }
    shock(state, setting, sky, i, r);
    let smothered = (state.today.clumps / m.smother_g_m2 - 1.0).clamp(0.0, 1.0);
    tillers::open(state, setting, i, m.smother_loss * smothered);
}

/// The plant's answer to losing a share `r` of its blade.
fn shock(state: &mut State, setting: &Setting, sky: &Sky, i: usize, r: f64) {
    let m = &setting.p.mowing;
    let plant = &mut state.plants[i];
    let stop = root_stop(r, m);
    if stop > plant.root_stop {
        plant.root_stop = stop;
        plant.root_stop_hold = m.root_stop_hold_days;
        plant.root_stop_days = m.root_stop_recovery_days
            + m.root_stop_recovery_slope_days * (r - m.root_stop_from).max(0.0);
    }
    let brown = ((r - m.stubble_from) / (1.0 - m.stubble_from)).clamp(0.0, 1.0);
    plant.stubble = plant.stubble.max(brown);
    let over = (r - m.scalp_from).max(0.0) / (1.0 - m.scalp_from);
    let hot = ((sky.t_max_c - setting.grasses[i].heat_t_c) / 5.0).clamp(0.0, 1.0);
    let stressed = m.stress_cut_loss * r * hot.max(1.0 - plant.ks);
    tillers::open(state, setting, i, m.scalp_loss * over * over + stressed);
}

/// Stubble greens over and clumps settle, day by day.
pub fn recover(state: &mut State, setting: &Setting, warmth: &Warmth) {
    let m = &setting.p.mowing;
    state.today.clumps *= 1.0 - m.clump_decay;
    for (plant, shoot) in state.plants[..setting.grasses.len()].iter_mut().zip(warmth.shoot) {
        plant.stubble *= 1.0 - m.stubble_recovery * (0.2 + 0.8 * shoot) * plant.ks;
    }
}
