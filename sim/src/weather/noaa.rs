//! NOAA's daily tables with a column for each element: GHCN-Daily as one CSV a station (tenths), the
//! daily summaries as ordered (US or metric units), and the older orders (tenths, -9999). The forms
//! with one reading after another come here once they are laid out.
//!
//! Layouts: GHCN-Daily readme (NOAA NCEI) for elements, units and flags; real exports for the rest. A
//! quality flag (the second attribute) means that the value failed a check: it is left out.

use super::Site;
use super::columns::{Columns, Measure, Missing, Unit, What};
use super::layout::{Layout, Table};
use super::options::{Ask, TableUnits};
use super::record::{RecordFault, counted};

/// Elements that are read, with what they measure. MDPR is precipitation over several days, DAPR their
/// number, RHAV the mean relative humidity in percent.
pub(super) const ELEMENTS: [(&str, What); 7] = [
    ("TMIN", What::TMin),
    ("TMAX", What::TMax),
    ("PRCP", What::Precip),
    ("AWND", What::Wind),
    ("RHAV", What::Humidity),
    ("MDPR", What::Total),
    ("DAPR", What::TotalDays),
];

/// Integers beyond this are no temperature in whole degrees of either scale: tenths.
const TENTHS_BEYOND: f64 = 130.0;
/// Temperatures beyond this are Fahrenheit (or nonsense).
const CELSIUS_BELOW: f64 = 60.0;

/// What the table says of its station.
#[derive(Default)]
pub(super) struct Station {
    pub(super) name: Option<String>,
    pub(super) latitude_deg: Option<f64>,
    pub(super) elevation_m: Option<f64>,
}

impl Station {
    /// Its place, where both parts are known.
    pub(super) fn site(&self) -> Option<Site> {
        let (latitude_deg, elevation_m) = self.latitude_deg.zip(self.elevation_m)?;
        Some(Site { latitude_deg, elevation_m })
    }
}

/// Whether a header is one of NOAA's: station and date, and an element under its own name.
pub(super) fn is_header(table: &Table) -> bool {
    let has = |key: &str| table.position(key).is_some();
    has("STATION") && has("DATE") && ["TMIN", "TMAX", "PRCP"].into_iter().any(has)
}

/// Reads the header and leaves out what failed NOAA's checks. Gives the columns, the station and how
/// many readings were left out.
///
/// # Errors
/// A needed element missing, or units that cannot be told.
pub(super) fn recognize(
    table: &mut Table,
    stated: Option<TableUnits>,
    notes: &mut Vec<String>,
) -> Result<(Columns, TableUnits, Station), RecordFault> {
    drop_failed(table, notes);
    drop_impossible(table, notes);
    let cells = Cells { table };
    let units = cells.units(stated)?;
    notes.push(format!("read as {} in {}", table.layout.in_words(), units.in_words()));
    let columns = cells.columns(units)?;
    let station = cells.station();
    Ok((columns, units, station))
}

/// A table's cells by column.
struct Cells<'a> {
    table: &'a Table,
}

impl<'a> Cells<'a> {
    /// The cells of a column in which something was measured. Lines of another width than the header's
    /// are passed over: the reader of lines reports them.
    fn of(&self, key: &str) -> impl Iterator<Item = (usize, &'a str)> + use<'a> {
        let width = self.table.header().len();
        let index = self.table.position(key);
        self.table
            .rows()
            .iter()
            .filter(move |(_, fields)| fields.len() == width)
            .filter_map(move |(line, fields)| Some((*line, fields.get(index?)?.as_str())))
            .filter(|(_, cell)| !Missing::is(cell))
    }

    /// The units that were stated, or those that the table tells.
    fn units(&self, stated: Option<TableUnits>) -> Result<TableUnits, RecordFault> {
        if matches!(self.table.layout, Layout::Long | Layout::FixedWidth) {
            return Ok(TableUnits::Tenths);
        }
        if stated == Some(TableUnits::Tenths) {
            let heat = [("TMIN", self.of("TMIN")), ("TMAX", self.of("TMAX"))];
            for (key, mut cells) in heat {
                if let Some((line, cell)) = cells.find(|(_, c)| c.contains('.')) {
                    return Err(RecordFault::new(
                        format!("{cell} is not in tenths, which are whole numbers"),
                        "the units of this table",
                    )
                    .at(line)
                    .column(key)
                    .ask(Ask::Units));
                }
            }
        }
        match stated {
            Some(units) => Ok(units),
            None => self.tell().ok_or_else(|| self.ambiguous()),
        }
    }

    /// Metric orders write temperature with a decimal, US orders whole degrees and inches with two
    /// decimals; tenths are whole numbers throughout, and either the table's form or their size tells
    /// them. `None` where nothing does.
    fn tell(&self) -> Option<TableUnits> {
        let heat = || self.of("TMIN").chain(self.of("TMAX")).map(|(_, cell)| cell);
        let beyond = |limit: f64| {
            heat().any(|c| c.parse::<f64>().is_ok_and(|v| v.is_finite() && v.abs() > limit))
        };
        let places = |c: &str| c.split_once('.').map_or(0, |(_, part)| part.len());
        if heat().any(|c| places(c) > 0) {
            return Some(if beyond(CELSIUS_BELOW) { TableUnits::Us } else { TableUnits::Metric });
        }
        let rain = self.of("PRCP").map(|(_, c)| places(c)).max().unwrap_or(0);
        if rain >= 2 || (rain == 1 && beyond(CELSIUS_BELOW)) {
            Some(TableUnits::Us)
        } else if rain == 0 && (self.tells_tenths() || beyond(TENTHS_BEYOND)) {
            Some(TableUnits::Tenths)
        } else {
            None
        }
    }

    /// Attributes and the older orders go with tenths, where the numbers are whole.
    fn tells_tenths(&self) -> bool {
        let attributes = |h: &String| h.to_ascii_uppercase().ends_with("_ATTRIBUTES");
        self.table.header().iter().any(attributes)
            || self.of("STATION").next().is_some_and(|(_, s)| s.starts_with("GHCND:"))
    }

    fn ambiguous(&self) -> RecordFault {
        let line = self.table.lines.first().map_or(1, |(line, _)| *line);
        let high = self.of("TMAX").filter_map(|(_, c)| c.parse::<f64>().ok()).reduce(f64::max);
        let seen = high.map_or(String::new(), |high| {
            format!(": its warmest day, {high}, could be {high} F, {high} C or {} C", high / 10.0)
        });
        RecordFault::new(
            format!("nothing tells the units of this NOAA table{seen}"),
            "temperatures with a decimal (metric), inches with decimals (US), or tenths with \
             attributes",
        )
        .at(line)
        .ask(Ask::Units)
    }

    fn columns(&self, units: TableUnits) -> Result<Columns, RecordFault> {
        let line = self.table.lines.first().map_or(1, |(line, _)| *line);
        let measure = |(key, what): (&str, What)| {
            let unit = unit_of(units, what);
            self.table.position(key).map(|index| Measure { index, what, unit })
        };
        let need = |element: (&str, What)| {
            measure(element).ok_or_else(|| {
                RecordFault::new(
                    format!("this NOAA table has no {}", element.0),
                    "the elements TMIN, TMAX and PRCP (AWND, wind, where measured)",
                )
                .at(line)
                .help("order the file again with these elements, or take another station")
            })
        };
        Ok(Columns {
            date: self.table.position("DATE").unwrap_or(0),
            t_min: need(ELEMENTS[0])?,
            t_max: need(ELEMENTS[1])?,
            precip: need(ELEMENTS[2])?,
            wind: measure(ELEMENTS[3]),
            rs: None,
            rh: measure(ELEMENTS[4]),
            total: measure(ELEMENTS[5]),
            total_days: measure(ELEMENTS[6]),
            names: self.table.header().to_vec(),
        })
    }

    fn station(&self) -> Station {
        let first = |key: &str| self.of(key).next().map(|(_, cell)| cell);
        let number = |key: &str| first(key).and_then(|cell| cell.parse::<f64>().ok());
        Station {
            name: first("NAME").or_else(|| first("STATION_NAME")).map(str::to_owned),
            latitude_deg: number("LATITUDE"),
            elevation_m: number("ELEVATION"),
        }
    }
}

/// The unit of a quantity in a table of these units.
pub(super) fn unit_of(units: TableUnits, what: What) -> Unit {
    match (units, what) {
        (_, What::Humidity | What::TotalDays | What::Radiation) => Unit::Si,
        (TableUnits::Tenths, _) => Unit::Tenth,
        (TableUnits::Metric, _) => Unit::Si,
        (TableUnits::Us, What::TMin | What::TMax) => Unit::Fahrenheit,
        (TableUnits::Us, What::Precip | What::Total) => Unit::Inch,
        (TableUnits::Us, What::Wind) => Unit::MilePerHour,
    }
}

/// Blanks readings that carry a quality flag: the second part of the attributes, or in older orders a
/// column of its own after the element's.
fn drop_failed(table: &mut Table, notes: &mut Vec<String>) {
    let width = table.header().len();
    for (element, _) in ELEMENTS {
        let Some(value) = table.position(element) else { continue };
        let attributes = table.position(&format!("{element}_ATTRIBUTES"));
        let own = Some(value + 2).filter(|&i| {
            table.header().get(i).is_some_and(|name| name.eq_ignore_ascii_case("Quality Flag"))
        });
        let Some(flags) = attributes.or(own) else { continue };
        let part = usize::from(attributes.is_some());
        let mut dropped = 0;
        for (_, fields) in table.lines.iter_mut().skip(1).filter(|(_, f)| f.len() == width) {
            let flag = fields[flags].split(',').nth(part).unwrap_or("").trim();
            // Older orders write 9999 beside a missing value, and nothing or a blank for "passed".
            if !flag.is_empty() && !Missing::is(&fields[value]) {
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
    let Some((low, high)) = table.position("TMIN").zip(table.position("TMAX")) else { return };
    let mut dropped = 0;
    for (_, fields) in table.lines.iter_mut().skip(1) {
        let value = |i: usize| fields.get(i).filter(|c| !Missing::is(c))?.parse::<f64>().ok();
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
