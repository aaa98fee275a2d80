//! The value of knowing a whole kind of luck, such as all the weather, and how far it moves the lawn.
//!
//! No curve can be drawn over so many numbers. Members are played twice with that luck kept and all
//! other luck exchanged: what the two have in common is what it makes (Sobol 1993; the pick-freeze
//! estimate of Gamboa et al. 2016, Bernoulli 22). Taking these parts of the gains for normal, knowing
//! them is worth E max(0, g) - max(0, E g), by the unit normal loss for two programs (Raiffa & Schlaifer
//! 1961) and by draws for more: the normal approximation of Jalal & Alarid-Escudero 2018, Medical
//! Decision Making 38:174-188.

use statrs::distribution::{Continuous, ContinuousCDF, Normal};

use super::evppi::{GROUPS, SURE, centred, jackknife, quantile_95};
use super::regression::eigen;
use crate::draw::{Purpose, Streams, key, standard_normal};

/// Draws for the best of several normal gains, each taken with either sign.
const DRAWS: u32 = 1000;

/// What knowing a kind of luck is worth, in the unit of the gains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Whole {
    /// Expected gain, noise taken off.
    pub value: f64,
    /// Its standard error; infinite for too few members.
    pub error: f64,
    /// Values up to this come of noise alone in 19 of 20 cases.
    pub floor: f64,
}

impl Whole {
    /// Whether the value stands out from noise.
    pub fn clear(&self) -> bool {
        self.value > self.floor.max(SURE * self.error)
    }

    /// The same, or this value where it is less.
    pub(super) fn at_most(self, most: f64) -> Whole {
        Whole { value: self.value.min(most), ..self }
    }
}

/// The value from gains `[program][member]` of two plays that have one kind of luck in common; `deals`
/// are orders of the members.
pub fn whole(
    first: &[Vec<f64>],
    again: &[Vec<f64>],
    deals: &[Vec<u32>],
    streams: &Streams,
) -> Whole {
    let normals: Vec<Vec<f64>> = (0..DRAWS)
        .map(|k| {
            let mut luck = streams.keyed(k, Purpose::Analysis, key("group"), 0);
            first.iter().map(|_| standard_normal(&mut luck)).collect()
        })
        .collect();
    let members = first.first().map_or(0, Vec::len);
    let plain = |i: usize| i;
    let found = worth(first, again, plain, |_| true, &normals);
    let left: Vec<f64> = (0..GROUPS)
        .map(|group| worth(first, again, plain, |i| i % GROUPS != group, &normals))
        .collect();
    let noise: Vec<f64> = deals
        .iter()
        .map(|deal| worth(first, again, |i| deal[i] as usize, |_| true, &normals))
        .collect();
    let (usual, noise) = centred(noise);
    Whole {
        value: found - usual,
        error: if members < 2 * GROUPS { f64::INFINITY } else { jackknife(&left) },
        floor: quantile_95(noise),
    }
}

fn worth(
    first: &[Vec<f64>],
    again: &[Vec<f64>],
    pair: impl Fn(usize) -> usize,
    among: impl Fn(usize) -> bool,
    normals: &[Vec<f64>],
) -> f64 {
    let members: Vec<usize> =
        (0..first.first().map_or(0, Vec::len)).filter(|i| among(*i)).collect();
    let n = members.len().max(1) as f64;
    let mean = |of: &dyn Fn(usize) -> f64| members.iter().map(|i| of(*i)).sum::<f64>() / n;
    let own: Vec<f64> = first.iter().map(|gain| mean(&|i| gain[i])).collect();
    let other: Vec<f64> = again.iter().map(|gain| mean(&|i| gain[pair(i)])).collect();
    let common =
        |j: usize, k: usize| mean(&|i| (first[j][i] - own[j]) * (again[k][pair(i)] - other[k]));
    let programs = first.len();
    let means: Vec<f64> = own.iter().zip(&other).map(|(a, b)| 0.5 * (a + b)).collect();
    let covariance: Vec<Vec<f64>> = (0..programs)
        .map(|j| (0..programs).map(|k| 0.5 * (common(j, k) + common(k, j))).collect())
        .collect();
    best_of(&means, covariance, normals)
}

/// Expected best of 0 and normal gains, less the best expected one.
fn best_of(means: &[f64], covariance: Vec<Vec<f64>>, normals: &[Vec<f64>]) -> f64 {
    if let ([mean], [row]) = (means, &covariance[..]) {
        let sd = row[0].max(0.0).sqrt();
        return if sd > 0.0 { unit_loss(mean.abs() / sd) * sd } else { 0.0 };
    }
    let (values, vectors) = eigen(covariance);
    let roots: Vec<f64> = values.iter().map(|value| value.max(0.0).sqrt()).collect();
    let mut sum = 0.0;
    for normal in normals {
        for sign in [1.0, -1.0] {
            let gain = |k: usize| {
                let parts = roots.iter().zip(&vectors).zip(normal);
                means[k] + sign * parts.map(|((root, v), z)| root * v[k] * z).sum::<f64>()
            };
            sum += (0..means.len()).map(gain).fold(0.0, f64::max);
        }
    }
    let best = means.iter().copied().fold(0.0, f64::max);
    sum / (2 * normals.len()) as f64 - best
}

/// phi(u) - u Phi(-u): the unit normal loss.
fn unit_loss(u: f64) -> f64 {
    Normal::new(0.0, 1.0).map_or(0.0, |unit| unit.pdf(u) - u * unit.cdf(-u))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::measure_first::play::deals;

    fn normals(n: u32, name: u64) -> Vec<f64> {
        let streams = Streams::new(3);
        let one = |k| standard_normal(&mut streams.keyed(k, Purpose::Analysis, name, 0));
        (0..n).map(one).collect()
    }

    /// Gains m + s w + noise, w kept and the noise drawn anew: worth s L(|m|/s), L the unit normal loss
    /// (Raiffa & Schlaifer 1961; L(0.5) = 0.1978 in their table). A second program that is always worse
    /// changes nothing, and what is not kept is worth nothing.
    #[test]
    fn common_luck_is_worth_the_normal_loss() {
        assert!((unit_loss(0.5) - 0.1978).abs() < 5e-5);
        let n = 4000;
        let (w, e, f) = (normals(n, 1), normals(n, 2), normals(n, 3));
        let gain = |noise: &[f64]| -> Vec<f64> {
            w.iter().zip(noise).map(|(w, e)| -1.0 + 2.0 * w + 2.0 * e).collect()
        };
        let worse = |gain: &[f64]| gain.iter().map(|g| g - 50.0).collect::<Vec<f64>>();
        let (a, b) = (gain(&e), gain(&f));
        let streams = Streams::new(3);
        let orders = deals(n, 60, &streams);
        let alone = std::slice::from_ref;
        let one = whole(alone(&a), alone(&b), &orders, &streams);
        assert!((one.value - 0.3956).abs() < 3.0 * one.error, "{one:?}");
        assert!(one.value > one.floor && one.error < 0.05);
        let both = whole(&[a.clone(), worse(&a)], &[b.clone(), worse(&b)], &orders, &streams);
        assert!((both.value - one.value).abs() < 0.03, "{both:?} {one:?}");
        let apart: Vec<f64> = normals(n, 4).iter().map(|e| -1.0 + 2.0 * e).collect();
        let none = whole(&[a], &[apart], &orders, &streams);
        assert!(none.value <= 2.0 * none.floor, "{none:?}");
    }
}
