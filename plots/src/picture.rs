//! The finished picture: SVG text, and a PNG of it.

use std::sync::{Arc, OnceLock};

use resvg::{tiny_skia, usvg};

use crate::error::PlotError;

/// The longest side of a PNG, px.
const MAX_SIDE: f64 = 16_000.0;

/// A finished picture. The same input gives the same bytes.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The picture as SVG text, with `<title>` and `<desc>`. It asks for DejaVu Sans, else Verdana
    /// (of the same widths), else any sans-serif.
    pub svg: String,
    /// Width at scale 1, px (720).
    pub width: u32,
    /// Height at scale 1, px.
    pub height: u32,
}

impl Picture {
    /// PNG bytes, `scale` times the true size (2 suits phones and print).
    ///
    /// # Errors
    /// [`PlotError::Scale`] unless both sides come to 1 to 16,000 px; [`PlotError::Raster`] where
    /// the SVG was changed to something that cannot be read.
    pub fn png(&self, scale: f64) -> Result<Vec<u8>, PlotError> {
        let width = (f64::from(self.width) * scale).round();
        let height = (f64::from(self.height) * scale).round();
        if !scale.is_finite() || width.min(height) < 1.0 || width.max(height) > MAX_SIDE {
            return Err(PlotError::Scale { scale });
        }
        let raster =
            |reason: &dyn std::fmt::Display| PlotError::Raster { reason: reason.to_string() };
        let tree = usvg::Tree::from_str(&self.svg, &options()).map_err(|e| raster(&e))?;
        let mut pixels = tiny_skia::Pixmap::new(width as u32, height as u32)
            .ok_or(PlotError::Scale { scale })?;
        let transform = tiny_skia::Transform::from_scale(
            width as f32 / tree.size().width(),
            height as f32 / tree.size().height(),
        );
        resvg::render(&tree, transform, &mut pixels.as_mut());
        pixels.encode_png().map_err(|e| raster(&e))
    }
}

/// Reading options with the built-in font and no other.
pub(crate) fn options() -> usvg::Options<'static> {
    static FONTS: OnceLock<Arc<usvg::fontdb::Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut fonts = usvg::fontdb::Database::new();
        fonts.load_font_data(dejavu::sans::regular().to_vec());
        fonts.load_font_data(dejavu::sans::bold().to_vec());
        fonts.set_sans_serif_family("DejaVu Sans");
        Arc::new(fonts)
    });
    usvg::Options {
        font_family: "DejaVu Sans".to_owned(),
        fontdb: Arc::clone(fonts),
        ..usvg::Options::default()
    }
}
