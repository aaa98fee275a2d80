//! What a barrier has to tell: watered in or waiting, and when it has worn thin.

use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Notes, Turning};
use super::exposed_share;
use crate::weather::Sky;

/// A barrier is in place once so much of it has left leaves and granules.
const IN_PLACE: f64 = 0.8;

/// Days after which a barrier that waits for water is worth a word.
const WAITS_DAYS: u32 = 7;

/// Shares of emerging crabgrass at which a barrier's wearing off is told.
const LEVELS: [f64; 2] = [0.5, 0.2];

/// It has to have stood so much above a share to be told as falling below it.
const ABOVE: f64 = 0.15;

/// What is remembered of the barrier since it was last laid.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    /// Days since; none before the first.
    days: Option<u32>,
    /// What lay then on leaves and in granules, and in all places, kg ai/ha.
    waiting: f64,
    all: f64,
    lost: f64,
    water_mm: f64,
    in_place: bool,
    /// The most residue in the soil, kg ai/ha, and the most that it stopped.
    most: f64,
    best: f64,
    /// Whether its fall below each level was told.
    told: [bool; LEVELS.len()],
}

/// A pass was laid just now.
pub fn laid(state: &State, notes: &mut Notes) {
    let (waiting, soil) = places(state);
    let before = notes.memory.barrier;
    notes.memory.barrier = Telling {
        days: Some(0),
        waiting,
        all: waiting + soil,
        most: soil,
        best: before.best.min(notes.before.today.barrier),
        ..Telling::default()
    };
}

/// Residue that waits on leaves and in granules, and that in the soil, kg ai/ha.
fn places(state: &State) -> (f64, f64) {
    let passes = &state.deposits.passes[..state.deposits.used];
    passes.iter().fold((0.0, 0.0), |(w, s), p| (w + p.leaf + p.granule, s + p.soil))
}

/// Tells the evening of a day, after crabgrass has met the barrier.
pub fn tell(state: &State, setting: &Setting, sky: &Sky, notes: &mut Notes) {
    let mut memory = notes.memory.barrier;
    let Some(since) = memory.days else { return };
    let (waiting, soil) = places(state);
    let leaf: f64 = state.deposits.passes[..state.deposits.used].iter().map(|p| p.leaf).sum();
    memory.lost += leaf * (1.0 / exposed_share(setting, sky) - 1.0);
    memory.water_mm += state.today.infiltration_mm;
    memory.most = memory.most.max(soil);
    let stopped = state.today.barrier;
    memory.best = memory.best.max(stopped);
    let to_come = (1.0 - state.weed.emerged_share).clamp(0.0, 1.0);
    let lost = (memory.lost / memory.all.max(f64::MIN_POSITIVE)).min(1.0);
    if !memory.in_place && waiting <= (1.0 - IN_PLACE) * memory.waiting {
        memory.in_place = true;
        let water_mm = memory.water_mm;
        notes.note(Turning::BarrierInPlace { days: since, water_mm, lost, stopped, to_come });
    } else if !memory.in_place && since == WAITS_DAYS {
        let water_mm = memory.water_mm;
        notes.note(Turning::BarrierWaits { days: since, water_mm, lost, stopped });
    }
    for (level, told) in LEVELS.into_iter().zip(&mut memory.told) {
        if !*told && stopped < level && memory.best >= level + ABOVE {
            *told = true;
            let residue = soil / memory.most.max(f64::MIN_POSITIVE);
            notes.note(Turning::BarrierBelow { level, days: since, residue, to_come });
        }
    }
    memory.days = Some(since + 1);
    notes.memory.barrier = memory;
}
