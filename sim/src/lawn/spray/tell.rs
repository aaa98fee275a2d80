//! What a spray has to tell: what it took hold of, and what rain took of it.

use super::super::state::State;
use super::super::turning::{Notes, Turning};
use crate::calendar::Day;
use crate::weather::Sky;

/// Rain that takes so much of a spray is worth a word.
const WASHED: f64 = 0.15;

/// Some sprayed weed must have stood for what became of it to be told, share of the lawn.
const FEW: f64 = 0.005;

/// What is remembered of the last spray.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    day: Option<Day>,
}

/// A spray was put out just now.
pub fn sprayed(notes: &mut Notes) {
    notes.memory.spray.day = Some(notes.today);
}

/// Tells the evening of a day.
pub fn tell(state: &State, sky: &Sky, notes: &mut Notes) {
    let Some(on) = notes.memory.spray.day else { return };
    let days = (notes.today.0 - on.0).unsigned_abs();
    if state.sprays.washed_today >= WASHED {
        let water_mm = sky.precip_mm + state.today.irrigation_mm;
        notes.note(Turning::SprayWashed { days, water_mm, lost: state.sprays.washed_today });
    }
    if let Some(s) = state.sprays.settled {
        notes.memory.spray.day = None;
        let stood = |share: Option<f64>, cover: f64| share.filter(|_| cover >= FEW);
        notes.note(Turning::SprayTakes {
            days,
            taken: s.taken,
            crabgrass: stood(s.crabgrass, state.weed.cover),
            tillered: s.tillered,
            dandelion: stood(s.dandelion, state.dandelion.cover),
            clover: stood(s.clover, state.clover.cover),
            nutsedge: stood(s.nutsedge, state.nutsedge.cover),
            turf: s.turf,
        });
    }
}
