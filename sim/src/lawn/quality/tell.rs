//! What a rating has to tell: when it comes to stand on the other side of acceptable, and why.

use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Notes, Part, Turning, Waiting};
use super::{ACCEPTABLE, View, parts};

/// Days that quality has to stay on the other side.
const DAYS: i32 = 5;

/// Days over which what moved it is read.
const LOOK_BACK: usize = 14;

/// What is remembered of ratings.
#[derive(Clone, Debug, Default)]
pub(in crate::lawn) struct Telling {
    side: Waiting,
    begun: bool,
    /// Rating and parts of the last days, a ring by day.
    last: [(f64, [f64; 3]); LOOK_BACK],
}

/// Tells the evening of a day.
pub fn tell(state: &State, setting: &Setting, notes: &mut Notes) {
    let cover = state.turf_cover().clamp(0.0, 1.0);
    let parts = parts(state, setting, cover, &View::of(state, setting, cover));
    let today = notes.today;
    let place = |back: i32| (today.0 - back).rem_euclid(LOOK_BACK as i32) as usize;
    let memory = &mut notes.memory.quality;
    let acceptable = state.quality >= ACCEPTABLE;
    if !memory.begun {
        memory.begun = true;
        memory.side.on = acceptable;
        memory.last = [(state.quality, parts); LOOK_BACK];
    }
    // The oldest of the ring, before today takes its place.
    let (_, earlier) = memory.last[place(0)];
    memory.last[place(0)] = (state.quality, parts);
    if !memory.side.turned(today, acceptable, DAYS, [0.0; 3]) {
        return;
    }
    let up = memory.side.on;
    let (quality, then) = memory.last[place(DAYS - 1)];
    let moved = |k: usize| if up { then[k] - earlier[k] } else { earlier[k] - then[k] };
    let most = (0..3).max_by(|a, b| moved(*a).total_cmp(&moved(*b))).unwrap_or(0);
    let by = [Part::Density, Part::Evenness, Part::Colour][most];
    let since = memory.side.since;
    notes.note_on(since, Turning::QualityPasses { up, quality, by });
}
