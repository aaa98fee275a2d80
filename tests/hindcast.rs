//! Years that the generator has not seen, placed among members drawn from the other years of their
//! station. The table of results is in `tests/reference/GENERATOR.md`.
//!
//! Eight station-years cannot prove calibration. With four years at a station, a left-out year is the
//! most extreme of the four, in a given quantity, with a chance of 1/2, and members drawn from the
//! other three hardly reach it. The bounds below are those of a binomial law with that chance: they
//! catch members that are all on one side or far too narrow, and nothing finer.

#[path = "reference/gates.rs"]
mod gates;
#[path = "reference/hindcast.rs"]
mod hindcast;
#[path = "reference/stations.rs"]
mod stations;
mod support;

use hindcast::{Hindcast, QUANTITIES, hindcasts};
use statrs::distribution::{Binomial, DiscreteCDF};
use std::sync::LazyLock;

static CARRIED: LazyLock<Vec<Hindcast>> = LazyLock::new(|| {
    let p = support::CATALOGUE.central();
    stations::carried().iter().flat_map(|s| hindcasts(s, &p)).collect()
});

/// The count that a binomial law exceeds with a chance of at most 1 in 1,000.
fn at_most(n: usize, p: f64) -> usize {
    let law = Binomial::new(p, n as u64).expect("a chance");
    law.inverse_cdf(0.999) as usize
}

/// Values outside the members' 5-95 % bands, all quantities, with the bands drawn in by a factor.
fn outside(all: &[Hindcast], factor: f64) -> usize {
    let of = |h: &Hindcast| (0..QUANTITIES.len()).filter(|q| h.outside(*q, factor)).count();
    all.iter().map(of).sum()
}

#[test]
fn members_reach_the_years_left_out() {
    let all = &*CARRIED;
    assert_eq!(all.len(), 8);
    let n = all.len() * QUANTITIES.len();
    let (count, bound) = (outside(all, 1.0), at_most(n, 0.5));
    assert!(count <= bound, "{count} of {n} lie outside the 5-95 % bands, more than {bound}");
}

/// Of the eight, neither all nor none lie in the outermost fifths for a quantity, nor all on one
/// side of the median. With a chance of 1/2 each, "all" has one of 1/256.
#[test]
fn places_are_not_all_outermost_nor_all_on_one_side() {
    for (q, name) in QUANTITIES.iter().enumerate() {
        let places: Vec<f64> = CARRIED.iter().map(|h| h.place[q]).collect();
        let outermost = CARRIED.iter().filter(|h| matches!(h.fifth(q), 0 | 4)).count();
        assert!(outermost < places.len(), "{name}: {places:?}");
        let above = places.iter().filter(|p| **p > 0.5).count();
        assert!((1..places.len()).contains(&above), "{name}: {places:?}");
    }
}

/// What the first test would catch: the same members with bands a tenth as wide.
#[test]
fn far_too_narrow_members_would_be_caught() {
    let n = CARRIED.len() * QUANTITIES.len();
    let (count, bound) = (outside(&CARRIED, 0.1), at_most(n, 0.5));
    assert!(count > bound, "{count} of {n} lie outside, the bound is {bound}");
}

/// 15 and 35 years: at most as many outside as chance allows where 1 in 10 is meant (each year less
/// costs the bands a little: 2 in n more), and no fifth of the members holds too many or too few of
/// the years.
#[test]
fn long_records_are_spread_over_the_members() {
    let p = support::CATALOGUE.central();
    for station in stations::long() {
        let all = hindcasts(&station, &p);
        let n = all.len();
        for (q, name) in QUANTITIES.iter().enumerate() {
            let outside = all.iter().filter(|h| h.outside(q, 1.0)).count();
            let bound = at_most(n, 0.1 + 2.0 / n as f64);
            assert!(outside <= bound, "{}, {name}: {outside} of {n}", station.name);
            for fifth in 0..5 {
                let inside = all.iter().filter(|h| h.fifth(q) == fifth).count();
                let least = n - at_most(n, 0.8);
                assert!(
                    (least..=at_most(n, 0.2)).contains(&inside),
                    "{}, {name}: {inside} of {n} in fifth {fifth}",
                    station.name
                );
            }
        }
    }
}
