//! Coming of age: a seedling that tillers is grass like the rest, and holds ground.

use super::super::plant::{GONE_COVER, Plant, root_stop_left};
use super::super::setting::Setting;
use super::super::state::State;
use super::super::warmth::Warmth;

/// Mass at which a seedling has the base of one grown tiller, g.
pub(super) fn grown_mass_g(setting: &Setting) -> f64 {
    let p = &setting.p.seedling;
    setting.p.sward.tiller_mass_g / base_share(setting).max(p.reserve_share)
}

/// Share of a grown seedling's mass in the base of its tiller.
fn base_share(setting: &Setting) -> f64 {
    let p = &setting.p.seedling;
    1.0 - p.leaf_share - p.root_share - p.reserve_share
}

/// Seedlings of sowing `k` that begin to tiller today take the bare ground that their leaves
/// cover. Where no ground is bare they wait, shaded.
pub(super) fn step(state: &mut State, setting: &Setting, warmth: &Warmth, k: usize) {
    let bare = state.bare();
    let p = &setting.p.seedling;
    let c = state.sown.cohorts[k];
    let mut share = [0.0; 2];
    let (mut plants, mut grams) = (0.0, 0.0);
    for (share, young) in share.iter_mut().zip(&c.parts) {
        if young.plants > 0.0 && young.mass_g > 0.0 {
            let short = (grown_mass_g(setting) / young.mass_g).powf(p.tillering_shape);
            *share = p.tillering_pace * warmth.photosynthesis / (1.0 + short);
        }
        plants += young.plants * *share;
        grams += young.dry_mass() * *share;
    }
    if plants <= 0.0 || bare <= 0.0 {
        return;
    }
    let traits = &setting.grasses[c.grass];
    let area = grams * p.leaf_share * traits.specific_leaf_area;
    let ground = bare * (1.0 - (-area / bare).exp());
    let plant = &state.plants[c.grass];
    // No denser than the grass can stand.
    let room = traits.density_max_m2 * (plant.cover + ground) - plant.tillers;
    let tillers = grams * base_share(setting) / setting.p.sward.tiller_mass_g;
    let fit = (room / tillers).clamp(0.0, 1.0);
    // A stand too small to last is not begun; its seedlings wait for more.
    if fit <= 0.0 || plant.cover + ground * fit <= 2.0 * GONE_COVER {
        return;
    }
    for (share, young) in share.iter().zip(&mut state.sown.cohorts[k].parts) {
        young.plants *= 1.0 - share * fit;
    }
    join(&mut state.plants[c.grass], setting, grams * fit, ground * fit);
}

/// Adds young plants to a grass's stand: masses add up, the rest is the mean over the ground.
fn join(plant: &mut Plant, setting: &Setting, grams: f64, ground: f64) {
    let p = &setting.p.seedling;
    let s = &setting.p.sward;
    let new = ground / (plant.cover + ground);
    if plant.cover <= 0.0 {
        plant.ks = 1.0;
        plant.root_stop_left = root_stop_left(1.0);
    }
    plant.cover += ground;
    plant.tillers += grams * base_share(setting) / s.tiller_mass_g;
    plant.leaf += grams * p.leaf_share;
    plant.root += grams * p.root_share;
    plant.reserves += grams * p.reserve_share;
    plant.nitrogen += grams * p.nitrogen_share;
    plant.set_height(plant.height_mm * (1.0 - new) + p.height_mm * new, s);
    plant.set_leaf_n(plant.nitrogen / plant.leaf_equivalent(s), s);
    for old in [&mut plant.dry_days, &mut plant.root_stop, &mut plant.stubble] {
        *old *= 1.0 - new;
    }
}
