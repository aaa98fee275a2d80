//! Quantiles against numpy, exact binomial intervals and draws against scipy; the values and the
//! script that made them are in `tests/reference`.

use sim::draw::{Purpose, Streams, exponential, log_normal, normal, triangular, uniform_between};
use sim::ensemble::odds::Odds;
use sim::ensemble::quantile_sorted;

/// Draws behind each empirical distribution.
const DRAWS: usize = 200_000;

fn table(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().skip(1).map(|line| line.split(',').collect())
}

fn number(cell: &str) -> f64 {
    cell.parse().expect("a number")
}

/// Type 7 of Hyndman & Fan is numpy's "linear". 1e-9 relative: both interpolate the same two
/// numbers, given with 6 decimals.
#[test]
fn quantiles_are_type_7() {
    let mut rows = 0;
    for cells in table(include_str!("reference/quantiles.csv")) {
        let sorted: Vec<f64> = cells[3].split(' ').map(number).collect();
        let (got, want) = (quantile_sorted(&sorted, number(cells[1])), number(cells[2]));
        assert!((got - want).abs() <= 1e-9 * want.abs().max(1.0), "{}: {got}, {want}", cells[0]);
        rows += 1;
    }
    assert_eq!(rows, 60);
}

/// Clopper-Pearson, 95 %, to 1e-6: odds are told to the twentieth.
#[test]
fn intervals_of_odds_are_exact() {
    let mut rows = 0;
    for cells in table(include_str!("reference/odds.csv")) {
        let count = |cell: &str| cell.parse::<u32>().expect("a count");
        let odds = Odds { hits: count(cells[0]), of: count(cells[1]) };
        let (low, high) = odds.interval();
        for (got, want) in [(low, number(cells[2])), (high, number(cells[3]))] {
            assert!((got - want).abs() < 1e-6, "{odds:?}: {got} for {want}");
        }
        rows += 1;
    }
    assert!(rows > 70, "{rows}");
}

/// Draws of each law, by the names and with the constants of the script.
fn draws(law: &str) -> Vec<f64> {
    let mut rng = Streams::new(2024).keyed(0, Purpose::Parameters, sim::draw::key(law), 0);
    let mut one = || match law {
        "uniform" => uniform_between(-2.0, 3.0, &mut rng),
        "triangular" => triangular(1.0, 2.0, 5.0, &mut rng),
        "triangular_left" => triangular(1.0, 1.0, 5.0, &mut rng),
        "normal" => normal(10.0, 2.0, &mut rng),
        "log_normal" => log_normal(3.0, 1.8, &mut rng),
        "exponential" => exponential(4.0, &mut rng),
        other => panic!("the table has a law that is not drawn: {other}"),
    };
    let mut values: Vec<f64> = (0..DRAWS).map(|_| one()).collect();
    values.sort_by(f64::total_cmp);
    values
}

/// 200,000 draws of each law against scipy's quantiles at 199 even probabilities.
///
/// Each empirical quantile within 4.5 standard errors, `sqrt(p (1 - p) / n) / density` (Monte Carlo
/// only: a correct law misses one of 1,194 with a chance of about 1 %, and the seed is fixed); and
/// the largest distance of the distribution functions within the 0.1 % bound of Kolmogorov and
/// Smirnov, `1.95 / sqrt(n)` = 0.0044.
#[test]
fn draws_have_their_distributions() {
    let rows: Vec<Vec<&str>> = table(include_str!("reference/distributions.csv")).collect();
    assert_eq!(rows.len(), 6 * 199);
    for law in rows.chunks(199) {
        let values = draws(law[0][0]);
        let n = values.len() as f64;
        let mut distance: f64 = 0.0;
        for row in law {
            let (p, want, density) = (number(row[1]), number(row[2]), number(row[3]));
            let got = quantile_sorted(&values, p);
            let error = (p * (1.0 - p) / n).sqrt() / density;
            assert!((got - want).abs() < 4.5 * error, "{} at {p}: {got}, {want}", row[0]);
            let share = values.partition_point(|v| *v <= want) as f64 / n;
            distance = distance.max((share - p).abs());
        }
        assert!(distance < 1.95 / n.sqrt(), "{}: {distance}", law[0][0]);
    }
}

/// Normals end at 2.5 standard deviations, as scipy's truncated normal does, and not before.
#[test]
fn normals_are_cut() {
    let normals = draws("normal");
    let (low, high) = (normals[0], normals[DRAWS - 1]);
    assert!(low >= 5.0 && high <= 15.0, "{low}..{high}");
    // The density at the cut is 0.0177 a standard deviation: of 200,000 draws about 3,500 a unit.
    assert!(low < 5.02 && high > 14.98, "{low}..{high}");
}
