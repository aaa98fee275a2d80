//! The contrast: the paired difference of two programs over time, with zero drawn.

use crate::axis::{Frame, Scale, airy, calendar, drawable, extent, year_lines};
use crate::bands::{FILL, draw_between, draw_medians, draw_spread};
use crate::canvas::{Canvas, Stroke, draw};
use crate::error::PlotError;
use crate::header::{KeyMark, band_key, foot, head, key};
use crate::input::{BandSeries, Caption, Dates};
use crate::overview::panel_head;
use crate::picture::Picture;
use crate::style::{BODY, EDGE, INK, KEEP, Look, QUIET, WIDTH};
use crate::text::shorten;

/// One difference over time.
#[derive(Clone, Debug, PartialEq)]
pub struct ContrastPanel {
    /// What differs: "Difference in turf cover".
    pub title: String,
    /// Its unit: "% of the lawn".
    pub unit: String,
    /// Quantiles of the difference, future by future in the same weather.
    pub band: BandSeries,
    /// What a value above zero means: "more grass when mown weekly".
    pub above: String,
    /// What a value below zero means.
    pub below: String,
    /// Differences smaller than this do not matter (same unit, above 0); shaded around zero.
    pub least: Option<f64>,
}

/// What goes into [`contrast()`].
#[derive(Clone, Debug, PartialEq)]
pub struct ContrastPicture {
    /// Its words.
    pub caption: Caption,
    /// The days of every series.
    pub dates: Dates,
    /// From top to bottom; one or two read best.
    pub panels: Vec<ContrastPanel>,
}

const ACROSS: (f64, f64) = (58.0, WIDTH - EDGE - 6.0);
const HIGH: f64 = 236.0;
/// Room above and below the data for the words, px.
const SIDES: f64 = 25.0;
/// Opacity of the grey around zero.
const GREY: f64 = 0.16;
const LOOK: Look = Look { colour: KEEP, text: KEEP, dash: None };

/// Draws the contrast. Zero is always on the axis.
///
/// # Errors
/// [`PlotError::Empty`] without days or panels; [`PlotError::Length`] where a band does not fit
/// the days.
pub fn contrast(input: &ContrastPicture) -> Result<Picture, PlotError> {
    input.dates.check()?;
    if input.panels.is_empty() {
        return Err(PlotError::Empty { what: "panels" });
    }
    for panel in &input.panels {
        panel.band.check(input.dates.days, &format!("panel \"{}\"", panel.title))?;
    }
    draw(&input.caption, |canvas| {
        let mut y = head(canvas, &input.caption)?;
        let mut marks = Vec::from(band_key(KEEP));
        if input.panels.iter().any(|p| least(p).is_some()) {
            let patch = KeyMark::Patch(QUIET, GREY);
            marks.push((patch, "too small to matter".to_owned()));
        }
        y = key(canvas, &marks, y + 4.0)? + 6.0;
        for panel in &input.panels {
            y = draw_panel(canvas, input, panel, y)? + 14.0;
        }
        foot(canvas, &input.caption, y - 14.0)
    })
}

/// The least difference that matters, where it can be drawn.
fn least(panel: &ContrastPanel) -> Option<f64> {
    panel.least.and_then(drawable).map(f64::abs).filter(|l| *l > 0.0)
}

fn draw_panel(
    canvas: &mut Canvas<'_>,
    input: &ContrastPicture,
    panel: &ContrastPanel,
    top: f64,
) -> Result<f64, PlotError> {
    let top = panel_head(canvas, &panel.title, &panel.unit, top)?;
    let bottom = top + HIGH;
    let least = least(panel);
    // Zero and the differences that do not matter are shown with room on both sides.
    let around = least.map_or(0.0, |l| 1.3 * l);
    let range = extent(panel.band.values(), Some((-around, around))).unwrap_or((-1.0, 1.0));
    let y = Scale { range: airy(range, 0.06), px: (bottom - SIDES, top + SIDES) };
    let frame = Frame::new(input.dates.days, ACROSS, y);
    frame.value_axis(canvas, 5)?;
    year_lines(canvas, &input.dates, &frame)?;
    if let Some(least) = least {
        let days = input.dates.days;
        let (low, high) = (vec![-least; days], vec![least; days]);
        draw_between(canvas, &frame, (&low, &high), QUIET, GREY)?;
    }
    draw_spread(canvas, &frame, &panel.band, LOOK, FILL)?;
    let zero = frame.y.at(0.0);
    canvas.line((ACROSS.0, zero), (ACROSS.1, zero), Stroke::solid(INK, 2.0))?;
    draw_medians(canvas, &frame, &[(&panel.band.p50, LOOK)])?;
    say_sides(canvas, panel, (top, bottom))?;
    calendar(canvas, &input.dates, &frame.x, bottom)
}

/// Says in words which side is which, in the room kept above and below the data.
fn say_sides(
    canvas: &mut Canvas<'_>,
    panel: &ContrastPanel,
    (top, bottom): (f64, f64),
) -> Result<(), PlotError> {
    let sides = [
        (format!("\u{25b2} {}", panel.above), top + BODY.size),
        (format!("\u{25bc} {}", panel.below), bottom - 7.0),
    ];
    for (words, baseline) in sides {
        let words = shorten(&words, ACROSS.1 - ACROSS.0, BODY)?;
        canvas.text(&words, (ACROSS.0 + 6.0, baseline), BODY)?;
    }
    Ok(())
}
