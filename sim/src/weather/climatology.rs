//! What is usual at a station on each day of the year.

use std::f64::consts::PI;

use super::RecordDay;

/// Days of the climatology's year; 29 February counts as 28 February.
pub(super) const YEAR: usize = 365;
/// Harmonics of the year in the means.
const MEAN_HARMONICS: usize = 3;
/// Harmonics of the year in the variances.
const VARIANCE_HARMONICS: usize = 2;
/// Least variance of daily temperature, C2: keeps standardized anomalies finite.
const LEAST_VARIANCE: f64 = 0.25;

/// A yearly course of mean and standard deviation.
#[derive(Clone, Debug)]
pub(super) struct Course {
    /// Mean by day of the year, from 0.
    pub(super) mean: Vec<f64>,
    /// Standard deviation by day of the year, from 0.
    pub(super) sd: Vec<f64>,
}

impl Course {
    /// Fits the course of a quantity: day-of-year means, smoothed by the first harmonics of the year
    /// (an orthogonal projection, since the 365 days are evenly spaced), and likewise the squared
    /// anomalies. `calendar` holds each day's index in the year, 0..365.
    pub(super) fn fit(
        days: &[RecordDay],
        calendar: &[u16],
        value: impl Fn(&RecordDay) -> f64,
    ) -> Course {
        let mean = smooth(&by_day(calendar, days.iter().map(&value)), MEAN_HARMONICS);
        let squares = days.iter().zip(calendar).map(|(day, &c)| {
            let anomaly = value(day) - mean[usize::from(c)];
            anomaly * anomaly
        });
        let variance = smooth(&by_day(calendar, squares), VARIANCE_HARMONICS);
        let sd = variance.into_iter().map(|v| v.max(LEAST_VARIANCE).sqrt()).collect();
        Course { mean, sd }
    }

    /// A value's distance from the usual, in standard deviations.
    pub(super) fn anomaly(&self, value: f64, calendar: u16) -> f64 {
        let day = usize::from(calendar);
        (value - self.mean[day]) / self.sd[day]
    }

    /// What to add to a value of one day of the year to make it one of another.
    pub(super) fn shift(&self, from: u16, to: u16) -> f64 {
        self.mean[usize::from(to)] - self.mean[usize::from(from)]
    }
}

/// Means by day of the year; a day that the record lacks gets the mean of all.
fn by_day(calendar: &[u16], values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut sums = vec![(0.0, 0.0); YEAR];
    for (&day, value) in calendar.iter().zip(values) {
        let slot = &mut sums[usize::from(day)];
        slot.0 += value;
        slot.1 += 1.0;
    }
    let (total, n) = sums.iter().fold((0.0, 0.0), |(s, n), day| (s + day.0, n + day.1));
    sums.into_iter()
        .map(|(sum, count)| if count > 0.0 { sum / count } else { total / f64::max(n, 1.0) })
        .collect()
}

/// The mean and the first harmonics of a year of values.
fn smooth(values: &[f64], harmonics: usize) -> Vec<f64> {
    let n = values.len() as f64;
    let angle = |day: usize, harmonic: usize| 2.0 * PI * (day * harmonic) as f64 / n;
    let mut smoothed = vec![values.iter().sum::<f64>() / n; values.len()];
    for harmonic in 1..=harmonics {
        let (mut a, mut b) = (0.0, 0.0);
        for (day, value) in values.iter().enumerate() {
            let (sin, cos) = angle(day, harmonic).sin_cos();
            a += value * cos * 2.0 / n;
            b += value * sin * 2.0 / n;
        }
        for (day, out) in smoothed.iter_mut().enumerate() {
            let (sin, cos) = angle(day, harmonic).sin_cos();
            *out += a * cos + b * sin;
        }
    }
    smoothed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::tests_support::close;

    #[test]
    fn harmonics_give_back_a_sine_and_drop_short_waves() {
        let wave = |day: usize| 10.0 + 8.0 * (2.0 * PI * day as f64 / 365.0 - 1.0).sin();
        let noisy: Vec<f64> =
            (0..YEAR).map(|d| wave(d) + 3.0 * (20.0 * 2.0 * PI * d as f64 / 365.0).sin()).collect();
        for (day, value) in smooth(&noisy, 3).into_iter().enumerate() {
            close(value, wave(day), 1e-9);
        }
    }
}
