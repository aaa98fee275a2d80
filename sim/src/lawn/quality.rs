//! Visual ratings on the 1-9 scale of turfgrass trials (6 = acceptable; NTEP).

use super::growth::full_leaf;
use super::setting::Setting;
use super::state::State;

/// Green leaf a grass shows over what its canopy would show in full, 0..=1.
pub fn greenness(state: &State, setting: &Setting, i: usize) -> f64 {
    let plant = &state.plants[i];
    let full = full_leaf(plant, &setting.grasses[i], setting);
    if full <= 0.0 {
        return 0.0;
    }
    // From above, the upper leaves hide the lower: a third of the leaf already shows green.
    let share = (plant.leaf / full).clamp(0.0, 1.0);
    1.0 - (1.0 - share).powi(3)
}

/// Live green turf cover, 0..=1.
pub fn green_cover(state: &State, setting: &Setting) -> f64 {
    (0..setting.grasses.len()).map(|i| state.plants[i].cover * greenness(state, setting, i)).sum()
}

/// Rates this evening's lawn.
pub fn rate(state: &mut State, setting: &Setting) {
    let q = &setting.p.quality;
    let cover = state.turf_cover().clamp(0.0, 1.0);
    let (mut colour, mut dense, mut stubble, mut green, mut tall) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (i, traits) in setting.grasses.iter().enumerate() {
        let plant = &state.plants[i];
        let shown = greenness(state, setting, i);
        let rich = ((plant.leaf_n - q.colour_n_zero) / q.colour_n_scale).max(0.0);
        colour += plant.cover * traits.colour_ceiling * (1.0 - (-rich).exp()) * shown;
        dense += (plant.tillers / traits.density_max_m2).min(plant.cover);
        stubble += plant.cover * plant.stubble;
        green += plant.cover * shown;
        tall += plant.cover * ((plant.height_mm - 120.0) / 100.0).clamp(0.0, 1.0);
    }
    if cover > 0.0 {
        colour /= cover;
        stubble /= cover;
        tall /= cover;
    }
    let density =
        dense.clamp(0.0, 1.0).powf(q.density_power) * (0.3 + 0.7 * green / cover.max(1e-9));
    let clumps = (state.today.clumps / setting.p.mowing.clump_g_m2 - 1.0).clamp(0.0, 1.0);
    let even = (1.0 - q.weed_penalty * state.weed.cover).max(0.0)
        * (1.0 - q.bare_penalty * state.bare()).max(0.0)
        * (1.0 - q.stubble_penalty * stubble)
        * (1.0 - q.clump_penalty * clumps)
        * (1.0 - q.tall_penalty * tall);
    let seen = colour * cover;
    state.colour = 1.0 + 8.0 * colour.clamp(0.0, 1.0);
    let score = q.weight_density * density
        + q.weight_uniformity * even * green.clamp(0.0, 1.0).sqrt()
        + q.weight_colour * seen;
    state.quality = (1.0 + 8.0 * score).clamp(1.0, 9.0);
}
