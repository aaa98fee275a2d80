//! When in a year practices are due, as cautions take it: nobody late, nothing held, and cues that wait
//! for the lawn or the weather by the days on which they may call.

use super::{Cue, Program, day};
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

/// Whether all days of these occasions, and as many after them as a practice waits, lie in a stretch of the
/// year.
pub(super) fn never_open(
    due: &[Occasion],
    give_up_days: u32,
    from: MonthDay,
    to: MonthDay,
) -> bool {
    let waits = i32::try_from(give_up_days).unwrap_or(COMMON_DAYS);
    let shut = |o: &Occasion| Occasion { last: o.last.plus(waits), ..*o }.inside(from, to);
    !due.is_empty() && due.iter().all(shut)
}

/// Fewest days from one call of a cue to the next in its window, where it may call more than once.
pub(super) fn least_apart(cue: &Cue) -> Option<u32> {
    match cue {
        Cue::Every { days, .. } => Some(*days),
        Cue::CanopyHeight { min_gap_days, .. }
        | Cue::DrySoil { min_gap_days, .. }
        | Cue::WeedCover { min_gap_days, .. } => Some(*min_gap_days),
        Cue::Dates(_)
        | Cue::SoilTemperature { .. }
        | Cue::DegreeDays { .. }
        | Cue::DaysAfter { .. } => None,
    }
}

/// Times a year that a practice is due; none where the lawn decides.
pub(super) fn times(program: &Program, i: usize) -> Option<f64> {
    let due = due(program, i);
    let known = |o: &Occasion| o.once || o.day().is_some();
    (!due.is_empty() && due.iter().all(known)).then_some(due.len() as f64)
}

/// Most times that a practice may be done from January to December: as often as the lawn may call for it,
/// and where it follows another into the new year, what last year's call brings besides this year's.
pub(super) fn most_in_a_year(program: &Program, i: usize) -> f64 {
    let Some((at, _)) = root(program, i) else { return 0.0 };
    let apart = least_apart(&program.practices[at].cue).unwrap_or(1).max(1);
    let new_year = MonthDay { month: 1, day: 1 }.in_year(COMMON_YEAR).0 + COMMON_DAYS;
    let calls = |o: &Occasion, first: i32, last: i32| {
        if o.once { 1.0 } else { 1.0 + (f64::from(last - first) / f64::from(apart)).floor() }
    };
    let most = |o: Occasion| {
        let (first, last) = (o.first.0, o.last.0);
        if first < new_year && last >= new_year {
            calls(&o, first, new_year - 1) + calls(&o, new_year, last)
        } else {
            calls(&o, first, last)
        }
    };
    occasions(program, i).into_iter().map(most).sum()
}

/// The same day by day, where it is done every so many days.
pub(super) fn due(program: &Program, i: usize) -> Vec<Occasion> {
    occasions(program, i).into_iter().flat_map(Occasion::laid_out).collect()
}

/// The first of a practice's days between two days of the year, both included, and whether it is due just
/// then.
pub(super) fn falls_in(
    program: &Program,
    i: usize,
    (from, to): (MonthDay, MonthDay),
) -> Option<(MonthDay, bool)> {
    due(program, i).iter().find_map(|occasion| occasion.meets(from, to))
}

/// The same in words: "is due on 3 Jul", or "may fall due on 3 Jul".
pub(super) fn falls_in_words(
    program: &Program,
    i: usize,
    stretch: (MonthDay, MonthDay),
) -> Option<String> {
    let (on, sure) = falls_in(program, i, stretch)?;
    let when = if sure { "is due" } else { "may fall due" };
    Some(format!("{when} on {}", day::show(on)))
}

impl Occasion {
    /// Its days one by one, where it is done every so many days; else as it is.
    fn laid_out(self) -> Vec<Occasion> {
        let Some(days) = self.every else { return vec![self] };
        let step = usize::try_from(days).unwrap_or(usize::MAX).max(1);
        let each = (self.first.0..=self.last.0).step_by(step);
        each.map(|n| Occasion { first: Day(n), last: Day(n), every: None, ..self }).collect()
    }

    /// The same some days later.
    pub(super) fn plus(self, days: i32) -> Occasion {
        Occasion { first: self.first.plus(days), last: self.last.plus(days), ..self }
    }

    /// The one day on which it is due, where that is known.
    pub(super) fn day(&self) -> Option<Day> {
        (self.first == self.last).then_some(self.first)
    }

    /// The first of its days between two days of the year, both included, and whether it is due just
    /// then.
    fn meets(&self, from: MonthDay, to: MonthDay) -> Option<(MonthDay, bool)> {
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
