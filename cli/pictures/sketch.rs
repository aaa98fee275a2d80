//! The content of every picture, in the reader's units, told apart from its drawing. The types
//! here ask for nothing that the drawing would have to compute.

use jiff::civil::Date;
use sim::ensemble::{Band, MEASURES, Results, measure};
use sim::scenario::Scenario;

use super::{barrier, contrast, dots, overview, scorecard};
use crate::units::Units;
use crate::words::name;

/// One picture to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// Stem of the file names: "overview".
    pub name: String,
    /// The one message, true to the numbers.
    pub title: String,
    /// What is shown, where.
    pub subtitle: String,
    /// For a person who cannot see the picture.
    pub alt: String,
    /// Small print: members and years of record.
    pub note: String,
    /// Programs shown.
    pub programs: Vec<Named>,
    /// What is drawn.
    pub content: Content,
}

/// A program as a picture names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Its place in the scenario.
    pub place: usize,
    /// Its title.
    pub name: String,
    /// Its name in tight places.
    pub short: String,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// Bands of every program under one time axis, with practices as ticks.
    /// The number is the last day of what has been, where the programs begin within the run.
    Overview(Span, Vec<Panel>, Vec<Ticks>, Option<usize>),
    /// Paired daily difference of two programs, zero drawn.
    Contrast(Span, Vec<DifferencePanel>),
    /// The barrier and the flush behind it; the text is the unit of the seedlings.
    Barrier(Span, String, Vec<BarrierRow>),
    /// One outcome as countable dots.
    Dots(Dots),
    /// Outcomes beside hours and cost, a row an outcome; the text says what ranges hold.
    Scorecard(String, Vec<ScoreRow>),
}

impl Content {
    /// The kind of picture, in a word.
    pub fn kind(&self) -> &'static str {
        match self {
            Content::Overview(..) => "overview",
            Content::Contrast(..) => "contrast",
            Content::Barrier(..) => "barrier",
            Content::Dots(..) => "dots",
            Content::Scorecard(..) => "scorecard",
        }
    }
}

/// A run of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// The first day.
    pub first: Date,
    /// How many.
    pub days: usize,
}

/// Bands of one measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// The quantity.
    pub label: String,
    /// Its unit.
    pub unit: String,
    /// Least range of the axis.
    pub range: Option<(f64, f64)>,
    /// A band a program, in the order of [`Sketch::programs`].
    pub bands: Vec<Band>,
    /// The line that is good enough, and what it means.
    pub mark: Option<(f64, String)>,
    /// What was really seen: day, value, give or take.
    pub seen: Vec<(usize, f64, f64)>,
}

/// When one practice was done.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// Index in [`Sketch::programs`].
    pub program: usize,
    /// The practice's label.
    pub practice: String,
    /// Share of the members that did it, by day, 0..=1.
    pub shares: Vec<f64>,
}

/// The paired difference in one measure.
#[derive(Clone, Debug, PartialEq)]
pub struct DifferencePanel {
    /// What differs.
    pub label: String,
    /// Its unit.
    pub unit: String,
    /// Quantiles of program less baseline.
    pub band: Band,
    /// What lies above zero, and below.
    pub above: String,
    /// What lies below zero.
    pub below: String,
    /// The least difference that matters.
    pub least: f64,
}

/// One program's barrier.
#[derive(Clone, Debug, PartialEq)]
pub struct BarrierRow {
    /// Share of emerging crabgrass that it stops, %.
    pub strength: Band,
    /// Seedlings that try to come up, a day: mean over members.
    pub trying: Vec<f64>,
    /// Of these, those that come through.
    pub through: Vec<f64>,
    /// When it is laid: label, early (5 %), usual (median) and late (95 %) day from the start.
    pub laid: Vec<(String, f64, f64, f64)>,
    /// What came of it.
    pub result: String,
}

/// One outcome as countable dots.
#[derive(Clone, Debug, PartialEq)]
pub struct Dots {
    /// Axis label with unit.
    pub axis: String,
    /// One value a dot, a row a program; they lie on the line's sides as `counts` says.
    pub rows: Vec<Vec<f64>>,
    /// "17 of 20", a row a program.
    pub counts: Vec<String>,
    /// A few words below the count: "simulated futures stay under 10 %".
    pub remark: String,
    /// The line that is kept or missed, and what it means.
    pub line: (f64, String),
    /// Whether values at or above the line keep it.
    pub above_is_good: bool,
}

/// One outcome of every program.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreRow {
    /// The outcome.
    pub label: String,
    /// Unit and better side, in words.
    pub remark: String,
    /// A cell a program: low, middle, high; the middle and the range as told.
    pub cells: Vec<([f64; 3], String, Option<String>)>,
}

/// Every picture of a run, in the order of importance. Contrast and barrier pictures need tracks,
/// and are left out where the run kept none.
pub fn all(results: &Results, scenario: &Scenario, units: Units) -> Vec<Sketch> {
    let mut sketches = vec![overview::sketch(results, scenario, units)];
    sketches.extend(contrast::sketches(results, scenario, units));
    sketches.extend(barrier::sketch(results, scenario, units));
    sketches.extend(dots::sketches(results, scenario));
    sketches.push(scorecard::sketch(results, scenario, units));
    sketches
}

/// The days of a run.
pub fn span(results: &Results) -> Span {
    Span { first: results.first.date(), days: results.days }
}

/// Members and years of record, as small print.
pub fn note(results: &Results) -> String {
    format!(
        "{}, the same for every program; weather from {}.",
        name::simulated(results.members),
        name::years_of_record(results.record_years)
    )
}

/// All programs with their places.
pub fn every_program(results: &Results) -> Vec<Named> {
    let titles: Vec<&str> = results.programs.iter().map(|p| p.title.as_str()).collect();
    let names = titles.iter().zip(name::shorts(&titles)).enumerate();
    names.map(|(place, (name, short))| Named { place, name: (*name).into(), short }).collect()
}

/// Some of the programs, by place.
pub fn these_programs(results: &Results, places: &[usize]) -> Vec<Named> {
    let all = every_program(results);
    places.iter().filter_map(|place| all.get(*place).cloned()).collect()
}

/// A panel of one measure in the reader's units, for every program.
pub fn panel(results: &Results, key: &str, units: Units) -> Option<Panel> {
    let index = measure(key)?;
    let kind = MEASURES[index];
    let shown = units.shown(kind.unit);
    let bands = results
        .programs
        .iter()
        .filter_map(|p| p.bands.get(index))
        .map(|band| map_band(band, |v| shown.value(v)))
        .collect();
    let range = match kind.unit {
        "1-9" => Some((1.0, 9.0)),
        _ => None,
    };
    let unit = unit_in_words(key, shown.unit);
    Some(Panel { label: kind.label.into(), unit, range, bands, mark: None, seen: vec![] })
}

/// A unit as an axis names it.
pub fn unit_in_words(key: &str, unit: &str) -> String {
    match unit {
        "%" if key.contains("cover") || key.starts_with("crabgrass") => "% of the lawn".into(),
        "1-9" => "1 to 9".into(),
        other => other.into(),
    }
}

/// A band with every value changed alike.
pub fn map_band(band: &Band, f: impl Fn(f64) -> f64) -> Band {
    let map = |v: &[f64]| v.iter().map(|x| f(*x)).collect();
    Band {
        p05: map(&band.p05),
        p25: map(&band.p25),
        p50: map(&band.p50),
        p75: map(&band.p75),
        p95: map(&band.p95),
        mean: map(&band.mean),
    }
}
