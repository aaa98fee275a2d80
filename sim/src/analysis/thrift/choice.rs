//! Which of the finalists is recommended, judged on members that had no part in finding them.

use super::race::enough;
use crate::ensemble::paired_mean;

/// A finalist on fresh members.
#[derive(Clone, Debug, PartialEq)]
pub struct Scored {
    /// Cost in each member.
    pub costs: Vec<f64>,
    /// Whether all that is asked holds in each.
    pub holds: Vec<bool>,
    /// How many things it changes of the program that it started from.
    pub changes: usize,
    /// Mean number of visits.
    pub visits: f64,
}

/// What the fresh members say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// The one to recommend; `None` where none holds often enough.
    pub pick: Option<usize>,
    /// Those that hold often enough and cost as little as the cheapest that does, by what matters or by
    /// what the members can tell; the pick among them, the simplest first.
    pub alike: Vec<usize>,
    /// The one that holds most often; of equals the cheapest.
    pub surest: Option<usize>,
}

/// Standard errors that a difference in cost must exceed to be told from chance.
const WIDTH: f64 = 2.0;

impl Scored {
    /// Mean cost.
    pub fn cost(&self) -> f64 {
        self.costs.iter().sum::<f64>() / self.costs.len() as f64
    }

    /// Members in which all holds.
    pub fn hits(&self) -> usize {
        self.holds.iter().filter(|holds| **holds).count()
    }
}

/// Chooses: of those that hold often enough and cost as little as the cheapest of them, the simplest, that
/// with the fewest things changed, then the fewest visits. `tie` is the least difference in cost that
/// matters.
pub fn choose(scored: &[Scored], odds: f64, tie: f64) -> Choice {
    let all = || 0..scored.len();
    let by_cost = |a: &usize, b: &usize| scored[*a].cost().total_cmp(&scored[*b].cost());
    let surest = all().min_by(|a, b| scored[*b].hits().cmp(&scored[*a].hits()).then(by_cost(a, b)));
    let holding: Vec<usize> =
        all().filter(|at| enough(scored[*at].hits(), scored[*at].holds.len(), odds)).collect();
    let Some(cheapest) = holding.iter().copied().min_by(by_cost) else {
        return Choice { surest, ..Choice::default() };
    };
    let as_cheap = |at: &usize| {
        let (more, error) = paired_mean(&scored[*at].costs, &scored[cheapest].costs);
        more < tie || more <= WIDTH * error
    };
    let mut alike: Vec<usize> = holding.into_iter().filter(as_cheap).collect();
    alike.sort_by(|a, b| {
        let (x, y) = (&scored[*a], &scored[*b]);
        x.changes.cmp(&y.changes).then(x.visits.total_cmp(&y.visits)).then(by_cost(a, b))
    });
    Choice { pick: alike.first().copied(), alike, surest }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scored(cost: f64, hits: usize, changes: usize, visits: f64) -> Scored {
        let holds = (0..20).map(|at| at < hits).collect();
        let costs = (0..20).map(|at| cost + f64::from(at % 5)).collect();
        Scored { costs, holds, changes, visits }
    }

    #[test]
    fn the_simplest_of_the_cheap_ones_that_hold_is_picked() {
        let all = [
            scored(500.0, 20, 0, 30.0),
            scored(300.0, 17, 5, 20.0),
            scored(310.0, 18, 2, 22.0),
            scored(312.0, 17, 2, 21.0),
            scored(200.0, 16, 1, 9.0),
        ];
        let choice = choose(&all, 0.85, 25.0);
        assert_eq!(choice.alike, [3, 2, 1]);
        assert_eq!((choice.pick, choice.surest), (Some(3), Some(0)));
        // Where no difference in cost is too small to matter, the cheapest alone is left.
        assert_eq!(choose(&all, 0.85, 0.0).alike, [1]);
    }

    #[test]
    fn none_is_picked_where_none_holds_often_enough() {
        let all = [scored(500.0, 16, 0, 30.0), scored(300.0, 16, 1, 20.0)];
        let choice = choose(&all, 0.85, 25.0);
        assert_eq!((choice.pick, choice.surest), (None, Some(1)));
        assert_eq!(choose(&[], 0.85, 25.0), Choice::default());
    }
}
