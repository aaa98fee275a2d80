//! The same choice by other outcomes: which program is best by each, and what is worth knowing for that.

use super::evppi::{Knowing, floor, knowing};
use super::play::{Aim, Choice, apart};
use super::regression::Smoother;
use crate::ensemble::paired_mean;
use crate::outcomes::outcome;

/// Outcomes that a client may judge by.
const ASKED_OF: [&str; 6] = [
    "crabgrass_peak",
    "broadleaf_peak",
    "nutsedge_peak",
    "quality_summer",
    "turf_cover_end",
    "organic_matter_change",
];

/// The choice by another outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct Elsewhere {
    /// Index of the outcome.
    pub outcome: usize,
    /// Index of the program that is best by it on average.
    pub best: usize,
    /// Mean lead of that program over the one that is chosen by the outcome asked for, in the outcome's
    /// own unit, 0 or more, and its standard error.
    pub lead: (f64, f64),
    /// Key of the fact most worth finding out for it, and what knowing that is worth, in the outcome's own
    /// unit; where it stands out from noise.
    pub telling: Option<(String, Knowing)>,
}

/// The outcomes other than `chosen_by` in which programs differ by what matters.
pub(super) fn others(played: &[Vec<Vec<f64>>], chosen_by: usize) -> Vec<usize> {
    let wanted = ASKED_OF.iter().filter_map(|key| outcome(key)).filter(|at| *at != chosen_by);
    wanted.filter(|at| apart(played, *at) >= 1.0).collect()
}

/// The choice by one of them. `facts` are the keys of what can be found out, with what smooths along each;
/// `deals` orders of the members.
pub(super) fn by(
    played: &[Vec<Vec<f64>>],
    outcome: usize,
    chosen: usize,
    facts: &[(&str, Smoother)],
    deals: &[Vec<u32>],
) -> Elsewhere {
    let aim = Aim { outcome, worth: None };
    let choice = Choice::by(aim, played);
    let (gains, net) = choice.gains_and_net(played);
    let known: Vec<Knowing> = facts.iter().map(|(_, fact)| knowing(fact, &gains, deals)).collect();
    let noise = floor(known.iter());
    let most = facts.iter().zip(&known).filter(|(_, known)| known.above(noise));
    let most = most.max_by(|a, b| a.1.value.total_cmp(&b.1.value));
    Elsewhere {
        outcome,
        best: choice.best,
        lead: paired_mean(&net, &aim.net(&played[chosen])),
        telling: most.map(|((key, _), known)| (key.to_string(), known.clone())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::measure_first::play::deals;
    use crate::draw::{Purpose, Streams, standard_normal};
    use crate::outcomes::OUTCOMES;

    /// Two programs: the first has 10 points more crabgrass and 2 points more quality.
    fn played(members: usize) -> Vec<Vec<Vec<f64>>> {
        let of = |crabgrass: f64, quality: &dyn Fn(usize) -> f64| {
            let mut outcomes = vec![vec![0.0; members]; OUTCOMES.len()];
            outcomes[outcome("crabgrass_peak").unwrap()] = vec![crabgrass; members];
            outcomes[outcome("quality_summer").unwrap()] = (0..members).map(quality).collect();
            outcomes
        };
        vec![of(20.0, &|_| 6.0), of(10.0, &|_| 4.0)]
    }

    #[test]
    fn another_outcome_may_speak_for_another_program() {
        let played = played(100);
        let crabgrass = outcome("crabgrass_peak").unwrap();
        let quality = outcome("quality_summer").unwrap();
        assert_eq!(others(&played, crabgrass), [quality]);
        assert_eq!(others(&played, quality), [crabgrass]);
        let found = by(&played, quality, 1, &[], &[]);
        assert_eq!((found.best, found.lead.0, found.telling), (0, 2.0, None));
        let found = by(&played, crabgrass, 1, &[], &[]);
        assert_eq!((found.best, found.lead.0), (1, 0.0));
    }

    /// Where the first is better by a fact's value and worse by another's, the fact is worth knowing; a
    /// fact without a bearing is not.
    #[test]
    fn what_turns_the_choice_by_the_other_outcome_is_told() {
        let members = 600;
        let streams = Streams::new(3);
        let draw = |name: u64| -> Vec<f64> {
            let one = |k| standard_normal(&mut streams.keyed(k, Purpose::Analysis, name, 0));
            (0..members as u32).map(one).collect()
        };
        let (fact, idle) = (draw(1), draw(2));
        let mut played = played(members);
        let quality = outcome("quality_summer").unwrap();
        played[0][quality] = fact.iter().map(|z| 4.2 + z).collect();
        let facts = [("idle", Smoother::new(&[idle])), ("fact", Smoother::new(&[fact]))];
        let found = by(&played, quality, 1, &facts, &deals(members as u32, 60, &streams));
        let (key, knowing) = found.telling.expect("the fact tells");
        assert_eq!((found.best, &*key), (0, "fact"));
        // The unit normal loss (Raiffa & Schlaifer 1961) at 0.2: phi(0.2) - 0.2 (1 - Phi(0.2)) = 0.3069.
        assert!((knowing.value - 0.3069).abs() < 4.0 * knowing.error + 0.02, "{knowing:?}");
    }
}
