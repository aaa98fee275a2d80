//! Members that look as the lawn was seen to look: importance resampling.
//!
//! Candidates are drawn as members are, live through the time that was seen under the care that the
//! lawn had, and are weighted by how well they show what was seen,
//! w = exp(-0.5 sum(((seen - simulated)/sd)^2)). The effective number is 1/sum(w^2) (Kong 1992, from
//! memory); more candidates are drawn while it is low. Members are then picked by systematic
//! resampling (Kitagawa 1996, from memory), each with a future of its own.

use rayon::prelude::*;

use super::run::threads;
use super::{Observer, RunFault, RunPlan};
use crate::calendar::Day;
use crate::ensemble::Continue;
use crate::scenario::Sighting;

/// Candidates at most, as a multiple of the members.
const MOST_PER_MEMBER: u32 = 16;

/// Share of the members that the effective number has to reach, or candidates are drawn anew.
const ENOUGH: f64 = 0.25;

/// Mean squared misfit, in standard errors, of the best candidate beyond which nothing fits.
const MISFIT: f64 = 9.0;

/// What was seen, and how a candidate shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// In words: "crabgrass last August", "bare ground".
    pub label: &'static str,
    /// The look and its day, where it was within the run.
    pub what: Option<(Sighting, Day)>,
    /// What was seen, in the measure's unit.
    pub value: f64,
    /// Its standard error.
    pub sd: f64,
}

/// How members were chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditioning {
    /// Candidates drawn.
    pub tried: u32,
    /// Their effective number, 1/sum(w^2).
    pub effective: f64,
    /// What was seen.
    pub seen: Vec<Seen>,
    /// What was seen that no candidate comes near, as indices of `seen`.
    pub unlike: Vec<usize>,
    /// Last day of the past, where programs take over within the run.
    pub until: Option<Day>,
}

/// The members' origins, and how they were found.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    /// Candidate that each member is made from.
    pub picks: Vec<u32>,
    /// For the summary.
    pub about: Conditioning,
}

/// Chooses members. `show` gives what a candidate shows, in the order of `seen`.
pub(super) fn choose(
    plan: &RunPlan,
    seen: Vec<Seen>,
    until: Option<Day>,
    show: impl Fn(u32) -> Result<Vec<f64>, RunFault> + Sync,
    observer: Observer,
) -> Result<Chosen, RunFault> {
    let pool = threads(plan)?;
    let most = plan.members.saturating_mul(MOST_PER_MEMBER);
    let mut misfits: Vec<f64> = Vec::new();
    let mut nearest = vec![f64::INFINITY; seen.len()];
    loop {
        let first = misfits.len() as u32;
        let candidates = first..first.saturating_add(plan.members).min(most);
        let shown: Vec<Vec<f64>> =
            pool.install(|| candidates.into_par_iter().map(&show).collect::<Result<_, _>>())?;
        if observer(0) == Continue::No {
            return Err(RunFault::Stopped);
        }
        for shown in shown {
            let off = |(seen, shown): (&Seen, &f64)| ((seen.value - shown) / seen.sd).powi(2);
            let each: Vec<f64> = seen.iter().zip(&shown).map(off).collect();
            for (nearest, off) in nearest.iter_mut().zip(&each) {
                *nearest = nearest.min(*off);
            }
            let misfit: f64 = each.iter().sum();
            misfits.push(if misfit.is_finite() { misfit } else { f64::MAX });
        }
        let tried = misfits.len() as u32;
        let weights = weights(&misfits);
        let effective = 1.0 / weights.iter().map(|w| w * w).sum::<f64>();
        if effective >= ENOUGH * f64::from(plan.members) || tried >= most {
            let picks = systematic(&weights, plan.members);
            let unlike = (0..seen.len()).filter(|at| nearest[*at] > MISFIT).collect();
            let about = Conditioning { tried, effective, seen, unlike, until };
            return Ok(Chosen { picks, about });
        }
    }
}

/// Weights that sum to 1; the best misfit is taken off first, so that none fit does not mean none
/// weigh.
fn weights(misfits: &[f64]) -> Vec<f64> {
    let best = misfits.iter().copied().fold(f64::INFINITY, f64::min);
    let raw: Vec<f64> = misfits.iter().map(|m| (-0.5 * (m - best)).exp()).collect();
    let sum: f64 = raw.iter().sum();
    raw.into_iter().map(|w| w / sum).collect()
}

/// Systematic resampling from the middle of each of `n` equal parts of the weights.
fn systematic(weights: &[f64], n: u32) -> Vec<u32> {
    let mut picks = Vec::with_capacity(n as usize);
    let (mut at, mut up_to) = (0usize, weights.first().copied().unwrap_or(0.0));
    for k in 0..n {
        let mark = (f64::from(k) + 0.5) / f64::from(n);
        while up_to < mark && at + 1 < weights.len() {
            at += 1;
            up_to += weights[at];
        }
        picks.push(at as u32);
    }
    picks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn picks_are_as_many_as_the_weights_say() {
        let picks = systematic(&[0.1, 0.0, 0.6, 0.3], 10);
        let times = |of: u32| picks.iter().filter(|p| **p == of).count();
        assert_eq!([times(0), times(1), times(2), times(3)], [1, 0, 6, 3]);
    }

    #[test]
    fn weights_sum_to_one_even_where_nothing_fits() {
        let weights = weights(&[5000.0, 5002.0, f64::MAX]);
        assert!((weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((weights[1] / weights[0] - (-1f64).exp()).abs() < 1e-12);
        assert_eq!(weights[2], 0.0);
    }
}
