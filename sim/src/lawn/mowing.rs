//! What a cut does: leaf away, roots stopped, stubble, clumps, and tillers lost to scalping.

mod tell;

pub(super) use tell::{Telling, cut as tell_cut, end as tell_end};

use super::plant::{profile, root_stop_left};
use super::setting::Setting;
use super::state::State;
use super::tillers;
use super::traffic;
use super::warmth::Warmth;
use crate::parameters::Mowing;
use crate::weather::Sky;
use crate::work::Clippings;

/// Share of root growth stopped by removing a share `r` of the green blade: 0 up to
/// `root_stop_from`, else 1/(1 + exp(-(r - half)/width)) (fit to Crider 1955).
fn root_stop(r: f64, m: &Mowing) -> f64 {
    if r <= m.root_stop_from {
        return 0.0;
    }
    1.0 / (1.0 + (-(r - m.root_stop_half) / m.root_stop_width).exp())
}

/// The lowest cut, mm: nothing is mown into the ground.
const LOWEST_CUT_MM: f64 = 1.0;

/// Mows every grass that stands taller than the deck.
pub(super) fn cut(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    height_mm: f64,
    clippings: Clippings,
) {
    let height_mm = height_mm.max(LOWEST_CUT_MM);
    // Their leaves stand as tall as the turf that is still about them.
    super::dandelion::mown(state, setting, height_mm, clippings);
    super::clover::mown(state, setting, height_mm, clippings);
    let left = profile(height_mm, &setting.p.sward);
    traffic::pass(state, setting, sky);
    let mut cut_share = 0.0;
    for i in 0..setting.grasses.len() {
        let plant = &mut state.plants[i];
        if plant.cover <= 0.0 || plant.height_mm <= height_mm {
            continue;
        }
        let r = 1.0 - left / plant.profile;
        cut_share += r * plant.cover;
        (plant.height_mm, plant.profile) = (height_mm, left);
        remove(state, setting, sky, i, r, clippings);
    }
    smother(state, setting);
    super::seeding::mown(state, setting, height_mm, clippings);
    super::nutsedge::mown(state, setting, height_mm, clippings);
    if clippings == Clippings::Collect {
        state.deposits.carried_off(cut_share);
    }
    let turf = state.turf_cover();
    if turf > 0.0 {
        super::spray::mown(state, sky.day, (cut_share / turf).min(1.0));
    }
}

/// Clippings of plants other than the grasses, g/m2 and g N/m2: back on the lawn, or away.
pub(super) fn lay_clippings(
    state: &mut State,
    setting: &Setting,
    dry: f64,
    nitrogen: f64,
    clippings: Clippings,
) {
    if dry <= 0.0 {
        return;
    }
    let (mut carbon, mut nitrogen) = (dry * setting.p.sward.carbon_share, nitrogen);
    state.totals.clippings += dry;
    state.totals.clippings_n += nitrogen;
    match clippings {
        Clippings::Return => {
            state.litter.c += carbon;
            state.litter.n += nitrogen;
        }
        Clippings::Collect => {
            let (c, n) = (carbon, nitrogen);
            state.ledger.carbon.leave(&mut carbon, c);
            state.ledger.nitrogen.leave(&mut nitrogen, n);
        }
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
    let s = &setting.p.sward;
    let plant = &mut state.plants[i];
    let leaf = plant.leaf * r.clamp(0.0, 1.0);
    plant.leaf -= leaf;
    let mut nitrogen = (leaf * plant.leaf_n).min(plant.nitrogen);
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
}

/// Heavy clippings smother all grasses alike.
fn smother(state: &mut State, setting: &Setting) {
    let m = &setting.p.mowing;
    let smothered = (state.today.clumps / m.smother_g_m2 - 1.0).clamp(0.0, 1.0);
    for i in 0..setting.grasses.len() {
        tillers::open(state, setting, i, m.smother_loss * smothered);
    }
}

/// The plant's answer to losing a share `r` of its blade.
fn shock(state: &mut State, setting: &Setting, sky: &Sky, i: usize, r: f64) {
    let m = &setting.p.mowing;
    let plant = &mut state.plants[i];
    let stop = root_stop(r, m);
    if stop > plant.root_stop {
        plant.root_stop = stop;
        plant.root_stop_hold = m.root_stop_hold_days;
        let slower = m.root_stop_recovery_slope_days * (r - m.root_stop_from).max(0.0);
        plant.root_stop_left = root_stop_left(m.root_stop_recovery_days + slower);
    }
    let brown = ((r - m.stubble_from) / (1.0 - m.stubble_from)).clamp(0.0, 1.0);
    plant.stubble = plant.stubble.max(brown);
    let over = (r - m.scalp_from).max(0.0) / (1.0 - m.scalp_from);
    let heat_c = sky.t_max_c - setting.grasses[i].heat_t_c;
    let hot = (heat_c / setting.p.sward.heat_scale_c).clamp(0.0, 1.0);
    let stressed = m.stress_cut_loss * r * hot.max(1.0 - plant.ks);
    tillers::open(state, setting, i, m.scalp_loss * over * over + stressed);
}

/// Stubble greens over and clumps settle, day by day.
pub fn recover(state: &mut State, setting: &Setting, warmth: &Warmth) {
    let m = &setting.p.mowing;
    state.today.clumps *= 1.0 - m.clump_decay;
    for (plant, shoot) in state.plants[..setting.grasses.len()].iter_mut().zip(warmth.shoot) {
        let cool = m.stubble_recovery_cool_share;
        plant.stubble *= 1.0 - m.stubble_recovery * (cool + (1.0 - cool) * shoot) * plant.ks;
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{lawn, sky};
    use super::*;
    use crate::parameters::Catalogue;

    /// Crider 1955, USDA Tech. Bull. 1102, Tables of four tests on three grasses: share of roots
    /// stopped on the third day after one clipping, least and most of the tests, %.
    #[test]
    fn roots_stopped_by_one_clipping() {
        let m = Catalogue::embedded().central().mowing;
        let rows = [
            (0.10, 0.0, 0.0),
            (0.20, 0.0, 0.0),
            (0.30, 0.0, 0.0),
            (0.40, 0.0, 0.0),
            (0.50, 2.0, 38.0),
            (0.60, 36.0, 80.0),
            (0.70, 76.0, 97.0),
            (0.80, 81.0, 100.0),
            (0.90, 99.0, 100.0),
        ];
        for (removed, least, most) in rows {
            let stopped = 100.0 * root_stop(removed, &m);
            assert!((least..=most).contains(&stopped), "{removed} {stopped}");
        }
    }

    /// A cut brings leaf and height to the profile's share, and returned clippings stay in the
    /// books.
    #[test]
    fn a_cut_takes_blade_by_the_profile() {
        let (setting, mut state) = lawn();
        state.set_canopy(&setting, 90.0);
        let before = state.plants[0];
        let carbon = state.stocks(&setting)[2];
        cut(&mut state, &setting, &sky(18.0), 60.0, Clippings::Return);
        let after = state.plants[0];
        let left = (60.0f64 / 90.0).powf(setting.p.sward.blade_profile);
        assert!((after.leaf / before.leaf - left).abs() < 1e-3);
        assert_eq!(after.height_mm, 60.0);
        assert!((state.stocks(&setting)[2] - carbon).abs() < 1e-9 * carbon);
        // A deck above the turf cuts nothing.
        cut(&mut state, &setting, &sky(18.0), 75.0, Clippings::Return);
        assert_eq!(state.plants[0], after);
    }
}
