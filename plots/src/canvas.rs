//! The sheet that pictures are drawn on, in px from the top left.
//!
//! The drawing library knows whole pixels only, so everything is drawn eight times as large and
//! shown at an eighth through the view box: curves stay smooth.

use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};

use plotters::backend::DrawingBackend;
use plotters::element::{DashedPathElement, Drawable};
use plotters::prelude::SVGBackend;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontDesc, FontFamily, FontStyle, RGBColor, ShapeStyle, TextStyle};

use crate::error::PlotError;
use crate::input::Caption;
use crate::picture::Picture;
use crate::style::{Anchor, INK, Type, WIDTH};
use crate::text::clean;

/// A place, px.
pub(crate) type Point = (f64, f64);

/// A place in drawn units.
type BackendCoord = (i32, i32);

/// Drawn units to a px.
const FINE: f64 = 8.0;
/// The drawing library's font size of one em, when it writes SVG...
const EM: f64 = 1.24;
/// ...and when it measures: from DejaVu's lowest to its highest, (1901 + 483)/2048 em, and 1.5 %
/// for what the renderer does with kerning.
const MEASURED_EM: f64 = 2384.0 / 2048.0 * 1.015;
/// Families in order of wish. Verdana has DejaVu's widths.
const FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stroke {
    /// Colour.
    pub colour: RGBColor,
    /// 0 (unseen) to 1.
    pub opacity: f64,
    /// Width, px.
    pub width: f64,
    /// Length of dash and gap, px.
    pub dash: Option<(f64, f64)>,
}

/// A line that is wanted, or that a sentence names.
pub(crate) const DASHED: Stroke =
    Stroke { colour: INK, opacity: 1.0, width: 1.8, dash: Some((7.0, 4.0)) };

impl Stroke {
    /// A solid line.
    pub(crate) fn solid(colour: RGBColor, width: f64) -> Stroke {
        Stroke { colour, opacity: 1.0, width, dash: None }
    }

    fn style(self) -> ShapeStyle {
        let width = ((self.width * FINE).round() as u32).max(1);
        ShapeStyle { color: self.colour.mix(self.opacity), filled: false, stroke_width: width }
    }
}

/// The sheet.
pub(crate) struct Canvas<'a> {
    backend: SVGBackend<'a>,
}

impl Canvas<'_> {
    /// A line through the points.
    pub(crate) fn path(&mut self, points: &[Point], stroke: Stroke) -> Result<(), PlotError> {
        if points.len() < 2 {
            return Ok(());
        }
        let fine: Vec<BackendCoord> = points.iter().map(|&p| whole(p)).collect();
        let style = stroke.style();
        let drawn = match stroke.dash {
            None => self.backend.draw_path(fine, &style),
            Some((dash, gap)) => {
                let (dash, gap) = ((dash * FINE) as i32, (gap * FINE) as i32);
                DashedPathElement::new(fine.iter().copied(), dash, gap, style).draw(
                    fine.iter().copied(),
                    &mut self.backend,
                    (0, 0),
                )
            }
        };
        drawn.map_err(|e| fault(&e))
    }

    /// A straight line.
    pub(crate) fn line(&mut self, from: Point, to: Point, stroke: Stroke) -> Result<(), PlotError> {
        self.path(&[from, to], stroke)
    }

    /// A filled shape.
    pub(crate) fn fill(
        &mut self,
        points: &[Point],
        colour: RGBColor,
        opacity: f64,
    ) -> Result<(), PlotError> {
        let fine = points.iter().map(|&p| whole(p));
        self.backend.fill_polygon(fine, &colour.mix(opacity)).map_err(|e| fault(&e))
    }

    /// A filled rectangle.
    pub(crate) fn rect(
        &mut self,
        corner: Point,
        size: (f64, f64),
        colour: RGBColor,
        opacity: f64,
    ) -> Result<(), PlotError> {
        let far = (corner.0 + size.0, corner.1 + size.1);
        self.backend
            .draw_rect(whole(corner), whole(far), &colour.mix(opacity), true)
            .map_err(|e| fault(&e))
    }

    /// A filled disc.
    pub(crate) fn disc(
        &mut self,
        centre: Point,
        radius: f64,
        colour: RGBColor,
    ) -> Result<(), PlotError> {
        self.circle(centre, radius, Stroke::solid(colour, 0.0), true)
    }

    /// An empty ring; `radius` is to its outer edge.
    pub(crate) fn ring(
        &mut self,
        centre: Point,
        radius: f64,
        stroke: Stroke,
    ) -> Result<(), PlotError> {
        self.circle(centre, radius - stroke.width / 2.0, stroke, false)
    }

    fn circle(
        &mut self,
        centre: Point,
        radius: f64,
        stroke: Stroke,
        filled: bool,
    ) -> Result<(), PlotError> {
        let radius = (radius * FINE).round().max(1.0) as u32;
        self.backend
            .draw_circle(whole(centre), radius, &stroke.style(), filled)
            .map_err(|e| fault(&e))
    }

    /// One line of text; `y` is its baseline.
    pub(crate) fn text(&mut self, text: &str, (x, y): Point, face: Type) -> Result<(), PlotError> {
        let text = clean(text);
        if text.is_empty() {
            return Ok(());
        }
        let across = match face.anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        // The library sets a top-hung text's baseline 0.76 em below its point.
        let top = whole((x, y - 0.76 * face.size));
        let style =
            TextStyle::from(font(face, EM)).color(&face.colour).pos(Pos::new(across, VPos::Top));
        self.backend.draw_text(&text, &style, top).map_err(|e| fault(&e))
    }
}

/// Width of a line of text, px; one or two percent over the drawn width.
pub(crate) fn width(text: &str, face: Type) -> Result<f64, PlotError> {
    register()?;
    let (across, _) =
        font(face, MEASURED_EM).box_size(&clean(text)).map_err(|_| PlotError::Font)?;
    Ok(f64::from(across) / FINE)
}

/// Draws a picture: `body` draws it and gives its height, px.
pub(crate) fn draw(
    caption: &Caption,
    body: impl FnOnce(&mut Canvas<'_>) -> Result<f64, PlotError>,
) -> Result<Picture, PlotError> {
    register()?;
    let mut raw = String::new();
    let height = {
        let backend = SVGBackend::with_string(&mut raw, (0, 0));
        let mut canvas = Canvas { backend };
        let height = body(&mut canvas)?;
        canvas.backend.present().map_err(|e| fault(&e))?;
        height.ceil()
    };
    let svg = with_head(&raw, caption, height);
    Ok(Picture { svg, width: WIDTH as u32, height: height as u32 })
}

/// Gives the drawing its true size, its words for those who cannot see it, and its paper. Only
/// now is the height known.
fn with_head(raw: &str, caption: &Caption, height: f64) -> String {
    let body = raw.split_once(">\n").map_or("", |(_, body)| body);
    let (wide, high) = (WIDTH * FINE, height * FINE);
    let title = escaped(&clean(&caption.title));
    let alt = escaped(&clean(&caption.alt));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}\" height=\"{height}\" \
         viewBox=\"0 0 {wide} {high}\" role=\"img\" stroke-linejoin=\"round\">\n\
         <title>{title}</title>\n<desc>{alt}</desc>\n\
         <rect x=\"0\" y=\"0\" width=\"{wide}\" height=\"{high}\" fill=\"#FFFFFF\"/>\n{body}"
    )
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

fn font(face: Type, em: f64) -> FontDesc<'static> {
    let style = if face.bold { FontStyle::Bold } else { FontStyle::Normal };
    FontDesc::new(FontFamily::Name(FAMILY), face.size * em * FINE, style)
}

/// Makes the built-in font known to the drawing library, once.
fn register() -> Result<(), PlotError> {
    static ONCE: Once = Once::new();
    static GOOD: AtomicBool = AtomicBool::new(false);
    ONCE.call_once(|| {
        let faces =
            [(FontStyle::Normal, dejavu::sans::regular()), (FontStyle::Bold, dejavu::sans::bold())];
        let good = faces
            .into_iter()
            .all(|(style, bytes)| plotters::style::register_font(FAMILY, style, bytes).is_ok());
        GOOD.store(good, Ordering::Release);
    });
    if GOOD.load(Ordering::Acquire) { Ok(()) } else { Err(PlotError::Font) }
}

/// To drawn units. A cast from a float saturates and never fails.
fn whole((x, y): Point) -> BackendCoord {
    ((x * FINE).round() as i32, (y * FINE).round() as i32)
}

fn fault(error: &dyn std::fmt::Display) -> PlotError {
    PlotError::Draw { reason: error.to_string() }
}
