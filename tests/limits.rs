//! Any lawn, any member, any acts on any days: the same evenings' audit as for the extremes, and
//! what more barrier and more seed may and may not do.
mod support;

use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use sim::lawn::State;
use sim::parameters::{Parameters, Spread};
use sim::scenario::{Compaction, Grass, HydrologicGroup};
use sim::weather::{Record, Sky};
use sim::work::{Act, ActiveId, Carrier, Clippings, NitrogenForms};
use support::*;

/// Any lawn that a scenario can describe, and somewhat more.
fn any_place() -> impl Strategy<Value = Place> {
    let soil = (0.0..=1.0f64, 0.0..=1.0f64, 0.0..=0.12f64, 0.0..=1000.0f64, 0..3usize, 0..4usize);
    let site = (0.0..=0.6f64, 0.0..=1.0f64);
    let start = (0.0..=1.0f64, 0.0..=1.0f64, prop::option::of(0.0..=50_000.0f64));
    let grasses = prop::collection::vec(0.01..=1.0f64, 1..=4);
    (soil, site, start, grasses).prop_map(|(soil, (slope, sun), start, shares)| {
        let (sand, clay, organic_matter, topsoil_mm, compaction, group) = soil;
        let (turf_cover, crabgrass_last_august, seed_bank_m2) = start;
        let mut place = loam();
        let lawn = &mut place.lawn;
        // Texture is what is left of 1 after silt.
        (lawn.soil.sand, lawn.soil.clay) = (sand, (1.0 - sand) * clay);
        lawn.soil.topsoil_mm = topsoil_mm;
        lawn.soil.compaction =
            [Compaction::None, Compaction::Moderate, Compaction::Severe][compaction];
        use HydrologicGroup::{A, B, C, D};
        lawn.soil.hydrologic_group = [A, B, C, D][group];
        (lawn.slope, lawn.sun) = (slope, sun);
        let sum: f64 = shares.iter().sum();
        use Grass::{FineFescue, KentuckyBluegrass, PerennialRyegrass, TallFescue};
        let all = [TallFescue, KentuckyBluegrass, FineFescue, PerennialRyegrass];
        lawn.grasses = all.into_iter().zip(&shares).map(|(g, s)| (g, s / sum)).collect();
        Place { turf_cover, crabgrass_last_august, seed_bank_m2, organic_matter, ..place }
    })
}

/// Some amount up to `most`, often nothing at all or the most.
fn amount(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 1 => Just(most), 4 => 0.0..=most]
}

fn any_nitrogen() -> impl Strategy<Value = Act> {
    (amount(50.0), amount(50.0), amount(50.0), amount(50.0), amount(200.0), amount(50.0)).prop_map(
        |(urea, ammonium, nitrate, coated, days, organic)| {
            Act::LayNitrogen(NitrogenForms {
                urea_g_m2: urea,
                ammonium_g_m2: ammonium,
                nitrate_g_m2: nitrate,
                coated_g_m2: coated,
                coated_days: days,
                organic_g_m2: organic,
            })
        },
    )
}

fn any_act() -> impl Strategy<Value = Act> {
    let clippings = prop_oneof![Just(Clippings::Return), Just(Clippings::Collect)];
    let carrier = prop_oneof![Just(Carrier::Spray), Just(Carrier::Granule)];
    prop_oneof![
        4 => (amount(600.0), clippings)
            .prop_map(|(height_mm, clippings)| Act::Cut { height_mm, clippings }),
        2 => (0..12u8, amount(200.0), carrier, amount(3.0)).prop_map(
            |(active, rate_kg_ha, carrier, unevenness)| Act::LayBarrier {
                active: ActiveId(active),
                rate_kg_ha,
                carrier,
                unevenness,
            }
        ),
        2 => any_nitrogen(),
        2 => amount(500.0).prop_map(|water_mm| Act::Wet { water_mm }),
        1 => amount(100.0).prop_map(|depth_mm| Act::LayCompost { depth_mm }),
    ]
}

/// A member as the ensemble draws it, or one with every constant at an end of its spread.
fn any_member() -> impl Strategy<Value = Parameters> {
    prop_oneof![
        (any::<u64>(), 0..1000u32).prop_map(|(seed, member)| drawn(seed, member)),
        prop::collection::vec(any::<bool>(), CATALOGUE.entries.len()).prop_map(|up| corner(&up)),
    ]
}

fn corner(up: &[bool]) -> Parameters {
    let values: Vec<f64> = CATALOGUE
        .entries
        .iter()
        .zip(up)
        .map(|(entry, up)| {
            let (low, high) = match entry.spread {
                Spread::Fixed => (entry.value, entry.value),
                Spread::Uniform(a, b) | Spread::Triangular(a, b) => (a, b),
                Spread::Normal(sd) => (entry.value - 2.5 * sd, entry.value + 2.5 * sd),
                Spread::LogNormal(gsd) => {
                    (entry.value * gsd.powf(-2.5), entry.value * gsd.powf(2.5))
                }
            };
            if *up { high } else { low }
        })
        .collect();
    CATALOGUE.parameters(&values)
}

/// Two seasons of one of the carried records.
fn two_seasons(p: &Parameters, at_jfk: bool, late: bool) -> Vec<Sky> {
    let record: &Record = if at_jfk { &JFK } else { &SEATTLE };
    let skies = sky_path(record, p, |_| {});
    // 2012 is a leap year.
    let from = if late { 366 + 365 } else { 0 };
    skies[from..from + 730].to_vec()
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_lawn_holds(
        place in any_place(),
        p in any_member(),
        acts in prop::collection::vec((0..730usize, any_act()), 0..80),
        every in prop::option::of((1..40usize, any_act())),
        at_jfk: bool,
        late: bool,
    ) {
        let skies = two_seasons(&p, at_jfk, late);
        let mut by_day: Vec<Vec<Act>> = vec![Vec::new(); skies.len()];
        for (day, act) in acts {
            by_day[day].push(act);
        }
        if let Some((interval, act)) = every {
            by_day.iter_mut().step_by(interval).for_each(|today| today.push(act));
        }
        let mut day = by_day.into_iter();
        let crew = |_: &Sky, today: &mut Vec<Act>| today.extend(day.next().unwrap_or_default());
        if let Err(fault) = play(&place, &p, &skies, crew) {
            prop_assert!(false, "{fault}");
        }
    }

    /// The same lawn played twice, and played in two halves, is the same lawn.
    #[test]
    fn a_lawn_can_be_stopped_and_gone_on_with(
        place in any_place(),
        p in any_member(),
        stop in 1..364usize,
    ) {
        let skies = two_seasons(&p, true, false);
        let (setting, mut whole) = place.start(&p);
        let mut acts = Vec::new();
        let mut half: Option<State> = None;
        for (i, sky) in skies[..365].iter().enumerate() {
            acts.clear();
            usual(sky, &mut acts);
            whole.day(&setting, sky, &acts);
            if i < stop {
                half = Some(whole.clone());
            } else if let Some(half) = &mut half {
                half.day(&setting, sky, &acts);
            }
        }
        prop_assert_eq!(Some(whole), half);
    }
}

/// One season; the lawn's crabgrass is pulled every evening where `pulled`, so that it does not
/// act back on the moisture of its own seedbed.
struct Season {
    /// Seedlings through the barrier, by day, 1/m2.
    through: Vec<f64>,
    /// Crabgrass cover by day, 0..=1.
    cover: Vec<f64>,
}

fn season(place: &Place, p: &Parameters, skies: &[Sky], pass: (Act, u16), pulled: bool) -> Season {
    let (setting, mut state) = place.start(p);
    let mut season = Season { through: Vec::new(), cover: Vec::new() };
    let mut acts = Vec::new();
    for sky in &skies[..365] {
        acts.clear();
        mow_and_water(sky, &mut acts);
        feed(sky, &mut acts);
        if sky.day_of_year == pass.1 {
            acts.push(pass.0);
        }
        state.day(&setting, sky, &acts);
        season.through.push(state.today.through);
        season.cover.push(state.weed.cover);
        if pulled {
            state.weed.used = 0;
            state.weed.cover = 0.0;
        }
    }
    season
}

fn cases(n: u32) -> TestRunner {
    TestRunner::new(ProptestConfig {
        cases: n,
        failure_persistence: None,
        ..ProptestConfig::default()
    })
}

#[test]
fn look_monotone() {
    let rates = [0.0, 0.05, 0.2, 0.5, 1.0, 3.0];
    let seeds = [50.0, 500.0, 2000.0, 20_000.0];
    for pulled in [true, false] {
        let worst = std::cell::RefCell::new([0.0f64; 8]);
        cases(150)
            .run(
                &(
                    any_place(),
                    any_member(),
                    any::<bool>(),
                    any::<bool>(),
                    60..140u16,
                    0..9u8,
                    any::<bool>(),
                ),
                |(place, p, jfk, late, day, active, spray)| {
                    let skies = two_seasons(&p, jfk, late);
                    let pass = |rate_kg_ha| {
                        let carrier = if spray { Carrier::Spray } else { Carrier::Granule };
                        (
                            Act::LayBarrier {
                                active: ActiveId(active),
                                rate_kg_ha,
                                carrier,
                                unevenness: 0.3,
                            },
                            day,
                        )
                    };
                    let by_rate = rates.map(|r| season(&place, &p, &skies, pass(r), pulled));
                    let by_seed = seeds.map(|n| {
                        season(
                            &place.clone().with(|l| l.seed_bank_m2 = Some(n)),
                            &p,
                            &skies,
                            pass(0.3),
                            pulled,
                        )
                    });
                    let mut w = worst.borrow_mut();
                    for (k, list) in [&by_rate[..], &by_seed[..]].into_iter().enumerate() {
                        for pair in list.windows(2) {
                            let (more, less) =
                                if k == 0 { (&pair[0], &pair[1]) } else { (&pair[1], &pair[0]) };
                            let total: f64 = more.through.iter().sum();
                            let less_total: f64 = less.through.iter().sum();
                            for d in 0..365 {
                                let over = less.through[d] - more.through[d];
                                if over > 0.0 {
                                    w[4 * k] = w[4 * k].max(over / less.through[d]);
                                    w[4 * k + 3] = w[4 * k + 3].max(over / total.max(1e-9));
                                }
                                w[4 * k + 1] = w[4 * k + 1].max(less.cover[d] - more.cover[d]);
                            }
                            if less_total > 1e-6 {
                                w[4 * k + 2] = w[4 * k + 2].max((less_total - total) / less_total);
                            }
                        }
                    }
                    Ok(())
                },
            )
            .unwrap();
        println!("look pulled {pulled}: {:?}", worst.borrow());
    }
}
