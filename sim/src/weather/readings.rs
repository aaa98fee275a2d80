//! NOAA's two forms that hold one reading after another, laid out with one line a day: the long form
//! (station, date, element, value, flags) and the fixed-width form (one element and month a line).
//!
//! Both are in tenths. Layout: GHCN-Daily readme (NOAA NCEI), sections II and III. A quality flag means
//! that the reading failed a check: it is left out.

use std::collections::BTreeMap;

use super::layout::{Layout, Table};
use super::noaa::ELEMENTS;
use super::record::{RecordFault, counted};

/// Flags and value of a missing reading in the fixed-width form.
const MISSING: &str = "-9999";
/// Where the first day's value begins in the fixed-width form, bytes, and the room of a day.
const DAYS_FROM: usize = 21;
const DAY_WIDE: usize = 8;

/// One reading of one element on one day.
struct Reading<'a> {
    line: usize,
    station: &'a str,
    /// YYYYMMDD.
    date: String,
    element: &'a str,
    value: &'a str,
    failed: bool,
}

/// A line of the long form: station, YYYYMMDD, element, value, three flags and perhaps a time.
pub(super) fn is_long_line(fields: &[String]) -> bool {
    (7..=8).contains(&fields.len())
        && fields[1].len() == 8
        && fields[1].bytes().all(|b| b.is_ascii_digit())
        && is_element(&fields[2])
}

/// The header that some copies of the long form have.
pub(super) fn is_long_header(fields: &[String]) -> bool {
    (7..=8).contains(&fields.len()) && fields[2].eq_ignore_ascii_case("element")
}

/// A line of the fixed-width form: station, year and month, element, then a value for each day.
pub(super) fn is_fixed_line(line: &str) -> bool {
    line.len() > DAYS_FROM
        && line.is_ascii()
        && !line[..DAYS_FROM].contains(',')
        && line[..11].bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
        && line[11..17].bytes().all(|b| b.is_ascii_digit())
        && is_element(&line[17..21])
}

fn is_element(text: &str) -> bool {
    text.len() == 4 && text.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit())
}

/// Lays the long form out.
///
/// # Errors
/// A line of another form, or a reading that is there twice with different values.
pub(super) fn lay_out_long(
    lines: &[(usize, Vec<String>)],
    notes: &mut Vec<String>,
) -> Result<Table, RecordFault> {
    let lines = match lines.split_first() {
        Some(((_, first), rest)) if is_long_header(first) => rest,
        _ => lines,
    };
    let mut days = Days::default();
    for (line, fields) in lines {
        if !is_long_line(fields) {
            return Err(RecordFault::new(
                "this line is not like the ones before",
                "station, YYYYMMDD, element, value and its flags",
            )
            .at(*line));
        }
        days.add(Reading {
            line: *line,
            station: &fields[0],
            date: fields[1].clone(),
            element: &fields[2],
            value: &fields[3],
            failed: !fields[5].is_empty(),
        })?;
    }
    Ok(days.into_table(Layout::Long, notes))
}

/// Lays the fixed-width form out.
///
/// # Errors
/// A line of another form, a value that is no number, or a reading twice with different values.
pub(super) fn lay_out_fixed<'a>(
    lines: impl Iterator<Item = (usize, &'a str)>,
    notes: &mut Vec<String>,
) -> Result<Table, RecordFault> {
    let mut days = Days::default();
    for (line, text) in lines {
        if !is_fixed_line(text) {
            return Err(RecordFault::new(
                "this line is not like the ones before",
                "station (11 characters), year, month, element, then 31 values of 8 characters",
            )
            .at(line));
        }
        let (station, month, element) = (text[..11].trim(), &text[11..17], &text[17..21]);
        for day in 1..=31 {
            let from = DAYS_FROM + (day - 1) * DAY_WIDE;
            let Some(cell) = text.get(from..text.len().min(from + DAY_WIDE)) else { break };
            let value = cell.get(..5).unwrap_or(cell).trim();
            if value.is_empty() || value == MISSING {
                continue;
            }
            let failed = cell.as_bytes().get(6).is_some_and(|q| *q != b' ');
            let date = format!("{month}{day:02}");
            days.add(Reading { line, station, date, element, value, failed })?;
        }
    }
    Ok(days.into_table(Layout::FixedWidth, notes))
}

/// Readings gathered by station and date.
#[derive(Default)]
struct Days {
    /// Line of the first reading, and a cell for each of [`ELEMENTS`].
    days: BTreeMap<(String, String), (usize, Vec<String>)>,
    first_line: Option<usize>,
    failed: usize,
}

impl Days {
    fn add(&mut self, reading: Reading<'_>) -> Result<(), RecordFault> {
        self.first_line.get_or_insert(reading.line);
        // A station's day is there as soon as anything was read on it.
        let key = (reading.station.to_owned(), reading.date);
        let Some(element) = ELEMENTS.iter().position(|(name, _)| *name == reading.element) else {
            return Ok(());
        };
        if reading.failed {
            self.failed += 1;
            return Ok(());
        }
        let date = key.1.clone();
        let empty = || (reading.line, vec![String::new(); ELEMENTS.len()]);
        let (_, cells) = self.days.entry(key).or_insert_with(empty);
        let cell = &mut cells[element];
        if !cell.is_empty() && cell != reading.value {
            return Err(RecordFault::new(
                format!(
                    "{} of {date} is there twice: {cell} and {}",
                    reading.element, reading.value
                ),
                "one reading for each element and day",
            )
            .at(reading.line)
            .help("remove one of the two"));
        }
        reading.value.clone_into(cell);
        Ok(())
    }

    /// A line a day; elements that were never read get no column.
    fn into_table(self, layout: Layout, notes: &mut Vec<String>) -> Table {
        if self.failed > 0 {
            notes.push(format!(
                "{} failed NOAA's checks: left out",
                counted(self.failed, "reading")
            ));
        }
        let read = |i: usize| self.days.values().any(|(_, cells)| !cells[i].is_empty());
        let kept: Vec<usize> = (0..ELEMENTS.len()).filter(|&i| read(i)).collect();
        let names = kept.iter().map(|&i| ELEMENTS[i].0.to_owned());
        let header = ["STATION", "DATE"].map(str::to_owned).into_iter().chain(names).collect();
        let mut lines = vec![(self.first_line.unwrap_or(1), header)];
        lines.extend(self.days.into_iter().map(|((station, date), (line, mut cells))| {
            let kept = kept.iter().map(|&i| std::mem::take(&mut cells[i]));
            (line, [station, date].into_iter().chain(kept).collect())
        }));
        Table { lines, layout }
    }
}
