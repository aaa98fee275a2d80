//! Shared by the tests of this part.

use super::{Record, RecordDay, Site, read_daily_csv};

/// Fails unless two numbers agree within a tolerance.
#[track_caller]
pub fn close(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "got {got}, expected {want} within {tolerance}");
}

/// New York's JFK airport, 2012-2015 (the carried record).
pub fn jfk() -> Record {
    let site = Site { latitude_deg: 40.639, elevation_m: 3.0 };
    let text = include_str!("../../../scenarios/weather/jfk_2012_2015.csv");
    read_daily_csv(text, "JFK", Some(site)).expect("the carried record reads").record
}

/// Seattle-Tacoma airport, 2012-2015 (the carried record).
pub fn seattle() -> Record {
    let site = Site { latitude_deg: 47.444, elevation_m: 113.0 };
    let text = include_str!("../../../scenarios/weather/seattle_2012_2015.csv");
    read_daily_csv(text, "Seattle", Some(site)).expect("the carried record reads").record
}

/// The same day again and again.
pub fn constant_days(n: usize, t_min_c: f64, t_max_c: f64, precip_mm: f64) -> Vec<RecordDay> {
    let day =
        RecordDay { t_min_c, t_max_c, precip_mm, wind_m_s: None, rs_mj_m2: None, rh_pct: None };
    vec![day; n]
}
