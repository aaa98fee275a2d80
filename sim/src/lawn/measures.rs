//! The daily measures, in the order of [`crate::ensemble::MEASURES`].

use super::growth::reserve_level;
use super::setting::Setting;
use super::state::State;
use super::{nitrogen, organic, quality, water};

/// Fills `out` with this evening's measures; `out` holds one entry a measure.
pub fn fill(state: &State, setting: &Setting, out: &mut [f32]) {
    let depth = root_depth(state, setting);
    let tillers: f64 = state.plants.iter().map(|p| p.tillers).sum();
    let lai: f64 =
        setting.grasses.iter().zip(&state.plants).map(|(t, p)| p.leaf * t.specific_leaf_area).sum();
    let totals = &state.totals;
    let values = [
        100.0 * state.turf_cover(),
        100.0 * quality::green_cover(state, setting),
        tillers / 100.0,
        100.0 * state.weed.cover,
        state.weed.emerged,
        100.0 * state.bare(),
        state.quality,
        state.colour,
        state.canopy_height_mm(),
        lai,
        state.plants.iter().map(|p| p.root).sum(),
        depth,
        state.plants.iter().map(|p| p.reserves).sum(),
        100.0 * state.today.barrier,
        state.today.emerging,
        state.today.soil_5cm_c,
        water::available_share(state, setting, depth.max(50.0)),
        nitrogen::mineral(state),
        organic::organic_matter_pct(state, setting),
        totals.clippings,
        totals.leached,
        totals.runoff,
        totals.drainage,
        totals.et,
    ];
    for (slot, value) in out.iter_mut().zip(values) {
        *slot = value as f32;
    }
}

/// Rooting depth of the sward: mean of the grasses weighted by cover, mm.
pub fn root_depth(state: &State, setting: &Setting) -> f64 {
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return 0.0;
    }
    let sum: f64 = (0..setting.grasses.len())
        .map(|i| state.plants[i].cover * water::root_depth_mm(state, setting, i))
        .sum();
    sum / cover
}

/// Mean reserve level of the sward, share of full, 0..=1.
pub fn reserves(state: &State, setting: &Setting) -> f64 {
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return 0.0;
    }
    let plants = &state.plants[..setting.grasses.len()];
    plants.iter().map(|p| p.cover * reserve_level(p, setting)).sum::<f64>() / cover
}
