//! Seedlings: how they grow, shade each other and die before they tiller.

use super::super::crabgrass;
use super::super::mowing;
use super::super::nitrogen;
use super::super::reaction;
use super::super::setting::Setting;
use super::super::state::State;
use super::super::warmth::Warmth;
use super::tillering::grown_mass_g;
use super::{Cohort, MAX_SOWINGS, seedlings_to_litter};
use crate::weather::Sky;
use crate::work::Clippings;

/// Less ground than this holds no stand of its own, share of the lawn.
const LEAST_GROUND: f64 = 1e-3;

/// A seedling's mass over that at which it tillers, 0..=1.
fn growth_stage(setting: &Setting, mass_g: f64) -> f64 {
    (mass_g / grown_mass_g(setting)).min(1.0)
}

/// How tender seedlings of a mass are: 1 on coming up, half at `tender_g`.
fn tenderness(setting: &Setting, mass_g: f64) -> f64 {
    let half = setting.p.seedling.tender_g;
    half / (half + mass_g)
}

/// Leaf area of a seedling, m2: all leaf when small, a grown grass's share of blade in the end.
pub(super) fn area_m2(setting: &Setting, c: &Cohort, part: usize) -> f64 {
    let p = &setting.p.seedling;
    let mass_g = c.parts[part].mass_g;
    let stage = growth_stage(setting, mass_g);
    let grown = p.leaf_share * setting.grasses[c.grass].specific_leaf_area;
    mass_g * (p.leaf_area_ratio * (1.0 - stage) + grown * stage)
}

/// Seedlings in gaps come under turf as it closes over them, and the other way as it opens.
pub(super) fn follow_ground(state: &mut State) {
    let turf = state.turf_cover().clamp(0.0, 1.0);
    let before = state.sown.turf_cover;
    state.sown.turf_cover = turf;
    let used = state.sown.used;
    for c in &mut state.sown.cohorts[..used] {
        let [gaps, under] = &mut c.parts;
        if turf > before {
            let moved = gaps.plants * ((turf - before) / (1.0 - before)).min(1.0);
            under.join(moved, gaps.mass_g);
            gaps.plants -= moved;
        } else if turf < before {
            let moved = under.plants * ((before - turf) / before).min(1.0);
            gaps.join(moved, under.mass_g);
            under.plants -= moved;
        }
    }
}

/// Kills a share of all seedlings; seed in the ground is not touched.
pub fn kill(state: &mut State, setting: &Setting, share: f64) {
    let mut dead = 0.0;
    let used = state.sown.used;
    for part in state.sown.cohorts[..used].iter_mut().flat_map(|c| &mut c.parts) {
        dead += part.dry_mass() * share;
        part.plants *= 1.0 - share;
    }
    seedlings_to_litter(state, setting, dead);
}

/// Today's light and ground of one part of the seedlings.
#[derive(Clone, Copy, Debug, Default)]
struct Place {
    /// Light above the seedlings, share of full.
    light: f64,
    /// One over the ground that they stand on.
    per_ground: f64,
    /// Leaf area of crabgrass over that ground, m2/m2, and of one plant of it, m2.
    weed: (f64, f64),
}

fn places(state: &State, setting: &Setting, sky: &Sky) -> [Place; 2] {
    let (in_gaps, in_turf) = crabgrass::seedling_light(state, setting);
    let bright = if sky.snow_mm > 0.0 {
        0.0
    } else {
        (sky.rs_mj_m2 / setting.p.seedling.light_full_mj_m2).min(1.0)
    };
    let open = (1.0 - state.sown.turf_cover).max(LEAST_GROUND);
    let plants = state.weed.plants();
    let area = state.weed.leaf_area();
    let weed = if plants > 0.0 { (area / open, area / plants) } else { (0.0, 0.0) };
    [
        Place { light: in_gaps * bright, per_ground: 1.0 / open, weed },
        Place {
            light: in_turf * bright,
            per_ground: 1.0 / state.sown.turf_cover.max(LEAST_GROUND),
            weed: (0.0, 0.0),
        },
    ]
}

/// Light that the seedlings in gaps let through to small weeds beneath them, 0..=1.
pub fn light_below(state: &State, setting: &Setting) -> f64 {
    if state.sown.used == 0 {
        return 1.0;
    }
    let open = (1.0 - state.sown.turf_cover).max(LEAST_GROUND);
    (-setting.p.sward.extinction * state.sown.gap_leaf_area(setting) / open).exp()
}

/// Leaf area above the middle of the leaves of plants of area `own_m2`, where `leaf_area` of
/// plants of `area_m2` each stands: the larger a plant, the more of its leaf is on top, and of its
/// equals half is.
fn above(leaf_area: f64, area_m2: f64, own_m2: f64) -> f64 {
    if leaf_area > 0.0 { leaf_area * area_m2 / (area_m2 + own_m2) } else { 0.0 }
}

/// Net gain of a seedling in a light, as a share of that in full sun; below 0 light does not pay.
fn net_gain(setting: &Setting, light: f64) -> f64 {
    let p = &setting.p.seedling;
    let best = 1.0 / (1.0 + p.light_half) - p.light_compensation;
    (light / (light + p.light_half) - p.light_compensation) / best
}

/// What happens today to one part of a sowing.
#[derive(Clone, Copy, Debug, Default)]
struct Rates {
    /// Relative growth with all the nitrogen wanted, 1/day.
    growth: f64,
    /// Plants lost, 1/day.
    loss: f64,
}

/// One day of all seedlings: what light, water and warmth allow, as far as nitrogen is had, less
/// the dead.
pub(super) fn grow(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    let p = &setting.p.seedling;
    let mut rates = [[Rates::default(); 2]; MAX_SOWINGS];
    let places = places(state, setting, sky);
    let (mut wanted, mut root) = (0.0, 0.0);
    for (k, c) in state.sown.cohorts().iter().enumerate() {
        for part in 0..2 {
            if c.parts[part].plants > 0.0 {
                let of = rates_of(state, setting, sky, warmth, &places[part], c, part);
                rates[k][part] = of;
                wanted += c.parts[part].dry_mass() * of.growth;
                root += c.parts[part].dry_mass() * p.root_share;
            }
        }
    }
    let fed = feed(state, setting, sky, wanted, root);
    let mut dead = 0.0;
    let used = state.sown.used;
    for (c, rates) in state.sown.cohorts[..used].iter_mut().zip(&rates) {
        for (part, rate) in c.parts.iter_mut().zip(rates) {
            part.mass_g *= 1.0 + rate.growth * fed;
            dead += part.dry_mass() * rate.loss;
            part.plants *= 1.0 - rate.loss;
        }
    }
    let mut made = 0.0;
    state.ledger.carbon.enter(&mut made, wanted * fed * setting.p.sward.carbon_share);
    seedlings_to_litter(state, setting, dead);
}

fn rates_of(
    state: &State,
    setting: &Setting,
    sky: &Sky,
    warmth: &Warmth,
    place: &Place,
    c: &Cohort,
    part: usize,
) -> Rates {
    let p = &setting.p.seedling;
    let s = &setting.p.sward;
    let traits = &setting.grasses[c.grass];
    let mass_g = c.parts[part].mass_g;
    let own_m2 = area_m2(setting, c, part);
    let mut shade = above(place.weed.0, place.weed.1, own_m2);
    for other in state.sown.cohorts() {
        let area = area_m2(setting, other, part);
        shade += above(other.parts[part].plants * area * place.per_ground, area, own_m2);
    }
    let net = net_gain(setting, place.light * (-s.extinction * shade).exp());
    let wet = (moisture(state, setting, mass_g) / p.moist_from).min(1.0);
    let gentle = s.refill_cool_share * warmth.photosynthesis
        + (1.0 - s.refill_cool_share) * warmth.shoot[c.grass];
    let growth = if sky.frozen { 0.0 } else { gentle * wet * net.max(0.0) };
    let sound = reaction::growth(state, setting, traits) * reaction::seedlings(state, setting);
    let hot = ((sky.t_max_c - traits.heat_t_c) / s.heat_scale_c).max(0.0).min(s.heat_leaf_max);
    let cold = if sky.snow_mm > 0.0 { 0.0 } else { (p.frost_t_c - sky.t_min_c).max(0.0) };
    let dry = if sky.frozen { 0.0 } else { 1.0 - wet };
    // Seedlings rest in the cold, and then need little light.
    let dark = (1.0 - net / p.shade_gain).max(0.0) * warmth.photosynthesis;
    let tender = p.loss + p.dry_loss * dry + p.heat_loss * hot + p.frost_loss_per_c * cold;
    Rates {
        growth: setting.seeds[c.grass].growth_max * growth * sound,
        loss: (tenderness(setting, mass_g) * tender + p.shade_loss * dark).min(p.loss_max),
    }
}

/// Share of available water that seedlings find: small ones in the seedbed, grown ones in the
/// surface layer.
fn moisture(state: &State, setting: &Setting, mass_g: f64) -> f64 {
    let layer = &setting.layers[0];
    let below = ((state.water[0] - layer.wp_mm) * layer.per_available_mm).clamp(0.0, 1.0);
    let bed = 0.5 * (state.today.seedbed_wet + state.seedbed);
    let shallow = tenderness(setting, mass_g);
    shallow * bed + (1.0 - shallow) * below
}

/// Takes up the nitrogen that growth wants; returns the share of it that was had, 0..=1.
fn feed(state: &mut State, setting: &Setting, sky: &Sky, wanted_g: f64, root_g: f64) -> f64 {
    let p = &setting.p.seedling;
    let demand = wanted_g * p.nitrogen_share;
    if demand <= 0.0 {
        return 0.0;
    }
    let roots = (root_g * p.uptake_ratio, p.root_depth_mm.min(setting.root_limit_mm));
    let mut taken = 0.0;
    nitrogen::take_up(state, setting, sky, roots, demand, &mut taken);
    taken / demand
}

/// A spray kills a share of the seedlings on `ground` of the lawn, 0..=1: `kill` gives it by how
/// tender they are, 1 on coming up.
pub fn sprayed(state: &mut State, setting: &Setting, ground: f64, kill: impl Fn(f64) -> f64) {
    let mut dead = 0.0;
    let used = state.sown.used;
    for c in &mut state.sown.cohorts[..used] {
        for young in c.parts.iter_mut().filter(|young| young.plants > 0.0) {
            let gone = (ground * kill(tenderness(setting, young.mass_g))).clamp(0.0, 1.0);
            dead += young.dry_mass() * gone;
            young.plants *= 1.0 - gone;
        }
    }
    seedlings_to_litter(state, setting, dead);
}

/// A mower passes: it tears out tender seedlings and cuts those that stand taller than the deck.
pub fn mown(state: &mut State, setting: &Setting, height_mm: f64, clippings: Clippings) {
    let p = &setting.p.seedling;
    let s = &setting.p.sward;
    let (mut torn, mut cut) = (0.0, 0.0);
    for k in 0..state.sown.used {
        for part in 0..2 {
            let young = &mut state.sown.cohorts[k].parts[part];
            if young.plants <= 0.0 {
                continue;
            }
            let gone = p.mow_loss * tenderness(setting, young.mass_g);
            torn += young.dry_mass() * gone;
            young.plants *= 1.0 - gone;
            // A plant's height goes as the cube root of its mass.
            let tall_mm = p.height_mm * growth_stage(setting, young.mass_g).cbrt();
            if tall_mm > height_mm {
                let share = p.leaf_share * (1.0 - (height_mm / tall_mm).powf(s.blade_profile));
                cut += young.dry_mass() * share;
                young.mass_g *= 1.0 - share;
            }
        }
    }
    seedlings_to_litter(state, setting, torn);
    mowing::lay_clippings(state, setting, cut, cut * p.nitrogen_share, clippings);
}
