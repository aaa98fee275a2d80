//! What crabgrass has to tell: the first seedlings, the flush, ground won, frost, seed.

use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Notes, Turning};
use crate::calendar::Day;
use crate::weather::{Sky, days_in_year};

/// Seedlings that make a beginning, 1/m2.
const FIRST_M2: f64 = 1.0;

/// Shares of the year's seedlings at which the flush is told.
const FLUSH: [f64; 2] = [0.5, 0.9];

/// Cover at which crabgrass is told, share of the lawn.
const COVER: [f64; 4] = [0.05, 0.10, 0.25, 0.50];

/// A peak is told once crabgrass has fallen to this share of it, and where it was no less than the
/// first of [`COVER`].
const PAST_PEAK: f64 = 0.9;

/// Crabgrass has died back once so little of its most is left.
const DIED_BACK: f64 = 0.25;

/// Ground that crabgrass gives up in a frost without a word, share of the lawn.
const FEW: f64 = 0.01;

/// What is remembered of the year's crabgrass.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    emerging: f64,
    through: f64,
    first: Option<Day>,
    flush: usize,
    passed: usize,
    displaced: f64,
    /// Most cover so far, its day, and the turf displaced by then.
    peak: (f64, Day, f64),
    peak_told: bool,
    gone_told: bool,
    seed_told: bool,
}

/// Tells the evening of a day, after the room was shared out.
pub fn tell(state: &State, setting: &Setting, sky: &Sky, notes: &mut Notes) {
    if sky.day_of_year == 1 {
        notes.memory.crabgrass = Telling::default();
    }
    let memory = &mut notes.memory.crabgrass;
    memory.emerging += state.today.emerging;
    memory.through += state.today.through;
    memory.displaced += state.today.displaced;
    if state.weed.cover > memory.peak.0 {
        memory.peak = (state.weed.cover, notes.today, memory.displaced);
    }
    tell_seedlings(state, sky, notes);
    tell_cover(state, notes);
    tell_end(state, setting, sky, notes);
}

fn tell_seedlings(state: &State, sky: &Sky, notes: &mut Notes) {
    let today = notes.today;
    let mut memory = notes.memory.crabgrass;
    if memory.first.is_none() && memory.emerging >= FIRST_M2 {
        memory.first = Some(today);
        notes.note(Turning::FirstSeedlings {
            warmth_dd: state.weed.progress_dd,
            soil_c: sky.soil_5cm_c,
            stopped: state.today.barrier,
        });
    }
    while let (Some(share), Some(first)) = (FLUSH.get(memory.flush), memory.first) {
        if state.weed.emerged_share < *share {
            break;
        }
        memory.flush += 1;
        notes.note(Turning::Flush {
            share: *share,
            emerging_m2: memory.emerging,
            through_m2: memory.through,
            days: (today.0 - first.0).unsigned_abs(),
        });
    }
    notes.memory.crabgrass = memory;
}

fn tell_cover(state: &State, notes: &mut Notes) {
    let mut memory = notes.memory.crabgrass;
    let displaced = memory.displaced;
    while let Some(level) = COVER.get(memory.passed).filter(|level| state.weed.cover > **level) {
        memory.passed += 1;
        let plants_m2 = state.weed.plants();
        notes.note(Turning::CrabgrassPasses { level: *level, plants_m2, displaced });
    }
    let (cover, day, displaced) = memory.peak;
    if !memory.peak_told && cover >= COVER[0] && state.weed.cover < PAST_PEAK * cover {
        memory.peak_told = true;
        notes.note_on(day, Turning::CrabgrassPeak { cover, displaced });
    }
    notes.memory.crabgrass = memory;
}

/// Frost, and the seed that the year leaves.
fn tell_end(state: &State, setting: &Setting, sky: &Sky, notes: &mut Notes) {
    let lost = notes.before.weed_cover - state.weed.cover;
    let killed = sky.t_min_c <= setting.p.crabgrass.frost_mature_c && lost >= FEW;
    if killed {
        let (t_min_c, bare) = (sky.t_min_c, state.bare());
        notes.note(Turning::CrabgrassKilled { t_min_c, cover: lost, bare });
    }
    let memory = &mut notes.memory.crabgrass;
    let most = memory.peak.0;
    let gone = !memory.gone_told && memory.peak_told && state.weed.cover <= DIED_BACK * most;
    memory.gone_told |= gone || killed;
    let last = sky.day_of_year == days_in_year(notes.today.ymd().0);
    if gone && !killed {
        let bare = state.bare();
        notes.note(Turning::CrabgrassDiesBack { most, cover: state.weed.cover, bare });
    }
    let memory = &mut notes.memory.crabgrass;
    if (killed || gone || last) && !memory.seed_told && state.weed.fresh >= FIRST_M2 {
        memory.seed_told = true;
        let old_m2 = state.weed.bank * setting.p.crabgrass.bank_survival;
        notes.note(Turning::SeedSet { seed_m2: state.weed.fresh, old_m2 });
    }
}
