//! Credit on real runs, and `credit` through the program itself.

#[path = "support/door.rs"]
mod door;

use std::fs;
use std::path::Path;

use door::swardplay;
use sim::analysis::credit::{Credits, credit};
use sim::ensemble::{Continue, RunPlan, run};
use sim::outcomes::{OUTCOMES, outcome};
use sim::parameters::Catalogue;
use sim::scenario::{Scenario, check};
use swardplay::carried;

/// The demo with one season, and some more text.
fn demo(more: &str) -> String {
    let demo = carried::example("thin-front-lawn").expect("the demo");
    format!("{}{more}", demo.replace("seasons = 2", "seasons = 1"))
}

/// A program of so many waterings, each a practice of its own.
fn waterings(id: &str, count: usize) -> String {
    let one = |at: usize| {
        format!(
            "[[program.practice]]\nkey = \"water-{at}\"\ndo = \"water\"\ndepth = \"0.5 in\"\n\
             on = \"{} Jul\"\n\n",
            1 + at
        )
    };
    format!("\n[[program]]\nid = \"{id}\"\n{}", (0..count).map(one).collect::<String>())
}

/// A program that differs from the demo's usual care in five practices, one of which waits for another.
const FULL: &str = r#"
[[program]]
id = "full"
title = "Full service"

[[program.practice]]
key = "mow"
do = "mow"
height = "3.5 in"
every = "7 days"
from = "10 Apr"
to = "5 Nov"
hold = ["wet 0.5 in", "dormant", "shorter than 3.5 in"]

[[program.practice]]
key = "barrier"
do = "pre-emergent"
product = "dithiopyr-liquid-2"
rate = "0.5 lb ai/ac"
soil-temperature = "50 degF"
for = "4 days"
from = "10 Mar"
to = "10 May"
split = "8 weeks"
hold = ["windy 12 mph", "wet 0.5 in"]
give-up = "14 days"

[[program.practice]]
key = "compost"
do = "topdress"
depth = "1/4 in"
price = "35 $/yd3"
on = "20 May"

[[program.practice]]
key = "late-feed"
do = "spread"
product = "blend-24-0-11"
nitrogen = "0.5 lb N/1000 ft2"
days-after = { practice = "compost", days = "20 days" }
"#;

/// Credits of `program` against `base`, and the outcomes of all programs as `play` has them.
fn played(text: &str, base: &str, program: &str, members: u32) -> (Credits, Vec<Vec<Vec<f64>>>) {
    let checked = check(text, carried::PRODUCTS).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let scenario: &Scenario = &checked.scenario;
    let catalogue = Catalogue::embedded();
    let record = carried::station("jfk").expect("a record").read().expect("it reads").record;
    let plan = RunPlan {
        scenario,
        record: &record,
        so_far: None,
        catalogue: &catalogue.entries,
        members,
        seed: 1,
        threads: 0,
        keep_tracks: false,
    };
    let named = |id: &str| scenario.programs.iter().find(|p| p.id == id).expect("a program");
    let going = |_| Continue::Yes;
    let credits = credit(&plan, &catalogue, (named(base), named(program)), &going).expect("a run");
    let programs = run(&plan, &catalogue, &going).expect("a run").programs;
    (credits, programs.into_iter().map(|p| p.outcomes).collect())
}

/// Mean difference of two programs in an outcome, member by member.
fn difference(plays: &[Vec<Vec<f64>>], outcome: usize, (ours, theirs): (usize, usize)) -> f64 {
    let (ours, theirs) = (&plays[ours][outcome], &plays[theirs][outcome]);
    ours.iter().zip(theirs).map(|(a, b)| a - b).sum::<f64>() / ours.len() as f64
}

fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{found} {expected}");
}

/// Fails unless all credits add up to the whole, to 1e-9 of the largest of them.
fn adds_up(credits: &Credits) {
    for (kind, shared) in OUTCOMES.iter().zip(&credits.outcomes) {
        let sum: f64 = shared.credits.iter().map(|credit| credit.mean).sum();
        let size = shared.credits.iter().fold(shared.total.mean.abs(), |m, c| m.max(c.mean.abs()));
        assert!((sum - shared.total.mean).abs() <= 1e-9 * size, "{}: {sum} {shared:?}", kind.key);
    }
}

/// The demo's middle program is the mix of two practices in which only mowing is switched, so the
/// Shapley values of Shapley 1953 can be written down from three programs and the credit of the fourth.
#[test]
fn credits_of_the_demo_add_up_and_are_those_of_the_formula() {
    let (credits, plays) = played(&demo(""), "usual", "split", 12);
    adds_up(&credits);
    let keys: Vec<&str> = credits.players.iter().map(|p| p.key.as_str()).collect();
    assert_eq!((keys, credits.coalitions), (vec!["mow", "barrier"], 4));
    for (at, shared) in credits.outcomes.iter().enumerate() {
        let (whole, mow_first) = (difference(&plays, at, (2, 0)), difference(&plays, at, (1, 0)));
        close(shared.total.mean, whole);
        // Credit of mowing: half of what it does first, and half of what it does last; the last is
        // the first and the interaction.
        let interaction = shared.interactions[0].mean;
        close(shared.credits[0].mean, mow_first + interaction / 2.0);
        close(shared.credits[1].mean, whole - mow_first - interaction / 2.0);
    }
    assert!(credits.outcomes[outcome("crew_hours").unwrap()].credits[0].clear(), "more visits");
}

#[test]
fn five_practices_add_up_and_what_waits_for_an_absent_one_is_told() {
    let (credits, plays) = played(&demo(FULL), "usual", "full", 6);
    adds_up(&credits);
    let keys: Vec<&str> = credits.players.iter().map(|p| p.key.as_str()).collect();
    assert_eq!(keys, ["mow", "barrier", "feed", "compost", "late-feed"]);
    assert_eq!((credits.coalitions, credits.orders), (32, None));
    assert_eq!(credits.idle.len(), 1);
    assert_eq!((&*credits.idle[0].practice, &*credits.idle[0].waits_for), ("late-feed", "compost"));
    for (at, shared) in credits.outcomes.iter().enumerate() {
        close(shared.total.mean, difference(&plays, at, (4, 0)));
    }
}

/// Beyond eight practices orders are sampled. What adds up by nature is shared exactly all the same: a
/// watering's share of the water does not hang on the order.
#[test]
fn many_practices_are_sampled_and_still_add_up() {
    let text = demo(&format!("{}{}", waterings("one", 1), waterings("many", 11)));
    let (credits, _) = played(&text, "one", "many", 3);
    adds_up(&credits);
    assert_eq!((credits.players.len(), credits.orders), (10, Some(32)));
    assert!(credits.coalitions < 1 << 10);
    let water = &credits.outcomes[outcome("water_used").unwrap()];
    for share in &water.credits {
        assert!(
            share.mean > 0.0 && share.mean <= 12.7 + 1e-9,
            "half an inch, or missed: {share:?}"
        );
        assert!(share.orders_error < 1e-9);
    }
    assert!(credits.outcomes.iter().all(|shared| shared.interactions.is_empty()));
}

/// A lawn that had another program's care the year before, and until it was looked at.
#[test]
fn the_care_before_a_program_stays() {
    let seen = "[lawn.seen]\nseason-before = \"split\"";
    let text = format!(
        "{}\n[scouting]\nprogram = \"frequent\"\n\n[[scouting.look]]\non = \"20 Jun\"\n\
         at = \"grass-cover\"\nseen = [\"30 %\", \"80 %\"]\n",
        demo("").replace("[lawn.seen]", seen)
    );
    let (credits, plays) = played(&text, "usual", "split", 4);
    for (at, shared) in credits.outcomes.iter().enumerate() {
        close(shared.total.mean, difference(&plays, at, (2, 0)));
    }
}

#[test]
fn threads_change_no_byte() {
    let folder = tempfile::tempdir().unwrap();
    let run = |threads: &str| {
        let args = ["credit", "thin-front-lawn", "--program", "split", "--members", "30"];
        let more = ["--threads", threads, "--out", threads];
        let (code, out, err) = swardplay(folder.path(), &[&args[..], &more].concat());
        assert_eq!((code, err.as_str()), (0, ""));
        out.replace(&format!("in {threads}\n"), "in it\n")
    };
    assert_eq!(run("1"), run("2"));
    for name in ["credit.csv", "credit.svg", "credit.png", "run.json"] {
        let read = |threads: &str| fs::read(folder.path().join(threads).join(name)).unwrap();
        assert!(read("1") == read("2"), "{name}");
    }
    let table = fs::read_to_string(folder.path().join("1/credit.csv")).unwrap();
    assert!(table.starts_with("outcome,unit,part,practice,with,mean,standard_error,"), "{table}");
    // A total, two credits and one pair for each outcome.
    assert_eq!(table.lines().count(), 1 + 4 * OUTCOMES.len());
    let index = fs::read_to_string(folder.path().join("1/run.json")).unwrap();
    assert!(index.contains(
        "swardplay credit thin-front-lawn --program split --against usual --members 30 --seed 1"
    ));
}

#[test]
fn what_was_changed_is_told_in_the_readers_units() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("lawn.toml"), demo(FULL)).unwrap();
    let args = ["credit", "lawn.toml", "--program", "full", "--members", "4", "--units", "metric"];
    let (code, out, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "every 7 days instead of every 14 days; at 88.9 mm instead of 76.2 mm",
        "in two halves 56 days apart instead of all at once",
        "feed left out",
        "compost added, on 20 May",
        "late-feed added, 20 days after compost",
        "5 practices differ; 32 mixes of them were played, each through the same 4 simulated futures.",
        "\u{201c}late-feed\u{201d} waits for \u{201c}compost\u{201d}.",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
}

fn refused(folder: &Path, args: &[&str], message: &str) {
    let (code, out, err) = swardplay(folder, &[&["credit"], args].concat());
    assert_eq!((code, out.as_str()), (2, ""), "{args:?}: {err}");
    assert!(err.contains(message), "{args:?}: {err}");
    assert!(!folder.join("swardplay-credit").exists(), "{args:?} wrote something");
}

#[test]
fn bad_input_is_told_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let one = demo("").split("\n[[program]]\nid = \"frequent\"").next().unwrap().to_string();
    fs::write(folder.join("one.toml"), one).unwrap();
    let same = demo(
        "\n[[program]]\nid = \"again\"\nbased-on = \"frequent\"\n\n[[program.change]]\n\
                     practice = \"mow\"\nevery = \"14 days\"\n",
    );
    fs::write(folder.join("same.toml"), same).unwrap();
    let many = demo(&format!("{}{}", waterings("one", 1), waterings("many", 31)));
    fs::write(folder.join("many.toml"), many).unwrap();
    let demo = "thin-front-lawn";
    for (args, message) in [
        (&[demo][..], "which program? Say it with --program: one of frequent, split"),
        (&[demo, "--program", "splitt"], "Did you mean `split`?"),
        (&[demo, "--program", "split", "--against", "usul"], "Did you mean `usual`?"),
        (&[demo, "--program", "split", "--against", "split"], "are both split"),
        (&[demo, "--program", "usual"], "say with --against what it is to be compared with"),
        (
            &[demo, "--program", "split", "--outcome", "crabgras_peak"],
            "Did you mean `crabgrass_peak`?",
        ),
        (&[demo, "--program", "split", "--members", "0"], "--members"),
        (&["one.toml"], "the scenario has one program"),
        (&["same.toml", "--program", "again"], "no practice differs"),
        (&["many.toml", "--program", "many"], "at most 31 can be told apart"),
        (
            &["many.toml", "--program", "many", "--against", "one", "--members", "90000"],
            "more than can be held; at most",
        ),
    ] {
        refused(folder, args, message);
    }
}
