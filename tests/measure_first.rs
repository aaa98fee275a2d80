//! `measure-first` through the program itself, and on runs whose answer is known beforehand.

#[path = "support/door.rs"]
mod door;

use std::fs;
use std::path::Path;

use door::swardplay;
use sim::analysis::measure_first::{Asked, Findings, Group, measure_first};
use sim::draw::Streams;
use sim::ensemble::{Continue, RunPlan, run};
use sim::outcomes::outcome;
use sim::parameters::Catalogue;
use sim::scenario::{Scenario, check};
use sim::weather::Record;
use swardplay::carried;

/// The demo with one season.
fn demo() -> String {
    carried::example("thin-front-lawn").expect("the demo").replace("seasons = 2", "seasons = 1")
}

fn plan<'a>(
    scenario: &'a Scenario,
    record: &'a Record,
    catalogue: &'a Catalogue,
    members: u32,
) -> RunPlan<'a> {
    RunPlan {
        scenario,
        record,
        so_far: None,
        catalogue: &catalogue.entries,
        members,
        seed: 1,
        threads: 0,
        keep_tracks: false,
    }
}

fn found_in(text: &str, programs: &[&str], asked: Asked, members: u32) -> Findings {
    let scenario = check(text, carried::PRODUCTS).unwrap_or_else(|f| panic!("{f:#?}")).scenario;
    let catalogue = Catalogue::embedded();
    let record = carried::station("jfk").expect("a record").read().expect("it reads").record;
    let plan = plan(&scenario, &record, &catalogue, members);
    let chosen = scenario.programs.iter().filter(|p| programs.contains(&p.id.as_str()));
    let chosen: Vec<_> = chosen.cloned().collect();
    measure_first(&plan, &catalogue, &chosen, asked, &|_| Continue::Yes).expect("a run")
}

/// By cost, two mowing intervals differ only by what an hour costs times the hours: a crew at 20 to
/// 60 $/h always finds fewer visits cheaper, so the hour's cost changes nothing, however
/// far it moves the cost; and it moves the cost more than anything else does.
#[test]
fn what_moves_all_programs_alike_is_not_worth_knowing() {
    let text = demo().replace("hour-cost = \"25 $/h\"", "hour-cost = [\"20 $/h\", \"60 $/h\"]");
    let by_cost = Asked { outcome: outcome("cost"), worth: None };
    let found = found_in(&text, &["usual", "frequent"], by_cost, 120);
    assert_eq!(found.best, 0, "fewer cuts cost less");
    let hour = found.facts.iter().find(|judged| judged.subject.key == "hour_cost").unwrap();
    assert!(hour.knowing.value <= found.floor, "{:?}", hour.knowing.switch);
    let effect = hour.effect.unwrap();
    assert!(effect.moved > 5.0 * effect.error && effect.mean < 0.0, "dearer is worse: {effect:?}");
    let shares = hour.indices.unwrap();
    assert!(shares.first > 0.5 && shares.total > 0.5, "{shares:?}");
    for other in found.facts.iter().filter(|judged| judged.subject.key != "hour_cost") {
        let effect = other.effect.unwrap();
        assert!(effect.moved < hour.effect.unwrap().moved, "{}: {effect:?}", other.subject.key);
        assert!(other.indices.unwrap().total < 0.3, "{}", other.subject.key);
    }
}

/// One program takes more hours, the other more water: which is cheaper turns on the hour's cost c. Given
/// c, uniform between 5 and 60 $/h, the second costs D(c) = c dh + dw less than the first on average, with
/// the mean further hours and further water of the members; it turns where that is 0, and knowing c is
/// worth the mean of max(0, D) less max(0, mean D), worked out here by adding up.
#[test]
fn a_choice_that_turns_on_a_price_is_found_with_its_turn_and_its_worth() {
    let text = demo().replace(
        "hour-cost = \"25 $/h\"",
        "hour-cost = [\"5 $/h\", \"60 $/h\"]\nwater-price = \"8 $/1000 gal\"",
    ) + "\n[[program]]\nid = \"watered\"\ntitle = \"Watered\"\nbased-on = \"usual\"\n\n\
           [program.change.add]\nkey = \"water\"\ndo = \"water\"\ndepth = \"1 in\"\n\
           every = \"7 days\"\nfrom = \"15 Jun\"\nto = \"10 Aug\"\nby = \"client\"\n";
    let members = 150;
    let by_cost = Asked { outcome: outcome("cost"), worth: None };
    let found = found_in(&text, &["frequent", "watered"], by_cost, members);
    let hour = &found.facts[0];
    assert_eq!(hour.subject.key, "hour_cost", "the most valuable fact");

    let scenario = check(&text, carried::PRODUCTS).expect("sound").scenario;
    let catalogue = Catalogue::embedded();
    let record = carried::station("jfk").expect("a record").read().expect("it reads").record;
    let plan = plan(&scenario, &record, &catalogue, members);
    let played = run(&plan, &catalogue, &|_| Continue::Yes).expect("a run").programs;
    let place = |id: &str| scenario.programs.iter().position(|p| p.id == id).unwrap();
    let [first, second] = ["frequent", "watered"].map(|id| &played[place(id)].outcomes);
    let [cost, hours] = ["cost", "crew_hours"].map(|key| outcome(key).unwrap());
    let factor = &hour.subject.factors[0];
    let (mut dh, mut dw) = (0.0, 0.0);
    let n = f64::from(members);
    let dearer = |of: usize, i: usize| first[of][i] - second[of][i];
    for i in 0..members as usize {
        // The factor's unit is that of the scenario's field, $ an hour.
        let hour_cost = factor.value(&Streams::new(1), i as u32);
        assert!((5.0..=60.0).contains(&hour_cost), "{hour_cost}");
        dh += dearer(hours, i) / n;
        dw += (dearer(cost, i) - hour_cost * dearer(hours, i)) / n;
    }
    let turn = -dw / dh;
    assert!((10.0..55.0).contains(&turn), "the example is made to turn inside: {turn}");
    let steps = 10_000;
    let at = |k: i32| 5.0 + 55.0 * (f64::from(k) + 0.5) / f64::from(steps);
    let gain = |c: f64| c * dh + dw;
    let mean = (0..steps).map(|k| gain(at(k))).sum::<f64>() / f64::from(steps);
    let best = (0..steps).map(|k| gain(at(k)).max(0.0)).sum::<f64>() / f64::from(steps);
    let worth = best - mean.max(0.0);
    let knowing = &hour.knowing;
    assert!(knowing.value > found.floor);
    // Give or take three errors, and the sampling of c itself, a tenth.
    assert!(
        (knowing.value - worth).abs() < 3.0 * knowing.error + 0.1 * worth,
        "{worth} {knowing:?}"
    );
    let crossing = knowing.switch.and_then(|switch| switch.crossing).expect("one turn");
    assert!((crossing.at - turn).abs() < 4.0 * crossing.error + 1.0, "{turn} {crossing:?}");
    assert_eq!(crossing.above, found.best == 0, "above it the watered lawn is cheaper");
}

/// A value is never more than that of knowing everything, and the parts are all there.
#[test]
fn everything_is_worth_the_most() {
    let asked = Asked { outcome: None, worth: None };
    let found = found_in(&demo(), &["usual", "halves"], asked, 100);
    assert_eq!(found.aim.outcome, outcome("crabgrass_peak").unwrap());
    assert_eq!((found.others.len(), found.gains.len()), (1, 1));
    assert!(found.gains[0].0 <= 0.0, "the best is best: {:?}", found.gains);
    let keys: Vec<&str> = found.facts.iter().map(|j| j.subject.key.as_str()).collect();
    for key in ["turf_cover", "crabgrass_last_august", "organic_matter"] {
        assert!(keys.contains(&key), "{keys:?}");
    }
    assert_eq!(found.groups.iter().map(|j| j.group).collect::<Vec<_>>(), Group::ALL);
    for group in &found.groups {
        assert!(group.whole.value <= found.perfect, "{group:?} {}", found.perfect);
        assert!(group.moved.0 >= 0.0);
    }
    // A grass that the lawn does not have moves nothing.
    let absent = found.constants.iter().find(|j| j.subject.key.starts_with("grass.tall_fescue"));
    assert_eq!(absent.expect("drawn").effect.unwrap().moved, 0.0);
}

/// The newer weeds are facts to find out, as the others are: each has a way to measure it. On a lawn with a
/// year before, the forbs come of that year, and sedge alone is drawn.
#[test]
fn the_newer_weeds_can_be_found_out() {
    let text = carried::example("clover-nutsedge-lawn").expect("carried");
    let text = text
        .replace("seasons = 2", "seasons = 1")
        .replace("clover = [", "dandelion = [\"1 %\", \"6 %\"]\nclover = [");
    let asked = Asked { outcome: outcome("nutsedge_peak"), worth: None };
    let keys = |found: &Findings| -> Vec<String> {
        found.facts.iter().map(|j| j.subject.key.clone()).collect()
    };
    let found = found_in(&text, &["barrier", "sedge"], asked, 100);
    for key in ["dandelion", "clover", "nutsedge"] {
        assert!(keys(&found).iter().any(|known| known == key), "{key}: {:?}", keys(&found));
    }
    let moved = |key: &str| {
        let judged = found.facts.iter().find(|j| j.subject.key == key).unwrap();
        judged.effect.unwrap().moved
    };
    // How much sedge there is moves the sedge that there will be more than any other fact of the walk-round.
    for other in ["dandelion", "clover", "turf_cover", "crabgrass_last_august"] {
        assert!(moved("nutsedge") > moved(other), "{other}");
    }
    let before = text.replace("[lawn.seen]", "[lawn.seen]\nseason-before = \"barrier\"");
    let keys = keys(&found_in(&before, &["barrier", "sedge"], asked, 40));
    assert!(keys.contains(&"nutsedge".to_string()), "{keys:?}");
    assert!(!keys.iter().any(|key| key == "dandelion" || key == "clover"), "{keys:?}");
}

/// On a lawn with a past the screen says once, in plain words, why no fact is changed by itself.
#[test]
fn a_lawn_with_a_past_is_told_why_facts_are_not_moved() {
    let folder = tempfile::tempdir().unwrap();
    let seen = "[lawn.seen]\nseason-before = \"usual\"";
    fs::write(folder.path().join("lawn.toml"), demo().replace("[lawn.seen]", seen)).unwrap();
    let args = ["measure-first", "lawn.toml", "--program", "usual", "--program", "halves"];
    let (code, out, err) = swardplay(folder.path(), &[&args[..], &["--members", "100"]].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    let why = "these futures were picked because their lawn came to look as yours was seen to look";
    assert_eq!(flat.matches(why).count(), 1, "{flat}");
    assert!(!flat.contains("another draw of that fact alone"), "{flat}");
}

/// Futures chosen by what was seen have no facts that could be exchanged one by one.
#[test]
fn a_lawn_with_a_past_is_judged_without_exchanges() {
    let seen = "[lawn.seen]\nseason-before = \"usual\"";
    let text = demo().replace("[lawn.seen]", seen);
    let asked = Asked { outcome: outcome("crabgrass_peak"), worth: None };
    let found = found_in(&text, &["usual", "halves"], asked, 60);
    let keys: Vec<&str> = found.facts.iter().map(|j| j.subject.key.as_str()).collect();
    assert_eq!(keys, ["organic_matter"]);
    assert!(found.facts.iter().chain(&found.constants).all(|j| j.effect.is_none()));
}

#[test]
fn threads_change_no_byte() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("lawn.toml"), demo()).unwrap();
    let run = |threads: &str| {
        let args = ["measure-first", "lawn.toml", "--program", "usual", "--program", "split"];
        let more = ["--members", "40", "--threads", threads, "--out", threads];
        let (code, out, err) = swardplay(folder.path(), &[&args[..], &more].concat());
        assert_eq!((code, err.as_str()), (0, ""));
        out.replace(&format!("in {threads}\n"), "in it\n")
    };
    let out = run("1");
    assert_eq!(out, run("2"));
    for name in ["measure-first.csv", "measure-first.svg", "measure-first.png", "run.json"] {
        let read = |threads: &str| fs::read(folder.path().join(threads).join(name)).unwrap();
        assert!(read("1") == read("2"), "{name}");
    }
    assert!(out.contains("40 futures are too few to tell what is worth measuring."), "{out}");
    assert!(
        out.contains("Taken for known, since the scenario gives one number: the slope"),
        "{out}"
    );
    let table = fs::read_to_string(folder.path().join("1/measure-first.csv")).unwrap();
    assert!(table.starts_with("kind,key,unit,value_of_knowing,standard_error,noise_floor,clear,"));
    assert_eq!(table.lines().filter(|line| line.starts_with("fact,")).count(), 3);
    assert_eq!(table.lines().filter(|line| line.starts_with("group,")).count(), 4);
    let index = fs::read_to_string(folder.path().join("1/run.json")).unwrap();
    assert!(index.contains(
        "swardplay measure-first lawn.toml --program usual --program split --outcome crabgrass_peak \
         --members 40 --seed 1"
    ));
}

fn refused(folder: &Path, args: &[&str], message: &str) {
    let (code, out, err) = swardplay(folder, &[&["measure-first"], args].concat());
    assert_eq!((code, out.as_str()), (2, ""), "{args:?}: {err}");
    assert!(err.contains(message), "{args:?}: {err}");
    assert!(!folder.join("swardplay-measure-first").exists(), "{args:?} wrote something");
}

#[test]
fn bad_input_is_told_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let one = demo().split("\n[[program]]\nid = \"frequent\"").next().unwrap().to_string();
    fs::write(folder.join("one.toml"), one).unwrap();
    let demo = "thin-front-lawn";
    for (args, message) in [
        (&["one.toml"][..], "the scenario has one program, so there is nothing to choose"),
        (&[demo, "--program", "splitt"], "Did you mean `split`?"),
        (&[demo, "--program", "split"], "a choice is between two programs or more"),
        (&[demo, "--outcome", "crabgras_peak"], "Did you mean `crabgrass_peak`?"),
        (&[demo, "--outcome", "mowings"], "more of it is neither better nor worse"),
        (&[demo, "--worth", "20"], "say which with --outcome"),
        (&[demo, "--outcome", "crabgrass_peak", "--worth", "-3"], "such as \"20 $ per point\""),
        (&[demo, "--outcome", "cost", "--worth", "3"], "the cost is money already"),
        (&[demo, "--members", "90000"], "more than can be held; at most"),
    ] {
        refused(folder, args, message);
    }
}
