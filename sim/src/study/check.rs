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
    let (model, pass) = if !c.falling.is_empty() {
        order(study, tracks, c, &c.falling, 1.0)?
    } else if !c.rising.is_empty() {
        order(study, tracks, c, &c.rising, -1.0)?
    } else {
        level(study, tracks, c)?
    };
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

/// A reading of each track of a treatment, less that of the control it is net of.
fn values(
    study: &Study,
    tracks: &StudyTracks,
    c: &CheckText,
    name: &str,
) -> Result<Vec<f64>, String> {
    let of = |name: &str| -> Result<Vec<f64>, String> {
        treatment(study, tracks, name)?.iter().map(|t| read(t, c)).collect()
    };
    let mut numbers = of(name)?;
    if let Some(control) = &c.net_of {
        pairwise(&mut numbers, &of(control)?, |a, b| a - b)?;
    }
    Ok(numbers)
}

/// The reading of a check for each track: of its treatment, or the mean of several.
fn reading(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<Vec<f64>, String> {
    if c.treatments.is_empty() {
        let name = c.treatment.as_deref().ok_or("needs a treatment")?;
        return values(study, tracks, c, name);
    }
    let mut sum = values(study, tracks, c, &c.treatments[0])?;
    for name in &c.treatments[1..] {
        pairwise(&mut sum, &values(study, tracks, c, name)?, |a, b| a + b)?;
    }
    Ok(sum.into_iter().map(|x| x / c.treatments.len() as f64).collect())
}

/// Track by track: the same record, year and member.
fn pairwise(a: &mut [f64], b: &[f64], with: impl Fn(f64, f64) -> f64) -> Result<(), String> {
    if a.len() != b.len() {
        return Err("the two treatments have not the same records and years".to_owned());
    }
    a.iter_mut().zip(b).for_each(|(a, b)| *a = with(*a, *b));
    Ok(())
}

/// The check's number for each track.
fn numbers(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<Vec<f64>, String> {
    if !c.doses.is_empty() {
        return over_doses(study, tracks, c);
    }
    let mut numbers = reading(study, tracks, c)?;
    if let Some(other) = c.compared() {
        let others = reading(study, tracks, &other)?;
        pairwise(&mut numbers, &others, |a, b| match c.compare {
            Compare::Difference => a - b,
            Compare::Ratio => a / b,
            Compare::Percent => 100.0 * a / b,
            Compare::ChangePct => 100.0 * (a / b - 1.0),
            Compare::ControlPct => 100.0 * (1.0 - a / b),
        })?;
    }
    Ok(numbers)
}

/// For each track, the slope of the reading over the dose, or the dose at which it reaches a value.
fn over_doses(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<Vec<f64>, String> {
    let mut doses: Vec<(f64, Vec<f64>)> = Vec::new();
    for (name, dose) in &c.doses {
        doses.push((*dose, values(study, tracks, c, name)?));
    }
    doses.sort_by(|a, b| a.0.total_cmp(&b.0));
    let count = doses.iter().map(|d| d.1.len()).min().unwrap_or(0);
    Ok((0..count)
        .map(|track| {
            let points: Vec<(f64, f64)> = doses.iter().map(|(d, r)| (*d, r[track])).collect();
            match c.reaches {
                Some(value) => reached(&points, value),
                None => slope(&points),
            }
        })
        .collect())
}

/// The first x at which the line through the points crosses a value; not a number where none does.
fn reached(points: &[(f64, f64)], value: f64) -> f64 {
    let crossed = points.windows(2).find(|w| (w[0].1 - value) * (w[1].1 - value) <= 0.0);
    crossed.map_or(f64::NAN, |w| {
        let ((x0, y0), (x1, y1)) = (w[0], w[1]);
        if y1 == y0 { x0 } else { x0 + (value - y0) / (y1 - y0) * (x1 - x0) }
    })
}

/// Least-squares slope.
fn slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (x, y) = points.iter().fold((0.0, 0.0), |s, p| (s.0 + p.0 / n, s.1 + p.1 / n));
    let (xy, xx) = points
        .iter()
        .fold((0.0, 0.0), |s, p| (s.0 + (p.0 - x) * (p.1 - y), s.1 + (p.0 - x) * (p.0 - x)));
    xy / xx
}

fn level(study: &Study, tracks: &StudyTracks, c: &CheckText) -> Result<(String, bool), String> {
    let numbers = numbers(study, tracks, c)?;
    if numbers.is_empty() {
        return Err("no track to read".to_owned());
    }
    let mean = numbers.iter().sum::<f64>() / numbers.len() as f64;
    let within =
        |x: f64| x.is_finite() && c.low.is_none_or(|l| x >= l) && c.high.is_none_or(|h| x <= h);
    let pass = if c.each { numbers.iter().all(|x| within(*x)) } else { within(mean) };
    Ok((spelled(&numbers, mean), pass))
}

/// `sign` 1 for treatments that fall, -1 for those that rise.
fn order(
    study: &Study,
    tracks: &StudyTracks,
    c: &CheckText,
    names: &[String],
    sign: f64,
) -> Result<(String, bool), String> {
    let mut means = Vec::new();
    for name in names {
        let of = CheckText {
            treatment: Some(name.clone()),
            falling: Vec::new(),
            rising: Vec::new(),
            ..c.clone()
        };
        let numbers = numbers(study, tracks, &of)?;
        means.push(numbers.iter().sum::<f64>() / numbers.len() as f64);
    }
    let pass = means.iter().all(|m| m.is_finite())
        && means.windows(2).all(|w| sign * (w[0] - w[1]) > c.by);
    let words: Vec<String> =
        names.iter().zip(&means).map(|(n, m)| format!("{n} {}", figure(*m))).collect();
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
    let days: Vec<usize> = (from..=to).filter(|d| in_months(track, c, *d)).collect();
    if days.is_empty() {
        return Err("no day of the span is in these months".to_owned());
    }
    let all = || days.iter().map(|d| value(*d));
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
    let above = || c.above.ok_or("this way of reading needs above");
    let below = || c.below.ok_or("this way of reading needs below");
    let line = |log: bool| -> Vec<(f64, f64)> {
        days.iter().map(|d| (*d as f64, if log { value(*d).ln() } else { value(*d) })).collect()
    };
    Ok(match c.how {
        How::Value => value(to),
        How::Mean => all().sum::<f64>() / days.len() as f64,
        How::Sum => all().sum(),
        How::Max => all().fold(f64::NEG_INFINITY, f64::max),
        How::Min => all().fold(f64::INFINITY, f64::min),
        How::Change if c.months.is_empty() => value(to) - value(from),
        How::Change => days.iter().filter(|d| **d > 0).map(|d| value(*d) - value(*d - 1)).sum(),
        How::Rate => slope(&line(false)),
        How::HalfLife => -std::f64::consts::LN_2 / slope(&line(true)),
        How::FirstAbove => {
            let above = above()?;
            return found(days.iter().copied().find(|d| value(*d) > above));
        }
        How::FirstBelow => {
            let below = below()?;
            return found(days.iter().copied().find(|d| value(*d) < below));
        }
        How::LastAbove => {
            let above = above()?;
            return found(days.iter().copied().rev().find(|d| value(*d) > above));
        }
        How::FirstShare => {
            let above = 0.01 * above()? * value(to);
            return found(days.iter().copied().find(|d| value(*d) > above));
        }
        How::DaysAbove => {
            let above = above()?;
            all().filter(|v| *v > above).count() as f64
        }
        How::DaysBelow => {
            let below = below()?;
            all().filter(|v| *v < below).count() as f64
        }
        How::ShareOfEnd => 100.0 * value(to) / value(track.rows.len() - 1),
        How::DayOfBestWeek => {
            let week = |d: usize| (d - 3..=d + 3).map(value).sum::<f64>();
            let middles = from + 3..(to + 1).saturating_sub(3);
            return found(middles.max_by(|a, b| week(*a).total_cmp(&week(*b))));
        }
        How::DayOfMax => {
            return found(days.iter().copied().max_by(|a, b| value(*a).total_cmp(&value(*b))));
        }
        How::Rmse | How::Bias => against_observed(track, c, &days, value)?,
    })
}

/// Series less observation over the days that were observed: root mean square, or mean.
fn against_observed(
    track: &StudyTrack,
    c: &CheckText,
    days: &[usize],
    value: impl Fn(usize) -> f64,
) -> Result<f64, String> {
    let name = c.observed.as_deref().ok_or("rmse and bias need observed")?;
    let column = track
        .observed
        .get(name)
        .ok_or_else(|| format!("the record has no column {name:?} of numbers"))?;
    let off: Vec<f64> = days
        .iter()
        .filter_map(|d| column.get(&track.first.plus(*d as i32)).map(|seen| value(*d) - seen))
        .collect();
    let n = off.len() as f64;
    Ok(match c.how {
        How::Rmse => (off.iter().map(|x| x * x).sum::<f64>() / n).sqrt(),
        _ => off.iter().sum::<f64>() / n,
    })
}

fn in_months(track: &StudyTrack, c: &CheckText, day: usize) -> bool {
    c.months.is_empty() || c.months.contains(&track.first.plus(day as i32).ymd().1)
}

/// First and last day of the run that a check reads.
fn span(track: &StudyTrack, c: &CheckText) -> Result<(usize, usize), String> {
    days(track.first, track.rows.len(), c)
}

/// First and last day that a check reads of a run of `length` days from `first`.
///
/// # Errors
/// Where a day is none, or outside the run.
pub(super) fn days(first: Day, length: usize, c: &CheckText) -> Result<(usize, usize), String> {
    let last = length.checked_sub(1).ok_or("the run has no days")?;
    let index = |text: &str, year: i32| -> Result<usize, String> {
        let (m, d) = month_day(text)?;
        let year = first.ymd().0.saturating_add(year);
        let day = Day::from_ymd(year, m, d).ok_or_else(|| format!("{year} has no {text}"))?;
        let at = usize::try_from(i64::from(day.0) - i64::from(first.0))
            .map_err(|_| format!("{text} (year {year}) is before the run, which starts {first}"))?;
        if at <= last {
            return Ok(at);
        }
        let end = first.plus(last as i32);
        Err(format!("{text} (year {year}) is after the run's end, {end}"))
    };
    if let Some(on) = &c.on {
        let day = index(on, c.year)?;
        return Ok((day, day));
    }
    if let Some(day) = c.day {
        let late = || format!("day {day} is after the run's last, {last}");
        return if day <= last { Ok((day, day)) } else { Err(late()) };
    }
    let from = match &c.from {
        Some(from) => index(from, c.year)?,
        None => c.from_day.unwrap_or(0),
    };
    let to = match &c.to {
        Some(to) => index(to, c.to_year.unwrap_or(c.year))?,
        None => c.to_day.unwrap_or(last),
    };
    if to > last {
        Err(format!("day {to} is after the run's last, {last}"))
    } else if from <= to {
        Ok((from, to))
    } else {
        Err("from is after to".to_owned())
    }
}
