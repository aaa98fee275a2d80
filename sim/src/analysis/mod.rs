//! Questions asked of many runs: which practice is owed what, when a practice had best happen.
//! Everything here plays members as [`crate::ensemble`] makes them, so every answer is paired.

pub mod credit;
pub mod diary;
pub mod lesson;
pub mod measure_first;
pub mod seasons;
pub mod sheet;
pub mod thrift;
pub mod typical;
pub mod when;
