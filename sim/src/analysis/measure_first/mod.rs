//! Which facts, if known, would change the choice between programs.
//!
//! [`facts`] lists what is drawn, [`regression`] smooths an outcome over one fact, [`evppi`] makes the
//! value of knowing it of that, [`group`] the value of knowing all weather or all constants.
//! [`morris`] and [`sobol`] tell how far a fact moves the lawn itself, which may be far without any
//! bearing on the choice. [`elsewhere`] makes the same choice by other outcomes. [`play`] plays what all of these need.

pub mod elsewhere;
pub mod evppi;
pub mod facts;
pub mod group;
pub mod morris;
pub mod play;
pub mod regression;
pub mod sobol;

pub use elsewhere::Elsewhere;
pub use evppi::{Crossing, Knowing, SURE, Switch};
pub use facts::{Group, Subject, stated};
pub use play::{Aim, Asked, Findings, Judged, JudgedGroup, measure_first, plays};
