//! What depends on place and date alone, worked out once for a site.

use super::Site;
use super::evapotranspiration::{pressure_kpa, psychrometric_kpa_c, wind_factor_2m};
use super::radiation::{clear_sky, daylight_hours, extraterrestrial};

/// Radiation and daylight by day of the year, and the site's constants of evapotranspiration. Build
/// it once per run: it holds all the trigonometry of a path.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteTables {
    /// Index is day of the year minus 1.
    days: Vec<SiteDay>,
    /// Psychrometric constant, kPa/C.
    pub gamma_kpa_c: f64,
    /// From the station's wind to wind at 2 m.
    pub wind_factor: f64,
}

/// One day of the year at a site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SiteDay {
    /// Extraterrestrial radiation, MJ/m2/day.
    pub ra_mj_m2: f64,
    /// Clear-sky radiation, MJ/m2/day.
    pub rso_mj_m2: f64,
    /// Hours from sunrise to sunset.
    pub day_length_h: f64,
}

impl SiteTables {
    /// The tables of a site whose wind is measured `anemometer_m` above ground.
    pub fn new(site: &Site, anemometer_m: f64) -> Self {
        let days = (1..=366)
            .map(|day_of_year| {
                let ra = extraterrestrial(site.latitude_deg, day_of_year);
                SiteDay {
                    ra_mj_m2: ra,
                    rso_mj_m2: clear_sky(site.elevation_m, ra),
                    day_length_h: daylight_hours(site.latitude_deg, day_of_year),
                }
            })
            .collect();
        SiteTables {
            days,
            gamma_kpa_c: psychrometric_kpa_c(pressure_kpa(site.elevation_m)),
            wind_factor: wind_factor_2m(anemometer_m),
        }
    }

    /// The values of a day of the year, 1..=366 (others are taken as the nearest of these).
    pub fn at(&self, day_of_year: u16) -> &SiteDay {
        &self.days[usize::from(day_of_year.clamp(1, 366)) - 1]
    }
}
