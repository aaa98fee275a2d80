//! What a station's record is like: normals, frosts, when warmth adds up, and whether weather drawn from
//! it looks like it.

mod dates;
mod gates;
mod normals;
mod statistics;
#[cfg(test)]
mod tests;

pub use crate::calendar::MONTHS;
pub use dates::{AIR, SOIL, Warmth, YearDates, dates};
pub use gates::{Comparison, Gate, SHARP_FROST, compare};
pub use normals::{Normal, normals};
pub use statistics::{Mean, Place, Statistics, WET_MM, places};

use crate::weather::{
    PlanFault, Record, SiteTables, WeatherParameters, WeatherPlan, complete_years,
};

/// A record with fewer complete years than this does not tell how years differ. Our judgement; with 8
/// values the standard deviation is known to within -30 % and +80 % (chi-square, 90 %).
pub const YEARS_FEW: usize = 8;

/// What a station's record is like.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// The complete calendar years.
    pub years: Vec<i32>,
    /// The twelve months.
    pub normals: [Normal; 12],
    /// The dates of each complete year.
    pub dates: Vec<YearDates>,
    /// Weather drawn from the record by matched blocks, held against it; or why none can be drawn.
    pub comparison: Result<Comparison, PlanFault>,
}

/// Works it out, with so many synthetic records drawn from a seed.
pub fn climate(record: &Record, p: &WeatherParameters, replicates: u32, seed: u64) -> Climate {
    let tables = SiteTables::new(&record.site, record.anemometer_m);
    Climate {
        years: complete_years(record).into_iter().map(|span| span.year).collect(),
        normals: normals(record, p),
        dates: dates(&record.days, record.first, &tables, p),
        comparison: compare(record, WeatherPlan::MatchedBlocks, replicates, seed, p),
    }
}
