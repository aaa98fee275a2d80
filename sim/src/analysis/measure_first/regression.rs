//! Smoothing an outcome over a fact: a natural cubic regression spline with a penalty on its
//! curvature, the smoothness found by generalized cross-validation (Craven & Wahba 1979, Numerische
//! Mathematik 31:377-403). The basis is that of Demmler & Reinsch 1975: orthonormal over the members
//! and over the penalty, so that every further outcome on the same fact costs two passes.

/// Knots of a spline, at even quantiles of the fact, its ends among them.
const KNOTS: usize = 7;
/// Values between the ends of a fact at which a spline is told.
const GRID: usize = 101;
/// Powers of ten of the penalty that are tried, in halves, around that of the middle term.
const POWERS: std::ops::RangeInclusive<i32> = -8..=10;
/// A column that keeps less than this part of its length beside the others is none.
const NONE_LEFT: f64 = 1e-7;

/// A fact's smoother: what depends on the fact alone.
#[derive(Clone, Debug)]
pub struct Smoother {
    /// Orthonormal columns over the members, the constant first.
    columns: Vec<Column>,
    /// Curvature of each.
    penalties: Vec<f64>,
    /// Where the columns are told, for a single fact.
    grid: Vec<f64>,
    /// A single fact's values, rising.
    sorted: Vec<f64>,
    members: usize,
}

/// A function of the fact: its values over the members, on the grid, and its second derivatives.
#[derive(Clone, Debug)]
struct Column {
    at: Vec<f64>,
    grid: Vec<f64>,
    bend: Vec<f64>,
}

/// One outcome, smoothed.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Smoothed values, by member.
    pub fitted: Vec<f64>,
    /// On the smoother's grid.
    pub curve: Vec<f64>,
    coefficients: Vec<f64>,
    kept: Vec<f64>,
}

impl Smoother {
    /// The smoother over one fact, or over several that add up; each is one value a member. Facts that
    /// do not vary are passed over.
    pub fn new(facts: &[Vec<f64>]) -> Smoother {
        let members = facts.first().map_or(0, Vec::len);
        let parts: Vec<(Spline, &Vec<f64>)> =
            facts.iter().filter_map(|values| Some((Spline::new(values)?, values))).collect();
        let grid = if let [(only, _)] = &parts[..] { only.grid.clone() } else { vec![] };
        let bends = parts.len() * GRID;
        let constant =
            Column { at: vec![1.0; members], grid: vec![1.0; grid.len()], bend: vec![0.0; bends] };
        let mut raw = vec![constant];
        for curved in [false, true] {
            for (place, (part, values)) in parts.iter().enumerate() {
                for term in part.terms(curved) {
                    let mut bend = vec![0.0; bends];
                    for (to, x) in bend[place * GRID..].iter_mut().zip(&part.grid) {
                        *to = part.term(term, *x).1;
                    }
                    let over = |all: &[f64]| all.iter().map(|x| part.term(term, *x).0).collect();
                    raw.push(Column { at: over(values), grid: over(&grid), bend });
                }
            }
        }
        let columns = orthonormal(raw);
        let bent = |a: &Column, b: &Column| dot(&a.bend, &b.bend) / GRID as f64;
        let omega: Vec<Vec<f64>> =
            columns.iter().map(|a| columns.iter().map(|b| bent(a, b)).collect()).collect();
        let (penalties, turns) = eigen(omega);
        let columns = turns.iter().map(|turn| Column::mix(&columns, turn)).collect();
        let mut sorted = if let [(_, only)] = &parts[..] { only.to_vec() } else { vec![] };
        sorted.sort_by(f64::total_cmp);
        Smoother { columns, penalties, grid, sorted, members }
    }

    /// Values of a single fact between which all but this share of the members lie at each end.
    pub fn middle(&self, edge: f64) -> (f64, f64) {
        let last = self.sorted.len().saturating_sub(1) as f64;
        let at = |share: f64| self.sorted.get((share * last).round() as usize).copied();
        (at(edge).unwrap_or(f64::NAN), at(1.0 - edge).unwrap_or(f64::NAN))
    }

    /// Values of the fact at which curves are told; empty for several facts together.
    pub fn grid(&self) -> &[f64] {
        &self.grid
    }

    /// Smooths one outcome, a value a member.
    pub fn fit(&self, outcome: &[f64]) -> Fit {
        let n = self.members as f64;
        let along: Vec<f64> = self.columns.iter().map(|column| dot(&column.at, outcome)).collect();
        let all = dot(outcome, outcome);
        let beyond = (all - along.iter().map(|z| z * z).sum::<f64>()).max(0.0);
        let middle = self.middle_penalty();
        let kept_at = |power: i32| -> Vec<f64> {
            let strength = 10f64.powf(f64::from(power) / 2.0) / middle;
            self.penalties.iter().map(|d| 1.0 / (1.0 + strength * d.max(0.0))).collect()
        };
        // The smoothest wins where several do as well.
        let mut best = (f64::INFINITY, vec![1.0; along.len()]);
        for power in POWERS.rev() {
            let kept = kept_at(power);
            let freedom: f64 = kept.iter().sum();
            let left = along.iter().zip(&kept).map(|(z, s)| ((1.0 - s) * z).powi(2)).sum::<f64>();
            let score = (beyond + left) / (n - freedom).max(1.0).powi(2);
            if score < best.0 * (1.0 - 1e-12) {
                best = (score, kept);
            }
        }
        let kept = best.1;
        let coefficients: Vec<f64> = along.iter().zip(&kept).map(|(z, s)| z * s).collect();
        Fit {
            fitted: self.told(&coefficients, |column| &column.at, self.members),
            curve: self.told(&coefficients, |column| &column.grid, self.grid.len()),
            coefficients,
            kept,
        }
    }

    /// The fit without the members of one of `groups` groups (member i is in group i mod groups), to
    /// first order in the residuals: values over all members, and on the grid.
    pub fn without(
        &self,
        fit: &Fit,
        outcome: &[f64],
        (group, groups): (usize, usize),
    ) -> (Vec<f64>, Vec<f64>) {
        let share = 1.0 / groups as f64;
        let one = |at: usize| {
            let members = (group..self.members).step_by(groups);
            let pull: f64 =
                members.map(|i| self.columns[at].at[i] * (outcome[i] - fit.fitted[i])).sum();
            fit.coefficients[at] - pull / (1.0 / fit.kept[at] - share)
        };
        let coefficients: Vec<f64> = (0..self.columns.len()).map(one).collect();
        (
            self.told(&coefficients, |column| &column.at, self.members),
            self.told(&coefficients, |column| &column.grid, self.grid.len()),
        )
    }

    fn told(
        &self,
        coefficients: &[f64],
        part: impl Fn(&Column) -> &Vec<f64>,
        length: usize,
    ) -> Vec<f64> {
        let mut out = vec![0.0; length];
        for (column, weight) in self.columns.iter().zip(coefficients) {
            out.iter_mut().zip(part(column)).for_each(|(sum, value)| *sum += weight * value);
        }
        out
    }

    /// The middle of the penalties above nothing: the scale on which strengths are tried.
    fn middle_penalty(&self) -> f64 {
        let most = self.penalties.iter().copied().fold(0.0, f64::max);
        let mut above: Vec<f64> =
            self.penalties.iter().copied().filter(|d| *d > 1e-9 * most).collect();
        above.sort_by(f64::total_cmp);
        above.get(above.len() / 2).copied().unwrap_or(1.0)
    }
}

impl Column {
    fn each(&mut self, mut change: impl FnMut(&mut f64, usize, usize)) {
        for (part, values) in [&mut self.at, &mut self.grid, &mut self.bend].into_iter().enumerate()
        {
            values.iter_mut().enumerate().for_each(|(i, value)| change(value, part, i));
        }
    }

    fn get(&self, part: usize, i: usize) -> f64 {
        [&self.at, &self.grid, &self.bend][part][i]
    }

    fn mix(columns: &[Column], weights: &[f64]) -> Column {
        let mut out = columns[0].clone();
        out.each(|value, part, i| {
            *value = columns.iter().zip(weights).map(|(column, w)| w * column.get(part, i)).sum();
        });
        out
    }
}

/// Natural cubic spline terms over one fact (Hastie, Tibshirani & Friedman 2009, equations 5.4, 5.5).
struct Spline {
    knots: Vec<f64>,
    grid: Vec<f64>,
    middle: f64,
    sd: f64,
}

impl Spline {
    /// `None` where the fact does not vary.
    fn new(values: &[f64]) -> Option<Spline> {
        let n = values.len() as f64;
        let middle = values.iter().sum::<f64>() / n;
        let sd = (values.iter().map(|v| (v - middle).powi(2)).sum::<f64>() / n).sqrt();
        if values.len() < 2 || sd <= 1e-12 * middle.abs().max(1e-300) {
            return None;
        }
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        let last = sorted.len() - 1;
        let mut knots: Vec<f64> = (0..KNOTS).map(|k| sorted[k * last / (KNOTS - 1)]).collect();
        knots.dedup_by(|a, b| *a - *b < 1e-6 * sd);
        knots.iter_mut().for_each(|knot| *knot = (*knot - middle) / sd);
        let (low, high) = (sorted[0], sorted[last]);
        let step = (high - low) / (GRID - 1) as f64;
        let grid = (0..GRID).map(|i| low + step * i as f64).collect();
        Some(Spline { knots, grid, middle, sd })
    }

    /// The straight term, or the curved ones.
    fn terms(&self, curved: bool) -> std::ops::Range<usize> {
        if curved { 1..self.knots.len().saturating_sub(1) } else { 0..1 }
    }

    /// Value and second derivative (by the standardized fact) of a term.
    fn term(&self, term: usize, x: f64) -> (f64, f64) {
        let x = (x - self.middle) / self.sd;
        if term == 0 {
            return (x, 0.0);
        }
        let last = self.knots[self.knots.len() - 1];
        let above = |knot: f64| (x - knot).max(0.0);
        let part = |knot: f64| {
            let width = last - knot;
            let (from, beyond) = (above(knot), above(last));
            ((from.powi(3) - beyond.powi(3)) / width, 6.0 * (from - beyond) / width)
        };
        let (own, end) = (part(self.knots[term - 1]), part(self.knots[self.knots.len() - 2]));
        (own.0 - end.0, own.1 - end.1)
    }
}

/// Modified Gram-Schmidt over the members, twice for accuracy; what depends on others is left out.
fn orthonormal(raw: Vec<Column>) -> Vec<Column> {
    let mut done: Vec<Column> = Vec::new();
    for mut column in raw {
        let before = dot(&column.at, &column.at).sqrt();
        for _ in 0..2 {
            for other in &done {
                let along = dot(&column.at, &other.at);
                column.each(|value, part, i| *value -= along * other.get(part, i));
            }
        }
        let length = dot(&column.at, &column.at).sqrt();
        if length > NONE_LEFT * before {
            column.each(|value, _, _| *value /= length);
            done.push(column);
        }
    }
    done
}

/// Eigenvalues of a symmetric matrix, and for each its vector, by Jacobi's turns (Golub & Van Loan
/// 2013, algorithm 8.5.3).
pub(super) fn eigen(mut a: Vec<Vec<f64>>) -> (Vec<f64>, Vec<Vec<f64>>) {
    let n = a.len();
    let mut turns: Vec<Vec<f64>> =
        (0..n).map(|i| (0..n).map(|j| f64::from(u8::from(i == j))).collect()).collect();
    for _ in 0..60 {
        let off: f64 =
            (0..n).flat_map(|i| (0..i).map(move |j| (i, j))).map(|(i, j)| a[i][j].powi(2)).sum();
        let all: f64 = a.iter().flatten().map(|v| v * v).sum();
        if off <= 1e-28 * all {
            break;
        }
        for p in 0..n {
            for q in p + 1..n {
                if a[p][q] == 0.0 {
                    continue;
                }
                let tau = (a[q][q] - a[p][p]) / (2.0 * a[p][q]);
                let t = tau.signum() / (tau.abs() + (1.0 + tau * tau).sqrt());
                let c = 1.0 / (1.0 + t * t).sqrt();
                let s = t * c;
                for row in &mut a {
                    (row[p], row[q]) = (c * row[p] - s * row[q], s * row[p] + c * row[q]);
                }
                for k in 0..n {
                    (a[p][k], a[q][k]) = (c * a[p][k] - s * a[q][k], s * a[p][k] + c * a[q][k]);
                    (turns[p][k], turns[q][k]) =
                        (c * turns[p][k] - s * turns[q][k], s * turns[p][k] + c * turns[q][k]);
                }
            }
        }
    }
    ((0..n).map(|i| a[i][i]).collect(), turns)
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Purpose, Streams, standard_normal, uniform};

    fn drawn(n: u32, name: u64, normal: bool) -> Vec<f64> {
        let one = |k| {
            let mut luck = Streams::new(9).keyed(k, Purpose::Analysis, name, 0);
            if normal { standard_normal(&mut luck) } else { uniform(&mut luck) }
        };
        (0..n).map(one).collect()
    }

    /// Golub & Van Loan's own kind of check: A v = d v, and vectors at right angles.
    #[test]
    fn eigenvectors_are_turned_into_themselves() {
        let a = vec![vec![4.0, 1.0, -2.0], vec![1.0, 3.0, 0.5], vec![-2.0, 0.5, 1.0]];
        let (values, vectors) = eigen(a.clone());
        for (value, vector) in values.iter().zip(&vectors) {
            for (row, own) in a.iter().zip(vector) {
                assert!((dot(row, vector) - value * own).abs() < 1e-10);
            }
        }
        assert!(dot(&vectors[0], &vectors[1]).abs() < 1e-12);
        assert!((values.iter().sum::<f64>() - 8.0).abs() < 1e-12, "the trace");
    }

    /// A straight line is in the span of a natural spline and bears no penalty.
    #[test]
    fn a_line_is_found_exactly() {
        let x = drawn(200, 1, false);
        let y: Vec<f64> = x.iter().map(|x| 3.0 - 2.0 * x).collect();
        let fit = Smoother::new(&[x]).fit(&y);
        assert!(fit.fitted.iter().zip(&y).all(|(a, b)| (a - b).abs() < 1e-9));
    }

    /// A bent curve under noise of sd 1: the root mean square error of a smoother with k degrees of
    /// freedom on n members is about sqrt(k/n), here below 0.09; leaving a tenth out moves little.
    #[test]
    fn a_curve_is_found_under_noise_and_noise_alone_is_flat() {
        let (x, noise) = (drawn(1000, 2, false), drawn(1000, 3, true));
        let truth: Vec<f64> = x.iter().map(|x| 3.0 * (3.0 * x).sin()).collect();
        let y: Vec<f64> = truth.iter().zip(&noise).map(|(a, b)| a + b).collect();
        let smoother = Smoother::new(&[x]);
        let off = |a: &[f64], b: &[f64]| {
            (a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>() / 1000.0).sqrt()
        };
        let fit = smoother.fit(&y);
        assert!(off(&fit.fitted, &truth) < 0.12, "{}", off(&fit.fitted, &truth));
        let (without, _) = smoother.without(&fit, &y, (3, 10));
        let moved = off(&without, &fit.fitted);
        assert!(moved > 1e-3 && moved < 0.06, "{moved}");
        let flat = smoother.fit(&noise);
        assert!(off(&flat.fitted, &[0.0; 1000]) < 0.12);
    }

    #[test]
    fn a_fact_that_does_not_vary_leaves_the_mean() {
        let fit = Smoother::new(&[vec![2.0; 4]]).fit(&[1.0, 2.0, 3.0, 6.0]);
        assert!(fit.fitted.iter().all(|v| (v - 3.0).abs() < 1e-12));
    }
}
