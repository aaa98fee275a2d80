//! Reference evapotranspiration by FAO-56 (Allen, Pereira, Raes & Smith 1998, chapters 3 and 4):
//! Penman-Monteith (eq 6) with what it needs, and Hargreaves (eq 52).

use super::radiation::{self, MM_PER_MJ};

/// Atmospheric pressure, kPa, FAO-56 eq 7: `101.3 ((293 - 0.0065 z)/293)^5.26`, z in m.
pub fn pressure_kpa(elevation_m: f64) -> f64 {
    101.3 * ((293.0 - 0.0065 * elevation_m) / 293.0).powf(5.26)
}

/// Psychrometric constant, kPa/C, FAO-56 eq 8: `0.665e-3 P`, P in kPa.
pub fn psychrometric_kpa_c(pressure_kpa: f64) -> f64 {
    0.665e-3 * pressure_kpa
}

/// Saturation vapour pressure, kPa, FAO-56 eq 11: `0.6108 exp(17.27 T / (T + 237.3))`, T in C above
/// -237.3 (air temperatures: -60..=60). Over water, also below 0 C. At the dew point it is the
/// actual vapour pressure (eq 14).
pub fn saturation_kpa(t_c: f64) -> f64 {
    0.6108 * (17.27 * t_c / (t_c + 237.3)).exp()
}

/// Mean saturation vapour pressure of a day, kPa, FAO-56 eq 12: the mean of those at the lowest
/// and the highest temperature.
pub fn mean_saturation_kpa(t_min_c: f64, t_max_c: f64) -> f64 {
    0.5 * (saturation_kpa(t_max_c) + saturation_kpa(t_min_c))
}

/// Slope of the saturation curve, kPa/C, FAO-56 eq 13: `4098 e0(T) / (T + 237.3)^2`.
pub fn slope_kpa_c(t_c: f64) -> f64 {
    4098.0 * saturation_kpa(t_c) / ((t_c + 237.3) * (t_c + 237.3))
}

/// Actual vapour pressure from a psychrometer, kPa, FAO-56 eqs 15-16:
/// `e0(Twet) - a P (Tdry - Twet)`, a 0.000662 for ventilated instruments (5 m/s).
pub fn vapour_from_psychrometer_kpa(
    t_dry_c: f64,
    t_wet_c: f64,
    coefficient: f64,
    pressure_kpa: f64,
) -> f64 {
    saturation_kpa(t_wet_c) - coefficient * pressure_kpa * (t_dry_c - t_wet_c)
}

/// Actual vapour pressure from the day's highest and lowest relative humidity (%), kPa, FAO-56
/// eq 17.
pub fn vapour_from_humidity_extremes_kpa(
    t_min_c: f64,
    t_max_c: f64,
    rh_max_pct: f64,
    rh_min_pct: f64,
) -> f64 {
    0.5 * (saturation_kpa(t_min_c) * rh_max_pct + saturation_kpa(t_max_c) * rh_min_pct) / 100.0
}

/// Actual vapour pressure from the day's mean relative humidity (%), kPa, FAO-56 eq 19:
/// `RHmean/100 (e0(Tmax) + e0(Tmin))/2`.
pub fn vapour_from_mean_humidity_kpa(t_min_c: f64, t_max_c: f64, rh_mean_pct: f64) -> f64 {
    rh_mean_pct / 100.0 * mean_saturation_kpa(t_min_c, t_max_c)
}

/// Actual vapour pressure where humidity was not measured, kPa, FAO-56 eq 48: the dew point is
/// near the day's lowest temperature. Too moist in arid places (by 2-3 C).
pub fn vapour_from_t_min_kpa(t_min_c: f64) -> f64 {
    saturation_kpa(t_min_c)
}

/// Factor from wind at height z to wind at 2 m, FAO-56 eq 47: `4.87 / ln(67.8 z - 5.42)`, z in m
/// above short grass. Heights under 0.5 m are taken as 0.5 m.
pub fn wind_factor_2m(height_m: f64) -> f64 {
    4.87 / (67.8 * height_m.max(0.5) - 5.42).ln()
}

/// Soil heat flux from one month to the next, MJ/m2/day, FAO-56 eq 44: `0.14 (Ti - Ti-1)`.
/// For single days it is taken as 0 (eq 42).
pub fn monthly_soil_heat_flux(t_mean_c: f64, t_mean_before_c: f64) -> f64 {
    0.14 * (t_mean_c - t_mean_before_c)
}

/// What eq 6 needs of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PenmanMonteith {
    /// Mean air temperature, degrees C; the mean of lowest and highest.
    pub t_mean_c: f64,
    /// Mean saturation vapour pressure, kPa.
    pub es_kpa: f64,
    /// Actual vapour pressure, kPa.
    pub ea_kpa: f64,
    /// Net radiation, MJ/m2/day.
    pub rn_mj_m2: f64,
    /// Soil heat flux, MJ/m2/day; 0 for single days.
    pub g_mj_m2: f64,
    /// Wind at 2 m, m/s.
    pub u2_m_s: f64,
    /// Psychrometric constant, kPa/C.
    pub gamma_kpa_c: f64,
}

impl PenmanMonteith {
    /// The radiation and the wind term of eq 6, mm/day.
    pub fn terms_mm(&self) -> (f64, f64) {
        let delta = slope_kpa_c(self.t_mean_c);
        let below = delta + self.gamma_kpa_c * (1.0 + 0.34 * self.u2_m_s);
        let radiation = MM_PER_MJ * delta * (self.rn_mj_m2 - self.g_mj_m2) / below;
        let wind = self.gamma_kpa_c * 900.0 / (self.t_mean_c + 273.0)
            * self.u2_m_s
            * (self.es_kpa - self.ea_kpa)
            / below;
        (radiation, wind)
    }

    /// Reference evapotranspiration, mm/day, FAO-56 eq 6:
    /// `[0.408 D (Rn - G) + g 900/(T + 273) u2 (es - ea)] / [D + g (1 + 0.34 u2)]`, D the slope of
    /// the saturation curve and g the psychrometric constant. Slightly negative on some winter
    /// days.
    pub fn et0_mm(&self) -> f64 {
        let (radiation, wind) = self.terms_mm();
        radiation + wind
    }
}

/// Reference evapotranspiration from temperature alone, mm/day, FAO-56 eq 52 (Hargreaves):
/// `0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) Ra`, Ra as mm/day of water. About 14 % high in humid
/// cool-season climates; for sums of several days, not for single ones.
pub fn hargreaves_mm(t_min_c: f64, t_max_c: f64, ra_mj_m2: f64) -> f64 {
    let t_mean = 0.5 * (t_min_c + t_max_c);
    radiation::solar_from_temperature(
        0.0023 * (t_mean + 17.8),
        t_min_c,
        t_max_c,
        ra_mj_m2 * MM_PER_MJ,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::radiation::*;
    use crate::weather::tests_support::close;

    /// FAO-56 examples 2-6; unrounded values recomputed elsewhere, so 1e-6 is their last digit.
    #[test]
    fn examples_2_to_6_pressure_and_vapour() {
        close(pressure_kpa(1800.0), 81.755796, 1e-6);
        close(psychrometric_kpa_c(pressure_kpa(1800.0)), 0.054368, 1e-6);
        close(saturation_kpa(24.5), 3.074649, 1e-6);
        close(saturation_kpa(15.0), 1.705346, 1e-6);
        close(mean_saturation_kpa(15.0, 24.5), 2.389998, 1e-6);
        close(saturation_kpa(19.75), 2.302339, 1e-6);
        let pressure = pressure_kpa(1200.0);
        close(pressure, 87.896634, 1e-6);
        close(saturation_kpa(19.5), 2.266880, 1e-6);
        close(vapour_from_psychrometer_kpa(25.6, 19.5, 0.000662, pressure), 1.911936, 1e-6);
        let ea = vapour_from_humidity_extremes_kpa(18.0, 25.0, 82.0, 54.0);
        close(ea, 1.701536, 1e-6);
        close(vapour_from_mean_humidity_kpa(18.0, 25.0, 68.0), 1.778801, 1e-6);
        close(mean_saturation_kpa(18.0, 25.0) - ea, 0.914348, 1e-6);
    }

    /// FAO-56 examples 13 (Algiers, April) and 14 (3.2 m/s at 10 m).
    #[test]
    fn examples_13_and_14_soil_heat_and_wind() {
        // Eq 43, over two months: 0.07 (18.8 - 14.1) is 0.14 times half of the difference.
        close(monthly_soil_heat_flux(18.8, 14.1) / 2.0, 0.329, 1e-9);
        close(wind_factor_2m(10.0), 0.747951, 1e-6);
        close(3.2 * wind_factor_2m(10.0), 2.393443, 1e-6);
    }

    /// FAO-56 example 17: Bangkok, April means.
    #[test]
    fn example_17_bangkok_month() {
        let latitude = 13.0 + 44.0 / 60.0;
        let ra = extraterrestrial(latitude, 105);
        let daylight = daylight_hours(latitude, 105);
        close(daylight, 12.312575, 1e-6);
        let rs = solar_from_sunshine(8.5, daylight, ra);
        close(rs, 22.651005, 1e-6);
        let rso = clear_sky(2.0, ra);
        close(rso, 28.544787, 1e-6);
        let long = net_long_wave(25.6, 34.8, 2.85, rs, rso);
        close(long, 3.108609, 1e-6);
        let rn = net(net_short_wave(0.23, rs), long);
        close(rn, 14.332664, 1e-6);
        close(slope_kpa_c(30.2), 0.245800, 1e-6);
        let day = PenmanMonteith {
            t_mean_c: 30.2,
            es_kpa: mean_saturation_kpa(25.6, 34.8),
            ea_kpa: 2.85,
            rn_mj_m2: rn,
            g_mj_m2: monthly_soil_heat_flux(30.2, 29.2),
            u2_m_s: 2.0,
            gamma_kpa_c: psychrometric_kpa_c(pressure_kpa(2.0)),
        };
        close(day.gamma_kpa_c, 0.067349, 1e-6);
        close(day.es_kpa, 4.421798, 1e-6);
        let (radiation, wind) = day.terms_mm();
        close(radiation, 3.965309, 1e-6);
        close(wind, 1.750815, 1e-6);
        close(day.et0_mm(), 5.716125, 1e-6);
    }

    /// FAO-56 example 18: Uccle, 6 July. The wind of 10 km/h is at 10 m.
    #[test]
    fn example_18_uccle_day() {
        let u2 = 10.0 / 3.6 * wind_factor_2m(10.0);
        close(u2, 2.077642, 1e-6);
        let ra = extraterrestrial(50.80, 187);
        close(ra, 41.088376, 1e-6);
        let daylight = daylight_hours(50.80, 187);
        close(daylight, 16.104612, 1e-6);
        let rs = solar_from_sunshine(9.25, daylight, ra);
        close(rs, 22.072052, 1e-6);
        let rso = clear_sky(100.0, ra);
        close(rso, 30.898458, 1e-6);
        let ea = vapour_from_humidity_extremes_kpa(12.3, 21.5, 84.0, 63.0);
        close(ea, 1.408624, 1e-6);
        let long = net_long_wave(12.3, 21.5, ea, rs, rso);
        close(long, 3.712295, 1e-6);
        let day = PenmanMonteith {
            t_mean_c: 16.9,
            es_kpa: mean_saturation_kpa(12.3, 21.5),
            ea_kpa: ea,
            rn_mj_m2: net(net_short_wave(0.23, rs), long),
            g_mj_m2: 0.0,
            u2_m_s: u2,
            gamma_kpa_c: psychrometric_kpa_c(pressure_kpa(100.0)),
        };
        close(day.es_kpa, 1.997486, 1e-6);
        close(day.rn_mj_m2, 13.283185, 1e-6);
        let (radiation, wind) = day.terms_mm();
        close(radiation, 2.807446, 1e-6);
        close(wind, 1.072814, 1e-6);
        close(day.et0_mm(), 3.880259, 1e-6);
    }

    /// FAO-56 example 20: Lyon, July, from temperature alone; and eq 52 for the same month.
    #[test]
    fn example_20_lyon_from_temperature() {
        let ra = extraterrestrial(45.0 + 43.0 / 60.0, 196);
        let rs = solar_from_temperature(0.16, 14.8, 26.6, ra);
        // The example's station lies at 200 m.
        let rso = clear_sky(200.0, ra);
        close(rso, 30.578299, 1e-6);
        let ea = vapour_from_t_min_kpa(14.8);
        let long = net_long_wave(14.8, 26.6, ea, rs, rso);
        close(long, 3.679794, 1e-6);
        let mut day = PenmanMonteith {
            t_mean_c: 20.7,
            es_kpa: mean_saturation_kpa(14.8, 26.6),
            ea_kpa: ea,
            rn_mj_m2: net(net_short_wave(0.23, rs), long),
            g_mj_m2: 0.0,
            u2_m_s: 2.0,
            gamma_kpa_c: psychrometric_kpa_c(pressure_kpa(200.0)),
        };
        close(day.rn_mj_m2, 13.483225, 1e-6);
        let (radiation, wind) = day.terms_mm();
        close(radiation, 3.169774, 1e-6);
        close(wind, 1.390666, 1e-6);
        close(day.et0_mm(), 4.560439, 1e-6);
        day.u2_m_s = 1.0;
        close(day.et0_mm(), 4.227712, 1e-6);
        day.u2_m_s = 3.0;
        close(day.et0_mm(), 4.840600, 1e-6);
        close(hargreaves_mm(14.8, 26.6, ra), 5.033055, 1e-6);
    }
}
