//! Members, tiles, bands and contrasts: many possible seasons, the same for every program.

mod bands;
mod bins;
pub mod condition;
mod contrasts;
pub mod factors;
pub mod facts;
mod gather;
pub mod odds;
mod part;
mod results;
mod retell;
mod run;
pub mod spread;
mod world;

pub use crate::draw;
pub use bands::{QUANTILES, bands, quantile_sorted};
pub use contrasts::{contrasts, mean_and_error, paired, paired_mean};
pub use factors::{Factor, factors};
pub use facts::{Constants, lawn_draw};
pub use part::{Part, PartFault, stretch};
pub(crate) use results::column;
pub use results::*;
pub use retell::{Retold, ToldTrack};
pub(crate) use run::threads;
pub use run::{RunFault, RunPlan, Seen, World, part_with, run_with};
pub use world::{Stage, northern, run, run_and_retell, run_explained, tracks};
