//! Odds: published intervals, and steps that are never finer than the members support.

use proptest::prelude::*;
use sim::ensemble::odds::Odds;

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got} is not {want} +/- {tolerance}");
}

/// 0 of n: the upper end is 1 - 0.025^(1/n) in closed form, 16.84 % for 20, 30.85 % for 10.
/// 10 of 20: 27.20 to 72.80 %; 1 of 10: 0.25 to 44.50 % (tables of exact binomial limits;
/// R: `binom.test(10, 20)`, `binom.test(1, 10)`). R's own example, `binom.test(682, 925)`:
/// 0.7076683 to 0.7654066.
#[test]
fn intervals_are_clopper_and_pearsons() {
    let of = |hits, of| Odds { hits, of }.interval();
    near(of(0, 20).1, 1.0 - 0.025f64.powf(1.0 / 20.0), 1e-9);
    near(of(0, 20).1, 0.1684, 5e-5);
    near(of(0, 10).1, 0.3085, 5e-5);
    near(of(20, 20).0, 0.8316, 5e-5);
    assert_eq!((of(0, 20).0, of(20, 20).1), (0.0, 1.0));
    near(of(10, 20).0, 0.2720, 5e-5);
    near(of(10, 20).1, 0.7280, 5e-5);
    near(of(1, 10).0, 0.0025, 5e-5);
    near(of(1, 10).1, 0.4450, 5e-5);
    near(of(682, 925).0, 0.707_668_3, 5e-8);
    near(of(682, 925).1, 0.765_406_6, 5e-8);
    assert_eq!(of(0, 0), (0.0, 1.0));
}

/// Half the width of the interval is at most one step: 0.023 for 850 of 1000, 0.094 for 70 of 100, 0.121 for 34
/// of 40, 0.286 for 7 of 12.
#[test]
fn few_members_are_told_coarsely() {
    let steps = |hits, of| Odds { hits, of }.denominator();
    assert_eq!(steps(850, 1000), Some(20));
    assert_eq!(steps(70, 100), Some(10));
    assert_eq!(steps(34, 40), Some(5));
    assert_eq!(steps(7, 12), None);
    assert_eq!(steps(0, 0), None);
}

proptest! {
    #[test]
    fn odds_never_get_finer_than_the_interval(of in 1u32..3000, share in 0.0f64..=1.0) {
        let odds = Odds { hits: (share * f64::from(of)) as u32, of };
        let (low, high) = odds.interval();
        prop_assert!(low <= odds.share() && odds.share() <= high);
        if let Some(steps) = odds.denominator() {
            prop_assert!((high - low) / 2.0 <= 1.0 / f64::from(steps) + 1e-6);
        }
    }
}
