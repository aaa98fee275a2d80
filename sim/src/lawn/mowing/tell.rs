//! What mowing has to tell: how much of the leaf each cut took, and what clippings gave back.

use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Losses, Notes, Turning};
use crate::work::Clippings;

/// Nitrogen in a year's clippings that is worth a word, g/m2.
const WORTH_G_M2: f64 = 0.5;

/// What is remembered of the year's clippings.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    /// Nitrogen in clippings left on the lawn, g/m2.
    left: f64,
    /// Clippings' nitrogen of all years, up to the last mowing, g/m2.
    before: f64,
    /// Nitrogen laid as fertilizer this year, g/m2.
    laid: f64,
}

impl Telling {
    /// Counts fertilizer, g N/m2.
    pub fn laid(&mut self, n_g_m2: f64) {
        self.laid += n_g_m2;
    }
}

/// A mowing has just passed. Where several pass on one day, each is told from the morning's canopy.
pub fn cut(
    state: &State,
    setting: &Setting,
    height_mm: f64,
    clippings: Clippings,
    notes: &mut Notes,
) {
    let before = notes.before;
    let memory = &mut notes.memory.mowing;
    let earlier = memory.before.max(before.totals.clippings_n);
    memory.before = state.totals.clippings_n;
    if clippings == Clippings::Return {
        memory.left += state.totals.clippings_n - earlier;
    }
    let (mut leaf, mut whole, mut tall) = (0.0, 0.0, 0.0);
    for (was, is) in before.plants.iter().zip(&state.plants).take(setting.grasses.len()) {
        leaf += if was.leaf > 0.0 && is.height_mm < was.height_mm {
            was.leaf * (1.0 - is.profile / was.profile)
        } else {
            0.0
        };
        whole += was.leaf;
        tall += was.cover * was.height_mm;
    }
    let cover_lost = (before.turf_cover - state.turf_cover()).max(0.0);
    notes.memory.turf.lost(&Losses { mowing: cover_lost, ..Losses::default() });
    if leaf > 0.0 && before.turf_cover > 0.0 {
        let from_mm = tall / before.turf_cover;
        notes.note(Turning::Cut { from_mm, to_mm: height_mm, leaf: leaf / whole, cover_lost });
    }
}

/// Tells a year's clippings on its last evening.
pub fn end(notes: &mut Notes) {
    let memory = &mut notes.memory.mowing;
    let (n_g_m2, laid_g_m2) = (memory.left, memory.laid);
    (memory.left, memory.laid) = (0.0, 0.0);
    if n_g_m2 >= WORTH_G_M2 {
        notes.note(Turning::ClippingsGaveBack { n_g_m2, laid_g_m2 });
    }
}
