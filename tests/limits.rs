//! Any lawn, any member, any acts on any days: the same evenings' audit as for the extremes, and
//! what more barrier and more seed may and may not do.
mod support;

use proptest::prelude::*;
use sim::lawn::State;
use sim::parameters::{Parameters, Spread};
use sim::scenario::{Compaction, Grass, HydrologicGroup, SoilTest};
use sim::weather::{Record, Sky};
use sim::work::{
    Act, ActiveId, Carrier, Clippings, NitrogenForms, SeedMix, Sowing, Stimulant, Tending,
};
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
        // Half of the soils were tested, and found anything from 3.5 to 9.5.
        lawn.soil.test = (sand < 0.5).then(|| SoilTest {
            ph: Some(3.5 + 12.0 * sand),
            target_ph: 6.5,
            phosphorus_ppm: Some(topsoil_mm),
            ..SoilTest::default()
        });
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
                unevenness: 0.5,
                on_leaf: organic > 25.0,
                phosphate_g_m2: organic,
            })
        },
    )
}

fn any_sowing() -> impl Strategy<Value = Act> {
    use Grass::{FineFescue, KentuckyBluegrass, PerennialRyegrass, TallFescue};
    let grass =
        prop::sample::select(vec![FineFescue, KentuckyBluegrass, PerennialRyegrass, TallFescue]);
    let method = prop::sample::select(vec![Sowing::Broadcast, Sowing::Raked, Sowing::Slit]);
    let kind = || (grass.clone(), amount(100.0));
    (kind(), kind(), amount(1.0), method).prop_map(|(first, second, pure_live_seed, method)| {
        Act::SowGrass { seed: SeedMix::two(first, second), pure_live_seed, method }
    })
}

fn any_tending() -> impl Strategy<Value = Tending> {
    prop_oneof![
        (amount(300.0), amount(1.0))
            .prop_map(|(depth_mm, opened)| Tending::Core { depth_mm, opened }),
        amount(60.0).prop_map(|depth_mm| Tending::Scarify { depth_mm }),
        amount(20.0).prop_map(|rate_kg_ha| Tending::Kill { rate_kg_ha }),
        amount(200.0).prop_map(|depth_mm| Tending::Level { depth_mm }),
        amount(1.0).prop_map(|share| Tending::LaySod {
            kinds: [(Grass::TallFescue, share), (Grass::KentuckyBluegrass, 1.0 - share)],
        }),
        amount(5000.0).prop_map(|carbonate_g_m2| Tending::Lime { carbonate_g_m2 }),
        amount(50.0).prop_map(|iron_kg_ha| Tending::SprayIron { iron_kg_ha }),
        amount(0.5)
            .prop_map(|root_growth| Tending::Stimulate { kind: Stimulant::Humic, root_growth }),
    ]
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
        2 => any_sowing(),
        2 => any_tending().prop_map(Act::Tend),
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
        // The same cases each time, so that a change is judged by what it changed.
        rng_seed: proptest::test_runner::RngSeed::Fixed(20),
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

/// One season of one lawn.
struct Season {
    /// Seedlings through the barrier, by day, 1/m2.
    through: Vec<f64>,
    /// Crabgrass cover by day, 0..=1.
    cover: Vec<f64>,
}

/// A pass of the barrier on a fixed day of the year.
#[derive(Clone, Copy, Debug)]
struct Pass {
    active: u8,
    carrier: Carrier,
    unevenness: f64,
    day_of_year: u16,
}

fn any_pass() -> impl Strategy<Value = Pass> {
    let carrier = prop_oneof![Just(Carrier::Spray), Just(Carrier::Granule)];
    (0..9u8, carrier, 0.0..=1.0f64, 60..200u16).prop_map(
        |(active, carrier, unevenness, day_of_year)| Pass {
            active,
            carrier,
            unevenness,
            day_of_year,
        },
    )
}

/// The usual care with one pass at a rate.
fn care(pass: Pass, rate_kg_ha: f64) -> impl Fn(&Sky, &mut Vec<Act>) {
    move |sky, acts| {
        mow_and_water(sky, acts);
        feed(sky, acts);
        if sky.day_of_year == pass.day_of_year {
            let Pass { active, carrier, unevenness, .. } = pass;
            let active = ActiveId(active);
            acts.push(Act::LayBarrier { active, rate_kg_ha, carrier, unevenness });
        }
    }
}

fn as_it_grows(
    place: &Place,
    p: &Parameters,
    skies: &[Sky],
    crew: impl Fn(&Sky, &mut Vec<Act>),
) -> Season {
    let (setting, mut state) = place.start(p);
    let mut season = Season { through: Vec::new(), cover: Vec::new() };
    let mut acts = Vec::new();
    for sky in skies {
        acts.clear();
        crew(sky, &mut acts);
        state.day(&setting, sky, &acts);
        season.through.push(state.today.through);
        season.cover.push(state.weed.cover);
    }
    season
}

/// Seedlings by day where none of them ever acts on the lawn: each evening the lawn is put back
/// to what it would be without crabgrass, and only the seed keeps its memory.
fn counted_and_pulled(
    place: &Place,
    p: &Parameters,
    skies: &[Sky],
    crew: impl Fn(&Sky, &mut Vec<Act>),
) -> Vec<f64> {
    let (setting, mut weedy) = place.start(p);
    let (_, mut clean) = place.clone().with(|l| l.seed_bank_m2 = Some(0.0)).start(p);
    let mut through = Vec::new();
    let mut acts = Vec::new();
    for sky in skies {
        acts.clear();
        crew(sky, &mut acts);
        weedy.day(&setting, sky, &acts);
        clean.day(&setting, sky, &acts);
        through.push(weedy.today.through);
        let weed = weedy.weed;
        weedy = clean.clone();
        weedy.weed = sim::lawn::crabgrass::Weed { used: 0, cover: 0.0, ..weed };
    }
    through
}

const RATES_KG_HA: [f64; 6] = [0.0, 0.05, 0.2, 0.5, 1.0, 3.0];
const SEEDS_M2: [f64; 4] = [50.0, 500.0, 2000.0, 20_000.0];

/// Any lawn, member, season and pass.
fn any_case() -> impl Strategy<Value = (Place, Parameters, Pass, bool, bool)> {
    (any_place(), any_member(), any_pass(), any::<bool>(), any::<bool>())
}

fn one_season(p: &Parameters, at_jfk: bool, late: bool) -> Vec<Sky> {
    two_seasons(p, at_jfk, late)[..365].to_vec()
}

fn seeded(place: &Place, seeds_m2: f64) -> Place {
    place.clone().with(|l| l.seed_bank_m2 = Some(seeds_m2))
}

fn sum(values: &[f64]) -> f64 {
    values.iter().sum()
}

fn peak(values: &[f64]) -> f64 {
    values.iter().copied().fold(0.0, f64::max)
}

/// The first day on which `less` is above `more`, with both.
fn above(less: &[f64], more: &[f64]) -> Option<(usize, f64, f64)> {
    let mut pairs = less.iter().zip(more).enumerate();
    pairs.find(|(_, (less, more))| less > more).map(|(day, (less, more))| (day, *less, *more))
}

/// Running sums.
fn to_date(values: &[f64]) -> Vec<f64> {
    let mut sum = 0.0;
    values.iter().map(|v| (sum += v, sum).1).collect()
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 60,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// Exact where seedlings do not act back on the lawn: on no day do more come through more
    /// barrier, nor fewer from more seed.
    #[test]
    fn more_barrier_fewer_seedlings_and_more_seed_more(
        (place, p, pass, at_jfk, late) in any_case(),
    ) {
        let skies = one_season(&p, at_jfk, late);
        let by_rate =
            RATES_KG_HA.map(|rate| counted_and_pulled(&place, &p, &skies, care(pass, rate)));
        for pair in by_rate.windows(2) {
            prop_assert_eq!(above(&pair[1], &pair[0]), None, "by rate");
        }
        let by_seed = SEEDS_M2
            .map(|n| counted_and_pulled(&seeded(&place, n), &p, &skies, care(pass, 0.3)));
        for pair in by_seed.windows(2) {
            prop_assert_eq!(above(&pair[0], &pair[1]), None, "by seed");
        }
    }

    /// Crabgrass that grows shades its own seedbed and drinks its water, so that single days may
    /// turn; the seedlings to date do not. 0.1 % is left for the feedback, of which 3,000 cases
    /// showed none.
    #[test]
    fn seedlings_to_date_keep_the_order_on_a_growing_lawn(
        (place, p, pass, at_jfk, late) in any_case(),
    ) {
        let skies = one_season(&p, at_jfk, late);
        let shrunk = |values: &[f64]| -> Vec<f64> {
            to_date(values).into_iter().map(|v| 0.999 * v - 1e-6).collect()
        };
        let by_rate = RATES_KG_HA.map(|rate| as_it_grows(&place, &p, &skies, care(pass, rate)));
        for pair in by_rate.windows(2) {
            let (more, less) = (to_date(&pair[0].through), shrunk(&pair[1].through));
            prop_assert_eq!(above(&less, &more), None, "by rate");
        }
        let by_seed =
            SEEDS_M2.map(|n| as_it_grows(&seeded(&place, n), &p, &skies, care(pass, 0.3)));
        for pair in by_seed.windows(2) {
            let (more, less) = (to_date(&pair[1].through), shrunk(&pair[0].through));
            prop_assert_eq!(above(&less, &more), None, "by seed");
        }
    }
}

/// What less barrier or more seed may cost in the season's mean cover, 0..=1. 22,400 pairs of
/// random lawns, members and passes showed 0.00003.
const MEAN_SLACK: f64 = 0.001;

/// The same of the season's highest cover, 0..=1; the pairs showed 0.010.
const PEAK_SLACK: f64 = 0.02;

/// The same of a single day, 0..=1; the pairs showed 0.09, late in dry seasons.
const DAY_SLACK: f64 = 0.15;

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 200,
        failure_persistence: None,
        // The same cases each time, so that a change is judged by what it changed.
        rng_seed: proptest::test_runner::RngSeed::Fixed(21),
        ..ProptestConfig::default()
    })]

    /// More barrier never means more crabgrass, nor more seed less, on any lawn that sows no
    /// grass: crowding takes the young and small, and leaves those who hold the ground. Water and
    /// nitrogen that a denser stand has used up may still turn single days.
    #[test]
    fn crabgrass_cover_keeps_the_order(
        (place, p, pass, at_jfk, late) in any_case(),
    ) {
        let skies = one_season(&p, at_jfk, late);
        let by_rate = RATES_KG_HA.map(|rate| as_it_grows(&place, &p, &skies, care(pass, rate)));
        let by_seed =
            SEEDS_M2.map(|n| as_it_grows(&seeded(&place, n), &p, &skies, care(pass, 0.3)));
        let rates = by_rate.windows(2).map(|pair| (&pair[0].cover, &pair[1].cover));
        let seeds = by_seed.windows(2).map(|pair| (&pair[1].cover, &pair[0].cover));
        for (more, less) in rates.chain(seeds) {
            let lowered: Vec<f64> = less.iter().map(|cover| cover - DAY_SLACK).collect();
            prop_assert_eq!(above(&lowered, more), None);
            let (m, l) = (peak(more), peak(less));
            prop_assert!(l <= m + PEAK_SLACK, "highest cover {l} and {m}");
            let (m, l) = (sum(more) / 365.0, sum(less) / 365.0);
            prop_assert!(l <= m + MEAN_SLACK, "mean cover {l} and {m}");
        }
    }
}

/// Dense tall fescue cut at 3 to 4 in and fed holds against heavy seed; a thin lawn is lost to it
/// (Hoyle et al. 2008: 13 and 0 % at 3 and 4 in; none came into closed fescue, Davis & Elmore 1998).
/// The middle of the constants meets the trials; of the draws, which may pair a greedy weed with turf
/// that browns fast in a dry summer, nine in ten stay within the trial's range at 3 in (5-25 %).
#[test]
fn dense_fescue_holds_and_a_thin_lawn_is_lost() {
    let crew = |height_mm: f64| {
        move |sky: &Sky, acts: &mut Vec<Act>| {
            if (95..320).contains(&sky.day_of_year) && sky.day.0 % 7 == 0 {
                acts.push(mow(height_mm));
            }
            water(sky, acts);
            feed(sky, acts);
        }
    };
    let fescue = |turf_cover: f64| {
        Place { turf_cover, ..seeded(&loam(), 5000.0) }
            .with(|l| l.lawn.grasses = vec![(Grass::TallFescue, 1.0)])
    };
    let mut held = Vec::new();
    for member in 0..60 {
        let (at_jfk, late) = (member % 2 == 0, member % 4 < 2);
        let height_mm = 76.0 + 26.0 * f64::from(member % 5) / 4.0;
        let p = drawn(5, member);
        let skies = one_season(&p, at_jfk, late);
        held.push(peak(&as_it_grows(&fescue(0.98), &p, &skies, crew(height_mm)).cover));
        let lost = peak(&as_it_grows(&fescue(0.30), &p, &skies, crew(38.0)).cover);
        assert!(lost > 0.5, "thin turf held in member {member}, {lost}");
        let central = CATALOGUE.central();
        let skies = one_season(&central, at_jfk, late);
        let middle = peak(&as_it_grows(&fescue(0.98), &central, &skies, crew(height_mm)).cover);
        assert!(middle < 0.15, "dense turf lost {middle} at the central constants");
    }
    held.sort_by(f64::total_cmp);
    assert!(held[53] < 0.25, "of sixty draws of dense turf a tenth lost more than {}", held[53]);
}
