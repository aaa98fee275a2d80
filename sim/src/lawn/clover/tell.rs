//! What clover has to tell: ground won, and stolons that died and the gap they left.

use super::super::state::State;
use super::super::turning::{Notes, Rise, Turning};

/// Cover at which it is told, share of the lawn.
const COVER: [f64; 4] = [0.05, 0.10, 0.20, 0.40];

/// What is remembered of it.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    rise: Rise,
}

/// Tells the evening of a day.
pub fn tell(state: &State, notes: &mut Notes) {
    let clover = &state.clover;
    if !clover.played {
        return;
    }
    let mut rise = notes.memory.clover.rise;
    if let Some(level) = rise.passed(clover.cover, clover.seen, &COVER) {
        notes.note(Turning::CloverPasses { level, fixed_g_m2: clover.fixed_n });
    }
    if let Some((cover, share)) = rise.fell(clover.cover, clover.tissue.base) {
        notes.note(Turning::CloverDies { cover, share, bare: state.bare() });
    }
    notes.memory.clover.rise = rise;
}
