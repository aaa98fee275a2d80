//! Rosettes: how they grow, are mown, and die.

use super::super::crabgrass;
use super::super::forb::{self, Canopy, Conditions, Tissue};
use super::super::room::{self, Holder};
use super::super::setting::{MAX_GRASSES, Setting};
use super::super::state::State;
use super::super::warmth::{Warmth, trapezoid};
use super::{NONE_M2, Rosettes, STANDS, kind, seed};
use crate::parameters;
use crate::weather::Sky;
use crate::work::Clippings;
use std::f64::consts::PI;

/// Leaf that a plant wants with a taproot of so many grams, g: in a line for a seedling, to a limit
/// for a grown plant.
pub(super) fn leaf_wanted_g(p: &parameters::Dandelion, base_g: f64) -> f64 {
    p.leaf_max_g * base_g / (base_g + p.leaf_half_base_g)
}

/// How grown a plant is by its leaf, 0..=1.
fn stage(p: &parameters::Dandelion, leaf_g: f64) -> f64 {
    leaf_g / (leaf_g + p.stage_leaf_g)
}

/// Height of its leaves, mm: a seedling's lie low, a grown plant's flat, or raised as far as the
/// turf stands tall about them.
fn leaf_height_mm(p: &parameters::Dandelion, leaf_g: f64, canopy_mm: f64) -> f64 {
    stage(p, leaf_g) * (p.flat_mm + p.rise * (canopy_mm - p.flat_mm).max(0.0))
}

/// Light at the top of a plant's leaves, share of full sun. It makes a gap as wide as it is.
fn light(setting: &Setting, canopy: &Canopy, leaf_g: f64, gap_mm: f64) -> f64 {
    let p = &setting.p.dandelion;
    let own_mm = leaf_height_mm(p, leaf_g, canopy.height_mm);
    let across_mm = 2000.0 * (leaf_g * p.specific_leaf_area / PI).sqrt();
    canopy.light(setting, own_mm, gap_mm + across_mm)
}

/// One day of all stands.
pub(super) fn grow(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    warmth: &Warmth,
    leaks: &[f64; MAX_GRASSES],
) {
    let p = &setting.p.dandelion;
    let kind = kind(setting);
    let warm = trapezoid(sky.t_mean_c, p.t_low_c, p.t_opt_low_c, p.t_opt_high_c, p.t_high_c);
    let par = if sky.snow_mm > 0.0 { 0.0 } else { setting.p.sward.par_share * sky.rs_mj_m2 };
    let room = room::in_reach(state, Holder::Dandelion, leaks).max(f64::MIN_POSITIVE);
    let area = state.dandelion.leaf_area(setting);
    // Leaves shade each other as far as they share the ground that they can hold.
    let per_area =
        if area > 0.0 { room * (1.0 - (-p.extinction * area / room).exp()) / area } else { 0.0 };
    let free = (1.0 - area / (p.leaf_area_max * room)).clamp(0.0, 1.0);
    let gap_mm = crabgrass::gap_mm(state, setting);
    let canopy = Canopy::of(state, setting);
    let ks = state.today.dandelion_ks;
    let frost = if sky.snow_mm > 0.0 { 0.0 } else { (p.frost_t_c - sky.t_min_c).max(0.0) };
    let faded = (warm.max(p.leaf_ageing_cold) / p.leaf_life_days
        + p.frost_loss_per_c * frost
        + p.dry_leaf_loss * (1.0 - ks))
        .min(p.loss_max);
    for k in 0..=state.dandelion.young {
        let Rosettes { plants, mut tissue } = state.dandelion.stands[k];
        if plants <= 0.0 {
            continue;
        }
        let leaf_g = tissue.leaf / plants;
        let wanted = leaf_wanted_g(p, tissue.base / plants) * plants;
        let seen = light(setting, &canopy, leaf_g, gap_mm);
        let now = Conditions {
            caught_mj: par * seen * per_area * tissue.leaf * kind.specific_leaf_area,
            warm,
            ks,
            leaf_wanted: wanted,
            room: free * (1.0 - tissue.base / (p.base_max_g * plants)),
            base_most: f64::MAX,
        };
        let starving = forb::assimilate(state, setting, warmth, &kind, &now, &mut tissue);
        let growth = forb::wanted(setting, &kind, &now, &tissue);
        let demand = forb::nitrogen_of(&kind, growth);
        let fed = if demand > 0.0 {
            forb::take_up(state, setting, sky, &kind, &tissue, demand) / demand
        } else {
            0.0
        };
        forb::build(state, setting, growth.map(|g| g * fed), &mut tissue);
        let (leaf, base) = (tissue.leaf * faded, tissue.base * warm / p.base_life_days);
        tissue.leaf -= leaf;
        tissue.base -= base;
        forb::bury(state, setting, &kind, &Tissue { leaf, base, reserves: 0.0 });
        state.dandelion.stands[k].tissue = tissue;
        let dead = loss(state, setting, k, starving);
        die(state, setting, k, dead);
    }
}

/// Share of a stand that is lost today: seedlings in dry ground, any that starve, a few of age.
fn loss(state: &State, setting: &Setting, k: usize, starving: f64) -> f64 {
    let p = &setting.p.dandelion;
    let stand = &state.dandelion.stands[k];
    let base_g = stand.tissue.base / stand.plants;
    let tender = p.tender_g / (p.tender_g + base_g);
    let dry = (1.0 - state.seedbed / p.moist_from).max(0.0);
    (p.loss + tender * (p.seedling_loss + p.seedling_dry_loss * dry) + p.starving_loss * starving)
        .min(p.loss_max)
}

/// A share of a stand dies, root and all.
pub(super) fn die(state: &mut State, setting: &Setting, k: usize, share: f64) {
    let stand = &mut state.dandelion.stands[k];
    let share = if stand.plants <= NONE_M2 { 1.0 } else { share.clamp(0.0, 1.0) };
    let dead = stand.tissue.part(share);
    stand.plants *= 1.0 - share;
    forb::bury(state, setting, &kind(setting), &dead);
}

/// Seedlings whose taproot is grown are grown plants; stands that died out are given up.
pub(super) fn age(state: &mut State, setting: &Setting) {
    let p = &setting.p.dandelion;
    let d = &mut state.dandelion;
    for k in (1..=d.young).rev() {
        let stand = d.stands[k];
        let grown = stand.plants > 0.0 && stand.tissue.base / stand.plants >= p.grown_base_g;
        if grown {
            d.stands[0].plants += stand.plants;
            d.stands[0].tissue.join(&stand.tissue);
        }
        if grown || stand.plants <= 0.0 {
            d.stands.copy_within(k + 1..STANDS, k);
            d.stands[STANDS - 1] = Rosettes::default();
            d.young -= 1;
        }
    }
}

/// A mower comes, with the turf still uncut: it takes flower heads, and of the leaves what stands above the deck.
pub(in crate::lawn) fn mown(
    state: &mut State,
    setting: &Setting,
    height_mm: f64,
    clippings: Clippings,
) {
    if !state.dandelion.played {
        return;
    }
    seed::mow_heads(state, setting, height_mm, clippings == Clippings::Collect);
    let p = &setting.p.dandelion;
    let kind = kind(setting);
    let canopy_mm = state.canopy_height_mm();
    for k in 0..=state.dandelion.young {
        let Rosettes { plants, mut tissue } = state.dandelion.stands[k];
        if plants <= 0.0 {
            continue;
        }
        let own_mm = leaf_height_mm(p, tissue.leaf / plants, canopy_mm);
        if own_mm > height_mm {
            let share = 1.0 - height_mm / own_mm;
            forb::clip(state, setting, &kind, &mut tissue, share, clippings);
            state.dandelion.stands[k].tissue = tissue;
        }
    }
}
