//! From results to what pictures show, titles included. Knows nothing of how they are drawn.

pub mod barrier;
pub mod contrast;
pub mod dots;
pub mod overview;
pub mod scorecard;
pub mod sketch;
pub mod title;

pub use sketch::{Sketch, all};
