//! What water has to tell: storms, thirst, browning, dormancy, and green again.

use super::super::plant::power_of_share;
use super::super::setting::Setting;
use super::super::state::State;
use super::super::turning::{Notes, Turning, Waiting};
use crate::calendar::Day;
use crate::weather::Sky;
use crate::work::Signs;

/// Runoff that makes a storm, mm: the least difference in runoff that matters.
const STORM_MM: f64 = 10.0;

/// A day with less rain and water than this is a dry one, mm.
pub(crate) const DRY_MM: f64 = 5.0;

/// Growth stops below this pace of lengthening, share of that of a watered turf; it goes on above the
/// second.
const STOPS: (f64, f64) = (0.25, 0.6);

/// Days of it that count.
const STOPS_DAYS: i32 = 4;

/// Green share of the turf below which it is told as browned, and above which as green again.
const BROWN: (f64, f64) = (0.7, 0.9);

/// Days of it that count.
const BROWN_DAYS: i32 = 3;

/// Share of the causes of browning that is remembered from one day to the next.
const KEPT: f64 = 0.9;

/// Leaf that dried or heat took lately, below which the season itself is the cause.
const CAUSE: f64 = 0.02;

/// Days of dormancy, or without it, that count.
const DORMANT_DAYS: i32 = 4;

/// Days that are looked back on.
const WEEK: usize = 7;

/// What is remembered of water.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Telling {
    dry_days: u32,
    stopped: Waiting,
    brown: Waiting,
    /// When it browned, where that was told, and so greening will be.
    browned: Option<Day>,
    dormant: Waiting,
    /// Leaf that drought and heat took lately, fading.
    took: [f64; 2],
    /// Water in and high of the last days, a ring by day.
    week: [(f64, f64); WEEK],
}

/// Tells the evening of a day.
pub fn tell(state: &State, setting: &Setting, sky: &Sky, signs: &Signs, notes: &mut Notes) {
    let today = notes.today;
    let memory = &mut notes.memory.water;
    let water_in = state.today.infiltration_mm;
    memory.week[today.0.rem_euclid(WEEK as i32) as usize] = (water_in, sky.t_max_c);
    memory.dry_days = if water_in >= DRY_MM { 0 } else { memory.dry_days + 1 };
    let runoff_mm = state.today.runoff_mm;
    if runoff_mm >= STORM_MM {
        notes.note(Turning::Storm { rain_mm: sky.water_in_mm, runoff_mm });
    }
    if state.turf_cover() <= 0.0 {
        return;
    }
    tell_growth(state, setting, notes);
    tell_brown(state, setting, sky, notes);
    tell_dormant(state, signs, notes);
}

fn tell_growth(state: &State, setting: &Setting, notes: &mut Notes) {
    let today = notes.today;
    let power = setting.p.water.extension_stress_power;
    let pace = state.sward_mean(|plant| power_of_share(plant.ks, power));
    let memory = &mut notes.memory.water;
    let stands = pace < if memory.stopped.on { STOPS.1 } else { STOPS.0 };
    let mark = [state.evening.soil_water, f64::from(memory.dry_days), 0.0];
    if memory.stopped.turned(today, stands, STOPS_DAYS, mark) && memory.stopped.on {
        let Waiting { since, mark: [soil_water, dry_days, _], .. } = memory.stopped;
        let dry_days = dry_days as u32;
        notes.note_on(since, Turning::GrowthStops { soil_water, dry_days });
    }
}

fn tell_brown(state: &State, setting: &Setting, sky: &Sky, notes: &mut Notes) {
    let today = notes.today;
    let s = &setting.p.sward;
    let low = s.drought_leaf_ks;
    let dry = state.sward_mean(|plant| ((low - plant.ks) / low).max(0.0).powi(2));
    let heat = |t_c: f64| ((sky.t_max_c - t_c) / s.heat_scale_c).max(0.0).min(s.heat_leaf_max);
    let hottest = setting.grasses.iter().map(|g| heat(g.heat_t_c)).fold(0.0, f64::max);
    let memory = &mut notes.memory.water;
    let took = [s.drought_leaf_loss * dry, s.heat_leaf_loss * hottest];
    memory.took.iter_mut().zip(took).for_each(|(sum, more)| *sum = KEPT * *sum + more);
    let green = state.evening.green_cover / state.turf_cover();
    let stands = green < if memory.brown.on { BROWN.1 } else { BROWN.0 };
    let t_max_c = memory.week.iter().map(|day| day.1).sum::<f64>() / WEEK as f64;
    let water = if memory.brown.on { water_of_week(memory) } else { state.evening.soil_water };
    if !memory.brown.turned(today, stands, BROWN_DAYS, [green, water, t_max_c]) {
        return;
    }
    let Waiting { since, mark: [green, water, t_max_c], .. } = memory.brown;
    let [by_drought, by_heat] = memory.took;
    if !memory.brown.on {
        if let Some(day) = memory.browned.take() {
            let days = (since.0 - day.0).unsigned_abs();
            notes.note_on(since, Turning::GreenAgain { days, water_mm: water });
        }
    } else if by_drought.max(by_heat) >= CAUSE {
        memory.browned = Some(since);
        let dry = by_drought >= by_heat;
        notes.note_on(since, Turning::Browns { green, dry, soil_water: water, t_max_c });
    }
}

fn tell_dormant(state: &State, signs: &Signs, notes: &mut Notes) {
    let today = notes.today;
    let memory = &mut notes.memory.water;
    let since = memory.dormant.since;
    let green = state.evening.green_cover / state.turf_cover();
    let mark = if memory.dormant.on {
        [water_of_week(memory), 0.0, 0.0]
    } else {
        [green, state.evening.soil_water, f64::from(memory.dry_days)]
    };
    if !memory.dormant.turned(today, signs.dormant, DORMANT_DAYS, mark) {
        return;
    }
    let Waiting { since: day, mark, .. } = memory.dormant;
    if memory.dormant.on {
        let [green, soil_water, dry_days] = mark;
        let dry_days = dry_days as u32;
        notes.note_on(day, Turning::Dormant { green, soil_water, dry_days });
    } else {
        let days = (day.0 - since.0).unsigned_abs();
        notes.note_on(day, Turning::Wakes { days, water_mm: mark[0] });
    }
}

impl Telling {
    /// Whether the turf stands brown.
    pub fn is_brown(&self) -> bool {
        self.brown.on
    }
}

fn water_of_week(memory: &Telling) -> f64 {
    memory.week.iter().map(|day| day.0).sum()
}
