//! Bands and outcomes in, pictures out.
//!
//! A client looks for four seconds at a phone. Each picture carries one message, in its title,
//! which the caller writes. The crate knows nothing of lawns or of how its numbers were made.
//!
//! | picture | shows |
//! |---|---|
//! | [`overview`] | stacked bands of each program under one time axis, and when the crew came |
//! | [`contrast`] | the paired difference of two programs over time, with zero drawn |
//! | [`barrier`] | how the barrier wears off, and the flush of crabgrass behind it |
//! | [`dots`] | one outcome as countable dots, a row a program |
//! | [`scorecard`] | outcomes beside cost and hours |
//!
//! Each gives a [`Picture`]: SVG text, and PNG bytes of it on demand, in the same font. The same
//! input gives the same bytes.
//!
//! Seasons are drawn as dots or as bands: the median, the middle half of the seasons (25 to 75 %)
//! and nine in ten (5 to 95 %), day by day.

mod axis;
mod bands;
mod barrier;
mod canvas;
mod contrast;
mod dots;
mod error;
mod header;
mod input;
mod labels;
mod overview;
mod picture;
mod scorecard;
mod strips;
mod style;
mod text;

pub use barrier::{Application, BarrierPicture, BarrierProgram, barrier};
pub use contrast::{ContrastPanel, ContrastPicture, contrast};
pub use dots::{Better, DotRow, DotsPicture, dots, quantile_dots};
pub use error::PlotError;
pub use input::{BandSeries, Caption, Dates, Mark, ProgramStyle};
pub use overview::{Overview, Panel, overview};
pub use picture::Picture;
pub use scorecard::{ScoreCell, ScoreRow, Scorecard, scorecard};
pub use strips::PracticeTicks;
