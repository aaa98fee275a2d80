//! An imperfect forecast for each morning, made from the path's own coming days.
//!
//! Each day has one draw of how it is foreseen, used by all mornings that look at it, so that a
//! forecast firms up as the day comes near: a wet day is promised from the lead on at which its
//! draw falls under the hit rate, a false alarm is called off where its draw no longer falls under
//! the false-alarm rate. The rates hold exactly at each lead.

use std::f64::consts::PI;

use super::{Forecast, RecordDay, parameters::WeatherParameters};

/// Days that a morning's forecast covers: today and the two after.
const LEADS: usize = 3;

/// How one day is foreseen.
#[derive(Clone, Copy, Debug)]
struct Foreseen {
    /// Rain promised for it from two days ahead, one day ahead and the same morning: index is the
    /// lead in days, mm.
    rain_mm: [f64; LEADS],
    /// High promised on its own morning, degrees C.
    t_max_c: f64,
}

/// The skill at each lead, worked out once per path.
struct Skill {
    hit: [f64; LEADS],
    false_alarm: [f64; LEADS],
    log_sd: [f64; LEADS],
}

impl Skill {
    fn new(p: &WeatherParameters) -> Self {
        let at = |start: f64, per_day: f64| -> [f64; LEADS] {
            std::array::from_fn(|lead| start + per_day * lead as f64)
        };
        Skill {
            hit: at(p.forecast_hit_rate, -p.forecast_hit_loss_per_day),
            false_alarm: at(p.forecast_false_alarm_rate, p.forecast_false_alarm_gain_per_day),
            log_sd: at(p.forecast_rain_log_sd, p.forecast_rain_log_sd_gain_per_day),
        }
    }
}

/// The forecasts of all mornings of a path, one a day.
///
/// Exactly three uniform draws a day (0 included, 1 not) are taken, in the order of the days, so
/// that a longer path leaves the first forecasts' draws as they were. A promise of rain is 0 or at
/// least `forecast_wet_mm`; days with less than that count as dry. On wet days the promise is what
/// falls times a log-normal error of mean 1. The last two mornings see only as far as the path goes.
pub fn forecasts(
    days: &[RecordDay],
    p: &WeatherParameters,
    draw: &mut dyn FnMut() -> f64,
) -> Vec<Forecast> {
    let skill = Skill::new(p);
    let foreseen: Vec<Foreseen> = days.iter().map(|day| foresee(day, p, &skill, draw)).collect();
    let ahead = |day: usize, lead: usize| foreseen.get(day + lead).map_or(0.0, |f| f.rain_mm[lead]);
    (0..days.len())
        .map(|i| Forecast {
            rain_today_mm: ahead(i, 0),
            rain_3_days_mm: (0..LEADS).map(|lead| ahead(i, lead)).sum(),
            t_max_c: foreseen[i].t_max_c,
        })
        .collect()
}

/// How one day is foreseen at each lead.
fn foresee(
    day: &RecordDay,
    p: &WeatherParameters,
    skill: &Skill,
    draw: &mut dyn FnMut() -> f64,
) -> Foreseen {
    let seen = draw();
    // Open at zero, for the logarithm.
    let exponential = -(1.0 - draw()).ln();
    let (sin, cos) = (2.0 * PI * draw()).sin_cos();
    // Box-Muller: two independent standard normal values.
    let radius = (2.0 * exponential).sqrt();
    let (amount_error, heat_error) = (radius * cos, radius * sin);

    let wet = day.precip_mm >= p.forecast_wet_mm;
    let rain_mm = std::array::from_fn(|lead| {
        if wet && seen < skill.hit[lead] {
            let sd = skill.log_sd[lead];
            let error = (sd * amount_error - 0.5 * sd * sd).exp();
            (day.precip_mm * error).max(p.forecast_wet_mm)
        } else if !wet && seen < skill.false_alarm[lead] {
            p.forecast_wet_mm + p.forecast_false_rain_mm * exponential
        } else {
            0.0
        }
    });
    Foreseen { rain_mm, t_max_c: day.t_max_c + p.forecast_t_max_sd_c * heat_error }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::tests_support::{close, jfk};
    use rand::rngs::ChaCha8Rng;
    use rand::{RngExt, SeedableRng};

    /// Over 20 readings of four years the measured rates are the stated ones, within four standard
    /// errors (some 9000 wet and 20000 dry days: below 0.02).
    #[test]
    fn measured_skill_is_the_stated_skill() {
        let days = jfk().days;
        let p = WeatherParameters::default();
        let mut rng = ChaCha8Rng::seed_from_u64(7);
        let (mut wet, mut hits, mut dry, mut alarms) = (0.0, 0.0, 0.0, 0.0);
        let (mut promised, mut fell, mut squares, mut n) = (0.0, 0.0, 0.0, 0.0);
        let mut dry_outlooks = 0;
        for _ in 0..20 {
            let morning = forecasts(&days, &p, &mut || rng.random::<f64>());
            for (day, forecast) in days.iter().zip(&morning) {
                let said = forecast.rain_today_mm > 0.0;
                if day.precip_mm >= p.forecast_wet_mm {
                    wet += 1.0;
                    if said {
                        hits += 1.0;
                        promised += forecast.rain_today_mm;
                        fell += day.precip_mm;
                    }
                } else {
                    dry += 1.0;
                    alarms += f64::from(u8::from(said));
                }
                dry_outlooks += usize::from(forecast.rain_3_days_mm == 0.0);
                let error = forecast.t_max_c - day.t_max_c;
                squares += error * error;
                n += 1.0;
            }
        }
        close(hits / wet, p.forecast_hit_rate, 0.02);
        close(alarms / dry, p.forecast_false_alarm_rate, 0.01);
        close(f64::sqrt(squares / n), p.forecast_t_max_sd_c, 0.05);
        // Mean error 1, raised a little by the floor at `forecast_wet_mm`.
        close(promised / fell, 1.0, 0.05);
        assert!(dry_outlooks > 1000, "dry forecasts exist: {dry_outlooks}");
    }

    #[test]
    fn skill_falls_with_lead_and_a_forecast_firms_up() {
        let mut days = jfk().days;
        days.truncate(1000);
        let p = WeatherParameters::default();
        let skill = Skill::new(&p);
        let mut rng = ChaCha8Rng::seed_from_u64(11);
        for day in &days {
            let f = foresee(day, &p, &skill, &mut || rng.random::<f64>());
            if day.precip_mm >= p.forecast_wet_mm {
                // Promised early, it stays promised.
                assert!(f.rain_mm[2] == 0.0 || f.rain_mm[0] > 0.0);
            } else {
                assert!(f.rain_mm[0] == 0.0 || f.rain_mm[2] > 0.0);
            }
        }
    }

    #[test]
    fn a_longer_path_keeps_the_first_forecasts() {
        let days = jfk().days;
        let p = WeatherParameters::default();
        let read = |n: usize| {
            let mut rng = ChaCha8Rng::seed_from_u64(3);
            forecasts(&days[..n], &p, &mut || rng.random::<f64>())
        };
        assert_eq!(read(100)[..98], read(365)[..98]);
    }

    #[test]
    fn an_edge_draw_stays_finite() {
        let days = jfk().days;
        let p = WeatherParameters::default();
        for value in [0.0, 1.0 - f64::EPSILON] {
            for f in forecasts(&days[..50], &p, &mut || value) {
                assert!(f.rain_3_days_mm.is_finite() && f.t_max_c.is_finite());
            }
        }
    }
}
