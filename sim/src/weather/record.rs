//! Reading a plain daily record: text in, a gapless [`Record`] or one clear fault out.

use jiff::civil::Date;

use super::columns::{Columns, Missing, header};
use super::csv_line::CsvLine;
use super::gaps::{Row, close_gaps};
use super::preamble::Preamble;
use super::{Record, Site, noaa};
use crate::calendar::Day;

/// A record that was read, and what was done to it on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadRecord {
    /// The record, without gaps.
    pub record: Record,
    /// What a user should know: gaps that were filled, columns that were not used.
    pub notes: Vec<String>,
}

/// Why a record could not be read, and how to mend it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct RecordFault {
    /// Line of the text, counted from 1.
    pub line: Option<usize>,
    /// Column, as the header names it.
    pub column: Option<String>,
    /// What is wrong, with the value found.
    pub message: String,
    /// What was expected there.
    pub expected: String,
    /// How to mend it; may be empty.
    pub help: String,
}

impl RecordFault {
    /// A fault of the text as a whole.
    pub(super) fn new(message: impl Into<String>, expected: impl Into<String>) -> Self {
        RecordFault {
            line: None,
            column: None,
            message: message.into(),
            expected: expected.into(),
            help: String::new(),
        }
    }

    /// The same fault on a line.
    pub(super) fn at(mut self, line: usize) -> Self {
        self.line = Some(line);
        self
    }

    /// The same fault in a column.
    pub(super) fn column(mut self, column: impl Into<String>) -> Self {
        self.column = Some(column.into());
        self
    }

    /// The same fault with a way to mend it.
    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }
}

impl std::fmt::Display for RecordFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(line) = self.line {
            write!(f, "line {line}")?;
            if let Some(column) = &self.column {
                write!(f, ", column {column}")?;
            }
            write!(f, ": ")?;
        } else if let Some(column) = &self.column {
            write!(f, "column {column}: ")?;
        }
        write!(f, "{} (expected {})", self.message, self.expected)?;
        if !self.help.is_empty() {
            write!(f, "; {}", self.help)?;
        }
        Ok(())
    }
}

/// Reads a daily record: a plain table, or one of NOAA's exports.
///
/// A plain table is CSV with a header that names `date` (YYYY-MM-DD), `tmin_c`, `tmax_c` and `precip_mm`,
/// and where they were measured `wind_m_s`, `rs_mj_m2` (solar radiation a day) and `rh_pct` (mean
/// relative humidity), in any order; or in US units `tmin_f`, `tmax_f`, `precip_in`, `wind_mph`.
/// Other columns are left aside with a note. Quotes, padding, a byte-order mark and any line ends are
/// accepted. Lines that begin with `#` before the header may state `latitude_deg`, `elevation_m`,
/// `name` and `anemometer_m` (height of the wind's measurement, 10 m where not stated) as
/// `# key: value`; `site`, where given, goes before them, and `fallback_name` stands where the text has
/// none.
///
/// NOAA's daily tables are known by their header (GHCN-Daily as one CSV a station, and the daily
/// summaries as ordered in US or metric units), the long form by its lines. They bring their own name
/// and, mostly, place; readings that failed NOAA's own checks are left out with a note.
///
/// Up to five days running without temperature or rain are filled (temperature by interpolation,
/// rain by none) and noted. Days without temperature at either end are left off.
///
/// # Errors
/// The first fault met: a missing or unknown header, a monthly or hourly table, a date or number that
/// does not read, dates out of order or twice, a high below its low, a value that no station
/// measures, a gap of more than five days, or a site that nobody stated.
pub fn read_daily_csv(
    text: &str,
    fallback_name: &str,
    site: Option<Site>,
) -> Result<ReadRecord, RecordFault> {
    let mut lines = numbered_lines(text);
    let preamble = Preamble::read(&mut lines)?;
    let mut notes = vec![];
    let mut line = CsvLine::default();
    let mut table = vec![];
    for (number, text) in lines {
        if !text.trim_start().starts_with('#') {
            table.push((number, line.split(text, number)?));
        }
    }
    let exported = noaa::recognize(&mut table, &mut notes)?;
    let station = exported.as_ref().map(|e| &e.station);
    let site = preamble.site(site.or_else(|| station.and_then(|s| s.site)))?;
    let name = preamble.name.or_else(|| station.and_then(|s| s.name.clone()));
    let columns = match exported {
        Some(export) => export.columns,
        None => {
            let Some((number, first)) = table.first() else {
                return Err(RecordFault::new("there is no table in this file", header()));
            };
            Columns::read(first, *number, &mut notes)?
        }
    };

    let mut rows: Vec<Row> = vec![];
    for (number, fields) in &table[1..] {
        rows.push(read_row(&columns, fields, *number, rows.last())?);
    }
    let (first, days) = close_gaps(&rows, &mut notes)?;
    let record = Record {
        name: name.unwrap_or_else(|| fallback_name.trim().to_owned()),
        site,
        anemometer_m: preamble.anemometer_m.unwrap_or(10.0),
        first,
        days,
    };
    Ok(ReadRecord { record, notes })
}

/// "1 day", "2 days".
pub(super) fn counted(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// The lines that hold something, numbered from 1, whatever their ends are.
fn numbered_lines(text: &str) -> std::iter::Peekable<impl Iterator<Item = (usize, &str)>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // A file from an old spreadsheet may end its lines with CR alone.
    let end = if text.contains('\n') { '\n' } else { '\r' };
    text.split(end)
        .enumerate()
        .map(|(i, line)| (i + 1, line.trim_end_matches('\r')))
        .filter(|(_, line)| !line.trim().is_empty())
        .peekable()
}

/// One line of the table, checked against the line before it.
fn read_row(
    columns: &Columns,
    fields: &[String],
    line: usize,
    before: Option<&Row>,
) -> Result<Row, RecordFault> {
    if fields.len() != columns.width() {
        return Err(RecordFault::new(
            format!("{} fields", fields.len()),
            format!("{} fields, as in the header", columns.width()),
        )
        .at(line)
        .help("numbers need a point for decimals; a comma begins the next field"));
    }
    let day = read_date(columns.date(fields), line)?;
    if let Some(before) = before {
        check_order(before, day, line)?;
    }
    let number = |measure| columns.number(fields, measure, line);
    let row = Row {
        line,
        day,
        temperature: number(&columns.t_min)?.zip(number(&columns.t_max)?),
        precip_mm: number(&columns.precip)?,
        wind_m_s: columns.optional(fields, columns.wind.as_ref(), line)?,
        rs_mj_m2: columns.optional(fields, columns.rs.as_ref(), line)?,
        rh_pct: columns.optional(fields, columns.rh.as_ref(), line)?,
    };
    match row.temperature {
        Some((t_min, t_max)) if t_max < t_min => Err(RecordFault::new(
            format!(
                "the high of {} is below the low of {}",
                columns.shown(fields, &columns.t_max),
                columns.shown(fields, &columns.t_min)
            ),
            "a high at or above the low",
        )
        .at(line)
        .column(columns.name(&columns.t_max))
        .help("are the two columns swapped, or is the day's low another day's?")),
        _ => Ok(row),
    }
}

/// A date as people and stations write it: YYYY-MM-DD or YYYYMMDD.
fn read_date(text: &str, line: usize) -> Result<Day, RecordFault> {
    let fault = |message: String| {
        RecordFault::new(message, "a date such as 2024-04-15").at(line).column("date")
    };
    if Missing::is(text) {
        return Err(fault("there is no date".to_owned()));
    }
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let parts: Vec<&str> = text.split('-').collect();
    let (y, m, d) = match parts[..] {
        [y, m, d] if y.len() == 4 && digits(y) && digits(m) && digits(d) => (y, m, d),
        [all] if all.len() == 8 && digits(all) => (&all[..4], &all[4..6], &all[6..]),
        [y, m] if y.len() == 4 && digits(y) && m.len() <= 2 && digits(m) => {
            return Err(fault(format!("'{text}' is a month"))
                .help("this looks like a monthly table; a daily one is needed"));
        }
        _ if text.contains(':') => {
            return Err(fault(format!("'{text}' holds a time of day"))
                .help("this looks like an hourly table; a daily one is needed"));
        }
        _ => {
            return Err(fault(format!("'{text}' is not a date"))
                .help("write year, month and day in this order, with hyphens"));
        }
    };
    let number = |s: &str| s.parse::<i16>().ok();
    number(y)
        .zip(number(m).and_then(|m| i8::try_from(m).ok()))
        .zip(number(d).and_then(|d| i8::try_from(d).ok()))
        .and_then(|((y, m), d)| Date::new(y, m, d).ok())
        .map(Day::from_date)
        .ok_or_else(|| fault(format!("the calendar has no '{text}'")))
}

/// Dates go up, one line a day.
fn check_order(before: &Row, day: Day, line: usize) -> Result<(), RecordFault> {
    if day == before.day {
        return Err(RecordFault::new(
            format!("{day} is there twice (also on line {})", before.line),
            "one line a day",
        )
        .at(line)
        .column("date")
        .help(
            "remove one of the two; an hourly table or one of several stations cannot be read \
             (take one station's daily values)",
        ));
    }
    if day < before.day {
        return Err(RecordFault::new(
            format!("{day} comes after {}", before.day),
            "dates that go up, line by line",
        )
        .at(line)
        .column("date")
        .help("sort the table by date"));
    }
    Ok(())
}
