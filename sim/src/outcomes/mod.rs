//! Outcomes: one number for a whole track, each with its unit, its better direction and the
//! least difference that matters.

mod almanac;
mod folds;
mod kinds;
mod tally;

pub use almanac::{Almanac, Mark};
pub use kinds::*;
pub use tally::Tally;
