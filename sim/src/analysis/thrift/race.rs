//! The search: the least cost at which something holds often enough, where both can only be played out.
//!
//! Every try faces the same members, so that what two of them share of luck drops out of their comparison
//! (common random numbers; Kleijnen 1975, Statistical Techniques in Simulation; Glasserman & Yao 1992,
//! Management Science 38:884-908). Tries are raced: all of them play a few members, the better half plays
//! twice as many, and so on to the full number (successive halving: Karnin, Koren & Somekh 2013, ICML;
//! Jamieson & Talwalkar 2016, AISTATS), and one that hardly can hold often enough leaves at once (racing:
//! Maron & Moore 1994, NIPS 6). A half is the better one by its expected gain: the chance that the try
//! holds often enough, given how often it did, times what it saves against the best known (the constrained
//! improvement of Schonlau, Welch & Jones 1998; cost is taken as known). Tries that no other beats in both
//! cost and odds stay too, for the curve of one against the other.
//!
//! First come each start with one thing changed and a sparse Latin hypercube of several (McKay, Beckman &
//! Conover 1979, Technometrics 21:239-245; most things stay as they are, since a program with all of them
//! changed is another program), then rounds of small steps, mixtures and steps back around the best.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use rand::rngs::ChaCha8Rng;
use statrs::distribution::{Beta, ContinuousCDF};

use crate::draw::{Purpose, Streams, below, key, shuffle, uniform};

/// One thing that can be changed: how many levels it has, in their order, and which one is the start's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Knob {
    /// Number of levels, 2 or more.
    pub levels: usize,
    /// The start's own.
    pub own: usize,
}

/// One try: where it starts, and the level of each of the start's knobs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Try {
    /// Index of the start.
    pub start: usize,
    /// A level for each knob.
    pub levels: Vec<usize>,
}

/// What one member makes of a try.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// What it costs.
    pub cost: f64,
    /// Whether all that is asked holds.
    pub holds: bool,
}

/// What is searched.
pub trait Game {
    /// Why it could not be played.
    type Fault;
    /// The knobs of each start.
    fn starts(&self) -> Vec<Vec<Knob>>;
    /// The same try without changes that change nothing, such as those of what is left out.
    fn plain(&self, one: Try) -> Try {
        one
    }
    /// Whether a try may be played, and is not the same as one before.
    fn allowed(&mut self, one: &Try) -> bool;
    /// Plays tries with some of the members: `[try][member]`.
    ///
    /// # Errors
    /// Where it could not be played.
    fn play(&mut self, tries: &[Try], members: Range<u32>) -> Result<Vec<Vec<Mark>>, Self::Fault>;
}

/// What is wanted, and for how much effort.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Order {
    /// Share of the members in which all must hold, 0..=1.
    pub odds: f64,
    /// Members of the last rung, 1 or more.
    pub members: u32,
    /// Most tries.
    pub tries: usize,
    /// Costs that differ by less are as good.
    pub tie: f64,
    /// Seed of the tries.
    pub seed: u64,
}

/// A try with what members made of it so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Played {
    /// The try.
    pub one: Try,
    /// From member 0 on.
    pub marks: Vec<Mark>,
}

impl Played {
    /// Mean cost; not a number before the first member.
    pub fn cost(&self) -> f64 {
        self.marks.iter().map(|m| m.cost).sum::<f64>() / self.marks.len() as f64
    }

    /// Members in which all holds.
    pub fn hits(&self) -> usize {
        self.marks.iter().filter(|m| m.holds).count()
    }

    /// Their share; not a number before the first member.
    pub fn odds(&self) -> f64 {
        self.hits() as f64 / self.marks.len() as f64
    }

    /// Chance that it holds at least this often, from how often it did: any odds were as likely before.
    fn chance(&self, odds: f64) -> f64 {
        let (hits, misses) = (self.hits() as f64, (self.marks.len() - self.hits()) as f64);
        Beta::new(hits + 1.0, misses + 1.0).map_or(0.0, |beta| beta.sf(odds))
    }
}

/// Rungs of a race, as parts of all members.
const RUNGS: [u32; 4] = [8, 4, 2, 1];
/// Fewest members of a rung.
const LEAST_RUNG: u32 = 12;
/// A half is no smaller than this.
const LEAST_HALF: usize = 6;
/// Tries with less chance than this to hold often enough leave a race.
const HOPELESS: f64 = 0.005;
/// Part of the tries that is spread over the space before the steps.
const SPREAD: f64 = 0.5;
/// Rounds of steps.
const ROUNDS: usize = 8;
/// Levels of a knob that are tried one by one, besides the start's own.
const SINGLES: usize = 6;
/// Share of the knobs that a spread try changes at most.
const SPARSE: f64 = 0.5;
/// Tries around which a round steps.
const PARENTS: usize = 12;

/// The search so far.
pub struct Search<'g, G: Game> {
    game: &'g mut G,
    order: Order,
    starts: Vec<Vec<Knob>>,
    played: Vec<Played>,
    known: BTreeMap<Try, usize>,
    refused: BTreeSet<Try>,
}

impl<'g, G: Game> Search<'g, G> {
    /// A search that has played nothing.
    pub fn new(game: &'g mut G, order: Order) -> Search<'g, G> {
        let starts = game.starts();
        let (known, refused) = (BTreeMap::new(), BTreeSet::new());
        Search { game, order, starts, played: vec![], known, refused }
    }

    /// Searches; what was played is then in [`Search::played`].
    ///
    /// # Errors
    /// Where the game could not be played.
    pub fn run(&mut self) -> Result<(), G::Fault> {
        let streams = Streams::new(self.order.seed);
        let rng = &mut streams.keyed(0, Purpose::Analysis, key("thrift"), 0);
        let own: Vec<Try> = (0..self.starts.len()).map(|start| self.own(start)).collect();
        let own: Vec<usize> = own.into_iter().filter_map(|one| self.take(one)).collect();
        self.extend(&own, self.order.members)?;
        let spread = (SPREAD * self.order.tries as f64) as usize;
        let mut pool = self.singles(spread / 2 + 1, rng);
        pool.extend(self.hypercube(spread.saturating_sub(pool.len()), rng));
        self.race(pool)?;
        let each = self.order.tries.saturating_sub(spread) / ROUNDS;
        for _ in 0..ROUNDS {
            let pool = self.steps(each, rng);
            if pool.is_empty() {
                break;
            }
            self.race(pool)?;
        }
        self.simplify()
    }

    /// Everything that was played.
    pub fn played(&self) -> &[Played] {
        &self.played
    }

    /// The start itself.
    pub fn own(&self, start: usize) -> Try {
        Try { start, levels: self.starts[start].iter().map(|knob| knob.own).collect() }
    }

    /// How many things a try changes.
    pub fn changes(&self, one: &Try) -> usize {
        let knobs = &self.starts[one.start];
        one.levels.iter().zip(knobs).filter(|(level, knob)| **level != knob.own).count()
    }

    /// Whether a try played all members and held often enough in them.
    pub fn holds(&self, played: &Played) -> bool {
        self.full(played) && enough(played.hits(), played.marks.len(), self.order.odds)
    }

    fn full(&self, played: &Played) -> bool {
        played.marks.len() == self.order.members as usize
    }

    /// The cheapest try that held often enough.
    pub fn cheapest(&self) -> Option<usize> {
        let holding = (0..self.played.len()).filter(|at| self.holds(&self.played[*at]));
        holding.min_by(|a, b| self.played[*a].cost().total_cmp(&self.played[*b].cost()))
    }

    /// Those that played all members and that no other beats in cost and odds, the cheapest first.
    pub fn frontier(&self) -> Vec<usize> {
        let full = (0..self.played.len()).filter(|at| self.full(&self.played[*at])).collect();
        self.unbeaten(full)
    }

    /// Of some tries those that no other of them beats in both cost and odds, the cheapest first.
    fn unbeaten(&self, mut among: Vec<usize>) -> Vec<usize> {
        let of = |at: usize| (self.played[at].cost(), self.played[at].odds());
        among.sort_by(|a, b| {
            let ((ca, oa), (cb, ob)) = (of(*a), of(*b));
            ca.total_cmp(&cb).then(ob.total_cmp(&oa))
        });
        let mut most = f64::NEG_INFINITY;
        among.retain(|at| {
            let odds = of(*at).1;
            let better = odds > most;
            most = most.max(odds);
            better
        });
        among
    }

    /// Takes a try in, where it may be played and was not before.
    fn take(&mut self, one: Try) -> Option<usize> {
        let one = self.game.plain(one);
        if self.known.contains_key(&one) || self.refused.contains(&one) {
            return None;
        }
        if !self.game.allowed(&one) {
            self.refused.insert(one);
            return None;
        }
        self.known.insert(one.clone(), self.played.len());
        self.played.push(Played { one, marks: vec![] });
        Some(self.played.len() - 1)
    }

    /// Plays tries up to so many members; those that played as many are left alone.
    fn extend(&mut self, tries: &[usize], members: u32) -> Result<(), G::Fault> {
        let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for at in tries {
            groups.entry(self.played[*at].marks.len()).or_default().push(*at);
        }
        for (from, group) in groups.into_iter().filter(|(from, _)| *from < members as usize) {
            let tries: Vec<Try> = group.iter().map(|at| self.played[*at].one.clone()).collect();
            let marks = self.game.play(&tries, from as u32..members)?;
            for (at, marks) in group.into_iter().zip(marks) {
                self.played[at].marks.extend(marks);
            }
        }
        Ok(())
    }

    /// Races some tries against each other and the best known.
    fn race(&mut self, mut left: Vec<usize>) -> Result<(), G::Fault> {
        let members = self.order.members;
        let mut last = 0;
        for part in RUNGS {
            let rung = (members / part).max(LEAST_RUNG).min(members);
            if rung == last {
                continue;
            }
            last = rung;
            self.extend(&left, rung)?;
            if rung < members {
                left = self.better_half(left);
            }
        }
        Ok(())
    }

    fn better_half(&self, left: Vec<usize>) -> Vec<usize> {
        let half = left.len().div_ceil(2).max(LEAST_HALF);
        let best = self.cheapest().map(|at| self.played[at].cost());
        let odds = self.order.odds;
        let score = |at: &usize| {
            let played = &self.played[*at];
            let chance = played.chance(odds);
            let gain = best.map_or(0.0, |best| chance * (best - played.cost()).max(0.0));
            (*at, gain, chance, played.odds())
        };
        let mut scores: Vec<_> = left.iter().map(score).collect();
        scores.sort_by(|a, b| {
            b.1.total_cmp(&a.1)
                .then(b.2.total_cmp(&a.2))
                .then(b.3.total_cmp(&a.3))
                .then(self.played[a.0].cost().total_cmp(&self.played[b.0].cost()))
        });
        let able = |chance: f64| best.is_none() || chance > HOPELESS;
        let mut kept: Vec<usize> =
            scores.iter().take(half).filter(|s| able(s.2)).map(|s| s.0).collect();
        let unbeaten = self.unbeaten(left);
        let others: Vec<usize> =
            unbeaten.into_iter().filter(|at| !kept.contains(at)).take(half / 2).collect();
        kept.extend(others);
        kept
    }

    /// Every start with one thing changed, at most so many, evenly over the starts and knobs.
    fn singles(&mut self, most: usize, rng: &mut ChaCha8Rng) -> Vec<usize> {
        let mut all: Vec<Try> = (0..self.starts.len()).flat_map(|s| self.single_tries(s)).collect();
        shuffle(&mut all, rng);
        let mut pool = Vec::new();
        for one in all {
            if pool.len() >= most {
                break;
            }
            pool.extend(self.take(one));
        }
        pool
    }

    fn single_tries(&self, start: usize) -> Vec<Try> {
        let own = self.own(start);
        let mut out = Vec::new();
        for (at, knob) in self.starts[start].iter().enumerate() {
            for level in thinned(*knob) {
                let mut one = own.clone();
                one.levels[at] = level;
                out.push(one);
            }
        }
        out
    }

    /// Races everything that changes one thing of a start; gives those that played all members.
    ///
    /// # Errors
    /// Where the game could not be played.
    pub fn mend(&mut self, start: usize) -> Result<Vec<usize>, G::Fault> {
        let tries = self.single_tries(start);
        let mut pool = Vec::new();
        for one in tries {
            let known = self.known.get(&one).copied();
            pool.extend(known.or_else(|| self.take(one)));
        }
        self.race(pool.clone())?;
        // Around those that hold, the levels in between.
        let mut finer = Vec::new();
        let holding: Vec<Try> = pool
            .iter()
            .filter(|at| self.holds(&self.played[**at]))
            .map(|at| self.played[*at].one.clone())
            .collect();
        for one in holding {
            let knobs = self.starts[start].clone();
            for (at, knob) in knobs.iter().enumerate().filter(|(at, k)| one.levels[*at] != k.own) {
                for level in [one.levels[at].wrapping_sub(1), one.levels[at] + 1] {
                    if level < knob.levels && level != knob.own {
                        let mut next = one.clone();
                        next.levels[at] = level;
                        finer.extend(self.take(next));
                    }
                }
            }
        }
        self.race(finer.clone())?;
        pool.extend(finer);
        pool.retain(|at| self.full(&self.played[*at]));
        Ok(pool)
    }

    /// A Latin hypercube over the starts' knobs in which each try changes some of them.
    fn hypercube(&mut self, wanted: usize, rng: &mut ChaCha8Rng) -> Vec<usize> {
        let mut pool = Vec::new();
        let starts = self.starts.len().max(1);
        for start in 0..self.starts.len() {
            let count = wanted / starts + usize::from(start < wanted % starts);
            let knobs = self.starts[start].clone();
            let columns: Vec<Vec<usize>> = knobs
                .iter()
                .map(|knob| {
                    let mut strata: Vec<usize> = (0..count).collect();
                    shuffle(&mut strata, rng);
                    let level = |s: usize| (s as f64 + 0.5) / count as f64 * knob.levels as f64;
                    strata.into_iter().map(|s| (level(s) as usize).min(knob.levels - 1)).collect()
                })
                .collect();
            let own = self.own(start);
            let most = ((SPARSE * knobs.len() as f64).ceil() as usize).max(2).min(knobs.len());
            let mut rows: Vec<Try> = vec![own; count];
            for (row, one) in rows.iter_mut().enumerate() {
                let mut order: Vec<usize> = (0..knobs.len()).collect();
                shuffle(&mut order, rng);
                let changed = 2 + below(most.saturating_sub(1).max(1), rng);
                for at in order.into_iter().take(changed) {
                    one.levels[at] = columns[at][row];
                }
            }
            for one in rows {
                pool.extend(self.take(one));
            }
        }
        pool
    }

    /// Tries around the best so far.
    fn steps(&mut self, wanted: usize, rng: &mut ChaCha8Rng) -> Vec<usize> {
        let parents = self.parents();
        let mut pool = Vec::new();
        for _ in 0..20 * wanted {
            if pool.len() >= wanted || parents.is_empty() {
                break;
            }
            // The square makes the first ones likelier.
            let pick = uniform(rng).powi(2) * parents.len() as f64;
            let parent = parents[(pick as usize).min(parents.len() - 1)].clone();
            let one = self.step(parent, &parents, rng);
            pool.extend(self.take(one));
        }
        pool
    }

    fn step(&self, mut one: Try, parents: &[Try], rng: &mut ChaCha8Rng) -> Try {
        let knobs = &self.starts[one.start];
        if knobs.is_empty() {
            return one;
        }
        let kind = uniform(rng);
        let at = below(knobs.len(), rng);
        if kind < 0.35 {
            let by = 1 + below(2, rng);
            let up = uniform(rng) < 0.5;
            let level = one.levels[at];
            let to = if up { level + by } else { level.saturating_sub(by) };
            one.levels[at] = to.min(knobs[at].levels - 1);
        } else if kind < 0.55 {
            one.levels[at] = below(knobs[at].levels, rng);
        } else if kind < 0.7 {
            let changed: Vec<usize> =
                (0..knobs.len()).filter(|k| one.levels[*k] != knobs[*k].own).collect();
            if let Some(back) = changed.get(below(changed.len().max(1), rng)) {
                one.levels[*back] = knobs[*back].own;
            }
        } else if kind < 0.88 {
            let mates: Vec<&Try> = parents.iter().filter(|p| p.start == one.start).collect();
            if let Some(mate) = mates.get(below(mates.len().max(1), rng)) {
                for (level, other) in one.levels.iter_mut().zip(&mate.levels) {
                    *level = if uniform(rng) < 0.5 { *level } else { *other };
                }
            }
        } else {
            one.levels[at] = below(knobs[at].levels, rng);
            let other = below(knobs.len(), rng);
            one.levels[other] = below(knobs[other].levels, rng);
        }
        one
    }

    /// The cheapest that hold, then those on the curve that nearly do, then the rest of the curve.
    fn parents(&self) -> Vec<Try> {
        let mut holding: Vec<usize> =
            (0..self.played.len()).filter(|at| self.holds(&self.played[*at])).collect();
        holding.sort_by(|a, b| self.played[*a].cost().total_cmp(&self.played[*b].cost()));
        holding.truncate(PARENTS / 2);
        let mut rest = self.frontier();
        let odds = self.order.odds;
        let off = |at: &usize| (self.played[*at].odds() - odds).abs();
        rest.sort_by(|a, b| off(a).total_cmp(&off(b)));
        for at in rest {
            if holding.len() < PARENTS && !holding.contains(&at) {
                holding.push(at);
            }
        }
        holding.into_iter().map(|at| self.played[at].one.clone()).collect()
    }

    /// Takes back, one by one, what the cheapest try changes for nothing, as long as it holds and costs
    /// no more than half a tie more.
    fn simplify(&mut self) -> Result<(), G::Fault> {
        let Some(mut best) = self.cheapest() else { return Ok(()) };
        let most = self.played[best].cost() + self.order.tie / 2.0;
        loop {
            let one = self.played[best].one.clone();
            let knobs = self.starts[one.start].clone();
            let mut pool = Vec::new();
            for (at, knob) in knobs.iter().enumerate().filter(|(at, k)| one.levels[*at] != k.own) {
                let mut back = one.clone();
                back.levels[at] = knob.own;
                let known = self.known.get(&back).copied();
                pool.extend(known.or_else(|| self.take(back)));
            }
            self.extend(&pool, self.order.members)?;
            let good =
                |at: &usize| self.holds(&self.played[*at]) && self.played[*at].cost() <= most;
            let next = pool
                .into_iter()
                .filter(good)
                .min_by(|a, b| self.played[*a].cost().total_cmp(&self.played[*b].cost()));
            match next {
                Some(next) => best = next,
                None => return Ok(()),
            }
        }
    }
}

/// Whether something holds often enough: so many hits of so many at these odds.
pub fn enough(hits: usize, of: usize, odds: f64) -> bool {
    of > 0 && hits as f64 + 1e-9 >= odds * of as f64
}

/// Levels of a knob that stand for all of them, the own left out.
fn thinned(knob: Knob) -> Vec<usize> {
    let others: Vec<usize> = (0..knob.levels).filter(|level| *level != knob.own).collect();
    if others.len() <= SINGLES {
        return others;
    }
    let last = (others.len() - 1) as f64;
    let at = |i: usize| others[(i as f64 * last / (SINGLES - 1) as f64).round() as usize];
    (0..SINGLES).map(at).collect()
}
