//! Organic matter: litter, roots, compost and humus decay, give nitrogen and lose carbon.

use super::limits::Limits;
use super::reaction;
use super::setting::{BOTTOM_MM, Setting};
use super::state::{Pool, State};
use crate::weather::Sky;

/// Soil organic matter over its carbon (van Bemmelen's factor).
pub const ORGANIC_MATTER_PER_CARBON: f64 = 1.724;

/// How warm and moist the top soil is for microbes: Q10 law around 20 C times a moisture factor
/// that falls to `dry_stop` at the wilting point.
pub fn activity(state: &State, setting: &Setting, sky: &Sky) -> f64 {
    if sky.frozen {
        return 0.0;
    }
    setting.decay.at(sky.soil_10cm_c) * moisture(state, setting)
}

/// Moisture factor of the top 15 cm: `dry_stop` at the wilting point, 1 at field capacity.
fn moisture(state: &State, setting: &Setting) -> f64 {
    let [top, next, ..] = &setting.layers;
    let held = state.water[0] + state.water[1] - (top.wp_mm + next.wp_mm);
    let share = (held / (top.available_mm + next.available_mm)).clamp(0.0, 1.0);
    let dry = setting.p.organic.dry_stop;
    dry + (1.0 - dry) * share
}

/// One day of decay at today's [`activity`].
pub fn step(state: &mut State, setting: &Setting, activity: f64) {
    if activity <= 0.0 {
        return;
    }
    let o = &setting.p.organic;
    let mut pools = [state.litter, state.root_litter, state.organic_fertilizer, state.compost];
    let rates = [o.litter, o.root_litter, o.fertilizer, o.compost];
    for (pool, rate) in pools.iter_mut().zip(rates) {
        decay(state, setting, pool, rate * activity);
    }
    [state.litter, state.root_litter, state.organic_fertilizer, state.compost] = pools;
    let lost = (o.humus * reaction::stirring(state, setting) * activity).min(1.0);
    let free = state.humus.n * lost;
    let nitrogen = super::ledger::shift(&mut state.humus.n, &mut state.ammonium, free);
    let carbon = state.humus.c * lost;
    state.ledger.carbon.leave(&mut state.humus.c, carbon);
    state.totals.mineralized += nitrogen;
}

/// First-order decay of one pool: a share of its carbon becomes humus with humus's nitrogen, the
/// rest is breathed out; nitrogen over is set free, nitrogen short is taken from the soil, and
/// where the soil has too little the decay waits.
fn decay(state: &mut State, setting: &Setting, pool: &mut Pool, share: f64) {
    let o = &setting.p.organic;
    let mut share = share.min(1.0);
    if pool.c <= 0.0 || share <= 0.0 {
        return;
    }
    let needed_per_share = pool.c * o.humified_share / o.humus_cn - pool.n;
    if needed_per_share > 0.0 {
        let mineral = state.ammonium + state.nitrate[0] + state.nitrate[1];
        let can = mineral * mineral / (mineral + o.immobilization_half_g_m2);
        share = share.at_most(o.immobilization_pace * can / needed_per_share);
    }
    let carbon = pool.c * share;
    let kept = super::ledger::shift(&mut pool.c, &mut state.humus.c, carbon * o.humified_share);
    state.ledger.carbon.leave(&mut pool.c, carbon - kept);
    let nitrogen = pool.n * share;
    let humus_n = kept / o.humus_cn;
    let from_pool =
        super::ledger::shift(&mut pool.n, &mut state.humus.n, nitrogen.at_most(humus_n));
    state.totals.mineralized += nitrogen - humus_n;
    if nitrogen > from_pool {
        super::ledger::shift(&mut pool.n, &mut state.ammonium, nitrogen - from_pool);
    } else {
        let mut short = humus_n - from_pool;
        short -= super::ledger::shift(&mut state.ammonium, &mut state.humus.n, short);
        short -= super::ledger::shift(&mut state.nitrate[0], &mut state.humus.n, short);
        super::ledger::shift(&mut state.nitrate[1], &mut state.humus.n, short);
    }
}

/// Lays a compost layer: its carbon and nitrogen, a little of it mineral. It comes without water; the
/// room for water that it brings follows from its carbon ([`State::compost_depth_mm`]).
pub fn lay_compost(state: &mut State, setting: &Setting, depth_mm: f64) {
    let p = &setting.p.compost;
    let grams = depth_mm.max(0.0) * p.bulk_density_kg_m3;
    let nitrogen = grams * p.nitrogen_share;
    let mineral = nitrogen * p.mineral_nitrogen_share;
    state.ledger.carbon.enter(&mut state.compost.c, grams * p.carbon_share);
    state.ledger.nitrogen.enter(&mut state.compost.n, nitrogen - mineral);
    state.ledger.nitrogen.enter(&mut state.ammonium, mineral);
    state.totals.laid += nitrogen;
}

/// Organic matter of the top 10 cm, % by weight of the dry soil with the compost on it.
pub(super) fn organic_matter_pct(state: &State, setting: &Setting) -> f64 {
    let o = &setting.p.organic;
    // Soil that was brought in lies on top: as much of the humus is now below.
    let humus_mm = o.humus_depth_mm.min(BOTTOM_MM[1]) + state.ground.soil_mm;
    let humus = state.humus.c * (100.0 / humus_mm).min(1.0);
    let litter = state.litter.c + state.root_litter.c * o.root_litter_top_share;
    let organic = (humus + litter + state.compost.c) * ORGANIC_MATTER_PER_CARBON;
    let compost = state.compost.c * ORGANIC_MATTER_PER_CARBON;
    100.0 * organic / (setting.soil_mass_10cm_g_m2 + compost)
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{lawn, sky};
    use super::*;

    fn moist() -> (Setting, State) {
        let (setting, mut state) = lawn();
        state.water = setting.layers.map(|layer| layer.fc_mm);
        (setting, state)
    }

    #[test]
    fn microbes_at_their_reference_are_as_active_as_stated() {
        let (setting, mut state) = moist();
        assert!((activity(&state, &setting, &sky(20.0)) - 1.0).abs() < 1e-12);
        let warm = activity(&state, &setting, &sky(30.0));
        assert!((warm - setting.p.organic.q10).abs() < 1e-12);
        state.water = setting.layers.map(|layer| layer.wp_mm);
        let dry = activity(&state, &setting, &sky(20.0));
        assert!((dry - setting.p.organic.dry_stop).abs() < 1e-12);
    }

    /// Kopp & Guillard 2004: half of the clippings' nitrogen is gone in 28-39 days in the field,
    /// taken here as soil at 17 C and half full.
    #[test]
    fn clippings_lose_half_their_nitrogen_in_a_month() {
        let (setting, mut state) = moist();
        for (water, layer) in state.water.iter_mut().zip(&setting.layers) {
            *water = layer.wp_mm + 0.5 * layer.available_mm;
        }
        state.litter = Pool { c: 45.0, n: 4.0 };
        let mut days = 0;
        while state.litter.n > 2.0 && days < 200 {
            let activity = activity(&state, &setting, &sky(17.0));
            step(&mut state, &setting, activity);
            days += 1;
        }
        assert!((28..=39).contains(&days), "{days} days");
    }

    #[test]
    fn decay_loses_no_nitrogen_and_waits_where_there_is_none() {
        let (setting, mut state) = moist();
        state.litter = Pool { c: 100.0, n: 0.5 };
        let before = state.stocks(&setting)[1];
        step(&mut state, &setting, 1.0);
        assert!((state.stocks(&setting)[1] - before).abs() < 1e-12 * before);
        // Straw in soil without mineral nitrogen does not rot.
        (state.ammonium, state.nitrate) = (0.0, [0.0; super::super::LAYERS]);
        state.litter = Pool { c: 100.0, n: 0.5 };
        let mut straw = state.litter;
        decay(&mut state, &setting, &mut straw, 0.05);
        assert_eq!(straw.c, 100.0);
    }
}
