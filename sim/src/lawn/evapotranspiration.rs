//! Water back to the air: bare ground evaporates, grasses and weeds transpire.

use super::limits::Limits;
use super::roots::{root_depth_mm, root_shares, root_zone};
use super::setting::{LAYERS, MAX_GRASSES, Setting};
use super::state::State;
use crate::weather::Sky;

/// One day's evaporation and transpiration; none through snow or from frozen ground.
pub(super) fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    state.today.weed_ks = 1.0;
    (state.today.dandelion_ks, state.today.clover_ks) = (1.0, 1.0);
    state.today.nutsedge_ks = 1.0;
    if sky.snow_mm > 0.0 || sky.frozen {
        for plant in &mut state.plants {
            plant.ks = 1.0;
        }
        return;
    }
    // All plants find the same water in the morning, whichever is listed first.
    let found = state.water;
    let shares = leaf_shares(state, setting);
    let full_mm = crop_coefficient(state, setting) * setting.demand_mm(sky);
    let mut et = evaporate(state, setting, sky, shares.iter().sum());
    for (i, share) in shares.iter().enumerate().take(setting.grasses.len()) {
        let depth = root_depth_mm(state, setting, i);
        let (ks, used) = transpire(state, setting, &found, depth, full_mm * share, full_mm);
        state.plants[i].ks = ks;
        et += used;
    }
    // A weed's demand is its factor times that of grass on the ground that its leaves shade.
    let mut weed = |factor: f64, shaded: f64, root_depth_mm: f64, state: &mut State| {
        let depth = root_depth_mm.at_most(setting.root_limit_mm);
        let demand = full_mm * factor * shaded;
        let (ks, used) = transpire(state, setting, &found, depth, demand, full_mm);
        et += used;
        ks
    };
    if state.weed.used > 0 || state.weed.germinable > 0.0 {
        let p = &setting.p.crabgrass;
        let shaded = state.weed.cover;
        state.today.weed_ks = weed(p.transpiration_factor, shaded, p.root_depth_mm, state);
    }
    if state.dandelion.played {
        let (p, d) = (&setting.p.dandelion, &state.dandelion);
        let shaded = weed_shade(setting, d.cover, d.leaf_area(setting));
        state.today.dandelion_ks = weed(p.transpiration_factor, shaded, p.root_depth_mm, state);
    }
    if state.clover.played {
        let (p, c) = (&setting.p.clover, &state.clover);
        let shaded = weed_shade(setting, c.cover, c.leaf_area(setting));
        state.today.clover_ks = weed(p.transpiration_factor, shaded, p.root_depth_mm, state);
    }
    if state.nutsedge.cover > 0.0 || state.nutsedge.germinable > 0.0 {
        let p = &setting.p.nutsedge;
        let shaded = state.nutsedge.cover;
        state.today.nutsedge_ks = weed(p.transpiration_factor, shaded, p.root_depth_mm, state);
    }
    state.totals.et += et;
}

/// Ground whose demand a weed's leaves meet, 0..=1, by their area over the lawn, m2/m2.
fn weed_shade(setting: &Setting, cover: f64, leaf_area: f64) -> f64 {
    if cover <= 0.0 {
        return 0.0;
    }
    cover * (1.0 - (-setting.p.water.transpiration_extinction * leaf_area / cover).exp())
}

/// Kc of the turf, which rises with its height.
fn crop_coefficient(state: &State, setting: &Setting) -> f64 {
    let w = &setting.p.water;
    let taller = state.canopy_height_mm() - w.crop_coefficient_height_mm;
    (w.crop_coefficient + w.crop_coefficient_per_mm * taller)
        .at_least(w.crop_coefficient_min)
        .at_most(w.crop_coefficient_max)
}

/// Ground whose demand each grass's leaves meet, 0..=1.
fn leaf_shares(state: &State, setting: &Setting) -> [f64; MAX_GRASSES] {
    std::array::from_fn(|i| {
        let Some(traits) = setting.grasses.get(i) else { return 0.0 };
        let plant = &state.plants[i];
        let lai = plant.leaf_area_index(traits.specific_leaf_area);
        plant.cover * (1.0 - (-setting.p.water.transpiration_extinction * lai).exp()).min(1.0)
    })
}

/// Evaporation from the surface layer, mm: ground between plants evaporates freely; under turf,
/// thatch and stubble hold it back where leaves (`shaded`, 0..=1) do not already.
fn evaporate(state: &mut State, setting: &Setting, sky: &Sky, shaded: f64) -> f64 {
    let w = &setting.p.water;
    let between = (state.turf_cover() - shaded).max(0.0);
    let open = state.bare() + w.mulched_share * between;
    let demand =
        w.soil_coefficient * setting.demand_mm(sky) * open * evaporation_factor(state, setting);
    state.ledger.water.leave(&mut state.water[0], demand)
}

/// FAO-56 eq 74: evaporation from bare soil falls once the readily evaporable part is gone; by
/// eq 73 the surface layer dries to half the wilting point.
fn evaporation_factor(state: &State, setting: &Setting) -> f64 {
    let layer = &setting.layers[0];
    let floor = 0.5 * layer.wp_mm;
    let total = layer.fc_mm - floor;
    let slow = total * (1.0 - setting.p.water.evaporation_ready_share);
    ((state.water[0] - floor) / slow).clamp(0.0, 1.0)
}

/// FAO-56 eq 84: Ks = (TAW - Dr)/((1 - p) TAW) past RAW, with p = p_table + 0.04 (5 - ETc) held
/// to 0.1..=0.8 (Table 22, note 2).
fn stress_coefficient(held_mm: f64, taw_mm: f64, p_table: f64, etc_mm: f64) -> f64 {
    let p = (p_table + 0.04 * (5.0 - etc_mm)).clamp(0.1, 0.8);
    (held_mm / ((1.0 - p) * taw_mm)).clamp(0.0, 1.0)
}

/// Takes a plant's water out of the layers in proportion to roots and to the water `found` in the
/// morning; returns Ks and mm used.
fn transpire(
    state: &mut State,
    setting: &Setting,
    found: &[f64; LAYERS],
    depth_mm: f64,
    demand_mm: f64,
    etc_mm: f64,
) -> (f64, f64) {
    let (held, taw) = root_zone(found, setting, depth_mm);
    if taw <= 0.0 {
        return (0.0, 0.0);
    }
    let ks = stress_coefficient(held, taw, setting.p.water.p_depletion, etc_mm);
    if demand_mm <= 0.0 {
        return (ks, 0.0);
    }
    let shares = root_shares(depth_mm);
    let weights: [f64; LAYERS] = std::array::from_fn(|l| {
        let layer = &setting.layers[l];
        shares[l] * (found[l] - layer.wp_mm).max(0.0) * layer.per_available_mm
    });
    let sum: f64 = weights.iter().sum();
    if sum <= 0.0 {
        return (ks, 0.0);
    }
    let per_weight = ks * demand_mm / sum;
    let mut used = 0.0;
    for ((water, layer), weight) in state.water.iter_mut().zip(&setting.layers).zip(weights) {
        if weight > 0.0 {
            let left = (*water - layer.wp_mm).max(0.0);
            used += state.ledger.water.leave(water, (per_weight * weight).min(left));
        }
    }
    (ks, used)
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::lawn;
    use super::*;

    /// FAO-56 eq 84 with p = 0.40 at ETc 5 mm: no stress until 40 % of TAW is gone, half at 70 %.
    #[test]
    fn stress_begins_past_the_ready_water() {
        for (left, ks) in [(1.0, 1.0), (0.6, 1.0), (0.3, 0.5), (0.0, 0.0)] {
            assert!((stress_coefficient(100.0 * left, 100.0, 0.4, 5.0) - ks).abs() < 1e-12);
        }
        // At 2 mm a day a plant copes longer: p = 0.52.
        assert!((stress_coefficient(48.0, 100.0, 0.4, 2.0) - 1.0).abs() < 1e-12);
    }

    /// FAO-56 eq 74: full while the ready part lasts, none at half the wilting point.
    #[test]
    fn bare_ground_dries_to_half_the_wilting_point() {
        let (setting, mut state) = lawn();
        let layer = setting.layers[0];
        state.water[0] = layer.fc_mm;
        assert_eq!(evaporation_factor(&state, &setting), 1.0);
        state.water[0] = 0.5 * layer.wp_mm;
        assert_eq!(evaporation_factor(&state, &setting), 0.0);
    }

    #[test]
    fn a_plant_takes_its_demand_from_wet_soil_and_nothing_below_the_wilting_point() {
        let (setting, mut state) = lawn();
        state.water = setting.layers.map(|layer| layer.fc_mm);
        let found = state.water;
        let (ks, used) = transpire(&mut state, &setting, &found, 300.0, 4.0, 4.0);
        assert_eq!(ks, 1.0);
        assert!((used - 4.0).abs() < 1e-9, "{used}");
        state.water = setting.layers.map(|layer| layer.wp_mm);
        let found = state.water;
        assert_eq!(transpire(&mut state, &setting, &found, 300.0, 4.0, 4.0), (0.0, 0.0));
    }
}
