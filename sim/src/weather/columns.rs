//! The header of a plain daily table: which column holds what, in which unit.

use super::noaa::unit_of;
use super::options::{Ask, TableUnits};
use super::record::RecordFault;

/// What a plain table's header has to say.
pub(super) fn header() -> &'static str {
    "a header with date, tmin_c, tmax_c and precip_mm (or tmin_f, tmax_f, precip_in), and where \
     measured wind_m_s (or wind_mph), rs_mj_m2, rh_pct"
}

/// How cells say that nothing was measured.
pub(super) struct Missing;

impl Missing {
    /// Whether a cell is one of the usual ways to write "not measured".
    pub(super) fn is(text: &str) -> bool {
        let lower = text.to_ascii_lowercase();
        matches!(lower.as_str(), "" | "na" | "n/a" | "nan" | "null" | "none" | "m" | "-" | "--")
            || matches!(text.parse(), Ok(-9999.0 | -999.9 | -999.0 | -99.99))
    }
}

/// What a column measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    TMin,
    TMax,
    Precip,
    Wind,
    Radiation,
    Humidity,
    /// Precipitation of several days.
    Total,
    /// The number of those days.
    TotalDays,
}

/// A unit that a header may name, with its way to SI.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Si,
    Fahrenheit,
    Inch,
    MilePerHour,
    /// Tenths of the SI unit.
    Tenth,
}

impl Unit {
    fn to_si(self, value: f64) -> f64 {
        match self {
            Unit::Si => value,
            Unit::Fahrenheit => (value - 32.0) / 1.8,
            Unit::Inch => value * 25.4,
            Unit::MilePerHour => value * 0.44704,
            Unit::Tenth => value / 10.0,
        }
    }

    /// A limit in SI as a person reads it in the column's unit.
    fn shown_of_si(self, value: f64) -> f64 {
        let shown = match self {
            Unit::Si => value,
            Unit::Fahrenheit => value * 1.8 + 32.0,
            Unit::Inch => value / 25.4,
            Unit::MilePerHour => value / 0.44704,
            Unit::Tenth => value * 10.0,
        };
        (shown * 10.0).round() / 10.0
    }
}

const KNOWN: [(&str, What, Unit); 10] = [
    ("tmin_c", What::TMin, Unit::Si),
    ("tmax_c", What::TMax, Unit::Si),
    ("precip_mm", What::Precip, Unit::Si),
    ("wind_m_s", What::Wind, Unit::Si),
    ("rs_mj_m2", What::Radiation, Unit::Si),
    ("rh_pct", What::Humidity, Unit::Si),
    ("tmin_f", What::TMin, Unit::Fahrenheit),
    ("tmax_f", What::TMax, Unit::Fahrenheit),
    ("precip_in", What::Precip, Unit::Inch),
    ("wind_mph", What::Wind, Unit::MilePerHour),
];

/// Names without a unit, for tables whose units are stated elsewhere.
const BARE: [(&str, What); 6] = [
    ("tmin", What::TMin),
    ("tmax", What::TMax),
    ("precip", What::Precip),
    ("prcp", What::Precip),
    ("rain", What::Precip),
    ("wind", What::Wind),
];

/// A column that is read.
#[derive(Clone, Debug)]
pub(super) struct Measure {
    pub(super) index: usize,
    pub(super) what: What,
    pub(super) unit: Unit,
}

/// Where everything is in a line.
#[derive(Debug)]
pub(super) struct Columns {
    pub(super) names: Vec<String>,
    pub(super) date: usize,
    pub(super) t_min: Measure,
    pub(super) t_max: Measure,
    pub(super) precip: Measure,
    pub(super) wind: Option<Measure>,
    pub(super) rs: Option<Measure>,
    pub(super) rh: Option<Measure>,
    /// Precipitation of several days, written on the last of them, and their number.
    pub(super) total: Option<Measure>,
    pub(super) total_days: Option<Measure>,
}

impl Columns {
    /// Reads a header's fields; `stated` holds for columns whose names leave their unit open. Columns
    /// that are not used are named in a note.
    ///
    /// # Errors
    /// A needed column is missing or there twice, or the line is no header.
    pub(super) fn read(
        fields: &[String],
        line: usize,
        stated: Option<TableUnits>,
        notes: &mut Vec<String>,
    ) -> Result<Columns, RecordFault> {
        let names: Vec<String> = fields.iter().map(|f| plain_name(f)).collect();
        refuse_other_separators(fields, line)?;
        let mut measures: Vec<Measure> = vec![];
        let mut date = None;
        let mut unused = vec![];
        for (index, name) in names.iter().enumerate() {
            if name == "date" {
                if date.replace(index).is_some() {
                    return Err(twice("date", line));
                }
            } else if let Some((what, unit)) = known(name, stated) {
                if measures.iter().any(|m| m.what == what) {
                    return Err(twice(name, line));
                }
                measures.push(Measure { index, what, unit });
            } else if !name.is_empty() && name != "station" && name != "name" {
                unused.push(fields[index].clone());
            }
        }
        let find = |what| measures.iter().find(|m| m.what == what).cloned();
        let need = |what, key: &str| find(what).ok_or_else(|| lacking(key, &names, line));
        let columns = Columns {
            date: date.ok_or_else(|| lacking("date", &names, line))?,
            t_min: need(What::TMin, "tmin_c")?,
            t_max: need(What::TMax, "tmax_c")?,
            precip: need(What::Precip, "precip_mm")?,
            wind: find(What::Wind),
            rs: find(What::Radiation),
            rh: find(What::Humidity),
            total: None,
            total_days: None,
            names,
        };
        if !unused.is_empty() {
            notes.push(format!("not used: {}", unused.join(", ")));
        }
        Ok(columns)
    }

    /// Number of fields in a line.
    pub(super) fn width(&self) -> usize {
        self.names.len()
    }

    /// The date's cell.
    pub(super) fn date<'a>(&self, fields: &'a [String]) -> &'a str {
        fields.get(self.date).map_or("", String::as_str)
    }

    /// A column's name.
    pub(super) fn name(&self, measure: &Measure) -> &str {
        &self.names[measure.index]
    }

    /// A cell as it is written.
    pub(super) fn shown<'a>(&self, fields: &'a [String], measure: &Measure) -> &'a str {
        fields.get(measure.index).map_or("", String::as_str)
    }

    /// A cell's value in SI, or `None` where nothing was measured.
    ///
    /// # Errors
    /// Not a number, or one that no station measures.
    pub(super) fn number(
        &self,
        fields: &[String],
        measure: &Measure,
        line: usize,
    ) -> Result<Option<f64>, RecordFault> {
        let text = self.shown(fields, measure);
        if Missing::is(text) {
            return Ok(None);
        }
        // A trace: too little to measure.
        if matches!(measure.what, What::Precip | What::Total) && text.eq_ignore_ascii_case("t") {
            return Ok(Some(0.0));
        }
        let (low, high) = measure.what.range();
        let expected = format!(
            "a number from {} to {}, or an empty cell where nothing was measured",
            measure.unit.shown_of_si(low),
            measure.unit.shown_of_si(high)
        );
        let fault = |message: String| {
            RecordFault::new(message, expected.clone()).at(line).column(self.name(measure))
        };
        let Some(value) = text.parse::<f64>().ok().filter(|v| v.is_finite()) else {
            return Err(fault(format!("'{text}' is not a number")));
        };
        let si = measure.unit.to_si(value);
        if (low..=high).contains(&si) {
            return Ok(Some(si));
        }
        Err(fault(format!("no station measures {text}")).help(measure.advice(value)))
    }

    /// As [`Self::number`], for a column that need not be there.
    pub(super) fn optional(
        &self,
        fields: &[String],
        measure: Option<&Measure>,
        line: usize,
    ) -> Result<Option<f64>, RecordFault> {
        measure.map_or(Ok(None), |m| self.number(fields, m, line))
    }
}

impl What {
    /// What a station can measure in a day, SI.
    fn range(self) -> (f64, f64) {
        match self {
            What::TMin | What::TMax => (-60.0, 60.0),
            What::Precip => (0.0, 600.0),
            What::Total => (0.0, 2000.0),
            What::TotalDays => (1.0, 60.0),
            What::Wind => (0.0, 60.0),
            What::Radiation => (0.0, 45.0),
            What::Humidity => (0.0, 100.0),
        }
    }
}

impl Measure {
    /// What is most likely behind a value out of range.
    fn advice(&self, value: f64) -> &'static str {
        match (self.what, self.unit) {
            (What::TMin | What::TMax, Unit::Si) if value > 130.0 => {
                "are these tenths of a degree? divide by 10"
            }
            (What::TMin | What::TMax, Unit::Si) if value > 60.0 => {
                "are these degrees Fahrenheit? name the columns tmin_f and tmax_f"
            }
            (What::Precip, _) if value < 0.0 => "leave the cell empty if nothing was measured",
            (What::Precip, Unit::Si) => "are these tenths of a millimetre? divide by 10",
            (What::Precip, _) => "are these millimetres? name the column precip_mm",
            (What::Radiation, _) => "radiation is wanted in MJ/m2 a day (W/m2 times 0.0864)",
            _ => "",
        }
    }
}

/// What a column's name says that it holds, in which unit.
fn known(name: &str, stated: Option<TableUnits>) -> Option<(What, Unit)> {
    let with_unit = KNOWN.iter().find(|(k, _, _)| *k == name).map(|&(_, what, unit)| (what, unit));
    let bare = || {
        let (_, what) = BARE.iter().find(|(k, _)| *k == name)?;
        Some((*what, unit_of(stated?, *what)))
    };
    with_unit.or_else(bare)
}

/// A header's cell as a plain name: "TMin (C)" is "tmin_c".
fn plain_name(cell: &str) -> String {
    let mut name = String::new();
    for c in cell.chars() {
        if c.is_alphanumeric() {
            name.extend(c.to_lowercase());
        } else if !name.is_empty() && !name.ends_with('_') {
            name.push('_');
        }
    }
    name.trim_end_matches('_').to_owned()
}

fn twice(name: &str, line: usize) -> RecordFault {
    RecordFault::new("this is there twice", "one column for each quantity").at(line).column(name)
}

fn refuse_other_separators(fields: &[String], line: usize) -> Result<(), RecordFault> {
    match fields {
        [only] if only.contains([';', '\t']) => Err(RecordFault::new(
            "the fields are not separated by commas",
            "fields separated by commas and numbers with a point",
        )
        .at(line)
        .help("save the table as CSV with commas")),
        _ => Ok(()),
    }
}

/// A needed column is not there: say what to do about it.
fn lacking(key: &str, names: &[String], line: usize) -> RecordFault {
    let fault = RecordFault::new(format!("there is no column {key}"), header().to_owned()).at(line);
    let wanted = KNOWN.iter().find(|(k, _, _)| *k == key).map(|(_, what, _)| *what);
    let bare = |n: &&String| BARE.iter().any(|(k, what)| k == n && Some(*what) == wanted);
    if let Some(stem) = names.iter().find(bare) {
        return fault.help(format!("'{stem}' needs its unit in its name: {key}")).ask(Ask::Units);
    }
    let near = names
        .iter()
        .filter(|n| !KNOWN.iter().any(|(k, _, _)| k == n) && n.as_str() != "date")
        .map(|n| (strsim::jaro_winkler(n, key), n))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    match near {
        Some((score, name)) if score > 0.8 => fault.help(format!("did you mean '{name}' by it?")),
        _ => fault,
    }
}
