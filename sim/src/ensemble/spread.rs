//! Which luck spreads an outcome: the weather, not knowing the lawn, or human slips.
//!
//! Members are played again with all luck but one kind exchanged for their double's. What an outcome
//! then has in common with the first run is owed to that kind: the correlation of the two is its
//! first-order share of the variance (Sobol 1993; the pick-freeze estimate of Gamboa et al. 2016,
//! Bernoulli 22), taken on ranks, so that a few wild seasons do not decide it. What the three leave
//! over arises from kinds acting together. Two such runs serve for the three kinds: the one that keeps
//! the weather and the one that keeps the lawn have the double's slips in common, and nothing else.

use serde::{Deserialize, Serialize};

use super::run::outcomes_with;
use super::{Observer, RunFault, RunPlan, World};
use crate::draw::{Purpose, Streams};

/// Members that a spread is worked out from, at most: a share is then good to about 0.05.
const MOST_MEMBERS: u32 = 400;

/// Fewest members that can tell shares apart at all.
const LEAST_MEMBERS: u32 = 50;

/// First-order shares of an outcome's variance on ranks, each 0..=1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shares {
    /// Owed to the weather, the forecast's errors counted in.
    pub weather: f64,
    /// Owed to not knowing the lawn and the constants of the model.
    pub lawn: f64,
    /// Owed to human slips.
    pub slips: f64,
    /// Monte Carlo standard error of a share, at its widest.
    pub error: f64,
}

const WEATHER: [Purpose; 3] = [Purpose::Weather, Purpose::Future, Purpose::Forecast];
const LAWN: [Purpose; 2] = [Purpose::Facts, Purpose::Parameters];
const SLIPS: [Purpose; 1] = [Purpose::Slips];

/// What is doubled so that only the weather, only the lawn stay as they were.
const KEEPING: [[&[Purpose]; 2]; 2] = [[&LAWN, &SLIPS], [&WEATHER, &SLIPS]];

/// Shares for every program and outcome, `[program][outcome]`; empty where there are too few members
/// to tell. An outcome that is the same in all members has shares of 0. `played` are the outcomes of the
/// first members, as far as they are known: `[program][outcome][member]`.
///
/// # Errors
/// See [`RunFault`].
pub fn spread_with<W: World>(
    plan: &RunPlan,
    world: &W,
    played: &[&[Vec<f64>]],
    observer: Observer,
) -> Result<Vec<Vec<Shares>>, RunFault> {
    let members = plan.members.min(MOST_MEMBERS);
    if members < LEAST_MEMBERS {
        return Ok(vec![]);
    }
    let plan = RunPlan { members, keep_tracks: false, ..*plan };
    let streams = Streams::new(plan.seed);
    let known = |outcomes: &Vec<f64>| outcomes.len() >= members as usize;
    let anew = match played.iter().all(|program| program.iter().all(known)) {
        true => None,
        false => Some(outcomes_with(&plan, world, &streams, observer)?),
    };
    let anew: Option<Vec<&[Vec<f64>]>> =
        anew.as_ref().map(|programs| programs.iter().map(Vec::as_slice).collect());
    let played = anew.as_deref().unwrap_or(played);
    let mut again = Vec::with_capacity(KEEPING.len());
    for others in KEEPING {
        again.push(outcomes_with(&plan, world, &streams.doubled(&others.concat()), observer)?);
    }
    let error = 1.0 / f64::from(members).sqrt();
    let shares = |program: usize, outcome: usize| {
        let first = &played[program][outcome][..members as usize];
        let [weather, lawn, slips] = common(first, [0, 1].map(|k| &again[k][program][outcome]));
        Shares { weather, lawn, slips, error }
    };
    let programs = played.iter().enumerate();
    Ok(programs.map(|(p, each)| (0..each.len()).map(|o| shares(p, o)).collect()).collect())
}

/// What a run has in common with each of the two that are played again, and those with each other,
/// 0..=1.
fn common(first: &[f64], [weather, lawn]: [&Vec<f64>; 2]) -> [f64; 3] {
    let pairs = [(first, weather), (first, lawn), (weather, lawn)];
    pairs.map(|(a, b)| rank_correlation(a, b).max(0.0))
}

/// Spearman's rank correlation, ties at their mean rank; 0 where one side does not vary.
fn rank_correlation(a: &[f64], b: &[f64]) -> f64 {
    let (a, b) = (ranks(a), ranks(b));
    let n = a.len() as f64;
    let middle = (n - 1.0) / 2.0;
    let dot = |x: &[f64], y: &[f64]| -> f64 {
        x.iter().zip(y).map(|(x, y)| (x - middle) * (y - middle)).sum()
    };
    let scale = (dot(&a, &a) * dot(&b, &b)).sqrt();
    if scale > 0.0 { dot(&a, &b) / scale } else { 0.0 }
}

/// Ranks from 0, ties at their mean.
fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let mut ranks = vec![0.0; values.len()];
    let mut from = 0;
    while from < order.len() {
        let tied = |at: &&usize| values[**at] == values[order[from]];
        let to = from + order[from..].iter().take_while(tied).count();
        for at in &order[from..to] {
            ranks[*at] = (from + to - 1) as f64 / 2.0;
        }
        from = to;
    }
    ranks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::standard_normal;

    /// Spearman 1904 by hand: ranks 0 1.5 1.5 3 against 0 1 2 3 give 4.5/sqrt(4.5 x 5).
    #[test]
    fn ties_share_their_mean_rank() {
        let rho = rank_correlation(&[1.0, 5.0, 5.0, 9.0], &[2.0, 3.0, 4.0, 8.0]);
        assert!((rho - 4.5 / (4.5f64 * 5.0).sqrt()).abs() < 1e-12, "{rho}");
        assert_eq!(rank_correlation(&[1.0, 1.0], &[1.0, 2.0]), 0.0);
    }

    /// A sum of three normal draws with variances 9, 4 and 1: shares of 9/14, 4/14 and 1/14, on
    /// ranks 6/pi asin(share/2) (Pearson 1907, for the normal correlation).
    #[test]
    fn shares_of_a_sum_are_those_of_its_parts() {
        let n = 20_000;
        let sums = |streams: &Streams| -> Vec<f64> {
            let part = |k, purpose| standard_normal(&mut streams.of_member(k, purpose));
            let sum = |k| {
                3.0 * part(k, Purpose::Weather)
                    + 2.0 * part(k, Purpose::Facts)
                    + part(k, Purpose::Slips)
            };
            (0..n).map(sum).collect()
        };
        let streams = Streams::new(5);
        let [weather, lawn] = KEEPING.map(|others| sums(&streams.doubled(&others.concat())));
        let shares = common(&sums(&streams), [&weather, &lawn]);
        for (share, variance) in shares.into_iter().zip([9.0, 4.0, 1.0]) {
            let expected = 6.0 / std::f64::consts::PI * (variance / 28.0f64).asin();
            assert!((share - expected).abs() < 3.0 / f64::from(n).sqrt(), "{share} {expected}");
        }
    }
}
