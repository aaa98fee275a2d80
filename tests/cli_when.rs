//! `when`: a sweep is what `play` would give, value by value, and every mistake is told.

#[path = "support/door.rs"]
mod door;
#[path = "support/mod.rs"]
mod support;

use std::fs;
use std::path::Path;

use door::swardplay;
use sim::analysis::when::{Asked, Order, Verdict, pick, sweep, values};
use sim::ensemble::{Continue, RunPlan, run};
use sim::outcomes::outcome;
use sim::quantity::Units;
use sim::scenario::{Cue, Hold, Program, What, day_of_year, dials, show_day};
use support::{CATALOGUE, JFK};
use swardplay::engine;

const DEMO: &str = include_str!("../scenarios/thin-front-lawn.toml");
const LOT: &str = include_str!("../scenarios/new-build-lot.toml");

fn program<'a>(programs: &'a [Program], id: &str) -> &'a Program {
    programs.iter().find(|program| program.id == id).unwrap()
}

#[test]
fn the_command_tells_draws_and_tables_and_its_bytes_do_not_depend_on_threads() {
    let folder = tempfile::tempdir().unwrap();
    let typed = "when thin-front-lawn --program split --practice barrier --setting split --members 6 \
                 --from 4weeks --to 12weeks --steps 3";
    let asked: Vec<&str> = typed.split(' ').filter(|word| !word.is_empty()).collect();
    let run = |more: &[&str]| swardplay(folder.path(), &[&asked, more].concat());
    let (code, out, err) = run(&["--threads", "1", "--out", "one"]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "`split` at 3 values, 4 to 12 weeks",
        "Crabgrass at its worst, in the middle future:",
        "at 8 (yours) and",
        "6 simulated futures chose the best value",
        "at 4 weeks and 12 weeks, for one: `barrier/second` comes",
        "Warning: 6 futures are too few",
        "4 years of record",
    ] {
        assert!(flat.contains(words), "{words}: {flat}");
    }
    assert_eq!(run(&["--threads", "2", "--out", "two"]).0, 0);
    for name in ["when.csv", "when.svg", "when.png", "run.json"] {
        let read = |at: &str| fs::read(folder.path().join(at).join(name)).unwrap();
        assert!(read("one") == read("two"), "{name}");
    }
    let table = fs::read_to_string(folder.path().join("one/when.csv")).unwrap();
    assert!(table.starts_with(
        "setting,unit,set,outcome,outcome_unit,p05,p25,p50,p75,p95,mean,difference_to_best,\
         standard_error,as_good,yours,usual_date,never,members\n28,days,first,crabgrass_peak,%,"
    ));
    assert_eq!(table.lines().count(), 1 + 2 * 3);
    let index = fs::read_to_string(folder.path().join("one/run.json")).unwrap();
    let repeat = "swardplay when thin-front-lawn --program split --practice barrier --setting split \
                  --outcome crabgrass_peak --from 4weeks --to 12weeks --steps 3 --members 6 --seed 1";
    assert!(index.contains(repeat), "{index}");
}

/// Each value gives the outcomes that `play` gives for a program written with it: the second set has
/// the members numbered on from the first.
#[test]
fn a_value_is_the_scenario_written_with_it() {
    let written = format!(
        "{DEMO}\n[[program]]\nid = \"five\"\nbased-on = \"frequent\"\n[[program.change]]\n\
         practice = \"barrier\"\nsplit = \"5 weeks\"\n"
    );
    let (checked, with_it) = (engine::check(DEMO).unwrap(), engine::check(&written).unwrap());
    let plan = RunPlan {
        scenario: &checked.scenario,
        record: &JFK,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: 3,
        seed: 4,
        threads: 2,
        keep_tracks: false,
    };
    let all = dials(DEMO, "split", "barrier").unwrap();
    let dial = pick(&all, None).unwrap();
    assert_eq!((dial.key, dial.now.as_slice()), ("split", &[56.0][..]));
    let own = program(&checked.scenario.programs, "split");
    let points = engine::turned(DEMO, &checked, (own, "barrier"), (dial, 0), &[35.0, 56.0]);
    let at = outcome("crabgrass_peak").unwrap();
    let order = Order {
        own,
        own_value: Some(56.0),
        points: &points,
        watched: "barrier/second",
        outcome: at,
    };
    let swept = sweep(&plan, &CATALOGUE, &order, &|_| Continue::Yes).unwrap();
    let plan = RunPlan { scenario: &with_it.scenario, members: 6, ..plan };
    let played = run(&plan, &CATALOGUE, &|_| Continue::Yes).unwrap();
    for (setting, id) in swept.settings.iter().zip(["five", "split"]) {
        let program = played.programs.iter().find(|program| program.id == id).unwrap();
        for (ours, theirs) in setting.outcomes.iter().zip(&program.outcomes) {
            assert_eq!(ours[..], theirs[3..], "{id}");
        }
    }
    assert!(swept.settings[1].own && swept.apart.is_none());
    // The middle day of a second half is at least the wait after the earliest possible first.
    let second = swept.settings[0].usual_day.unwrap();
    let first = day_of_year(sim::calendar::MonthDay { month: 3, day: 10 });
    assert!(second >= first + 35.0, "{}", show_day(second));
}

/// What the check of a scenario says, a sweep says; what it refuses is not played.
#[test]
fn limits_hold_inside_a_sweep() {
    let labelled = LOT.replace(
        "rate = \"0.28 oz/1000 ft2\"",
        "label = { once = \"0.4 oz/1000 ft2\" }\nrate = \"0.28 oz/1000 ft2\"",
    );
    let checked = engine::check(&labelled).unwrap();
    let own = program(&checked.scenario.programs, "plain");
    let all = dials(&labelled, "plain", "barrier").unwrap();
    let dial = pick(&all, Some("rate")).unwrap();
    let own_rate = dial.now[0];
    let tried = [0.25 * own_rate, own_rate, 2.0 * own_rate];
    let points = engine::turned(&labelled, &checked, (own, "barrier"), (dial, 0), &tried);
    let codes: Vec<&str> = points[0].cautions.iter().map(|caution| caution.code).collect();
    assert!(codes.contains(&"untypical-rate"), "{codes:?}");
    assert!(points[1].cautions.is_empty() && points[1].program.as_ref() == Some(own));
    let fault = points[2].fault.as_ref().unwrap();
    assert_eq!((fault.code, points[2].program.is_none()), ("over-label", true));
}

#[test]
fn a_hold_that_repeats_the_height_of_cut_goes_with_it() {
    let spelled = DEMO.replacen("nothing to cut", "shorter than 3 in", 1);
    let checked = engine::check(&spelled).unwrap();
    let own = program(&checked.scenario.programs, "frequent");
    let all = dials(&spelled, "frequent", "mow").unwrap();
    let dial = pick(&all, Some("height")).unwrap();
    let points = engine::turned(&spelled, &checked, (own, "mow"), (dial, 0), &[101.6]);
    let mow = &points[0].program.as_ref().unwrap().practices[0];
    assert!(matches!(mow.what, What::Mow { height_mm, .. } if (height_mm - 101.6).abs() < 1e-9));
    assert!(mow.holds.contains(&Hold::ShorterThan { mm: 101.6 }), "{:?}", mow.holds);
    // Of the first program's interval nothing is left: the change is made to this program.
    assert!(matches!(mow.cue, Cue::Every { days: 5, .. }));
}

#[test]
fn a_date_among_several_is_moved_alone() {
    let checked = engine::check(DEMO).unwrap();
    let own = program(&checked.scenario.programs, "usual");
    let all = dials(DEMO, "usual", "feed").unwrap();
    let dial = pick(&all, Some("date")).unwrap();
    let tried = values(dial, 1, &Asked { steps: Some(3), ..Asked::default() }, Units::Us).unwrap();
    let points = engine::turned(DEMO, &checked, (own, "feed"), (dial, 1), &tried);
    let days: Vec<String> = points
        .iter()
        .map(|point| {
            let feed = point.program.as_ref().unwrap().practices.iter().find(|p| p.key == "feed");
            let Cue::Dates(days) = &feed.unwrap().cue else { panic!("dates") };
            days.iter().map(|d| show_day(day_of_year(*d))).collect::<Vec<_>>().join(" ")
        })
        .collect();
    assert_eq!(days, ["10 May 30 Jul", "10 May 10 Sep", "10 May 22 Oct"]);
}

/// Soil at 104 degF for days on end is unheard of near New York before 10 May.
#[test]
fn a_cue_that_never_calls_is_counted() {
    let checked = engine::check(DEMO).unwrap();
    let own = program(&checked.scenario.programs, "usual");
    let all = dials(DEMO, "usual", "barrier").unwrap();
    let dial = pick(&all, None).unwrap();
    assert_eq!(dial.key, "soil-temperature");
    let points = engine::turned(DEMO, &checked, (own, "barrier"), (dial, 0), &[10.0, 40.0]);
    let order = Order {
        own,
        own_value: Some(10.0),
        points: &points,
        watched: "barrier",
        outcome: outcome("mowings").unwrap(),
    };
    let plan = RunPlan {
        scenario: &checked.scenario,
        record: &JFK,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: 4,
        seed: 1,
        threads: 2,
        keep_tracks: false,
    };
    let swept = sweep(&plan, &CATALOGUE, &order, &|_| Continue::Yes).unwrap();
    assert_eq!((swept.settings[1].never, swept.settings[1].usual_day), (4, None));
    assert!(swept.settings[0].usual_day.is_some());
    // How often one mows is a fact; which setting is best cannot be said of it.
    assert_eq!((&swept.verdict, swept.best), (&Verdict::Fact, None));
}

fn refused(folder: &Path, more: &str) -> String {
    let typed = format!("when thin-front-lawn {more}");
    let args: Vec<&str> = typed.split_whitespace().collect();
    let (code, out, err) = swardplay(folder, &args);
    assert_eq!((code, out.as_str()), (2, ""), "{more}: {err}");
    assert_eq!(fs::read_dir(folder).unwrap().count(), 0, "{more}: something was written");
    err
}

#[test]
fn every_mistake_is_told_with_what_was_expected_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let barrier = "--program split --practice barrier";
    for (more, words) in [
        ("--practice barrier".to_string(), "Say it with --program: one of usual, frequent, split"),
        ("--program split".to_string(), "Say it with --practice: one of mow, barrier, feed"),
        ("--program splitt --practice barrier".into(), "Did you mean `split`?"),
        ("--program split --practice barier".into(), "Did you mean `barrier`?"),
        (format!("{barrier} --setting spilt"), "Did you mean `split`?"),
        (format!("{barrier} --setting price"), "expected one of give-up, soil-temperature"),
        (format!("{barrier} --outcome crabgras_peak"), "Did you mean `crabgrass_peak`?"),
        (format!("{barrier} --from 3in"), "\"3in\" is a length, not a number of days or weeks"),
        (format!("{barrier} --from 300"), "out of range; expected 7 days to 180 days"),
        (format!("{barrier} --from 10weeks --to 4weeks"), "nothing lies between"),
        ("--program usual --practice feed --nth 3".into(), "expected a number from 1 to 2"),
        ("--program usual --practice feed --from 4/5".into(), "write the month by its name"),
        (format!("{barrier} --steps 1"), "2..=60"),
    ] {
        let err = refused(folder.path(), &more);
        assert!(err.contains(words), "{more}: {err}");
    }
}

/// A list in one line cannot be added to: that is said, and how to mend it.
#[test]
fn programs_in_one_list_are_told_of() {
    let folder = tempfile::tempdir().unwrap();
    let head = DEMO.split("# The usual care.").next().unwrap();
    let program = "program = [{ id = \"usual\", practice = [{ key = \"mow\", do = \"mow\", \
                   height = \"3 in\", every = \"7 days\", from = \"10 Apr\", to = \"1 Nov\" }] }]\n";
    let (before, tables) = head.split_once("[lawn]").unwrap();
    let text = format!("{before}{program}\n[lawn]{tables}");
    fs::write(folder.path().join("lawn.toml"), text).unwrap();
    let asked = ["when", "lawn.toml", "--practice", "mow"];
    let (code, _, err) = swardplay(folder.path(), &asked);
    assert!(code == 2 && err.contains("write each under a head of its own, [[program]]"), "{err}");
}
