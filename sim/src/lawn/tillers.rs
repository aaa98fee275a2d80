//! Tillers come and go; cover spreads into gaps and opens when stands die.

use super::growth::{GONE_COVER, Warmth, nitrogen_factor, reserve_level, surplus};
use super::setting::Setting;
use super::state::State;
use crate::weather::Sky;

/// Lets a share of grass `i` die: its leaf, bases, reserves and roots become litter.
pub fn die(state: &mut State, setting: &Setting, i: usize, share: f64) {
    let s = &setting.p.sward;
    let share = share.clamp(0.0, 1.0);
    if share <= 0.0 {
        return;
    }
    let plant = &mut state.plants[i];
    let base = plant.tillers * s.tiller_mass_g * share;
    let (leaf, root, reserves) = (plant.leaf * share, plant.root * share, plant.reserves * share);
    plant.tillers *= 1.0 - share;
    plant.leaf -= leaf;
    plant.root -= root;
    plant.reserves -= reserves;
    state.litter.c += (leaf + base + reserves) * s.carbon_share;
    state.root_litter.c += root * s.carbon_share;
    let nitrogen = plant.nitrogen * share;
    let below = nitrogen * below_share(leaf, base, root, setting);
    super::ledger::shift(&mut plant.nitrogen, &mut state.root_litter.n, below);
    super::ledger::shift(&mut plant.nitrogen, &mut state.litter.n, nitrogen - below);
}

/// Share of dying tissue's nitrogen that sits in roots.
fn below_share(leaf: f64, base: f64, root: f64, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    let below = root * s.nitrogen_root_ratio;
    let all = leaf + base * s.nitrogen_base_ratio + below;
    if all > 0.0 { below / all } else { 0.0 }
}

/// One day of tillering, loss and spread.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    for i in 0..setting.grasses.len() {
        if state.plants[i].cover <= 0.0 {
            continue;
        }
        if state.plants[i].cover <= GONE_COVER {
            die(state, setting, i, 1.0);
            state.plants[i].cover = 0.0;
            continue;
        }
        tiller(state, setting, warmth, i);
        lose(state, setting, sky, warmth, i);
        spread(state, setting, warmth, i);
    }
}

/// Light at the base of a grass's canopy, share of full, 0..=1.
pub fn light_at_base(state: &State, setting: &Setting, i: usize) -> f64 {
    let s = &setting.p.sward;
    let lai = state.plants[i].leaf_area_index(setting.grasses[i].specific_leaf_area);
    setting.sun * (-s.extinction * (lai + s.stubble_area_index)).exp()
}

fn tiller(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let plant = &state.plants[i];
    let light = light_at_base(state, setting, i);
    let lit = light / (light + s.tillering_light_half);
    let fed = nitrogen_factor(plant.leaf_n, setting);
    let spare = surplus(plant, setting).sqrt();
    let crowd = 1.0 - plant.tillers / (plant.cover * traits.density_max_m2);
    // Tillering goes on in cooler weather than lengthening.
    let pace = 0.5 * (warmth.shoot[i] + warmth.photosynthesis * warmth.root.max(0.3));
    let born = s.tillering_max
        * traits.tillering_factor
        * plant.tillers
        * lit
        * fed
        * fed
        * plant.ks
        * pace
        * spare
        * crowd.max(0.0);
    let tissue =
        (born * s.tiller_mass_g).min(plant.reserves * s.reserve_mobile_share * s.growth_efficiency);
    let breathed = tissue * (1.0 / s.growth_efficiency - 1.0);
    let plant = &mut state.plants[i];
    plant.reserves -= tissue + breathed;
    plant.tillers += tissue / s.tiller_mass_g;
    let mut breath = breathed * s.carbon_share;
    let amount = breath;
    state.ledger.carbon.leave(&mut breath, amount);
}

fn lose(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let level = reserve_level(&state.plants[i], setting);
    let plant = &mut state.plants[i];
    // The account of standing drought fills below a fifth of the water wanted, and empties
    // three times as fast.
    if plant.ks < 0.2 {
        plant.dry_days += 1.0 - plant.ks / 0.2;
    } else {
        plant.dry_days = (plant.dry_days - 3.0 * plant.ks).max(0.0);
    }
    let thirst = s.drought_tiller_loss
        * ((plant.dry_days - traits.drought_reserve_days) / traits.drought_reserve_days)
            .clamp(0.0, 1.0);
    // Cold plants starve slowly, as they breathe slowly.
    let hunger = s.starvation_loss
        * warmth.respiration.min(1.5)
        * (plant.starving + ((s.reserve_low_share - level) / s.reserve_low_share).max(0.0));
    let heat = traits.heat_loss * ((sky.t_mean_c - 26.0) / 5.0).clamp(0.0, 1.5);
    let blight = s.blight_rate * blight_risk(sky, plant.leaf_n, setting);
    let age = s.tiller_loss * (0.3 + 0.7 * warmth.respiration.min(1.5));
    let stress = (thirst + hunger + heat + blight).min(0.5);
    open(state, setting, i, stress);
    die(state, setting, i, age);
    keep_together(state, setting, i);
}

/// Summer blight: wet leaves in nights above about 20 C, worse on nitrogen-rich leaf.
fn blight_risk(sky: &Sky, leaf_n: f64, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    let wet = (sky.precip_mm / 5.0).min(1.0);
    let night = 1.0 / (1.0 + (-(sky.t_min_c - s.blight_t_c)).exp());
    wet * night * (leaf_n / s.nitrogen_critical).powi(2)
}

/// Lets a share of a stand die of stress: dense stands thin first, thin ones open.
pub fn open(state: &mut State, setting: &Setting, i: usize, share: f64) {
    if share <= 0.0 {
        return;
    }
    let dense = {
        let plant = &state.plants[i];
        plant.tillers / (plant.cover.max(GONE_COVER) * setting.grasses[i].density_max_m2)
    };
    let ratio = dense / setting.p.sward.opening_density_share;
    let opening = 1.0 / (1.0 + ratio * ratio);
    die(state, setting, i, share);
    state.plants[i].cover *= 1.0 - share * opening;
}

/// Ground that a stand is too thin to hold falls bare: below a sixth of the densest stand.
fn keep_together(state: &mut State, setting: &Setting, i: usize) {
    let plant = &mut state.plants[i];
    let least = setting.grasses[i].density_max_m2 / 6.0;
    plant.cover = plant.cover.min(plant.tillers / least);
}

/// Rhizomes and new tillers at the edge take bare ground.
fn spread(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let traits = &setting.grasses[i];
    let bare = state.bare();
    let level = reserve_level(&state.plants[i], setting);
    let plant = &mut state.plants[i];
    let fed = nitrogen_factor(plant.leaf_n, setting);
    let dense = plant.tillers / (plant.cover * traits.density_max_m2);
    let crowded = (dense / 0.5).min(1.0);
    let pace = warmth.shoot[i].max(0.5 * warmth.root * warmth.photosynthesis);
    let gain =
        traits.spread * plant.cover * bare * pace * fed * fed * plant.ks * level.sqrt() * crowded;
    plant.cover += gain.min(bare);
}
