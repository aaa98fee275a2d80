//! What can stand in the way of a picture.

use thiserror::Error;

/// Why a picture could not be made. Missing values (`NaN`, infinities) are no error: they leave a
/// gap.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum PlotError {
    /// There is nothing to draw.
    #[error("the picture has no {what} to draw")]
    Empty {
        /// What is missing: "days", "programs", "panels", "rows".
        what: &'static str,
    },
    /// Two parts of the input disagree in length.
    #[error("{what} has {found} entries, but {expected} are needed")]
    Length {
        /// The part, by its label.
        what: String,
        /// Entries that it should have.
        expected: usize,
        /// Entries that it has.
        found: usize,
    },
    /// A program index points at no program.
    #[error("{what} belongs to program {index}, but there are only {programs} (counted from 0)")]
    UnknownProgram {
        /// The part, by its label.
        what: String,
        /// The index given.
        index: usize,
        /// Number of programs in the picture.
        programs: usize,
    },
    /// The dates leave the calendar (years -9999 to 9999).
    #[error("{days} days from {first} leave the calendar")]
    Dates {
        /// First date.
        first: jiff::civil::Date,
        /// Number of days.
        days: usize,
    },
    /// The built-in font was refused.
    #[error("the built-in font could not be used")]
    Font,
    /// The drawing library failed.
    #[error("could not draw: {reason}")]
    Draw {
        /// In its words.
        reason: String,
    },
    /// The scale of a PNG is not a positive number, or the PNG would be over 16,000 pixels a side.
    #[error("cannot make a PNG at scale {scale}: its sides must be 1 to 16,000 pixels")]
    Scale {
        /// The scale given.
        scale: f64,
    },
    /// The SVG text could not be read back or turned into a PNG.
    #[error("could not turn the SVG into a PNG: {reason}")]
    Raster {
        /// In the library's words.
        reason: String,
    },
}
