//! Reading a plain daily record: text in, a gapless [`Record`] or one clear fault out.

use jiff::civil::Date;

use super::columns::{Columns, Missing, header};
use super::csv_line::CsvLine;
use super::gaps::{Closed, Gap, Row, close_gaps};
use super::layout::{Layout, Table, is_month, refuse_other_products, refuse_page};
use super::options::{Ask, ReadOptions, TableUnits};
use super::preamble::Preamble;
use super::{Record, Site, noaa, readings, stations};
use crate::calendar::Day;

/// A record that was read, and what was done to it on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadRecord {
    /// The record, without gaps.
    pub record: Record,
    /// What a user should know: gaps that were filled, columns that were not used.
    pub notes: Vec<String>,
    /// What the file was and how much of it was measured.
    pub account: Account,
}

/// What a file was and how much of it was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// Its layout.
    pub layout: Layout,
    /// The station's key, where the file has one.
    pub station: Option<String>,
    /// The units of the whole table; `None` where each column names its own.
    pub units: Option<TableUnits>,
    /// Gaps that were filled.
    pub filled: Vec<Gap>,
    /// Days on which low and high were read.
    pub temperature_days: usize,
    /// Days on which precipitation was read.
    pub precip_days: usize,
    /// Days on which wind was read.
    pub wind_days: usize,
    /// Days on which solar radiation was read.
    pub rs_days: usize,
    /// Days on which relative humidity was read.
    pub rh_days: usize,
}

impl Account {
    fn of(
        layout: Layout,
        station: Option<String>,
        units: Option<TableUnits>,
        closed: &Closed,
    ) -> Account {
        let n = closed.days.len();
        let (first, last) = (closed.first, closed.first.plus(n as i32 - 1));
        let missing = |what| -> usize {
            let all = closed.filled.iter().filter(|gap| gap.what == what);
            all.map(|gap| (gap.last.min(last).0 - gap.first.max(first).0 + 1) as usize).sum()
        };
        let with = |has: &dyn Fn(&super::RecordDay) -> bool| {
            closed.days.iter().filter(|day| has(day)).count()
        };
        Account {
            layout,
            station,
            units,
            filled: closed.filled.clone(),
            temperature_days: n - missing(super::Filled::Temperature),
            precip_days: n - missing(super::Filled::Rain),
            wind_days: with(&|d| d.wind_m_s.is_some()),
            rs_days: with(&|d| d.rs_mj_m2.is_some()),
            rh_days: with(&|d| d.rh_pct.is_some()),
        }
    }
}

/// Why a record could not be read, and how to mend it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct RecordFault {
    /// Line of the text, counted from 1.
    pub line: Option<usize>,
    /// Column, as the header names it.
    pub column: Option<Box<str>>,
    /// What is wrong, with the value found.
    pub message: String,
    /// What was expected there.
    pub expected: String,
    /// How to mend it; may be empty.
    pub help: String,
    /// The one thing that would settle it, where a person can just say it.
    pub ask: Option<Ask>,
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
            ask: None,
        }
    }

    /// The same fault on a line.
    pub(super) fn at(mut self, line: usize) -> Self {
        self.line = Some(line);
        self
    }

    /// The same fault in a column.
    pub(super) fn column(mut self, column: impl Into<Box<str>>) -> Self {
        self.column = Some(column.into());
        self
    }

    /// The same fault with a way to mend it.
    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    /// The same fault with what would settle it.
    pub(super) fn ask(mut self, ask: Ask) -> Self {
        self.ask = Some(ask);
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

/// As [`read_record`], with nothing settled but name and place.
///
/// # Errors
/// Those of [`read_record`].
pub fn read_daily_csv(
    text: &str,
    fallback_name: &str,
    site: Option<Site>,
) -> Result<ReadRecord, RecordFault> {
    read_record(text, &ReadOptions { name: fallback_name, site, ..ReadOptions::default() })
}

/// Most fields of a table. Two centuries of one reading a line have 16 million, if a station measured all
/// that there is; a file of commas must not take the memory of the machine.
const FIELDS_MOST: usize = 20_000_000;

/// Reads a daily record: a plain table, or one of NOAA's.
///
/// A plain table is CSV with a header that names `date` (YYYY-MM-DD), `tmin_c`, `tmax_c` and `precip_mm`,
/// and where they were measured `wind_m_s`, `rs_mj_m2` (solar radiation a day) and `rh_pct` (mean
/// relative humidity), in any order; or in US units `tmin_f`, `tmax_f`, `precip_in`, `wind_mph`; or
/// without units (`tmin`, `tmax`, `precip`, `wind`) where the options state them.
/// Other columns are left aside with a note. Quotes, padding, a byte-order mark and any line ends are
/// accepted. Lines that begin with `#` before the header may state `latitude_deg`, `elevation_m`,
/// `name` and `anemometer_m` (height of the wind's measurement, 10 m where not stated) as
/// `# key: value`; what the options state goes before them.
///
/// NOAA's daily tables are known by their header (GHCN-Daily as one CSV a station, and the daily
/// summaries as ordered in US or metric units), the long and the fixed-width form by their lines. They
/// bring their own name and, mostly, place; readings that failed NOAA's own checks are left out with a
/// note, and rain read as the total of several days is spread over them.
///
/// Lines need not be in the order of their dates, and a day that is there twice with the same readings
/// counts once; both are noted. Up to five days running without temperature or rain are filled
/// (temperature by interpolation, rain by none) and noted. Days that lack either at the ends are left
/// off.
///
/// # Errors
/// The first fault met: a missing or unknown header, a monthly, hourly or otherwise other table, units
/// or a station that nothing tells, a date or number that does not read, a day twice with different
/// readings, a high below its low, a value that no station measures, gaps of more than five days, or a
/// site that nobody stated.
pub fn read_record(text: &str, options: &ReadOptions<'_>) -> Result<ReadRecord, RecordFault> {
    let mut lines = numbered_lines(text);
    let preamble = Preamble::read(&mut lines)?;
    let mut notes = vec![];
    let mut table = tabulate(lines, &mut notes)?;
    refuse_other_products(&table)?;
    let station = stations::choose(&mut table, options.station)?;
    let Some((header_line, _)) = table.lines.first() else {
        return Err(RecordFault::new("there is no table in this file", header()));
    };
    let header_line = *header_line;
    if table.layout == Layout::Plain && noaa::is_header(&table) {
        table.layout = Layout::Columns;
    }
    let (columns, units, told) = if table.layout != Layout::Plain {
        let (columns, units, told) = noaa::recognize(&mut table, options.units, &mut notes)?;
        (columns, Some(units), told)
    } else {
        let columns = Columns::read(table.header(), header_line, options.units, &mut notes)?;
        (columns, None, noaa::Station::default())
    };
    let site = preamble.site(options, told.site())?;
    let mut rows = vec![];
    for (number, fields) in table.rows() {
        rows.push(read_row(&columns, fields, *number)?);
    }
    let rows = in_order(rows, &mut notes)?;
    let rows = within(rows, options.years)?;
    let closed = close_gaps(&rows, &mut notes)?;
    let account = Account::of(table.layout, station, units, &closed);
    let record = Record {
        name: preamble.name.or(told.name).unwrap_or_else(|| options.name.trim().to_owned()),
        site,
        anemometer_m: preamble.anemometer_m.unwrap_or(10.0),
        first: closed.first,
        days: closed.days,
    };
    Ok(ReadRecord { record, notes, account })
}

/// The text as a table, whatever its form.
fn tabulate<'a>(
    mut lines: std::iter::Peekable<impl Iterator<Item = (usize, &'a str)>>,
    notes: &mut Vec<String>,
) -> Result<Table, RecordFault> {
    if let Some(&(number, first)) = lines.peek() {
        refuse_page(first, number)?;
        if readings::is_fixed_line(first) {
            return readings::lay_out_fixed(lines, notes);
        }
    }
    let mut line = CsvLine::new();
    let mut split = vec![];
    let mut fields = 0;
    for (number, text) in lines {
        if !text.trim_start().starts_with('#') {
            let row = line.split(text, number)?;
            fields += row.len();
            if fields > FIELDS_MOST {
                let message = format!("the table has more than {FIELDS_MOST} fields up to here");
                return Err(RecordFault::new(message, "one station's daily record").at(number));
            }
            split.push((number, row));
        }
    }
    let long = |(_, first): &(usize, Vec<String>)| {
        readings::is_long_line(first) || readings::is_long_header(first)
    };
    if split.first().is_some_and(long) {
        return readings::lay_out_long(&split, notes);
    }
    Ok(Table { lines: split, layout: Layout::Plain })
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

/// One line of the table.
fn read_row(columns: &Columns, fields: &[String], line: usize) -> Result<Row, RecordFault> {
    if fields.len() != columns.width() {
        return Err(RecordFault::new(
            format!("{} fields", fields.len()),
            format!("{} fields, as in the header", columns.width()),
        )
        .at(line)
        .help("numbers need a point for decimals; a comma begins the next field"));
    }
    let day = read_date(columns.date(fields), line)?;
    let number = |measure| columns.number(fields, measure, line);
    let row = Row {
        line,
        day,
        temperature: number(&columns.t_min)?.zip(number(&columns.t_max)?),
        precip_mm: number(&columns.precip)?,
        wind_m_s: columns.optional(fields, columns.wind.as_ref(), line)?,
        rs_mj_m2: columns.optional(fields, columns.rs.as_ref(), line)?,
        rh_pct: columns.optional(fields, columns.rh.as_ref(), line)?,
        total: columns
            .optional(fields, columns.total.as_ref(), line)?
            .zip(columns.optional(fields, columns.total_days.as_ref(), line)?)
            .map(|(mm, days)| (mm, days as i32)),
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
        _ if is_month(text) => {
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

/// Rows in the order of their dates, one a day.
///
/// # Errors
/// A day that is there twice with different readings.
fn in_order(mut rows: Vec<Row>, notes: &mut Vec<String>) -> Result<Vec<Row>, RecordFault> {
    if let Some(pair) = rows.windows(2).find(|pair| pair[1].day < pair[0].day) {
        notes.push(format!(
            "the lines are not in the order of their dates ({} on line {} after {}): sorted",
            pair[1].day, pair[1].line, pair[0].day
        ));
        // Stable: of two lines of a day the upper one stays first.
        rows.sort_by_key(|row| row.day);
    }
    let mut twice = 0;
    for pair in rows.windows(2).filter(|pair| pair[0].day == pair[1].day) {
        if (Row { line: pair[0].line, ..pair[1] }) != pair[0] {
            return Err(two_readings(&pair[0], &pair[1]));
        }
        twice += 1;
    }
    if twice > 0 {
        rows.dedup_by_key(|row| row.day);
        notes.push(format!(
            "{} there twice with the same readings: counted once",
            counted(twice, "day")
        ));
    }
    Ok(rows)
}

fn two_readings(first: &Row, second: &Row) -> RecordFault {
    RecordFault::new(
        format!(
            "{} is there twice with different readings (also on line {})",
            second.day, first.line
        ),
        "one line a day",
    )
    .at(second.line)
    .column("date")
    .help(
        "remove one of the two; an hourly table cannot be read, and several stations need a column \
         STATION that tells them apart",
    )
}

/// The rows of the calendar years that were asked for.
fn within(rows: Vec<Row>, years: Option<(i32, i32)>) -> Result<Vec<Row>, RecordFault> {
    let Some((from, to)) = years else { return Ok(rows) };
    let asked = |row: &Row| (from..=to).contains(&row.day.ymd().0);
    let ends = rows.first().zip(rows.last()).map(|(a, b)| (a.day, b.day));
    let kept: Vec<Row> = rows.into_iter().filter(asked).collect();
    match ends {
        Some((first, last)) if kept.is_empty() => Err(RecordFault::new(
            format!("this file goes from {first} to {last}, beside the years asked for"),
            "years that the file holds",
        )),
        _ => Ok(kept),
    }
}
