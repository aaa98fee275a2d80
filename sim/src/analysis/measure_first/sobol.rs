//! Shares of an outcome's variance (Sobol 1993), first-order and total, by the estimators of Jansen
//! 1999 (Computer Physics Communications 117:35-43; Saltelli et al. 2010, ibid. 181:259-270, table 2).
//! The two samples share their weather and slips, member by member: the shares are those of the spread
//! that the lawn and the model make in the same weather, averaged over the weather.

/// Shares of the variance that one fact makes, 0..=1 but for Monte Carlo noise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Indices {
    /// By itself.
    pub first: f64,
    /// Its Monte Carlo standard error.
    pub first_error: f64,
    /// With all that it does together with others.
    pub total: f64,
    /// Its Monte Carlo standard error.
    pub total_error: f64,
}

/// The indices from the outcomes of sample A, of sample B, and of A with the fact's values of B. All are
/// 0 where nothing varies.
pub fn indices(a: &[f64], b: &[f64], exchanged: &[f64]) -> Indices {
    let half = |x: &[f64], y: &[f64]| -> Vec<f64> {
        x.iter().zip(y).map(|(x, y)| 0.5 * (x - y).powi(2)).collect()
    };
    let variance = half(a, b);
    let (without, total) = (half(b, exchanged), half(a, exchanged));
    let (rest, first_error) = ratio(&without, &variance);
    let (total, total_error) = ratio(&total, &variance);
    let first = if variance.iter().any(|v| *v > 0.0) { 1.0 - rest } else { 0.0 };
    Indices { first, first_error, total, total_error }
}

/// A ratio of two means, and its standard error to first order (Cochran 1977, chapter 6).
fn ratio(above: &[f64], below: &[f64]) -> (f64, f64) {
    let n = above.len() as f64;
    let mean = below.iter().sum::<f64>() / n;
    if mean <= 0.0 {
        return (0.0, 0.0);
    }
    let ratio = above.iter().sum::<f64>() / n / mean;
    let squares: f64 = above.iter().zip(below).map(|(a, b)| (a - ratio * b).powi(2)).sum();
    (ratio, (squares / (n * (n - 1.0).max(1.0))).sqrt() / mean)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::draw::{Purpose, Streams, uniform};
    use std::f64::consts::PI;

    pub const DIMENSIONS: usize = 3;

    /// Two independent uniform samples.
    pub fn design(n: u32) -> (Vec<[f64; DIMENSIONS]>, Vec<[f64; DIMENSIONS]>) {
        let streams = Streams::new(20);
        let sample = |name: u64| {
            let one = |k| {
                let mut luck = streams.keyed(k, Purpose::Analysis, name, 0);
                std::array::from_fn(|_| uniform(&mut luck))
            };
            (0..n).map(one).collect()
        };
        (sample(1), sample(2))
    }

    fn of(f: impl Fn(&[f64; DIMENSIONS]) -> f64, n: u32) -> Vec<Indices> {
        let (a, b) = design(n);
        let told = |points: &[[f64; DIMENSIONS]]| points.iter().map(&f).collect::<Vec<f64>>();
        let (fa, fb) = (told(&a), told(&b));
        let one = |j: usize| {
            let pairs = a.iter().zip(&b);
            let mixed: Vec<[f64; DIMENSIONS]> = pairs
                .map(|(a, b)| std::array::from_fn(|k| if k == j { b[k] } else { a[k] }))
                .collect();
            indices(&fa, &fb, &told(&mixed))
        };
        (0..DIMENSIONS).map(one).collect()
    }

    fn near(found: &[Indices], first: [f64; DIMENSIONS], total: [f64; DIMENSIONS]) {
        for ((found, first), total) in found.iter().zip(first).zip(total) {
            assert!((found.first - first).abs() < 4.0 * found.first_error, "{found:?} {first}");
            assert!(
                (found.total - total).abs() < 4.0 * found.total_error + 1e-12,
                "{found:?} {total}"
            );
            assert!(found.first_error < 0.02 && found.total_error < 0.02, "{found:?}");
        }
    }

    /// The Ishigami function (Ishigami & Homma 1990) with a = 7, b = 0.1: S = 0.3139, 0.4424, 0 and
    /// ST = 0.5576, 0.4424, 0.2437 (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer).
    #[test]
    fn the_ishigami_function_has_its_published_indices() {
        let f = |u: &[f64; DIMENSIONS]| {
            let x = u.map(|u| PI * (2.0 * u - 1.0));
            x[0].sin() + 7.0 * x[1].sin().powi(2) + 0.1 * x[2].powi(4) * x[0].sin()
        };
        near(&of(f, 60_000), [0.3139, 0.4424, 0.0], [0.5576, 0.4424, 0.2437]);
    }

    /// A sum of c x has S = ST = c^2 / sum(c^2); the g-function of Sobol with a = 0, 1, 9 has
    /// V_i = 1/(3 (1 + a_i)^2), V = prod(1 + V_i) - 1, S_i = V_i/V,
    /// ST_i = V_i prod_{j != i}(1 + V_j)/V (Saltelli et al. 2010).
    #[test]
    fn a_sum_and_the_g_function_have_theirs() {
        let shares = [9.0 / 14.0, 4.0 / 14.0, 1.0 / 14.0];
        near(&of(|x| 3.0 * x[0] + 2.0 * x[1] - x[2], 60_000), shares, shares);
        let a = [0.0, 1.0, 9.0];
        let g = |x: &[f64; DIMENSIONS]| -> f64 {
            x.iter().zip(a).map(|(x, a)| ((4.0 * x - 2.0).abs() + a) / (1.0 + a)).product()
        };
        let v = a.map(|a| 1.0 / (3.0 * (1.0f64 + a).powi(2)));
        let whole: f64 = v.iter().map(|v| 1.0 + v).product();
        let first = v.map(|v| v / (whole - 1.0));
        let total = v.map(|v| v * whole / (1.0 + v) / (whole - 1.0));
        near(&of(g, 60_000), first, total);
    }

    /// What both samples share, as weather is, is no part of the shares.
    #[test]
    fn shared_luck_drops_out() {
        let (a, b) = design(5_000);
        let f = |x: f64, y: f64, weather: f64| 2.0 * x + y + 50.0 * weather;
        let told = |x: &dyn Fn(usize) -> (f64, f64)| -> Vec<f64> {
            (0..a.len()).map(|k| f(x(k).0, x(k).1, a[k][2])).collect()
        };
        let fa = told(&|k| (a[k][0], a[k][1]));
        let fb = told(&|k| (b[k][0], b[k][1]));
        let found = indices(&fa, &fb, &told(&|k| (b[k][0], a[k][1])));
        assert!((found.first - 0.8).abs() < 4.0 * found.first_error, "{found:?}");
        assert_eq!(indices(&[1.0, 1.0], &[1.0, 1.0], &[1.0, 1.0]).total, 0.0);
    }
}
