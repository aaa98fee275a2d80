//! Which setting is best, and which are as good, judged so that luck is not taken for skill.
//!
//! 1. The best setting is that with the best mean on the first set of members.
//! 2. On the fresh set, every setting is compared with that one future by future. A setting is as good
//!    as the best unless it is worse by at least the outcome's least difference that matters and by more
//!    than its error: [`width`] standard errors of the mean paired difference.
//!
//! The comparison on the fresh set owes nothing to the choice. Whichever setting was chosen, in 19 of 20
//! sweeps none that is truly no worse than it is left out of those called as good: the truly best is
//! among them, and what makes no difference is told as making none.

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::ensemble::{QUANTILES, paired, quantile_sorted};
use crate::outcomes::{Better, OutcomeKind};

/// How often a sweep may leave out a setting that is as good.
const ASTRAY: f64 = 0.05;

/// How many standard errors a difference must have before it is told as one, where so many settings are
/// compared with the best: the one-sided point of Student's t, for all of them together (Bonferroni).
pub fn width(settings: usize, members: u32) -> f64 {
    let each = 1.0 - ASTRAY / settings.saturating_sub(1).max(1) as f64;
    let freedom = f64::from(members.saturating_sub(1).max(1));
    // These parameters are always valid.
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |t| t.inverse_cdf(each))
}

/// One setting on one set of members.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    /// 5, 25, 50, 75, 95 % quantiles of the outcome.
    pub quantiles: [f64; 5],
    /// Its mean.
    pub mean: f64,
    /// Mean paired difference from the best setting: this less the best.
    pub difference: f64,
    /// Its Monte Carlo standard error.
    pub error: f64,
    /// Whether it is as good as the best.
    pub as_good: bool,
    /// Whether the members suffice to say that it is worse by less than matters, if at all.
    pub sure: bool,
}

/// What a sweep shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// The outcome has no better side.
    Fact,
    /// No setting differs from the best by what matters.
    Same,
    /// No setting can be told from the best with so few members.
    Unclear,
    /// Runs of settings that are as good as the best: first and last index of each.
    Stretch(Vec<(usize, usize)>),
}

/// Index of the setting with the best mean; of equals the middle one. `None` without settings, or
/// where the outcome has no better side. `outcomes[setting][member]`.
pub fn best(kind: &OutcomeKind, outcomes: &[&[f64]]) -> Option<usize> {
    let gain = |values: &[f64]| {
        let mean = mean(values);
        if kind.better == Better::Lower { -mean } else { mean }
    };
    if kind.better == Better::Neither {
        return None;
    }
    let gains: Vec<f64> = outcomes.iter().map(|values| gain(values)).collect();
    let most = gains.iter().copied().reduce(f64::max)?;
    let equal: Vec<usize> = (0..gains.len()).filter(|i| gains[*i] == most).collect();
    equal.get(equal.len() / 2).copied()
}

/// Scores a setting's outcomes against the best one's, member by member. Without a best the difference
/// is not a number, and no setting is as good. `width` is that of [`width`].
pub fn score(kind: &OutcomeKind, values: &[f64], best: Option<&[f64]>, width: f64) -> Score {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let quantiles = QUANTILES.map(|p| quantile_sorted(&sorted, p));
    let (mut difference, mut error) = (f64::NAN, f64::NAN);
    let (mut as_good, mut sure) = (false, false);
    if let Some(best) = best {
        let contrast = paired(kind, values, best);
        (difference, error) = (contrast.mean, contrast.mean_se);
        let loss = if kind.better == Better::Lower { difference } else { -difference };
        as_good = loss < kind.least_difference || loss <= width * error;
        sure = loss + width * error < kind.least_difference;
    }
    Score { quantiles, mean: mean(values), difference, error, as_good, sure }
}

/// What the scores of settings in their order show.
pub fn verdict(kind: &OutcomeKind, scores: &[Score]) -> Verdict {
    if kind.better == Better::Neither {
        return Verdict::Fact;
    }
    if scores.iter().all(|s| s.as_good) {
        return if scores.iter().all(|s| s.sure) { Verdict::Same } else { Verdict::Unclear };
    }
    let mut runs: Vec<(usize, usize)> = vec![];
    for at in (0..scores.len()).filter(|at| scores[*at].as_good) {
        match runs.last_mut() {
            Some(run) if run.1 + 1 == at => run.1 = at,
            _ => runs.push((at, at)),
        }
    }
    Verdict::Stretch(runs)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |sum, value| sum + value) / values.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Purpose, Streams, standard_normal};
    use crate::outcomes::{OUTCOMES, outcome};

    fn kind(key: &str) -> &'static OutcomeKind {
        &OUTCOMES[outcome(key).unwrap()]
    }

    /// Settings of known true means, on members who share most of their luck, as common random numbers
    /// do: a large part that all settings have in common and a part of each setting's own.
    fn members(means: &[f64], seed: u64, from: u32, count: u32, own_sd: f64) -> Vec<Vec<f64>> {
        let streams = Streams::new(seed);
        let mut values = vec![vec![]; means.len()];
        for member in from..from + count {
            let rng = &mut streams.of_member(member, Purpose::Weather);
            let shared = 10.0 * standard_normal(rng);
            for (all, mean) in values.iter_mut().zip(means) {
                all.push(mean + shared + own_sd * standard_normal(rng));
            }
        }
        values
    }

    fn judge(kind: &OutcomeKind, first: &[Vec<f64>], fresh: &[Vec<f64>]) -> Vec<Score> {
        let slices: Vec<&[f64]> = first.iter().map(Vec::as_slice).collect();
        let best = best(kind, &slices).unwrap();
        let width = width(fresh.len(), fresh[0].len() as u32);
        fresh.iter().map(|values| score(kind, values, Some(&fresh[best]), width)).collect()
    }

    fn two_sets(means: &[f64], seed: u64, count: u32, own_sd: f64) -> [Vec<Vec<f64>>; 2] {
        [0, count].map(|from| members(means, seed, from, count, own_sd))
    }

    #[test]
    fn a_bowl_has_its_bottom_called_best() {
        let kind = kind("crabgrass_peak");
        let means: Vec<f64> = (0..13).map(|i| 20.0 + 1.5 * (f64::from(i) - 6.0).powi(2)).collect();
        let [first, fresh] = two_sets(&means, 1, 200, 3.0);
        // Least difference 5: 1.5 d^2 is below it up to one step away, at 6 two steps away.
        assert_eq!(verdict(kind, &judge(kind, &first, &fresh)), Verdict::Stretch(vec![(5, 7)]));
    }

    #[test]
    fn a_slope_has_its_end_called_best() {
        let kind = kind("days_acceptable");
        let means: Vec<f64> = (0..10).map(|i| 100.0 + 10.0 * f64::from(i)).collect();
        let [first, fresh] = two_sets(&means, 2, 200, 5.0);
        assert_eq!(verdict(kind, &judge(kind, &first, &fresh)), Verdict::Stretch(vec![(8, 9)]));
    }

    #[test]
    fn two_dips_are_two_stretches() {
        let kind = kind("crabgrass_peak");
        let means = [10.0, 30.0, 30.0, 10.0, 10.0, 30.0];
        let [first, fresh] = two_sets(&means, 3, 200, 2.0);
        let runs = Verdict::Stretch(vec![(0, 0), (3, 4)]);
        assert_eq!(verdict(kind, &judge(kind, &first, &fresh)), runs);
    }

    #[test]
    fn a_flat_sweep_is_called_flat_only_where_the_members_suffice() {
        let kind = kind("crabgrass_peak");
        let of = |count, own_sd| {
            let [first, fresh] = two_sets(&[20.0; 8], 4, count, own_sd);
            verdict(kind, &judge(kind, &first, &fresh))
        };
        assert_eq!(of(200, 5.0), Verdict::Same);
        // A standard error of about 20 / sqrt(5): nothing can be told.
        assert_eq!(of(5, 14.0), Verdict::Unclear);
    }

    #[test]
    fn a_fact_has_no_best_and_equals_have_their_middle() {
        let values = [vec![1.0; 3], vec![1.0; 3], vec![1.0; 3], vec![2.0; 3]];
        let slices: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
        assert_eq!(best(kind("mowings"), &slices), None);
        assert_eq!(best(kind("crabgrass_peak"), &slices), Some(1));
        assert_eq!(verdict(kind("mowings"), &[]), Verdict::Fact);
        assert_eq!(best(kind("crabgrass_peak"), &[]), None);
    }

    /// R: qt(0.95, 199) = 1.6525, qt(1 - 0.05 / 12, 199) = 2.6644 (from memory, the second by
    /// interpolation).
    #[test]
    fn the_width_is_that_of_students_t() {
        assert!((width(2, 200) - 1.6525).abs() < 1e-3);
        assert!((width(13, 200) - 2.66).abs() < 0.02, "{}", width(13, 200));
    }

    /// The promise of the module: in 400 noisy sweeps with few members, in which the least difference
    /// is of no help, the truly best setting is among those called as good in at least 95 of 100.
    #[test]
    fn the_truly_best_is_kept_as_often_as_promised() {
        let strict = OutcomeKind { least_difference: 0.0, ..*kind("crabgrass_peak") };
        let means: Vec<f64> = (0..13).map(|i| 20.0 + 0.05 * (f64::from(i) - 4.0).powi(2)).collect();
        let (mut kept, mut wrong, mut all, trials) = (0, 0, 0, 400);
        for seed in 0..trials {
            let [first, fresh] = two_sets(&means, seed, 60, 4.0);
            let slices: Vec<&[f64]> = first.iter().map(Vec::as_slice).collect();
            wrong += i32::from(best(&strict, &slices) != Some(4));
            kept += i32::from(judge(&strict, &first, &fresh)[4].as_good);
            // Without any difference none may be left out.
            let [first, fresh] = two_sets(&[20.0; 13], seed, 60, 4.0);
            all += i32::from(judge(&strict, &first, &fresh).iter().all(|s| s.as_good));
        }
        // Two binomial standard errors of 0.95 over 400 trials are 0.022.
        let share = |n: i32| f64::from(n) / trials as f64;
        assert!(share(kept) >= 0.95 - 0.022 && share(all) >= 0.95 - 0.022, "{kept} {all}");
        // Noise does lead the choice astray here.
        assert!(wrong > 100, "{wrong}");
    }

    /// And it does tell: a setting that is truly worse by twice what matters is not called as good.
    #[test]
    fn what_is_truly_worse_is_told() {
        let kind = kind("crabgrass_peak");
        let means = [20.0, 20.0, 20.0 + 2.0 * kind.least_difference];
        let told = (0..100).filter(|seed| {
            let [first, fresh] = two_sets(&means, *seed, 200, 5.0);
            let scores = judge(kind, &first, &fresh);
            scores[0].as_good && scores[1].as_good && !scores[2].as_good
        });
        assert!(told.count() >= 95);
    }

    /// The winner's curse: the least of many estimates lies below the truth on the members that chose
    /// it, and not on the fresh ones.
    #[test]
    fn the_fresh_members_owe_nothing_to_the_choice() {
        let kind = kind("crabgrass_peak");
        let (mut cursed, mut fair) = (0.0, 0.0);
        let trials = 200;
        for seed in 0..trials {
            let [first, fresh] = two_sets(&[20.0; 13], seed, 40, 6.0);
            let slices: Vec<&[f64]> = first.iter().map(Vec::as_slice).collect();
            let at = best(kind, &slices).unwrap();
            // Against a setting named beforehand, so that the shared luck drops out.
            let other = (at + 6) % 13;
            cursed += score(kind, &first[at], Some(&first[other]), 2.0).difference / trials as f64;
            fair += score(kind, &fresh[at], Some(&fresh[other]), 2.0).difference / trials as f64;
        }
        // The standard error of a mean difference over all trials is 6 sqrt(2 / (40 200)) = 0.095.
        assert!(cursed < -1.0 && fair.abs() < 0.29, "{cursed} {fair}");
    }
}
