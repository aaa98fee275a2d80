//! Plays every coalition on the same members and shares the difference out.

use super::estimate::Estimate;
use super::players::{Idle, Player, coalition, players};
use super::shapley::{self, Coalition, EXACT_PLAYERS};
use crate::draw::Streams;
use crate::ensemble::{Observer, RunFault, RunPlan, tracks};
use crate::outcomes::OUTCOMES;
use crate::parameters::Catalogue;
use crate::scenario::Program;

/// What each practice is owed.
#[derive(Clone, Debug, PartialEq)]
pub struct Credits {
    /// The practices in which the two programs differ.
    pub players: Vec<Player>,
    /// Programs that were played: every coalition, or those met along the sampled orders.
    pub coalitions: usize,
    /// Orders that were sampled; `None` where every coalition was played.
    pub orders: Option<usize>,
    /// Practices that nothing called in some coalition, each once.
    pub idle: Vec<Idle>,
    /// In the order of [`OUTCOMES`].
    pub outcomes: Vec<OutcomeCredits>,
    /// Members.
    pub members: u32,
    /// Calendar years of record behind the weather.
    pub record_years: u32,
}

/// One outcome's difference, shared out.
#[derive(Clone, Debug, PartialEq)]
pub struct OutcomeCredits {
    /// The program less the baseline.
    pub total: Estimate,
    /// One a player. Their means add up to that of the total.
    pub credits: Vec<Estimate>,
    /// What pairs of players bring beyond what each brings alone, in the order of [`shapley::pairs`];
    /// empty where orders were sampled.
    pub interactions: Vec<Estimate>,
}

/// Which coalitions are played, rising, and how they are averaged.
struct Design {
    players: usize,
    sets: Vec<Coalition>,
    /// Sampled orders; none where every coalition is played.
    orders: Vec<[Vec<usize>; 2]>,
}

impl Design {
    fn new(players: usize, streams: &Streams) -> Design {
        if players <= EXACT_PLAYERS {
            return Design { players, sets: (0..1 << players).collect(), orders: vec![] };
        }
        let orders = shapley::orders(players, streams);
        Design { players, sets: shapley::met(&orders), orders }
    }

    /// Place of a coalition among those played.
    fn place(&self, set: Coalition) -> usize {
        self.sets.binary_search(&set).unwrap_or(0)
    }
}

/// Programs that two programs with so many differing practices take to play, at most: with the seed
/// of the plan it may be a few fewer.
pub fn programs_to_play(players: usize) -> usize {
    Design::new(players.min(shapley::MOST_PLAYERS), &Streams::new(0)).sets.len()
}

/// Plays all mixes of two programs of the plan's scenario and shares out the difference `program` less
/// `base`. With more than [`EXACT_PLAYERS`] differing practices, orders are sampled; beyond
/// [`shapley::MOST_PLAYERS`] further practices are not looked at.
///
/// # Errors
/// See [`RunFault`].
pub fn credit(
    plan: &RunPlan,
    catalogue: &Catalogue,
    (base, program): (&Program, &Program),
    observer: Observer,
) -> Result<Credits, RunFault> {
    let mut players = players(base, program);
    players.truncate(shapley::MOST_PLAYERS);
    let design = Design::new(players.len(), &Streams::new(plan.seed));
    let mut idle = Vec::new();
    let mut programs = Vec::with_capacity(design.sets.len());
    for set in &design.sets {
        let (mix, left) = coalition((base, program), &players, *set);
        programs.push(mix);
        idle.extend(left);
    }
    idle.sort_unstable();
    idle.dedup();
    let scenario = plan.scenario.with_programs(&programs);
    let mixes = RunPlan { scenario: &scenario, keep_tracks: false, ..*plan };
    let played = tracks(&mixes, catalogue, observer, |_, track| track.outcomes)?;
    let outcomes = (0..OUTCOMES.len()).map(|outcome| share_out(&design, &played, outcome));
    Ok(Credits {
        coalitions: design.sets.len(),
        orders: (!design.orders.is_empty()).then_some(2 * design.orders.len()),
        idle,
        outcomes: outcomes.collect(),
        members: plan.members,
        record_years: plan.record.years(),
        players,
    })
}

/// Shares one outcome out; `played[member][coalition][outcome]`.
fn share_out(design: &Design, played: &[Vec<Vec<f64>>], outcome: usize) -> OutcomeCredits {
    let kind = &OUTCOMES[outcome];
    let n = design.players;
    let all: Coalition = (1 << n) - 1;
    let mut totals = Vec::with_capacity(played.len());
    let mut credits = vec![Vec::with_capacity(played.len()); n];
    let mut pairs =
        vec![Vec::new(); if design.orders.is_empty() { n * n.saturating_sub(1) / 2 } else { 0 }];
    // Mean over members of each pair of orders, by player.
    let mut by_order = vec![vec![0.0; design.orders.len()]; n];
    for member in played {
        let worth = |set: Coalition| member[design.place(set)][outcome];
        totals.push(worth(all) - worth(0));
        let mut owed = vec![0.0; n];
        if design.orders.is_empty() {
            owed = shapley::values(n, worth);
            let beyond = shapley::interactions(n, worth);
            pairs.iter_mut().zip(beyond).for_each(|(values, value)| values.push(value));
        }
        for (at, order) in design.orders.iter().enumerate() {
            for added in order.iter().map(|order| shapley::along(order, worth)) {
                for (player, added) in added.into_iter().enumerate() {
                    let half = added / 2.0;
                    owed[player] += half / design.orders.len() as f64;
                    by_order[player][at] += half / played.len() as f64;
                }
            }
        }
        credits.iter_mut().zip(owed).for_each(|(values, value)| values.push(value));
    }
    OutcomeCredits {
        total: Estimate::new(kind, &totals, &[]),
        credits: credits
            .iter()
            .zip(&by_order)
            .map(|(values, orders)| Estimate::new(kind, values, orders))
            .collect(),
        interactions: pairs.iter().map(|values| Estimate::new(kind, values, &[])).collect(),
    }
}
