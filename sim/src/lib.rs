//! The lawn model and the ensemble of swardplay.
//!
//! One way through: scenario text -> checked [`scenario`] -> members ([`ensemble`], [`weather`])
//! -> tracks ([`season`]: [`program`] and [`lawn`]) -> bands and [`outcomes`], and the questions of
//! [`analysis`]. Nothing here reads a
//! file, a clock, the environment or a global; nothing prints.
#![deny(rustdoc::broken_intra_doc_links)]

pub mod analysis;
pub mod calendar;
pub mod climate;
pub mod draw;
pub mod ensemble;
pub mod lawn;
pub mod outcomes;
pub mod parameters;
pub mod program;
pub mod quantity;
pub mod scenario;
pub mod season;
pub mod study;
pub mod weather;
pub mod work;
