//! Leaf: how it lengthens, and how it dies.

use super::limits::Limits;
use super::plant::{build, power_of_share, profile};
use super::setting::Setting;
use super::state::State;
use super::warmth::{REFERENCE_T_C, Warmth};
use crate::weather::Sky;

/// Green leaf ages, and dries in drought, heat and hard frost; part of its nitrogen is drawn
/// back.
pub(super) fn senesce(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let plant = &mut state.plants[i];
    // Slight stress slows leaves before it browns them: the square of the shortage.
    let dry = ((s.drought_leaf_ks - plant.ks) / s.drought_leaf_ks).max(0.0);
    let hot = ((sky.t_max_c - traits.heat_t_c) / s.heat_scale_c).max(0.0).at_most(s.heat_leaf_max);
    let frost = (s.frost_leaf_loss_per_c * (s.frost_leaf_loss_t_c - sky.t_min_c))
        .max(0.0)
        .at_most(s.frost_leaf_loss_max);
    let warm = (sky.t_mean_c / REFERENCE_T_C).max(0.0).at_most(s.leaf_ageing_max);
    let age = s.leaf_ageing_cold_share + (1.0 - s.leaf_ageing_cold_share) * warm;
    let starved = s.starving_leaf_loss
        * plant.starving
        * warmth.respiration.at_most(s.starving_respiration_max);
    let share = ((age + starved) / s.leaf_life_days
        + s.drought_leaf_loss * dry * dry
        + s.heat_leaf_loss * hot
        + frost)
        .at_most(s.leaf_loss_max);
    let leaf = plant.leaf * share;
    plant.leaf -= leaf;
    state.litter.c += leaf * s.carbon_share;
    let nitrogen = leaf * plant.leaf_n * (1.0 - s.nitrogen_resorption);
    super::ledger::shift(&mut plant.nitrogen, &mut state.litter.n, nitrogen);
}

/// A share of a grass's green leaf withers, its nitrogen with it.
pub(super) fn wither(state: &mut State, setting: &Setting, i: usize, share: f64) {
    let plant = &mut state.plants[i];
    let leaf = plant.leaf * share.clamp(0.0, 1.0);
    plant.leaf -= leaf;
    state.litter.c += leaf * setting.p.sward.carbon_share;
    super::ledger::shift(&mut plant.nitrogen, &mut state.litter.n, leaf * plant.leaf_n);
}

/// Burns a share of every grass's green leaf: it is litter, and its nitrogen with it.
pub(super) fn burn(state: &mut State, setting: &Setting, share: f64) {
    if share <= 0.0 {
        return;
    }
    for i in 0..setting.grasses.len() {
        wither(state, setting, i, share);
    }
}

/// Leaves lengthen as far as warmth, water, nitrogen and reserves let them, and thin canopies
/// fill up again.
pub(super) fn grow(
    state: &mut State,
    setting: &Setting,
    warmth: &Warmth,
    full_leaf: f64,
    i: usize,
) {
    let s = &setting.p.sward;
    let plant = &state.plants[i];
    // Lengthening feels drought before assimilation does.
    let wet = power_of_share(plant.ks, setting.p.water.extension_stress_power);
    let extension = extension_mm(setting, warmth, plant.fed * wet, plant.height_mm, i);
    // What the taller canopy would hold more than this one.
    let taller =
        if extension > 0.0 { profile(plant.height_mm + extension, s) } else { plant.profile };
    let longer = full_leaf * (taller / plant.profile - 1.0);
    let vigour = (plant.leaf / full_leaf.max(1e-9)).at_least(s.vigour_min).min(1.0);
    // Refilling goes on in weather too cool or warm for lengthening.
    let gentle =
        s.refill_cool_share * warmth.photosynthesis + (1.0 - s.refill_cool_share) * warmth.shoot[i];
    let fed = s.refill_hungry_share + (1.0 - s.refill_hungry_share) * plant.fed;
    // A plant that stands dry builds no leaf only to lose it: it keeps its reserves for the rain.
    let dry = s.refill_ks_low;
    let drinks = ((plant.ks - dry) / (s.refill_ks_full - dry)).clamp(0.0, 1.0);
    let pace = gentle * wet * drinks * fed;
    let refill = (full_leaf - plant.leaf).max(0.0) / s.leaf_refill_days * pace;
    let demand = longer * vigour + refill;
    let room = plant.nitrogen_room(s);
    let grown = build(state, setting, i, demand.at_most(room));
    let plant = &mut state.plants[i];
    plant.leaf += grown;
    if grown >= demand && demand > 0.0 {
        plant.extension_mm = extension;
        plant.height_mm += extension;
        plant.profile = taller;
    } else {
        plant.extension_mm = if demand > 0.0 { extension * grown / demand } else { 0.0 };
        if plant.extension_mm > 0.0 {
            plant.set_height(plant.height_mm + plant.extension_mm, s);
        }
    }
}

/// Height that leaves would grow today with reserves to spare, mm: the grass's best times the
/// shoot growth index, food and water, and less as leaves near the height at which they lodge.
fn extension_mm(setting: &Setting, warmth: &Warmth, supply: f64, height_mm: f64, i: usize) -> f64 {
    let s = &setting.p.sward;
    let relative = height_mm / s.height_max_mm;
    let pace = warmth.shoot[i] * warmth.soil * warmth.spring * supply;
    setting.grasses[i].extension_max_mm * pace * (1.0 - relative * relative).max(0.0)
}
