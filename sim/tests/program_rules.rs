//! The crew under local rules, against mornings that are written out by hand.
mod toy;

use sim::calendar::{Day, Weekdays};
use sim::draw::Streams;
use sim::program::{Job, Orders, Runner, toll, toll_on};
use sim::scenario::*;
use sim::weather::Forecast;
use sim::work::{Act, Fate, NitrogenForms, Setback, Why};
use toy::*;

/// Plays the mornings of 2026-2027 under some rules: what was done, and what was not.
fn played(
    practices: Vec<Practice>,
    rules: &LocalRules,
    mut forecast: impl FnMut(Day) -> Forecast,
) -> (Vec<(Day, Act)>, Vec<Setback>) {
    let (first, last) = (day(2026, 1, 1), day(2027, 12, 31));
    let orders = Orders::new(&program("p", practices), &lawn(), &NO_SLIPS, first, last)
        .obeying(rules, &lawn());
    let streams = Streams::new(5);
    let mut runner = Runner::new(&orders, &streams, 3);
    let mut log = vec![];
    for n in first.0..=last.0 {
        let mut jobs: Vec<Job> = vec![];
        runner.morning(Day(n), &mild(), &forecast(Day(n)), &mut jobs);
        log.extend(jobs.iter().map(|job| (Day(n), job.act)));
    }
    (log, runner.setbacks())
}

fn days(log: &[(Day, Act)]) -> Vec<Day> {
    log.iter().map(|(day, _)| *day).collect()
}

fn always_fair(_: Day) -> Forecast {
    fair()
}

fn dates(all: &[(u8, u8)]) -> Cue {
    Cue::Dates(all.iter().map(|&(month, of_month)| on(month, of_month)).collect())
}

fn patient(what: What, cue: Cue) -> Practice {
    Practice { give_up_days: 14, ..practice("p", what, cue) }
}

/// New York's closed season runs over the new year, 1 December to 1 April (ECL 17-2103).
#[test]
fn fertilizer_waits_for_the_end_of_a_closed_stretch_or_is_given_up() {
    let rules =
        LocalRules { fertilizer_closed: vec![(on(12, 1), on(4, 1))], ..LocalRules::default() };
    let cue = dates(&[(3, 10), (3, 25), (11, 30), (12, 10)]);
    let (log, setbacks) = played(vec![patient(feed(), cue.clone())], &rules, always_fair);
    let in_year = |year| [day(year, 4, 2), day(year, 11, 30)];
    assert_eq!(days(&log), [in_year(2026), in_year(2027)].concat());
    let first: Vec<_> = setbacks.iter().take(3).map(|s| (s.due, s.day, s.fate, s.why)).collect();
    let why = Why::FertilizerClosed;
    assert_eq!(
        first,
        [
            (day(2026, 3, 10), day(2026, 3, 24), Fate::GivenUp, why),
            (day(2026, 3, 25), day(2026, 4, 2), Fate::Pushed, why),
            (day(2026, 12, 10), day(2026, 12, 24), Fate::GivenUp, why),
        ]
    );
    // The rule is about fertilizer: a mowing and a barrier are none.
    for what in [mow(), barrier()] {
        let (log, setbacks) = played(vec![patient(what, dates(&[(3, 10)]))], &rules, always_fair);
        assert_eq!(log[0].0, day(2026, 3, 10));
        assert_eq!(setbacks, []);
    }
}

/// Pennsylvania bars more than 0.5 lb N/1000 ft2 (2.44 g/m2) from 15 December to 1 March (3 Pa.C.S.
/// 6813).
#[test]
fn a_closed_stretch_may_let_small_amounts_pass() {
    let rules = LocalRules {
        fertilizer_closed: vec![(on(12, 15), on(3, 1))],
        fertilizer_closed_over_g_m2: 2.44,
        ..LocalRules::default()
    };
    let small = |urea_g_m2| match feed() {
        What::Spread { product, release_days, .. } => What::Spread {
            release_days,
            nitrogen: NitrogenForms { urea_g_m2, ..NitrogenForms::default() },
            water_in_mm: 0.0,
            product,
        },
        other => other,
    };
    let done =
        |n| days(&played(vec![patient(small(n), dates(&[(2, 20)]))], &rules, always_fair).0)[0];
    assert_eq!(done(2.4), day(2026, 2, 20));
    assert_eq!(done(2.5), day(2026, 3, 2));
}

#[test]
fn a_barrier_waits_where_the_place_is_closed_to_pesticides() {
    let rules =
        LocalRules { pesticide_closed: vec![(on(4, 1), on(4, 9))], ..LocalRules::default() };
    let (log, setbacks) = played(vec![patient(barrier(), dates(&[(4, 5)]))], &rules, always_fair);
    assert_eq!(log[0].0, day(2026, 4, 10));
    assert_eq!((setbacks[0].fate, setbacks[0].why), (Fate::Pushed, Why::PesticideClosed));
}

#[test]
fn no_fertilizer_goes_out_ahead_of_heavy_rain() {
    let rules = LocalRules { rain_coming_mm: Some(25.0), ..LocalRules::default() };
    let rain = |today: Day| {
        let rain_3_days_mm = if today <= day(2026, 5, 3) { 25.0 } else { 24.9 };
        Forecast { rain_3_days_mm, ..fair() }
    };
    let (log, setbacks) = played(vec![patient(feed(), dates(&[(5, 1)]))], &rules, rain);
    assert_eq!(log[0].0, day(2026, 5, 4));
    assert_eq!((setbacks[0].fate, setbacks[0].why), (Fate::Pushed, Why::FertilizerRain));
}

/// 1 June 2026 is a Monday (ISO 8601).
#[test]
fn watering_waits_for_a_day_that_allows_it() {
    let water = || patient(What::Water { depth_mm: 10.0 }, dates(&[(5, 31), (6, 1)]));
    let wed_sat = Weekdays::NONE.with(2).with(5);
    for (water_days, expected) in [
        (WaterDays::Any, vec![(5, 31), (6, 1)]),
        // The 31st and the 1st are both odd.
        (WaterDays::Odd, vec![(5, 31), (6, 1)]),
        // What falls due while another waits falls together with it.
        (WaterDays::Even, vec![(6, 2)]),
        (WaterDays::Week(wed_sat), vec![(6, 3)]),
    ] {
        let rules = LocalRules { water_days, ..LocalRules::default() };
        let (log, setbacks) = played(vec![water()], &rules, always_fair);
        let done: Vec<Day> = days(&log).into_iter().filter(|d| d.ymd().0 == 2026).collect();
        let expected: Vec<Day> = expected.iter().map(|&(m, d)| day(2026, m, d)).collect();
        assert_eq!(done, expected, "{water_days:?}");
        assert!(setbacks.iter().all(|s| (s.fate, s.why) == (Fate::Pushed, Why::WaterDay)));
    }
}

/// A barrier that is watered in waits with its water; mowing needs none.
#[test]
fn what_waters_in_waits_for_a_watering_day_too() {
    let rules = LocalRules { water_days: WaterDays::Even, ..LocalRules::default() };
    let at = dates(&[(4, 15)]);
    let both = vec![patient(barrier(), at.clone()), patient(mow(), at)];
    let (log, _) = played(both, &rules, always_fair);
    let first = |cut| log.iter().find(|(_, act)| matches!(act, Act::Cut { .. }) == cut);
    assert_eq!(first(true).unwrap().0, day(2026, 4, 15));
    assert_eq!(first(false).unwrap().0, day(2026, 4, 16));
}

#[test]
fn the_widest_wait_between_watering_days_is_found_on_the_calendar() {
    let all = [
        WaterDays::Any,
        WaterDays::Odd,
        WaterDays::Even,
        WaterDays::Week(Weekdays::NONE.with(2).with(5)),
        WaterDays::Week(Weekdays::NONE.with(6)),
    ];
    for days in all {
        let allowed: Vec<i32> =
            (day(2026, 1, 1).0..day(2030, 1, 1).0).filter(|n| days.allow(Day(*n))).collect();
        let widest = allowed.windows(2).map(|pair| pair[1] - pair[0]).max().unwrap();
        assert_eq!(days.widest_gap_days(), u32::try_from(widest).unwrap(), "{days:?}");
    }
}

/// The toy lawn has 500 m2: a strip of 125 m2 leaves three quarters to be fed, and all of it to mow.
#[test]
fn the_strip_beside_water_takes_neither_minutes_nor_product() {
    let rules = LocalRules { strip_m2: 125.0, ..LocalRules::default() };
    let share = |what: &What, rules: &LocalRules| rules.treated_share(what, &lawn());
    assert_eq!(share(&feed(), &rules), 0.75);
    assert_eq!((share(&barrier(), &rules), share(&mow(), &rules)), (1.0, 1.0));
    let both = LocalRules { strip_without_pesticide: true, ..rules };
    assert_eq!(share(&barrier(), &both), 0.75);
    let n = NitrogenForms { urea_g_m2: 4.0, ..NitrogenForms::default() };
    let job = |act| Job { practice: 0, act, rate_factor: 1.0, ground: 1.0 };
    let laid = job(Act::LayNitrogen(n));
    let whole = toll(&crew(), &lawn(), &feed(), &laid);
    let part = toll_on(0.75, whole, &laid);
    assert!((part.minutes - 0.75 * whole.minutes).abs() < 1e-12);
    assert!((part.cost - 0.75 * whole.cost).abs() < 1e-12 && whole.cost > 0.0);
    // The lawn is watered in all over.
    let wet = job(Act::Wet { water_mm: 10.0 });
    let water = toll(&crew(), &lawn(), &barrier(), &wet);
    assert_eq!(toll_on(0.75, water, &wet), water);
}
