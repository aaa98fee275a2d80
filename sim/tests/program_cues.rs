//! When practices happen: cues, holds and slips against mornings that are written out by hand.
mod toy;

use sim::calendar::Day;
use sim::draw::{Streams, key};
use sim::program::{Job, Orders, Runner, Slip, holds, week_of};
use sim::scenario::{Cue, Hold, Practice, Slips};
use sim::weather::Forecast;
use sim::work::{Act, Signs};
use toy::*;

/// Plays mornings of 2026-2027 and gives the days on which each practice was done.
fn done(
    practices: Vec<Practice>,
    slips: &Slips,
    mut morning: impl FnMut(Day) -> (Signs, Forecast),
) -> Vec<(Day, u16)> {
    let (first, last) = (day(2026, 1, 1), day(2027, 12, 31));
    let orders = Orders::new(&program("p", practices), &lawn(), slips, first, last);
    let streams = Streams::new(5);
    let mut crew = Runner::new(&orders, &streams, 3);
    let mut log = vec![];
    for n in first.0..=last.0 {
        let (signs, forecast) = morning(Day(n));
        let mut jobs: Vec<Job> = vec![];
        crew.morning(Day(n), &signs, &forecast, &mut jobs);
        jobs.retain(|job| !matches!(job.act, Act::Wet { .. }));
        log.extend(jobs.iter().map(|job| (Day(n), job.practice)));
    }
    log
}

fn days_of(log: &[(Day, u16)], practice: u16) -> Vec<Day> {
    log.iter().filter(|(_, p)| *p == practice).map(|(day, _)| *day).collect()
}

fn always_fair(_: Day) -> (Signs, Forecast) {
    (mild(), fair())
}

#[test]
fn dates_come_every_year() {
    let feed = practice("feed", feed(), Cue::Dates(vec![on(9, 1), on(5, 20)]));
    let log = done(vec![feed], &NO_SLIPS, always_fair);
    let expected = [day(2026, 5, 20), day(2026, 9, 1), day(2027, 5, 20), day(2027, 9, 1)];
    assert_eq!(days_of(&log, 0), expected);
}

#[test]
fn an_interval_is_counted_from_the_last_one_done() {
    let mut mow = practice("mow", mow(), every(7));
    mow.holds.push(Hold::Wet { mm: 5.0 });
    let storm = day(2026, 4, 22);
    let log = done(vec![mow], &NO_SLIPS, |today| {
        let wet = today == storm || today == storm.plus(1);
        (Signs { rain_yesterday_mm: if wet { 20.0 } else { 0.0 }, ..mild() }, fair())
    });
    let days = days_of(&log, 0);
    // Due on 15 and 22 April; the second waits two days and moves those after it.
    let expected = [day(2026, 4, 15), day(2026, 4, 24), day(2026, 5, 1)];
    assert_eq!(days[..3], expected);
    assert!(days.iter().all(|d| (4..=10).contains(&d.ymd().1)));
    assert!(days.contains(&day(2027, 4, 15)), "the window opens anew each year");
}

#[test]
fn a_dropped_visit_waits_for_the_next_interval() {
    let mut mow = practice("mow", mow(), every(14));
    mow.holds.push(Hold::Dormant);
    mow.give_up_days = 3;
    let log = done(vec![mow], &NO_SLIPS, |today| {
        let brown = day(2026, 4, 29) <= today && today <= day(2026, 5, 2);
        (Signs { dormant: brown, ..mild() }, fair())
    });
    // Due 29 April, tried until 2 May, dropped; due again 14 days after it was due.
    assert_eq!(days_of(&log, 0)[..2], [day(2026, 4, 15), day(2026, 5, 13)]);
}

#[test]
fn give_up_days_counts_the_mornings_after_the_first_try() {
    for (give_up_days, expected) in [(2, None), (3, Some(day(2026, 5, 23)))] {
        let mut feed = practice("feed", feed(), Cue::Dates(vec![on(5, 20)]));
        feed.holds.push(Hold::Hotter { than_c: 29.0 });
        feed.give_up_days = give_up_days;
        let log = done(vec![feed], &NO_SLIPS, |today| {
            let heat = today < day(2026, 5, 23);
            (mild(), Forecast { t_max_c: if heat { 31.0 } else { 20.0 }, ..fair() })
        });
        assert_eq!(days_of(&log, 0).first().copied().filter(|d| d.ymd().0 == 2026), expected);
    }
}

#[test]
fn soil_temperature_must_stand_for_days_running_and_calls_once_a_year() {
    let cue = Cue::SoilTemperature { at_least_c: 12.0, for_days: 4, from: on(3, 10), to: on(6, 1) };
    let soil = |today: Day| {
        let (_, month, of_month) = today.ymd();
        match (month, of_month) {
            // Three warm evenings and a cold one; then warm for good.
            (3, 1..=12) => 14.0,
            (3, 13) => 8.0,
            (3, 14..=31) | (4..=9, _) => 12.0,
            _ => 5.0,
        }
    };
    let log = done(vec![practice("barrier", barrier(), cue.clone())], &NO_SLIPS, |today| {
        (Signs { soil_5cm_c: soil(today), ..mild() }, fair())
    });
    // Evenings before the window count: it is warm enough on the first day of the window.
    assert_eq!(days_of(&log, 0), [day(2026, 3, 10), day(2027, 3, 10)]);

    let late =
        Cue::SoilTemperature { at_least_c: 12.0, for_days: 4, from: on(3, 13), to: on(6, 1) };
    let log = done(vec![practice("barrier", barrier(), late)], &NO_SLIPS, |today| {
        (Signs { soil_5cm_c: soil(today), ..mild() }, fair())
    });
    // The cold evening starts the count anew: warm on 14, 15, 16, 17 March.
    assert_eq!(days_of(&log, 0), [day(2026, 3, 17), day(2027, 3, 17)]);
}

#[test]
fn a_visit_that_soil_temperature_called_for_is_made_after_its_window_unless_given_up() {
    let cue = Cue::SoilTemperature { at_least_c: 12.0, for_days: 3, from: on(3, 1), to: on(4, 10) };
    let mut barrier = practice("barrier", barrier(), cue);
    barrier.holds.push(Hold::Windy { m_s: 4.0 });
    let until_the_20th = |today: Day| {
        let windy = today < day(2026, 4, 20);
        let wind_yesterday_m_s = if windy { 5.0 } else { 1.0 };
        (Signs { wind_yesterday_m_s, soil_5cm_c: 15.0, ..mild() }, fair())
    };
    barrier.give_up_days = 60;
    let log = done(vec![barrier.clone()], &NO_SLIPS, until_the_20th);
    assert_eq!(days_of(&log, 0), [day(2026, 4, 20), day(2027, 3, 1)]);
    barrier.give_up_days = 14;
    let log = done(vec![barrier], &NO_SLIPS, until_the_20th);
    assert_eq!(days_of(&log, 0), [day(2027, 3, 1)]);
}

#[test]
fn a_warm_december_calls_nobody_in_january() {
    let cue = Cue::SoilTemperature { at_least_c: 12.0, for_days: 4, from: on(1, 1), to: on(6, 1) };
    let log = done(vec![practice("barrier", barrier(), cue)], &NO_SLIPS, |today| {
        // Warm to New Year's Eve, as the morning of 1 January sees it; then cold until March.
        let cold = today.month_day() > on(1, 1) && today.month_day() < on(3, 1);
        (Signs { soil_5cm_c: if cold { 4.0 } else { 14.0 }, ..mild() }, fair())
    });
    assert_eq!(days_of(&log, 0), [day(2026, 3, 4), day(2027, 3, 4)]);
}

#[test]
fn a_late_visit_does_not_pass_the_end_of_its_year() {
    let cue =
        Cue::SoilTemperature { at_least_c: 3.0, for_days: 1, from: on(12, 20), to: on(12, 24) };
    let mut feed = practice("feed", feed(), cue);
    feed.holds.push(Hold::Windy { m_s: 4.0 });
    feed.give_up_days = 60;
    let log = done(vec![feed], &NO_SLIPS, |today| {
        let calm = today.month_day() < on(12, 1);
        (Signs { wind_yesterday_m_s: if calm { 1.0 } else { 5.0 }, ..mild() }, fair())
    });
    assert_eq!(days_of(&log, 0), []);
}

#[test]
fn canopy_height_keeps_its_gap() {
    let cue =
        Cue::CanopyHeight { at_least_mm: 100.0, from: on(5, 1), to: on(5, 20), min_gap_days: 5 };
    let log = done(vec![practice("mow", mow(), cue)], &NO_SLIPS, |today| {
        let tall = today >= day(2026, 5, 3);
        (Signs { canopy_height_mm: if tall { 120.0 } else { 90.0 }, ..mild() }, fair())
    });
    let days: Vec<u8> =
        days_of(&log, 0).iter().filter(|d| d.ymd().0 == 2026).map(|d| d.ymd().2).collect();
    assert_eq!(days, [3, 8, 13, 18]);
}

#[test]
fn dry_soil_waters_unless_rain_is_promised() {
    let cue = Cue::DrySoil { at_most: 0.4, from: on(6, 1), to: on(6, 10), min_gap_days: 3 };
    let mut feed = practice("drink", feed(), cue);
    feed.holds.push(Hold::RainIn3Days { mm: 10.0 });
    feed.give_up_days = 0;
    let log = done(vec![feed], &NO_SLIPS, |today| {
        let promised = today <= day(2026, 6, 2);
        let rain_3_days_mm = if promised { 15.0 } else { 0.0 };
        (Signs { soil_water: 0.4, ..mild() }, Forecast { rain_3_days_mm, ..fair() })
    });
    // Dropped on 1 and 2 June, asked for again the next morning each time.
    let days: Vec<u8> =
        days_of(&log, 0).iter().filter(|d| d.ymd().0 == 2026).map(|d| d.ymd().2).collect();
    assert_eq!(days, [3, 6, 9]);
}

#[test]
fn days_after_follows_each_time_the_other_is_done() {
    let first = practice("first", barrier(), Cue::Dates(vec![on(4, 1), on(4, 20)]));
    let second = practice("second", barrier(), Cue::DaysAfter { practice: 0, days: 30 });
    let same_day = practice("third", feed(), Cue::DaysAfter { practice: 1, days: 0 });
    // Written before what it follows, and done on the same morning all the same.
    let mut practices = vec![first, second, same_day];
    let log = done(practices.clone(), &NO_SLIPS, always_fair);
    let expected = [day(2026, 5, 1), day(2026, 5, 20), day(2027, 5, 1), day(2027, 5, 20)];
    assert_eq!(days_of(&log, 1), expected);
    assert_eq!(days_of(&log, 2), expected);

    practices.swap(0, 2);
    practices[0].cue = Cue::DaysAfter { practice: 1, days: 0 };
    practices[1].cue = Cue::DaysAfter { practice: 2, days: 30 };
    let log = done(practices, &NO_SLIPS, always_fair);
    assert_eq!(days_of(&log, 0), expected);
}

#[test]
fn a_follow_up_of_itself_never_begins() {
    let ring = practice("ring", feed(), Cue::DaysAfter { practice: 0, days: 1 });
    let nobody = practice("nobody", feed(), Cue::DaysAfter { practice: 9, days: 1 });
    assert_eq!(done(vec![ring, nobody], &NO_SLIPS, always_fair), []);
}

#[test]
fn nobody_works_frozen_or_snow_covered_ground() {
    let feed = practice("feed", feed(), Cue::Dates(vec![on(12, 5)]));
    let thaw = day(2026, 12, 8);
    let log = done(vec![feed], &NO_SLIPS, |today| {
        (Signs { frozen_or_snow: today != thaw, ..mild() }, fair())
    });
    assert_eq!(days_of(&log, 0), [thaw]);
}

#[test]
fn a_closed_season_may_cross_the_new_year() {
    let mut feed =
        practice("feed", feed(), Cue::Dates(vec![on(1, 10), on(3, 15), on(11, 14), on(11, 15)]));
    feed.give_up_days = 0;
    feed.holds.push(Hold::Closed { from: on(11, 15), to: on(3, 1) });
    let log = done(vec![feed], &NO_SLIPS, always_fair);
    let days: Vec<(u8, u8)> =
        days_of(&log, 0).iter().take(2).map(|d| (d.ymd().1, d.ymd().2)).collect();
    assert_eq!(days, [(3, 15), (11, 14)]);
    assert_eq!(days_of(&log, 0).len(), 4);
}

#[test]
fn a_short_canopy_counts_as_a_visit_unless_a_hold_says_otherwise() {
    let short = |_| (Signs { canopy_height_mm: 40.0, ..mild() }, fair());
    let plain = practice("mow", mow(), every(7));
    let mut wary = plain.clone();
    wary.holds.push(Hold::ShorterThan { mm: 80.0 });
    assert!(done(vec![plain], &NO_SLIPS, short).len() > 50);
    assert_eq!(done(vec![wary], &NO_SLIPS, short), []);
}

#[test]
fn a_window_may_cross_the_new_year() {
    let cue = Cue::Every { days: 30, from: on(12, 1), to: on(1, 31) };
    let log = done(vec![practice("rake", feed(), cue)], &NO_SLIPS, always_fair);
    let expected = [
        // The run begins inside the window that opened in 2025.
        day(2026, 1, 1),
        day(2026, 1, 31),
        day(2026, 12, 1),
        day(2026, 12, 31),
        day(2027, 1, 30),
        day(2027, 12, 1),
        day(2027, 12, 31),
    ];
    assert_eq!(days_of(&log, 0), expected);
}

#[test]
fn water_in_comes_with_the_product_and_loses_its_share() {
    let barrier = practice("barrier", barrier(), Cue::Dates(vec![on(4, 1)]));
    let (first, last) = (day(2026, 1, 1), day(2026, 12, 31));
    let orders = Orders::new(&program("p", vec![barrier]), &lawn(), &NO_SLIPS, first, last);
    let streams = Streams::new(5);
    let mut crew = Runner::new(&orders, &streams, 0);
    let mut jobs = vec![];
    for n in first.0..=last.0 {
        crew.morning(Day(n), &mild(), &fair(), &mut jobs);
    }
    let acts: Vec<Act> = jobs.iter().map(|job| job.act).collect();
    assert!(matches!(acts[0], Act::LayBarrier { rate_kg_ha: 0.73, unevenness: 0.2, .. }));
    // 13 mm from the tap at an efficiency of 0.8.
    assert!(matches!(acts[1], Act::Wet { water_mm } if (water_mm - 10.4).abs() < 1e-12));
    assert_eq!(acts.len(), 2);
}

#[test]
fn a_late_visit_comes_late_and_a_missed_one_not_at_all() {
    let always_late = Slips { late: 1.0, ..NO_SLIPS };
    let feed = practice("feed", feed(), Cue::Dates(vec![on(5, 20)]));
    let due = day(2026, 5, 20);
    let slip = Slip::draw(&always_late, &Streams::new(5), 3, key("feed"), week_of(due));
    assert!(slip.late_days >= 1);
    let log = done(vec![feed.clone()], &always_late, always_fair);
    assert_eq!(log[0].0, due.plus(slip.late_days));

    let never = Slips { missed: 1.0, ..NO_SLIPS };
    assert_eq!(done(vec![feed, practice("mow", mow(), every(7))], &never, always_fair), []);
}

#[test]
fn adding_a_practice_leaves_the_others_luck_alone() {
    let mow_and_feed = usual("p", 7).practices;
    let mut more = mow_and_feed.clone();
    more.insert(0, practice("extra", mow(), every(3)));
    let before = done(mow_and_feed, &SLIPS, always_fair);
    let after = done(more, &SLIPS, always_fair);
    for practice in 0..4 {
        assert_eq!(days_of(&before, practice), days_of(&after, practice + 1));
    }
}

#[test]
fn slips_come_as_often_as_they_are_said_to() {
    let streams = Streams::new(1);
    let slips: Vec<Slip> =
        (0..40_000).map(|week| Slip::draw(&SLIPS, &streams, 0, key("mow"), week)).collect();
    let n = slips.len() as f64;
    let missed = slips.iter().filter(|s| s.missed).count() as f64 / n;
    let late: Vec<f64> =
        slips.iter().filter(|s| s.late_days > 0).map(|s| f64::from(s.late_days)).collect();
    let rate = slips.iter().map(|s| s.rate_factor).sum::<f64>() / n;
    assert!((missed - 0.1).abs() < 0.006, "{missed}");
    assert!((late.len() as f64 / n - 0.2).abs() < 0.008);
    // An exponential of mean m rounded up is geometric: mean 1 / (1 - exp(-1/m)).
    let mean_late = late.iter().sum::<f64>() / late.len() as f64;
    assert!((mean_late - 1.0 / (1.0 - (-1.0f64 / 3.0).exp())).abs() < 0.1, "{mean_late}");
    assert!((rate - 1.0).abs() < 0.004, "{rate}");
}

#[test]
fn a_week_runs_from_monday_to_sunday() {
    // 5 January 2026 is a Monday (ISO 8601).
    let monday = day(2026, 1, 5);
    assert_eq!(week_of(monday), week_of(monday.plus(6)));
    assert_eq!(week_of(monday) + 1, week_of(monday.plus(7)));
    assert_eq!(week_of(monday) - 1, week_of(monday.plus(-1)));
}

/// Days of 15 degrees C on a base of 10 give 5 degC days each, those of 8 none and take none away.
#[test]
fn degree_days_add_up_from_the_windows_first_day_and_call_once_a_year() {
    let cue = |to| Cue::DegreeDays { at_least_c_days: 50.0, base_c: 10.0, from: on(3, 1), to };
    // The signs are of the evening before: 1 to 5 March and 11 March on are warm, and so is
    // February, which does not count.
    let mean = |today: Day| {
        let (_, month, of_month) = today.plus(-1).ymd();
        if month == 3 && (6..=10).contains(&of_month) { 8.0 } else { 15.0 }
    };
    let morning = |today: Day| (Signs { t_mean_yesterday_c: mean(today), ..mild() }, fair());
    let log = done(vec![practice("barrier", barrier(), cue(on(6, 1)))], &NO_SLIPS, morning);
    // 25 by the 5th, and 25 more from the 11th to the 15th: there on the morning of the 16th.
    assert_eq!(days_of(&log, 0), [day(2026, 3, 16), day(2027, 3, 16)]);
    // A window that closes before the sum is there calls nobody.
    let log = done(vec![practice("barrier", barrier(), cue(on(3, 15)))], &NO_SLIPS, morning);
    assert_eq!(days_of(&log, 0), []);
}

/// Each hold at its threshold and a hair on the other side.
#[test]
fn holds_stand_from_their_thresholds_on() {
    let today = day(2026, 6, 1);
    let (signs, forecast) = (mild(), fair());
    let hot = |t_max_c| Forecast { t_max_c, ..forecast };
    let promised = |mm| Forecast { rain_today_mm: mm, ..forecast };
    let ahead = |mm| Forecast { rain_3_days_mm: mm, ..forecast };
    let heat = Hold::Hotter { than_c: 30.0 };
    let felt = |t_max_yesterday_c| Signs { t_max_yesterday_c, ..signs };
    let fell = |rain_yesterday_mm| Signs { rain_yesterday_mm, ..signs };
    let blew = |wind_yesterday_m_s| Signs { wind_yesterday_m_s, ..signs };
    let tall = |canopy_height_mm| Signs { canopy_height_mm, ..signs };
    let closed = Hold::Closed { from: on(6, 1), to: on(8, 31) };
    let open = Hold::Closed { from: on(6, 2), to: on(5, 31) };
    let cases = [
        (heat, signs, hot(30.0), true),
        (heat, signs, hot(29.9), false),
        (heat, felt(30.0), forecast, true),
        (Hold::RainComing { mm: 5.0 }, signs, promised(5.0), true),
        (Hold::RainComing { mm: 5.0 }, signs, promised(4.9), false),
        (Hold::RainComing { mm: 5.0 }, fell(50.0), ahead(50.0), false),
        (Hold::RainIn3Days { mm: 5.0 }, signs, ahead(5.0), true),
        (Hold::RainIn3Days { mm: 5.0 }, signs, ahead(4.9), false),
        (Hold::Wet { mm: 5.0 }, fell(5.1), forecast, true),
        (Hold::Wet { mm: 5.0 }, fell(5.0), promised(50.0), false),
        (Hold::Dormant, Signs { dormant: true, ..signs }, forecast, true),
        (Hold::Dormant, signs, forecast, false),
        (Hold::Drier { than: 0.3 }, Signs { soil_water: 0.3, ..signs }, forecast, true),
        (Hold::Drier { than: 0.3 }, Signs { soil_water: 0.31, ..signs }, forecast, false),
        (Hold::Windy { m_s: 4.0 }, blew(4.0), forecast, true),
        (Hold::Windy { m_s: 4.0 }, blew(3.9), forecast, false),
        (Hold::ShorterThan { mm: 80.0 }, tall(80.0), forecast, true),
        (Hold::ShorterThan { mm: 80.0 }, tall(80.1), forecast, false),
        (Hold::Cooler { than_c: 10.0 }, signs, hot(10.0), true),
        (Hold::Cooler { than_c: 10.0 }, signs, hot(10.1), false),
        (Hold::Calm { m_s: 1.3 }, blew(1.3), forecast, true),
        (Hold::Calm { m_s: 1.3 }, blew(1.4), forecast, false),
        (closed, signs, forecast, true),
        (open, signs, forecast, false),
    ];
    for (hold, signs, forecast, expected) in cases {
        assert_eq!(holds(&hold, today, &signs, &forecast), expected, "{hold:?}");
    }
}
