//! The barrier: how it wears off over a season, and the flush of crabgrass behind it.

use crate::axis::{Frame, Scale, airy, calendar, extent};
use crate::bands::{FILL, draw_between, draw_medians, draw_series, draw_spread};
use crate::canvas::{Canvas, Stroke, draw, width};
use crate::error::PlotError;
use crate::header::{KeyMark, ROOM, band_key, foot, head, key};
use crate::input::{BandSeries, Caption, Dates, ProgramStyle, check_length};
use crate::labels::dodge;
use crate::overview::panel_head;
use crate::picture::Picture;
use crate::style::{Anchor, EDGE, HEAD, INK, Look, MISS, QUIET, SMALL, WIDTH, look};
use crate::text::{draw_lines, shorten, wrap};

/// One application of the barrier, over the futures. Days are counted from the first date, 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Application {
    /// "1st", "second half".
    pub label: String,
    /// Early: 5 % of the futures have it before.
    pub early_day: f64,
    /// The middle future's day.
    pub usual_day: f64,
    /// Late: 95 % of the futures have had it.
    pub late_day: f64,
}

/// One program's barrier over the season.
#[derive(Clone, Debug, PartialEq)]
pub struct BarrierProgram {
    /// Its name and place.
    pub style: ProgramStyle,
    /// Share of emerging crabgrass that the barrier would stop, %, 0 to 100.
    pub strength: BandSeries,
    /// Seedlings that try to come up, a day.
    pub trying: Vec<f64>,
    /// Of these, seedlings that come through, a day.
    pub through: Vec<f64>,
    /// When it is laid.
    pub applications: Vec<Application>,
    /// What came of it: "38 plants per m² come through".
    pub result: Option<String>,
}

/// What goes into [`barrier()`].
#[derive(Clone, Debug, PartialEq)]
pub struct BarrierPicture {
    /// Its words.
    pub caption: Caption,
    /// The days of every series: one season.
    pub dates: Dates,
    /// Unit of the seedlings: "per m² a day".
    pub seedlings_unit: String,
    /// One over the other, with the same axes.
    pub programs: Vec<BarrierProgram>,
}

const ACROSS: (f64, f64) = (58.0, WIDTH - EDGE - 6.0);
const STRENGTH_HIGH: f64 = 104.0;
const FLUSH_HIGH: f64 = 104.0;

/// Draws the barrier and the flush behind it.
///
/// # Errors
/// [`PlotError::Empty`] without days or programs; [`PlotError::Length`] where a series does not
/// fit the days.
pub fn barrier(input: &BarrierPicture) -> Result<Picture, PlotError> {
    input.dates.check()?;
    if input.programs.is_empty() {
        return Err(PlotError::Empty { what: "programs" });
    }
    for program in &input.programs {
        let what = format!("program \"{}\"", program.style.name);
        program.strength.check(input.dates.days, &what)?;
        check_length(&program.trying, input.dates.days, &what)?;
        check_length(&program.through, input.dates.days, &what)?;
    }
    let seedlings = input.programs.iter().flat_map(|p| p.trying.iter().chain(&p.through).copied());
    let most = extent(seedlings, Some((0.0, 0.0))).map_or(1.0, |range| range.1);
    let flush_range = (0.0, if most > 0.0 { airy((0.0, most), 0.05).1 } else { 1.0 });
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        y = key(canvas, &marks(), y + 4.0)?;
        y = key(canvas, &band_key(QUIET), y)? + 6.0;
        for program in &input.programs {
            y = draw_program(canvas, input, program, flush_range, y)? + 10.0;
        }
        foot(canvas, &input.caption, y - 10.0)
    })
}

/// How solid the seedlings that try are drawn: darker than a band, so that a key can tell them apart.
const TRYING: f64 = 0.6;

fn marks() -> [(KeyMark, String); 2] {
    [
        (KeyMark::Patch(QUIET, TRYING), "seedlings that try to come up".to_owned()),
        (KeyMark::Patch(MISS, 1.0), "come through".to_owned()),
    ]
}

/// Draws one program's block; gives the y below it.
fn draw_program(
    canvas: &mut Canvas<'_>,
    input: &BarrierPicture,
    program: &BarrierProgram,
    flush_range: (f64, f64),
    top: f64,
) -> Result<f64, PlotError> {
    let colours = look(program.style.place);
    let y = block_head(canvas, program, colours, top)?;
    let days = input.dates.days;
    let lanes = application_lanes(canvas, program, days, y + 4.0)?;
    let top = panel_head(canvas, "Barrier", "% of emerging crabgrass that it stops", lanes)?;
    let bottom = top + STRENGTH_HIGH;
    let range = extent(program.strength.values(), Some((0.0, 100.0))).unwrap_or((0.0, 100.0));
    let frame = Frame::new(days, ACROSS, Scale { range, px: (bottom, top) });
    frame.value_axis(canvas, 3)?;
    let zero = vec![0.0; days];
    draw_between(canvas, &frame, (&zero, &program.strength.p50), colours.colour, 0.1)?;
    let solid = Look { dash: None, ..colours };
    draw_spread(canvas, &frame, &program.strength, solid, FILL)?;
    draw_medians(canvas, &frame, &[(&program.strength.p50, solid)])?;
    let head = bottom + 8.0;
    let flush_top = panel_head(canvas, "Crabgrass seedlings", &input.seedlings_unit, head)?;
    let flush_bottom = flush_top + FLUSH_HIGH;
    let flush =
        Frame::new(days, ACROSS, Scale { range: flush_range, px: (flush_bottom, flush_top) });
    flush.value_axis(canvas, 3)?;
    draw_between(canvas, &flush, (&zero, &program.trying), QUIET, TRYING)?;
    draw_series(canvas, &flush, &program.trying, Stroke::solid(QUIET, 1.4))?;
    draw_between(canvas, &flush, (&zero, &program.through), MISS, 1.0)?;
    for a in program.applications.iter().filter(|a| a.usual_day.is_finite()) {
        let x = frame.x.at(a.usual_day + 0.5);
        let dashed = Stroke { dash: Some((5.0, 4.0)), ..Stroke::solid(INK, 1.4) };
        canvas.line((x, top), (x, bottom), dashed)?;
        canvas.line((x, flush_top), (x, flush_bottom), dashed)?;
    }
    calendar(canvas, &input.dates, &frame.x, flush_bottom)
}

/// Draws the program's name and result; gives the y below them.
fn block_head(
    canvas: &mut Canvas<'_>,
    program: &BarrierProgram,
    colours: Look,
    top: f64,
) -> Result<f64, PlotError> {
    let y = top + 6.0;
    canvas.rect((EDGE, y), (ROOM, 2.0), colours.colour, 1.0)?;
    let name = wrap(&program.style.name, ROOM, HEAD, 2)?;
    let y = draw_lines(canvas, &name, (EDGE, y + 8.0 + HEAD.size), HEAD.in_colour(colours.text))?;
    let Some(result) = &program.result else { return Ok(y - HEAD.leading() + 4.0) };
    let face = HEAD.in_colour(INK);
    let lines = wrap(result, ROOM, face, 2)?;
    Ok(draw_lines(canvas, &lines, (EDGE, y), face)? - face.leading() + 4.0)
}

/// Draws the lane that says when the barrier is laid: label, usual day and spread of each
/// application; gives the y below it.
fn application_lanes(
    canvas: &mut Canvas<'_>,
    program: &BarrierProgram,
    days: usize,
    top: f64,
) -> Result<f64, PlotError> {
    let shown: Vec<&Application> =
        program.applications.iter().filter(|a| a.usual_day.is_finite()).collect();
    if shown.is_empty() {
        return Ok(top);
    }
    let x = Scale { range: (0.0, days as f64), px: ACROSS };
    let face = SMALL.in_colour(INK);
    let room = (ACROSS.1 - ACROSS.0) / shown.len() as f64 - 12.0;
    let mut labels = Vec::new();
    let mut wanted = Vec::new();
    for a in &shown {
        let label = shorten(&a.label, room, face)?;
        wanted.push((x.at(a.usual_day + 0.5), width(&label, face)? + 12.0));
        labels.push(label);
    }
    let baseline = top + SMALL.size;
    let lane = baseline + 11.0;
    let lefts = dodge(&wanted, ACROSS.0 - 40.0, ACROSS.1 + 8.0);
    for (((a, label), left), (at, wide)) in shown.iter().zip(&labels).zip(lefts).zip(&wanted) {
        canvas.text(label, (left + wide / 2.0, baseline), face.at(Anchor::Middle))?;
        let ends =
            [a.early_day, a.late_day].map(|d| if d.is_finite() { x.at(d + 0.5) } else { *at });
        let (low, high) = (ends[0].min(*at), ends[1].max(*at));
        canvas.rect((low, lane - 3.0), ((high - low).max(2.0), 6.0), QUIET, 0.45)?;
        let tip = [(at - 7.0, lane - 6.0), (at + 7.0, lane - 6.0), (*at, lane + 7.0)];
        canvas.fill(&tip, INK, 1.0)?;
    }
    Ok(lane + 10.0)
}
