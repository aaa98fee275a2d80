//! From a station's days to the days that the lawn and the crew feel.

use super::evapotranspiration::{
    PenmanMonteith, mean_saturation_kpa, vapour_from_mean_humidity_kpa, vapour_from_t_min_kpa,
};
use super::forecast::forecasts;
use super::parameters::WeatherParameters;
use super::radiation::{net, net_long_wave, net_short_wave, solar_from_temperature};
use super::site_tables::{SiteDay, SiteTables};
use super::snow::{is_frozen, snow_day};
use super::soil_temperature::SoilFilter;
use super::{Forecast, RecordDay, Site, Sky};
use crate::calendar::Day;

/// Base of [`Sky::air_dd10`], degrees C.
const GROWING_BASE_C: f64 = 10.0;

/// All that follows from the weather alone, for one path: radiation, reference evapotranspiration,
/// soil temperature, snow, degree-days and forecasts. `days` begins on `first`; `anemometer_m` is
/// the height of the station's wind; `forecast_draw` gives uniform values in 0..1.
///
/// What the record lacks is estimated as FAO-56 advises: radiation by eq 50 (at most clear sky),
/// vapour pressure from the lowest temperature (eq 48), wind by `wind_missing_m_s`. Soil starts from
/// the mean forcing of the first ten days, the ground without snow. Degree-days count from
/// 1 January, or from `first` in the first year.
pub fn skies(
    days: &[RecordDay],
    first: Day,
    site: &Site,
    anemometer_m: f64,
    p: &WeatherParameters,
    forecast_draw: &mut dyn FnMut() -> f64,
) -> Vec<Sky> {
    skies_at(days, first, &SiteTables::new(site, anemometer_m), p, forecast_draw)
}

/// As [`skies`], with the site's tables built beforehand: for many paths at one site.
pub fn skies_at(
    days: &[RecordDay],
    first: Day,
    tables: &SiteTables,
    p: &WeatherParameters,
    forecast_draw: &mut dyn FnMut() -> f64,
) -> Vec<Sky> {
    let morning = forecasts(days, p, forecast_draw);
    let mut ground = Ground::before(days, first, tables, p);
    Almanac::from(first)
        .zip(days.iter().zip(morning))
        .map(|(date, (day, forecast))| ground.day(date, day, forecast, tables, p))
        .collect()
}

/// What the sky remembers from one day to the next.
struct Ground {
    shallow: SoilFilter,
    deep: SoilFilter,
    soil_5cm_c: f64,
    soil_10cm_c: f64,
    snow_mm: f64,
    air_dd10: f64,
}

impl Ground {
    fn before(days: &[RecordDay], first: Day, tables: &SiteTables, p: &WeatherParameters) -> Self {
        let (shallow, deep) = (SoilFilter::at_5cm(p), SoilFilter::at_10cm(p));
        let start: Vec<(f64, f64)> = Almanac::from(first)
            .zip(days)
            .take(10)
            .map(|((_, doy), day)| (mean(day), soil_radiation(day, tables.at(doy), p)))
            .collect();
        Ground {
            soil_5cm_c: shallow.start_c(start.iter().copied()),
            soil_10cm_c: deep.start_c(start.iter().copied()),
            shallow,
            deep,
            snow_mm: 0.0,
            air_dd10: 0.0,
        }
    }

    fn day(
        &mut self,
        (day, day_of_year): (Day, u16),
        record: &RecordDay,
        forecast: Forecast,
        tables: &SiteTables,
        p: &WeatherParameters,
    ) -> Sky {
        let here = tables.at(day_of_year);
        let t_mean_c = mean(record);
        let soil_radiation = soil_radiation(record, here, p);
        self.soil_5cm_c = self.shallow.step_c(self.soil_5cm_c, t_mean_c, soil_radiation);
        self.soil_10cm_c = self.deep.step_c(self.soil_10cm_c, t_mean_c, soil_radiation);
        let snow = snow_day(self.snow_mm, record.precip_mm, t_mean_c, p);
        self.snow_mm = snow.snow_mm;
        if day_of_year == 1 {
            self.air_dd10 = 0.0;
        }
        self.air_dd10 += (t_mean_c - GROWING_BASE_C).max(0.0);

        let rs_mj_m2 = solar_mj_m2(record, here, p);
        let wind_2m_m_s = record.wind_m_s.map_or(p.wind_missing_m_s, |w| w * tables.wind_factor);
        Sky {
            day,
            day_of_year,
            t_min_c: record.t_min_c,
            t_max_c: record.t_max_c,
            t_mean_c,
            precip_mm: record.precip_mm,
            water_in_mm: snow.water_in_mm,
            snow_mm: snow.snow_mm,
            frozen: is_frozen(self.soil_5cm_c, record.t_max_c, p),
            rs_mj_m2,
            wind_2m_m_s,
            et0_mm: et0_mm(record, here, rs_mj_m2, wind_2m_m_s, tables.gamma_kpa_c, p),
            soil_5cm_c: self.soil_5cm_c,
            soil_10cm_c: self.soil_10cm_c,
            day_length_h: here.day_length_h,
            air_dd10: self.air_dd10,
            forecast,
        }
    }
}

/// Mean of the lowest and the highest temperature, degrees C.
fn mean(day: &RecordDay) -> f64 {
    0.5 * (day.t_min_c + day.t_max_c)
}

/// The radiation that drives the soil filters, MJ/m2/day: FAO-56 eq 50, uncapped as in their fit.
fn soil_radiation(day: &RecordDay, here: &SiteDay, p: &WeatherParameters) -> f64 {
    solar_from_temperature(p.soil_krs, day.t_min_c, day.t_max_c, here.ra_mj_m2)
}

/// Solar radiation, MJ/m2/day: as measured, or FAO-56 eq 50 up to clear sky.
fn solar_mj_m2(day: &RecordDay, here: &SiteDay, p: &WeatherParameters) -> f64 {
    day.rs_mj_m2.unwrap_or_else(|| {
        solar_from_temperature(p.krs, day.t_min_c, day.t_max_c, here.ra_mj_m2).min(here.rso_mj_m2)
    })
}

/// Reference evapotranspiration of a day, mm, FAO-56 eq 6 with G = 0; not below 0.
fn et0_mm(
    day: &RecordDay,
    here: &SiteDay,
    rs_mj_m2: f64,
    wind_2m_m_s: f64,
    gamma_kpa_c: f64,
    p: &WeatherParameters,
) -> f64 {
    let ea_kpa = match day.rh_pct {
        Some(rh) => vapour_from_mean_humidity_kpa(day.t_min_c, day.t_max_c, rh),
        None => vapour_from_t_min_kpa(day.t_min_c),
    };
    let long = net_long_wave(day.t_min_c, day.t_max_c, ea_kpa, rs_mj_m2, here.rso_mj_m2);
    PenmanMonteith {
        t_mean_c: mean(day),
        es_kpa: mean_saturation_kpa(day.t_min_c, day.t_max_c),
        ea_kpa,
        rn_mj_m2: net(net_short_wave(p.albedo, rs_mj_m2), long),
        g_mj_m2: 0.0,
        u2_m_s: wind_2m_m_s.max(p.wind_floor_m_s),
        gamma_kpa_c,
    }
    .et0_mm()
    .max(0.0)
}

/// Days with their days of the year, counted up without asking the calendar each time.
struct Almanac {
    day: Day,
    day_of_year: u16,
    year: i32,
}

impl Almanac {
    fn from(first: Day) -> Self {
        Almanac { day: first, day_of_year: first.day_of_year(), year: first.ymd().0 }
    }
}

impl Iterator for Almanac {
    type Item = (Day, u16);

    fn next(&mut self) -> Option<(Day, u16)> {
        let now = (self.day, self.day_of_year);
        self.day = Day(self.day.0.checked_add(1)?);
        self.day_of_year += 1;
        if self.day_of_year > super::years::days_in_year(self.year) {
            self.day_of_year = 1;
            self.year += 1;
        }
        Some(now)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::evapotranspiration::hargreaves_mm;
    use crate::weather::tests_support::{close, constant_days, jfk};

    fn jfk_skies(p: &WeatherParameters) -> Vec<Sky> {
        let record = jfk();
        skies(&record.days, record.first, &record.site, record.anemometer_m, p, &mut || 0.5)
    }

    /// Check values computed elsewhere from the same record: FAO-56 Penman-Monteith from
    /// temperature (kRs 0.19, 2 m/s) and Hargreaves, 1-5 July 2012 at JFK.
    #[test]
    fn reference_evapotranspiration_from_temperature_at_jfk() {
        let mut record = jfk();
        for day in &mut record.days {
            day.wind_m_s = None;
        }
        let p = WeatherParameters { krs: 0.19, ..WeatherParameters::default() };
        let tables = SiteTables::new(&record.site, 10.0);
        let all = skies_at(&record.days, record.first, &tables, &p, &mut || 0.5);
        let july = Day::from_ymd(2012, 7, 1).unwrap();
        let from = all.iter().position(|s| s.day == july).unwrap();
        let penman = [6.03851, 5.39242, 5.42143, 5.38061, 5.94856];
        let hargreaves = [5.97958, 5.38240, 5.41111, 5.36959, 5.87681];
        for (i, sky) in all[from..from + 5].iter().enumerate() {
            close(sky.et0_mm, penman[i], 1e-4);
            let ra = tables.at(sky.day_of_year).ra_mj_m2;
            close(hargreaves_mm(sky.t_min_c, sky.t_max_c, ra), hargreaves[i], 1e-4);
        }
        // Hargreaves over each year, mm.
        for (year, want) in [(2012, 926.58), (2013, 899.21), (2014, 896.61), (2015, 934.09)] {
            let sum: f64 = all
                .iter()
                .filter(|s| s.day.ymd().0 == year)
                .map(|s| hargreaves_mm(s.t_min_c, s.t_max_c, tables.at(s.day_of_year).ra_mj_m2))
                .sum();
            close(sum, want, 0.05);
        }
    }

    /// First dates at which base-12 degree-days of the 5 cm soil from 1 April reach 42, 78, 140 and
    /// 230 (crabgrass emergence windows of Fidanza, Dernoeden & Zhang 1996), worked elsewhere.
    #[test]
    fn soil_degree_days_at_jfk() {
        let all = jfk_skies(&WeatherParameters::default());
        let table = [
            (2012, [(5, 7), (5, 17), (5, 26), (6, 4)], 1370.59),
            (2013, [(5, 18), (5, 26), (6, 4), (6, 15)], 1241.39),
            (2014, [(5, 14), (5, 20), (5, 29), (6, 10)], 1235.09),
            (2015, [(5, 9), (5, 14), (5, 23), (6, 5)], 1404.02),
        ];
        for (year, dates, by_september) in table {
            let season = all.iter().filter(|s| {
                let (y, month, _) = s.day.ymd();
                y == year && (4..=8).contains(&month)
            });
            let mut sum = 0.0;
            let mut reached = [None; 4];
            for sky in season {
                sum += (sky.soil_5cm_c - 12.0).max(0.0);
                for (slot, goal) in reached.iter_mut().zip([42.0, 78.0, 140.0, 230.0]) {
                    if sum >= goal && slot.is_none() {
                        let (_, month, day) = sky.day.ymd();
                        *slot = Some((month, day));
                    }
                }
            }
            assert_eq!(reached, dates.map(Some), "{year}");
            close(sum, by_september, 0.5);
        }
    }

    /// Growing degree-days, base 10 C, at JFK from 1 March to 31 October, worked elsewhere.
    #[test]
    fn air_degree_days_at_jfk() {
        let all = jfk_skies(&WeatherParameters::default());
        for (year, want) in [(2012, 2132.20), (2013, 1945.20), (2014, 1968.80), (2015, 2168.30)] {
            let on = |month, day| {
                let date = Day::from_ymd(year, month, day).unwrap();
                all.iter().find(|s| s.day == date).unwrap().air_dd10
            };
            let before_march = all
                .iter()
                .rfind(|s| s.day < Day::from_ymd(year, 3, 1).unwrap())
                .map_or(0.0, |s| s.air_dd10);
            close(on(10, 31) - before_march, want, 0.01);
        }
    }

    #[test]
    fn water_balances_and_every_value_is_sane() {
        let all = jfk_skies(&WeatherParameters::default());
        let fell: f64 = all.iter().map(|s| s.precip_mm).sum();
        let arrived: f64 = all.iter().map(|s| s.water_in_mm).sum();
        close(arrived + all.last().unwrap().snow_mm, fell, 1e-9);
        for (i, sky) in all.iter().enumerate() {
            assert_eq!(sky.day.0, all[0].day.0 + i as i32);
            assert_eq!(sky.day_of_year, sky.day.day_of_year());
            assert!((0.0..12.0).contains(&sky.et0_mm), "{sky:?}");
            assert!((-2.0..40.0).contains(&sky.soil_5cm_c), "{sky:?}");
            assert!(sky.rs_mj_m2 >= 0.0 && sky.snow_mm >= 0.0);
            assert!((9.0..15.5).contains(&sky.day_length_h));
        }
        let frozen = all.iter().filter(|s| s.frozen).count();
        assert!((20..300).contains(&frozen), "frozen days in four years: {frozen}");
        assert!(all.iter().all(|s| !s.frozen || matches!(s.day.ymd().1, 1..=3 | 11 | 12)));
    }

    #[test]
    fn measured_radiation_humidity_and_wind_are_used() {
        let p = WeatherParameters::default();
        let site = Site { latitude_deg: 50.8, elevation_m: 100.0 };
        let first = Day::from_ymd(2025, 7, 6).unwrap();
        let mut days = constant_days(1, 12.3, 21.5, 0.0);
        days[0].rs_mj_m2 = Some(22.072052);
        days[0].wind_m_s = Some(10.0 / 3.6);
        // Mean humidity that gives the vapour pressure of FAO-56 example 18 by eq 19.
        days[0].rh_pct = Some(100.0 * 1.408624 / 1.997486);
        let sky = skies(&days, first, &site, 10.0, &p, &mut || 0.5)[0];
        close(sky.wind_2m_m_s, 2.077642, 1e-6);
        close(sky.et0_mm, 3.880259, 1e-5);
    }

    #[test]
    fn an_empty_path_has_no_days() {
        let p = WeatherParameters::default();
        let site = Site { latitude_deg: 40.0, elevation_m: 0.0 };
        assert!(skies(&[], Day(0), &site, 10.0, &p, &mut || 0.5).is_empty());
    }
}
