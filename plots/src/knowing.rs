//! Knowing: what it is worth to know each fact, beside how far the fact moves the lawn.

use plotters::style::RGBColor;

use crate::axis::{Scale, drawable};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, foot, head, key};
use crate::input::Caption;
use crate::picture::Picture;
use crate::style::{Anchor, BODY, EDGE, GRID, HEAD, INK, KEEP, QUIET, SMALL, Type, WIDTH};
use crate::text::{draw_lines, shorten, wrap};

/// One bar.
#[derive(Clone, Debug, PartialEq)]
pub struct KnowingBar {
    /// Its length, in the column's unit; less than 0 is drawn as 0, `NaN` leaves a gap.
    pub value: f64,
    /// Ends of its whisker; `NaN` draws none.
    pub ends: (f64, f64),
    /// What it is told as: "2.1 points", "none".
    pub text: String,
    /// Whether it stands out from noise.
    pub clear: bool,
}

/// One fact, or kind of luck.
#[derive(Clone, Debug, PartialEq)]
pub struct KnowingRow {
    /// What.
    pub name: String,
    /// How it is found out, in small print.
    pub how: String,
    /// What knowing it is worth.
    pub value: KnowingBar,
    /// How far it moves the lawn; `None` where that was not worked out.
    pub moved: Option<KnowingBar>,
}

/// Rows under one head.
#[derive(Clone, Debug, PartialEq)]
pub struct KnowingPart {
    /// "You can find out".
    pub title: String,
    /// From top to bottom.
    pub rows: Vec<KnowingRow>,
    /// Values up to this come of noise alone, in the unit of the first column; shaded.
    pub noise: Option<f64>,
}

/// What goes into [`knowing()`].
#[derive(Clone, Debug, PartialEq)]
pub struct KnowingPicture {
    /// Its words.
    pub caption: Caption,
    /// Heads of the two columns.
    pub columns: [String; 2],
    /// Both axes reach at least so far, so that what does not matter looks small (0 for none).
    pub least: f64,
    /// From top to bottom.
    pub parts: Vec<KnowingPart>,
}

/// Px across of the bars of the two columns; figures stand to the right of them.
const ACROSS: [(f64, f64); 2] = [(270.0, 386.0), (500.0, 616.0)];
/// Px of the names.
const NAMES: f64 = 242.0;
/// Px of a figure beside its bar.
const FIGURE: f64 = 90.0;
/// Height of a bar, px.
const THICK: f64 = 16.0;
/// Half the height of a whisker's caps, px.
const CAP: f64 = 4.5;
/// Opacity of bars, under their whiskers.
const FILLED: f64 = 0.75;
/// Opacity of noise.
const GREY: f64 = 0.18;
/// Colours of the two columns.
const COLOURS: [RGBColor; 2] = [KEEP, QUIET];
const NAME: Type = Type { bold: true, ..BODY };

/// Draws the two columns. Zero is on both axes.
///
/// # Errors
/// [`PlotError::Empty`] without rows.
pub fn knowing(input: &KnowingPicture) -> Result<Picture, PlotError> {
    if input.parts.iter().all(|part| part.rows.is_empty()) {
        return Err(PlotError::Empty { what: "rows" });
    }
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &marks(input), y + 4.0)? + 6.0;
        y = columns(canvas, &input.columns, y)?;
        let scales = scales(input);
        let mut bottom = y;
        for part in input.parts.iter().filter(|part| !part.rows.is_empty()) {
            bottom = draw_part(canvas, part, &scales, bottom)?;
        }
        let below = axes(canvas, &scales, bottom)?;
        foot(canvas, &input.caption, below)
    })
}

fn marks(input: &KnowingPicture) -> Vec<(KeyMark, String)> {
    let mut marks = vec![(KeyMark::Median(INK), "could be anything along here".to_owned())];
    if input.parts.iter().any(|part| noise(part).is_some()) {
        marks.push((KeyMark::Patch(QUIET, GREY), "as large by chance alone".to_owned()));
    }
    marks
}

fn noise(part: &KnowingPart) -> Option<f64> {
    part.noise.and_then(drawable).filter(|noise| *noise > 0.0)
}

/// Draws the heads of the columns; gives the y below them.
fn columns(canvas: &mut Canvas<'_>, heads: &[String; 2], top: f64) -> Result<f64, PlotError> {
    let mut below = top;
    for ((head, across), colour) in heads.iter().zip(ACROSS).zip(COLOURS) {
        let face = Type { bold: true, ..SMALL.in_colour(colour) };
        let lines = wrap(head, across.1 - across.0 + FIGURE, face, 3)?;
        let y = draw_lines(canvas, &lines, (across.0, top + face.size), face)?;
        below = below.max(y);
    }
    Ok(below - 6.0)
}

/// One axis a column, from zero.
fn scales(input: &KnowingPicture) -> [Scale; 2] {
    let rows = || input.parts.iter().flat_map(|part| &part.rows);
    let most = |bars: &mut dyn Iterator<Item = f64>| {
        let least = drawable(input.least).unwrap_or(0.0).max(0.0);
        let most = bars.filter_map(drawable).fold(least, f64::max);
        if most > 0.0 { most * 1.02 } else { 1.0 }
    };
    let ends = |bar: &KnowingBar| [bar.value, bar.ends.1];
    let noises = input.parts.iter().filter_map(noise);
    let first = most(&mut rows().flat_map(|row| ends(&row.value)).chain(noises));
    let second = most(&mut rows().filter_map(|row| row.moved.as_ref()).flat_map(ends));
    let scale = |most: f64, px: (f64, f64)| Scale { range: (0.0, most), px };
    [scale(first, ACROSS[0]), scale(second, ACROSS[1])]
}

/// Draws one part; gives the y below it.
fn draw_part(
    canvas: &mut Canvas<'_>,
    part: &KnowingPart,
    scales: &[Scale; 2],
    top: f64,
) -> Result<f64, PlotError> {
    canvas.line((EDGE, top), (WIDTH - EDGE, top), Stroke::solid(GRID, 1.5))?;
    canvas.text(&part.title, (EDGE, top + 4.0 + HEAD.size), HEAD)?;
    let top = top + 12.0 + HEAD.size;
    let words = part
        .rows
        .iter()
        .map(|row| Ok((wrap(&row.name, NAMES, NAME, 3)?, wrap(&row.how, NAMES, SMALL, 4)?)))
        .collect::<Result<Vec<_>, PlotError>>()?;
    let high = |(name, how): &(Vec<String>, Vec<String>)| {
        let text = name.len() as f64 * NAME.leading() + how.len() as f64 * SMALL.leading();
        text.max(THICK) + 11.0
    };
    let bottom = top + words.iter().map(high).sum::<f64>() + 2.0;
    if let Some(noise) = noise(part) {
        let (left, right) = (scales[0].at(0.0), scales[0].at(noise));
        canvas.rect((left, top), (right - left, bottom - top), QUIET, GREY)?;
    }
    let mut y = top;
    for (row, text) in part.rows.iter().zip(&words) {
        let first = y + 5.0 + 0.9 * NAME.size;
        let next = draw_lines(canvas, &text.0, (EDGE, first), NAME)?;
        draw_lines(canvas, &text.1, (EDGE, next - NAME.leading() + SMALL.leading()), SMALL)?;
        let middle = y + 5.0 + 0.55 * NAME.leading();
        draw_bar(canvas, &row.value, &scales[0], COLOURS[0], middle)?;
        if let Some(moved) = &row.moved {
            draw_bar(canvas, moved, &scales[1], COLOURS[1], middle)?;
        }
        y += high(text);
    }
    for scale in scales {
        let zero = scale.at(0.0);
        canvas.line((zero, top), (zero, bottom), Stroke::solid(INK, 1.6))?;
    }
    Ok(bottom + 8.0)
}

fn draw_bar(
    canvas: &mut Canvas<'_>,
    bar: &KnowingBar,
    scale: &Scale,
    colour: RGBColor,
    y: f64,
) -> Result<(), PlotError> {
    let zero = scale.at(0.0);
    let mut right = zero;
    if let Some(value) = drawable(bar.value) {
        right = scale.at(value);
        let opacity = if bar.clear { FILLED } else { 0.3 };
        canvas.rect((zero, y - THICK / 2.0), (right - zero, THICK), colour, opacity)?;
    }
    if let (Some(low), Some(high)) = (drawable(bar.ends.0), drawable(bar.ends.1)) {
        let (low, high) = (scale.at(low), scale.at(high));
        if high > low {
            let whisker = Stroke::solid(INK, 2.0);
            canvas.line((low, y), (high, y), whisker)?;
            for end in [low, high] {
                canvas.line((end, y - CAP), (end, y + CAP), whisker)?;
            }
        }
        right = right.max(high);
    }
    let face = if bar.clear { Type { bold: true, ..SMALL.in_colour(INK) } } else { SMALL };
    let room = scale.px.1 + FIGURE - right - 7.0;
    canvas.text(&shorten(&bar.text, room, face)?, (right + 7.0, y + 0.36 * face.size), face)
}

/// Draws the numbers below both axes; gives the y below them.
fn axes(canvas: &mut Canvas<'_>, scales: &[Scale; 2], top: f64) -> Result<f64, PlotError> {
    let face = SMALL.at(Anchor::Middle);
    for scale in scales {
        canvas.line((scale.px.0, top), (scale.px.1, top), Stroke::solid(QUIET, 1.2))?;
        let ticks = scale.ticks(2);
        let mut free = f64::NEG_INFINITY;
        for &value in &ticks.values {
            let at = scale.at(value);
            canvas.line((at, top), (at, top + 5.0), Stroke::solid(QUIET, 1.2))?;
            let label = ticks.label(value);
            let half = width(&label, face)? / 2.0;
            if at - half >= free {
                canvas.text(&label, (at, top + 6.0 + face.size), face)?;
                free = at + half + 8.0;
            }
        }
    }
    Ok(top + 6.0 + face.size + 2.0)
}
