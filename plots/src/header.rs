//! The words above and below a picture, and the key.

use plotters::style::RGBColor;

use crate::canvas::{Canvas, Point, Stroke, width};
use crate::error::PlotError;
use crate::input::{Caption, ProgramStyle};
use crate::style::{BODY, EDGE, SMALL, SUBTITLE, TITLE, WIDTH, look};
use crate::text::{draw_lines, shorten, wrap, wrap_evenly};

/// Room between the two edges, px.
pub(crate) const ROOM: f64 = WIDTH - 2.0 * EDGE;

/// Draws title and subtitle; gives the y below them.
pub(crate) fn head(canvas: &mut Canvas<'_>, caption: &Caption) -> Result<f64, PlotError> {
    let title = wrap_evenly(&caption.title, ROOM, TITLE, 4)?;
    let mut y = draw_lines(canvas, &title, (EDGE, 12.0 + TITLE.size), TITLE)?;
    y += 8.0 - TITLE.leading();
    if let Some(subtitle) = &caption.subtitle {
        let lines = wrap(subtitle, ROOM, SUBTITLE, 3)?;
        y += SUBTITLE.size + 4.0;
        y = draw_lines(canvas, &lines, (EDGE, y), SUBTITLE)? - SUBTITLE.leading() + 6.0;
    }
    Ok(y)
}

/// Draws the note; gives the height of the whole picture.
pub(crate) fn foot(canvas: &mut Canvas<'_>, caption: &Caption, y: f64) -> Result<f64, PlotError> {
    let Some(note) = &caption.note else { return Ok(y + 10.0) };
    let lines = wrap(note, ROOM, SMALL, 6)?;
    let below = draw_lines(canvas, &lines, (EDGE, y + 10.0 + SMALL.size), SMALL)?;
    Ok(below - SMALL.leading() + 14.0)
}

/// One entry of a key.
pub(crate) enum KeyMark {
    /// A program's median line.
    Program(usize),
    /// A median in a colour.
    Median(RGBColor),
    /// The middle half.
    Half(RGBColor),
    /// Nine in ten.
    Most(RGBColor),
    /// A filled patch of a colour and an opacity.
    Patch(RGBColor, f64),
    /// A ring or a disc for dots.
    Dot {
        /// Its colour.
        colour: RGBColor,
        /// Disc or ring.
        filled: bool,
    },
}

impl KeyMark {
    /// Width of the mark, px.
    fn width(&self) -> f64 {
        if matches!(self, KeyMark::Dot { .. }) { 16.0 } else { 32.0 }
    }
}

/// What the key says of bands in a colour; grey speaks for all programs.
pub(crate) fn band_key(colour: RGBColor) -> [(KeyMark, String); 3] {
    [
        (KeyMark::Median(colour), "middle future".to_owned()),
        (KeyMark::Half(colour), "half of the futures".to_owned()),
        (KeyMark::Most(colour), "9 in 10".to_owned()),
    ]
}

/// What the key says of programs.
pub(crate) fn program_key(programs: &[ProgramStyle]) -> Vec<(KeyMark, String)> {
    programs.iter().map(|p| (KeyMark::Program(p.place), p.name.clone())).collect()
}

/// Draws a key in as many rows as it needs; gives the y below it.
pub(crate) fn key(
    canvas: &mut Canvas<'_>,
    entries: &[(KeyMark, String)],
    top: f64,
) -> Result<f64, PlotError> {
    let leading = BODY.leading() + 4.0;
    let (mut x, mut y) = (EDGE, top + BODY.size + 3.0);
    for (mark, label) in entries {
        let gap = mark.width() + 7.0;
        let label = shorten(label, ROOM - gap, BODY)?;
        let wide = gap + width(&label, BODY)?;
        if x > EDGE && x + wide > WIDTH - EDGE {
            (x, y) = (EDGE, y + leading);
        }
        draw_mark(canvas, mark, (x, y - 0.36 * BODY.size))?;
        canvas.text(&label, (x + gap, y), BODY)?;
        x += wide + 16.0;
    }
    Ok(y + 8.0)
}

/// Draws a mark whose left middle is at a point.
fn draw_mark(canvas: &mut Canvas<'_>, mark: &KeyMark, (x, y): Point) -> Result<(), PlotError> {
    let across = mark.width();
    match mark {
        KeyMark::Program(place) => sample(canvas, *place, (x, y), across),
        KeyMark::Median(colour) => {
            canvas.line((x, y), (x + across, y), Stroke::solid(*colour, 3.2))
        }
        KeyMark::Half(colour) => canvas.rect((x, y - 6.0), (across, 12.0), *colour, 0.26),
        KeyMark::Most(colour) => {
            let thin = Stroke::solid(*colour, 1.2);
            canvas.line((x, y - 6.0), (x + across, y - 6.0), thin)?;
            canvas.line((x, y + 6.0), (x + across, y + 6.0), thin)
        }
        KeyMark::Patch(colour, opacity) => {
            canvas.rect((x, y - 6.0), (across, 12.0), *colour, *opacity)
        }
        KeyMark::Dot { colour, filled: true } => canvas.disc((x + 8.0, y), 7.5, *colour),
        KeyMark::Dot { colour, filled: false } => {
            canvas.ring((x + 8.0, y), 7.5, Stroke::solid(*colour, 2.4))
        }
    }
}

/// A short piece of a program's line.
pub(crate) fn sample(
    canvas: &mut Canvas<'_>,
    place: usize,
    (x, y): Point,
    across: f64,
) -> Result<(), PlotError> {
    let look = look(place);
    let stroke = Stroke { colour: look.colour, opacity: 1.0, width: 3.6, dash: look.dash };
    canvas.line((x, y), (x + across, y), stroke)
}
