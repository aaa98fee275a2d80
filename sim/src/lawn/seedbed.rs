//! The seedbed: thatch and the top centimetre, where seed lies. Small rains wet it, shade keeps
//! it; the layer below feeds and drains it. It is a moisture index, not a store of its own: its
//! water is part of the surface layer's.

use super::setting::Setting;
use super::state::State;
use crate::weather::Sky;

/// One day of wetting and drying. `state.today.seedbed_wet` is the wettest hour's moisture, and
/// `state.seedbed` the evening's, both as a share of available water, 0..=1.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.seedbed;
    let layer = &setting.layers[0];
    let below = ((state.water[0] - layer.wp_mm) / layer.available_mm).clamp(0.0, 1.0);
    let moved = state.seedbed + p.exchange * (below - state.seedbed);
    let wet = (moved + state.today.infiltration_mm / p.capacity_mm).clamp(0.0, 1.0);
    // Leaves keep the sun off; what is left dries the bed as long as it is moist.
    let open = (1.0 - state.turf_cover() - state.weed_cover()).clamp(0.0, 1.0);
    let drying = setting.demand_mm(sky) * (p.shaded_share + (1.0 - p.shaded_share) * open);
    state.today.seedbed_wet = wet;
    state.seedbed = (wet * (1.0 - drying / p.capacity_mm).max(0.0)).clamp(0.0, 1.0);
}
