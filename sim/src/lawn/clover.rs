//! White clover: stolons that creep where grass is thin or hungry, leaves on stalks that follow the
//! turf's height, and nitrogen from the air, which the soil gets when they die.

mod tell;

pub(super) use tell::{Telling, tell};

use super::crabgrass;
use super::forb::{self, Canopy, Conditions, Kind, Tissue};
use super::room::{self, Claim, Holder};
use super::setting::{MAX_GRASSES, Setting};
use super::state::{Pool, State};
use super::tillers;
use super::warmth::{Warmth, trapezoid};
use crate::weather::Sky;
use crate::work::Clippings;

/// Less of it than this is none, g/m2.
const NONE_G_M2: f64 = 1e-9;

/// All of it on a lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Clover {
    /// Whether the lawn is played with it.
    pub played: bool,
    /// Ground that the walk-round saw under it, 0..=1.
    pub seen: f64,
    /// Its leaf, stolons and reserves, g/m2 of lawn.
    pub tissue: Tissue,
    /// Ground that it covers, 0..=1.
    pub cover: f64,
    /// Nitrogen that it took from the air since the first day, g/m2.
    pub fixed_n: f64,
    /// Nitrogen that it took up from the soil since the first day, g/m2.
    pub taken_n: f64,
    /// Turf that it has taken today, share of the lawn.
    pub displaced: f64,
}

impl Clover {
    /// A lawn on 1 January on which it covered a share of the ground last autumn, 0..=1.
    pub fn seen(setting: &Setting, cover: f64) -> Clover {
        let p = &setting.p.clover;
        // Ground held by an area spread at random, turned round.
        let area = (1.0 / (1.0 - cover.clamp(0.0, p.cover_max))).ln();
        let held_m2_g = p.leaf_ratio * p.specific_leaf_area + p.stolon_m2_g;
        let base = area / held_m2_g;
        let tissue = Tissue {
            leaf: p.leaf_ratio * base * p.winter_leaf,
            base,
            reserves: base * p.reserve_share,
        };
        let all = Clover { played: true, seen: cover, tissue, ..Clover::default() };
        Clover { cover: 1.0 - (-all.area(setting)).exp(), ..all }
    }

    /// Leaf area over the lawn, m2/m2.
    pub fn leaf_area(&self, setting: &Setting) -> f64 {
        self.tissue.leaf * setting.p.clover.specific_leaf_area
    }

    /// Leaf and stolons that hold ground, m2/m2.
    fn area(&self, setting: &Setting) -> f64 {
        self.leaf_area(setting) + self.tissue.base * setting.p.clover.stolon_m2_g
    }

    /// Carbon and nitrogen in its plants, g/m2.
    pub fn stock(&self, setting: &Setting) -> Pool {
        self.tissue.stock(setting, &kind(setting))
    }
}

/// What its economy asks of it.
fn kind(setting: &Setting) -> Kind {
    forb::kind_of!(setting.p.clover)
}

/// Height of its leaves, mm: as far as their stalks follow the turf.
fn height_mm(state: &State, setting: &Setting) -> f64 {
    let p = &setting.p.clover;
    let over = (state.canopy_height_mm() - p.low_mm).max(0.0);
    (p.low_mm + p.rise * over).min(p.height_max_mm)
}

/// One day of it.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    if !state.clover.played {
        return;
    }
    let p = &setting.p.clover;
    let leaks = room::leaks(state, setting, p.invasion_light);
    come_up(state, setting, sky);
    if state.clover.tissue.mass() > NONE_G_M2 {
        grow(state, setting, sky, warmth, &leaks);
    }
    let claim = Claim {
        area: state.clover.area(setting),
        leaks,
        displacement: p.displacement,
        displacement_max: setting.p.crabgrass.displacement_max,
    };
    state.clover.displaced = room::hold(state, setting, Holder::Clover, &claim);
}

/// Old seed in the ground comes up where it is bare, moist and mild, and a few seedlings live.
fn come_up(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.clover;
    let bare = state.bare();
    let warm =
        ((sky.soil_5cm_c - p.seed_t_low_c) / (p.seed_t_full_c - p.seed_t_low_c)).clamp(0.0, 1.0);
    let moist = setting.grass_germination_pace(state.seedbed);
    let grams = p.seedlings_m2 / p.seed_days * bare * warm * moist * p.seedling_g;
    if grams <= 0.0 {
        return;
    }
    let tissue = Tissue { leaf: 0.5 * grams, base: 0.5 * grams, reserves: 0.0 };
    let brought = tissue.stock(setting, &kind(setting));
    state.ledger.bring_in(brought);
    state.clover.tissue.join(&tissue);
}

/// Light, upkeep, growth and death of a day.
fn grow(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    warmth: &Warmth,
    leaks: &[f64; MAX_GRASSES],
) {
    let p = &setting.p.clover;
    let kind = kind(setting);
    let mut tissue = state.clover.tissue;
    let now = conditions(state, setting, sky, leaks);
    let starving = forb::assimilate(state, setting, warmth, &kind, &now, &mut tissue);
    let growth = forb::wanted(setting, &kind, &now, &tissue);
    let fed = feed(state, setting, sky, &kind, &mut tissue, growth);
    forb::build(state, setting, growth.map(|g| g * fed), &mut tissue);
    let bare_frost = if sky.snow_mm > 0.0 { 0.0 } else { 1.0 };
    let frost = bare_frost * (p.frost_t_c - sky.t_min_c).max(0.0);
    let hard = bare_frost * (p.stolon_frost_t_c - sky.t_min_c).max(0.0);
    let dry = 1.0 - now.ks;
    let leaf_share = now.warm.max(p.leaf_ageing_cold) / p.leaf_life_days
        + p.frost_loss_per_c * frost
        + p.dry_leaf_loss * dry;
    let base_share = now.warm.max(p.leaf_ageing_cold) / p.stolon_life_days
        + p.stolon_frost_loss_per_c * hard
        + p.dry_stolon_loss * dry
        + p.starving_loss * starving;
    let leaf = tissue.leaf * leaf_share.min(p.loss_max);
    let below = Tissue { leaf: 0.0, ..tissue }.part(base_share.min(p.loss_max));
    tissue.leaf -= leaf;
    tissue.base -= below.base;
    tissue.reserves -= below.reserves;
    forb::bury(state, setting, &kind, &Tissue { leaf, ..below });
    state.clover.tissue = tissue;
}

fn conditions(
    state: &State,
    setting: &Setting,
    sky: &Sky,
    leaks: &[f64; MAX_GRASSES],
) -> Conditions {
    let p = &setting.p.clover;
    let tissue = &state.clover.tissue;
    let gap_mm = crabgrass::gap_mm(state, setting) + p.patch_mm;
    let seen = Canopy::of(state, setting).light(setting, height_mm(state, setting), gap_mm);
    let par = if sky.snow_mm > 0.0 { 0.0 } else { setting.p.sward.par_share * sky.rs_mj_m2 };
    let area = state.clover.leaf_area(setting);
    let ground = state.clover.cover.max(f64::MIN_POSITIVE);
    let caught = ground * (1.0 - (-setting.p.sward.extinction * area / ground).exp());
    let room = room::in_reach(state, Holder::Clover, leaks).max(f64::MIN_POSITIVE);
    let wanted = (p.leaf_ratio * tissue.base).min(p.leaf_area_max * room / p.specific_leaf_area);
    Conditions {
        caught_mj: par * seen * caught,
        warm: trapezoid(sky.t_mean_c, p.t_low_c, p.t_opt_low_c, p.t_opt_high_c, p.t_high_c),
        ks: state.today.clover_ks,
        leaf_wanted: wanted,
        // Stolons creep on as long as there is ground that they do not hold.
        room: 1.0 - state.clover.area(setting) / (p.area_max * room),
        base_most: p.creep * branching(state, setting) * tissue.base,
    }
}

/// How far light at the foot of what stands about it lets stolons branch, 0..=1: shaded nodes stay
/// asleep.
fn branching(state: &State, setting: &Setting) -> f64 {
    let around = (1.0 - state.clover.cover).max(f64::MIN_POSITIVE);
    let turf = state.turf_cover();
    let lit: f64 = (0..setting.grasses.len())
        .map(|i| state.plants[i].cover * tillers::light_at_base(state, setting, i))
        .sum();
    let light = (lit + (around - turf).max(0.0) * setting.sun) / around.max(turf);
    let half = setting.p.clover.node_light_half;
    light * (1.0 + half) / (light + half)
}

/// Nitrogen for a growth: a part from the soil, the rest from the air as far as the nodules work,
/// which costs reserves. Returns the share of the growth for which there was enough, 0..=1.
fn feed(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    kind: &Kind,
    tissue: &mut Tissue,
    growth: [f64; 2],
) -> f64 {
    let p = &setting.p.clover;
    let demand = forb::nitrogen_of(kind, growth);
    if demand <= 0.0 {
        return 0.0;
    }
    let taken = forb::take_up(state, setting, sky, kind, tissue, p.soil_share * demand);
    let warm = ((sky.soil_10cm_c - p.fixing_t_low_c) / (p.fixing_t_full_c - p.fixing_t_low_c))
        .clamp(0.0, 1.0);
    let spare = tissue.reserves - (growth[0] + growth[1]) / setting.p.sward.growth_efficiency;
    let payable = spare.max(0.0) * setting.p.sward.carbon_share / p.fixing_cost_g_g;
    let mut fixed = 0.0;
    let amount = ((demand - taken) * warm * state.today.clover_ks).min(payable);
    state.ledger.nitrogen.enter(&mut fixed, amount);
    let mut store = tissue.reserves * setting.p.sward.carbon_share;
    state.ledger.carbon.leave(&mut store, fixed * p.fixing_cost_g_g);
    tissue.reserves = store / setting.p.sward.carbon_share;
    state.clover.fixed_n += fixed;
    state.clover.taken_n += taken;
    (taken + fixed) / demand
}

/// A mower comes, with the turf still uncut: it takes what of the leaves stands above the deck.
pub(super) fn mown(state: &mut State, setting: &Setting, deck_mm: f64, clippings: Clippings) {
    if !state.clover.played || state.clover.tissue.leaf <= 0.0 {
        return;
    }
    let p = &setting.p.clover;
    let own_mm = height_mm(state, setting);
    if own_mm <= deck_mm {
        return;
    }
    // Blades spread over the upper part of the stalks.
    let share = ((own_mm - deck_mm) / (p.blade_depth * own_mm)).min(p.cut_max);
    let mut tissue = state.clover.tissue;
    forb::clip(state, setting, &kind(setting), &mut tissue, share, clippings);
    state.clover.tissue = tissue;
}

/// Kills a share of the plants, 0..=1, stolons and all.
pub fn kill(state: &mut State, setting: &Setting, share: f64) {
    let dead = state.clover.tissue.part(share);
    forb::bury(state, setting, &kind(setting), &dead);
}

/// Withers a share of the leaf, 0..=1, which grows again from the stolons.
pub fn burn(state: &mut State, setting: &Setting, share: f64) {
    let leaf = state.clover.tissue.leaf * share.clamp(0.0, 1.0);
    state.clover.tissue.leaf -= leaf;
    forb::bury(state, setting, &kind(setting), &Tissue { leaf, ..Tissue::default() });
}

#[cfg(test)]
mod tests;
