//! Soil temperature under short grass from air temperature alone.

use super::parameters::WeatherParameters;

/// One depth's filter.
///
/// `F = Tmean + b RsHS`, where RsHS is FAO-56 eq 50 uncapped; `F < 0` counts at `frost_factor`
/// (snow and the heat of freezing); then `T += k (F - T)` each day.
///
/// Source: our fit to observed daily means at 5 and 10 cm of 29 stations of the US Climate
/// Reference Network in the cool-season belt, 2020. RMSE 1.5 C (1.1 C December-February, 1.6 C
/// April-October), against 2.8 C for an 11-day running mean of air temperature. One year, natural
/// short vegetation: mown, dry or bare ground may be warmer by some degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoilFilter {
    /// Share of the way to the forcing gone in a day, 0..=1.
    pub k: f64,
    /// Warming by radiation, C per MJ/m2/day.
    pub b: f64,
    /// Share of a forcing below 0 C that counts, 0..=1.
    pub frost_factor: f64,
}

impl SoilFilter {
    /// The filter of the 5 cm depth.
    pub fn at_5cm(p: &WeatherParameters) -> Self {
        SoilFilter { k: p.soil5_k, b: p.soil5_b, frost_factor: p.frost_factor }
    }

    /// The filter of the 10 cm depth.
    pub fn at_10cm(p: &WeatherParameters) -> Self {
        SoilFilter { k: p.soil10_k, b: p.soil10_b, frost_factor: p.frost_factor }
    }

    /// The forcing of a day before frost is discounted, degrees C.
    pub fn forcing_c(&self, t_mean_c: f64, rs_hs_mj_m2: f64) -> f64 {
        t_mean_c + self.b * rs_hs_mj_m2
    }

    /// This day's soil temperature from yesterday's, degrees C.
    pub fn step_c(&self, before_c: f64, t_mean_c: f64, rs_hs_mj_m2: f64) -> f64 {
        let forcing = self.forcing_c(t_mean_c, rs_hs_mj_m2);
        let forcing = if forcing < 0.0 { self.frost_factor * forcing } else { forcing };
        before_c + self.k * (forcing - before_c)
    }

    /// Where the filter starts, degrees C: the mean forcing of the first days (ten, or what there
    /// is), not below 0. The start is forgotten by a tenth after 10 to 15 days.
    pub fn start_c(&self, first_days: impl Iterator<Item = (f64, f64)>) -> f64 {
        let (mut sum, mut n) = (0.0, 0.0);
        for (t_mean, rs_hs) in first_days.take(10) {
            sum += self.forcing_c(t_mean, rs_hs);
            n += 1.0;
        }
        if n > 0.0 { (sum / n).max(0.0) } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::radiation::{extraterrestrial, solar_from_temperature};
    use crate::weather::tests_support::close;

    /// Ten April days of 2020 at Shabbona, Illinois (41.84 N), worked elsewhere by the same rule,
    /// from 8 C on 31 March. Columns: Tmin, Tmax, RsHS, 5 cm, 10 cm.
    #[test]
    fn worked_days_at_shabbona() {
        let days = [
            (2.1, 12.6, 16.1081, 8.0150, 7.9895),
            (0.2, 16.4, 20.1689, 8.2535, 8.1450),
            (4.6, 20.6, 20.2028, 9.3046, 8.9223),
            (0.3, 10.2, 16.0156, 8.6378, 8.4580),
            (-0.5, 12.6, 18.5646, 8.2874, 8.1970),
            (-0.9, 16.6, 21.6193, 8.3945, 8.2617),
            (10.7, 26.0, 20.3653, 10.5689, 9.8849),
            (5.6, 21.6, 20.9786, 11.3639, 10.5555),
            (-1.0, 9.8, 17.3600, 10.1274, 9.7259),
            (-2.1, 9.6, 18.1970, 9.0157, 8.9278),
        ];
        let p = WeatherParameters::default();
        let (shallow, deep) = (SoilFilter::at_5cm(&p), SoilFilter::at_10cm(&p));
        let (mut t5, mut t10) = (8.0, 8.0);
        // 1 April 2020 is day 92.
        for (doy, (t_min, t_max, rs_want, t5_want, t10_want)) in (92..).zip(days) {
            let ra = extraterrestrial(41.84, doy);
            let rs_hs = solar_from_temperature(p.soil_krs, t_min, t_max, ra);
            close(rs_hs, rs_want, 0.02);
            let t_mean = 0.5 * (t_min + t_max);
            t5 = shallow.step_c(t5, t_mean, rs_hs);
            t10 = deep.step_c(t10, t_mean, rs_hs);
            close(t5, t5_want, 0.002);
            close(t10, t10_want, 0.002);
        }
    }

    #[test]
    fn hard_frost_reaches_the_soil_weakly() {
        let filter = SoilFilter::at_5cm(&WeatherParameters::default());
        let after_frost = (0..60).fold(5.0, |t, _| filter.step_c(t, -20.0, 0.0));
        // Twenty degrees of frost settle at 5 % of it.
        close(after_frost, -1.0, 0.01);
        assert!(filter.start_c([(-20.0, 0.0); 10].into_iter()) == 0.0);
    }
}
