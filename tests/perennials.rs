//! Dandelion and clover under care and weather beyond what a sane person would try, and over 20 years:
//! books close, ground adds up ([`support::audit`], every evening), and what happens points the way
//! that trials and extension say.
mod support;

use sim::lawn::State;
use sim::parameters::Parameters;
use sim::weather::{RecordDay, Sky};
use sim::work::{Act, NitrogenForms};
use support::*;

fn members() -> impl Iterator<Item = Parameters> {
    std::iter::once(CATALOGUE.central()).chain((0..6).map(|m| drawn(1, m)))
}

/// A thin lawn with some of both.
fn weedy() -> Place {
    loam().with(|place| {
        place.turf_cover = 0.65;
        place.dandelion = Some(0.08);
        place.clover = Some(0.10);
    })
}

fn as_it_was(_: &mut RecordDay) {}

/// Plays days of the JFK record, begun anew past its end; every evening is audited.
fn play_days(
    place: &Place,
    p: &Parameters,
    days: usize,
    weather: fn(&mut RecordDay),
    crew: Crew,
) -> State {
    let skies = sky_path(&JFK, p, weather);
    let (setting, mut state) = place.start(p);
    let mut acts = Vec::new();
    for sky in skies.iter().cycle().take(days) {
        acts.clear();
        crew(sky, &mut acts);
        state.day(&setting, sky, &acts);
        audit(&state, &setting).unwrap_or_else(|fault| panic!("{}: {fault}", sky.day));
    }
    state
}

fn years(
    place: &Place,
    p: &Parameters,
    years: usize,
    weather: fn(&mut RecordDay),
    crew: Crew,
) -> State {
    play_days(place, p, 365 * years, weather, crew)
}

fn nobody(_: &Sky, _: &mut Vec<Act>) {}

fn fed_and_barred(sky: &Sky, acts: &mut Vec<Act>) {
    mow_weekly(sky, acts);
    feed(sky, acts);
    if date(sky) == (4, 10) {
        acts.push(barrier(0.55));
    }
}

fn barred(sky: &Sky, acts: &mut Vec<Act>) {
    mow_weekly(sky, acts);
    if date(sky) == (4, 10) {
        acts.push(barrier(0.55));
    }
}

fn ten_times_fed(sky: &Sky, acts: &mut Vec<Act>) {
    mow_weekly(sky, acts);
    if date(sky) == (5, 1) {
        acts.push(Act::LayNitrogen(NitrogenForms { urea_g_m2: 50.0, ..NitrogenForms::default() }));
    }
}

fn scalped(sky: &Sky, acts: &mut Vec<Act>) {
    if (95..320).contains(&sky.day_of_year) {
        acts.push(mow(10.0));
    }
}

#[test]
fn nothing_breaks_at_the_extremes() {
    for p in members() {
        for crew in [nobody as Crew, barred, ten_times_fed, scalped] {
            years(&weedy(), &p, 4, as_it_was, crew);
        }
        years(&weedy(), &p, 4, |d| d.precip_mm = 0.0, mow_weekly);
        years(&weedy(), &p, 4, |d| d.precip_mm *= 4.0, mow_weekly);
        let bare = weedy().with(|place| place.turf_cover = 0.0);
        years(&bare, &p, 4, as_it_was, nobody);
        let full = weedy().with(|place| {
            (place.turf_cover, place.dandelion, place.clover) = (1.0, Some(1.0), Some(1.0));
        });
        years(&full, &p, 4, as_it_was, mow_weekly);
    }
}

/// No rain kills most of the clover (extension: it thins in drought) and spares taproots longer.
#[test]
fn drought_takes_clover_before_dandelion() {
    let p = CATALOGUE.central();
    let (_, start) = weedy().start(&p);
    // From January to the end of July.
    let dry = play_days(&weedy(), &p, 210, |d| d.precip_mm = 0.0, mow_weekly);
    let clover = dry.clover.tissue.base / start.clover.tissue.base;
    let dandelion = dry.dandelion.stands[0].plants / start.dandelion.stands[0].plants;
    assert!(clover < 0.5 * dandelion, "{clover} {dandelion}");
}

/// Busey 2003; Murray et al. 1983; Sincik & Acikgoz 2007: fed turf keeps both down. Where crabgrass
/// opens the turf every year and nobody does anything, dandelions gain over the years.
#[test]
fn twenty_years() {
    let p = CATALOGUE.central();
    let fed = years(&weedy(), &p, 20, as_it_was, fed_and_barred);
    let hungry = years(&weedy(), &p, 20, as_it_was, barred);
    assert!(fed.clover.cover < 0.5 * hungry.clover.cover);
    assert!(fed.dandelion.cover < 0.03, "{}", fed.dandelion.cover);
    let left = weedy().with(|place| place.clover = None);
    let left = years(&left, &p, 12, as_it_was, mow_weekly);
    let (setting, start) = weedy().start(&p);
    assert!(left.dandelion.plants() > 2.0 * start.dandelion.plants());
    assert_eq!(left.clover.stock(&setting).c, 0.0);
}

/// 0 % is played: seed blows in, and a thin lawn has the first dandelions and clover after some years;
/// left out, there is none.
#[test]
fn none_seen_is_not_none_played() {
    let p = CATALOGUE.central();
    let seen_none = loam().with(|place| {
        place.turf_cover = 0.5;
        (place.dandelion, place.clover) = (Some(0.0), Some(0.0));
    });
    let (_, start) = seen_none.start(&p);
    assert_eq!(start.weed_cover(), 0.0);
    let end = years(&seen_none, &p, 5, as_it_was, mow_weekly);
    assert!(end.dandelion.emerged > 0.0 && end.dandelion.plants() > 0.0);
    assert!(end.clover.tissue.base > 0.0);
    let without = years(&loam(), &p, 5, as_it_was, mow_weekly);
    assert_eq!(without.perennial_cover() + without.dandelion.seed_rain, 0.0);
}

/// The demo's lawn with what was seen of weeds, and some more text at its end.
fn scenario(seen: &str, more: &str) -> Result<sim::scenario::Checked, Vec<sim::scenario::Fault>> {
    let demo = swardplay::carried::example("thin-front-lawn").expect("the demo");
    let lawn = demo.split("[[program]]").next().expect("a lawn");
    let lawn = lawn.replace("seasons = 2", "seasons = 1");
    let lawn = lawn.replace("[lawn.seen]", &format!("[lawn.seen]\n{seen}"));
    let care = "\n[[program]]\nid = \"usual\"\n[[program.practice]]\nkey = \"mow\"\ndo = \"mow\"\n\
                height = \"3 in\"\nevery = \"10 days\"\nfrom = \"10 Apr\"\nto = \"5 Nov\"\n";
    sim::scenario::check(&format!("{lawn}{care}{more}"), swardplay::carried::PRODUCTS)
}

/// A weed that the lawn is played without cannot be looked at, and what stands fits on the lawn.
#[test]
fn what_was_seen_is_checked() {
    let codes = |seen: &str, more: &str| -> Vec<String> {
        let faults = scenario(seen, more).map_or_else(|faults| faults, |_| Vec::new());
        faults.iter().map(|fault| fault.code.to_string()).collect()
    };
    let look =
        "\n[scouting]\n[[scouting.look]]\non = \"1 Jun\"\nat = \"dandelion\"\nseen = \"4 %\"\n";
    assert_eq!(codes("", look), ["unplayed-weed"]);
    assert!(codes("dandelion = \"8 %\"", look).is_empty());
    assert_eq!(codes("dandelion = \"40 %\"\nclover = \"40 %\"", ""), ["shares-do-not-add-up"]);
    let lawn = scenario("clover = [\"5 %\", \"12 %\"]", "").expect("sound").scenario.lawn;
    assert!(lawn.dandelion.is_none() && lawn.clover.is_some());
}

/// With the year before played, members are chosen by the dandelions and clover that were seen in its
/// autumn.
#[test]
fn the_year_before_ends_with_the_weeds_that_were_seen() {
    use sim::ensemble::{Continue, RunPlan, measure, run};
    let seen = "season-before = \"usual\"\ndandelion = \"15 %\"\nclover = \"3 %\"";
    let checked = scenario(seen, "").unwrap_or_else(|faults| panic!("{faults:#?}"));
    let plan = RunPlan {
        scenario: &checked.scenario,
        record: &JFK,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: 60,
        seed: 1,
        threads: 0,
        keep_tracks: false,
    };
    let results = run(&plan, &CATALOGUE, &|_| Continue::Yes).expect("a run");
    let about = results.conditioning.expect("members were chosen");
    let labels: Vec<&str> = about.seen.iter().map(|seen| seen.label).collect();
    assert!(labels.contains(&"dandelion last autumn") && labels.contains(&"clover last autumn"));
    // In May the lawn looks as last autumn's did.
    let band = |key: &str| &results.programs[0].bands[measure(key).expect("a measure")];
    assert!((10.0..22.0).contains(&band("broadleaf_cover").p50[140]));
    assert!(band("clover_cover").p50[140] < 8.0);
}
