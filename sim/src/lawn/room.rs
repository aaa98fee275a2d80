//! Room: every patch of ground is held by grass, held by crabgrass, or bare.

use super::setting::Setting;
use super::state::State;
use super::tillers;

/// Crabgrass takes the ground that its leaves cover: bare ground at once, turf only as fast as
/// it displaces it, and only as far as the light under the turf is past what crabgrass needs. What it gives up falls bare.
pub fn step(state: &mut State, setting: &Setting) {
    let s = &setting.p.sward;
    let turf = state.turf_cover();
    let mut leak = 0.0;
    let mut leaks = [0.0; super::setting::MAX_GRASSES];
    for (i, traits) in setting.grasses.iter().enumerate() {
        let plant = &state.plants[i];
        let shade = plant.leaf_area_index(traits.specific_leaf_area) + s.stubble_area_index;
        let light = setting.sun * (-s.extinction * shade).exp();
        let dark = setting.p.crabgrass.invasion_light;
        leaks[i] = plant.cover * ((light - dark) / (1.0 - dark)).max(0.0);
        leak += leaks[i];
    }
    let room = (1.0 - turf).max(0.0) + leak;
    let area = state.weed.leaf_area();
    let wanted = if room > 0.0 { room * (1.0 - (-area / room).exp()) } else { 0.0 };
    let from_bare = (wanted - state.weed.cover).min(state.bare());
    state.weed.cover += from_bare;
    let short = wanted - state.weed.cover;
    if short > 0.0 && leak > 0.0 {
        let pace = setting.p.crabgrass.displacement * state.weed.cover * leak / turf;
        let take = short.min(pace).min(0.5 * turf);
        for (i, mine) in leaks.iter().enumerate().take(setting.grasses.len()) {
            let cover = state.plants[i].cover;
            if cover > 0.0 {
                let lost = (take * mine / leak).min(0.5 * cover);
                tillers::die(state, setting, i, lost / cover);
                state.plants[i].cover -= lost;
                state.weed.cover += lost;
            }
        }
    }
    state.weed.cover = state.weed.cover.clamp(0.0, 1.0);
}
