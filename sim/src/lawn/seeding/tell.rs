//! What sown grass has to tell: a barrier in its way, and when it is up.

use super::super::barrier;
use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Notes, Turning};
use crate::calendar::Day;

/// What is remembered of the last sowing: its day, and the seedlings that had come up before it.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    sown: Option<(Day, f64)>,
}

/// Share of emerging grass stopped by a barrier under sown seed that is worth a word.
const WORTH: f64 = 0.05;

/// Seed was sown just now.
pub fn sown(state: &State, setting: &Setting, notes: &mut Notes) {
    let stopped = barrier::strength_on_grass(state, setting);
    if stopped >= WORTH {
        notes.note(Turning::SownOnBarrier { stopped });
    }
    notes.memory.seeding.sown = Some((notes.today, state.sown.emerged));
}

/// Tells the evening of a day.
pub fn tell(state: &State, setting: &Setting, notes: &mut Notes) {
    let Some((day, before)) = notes.memory.seeding.sown else { return };
    let seedlings_m2 = state.sown.emerged - before;
    if seedlings_m2 > 0.0 && seedlings_m2 >= state.sown.seeds() {
        notes.memory.seeding.sown = None;
        let days = (notes.today.0 - day.0).unsigned_abs();
        let stopped = barrier::strength_on_grass(state, setting);
        notes.note(Turning::SownUp { days, seedlings_m2, stopped });
    }
}
