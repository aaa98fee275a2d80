//! Work on the ground and the turf, from a scenario to the work log, the books and the cautions.

#[path = "support/trial.rs"]
mod trial;

use sim::ensemble::Results;
use sim::scenario::{What, check};
use sim::work::{Act, Tending};
use swardplay::carried;
use trial::{checked, on, play, practice};

/// The demo's thin lawn with weekly mowing and a crew that makes no slips; one program a piece of
/// practices more.
fn text(programs: &[(&str, &str)]) -> String {
    let demo = carried::example("thin-front-lawn").expect("the demo");
    let head = demo.split("[[program]]").next().expect("a lawn");
    let head = head.split("[slips]").next().expect("a lawn");
    let mut text =
        format!("{head}\n[slips]\nmissed = \"0 %\"\nlate = \"0 %\"\nrate-error = \"0 %\"\n");
    for (id, more) in programs {
        text.push_str(&format!(
            "\n[[program]]\nid = \"{id}\"\n{}{more}\n",
            practice(
                "mow",
                "mow",
                "height = \"3 in\"\nevery = 7\nfrom = \"10 Apr\"\nto = \"5 Nov\""
            )
        ));
    }
    text
}

fn cautions(more: &str) -> Vec<&'static str> {
    checked(&text(&[("a", more)])).cautions.iter().map(|fault| fault.code).collect()
}

/// Mean over the members of a measure on a day of the run.
fn mean(results: &Results, program: usize, key: &str, day: usize) -> f32 {
    let values = on(results, program, key, day);
    values.iter().sum::<f32>() / values.len() as f32
}

/// Days of the run: 1 September and 20 October of the first year, 15 May of the next.
const SEPTEMBER: usize = 243;
const OCTOBER: usize = 292;
const NEXT_MAY: usize = 365 + 134;

const SEED: &str =
    "seed = { kind = \"perennial ryegrass\" }\nrate = \"8 lb/1000 ft2\"\nmethod = \"raked\"";

fn watered() -> String {
    practice("water", "water", "depth = \"5 mm\"\nevery = 1\nfrom = \"20 Aug\"\nto = \"15 Oct\"")
}

/// Minutes and money of the work log by hand: the demo's 1,000s of square feet times the figures stated.
#[test]
fn the_work_log_holds_minutes_and_money() {
    let core = practice(
        "core",
        "core",
        "on = \"1 Sep\"\ntakes = \"6 min/1000 ft2\"\nprice = \"5 $/1000 ft2\"",
    );
    let soil =
        practice("soil", "topsoil", "depth = \"1/4 in\"\non = \"10 Sep\"\nprice = \"40 $/yd3\"");
    let programs = [("a", format!("{core}{soil}"))];
    let programs: Vec<(&str, &str)> = programs.iter().map(|(id, t)| (*id, t.as_str())).collect();
    let results = play(&text(&programs), 2);
    let lawn = checked(&text(&programs)).scenario;
    let thousands = lawn.lawn.area_m2 / 92.903_04;
    let visit = lawn.crew.visit_minutes;
    let of = |wanted: fn(&Tending) -> bool| {
        let log = &results.programs[0].work[0];
        *log.iter()
            .find(|entry| matches!(&entry.act, Act::Tend(tended) if wanted(tended)))
            .expect("it was done")
    };
    let cored = of(|t| matches!(t, Tending::Core { .. }));
    // The visit's travel is with its first act.
    let work = [0.0, visit].map(|travel| 6.0 * thousands + travel);
    assert!(work.iter().any(|m| (m - cored.minutes).abs() < 1e-6), "{} {work:?}", cored.minutes);
    let money = 5.0 * thousands + cored.minutes / 60.0 * lawn.crew.hour_cost;
    assert!((cored.cost - money).abs() < 1e-6, "{} {money}", cored.cost);
    // A quarter inch over 1,000 ft2 is 0.7716 yd3 (324 ft2-in to the cubic yard).
    let levelled = of(|t| matches!(t, Tending::Level { .. }));
    let labour = levelled.minutes / 60.0 * lawn.crew.hour_cost;
    let soil = 40.0 * 250.0 / 324.0 * thousands;
    assert!((levelled.cost - labour - soil).abs() < 0.01, "{} {soil}", levelled.cost);
}

/// Killed turf is bare, and comes back where it is sown and watered; sod is whole at once. What the
/// old turf was does not matter any more.
#[test]
fn making_a_lawn_anew() {
    let kill = practice("kill", "kill", "on = \"20 Aug\"");
    let sow = practice("sow", "overseed", &format!("{SEED}\non = \"1 Sep\""));
    let sod = practice("sod", "sod", "grass = { kind = \"tall fescue\" }\non = \"1 Sep\"");
    let water = watered();
    let programs = [
        ("killed", kill.clone()),
        ("sown", format!("{kill}{sow}{water}")),
        ("sodded", format!("{kill}{sod}{water}")),
        ("dry-sod", format!("{kill}{sod}")),
    ];
    let programs: Vec<(&str, &str)> = programs.iter().map(|(id, t)| (*id, t.as_str())).collect();
    let results = play(&text(&programs), 40);
    let cover = |program, day| mean(&results, program, "turf_cover", day);
    assert!(cover(0, SEPTEMBER) < 10.0, "{}", cover(0, SEPTEMBER));
    assert!(cover(1, NEXT_MAY) > cover(0, NEXT_MAY) + 20.0);
    assert!(cover(2, SEPTEMBER + 2) > 90.0 && cover(2, OCTOBER) > 80.0, "{}", cover(2, OCTOBER));
    assert!(cover(3, OCTOBER) < cover(2, OCTOBER), "unwatered sod loses some");
}

/// A lawn is made anew once; where it is asked for, every year.
#[test]
fn sod_is_laid_once() {
    let laid = |more: &str| {
        let keys = format!("grass = {{ kind = \"tall fescue\" }}\non = \"1 Sep\"{more}");
        let results = play(&text(&[("a", &practice("sod", "sod", &keys))]), 2);
        let log = results.programs[0].work.iter().flatten();
        log.filter(|entry| matches!(entry.act, Act::Tend(_))).count()
    };
    assert_eq!(laid(""), 2, "once in each of two members");
    assert_eq!(laid("\ntimes = \"every year\""), 4, "in both seasons");
}

/// What a person should look at, and where it is in order nothing is said.
#[test]
fn cautions_name_what_clashes() {
    let barrier = practice(
        "wall",
        "pre-emergent",
        "product = \"dithiopyr-liquid-2\"\nrate = \"0.5 lb ai/ac\"\nwater-in = \"0.5 in\"\non = \"10 Apr\"",
    );
    let core = |on: &str| practice("core", "core", &format!("on = \"{on}\""));
    let sod = |on: &str| {
        practice("sod", "sod", &format!("grass = {{ kind = \"tall fescue\" }}\non = \"{on}\""))
    };
    let kill = practice("kill", "kill", "on = \"20 Aug\"");
    let sow = |on: &str| practice("sow", "overseed", &format!("{SEED}\non = \"{on}\""));
    let water = watered();
    let feed_by_eye = practice(
        "feed",
        "spread",
        "product = \"urea-46-0-0\"\nnitrogen = \"0.5 lb N/1000 ft2\"\nevery = 14\nfrom = \"1 May\"\nto = \"15 Oct\"\nhold = [\"green within 0.5 points\"]",
    );
    for (code, bad, good) in [
        (
            "barrier-broken-up",
            format!("{barrier}{}", core("1 May")),
            format!("{barrier}{}", core("1 Sep")),
        ),
        ("opened-in-summer", core("1 Jul"), core("1 Sep")),
        ("sod-not-watered", sod("1 Sep"), format!("{}{water}", sod("1 Sep"))),
        ("sod-in-heat", sod("10 Jul"), sod("1 Sep")),
        (
            "sod-near-barrier",
            format!("{barrier}{}", sod("1 May")),
            format!("{barrier}{}", sod("1 Sep")),
        ),
        (
            "grass-soon-after-kill",
            format!("{kill}{}", sow("22 Aug")),
            format!("{kill}{}", sow("5 Sep")),
        ),
        ("nothing-after-kill", kill.clone(), format!("{kill}{}", sow("5 Sep"))),
        (
            "deep-topsoil",
            practice("soil", "topsoil", "depth = \"1 in\"\non = \"1 Sep\""),
            practice("soil", "topsoil", "depth = \"1/2 in\"\non = \"1 Sep\""),
        ),
        (
            "liquid-burns",
            practice(
                "feed",
                "spread",
                "product = \"liquid-18-3-6\"\nnitrogen = \"0.4 lb N/1000 ft2\"\non = \"1 May\"",
            ),
            practice(
                "feed",
                "spread",
                "product = \"liquid-18-3-6\"\nnitrogen = \"0.2 lb N/1000 ft2\"\non = \"1 May\"",
            ),
        ),
        (
            "liquid-burns",
            practice(
                "feed",
                "spread",
                "product = \"liquid-18-3-6\"\nnitrogen = \"0.2 lb N/1000 ft2\"\non = \"10 Jul\"",
            ),
            practice(
                "feed",
                "spread",
                "product = \"liquid-18-3-6\"\nnitrogen = \"0.1 lb N/1000 ft2\"\non = \"10 Jul\"",
            ),
        ),
        (
            "thin-evidence",
            practice("kelp", "biostimulant", "kind = \"seaweed\"\non = \"1 May\""),
            String::new(),
        ),
        (
            "no-reference-strip",
            feed_by_eye.clone(),
            format!("{feed_by_eye}{}", practice("strip", "reference-strip", "on = \"1 Apr\"")),
        ),
        (
            "much-iron",
            practice("iron", "iron", "rate = \"8 oz/1000 ft2\"\non = \"1 Sep\""),
            practice("iron", "iron", "rate = \"4 oz/1000 ft2\"\non = \"1 Sep\""),
        ),
    ] {
        assert!(cautions(&bad).contains(&code), "{code} is missed: {:?}", cautions(&bad));
        assert!(!cautions(&good).contains(&code), "{code} is told of what is in order");
    }
}

/// A biostimulant costs money and time and changes nothing, but for what the user states of it.
#[test]
fn a_biostimulant_does_what_is_stated() {
    let humic = |more: &str| {
        let keys = format!("kind = \"humic\"\n{more}every = 28\nfrom = \"1 Apr\"\nto = \"1 Oct\"");
        practice("humic", "biostimulant", &keys)
    };
    let (plain, claimed) = (humic(""), humic("root-growth = \"30 %\"\n"));
    let results = play(&text(&[("none", ""), ("humic", &plain), ("claimed", &claimed)]), 20);
    let [none, humic, claimed] = &results.programs[..] else { panic!("three programs") };
    assert_eq!(none.tracks, humic.tracks);
    let cost = |program: &sim::ensemble::ProgramResults| -> f64 {
        program.work.iter().flatten().map(|entry| entry.cost).sum()
    };
    assert!(cost(humic) > cost(none) + 1.0);
    assert!(claimed.tracks != none.tracks);
    assert!(mean(&results, 2, "root_mass", OCTOBER) > mean(&results, 0, "root_mass", OCTOBER));
}

/// A crew that feeds only where a fed strip is greener feeds a lawn that clippings and soil feed
/// already less often, and what it skips shows less: it is not done because it was not needed.
#[test]
fn a_fed_strip_saves_nitrogen_that_would_not_show() {
    let feed = |hold: &str| {
        let keys = format!(
            "product = \"urea-46-0-0\"\nnitrogen = \"0.5 lb N/1000 ft2\"\nevery = 14\nfrom = \"1 May\"\n\
             to = \"15 Oct\"\ngive-up = 3\nwater-in = \"0.25 in\"{hold}"
        );
        practice("feed", "spread", &keys)
    };
    let strip = practice("strip", "reference-strip", "on = [\"1 Apr\", \"1 Jun\", \"1 Aug\"]");
    let by_eye = format!("{}{strip}", feed("\nhold = [\"green within 0.5 points\"]"));
    let results = play(&text(&[("blind", &feed("")), ("by-eye", &by_eye)]), 20);
    let fed = |program: usize| {
        let log = results.programs[program].work.iter().flatten();
        log.filter(|entry| matches!(entry.act, Act::LayNitrogen(_))).count()
    };
    assert!(fed(1) > 0 && fed(1) < fed(0), "{} of {}", fed(1), fed(0));
    // The crew's eye is off by 0.4 points; the lawn stays within a point of the strip on average.
    let short: f32 =
        [181, 212, 243, 273].map(|day| mean(&results, 1, "colour_short", day)).iter().sum::<f32>()
            / 4.0;
    assert!(short < 1.0, "{short} points short");
}

/// Ferrous sulfate holds 20 % of iron: 3 oz/1000 ft2 are 0.92 g/m2 and 1.83 kg Fe/ha.
#[test]
fn iron_is_counted_as_iron() {
    let checked = checked(&text(&[("a", &practice("iron", "iron", "on = \"1 Sep\""))]));
    let What::Tend(tend) = &checked.scenario.programs[0].practices[1].what else { panic!("iron") };
    let Tending::SprayIron { iron_kg_ha } = tend.tending else { panic!("iron") };
    assert!((iron_kg_ha - 3.0 * 28.349_523 / 92.903_04 * 0.2 * 10.0).abs() < 1e-6, "{iron_kg_ha}");
}

/// Wrong amounts and grasses are named with what is expected.
#[test]
fn faults_name_what_is_wrong() {
    for (what, keys, expected) in [
        ("core", "opened = \"80 %\"", "opened"),
        ("scarify", "", "depth"),
        ("kill", "rate = \"2 oz/1000 ft2\"", "rate"),
        ("sod", "grass = { kind = \"tall fescu\" }", "tall fescu"),
        ("topsoil", "depth = \"9 in\"", "depth"),
    ] {
        let text = text(&[("a", &practice("x", what, &format!("{keys}\non = \"1 Sep\"")))]);
        let faults = check(&text, carried::PRODUCTS).expect_err(what);
        assert!(faults.iter().any(|fault| fault.message.contains(expected)), "{faults:?}");
    }
}
