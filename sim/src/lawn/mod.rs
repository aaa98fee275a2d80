//! The lawn: its state and its processes, one file each; [`State::day`] is the order of a day.

pub mod barrier;
pub mod burn;
pub mod clover;
pub mod crabgrass;
pub mod cultivation;
pub mod dandelion;
mod day;
mod evapotranspiration;
pub mod foliar;
mod forb;
pub mod growth;
mod initial;
pub mod iron;
mod leaf;
pub mod ledger;
mod limits;
pub mod measures;
pub mod mowing;
pub mod nitrogen;
pub mod nutsedge;
pub mod organic;
mod plant;
pub mod quality;
pub mod reaction;
pub mod renovation;
pub mod room;
mod root;
mod roots;
pub mod runoff;
pub mod seedbed;
pub mod seeding;
mod setting;
pub mod soil;
pub mod spray;
mod state;
#[cfg(test)]
mod tests_support;
pub mod tillers;
pub mod traffic;
pub mod turning;
pub mod warmth;
pub mod water;

pub use plant::Plant;
pub use setting::{BOTTOM_MM, LAYERS, LawnDraw, Layer, MAX_GRASSES, Setting, THICKNESS_MM};
pub use state::{Evening, Granules, Pool, State, Today, Totals};
