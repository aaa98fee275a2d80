//! Scales, ticks and the calendar under a plot.

use crate::canvas::{Canvas, Stroke, width};
use crate::error::PlotError;
use crate::input::Dates;
use crate::style::{Anchor, GRID, INK, QUIET, SMALL};
use crate::text::shorten;

/// Values further out than this are taken for missing.
const FAR: f64 = 1e100;

/// The value, where it can be drawn.
pub(crate) fn drawable(value: f64) -> Option<f64> {
    (value.is_finite() && value.abs() < FAR).then_some(value)
}

/// From the least to the greatest drawable value, widened to hold `hint`; `None` where there is
/// neither.
pub(crate) fn extent(
    values: impl Iterator<Item = f64>,
    hint: Option<(f64, f64)>,
) -> Option<(f64, f64)> {
    let hint = hint.into_iter().flat_map(|(low, high)| [low, high]);
    values.chain(hint).filter_map(drawable).fold(None, |range, v| match range {
        None => Some((v, v)),
        Some((low, high)) => Some((low.min(v), high.max(v))),
    })
}

/// A range that is never empty, with a little air outside the data.
pub(crate) fn airy((low, high): (f64, f64), share: f64) -> (f64, f64) {
    let span = high - low;
    // A flat line gets room in proportion to its height.
    let least = 1e-6 * low.abs().max(high.abs());
    let air = if span > least { span * share } else { (0.1 * high.abs()).max(0.5) };
    (low - air, high + air)
}

/// A straight map from values to px.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale {
    /// Values at the two ends, the lower first.
    pub range: (f64, f64),
    /// Px at the two ends.
    pub px: (f64, f64),
}

impl Scale {
    /// Where a value lies; values outside the range are put at its end.
    pub(crate) fn at(&self, value: f64) -> f64 {
        let (low, high) = self.range;
        let share = ((value - low) / (high - low)).clamp(0.0, 1.0);
        self.px.0 + share * (self.px.1 - self.px.0)
    }

    /// Round values inside the range, about `wanted` of them.
    pub(crate) fn ticks(&self, wanted: usize) -> Ticks {
        let (low, high) = self.range;
        let rough = (high - low) / wanted.max(1) as f64;
        let power = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 2.5, 5.0, 10.0]
            .into_iter()
            .map(|s| s * power)
            .find(|s| *s >= rough * 0.999)
            .unwrap_or(10.0 * power);
        let first = (low / step - 1e-6).ceil();
        let values = (0..50)
            .map(|i| (first + f64::from(i)) * step)
            .take_while(|v| *v <= high + step * 1e-6)
            .collect();
        Ticks { values, step }
    }
}

/// Round values on an axis.
pub(crate) struct Ticks {
    /// In rising order.
    pub values: Vec<f64>,
    step: f64,
}

impl Ticks {
    /// A value as text, with the decimals that the step needs.
    pub(crate) fn label(&self, value: f64) -> String {
        let value = if value.abs() < self.step * 1e-6 { 0.0 } else { value };
        let big = self.values.iter().fold(0.0f64, |most, v| most.max(v.abs()));
        let text = if big >= 1e9 || self.step < 1e-4 {
            format!("{value:.1e}").replace(".0e", "e")
        } else if big >= 1e6 {
            format!("{}M", decimals(value / 1e6, self.step / 1e6))
        } else if big >= 1e4 {
            format!("{}k", decimals(value / 1e3, self.step / 1e3))
        } else {
            decimals(value, self.step)
        };
        text.replace('-', "\u{2212}")
    }
}

fn decimals(value: f64, step: f64) -> String {
    // The first count of decimals that shows the step as it is.
    let places = (0..6)
        .find(|n| {
            let scaled = step * 10f64.powi(*n);
            (scaled - scaled.round()).abs() < 1e-6 * scaled
        })
        .unwrap_or(6);
    format!("{value:.0$}", places as usize)
}

/// A plot's rectangle with its scales.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    /// Days, counted from 0, to px.
    pub x: Scale,
    /// Values to px; the first end is the bottom.
    pub y: Scale,
}

impl Frame {
    /// A frame `days` wide.
    pub(crate) fn new(days: usize, across: (f64, f64), y: Scale) -> Frame {
        Frame { x: Scale { range: (0.0, days.max(1) as f64), px: across }, y }
    }

    /// Px of the middle of a day.
    pub(crate) fn day(&self, day: usize) -> f64 {
        self.x.at(day as f64 + 0.5)
    }

    /// Draws the value axis: grid lines and numbers.
    pub(crate) fn value_axis(
        &self,
        canvas: &mut Canvas<'_>,
        wanted: usize,
    ) -> Result<(), PlotError> {
        let ticks = self.y.ticks(wanted);
        let face = SMALL.at(Anchor::End);
        let mut last = f64::INFINITY;
        for &value in &ticks.values {
            let y = self.y.at(value);
            canvas.line((self.x.px.0, y), (self.x.px.1, y), Stroke::solid(GRID, 1.0))?;
            // Numbers that would touch the one below are left out.
            if last - y >= face.size {
                let label = shorten(&ticks.label(value), self.x.px.0 - 8.0, face)?;
                canvas.text(&label, (self.x.px.0 - 6.0, y + 0.36 * face.size), face)?;
                last = y;
            }
        }
        Ok(())
    }
}

/// The start of a month among the days.
struct Month {
    day: usize,
    end: usize,
    month: usize,
    year: i16,
}

const NAMES: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// Every month that the days touch.
fn months(dates: &Dates) -> Vec<Month> {
    let mut months: Vec<Month> = Vec::new();
    let mut day = 0;
    while day < dates.days {
        let Some(date) = dates.date(day) else { break };
        let left = (date.days_in_month() - date.day()) as usize + 1;
        let end = (day + left).min(dates.days);
        let month = (date.month() - 1) as usize;
        months.push(Month { day, end, month, year: date.year() });
        day = end;
    }
    months
}

/// Every year that the days touch: year, first day, end.
fn years(months: &[Month]) -> Vec<(i16, usize, usize)> {
    let mut years: Vec<(i16, usize, usize)> = Vec::new();
    for m in months {
        match years.last_mut() {
            Some(last) if last.0 == m.year => last.2 = m.end,
            _ => years.push((m.year, m.day, m.end)),
        }
    }
    years
}

/// Draws light upright lines at the starts of years, over the height of a frame.
pub(crate) fn year_lines(
    canvas: &mut Canvas<'_>,
    dates: &Dates,
    frame: &Frame,
) -> Result<(), PlotError> {
    for (_, start, _) in years(&months(dates)).into_iter().filter(|y| y.1 > 0) {
        let x = frame.x.at(start as f64);
        canvas.line((x, frame.y.px.0), (x, frame.y.px.1), Stroke::solid(GRID, 1.5))?;
    }
    Ok(())
}

/// Draws the calendar under the line `top` and gives the y below it.
pub(crate) fn calendar(
    canvas: &mut Canvas<'_>,
    dates: &Dates,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let months = months(dates);
    canvas.line((x.px.0, top), (x.px.1, top), Stroke::solid(QUIET, 1.2))?;
    let tick = |canvas: &mut Canvas<'_>, day: usize, length: f64| {
        let at = x.at(day as f64);
        canvas.line((at, top), (at, top + length), Stroke::solid(QUIET, 1.2))
    };
    let month_px = (x.px.1 - x.px.0) / months.len().max(1) as f64;
    if month_px >= 4.0 && dates.days > SHORT {
        for m in months.iter().filter(|m| m.day > 0) {
            tick(canvas, m.day, if m.month == 0 { 10.0 } else { 5.0 })?;
        }
    }
    let below = if dates.days <= SHORT {
        day_names(canvas, dates, x, top)?
    } else {
        month_names(canvas, &months, x, top)?
    };
    let years = years(&months);
    let face = SMALL.in_colour(INK).at(Anchor::Middle);
    let mut free = f64::NEG_INFINITY;
    for (year, start, end) in years {
        let half = width(&year.to_string(), face)? / 2.0;
        let middle = inside(x, (x.at(start as f64) + x.at(end as f64)) / 2.0, half);
        if middle - half >= free {
            canvas.text(&year.to_string(), (middle, below + face.size), face)?;
            free = middle + half + 8.0;
        }
    }
    Ok(below + face.size + 6.0)
}

/// Draws the months of no year in particular under the line `top` and gives the y below them.
pub(crate) fn months_of_a_year(
    canvas: &mut Canvas<'_>,
    dates: &Dates,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let months = months(dates);
    canvas.line((x.px.0, top), (x.px.1, top), Stroke::solid(QUIET, 1.2))?;
    for m in months.iter().filter(|m| m.day > 0) {
        let at = x.at(m.day as f64);
        canvas.line((at, top), (at, top + 5.0), Stroke::solid(QUIET, 1.2))?;
    }
    month_names(canvas, &months, x, top)
}

/// The days among `dates` at which months begin, the first day left out.
pub(crate) fn month_starts(dates: &Dates) -> Vec<usize> {
    months(dates).iter().map(|m| m.day).filter(|day| *day > 0).collect()
}

/// Names of the twelve months in the middles of twelve columns; gives the y below them.
pub(crate) fn twelve_months(
    canvas: &mut Canvas<'_>,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let face = SMALL.at(Anchor::Middle);
    canvas.line((x.px.0, top), (x.px.1, top), Stroke::solid(QUIET, 1.2))?;
    for (m, name) in NAMES.iter().enumerate() {
        canvas.text(name, (x.at(m as f64 + 0.5), top + 6.0 + face.size), face)?;
    }
    Ok(top + 6.0 + face.size + 3.0)
}

/// Runs of at most this many days get days on their axis.
const SHORT: usize = 75;

/// Names as many days of a short run as there is room for, evenly; gives the y below them.
fn day_names(
    canvas: &mut Canvas<'_>,
    dates: &Dates,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let face = SMALL.at(Anchor::Middle);
    let room = width("30 Mmm", face)? + 8.0;
    let day_px = (x.px.1 - x.px.0) / x.range.1;
    let fits = |step: &usize| *step as f64 * day_px >= room;
    let step = [1, 2, 7, 14].into_iter().find(fits).unwrap_or(28);
    for day in (0..dates.days).step_by(step) {
        let Some(date) = dates.date(day) else { break };
        let at = x.at(day as f64 + 0.5);
        canvas.line((at, top), (at, top + 5.0), Stroke::solid(QUIET, 1.2))?;
        let name = format!("{} {}", date.day(), NAMES[(date.month() - 1) as usize]);
        let middle = inside(x, at, width(&name, face)? / 2.0);
        canvas.text(&name, (middle, top + 6.0 + face.size), face)?;
    }
    Ok(top + 6.0 + face.size + 3.0)
}

/// The middle of a text moved so that it hardly stands out at the ends of the axis.
fn inside(x: &Scale, middle: f64, half: f64) -> f64 {
    middle.min(x.px.1 - half + 8.0).max(x.px.0 + half - 8.0)
}

/// Names as many months as there is room for, evenly; gives the y below them.
fn month_names(
    canvas: &mut Canvas<'_>,
    months: &[Month],
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let face = SMALL.at(Anchor::Middle);
    let mut widest = 0.0f64;
    for name in NAMES {
        widest = widest.max(width(name, face)? + 5.0);
    }
    let month_px = (x.px.1 - x.px.0) / x.range.1 * 30.4;
    let Some(step) = [1, 2, 3, 4, 6].into_iter().find(|n| f64::from(*n) * month_px >= widest)
    else {
        return Ok(top + 8.0);
    };
    let mut free = f64::NEG_INFINITY;
    for m in months.iter().filter(|m| m.month % step as usize == 0) {
        let half = width(NAMES[m.month], face)? / 2.0;
        let middle = inside(x, (x.at(m.day as f64) + x.at(m.end as f64)) / 2.0, half);
        // A month of which only a few days are shown may have no room for its name.
        if middle - half >= free {
            canvas.text(NAMES[m.month], (middle, top + 6.0 + face.size), face)?;
            free = middle + half + 4.0;
        }
    }
    Ok(top + 6.0 + face.size + 3.0)
}
