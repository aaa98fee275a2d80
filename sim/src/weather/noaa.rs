//! NOAA's daily tables, turned into the shape of a plain one: GHCN-Daily as one CSV a station
//! (tenths), the daily summaries as ordered (US or metric units), and the long form with one reading
//! a line.
//!
//! Layouts: GHCN-Daily readme (NOAA NCEI) for elements, units and flags; real exports for the rest. A
//! quality flag (the second attribute) means that the value failed a check: it is left out.

use std::collections::BTreeMap;

use super::Site;
use super::columns::{Columns, Measure, Missing, Unit, What};
use super::record::{RecordFault, counted};

/// Elements that are read, with what they measure.
const ELEMENTS: [(&str, What); 4] =
    [("TMIN", What::TMin), ("TMAX", What::TMax), ("PRCP", What::Precip), ("AWND", What::Wind)];

/// The lines of a table with their numbers, the header first.
type Table = Vec<(usize, Vec<String>)>;

/// How to read a table that was recognized.
pub(super) struct Export {
    pub(super) columns: Columns,
    pub(super) station: Station,
}

/// What the table says of its station.
#[derive(Default)]
pub(super) struct Station {
    pub(super) name: Option<String>,
    pub(super) site: Option<Site>,
}

/// Recognizes NOAA's tables. The table is changed to a plain one: the long form is laid out with one
/// line a day, readings that failed a check are blanked. `None` leaves another table as it was.
///
/// # Errors
/// Several stations in one table, a needed element missing, or units that cannot be told.
pub(super) fn recognize(
    table: &mut Table,
    notes: &mut Vec<String>,
) -> Result<Option<Export>, RecordFault> {
    let Some((_, first)) = table.first() else { return Ok(None) };
    if is_long_line(first) {
        *table = lay_out(table, notes)?;
    } else if !is_header(first) {
        return Ok(None);
    }
    refuse_several_stations(table)?;
    drop_failed(table, notes);
    drop_impossible(table, notes);
    let cells = Cells { table };
    let heat = [cells.of("TMIN"), cells.of("TMAX")].concat();
    let units = Units::tell(&heat, &cells.of("PRCP"), cells.tell_tenths())
        .ok_or_else(|| ambiguous(table[0].0))?;
    notes.push(format!("read as NOAA daily data in {}", units.in_words()));
    Ok(Some(Export { columns: cells.columns(units)?, station: cells.station() }))
}

/// Whether a header is one of NOAA's: station and date, and an element under its own name.
fn is_header(fields: &[String]) -> bool {
    let has = |key: &str| fields.iter().any(|f| f.eq_ignore_ascii_case(key));
    has("STATION") && has("DATE") && ["TMIN", "TMAX", "PRCP"].into_iter().any(has)
}

/// Where a column is.
fn position(table: &Table, key: &str) -> Option<usize> {
    table[0].1.iter().position(|f| f.eq_ignore_ascii_case(key))
}

/// A table's cells by column.
struct Cells<'a> {
    table: &'a Table,
}

impl<'a> Cells<'a> {
    /// The cells of a column in which something was measured. Lines of another width than the header's
    /// are passed over: the reader of lines reports them.
    fn of(&self, key: &str) -> Vec<&'a str> {
        let width = self.table[0].1.len();
        let Some(index) = position(self.table, key) else { return vec![] };
        self.table[1..]
            .iter()
            .filter(|(_, fields)| fields.len() == width)
            .map(|(_, fields)| fields[index].as_str())
            .filter(|cell| !Missing::is(cell))
            .collect()
    }

    /// Attributes and the legacy form go with tenths, where the numbers are whole.
    fn tell_tenths(&self) -> bool {
        self.table[0].1.iter().any(|h| h.to_ascii_uppercase().ends_with("_ATTRIBUTES"))
            || self.of("STATION").first().is_some_and(|s| s.starts_with("GHCND:"))
    }

    fn columns(&self, units: Units) -> Result<Columns, RecordFault> {
        let (line, header) = &self.table[0];
        let measure = |(key, what): (&str, What)| {
            position(self.table, key).map(|index| Measure { index, what, unit: units.of(what) })
        };
        let need = |element: (&str, What)| {
            measure(element).ok_or_else(|| {
                RecordFault::new(
                    format!("this NOAA table has no {}", element.0),
                    "the elements TMIN, TMAX and PRCP (AWND, wind, where measured)",
                )
                .at(*line)
                .help("order the file again with these elements")
            })
        };
        Ok(Columns {
            date: position(self.table, "DATE").unwrap_or(0),
            t_min: need(ELEMENTS[0])?,
            t_max: need(ELEMENTS[1])?,
            precip: need(ELEMENTS[2])?,
            wind: measure(ELEMENTS[3]),
            rs: None,
            rh: None,
            names: header.clone(),
        })
    }

    fn station(&self) -> Station {
        let first = |key: &str| self.of(key).first().copied();
        let number = |key: &str| first(key).and_then(|cell| cell.parse::<f64>().ok());
        Station {
            name: first("NAME").or_else(|| first("STATION_NAME")).map(str::to_owned),
            site: number("LATITUDE")
                .zip(number("ELEVATION"))
                .map(|(latitude_deg, elevation_m)| Site { latitude_deg, elevation_m }),
        }
    }
}

/// The units of a whole table.
#[derive(Clone, Copy)]
enum Units {
    Tenths,
    Us,
    Metric,
}

impl Units {
    /// Metric orders write temperature with a decimal, US orders whole degrees and inches with
    /// decimals; tenths are whole numbers throughout, and either the table's form or their size tells
    /// them. `None` where nothing does.
    fn tell(heat: &[&str], rain: &[&str], told_tenths: bool) -> Option<Units> {
        let decimal = |cells: &[&str]| cells.iter().any(|c| c.contains('.'));
        let large = |c: &&str| c.parse::<f64>().is_ok_and(|v| v.abs() > 130.0);
        if decimal(heat) {
            Some(Units::Metric)
        } else if decimal(rain) {
            Some(Units::Us)
        } else if told_tenths || heat.iter().any(large) {
            Some(Units::Tenths)
        } else {
            None
        }
    }

    fn of(self, what: What) -> Unit {
        match (self, what) {
            (Units::Tenths, _) => Unit::Tenth,
            (Units::Metric, _) => Unit::Si,
            (Units::Us, What::TMin | What::TMax) => Unit::Fahrenheit,
            (Units::Us, What::Precip) => Unit::Inch,
            (Units::Us, _) => Unit::MilePerHour,
        }
    }

    fn in_words(self) -> &'static str {
        match self {
            Units::Tenths => "tenths of C, mm and m/s",
            Units::Us => "US units (F, inches, mph)",
            Units::Metric => "metric units (C, mm, m/s)",
        }
    }
}

fn ambiguous(line: usize) -> RecordFault {
    RecordFault::new(
        "nothing tells the units of this NOAA table",
        "temperatures with a decimal (metric), inches with decimals (US), or tenths with attributes",
    )
    .at(line)
    .help("name the columns date, tmin_c, tmax_c, precip_mm (or tmin_f, tmax_f, precip_in)")
}

fn refuse_several_stations(table: &Table) -> Result<(), RecordFault> {
    let Some(index) = position(table, "STATION") else { return Ok(()) };
    let mut rows = table[1..].iter().filter_map(|(line, f)| Some((*line, f.get(index)?)));
    let Some((_, first)) = rows.next() else { return Ok(()) };
    match rows.find(|(_, s)| *s != first) {
        Some((line, other)) => Err(another_station(line, first, other)),
        None => Ok(()),
    }
}

fn another_station(line: usize, first: &str, other: &str) -> RecordFault {
    RecordFault::new(
        format!("another station begins here: {other} after {first}"),
        "one station a file",
    )
    .at(line)
    .column("STATION")
    .help("keep the lines of one station")
}

/// Blanks readings whose attributes carry a quality flag.
fn drop_failed(table: &mut Table, notes: &mut Vec<String>) {
    let width = table[0].1.len();
    for (element, _) in ELEMENTS {
        let attributes = position(table, &format!("{element}_ATTRIBUTES"));
        let Some((value, attributes)) = position(table, element).zip(attributes) else { continue };
        let mut dropped = 0;
        for (_, fields) in table[1..].iter_mut().filter(|(_, f)| f.len() == width) {
            let failed = fields[attributes].split(',').nth(1).is_some_and(|q| !q.trim().is_empty());
            if failed && !Missing::is(&fields[value]) {
                fields[value].clear();
                dropped += 1;
            }
        }
        if dropped > 0 {
            let readings = counted(dropped, "reading");
            notes.push(format!("{readings} of {element} failed NOAA's checks: left out"));
        }
    }
}

/// Blanks days whose high is below their low: the two come from different hours of observation.
fn drop_impossible(table: &mut Table, notes: &mut Vec<String>) {
    let Some((low, high)) = position(table, "TMIN").zip(position(table, "TMAX")) else { return };
    let mut dropped = 0;
    for (_, fields) in &mut table[1..] {
        let value = |i: usize| fields.get(i).and_then(|c| c.parse::<f64>().ok());
        if value(low).zip(value(high)).is_some_and(|(a, b)| b < a) {
            fields[low].clear();
            fields[high].clear();
            dropped += 1;
        }
    }
    if dropped > 0 {
        let days = counted(dropped, "day");
        notes.push(format!("{days} with a high below the low: both left out"));
    }
}

/// A line of the long form: station, YYYYMMDD, element, value, three flags and perhaps a time.
fn is_long_line(fields: &[String]) -> bool {
    (7..=8).contains(&fields.len())
        && fields[1].len() == 8
        && fields[1].bytes().all(|b| b.is_ascii_digit())
        && fields[2].len() == 4
        && fields[2].bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit())
}

/// Lays the long form out with one line a day, in tenths.
fn lay_out(table: &Table, notes: &mut Vec<String>) -> Result<Table, RecordFault> {
    let header = ["STATION", "DATE", "TMIN", "TMAX", "PRCP", "AWND"].map(str::to_owned).to_vec();
    let mut days: BTreeMap<&str, (usize, Vec<String>)> = BTreeMap::new();
    let (mut failed, mut wind) = (0, false);
    for (line, fields) in table {
        if !is_long_line(fields) {
            return Err(RecordFault::new(
                "this line is not like the ones before",
                "station, YYYYMMDD, element, value and its flags",
            )
            .at(*line));
        }
        if fields[0] != table[0].1[0] {
            return Err(another_station(*line, &table[0].1[0], &fields[0]));
        }
        let Some(element) = header[2..].iter().position(|e| *e == fields[2]) else { continue };
        if !fields[5].is_empty() {
            failed += 1;
            continue;
        }
        wind |= element == 3;
        let (_, day) = days.entry(&fields[1]).or_insert_with(|| {
            let mut day = vec![String::new(); header.len()];
            day[0] = fields[0].clone();
            day[1] = fields[1].clone();
            (*line, day)
        });
        day[element + 2] = fields[3].clone();
    }
    if failed > 0 {
        notes.push(format!("{} failed NOAA's checks: left out", counted(failed, "reading")));
    }
    let mut laid = vec![(table[0].0, header)];
    laid.extend(days.into_values());
    // The form itself tells tenths, as attributes do.
    for (i, (_, fields)) in laid.iter_mut().enumerate() {
        fields.push(if i == 0 { "TMIN_ATTRIBUTES".to_owned() } else { String::new() });
        if !wind {
            fields.remove(5);
        }
    }
    Ok(laid)
}
