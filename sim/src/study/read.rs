//! From a file's text to a study whose every name and number has been looked at.

use super::text::{LawnText, Study, WeatherText};
use super::vet::{Step, place, vet};
use crate::parameters::Catalogue;
use crate::scenario::{Fault, Severity, near};
use crate::weather::{Site, read_daily_csv};
use std::ops::Range;
use toml::Table;

impl Study {
    /// Reads a study file and checks all that can be checked without its weather records.
    ///
    /// # Errors
    /// What is wrong, with its place in the text: the first thing that is not TOML or not of the
    /// format, or else every name and number at fault.
    pub fn read(text: &str, catalogue: &Catalogue) -> Result<Study, Vec<Fault>> {
        let mut study: Study = toml::from_str(text).map_err(|e| vec![unread(text, &e)])?;
        study.text = text.to_owned();
        let table: Table = toml::from_str(text).map_err(|e| vec![unread(text, &e)])?;
        let mut faults = Vec::new();
        if study.waits_for.is_none() && study.elsewhere.is_none() {
            inline_records(&mut study, &mut faults);
            what_differs(&mut study, &table, &mut faults);
        }
        if faults.is_empty() {
            faults = vet(&study, &table, catalogue);
        }
        faults.sort_by_key(|f| f.span.start);
        if faults.is_empty() { Ok(study) } else { Err(faults) }
    }

    /// The files of records that the study wants, in order.
    pub fn files(&self) -> Vec<&super::RecordText> {
        let treatments = self.treatment.iter().flat_map(|t| &t.sky.record);
        let mut files: Vec<&super::RecordText> = Vec::new();
        for record in self.weather.record.iter().chain(treatments) {
            if record.file.is_some() && files.iter().all(|f| f.file != record.file) {
                files.push(record);
            }
        }
        files
    }
}

/// A fault of the text as TOML or as a study.
fn unread(text: &str, error: &toml::de::Error) -> Fault {
    let span = error.span().unwrap_or(0..0);
    let span = span.start.min(text.len())..span.end.min(text.len());
    of_reader(error.message(), span)
}

/// The reader's message in the words of faults: it puts what it found, and then what it knows,
/// between backticks.
fn of_reader(message: &str, span: Range<usize>) -> Fault {
    let message = message.replace('\n', ", ");
    let (what, wanted) = match message.split_once(", expected ") {
        Some((what, wanted)) => (what.to_owned(), wanted.to_owned()),
        None => (message.clone(), String::new()),
    };
    let words = |text: &str| -> Vec<String> {
        text.split('`').skip(1).step_by(2).map(str::to_owned).collect()
    };
    let known = words(&wanted);
    let help = words(&what).first().and_then(|word| {
        near(word, known.iter().map(String::as_str)).map(|n| format!("did you mean {n:?}?"))
    });
    let code = if what.starts_with("unknown field") {
        "unknown-key"
    } else if what.starts_with("missing field") {
        "missing-key"
    } else {
        "not-a-study"
    };
    let expected = if wanted.is_empty() { String::new() } else { wanted.replace('`', "") };
    let message =
        what.replace("unknown field", "unknown key").replace("missing field", "missing key");
    Fault { code, severity: Severity::Error, message, span, expected, help }
}

/// Tables of days that stand in the study itself.
fn inline_records(study: &mut Study, faults: &mut Vec<Fault>) {
    let text = study.text.clone();
    for (i, record) in study.weather.record.iter_mut().enumerate() {
        read_inline(
            record,
            &text,
            &[Step::Key("weather"), Step::Key("record"), Step::At(i)],
            faults,
        );
    }
}

fn read_inline(
    record: &mut super::RecordText,
    text: &str,
    path: &[Step<'_>],
    faults: &mut Vec<Fault>,
) {
    let mut fault = |message: String, expected: &str, help: Option<String>| {
        let span = place(text, path);
        let expected = expected.to_owned();
        let severity = Severity::Error;
        faults.push(Fault { code: "record", severity, message, span, expected, help });
    };
    match (&record.file, &record.days) {
        (Some(_), None) => {}
        (None, Some(days)) => {
            let site = record
                .latitude_deg
                .map(|latitude_deg| Site { latitude_deg, elevation_m: record.elevation_m });
            match read_daily_csv(days, "the study's own days", site) {
                Ok(read) => {
                    let mut read = read.record;
                    read.anemometer_m = record.anemometer_m.unwrap_or(read.anemometer_m);
                    record.read = Some(read);
                }
                Err(e) => {
                    let line = e.line.map_or(String::new(), |l| format!("line {l} of days: "));
                    let help = (!e.help.is_empty()).then_some(e.help);
                    fault(format!("{line}{}", e.message), &e.expected, help);
                }
            }
        }
        _ => fault("a record is a file or a table of days".to_owned(), "one of file, days", None),
    }
}

/// The lawn and the weather of each treatment: the study's, with what differs there on top.
fn what_differs(study: &mut Study, table: &Table, faults: &mut Vec<Fault>) {
    let base = |key: &str| table.get(key).and_then(|v| v.as_table()).cloned().unwrap_or_default();
    let (lawn, weather) = (base("lawn"), base("weather"));
    let text = study.text.clone();
    for (i, t) in study.treatment.iter_mut().enumerate() {
        let at = [Step::Key("treatment"), Step::At(i)];
        let mut ground = lawn.clone();
        if t.lawn.contains_key("texture") {
            ground.remove("sand");
            ground.remove("clay");
        }
        if t.lawn.contains_key("sand") || t.lawn.contains_key("clay") {
            ground.remove("texture");
        }
        ground.extend(t.lawn.clone());
        match merged::<LawnText>(ground, &text, &at, "lawn") {
            Ok(ground) => t.ground = ground,
            Err(fault) => faults.push(fault),
        }
        let mut sky = weather.clone();
        for kind in ["station", "stations", "record", "constant"] {
            if t.weather.contains_key(kind) {
                for other in ["station", "stations", "record", "constant"] {
                    sky.remove(other);
                }
                break;
            }
        }
        sky.extend(t.weather.clone());
        match merged::<WeatherText>(sky, &text, &at, "weather") {
            Ok(sky) => t.sky = sky,
            Err(fault) => faults.push(fault),
        }
        for (k, record) in t.sky.record.iter_mut().enumerate() {
            let mut path = at.to_vec();
            path.extend([Step::Key("weather"), Step::Key("record"), Step::At(k)]);
            read_inline(record, &text, &path, faults);
        }
        t.ground.grasses = t.grasses.clone().unwrap_or(std::mem::take(&mut t.ground.grasses));
        t.ground.seed_bank_m2 = t.seed_bank_m2.unwrap_or(t.ground.seed_bank_m2);
        t.sky.constant = t.constant.clone().or(t.sky.constant.take());
        t.sky.no_rain.extend(t.no_rain.iter().cloned());
    }
}

fn merged<T: serde::de::DeserializeOwned>(
    table: Table,
    text: &str,
    at: &[Step<'_>],
    kind: &'static str,
) -> Result<T, Fault> {
    table.try_into().map_err(|e: toml::de::Error| {
        let word = e.message().split('`').nth(1).unwrap_or_default().to_owned();
        let mut path = at.to_vec();
        path.extend([Step::Key(kind), Step::Key(&word)]);
        of_reader(e.message(), place(text, &path))
    })
}
