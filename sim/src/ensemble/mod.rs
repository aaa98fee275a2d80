//! Members, tiles, bands and contrasts: many possible seasons, the same for every program.

mod results;

pub use results::*;
