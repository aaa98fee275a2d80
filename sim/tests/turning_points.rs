//! Turning points of the example lawn: noting them changes nothing, and what they say is what the
//! tracks, the work logs and the measures say.

use std::sync::LazyLock;

use sim::analysis::diary::{self, What};
use sim::analysis::typical::{COMPARED, distances, most_typical};
use sim::calendar::Day;
use sim::ensemble::{Continue, Results, Retold, RunPlan, ToldTrack, measure, run_and_retell};
use sim::lawn::turning::Turning;
use sim::outcomes::{OUTCOMES, outcome};
use sim::parameters::Catalogue;
use sim::scenario::{Scenario, check};
use sim::weather::{Record, Site, read_daily_csv};
use sim::work::Act;

const MEMBERS: u32 = 16;

static SCENARIO: LazyLock<Scenario> = LazyLock::new(|| {
    let text = include_str!("../../scenarios/thin-front-lawn.toml");
    check(text, include_str!("../../scenarios/products.toml")).expect("the demo is sound").scenario
});

static RECORD: LazyLock<Record> = LazyLock::new(|| {
    let text = include_str!("../../scenarios/weather/jfk_2012_2015.csv");
    let site = Site { latitude_deg: 40.639, elevation_m: 3.0 };
    read_daily_csv(text, "jfk", Some(site)).expect("the carried record reads").record
});

fn told(member: u32, threads: usize) -> (Results, Retold) {
    let catalogue = Catalogue::embedded();
    let plan = RunPlan {
        scenario: &SCENARIO,
        record: &RECORD,
        so_far: None,
        catalogue: &catalogue.entries,
        members: MEMBERS,
        seed: 5,
        threads,
        keep_tracks: true,
    };
    run_and_retell(&plan, &catalogue, &[0, 2], |_| member, &|_| Continue::Yes).expect("a run")
}

/// Every track of some members.
fn each(check: impl Fn(&ToldTrack, &dyn Fn(&str, Day) -> f64)) {
    for member in [0, 3, 7, 11] {
        let (results, retold) = told(member, 0);
        for track in &retold.tracks {
            let value = |key: &str, day: Day| {
                let column = measure(key).expect("a measure");
                track.measure((day.0 - results.first.0) as usize, column).expect("a day of the run")
            };
            check(track, &value);
        }
    }
}

#[test]
fn noting_turning_points_changes_nothing() {
    let (results, retold) = told(7, 0);
    assert_eq!((retold.number, retold.tracks.len()), (7, 2));
    for track in &retold.tracks {
        let run = &results.programs[track.program];
        assert!(track.rows == run.tracks.as_ref().expect("tracks")[7]);
        assert_eq!(track.track.work, run.work[7]);
        assert_eq!(track.track.setbacks, run.setbacks[7]);
        let outcomes: Vec<f64> = run.outcomes.iter().map(|values| values[7]).collect();
        assert_eq!(track.track.outcomes, outcomes);
        assert!(!track.notes.is_empty());
        assert!(track.notes.is_sorted_by_key(|note| note.day));
    }
}

/// What tried to come up is what came through and what was stopped, and both are the measures'.
#[test]
fn seedlings_add_up_to_the_measures() {
    let mut flushes = 0;
    each(|track, value| {
        for note in &track.notes {
            let Turning::Flush { emerging_m2, through_m2, share, .. } = note.turning else {
                continue;
            };
            let first = Day::from_ymd(note.day.ymd().0, 1, 1).expect("a day");
            let days = (first.0..=note.day.0).map(Day);
            let tried: f64 = days.map(|day| value("crabgrass_pressure", day)).sum();
            let came = value("crabgrass_emerged", note.day);
            assert!((emerging_m2 - tried).abs() < 1e-4 * tried, "{emerging_m2} {tried}");
            assert!((through_m2 - came).abs() < 1e-4 * came.max(1.0), "{through_m2} {came}");
            assert!(through_m2 <= emerging_m2 && (share == 0.5 || share == 0.9));
        }
    });
    each(|track, _| {
        let of = |t: &Turning| matches!(t, Turning::Flush { share, .. } if *share == 0.5);
        assert!(track.notes.iter().filter(|n| of(&n.turning)).count() <= 2, "once a year");
    });
    let (_, retold) = told(0, 0);
    for track in &retold.tracks {
        flushes +=
            track.notes.iter().filter(|n| matches!(n.turning, Turning::Flush { .. })).count();
    }
    assert!(flushes >= 4, "two programs, two years: {flushes}");
}

/// A line is told as passed on the day on which the measure passes it.
#[test]
fn crossings_are_the_measures() {
    each(|track, value| {
        for note in &track.notes {
            let (day, before) = (note.day, note.day.plus(-1));
            let first = Day::from_ymd(day.ymd().0, 1, 1).expect("a day");
            match note.turning {
                Turning::CrabgrassPasses { level, .. } => {
                    assert!(value("crabgrass_cover", day) > 100.0 * level);
                    let earlier = (first.0..day.0).map(|d| value("crabgrass_cover", Day(d)));
                    assert!(earlier.fold(0.0, f64::max) <= 100.0 * level + 1e-4);
                }
                Turning::CrabgrassPeak { cover, .. } => {
                    let year = (first.0..first.0 + 365).map(|d| value("crabgrass_cover", Day(d)));
                    assert!((year.fold(0.0, f64::max) - 100.0 * cover).abs() < 1e-4);
                }
                Turning::BarrierBelow { level, .. } => {
                    assert!(value("barrier", day) < 100.0 * level);
                    assert!(value("barrier", before) >= 100.0 * level - 1e-4);
                }
                Turning::QualityPasses { up, quality, .. } => {
                    assert_eq!(value("quality", day) >= 6.0, up, "{day}");
                    assert_eq!(value("quality", before) >= 6.0, !up, "{day}");
                    assert!((value("quality", day) - quality).abs() < 1e-5);
                    let after = (day.0..day.0 + 5).map(|d| value("quality", Day(d)) >= 6.0);
                    assert!(after.into_iter().all(|side| side == up), "it stays");
                }
                Turning::CrabgrassKilled { cover, bare, .. } => {
                    let lost = value("crabgrass_cover", before) - value("crabgrass_cover", day);
                    assert!((lost - 100.0 * cover).abs() < 1e-4);
                    assert!((value("bare_ground", day) - 100.0 * bare).abs() < 1e-4);
                }
                _ => {}
            }
        }
    });
}

/// Ground won and lost is the measure's, and what took it adds up to no less than what was lost in
/// all: what grew meanwhile comes on top. Stands that are too thin to hold their ground lose a little
/// more than stress opens.
#[test]
fn ground_is_the_measures() {
    each(|track, value| {
        for note in &track.notes {
            let (since, from, to) = match note.turning {
                Turning::TurfFilled { since, from, to, .. }
                | Turning::TurfThinned { since, from, to, .. } => (since, from, to),
                _ => continue,
            };
            assert!((value("turf_cover", note.day) - 100.0 * to).abs() < 1e-4);
            // The start may be the last day within half a point.
            assert!((value("turf_cover", since) - 100.0 * from).abs() < 0.51);
            if let Turning::TurfThinned { losses, .. } = note.turning {
                assert!(losses.total() > 0.8 * (from - to), "{losses:?} {from} {to}");
            }
        }
    });
}

#[test]
fn nitrogen_lost_is_the_ledgers() {
    each(|track, value| {
        let mut told = 0.0;
        for note in &track.notes {
            if let Turning::Leached { until, n_g_m2, drained_mm } = note.turning {
                let over =
                    |key: &str| value(key, until) - value(key, note.day.plus(-1).max(Day(20454)));
                assert!((over("n_leached_cum") - n_g_m2).abs() < 0.02 + 0.1 * n_g_m2);
                assert!(drained_mm <= over("drainage_cum") + 0.5 && drained_mm > 0.0);
                told += n_g_m2;
            }
        }
        let all = track.track.outcomes[outcome("n_leached").expect("an outcome")];
        assert!(told <= all + 1e-6, "{told} {all}");
    });
}

/// Every line of the work log stands once in the whole diary: a mowing as the cut that it made, where
/// there was anything to cut.
#[test]
fn work_told_is_the_work_log() {
    each(|track, _| {
        let log = &track.track.work;
        let all = diary::all(track);
        assert!(all.is_sorted_by_key(|entry| entry.day));
        let told = all.iter().filter_map(|e| match e.what {
            What::Work(work, _) => Some(work),
            _ => None,
        });
        let cuts = |day: Day| {
            all.iter().any(|e| e.day == day && matches!(e.what, What::Turning(Turning::Cut { .. })))
        };
        let (mut by_log, mut by_diary) = (Vec::new(), Vec::new());
        for work in log {
            match work.act {
                Act::Cut { .. } if cuts(work.day) => {}
                _ => by_log.push(*work),
            }
        }
        by_diary.extend(told);
        assert_eq!(by_log, by_diary);
        let program = &SCENARIO.programs[track.program];
        let sums = diary::chosen(track, program, diary::PER_SEASON);
        let mowed: u32 = sums
            .iter()
            .filter_map(|e| match e.what {
                What::Mowed(mowed) => Some(mowed.times),
                _ => None,
            })
            .sum();
        let mowings = log.iter().filter(|w| matches!(w.act, Act::Cut { .. })).count();
        assert_eq!(mowed as usize, mowings);
    });
}

/// The usual diary holds what matters most: no more than it may, nothing twice, and whatever was laid.
#[test]
fn the_usual_diary_is_the_weightiest_part() {
    each(|track, _| {
        let program = &SCENARIO.programs[track.program];
        let (all, kept) = (diary::all(track), diary::chosen(track, program, 8));
        assert!(kept.is_sorted_by_key(|entry| entry.day));
        for year in [2026, 2027] {
            let of = |e: &&diary::Entry| e.day.ymd().0 == year;
            let sum = |e: &&diary::Entry| matches!(e.what, What::Mowed(_));
            let single: Vec<_> = kept.iter().filter(of).filter(|e| !sum(e)).collect();
            assert!(single.len() <= 8);
            let least = single.iter().map(|e| e.weight).fold(f64::INFINITY, f64::min);
            let better = all
                .iter()
                .filter(of)
                .filter(|e| e.weight > least && !matches!(e.what, What::Setback(_)));
            assert!(better.count() <= single.len());
        }
        let laid = |e: &&diary::Entry| matches!(e.what, What::Work(w, _) if matches!(w.act, Act::LayBarrier { .. }));
        let kept = diary::chosen(track, program, diary::PER_SEASON);
        assert_eq!(kept.iter().filter(laid).count(), all.iter().filter(laid).count());
    });
}

#[test]
fn the_typical_member_is_the_same_for_any_number_of_threads_and_nearest_the_middle() {
    let (one, _) = told(0, 1);
    let (many, _) = told(0, 3);
    let of = |results: &Results| most_typical(results, &[0, 2]);
    assert_eq!(of(&one), of(&many));
    let all = distances(&one, &[0, 2]);
    assert_eq!(all.len(), MEMBERS as usize);
    assert!(all.iter().all(|d| *d >= all[of(&one) as usize] && d.is_finite()));
}

/// Worked by hand: three members, of whom the second has the median of every outcome that is compared;
/// the third is one scale (the least difference that matters) off in each.
#[test]
fn the_member_with_the_middle_outcomes_is_typical() {
    let (mut results, _) = told(0, 0);
    results.members = 3;
    for (values, kind) in results.programs[0].outcomes.iter_mut().zip(OUTCOMES) {
        let step = kind.least_difference;
        *values = if COMPARED.contains(&kind.key) {
            vec![10.0 - 2.0 * step, 10.0, 10.0 + step]
        } else {
            vec![0.0, 99.0, 0.0]
        };
    }
    let all = distances(&results, &[0]);
    // Quartiles lie 1.5 steps apart, which is 1.11 standard deviations of a normal.
    let scale: f64 = 1.5 / 1.349;
    assert_eq!(all[1], 0.0);
    assert!((all[0] - 2.0 / scale).abs() < 1e-12 && (all[2] - 1.0 / scale).abs() < 1e-12);
    assert_eq!(most_typical(&results, &[0]), 1);
}
