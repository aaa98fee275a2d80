//! Visit days, rain-outs, least visits and events, against mornings that are written out by hand.
mod toy;

use sim::calendar::{Day, Weekdays};
use sim::draw::Streams;
use sim::program::{Job, Orders, Runner, Toll, toll, toll_of, top_up};
use sim::scenario::*;
use sim::weather::Forecast;
use sim::work::{Act, Fate, Setback, Signs, Why};
use toy::*;

/// Tuesdays and Fridays.
fn tue_fri() -> Weekdays {
    Weekdays::NONE.with(1).with(4)
}

fn crew_on(visit_days: Weekdays) -> Crew {
    Crew { visit_days, ..crew() }
}

/// Plays the mornings of 2026: what was done, and what was not.
fn played(
    practices: Vec<Practice>,
    slips: &Slips,
    crew: &Crew,
    events: &[Event],
    mut morning: impl FnMut(Day) -> (Signs, Forecast),
) -> (Vec<(Day, u16)>, Vec<Setback>) {
    let (first, last) = (day(2026, 1, 1), day(2026, 12, 31));
    let orders = Orders::new(&program("p", practices), &lawn(), slips, first, last)
        .under(crew)
        .around(events);
    let streams = Streams::new(5);
    let mut runner = Runner::new(&orders, &streams, 3);
    let mut log = vec![];
    for n in first.0..=last.0 {
        let (signs, forecast) = morning(Day(n));
        let mut jobs: Vec<Job> = vec![];
        runner.morning(Day(n), &signs, &forecast, &mut jobs);
        log.extend(jobs.iter().map(|job| (Day(n), job.practice)));
    }
    (log, runner.setbacks())
}

fn always_fair(_: Day) -> (Signs, Forecast) {
    (mild(), fair())
}

fn dates(month: u8, of_month: u8) -> Cue {
    Cue::Dates(vec![on(month, of_month)])
}

/// 15 April 2026 is a Wednesday (ISO 8601).
#[test]
fn what_is_due_waits_for_the_next_visit_day_and_shares_the_visit() {
    let mow = practice("mow", mow(), dates(4, 15));
    let feed = practice("feed", feed(), dates(4, 16));
    let (log, setbacks) = played(vec![mow, feed], &NO_SLIPS, &crew_on(tue_fri()), &[], always_fair);
    let friday = day(2026, 4, 17);
    assert_eq!(log, [(friday, 0), (friday, 1)]);
    // Waiting for the visit day is no setback.
    assert_eq!(setbacks, []);
}

#[test]
fn the_clients_watering_waits_for_no_visit_day() {
    let wednesday = day(2026, 4, 15);
    let mut water = practice("water", What::Water { depth_mm: 15.0 }, dates(4, 15));
    for (by, expected) in
        [(Hands::House, wednesday), (Hands::Client, wednesday), (Hands::Crew, wednesday.plus(2))]
    {
        water.by = by;
        let (log, _) =
            played(vec![water.clone()], &NO_SLIPS, &crew_on(tue_fri()), &[], always_fair);
        assert_eq!(log, [(expected, 0)], "{by:?}");
    }
}

fn rain_out() -> RainOut {
    let limit = |fallen_mm, coming_mm| RainLimit { fallen_mm, coming_mm };
    RainOut { mow: limit(12.0, 6.0), spray: limit(12.0, 2.0), spread: limit(12.0, 12.0) }
}

/// Rain is promised for Friday 17 April: too much to spray and mow in, not to spread.
#[test]
fn rain_sends_each_kind_of_work_to_the_next_visit_day_by_its_own_limit() {
    let practices = vec![
        practice("mow", mow(), dates(4, 15)),
        practice("barrier", barrier(), dates(4, 15)),
        practice("feed", feed(), dates(4, 15)),
    ];
    let wet_crew = Crew { rain_out: Some(rain_out()), ..crew_on(tue_fri()) };
    let (friday, tuesday) = (day(2026, 4, 17), day(2026, 4, 21));
    let rain = |mm: f64| {
        move |today: Day| {
            let rain_today_mm = if today == friday { mm } else { 0.0 };
            (mild(), Forecast { rain_today_mm, ..fair() })
        }
    };
    let days = |mm| {
        let (log, setbacks) = played(practices.clone(), &NO_SLIPS, &wet_crew, &[], rain(mm));
        let on = |p| log.iter().find(|(_, practice)| *practice == p).unwrap().0;
        ([on(0), on(1), on(2)], setbacks)
    };
    assert_eq!(days(1.9).0, [friday; 3]);
    assert_eq!(days(2.0).0, [friday, tuesday, friday]);
    let (pushed, setbacks) = days(6.0);
    assert_eq!(pushed, [tuesday, tuesday, friday]);
    let due = day(2026, 4, 15);
    let told = |practice| Setback {
        due,
        day: tuesday,
        practice,
        fate: Fate::Pushed,
        why: Why::RainComing,
    };
    assert_eq!(setbacks, [told(0), told(1)]);
    // Without the table rain keeps nobody away.
    let (log, _) = played(practices.clone(), &NO_SLIPS, &crew_on(tue_fri()), &[], rain(50.0));
    assert!(log.iter().all(|(day, _)| *day == friday));
}

#[test]
fn a_practice_is_given_up_after_its_days_without_a_chance() {
    let mut feed = practice("feed", feed(), dates(4, 15));
    let crew = Crew { rain_out: Some(rain_out()), ..crew_on(tue_fri()) };
    let wet_week = |today: Day| {
        let wet = today < day(2026, 4, 24);
        (Signs { rain_yesterday_mm: if wet { 20.0 } else { 0.0 }, ..mild() }, fair())
    };
    // First tried on Friday the 17th, then on the 21st and the 24th.
    feed.give_up_days = 7;
    let (log, _) = played(vec![feed.clone()], &NO_SLIPS, &crew, &[], wet_week);
    assert_eq!(log, [(day(2026, 4, 24), 0)]);
    feed.give_up_days = 6;
    let (log, setbacks) = played(vec![feed], &NO_SLIPS, &crew, &[], wet_week);
    assert_eq!(log, []);
    let expected = Setback {
        due: day(2026, 4, 15),
        day: day(2026, 4, 23),
        practice: 0,
        fate: Fate::GivenUp,
        why: Why::Wet,
    };
    assert_eq!(setbacks, [expected]);
}

#[test]
fn a_window_that_closes_before_the_visit_day_is_told() {
    // Due on Monday 15 June, the window's only day; the crew comes on Fridays.
    let cue = Cue::Every { days: 7, from: on(6, 15), to: on(6, 15) };
    let fridays = crew_on(Weekdays::NONE.with(4));
    let (log, setbacks) =
        played(vec![practice("mow", mow(), cue)], &NO_SLIPS, &fridays, &[], always_fair);
    assert_eq!(log, []);
    assert_eq!((setbacks[0].fate, setbacks[0].why), (Fate::WindowClosed, Why::NoVisitDay));
}

#[test]
fn a_forgotten_visit_is_missed_and_an_uncut_short_lawn_is_not() {
    let never = Slips { missed: 1.0, ..NO_SLIPS };
    let mow = practice("mow", mow(), dates(5, 4));
    let (_, setbacks) = played(vec![mow.clone()], &never, &crew(), &[], always_fair);
    let fates: Vec<(Fate, Why)> = setbacks.iter().map(|s| (s.fate, s.why)).collect();
    assert_eq!(fates, [(Fate::Missed, Why::Forgotten)]);
    let wary = Practice { holds: vec![Hold::ShorterThan { mm: 80.0 }], ..mow };
    let (_, setbacks) = played(vec![wary], &NO_SLIPS, &crew(), &[], always_fair);
    assert_eq!(setbacks[0].fate, Fate::NotNeeded);
    assert!(!setbacks[0].fate.is_lost());
}

fn party(mow_days: Option<u32>) -> Event {
    Event {
        title: "party".into(),
        when: EventDay::EachYear(on(6, 20)),
        needs: vec![Need { measure: "quality", side: Side::AtLeast, line: 6.0 }],
        no_spray_days: 3,
        mow_days,
    }
}

#[test]
fn nobody_works_on_an_events_day_and_nobody_sprays_right_before() {
    let mow = practice("mow", mow(), dates(6, 20));
    let spray = practice("spray", barrier(), dates(6, 17));
    let spread = practice("spread", feed(), dates(6, 17));
    let (log, setbacks) =
        played(vec![mow, spray, spread], &NO_SLIPS, &crew(), &[party(None)], always_fair);
    let mut log: Vec<(Day, u16)> = log;
    log.dedup();
    assert_eq!(log, [(day(2026, 6, 17), 2), (day(2026, 6, 21), 0), (day(2026, 6, 21), 1)]);
    assert!(setbacks.iter().all(|s| (s.fate, s.why) == (Fate::Pushed, Why::Event)));
}

/// 20 June 2026 is a Saturday: the mowing falls due on Thursday and waits for Friday.
#[test]
fn a_mowing_comes_before_an_event_and_starts_the_next_interval() {
    let mow = practice("mow", mow(), every(14));
    let crew = crew_on(tue_fri());
    let days = |event| {
        let (log, _) = played(vec![mow.clone()], &NO_SLIPS, &crew, &[event], always_fair);
        let june: Vec<u8> =
            log.iter().map(|(d, _)| d.ymd()).filter(|d| d.1 == 6).map(|d| d.2).collect();
        june
    };
    // Every 14 days from Friday 17 April.
    assert_eq!(days(party(None)), [12, 26]);
    // After the one on the 19th the next is due on 3 July.
    assert_eq!(days(party(Some(2))), [12, 19]);
}

#[test]
fn a_least_visit_counts_in_minutes_or_in_money() {
    let taken = Toll { minutes: 20.0, cost: 15.0 };
    let by_minutes = Crew { least_visit_minutes: 60.0, ..crew() };
    // 40 minutes more at 45 an hour.
    assert_eq!(top_up(&by_minutes, taken), Toll { minutes: 40.0, cost: 30.0 });
    let by_money = Crew { least_visit_cost: 60.0, ..crew() };
    assert_eq!(top_up(&by_money, taken), Toll { minutes: 0.0, cost: 45.0 });
    assert_eq!(top_up(&by_money, Toll { minutes: 90.0, cost: 67.5 }), Toll::default());
}

#[test]
fn the_clients_work_costs_its_product_and_no_time() {
    let job = Job { practice: 0, act: Act::Wet { water_mm: 12.0 }, rate_factor: 1.0, ground: 1.0 };
    let what = What::Water { depth_mm: 15.0 };
    let theirs = toll_of(Hands::Client, &crew(), &lawn(), &what, &job);
    // 7.5 m3 at 2 each.
    assert_eq!(theirs, Toll { minutes: 0.0, cost: 15.0 });
    let ours = toll_of(Hands::House, &crew(), &lawn(), &what, &job);
    assert_eq!(ours, toll(&crew(), &lawn(), &what, &job));
}

/// A lawn that had no first half gets no second; one that had, does, whoever plans the rest.
#[test]
fn a_crew_that_takes_over_makes_no_second_half_without_a_first() {
    let split = || {
        let second =
            practice("barrier/second", barrier(), Cue::DaysAfter { practice: 0, days: 56 });
        program("split", vec![practice("barrier", barrier(), dates(4, 15)), second])
    };
    let bare = program("bare", vec![practice("mow", mow(), dates(4, 20))]);
    let (first, last) = (day(2026, 1, 1), day(2027, 12, 31));
    let streams = Streams::new(5);
    let until = day(2026, 5, 15);
    for (followed, expected) in [(bare, vec![2027, 2027]), (split(), vec![2026, 2027, 2027])] {
        let orders = Orders::new(&split(), &lawn(), &NO_SLIPS, first, last);
        let lived = Orders::new(&followed, &lawn(), &NO_SLIPS, first, last);
        let (mut plan, mut past) =
            (Runner::new(&orders, &streams, 3), Runner::new(&lived, &streams, 3));
        let mut years = vec![];
        for today in (first.0..=last.0).map(Day) {
            let (mut jobs, mut unused) = (vec![], vec![]);
            if today == until.plus(1) {
                plan.take_over(&past);
            }
            plan.morning(today, &mild(), &fair(), &mut jobs);
            if today <= until {
                past.morning(today, &mild(), &fair(), &mut unused);
            } else {
                let laid = jobs.iter().filter(|job| matches!(job.act, Act::LayBarrier { .. }));
                years.extend(laid.map(|_| today.ymd().0));
            }
        }
        assert_eq!(years, expected, "{}", followed.id);
    }
}
