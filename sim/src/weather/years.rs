//! Calendar years of a record, and how a year of days is fitted to a year of another length.

use super::{Record, RecordDay};
use crate::calendar::Day;

/// Whether a year of the Gregorian calendar has a 29 February.
pub fn is_leap(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Days in a calendar year.
pub fn days_in_year(year: i32) -> u16 {
    if is_leap(year) { 366 } else { 365 }
}

/// Index of 28 February in a year, counted from 0.
pub const FEB_28: usize = 58;

/// A complete calendar year of a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct YearSpan {
    /// The calendar year.
    pub year: i32,
    /// Index of its 1 January in the record.
    pub start: usize,
}

/// The complete calendar years of a record, in order.
pub fn complete_years(record: &Record) -> Vec<YearSpan> {
    let first_year = record.first.ymd().0;
    (first_year..)
        .map_while(|year| {
            let offset = i64::from(Day::from_ymd(year, 1, 1)?.0) - i64::from(record.first.0);
            let fits = offset + i64::from(days_in_year(year)) <= record.days.len() as i64;
            fits.then_some((year, offset))
        })
        .filter_map(|(year, offset)| Some(YearSpan { year, start: usize::try_from(offset).ok()? }))
        .collect()
}

/// Appends a record's year to a path as a year of the wanted length. A source year without
/// 29 February gives its 28 February twice to a leap year (as often wet as dry in the long run);
/// a source's own 29 February is left out of a common year.
pub fn append_year(path: &mut Vec<RecordDay>, days: &[RecordDay], span: YearSpan, leap: bool) {
    let source = &days[span.start..span.start + usize::from(days_in_year(span.year))];
    match (is_leap(span.year), leap) {
        (false, true) => {
            path.extend_from_slice(&source[..=FEB_28]);
            path.extend_from_slice(&source[FEB_28..]);
        }
        (true, false) => {
            path.extend_from_slice(&source[..=FEB_28]);
            path.extend_from_slice(&source[FEB_28 + 2..]);
        }
        _ => path.extend_from_slice(source),
    }
}
