//! `thrift`: what it judges is what `play` counts, what it tries is what a scenario could say, what it
//! recommends holds, and every mistake is told.

#[path = "support/door.rs"]
mod door;
#[path = "support/mod.rs"]
mod support;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use door::swardplay;
use sim::analysis::thrift::race::Try;
use sim::analysis::thrift::{Asked, Judge, Limits, Order, Space, thrift};
use sim::ensemble::{Continue, RunPlan, Stage};
use sim::outcomes::{OUTCOMES, outcome};
use sim::quantity::Units;
use sim::scenario::{Program, Severity, Spare, budget, goal, practice_texts};
use support::{CATALOGUE, JFK};
use swardplay::engine;

const DEMO: &str = include_str!("../scenarios/thin-front-lawn.toml");
const LOT: &str = include_str!("../scenarios/new-build-lot.toml");
const DRY: &str = include_str!("../scenarios/dry-summer-lawn.toml");

/// Written out by itself, a program is what it was, whatever it is based on.
#[test]
fn every_program_can_be_written_out_by_itself() {
    for text in [DEMO, LOT, DRY] {
        let checked = engine::check(text).unwrap();
        for program in &checked.scenario.programs {
            let practices: String = practice_texts(text, &program.id)
                .unwrap()
                .iter()
                .map(|practice| format!("\n{}", practice.write()))
                .collect();
            let written = format!("{text}\n[[program]]\nid = \"flat\"\n{practices}");
            let again = engine::check(&written).unwrap().scenario.programs.pop().unwrap();
            assert_eq!(again.practices, program.practices, "{}", program.id);
        }
    }
}

/// What a need or a budget says of a track is what the outcomes of the same track say.
#[test]
fn needs_and_budgets_agree_with_outcomes() {
    let checked = engine::check(DEMO).unwrap();
    let scenario = &checked.scenario;
    let need = |text: &str| Asked::Need(goal(text).unwrap());
    let asked = [
        need("crabgrass peak < 30 %"),
        need("turf cover > 60 % at the end of the last season"),
        need("quality mean >= 5 in summer in the last season"),
        need("visits <= 30"),
        Asked::Budget(budget("$600 in all").unwrap()),
        Asked::Budget(budget("30 h in all").unwrap()),
        Asked::Budget(budget("3 lb N/1000 ft2 in all").unwrap()),
    ];
    let judge = Judge::new(scenario, &asked);
    let plan = RunPlan {
        scenario,
        record: &JFK,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: 24,
        seed: 3,
        threads: 2,
        keep_tracks: false,
    };
    let stage = Stage::new(&plan, &CATALOGUE, &|_| Continue::Yes).unwrap();
    let programs = scenario.programs.clone();
    let played = stage
        .play(&programs, 0..24, &|_| Continue::Yes, |seen| {
            let misses = judge.misses(&programs[seen.program], &seen.rows, &seen.track);
            assert_eq!(
                judge.holds(&programs[seen.program], &seen.rows, &seen.track),
                misses.iter().all(Option::is_none)
            );
            (misses, seen.track.outcomes)
        })
        .unwrap();
    let mut both = [[false; 2]; 7];
    for (misses, outcomes) in played.iter().flatten() {
        let value = |key: &str| outcomes[outcome(key).unwrap()];
        let truth = [
            value("crabgrass_peak") >= 30.0,
            value("turf_cover_end") <= 60.0,
            misses[2].is_some(),
            value("visits") > 30.0,
            value("cost") > 600.0,
            value("crew_hours") > 30.0,
            value("n_applied") > 3.0 * 4.882_427_6,
        ];
        for (at, (miss, truth)) in misses.iter().zip(truth).enumerate() {
            assert_eq!(miss.is_some(), truth, "{at}: {outcomes:?}");
            both[at][usize::from(truth)] = true;
        }
        // The season's first day that could tell is in the last season, and its last day tells.
        assert!(misses[2].is_none_or(|day| day == 365 + 242), "{misses:?}");
    }
    for at in [0, 1, 3, 4, 5, 6] {
        assert_eq!(both[at], [true, true], "{at} does not tell futures apart");
    }
}

fn space<'t>(text: &'t str, id: &str, limits: &Limits) -> (Space<'t>, Program) {
    let checked = engine::check(text).unwrap();
    let program = checked.scenario.programs.iter().find(|p| p.id == id).unwrap().clone();
    let space = Space::new(text, &engine::check, &[&program], limits, Units::Us).unwrap();
    (space, program)
}

/// Every single change is either a program that the check of a scenario passes as it passed the start, or
/// it is refused; a label's figure is a bound.
#[test]
fn the_check_of_a_scenario_bounds_the_search() {
    let labelled = LOT.replace(
        "rate = \"0.28 oz/1000 ft2\"",
        "label = { once = \"0.3 oz/1000 ft2\" }\nrate = \"0.28 oz/1000 ft2\"",
    );
    let (mut space, own) = space(&labelled, "plain", &Limits::default());
    let knobs = space.knobs().remove(0);
    let start: Vec<usize> = knobs.iter().map(|knob| knob.own).collect();
    let mut passed = 0;
    for (at, knob) in knobs.iter().enumerate() {
        for level in (0..knob.levels).filter(|level| *level != knob.own) {
            let mut levels = start.clone();
            levels[at] = level;
            let one = Try { start: 0, levels };
            if !space.allowed(&one) {
                continue;
            }
            passed += 1;
            let written = space.written(&one, "tried", "Tried").unwrap();
            let again = engine::check(&format!("{labelled}\n{written}")).unwrap();
            let last = again.scenario.programs.last().unwrap();
            assert_eq!(Some(&last.practices), space.program(&one).map(|p| &p.practices));
            assert_ne!(last.practices, own.practices);
        }
    }
    assert!(passed > 30, "{passed}");
    let codes: Vec<&str> = space.refused.keys().copied().collect();
    assert!(codes.contains(&"over-label"), "{codes:?}");
    assert!(codes.contains(&"much-nitrogen-at-once") && codes.contains(&"low-cut"), "{codes:?}");
}

#[test]
fn what_is_kept_stays_and_what_is_varied_goes_only_so_far() {
    let limits = Limits {
        keep: vec!["barrier".into(), "mow.height".into()],
        vary: vec![("mow.every".into(), 7.0, 21.0)],
    };
    let (mut space, own) = space(DEMO, "usual", &limits);
    let knobs = space.knobs().remove(0);
    let start: Vec<usize> = knobs.iter().map(|knob| knob.own).collect();
    let mut intervals = Vec::new();
    for (at, knob) in knobs.iter().enumerate() {
        for level in 0..knob.levels {
            let mut levels = start.clone();
            levels[at] = level;
            let one = Try { start: 0, levels };
            if !space.allowed(&one) {
                continue;
            }
            let program = space.program(&one).unwrap();
            assert!(program.practices.iter().any(|p| *p == own.practices[1]), "the barrier stays");
            for practice in &program.practices {
                if let sim::scenario::What::Mow { height_mm, .. } = practice.what {
                    assert!((height_mm - 76.2).abs() < 1e-9);
                }
                if let sim::scenario::Cue::Every { days, .. } = practice.cue {
                    intervals.push(days);
                }
            }
        }
    }
    intervals.sort_unstable();
    assert_eq!((intervals.first(), intervals.last()), (Some(&7), Some(&21)));
}

/// Every program that may be tried where little is left open: all levels of all knobs, mixed.
fn everything(space: &mut Space) -> Vec<Try> {
    let knobs = space.knobs().remove(0);
    let mut all = vec![vec![]];
    for knob in &knobs {
        let longer = |one: &Vec<usize>| {
            let one = one.clone();
            (0..knob.levels).map(move |level| [&one[..], &[level]].concat())
        };
        all = all.iter().flat_map(longer).collect();
    }
    let plain = all.into_iter().map(|levels| space.plain(Try { start: 0, levels }));
    let mut all: Vec<Try> = plain.collect();
    all.sort();
    all.dedup();
    all.retain(|one| space.allowed(one));
    all
}

/// A toy whose best program is known, since every one that may be tried is played here: the search of a few
/// of them finds one that costs as little, but for what does not matter, in money and in hours, on members
/// that had no part in it; and with one thread as with two.
#[test]
fn the_best_of_all_programs_is_found() {
    let text = DEMO.replace("seasons = 2", "seasons = 1");
    let keep = ["barrier", "feed", "mow.from", "mow.to"].map(String::from).to_vec();
    let vary = vec![("mow.every".to_string(), 5.0, 28.0)];
    let limits = Limits { keep, vary };
    let checked = engine::check(&text).unwrap();
    let asked = [Asked::Need(goal("mowings >= 8").unwrap())];
    let (members, fresh) = (16, 40);
    let plan = |threads| RunPlan {
        scenario: &checked.scenario,
        record: &JFK,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: members + fresh,
        seed: 4,
        threads,
        keep_tracks: false,
    };
    let judge = Judge::new(&checked.scenario, &asked);
    let (mut every, _) = space(&text, "usual", &limits);
    let all = everything(&mut every);
    assert!(all.len() > 100, "{}", all.len());
    let programs: Vec<Program> =
        all.iter().map(|one| every.program(one).unwrap().clone()).collect();
    let quiet = |_: u32| Continue::Yes;
    let one = plan(2);
    let stage = Stage::new(&one, &CATALOGUE, &quiet).unwrap();
    let played = stage
        .play(&programs, members..members + fresh, &quiet, |seen| {
            let holds = judge.holds(&programs[seen.program], &seen.rows, &seen.track);
            (holds, seen.track.outcomes)
        })
        .unwrap();
    for spare in [Spare::Money, Spare::Hours] {
        let at = outcome(spare.outcome()).unwrap();
        let mean = |program: usize| {
            played.iter().map(|member| member[program].1[at]).sum::<f64>() / f64::from(fresh)
        };
        let holds = |program: &usize| {
            played.iter().filter(|member| member[*program].0).count() as f64
                >= 0.85 * f64::from(fresh)
        };
        let holding = (0..programs.len()).filter(holds);
        let least = holding.map(mean).fold(f64::INFINITY, f64::min);
        let order = Order {
            asked: &asked,
            odds: 0.85,
            spare,
            members,
            fresh,
            tries: all.len() / 3,
            story: None,
        };
        let found = [1, 2].map(|threads| {
            let (mut space, _) = space(&text, "usual", &limits);
            thrift(&plan(threads), &CATALOGUE, &mut space, &order, &quiet).unwrap()
        });
        assert!(found[0] == found[1], "the number of threads changes the answer");
        let pick = &found[0].finalists[found[0].choice.pick.expect("something holds")];
        let cost = pick.judged.mean(spare.outcome());
        let own = mean(all.iter().position(|one| pick.one.levels == one.levels).unwrap());
        assert!((cost - own).abs() < 1e-9, "{cost} {own}");
        // As cheap as the cheapest of all, but for less than matters.
        let tie = OUTCOMES[at].least_difference;
        assert!(cost <= least + tie, "{spare:?}: {cost} {least}");
        // There was something to find.
        let start = found[0].finalists[0].judged.mean(spare.outcome());
        assert!(start > least + tie, "{spare:?}: {start} {least}");
    }
}

/// A practice that another program has can be brought in, or stand in the place of the own one, and one more
/// date can be tried.
#[test]
fn other_programs_lend_their_practices() {
    let (mut space, _) = space(DRY, "brown", &Limits::default());
    let checked = engine::check(DRY).unwrap();
    let others: Vec<&Program> = checked.scenario.programs.iter().skip(1).collect();
    let knobs = space.knobs().remove(0);
    let own: Vec<usize> = knobs.iter().map(|knob| knob.own).collect();
    let (mut lent, mut fed) = (Vec::new(), 0);
    for (at, knob) in knobs.iter().enumerate() {
        for level in (0..knob.levels).filter(|level| *level != knob.own) {
            let mut levels = own.clone();
            levels[at] = level;
            let one = Try { start: 0, levels };
            if !space.allowed(&one) {
                continue;
            }
            let program = space.program(&one).unwrap();
            let feeding = program.practices.iter().find(|p| p.key == "feed");
            fed += usize::from(feeding.is_some_and(
                |p| matches!(&p.cue, sim::scenario::Cue::Dates(dates) if dates.len() == 4),
            ));
            if let [(key, title)] = space.taken(&one)[..] {
                let lender = others.iter().find(|p| p.title == title).unwrap();
                assert_eq!((key, &program.practices), ("water", &lender.practices));
                lent.push(title.to_string());
            }
        }
    }
    let titles: Vec<&str> = others.iter().map(|p| p.title.as_str()).collect();
    assert_eq!(lent, titles);
    assert!(fed >= 5, "a fourth feeding: {fed}");
    // What is kept is not brought in either.
    let keep = Limits { keep: vec!["water".into()], vary: vec![] };
    let fewer = Space::new(DRY, &engine::check, &[&checked.scenario.programs[0]], &keep, Units::Us);
    assert_eq!(fewer.unwrap().size(), space.size() - 1);
}

/// What is to be spared is what the cheapest is chosen by, told with its unit.
#[test]
fn water_is_spared_where_that_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let asked =
        ["thrift", "dry-summer-lawn", "--cheap-in", "water", "--members", "16", "--tries", "40"];
    let needs = ["--need", "green cover > 30 % on 60 % of summer days", "--odds", "12 of 20"];
    let (code, out, err) = swardplay(folder.path(), &[&asked[..], &needs].concat());
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "more tried in search of the one with the least water that holds",
        "The one with the least water that",
        "of water ($",
        "What more certainty takes",
        "on one date more, left out (mowing never is), and brought in or exchanged as another of your \
         programs has it",
        "Not tried, since no program of yours has it: a crabgrass barrier, compost, seed,",
    ] {
        assert!(flat.contains(words), "{words}: {flat}");
    }
    let table = fs::read_to_string(folder.path().join("swardplay-thrift/thrift.csv")).unwrap();
    let rows = rows(&table);
    let of = |row: &BTreeMap<String, String>, key: &str| row[key].parse::<f64>().unwrap();
    let pick = rows.iter().find(|row| row["pick"] == "yes").unwrap();
    let holding = rows.iter().filter(|row| of(row, "holds") >= 0.6 - 0.005);
    let least = holding.map(|row| of(row, "mean_water_used")).fold(f64::INFINITY, f64::min);
    // 10 mm is the least difference that matters.
    assert!(of(pick, "mean_water_used") <= least + 11.0, "{pick:?} {least}");
    let picture = fs::read_to_string(folder.path().join("swardplay-thrift/thrift.svg")).unwrap();
    assert!(picture.contains("Water from the tap over 2 seasons, in, on average"), "its axis");
    let index = fs::read_to_string(folder.path().join("swardplay-thrift/run.json")).unwrap();
    assert!(index.contains("--cheap-in water"), "{index}");
}

/// One row of the table, by its heads.
fn rows(table: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let heads: Vec<String> = reader.headers().unwrap().iter().map(str::to_string).collect();
    let row = |record: csv::StringRecord| {
        heads.iter().cloned().zip(record.iter().map(str::to_string)).collect()
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

#[test]
fn the_command_tells_draws_and_tables_and_its_bytes_do_not_depend_on_threads() {
    let folder = tempfile::tempdir().unwrap();
    let run = |more: &[&str]| {
        let asked = [
            "thrift",
            "thin-front-lawn",
            "--program",
            "usual",
            "--program",
            "frequent",
            "--need",
            "crabgrass < 45 % on 90 % of summer days",
            "--need",
            "turf cover > 45 % at the end of the last season",
            "--budget",
            "$500 a season",
            "--odds",
            "12 of 20",
            "--members",
            "16",
            "--tries",
            "30",
        ];
        swardplay(folder.path(), &[&asked, more].concat())
    };
    let (code, out, err) = run(&["--threads", "1", "--out", "one"]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "it is to do so in 12 of 20 futures",
        "Crabgrass is under 45 % on 90 % of summer days, in each season",
        "Turf cover is above 45 % at the end of the year, in the last season",
        "At most $500 a season",
        "Your programs",
        "What this rests on",
        "come from 40 simulated futures (seed 1) that had no part in the search; 16 others searched",
        "4 years of record",
    ] {
        assert!(flat.contains(words), "{words}: {flat}");
    }
    assert_eq!(run(&["--threads", "2", "--out", "two"]).0, 0);
    let names = |at: &str| {
        let mut names: Vec<String> = fs::read_dir(folder.path().join(at))
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    };
    assert_eq!(names("one"), names("two"));
    for name in names("one") {
        let read = |at: &str| fs::read(folder.path().join(at).join(&name)).unwrap();
        assert!(read("one") == read("two"), "{name}");
    }
    let table = fs::read_to_string(folder.path().join("one/thrift.csv")).unwrap();
    let rows = rows(&table);
    let of = |row: &BTreeMap<String, String>, key: &str| row[key].parse::<f64>().unwrap();
    assert_eq!([&rows[0]["program"], &rows[1]["program"]], ["usual", "frequent"]);
    assert_eq!([&rows[0]["changes"], &rows[1]["changes"]], ["0", "0"]);
    // The recommended one holds as often as was asked, on the members that judge; and of those that do
    // none is cheaper by what matters.
    let picks: Vec<_> = rows.iter().filter(|row| row["pick"] == "yes").collect();
    assert_eq!(picks.len(), 1, "{table}");
    let pick = picks[0];
    assert!(of(pick, "holds") >= 0.6 - 0.005, "{pick:?}");
    let holding = rows.iter().filter(|row| of(row, "holds") >= 0.6 - 0.005);
    let least = holding.map(|row| of(row, "mean_cost")).fold(f64::INFINITY, f64::min);
    assert!(of(pick, "mean_cost") <= least + 30.0, "{pick:?} {least}");
    // What was found can be added to the scenario.
    if pick["changes"] != "0" {
        let found = fs::read_to_string(folder.path().join("one/program.toml")).unwrap();
        let checked = engine::check(&format!("{DEMO}\n{found}")).unwrap();
        assert_eq!(checked.scenario.programs.last().unwrap().id, "thrifty");
    }
    let index = fs::read_to_string(folder.path().join("one/run.json")).unwrap();
    assert!(
        index.contains("--budget '$500 a season' --odds '12 of 20' --tries 30 --members 16"),
        "{index}"
    );
}

/// A program that cannot keep its budget: why, when, and that nothing single mends what nothing can.
#[test]
fn a_program_that_fails_is_told_as_a_story() {
    let folder = tempfile::tempdir().unwrap();
    let text = format!(
        "{DEMO}\n[thrift]\nneeds = [\"quality >= 9 on every summer day\"]\nbudget = \"90 $ a season\"\nodds = \
         \"9 of 10\"\n"
    );
    fs::write(folder.path().join("lawn.toml"), text).unwrap();
    let asked = ["thrift", "lawn.toml", "--members", "12", "--tries", "12", "--program", "usual"];
    let (code, out, err) = swardplay(folder.path(), &asked);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "it is to do so in 18 of 20 futures",
        "“Usual care” does not hold often enough. Nor does any of the",
        "How “Usual care” fails",
        "A future that fails (number",
        "In no future does it hold: there is nothing to set beside it.",
        "single changes that were played makes it hold in 18 of 20 futures",
        "Missed most often: “quality never falls below 9 in summer, in each season”, in all 30",
    ] {
        assert!(flat.contains(words), "{words}: {flat}");
    }
    assert!(!flat.contains("cheapest that was found to hold"), "{flat}");
    assert!(folder.path().join("swardplay-thrift/story.png").exists());
    assert!(!folder.path().join("swardplay-thrift/program.toml").exists());
}

fn refused(folder: &Path, more: &[&str]) -> String {
    let (code, out, err) = swardplay(folder, &[&["thrift", "thin-front-lawn"], more].concat());
    assert_eq!((code, out.as_str()), (2, ""), "{more:?}: {err}");
    assert_eq!(fs::read_dir(folder).unwrap().count(), 0, "{more:?}: something was written");
    err
}

#[test]
fn every_mistake_is_told_with_what_was_expected_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let need = ["--need", "crabgrass peak < 5 %"];
    for (more, words) in [
        (vec![], "what must hold? Say it with --need"),
        (vec!["--budget", "$400"], "what must hold? Say it with --need"),
        (vec!["--need", "crabgras peak < 5 %"], "did you mean \"crabgrass\"?"),
        (vec!["--need", "quality >= 6"], "say on how many days"),
        (vec!["--need", "crabgrass peak < 5"], "a share of the ground such as \"5 %\""),
        (vec!["--budget", "900"], "money, hours, water or nitrogen"),
        (vec!["--odds", "often"], "odds such as \"17 of 20\""),
        (vec!["--cheap-in", "hour"], "Did you mean `hours`?"),
        (vec!["--cheap-in", "water"], "no program of this scenario spends any"),
        (vec!["--program", "usuel"], "Did you mean `usual`?"),
        (vec!["--story", "usuel"], "Did you mean `usual`?"),
        (vec!["--keep", "barier"], "Did you mean `barrier`?"),
        (vec!["--keep", "mow.heigth"], "Did you mean `mow.height`?"),
        (vec!["--vary", "mow.every"], "such as \"mow.every=7..21 days\""),
        (vec!["--vary", "mow.every=21..7 days"], "the smaller or earlier end comes first"),
        (vec!["--vary", "mow.every=1..400 days"], "more than a scenario may say"),
        (vec!["--vary", "mow.every=a..b"], "a number of days or weeks"),
        (vec!["--tries", "2"], "10..=20000"),
        (vec!["--members", "100000", "--tries", "20000"], "more than can be held"),
    ] {
        let needed = more.is_empty() || more[0] == "--budget" && more[1] == "$400";
        let more = if needed { more } else { [&more[..], &need[..]].concat() };
        let err = refused(folder.path(), &more);
        assert!(err.contains(words), "{more:?}: {err}");
    }
}

/// A fault of `[thrift]` is told with its line, as any other of a scenario.
#[test]
fn a_fault_in_the_scenarios_table_is_told_with_its_line() {
    let table = "needs = [\"crabgras peak < 5 %\"]\nodds = \"often\"\ncheap-in = \"watr\"";
    let text = format!("{DEMO}\n[thrift]\n{table}\n");
    let faults = engine::check(&text).unwrap_err();
    let errors: Vec<_> = faults.iter().filter(|f| f.severity == Severity::Error).collect();
    let codes: Vec<&str> = errors.iter().map(|fault| fault.code).collect();
    assert_eq!(codes.len(), 3, "{codes:?}");
    assert!(codes.contains(&"bad-need") && codes.contains(&"bad-odds"), "{codes:?}");
    let need = errors.iter().find(|fault| fault.code == "bad-need").unwrap();
    assert_eq!(need.help.as_deref(), Some("did you mean \"crabgrass\"?"));
    assert!(errors.iter().any(|f| format!("{f:?}").contains("water")), "{errors:?}");
    let line = sim::scenario::line_of(&text, &need.span);
    assert!(text.lines().nth(line - 1).unwrap().starts_with("needs"));
}
