//! Iron on the leaf: darker colour without growth, until the leaf that took it is mown away; burnt
//! leaf in heat or above the rates in use.

use super::setting::Setting;
use super::state::State;
use crate::weather::Sky;

/// Less than this is none, kg Fe/ha.
const NONE_KG_HA: f64 = 1e-3;

/// Sprays iron, kg Fe/ha. Leaf takes it as far as there is green leaf.
pub fn spray(state: &mut State, setting: &Setting, sky: &Sky, iron_kg_ha: f64) {
    let p = &setting.p.iron;
    let over = ((iron_kg_ha - p.burn_from_kg_ha) / p.burn_from_kg_ha).max(0.0);
    let hot = ((sky.t_max_c - p.burn_t_c) / p.burn_range_c).clamp(0.0, 1.0);
    let dose = iron_kg_ha.max(0.0) / p.burn_from_kg_ha;
    let burnt = (p.burn_over * over + p.burn_hot * hot * dose).min(p.burn_max);
    super::leaf::burn(state, setting, burnt);
    state.iron_kg_ha += iron_kg_ha.max(0.0);
}

/// One day: leaf that grows up pushes the dark leaf into the mower's reach, rain and dew rinse some.
pub fn step(state: &mut State, setting: &Setting) {
    if state.iron_kg_ha <= 0.0 {
        return;
    }
    let p = &setting.p.iron;
    let height = state.canopy_height_mm();
    let grown = state.sward_mean(|plant| plant.extension_mm);
    let renewed = if height > 0.0 { (p.renewal * grown / height).min(1.0) } else { 1.0 };
    let rinsed = 1.0 - (-state.today.infiltration_mm / p.rinse_mm).exp();
    state.iron_kg_ha *= (1.0 - renewed) * (1.0 - rinsed) * (-1.0 / p.half_life_days).exp2();
    if state.iron_kg_ha < NONE_KG_HA {
        state.iron_kg_ha = 0.0;
    }
}

/// Colour that it adds to green leaf, as a share of the scale from 1 to 9.
pub(super) fn colour(state: &State, setting: &Setting) -> f64 {
    if state.iron_kg_ha <= 0.0 {
        return 0.0;
    }
    let p = &setting.p.iron;
    p.colour_gain * (1.0 - (-state.iron_kg_ha / p.colour_kg_ha).exp())
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{lawn, sky};
    use super::*;

    /// Above 85 degF and above the rates in use it burns; else it takes no leaf.
    #[test]
    fn heat_and_overdoses_burn() {
        let burnt = |t_mean_c: f64, iron_kg_ha: f64| {
            let (setting, mut state) = lawn();
            state.set_canopy(&setting, 70.0);
            let before = (state.plants[0].leaf, state.stocks(&setting));
            spray(&mut state, &setting, &sky(t_mean_c), iron_kg_ha);
            for (a, b) in before.1.iter().zip(state.stocks(&setting)) {
                assert!((a - b).abs() < 1e-9 * a);
            }
            1.0 - state.plants[0].leaf / before.0
        };
        assert_eq!(burnt(18.0, 2.2), 0.0);
        assert!(burnt(28.0, 2.2) > 0.02 && burnt(18.0, 10.0) > 0.05);
    }
}
