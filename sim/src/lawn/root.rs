//! Roots: how they grow, stop and die.

use super::limits::Limits;
use super::plant::{Plant, build};
use super::reaction;
use super::setting::Setting;
use super::state::State;
use super::warmth::Warmth;

/// Roots take their part of what leaf growth left, while the soil is cool and cuts let them; old
/// ones die.
pub(super) fn grow(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let sound = reaction::growth(state, setting, &setting.grasses[i]);
    let plant = &mut state.plants[i];
    recover(plant);
    let pace = warmth.root * (1.0 - plant.root_stop) * plant.ks * plant.surplus(s);
    let room = plant.nitrogen_room(s) / s.nitrogen_root_ratio;
    let pace = pace * (1.0 + state.ground.stimulus) * sound;
    let wanted = (s.root_growth_max * plant.cover * pace).at_most(s.root_nitrogen_share * room);
    let grown = build(state, setting, i, wanted);
    state.plants[i].root += grown;
    die(state, setting, warmth, i);
}

/// Old roots die, faster in warm soil; above the growth range heat takes more.
fn die(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let warm = warmth.root_respiration.at_least(s.root_ageing_min).at_most(s.root_ageing_max);
    let heat = s.root_heat_loss * (1.0 - warmth.root) * (warm - 1.0).max(0.0);
    let share = (warm / s.root_life_days + heat).at_most(s.root_loss_max);
    let plant = &mut state.plants[i];
    let dead = plant.root * share;
    let nitrogen = dead * plant.leaf_n * s.nitrogen_root_ratio;
    plant.root -= dead;
    super::ledger::shift(&mut plant.nitrogen, &mut state.root_litter.n, nitrogen);
    state.root_litter.c += dead * s.carbon_share;
}

/// Root growth that cuts stopped comes back, after a hold.
fn recover(plant: &mut Plant) {
    if plant.root_stop_hold > 0.0 {
        plant.root_stop_hold -= 1.0;
    } else if plant.root_stop > 0.0 {
        plant.root_stop *= plant.root_stop_left;
    }
}

#[cfg(test)]
mod tests {
    use super::super::plant::root_stop_left;
    use super::*;

    /// One time constant after the hold, 1/e of the stop is left.
    #[test]
    fn a_stop_holds_and_then_fades() {
        let mut plant = Plant {
            root_stop: 0.8,
            root_stop_hold: 4.0,
            root_stop_left: root_stop_left(8.0),
            ..Plant::default()
        };
        for _ in 0..4 {
            recover(&mut plant);
            assert_eq!(plant.root_stop, 0.8);
        }
        for _ in 0..8 {
            recover(&mut plant);
        }
        assert!((plant.root_stop - 0.8 / std::f64::consts::E).abs() < 1e-12);
    }
}
