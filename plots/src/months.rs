//! Twelve months side by side: bars, a band between two lines, single years as dots, and spreads.

use crate::axis::{Scale, airy, drawable, extent, twelve_months};
use crate::canvas::{Canvas, Stroke, draw};
use crate::error::PlotError;
use crate::header::{KeyMark, foot, head, key};
use crate::input::{Caption, Mark, check_length};
use crate::labels::{Label, draw_labels};
use crate::overview::panel_head;
use crate::picture::Picture;
use crate::style::{EDGE, GRID, INK, QUIET, SMALL, WIDTH, look};
use crate::{axis::Frame, bands::FILL};

/// Quantiles of one quantity in each of twelve months. `NaN` leaves a month out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spread {
    /// 5 % quantiles.
    pub p05: Vec<f64>,
    /// 25 % quantiles.
    pub p25: Vec<f64>,
    /// Medians.
    pub p50: Vec<f64>,
    /// 75 % quantiles.
    pub p75: Vec<f64>,
    /// 95 % quantiles.
    pub p95: Vec<f64>,
}

/// One quantity over the months. Whatever is `None` or empty is not drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MonthPanel {
    /// The quantity: "Rain".
    pub title: String,
    /// Its unit in words: "inches a month".
    pub unit: String,
    /// Twelve bars up from zero.
    pub bars: Option<Vec<f64>>,
    /// Two lines of twelve values with the room between them filled, and what each is: lower, upper.
    pub band: Option<[(Vec<f64>, String); 2]>,
    /// A line of twelve values across the bars, and what it is.
    pub line: Option<(Vec<f64>, String)>,
    /// A spread in each month.
    pub spread: Option<Spread>,
    /// Single years: month from 0, and value.
    pub dots: Vec<(usize, f64)>,
    /// A value worth a line of its own.
    pub mark: Option<Mark>,
}

/// What goes into [`months()`].
#[derive(Clone, Debug, PartialEq)]
pub struct MonthsPicture {
    /// Its words.
    pub caption: Caption,
    /// What a bar is, for the key; used where a panel has bars.
    pub bars: String,
    /// What a dot is.
    pub dots: String,
    /// What the thick and the thin part of a spread are.
    pub spread: [String; 2],
    /// From top to bottom, at least one.
    pub panels: Vec<MonthPanel>,
}

/// Left end of the plots, px; their right end with and without labels beside them.
const LEFT: f64 = 58.0;
const BESIDE_LABELS: f64 = 596.0;
const ALONE: f64 = WIDTH - EDGE - 6.0;
const HIGH: f64 = 190.0;
/// Width of a bar, as a share of its month.
const BAR: f64 = 0.62;
const BAR_INK: f64 = 0.35;
/// Colours by place: bars and spreads, the lower and the upper line of a band, the line across.
const COOL: usize = 0;
const WARM: usize = 2;
const ACROSS_BARS: usize = 1;

/// Draws twelve months.
///
/// # Errors
/// [`PlotError::Empty`] without panels; [`PlotError::Length`] where a series has not twelve values.
pub fn months(input: &MonthsPicture) -> Result<Picture, PlotError> {
    if input.panels.is_empty() {
        return Err(PlotError::Empty { what: "panels" });
    }
    for panel in &input.panels {
        for part in series(panel) {
            check_length(part, 12, &format!("panel \"{}\"", panel.title))?;
        }
    }
    let labelled = |p: &MonthPanel| p.band.is_some() || p.line.is_some() || p.mark.is_some();
    let labels = input.panels.iter().any(labelled);
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &entries(input), y + 4.0)? + 8.0;
        let across = (LEFT, if labels { BESIDE_LABELS } else { ALONE });
        for panel in &input.panels {
            y = draw_panel(canvas, panel, across, y)? + 14.0;
        }
        foot(canvas, &input.caption, y - 14.0)
    })
}

/// Every series of twelve in a panel.
fn series(panel: &MonthPanel) -> Vec<&[f64]> {
    let mut all: Vec<&[f64]> = vec![];
    all.extend(panel.bars.as_deref());
    all.extend(panel.band.iter().flatten().map(|(values, _)| values.as_slice()));
    all.extend(panel.line.iter().map(|(values, _)| values.as_slice()));
    if let Some(s) = &panel.spread {
        all.extend([&s.p05, &s.p25, &s.p50, &s.p75, &s.p95].map(Vec::as_slice));
    }
    all
}

fn entries(input: &MonthsPicture) -> Vec<(KeyMark, String)> {
    let mut entries = vec![];
    let any = |has: fn(&MonthPanel) -> bool| input.panels.iter().any(has);
    if any(|p| p.bars.is_some()) {
        entries.push((KeyMark::Patch(look(COOL).colour, BAR_INK), input.bars.clone()));
    }
    if any(|p| p.spread.is_some()) {
        entries.push((KeyMark::Patch(look(COOL).colour, BAR_INK), input.spread[0].clone()));
        entries.push((KeyMark::Program(COOL), input.spread[1].clone()));
    }
    if any(|p| !p.dots.is_empty()) {
        entries.push((KeyMark::Dot { colour: INK, filled: true }, input.dots.clone()));
    }
    entries
}

fn draw_panel(
    canvas: &mut Canvas<'_>,
    panel: &MonthPanel,
    across: (f64, f64),
    top: f64,
) -> Result<f64, PlotError> {
    let top = panel_head(canvas, &panel.title, &panel.unit, top)?;
    let bottom = top + HIGH;
    let values = series(panel).into_iter().flatten().copied();
    let values = values.chain(panel.dots.iter().map(|dot| dot.1));
    let values = values.chain(panel.mark.iter().map(|mark| mark.value));
    let zero = panel.bars.as_ref().map(|_| (0.0, 0.0));
    let Some(range) = extent(values, zero) else {
        canvas.text("nothing to show", (across.0, (top + bottom) / 2.0), SMALL)?;
        return Ok(bottom + 16.0);
    };
    let (low, high) = airy(range, 0.06);
    // What is never below zero has no axis below it.
    let low = if range.0 >= 0.0 { low.max(0.0) } else { low };
    let frame = Frame::new(12, across, Scale { range: (low, high), px: (bottom, top) });
    frame.value_axis(canvas, 5)?;
    for month in 1..12 {
        let x = frame.x.at(f64::from(month));
        canvas.line((x, top), (x, bottom), Stroke::solid(GRID, 1.0))?;
    }
    let mut labels = vec![];
    if let Some(mark) = &panel.mark {
        let y = frame.y.at(mark.value);
        canvas.line((across.0, y), (across.1, y), Stroke::solid(INK, 1.6))?;
        labels.push(label(y, &mark.label, QUIET));
    }
    draw_bars(canvas, panel, &frame)?;
    // A spread stays readable on top of many dots, and bars under them.
    draw_band(canvas, panel, &frame, &mut labels)?;
    draw_dots(canvas, panel, &frame)?;
    draw_spread(canvas, panel, &frame)?;
    if let Some((values, words)) = &panel.line {
        line(canvas, &frame, values, ACROSS_BARS)?;
        labels.push(at_end(&frame, values, words, ACROSS_BARS));
    }
    draw_labels(canvas, &labels, across.1, WIDTH - EDGE - across.1, (top, bottom))?;
    twelve_months(canvas, &frame.x, bottom)
}

/// The middle of a month, px.
fn middle(frame: &Frame, month: usize) -> f64 {
    frame.x.at(month as f64 + 0.5)
}

fn draw_bars(canvas: &mut Canvas<'_>, panel: &MonthPanel, frame: &Frame) -> Result<(), PlotError> {
    let half = 0.5 * BAR * (frame.x.at(1.0) - frame.x.at(0.0));
    for (month, value) in panel.bars.iter().flatten().enumerate() {
        let Some(value) = drawable(*value) else { continue };
        let (x, y, foot) = (middle(frame, month), frame.y.at(value), frame.y.at(0.0));
        let corner = (x - half, y.min(foot));
        let size = (2.0 * half, (foot - y).abs());
        canvas.rect(corner, size, look(COOL).colour, BAR_INK)?;
        canvas.line((x - half, y), (x + half, y), Stroke::solid(look(COOL).colour, 2.0))?;
    }
    Ok(())
}

fn draw_spread(
    canvas: &mut Canvas<'_>,
    panel: &MonthPanel,
    frame: &Frame,
) -> Result<(), PlotError> {
    let Some(spread) = &panel.spread else { return Ok(()) };
    let half = 0.5 * BAR * (frame.x.at(1.0) - frame.x.at(0.0));
    let colour = look(COOL).colour;
    for month in 0..12 {
        let values = [
            spread.p05[month],
            spread.p25[month],
            spread.p50[month],
            spread.p75[month],
            spread.p95[month],
        ];
        if values.iter().any(|v| drawable(*v).is_none()) {
            continue;
        }
        let [p05, p25, p50, p75, p95] = values.map(|v| frame.y.at(v));
        let x = middle(frame, month);
        canvas.line((x, p05), (x, p95), Stroke::solid(colour, 2.0))?;
        canvas.rect((x - half, p75), (2.0 * half, p25 - p75), colour, BAR_INK)?;
        canvas.line((x - half, p50), (x + half, p50), Stroke::solid(colour, 3.0))?;
    }
    Ok(())
}

fn draw_band(
    canvas: &mut Canvas<'_>,
    panel: &MonthPanel,
    frame: &Frame,
    labels: &mut Vec<Label>,
) -> Result<(), PlotError> {
    let Some([(lower, low_words), (upper, high_words)]) = &panel.band else { return Ok(()) };
    let whole = |month: &usize| drawable(lower[*month]).and(drawable(upper[*month])).is_some();
    let point = |values: &[f64], month: usize| (middle(frame, month), frame.y.at(values[month]));
    let mut outline: Vec<_> = (0..12).filter(whole).map(|m| point(lower, m)).collect();
    outline.extend((0..12).rev().filter(whole).map(|m| point(upper, m)));
    if outline.len() >= 4 {
        canvas.fill(&outline, look(WARM).colour, FILL)?;
    }
    for (values, words, place) in [(lower, low_words, COOL), (upper, high_words, WARM)] {
        solid(canvas, frame, values, place)?;
        labels.push(at_end(frame, values, words, place));
    }
    Ok(())
}

/// Single years, moved aside where they would hide one another.
fn draw_dots(canvas: &mut Canvas<'_>, panel: &MonthPanel, frame: &Frame) -> Result<(), PlotError> {
    let most = (0..12).map(|m| panel.dots.iter().filter(|d| d.0 == m).count()).max().unwrap_or(0);
    let radius = if most > 16 { 1.8 } else { 3.2 };
    let room = 0.5 * BAR * (frame.x.at(1.0) - frame.x.at(0.0)) - radius;
    for month in 0..12 {
        let mut ys: Vec<f64> = panel
            .dots
            .iter()
            .filter(|dot| dot.0 == month && drawable(dot.1).is_some())
            .map(|dot| frame.y.at(dot.1))
            .collect();
        ys.sort_by(f64::total_cmp);
        let mut last: Vec<f64> = vec![];
        for y in ys {
            // The first lane, from the middle outwards, in which the dot touches no other.
            let lane = last.iter().position(|other| y - other >= 2.0 * radius);
            let lane = lane.unwrap_or_else(|| {
                last.push(y);
                last.len() - 1
            });
            last[lane] = y;
            let step = 2.0 * radius * lane.div_ceil(2) as f64;
            let aside = if lane % 2 == 0 { -step } else { step };
            let x = middle(frame, month) + aside.clamp(-room, room);
            canvas.disc((x, y), radius, INK)?;
        }
    }
    Ok(())
}

/// A line through the middles of the months, in the dashes of its place.
fn line(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    values: &[f64],
    place: usize,
) -> Result<(), PlotError> {
    let stroke =
        Stroke { colour: look(place).colour, opacity: 1.0, width: 3.2, dash: look(place).dash };
    through(canvas, frame, values, stroke)
}

fn solid(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    values: &[f64],
    place: usize,
) -> Result<(), PlotError> {
    through(canvas, frame, values, Stroke::solid(look(place).colour, 2.8))
}

fn through(
    canvas: &mut Canvas<'_>,
    frame: &Frame,
    values: &[f64],
    stroke: Stroke,
) -> Result<(), PlotError> {
    let points: Vec<_> = (0..12)
        .filter_map(|m| Some((middle(frame, m), frame.y.at(drawable(values[m])?))))
        .collect();
    canvas.path(&points, stroke)
}

fn label(y: f64, text: &str, colour: plotters::style::RGBColor) -> Label {
    Label { y, text: text.to_owned(), face: SMALL.in_colour(colour), leader: true }
}

/// A label at the end of a line.
fn at_end(frame: &Frame, values: &[f64], words: &str, place: usize) -> Label {
    let last = values.iter().rev().copied().find_map(drawable);
    label(last.map_or(f64::NAN, |v| frame.y.at(v)), words, look(place).text)
}
