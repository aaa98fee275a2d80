//! Cues: when a practice falls due. Each cue of a scenario is laid out over the run's calendar once
//! and then read against the morning's signs.
//!
//! What each cue means:
//!
//! | cue | falls due |
//! |---|---|
//! | dates | on each of them, every year |
//! | every n days | on the window's first day, then n days after it was last done; a missed or dropped visit waits for the next interval, counted from when it was due |
//! | soil temperature | once a window, on the first morning in it after n evenings running at or above the value (evenings before the window count, those of the year before do not: a warm December calls nobody in January) |
//! | degree-days | once a window, on the first morning on which the days of the window so far have brought the sum |
//! | canopy height | when last evening's canopy has the height; n days must have passed since it was done or missed |
//! | days after | n days after each time that the other practice was done |
//! | dry soil | when last evening's available water is at or below the share; gap as for canopy height |
//! | weed cover | when last evening's weeds of a kind cover the share; gap as for canopy height |
//!
//! A window may cross the new year. A visit is not made after its window has closed; but one that a
//! soil temperature or degree-days called for is made late, within its calendar year, since it comes
//! but once. Where a run begins inside a window, its first day counts as the window's.

use std::collections::VecDeque;

use crate::calendar::{Day, MonthDay};
use crate::scenario::Cue;
use crate::work::{Signs, Stand};

/// A day that never comes.
pub(super) const NEVER: Day = Day(i32::MAX);

const LAST_OF_YEAR: MonthDay = MonthDay { month: 12, day: 31 };
const SECOND_OF_YEAR: MonthDay = MonthDay { month: 1, day: 2 };

/// First and last day of a stretch.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    start: Day,
    end: Day,
    /// The first morning whose signs are of an evening in the year of the window's start.
    new_year: Day,
}

/// A cue over the run's calendar.
#[derive(Clone, Debug)]
pub(super) enum Trigger {
    /// In order of time.
    Dates(Vec<Day>),
    Every {
        days: i32,
        windows: Vec<Window>,
    },
    SoilTemperature {
        at_least_c: f64,
        for_days: i32,
        windows: Vec<Window>,
    },
    DegreeDays {
        at_least_c_days: f64,
        base_c: f64,
        windows: Vec<Window>,
    },
    CanopyHeight {
        at_least_mm: f64,
        gap_days: i32,
        windows: Vec<Window>,
    },
    DrySoil {
        at_most: f64,
        gap_days: i32,
        windows: Vec<Window>,
    },
    WeedCover {
        stand: Stand,
        at_least: f64,
        gap_days: i32,
        windows: Vec<Window>,
    },
    /// The queue is filled by the crew when the other practice is done.
    DaysAfter,
}

/// Where one member stands with a cue.
#[derive(Clone, Debug)]
pub(super) struct CueState {
    /// Index of the date or window, the current or the next.
    at: usize,
    /// Nothing can fall due before this day.
    wake: Day,
    /// Evenings running at or above the soil temperature.
    streak: i32,
    /// Degree-days since the window opened, degC days.
    warmth_c_days: f64,
    /// Days on which a follow-up falls due.
    pub(super) queue: VecDeque<Day>,
}

/// How a due visit ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    Done,
    Missed,
    Dropped,
}

impl Trigger {
    /// Lays a cue out over the days `first..=last`.
    pub(super) fn new(cue: &Cue, first: Day, last: Day) -> Trigger {
        let gap = |days: u32| i32::try_from(days).unwrap_or(i32::MAX / 4).max(1);
        let windows = |from, to| windows(from, to, first, last);
        match cue {
            Cue::Dates(dates) => Trigger::Dates(dates_between(dates, first, last)),
            Cue::Every { days, from, to } => {
                Trigger::Every { days: gap(*days), windows: windows(*from, *to) }
            }
            Cue::SoilTemperature { at_least_c, for_days, from, to } => Trigger::SoilTemperature {
                at_least_c: *at_least_c,
                for_days: gap(*for_days),
                windows: windows(*from, *to),
            },
            Cue::DegreeDays { at_least_c_days, base_c, from, to } => Trigger::DegreeDays {
                at_least_c_days: *at_least_c_days,
                base_c: *base_c,
                windows: windows(*from, *to),
            },
            Cue::CanopyHeight { at_least_mm, from, to, min_gap_days } => Trigger::CanopyHeight {
                at_least_mm: *at_least_mm,
                gap_days: gap(*min_gap_days),
                windows: windows(*from, *to),
            },
            Cue::DrySoil { at_most, from, to, min_gap_days } => Trigger::DrySoil {
                at_most: *at_most,
                gap_days: gap(*min_gap_days),
                windows: windows(*from, *to),
            },
            Cue::WeedCover { stand, at_least, from, to, min_gap_days } => Trigger::WeedCover {
                stand: *stand,
                at_least: *at_least,
                gap_days: gap(*min_gap_days),
                windows: windows(*from, *to),
            },
            Cue::DaysAfter { .. } => Trigger::DaysAfter,
        }
    }

    /// The state before the first morning.
    pub(super) fn start(&self) -> CueState {
        let mut state =
            CueState { at: 0, wake: NEVER, streak: 0, warmth_c_days: 0.0, queue: VecDeque::new() };
        self.open(&mut state);
        state
    }

    /// Whether a visit falls due this morning. Must be asked every morning, in order.
    #[inline]
    pub(super) fn due(&self, state: &mut CueState, today: Day, signs: &Signs) -> bool {
        if today < state.wake {
            return false;
        }
        if self.end(state) < today {
            state.at += 1;
            self.open(state);
            if today < state.wake {
                return false;
            }
        }
        match self {
            Trigger::Dates(days) => {
                // Dates that went by while an earlier visit was waiting fell together with it.
                while days.get(state.at).is_some_and(|day| *day < today) {
                    state.at += 1;
                }
                let due = days.get(state.at) == Some(&today);
                state.at += usize::from(due);
                self.open(state);
                due
            }
            Trigger::Every { .. } => true,
            Trigger::SoilTemperature { at_least_c, for_days, windows } => {
                let warm = signs.soil_5cm_c >= *at_least_c;
                state.streak = if warm { state.streak.saturating_add(1) } else { 0 };
                state.streak >= *for_days && windows[state.at].start <= today
            }
            Trigger::DegreeDays { at_least_c_days, base_c, windows } => {
                // The signs of the window's first morning are of the evening before it.
                if windows[state.at].start < today {
                    // A day below the base takes nothing away: McMaster & Wilhelm 1997, Agric. For.
                    // Meteorol. 87:291, their method 1.
                    state.warmth_c_days += (signs.t_mean_yesterday_c - base_c).max(0.0);
                }
                state.warmth_c_days >= *at_least_c_days
            }
            Trigger::CanopyHeight { at_least_mm, .. } => signs.canopy_height_mm >= *at_least_mm,
            Trigger::DrySoil { at_most, .. } => signs.soil_water <= *at_most,
            Trigger::WeedCover { stand, at_least, .. } => stand.cover(signs) >= *at_least,
            Trigger::DaysAfter => {
                let mut due = false;
                while state.queue.front().is_some_and(|day| *day <= today) {
                    due |= state.queue.pop_front() == Some(today);
                }
                state.wake = state.queue.front().copied().unwrap_or(NEVER);
                due
            }
        }
    }

    /// The last day on which a visit that is due now may still be made.
    pub(super) fn last_chance(&self, state: &CueState) -> Day {
        match self {
            Trigger::SoilTemperature { .. } | Trigger::DegreeDays { .. } => match self.end(state) {
                NEVER => NEVER,
                end => LAST_OF_YEAR.in_year(end.ymd().0),
            },
            _ => self.end(state),
        }
    }

    /// The last day of the window at hand.
    fn end(&self, state: &CueState) -> Day {
        match self {
            Trigger::Dates(_) | Trigger::DaysAfter => NEVER,
            Trigger::Every { windows, .. }
            | Trigger::SoilTemperature { windows, .. }
            | Trigger::DegreeDays { windows, .. }
            | Trigger::CanopyHeight { windows, .. }
            | Trigger::DrySoil { windows, .. }
            | Trigger::WeedCover { windows, .. } => windows.get(state.at).map_or(NEVER, |w| w.end),
        }
    }

    /// Takes note of how a visit that fell due on `due` ended today.
    pub(super) fn settle(&self, state: &mut CueState, due: Day, today: Day, end: End) {
        match self {
            Trigger::Dates(_) | Trigger::DaysAfter => {}
            Trigger::SoilTemperature { .. } | Trigger::DegreeDays { .. } => {
                state.at += 1;
                self.open(state);
            }
            Trigger::Every { days, .. } => {
                let from = if end == End::Done { today } else { due };
                self.wait(state, from.plus(*days).max(today.plus(1)));
            }
            Trigger::CanopyHeight { gap_days, .. }
            | Trigger::DrySoil { gap_days, .. }
            | Trigger::WeedCover { gap_days, .. } => {
                // A dropped visit was no visit: the lawn still asks for it tomorrow.
                let gap = if end == End::Dropped { 1 } else { *gap_days };
                self.wait(state, today.plus(gap));
            }
        }
    }

    /// Whether the next visit is counted from the last one made.
    pub(super) fn counts_from_done(&self) -> bool {
        matches!(
            self,
            Trigger::Every { .. }
                | Trigger::CanopyHeight { .. }
                | Trigger::DrySoil { .. }
                | Trigger::WeedCover { .. }
        )
    }

    /// Sleeps until a day, or until the next window opens where that is later.
    fn wait(&self, state: &mut CueState, until: Day) {
        while self.end(state) < until {
            state.at += 1;
        }
        self.open(state);
        state.wake = state.wake.max(until);
    }

    /// Sets the alarm for the date or window at hand.
    fn open(&self, state: &mut CueState) {
        state.streak = 0;
        state.warmth_c_days = 0.0;
        state.wake = match self {
            Trigger::Dates(days) => days.get(state.at).copied().unwrap_or(NEVER),
            Trigger::DaysAfter => NEVER,
            Trigger::SoilTemperature { for_days, windows, .. } => {
                windows.get(state.at).map_or(NEVER, |w| w.start.plus(1 - for_days).max(w.new_year))
            }
            Trigger::Every { windows, .. }
            | Trigger::DegreeDays { windows, .. }
            | Trigger::CanopyHeight { windows, .. }
            | Trigger::DrySoil { windows, .. }
            | Trigger::WeedCover { windows, .. } => {
                windows.get(state.at).map_or(NEVER, |w| w.start)
            }
        };
    }
}

impl CueState {
    /// Puts a follow-up in the queue.
    pub(super) fn follow(&mut self, due: Day) {
        // Visits are made in order, so the queue is in order too.
        self.queue.push_back(due);
        self.wake = self.wake.min(due);
    }
}

/// These days of every year between two days, in order.
fn dates_between(dates: &[MonthDay], first: Day, last: Day) -> Vec<Day> {
    let mut days: Vec<Day> = years(first, last)
        .flat_map(|year| dates.iter().map(move |date| date.in_year(year)))
        .filter(|day| first <= *day && *day <= last)
        .collect();
    days.sort_unstable();
    days.dedup();
    days
}

/// The yearly windows that touch `first..=last`, cut at `first`.
fn windows(from: MonthDay, to: MonthDay, first: Day, last: Day) -> Vec<Window> {
    let crossing = i32::from(to < from);
    years(first, last)
        .map(|year| Window {
            start: from.in_year(year),
            end: to.in_year(year + crossing),
            new_year: SECOND_OF_YEAR.in_year(year),
        })
        .filter(|w| first <= w.end && w.start <= last)
        .map(|w| Window { start: w.start.max(first), ..w })
        .collect()
}

/// The calendar years of a run and the one before, in which a window may have opened.
fn years(first: Day, last: Day) -> std::ops::RangeInclusive<i32> {
    first.ymd().0 - 1..=last.ymd().0
}
