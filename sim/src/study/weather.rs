//! The weather of a study's run: days of a record, changed where it is a stand-in, or a chamber's.

use super::acts::{month_day, within};
use super::text::{ConstantText, SpanText, Study, WeatherText};
use crate::calendar::Day;
use crate::parameters::Parameters;
use crate::weather::{
    Forecast, Record, RecordDay, Sky, WeatherParameters, complete_years, is_frozen, skies,
};
use std::collections::BTreeMap;

/// A record with the columns of its table that the model does not read.
#[derive(Clone, Debug)]
pub struct Source {
    /// The record.
    pub record: Record,
    /// Observed values by column and day.
    pub observed: BTreeMap<String, BTreeMap<Day, f64>>,
}

impl From<Record> for Source {
    fn from(record: Record) -> Source {
        Source { record, observed: BTreeMap::new() }
    }
}

/// Carried records by key, and others by file name.
pub type Sources = BTreeMap<String, Source>;

/// The year that a chamber's run starts in.
const CHAMBER_YEAR: i32 = 2021;

/// One stretch of weather that a treatment runs through.
#[derive(Clone, Copy)]
pub(super) struct Path<'a> {
    /// Where its days come from; none in a chamber.
    pub record: Option<&'a Record>,
    /// What was observed there.
    pub observed: Option<&'a BTreeMap<String, BTreeMap<Day, f64>>>,
    /// Calendar year in which it starts.
    pub year: i32,
}

/// All stretches of weather: record by record, year by year.
pub(super) fn paths<'a>(
    study: &Study,
    w: &'a WeatherText,
    sources: &'a Sources,
) -> Result<Vec<Path<'a>>, String> {
    if w.constant.is_some() {
        let year = *w.years.first().unwrap_or(&CHAMBER_YEAR);
        return Ok(vec![Path { record: None, observed: None, year }]);
    }
    let mut found: Vec<(&Record, Option<&_>)> = Vec::new();
    let files = w.record.iter().filter_map(|r| r.file.as_ref());
    for key in w.station.iter().chain(&w.stations).chain(files) {
        let source = sources.get(key).ok_or_else(|| format!("station {key:?} is not at hand"))?;
        found.push((&source.record, Some(&source.observed)));
    }
    found.extend(w.record.iter().filter_map(|r| r.read.as_ref()).map(|r| (r, None)));
    let mut paths = Vec::new();
    for (record, observed) in found {
        let last = record.first.plus(record.days.len() as i32 - 1).ymd().0;
        let fits = |year: &i32| days(study, w, record, *year).is_ok();
        let years: Vec<i32> = if w.years.is_empty() {
            (record.first.ymd().0..=last).filter(fits).collect()
        } else {
            w.years.clone()
        };
        paths.extend(years.into_iter().map(|year| Path { record: Some(record), observed, year }));
    }
    if paths.is_empty() {
        return Err("no year of a record holds the whole run".to_owned());
    }
    Ok(paths)
}

/// First day of a run that starts in a year.
pub(super) fn first_day(study: &Study, year: i32) -> Result<Day, String> {
    let (m, d) = month_day(&study.run.start)?;
    Day::from_ymd(year, m, d).ok_or_else(|| format!("{year} has no {}", study.run.start))
}

/// The run's skies.
pub(super) fn weather(
    study: &Study,
    w: &WeatherText,
    path: Path<'_>,
    parameters: &Parameters,
) -> Result<Vec<Sky>, String> {
    let first = first_day(study, path.year)?;
    if let Some(c) = &w.constant {
        let mut warmth = 0.0;
        let skies = (0..study.run.days).map(|i| {
            let sky = chamber(first, i, c, &w.span, &parameters.weather, warmth);
            warmth = sky.air_dd10;
            sky
        });
        return Ok(skies.collect());
    }
    let record = path.record.ok_or("weather needs a station, a record or a constant day")?;
    let (lead, days) = days(study, w, record, path.year)?;
    let lead_days = (first.0 - lead.0) as usize;
    let changed: Vec<RecordDay> = days
        .iter()
        .enumerate()
        .map(|(i, r)| changed(w, lead.plus(i as i32), i as i64 - lead_days as i64, r))
        .collect();
    let p = &parameters.weather;
    let mut all = skies(&changed, lead, &record.site, record.anemometer_m, p, &mut || 0.5);
    for sky in &mut all {
        sky.et0_mm *= w.et0_factor.at(sky.day.ymd().1, 1.0);
    }
    Ok(all[lead_days..].to_vec())
}

/// The days of a run, with those before it on which the filters warm up: from the record's start
/// of that year.
fn days(
    study: &Study,
    w: &WeatherText,
    record: &Record,
    year: i32,
) -> Result<(Day, Vec<RecordDay>), String> {
    let first = first_day(study, year)?;
    let january = Day::from_ymd(year, 1, 1).unwrap_or(first);
    let whole = on(record, january, w.repeat_record).is_some();
    let lead = if whole { january } else { january.max(record.first).min(first) };
    let until = first.0 as i64 + study.run.days as i64;
    (i64::from(lead.0)..until)
        .map(|day| {
            let day = i32::try_from(day).map(Day).map_err(|_| "the run is too long")?;
            on(record, day, w.repeat_record).ok_or_else(|| {
                let last = record.first.plus(record.days.len() as i32 - 1);
                format!(
                    "a run of {} days from {first} is not within the record, {} to {last}",
                    study.run.days, record.first
                )
            })
        })
        .collect::<Result<Vec<RecordDay>, String>>()
        .map(|days| (lead, days))
}

/// The record's day; where it may repeat, of the complete year that stands for this one.
fn on(record: &Record, day: Day, repeat: bool) -> Option<RecordDay> {
    let at = |day: Day| {
        usize::try_from(day.0 - record.first.0).ok().and_then(|i| record.days.get(i).copied())
    };
    if let Some(found) = at(day) {
        return Some(found);
    }
    let years = complete_years(record);
    if !repeat || years.is_empty() {
        return None;
    }
    let (year, m, d) = day.ymd();
    let first = years[0].year;
    let stand_in = first + (year - first).rem_euclid(years.len() as i32);
    at(Day::from_ymd(stand_in, m, d).or_else(|| Day::from_ymd(stand_in, m, d - 1))?)
}

/// Whether a span holds a day of the year or of the run.
fn holds(span: &SpanText, day: Day, index: i64) -> bool {
    let by_date = span.from.is_some() || span.to.is_some();
    let by_index = span.from_day.is_some() || span.to_day.is_some();
    let date = !by_date || within(span.from.as_deref(), span.to.as_deref(), day).unwrap_or(false);
    let from = span.from_day.map_or(i64::MIN, |d| d as i64);
    let to = span.to_day.map_or(i64::MAX, |d| d as i64);
    date && (!by_index || (from..=to).contains(&index))
}

fn changed(w: &WeatherText, day: Day, index: i64, r: &RecordDay) -> RecordDay {
    let month = day.ymd().1;
    let mut warmer = w.warmer_c.at(month, 0.0);
    let mut rain = w.rain_factor.at(month, 1.0);
    let mut wind = w.wind_factor.at(month, 1.0);
    for [from, to] in &w.no_rain {
        if within(Some(from), Some(to), day).unwrap_or(false) {
            rain = 0.0;
        }
    }
    for span in w.span.iter().filter(|s| holds(s, day, index)) {
        warmer += span.warmer_c;
        rain *= span.rain_factor;
        wind *= span.wind_factor;
    }
    RecordDay {
        t_min_c: r.t_min_c + warmer,
        t_max_c: r.t_max_c + warmer,
        wind_m_s: r.wind_m_s.map(|speed| speed * wind),
        precip_mm: r.precip_mm * rain,
        ..*r
    }
}

fn chamber(
    first: Day,
    index: usize,
    c: &ConstantText,
    spans: &[SpanText],
    p: &WeatherParameters,
    warmth: f64,
) -> Sky {
    let day = first.plus(index as i32);
    let (mut t_c, mut rain_mm) = (c.t_c, c.rain_mm);
    for span in spans.iter().filter(|s| holds(s, day, index as i64)) {
        t_c += span.warmer_c;
        rain_mm *= span.rain_factor;
    }
    Sky {
        day,
        day_of_year: day.day_of_year(),
        t_min_c: t_c - c.swing_c,
        t_max_c: t_c + c.swing_c,
        t_mean_c: t_c,
        precip_mm: rain_mm,
        water_in_mm: rain_mm,
        snow_mm: 0.0,
        frozen: is_frozen(t_c, t_c + c.swing_c, p),
        rs_mj_m2: c.rs_mj_m2,
        wind_2m_m_s: 1.0,
        et0_mm: c.et0_mm,
        soil_5cm_c: t_c,
        soil_10cm_c: t_c,
        day_length_h: c.day_length_h,
        air_dd10: warmth + (t_c - 10.0).max(0.0),
        forecast: Forecast::default(),
    }
}

/// Whether every record holds every run.
///
/// # Errors
/// The first that does not, in words.
pub(super) fn hold_the_run(
    study: &Study,
    w: &WeatherText,
    sources: &Sources,
) -> Result<(), String> {
    for path in paths(study, w, sources)? {
        if let Some(record) = path.record {
            days(study, w, record, path.year)?;
        }
    }
    Ok(())
}
