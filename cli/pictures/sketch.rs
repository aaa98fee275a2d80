//! The content of every picture, in the reader's units, told apart from its drawing.

use jiff::civil::Date;
use sim::calendar::Day;
use sim::ensemble::{Band, MEASURES, Results, measure};
use sim::scenario::Scenario;

use super::{barrier, contrast, dots, overview, scorecard};
use crate::units::Units;

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
    /// Names of the programs that are shown, with their place in the scenario.
    pub programs: Vec<(usize, String)>,
    /// What is drawn.
    pub content: Content,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// Panels of bands under one time axis, with practices as ticks.
    Overview {
        /// The days.
        span: Span,
        /// One panel a measure.
        panels: Vec<Panel>,
        /// One row a program and practice.
        ticks: Vec<Ticks>,
    },
    /// Paired daily difference of two programs, zero drawn.
    Contrast {
        /// The days.
        span: Span,
        /// One panel a measure, one series each.
        panels: Vec<Panel>,
    },
    /// The barrier, and the crabgrass that tries to come up behind it.
    Barrier {
        /// The days.
        span: Span,
        /// Share of emerging crabgrass that is stopped, %; a series a program.
        barrier: Panel,
        /// Crabgrass trying to come up; a series a program.
        pressure: Panel,
        /// When barriers were laid.
        laid: Vec<Ticks>,
    },
    /// One outcome as countable dots, a row a program.
    Dots {
        /// Unit of the values.
        unit: String,
        /// Every member's value, a row a program.
        rows: Vec<Vec<f64>>,
        /// The line that counts: value and meaning.
        line: Option<(f64, String)>,
        /// Whether more is better; `None` for a fact.
        more_is_better: Option<bool>,
        /// Dots in a row.
        dots: u32,
    },
    /// Outcomes beside cost and hours: a row a program.
    Scorecard {
        /// Column heads with units.
        columns: Vec<String>,
        /// Cells, a row a program: median and its text.
        rows: Vec<Vec<Cell>>,
    },
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
    /// Axis label, without unit.
    pub label: String,
    /// Unit.
    pub unit: String,
    /// A band a program, in the order of [`Sketch::programs`].
    pub bands: Vec<Band>,
    /// A value worth a line of its own.
    pub mark: Option<(f64, String)>,
}

/// When one practice was done, over all members.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// Index in [`Sketch::programs`].
    pub program: usize,
    /// The practice's key.
    pub practice: String,
    /// Day index from the start and share of the members that did it that day, by day.
    pub days: Vec<(usize, f64)>,
}

/// One cell of the scorecard.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Median, in the shown unit.
    pub median: f64,
    /// As told, no finer than supported.
    pub text: String,
}

/// Every picture of a run, in the order of importance.
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

/// Members, seed and years of record, as small print.
pub fn note(results: &Results) -> String {
    let years = results.record_years;
    format!(
        "{} simulated futures, the same for every program; weather from {years} year{} of record.",
        crate::round::spoken(f64::from(results.members), 1.0),
        if years == 1 { "" } else { "s" }
    )
}

/// All programs with their places.
pub fn every_program(results: &Results) -> Vec<(usize, String)> {
    results.programs.iter().enumerate().map(|(i, p)| (i, p.title.clone())).collect()
}

/// A panel of one measure in the reader's units, for the programs at these places.
pub fn panel(results: &Results, places: &[usize], key: &str, units: Units) -> Option<Panel> {
    let index = measure(key)?;
    let kind = MEASURES[index];
    let shown = units.shown(kind.unit);
    let bands = places
        .iter()
        .filter_map(|p| results.programs.get(*p)?.bands.get(index))
        .map(|band| map_band(band, |v| shown.value(v)))
        .collect();
    Some(Panel { label: kind.label.into(), unit: shown.unit.into(), bands, mark: None })
}

fn map_band(band: &Band, f: impl Fn(f64) -> f64) -> Band {
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

/// When each practice of the programs at these places was done; `keep` chooses practices.
pub fn ticks(
    results: &Results,
    scenario: &Scenario,
    places: &[usize],
    keep: impl Fn(&sim::scenario::Practice) -> bool,
) -> Vec<Ticks> {
    let mut rows = Vec::new();
    for (program, place) in places.iter().enumerate() {
        let (Some(played), Some(written)) =
            (results.programs.get(*place), scenario.programs.get(*place))
        else {
            continue;
        };
        for (index, practice) in written.practices.iter().enumerate().filter(|(_, p)| keep(p)) {
            let done = days_done(results.first, results.days, &played.work, index);
            let members = f64::from(results.members.max(1));
            let days: Vec<(usize, f64)> = done
                .iter()
                .enumerate()
                .filter(|(_, n)| **n > 0)
                .map(|(day, n)| (day, f64::from(*n) / members))
                .collect();
            if !days.is_empty() {
                rows.push(Ticks { program, practice: practice.key.clone(), days });
            }
        }
    }
    rows
}

/// How many members did a practice on each day.
fn days_done(
    first: Day,
    days: usize,
    work: &[Vec<sim::work::WorkEntry>],
    practice: usize,
) -> Vec<u32> {
    let mut done = vec![0; days];
    for entry in work.iter().flatten().filter(|e| usize::from(e.practice) == practice) {
        let day = usize::try_from(entry.day.0 - first.0).ok();
        if let Some(count) = day.and_then(|d| done.get_mut(d)) {
            *count += 1;
        }
    }
    done
}
