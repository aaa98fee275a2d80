//! What nutsedge has to tell: the first shoots, ground won, the new tubers.

use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Notes, Turning};
use crate::weather::Sky;

/// Shoots that make a beginning, 1/m2.
const FIRST_M2: f64 = 1.0;

/// Cover at which it is told, share of the lawn.
const COVER: [f64; 4] = [0.02, 0.05, 0.10, 0.25];

/// Ground that it gives up in a frost without a word, share of the lawn.
const FEW: f64 = 0.01;

/// What is remembered of the year's nutsedge.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    first: bool,
    passed: usize,
}

/// Tells the evening of a day.
pub fn tell(state: &State, setting: &Setting, sky: &Sky, notes: &mut Notes) {
    if sky.day_of_year == 1 {
        notes.memory.nutsedge = Telling::default();
    }
    let n = &state.nutsedge;
    if !n.stands() {
        return;
    }
    let mut memory = notes.memory.nutsedge;
    if !memory.first && n.emerged >= FIRST_M2 {
        memory.first = true;
        notes.note(Turning::NutsedgeUp { soil_c: sky.soil_10cm_c, tubers_m2: n.tubers });
    }
    while let Some(level) = COVER.get(memory.passed).filter(|level| n.cover > **level) {
        memory.passed += 1;
        let above_mm = n.above_mm(state.canopy_height_mm());
        notes.note(Turning::NutsedgePasses { level: *level, shoots_m2: n.shoots(), above_mm });
    }
    let lost = notes.before.nutsedge_cover - n.cover;
    if sky.t_min_c <= setting.p.nutsedge.frost_c && lost >= FEW {
        let tubers_m2 = n.tubers + n.fresh;
        notes.note(Turning::NutsedgeKilled { t_min_c: sky.t_min_c, cover: lost, tubers_m2 });
    }
    notes.memory.nutsedge = memory;
}
