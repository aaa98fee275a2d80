//! Published studies as data, run on the real model.

mod acts;
mod check;
mod run;
mod series;
mod text;

pub use check::{CheckResult, check};
pub use run::{Stations, StudyTrack, StudyTracks, run};
pub use series::position as series_position;
pub use text::*;
