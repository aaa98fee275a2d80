//! Published studies as data, run on the real model.

mod acts;
mod by_month;
mod check;
mod read;
mod reference;
mod run;
mod series;
mod start;
mod text;
mod vet;
mod weather;

pub use by_month::ByMonth;
pub use check::{CheckResult, check};
pub use reference::reference;
pub use run::{StudyTrack, StudyTracks, run};
pub use series::position as series_position;
pub use text::*;
pub use weather::{Source, Sources};

/// Names of all daily series, in order.
pub fn series_names() -> Vec<String> {
    series::all().into_iter().map(|(name, _, _)| name).collect()
}
