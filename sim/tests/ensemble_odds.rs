//! Odds: published intervals, and words that never say more than the members support.

use proptest::prelude::*;
use sim::ensemble::odds::{Claim, Odds, too_few};

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

fn say(hits: u32, of: u32) -> String {
    Odds { hits, of }.phrase()
}

#[test]
fn odds_are_told_as_people_say_them() {
    assert_eq!(say(850, 1000), "in 17 of 20 simulated seasons");
    assert_eq!(say(10, 1000), "in fewer than 1 of 20 simulated seasons");
    assert_eq!(say(990, 1000), "in more than 19 of 20 simulated seasons");
    assert_eq!(say(0, 1000), "in none of 1000 simulated seasons");
    assert_eq!(say(1000, 1000), "in all of 1000 simulated seasons");
    assert_eq!(say(505, 1000), "in about half of the simulated seasons");
}

#[test]
fn few_members_are_told_coarsely() {
    assert_eq!(say(70, 100), "in 7 of 10 simulated seasons");
    assert_eq!(say(34, 40), "in 4 of 5 simulated seasons");
    assert_eq!(say(7, 12), "in 7 of only 12 simulated seasons");
    assert_eq!(say(0, 3), "in 0 of only 3 simulated seasons");
    assert_eq!(say(0, 0), "in no simulated season, since there was none");
    // 110 of 200 is 55 %, but the members cannot tell it from a coin.
    assert_eq!(say(110, 200), "in about half of the simulated seasons");
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
        prop_assert!(odds.phrase().starts_with("in "));
    }
}

#[test]
fn too_few_members_are_said_to_be_too_few() {
    assert_eq!(too_few(100, Claim::Quantile(0.05)), None);
    assert_eq!(too_few(100, Claim::Quantile(0.95)), None);
    let said = too_few(20, Claim::Quantile(0.05)).unwrap();
    assert_eq!(said, "20 simulated seasons are too few to say this; run 100 or more");
    assert_eq!(too_few(20, Claim::Quantile(0.5)), None);

    assert_eq!(too_few(1000, Claim::Share(Odds { hits: 500, of: 1000 })), None);
    assert!(too_few(20, Claim::Share(Odds { hits: 9, of: 20 })).is_some());

    let difference = |mean, standard_error| Claim::Difference { mean, standard_error, least: 1.0 };
    assert_eq!(too_few(100, difference(0.9, 0.2)), None);
    // Far beyond what matters: settled however coarse.
    assert_eq!(too_few(100, difference(9.0, 1.0)), None);
    // Doubt 1.96 against a half needs (2 x 1.96)^2 = 15.4 times the members.
    let said = too_few(100, difference(1.1, 1.0)).unwrap();
    assert_eq!(said, "100 simulated seasons are too few to say this; run 2000 or more");
    assert!(too_few(1, difference(1.0, f64::INFINITY)).is_some());
}
