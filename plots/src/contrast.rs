//! The contrast: the paired difference of two programs over time, with zero drawn.

use crate::axis::{Frame, Scale, airy, calendar, drawable, extent, year_lines};
use crate::bands::{draw_between, draw_median, draw_spread};
use crate::canvas::{Canvas, Stroke, draw};
use crate::error::PlotError;
use crate::header::{ROOM, band_key, foot, head, key};
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
    /// Quantiles of the difference, season by season in the same weather.
    pub band: BandSeries,
    /// What a value above zero means: "more grass when mown weekly".
    pub above: String,
    /// What a value below zero means.
    pub below: String,
    /// Differences smaller than this do not matter (same unit, above 0); shaded around zero.
    pub least: Option<f64>,
}

/// What goes into [`contrast`].
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
const HIGH: f64 = 190.0;
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
        y = key(canvas, &band_key(), y)? + 4.0;
        for panel in &input.panels {
            y = draw_panel(canvas, input, panel, y)? + 14.0;
        }
        foot(canvas, &input.caption, y - 14.0)
    })
}

fn draw_panel(
    canvas: &mut Canvas<'_>,
    input: &ContrastPicture,
    panel: &ContrastPanel,
    top: f64,
) -> Result<f64, PlotError> {
    let top = panel_head(canvas, &panel.title, &panel.unit, top)?;
    let words = BODY.in_colour(INK);
    let above = shorten(&format!("\u{25b2} {}", panel.above), ROOM - ACROSS.0, words)?;
    canvas.text(&above, (ACROSS.0, top + BODY.size), words)?;
    let top = top + BODY.size + 9.0;
    let bottom = top + HIGH;
    let least = panel.least.and_then(drawable).map(f64::abs).filter(|l| *l > 0.0);
    // Zero and the differences that do not matter are shown with room on both sides.
    let around = least.map_or(0.0, |l| 1.3 * l);
    let range = extent(panel.band.values(), Some((-around, around))).unwrap_or((-1.0, 1.0));
    let y = Scale { range: airy(range, 0.06), px: (bottom, top) };
    let frame = Frame::new(input.dates.days, ACROSS, y);
    frame.value_axis(canvas, 5)?;
    year_lines(canvas, &input.dates, &frame)?;
    if let Some(least) = least {
        let days = input.dates.days;
        let (low, high) = (vec![-least; days], vec![least; days]);
        draw_between(canvas, &frame, (&low, &high), QUIET, 0.16)?;
    }
    draw_spread(canvas, &frame, &panel.band, LOOK)?;
    let zero = frame.y.at(0.0);
    canvas.line((ACROSS.0, zero), (ACROSS.1, zero), Stroke::solid(INK, 2.0))?;
    draw_median(canvas, &frame, &panel.band.p50, LOOK)?;
    let below = shorten(&format!("\u{25bc} {}", panel.below), ROOM - ACROSS.0, words)?;
    canvas.text(&below, (ACROSS.0, bottom + 5.0 + BODY.size), words)?;
    let mut end = bottom + BODY.size + 14.0;
    if least.is_some() {
        let y = end + BODY.size;
        canvas.rect((ACROSS.0, y - 11.0), (24.0, 12.0), QUIET, 0.16)?;
        canvas.text("grey: too small to matter", (ACROSS.0 + 31.0, y), BODY.in_colour(QUIET))?;
        end = y + 8.0;
    }
    calendar(canvas, &input.dates, &frame.x, end)
}
