//! Wheels and feet of a visit: they crush leaf that is wilted or frosted, and tear wet ground.
//!
//! Tracks of a mower on wilting turf turn brown within a day and green over within two or three weeks,
//! as crowns mostly live; frosted leaf is crushed alike (Colorado State University, PlantTalk 1501;
//! Frank, Michigan State University). How much of either is our judgement.

use super::leaf;
use super::setting::Setting;
use super::state::State;
use super::tillers;
use super::turning::{Notes, Tread, Turning};
use crate::weather::Sky;

/// Green that tracks took which is worth a word, and ground that they opened, share of the turf each.
const WORTH: f64 = 0.02;
const WORTH_OPEN: f64 = 0.005;

/// How far turf and ground suffer from what passes over them, 0..=1 each.
#[derive(Clone, Copy, Debug)]
struct Weakness {
    wilted: f64,
    frosted: f64,
    wet: f64,
}

fn weakness(state: &State, setting: &Setting, sky: &Sky, i: usize) -> Weakness {
    let m = &setting.p.mowing;
    let layer = &setting.layers[0];
    let over = (state.water[0] - layer.fc_mm) / (layer.sat_mm - layer.fc_mm);
    Weakness {
        wilted: (1.0 - state.plants[i].ks / m.track_ks).clamp(0.0, 1.0),
        frosted: frosted(setting, sky),
        wet: over.clamp(0.0, 1.0),
    }
}

/// Share of the leaf that is frosted when a crew comes, 0..=1: the part of the day's warming that passes
/// below freezing, and of that what has not thawed by then.
pub fn frosted(setting: &Setting, sky: &Sky) -> f64 {
    let m = &setting.p.mowing;
    let range_c = (sky.t_max_c - sky.t_min_c).max(0.1);
    let below = ((m.track_frost_c - sky.t_min_c) / range_c).clamp(0.0, 1.0);
    ((below - m.track_frost_start) / (1.0 - m.track_frost_start)).clamp(0.0, 1.0)
}

/// A mower passes over the lawn.
pub(super) fn pass(state: &mut State, setting: &Setting, sky: &Sky) {
    let m = &setting.p.mowing;
    let mut crushed = 0.0;
    let before = state.turf_cover();
    for i in 0..setting.grasses.len() {
        if state.plants[i].cover <= 0.0 {
            continue;
        }
        let Weakness { wilted, frosted, wet } = weakness(state, setting, sky, i);
        let leaf = m.track_share * m.track_leaf_loss * wilted.max(frosted);
        let crowns = m.track_share * (m.track_crown_loss * wilted.max(frosted) + m.rut_loss * wet);
        crushed += state.plants[i].cover * leaf;
        leaf::wither(state, setting, i, leaf);
        tillers::open(state, setting, i, crowns);
    }
    let cover = state.turf_cover();
    if cover > 0.0 {
        state.today.trodden += crushed / cover;
        state.today.trodden_out += before - cover;
    }
}

/// What is remembered of tracks: what has not been told.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    visits: u32,
    /// Green turf that browned, and ground that opened, share of the lawn each.
    browned: f64,
    opened: f64,
}

/// Tells the evening of a day. Visits to weak turf are told as they come to be worth a word together: on
/// turf that is brown already nothing shows but what dies.
pub(super) fn tell(state: &State, setting: &Setting, sky: &Sky, notes: &mut Notes) {
    let (crushed, opened) = (state.today.trodden, state.today.trodden_out);
    if crushed <= 0.0 {
        return;
    }
    let memory = &mut notes.memory.traffic;
    memory.visits += 1;
    memory.browned += crushed * state.evening.green_cover;
    memory.opened += opened;
    if memory.browned < WORTH && memory.opened < WORTH_OPEN {
        return;
    }
    let Telling { visits, browned, opened } = std::mem::take(memory);
    let frost = weakness(state, setting, sky, 0).frosted > 0.0;
    let by = if frost { Tread::Frosted } else { Tread::Wilted };
    notes.note(Turning::Tracks { browned: browned.min(1.0), opened, visits, by });
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{lawn, sky};
    use super::*;

    fn crushed(ready: impl Fn(&mut State, &Setting), t_c: f64) -> (f64, f64) {
        let (setting, mut state) = lawn();
        ready(&mut state, &setting);
        let cover = state.turf_cover();
        let carbon = state.stocks(&setting)[2];
        pass(&mut state, &setting, &sky(t_c));
        assert!((state.stocks(&setting)[2] - carbon).abs() < 1e-9 * carbon);
        (state.today.trodden, 1.0 - state.turf_cover() / cover)
    }

    /// Colorado State: tracks on drought-stressed and on frosted turf; crowns mostly live.
    #[test]
    fn tracks_show_on_wilted_and_frosted_turf_alone() {
        let dry = |state: &mut State, _: &Setting| {
            state.plants.iter_mut().for_each(|plant| plant.ks = 0.1);
        };
        let fresh = |state: &mut State, setting: &Setting| {
            state.plants.iter_mut().for_each(|plant| plant.ks = 1.0);
            state.water[0] = setting.layers[0].fc_mm;
        };
        let wet = |state: &mut State, setting: &Setting| {
            fresh(state, setting);
            state.water[0] = setting.layers[0].sat_mm;
        };
        assert_eq!(crushed(fresh, 18.0), (0.0, 0.0));
        let (leaf, cover) = crushed(dry, 25.0);
        assert!(leaf > 0.01 && cover < 0.1 * leaf, "{leaf} {cover}");
        assert!(crushed(fresh, -2.0).0 > 0.01);
        let (leaf, cover) = crushed(wet, 18.0);
        assert!(leaf == 0.0 && cover > 0.0);
    }
}
