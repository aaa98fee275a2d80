//! Tillers come and go; cover spreads into gaps and opens when stands die.

mod tell;

pub(super) use tell::{Telling, end as tell_end, stress as tell_stress, tell};

use super::limits::Limits;
use super::plant::{GONE_COVER, build};
use super::setting::Setting;
use super::state::State;
use super::warmth::Warmth;
use crate::weather::Sky;

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
        count_drought(state, setting, sky, i);
        let stress = stress_loss(state, setting, sky, warmth, i);
        open(state, setting, i, stress);
        die(state, setting, i, age_loss(setting, warmth));
        keep_together(state, setting, i);
        spread(state, setting, warmth, i);
    }
}

/// Light at the base of a grass's canopy by Beer's law, share of full, 0..=1.
pub(super) fn light_at_base(state: &State, setting: &Setting, i: usize) -> f64 {
    let s = &setting.p.sward;
    let lai = state.plants[i].leaf_area_index(setting.grasses[i].specific_leaf_area);
    setting.sun * (-s.extinction * (lai + s.stubble_area_index)).exp()
}

/// Births, as light at the base, food, water, warmth, reserves and room let them.
fn tiller(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let light = light_at_base(state, setting, i);
    let lit = light / (light + s.tillering_light_half);
    let plant = &state.plants[i];
    let fed = plant.fed;
    let spare = plant.surplus(s).sqrt();
    let crowd = (1.0 - plant.relative_density(traits)).max(0.0);
    // Tillering goes on in cooler weather than lengthening.
    let cool = warmth.photosynthesis * warmth.root.at_least(s.tillering_root_min);
    let pace = (1.0 - s.tillering_cool_share) * warmth.shoot[i] + s.tillering_cool_share * cool;
    let best = s.tillering_max * traits.tillering_factor * plant.tillers;
    let born = best * lit * fed * fed * plant.ks * pace * spare * crowd;
    let tissue = build(state, setting, i, born * s.tiller_mass_g);
    state.plants[i].tillers += tissue / s.tiller_mass_g;
}

/// The account of standing drought fills while little of the water wanted is had, and empties
/// faster. It counts days as warm as those in which dormancy was timed: in a cool drought the
/// sleeping crown breathes less and lasts longer.
fn count_drought(state: &mut State, setting: &Setting, sky: &Sky, i: usize) {
    let s = &setting.p.sward;
    let plant = &mut state.plants[i];
    if plant.ks < s.drought_account_ks {
        let dry = 1.0 - plant.ks / s.drought_account_ks;
        plant.dry_days += dry * setting.dormancy.at(sky.t_mean_c);
    } else {
        plant.dry_days = (plant.dry_days - s.drought_account_relief * plant.ks).max(0.0);
    }
}

/// Shares of a stand that stress takes in a day, 0..=1.
#[derive(Clone, Copy, Debug)]
struct Stress {
    thirst: f64,
    hunger: f64,
    heat: f64,
    blight: f64,
}

/// What drought, hunger, heat and blight take today.
fn stress(state: &State, setting: &Setting, sky: &Sky, warmth: &Warmth, i: usize) -> Stress {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let plant = &state.plants[i];
    let reserve = traits.drought_reserve_days;
    let thirst = s.drought_tiller_loss * ((plant.dry_days - reserve) / reserve).clamp(0.0, 1.0);
    // Cold plants starve slowly, as they breathe slowly.
    let low = ((s.reserve_low_share - plant.reserve_level(s)) / s.reserve_low_share).max(0.0);
    let hunger = s.starvation_loss
        * warmth.respiration.at_most(s.loss_respiration_max)
        * (plant.starving + low);
    let hot =
        ((sky.t_mean_c - s.heat_loss_from_c) / s.heat_scale_c).max(0.0).at_most(s.heat_loss_max);
    let blight = s.blight_rate * blight_risk(sky, plant.leaf_n, setting);
    Stress { thirst, hunger, heat: traits.heat_loss * hot, blight }
}

/// Share of a stand that stress takes today, 0..=1: drought, hunger, heat and blight.
fn stress_loss(state: &State, setting: &Setting, sky: &Sky, warmth: &Warmth, i: usize) -> f64 {
    let Stress { thirst, hunger, heat, blight } = stress(state, setting, sky, warmth, i);
    (thirst + hunger + heat + blight).at_most(setting.p.sward.stress_loss_max)
}

/// Share of a stand that dies of age today.
fn age_loss(setting: &Setting, warmth: &Warmth) -> f64 {
    let s = &setting.p.sward;
    let warm = warmth.respiration.at_most(s.loss_respiration_max);
    s.tiller_loss * (s.tiller_ageing_cold_share + (1.0 - s.tiller_ageing_cold_share) * warm)
}

/// Summer blight: wet leaves in warm nights, worse with the square of leaf nitrogen.
fn blight_risk(sky: &Sky, leaf_n: f64, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    if sky.precip_mm <= 0.0 {
        return 0.0;
    }
    let wet = (sky.precip_mm / s.blight_rain_mm).min(1.0);
    let night = 1.0 / (1.0 + (-(sky.t_min_c - s.blight_t_c) / s.blight_t_width_c).exp());
    let rich = leaf_n / s.nitrogen_critical;
    wet * night * rich * rich
}

/// Lets a share of a stand die of stress: dense stands thin first, thin ones open.
pub(super) fn open(state: &mut State, setting: &Setting, i: usize, share: f64) {
    if share <= 0.0 {
        return;
    }
    let opening = opening(state, setting, i);
    die(state, setting, i, share);
    state.plants[i].cover *= 1.0 - share * opening;
}

/// Ground that opens where a stand thins, as a share of the thinning.
fn opening(state: &State, setting: &Setting, i: usize) -> f64 {
    let dense = state.plants[i].relative_density(&setting.grasses[i]);
    let ratio = dense / setting.p.sward.opening_density_share;
    1.0 / (1.0 + ratio * ratio)
}

/// Lets a share of grass `i` die: its leaf, bases, reserves and roots become litter.
pub(super) fn die(state: &mut State, setting: &Setting, i: usize, share: f64) {
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

/// Ground that a stand is too thin to hold falls bare.
fn keep_together(state: &mut State, setting: &Setting, i: usize) {
    let plant = &mut state.plants[i];
    let least = setting.grasses[i].density_max_m2 / setting.p.sward.holding_ratio;
    plant.cover = plant.cover.at_most(plant.tillers / least);
}

/// Rhizomes and new tillers at the edge take bare ground.
fn spread(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let bare = state.bare();
    if bare <= 0.0 {
        return;
    }
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let plant = &mut state.plants[i];
    if plant.cover <= 0.0 {
        return;
    }
    let fed = plant.fed;
    let dense = plant.tillers / (plant.cover * traits.density_max_m2);
    let crowded = (dense / s.spread_density_share).min(1.0);
    let pace = warmth.shoot[i].at_least(s.spread_cool_share * warmth.root * warmth.photosynthesis);
    let spare = plant.reserve_level(s).sqrt();
    let gain = traits.spread * plant.cover * bare * pace * fed * fed * plant.ks * spare * crowded;
    plant.cover += gain.at_most(bare);
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::lawn;
    use super::*;

    /// Tillers gained are paid for at the growth efficiency: reserves fall by mass over it.
    #[test]
    fn births_are_paid_for() {
        let (setting, mut state) = lawn();
        let s = &setting.p.sward;
        let warmth = Warmth {
            shoot: [1.0; super::super::MAX_GRASSES],
            photosynthesis: 1.0,
            soil: 1.0,
            root: 1.0,
            respiration: 1.0,
            root_respiration: 1.0,
            spring: 1.0,
        };
        state.plants[0].reserves = state.plants[0].reserve_capacity(s);
        state.plants[0].set_leaf_n(s.nitrogen_critical, s);
        let before = state.plants[0];
        tiller(&mut state, &setting, &warmth, 0);
        let after = state.plants[0];
        let born = after.tillers - before.tillers;
        let paid = before.reserves - after.reserves;
        assert!(born > 0.0);
        assert!((born * s.tiller_mass_g / paid - s.growth_efficiency).abs() < 1e-9);
        // A stand at its densest bears none.
        state.plants[0].tillers = after.cover * setting.grasses[0].density_max_m2;
        let before = state.plants[0].tillers;
        tiller(&mut state, &setting, &warmth, 0);
        assert_eq!(state.plants[0].tillers, before);
    }

    #[test]
    fn death_moves_every_gram_to_litter() {
        let (setting, mut state) = lawn();
        let before = state.stocks(&setting);
        die(&mut state, &setting, 0, 0.3);
        let after = state.stocks(&setting);
        for (a, b) in before.iter().zip(after) {
            assert!((a - b).abs() < 1e-9 * a, "{before:?} {after:?}");
        }
    }

    #[test]
    fn dense_stands_thin_and_thin_stands_open() {
        let opened = |density: f64| {
            let (setting, mut state) = lawn();
            let cover = state.plants[0].cover;
            state.plants[0].tillers = cover * density * setting.grasses[0].density_max_m2;
            open(&mut state, &setting, 0, 0.2);
            1.0 - state.plants[0].cover / cover
        };
        assert!(opened(1.0) < 0.03, "{}", opened(1.0));
        assert!(opened(0.05) > 0.19, "{}", opened(0.05));
    }
}
