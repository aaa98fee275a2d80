//! Practices, cues, holds and slips: a morning's signs become acts.
//!
//! [`Orders`] is a program made ready for a run's calendar, shared by all members; a [`Runner`]
//! walks one member through it. Cues and holds read last evening's lawn and this morning's
//! forecast, never the record of the day to come.

mod crew;
mod cue;
mod hold;
mod labour;
mod slip;

pub use crew::{Job, Orders, Runner};
pub use hold::{ground_closed, holds, within};
pub use labour::{
    Toll, ground, mowing_m2_per_minute, tap_mm, toll, toll_of, toll_on, top_up, travel,
};
pub use slip::{Slip, week_of};
