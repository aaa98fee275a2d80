//! Streams and transforms: pinned values, shapes against closed forms, independence of keys.
mod toy;

use sim::draw::*;
use sim::ensemble::facts::{Constants, constant, lawn_draw, settle, uncertain};
use sim::lawn::LawnDraw;
use sim::parameters::{Entry, Spread};
use sim::scenario::{Doubts, Uncertain};
use toy::{catalogue, lawn, scenario};

const N: usize = 40_000;

fn sample(mut draw: impl FnMut(&mut rand::rngs::ChaCha8Rng) -> f64) -> Vec<f64> {
    let mut rng = Streams::new(9).of_member(0, Purpose::Weather);
    (0..N).map(|_| draw(&mut rng)).collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn sd(values: &[f64]) -> f64 {
    let m = mean(values);
    (values.iter().map(|v| (v - m).powi(2)).sum::<f64>() / (values.len() - 1) as f64).sqrt()
}

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got} is not {want} +/- {tolerance}");
}

/// The same to 1e-12 for good: a change here changes every run that anyone has kept.
#[test]
fn draws_keep_their_values() {
    let rng = &mut Streams::new(42).of_member(7, Purpose::Weather);
    let got = [
        uniform(rng),
        standard_normal(rng),
        standard_exponential(rng),
        uniform_between(2.0, 5.0, rng),
        triangular(1.0, 2.0, 4.0, rng),
        normal(10.0, 2.0, rng),
        log_normal(3.0, 1.5, rng),
        exponential(3.0, rng),
    ];
    let pinned = [
        0.08834415943032037,
        -0.4635927222799376,
        0.4121694753037723,
        4.794350537467588,
        1.8100248454547112,
        10.890950414737821,
        2.6988617314014696,
        0.48381347164485644,
    ];
    for (got, pinned) in got.into_iter().zip(pinned) {
        assert!((got - pinned).abs() <= 1e-12 * pinned.abs(), "{got:?} was {pinned:?}");
    }
}

/// The first word of the 8-round keystream block: ChaCha8 with a zero key and zero nonce
/// (draft-strombergson-chacha-test-vectors-01, TC1, 256-bit key) begins 3e 00 ef 2f.
#[test]
fn the_generator_is_the_published_one() {
    use rand::{Rng, SeedableRng};
    let mut rng = rand::rngs::ChaCha8Rng::from_seed([0; 32]);
    assert_eq!(rng.next_u32().to_le_bytes(), [0x3e, 0x00, 0xef, 0x2f]);
}

/// FNV-1a 64 of "a" and "foobar" (draft-eastlake-fnv, test vectors).
#[test]
fn names_are_hashed_as_published() {
    assert_eq!(key(""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(key("a"), 0xaf63_dc4c_8601_ec8c);
    assert_eq!(key("foobar"), 0x8594_4171_f739_67e8);
}

#[test]
fn neighbouring_streams_are_unlike() {
    let streams = Streams::new(3);
    let first = |member, purpose| uniform(&mut streams.of_member(member, purpose));
    let weather: Vec<f64> = (0..20_000).map(|m| first(m, Purpose::Weather)).collect();
    let facts: Vec<f64> = (0..20_000).map(|m| first(m, Purpose::Facts)).collect();
    let correlation = |a: &[f64], b: &[f64]| {
        let products: Vec<f64> =
            a.iter().zip(b).map(|(x, y)| (x - 0.5) * (y - 0.5) * 12.0).collect();
        mean(&products)
    };
    // Standard error 1 / sqrt(20000) = 0.007; four of them.
    near(mean(&weather), 0.5, 0.0082);
    near(correlation(&weather, &weather[1..]), 0.0, 0.028);
    near(correlation(&weather, &facts), 0.0, 0.028);
    let weeks: Vec<f64> = (0..20_000)
        .map(|week| uniform(&mut streams.keyed(0, Purpose::Slips, key("mow"), week)))
        .collect();
    near(correlation(&weeks, &weeks[1..]), 0.0, 0.028);
    assert_ne!(Streams::new(4).of_member(0, Purpose::Facts), streams.of_member(0, Purpose::Facts));
}

/// Means and standard deviations in closed form; tolerances are four standard errors.
#[test]
fn transforms_have_their_shapes() {
    let values = sample(|rng| triangular(1.0, 2.0, 4.0, rng));
    // (a + b + c) / 3 and sqrt((a2 + b2 + c2 - ab - ac - bc) / 18).
    near(mean(&values), 7.0 / 3.0, 0.013);
    near(sd(&values), (7.0f64 / 18.0).sqrt(), 0.01);
    // F(2) = (2 - 1)^2 / ((4 - 1) (2 - 1)) = 1/3.
    let below = values.iter().filter(|v| **v < 2.0).count() as f64 / N as f64;
    near(below, 1.0 / 3.0, 0.01);

    let values = sample(|rng| normal(10.0, 2.0, rng));
    near(mean(&values), 10.0, 0.04);
    // Variance of a normal cut at c: 1 - 2 c phi(c) / (2 Phi(c) - 1); c = 2.5.
    let c: f64 = CUT_SD;
    let phi = (-0.5 * c * c).exp() / (2.0 * std::f64::consts::PI).sqrt();
    near(sd(&values), 2.0 * (1.0 - 2.0 * c * phi / 0.987_580_669).sqrt(), 0.03);
    assert!(values.iter().all(|v| (5.0..=15.0).contains(v)));

    let values = sample(|rng| log_normal(3.0, 1.5, rng).ln());
    near(mean(&values), 3.0f64.ln(), 0.009);
    let values = sample(|rng| exponential(3.0, rng));
    near(mean(&values), 3.0, 0.06);
    near(sd(&values), 3.0, 0.1);
    let values = sample(|rng| uniform_between(2.0, 5.0, rng));
    near(mean(&values), 3.5, 0.018);
    near(sd(&values), 3.0 / 12f64.sqrt(), 0.012);
}

#[test]
fn ends_that_meet_give_the_value() {
    let mut rng = Streams::new(9).of_member(0, Purpose::Facts);
    near(triangular(2.0, 2.0, 2.0, &mut rng), 2.0, 0.0);
    near(uncertain(&Uncertain::Range(0.5, 0.5), &mut rng), 0.5, 0.0);
    near(uncertain(&Uncertain::Exact(0.25), &mut rng), 0.25, 0.0);
    for (mode, low, high) in [(1.0, 1.0, 3.0), (3.0, 1.0, 3.0)] {
        let values = sample(|rng| triangular(low, mode, high, rng));
        assert!(values.iter().all(|v| (low..=high).contains(v)));
        near(mean(&values), (low + mode + high) / 3.0, 0.01);
    }
}

#[test]
fn a_further_constant_or_fact_shifts_no_other() {
    let streams = Streams::new(9);
    let short = catalogue();
    let mut long = short.clone();
    long.insert(0, Entry { name: "toy.new".into(), ..short[0].clone() });
    let before = Constants::new(&short, &[]).unwrap().draw(&streams, 4);
    let after = Constants::new(&long, &[]).unwrap().draw(&streams, 4);
    assert_eq!(before, after[1..]);

    let mut more = lawn();
    more.seed_bank_m2 = Some(Uncertain::Range(100.0, 900.0));
    let less = lawn();
    let (plain, told) = (lawn_draw(&less, &streams, 4), lawn_draw(&more, &streams, 4));
    assert_eq!(LawnDraw { facts: &less, seed_bank_m2: None, ..told.clone() }, plain);
    assert!(told.seed_bank_m2.is_some_and(|n| (100.0..900.0).contains(&n)));
}

#[test]
fn constants_are_drawn_apart_from_each_other() {
    let list = catalogue();
    let constants = Constants::new(&list, &[]).unwrap();
    let streams = Streams::new(9);
    let draws: Vec<Vec<f64>> = (0..5000).map(|m| constants.draw(&streams, m)).collect();
    let growth: Vec<f64> = draws.iter().map(|d| d[0].ln()).collect();
    let capacity: Vec<f64> = draws.iter().map(|d| d[1]).collect();
    let (a, b) = (mean(&growth), mean(&capacity));
    let products: Vec<f64> = growth.iter().zip(&capacity).map(|(x, y)| (x - a) * (y - b)).collect();
    // Standard error 1 / sqrt(5000) = 0.014; four of them.
    near(mean(&products) / sd(&growth) / sd(&capacity), 0.0, 0.057);
}

#[test]
fn overrides_take_the_place_of_the_catalogue() {
    let list = catalogue();
    let streams = Streams::new(9);
    let say = |name: &str, known| vec![(name.to_owned(), known)];
    let exact = Constants::new(&list, &say("toy.fixed", Uncertain::Exact(7.0))).unwrap();
    assert_eq!(exact.draw(&streams, 0)[2], 7.0);
    let range = Constants::new(&list, &say("toy.fixed", Uncertain::Range(2.0, 3.0))).unwrap();
    let values: Vec<f64> = (0..100).map(|m| range.draw(&streams, m)[2]).collect();
    assert!(values.iter().all(|v| (2.0..3.0).contains(v)) && sd(&values) > 0.2);
    let plain = Constants::new(&list, &[]).unwrap().draw(&streams, 5);
    assert_eq!(plain[..2], range.draw(&streams, 5)[..2]);
    let unknown = Constants::new(&list, &say("toy.fixd", Uncertain::Exact(7.0)));
    assert_eq!(unknown.err().as_deref(), Some("toy.fixd"));
}

#[test]
fn spreads_stay_inside_their_ends() {
    let mut rng = Streams::new(9).of_member(1, Purpose::Parameters);
    let mut entry = catalogue()[0].clone();
    for (spread, low, high) in [
        (Spread::Fixed, 3.0, 3.0),
        (Spread::Uniform(1.0, 2.0), 1.0, 2.0),
        (Spread::Normal(0.2), 2.5, 3.5),
        (Spread::LogNormal(2.0), 3.0 / 2f64.powf(2.5), 3.0 * 2f64.powf(2.5)),
        (Spread::Triangular(0.0, 4.0), 0.0, 4.0),
    ] {
        entry.spread = spread;
        for _ in 0..2000 {
            let value = constant(&entry, &mut rng);
            assert!((low..=high).contains(&value), "{spread:?} gave {value}");
        }
    }
}

/// Each doubt has its own stream, inside its range; another doubt or fact shifts none.
#[test]
fn doubts_are_drawn_one_stream_each() {
    let streams = Streams::new(11);
    let mut one = scenario(vec![]);
    one.doubts.sun = Some(Uncertain::Range(0.4, 0.8));
    let mut all = one.clone();
    all.doubts = Doubts {
        slope: Some(Uncertain::Range(0.0, 0.1)),
        irrigation_efficiency: Some(Uncertain::Range(0.5, 0.9)),
        topsoil_mm: Some(Uncertain::Triple(50.0, 100.0, 300.0)),
        sand: Some(Uncertain::Range(0.2, 0.7)),
        hour_cost: Some(Uncertain::Range(20.0, 30.0)),
        release_days: vec![("feed".into(), Uncertain::Range(42.0, 98.0))],
        group_by_texture: true,
        ..one.doubts.clone()
    };
    let mut groups = std::collections::HashSet::new();
    let mut suns = vec![];
    for member in 0..200 {
        let (a, b) = (settle(&one, &streams, member), settle(&all, &streams, member));
        assert_eq!(a.place.sun, b.place.sun);
        assert_eq!((a.place.slope, &a.crew), (one.lawn.slope, &one.crew));
        assert!(
            (0.4..=0.8).contains(&a.place.sun) && (50.0..=300.0).contains(&b.place.soil.topsoil_mm)
        );
        assert!((20.0..=30.0).contains(&b.crew.hour_cost));
        groups.insert(format!("{:?}", b.place.soil.hydrologic_group));
        suns.push(a.place.sun);
        let seen = |place| LawnDraw { facts: &one.lawn, ..lawn_draw(place, &streams, member) };
        assert_eq!(seen(&a.place), seen(&b.place));
    }
    near(mean(&suns), 0.6, 0.03);
    assert!(groups.len() > 1, "the group follows the drawn texture: {groups:?}");
}

/// A release time is drawn once a member and practice key: the same in each program that has the
/// practice, whatever else is in doubt; another range takes the same luck to its own place.
#[test]
fn a_release_time_is_drawn_by_its_practice() {
    let streams = Streams::new(5);
    let known = |low: f64, high: f64| Uncertain::Range(low, high);
    let mut one = scenario(vec![]);
    one.doubts.release_days = vec![("feed".into(), known(42.0, 98.0))];
    let mut more = one.clone();
    more.doubts.release_days = vec![
        ("early".into(), known(42.0, 98.0)),
        ("feed".into(), known(42.0, 98.0)),
        ("feed".into(), known(0.0, 1.0)),
    ];
    let mut days = vec![];
    let mut apart = 0;
    for member in 0..400 {
        let a = settle(&one, &streams, member).release_days;
        let b = settle(&more, &streams, member).release_days;
        assert_eq!(a[0], b[1]);
        near(b[2].2, (b[1].2 - 42.0) / 56.0, 1e-12);
        apart += usize::from((b[0].2 - b[1].2).abs() > 1e-9);
        days.push(a[0].2);
    }
    assert!(days.iter().all(|d| (42.0..=98.0).contains(d)));
    // The mean's standard error is 0.8 days.
    near(mean(&days), 70.0, 3.0);
    assert!(apart > 390, "each practice has its own luck: {apart}");
}
