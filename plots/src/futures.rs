//! One quantity in single futures, day by day, beside the line that it must keep to.

use crate::axis::{Frame, Scale, airy, calendar, drawable, extent};
use crate::canvas::{Canvas, DASHED, Point, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, foot, head, key};
use crate::input::{Caption, Dates, Mark, check_length};
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, HEAD, KEEP, MISS, PAPER, SMALL, TRACK, WIDTH};
use crate::text::shorten;

/// One future.
#[derive(Clone, Debug, PartialEq)]
pub struct FutureLine {
    /// What it stands for: "a future that fails".
    pub name: String,
    /// One value a day; `NaN` leaves a gap.
    pub values: Vec<f64>,
    /// Whether it keeps the line.
    pub keeps: bool,
    /// A day, from 0, to be marked on it, and what happened then.
    pub event: Option<(usize, String)>,
}

/// What goes into [`futures()`].
#[derive(Clone, Debug, PartialEq)]
pub struct FuturesPicture {
    /// Its words.
    pub caption: Caption,
    /// The days.
    pub dates: Dates,
    /// What is drawn: "Crabgrass".
    pub title: String,
    /// Its unit: "% of the lawn".
    pub unit: String,
    /// The axis shows at least this (low, high).
    pub range: Option<(f64, f64)>,
    /// The line that it must keep to.
    pub line: Mark,
    /// Stretches of days (first, last) in which it must.
    pub stretches: Vec<(usize, usize)>,
    /// The futures.
    pub lines: Vec<FutureLine>,
}

const ACROSS: (f64, f64) = (58.0, WIDTH - EDGE - 6.0);
const HIGH: f64 = 280.0;

/// Draws single futures.
///
/// # Errors
/// [`PlotError`] where there are no days or a future has other days.
pub fn futures(input: &FuturesPicture) -> Result<Picture, PlotError> {
    input.dates.check()?;
    for line in &input.lines {
        check_length(&line.values, input.dates.days, &line.name)?;
    }
    let values = input.lines.iter().flat_map(|line| line.values.iter().copied());
    let range = extent(values.chain([input.line.value]), input.range).unwrap_or((0.0, 1.0));
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        let colour = |line: &FutureLine| if line.keeps { KEEP } else { MISS };
        let entries: Vec<(KeyMark, String)> = input
            .lines
            .iter()
            .map(|line| (KeyMark::Median(colour(line)), line.name.clone()))
            .chain([(KeyMark::Patch(TRACK, 1.0), "days that count".to_owned())])
            .collect();
        y = key(canvas, &entries, y + 4.0)? + 8.0;
        let baseline = y + HEAD.size;
        let title = shorten(&input.title, ROOM * 0.7, HEAD)?;
        canvas.text(&title, (EDGE, baseline), HEAD)?;
        canvas.text(&input.unit, (EDGE + width(&title, HEAD)? + 8.0, baseline), SMALL)?;
        let top = baseline + 14.0 + BODY.leading();
        let bottom = top + HIGH;
        let low = if range.0 == 0.0 { (0.0, airy(range, 0.06).1) } else { airy(range, 0.06) };
        let frame = Frame::new(input.dates.days, ACROSS, Scale { range: low, px: (bottom, top) });
        for &(first, last) in &input.stretches {
            let (left, right) = (frame.x.at(first as f64), frame.x.at(last as f64 + 1.0));
            canvas.rect((left, top), ((right - left).max(2.0), bottom - top), TRACK, 1.0)?;
        }
        frame.value_axis(canvas, 5)?;
        let at = frame.y.at(input.line.value);
        canvas.line((ACROSS.0, at), (ACROSS.1, at), DASHED)?;
        for line in &input.lines {
            draw_line(canvas, line, &frame, colour(line))?;
        }
        // The line's words stand above the plot, behind a piece of it, where they hide nothing.
        let (words, middle) = (top - 9.0, top - 9.0 - 0.36 * BODY.size);
        canvas.line((ACROSS.0, middle), (ACROSS.0 + 36.0, middle), DASHED)?;
        let label = shorten(&input.line.label, ROOM - 100.0, BODY)?;
        canvas.text(&label, (ACROSS.0 + 44.0, words), BODY)?;
        for at in 0..input.lines.len() {
            event(canvas, (at, input), &frame, (top, bottom))?;
        }
        y = calendar(canvas, &input.dates, &frame.x, bottom)?;
        foot(canvas, &input.caption, y)
    })
}

fn draw_line(
    canvas: &mut Canvas<'_>,
    line: &FutureLine,
    frame: &Frame,
    colour: plotters::style::RGBColor,
) -> Result<(), PlotError> {
    let days: Vec<usize> = (0..line.values.len()).collect();
    let whole = |day: &usize| drawable(line.values[*day]).is_some();
    for run in days.split(|day| !whole(day)).filter(|run| run.len() > 1) {
        let points: Vec<Point> =
            run.iter().map(|day| (frame.day(*day), frame.y.at(line.values[*day]))).collect();
        canvas.path(&points, Stroke { opacity: 0.75, ..Stroke::solid(PAPER, 5.0) })?;
        canvas.path(&points, Stroke::solid(colour, 2.8))?;
    }
    Ok(())
}

/// Marks a day on a line and says what happened, at the top or the foot of the plot: where the lines leave
/// more room.
fn event(
    canvas: &mut Canvas<'_>,
    (at, input): (usize, &FuturesPicture),
    frame: &Frame,
    (top, bottom): (f64, f64),
) -> Result<(), PlotError> {
    let line = &input.lines[at];
    let Some((day, words)) = &line.event else { return Ok(()) };
    let Some(value) = line.values.get(*day).copied().and_then(drawable) else { return Ok(()) };
    let colour = if line.keeps { KEEP } else { MISS };
    let at = (frame.day(*day), frame.y.at(value));
    let label = shorten(words, ROOM / 2.0, BODY)?;
    let half = width(&label, BODY)? / 2.0;
    let middle = at.0.min(ACROSS.1 - half - 2.0).max(ACROSS.0 + half + 2.0);
    let under = |day: usize| (frame.day(day) - middle).abs() <= half + 4.0;
    let heights: Vec<f64> = (0..input.dates.days)
        .filter(|day| under(*day))
        .flat_map(|day| input.lines.iter().map(move |line| line.values[day]))
        .filter_map(|value| drawable(value).map(|value| frame.y.at(value)))
        .chain([frame.y.at(input.line.value), at.1])
        .collect();
    let highest = heights.iter().copied().fold(bottom, f64::min);
    let lowest = heights.iter().copied().fold(top, f64::max);
    let above = highest - top >= bottom - lowest;
    let baseline = if above { top + 5.0 + BODY.size } else { bottom - 8.0 };
    let end = if above { baseline + 5.0 } else { baseline - BODY.size };
    canvas.line((at.0, end), at, Stroke::solid(colour, 1.6))?;
    canvas.disc(at, 8.0, PAPER)?;
    canvas.disc(at, 6.0, colour)?;
    let corner = (middle - half - 3.0, baseline - 0.86 * BODY.size);
    canvas.rect(corner, (2.0 * half + 6.0, 1.14 * BODY.size), PAPER, 0.8)?;
    canvas.text(&label, (middle, baseline), BODY.at(Anchor::Middle))
}
