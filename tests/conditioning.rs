//! Members chosen by what was seen, against synthetic truth: a lawn that the model itself played out,
//! of which only two looks in July are told. A check of the method, not of the model: nothing here is
//! measured on a real lawn.

use sim::draw::{Purpose, Streams, key, standard_normal};
use sim::ensemble::{Continue, MEASURES, Results, RunPlan, measure, quantile_sorted, run};
use sim::outcomes::outcome;
use sim::parameters::Catalogue;
use sim::scenario::check;
use sim::weather::Record;
use swardplay::carried;

/// 20 July, as a day of the run: in June what is up says little of August yet.
const LOOK_DAY: usize = 200;
/// Standard errors of the looks, points of the lawn.
const SD: [f64; 2] = [5.0, 1.5];

/// The demo's lawn with its usual care for one season, and some more text.
fn text(more: &str) -> String {
    let demo = carried::example("thin-front-lawn").expect("the demo");
    let lawn = demo.split("[[program]]").next().expect("a lawn");
    let lawn = lawn.replace("seasons = 2", "seasons = 1");
    let care = "\n[[program]]\nid = \"usual\"\n[[program.practice]]\nkey = \"mow\"\ndo = \"mow\"\n\
                height = \"3 in\"\nevery = \"10 days\"\nfrom = \"10 Apr\"\nto = \"5 Nov\"\n";
    format!("{lawn}{care}{more}")
}

fn play(text: &str, record: &Record, members: u32, seed: u64, keep_tracks: bool) -> Results {
    let checked = check(text, carried::PRODUCTS).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let catalogue = Catalogue::embedded();
    let plan = RunPlan {
        scenario: &checked.scenario,
        record,
        so_far: None,
        catalogue: &catalogue.entries,
        members,
        seed,
        threads: 0,
        keep_tracks,
    };
    run(&plan, &catalogue, &|_| Continue::Yes).expect("a run")
}

/// 5 and 95 % quantiles of crabgrass at the end of August.
fn august(results: &Results) -> (f64, f64) {
    let at = outcome("crabgrass_last_august").expect("an outcome");
    let mut values = results.programs[0].outcomes[at].clone();
    values.sort_by(f64::total_cmp);
    (quantile_sorted(&values, 0.05), quantile_sorted(&values, 0.95))
}

/// Bands narrow to under two thirds, and still cover: of 24 truths at least 18 lie within the 90 %
/// band (0.4 % of 24 true 90 % bands would cover fewer; binomial).
#[test]
fn bands_narrow_and_still_cover() {
    let station = carried::station("jfk").expect("a carried record");
    let record = station.read().expect("it reads").record;
    let before = august(&play(&text(""), &record, 300, 1, false));
    let truths = play(&text(""), &record, 24, 99, true);
    let tracks = truths.programs[0].tracks.as_ref().expect("tracks");
    let at = outcome("crabgrass_last_august").expect("an outcome");
    let looks = ["turf_cover", "crabgrass_cover"].map(|m| measure(m).expect("a measure"));
    let streams = Streams::new(7);
    let (mut covered, mut width) = (0, 0.0);
    for (number, track) in tracks.iter().enumerate() {
        let seen: [f64; 2] = std::array::from_fn(|i| {
            let truth = f64::from(track[LOOK_DAY * MEASURES.len() + looks[i]]);
            let luck = &mut streams.keyed(number as u32, Purpose::Facts, key("look"), i as i32);
            (truth + SD[i] * standard_normal(luck)).clamp(0.0, 100.0)
        });
        let look = |at: &str, seen: f64, sd: f64| {
            format!(
                "\n[[scouting.look]]\non = \"20 Jul\"\nat = \"{at}\"\nseen = \"{seen:.2} %\"\n\
                 give-or-take = \"{sd} %\"\n"
            )
        };
        let more = format!(
            "\n[scouting]\nprogram = \"usual\"\n{}{}",
            look("grass-cover", seen[0], SD[0]),
            look("crabgrass", seen[1], SD[1])
        );
        let results = play(&text(&more), &record, 120, 1, false);
        let about = results.conditioning.as_ref().expect("a choice");
        assert!(about.effective >= 5.0 && about.tried >= 120, "{about:?}");
        let (low, high) = august(&results);
        let truth = truths.programs[0].outcomes[at][number];
        covered += usize::from((low..=high).contains(&truth));
        width += (high - low) / tracks.len() as f64;
    }
    assert!(covered >= 18, "{covered} of 24 covered");
    assert!(width < 0.67 * (before.1 - before.0), "{width} where {before:?} before");
}

/// The year before under usual care: what comes out is what was seen, at the start and a year earlier.
#[test]
fn the_year_before_ends_as_the_walk_round_found_it() {
    let station = carried::station("jfk").expect("a carried record");
    let record = station.read().expect("it reads").record;
    let seen =
        |text: String| text.replace("[lawn.seen]\n", "[lawn.seen]\nseason-before = \"usual\"\n");
    let results = play(&seen(text("")), &record, 150, 3, false);
    let about = results.conditioning.as_ref().expect("a choice");
    assert!(about.unlike.is_empty(), "{about:?}");
    let cover = measure("turf_cover").expect("a measure");
    let first = results.programs[0].bands[cover].p50[0];
    assert!((50.0..=60.0).contains(&first), "median cover {first} where 50-60 % was seen");
    // The same run again, and with more members behind it, is the same choice.
    assert_eq!(results, play(&seen(text("")), &record, 150, 3, false));
}
