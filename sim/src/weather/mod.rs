//! The sky: station records, synthetic years, and the day as the lawn feels it.

mod blocks;
mod climatology;
mod columns;
mod csv_line;
pub mod evapotranspiration;
mod forecast;
mod gaps;
mod layout;
mod noaa;
#[cfg(test)]
mod noaa_tests;
mod options;
mod parameters;
mod preamble;
pub mod radiation;
mod readings;
mod record;
#[cfg(test)]
mod record_tests;
#[cfg(test)]
mod records_checks;
mod resample;
#[cfg(test)]
mod resample_tests;
mod site_tables;
mod sky;
mod snow;
mod so_far;
#[cfg(test)]
mod so_far_tests;
mod soil_temperature;
mod stations;
#[cfg(test)]
mod stations_tests;
#[cfg(test)]
mod tests_support;
mod years;

use crate::calendar::Day;

pub use forecast::forecasts;
pub use gaps::{Filled, Gap};
pub use layout::Layout;
pub use options::{Ask, ReadOptions, TableUnits};
pub use parameters::WeatherParameters;
pub use record::{Account, ReadRecord, RecordFault, read_daily_csv, read_record};
pub use resample::{PlanFault, Resampler, draw_days};
pub use site_tables::{SiteDay, SiteTables};
pub use sky::{skies, skies_at};
pub use snow::{SnowDay, is_frozen, snow_day};
pub use so_far::SoFar;
pub use soil_temperature::SoilFilter;
pub use years::{YearSpan, complete_years, days_in_year, is_leap};

/// Where a station or lawn lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// Latitude, degrees north, -66..=66.
    pub latitude_deg: f64,
    /// Elevation above sea level, m.
    pub elevation_m: f64,
}

/// One day of a station record. Optional readings are `None` where the station has none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RecordDay {
    /// Lowest air temperature, degrees C.
    pub t_min_c: f64,
    /// Highest air temperature, degrees C, at least `t_min_c`.
    pub t_max_c: f64,
    /// Rain and melted snow, mm.
    pub precip_mm: f64,
    /// Mean wind at the station's anemometer, m/s.
    pub wind_m_s: Option<f64>,
    /// Solar radiation, MJ/m2/day.
    pub rs_mj_m2: Option<f64>,
    /// Mean relative humidity, %.
    pub rh_pct: Option<f64>,
}

/// A station's gapless daily record.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// The station's name, for people.
    pub name: String,
    /// Where it lies.
    pub site: Site,
    /// Height of the anemometer above ground, m (10 at airports).
    pub anemometer_m: f64,
    /// The first day of the record.
    pub first: Day,
    /// One entry a day from `first` on, no gaps.
    pub days: Vec<RecordDay>,
}

impl Record {
    /// Calendar years that it covers, give or take its ends: days / 365.25, rounded.
    pub fn years(&self) -> u32 {
        (self.days.len() as f64 / 365.25).round() as u32
    }
}

/// How simulated years are made from a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WeatherPlan {
    /// The record itself, from the first of January of this year on; the run must fit inside it.
    Replay {
        /// First calendar year of the record to replay.
        from_year: i32,
    },
    /// Whole calendar years drawn with replacement.
    WholeYears,
    /// Blocks of about 60 days joined where anomalies match (facts: matched-block bootstrap).
    MatchedBlocks,
}

/// One day as the lawn and the crew feel it: everything that depends on weather alone, computed
/// once per member and shared by all programs. `f32`-free on purpose: the ledgers close to 1e-9.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sky {
    /// The calendar day that this stands for.
    pub day: Day,
    /// Day of the year, 1..=366.
    pub day_of_year: u16,
    /// Lowest air temperature, degrees C.
    pub t_min_c: f64,
    /// Highest air temperature, degrees C.
    pub t_max_c: f64,
    /// Mean of the two, degrees C.
    pub t_mean_c: f64,
    /// All precipitation of the day, rain or snow, mm.
    pub precip_mm: f64,
    /// Water reaching the ground today as rain or snow melt, mm.
    pub water_in_mm: f64,
    /// Snow lying this evening, mm of water.
    pub snow_mm: f64,
    /// Whether the top of the ground is frozen: no uptake, no leaching, no practices.
    pub frozen: bool,
    /// Solar radiation, MJ/m2/day.
    pub rs_mj_m2: f64,
    /// Wind at 2 m, m/s.
    pub wind_2m_m_s: f64,
    /// Reference evapotranspiration (FAO-56), mm/day.
    pub et0_mm: f64,
    /// Daily mean soil temperature at 5 cm, degrees C.
    pub soil_5cm_c: f64,
    /// Daily mean soil temperature at 10 cm, degrees C.
    pub soil_10cm_c: f64,
    /// Hours from sunrise to sunset.
    pub day_length_h: f64,
    /// Growing degree-days, base 10 C, from 1 January to this day, C-days.
    pub air_dd10: f64,
    /// What the morning's forecast said for today and the next two days.
    pub forecast: Forecast,
}

/// An imperfect forecast, issued in the morning. Sometimes wrong, with stated hit and
/// false-alarm rates; never the record itself.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Forecast {
    /// Rain promised for today, mm.
    pub rain_today_mm: f64,
    /// Rain promised for today and the two days after, mm.
    pub rain_3_days_mm: f64,
    /// Highest temperature promised for today, degrees C.
    pub t_max_c: f64,
}
