//! Mineral nitrogen: what is laid dissolves, turns, leaches, is lost to air; plants take it up.

mod tell;

pub(super) use tell::{Telling, end as tell_end, laid as tell_laid, tell};

use super::foliar;
use super::ledger::shift;
use super::limits::Limits;
use super::quality;
use super::reaction;
use super::roots::root_shares;
use super::setting::{LAYERS, Setting};
use super::state::State;
use crate::weather::Sky;
use crate::work::NitrogenForms;
use std::f64::consts::LN_10;

/// Lays fertilizer on the surface.
pub fn lay(state: &mut State, setting: &Setting, forms: &NitrogenForms) {
    state.totals.laid += forms.total_g_m2();
    reaction::fed(state, setting, forms);
    quality::streak(state, setting, forms);
    let forms = &foliar::catch(state, setting, forms);
    let (quick, slow) = (forms.quick_g_m2(), forms.coated_g_m2 + forms.organic_g_m2);
    let lies = state.granules.coated + state.organic_fertilizer.n;
    let book = &mut state.ledger.nitrogen;
    let g = &mut state.granules;
    g.unevenness = both_uneven((g.quick(), g.unevenness), (quick, forms.unevenness));
    if slow > 0.0 {
        g.loose = (g.loose * lies + slow) / (lies + slow);
    }
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
        let carbon = setting.p.organic.fertilizer_cn * forms.organic_g_m2;
        state.ledger.carbon.enter(&mut state.organic_fertilizer.c, carbon);
    }
}

/// Unevenness of two amounts, laid independently of each other: their variances add.
fn both_uneven((a, cv_a): (f64, f64), (b, cv_b): (f64, f64)) -> f64 {
    if a + b > 0.0 { (a * cv_a).hypot(b * cv_b) / (a + b) } else { 0.0 }
}

/// One day of mineral nitrogen, after the water has moved; `activity` is that of the top soil's
/// microbes ([`super::organic::activity`]).
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, activity: f64) {
    let n = &setting.p.nitrogen;
    state.ledger.nitrogen.enter(&mut state.nitrate[0], n.deposition_g_m2_mm * sky.precip_mm);
    quality::fade(state, setting);
    // Frozen ground sheds rain and melt as any does, and what lies on it goes along.
    wash_off(state, setting);
    if sky.frozen {
        return;
    }
    foliar::step(state, setting, sky);
    dissolve(state, setting);
    volatilize(state, setting, sky);
    release(state, setting, sky);
    turn(state, setting, sky, activity);
    denitrify(state, setting, sky);
    leach(state, setting);
}

/// A storm carries off granules, as far as it runs off; of slow ones those that still lie loose.
fn wash_off(state: &mut State, setting: &Setting) {
    let runoff = state.today.runoff_mm;
    if runoff <= 0.0 {
        return;
    }
    let storm = runoff + state.today.infiltration_mm;
    let share = setting.p.nitrogen.washoff_share * runoff / storm;
    let g = &mut state.granules;
    for store in [&mut g.urea, &mut g.ammonium, &mut g.nitrate] {
        let amount = *store * share;
        state.totals.washed += state.ledger.nitrogen.leave(store, amount);
    }
    let loose = share * g.loose;
    let organic = &mut state.organic_fertilizer;
    for store in [&mut g.coated, &mut organic.n] {
        let amount = *store * loose;
        state.totals.washed += state.ledger.nitrogen.leave(store, amount);
    }
    let carbon = organic.c * loose;
    state.ledger.carbon.leave(&mut organic.c, carbon);
}

/// Water takes quick granules in, and settles slow ones between the shoots.
fn dissolve(state: &mut State, setting: &Setting) {
    let g = &mut state.granules;
    let water = state.today.infiltration_mm;
    if water > 0.0 && g.loose > 0.0 {
        g.loose *= (-water / setting.p.nitrogen.settle_mm).exp();
    }
    if water <= 0.0 || g.quick() <= 0.0 {
        return;
    }
    let share = 1.0 - (-water / setting.p.nitrogen.dissolve_mm).exp();
    let (urea, ammonium, nitrate) = (g.urea * share, g.ammonium * share, g.nitrate * share);
    shift(&mut g.urea, &mut state.urea, urea);
    shift(&mut g.ammonium, &mut state.ammonium, ammonium);
    shift(&mut g.nitrate, &mut state.nitrate[0], nitrate);
}

/// How far warmth lets ammonia go into the air, 0..=1.
pub(super) fn volatile_warmth(setting: &Setting, sky: &Sky) -> f64 {
    let n = &setting.p.nitrogen;
    let range = n.volatile_t_high_c - n.volatile_t_low_c;
    ((sky.t_mean_c - n.volatile_t_low_c) / range).clamp(0.0, 1.0)
}

/// Urea that lies on the surface turns, and part of it is lost as ammonia, more in warmth.
fn volatilize(state: &mut State, setting: &Setting, sky: &Sky) {
    let n = &setting.p.nitrogen;
    let g = &mut state.granules;
    if g.urea <= 0.0 {
        return;
    }
    let warm = volatile_warmth(setting, sky);
    let pace = n.hydrolysis_cold_share + (1.0 - n.hydrolysis_cold_share) * warm;
    let turned = g.urea * n.hydrolysis * pace;
    let lost = turned * n.volatile_share * warm;
    state.totals.ammonia += state.ledger.nitrogen.leave(&mut g.urea, lost);
    shift(&mut g.urea, &mut state.ammonium, turned - lost);
}

/// Coats let go: nine tenths are out at the rated time, so the rate is ln 10 over it.
fn release(state: &mut State, setting: &Setting, sky: &Sky) {
    let g = &mut state.granules;
    if g.coated <= 0.0 {
        return;
    }
    let rated = LN_10 / g.coated_days.max(1.0);
    let thatch = setting.p.nitrogen.coated_thatch_factor;
    let rate = rated * thatch * setting.coating.at(sky.soil_5cm_c);
    let amount = g.coated * rate.min(1.0);
    shift(&mut g.coated, &mut state.urea, amount);
}

/// Microbes turn urea into ammonium and that into nitrate, and put some by in humus: ammonium
/// first, nitrate at a share of its pace. Nitrifiers rest in cold soil before the others do.
fn turn(state: &mut State, setting: &Setting, sky: &Sky, activity: f64) {
    let n = &setting.p.nitrogen;
    let urea = state.urea * (n.hydrolysis * n.hydrolysis_soil_ratio * activity).min(1.0);
    shift(&mut state.urea, &mut state.ammonium, urea);
    let range = n.nitrification_t_full_c - n.nitrification_t_low_c;
    let warm = ((sky.soil_10cm_c - n.nitrification_t_low_c) / range).clamp(0.0, 1.0);
    let pace = n.nitrification * reaction::nitrification(state, setting);
    let nitrified = state.ammonium * (pace * activity * warm).min(1.0);
    let surface = n.nitrate_surface_share * nitrified;
    shift(&mut state.ammonium, &mut state.nitrate[0], surface);
    shift(&mut state.ammonium, &mut state.nitrate[1], nitrified - surface);
    let share = (n.storage * activity).min(1.0);
    let stored = state.ammonium * share;
    shift(&mut state.ammonium, &mut state.humus.n, stored);
    let stored = state.nitrate[0] * share * n.storage_nitrate_ratio;
    shift(&mut state.nitrate[0], &mut state.humus.n, stored);
}

/// Near saturation, nitrate of the top 15 cm is lost to air, strongly with temperature.
fn denitrify(state: &mut State, setting: &Setting, sky: &Sky) {
    let n = &setting.p.nitrogen;
    for l in 0..2 {
        let wet = state.water[l] / setting.layers[l].sat_mm;
        let over =
            ((wet - n.denitrification_from) / (1.0 - n.denitrification_from)).clamp(0.0, 1.0);
        if over > 0.0 {
            let past = sky.soil_10cm_c - n.denitrification_t_c;
            let warm = (past / n.denitrification_doubling_c).exp2();
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

/// Takes up to `demand` g N/m2 into `store`, as far as roots (g/m2, reaching to a depth in mm),
/// warmth and the soil's pools let it (Michaelis-Menten on what is in reach); returns what was
/// taken.
pub(super) fn take_up(
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
    // A few roots reach all of a layer's nitrate; ammonium stays where it is.
    let per_share = 1.0 / n.uptake_reach_share;
    let within: [f64; LAYERS] =
        std::array::from_fn(|l| state.nitrate[l] * (shares[l] * per_share).min(1.0));
    let ammonium = state.ammonium * (shares[0] + shares[1]).min(1.0);
    let pool = ammonium + within.iter().sum::<f64>();
    let warm = (sky.soil_10cm_c / n.uptake_t_full_c).clamp(0.0, 1.0);
    let capacity = n.uptake_max_g_g * mass * warm * pool / (pool + n.uptake_half_g_m2);
    let want = demand.at_most(capacity).at_most(n.uptake_day_max * pool);
    if want <= 0.0 || pool <= 0.0 {
        return 0.0;
    }
    let share = want / pool;
    let mut taken = shift(&mut state.ammonium, store, ammonium * share);
    for (nitrate, within) in state.nitrate.iter_mut().zip(within) {
        taken += shift(nitrate, store, within * share);
    }
    taken
}

/// Mineral nitrogen in the soil, undissolved fertilizer left out, g N/m2.
pub(super) fn mineral(state: &State) -> f64 {
    state.ammonium + state.urea + state.nitrate.iter().sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{lawn, sky};
    use super::*;

    const UREA: NitrogenForms = NitrogenForms {
        urea_g_m2: 5.0,
        ammonium_g_m2: 0.0,
        nitrate_g_m2: 0.0,
        coated_g_m2: 0.0,
        coated_days: 0.0,
        organic_g_m2: 0.0,
        unevenness: 0.0,
        on_leaf: false,
        phosphate_g_m2: 0.0,
    };

    /// Ammonia lost in a week from urea laid dry, or after `water_mm` on the first day.
    fn ammonia(t_c: f64, water_mm: f64) -> f64 {
        let (setting, mut state) = lawn();
        lay(&mut state, &setting, &UREA);
        state.today.infiltration_mm = water_mm;
        dissolve(&mut state, &setting);
        for _ in 0..7 {
            volatilize(&mut state, &setting, &sky(t_c));
        }
        state.totals.ammonia
    }

    /// More in warmth up to 22 C and no further (Titko et al. 1987); watering in keeps it down
    /// (12 mm and more keeps most of it in: common practice).
    #[test]
    fn ammonia_goes_with_warmth_and_stops_with_water() {
        assert!(ammonia(22.0, 0.0) > 1.5 * ammonia(10.0, 0.0));
        assert_eq!(ammonia(22.0, 0.0), ammonia(32.0, 0.0));
        assert!(ammonia(22.0, 12.0) < 0.1 * ammonia(22.0, 0.0));
    }

    /// Kelling & Peterson 1975: 10.6 % lost at once against 1.7 % after watering in.
    #[test]
    fn watering_in_saves_granules_from_a_storm() {
        let washed = |water_mm: f64| {
            let (setting, mut state) = lawn();
            lay(&mut state, &setting, &UREA);
            state.today.infiltration_mm = water_mm;
            dissolve(&mut state, &setting);
            (state.today.infiltration_mm, state.today.runoff_mm) = (70.0, 30.0);
            wash_off(&mut state, &setting);
            state.totals.washed / UREA.urea_g_m2
        };
        assert!((washed(0.0) - 0.105).abs() < 0.01, "{}", washed(0.0));
        assert!(washed(6.0) < 0.25 * washed(0.0), "{}", washed(6.0));
    }

    /// Most of what runs off lawns runs off frozen or saturated ground (Stier & Soldat 2011): what lies there
    /// goes along, as on any other ground, and nothing goes in.
    #[test]
    fn frozen_ground_lets_granules_go() {
        let (setting, mut state) = lawn();
        lay(&mut state, &setting, &UREA);
        (state.today.infiltration_mm, state.today.runoff_mm) = (10.0, 20.0);
        let frozen = Sky { frozen: true, ..sky(-2.0) };
        step(&mut state, &setting, &frozen, 0.0);
        let washed = state.totals.washed / UREA.urea_g_m2;
        assert!((washed - setting.p.nitrogen.washoff_share * 2.0 / 3.0).abs() < 1e-9, "{washed}");
        assert!((state.granules.urea - UREA.urea_g_m2 * (1.0 - washed)).abs() < 1e-9);
    }

    /// Coats and organic granules go with a storm as quick ones do, as long as they lie loose, with
    /// their carbon; the books stay closed.
    #[test]
    fn slow_granules_wash_off_until_they_have_settled() {
        let washed = |water_mm: f64| {
            let (setting, mut state) = lawn();
            let slow = NitrogenForms { coated_g_m2: 3.0, coated_days: 90.0, ..UREA };
            lay(&mut state, &setting, &NitrogenForms { urea_g_m2: 0.0, organic_g_m2: 2.0, ..slow });
            let before = state.stocks(&setting);
            state.today.infiltration_mm = water_mm;
            dissolve(&mut state, &setting);
            (state.today.infiltration_mm, state.today.runoff_mm) = (70.0, 30.0);
            wash_off(&mut state, &setting);
            let after = state.stocks(&setting);
            let carbon = setting.p.organic.fertilizer_cn * state.totals.washed * 2.0 / 5.0;
            assert!((before[1] - after[1] - state.totals.washed).abs() < 1e-9);
            assert!((before[2] - after[2] - carbon).abs() < 1e-9);
            state.totals.washed / 5.0
        };
        assert!((washed(0.0) - 0.105).abs() < 0.01, "{}", washed(0.0));
        assert!(washed(13.0) < 0.4 * washed(0.0), "{}", washed(13.0));
    }

    /// Rated at 21 C without thatch, nine tenths are out at the rated time.
    #[test]
    fn coats_keep_their_rating() {
        let (mut setting, mut state) = lawn();
        setting.p.nitrogen.coated_thatch_factor = 1.0;
        lay(&mut state, &setting, &NitrogenForms { coated_g_m2: 5.0, coated_days: 90.0, ..UREA });
        for _ in 0..90 {
            release(&mut state, &setting, &sky(21.0));
        }
        assert!((state.granules.coated / 5.0 - 0.1).abs() < 0.01, "{}", state.granules.coated);
    }

    /// Piston and mixing: as much water as a layer holds takes half of its nitrate, less what
    /// bypasses; no water, no loss; ammonium stays.
    #[test]
    fn nitrate_goes_down_with_water() {
        let (mut setting, mut state) = lawn();
        setting.p.nitrogen.leaching_bypass = 0.0;
        state.nitrate = [0.0; LAYERS];
        state.nitrate[LAYERS - 1] = 4.0;
        let ammonium = state.ammonium;
        leach(&mut state, &setting);
        assert_eq!(state.totals.leached, 0.0);
        state.today.flux_mm[LAYERS - 1] = state.water[LAYERS - 1];
        leach(&mut state, &setting);
        assert!((state.totals.leached - 2.0).abs() < 1e-12);
        assert_eq!(state.ammonium, ammonium);
    }

    /// Mancino 1988 (from memory): at saturation in silt loam 2-5 % at 22 C, 45-93 % from 30 C on
    /// over some days, under 1 % at 75 % of saturation.
    #[test]
    fn denitrification_needs_saturation() {
        let lost = |wet: f64, t_c: f64| {
            let (setting, mut state) = lawn();
            state.nitrate = [0.0; LAYERS];
            state.nitrate[0] = 4.0;
            state.water[0] = wet * setting.layers[0].sat_mm;
            state.water[1] = 0.0;
            denitrify(&mut state, &setting, &sky(t_c));
            state.totals.denitrified / 4.0
        };
        assert_eq!(lost(0.75, 30.0), 0.0);
        assert!((0.02..0.05).contains(&lost(1.0, 22.0)), "{}", lost(1.0, 22.0));
        assert!(lost(1.0, 32.0) > 3.9 * lost(1.0, 22.0));
    }
}
