//! One outcome against one setting: the spread of the futures at each setting that was tried.

use crate::axis::{Frame, Scale, airy, drawable, extent};
use crate::bands::FILL;
use crate::canvas::{Canvas, DASHED, Point, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{ROOM, band_key, foot, head, key};
use crate::input::{Caption, Mark};
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, HEAD, INK, KEEP, PAPER, QUIET, SMALL, WIDTH};
use crate::text::{draw_lines, shorten, wrap};

/// The outcome at one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct SweepPoint {
    /// The setting, in the axis's unit.
    pub setting: f64,
    /// 5, 25, 50, 75 and 95 % quantiles of the outcome; `NaN` leaves a gap.
    pub quantiles: [f64; 5],
}

/// What goes into [`sweep()`].
#[derive(Clone, Debug, PartialEq)]
pub struct SweepPicture {
    /// Its words.
    pub caption: Caption,
    /// The outcome: "Crabgrass at its worst".
    pub outcome: String,
    /// Its unit: "% of the lawn".
    pub unit: String,
    /// The outcome's axis shows at least this (low, high). It grows to hold the data.
    pub range: Option<(f64, f64)>,
    /// The setting with its unit, under its axis: "Weeks from the first half to the second".
    pub axis: String,
    /// Where numbers stand on that axis, and what they say, rising.
    pub ticks: Vec<(f64, String)>,
    /// One a setting, rising.
    pub points: Vec<SweepPoint>,
    /// The setting that is now in use.
    pub own: Option<Mark>,
    /// The outcome's middle without any such setting, where that is in use.
    pub without: Option<Mark>,
    /// Runs of settings (first, last) to be bracketed.
    pub runs: Vec<(f64, f64)>,
    /// What they have in common: "as good as the best".
    pub bracket: String,
}

const ACROSS: (f64, f64) = (58.0, WIDTH - EDGE - 10.0);
const HIGH: f64 = 300.0;
/// Height of a bracket's arms, px, and the least half of its width.
const ARM: f64 = 7.0;
const HALF: f64 = 7.0;

/// Draws a sweep.
///
/// # Errors
/// [`PlotError::Empty`] without settings that can be drawn.
pub fn sweep(input: &SweepPicture) -> Result<Picture, PlotError> {
    let settings = input.points.iter().map(|point| point.setting);
    let Some(across) = extent(settings, None) else {
        return Err(PlotError::Empty { what: "settings" });
    };
    let x = Scale { range: airy(across, 0.03), px: ACROSS };
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &band_key(KEEP), y + 4.0)? + 6.0;
        let top = outcome_head(canvas, input, y)? + SMALL.leading() + 4.0;
        let bottom = top + HIGH;
        let values = input.points.iter().flat_map(|point| point.quantiles);
        let values = values.chain(input.without.as_ref().map(|mark| mark.value));
        let range = extent(values, input.range).unwrap_or((0.0, 1.0));
        let frame = Frame { x, y: Scale { range: airy(range, 0.05), px: (bottom, top) } };
        frame.value_axis(canvas, 6)?;
        draw_band(canvas, input, &frame)?;
        if let Some(mark) = &input.without {
            draw_without(canvas, mark, &frame, top)?;
        }
        if let Some(mark) = &input.own {
            draw_own(canvas, mark, &frame, (top, bottom))?;
        }
        y = setting_axis(canvas, input, &frame.x, bottom)?;
        y = brackets(canvas, input, &frame.x, y)?;
        foot(canvas, &input.caption, y)
    })
}

/// The outcome and its unit; gives the y below them.
fn outcome_head(canvas: &mut Canvas<'_>, input: &SweepPicture, top: f64) -> Result<f64, PlotError> {
    let baseline = top + HEAD.size;
    let unit = shorten(&input.unit, ROOM / 2.0, SMALL)?;
    let title = shorten(&input.outcome, ROOM - width(&unit, SMALL)? - 8.0, HEAD)?;
    canvas.text(&title, (EDGE, baseline), HEAD)?;
    canvas.text(&unit, (EDGE + width(&title, HEAD)? + 8.0, baseline), SMALL)?;
    Ok(baseline + 14.0)
}

/// The middle half filled, nine in ten as thin edges, the median as a line with a dot at each setting.
fn draw_band(
    canvas: &mut Canvas<'_>,
    input: &SweepPicture,
    frame: &Frame,
) -> Result<(), PlotError> {
    let whole = |point: &&SweepPoint| point.quantiles.iter().all(|v| drawable(*v).is_some());
    for run in input.points.split(|point| !whole(&point)).filter(|run| !run.is_empty()) {
        let line = |at: usize| -> Vec<Point> {
            let place = |p: &SweepPoint| (frame.x.at(p.setting), frame.y.at(p.quantiles[at]));
            run.iter().map(place).collect()
        };
        let mut outline = line(1);
        outline.extend(line(3).into_iter().rev());
        canvas.fill(&outline, KEEP, FILL)?;
        for edge in [0, 4] {
            canvas.path(&line(edge), Stroke { opacity: 0.8, ..Stroke::solid(KEEP, 1.2) })?;
        }
        canvas.path(&line(2), Stroke { opacity: 0.75, ..Stroke::solid(PAPER, 5.6) })?;
        canvas.path(&line(2), Stroke::solid(KEEP, 3.2))?;
        for dot in line(2) {
            canvas.disc(dot, 4.4, KEEP)?;
        }
    }
    Ok(())
}

/// The setting in use: an upright line, its label above the plot.
fn draw_own(
    canvas: &mut Canvas<'_>,
    mark: &Mark,
    frame: &Frame,
    (top, bottom): (f64, f64),
) -> Result<(), PlotError> {
    let Some(value) = drawable(mark.value) else { return Ok(()) };
    let at = frame.x.at(value);
    canvas.line((at, top - 4.0), (at, bottom), DASHED)?;
    let face = BODY.at(Anchor::Middle);
    let label = shorten(&mark.label, ROOM, face)?;
    let half = width(&label, face)? / 2.0;
    canvas.text(&label, (inside(at, half), top - 9.0), face)
}

/// What comes of having no such setting: a level line. Its label stands above the plot, behind a
/// piece of the line, where it hides nothing.
fn draw_without(
    canvas: &mut Canvas<'_>,
    mark: &Mark,
    frame: &Frame,
    top: f64,
) -> Result<(), PlotError> {
    let Some(value) = drawable(mark.value) else { return Ok(()) };
    let at = frame.y.at(value);
    canvas.line((ACROSS.0, at), (ACROSS.1, at), DASHED)?;
    let (baseline, middle) = (top - 9.0, top - 9.0 - 0.36 * BODY.size);
    canvas.line((ACROSS.0, middle), (ACROSS.0 + 36.0, middle), DASHED)?;
    let label = shorten(&mark.label, ROOM - 90.0, BODY)?;
    canvas.text(&label, (ACROSS.0 + 44.0, baseline), BODY)
}

/// The axis of the setting; gives the y below its words.
fn setting_axis(
    canvas: &mut Canvas<'_>,
    input: &SweepPicture,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    let face = SMALL.in_colour(INK).at(Anchor::Middle);
    canvas.line((x.px.0, top), (x.px.1, top), Stroke::solid(QUIET, 1.2))?;
    let mut free = f64::NEG_INFINITY;
    for (value, words) in &input.ticks {
        let Some(value) = drawable(*value) else { continue };
        let at = x.at(value);
        canvas.line((at, top), (at, top + 5.0), Stroke::solid(QUIET, 1.2))?;
        let half = width(words, face)? / 2.0;
        let middle = inside(at, half);
        // Numbers that would touch the one before are left out.
        if middle - half >= free {
            canvas.text(words, (middle, top + 7.0 + face.size), face)?;
            free = middle + half + 8.0;
        }
    }
    let face = BODY.at(Anchor::Middle);
    let baseline = top + 7.0 + SMALL.size + 6.0 + BODY.size;
    let lines = wrap(&input.axis, x.px.1 - x.px.0, face, 2)?;
    let middle = (x.px.0 + x.px.1) / 2.0;
    Ok(draw_lines(canvas, &lines, (middle, baseline), face)? - BODY.leading() + 6.0)
}

/// Brackets under the axis, and what they mean; gives the y below them.
fn brackets(
    canvas: &mut Canvas<'_>,
    input: &SweepPicture,
    x: &Scale,
    top: f64,
) -> Result<f64, PlotError> {
    if input.runs.is_empty() {
        return Ok(top);
    }
    let stroke = Stroke::solid(INK, 2.6);
    let level = top + 6.0 + ARM;
    let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
    for (first, last) in &input.runs {
        let (from, to) = (x.at(*first), x.at(*last));
        let wider = (HALF - (to - from) / 2.0).max(0.0);
        let (from, to) = (from - wider, to + wider);
        canvas
            .path(&[(from, level - ARM), (from, level), (to, level), (to, level - ARM)], stroke)?;
        (left, right) = (left.min(from), right.max(to));
    }
    let face = BODY.at(Anchor::Middle);
    let mut baseline = level + 5.0 + BODY.size;
    for line in wrap(&input.bracket, ROOM, face, 2)? {
        let half = width(&line, face)? / 2.0;
        canvas.text(&line, (inside((left + right) / 2.0, half), baseline), face)?;
        baseline += BODY.leading();
    }
    Ok(baseline - BODY.leading() + 6.0)
}

/// The middle of a text moved so that it stays between the edges.
fn inside(middle: f64, half: f64) -> f64 {
    middle.min(WIDTH - EDGE - half).max(EDGE + half)
}
