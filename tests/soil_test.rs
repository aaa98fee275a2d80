//! A soil test, lime and what a bag brings besides nitrogen: from a scenario to the lawn, the cautions,
//! the crew's load and the words.

mod support;

use std::sync::LazyLock;

use sim::analysis::sheet::{Tool, load::Dose, materials};
use sim::ensemble::{Continue, MEASURES, Results, RunPlan, measure, run};
use sim::scenario::{Checked, SoilTest, What, check, phosphate_and_potash_g_m2};
use sim::weather::Record;
use sim::work::{Act, Tending};
use support::{CATALOGUE, JFK, loam, mow_and_water, play, sky_path};
use swardplay::carried;
use swardplay::units::Units;

static RECORD: LazyLock<&Record> = LazyLock::new(|| &JFK);

/// 1 lb/1000 ft2 in g/m2.
const LB_PER_1000_FT2: f64 = 453.592_37 / 92.903_04;

fn practice(key: &str, what: &str, keys: &str) -> String {
    format!("[[program.practice]]\nkey = \"{key}\"\ndo = \"{what}\"\n{keys}\n")
}

/// The demo's lawn with a soil test, two seasons, a crew without slips; `more` is its work beside mowing.
fn text(test: &str, more: &str) -> String {
    let demo = carried::example("thin-front-lawn").expect("the demo");
    let head = demo.split("[[program]]").next().expect("a lawn");
    let head = head.split("[slips]").next().expect("a lawn").replace("ph = 6.3\n", "");
    let head = head.replace(
        "[[lawn.grass]]\nkind = \"Kentucky",
        &format!("{test}\n[[lawn.grass]]\nkind = \"Kentucky"),
    );
    let mow = "height = \"3 in\"\nevery = 7\nfrom = \"10 Apr\"\nto = \"5 Nov\"";
    format!(
        "{head}\n[slips]\nmissed = \"0 %\"\nlate = \"0 %\"\nrate-error = \"0 %\"\n\n[[program]]\nid = \
         \"a\"\n{}{more}\n",
        practice("mow", "mow", mow)
    )
}

fn checked(test: &str, more: &str) -> Checked {
    check(&text(test, more), carried::PRODUCTS).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn codes(test: &str, more: &str) -> Vec<&'static str> {
    checked(test, more).cautions.iter().map(|fault| fault.code).collect()
}

fn results(test: &str, more: &str) -> Results {
    let checked = checked(test, more);
    let plan = RunPlan {
        scenario: &checked.scenario,
        record: &RECORD,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: 12,
        seed: 3,
        threads: 0,
        keep_tracks: true,
    };
    run(&plan, &CATALOGUE, &|_| Continue::Yes).expect("a run")
}

/// Mean over the members of a measure on the last day.
fn at_the_end(results: &Results, key: &str) -> f64 {
    let column = measure(key).expect("a measure");
    let tracks = results.programs[0].tracks.as_ref().expect("tracks");
    let last = |rows: &Vec<f32>| f64::from(rows[rows.len() - MEASURES.len() + column]);
    tracks.iter().map(last).sum::<f64>() / tracks.len() as f64
}

const FEED: &str = "product = \"urea-46-0-0\"\nnitrogen = \"0.7 lb N/1000 ft2\"\non = \"10 Sep\"";

fn lime(keys: &str) -> String {
    practice("lime", "lime", keys)
}

/// What is only noted, or not stated at all, plays as before: to the bit.
#[test]
fn a_lawn_without_a_test_plays_as_before() {
    let feed = practice("feed", "spread", FEED);
    let none = results("", &feed);
    let noted = results("[lawn.soil-test]\npotassium = 20\nphosphorus = 400\n", &feed);
    assert_eq!(none.programs[0].tracks, noted.programs[0].tracks);
    let limed = format!("{feed}{}", lime("rate = \"40 lb/1000 ft2\"\non = \"20 Nov\""));
    assert_eq!(none.programs[0].tracks, results("", &limed).programs[0].tracks);
}

/// Turf grows less on soil below pH 5.5 (Virginia Tech 1994), and limed soil gives up more nitrogen
/// (Nyborg & Hoyt 1978): so acid soil yields less, and lime brings some of it back.
#[test]
fn acid_soil_grows_less_and_lime_mends_it() {
    let feed = practice("feed", "spread", FEED);
    let clippings = |test: &str, more: &str| at_the_end(&results(test, more), "clippings_cum");
    let sound = clippings("[lawn.soil-test]\nph = 6.5\n", &feed);
    let acid = clippings("[lawn.soil-test]\nph = 4.7\n", &feed);
    let limed =
        format!("{feed}{}", lime("rate = \"50 lb/1000 ft2\"\non = [\"20 Mar\", \"20 Nov\"]"));
    let mended = clippings("[lawn.soil-test]\nph = 4.7\n", &limed);
    assert!(acid < 0.97 * sound, "{acid} {sound}");
    assert!(mended > 1.02 * acid, "{mended} {acid}");
}

/// Nyborg & Hoyt 1978 (Can. J. Soil Sci. 58:331), as their abstract has it: lime to about pH 6.7,
/// worked in, let soil of pH 4.0-5.6 give 15-42 kg N/ha more in the first year, 7-10 in the third.
#[test]
fn liming_lets_nitrogen_go_for_some_years() {
    let freed = |lime_g_m2: f64| {
        let mut place = loam();
        let found = SoilTest { ph: Some(5.0), target_ph: 6.7, ..SoilTest::default() };
        place.lawn.soil.test = Some(found);
        let mut p = CATALOGUE.central();
        // Worked in, lime meets all of the soil at once.
        p.reaction.lime_half_life_days = 5.0;
        let skies = sky_path(&JFK, &p, |_| {});
        let year = |years: usize| {
            let end = play(&place, &p, &skies[..365 * years], |sky, acts| {
                mow_and_water(sky, acts);
                if sky.day == skies[90].day {
                    acts.push(Act::Tend(Tending::Lime { carbonate_g_m2: lime_g_m2 }));
                }
            });
            end.expect("sound evenings").end.totals.mineralized
        };
        [year(1), year(2), year(3)]
    };
    let c = CATALOGUE.central().reaction;
    let per_ph = c.lime_base_g_m2 + c.lime_per_clay_g_m2 * loam().lawn.soil.clay;
    let (limed, plain) = (freed(1.7 * per_ph), freed(0.0));
    let more = |year: usize| limed[year] - plain[year];
    let (first, third) = (more(0), more(2) - more(1));
    assert!((1.5..=4.2).contains(&first), "{first} g N/m2 in the first year");
    assert!((0.7..=1.0).contains(&third), "{third} g N/m2 in the third");
}

/// Each bad program, what it must be told, and the same put right.
#[test]
fn cautions_name_what_nobody_asked_for() {
    const ACID: &str =
        "[lawn.soil-test]\nph = 5.4\nlime = \"90 lb/1000 ft2\"\nphosphorus = 18\npotassium = 60\n";
    const RICH: &str = "[lawn.soil-test]\nph = 6.9\nphosphorus = 80\npotassium = 200\n";
    let late = |rate: &str| lime(&format!("rate = \"{rate} lb/1000 ft2\"\non = \"1 Dec\""));
    let bag = |analysis: &str| {
        let keys =
            format!("analysis = \"{analysis}\"\nnitrogen = \"0.7 lb N/1000 ft2\"\non = \"10 Sep\"");
        practice("feed", "spread", &keys)
    };
    let both = |day: &str| {
        format!(
            "{}{}",
            practice("feed", "spread", FEED),
            lime(&format!("rate = \"40 lb/1000 ft2\"\non = \"{day}\""))
        )
    };
    let sown = format!(
        "{}{}",
        bag("18-24-12"),
        practice(
            "seed",
            "overseed",
            "seed = { kind = \"perennial ryegrass\" }\nrate = \"6 lb/1000 ft2\"\non = \"12 Sep\""
        )
    );
    let once = lime("rate = \"40 lb/1000 ft2\"\non = \"1 Dec\"\ntimes = \"once\"");
    let twice = lime("rate = \"40 lb/1000 ft2\"\non = [\"20 Mar\", \"1 Dec\"]");
    for (code, bad, good) in [
        ("lime-without-test", ("", late("40")), (ACID, late("40"))),
        ("much-lime-at-once", (ACID, late("60")), (ACID, late("50"))),
        ("lime-not-needed", (RICH, late("40")), (ACID, late("40"))),
        (
            "lime-not-needed",
            ("[lawn.soil-test]\nph = 6.1\nlime = \"0 lb/1000 ft2\"\n", late("40")),
            (ACID, late("40")),
        ),
        ("lime-near-feeding", (ACID, both("15 Sep")), (ACID, both("1 Dec"))),
        ("lime-near-feeding", (ACID, both("1 Sep")), (ACID, both("20 Aug"))),
        ("more-lime-than-asked", (ACID, twice), (ACID, once)),
        ("phosphorus-without-test", ("", bag("18-3-6")), ("", sown)),
        ("phosphorus-enough", (RICH, bag("18-3-6")), (ACID, bag("18-3-6"))),
        ("potassium-enough", (RICH, bag("24-0-11")), (ACID, bag("24-0-11"))),
        (
            "old-soil-test",
            ("[lawn.soil-test]\ntaken = \"3 Mar 2020\"\nph = 6.5\n", String::new()),
            ("[lawn.soil-test]\ntaken = \"3 Mar 2025\"\nph = 6.5\n", String::new()),
        ),
    ] {
        assert!(
            codes(bad.0, &bad.1).contains(&code),
            "{code} is missed: {:?}",
            codes(bad.0, &bad.1)
        );
        assert!(!codes(good.0, &good.1).contains(&code), "{code} is told of what is in order");
    }
    // Each says which practice, what is usual and what to do.
    for caution in &checked(RICH, &format!("{}{}", late("60"), bag("18-3-6"))).cautions {
        assert!(caution.message.contains('`') && !caution.expected.is_empty(), "{caution:?}");
        assert!(caution.help.as_ref().is_some_and(|help| help.len() > 8), "{caution:?}");
    }
}

#[test]
fn what_a_test_cannot_mean_is_refused() {
    for (test, code) in [
        ("[lawn.soil-test]\nphosphorus = 20\nextractant = \"morgan\"\n", "not-a-choice"),
        ("[lawn.soil-test]\nextractant = \"olsen\"\n", "stray-key"),
        ("[lawn.soil-test]\nlime = \"50 lb/1000 ft2\"\n", "missing-key"),
        ("[lawn.soil-test]\nph = 6.8\nlime = \"50 lb/1000 ft2\"\n", "lime-past-target"),
        ("[lawn.soil-test]\nph = 68\n", "out-of-range"),
        ("[lawn.soil-test]\ntaken = \"3 Mar\"\n", "bad-day"),
    ] {
        let faults = check(&text(test, ""), carried::PRODUCTS).expect_err("a fault");
        let found: Vec<&str> = faults.iter().map(|fault| fault.code).collect();
        assert!(found.contains(&code), "{code}: {found:?}");
    }
    let twice = carried::example("thin-front-lawn").expect("the demo");
    let twice = twice.replace("ph = 6.3\n", "ph = 6.3\n[lawn.soil-test]\nph = 6.2\n");
    let faults = check(&twice, carried::PRODUCTS).expect_err("pH twice");
    assert!(faults.iter().any(|fault| fault.code == "exclude-each-other"));
}

/// The laboratory's figure is in pure carbonate: 75 lb at a CCE of 80 % is 94 lb of lime (Penn State's
/// example); the crew loads the lime as bought. Bags of 18-3-6 that lay a pound of nitrogen lay 0.17 lb
/// of phosphate and 0.33 lb of potash.
#[test]
fn amounts_are_those_of_the_tables() {
    let keys = "rate = \"94 lb/1000 ft2\"\nneutralizing-value = \"80 %\"\non = \"1 Dec\"";
    let bag = "analysis = \"18-3-6\"\nnitrogen = \"1 lb N/1000 ft2\"\non = \"10 Sep\"";
    let more = format!("{}{}", lime(keys), practice("feed", "spread", bag));
    let checked = checked("[lawn.soil-test]\nph = 5.4\n", &more);
    let practices = &checked.scenario.programs[0].practices;
    let What::Tend(tend) = &practices[1].what else { panic!("lime") };
    let Tending::Lime { carbonate_g_m2 } = tend.tending else { panic!("lime") };
    assert!((carbonate_g_m2 / LB_PER_1000_FT2 - 75.0).abs() < 0.5, "{carbonate_g_m2}");
    let load = &materials(&practices[1].what)[0];
    assert_eq!((load.name.as_str(), load.tool), ("calcitic lime", Tool::Spreader));
    assert!(matches!(load.dose, Dose::Dry(g) if (g / LB_PER_1000_FT2 - 94.0).abs() < 1e-6));
    let (phosphate, potash) = phosphate_and_potash_g_m2(&practices[2].what).expect("a feeding");
    assert!((phosphate / LB_PER_1000_FT2 - 0.17).abs() < 0.005);
    assert!((potash / LB_PER_1000_FT2 - 0.33).abs() < 0.005);
    let says = swardplay::words::practice::what(&practices[2].what, Units::Us);
    assert!(says.contains("of phosphate and") && says.contains("of potash"), "{says}");
    let says = swardplay::words::practice::what(&practices[1].what, Units::Us);
    assert!(says.contains("94 lb/1000 ft2 of calcitic lime"), "{says}");
}
