//! The expected value of knowing one fact before a choice (expected value of partial perfect
//! information), by regression on members that were played anyway (Strong, Oakley & Brennan 2014,
//! Medical Decision Making 34:311-326; Heath, Manolopoulou & Baio 2017, ibid. 37:747-758):
//! mean over members of the best smoothed gain at the fact's value, less the best mean gain.
//!
//! Smoothing noise alone finds a little value. What it finds when the outcomes are dealt out anew to
//! other members, over and over, is that noise: its mean is taken off, and its highest over all facts in
//! 19 of 20 deals is the floor below which a value is none.

use super::regression::{Fit, Smoother};

/// Groups of members that are left out, one after the other, for standard errors (the delete-a-group
/// jackknife; Kott 2001, Journal of Official Statistics 17:521-526).
pub(super) const GROUPS: usize = 20;
/// A crossing is told where at least this part of the left-out groups have it.
const HELD: usize = 19;
/// Part of the fact's draws, at each end, in which a crossing is not looked for.
const EDGE: f64 = 0.025;

/// What knowing one fact is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Knowing {
    /// Expected gain, in the unit of the gains; noise taken off, so that it may be a little below 0.
    pub value: f64,
    /// Its standard error; infinite for too few members.
    pub error: f64,
    /// Value that each deal of the outcomes to other members seems to have, its mean taken off.
    pub(super) noise: Vec<f64>,
    /// The program that knowing would lead to instead, where there is one.
    pub switch: Option<Switch>,
}

/// A value less than so many standard errors is none.
pub const SURE: f64 = 2.0;

impl Knowing {
    /// Whether the value stands out from noise: from its own error, and from `floor`, which noise alone
    /// passes in 1 of 20 cases.
    pub fn above(&self, floor: f64) -> bool {
        self.value > floor.max(SURE * self.error)
    }
}

/// The program that knowing leads to instead of the usual choice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Switch {
    /// Index among the gains.
    pub to: usize,
    /// Share of members in which the fact speaks for it, 0..=1.
    pub share: f64,
    /// Mean gain in these.
    pub gain: f64,
    /// Where along the fact the choice turns; `None` where it turns at no one place.
    pub crossing: Option<Crossing>,
}

/// Where a choice turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Value of the fact, in its unit.
    pub at: f64,
    /// Its standard error, likewise.
    pub error: f64,
    /// Whether the other program is the better one above it, or below.
    pub above: bool,
}

/// The value of knowing a fact. `gains[program][member]` are the gains of every other program over the
/// one that is best on average; `deals` are orders of the members.
pub fn knowing(smoother: &Smoother, gains: &[Vec<f64>], deals: &[Vec<u32>]) -> Knowing {
    let fits: Vec<Fit> = gains.iter().map(|gain| smoother.fit(gain)).collect();
    let fitted: Vec<&[f64]> = fits.iter().map(|fit| &fit.fitted[..]).collect();
    let found = worth(&fitted, |_| true);
    let noise: Vec<f64> = deals
        .iter()
        .map(|deal| {
            let dealt = |gain: &Vec<f64>| {
                let other: Vec<f64> = deal.iter().map(|i| gain[*i as usize]).collect();
                smoother.fit(&other).fitted
            };
            let fitted: Vec<Vec<f64>> = gains.iter().map(dealt).collect();
            let fitted: Vec<&[f64]> = fitted.iter().map(Vec::as_slice).collect();
            worth(&fitted, |_| true)
        })
        .collect();
    let (usual, noise) = centred(noise);
    // Without each group of members in turn.
    let without: Vec<Vec<(Vec<f64>, Vec<f64>)>> = (0..GROUPS)
        .map(|group| {
            let pairs = fits.iter().zip(gains);
            pairs.map(|(fit, gain)| smoother.without(fit, gain, (group, GROUPS))).collect()
        })
        .collect();
    let left: Vec<f64> = without
        .iter()
        .enumerate()
        .map(|(group, fits)| {
            let fitted: Vec<&[f64]> = fits.iter().map(|fit| &fit.0[..]).collect();
            worth(&fitted, |i| i % GROUPS != group)
        })
        .collect();
    let members = gains.first().map_or(0, Vec::len);
    let error = if members < 2 * GROUPS { f64::INFINITY } else { jackknife(&left) };
    let switch = switch(&fitted).map(|found| {
        let along = smoother.middle(EDGE);
        let crossing = crossing_at(smoother.grid(), &fits[found.to].curve, along);
        let held: Vec<f64> = without
            .iter()
            .filter_map(|fits| Some(crossing_at(smoother.grid(), &fits[found.to].1, along)?.0))
            .collect();
        let sure = held.len() >= HELD;
        let crossing = crossing.filter(|_| sure).map(|(at, above)| Crossing {
            at,
            above,
            error: jackknife(&held),
        });
        Switch { crossing, ..found }
    });
    Knowing { value: found - usual, error, noise, switch }
}

/// What an all-knowing choice would gain: mean over members of the best gain.
pub fn perfect(gains: &[Vec<f64>]) -> f64 {
    let gains: Vec<&[f64]> = gains.iter().map(Vec::as_slice).collect();
    worth(&gains, |_| true)
}

/// The highest noise over several facts in 19 of 20 deals.
pub(super) fn floor<'k>(all: impl Iterator<Item = &'k Knowing>) -> f64 {
    let mut most: Vec<f64> = Vec::new();
    for knowing in all {
        most.resize(knowing.noise.len(), f64::NEG_INFINITY);
        most.iter_mut().zip(&knowing.noise).for_each(|(most, noise)| *most = most.max(*noise));
    }
    quantile_95(most)
}

/// The value that 19 of 20 do not exceed; infinite without values.
pub(super) fn quantile_95(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let at = (values.len() as f64 * 0.95).ceil() as usize;
    values.get(at.saturating_sub(1)).copied().unwrap_or(f64::INFINITY)
}

/// Mean of the best gain, not choosing otherwise being a gain of 0, less the best mean gain.
fn worth(fitted: &[&[f64]], among: impl Fn(usize) -> bool) -> f64 {
    let members = fitted.first().map_or(0, |gain| gain.len());
    let (mut best, mut count) = (0.0, 0.0);
    let mut means = vec![0.0; fitted.len()];
    for i in (0..members).filter(|i| among(*i)) {
        let mut most = 0.0f64;
        for (gain, mean) in fitted.iter().zip(&mut means) {
            most = most.max(gain[i]);
            *mean += gain[i];
        }
        best += most;
        count += 1.0;
    }
    let most = means.into_iter().fold(0.0, f64::max);
    if count > 0.0 { (best - most) / count } else { 0.0 }
}

/// The program that gains most over all members in which it is the best choice.
fn switch(fitted: &[&[f64]]) -> Option<Switch> {
    let members = fitted.first().map_or(0, |gain| gain.len());
    let mut sums = vec![(0usize, 0.0); fitted.len()];
    for i in 0..members {
        let best = (0..fitted.len()).max_by(|a, b| fitted[*a][i].total_cmp(&fitted[*b][i]));
        if let Some(best) = best.filter(|best| fitted[*best][i] > 0.0) {
            sums[best].0 += 1;
            sums[best].1 += fitted[best][i];
        }
    }
    let (to, (count, sum)) = sums.into_iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    (count > 0).then(|| Switch {
        to,
        share: count as f64 / members as f64,
        gain: sum / count as f64,
        crossing: None,
    })
}

/// The one place at which a curve changes its sign, and whether it rises there.
fn crossing_at(grid: &[f64], curve: &[f64], (low, high): (f64, f64)) -> Option<(f64, bool)> {
    let inside = |x: &f64| (low..=high).contains(x);
    let points: Vec<(f64, f64)> =
        grid.iter().zip(curve).filter(|(x, _)| inside(x)).map(|(x, y)| (*x, *y)).collect();
    let mut found = points.windows(2).filter(|pair| (pair[0].1 > 0.0) != (pair[1].1 > 0.0));
    let pair = found.next()?;
    let [(x0, y0), (x1, y1)] = [pair[0], pair[1]];
    found.next().is_none().then(|| (x0 + (x1 - x0) * y0 / (y0 - y1), y1 > 0.0))
}

/// Mean of what is found where there is nothing to know, and the same with that mean taken off.
pub(super) fn centred(mut noise: Vec<f64>) -> (f64, Vec<f64>) {
    let usual = noise.iter().sum::<f64>() / noise.len().max(1) as f64;
    noise.iter_mut().for_each(|value| *value -= usual);
    (usual, noise)
}

/// Standard error from estimates that each leave one group out.
pub(super) fn jackknife(left: &[f64]) -> f64 {
    let n = left.len() as f64;
    let mean = left.iter().sum::<f64>() / n;
    ((n - 1.0) / n * left.iter().map(|v| (v - mean).powi(2)).sum::<f64>()).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::measure_first::play::deals;
    use crate::draw::{Purpose, Streams, standard_normal};
    use statrs::distribution::{Continuous, ContinuousCDF, Normal};

    fn normals(n: u32, seed: u64, name: u64) -> Vec<f64> {
        let streams = Streams::new(seed);
        let one = |k| standard_normal(&mut streams.keyed(k, Purpose::Analysis, name, 0));
        (0..n).map(one).collect()
    }

    /// Two programs whose gain is m + s z + noise: knowing z is worth s phi(m/s) - |m| Phi(-|m|/s)
    /// (the unit normal loss; Raiffa & Schlaifer 1961), and the choice turns at z = -m/s.
    #[test]
    fn the_value_of_a_normal_fact_is_that_of_the_formula() {
        let unit = Normal::new(0.0, 1.0).unwrap();
        let n = 2000;
        let (mut sum, mut expected_sum, mut inside) = (0.0, 0.0, 0);
        for seed in 0..20 {
            let (z, noise) = (normals(n, seed, 1), normals(n, seed, 2));
            let (m, s) = (-1.0, 2.0);
            let gain: Vec<f64> = z.iter().zip(&noise).map(|(z, e)| m + s * z + 3.0 * e).collect();
            let found = knowing(&Smoother::new(&[z]), &[gain], &deals(n, 40, &Streams::new(seed)));
            let expected = s * unit.pdf(m / s) + m * unit.cdf(m / s);
            inside += i32::from((found.value - expected).abs() < 2.0 * found.error);
            sum += found.value;
            expected_sum += expected;
            assert!(found.value > floor([&found].into_iter()), "{found:?}");
            let switch = found.switch.unwrap();
            assert!((switch.share - unit.cdf(m / s)).abs() < 0.06, "{switch:?}");
            let crossing = switch.crossing.expect("one crossing");
            assert!(crossing.above && (crossing.at - 0.5).abs() < 5.0 * crossing.error + 0.02);
        }
        // 0.396; 19 of 20 intervals of two errors hold it, give or take 2.
        assert!((sum / expected_sum - 1.0).abs() < 0.05, "{}", sum / expected_sum);
        assert!(inside >= 17, "{inside}");
    }

    /// A fact without a bearing on the gains is worth nothing: the mean of the estimates is 0 within
    /// error, and at most about one in twenty rises over the floor.
    #[test]
    fn noise_is_worth_nothing() {
        let n = 400;
        let (mut values, mut above) = (vec![], 0);
        for seed in 0..60 {
            let gains = [normals(n, seed, 2), normals(n, seed, 3)]
                .map(|noise| noise.iter().map(|e| 5.0 * e - 0.1).collect::<Vec<f64>>());
            let smoother = Smoother::new(&[normals(n, seed, 1)]);
            let found = knowing(&smoother, &gains, &deals(n, 100, &Streams::new(seed)));
            above += i32::from(found.value > floor([&found].into_iter()));
            values.push(found.value);
        }
        let mean = values.iter().sum::<f64>() / 60.0;
        let sd = (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / 59.0).sqrt();
        assert!(mean.abs() < 3.0 * sd / 60f64.sqrt(), "{mean} {sd}");
        // Binomial: more than 8 of 60 at 0.05 happens in one of a hundred.
        assert!(above <= 8, "{above}");
    }

    /// What moves both programs alike has no value, however far it moves them.
    #[test]
    fn what_moves_all_programs_alike_is_worth_nothing() {
        let n = 1000;
        let (z, e) = (normals(n, 1, 1), normals(n, 1, 2));
        let [a, b]: [Vec<f64>; 2] =
            [1.0, 1.5].map(|at| z.iter().zip(&e).map(|(z, e)| 100.0 * z + e * at).collect());
        let gain: Vec<f64> = a.iter().zip(&b).map(|(a, b)| a - b).collect();
        let found = knowing(&Smoother::new(&[z]), &[gain], &deals(n, 100, &Streams::new(1)));
        assert!(found.value <= floor([&found].into_iter()), "{found:?}");
    }

    #[test]
    fn a_curve_that_crosses_twice_has_no_one_crossing() {
        let grid = [0.0, 1.0, 2.0, 3.0];
        let all = (0.0, 3.0);
        assert_eq!(crossing_at(&grid, &[1.0, -1.0, -1.0, 1.0], all), None);
        assert_eq!(crossing_at(&grid, &[-1.0, -1.0, 1.0, 2.0], all), Some((1.5, true)));
        assert_eq!(crossing_at(&grid, &[-1.0, -1.0, 1.0, 2.0], (1.8, 3.0)), None);
    }
}
