//! Days: the model sees a day index; only the edges see civil dates.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Day of the year of the summer solstice of the north: what shortening days start comes after it.
pub const SOLSTICE_DAY: u16 = 172;

/// A calendar day, counted from 1970-01-01 (day 0).
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
pub struct Day(pub i32);

/// A day that comes back every year, such as 15 April (29 February is not allowed).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MonthDay {
    /// 1..=12
    pub month: u8,
    /// 1..=31, valid for the month in a common year
    pub day: u8,
}

impl Day {
    /// The day of a civil date, or `None` where the calendar has no such date.
    pub fn from_ymd(year: i32, month: u8, day: u8) -> Option<Day> {
        let year = i16::try_from(year).ok()?;
        let date = Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()?;
        Some(Day::from_date(date))
    }

    /// The day of a civil date.
    pub fn from_date(date: Date) -> Day {
        let epoch = Date::constant(1970, 1, 1);
        let span = epoch.until(date).expect("two civil dates always have a distance in days");
        Day(span.get_days())
    }

    /// The civil date of this day.
    pub fn date(self) -> Date {
        let epoch = Date::constant(1970, 1, 1);
        epoch.saturating_add(jiff::Span::new().days(self.0))
    }

    /// Year, month (1..=12) and day of the month (1..=31).
    pub fn ymd(self) -> (i32, u8, u8) {
        let d = self.date();
        (i32::from(d.year()), d.month() as u8, d.day() as u8)
    }

    /// Day of the year, 1..=366.
    pub fn day_of_year(self) -> u16 {
        self.date().day_of_year() as u16
    }

    /// Day of the week, Monday 0 to Sunday 6.
    pub fn weekday(self) -> u8 {
        // Day 0, 1 January 1970, was a Thursday.
        (self.0 + 3).rem_euclid(7) as u8
    }

    /// Month and day of the month; 29 February is given as 28 February.
    pub fn month_day(self) -> MonthDay {
        let (_, month, day) = self.ymd();
        if month == 2 && day == 29 {
            MonthDay { month: 2, day: 28 }
        } else {
            MonthDay { month, day }
        }
    }

    /// The day `n` days later (earlier where `n` is negative).
    pub fn plus(self, n: i32) -> Day {
        Day(self.0 + n)
    }
}

/// Days of the week, any of the seven.
///
/// ```
/// use sim::calendar::{Day, Weekdays};
///
/// let tuesdays = Weekdays::NONE.with(1);
/// let monday = Day::from_ymd(2026, 6, 1).unwrap();
/// assert_eq!(tuesdays.next(monday), Some(monday.plus(1)));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Weekdays(u8);

impl Weekdays {
    /// Every day.
    pub const ALL: Weekdays = Weekdays(0b111_1111);
    /// None.
    pub const NONE: Weekdays = Weekdays(0);

    /// These days and one more, Monday 0 to Sunday 6.
    #[must_use]
    pub fn with(self, weekday: u8) -> Weekdays {
        Weekdays(self.0 | 1 << (weekday % 7))
    }

    /// These days but for those.
    #[must_use]
    pub fn without(self, those: Weekdays) -> Weekdays {
        Weekdays(self.0 & !those.0)
    }

    /// Whether a day is one of them.
    #[inline]
    pub fn has(self, day: Day) -> bool {
        self.0 >> day.weekday() & 1 == 1
    }

    /// Most days from one of them to the next; 0 where there is none.
    pub fn widest_gap(self) -> i32 {
        let is = |n: &i32| self.has(Day(*n));
        let gap = |n: i32| (n + 1..=n + 7).find(is).map_or(0, |next| next - n);
        (0..7).filter(is).map(gap).max().unwrap_or(0)
    }

    /// The first of them on or after a day; `None` where there is none.
    #[inline]
    pub fn next(self, day: Day) -> Option<Day> {
        (0..7).map(|n| day.plus(n)).find(|d| self.has(*d))
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.date())
    }
}

/// Any common year, where only the days of a year matter.
pub const COMMON_YEAR: i32 = 2025;

/// Any leap year, where every day of the year, 29 February too, must have a date.
pub const LEAP_YEAR: i32 = 2024;

/// The months by their short names, January first.
pub const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

impl MonthDay {
    /// A month and day, or `None` where a common year has no such day.
    pub fn new(month: u8, day: u8) -> Option<MonthDay> {
        Day::from_ymd(COMMON_YEAR, month, day).map(|_| MonthDay { month, day })
    }

    /// This day in a given year.
    pub fn in_year(self, year: i32) -> Day {
        Day::from_ymd(year, self.month, self.day).expect("a MonthDay exists in every year")
    }
}
