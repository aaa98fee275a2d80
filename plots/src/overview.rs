//! The overview: stacked panels under one time axis, and when the crew came.

use crate::axis::{Frame, Scale, airy, calendar, extent, year_lines};
use crate::bands::{FILL, draw_medians, draw_spread, last};
use crate::canvas::{Canvas, Stroke, draw};
use crate::error::PlotError;
use crate::header::{band_key, foot, head, key, program_key};
use crate::input::{BandSeries, Caption, Dates, Mark, ProgramStyle};
use crate::labels::{Label, draw_labels, least_height};
use crate::picture::Picture;
use crate::strips::{PracticeTicks, check, draw_strips};
use crate::style::{EDGE, HEAD, INK, QUIET, SMALL, WIDTH, look};
use crate::text::shorten;

/// One quantity of every program over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// The quantity: "Turf cover".
    pub title: String,
    /// Its unit in words: "% of the lawn".
    pub unit: String,
    /// The axis shows at least this (low, high); the data where `None`. It grows to hold the data.
    pub range: Option<(f64, f64)>,
    /// One band a program, in the order of the picture's programs.
    pub series: Vec<BandSeries>,
    /// The line that is good enough, where there is one.
    pub acceptable: Option<Mark>,
    /// What was really seen; may be empty.
    pub seen: Vec<Seen>,
}

/// One look at the lawn: a dot with its give or take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Its day, from the first.
    pub day: usize,
    /// What was seen, in the panel's unit.
    pub value: f64,
    /// As far off as it may easily be, in the same unit.
    pub give_or_take: f64,
}

/// What goes into [`overview()`].
#[derive(Clone, Debug, PartialEq)]
pub struct Overview {
    /// Its words.
    pub caption: Caption,
    /// The days of every series.
    pub dates: Dates,
    /// The programs, at least one.
    pub programs: Vec<ProgramStyle>,
    /// From top to bottom, at least one.
    pub panels: Vec<Panel>,
    /// When the work falls; may be empty.
    pub ticks: Vec<PracticeTicks>,
    /// Last day of what has been, where the programs begin within the run, and what to write there.
    pub today: Option<(usize, String)>,
}

/// Px across: the plots, and the labels to their right.
const ACROSS: (f64, f64) = (58.0, 560.0);
/// Least height of a plot, px.
const HIGH: f64 = 116.0;

/// Draws the overview.
///
/// # Errors
/// [`PlotError::Empty`] without days, programs or panels; [`PlotError::Length`] where a series
/// does not fit the days or a panel the programs; [`PlotError::UnknownProgram`] for ticks of no
/// program.
pub fn overview(input: &Overview) -> Result<Picture, PlotError> {
    check_input(input)?;
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &program_key(&input.programs), y + 4.0)?;
        y = key(canvas, &band_key(QUIET), y)? + 8.0;
        for (nth, panel) in input.panels.iter().enumerate() {
            y = draw_panel(canvas, input, (panel, nth == 0), y)?;
        }
        let x = Frame::new(input.dates.days, ACROSS, Scale { range: (0.0, 1.0), px: (0.0, 1.0) }).x;
        y = calendar(canvas, &input.dates, &x, y - 8.0)? + 10.0;
        let room = WIDTH - EDGE - ACROSS.1 - 8.0;
        y = draw_strips(canvas, &input.ticks, &input.programs, &x, room, y)?;
        foot(canvas, &input.caption, y)
    })
}

fn check_input(input: &Overview) -> Result<(), PlotError> {
    input.dates.check()?;
    for (empty, what) in
        [(input.programs.is_empty(), "programs"), (input.panels.is_empty(), "panels")]
    {
        if empty {
            return Err(PlotError::Empty { what });
        }
    }
    for panel in &input.panels {
        let what = format!("panel \"{}\"", panel.title);
        if panel.series.len() != input.programs.len() {
            let (expected, found) = (input.programs.len(), panel.series.len());
            return Err(PlotError::Length { what, expected, found });
        }
        for band in &panel.series {
            band.check(input.dates.days, &what)?;
        }
    }
    check(&input.ticks, input.programs.len(), &input.dates)
}

/// Draws a panel with its head and labels; gives the y below it.
fn draw_panel(
    canvas: &mut Canvas<'_>,
    input: &Overview,
    (panel, first): (&Panel, bool),
    top: f64,
) -> Result<f64, PlotError> {
    let top = panel_head(canvas, &panel.title, &panel.unit, top)?;
    let labels = panel.series.len() + usize::from(panel.acceptable.is_some());
    let bottom = top + HIGH.max(least_height(labels));
    let values = panel.series.iter().flat_map(BandSeries::values);
    let marks = panel.acceptable.iter().map(|m| m.value);
    let seen = panel.seen.iter().flat_map(|s| [s.value - s.give_or_take, s.value + s.give_or_take]);
    let Some(range) = extent(values.chain(marks).chain(seen), panel.range) else {
        canvas.text("nothing to show", (ACROSS.0, (top + bottom) / 2.0), SMALL)?;
        return Ok(bottom + 16.0);
    };
    let air = if panel.range == Some(range) { 0.0 } else { 0.04 };
    let y = Scale {
        range: if air > 0.0 || range.0 == range.1 { airy(range, 0.04) } else { range },
        px: (bottom, top),
    };
    let frame = Frame::new(input.dates.days, ACROSS, y);
    frame.value_axis(canvas, 4)?;
    year_lines(canvas, &input.dates, &frame)?;
    draw_bands(canvas, input, panel, &frame)?;
    draw_today(canvas, input, &frame, (top, bottom), first)?;
    for seen in panel.seen.iter().filter(|seen| seen.day < input.dates.days) {
        draw_seen(canvas, seen, &frame)?;
    }
    let room = WIDTH - EDGE - ACROSS.1;
    draw_labels(canvas, &end_labels(input, panel, &frame, first), ACROSS.1, room, (top, bottom))?;
    Ok(bottom + 16.0)
}

/// A line where what has been ends and the programs begin; the first panel says so.
fn draw_today(
    canvas: &mut Canvas<'_>,
    input: &Overview,
    frame: &Frame,
    (top, bottom): (f64, f64),
    first: bool,
) -> Result<(), PlotError> {
    let Some((day, label)) = &input.today else { return Ok(()) };
    let x = frame.day((*day).min(input.dates.days.saturating_sub(1)));
    canvas.line((x, top - 2.0), (x, bottom), Stroke::solid(INK, 1.2))?;
    if first {
        let label = shorten(label, ACROSS.1 - ACROSS.0, SMALL)?;
        let wide = crate::canvas::width(&label, SMALL)?;
        // On the side of the past, where bands are narrow, if there is room.
        let left = if x - 6.0 - wide >= ACROSS.0 { x - 6.0 - wide } else { x + 6.0 };
        canvas.text(&label, (left, bottom - 6.0), SMALL.in_colour(INK))?;
    }
    Ok(())
}

/// A dot for what was seen, on a stroke for how far off it may easily be.
fn draw_seen(canvas: &mut Canvas<'_>, seen: &Seen, frame: &Frame) -> Result<(), PlotError> {
    let x = frame.day(seen.day);
    let (low, high) = (seen.value - seen.give_or_take, seen.value + seen.give_or_take);
    canvas.line((x, frame.y.at(low)), (x, frame.y.at(high)), Stroke::solid(INK, 2.0))?;
    canvas.disc((x, frame.y.at(seen.value)), 4.5, INK)
}

/// Draws the title and unit of a panel; gives the y below them.
pub(crate) fn panel_head(
    canvas: &mut Canvas<'_>,
    title: &str,
    unit: &str,
    top: f64,
) -> Result<f64, PlotError> {
    let baseline = top + HEAD.size;
    let title = shorten(title, 400.0, HEAD)?;
    let used = crate::canvas::width(&title, HEAD)? + 8.0;
    canvas.text(&title, (EDGE, baseline), HEAD)?;
    let unit = shorten(unit, WIDTH - 2.0 * EDGE - used, SMALL)?;
    canvas.text(&unit, (EDGE + used, baseline), SMALL)?;
    Ok(baseline + 14.0)
}

fn draw_bands(
    canvas: &mut Canvas<'_>,
    input: &Overview,
    panel: &Panel,
    frame: &Frame,
) -> Result<(), PlotError> {
    let all = || panel.series.iter().zip(&input.programs);
    // Fills that lie on each other stay pale, so that no colour is mixed that no program has.
    let fill = FILL / (panel.series.len() as f64).sqrt();
    for (band, program) in all() {
        draw_spread(canvas, frame, band, look(program.place), fill)?;
    }
    if let Some(mark) = &panel.acceptable {
        let y = frame.y.at(mark.value);
        canvas.line((frame.x.px.0, y), (frame.x.px.1, y), Stroke::solid(INK, 1.6))?;
    }
    let medians: Vec<_> =
        all().map(|(band, program)| (band.p50.as_slice(), look(program.place))).collect();
    draw_medians(canvas, frame, &medians)
}

/// Labels at the ends of lines. Where ends lie too close to be told apart, only the first panel
/// names them; the key does for the others.
fn end_labels(input: &Overview, panel: &Panel, frame: &Frame, first: bool) -> Vec<Label> {
    let mut labels: Vec<Label> = panel
        .series
        .iter()
        .zip(&input.programs)
        .map(|(band, program)| Label {
            y: Some(last(&band.p50)).filter(|v| v.is_finite()).map_or(f64::NAN, |v| frame.y.at(v)),
            text: program.tight().to_owned(),
            face: SMALL.in_colour(look(program.place).text),
            leader: true,
        })
        .collect();
    if !first && !apart(&labels) {
        labels.clear();
    }
    if let Some(mark) = &panel.acceptable {
        labels.push(Label {
            y: frame.y.at(mark.value),
            text: mark.label.clone(),
            face: SMALL.in_colour(QUIET),
            leader: true,
        });
    }
    labels
}

/// Whether all ends lie at least half a line of text apart.
fn apart(labels: &[Label]) -> bool {
    let mut ends: Vec<f64> = labels.iter().map(|l| l.y).filter(|y| y.is_finite()).collect();
    ends.sort_by(f64::total_cmp);
    ends.windows(2).all(|pair| pair[1] - pair[0] >= 0.5 * SMALL.leading())
}
