//! Dates of the year in words, and how a date falls over the years.

use sim::calendar::{COMMON_YEAR, Day, MONTHS};
use sim::climate::{AIR, SOIL, YearDates};
use sim::ensemble::quantile_sorted;
use sim::weather::is_leap;

/// The day of the year on which an event came.
type Of = dyn Fn(&YearDates) -> Option<u16>;

/// An event of the year.
pub(super) struct Event {
    /// Short key for tables.
    pub(super) key: &'static str,
    /// In words.
    pub(super) title: String,
    /// How far it has to come, C-days; 0 for frosts.
    pub(super) goal_c_days: f64,
    of: Box<Of>,
}

/// All events, in the order of the year.
pub(super) fn events() -> Vec<Event> {
    let frost = |key, title: &str, of: fn(&YearDates) -> Option<u16>| Event {
        key,
        title: title.to_string(),
        goal_c_days: 0.0,
        of: Box::new(of),
    };
    let mut all = vec![frost("last-frost", "last spring frost", |d| d.last_frost)];
    for (i, (key, warmth)) in ["air-56", "air-111", "air-278"].into_iter().zip(AIR).enumerate() {
        let title = warmth.meaning.to_string();
        let of = Box::new(move |d: &YearDates| d.air[i]);
        all.push(Event { key, title, goal_c_days: warmth.goal_c_days, of });
    }
    for (i, (key, warmth)) in
        ["soil-42", "soil-78", "soil-140", "soil-230"].into_iter().zip(SOIL).enumerate()
    {
        let title = warmth.meaning.to_string();
        let of = Box::new(move |d: &YearDates| d.soil[i]);
        all.push(Event { key, title, goal_c_days: warmth.goal_c_days, of });
    }
    all.push(frost("first-frost", "first fall frost", |d| d.first_frost));
    all
}

impl Event {
    /// Its days, counted from 1 January of a common year, in the years that have it.
    pub(super) fn days(&self, years: &[YearDates]) -> Vec<(i32, f64)> {
        let day = |d: &YearDates| Some((d.year, common(d.year, (self.of)(d)?)));
        years.iter().filter_map(day).collect()
    }
}

/// A day of a year as a day of a common year, from 0; 29 February is 28 February.
fn common(year: i32, day_of_year: u16) -> f64 {
    let after = is_leap(year) && day_of_year > 59;
    f64::from(day_of_year - 1 - u16::from(after))
}

/// "27 Mar", for a day counted from 1 January, from 0.
pub(super) fn in_words(day: f64) -> String {
    let date = Day::from_ymd(COMMON_YEAR, 1, 1).map(|first| first.plus(day.round() as i32));
    let (_, month, dom) = date.map_or((COMMON_YEAR, 1, 1), Day::ymd);
    format!("{dom} {}", MONTHS[usize::from(month) - 1])
}

/// Quantiles of days; `None` where there are none.
pub(super) fn quantiles<const N: usize>(days: &[(i32, f64)], at: [f64; N]) -> Option<[f64; N]> {
    let mut sorted: Vec<f64> = days.iter().map(|d| d.1).collect();
    sorted.sort_by(f64::total_cmp);
    (!sorted.is_empty()).then(|| at.map(|p| quantile_sorted(&sorted, p)))
}
