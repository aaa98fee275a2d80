//! Shapley values of a game: what each player is owed of what all of them bring together.
//!
//! A player's value is what it adds when it joins those that came before it, averaged over all orders
//! of coming (Shapley 1953, A value for n-person games, Contributions to the Theory of Games II:
//! 307-317). Of all ways to share, only this one adds up to the whole, treats equal players alike, gives
//! nothing to whoever adds nothing, and shares a sum of games as the sum of its shares.

use crate::draw::{Purpose, Streams, key, shuffle};

/// A set of players, one bit a player.
pub type Coalition = u32;

/// Most players of whom every coalition is played: 256.
pub const EXACT_PLAYERS: usize = 8;

/// Most players at all: a bit of [`Coalition`] each, and one to spare.
pub const MOST_PLAYERS: usize = 31;

/// Orders that are drawn for more players, each with its reverse.
const PAIRS: usize = 16;

/// Shapley values of all players, from the worth of every coalition.
pub fn values(players: usize, worth: impl Fn(Coalition) -> f64) -> Vec<f64> {
    let weights = weights(players);
    (0..players)
        .map(|player| {
            without(players, &[player])
                .map(|set| {
                    let gain = worth(set | 1 << player) - worth(set);
                    weights[set.count_ones() as usize] * gain
                })
                .sum()
        })
        .collect()
}

/// What each pair of players brings beyond what the two bring one by one, averaged over the coalitions
/// of the others: the Shapley interaction index (Grabisch & Roubens 1999, International Journal of Game
/// Theory 28:547-565, equation 3 for pairs; Owen 1972 for the pair). In the order (0, 1), (0, 2), ...,
/// (1, 2), ...
pub fn interactions(players: usize, worth: impl Fn(Coalition) -> f64) -> Vec<f64> {
    let weights = weights(players.saturating_sub(1));
    pairs(players)
        .map(|(a, b)| {
            let (a, b): (Coalition, Coalition) = (1 << a, 1 << b);
            without(players, &[a.trailing_zeros() as usize, b.trailing_zeros() as usize])
                .map(|set| {
                    let gain = worth(set | a | b) - worth(set | a) - worth(set | b) + worth(set);
                    weights[set.count_ones() as usize] * gain
                })
                .sum()
        })
        .collect()
}

/// Every pair of players, the lower first.
pub fn pairs(players: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..players).flat_map(move |a| (a + 1..players).map(move |b| (a, b)))
}

/// Coalitions of all players but these.
fn without(players: usize, out: &[usize]) -> impl Iterator<Item = Coalition> {
    let out: Coalition = out.iter().map(|player| 1 << player).sum();
    let all: Coalition = 1 << players;
    (0..all).filter(move |set| set & out == 0)
}

/// Share of all orders in which exactly a given coalition of so many others comes before a given
/// player: s! (n - s - 1)! / n!, by the size s of the coalition.
fn weights(players: usize) -> Vec<f64> {
    let mut weight = 1.0 / players.max(1) as f64;
    (0..players)
        .map(|size| {
            let this = weight;
            weight *= (size + 1) as f64 / players.saturating_sub(size + 1).max(1) as f64;
            this
        })
        .collect()
}

/// Orders drawn for a game of many players, each followed by its reverse: what the two have in common
/// of chance cancels (antithetic pairs; Mitchell et al. 2022, Journal of Machine Learning Research
/// 23(43):1-46).
pub fn orders(players: usize, streams: &Streams) -> Vec<[Vec<usize>; 2]> {
    let draw = |pair: usize| {
        let mut luck = streams.keyed(0, Purpose::Analysis, key("credit"), pair as i32);
        let mut order: Vec<usize> = (0..players).collect();
        shuffle(&mut order, &mut luck);
        let reverse = order.iter().rev().copied().collect();
        [order, reverse]
    };
    (0..PAIRS).map(draw).collect()
}

/// What each player adds when all come in this order.
pub fn along(order: &[usize], worth: impl Fn(Coalition) -> f64) -> Vec<f64> {
    let mut added = vec![0.0; order.len()];
    let (mut set, mut before) = (0, worth(0));
    for &player in order {
        set |= 1 << player;
        let after = worth(set);
        added[player] = after - before;
        before = after;
    }
    added
}

/// Coalitions that come up along some orders, rising.
pub fn met(orders: &[[Vec<usize>; 2]]) -> Vec<Coalition> {
    let mut met = vec![0];
    for order in orders.iter().flatten() {
        let mut set: Coalition = 0;
        met.extend(order.iter().map(|player| {
            set |= 1 << player;
            set
        }));
    }
    met.sort_unstable();
    met.dedup();
    met
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(found: &[f64], expected: &[f64]) {
        assert_eq!(found.len(), expected.len());
        for (f, e) in found.iter().zip(expected) {
            assert!((f - e).abs() < 1e-12, "{found:?} {expected:?}");
        }
    }

    /// The glove game of the textbooks (Shapley & Shubik 1969, from memory): one holds a left glove,
    /// two hold right ones, a pair is worth 1. Values 2/3, 1/6, 1/6.
    fn gloves(set: Coalition) -> f64 {
        f64::from(u8::from(set & 1 != 0 && set & 0b110 != 0))
    }

    /// The airport game (Littlechild & Owen 1973, Management Science 20:370-372): a runway costs what
    /// its longest user needs, and each stretch is shared evenly by those who need it.
    fn airport(needs: &[f64], set: Coalition) -> f64 {
        let inside = |p: &usize| set >> p & 1 == 1;
        (0..needs.len()).filter(inside).map(|p| needs[p]).fold(0.0, f64::max)
    }

    #[test]
    fn the_glove_game_has_its_published_values() {
        close(&values(3, gloves), &[2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0]);
    }

    /// Needs 1, 4, 6, 10 by the rule of Littlechild & Owen: 1/4; + 3/3; + 2/2; + 4.
    #[test]
    fn the_airport_game_has_its_published_values() {
        let needs = [1.0, 4.0, 6.0, 10.0];
        close(&values(4, |set| airport(&needs, set)), &[0.25, 1.25, 2.25, 6.25]);
    }

    /// The four axioms of Shapley 1953, on a game with no structure at all.
    #[test]
    fn the_axioms_hold() {
        let noise = |set: Coalition| f64::from(set.wrapping_mul(2_654_435_761) >> 12) / 1e3;
        // Players 0 and 1 are alike: only how many of them there are counts. Player 2 adds nothing.
        let alike = |set: Coalition| noise((set & 0b11).count_ones() + 8 * (set >> 3));
        let players = 6;
        let found = values(players, alike);
        let whole = alike((1 << players) - 1) - alike(0);
        assert!((found.iter().sum::<f64>() - whole).abs() < 1e-9 * whole.abs());
        assert!((found[0] - found[1]).abs() < 1e-9 && found[0] != 0.0);
        assert!(found[2].abs() < 1e-9, "{found:?}");
        let both = values(players, |set| alike(set) + airport(&[1.0, 4.0, 6.0, 10.0], set));
        let four = values(4, |set| airport(&[1.0, 4.0, 6.0, 10.0], set));
        let sums: Vec<f64> =
            (0..players).map(|p| found[p] + four.get(p).copied().unwrap_or(0.0)).collect();
        close(&both, &sums);
    }

    /// By the definition: two right gloves are in each other's way. I(1, 2) over {} and {0}:
    /// 1/2 (0) + 1/2 (1 - 1 - 1 + 0) = -1/2; I(0, 1) over {} and {2}: 1/2 (1) + 1/2 (1 - 1 - 0 + 0).
    #[test]
    fn interactions_are_those_of_the_definition() {
        close(&interactions(3, gloves), &[0.5, 0.5, -0.5]);
        // Nothing interacts where worths add up.
        let sum = |set: Coalition| (0..5).map(|p| f64::from(p * (set >> p & 1))).sum();
        close(&interactions(5, sum), &[0.0; 10]);
        assert!(interactions(1, gloves).is_empty() && values(0, gloves).is_empty());
    }

    /// Any order adds up to the whole, and the mean over many sampled orders comes to the exact value
    /// within its own error.
    #[test]
    fn sampled_orders_come_to_the_exact_values() {
        let needs: Vec<f64> = (1..=10).map(f64::from).collect();
        let worth = |set: Coalition| airport(&needs, set);
        let exact = values(needs.len(), worth);
        let (seeds, mut sums) = (60, vec![vec![]; needs.len()]);
        for seed in 0..seeds {
            let orders = orders(needs.len(), &Streams::new(seed));
            assert!(met(&orders).len() <= 2 * PAIRS * (needs.len() - 1) + 2);
            let mut mean = vec![0.0; needs.len()];
            for order in orders.iter().flatten() {
                let added = along(order, worth);
                assert!((added.iter().sum::<f64>() - 10.0).abs() < 1e-12);
                mean.iter_mut().zip(added).for_each(|(m, a)| *m += a / (2.0 * PAIRS as f64));
            }
            sums.iter_mut().zip(mean).for_each(|(all, m)| all.push(m));
        }
        for (found, exact) in sums.iter().zip(exact) {
            let n = found.len() as f64;
            let mean = found.iter().sum::<f64>() / n;
            let sd = (found.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
            assert!((mean - exact).abs() < 4.0 * sd / n.sqrt() + 1e-9, "{mean} {exact} {sd}");
        }
    }
}
