//! Radiation of a day by FAO-56 (Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage
//! Paper 56, chapter 3), equations 21-40 and 50. Angles in radians, radiation in MJ/m2/day.

use std::f64::consts::PI;

/// Solar constant, MJ/m2/min (with eq 21).
const SOLAR_CONSTANT: f64 = 0.0820;
/// Stefan-Boltzmann constant, MJ/K4/m2/day (with eq 39).
const STEFAN_BOLTZMANN: f64 = 4.903e-9;
/// 0 C in kelvin as eq 39 of FAO-56 uses it.
const KELVIN: f64 = 273.16;
/// 1 MJ/m2/day evaporates this much water, mm/day (eq 20: 1 / 2.45).
pub const MM_PER_MJ: f64 = 0.408;

/// Inverse relative distance Earth-Sun, FAO-56 eq 23: `dr = 1 + 0.033 cos(2 pi J / 365)`.
/// `day_of_year` is J, 1..=366.
pub fn inverse_relative_distance(day_of_year: u16) -> f64 {
    1.0 + 0.033 * (2.0 * PI * f64::from(day_of_year) / 365.0).cos()
}

/// Solar declination, rad, FAO-56 eq 24: `0.409 sin(2 pi J / 365 - 1.39)`. J is 1..=366.
pub fn solar_declination(day_of_year: u16) -> f64 {
    0.409 * (2.0 * PI * f64::from(day_of_year) / 365.0 - 1.39).sin()
}

/// Sunset hour angle, rad, FAO-56 eq 25: `acos(-tan(latitude) tan(declination))`; 0 in polar night
/// and pi in polar day.
pub fn sunset_hour_angle(latitude_rad: f64, declination_rad: f64) -> f64 {
    (-latitude_rad.tan() * declination_rad.tan()).clamp(-1.0, 1.0).acos()
}

/// Extraterrestrial radiation, MJ/m2/day, FAO-56 eq 21:
/// `24*60/pi Gsc dr (ws sin(lat) sin(d) + cos(lat) cos(d) sin(ws))`. Latitude in degrees north
/// (eq 22 turns it to radians), J 1..=366.
pub fn extraterrestrial(latitude_deg: f64, day_of_year: u16) -> f64 {
    let latitude = latitude_deg.to_radians();
    let declination = solar_declination(day_of_year);
    let sunset = sunset_hour_angle(latitude, declination);
    let angles = sunset * latitude.sin() * declination.sin()
        + latitude.cos() * declination.cos() * sunset.sin();
    (24.0 * 60.0 / PI * SOLAR_CONSTANT * inverse_relative_distance(day_of_year) * angles).max(0.0)
}

/// Hours from sunrise to sunset, FAO-56 eq 34: `24 ws / pi`.
pub fn daylight_hours(latitude_deg: f64, day_of_year: u16) -> f64 {
    24.0 / PI * sunset_hour_angle(latitude_deg.to_radians(), solar_declination(day_of_year))
}

/// Solar radiation from hours of sunshine n of N possible, MJ/m2/day, FAO-56 eq 35 with its default
/// Angstrom values: `(0.25 + 0.50 n/N) Ra`.
pub fn solar_from_sunshine(sunshine_h: f64, daylight_h: f64, ra: f64) -> f64 {
    (0.25 + 0.50 * sunshine_h / daylight_h) * ra
}

/// Clear-sky radiation near sea level, MJ/m2/day, FAO-56 eq 36: `0.75 Ra`.
pub fn clear_sky_at_sea_level(ra: f64) -> f64 {
    0.75 * ra
}

/// Clear-sky radiation, MJ/m2/day, FAO-56 eq 37: `(0.75 + 2e-5 z) Ra`, z in m above sea level.
pub fn clear_sky(elevation_m: f64, ra: f64) -> f64 {
    (0.75 + 2e-5 * elevation_m) * ra
}

/// Net short-wave radiation, MJ/m2/day, FAO-56 eq 38: `(1 - albedo) Rs`; albedo 0.23 for the
/// reference grass.
pub fn net_short_wave(albedo: f64, rs: f64) -> f64 {
    (1.0 - albedo) * rs
}

/// Net outgoing long-wave radiation, MJ/m2/day, FAO-56 eq 39:
/// `sigma (Tmax,K^4 + Tmin,K^4)/2 (0.34 - 0.14 sqrt(ea)) (1.35 Rs/Rso - 0.35)`, with Rs/Rso at
/// most 1. Temperatures in C, ea in kPa. Without any clear-sky radiation (polar night) the ratio
/// is taken as 1.
pub fn net_long_wave(t_min_c: f64, t_max_c: f64, ea_kpa: f64, rs: f64, rso: f64) -> f64 {
    let fourth = |t: f64| {
        let squared = (t + KELVIN) * (t + KELVIN);
        squared * squared
    };
    let relative = if rso > 0.0 { (rs / rso).min(1.0) } else { 1.0 };
    STEFAN_BOLTZMANN
        * 0.5
        * (fourth(t_max_c) + fourth(t_min_c))
        * (0.34 - 0.14 * ea_kpa.max(0.0).sqrt())
        * (1.35 * relative - 0.35)
}

/// Net radiation, MJ/m2/day, FAO-56 eq 40: `Rns - Rnl`.
pub fn net(net_short_wave: f64, net_long_wave: f64) -> f64 {
    net_short_wave - net_long_wave
}

/// Solar radiation from the day's temperature range, MJ/m2/day, FAO-56 eq 50 (Hargreaves-Samani):
/// `kRs sqrt(Tmax - Tmin) Ra`, kRs 0.16 inland, 0.19 at the coast. Not capped: the caller limits it
/// to clear sky where it stands for a day's radiation.
pub fn solar_from_temperature(krs: f64, t_min_c: f64, t_max_c: f64, ra: f64) -> f64 {
    krs * (t_max_c - t_min_c).max(0.0).sqrt() * ra
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::tests_support::close;

    /// FAO-56 examples 8 and 9: 3 September at 20 S. Unrounded values recomputed from the same
    /// equations with general libraries; 1e-6 is the last digit given.
    #[test]
    fn examples_8_and_9_extraterrestrial_radiation_and_daylight() {
        close(inverse_relative_distance(246), 0.984829, 1e-6);
        close(solar_declination(246), 0.119655, 1e-6);
        let sunset = sunset_hour_angle((-20.0_f64).to_radians(), solar_declination(246));
        close(sunset, 1.527022, 1e-6);
        close(extraterrestrial(-20.0, 246), 32.193996, 1e-6);
        close(extraterrestrial(-20.0, 246) * MM_PER_MJ, 13.135150, 1e-6);
        close(daylight_hours(-20.0, 246), 11.665592, 1e-6);
    }

    /// FAO-56 examples 10-12: Rio de Janeiro, 22 deg 54 min S, 15 May, 220 sunshine hours in May.
    #[test]
    fn examples_10_to_12_rio() {
        let ra = extraterrestrial(-22.9, 135);
        close(ra, 25.111028, 1e-6);
        let daylight = daylight_hours(-22.9, 135);
        close(daylight, 10.895076, 1e-6);
        let rs = solar_from_sunshine(220.0 / 31.0, daylight, ra);
        close(rs, 14.456098, 1e-6);
        let rso = clear_sky_at_sea_level(ra);
        close(rso, 18.833271, 1e-6);
        let long = net_long_wave(19.1, 25.1, 2.1, rs, rso);
        close(long, 3.508541, 1e-6);
        let short = net_short_wave(0.23, rs);
        close(short, 11.131196, 1e-6);
        close(net(short, long), 7.622655, 1e-6);
        close(net(short, long) * MM_PER_MJ, 3.110043, 1e-6);
    }

    /// FAO-56 example 15: Lyon, 45 deg 43 min N, July.
    #[test]
    fn example_15_radiation_from_temperature() {
        let ra = extraterrestrial(45.0 + 43.0 / 60.0, 196);
        close(ra, 40.554773, 1e-6);
        close(solar_from_temperature(0.16, 14.8, 26.6, ra), 22.289635, 1e-6);
    }

    /// FAO-56 example 16: Bangkok, 13 deg 44 min N, April, coast.
    #[test]
    fn example_16_net_radiation_without_radiation_data() {
        let ra = extraterrestrial(13.0 + 44.0 / 60.0, 105);
        close(ra, 38.057686, 1e-6);
        let rs = solar_from_temperature(0.19, 25.6, 34.8, ra);
        close(rs, 21.932589, 1e-6);
        let short = net_short_wave(0.23, rs);
        close(short, 16.888093, 1e-6);
        let long = net_long_wave(25.6, 34.8, 2.85, rs, clear_sky_at_sea_level(ra));
        close(long, 2.962408, 1e-6);
        close(net(short, long), 13.925685, 1e-6);
    }

    /// Mid-month table of FAO-56 annex 2 (Ra), recomputed with eq 21 by another program; 0.005 is
    /// half of its last digit.
    #[test]
    fn table_of_extraterrestrial_radiation() {
        let days = [15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349];
        let table = [
            (
                35.0,
                [
                    18.08, 23.18, 29.45, 35.89, 39.99, 41.61, 40.78, 37.45, 31.74, 25.07, 19.25,
                    16.67,
                ],
            ),
            (
                40.0,
                [
                    15.01, 20.37, 27.25, 34.67, 39.71, 41.84, 40.80, 36.65, 29.92, 22.47, 16.25,
                    13.58,
                ],
            ),
            (
                45.0,
                [
                    11.93, 17.46, 24.84, 33.21, 39.21, 41.86, 40.60, 35.61, 27.87, 19.71, 13.21,
                    10.50,
                ],
            ),
            (
                50.0,
                [8.89, 14.45, 22.24, 31.52, 38.50, 41.71, 40.21, 34.34, 25.61, 16.83, 10.17, 7.51],
            ),
        ];
        for (latitude, row) in table {
            for (day, want) in days.into_iter().zip(row) {
                close(extraterrestrial(latitude, day), want, 0.0051);
            }
        }
    }

    #[test]
    fn polar_night_and_polar_day_are_finite() {
        close(daylight_hours(80.0, 355), 0.0, 1e-9);
        close(daylight_hours(80.0, 172), 24.0, 1e-9);
        close(extraterrestrial(80.0, 355), 0.0, 1e-9);
        assert!(net_long_wave(-20.0, -10.0, 0.1, 0.0, 0.0) > 0.0);
    }
}
