//! Contrasts: what one program does that another does not, in the same members.

use super::{Contrast, ProgramResults, QUANTILES, quantile_sorted};
use crate::outcomes::{Better, OUTCOMES, OutcomeKind};
use crate::scenario::Program;

/// Every program that has a baseline, with it: the program that it is `based_on`, else the first.
pub(super) fn pairs(programs: &[Program]) -> Vec<(usize, usize)> {
    let baseline = |about: &Program| {
        let named = about.based_on.as_ref();
        named.and_then(|id| programs.iter().position(|p| p.id == *id)).unwrap_or(0)
    };
    let all = programs.iter().enumerate().map(|(program, about)| (program, baseline(about)));
    all.filter(|(program, baseline)| program != baseline).collect()
}

/// Every program against its baseline, the program that it is `based_on` or else the first one,
/// outcome by outcome. The first program has none unless it is based on another.
pub fn contrasts(programs: &[Program], results: &[ProgramResults]) -> Vec<Contrast> {
    let mut all = Vec::new();
    for (program, baseline) in pairs(programs) {
        let (Some(ours), Some(theirs)) = (results.get(program), results.get(baseline)) else {
            continue;
        };
        let pairs = OUTCOMES.iter().zip(ours.outcomes.iter().zip(&theirs.outcomes));
        for (outcome, (kind, (ours, theirs))) in pairs.enumerate() {
            let paired = paired(kind, ours, theirs);
            all.push(Contrast { program, baseline, outcome, ..paired });
        }
    }
    all
}

/// Mean of some values and its standard error, which is infinite for one value; both are NaN for none.
pub fn mean_and_error(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().fold(0.0, |sum, v| sum + v) / n;
    let squares = values.iter().fold(0.0, |sum, v| sum + (v - mean).powi(2));
    let error = match values.len() {
        0 => f64::NAN,
        1 => f64::INFINITY,
        _ => (squares / (n - 1.0) / n).sqrt(),
    };
    (mean, error)
}

/// Mean difference `ours - theirs`, member by member, and its standard error.
pub fn paired_mean(ours: &[f64], theirs: &[f64]) -> (f64, f64) {
    let differences: Vec<f64> = ours.iter().zip(theirs).map(|(a, b)| a - b).collect();
    mean_and_error(&differences)
}

/// The paired difference `ours - theirs` of one outcome, member by member. The indices of the
/// result are 0.
///
/// Better means better by at least the least difference, the same means closer than that. An
/// outcome with no better direction has `share_better` 0. The standard error of the mean is
/// infinite for one member and, like all else but the shares, NaN for none.
pub fn paired(kind: &OutcomeKind, ours: &[f64], theirs: &[f64]) -> Contrast {
    let mut differences: Vec<f64> = ours.iter().zip(theirs).map(|(a, b)| a - b).collect();
    let count = differences.len() as f64;
    let (mean, mean_se) = mean_and_error(&differences);
    let gain = |d: f64| match kind.better {
        Better::Higher => d,
        Better::Lower => -d,
        Better::Neither => f64::NEG_INFINITY,
    };
    let share = |test: &dyn Fn(f64) -> bool| {
        differences.iter().filter(|d| test(**d)).count() as f64 / count.max(1.0)
    };
    let share_better = share(&|d| gain(d) >= kind.least_difference);
    let share_same = share(&|d| d.abs() < kind.least_difference);
    differences.sort_by(f64::total_cmp);
    let quantiles = QUANTILES.map(|p| quantile_sorted(&differences, p));
    Contrast {
        program: 0,
        baseline: 0,
        outcome: 0,
        quantiles,
        share_better,
        share_same,
        mean,
        mean_se,
    }
}
