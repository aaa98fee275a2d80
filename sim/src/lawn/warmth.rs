//! What depends on today's weather alone: the temperature factors of the sward.

use super::limits::Limits;
use super::setting::{MAX_GRASSES, Setting};
use crate::weather::Sky;

/// Rates "at 20 C" stand for this temperature, degrees C.
pub const REFERENCE_T_C: f64 = 20.0;

/// Today's factors of growth and respiration.
#[derive(Clone, Copy, Debug)]
pub struct Warmth {
    /// Shoot growth index of each grass, exp(-0.5 ((T - To)/s)^2) (Gelernter & Stowell 2005 with
    /// To = 20 C, s = 5.5 C), 0..=1.
    pub shoot: [f64; MAX_GRASSES],
    /// Photosynthesis factor, flat between its optima, 0..=1.
    pub photosynthesis: f64,
    /// How far the soil lets leaves lengthen, from where shoots cease to where they are free,
    /// 0..=1.
    pub soil: f64,
    /// Root growth factor on soil temperature, 0..=1.
    pub root: f64,
    /// Respiration factor, 1 at 20 C.
    pub respiration: f64,
    /// The same of roots, on soil at 10 cm.
    pub root_respiration: f64,
    /// Spring flush of leaf growth, 1 or more.
    pub spring: f64,
}

/// A trapezoid: 0 at `low`, 1 from `opt_low` to `opt_high`, 0 at `high`.
pub fn trapezoid(t: f64, low: f64, opt_low: f64, opt_high: f64, high: f64) -> f64 {
    ((t - low) / (opt_low - low)).at_most((high - t) / (high - opt_high)).clamp(0.0, 1.0)
}

/// A rate that rises by the Q10 law: times q10 for every 10 C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Q10 {
    /// ln(q10)/10, kept so that a day costs an exp and no pow.
    log_per_c: f64,
    reference_c: f64,
}

impl Q10 {
    /// A law that is 1 at `reference_c`.
    pub fn new(q10: f64, reference_c: f64) -> Q10 {
        Q10 { log_per_c: q10.ln() / 10.0, reference_c }
    }

    /// The factor at a temperature, degrees C.
    #[inline]
    pub fn at(&self, t_c: f64) -> f64 {
        (self.log_per_c * (t_c - self.reference_c)).exp()
    }
}

impl Warmth {
    /// Today's factors.
    pub fn of(setting: &Setting, sky: &Sky) -> Warmth {
        let s = &setting.p.sward;
        let t = sky.t_mean_c;
        // Hardened plants breathe less than the cold alone explains.
        let rest =
            s.winter_rest + (1.0 - s.winter_rest) * (t / s.winter_rest_end_c).clamp(0.0, 1.0);
        // The flush follows the reproductive phase, in the lengthening days of spring.
        let spring_day = trapezoid(
            f64::from(sky.day_of_year),
            s.spring_from_day,
            s.spring_full_from_day,
            s.spring_full_to_day,
            s.spring_to_day,
        );
        Warmth {
            shoot: std::array::from_fn(|i| {
                let Some(traits) = setting.grasses.get(i) else { return 0.0 };
                let z = (t - traits.growth_t_opt_c) / s.growth_t_width_c;
                (-0.5 * z * z).exp()
            }),
            soil: ((sky.soil_10cm_c - s.shoot_soil_t_low_c)
                / (s.shoot_soil_t_full_c - s.shoot_soil_t_low_c))
                .clamp(0.0, 1.0),
            photosynthesis: trapezoid(
                t,
                s.photosynthesis_t_low_c,
                s.photosynthesis_t_opt_low_c,
                s.photosynthesis_t_opt_high_c,
                s.photosynthesis_t_high_c,
            ),
            root: trapezoid(
                sky.soil_10cm_c,
                s.root_t_low_c,
                s.root_t_opt_low_c,
                s.root_t_opt_high_c,
                s.root_t_high_c,
            ),
            respiration: setting.respiration.at(t) * rest,
            root_respiration: setting.respiration.at(sky.soil_10cm_c),
            spring: 1.0 + (s.spring_flush - 1.0) * spring_day,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The Q10 law (van 't Hoff): q10^((T - T0)/10).
    #[test]
    fn q10_law() {
        let law = Q10::new(2.5, 20.0);
        for (t, factor) in [(20.0, 1.0), (30.0, 2.5), (10.0, 0.4), (40.0, 6.25)] {
            assert!((law.at(t) - factor).abs() < 1e-12, "{t}");
        }
    }

    #[test]
    fn trapezoid_at_its_corners() {
        for (t, y) in [
            (-1.0, 0.0),
            (0.0, 0.0),
            (5.0, 0.5),
            (10.0, 1.0),
            (15.0, 1.0),
            (22.5, 0.5),
            (30.0, 0.0),
        ] {
            assert_eq!(trapezoid(t, 0.0, 10.0, 15.0, 30.0), y, "{t}");
        }
    }
}
