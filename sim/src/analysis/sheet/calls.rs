//! When a practice was called for in each member, what became of it, and how far the dates spread.

use crate::calendar::Day;
use crate::ensemble::odds::Odds;
use crate::scenario::{Cue, Program};
use crate::work::{Fate, Setback, Why, WorkEntry};

/// One call of a practice in one member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Call {
    /// Index of the practice.
    pub practice: u16,
    /// The day on which its cue called; the day of the work where it only waited for a visit day.
    pub due: Day,
    /// The day on which it was done; `None` where it was not.
    pub done: Option<Day>,
    /// What became of it and what stood in the way, where it did not go by the calendar.
    pub fate: Option<(Fate, Why)>,
    /// Which of its calls it is.
    pub slot: Slot,
}

/// The same call in every member: of the year in which it falls due, or in which that falls due which
/// it follows, the so-manieth, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slot {
    /// Calendar year.
    pub year: i32,
    /// Which of the year.
    pub nth: usize,
}

/// Calls of every practice of a program in one member, in order of practice and time.
pub fn calls(program: &Program, work: &[WorkEntry], setbacks: &[Setback]) -> Vec<Vec<Call>> {
    let plain = |practice: u16| {
        let mut all: Vec<Call> = Vec::new();
        let mut days: Vec<Day> =
            work.iter().filter(|w| w.practice == practice).map(|w| w.day).collect();
        days.dedup();
        let own = || setbacks.iter().filter(|s| s.practice == practice);
        for day in days {
            let late = own().find(|s| s.fate == Fate::Pushed && s.day == day);
            all.push(Call {
                practice,
                due: late.map_or(day, |s| s.due),
                done: Some(day),
                fate: late.map(|s| (s.fate, s.why)),
                slot: Slot { year: 0, nth: 0 },
            });
        }
        for lost in own().filter(|s| s.fate != Fate::Pushed) {
            all.push(Call {
                practice,
                due: lost.due,
                done: None,
                fate: Some((lost.fate, lost.why)),
                slot: Slot { year: 0, nth: 0 },
            });
        }
        all.sort_by_key(|call| call.due);
        all
    };
    let mut all: Vec<Vec<Call>> =
        (0..program.practices.len()).map(|practice| plain(practice as u16)).collect();
    // What follows another practice takes its slot, so that goes first; a chain is no longer than the
    // program.
    for depth in 0..program.practices.len() {
        for practice in 0..program.practices.len() {
            if rank(program, practice) == depth {
                let slots = slots(program, practice, &all);
                for (call, slot) in all[practice].iter_mut().zip(slots) {
                    call.slot = slot;
                }
            }
        }
    }
    all
}

/// How many practices stand before this one in a chain of follow-ups.
fn rank(program: &Program, practice: usize) -> usize {
    let mut at = practice;
    for steps in 0..program.practices.len() {
        match program.practices[at].cue {
            Cue::DaysAfter { practice: leader, .. } if leader != at => at = leader,
            _ => return steps,
        }
    }
    0
}

/// The slots of a practice's calls, those of its leader known.
fn slots(program: &Program, practice: usize, all: &[Vec<Call>]) -> Vec<Slot> {
    let calls = &all[practice];
    // In order within the year: for what is counted, and where nothing better is known.
    let by_order = |at: usize| {
        let year = calls[at].due.ymd().0;
        let nth = calls[..at].iter().filter(|c| c.due.ymd().0 == year).count();
        Slot { year, nth }
    };
    let slot = |at: usize| {
        let due = calls[at].due;
        match &program.practices[practice].cue {
            Cue::Dates(dates) => {
                // The last date that has come: one that went by while a visit waited fell together
                // with it.
                let year = due.ymd().0;
                let come = dates.iter().filter(|d| d.in_year(year) <= due).count();
                come.checked_sub(1).map_or_else(|| by_order(at), |nth| Slot { year, nth })
            }
            Cue::DaysAfter { practice: leader, days } => {
                let days = i32::try_from(*days).unwrap_or(0);
                let of = all[*leader].iter().find(|c| c.done.is_some_and(|d| d.plus(days) == due));
                of.map_or_else(|| by_order(at), |call| call.slot)
            }
            _ => by_order(at),
        }
    };
    (0..calls.len()).map(slot).collect()
}

/// How one call fares over the members.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Earliest, middle and latest day on which it is done: the 5, 50 and 95 % order statistics of the
    /// members in which it is. `None` where it never is.
    pub days: Option<[Day; 3]>,
    /// Members in which it is done between the earliest and the latest of these.
    pub between: Odds,
    /// Members in which it is done later than it was due.
    pub put_off: Odds,
    /// Members in which it is wanted and not done, or in which nothing calls for it.
    pub not_done: Odds,
    /// Members in which it turns out not to be wanted: rain does the watering, nothing to cut.
    pub not_needed: Odds,
}

/// Low and high order statistic: nine in ten of the members in which it is done lie between.
const OUTER: [f64; 3] = [0.05, 0.5, 0.95];

/// How a call fares; `members` are the calls of its practice in each member.
pub fn spread<'c>(slot: Slot, members: impl Iterator<Item = &'c [Call]>) -> Spread {
    let (mut of, mut put_off, mut not_needed) = (0, 0, 0);
    let mut days: Vec<Day> = Vec::new();
    for calls in members {
        of += 1;
        let Some(call) = calls.iter().find(|call| call.slot == slot) else { continue };
        match (call.done, call.fate) {
            (Some(day), fate) => {
                days.push(day);
                put_off += u32::from(fate.is_some());
            }
            (None, Some((Fate::NotNeeded, _))) => not_needed += 1,
            (None, _) => {}
        }
    }
    days.sort_unstable();
    let done = days.len() as u32;
    let at = |p: f64| days.get(((days.len().max(1) - 1) as f64 * p).round() as usize).copied();
    let ends = at(OUTER[0]).zip(at(OUTER[1])).zip(at(OUTER[2]));
    let ends = ends.map(|((early, middle), late)| [early, middle, late]);
    let inside = |[early, _, late]: [Day; 3]| {
        days.iter().filter(|day| (early..=late).contains(day)).count() as u32
    };
    Spread {
        days: ends,
        between: Odds { hits: ends.map_or(0, inside), of },
        put_off: Odds { hits: put_off, of },
        not_done: Odds { hits: of - done - not_needed, of },
        not_needed: Odds { hits: not_needed, of },
    }
}

/// How often a practice is done in a year over the members: 5 and 95 % order statistics of the counts.
pub fn times<'c>(year: i32, members: impl Iterator<Item = &'c [Call]>) -> (u32, u32) {
    let done = |calls: &[Call]| {
        calls.iter().filter(|c| c.done.is_some_and(|day| day.ymd().0 == year)).count() as u32
    };
    let mut counts: Vec<u32> = members.map(done).collect();
    counts.sort_unstable();
    let at = |p: f64| {
        counts.get(((counts.len().max(1) - 1) as f64 * p).round() as usize).copied().unwrap_or(0)
    };
    (at(OUTER[0]), at(OUTER[2]))
}
