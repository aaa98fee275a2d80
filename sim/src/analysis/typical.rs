//! Which member stands for the many: the one whose outcomes lie nearest the middle ones.

use crate::ensemble::{Results, quantile_sorted};
use crate::outcomes::{OUTCOMES, outcome};

/// Outcomes that a member is compared by: one for each thing that people look at.
pub const COMPARED: [&str; 7] = [
    "crabgrass_peak",
    "quality_summer",
    "days_acceptable",
    "turf_cover_end",
    "n_leached",
    "runoff",
    "crew_hours",
];

/// A normal's interquartile range over its standard deviation.
const QUARTILES_SD: f64 = 1.349;

/// How far each member's outcomes under some programs lie from the middle member's: the root mean
/// square of (value - median)/scale over [`COMPARED`] and the programs. The scale is the standard
/// deviation that the quartiles point to, and no less than the least difference that matters. One
/// entry a member, 0 or more.
pub fn distances(results: &Results, programs: &[usize]) -> Vec<f64> {
    let programs = programs.iter().filter_map(|at| results.programs.get(*at));
    let outcomes: Vec<&[Vec<f64>]> = programs.map(|program| &program.outcomes[..]).collect();
    spread(&outcomes, results.members as usize)
}

/// Number, from 0, of the member nearest the middle; of two as near the lower number.
pub fn most_typical(results: &Results, programs: &[usize]) -> u32 {
    nearest(&distances(results, programs)).unwrap_or(0) as u32
}

/// The same among some members of one program's outcomes, `[outcome][member]`: the one nearest the
/// middle of these; `None` where there is none.
pub fn most_typical_of(outcomes: &[Vec<f64>], members: &[usize]) -> Option<usize> {
    let pick = |values: &Vec<f64>| members.iter().filter_map(|m| values.get(*m)).copied().collect();
    let picked: Vec<Vec<f64>> = outcomes.iter().map(pick).collect();
    members.get(nearest(&spread(&[&picked], members.len()))?).copied()
}

fn nearest(distances: &[f64]) -> Option<usize> {
    (0..distances.len()).min_by(|a, b| distances[*a].total_cmp(&distances[*b]))
}

/// Distances from the middle, by the outcomes of some programs, `[program][outcome][member]`.
fn spread(programs: &[&[Vec<f64>]], members: usize) -> Vec<f64> {
    let mut sums = vec![0.0; members];
    let mut terms = 0.0;
    for outcomes in programs {
        for at in COMPARED.iter().filter_map(|key| outcome(key)) {
            let Some(values) = outcomes.get(at) else { continue };
            let mut sorted = values.clone();
            sorted.sort_by(f64::total_cmp);
            let middle = quantile_sorted(&sorted, 0.5);
            let wide = quantile_sorted(&sorted, 0.75) - quantile_sorted(&sorted, 0.25);
            let scale = (wide / QUARTILES_SD).max(OUTCOMES[at].least_difference);
            terms += 1.0;
            for (sum, value) in sums.iter_mut().zip(values) {
                *sum += ((value - middle) / scale).powi(2);
            }
        }
    }
    sums.into_iter().map(|sum: f64| (sum / f64::max(terms, 1.0)).sqrt()).collect()
}
