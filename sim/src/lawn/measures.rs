//! The daily measures, in the order of [`crate::ensemble::MEASURES`].

use super::setting::Setting;
use super::state::{Evening, State};
use super::{nitrogen, organic, roots};

/// Reads what this evening's signs and measures share, beside what the rating has read.
pub(super) fn evening(state: &State, setting: &Setting) -> Evening {
    let root_depth_mm = roots::sward_depth_mm(state, setting);
    let felt_mm = root_depth_mm.max(setting.p.water.sign_depth_mm);
    Evening {
        root_depth_mm,
        soil_water: roots::available_share(state, setting, felt_mm),
        ..state.evening
    }
}

/// Fills `out` with this evening's measures; `out` holds one entry a measure.
pub fn fill(state: &State, setting: &Setting, out: &mut [f32]) {
    let tillers: f64 = state.plants.iter().map(|p| p.tillers).sum();
    let lai: f64 =
        setting.grasses.iter().zip(&state.plants).map(|(t, p)| p.leaf * t.specific_leaf_area).sum();
    let totals = &state.totals;
    let values = [
        100.0 * state.turf_cover(),
        100.0 * state.evening.green_cover,
        tillers / 100.0,
        100.0 * state.weed.cover,
        100.0 * state.dandelion.cover,
        100.0 * state.clover.cover,
        100.0 * state.nutsedge.cover,
        state.weed.emerged,
        100.0 * state.bare(),
        state.quality,
        state.colour,
        state.canopy_height_mm(),
        lai,
        state.plants.iter().map(|p| p.root).sum(),
        state.evening.root_depth_mm,
        state.plants.iter().map(|p| p.reserves).sum(),
        100.0 * state.today.barrier,
        state.today.emerging,
        state.today.through,
        state.today.soil_5cm_c,
        state.evening.soil_water,
        nitrogen::mineral(state),
        organic::organic_matter_pct(state, setting),
        totals.clippings,
        totals.leached,
        totals.runoff,
        totals.drainage,
        totals.et,
        state.evening.colour_short,
    ];
    for (slot, value) in out.iter_mut().zip(values.map(|value| value as f32)) {
        *slot = value;
    }
}

/// Mean reserve level of the sward, share of full, 0..=1.
pub fn reserves(state: &State, setting: &Setting) -> f64 {
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return 0.0;
    }
    let plants = &state.plants[..setting.grasses.len()];
    plants.iter().map(|p| p.cover * p.reserve_level(&setting.p.sward)).sum::<f64>() / cover
}
