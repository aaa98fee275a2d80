//! Nitrogen sprayed and left on the leaf: leaf takes part of it in, water carries the rest down, a
//! little is lost to the air; too much of it, or in heat, burns.

use super::ledger::shift;
use super::setting::Setting;
use super::state::State;
use super::{leaf, nitrogen, quality};
use crate::weather::Sky;
use crate::work::NitrogenForms;

/// Quick nitrogen on leaves, g N/m2.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct OnLeaf {
    /// Urea.
    pub urea: f64,
    /// Ammonium.
    pub ammonium: f64,
    /// Nitrate.
    pub nitrate: f64,
    /// Whether it was sprayed today, and may still burn.
    pub fresh: bool,
}

/// Less than this is none, g N/m2.
const NONE_G_M2: f64 = 1e-6;

impl OnLeaf {
    /// All of it, g N/m2.
    pub fn total(&self) -> f64 {
        self.urea + self.ammonium + self.nitrate
    }

    /// Its stores, in the order in which they are named.
    fn stores(&mut self) -> [&mut f64; 3] {
        [&mut self.urea, &mut self.ammonium, &mut self.nitrate]
    }
}

/// What of quick nitrogen a spray leaves on leaves goes there; the rest is for the ground, with all
/// that is slow.
pub(super) fn catch(state: &mut State, setting: &Setting, forms: &NitrogenForms) -> NitrogenForms {
    if !forms.on_leaf {
        return *forms;
    }
    let cover = (state.turf_cover() + state.weed_cover()).clamp(0.0, 1.0);
    let share = setting.p.foliar.caught * cover;
    let book = &mut state.ledger.nitrogen;
    book.enter(&mut state.on_leaf.urea, forms.urea_g_m2 * share);
    book.enter(&mut state.on_leaf.ammonium, forms.ammonium_g_m2 * share);
    book.enter(&mut state.on_leaf.nitrate, forms.nitrate_g_m2 * share);
    state.on_leaf.fresh = true;
    NitrogenForms {
        urea_g_m2: forms.urea_g_m2 * (1.0 - share),
        ammonium_g_m2: forms.ammonium_g_m2 * (1.0 - share),
        nitrate_g_m2: forms.nitrate_g_m2 * (1.0 - share),
        ..*forms
    }
}

/// One day of it, after the water has moved.
pub(super) fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    if state.on_leaf.total() <= 0.0 {
        return;
    }
    wash_down(state, setting);
    if state.on_leaf.fresh {
        burn(state, setting, sky);
        state.on_leaf.fresh = false;
    }
    take_in(state, setting);
    lose(state, setting, sky);
    if state.on_leaf.total() < NONE_G_M2 {
        drop_rest(state);
    }
}

fn wash_down(state: &mut State, setting: &Setting) {
    let water = state.today.infiltration_mm;
    if water > 0.0 {
        down(state, 1.0 - (-water / setting.p.foliar.down_mm).exp());
    }
}

fn down(state: &mut State, share: f64) {
    let OnLeaf { urea, ammonium, nitrate, .. } = state.on_leaf;
    shift(&mut state.on_leaf.urea, &mut state.urea, urea * share);
    shift(&mut state.on_leaf.ammonium, &mut state.ammonium, ammonium * share);
    shift(&mut state.on_leaf.nitrate, &mut state.nitrate[0], nitrate * share);
}

/// The last trace goes to the ground, so that nothing is left to count.
fn drop_rest(state: &mut State) {
    down(state, 1.0);
    state.on_leaf = OnLeaf::default();
}

/// What dries on the leaf burns it beyond a rate that falls in heat.
fn burn(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.foliar;
    let hot = ((sky.t_max_c - p.burn_t_low_c) / (p.burn_t_c - p.burn_t_low_c)).clamp(0.0, 1.0);
    let limit = p.burn_cool_g_m2 + (p.burn_hot_g_m2 - p.burn_cool_g_m2) * hot;
    let over = state.on_leaf.total() / (p.caught * limit) - 1.0;
    leaf::burn(state, setting, (p.burnt * over).clamp(0.0, p.burnt_max));
}

/// Green leaf takes it in, up to what plants can hold.
fn take_in(state: &mut State, setting: &Setting) {
    let (p, s) = (&setting.p.foliar, &setting.p.sward);
    let on = state.on_leaf;
    for i in 0..setting.grasses.len() {
        let green = state.plants[i].cover * quality::greenness(state, setting, i);
        let plant = &mut state.plants[i];
        let room = (s.nitrogen_max * plant.leaf_equivalent(s) - plant.nitrogen).max(0.0);
        let wanted = (p.uptake * green).min(1.0) * on.total();
        if wanted <= 0.0 {
            continue;
        }
        let share = p.uptake * green * (room / wanted).min(1.0);
        let shares = [on.urea, on.ammonium, on.nitrate].map(|store| store * share);
        for (store, amount) in state.on_leaf.stores().into_iter().zip(shares) {
            state.totals.uptake += shift(store, &mut plant.nitrogen, amount);
        }
    }
}

/// Some of the urea is lost as ammonia, more in warmth (as from the surface, 7.6).
fn lose(state: &mut State, setting: &Setting, sky: &Sky) {
    let warm = nitrogen::volatile_warmth(setting, sky);
    let lost = state.on_leaf.urea * setting.p.foliar.lost * warm;
    state.totals.ammonia += state.ledger.nitrogen.leave(&mut state.on_leaf.urea, lost);
}

#[cfg(test)]
mod tests {
    use super::super::nitrogen::lay;
    use super::super::tests_support::{lawn, sky};
    use super::*;

    fn sprayed(g_m2: f64) -> NitrogenForms {
        NitrogenForms { urea_g_m2: g_m2, on_leaf: true, ..NitrogenForms::default() }
    }

    fn hungry() -> (Setting, State) {
        let (setting, mut state) = lawn();
        state.set_canopy(&setting, 70.0);
        let s = &setting.p.sward;
        state.plants[0].cover = 0.95;
        state.plants[0].nitrogen = s.nitrogen_min * state.plants[0].leaf_equivalent(s);
        state.open_books(&setting);
        (setting, state)
    }

    /// Leaves take a third to two thirds of sprayed urea within two days (from memory); after a good
    /// watering little is left for them.
    #[test]
    fn leaf_takes_part_in_unless_it_is_washed_off() {
        let taken = |water_mm: f64| {
            let (setting, mut state) = hungry();
            let before = state.stocks(&setting)[1];
            lay(&mut state, &setting, &sprayed(0.6));
            let caught = state.on_leaf.total();
            state.today.infiltration_mm = water_mm;
            for _ in 0..2 {
                step(&mut state, &setting, &sky(18.0));
                state.today.infiltration_mm = 0.0;
            }
            let after = state.stocks(&setting)[1] + state.totals.ammonia;
            assert!((after - before - 0.6).abs() < 1e-9, "{before} {after}");
            state.totals.uptake / caught
        };
        assert!((0.3..0.67).contains(&taken(0.0)), "{}", taken(0.0));
        assert!(taken(12.0) < 0.1 * taken(0.0));
    }

    /// At most 0.25 lb/1000 ft2 left on the leaf, and 0.1 lb above 85 degF (common practice): within
    /// that no leaf is burnt, at three times as much some is, in heat more.
    #[test]
    fn too_much_on_the_leaf_burns() {
        let lb_1000_ft2 = 453.592_37 / 92.903_04;
        let burnt = |lb: f64, t_mean_c: f64| {
            let (setting, mut state) = hungry();
            state.plants[0].cover = 1.0;
            let leaf = state.plants[0].leaf;
            lay(&mut state, &setting, &sprayed(lb * lb_1000_ft2));
            step(&mut state, &setting, &sky(t_mean_c));
            1.0 - state.plants[0].leaf / leaf
        };
        assert!(burnt(0.25, 18.0) < 1e-3 && burnt(0.1, 26.0) < 1e-3);
        assert!(burnt(0.75, 18.0) > 0.02, "{}", burnt(0.75, 18.0));
        assert!(burnt(0.25, 26.0) > 0.02, "{}", burnt(0.25, 26.0));
    }
}
