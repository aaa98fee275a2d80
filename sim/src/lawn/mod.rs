//! The lawn: its state and its processes, one file each; [`State::day`] is the order of a day.

pub mod barrier;
pub mod crabgrass;
mod day;
pub mod growth;
mod initial;
pub mod ledger;
pub mod measures;
pub mod mowing;
pub mod nitrogen;
pub mod organic;
pub mod quality;
mod room;
pub mod runoff;
pub mod seedbed;
mod setting;
pub mod soil;
mod state;
pub mod tillers;
pub mod water;

pub use setting::{BOTTOM_MM, LAYERS, LawnDraw, Layer, MAX_GRASSES, Setting, THICKNESS_MM};
pub use state::{Granules, Plant, Pool, State, Today, Totals};
