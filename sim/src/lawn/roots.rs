//! Where roots are, and what water they reach.

use super::cultivation;
use super::limits::Limits;
use super::setting::{BOTTOM_MM, LAYERS, Setting};
use super::state::State;

/// Share of a plant's roots in each layer when they reach down to `depth_mm`: the density falls
/// off with the square of the distance to the tip, so that 1 - (1 - z/Z)^3 lies above depth z.
#[inline]
pub fn root_shares(depth_mm: f64) -> [f64; LAYERS] {
    let per_mm = 1.0 / depth_mm.max(1.0);
    let mut below = 1.0;
    std::array::from_fn(|l| {
        let left = (1.0 - BOTTOM_MM[l] * per_mm).max(0.0);
        let left = left * left * left;
        let share = below - left;
        below = left;
        share
    })
}

/// Rooting depth of grass `i`, mm: towards the species' depth as root mass builds up, no deeper
/// than the soil lets it.
pub fn root_depth_mm(state: &State, setting: &Setting, i: usize) -> f64 {
    let s = &setting.p.sward;
    let plant = &state.plants[i];
    if plant.cover <= 0.0 {
        return 0.0;
    }
    let share = plant.root / (plant.root + s.root_half_g_m2 * plant.cover);
    (setting.grasses[i].root_depth_max_mm * share)
        .at_least(setting.p.water.root_depth_min_mm)
        .at_most(cultivation::root_limit_mm(state, setting))
}

/// Rooting depth of the sward: mean of the grasses weighted by cover, mm.
pub fn sward_depth_mm(state: &State, setting: &Setting) -> f64 {
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return 0.0;
    }
    let sum: f64 = (0..setting.grasses.len())
        .map(|i| state.plants[i].cover * root_depth_mm(state, setting, i))
        .sum();
    sum / cover
}

/// Available water and capacity (TAW) down to a depth, mm.
pub fn root_zone(water: &[f64; LAYERS], setting: &Setting, depth_mm: f64) -> (f64, f64) {
    let mut held = 0.0;
    let mut capacity = 0.0;
    let mut top = 0.0;
    for (water, layer) in water.iter().zip(&setting.layers) {
        let reached = depth_mm - top;
        if reached <= 0.0 {
            break;
        }
        let whole = reached >= layer.thickness_mm;
        let share = if whole { 1.0 } else { reached / layer.thickness_mm };
        top += layer.thickness_mm;
        held += share * (water - layer.wp_mm).max(0.0).min(layer.available_mm);
        capacity += share * layer.available_mm;
    }
    (held, capacity)
}

/// Share of the root zone's capacity (field capacity less wilting point) that is filled, 0..=1.
pub fn available_share(state: &State, setting: &Setting, depth_mm: f64) -> f64 {
    let (held, capacity) = root_zone(&state.water, setting, depth_mm);
    if capacity > 0.0 { (held / capacity).clamp(0.0, 1.0) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_sum_to_one_and_follow_the_cube() {
        for depth in [1.0, 40.0, 120.0, 300.0, 1000.0] {
            let sum: f64 = root_shares(depth).iter().sum();
            assert!((sum - 1.0).abs() < 1e-12, "{depth} {sum}");
        }
        // Roots to 300 mm: 1 - (1 - 50/300)^3 of them lie in the top 50 mm.
        let top = root_shares(300.0)[0];
        assert!((top - (1.0 - (5.0f64 / 6.0).powi(3))).abs() < 1e-12, "{top}");
    }
}
