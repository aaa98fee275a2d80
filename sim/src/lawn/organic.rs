//! Organic matter: litter, roots, compost and humus decay, give nitrogen and lose carbon.

use super::setting::{BOTTOM_MM, Setting};
use super::state::{Pool, State};
use crate::weather::Sky;

/// How warm and moist the top soil is for microbes: Q10 law around 20 C times a moisture factor
/// that falls to `dry_stop` at the wilting point.
pub fn activity(state: &State, setting: &Setting, sky: &Sky) -> f64 {
    if sky.frozen {
        return 0.0;
    }
    let o = &setting.p.organic;
    let warm = o.q10.powf((sky.soil_10cm_c - 20.0) / 10.0);
    warm * moisture(state, setting, o.dry_stop)
}

/// Moisture of the top 15 cm between the wilting point (`dry`) and field capacity (1).
pub fn moisture(state: &State, setting: &Setting, dry: f64) -> f64 {
    let wp = setting.layers[0].wp_mm + setting.layers[1].wp_mm;
    let fc = setting.layers[0].fc_mm + setting.layers[1].fc_mm;
    let share = ((state.water[0] + state.water[1] - wp) / (fc - wp)).clamp(0.0, 1.0);
    dry + (1.0 - dry) * share
}

/// One day of decay.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    let activity = activity(state, setting, sky);
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
    let lost = (o.humus * activity).min(1.0);
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
        share = share.min(0.2 * can / needed_per_share);
    }
    let carbon = pool.c * share;
    let kept = super::ledger::shift(&mut pool.c, &mut state.humus.c, carbon * o.humified_share);
    state.ledger.carbon.leave(&mut pool.c, carbon - kept);
    let nitrogen = pool.n * share;
    let humus_n = kept / o.humus_cn;
    let from_pool = super::ledger::shift(&mut pool.n, &mut state.humus.n, nitrogen.min(humus_n));
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

/// Lays a compost layer: its carbon and nitrogen, a little of it mineral, and the water it holds.
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

/// Organic matter of the top 10 cm, % by weight: all organic carbon there times 1.724 (van
/// Bemmelen's factor) over the dry mass of the soil.
pub fn organic_matter_pct(state: &State, setting: &Setting) -> f64 {
    let depth = setting.p.organic.humus_depth_mm.min(BOTTOM_MM[1]);
    let humus = state.humus.c * (100.0 / depth).min(1.0);
    let rest = state.litter.c + state.root_litter.c * 0.8 + state.compost.c;
    let organic = (humus + rest) * 1.724;
    100.0 * organic / (setting.soil_mass_10cm_g_m2 + state.compost.c * 1.724)
}
