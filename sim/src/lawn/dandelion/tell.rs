//! What dandelions have to tell: ground won, seed on the wind, plants that died and the gap they left.

use super::super::state::State;
use super::super::turning::{Notes, Rise, Turning};
use crate::weather::Sky;

/// Cover at which they are told, share of the lawn.
const COVER: [f64; 4] = [0.05, 0.10, 0.20, 0.40];

/// A spring's seed is told from so much on, 1/m2.
const SEED_M2: f64 = 20.0;

/// Day on which the spring's seed has flown.
const SEED_DAY: u16 = 172;

/// What is remembered of them.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    rise: Rise,
}

/// Tells the evening of a day.
pub fn tell(state: &State, sky: &Sky, notes: &mut Notes) {
    let d = &state.dandelion;
    if !d.played {
        return;
    }
    let grown_m2 = d.stands[0].plants;
    let mut rise = notes.memory.dandelion.rise;
    if let Some(level) = rise.passed(d.cover, d.seen, &COVER) {
        notes.note(Turning::DandelionPasses {
            level,
            plants_m2: grown_m2,
            seedlings_m2: d.plants() - grown_m2,
        });
    }
    if let Some((cover, plants)) = rise.fell(d.cover, grown_m2) {
        notes.note(Turning::DandelionDies { cover, share: plants, bare: state.bare() });
    }
    notes.memory.dandelion.rise = rise;
    if sky.day_of_year == SEED_DAY && d.seed_rain >= SEED_M2 {
        notes.note(Turning::DandelionSeeds { heads_m2: d.flowered, seed_m2: d.seed_rain });
    }
}
