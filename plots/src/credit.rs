//! Credit: a difference shared out among the practices that make it, one bar a practice.

use plotters::style::RGBColor;

use crate::axis::{Scale, airy, drawable, extent};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, foot, head, key};
use crate::input::Caption;
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, GRID, HEAD, INK, KEEP, MISS, QUIET, SMALL, Type, WIDTH};
use crate::text::{draw_lines, shorten, wrap};

/// What a bar amounts to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// A change to the better.
    Better,
    /// A change to the worse.
    Worse,
    /// More or less of something that is neither good nor bad.
    Plain,
    /// It cannot be told from nothing, or comes next to it.
    Unclear,
}

/// One practice's share, or the whole.
#[derive(Clone, Debug, PartialEq)]
pub struct CreditBar {
    /// Whose: "Mow".
    pub name: String,
    /// What was changed, in small print below; nothing where it is empty.
    pub change: String,
    /// The share, in the panel's unit; `NaN` leaves a gap.
    pub value: f64,
    /// Ends of the whisker.
    pub ends: (f64, f64),
    /// What it amounts to.
    pub tone: Tone,
    /// The share as it is told: "9 points lower".
    pub text: String,
    /// Its range as it is told: "7 to 11".
    pub between: String,
}

/// One outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct CreditPanel {
    /// What: "Crabgrass at its worst".
    pub title: String,
    /// Unit and better side in words: "% of the lawn, less is better".
    pub remark: String,
    /// Differences smaller than this do not matter (same unit, above 0); shaded around zero.
    pub least: Option<f64>,
    /// One a practice, from top to bottom.
    pub bars: Vec<CreditBar>,
    /// All of them together; `None` where one practice is all.
    pub total: Option<CreditBar>,
}

/// What goes into [`credit()`].
#[derive(Clone, Debug, PartialEq)]
pub struct CreditPicture {
    /// Its words.
    pub caption: Caption,
    /// From top to bottom.
    pub panels: Vec<CreditPanel>,
}

/// Px across of the bars.
const ACROSS: (f64, f64) = (280.0, 520.0);
/// Height of a bar, px.
const THICK: f64 = 17.0;
/// Half the height of a whisker's caps, px.
const CAP: f64 = 5.0;
/// Opacity of bars, under their whiskers.
const FILLED: f64 = 0.72;
/// Opacity of what is too small to matter.
const GREY: f64 = 0.16;
const NAME: Type = Type { bold: true, ..BODY };

/// Draws the credits. Zero is always on the axis.
///
/// # Errors
/// [`PlotError::Empty`] without panels.
pub fn credit(input: &CreditPicture) -> Result<Picture, PlotError> {
    if input.panels.is_empty() {
        return Err(PlotError::Empty { what: "panels" });
    }
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &marks(input), y + 4.0)? + 6.0;
        for panel in &input.panels {
            y = draw_panel(canvas, panel, y)? + 14.0;
        }
        foot(canvas, &input.caption, y - 12.0)
    })
}

/// The look of a bar, and what the key says of it.
fn look(tone: Tone) -> (RGBColor, f64, &'static str) {
    match tone {
        Tone::Better => (KEEP, FILLED, "better"),
        Tone::Worse => (MISS, FILLED, "worse"),
        Tone::Plain => (QUIET, FILLED, "neither"),
        Tone::Unclear => (QUIET, 0.0, "cannot be told from nothing"),
    }
}

fn marks(input: &CreditPicture) -> Vec<(KeyMark, String)> {
    let bars = || input.panels.iter().flat_map(|p| p.bars.iter().chain(&p.total));
    let mut marks = Vec::new();
    for tone in [Tone::Better, Tone::Worse, Tone::Plain] {
        if bars().any(|bar| bar.tone == tone) {
            let (colour, opacity, words) = look(tone);
            marks.push((KeyMark::Patch(colour, opacity), words.to_owned()));
        }
    }
    marks.push((KeyMark::Median(INK), "could be anything along here".to_owned()));
    if input.panels.iter().any(|p| least(p).is_some()) {
        marks.push((KeyMark::Patch(QUIET, GREY), "too small to matter".to_owned()));
    }
    marks
}

/// The least difference that matters, where it can be drawn.
fn least(panel: &CreditPanel) -> Option<f64> {
    panel.least.and_then(drawable).map(f64::abs).filter(|least| *least > 0.0)
}

/// The words at the left of a bar, in lines.
struct Words {
    name: Vec<String>,
    change: Vec<String>,
}

impl Words {
    fn set(bar: &CreditBar) -> Result<Words, PlotError> {
        let room = ACROSS.0 - 14.0 - EDGE;
        Ok(Words {
            name: wrap(&bar.name, room, NAME, 2)?,
            change: wrap(&bar.change, room, SMALL, 4)?,
        })
    }

    fn height(&self) -> f64 {
        self.name.len() as f64 * NAME.leading() + self.change.len() as f64 * SMALL.leading()
    }
}

/// Height of the numbers at the right of a bar: two lines.
fn numbers_high() -> f64 {
    BODY.leading() + SMALL.leading()
}

/// Draws one outcome; gives the y below it.
fn draw_panel(canvas: &mut Canvas<'_>, panel: &CreditPanel, top: f64) -> Result<f64, PlotError> {
    canvas.line((EDGE, top), (WIDTH - EDGE, top), Stroke::solid(GRID, 1.5))?;
    let top = panel_title(canvas, panel, top + 6.0)?;
    let bars = || panel.bars.iter().chain(&panel.total);
    let words = bars().map(Words::set).collect::<Result<Vec<_>, _>>()?;
    let heights: Vec<f64> = words.iter().map(|w| w.height().max(numbers_high()) + 9.0).collect();
    let bottom = top + heights.iter().sum::<f64>() + 6.0;
    let around = least(panel).map_or(0.0, |least| 1.1 * least);
    let ends = bars().flat_map(|bar| [bar.value, bar.ends.0, bar.ends.1]);
    let range = extent(ends, Some((-around, around))).unwrap_or((-1.0, 1.0));
    let x = Scale { range: airy(range, 0.03), px: ACROSS };
    let below = value_axis(canvas, &x, (top, bottom))?;
    if let Some(least) = least(panel) {
        let (left, right) = (x.at(-least), x.at(least));
        canvas.rect((left, top), (right - left, bottom - top), QUIET, GREY)?;
    }
    let mut y = top;
    for (at, (bar, words)) in bars().zip(&words).enumerate() {
        if at == panel.bars.len() {
            canvas.line((EDGE, y + 2.0), (WIDTH - EDGE, y + 2.0), Stroke::solid(QUIET, 1.2))?;
            y += 6.0;
        }
        draw_bar(canvas, bar, words, &x, y + heights[at] / 2.0)?;
        y += heights[at];
    }
    canvas.line((x.at(0.0), top), (x.at(0.0), bottom), Stroke::solid(INK, 2.0))?;
    Ok(below)
}

/// Draws the title with the remark beside it, or below where there is no room.
fn panel_title(canvas: &mut Canvas<'_>, panel: &CreditPanel, top: f64) -> Result<f64, PlotError> {
    let title = wrap(&panel.title, ROOM, HEAD, 2)?;
    let last = match title.last() {
        Some(line) => width(line, HEAD)? + 10.0,
        None => 0.0,
    };
    let below = draw_lines(canvas, &title, (EDGE, top + HEAD.size), HEAD)?;
    let baseline = below - HEAD.leading();
    if last + width(&panel.remark, SMALL)? <= ROOM {
        canvas.text(&panel.remark, (EDGE + last, baseline), SMALL)?;
        return Ok(baseline + 10.0);
    }
    let remark = wrap(&panel.remark, ROOM, SMALL, 2)?;
    let below = draw_lines(canvas, &remark, (EDGE, baseline + SMALL.leading()), SMALL)?;
    Ok(below - SMALL.leading() + 10.0)
}

/// Draws grid lines, and their numbers below; gives the y below them.
fn value_axis(
    canvas: &mut Canvas<'_>,
    x: &Scale,
    (top, bottom): (f64, f64),
) -> Result<f64, PlotError> {
    let ticks = x.ticks(5);
    let face = SMALL.at(Anchor::Middle);
    let mut free = f64::NEG_INFINITY;
    for &value in &ticks.values {
        let at = x.at(value);
        canvas.line((at, top), (at, bottom), Stroke::solid(GRID, 1.0))?;
        let label = ticks.label(value);
        let half = width(&label, face)? / 2.0;
        if at - half >= free {
            canvas.text(&label, (at, bottom + 4.0 + face.size), face)?;
            free = at + half + 8.0;
        }
    }
    Ok(bottom + 4.0 + face.size + 4.0)
}

/// Draws a bar with its whisker, its name and its numbers around a height.
fn draw_bar(
    canvas: &mut Canvas<'_>,
    bar: &CreditBar,
    words: &Words,
    x: &Scale,
    y: f64,
) -> Result<(), PlotError> {
    let first = y - words.height() / 2.0 + 0.9 * NAME.size;
    let next = draw_lines(canvas, &words.name, (EDGE, first), NAME)?;
    draw_lines(canvas, &words.change, (EDGE, next - NAME.leading() + SMALL.leading()), SMALL)?;
    if let Some(value) = drawable(bar.value) {
        let (colour, opacity, _) = look(bar.tone);
        let (left, right) = (x.at(value.min(0.0)), x.at(value.max(0.0)));
        canvas.rect((left, y - THICK / 2.0), (right - left, THICK), colour, opacity)?;
    }
    if let (Some(low), Some(high)) = (drawable(bar.ends.0), drawable(bar.ends.1)) {
        let whisker = Stroke::solid(INK, 2.2);
        canvas.line((x.at(low), y), (x.at(high), y), whisker)?;
        for end in [low, high] {
            canvas.line((x.at(end), y - CAP), (x.at(end), y + CAP), whisker)?;
        }
    }
    let room = WIDTH - EDGE - ACROSS.1 - 10.0;
    let right = WIDTH - EDGE;
    let told = BODY.at(Anchor::End);
    let told =
        if bar.tone == Tone::Unclear { told.in_colour(QUIET) } else { Type { bold: true, ..told } };
    let small = SMALL.at(Anchor::End);
    let top = y - if bar.between.is_empty() { BODY.leading() } else { numbers_high() } / 2.0;
    let baseline = top + 0.9 * BODY.size;
    canvas.text(&shorten(&bar.text, room, told)?, (right, baseline), told)?;
    let below = baseline + SMALL.leading();
    canvas.text(&shorten(&bar.between, room, small)?, (right, below), small)
}
