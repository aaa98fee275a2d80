//! Reads a study's tracks against what was published.

use super::acts::month_day;
use super::run::{StudyTrack, StudyTracks};
use super::series;
use super::text::{CheckText, Compare, How, Study};
use crate::calendar::Day;

/// One line of the table: what was published, what the model gives, and whether it passes.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckResult {
    /// What is checked.
    pub name: String,
    /// The published number or shape, in words.
    pub published: String,
    /// The model's number or numbers, in words.
    pub model: String,
    /// Whether it passes.
    pub pass: bool,
}

/// Reads all checks of a study.
///
/// # Errors
/// A message naming what the study file has wrong.
pub fn check(study: &Study, tracks: &StudyTracks) -> Result<Vec<CheckResult>, String> {
    study
        .check
        .iter()
        .map(|c| one(study, tracks, c).map_err(|e| format!("{}: {e}", c.name)))
        .collect()
}

fn one(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<CheckResult, String> {
    let (model, pass) =
        if c.falling.is_empty() { level(study, tracks, c)? } else { order(study, tracks, c)? };
    Ok(CheckResult { name: c.name.clone(), published: c.published.clone(), model, pass })
}

fn treatment<'a>(
    study: &Study,
    tracks: &'a StudyTracks,
    name: &str,
) -> Result<&'a [StudyTrack], String> {
    let at = study.treatment.iter().position(|t| t.name == name);
    at.map(|i| tracks[i].as_slice()).ok_or_else(|| format!("no treatment {name:?}"))
}

/// The check's number for each track of a treatment.
fn values(tracks: &[StudyTrack], c: &CheckText) -> Result<Vec<f64>, String> {
    tracks.iter().map(|t| read(t, c)).collect()
}

fn level(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<(String, bool), String> {
    let name = c.treatment.as_deref().ok_or("needs a treatment")?;
    let mut numbers = values(treatment(study, tracks, name)?, c)?;
    if let Some(other) = &c.against {
        let others = values(treatment(study, tracks, other)?, c)?;
        for (a, b) in numbers.iter_mut().zip(others) {
            *a = match c.compare {
                Compare::Difference => *a - b,
                Compare::Ratio => *a / b,
                Compare::ControlPct => 100.0 * (1.0 - *a / b),
            };
        }
    }
    let mean = numbers.iter().sum::<f64>() / numbers.len() as f64;
    let within =
        |x: f64| x.is_finite() && c.low.is_none_or(|l| x >= l) && c.high.is_none_or(|h| x <= h);
    let pass = if c.each { numbers.iter().all(|x| within(*x)) } else { within(mean) };
    Ok((spelled(&numbers, mean), pass))
}

fn order(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<(String, bool), String> {
    let mut means = Vec::new();
    for name in &c.falling {
        let numbers = values(treatment(study, tracks, name)?, c)?;
        means.push(numbers.iter().sum::<f64>() / numbers.len() as f64);
    }
    let pass = means.windows(2).all(|w| w[0] - w[1] > c.by || (c.by == 0.0 && w[0] > w[1]));
    let words: Vec<String> =
        c.falling.iter().zip(&means).map(|(n, m)| format!("{n} {}", figure(*m))).collect();
    Ok((words.join(", "), pass))
}

/// Three significant figures.
fn figure(x: f64) -> String {
    if !x.is_finite() {
        return "none".to_owned();
    }
    let digits = if x == 0.0 { 1 } else { 2 - x.abs().log10().floor() as i32 };
    format!("{x:.*}", digits.clamp(0, 4) as usize)
}

fn spelled(numbers: &[f64], mean: f64) -> String {
    let low = numbers.iter().copied().fold(f64::INFINITY, f64::min);
    let high = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if numbers.len() < 2 || (high - low).abs() < 5e-4 * mean.abs().max(1e-9) {
        figure(mean)
    } else {
        format!("{} ({} to {})", figure(mean), figure(low), figure(high))
    }
}

fn read(track: &StudyTrack, c: &CheckText) -> Result<f64, String> {
    let series = series::position(&c.of).ok_or_else(|| format!("no series {:?}", c.of))?;
    let (from, to) = span(track, c)?;
    let value = |day: usize| track.rows[day][series];
    let all = || (from..=to).map(value);
    let found = |day: Option<usize>| -> Result<f64, String> {
        let Some(day) = day else { return Ok(f64::NAN) };
        match &c.at {
            None => Ok((day - from) as f64),
            Some(name) => {
                let at = series::position(name).ok_or_else(|| format!("no series {name:?}"))?;
                Ok(track.rows[day][at])
            }
        }
    };
    match c.how {
        How::Value => Ok(value(to)),
        How::Mean => Ok(all().sum::<f64>() / (to - from + 1) as f64),
        How::Max => Ok(all().fold(f64::NEG_INFINITY, f64::max)),
        How::Min => Ok(all().fold(f64::INFINITY, f64::min)),
        How::Change => Ok(value(to) - value(from)),
        How::FirstAbove => {
            let above = c.above.ok_or("first-above needs above")?;
            found((from..=to).find(|d| value(*d) > above))
        }
        How::DaysAbove => {
            let above = c.above.ok_or("days-above needs above")?;
            Ok(all().filter(|v| *v > above).count() as f64)
        }
        How::ShareOfEnd => Ok(100.0 * value(to) / value(track.rows.len() - 1)),
        How::DayOfBestWeek => {
            let week = |d: usize| (d - 3..=d + 3).map(value).sum::<f64>();
            let days = from + 3..(to + 1).saturating_sub(3);
            found(days.max_by(|a, b| week(*a).total_cmp(&week(*b))))
        }
        How::DayOfMax => found((from..=to).max_by(|a, b| value(*a).total_cmp(&value(*b)))),
    }
}

/// First and last day of the run that a check reads.
fn span(track: &StudyTrack, c: &CheckText) -> Result<(usize, usize), String> {
    let last = track.rows.len().checked_sub(1).ok_or("the run has no days")?;
    let year = track.first.ymd().0 + c.year;
    let index = |text: &str| -> Result<usize, String> {
        let (m, d) = month_day(text)?;
        let day = Day::from_ymd(year, m, d).ok_or("no such day")?;
        let at = usize::try_from(day.0 - track.first.0).map_err(|_| "before the run")?;
        if at > last { Err(format!("{text} is after the run's end")) } else { Ok(at) }
    };
    if let Some(on) = &c.on {
        let day = index(on)?;
        return Ok((day, day));
    }
    if let Some(day) = c.day {
        return if day <= last { Ok((day, day)) } else { Err("after the run's end".to_owned()) };
    }
    let from = c.from.as_deref().map_or(Ok(c.from_day.unwrap_or(0)), index)?;
    let to = c.to.as_deref().map_or(Ok(last), index)?;
    if from <= to { Ok((from, to)) } else { Err("from is after to".to_owned()) }
}
