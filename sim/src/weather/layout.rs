//! The layouts of a station file, and the ones that are no daily record.
//!
//! Layouts: GHCN-Daily readme (NOAA NCEI) for elements, units and flags; real exports for the rest.

use super::record::RecordFault;

/// How a file is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// A plain table with the unit of each column in its name.
    Plain,
    /// NOAA's table with one line a day and a column for each element.
    Columns,
    /// NOAA's table with one line for each reading.
    Long,
    /// NOAA's fixed-width form with one line for each element and month.
    FixedWidth,
}

impl Layout {
    /// For people.
    pub fn in_words(self) -> &'static str {
        match self {
            Layout::Plain => "a plain table",
            Layout::Columns => "a NOAA daily table",
            Layout::Long => "NOAA's long form, one reading a line",
            Layout::FixedWidth => "NOAA's fixed-width form (.dly)",
        }
    }
}

/// The lines of a table with their numbers, the header first.
pub(super) struct Table {
    pub(super) lines: Vec<(usize, Vec<String>)>,
    pub(super) layout: Layout,
}

impl Table {
    /// Where a column is.
    pub(super) fn position(&self, key: &str) -> Option<usize> {
        self.header().iter().position(|f| f.eq_ignore_ascii_case(key))
    }

    /// The header's cells; none in an empty table.
    pub(super) fn header(&self) -> &[String] {
        self.lines.first().map_or(&[], |(_, fields)| fields.as_slice())
    }

    /// The lines under the header.
    pub(super) fn rows(&self) -> &[(usize, Vec<String>)] {
        self.lines.get(1..).unwrap_or(&[])
    }
}

/// Refuses what is no table at all, by its first line.
pub(super) fn refuse_page(first: &str, line: usize) -> Result<(), RecordFault> {
    let start = first.trim_start();
    let kind = match start.chars().next() {
        Some('<') => "a web page",
        Some('{' | '[') => "JSON",
        _ => return Ok(()),
    };
    Err(RecordFault::new(format!("this is {kind}, not a table"), "a station's daily table as CSV")
        .at(line)
        .help("download the file itself rather than the page that shows it"))
}

/// Refuses layouts that are known and are not daily records, by header and first line.
pub(super) fn refuse_other_products(table: &Table) -> Result<(), RecordFault> {
    let Some((line, header)) = table.lines.first() else { return Ok(()) };
    let has = |key: &str| header.iter().any(|f| f.eq_ignore_ascii_case(key));
    let daily = "a daily table, one line a day with low, high and precipitation";
    let refuse = |what: &str, help: &str| {
        Err(RecordFault::new(what.to_owned(), daily).at(*line).help(help.to_owned()))
    };
    let order = "order or download the daily summaries (GHCN-Daily) of the same station instead";
    if has("FRSHTT") || (has("MAX") && has("MIN") && has("STP")) {
        return refuse(
            "this is the global summary of the day, whose days are cut at midnight UTC and whose \
             rain may be part of a day's",
            order,
        );
    }
    let hourly = |f: &String| f.to_ascii_lowercase().starts_with("hourly");
    if header.iter().any(hourly) || has("REPORT_TYPE") || (has("TMP") && has("SLP")) {
        return refuse("this is an hourly table", order);
    }
    let normals = |f: &String| f.to_ascii_uppercase().contains("-NORMAL");
    if header.iter().any(normals) {
        return refuse(
            "this is a table of climate normals, not of the days of single years",
            order,
        );
    }
    let date = table.position("DATE");
    let first = table.rows().first().and_then(|(row, f)| Some((*row, f.get(date?)?.as_str())));
    match first {
        Some((row, text)) if is_month(text) => {
            Err(RecordFault::new(format!("'{text}' is a month: this is a monthly table"), daily)
                .at(row)
                .column("date")
                .help(format!("this looks like a monthly table; a daily one is needed: {order}")))
        }
        _ => Ok(()),
    }
}

/// YYYY-MM or YYYYMM.
pub(super) fn is_month(text: &str) -> bool {
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    match text.split_once('-') {
        Some((year, month)) => year.len() == 4 && digits(year) && month.len() <= 2 && digits(month),
        None => text.len() == 6 && digits(text),
    }
}
