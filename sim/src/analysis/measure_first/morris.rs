//! Elementary effects (Morris 1991, Technometrics 33:161-174) on a radial design (Campolongo, Saltelli
//! & Cariboni 2011, Computer Physics Communications 182:978-988): each member is played again with one
//! fact alone exchanged for another draw, in the same weather. An effect is weighted by its step, so
//! that the rounding of a rule over a tiny step does not count as a large one.

/// How far one fact moves an outcome, in its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// Mean change where it is drawn anew, either way.
    pub moved: f64,
    /// Standard error of that.
    pub error: f64,
    /// Mean absolute elementary effect (mu* of Campolongo, Cariboni & Saltelli 2007): change for a step
    /// across all that the fact may be.
    pub mean_absolute: f64,
    /// Mean elementary effect, with its sign.
    pub mean: f64,
    /// Standard deviation of the elementary effects: bends, and dealings with other facts.
    pub spread: f64,
}

/// The effect from outcomes before and after an exchange, and the steps, in shares of the fact's draws
/// (-1..=1).
pub fn effect(before: &[f64], after: &[f64], steps: &[f64]) -> Effect {
    let n = before.len() as f64;
    let changes: Vec<f64> = before.iter().zip(after).map(|(a, b)| b - a).collect();
    let moved = changes.iter().map(|c| c.abs()).sum::<f64>() / n;
    let variance =
        changes.iter().map(|c| (c.abs() - moved).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    let error = if before.len() < 2 { f64::INFINITY } else { (variance / n).sqrt() };
    let pairs = || changes.iter().zip(steps);
    let whole = steps.iter().map(|step| step.abs()).sum::<f64>();
    let over = |sum: f64| if whole > 0.0 { sum / whole } else { 0.0 };
    let mean = over(pairs().map(|(change, step)| change * step.signum()).sum());
    let squares = pairs().filter(|(_, step)| step.abs() > 0.0);
    let squares = squares.map(|(change, step)| step.abs() * (change / step - mean).powi(2)).sum();
    Effect {
        moved,
        error,
        mean_absolute: over(changes.iter().map(|c| c.abs()).sum()),
        mean,
        spread: f64::sqrt(over(squares)),
    }
}

/// Share of sorted values that lie below a value: its place among them, 0..=1.
pub fn place(sorted: &[f64], value: f64) -> f64 {
    let below = sorted.partition_point(|v| *v < value);
    let upto = sorted.partition_point(|v| *v <= value);
    (below + upto) as f64 / 2.0 / sorted.len().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::super::sobol::tests::{DIMENSIONS, design};
    use super::*;

    /// Of a linear function every elementary effect is the coefficient (Morris 1991).
    #[test]
    fn a_linear_function_has_its_coefficients() {
        let weights = [4.0, -2.0, 0.0];
        let f = |x: &[f64; DIMENSIONS]| x.iter().zip(weights).map(|(x, w)| w * x).sum::<f64>();
        let (a, b) = design(64);
        for (j, weight) in weights.into_iter().enumerate() {
            let moved: Vec<[f64; DIMENSIONS]> = a
                .iter()
                .zip(&b)
                .map(|(a, b)| std::array::from_fn(|k| if k == j { b[k] } else { a[k] }))
                .collect();
            let steps: Vec<f64> = a.iter().zip(&b).map(|(a, b)| b[j] - a[j]).collect();
            let of = |points: &[[f64; DIMENSIONS]]| points.iter().map(f).collect::<Vec<f64>>();
            let found = effect(&of(&a), &of(&moved), &steps);
            assert!((found.mean - weight).abs() < 1e-12 && found.spread < 1e-6, "{found:?}");
            assert!((found.mean_absolute - f64::abs(weight)).abs() < 1e-12);
            // Two uniform draws lie a third apart on average.
            assert!((found.moved - weight.abs() / 3.0).abs() < 4.0 * found.error + 1e-12);
        }
    }

    #[test]
    fn places_are_shares_of_the_draws() {
        assert_eq!(place(&[1.0, 2.0, 2.0, 4.0], 2.0), 0.5);
        assert_eq!((place(&[1.0, 2.0], 0.0), place(&[1.0, 2.0], 9.0)), (0.0, 1.0));
    }
}
