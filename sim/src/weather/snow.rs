//! Snow: a degree-day account of what lies, and whether the ground is frozen.
//!
//! Sources: form of precipitation by one threshold on air temperature, as the US National Weather
//! Service's snow model does; its training notes (RFS course, parameter PXTEMP) find rain and snow
//! equally likely between 0 and 2 C and give 1 C as default. Melt by degree-days (USDA NEH-630
//! chapter 11); Kuusisto 1980 (Nordic Hydrology 11:235) found 3.5 mm per C-day on open ground and
//! 2.4 in forest at 12 Finnish stations over 20 years. Grade B for both; a whole day's mean is a
//! coarse threshold, and melt varies widely between places and through the season.

use super::parameters::WeatherParameters;

/// What a day does to the snow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SnowDay {
    /// Water that reaches the ground as rain or melt, mm.
    pub water_in_mm: f64,
    /// Snow lying this evening, mm of water.
    pub snow_mm: f64,
}

/// One day of snow: `precip_mm` falls on `snow_before_mm` of lying snow (mm of water) at a mean air
/// temperature of `t_mean_c`. Snow falls at or below `snow_threshold_c`; lying and new snow melt by
/// `snow_melt_mm_c_day (Tmean - snow_melt_base_c)`; rain on snow passes through. Water in and snow
/// lying add up to what fell and what lay.
pub fn snow_day(
    snow_before_mm: f64,
    precip_mm: f64,
    t_mean_c: f64,
    p: &WeatherParameters,
) -> SnowDay {
    let (rain, fallen) =
        if t_mean_c <= p.snow_threshold_c { (0.0, precip_mm) } else { (precip_mm, 0.0) };
    let lying = snow_before_mm + fallen;
    let melt = (p.snow_melt_mm_c_day * (t_mean_c - p.snow_melt_base_c).max(0.0)).min(lying);
    SnowDay { water_in_mm: rain + melt, snow_mm: lying - melt }
}

/// Whether the top of the ground is frozen: the 5 cm soil stands at or below `frozen_soil_c`, or the
/// air stayed at or below `frozen_t_max_c` all day. Our judgement (grade D).
pub fn is_frozen(soil_5cm_c: f64, t_max_c: f64, p: &WeatherParameters) -> bool {
    soil_5cm_c <= p.frozen_soil_c || t_max_c <= p.frozen_t_max_c
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::tests_support::close;

    #[test]
    fn snow_lies_then_melts_and_no_water_is_lost() {
        let p = WeatherParameters::default();
        let days = [(10.0, -5.0), (4.0, 0.5), (0.0, 2.0), (6.0, 3.0), (0.0, 8.0)];
        let (mut snow, mut out, mut fell) = (0.0, 0.0, 0.0);
        for (precip, t_mean) in days {
            let day = snow_day(snow, precip, t_mean, &p);
            out += day.water_in_mm;
            fell += precip;
            snow = day.snow_mm;
            close(out + snow, fell, 1e-12);
        }
        close(snow, 0.0, 1e-12);
        // The first two days: all of it snow; 0.5 C-days melt 1.75 mm of 14.
        let first = snow_day(0.0, 10.0, -5.0, &p);
        close(first.water_in_mm, 0.0, 1e-12);
        close(snow_day(10.0, 4.0, 0.5, &p).water_in_mm, 1.75, 1e-9);
    }

    #[test]
    fn ground_freezes_by_soil_or_by_a_day_of_frost() {
        let p = WeatherParameters::default();
        assert!(is_frozen(-0.1, 4.0, &p));
        assert!(is_frozen(2.0, -1.0, &p));
        assert!(!is_frozen(2.0, 4.0, &p));
    }
}
