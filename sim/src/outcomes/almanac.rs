//! The run's calendar, with the stretches of a year that outcomes ask for marked once.

use crate::calendar::{Day, MonthDay};

/// One day of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The day.
    pub day: Day,
    /// June to August.
    pub summer: bool,
    /// April to October.
    pub growing: bool,
    /// In the last calendar year of the run.
    pub last_season: bool,
    /// 15 October of the last calendar year.
    pub mid_october: bool,
    /// 31 August of the last calendar year.
    pub late_august: bool,
}

/// Every day of a run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Almanac {
    first: Day,
    marks: Vec<Mark>,
}

impl Almanac {
    /// So many whole calendar years from a year on (at least one; years that the calendar does not
    /// have are left out).
    pub fn of_years(first_year: i32, seasons: u32) -> Almanac {
        let last_year = first_year.saturating_add_unsigned(seasons.max(1) - 1);
        let ends = Day::from_ymd(first_year, 1, 1).zip(Day::from_ymd(last_year, 12, 31));
        let (first, last) = ends.unwrap_or((Day(0), Day(-1)));
        let marks = (first.0..=last.0).map(|n| mark(Day(n), last_year)).collect();
        Almanac { first, marks }
    }

    /// The first day.
    pub fn first(&self) -> Day {
        self.first
    }

    /// The last day.
    pub fn last(&self) -> Day {
        self.marks.last().map_or(self.first, |m| m.day)
    }

    /// All days in order.
    pub fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// Number of days.
    pub fn days(&self) -> usize {
        self.marks.len()
    }
}

fn mark(day: Day, last_year: i32) -> Mark {
    let MonthDay { month, day: of_month } = day.month_day();
    let last_season = day.ymd().0 == last_year;
    Mark {
        day,
        summer: (6..=8).contains(&month),
        growing: (4..=10).contains(&month),
        last_season,
        mid_october: last_season && month == 10 && of_month == 15,
        late_august: last_season && month == 8 && of_month == 31,
    }
}
