//! When in a year practices are due, as cautions take it: nobody late, nothing held, and cues that wait
//! for the lawn or the weather by the days on which they may call.

use super::{Cue, Program};
use crate::calendar::{COMMON_YEAR, Day, MonthDay};
use crate::program::within;

/// Days of a common year on which a practice is due, or between which it may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Occasion {
    /// The practice whose cue calls, and the number of its call.
    pub root: (usize, usize),
    /// Days after that call.
    pub after: i32,
    /// First and last day.
    pub first: Day,
    pub last: Day,
    /// Whether it is one day of work, and not several within the window.
    pub once: bool,
    /// Days from one to the next, where it is done every so many days.
    pub every: Option<u32>,
}

/// The practice whose cue calls a practice, itself or the one at the head of a chain of days-after, and
/// how many days after the call it is due. None where the chain never ends.
pub(super) fn root(program: &Program, i: usize) -> Option<(usize, i32)> {
    let (mut at, mut after) = (i, 0_i32);
    // A chain of follow-ups is no longer than the program.
    for _ in 0..=program.practices.len() {
        match &program.practices.get(at)?.cue {
            Cue::DaysAfter { practice, days } => {
                at = *practice;
                after = after.saturating_add(i32::try_from(*days).unwrap_or(COMMON_DAYS));
            }
            _ => return Some((at, after)),
        }
    }
    None
}

/// Days of a common year.
pub(super) const COMMON_DAYS: i32 = 365;

/// When a practice may be done in a year.
pub(super) fn occasions(program: &Program, i: usize) -> Vec<Occasion> {
    let Some((at, after)) = root(program, i) else { return Vec::new() };
    let on = |day: MonthDay| day.in_year(COMMON_YEAR).plus(after);
    let between = |number: usize, from: MonthDay, to: MonthDay, once: bool| Occasion {
        root: (at, number),
        after,
        first: on(from),
        last: on(to),
        once,
        every: None,
    };
    match &program.practices[at].cue {
        Cue::Dates(days) => {
            days.iter().enumerate().map(|(n, day)| between(n, *day, *day, true)).collect()
        }
        Cue::SoilTemperature { from, to, .. } | Cue::DegreeDays { from, to, .. } => {
            vec![between(0, *from, *to, true)]
        }
        Cue::Every { days, from, to } => {
            vec![Occasion { every: Some(*days), ..between(0, *from, *to, false) }]
        }
        Cue::CanopyHeight { from, to, .. }
        | Cue::DrySoil { from, to, .. }
        | Cue::WeedCover { from, to, .. } => vec![between(0, *from, *to, false)],
        Cue::DaysAfter { .. } => Vec::new(),
    }
}

/// The same day by day, where it is done every so many days.
pub(super) fn due(program: &Program, i: usize) -> Vec<Occasion> {
    occasions(program, i).into_iter().flat_map(Occasion::laid_out).collect()
}

impl Occasion {
    /// Its days one by one, where it is done every so many days; else as it is.
    fn laid_out(self) -> Vec<Occasion> {
        let Some(days) = self.every else { return vec![self] };
        let step = usize::try_from(days).unwrap_or(usize::MAX).max(1);
        let each = (self.first.0..=self.last.0).step_by(step);
        each.map(|n| Occasion { first: Day(n), last: Day(n), every: None, ..self }).collect()
    }

    /// The one day on which it is due, where that is known.
    pub(super) fn day(&self) -> Option<Day> {
        (self.first == self.last).then_some(self.first)
    }

    /// The first of its days between two days of the year, both included, and whether it is due just
    /// then.
    pub(super) fn meets(&self, from: MonthDay, to: MonthDay) -> Option<(MonthDay, bool)> {
        (self.first.0..=self.last.0)
            .map(|n| Day(n).month_day())
            .find(|day| within(*day, from, to))
            .map(|day| (day, self.first == self.last))
    }

    /// Whether all of its days lie between two days of the year.
    pub(super) fn inside(&self, from: MonthDay, to: MonthDay) -> bool {
        (self.first.0..=self.last.0).all(|n| within(Day(n).month_day(), from, to))
    }
}
