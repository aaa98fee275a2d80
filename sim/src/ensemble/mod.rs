//! Members, tiles, bands and contrasts: many possible seasons, the same for every program.

mod bands;
mod bins;
pub mod condition;
mod contrasts;
pub mod facts;
mod gather;
pub mod odds;
mod results;
mod run;
pub mod spread;
mod world;

pub use crate::draw;
pub use bands::{QUANTILES, bands, quantile_sorted};
pub use contrasts::{contrasts, paired};
pub use facts::{Constants, Facts};
pub(crate) use gather::record_years;
pub(crate) use results::column;
pub use results::*;
pub use run::{RunFault, RunPlan, World, run_with};
pub use world::{northern, run, run_explained, tracks};
