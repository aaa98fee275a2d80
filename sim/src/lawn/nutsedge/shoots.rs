//! Shoots: how they grow, branch, feed tubers, are mown and die.

use super::super::crabgrass;
use super::super::mowing;
use super::super::nitrogen;
use super::super::seeding;
use super::super::setting::Setting;
use super::super::state::State;
use super::super::warmth::trapezoid;
use super::{Nutsedge, Stand, room, to_litter};
use crate::calendar::SOLSTICE_DAY;
use crate::parameters::Nutsedge as Constants;
use crate::weather::Sky;
use crate::work::Clippings;

/// Fewer shoots than this are none, 1/m2.
const NONE_M2: f64 = 1e-6;

/// Share of what shoots make that goes to new tubers, 0..=1.
fn tuber_share(p: &Constants, sky: &Sky) -> f64 {
    if sky.day_of_year <= SOLSTICE_DAY {
        return 0.0;
    }
    let short = (p.tuber_day_length_h - sky.day_length_h)
        / (p.tuber_day_length_h - p.tuber_full_day_length_h);
    p.tuber_share * short.clamp(0.0, 1.0)
}

/// How far the soil's wetness lets it grow, 0..=1: it thrives where soil stands near saturation.
fn wetness(state: &State, setting: &Setting) -> f64 {
    let p = &setting.p.nutsedge;
    let (mut held, mut holds) = (0.0, 0.0);
    for (water, layer) in state.water.iter().zip(&setting.layers).take(3) {
        held += (water - layer.wp_mm).max(0.0);
        holds += layer.sat_mm - layer.wp_mm;
    }
    p.dry_pace + (1.0 - p.dry_pace) * (held / holds / p.wet_full).min(1.0)
}

/// Today's conditions of both parts.
struct Conditions {
    /// Growth at full light, 1/day.
    pace: f64,
    /// Light at the foot, in gaps and under turf, share of full sun.
    light: [f64; 2],
    /// Share of a grown shoot's leaf that stands in the light above the turf, 0..=1.
    above: f64,
    sun: f64,
}

/// Net gain of a shoot in today's light over that in full sun; below 0 light does not pay.
fn net_gain(p: &Constants, c: &Conditions, part: usize, area_m2: f64) -> f64 {
    // Leaf is fed up into the canopy by the tuber, and then past it. Half way up a canopy the light
    // is the geometric mean of that below and above (Beer's law).
    let lifted = area_m2 / (area_m2 + p.lift_area_m2);
    let foot = c.light[part].min(c.sun);
    let middle = (foot * c.sun).sqrt();
    let seen = foot + lifted * ((middle - foot) + c.above * (c.sun - middle));
    let best = 1.0 / (1.0 + p.light_half) - p.light_compensation;
    (seen / (seen + p.light_half) - p.light_compensation) / best
}

/// One day of all shoots.
pub(super) fn grow(state: &mut State, setting: &Setting, sky: &Sky) {
    if state.nutsedge.shoots() <= NONE_M2 {
        return;
    }
    let p = &setting.p.nutsedge;
    let ks = state.today.nutsedge_ks;
    let warm = trapezoid(sky.t_mean_c, p.t_low_c, p.t_opt_low_c, p.t_opt_high_c, p.t_high_c);
    let wet = wetness(state, setting);
    lengthen(state, setting, warm * ks.sqrt() * wet);
    let (in_gaps, in_turf) = crabgrass::seedling_light(state, setting);
    let canopy = state.canopy_height_mm();
    let height = state.nutsedge.height_mm;
    let conditions = Conditions {
        pace: p.rgr * warm * ks.sqrt() * wet,
        light: [in_gaps * seeding::light_below(state, setting), in_turf],
        above: if height > canopy { 1.0 - canopy / height } else { 0.0 },
        sun: setting.sun,
    };
    let leaks = room::leaks(state, setting, p.invasion_light);
    let reach = room::in_reach(state, room::Holder::Nutsedge, &leaks);
    let full = (p.leaf_area_max * reach).max(f64::MIN_POSITIVE);
    let free = (1.0 - state.nutsedge.leaf_area() / full).clamp(0.0, 1.0);
    let to_tubers = tuber_share(p, sky);
    // Leaf growth of each part, 1/day, and what all parts lay by in tubers, m2 of leaf's worth.
    let (mut rates, mut wanted, mut stored) = ([0.0; 2], 0.0, 0.0);
    let mut nets = [0.0; 2];
    for k in 0..2 {
        let stand = state.nutsedge.parts[k];
        nets[k] = net_gain(p, &conditions, k, stand.area_m2);
        let made = conditions.pace * nets[k].max(0.0) * (1.0 - stand.stopped());
        let size = (1.0 - stand.area_m2 / p.shoot_area_max_m2).max(0.0);
        // Room is filled by more shoots, size is filled by each.
        rates[k] = made * (1.0 - to_tubers) * free * (p.branching + (1.0 - p.branching) * size);
        wanted += stand.leaf_area() * rates[k];
        stored += stand.leaf_area() * made * to_tubers * p.tuber_yield;
    }
    let fed = feed(state, setting, sky, wanted + stored);
    let grams = (wanted + stored) * fed * p.leaf_g_m2;
    let mut made = 0.0;
    state.ledger.carbon.enter(&mut made, grams * setting.p.sward.carbon_share);
    state.nutsedge.fresh += stored * fed * p.leaf_g_m2 / p.tuber_g;
    let dry = p.dry_loss * (1.0 - ks);
    for k in 0..2 {
        let stand = &mut state.nutsedge.parts[k];
        let size = (1.0 - stand.area_m2 / p.shoot_area_max_m2).max(0.0);
        let of_size = (1.0 - p.branching) * size;
        let growth = rates[k] * fed;
        let larger = 1.0 + growth * of_size / (p.branching + of_size);
        stand.shoots *= (1.0 + growth) / larger;
        stand.area_m2 *= larger;
        let shade = (1.0 - nets[k] / p.shade_gain).max(0.0);
        let loss = (p.loss + dry + p.shade_loss * shade).min(p.loss_max);
        fall(state, setting, k, loss);
    }
}

/// Leaves lengthen; nothing holds them back but what holds all growth.
fn lengthen(state: &mut State, setting: &Setting, pace: f64) {
    let p = &setting.p.nutsedge;
    let n = &mut state.nutsedge;
    let left = (1.0 - n.height_mm / p.height_max_mm).max(0.0);
    n.height_mm += p.extension_max_mm * pace * left;
}

/// Takes up the nitrogen that growth wants; returns the share of it that was had, 0..=1.
fn feed(state: &mut State, setting: &Setting, sky: &Sky, wanted_m2: f64) -> f64 {
    let p = &setting.p.nutsedge;
    let demand = wanted_m2 * p.leaf_g_m2 * p.nitrogen_share;
    if demand <= 0.0 {
        return 0.0;
    }
    let mass = p.uptake_root_share * state.nutsedge.leaf_area() * p.leaf_g_m2;
    let roots = (mass, p.root_depth_mm.min(setting.root_limit_mm));
    let mut taken = 0.0;
    nitrogen::take_up(state, setting, sky, roots, demand, &mut taken);
    taken / demand
}

/// A share of the shoots of part `k` dies, with what a spray had marked of them.
fn fall(state: &mut State, setting: &Setting, k: usize, share: f64) {
    let stand = &mut state.nutsedge.parts[k];
    let dead = stand.leaf_area() * share;
    for n in [&mut stand.shoots, &mut stand.doomed, &mut stand.burned] {
        *n *= 1.0 - share;
    }
    bury(state, setting, dead);
}

/// Dead shoots by their leaf area, m2/m2, become litter, their bases below ground.
fn bury(state: &mut State, setting: &Setting, area: f64) {
    let p = &setting.p.nutsedge;
    let grams = area * p.leaf_g_m2;
    to_litter(state, setting, grams * (1.0 - p.base_share), grams * p.base_share);
}

/// A share of all shoots dies, 0..=1; tubers that have not sprouted do not feel it.
pub(in crate::lawn) fn kill(state: &mut State, setting: &Setting, share: f64) {
    for k in 0..2 {
        fall(state, setting, k, share.clamp(0.0, 1.0));
    }
}

/// Frost, or the year's end: every top dies.
pub(super) fn kill_all(state: &mut State, setting: &Setting) {
    let area = state.nutsedge.leaf_area();
    if area > 0.0 {
        bury(state, setting, area);
    }
    let n = &mut state.nutsedge;
    n.parts = [Stand::default(); 2];
    n.height_mm = 0.0;
}

/// A mower takes what stands above the deck.
pub(in crate::lawn) fn mown(
    state: &mut State,
    setting: &Setting,
    height_mm: f64,
    clippings: Clippings,
) {
    let p = &setting.p.nutsedge;
    let n = &mut state.nutsedge;
    if n.height_mm <= height_mm {
        return;
    }
    // Leaf is even over its height but for the base, which is below the deck.
    let share = (1.0 - p.base_share) * (1.0 - height_mm / n.height_mm);
    n.height_mm = height_mm;
    let mut cut = 0.0;
    for stand in &mut n.parts {
        cut += stand.leaf_area() * share * p.leaf_g_m2;
        stand.area_m2 *= 1.0 - share;
    }
    mowing::lay_clippings(state, setting, cut, cut * p.nitrogen_share, clippings);
}

/// How much more a grown shoot bears of a spray than one of three leaves.
fn size_factor(p: &Constants, area_m2: f64) -> f64 {
    let stage = (area_m2 / p.young_area_m2).ln() / (p.old_area_m2 / p.young_area_m2).ln();
    p.size_ratio.powf(stage.clamp(0.0, 1.0))
}

/// Marks what a spray will do: `kill` gives, for what a shoot of its size bears over a young one, the
/// share whose leaf withers and the share that dies tuber and all. Returns the shoots that will die,
/// 1/m2.
pub(in crate::lawn) fn doom(
    state: &mut State,
    setting: &Setting,
    kill: impl Fn(f64) -> [f64; 2],
) -> f64 {
    let p = &setting.p.nutsedge;
    let mut sum = 0.0;
    for stand in state.nutsedge.parts.iter_mut().filter(|s| s.shoots > 0.0) {
        let [leaf, plants] = kill(size_factor(p, stand.area_m2));
        let sound = stand.shoots - stand.doomed - stand.burned;
        let dead = (stand.shoots - stand.doomed).max(0.0) * plants;
        stand.burned = stand.burned * (1.0 - plants) + sound.max(0.0) * (leaf - plants).max(0.0);
        stand.doomed += dead;
        sum += dead;
    }
    sum
}

/// A day's share of what a spray has marked dies, or withers to the base. Returns what is left
/// marked, 1/m2.
pub(in crate::lawn) fn wither(state: &mut State, setting: &Setting, pace: f64) -> f64 {
    let p = &setting.p.nutsedge;
    let (mut dead, mut left) = (0.0, 0.0);
    for stand in &mut state.nutsedge.parts {
        let gone = stand.doomed * pace;
        dead += gone * stand.area_m2;
        stand.shoots = (stand.shoots - gone).max(0.0);
        stand.doomed -= gone;
        let burned = stand.burned * pace;
        let lost = burned * (stand.area_m2 - p.shoot_area_m2).max(0.0);
        if stand.shoots > 0.0 {
            stand.area_m2 -= lost / stand.shoots;
            dead += lost;
        }
        stand.burned -= burned;
        left += stand.doomed + stand.burned;
    }
    bury(state, setting, dead);
    left
}

impl Nutsedge {
    /// How far it stands above the turf, mm.
    pub fn above_mm(&self, canopy_mm: f64) -> f64 {
        (self.height_mm - canopy_mm).max(0.0)
    }
}
