//! What nitrogen has to tell: lost to air, to water and down, hunger, and greening after feeding.

use super::super::state::State;
use super::super::turning::{Notes, Spell, Turning, Waiting};
use crate::calendar::Day;
use crate::weather::Sky;
use crate::work::NitrogenForms;

/// Less than this lost in a spell is not worth a word, g/m2: a third of what matters in a run.
const WORTH_G_M2: f64 = 0.1;

/// Less than this leached in a day ends no quiet, g/m2.
const TRACE_G_M2: f64 = 0.001;

/// Less than this washed off in a storm is not worth a word, g/m2.
const WASHED_G_M2: f64 = 0.005;

/// Quiet days that end a spell of leaching.
const QUIET_DAYS: i32 = 10;

/// Urea has gone into the soil or the air once so little of it still lies there.
const GONE: f64 = 0.05;

/// Growth for want of nitrogen, over that of well-fed turf, below which turf is told to be hungry,
/// and above which it no longer is.
const HUNGRY: (f64, f64) = (0.4, 0.6);

/// Days of it that count.
const HUNGRY_DAYS: i32 = 7;

/// Days after feeding on which greening is read, and the least of it worth a word, points of colour.
const GREENS_DAYS: i32 = 21;
const GREENS: f64 = 0.3;

/// Growth months, first and last: hunger in winter is not told.
const GROWTH_DAYS: (u16, u16) = (100, 300);

/// What is remembered of nitrogen.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    leaching: Spell,
    /// Urea laid last: the day, what was laid and what was lost of it, g/m2.
    urea: Option<(Day, f64, f64)>,
    hungry: Waiting,
    /// Fed last: the day, how much, g/m2, and the colour before.
    fed: Option<(Day, f64, f64)>,
}

/// A smaller difference of colour than this shows to nobody, points of the scale from 1 to 9: half of
/// what raters tell apart on good dates (NTEP tables).
const SHOWS: f64 = 0.4;

/// Fertilizer was laid just now.
pub fn laid(state: &State, forms: &NitrogenForms, notes: &mut Notes) {
    let today = notes.today;
    notes.memory.mowing.laid(forms.total_g_m2());
    let memory = &mut notes.memory.nitrogen;
    if forms.urea_g_m2 > 0.0 {
        // Of a pass that still lies, and of this one, what is lost is told together.
        let (day, laid, lost) = memory.urea.unwrap_or((today, 0.0, 0.0));
        memory.urea = Some((day, laid + forms.urea_g_m2, lost));
    }
    memory.fed = Some((today, forms.total_g_m2(), state.colour));
    let (n_g_m2, colour_short) = (forms.total_g_m2(), state.evening.colour_short);
    if colour_short < SHOWS && n_g_m2 >= TRACE_G_M2 && state.evening.green_cover > 0.0 {
        notes.note(Turning::FedWhenGreen { n_g_m2, colour_short });
    }
}

/// Tells the evening of a day.
pub fn tell(state: &State, sky: &Sky, notes: &mut Notes) {
    tell_losses(state, sky, notes);
    tell_ammonia(state, notes);
    tell_plants(state, sky, notes);
}

/// What is still open on a year's last evening.
pub fn end(notes: &mut Notes) {
    close(notes, 0);
}

fn tell_losses(state: &State, sky: &Sky, notes: &mut Notes) {
    let (now, was) = (&state.totals, notes.before.totals);
    let washed = now.washed - was.washed;
    if washed >= WASHED_G_M2 {
        let (rain_mm, runoff_mm) = (sky.water_in_mm, state.today.runoff_mm);
        notes.note(Turning::WashedOff { n_g_m2: washed, rain_mm, runoff_mm });
    }
    let leached = now.leached - was.leached;
    let today = notes.today;
    if leached >= TRACE_G_M2 {
        let drained = now.drainage - was.drainage;
        notes.memory.nitrogen.leaching.add(today, [leached, drained]);
    }
    close(notes, QUIET_DAYS);
}

fn close(notes: &mut Notes, quiet_days: i32) {
    let today = notes.today;
    if let Some((since, spell)) = notes.memory.nitrogen.leaching.over(today, quiet_days) {
        let [n_g_m2, drained_mm] = spell.sum;
        if n_g_m2 >= WORTH_G_M2 {
            notes.note_on(since, Turning::Leached { until: spell.until, n_g_m2, drained_mm });
        }
    }
}

fn tell_ammonia(state: &State, notes: &mut Notes) {
    let today = notes.today;
    let lost_today = state.totals.ammonia - notes.before.totals.ammonia;
    let Some((day, laid_g_m2, lost)) = &mut notes.memory.nitrogen.urea else { return };
    *lost += lost_today;
    if state.granules.urea > GONE * *laid_g_m2 {
        return;
    }
    let days = (today.0 - day.0).unsigned_abs();
    let (n_g_m2, laid_g_m2) = (*lost, *laid_g_m2);
    notes.memory.nitrogen.urea = None;
    if n_g_m2 >= WORTH_G_M2 {
        notes.note(Turning::Ammonia { n_g_m2, laid_g_m2, days });
    }
}

fn tell_plants(state: &State, sky: &Sky, notes: &mut Notes) {
    let today = notes.today;
    let growth = state.sward_mean(|plant| plant.fed);
    let memory = &mut notes.memory.nitrogen;
    let (low, high) = HUNGRY;
    let growing = (GROWTH_DAYS.0..=GROWTH_DAYS.1).contains(&sky.day_of_year);
    let short = if memory.hungry.on { growth < high } else { growing && growth < low };
    if memory.hungry.turned(today, short, HUNGRY_DAYS, [growth, 0.0, 0.0]) && memory.hungry.on {
        let Waiting { since, mark: [growth, ..], .. } = memory.hungry;
        notes.note_on(since, Turning::Hungry { growth });
    }
    let brown = notes.memory.water.is_brown();
    let Some((day, n_g_m2, from)) = notes.memory.nitrogen.fed else { return };
    let days = today.0 - day.0;
    // Where turf browns or wakes meanwhile, what it shows is not the feeding.
    if brown {
        notes.memory.nitrogen.fed = None;
    } else if days >= GREENS_DAYS {
        notes.memory.nitrogen.fed = None;
        let to = state.colour;
        if to - from >= GREENS {
            notes.note(Turning::Greens { days: days.unsigned_abs(), n_g_m2, from, to });
        }
    }
}
