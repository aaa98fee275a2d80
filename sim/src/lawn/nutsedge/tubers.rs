//! Tubers: how they sprout, die and are made.

use super::super::setting::Setting;
use super::super::state::State;
use super::{Nutsedge, Stand, to_litter};
use crate::parameters::Nutsedge as Constants;
use crate::weather::Sky;

/// Days in a year.
const YEAR_DAYS: f64 = 365.25;

/// Fewer shoots or tubers than this are none, 1/m2.
const NONE_M2: f64 = 1e-6;

/// Winter is over: this year's tubers join the others, and a share sprouts next.
pub(super) fn turn_year(n: &mut Nutsedge, setting: &Setting) {
    let tubers = n.tubers + n.fresh;
    let coldest_c = n.coldest_c.min(0.0);
    *n = Nutsedge { cover: n.cover, coldest_c, ..Nutsedge::from_tubers(setting, tubers) };
}

/// Share of the year's sprouting that is done by a moist thermal time, 0..=1 (lagged Weibull).
pub(super) fn sprouted(progress_dd: f64, p: &Constants) -> f64 {
    let past = progress_dd - p.lag_dd;
    if past <= 0.0 { 0.0 } else { 1.0 - (-(past / p.scale_dd).powf(p.shape)).exp() }
}

/// Share of tubers that lives through soil of a temperature, 0..=1: half at `cold_half_c`.
pub(super) fn cold_survival(t_c: f64, p: &Constants) -> f64 {
    1.0 / (1.0 + ((p.cold_half_c - t_c) / p.cold_width_c).exp())
}

/// One day: tubers die, of age and cold, and sprout.
pub(super) fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.nutsedge;
    let aged = 1.0 - p.tuber_survival.powf(1.0 / YEAR_DAYS);
    lose(state, setting, aged);
    if sky.soil_10cm_c < state.nutsedge.coldest_c {
        let before = cold_survival(state.nutsedge.coldest_c, p);
        let now = cold_survival(sky.soil_10cm_c, p);
        state.nutsedge.coldest_c = sky.soil_10cm_c;
        lose(state, setting, 1.0 - now / before);
    } else if sky.soil_10cm_c > p.base_t_c {
        // Tubers that cold has spared harden anew before the next winter.
        state.nutsedge.coldest_c = 0.0;
    }
    sprout(state, setting, sky);
}

/// A share of all tubers dies.
fn lose(state: &mut State, setting: &Setting, share: f64) {
    if share <= 0.0 {
        return;
    }
    let n = &mut state.nutsedge;
    let dead = (n.tubers + n.fresh) * share;
    n.tubers *= 1.0 - share;
    n.germinable *= 1.0 - share;
    n.fresh *= 1.0 - share;
    to_litter(state, setting, 0.0, dead * setting.p.nutsedge.tuber_g);
}

/// Sprouting runs with warmth of the soil at 10 cm, as far as it is moist there.
fn sprout(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.nutsedge;
    let warm = (sky.soil_10cm_c - p.base_t_c).max(0.0);
    let layer = &setting.layers[1];
    let held = ((state.water[1] - layer.wp_mm) * layer.per_available_mm).clamp(0.0, 1.0);
    let n = &mut state.nutsedge;
    if warm <= 0.0 || held <= 0.0 || n.germinable <= NONE_M2 {
        return;
    }
    let before = n.sprouted;
    n.progress_dd += warm * (held / p.moist_from).min(1.0);
    n.sprouted = sprouted(n.progress_dd, p);
    // Of those that have not sprouted and still live.
    let share = if before < 1.0 { (n.sprouted - before) / (1.0 - before) } else { 0.0 };
    let up = n.germinable * share;
    if up <= NONE_M2 {
        return;
    }
    n.germinable -= up;
    n.tubers = (n.tubers - up).max(0.0);
    n.emerged += up;
    let turf = state.turf_cover().clamp(0.0, 1.0);
    for (part, share) in state.nutsedge.parts.iter_mut().zip([1.0 - turf, turf]) {
        part.join(up * share, p.shoot_area_m2);
    }
    // What of the tuber does not make the shoot is breathed out or rots.
    let rest = up * (p.tuber_g - p.shoot_area_m2 * p.leaf_g_m2);
    let carbon = rest * setting.p.sward.carbon_share;
    let mut breath = carbon * p.sprout_breath;
    state.root_litter.c += carbon - breath;
    state.root_litter.n += rest * p.nitrogen_share;
    let all = breath;
    state.ledger.carbon.leave(&mut breath, all);
}

impl Stand {
    /// Adds shoots of a leaf area, keeping the mean of their areas.
    fn join(&mut self, more: f64, area_m2: f64) {
        if more > 0.0 {
            self.area_m2 = (self.leaf_area() + more * area_m2) / (self.shoots + more);
            self.shoots += more;
        }
    }
}
