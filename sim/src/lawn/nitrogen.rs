//! Mineral nitrogen: fertilizer dissolves, turns, leaches, is lost to air; plants take it up.

use super::ledger::shift;
use super::organic;
use super::setting::{LAYERS, Setting};
use super::state::State;
use super::water::root_shares;
use crate::weather::Sky;
use crate::work::NitrogenForms;

/// Lays fertilizer on the surface.
pub fn lay(state: &mut State, forms: &NitrogenForms) {
    let book = &mut state.ledger.nitrogen;
    let g = &mut state.granules;
    book.enter(&mut g.urea, forms.urea_g_m2);
    book.enter(&mut g.ammonium, forms.ammonium_g_m2);
    book.enter(&mut g.nitrate, forms.nitrate_g_m2);
    if forms.coated_g_m2 > 0.0 {
        // Two coated products share one pool with the mean of their release times.
        let sum = g.coated + forms.coated_g_m2;
        g.coated_days =
            (g.coated * g.coated_days + forms.coated_g_m2 * forms.coated_days.max(1.0)) / sum;
        book.enter(&mut g.coated, forms.coated_g_m2);
    }
    if forms.organic_g_m2 > 0.0 {
        book.enter(&mut state.organic_fertilizer.n, forms.organic_g_m2);
        // Natural organic fertilizers carry about six parts of carbon to one of nitrogen.
        state.ledger.carbon.enter(&mut state.organic_fertilizer.c, 6.0 * forms.organic_g_m2);
    }
    state.totals.laid += forms.total_g_m2();
}

/// One day of mineral nitrogen, after the water has moved.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    let n = &setting.p.nitrogen;
    state.ledger.nitrogen.enter(&mut state.nitrate[0], n.deposition_g_m2_mm * sky.precip_mm);
    if sky.frozen {
        return;
    }
    surface(state, setting, sky);
    let activity = organic::activity(state, setting, sky);
    let urea = state.urea * (n.hydrolysis * 2.5 * activity).min(1.0);
    shift(&mut state.urea, &mut state.ammonium, urea);
    let nitrified = state.ammonium * (n.nitrification * activity).min(1.0);
    let half = 0.5 * nitrified;
    shift(&mut state.ammonium, &mut state.nitrate[0], half);
    shift(&mut state.ammonium, &mut state.nitrate[1], half);
    let stored = state.ammonium * (n.storage * activity).min(1.0);
    shift(&mut state.ammonium, &mut state.humus.n, stored);
    let stored = state.nitrate[0] * (n.storage * activity).min(1.0);
    shift(&mut state.nitrate[0], &mut state.humus.n, stored);
    denitrify(state, setting, sky);
    leach(state, setting);
}

/// Granules on the surface: a storm washes some off, water dissolves the rest, urea that lies
/// gives ammonia, coats let go.
fn surface(state: &mut State, setting: &Setting, sky: &Sky) {
    let n = &setting.p.nitrogen;
    let g = &mut state.granules;
    let water = state.today.infiltration_mm;
    if state.today.runoff_mm > 0.0 {
        let share = n.washoff_share * state.today.runoff_mm / (state.today.runoff_mm + water);
        let book = &mut state.ledger.nitrogen;
        for store in [&mut g.urea, &mut g.ammonium, &mut g.nitrate] {
            let amount = *store * share;
            state.totals.washed += book.leave(store, amount);
        }
    }
    if water > 0.0 {
        let share = 1.0 - (-water / n.dissolve_mm).exp();
        let (urea, ammonium, nitrate) = (g.urea * share, g.ammonium * share, g.nitrate * share);
        shift(&mut g.urea, &mut state.urea, urea);
        shift(&mut g.ammonium, &mut state.ammonium, ammonium);
        shift(&mut g.nitrate, &mut state.nitrate[0], nitrate);
    }
    if g.urea > 0.0 {
        let warm = ((sky.t_mean_c - n.volatile_t_low_c)
            / (n.volatile_t_high_c - n.volatile_t_low_c))
            .clamp(0.0, 1.0);
        let turned = g.urea * n.hydrolysis * (0.3 + 0.7 * warm);
        let lost = turned * n.volatile_share * warm;
        state.totals.ammonia += state.ledger.nitrogen.leave(&mut g.urea, lost);
        shift(&mut g.urea, &mut state.ammonium, turned - lost);
    }
    if g.coated > 0.0 {
        let warm = n.coated_q10.powf((sky.soil_5cm_c - 21.0) / 10.0);
        // Nine tenths are out at the rated time: ln 10 / days.
        let rate = 2.303 / g.coated_days.max(1.0) * n.coated_thatch_factor * warm;
        let amount = g.coated * rate.min(1.0);
        shift(&mut g.coated, &mut state.urea, amount);
    }
}

/// Near saturation, nitrate of the top 15 cm is lost to air, strongly with temperature.
fn denitrify(state: &mut State, setting: &Setting, sky: &Sky) {
    let n = &setting.p.nitrogen;
    for l in 0..2 {
        let wet = state.water[l] / setting.layers[l].sat_mm;
        let over =
            ((wet - n.denitrification_from) / (1.0 - n.denitrification_from)).clamp(0.0, 1.0);
        if over > 0.0 {
            // Doubles every 5 C: a few per cent at 22 C and most of it above 30 C.
            let warm = ((sky.soil_10cm_c - 22.0) / 5.0).exp2();
            let share = (n.denitrification * over * over * warm).min(1.0);
            let amount = state.nitrate[l] * share;
            state.totals.denitrified += state.ledger.nitrogen.leave(&mut state.nitrate[l], amount);
        }
    }
}

/// Nitrate goes down with the water: each layer mixes what it holds with what passes, less the
/// share of water that bypasses the pores where nitrate sits.
fn leach(state: &mut State, setting: &Setting) {
    let n = &setting.p.nitrogen;
    for l in 0..LAYERS {
        let flux = state.today.flux_mm[l];
        if flux <= 0.0 {
            continue;
        }
        let share = flux * (1.0 - n.leaching_bypass) / (state.water[l] + flux);
        let amount = state.nitrate[l] * share;
        if l + 1 < LAYERS {
            let (upper, lower) = state.nitrate.split_at_mut(l + 1);
            shift(&mut upper[l], &mut lower[0], amount);
        } else {
            state.totals.leached += state.ledger.nitrogen.leave(&mut state.nitrate[l], amount);
        }
    }
}

/// Takes up to `demand` g N/m2 into `store`, as far as roots (g/m2, reaching to a depth), warmth
/// and the soil's pools let it; returns what was taken.
pub fn take_up(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    roots: (f64, f64),
    demand: f64,
    store: &mut f64,
) -> f64 {
    let n = &setting.p.nitrogen;
    let (mass, depth_mm) = roots;
    if demand <= 0.0 || mass <= 0.0 || sky.frozen {
        return 0.0;
    }
    let shares = root_shares(depth_mm);
    // Roots of a layer reach all of its nitrate once they hold a tenth of the plant's.
    let within: [f64; LAYERS] =
        std::array::from_fn(|l| state.nitrate[l] * (10.0 * shares[l]).min(1.0));
    let pool = state.ammonium * (shares[0] + shares[1]).min(1.0) + within.iter().sum::<f64>();
    let warm = (sky.soil_10cm_c / 15.0).clamp(0.0, 1.0);
    let capacity = n.uptake_max_g_g * mass * warm * pool / (pool + n.uptake_half_g_m2);
    let want = demand.min(capacity).min(0.5 * pool);
    if want <= 0.0 || pool <= 0.0 {
        return 0.0;
    }
    let share = want / pool;
    let ammonium = state.ammonium * (shares[0] + shares[1]).min(1.0) * share;
    let mut taken = shift(&mut state.ammonium, store, ammonium);
    for (nitrate, within) in state.nitrate.iter_mut().zip(within) {
        taken += shift(nitrate, store, within * share);
    }
    taken
}

/// Mineral nitrogen in the soil, undissolved fertilizer left out, g N/m2.
pub fn mineral(state: &State) -> f64 {
    state.ammonium + state.urea + state.nitrate.iter().sum::<f64>()
}
