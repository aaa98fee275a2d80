//! What cover has to tell: bare ground that fills, and what takes ground that is lost.

use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Leg, Losses, Notes, Turning};
use super::super::warmth::Warmth;
use super::{Stress, opening, stress as stress_of};
use crate::weather::Sky;

/// Ground won or lost that is worth a word, share of the lawn: the least difference in cover that
/// matters.
const WORTH: f64 = 0.05;

/// Steps that move a leg's end, share of the lawn.
const STEP: f64 = 0.005;

/// What is remembered of cover.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    leg: Leg,
    /// Losses since the leg began, up to its farthest day and after it.
    lost: Losses,
    after: Losses,
}

impl Telling {
    /// Counts ground lost.
    pub fn lost(&mut self, losses: &Losses) {
        self.after.add(losses);
    }
}

/// Counts what stress will open today, before it does.
pub fn stress(state: &State, setting: &Setting, sky: &Sky, warmth: &Warmth, notes: &mut Notes) {
    for i in 0..setting.grasses.len() {
        let cover = state.plants[i].cover;
        if cover <= 0.0 {
            continue;
        }
        let Stress { thirst, hunger, heat, blight } = stress_of(state, setting, sky, warmth, i);
        let sum = thirst + hunger + heat + blight;
        if sum <= 0.0 {
            continue;
        }
        let taken = (setting.p.sward.stress_loss_max / sum).min(1.0);
        let opened = cover * taken * opening(state, setting, i);
        notes.memory.turf.lost(&Losses {
            drought: thirst * opened,
            hunger: hunger * opened,
            heat: heat * opened,
            blight: blight * opened,
            ..Losses::default()
        });
    }
}

/// Tells the evening of a day.
pub fn tell(state: &State, notes: &mut Notes) {
    let now = (notes.today, state.turf_cover(), state.bare());
    let memory = &mut notes.memory.turf;
    memory.lost(&Losses { crabgrass: state.today.displaced, ..Losses::default() });
    let (ended, farthest) = memory.leg.take(now, WORTH, STEP);
    let lost = memory.lost;
    if ended.is_some() {
        memory.lost = std::mem::take(&mut memory.after);
    } else if farthest {
        let after = std::mem::take(&mut memory.after);
        memory.lost.add(&after);
    }
    if let Some(leg) = ended {
        note(&leg, lost, notes);
    }
}

/// Tells the leg that a year ends in, and begins the next.
pub fn end(notes: &mut Notes) {
    let Telling { leg, lost, .. } = std::mem::take(&mut notes.memory.turf);
    note(&leg, lost, notes);
}

fn note(leg: &Leg, losses: Losses, notes: &mut Notes) {
    let Some([(since, from, bare_from), (day, to, bare_to)]) = leg.ends else { return };
    if to - from >= WORTH {
        notes.note_on(day, Turning::TurfFilled { since, from, to, bare_from, bare_to });
    } else if from - to >= WORTH {
        notes.note_on(day, Turning::TurfThinned { since, from, to, losses });
    }
}
