//! The words and titles of a run, checked on fabricated results.

#[path = "fabricated/results.rs"]
mod fabricated;

use sim::ensemble::{Contrast, Results};
use sim::outcomes::OUTCOMES;
use sim::parameters::{Entry, Spread};
use swardplay::pictures;
use swardplay::pictures::sketch::Content;
use swardplay::units::Units;
use swardplay::words::choice::{Verdict, verdict};
use swardplay::words::summary::{Told, summary};

fn told(results: &Results, units: Units) -> String {
    let entry = |grade| Entry {
        name: "a.b".into(),
        value: 1.0,
        spread: Spread::Fixed,
        unit: "1".into(),
        source: String::new(),
        grade,
    };
    summary(&Told {
        results,
        scenario: &fabricated::scenario(),
        units,
        catalogue: &[entry('A'), entry('D')],
        cautions: &["rows of spruce".to_string()],
        folder: "out",
        files: &["outcomes.csv".to_string()],
    })
}

// Crabgrass runs evenly from 5 to 45 % (usual) and from 1 to 13 % (weekly): 1 of 8 and 3 of 4 lie
// below 10 %; the paired difference, -4 - 28 u with u even on 0 to 1, has the median -18 and
// passes -5 in 27 of 28.
#[test]
fn a_run_is_told_with_its_results_first() {
    let text = told(&fabricated::results(1000), Units::Us);
    let expected = "\
A thin lawn
2 programs over the season of 2026, each through the same 1,000 simulated futures.
Hours and cost add up over the season. Cost is what the work costs whoever does it: crew
time at 45 USD an hour, travel and set-up counted in, with products and water; not a price
to a client.

Crabgrass: The crabgrass stays under 10 % of the lawn in 15 of 20 simulated futures with
  “Weekly cuts”, and in 3 with “Usual care”.
Look, scored by eye from 1 to 9: Summer quality averages 6 (acceptable) or better in all
  1,000 simulated futures with “Weekly cuts”, and in none of the 1,000 with “Usual care”; a
  typical summer scores 5.5 to 6.5.
Cost: Over the season the work costs about 1,000 USD with “Usual care”, and 1,600 USD with
  “Weekly cuts”.

Usual care
  crabgrass at its worst  about 25 % (9 in 10 between 7 and 43)
  summer quality, 1-9     5.5
  turf cover at the end   70 %
  visits                  70
  missed or given up      none
  crew hours              20 h
  cost                    1,000 USD
  irrigation              2.8 in
  In 3 of 20 simulated futures the crabgrass stays under 10 % of the lawn.
  In none of the 1,000 simulated futures summer quality averages 6 (acceptable) or better.
  In none of the 1,000 simulated futures grass covers 75 % of the ground or more at the end.

Weekly cuts
  crabgrass at its worst  about 7 % (9 in 10 between 1 and 13)
  summer quality, 1-9     6.5
  turf cover at the end   70 %
  visits                  70
  missed or given up      none
  crew hours              32 h
  cost                    1,600 USD
  irrigation              2.8 in
  In 15 of 20 simulated futures the crabgrass stays under 10 % of the lawn (give or take: 14
    to 16).
  In all 1,000 simulated futures summer quality averages 6 (acceptable) or better.
  In none of the 1,000 simulated futures grass covers 75 % of the ground or more at the end.

What each choice changes, in the same weather
A typical difference is taken future by future; it need not be the difference of two typical
figures.
Mowing every week, not every other (“Weekly cuts” against “Usual care”)
  It typically takes 12 more hours and costs 600 USD more over the season; visits hardly
  change.
  better      Crabgrass at its worst: typically 18 points lower; better in 19 of 20 futures,
              the same in 1
  better      Mean quality, June to August: typically 1.0 points higher; better in all
              futures
  no difference that matters: days at quality 6 or better, April to October; turf cover at
    the end; change in organic matter, top 10 cm; nitrogen leached

The counts come from 1,000";
    assert!(text.starts_with(expected), "{text}");
}

#[test]
fn cautions_come_after_the_result_and_name_the_years_of_record() {
    let text = told(&fabricated::results(1000), Units::Us);
    let at = |part: &str| text.find(part).unwrap_or_else(|| panic!("{part} in {text}"));
    let order = [
        at("What each choice changes"),
        at("not known from so few years"),
        at("rows of spruce"),
        at("label and local law come first"),
        at("Files are in out"),
    ];
    assert!(order.is_sorted(), "{text}");
    let mut long = fabricated::results(1000);
    long.record_years = 30;
    let text = told(&long, Units::Us);
    assert!(text.contains("Weather: 30 years of record.\n"), "{text}");
    assert!(!text.contains("not known from so few years"), "{text}");
}

#[test]
fn too_few_members_make_no_claim() {
    let text = told(&fabricated::results(5), Units::Us);
    assert!(text.contains("5 futures are too few for odds"), "{text}");
    assert!(text.contains("In 4 of only 5 simulated futures"), "{text}");
    assert!(text.contains("too few to tell: crabgrass at its worst; mean quality"), "{text}");
    assert!(!text.contains("  better  "), "{text}");
    assert!(!text.contains(" of 20 "), "{text}");
}

#[test]
fn metric_readers_get_millimetres_and_a_member_is_a_future_however_long() {
    let mut results = fabricated::results(1000);
    results.days = 730;
    let text = told(&results, Units::Metric);
    assert!(text.contains("irrigation              70 mm\n"), "{text}");
    assert!(text.contains("In 15 of 20 simulated futures"), "{text}");
}

fn contrast(outcome: &str, share_better: f64, share_same: f64, median: f64) -> Contrast {
    Contrast {
        program: 1,
        baseline: 0,
        outcome: OUTCOMES.iter().position(|o| o.key == outcome).unwrap(),
        quantiles: [median - 1.0, median, median, median, median + 1.0],
        share_better,
        share_same,
        mean: median,
        mean_se: 0.1,
    }
}

#[test]
fn a_verdict_follows_the_shares_whatever_the_sign() {
    let judge = |share_better, share_same, members| {
        let contrast = contrast("crabgrass_peak", share_better, share_same, -8.0);
        verdict(&contrast, &OUTCOMES[contrast.outcome], members)
    };
    assert_eq!(judge(0.8, 0.1, 1000), Verdict::Better);
    assert_eq!(judge(0.1, 0.1, 1000), Verdict::Worse);
    assert_eq!(judge(0.1, 0.8, 1000), Verdict::Same);
    assert_eq!(judge(0.4, 0.2, 1000), Verdict::EitherWay);
    assert_eq!(judge(0.8, 0.1, 5), Verdict::TooFew);
    // 52 % of 1,000 is within chance of one half; of 100,000 it is not.
    assert_eq!(judge(0.52, 0.1, 1000), Verdict::EitherWay);
    // Sure, but told as 10 of 20: no word that 12 of 20 would have.
    assert_eq!(judge(0.52, 0.1, 100_000), Verdict::EitherWay);
    assert_eq!(judge(0.6, 0.1, 1000), Verdict::Better);
    assert_eq!(judge(0.5, 0.5, 1000), Verdict::AtTimes);
}

#[test]
fn a_choice_that_makes_things_worse_is_told_as_worse() {
    let mut results = fabricated::results(1000);
    results.contrasts = vec![
        contrast("crabgrass_peak", 0.05, 0.10, 9.0),
        contrast("quality_summer", 0.3, 0.3, 0.1),
        contrast("mowings", 0.0, 0.0, 12.0),
    ];
    let text = told(&results, Units::Us);
    assert!(
        text.contains(
            "worse       Crabgrass at its worst: typically 9 points higher; better in 1 of 20 \
             futures,\n              the same in 2, worse in 17\n"
        ),
        "{text}"
    );
    assert!(text.contains("it depends  Mean quality, June to August: "), "{text}");
    assert!(text.contains("also        Mowings: typically 12 more\n"), "{text}");
    let sketches = pictures::all(&results, &fabricated::scenario(), Units::Us);
    let picture = sketches.iter().find(|s| s.name == "contrast-weekly").unwrap();
    assert_eq!(
        picture.title,
        "Mowing every week, not every other: less crabgrass in 1 of 20 futures, as much in 2, more \
         in 17"
    );
}

#[test]
fn titles_carry_the_odds_of_the_claim_that_tells_most() {
    let results = fabricated::results(1000);
    let sketches = pictures::all(&results, &fabricated::scenario(), Units::Us);
    let title = |name: &str| &sketches.iter().find(|s| s.name == name).unwrap().title;
    assert_eq!(
        title("overview"),
        "Summer quality averages 6 or better in all 1,000 futures with “Weekly cuts”, in none of \
         the 1,000 with “Usual care”"
    );
    assert_eq!(
        title("dots-crabgrass-peak"),
        "Crabgrass stays under 10 % in 15 of 20 futures with “Weekly cuts”, in 3 with “Usual care”"
    );
}

#[test]
fn programs_that_cannot_be_told_apart_are_not_ranked() {
    let mut results = fabricated::results(1000);
    let same = results.programs[0].outcomes.clone();
    results.programs[1].outcomes = same;
    let sketches = pictures::all(&results, &fabricated::scenario(), Units::Us);
    assert_eq!(
        sketches[0].title,
        "Crabgrass stays under 10 % in 3 of 20 futures, whatever the program"
    );
}

#[test]
fn a_title_for_all_programs_does_not_speak_for_the_best_alone() {
    let mut results = fabricated::results(1000);
    let quality = OUTCOMES.iter().position(|o| o.key == "quality_summer").unwrap();
    results.programs.iter_mut().for_each(|p| p.outcomes[0] = vec![1.0; 1000]);
    results.programs[0].outcomes[0][0] = 40.0;
    results.programs.iter_mut().for_each(|p| p.outcomes[quality] = vec![5.0; 1000]);
    let sketches = pictures::all(&results, &fabricated::scenario(), Units::Us);
    assert_eq!(
        sketches[0].title,
        "Crabgrass stays under 10 % in more than 19 of 20 to all 1,000 futures, whatever the \
         program"
    );
}

#[test]
fn the_work_is_shown_on_the_days_it_was_done() {
    let results = fabricated::results(10);
    let sketches = pictures::all(&results, &fabricated::scenario(), Units::Us);
    let Content::Overview(span, panels, ticks, _) = &sketches[0].content else {
        panic!("the overview comes first")
    };
    assert_eq!(span.days, fabricated::DAYS);
    assert_eq!(panels.len(), 5);
    assert_eq!(ticks[0].practice, "Mow");
    // Every member mows on day 120, and on no other.
    assert_eq!(ticks[0].shares[120], 1.0);
    assert_eq!(ticks[0].shares.iter().sum::<f64>(), 1.0);
}

#[test]
fn as_many_dots_keep_the_line_as_the_count_says() {
    for members in [7, 30, 130, 1000] {
        let results = fabricated::results(members);
        for sketch in pictures::all(&results, &fabricated::scenario(), Units::Us) {
            let Content::Dots(dots) = sketch.content else { continue };
            for (row, count) in dots.rows.iter().zip(&dots.counts) {
                let kept = |v: &&f64| (**v >= dots.line.0) == dots.above_is_good;
                let kept = row.iter().filter(kept).count();
                let told = match count.split(' ').next() {
                    Some("all") => row.len(),
                    Some("none") => 0,
                    Some(number) => number.parse().unwrap(),
                    None => panic!("{count}"),
                };
                assert_eq!(kept, told, "{count} with {members} members");
            }
        }
    }
}

#[test]
fn a_currency_symbol_stands_before_the_figure_and_nothing_is_told_as_none() {
    let mut scenario = fabricated::scenario();
    scenario.crew.currency = "$".into();
    let mut results = fabricated::results(1000);
    let water = OUTCOMES.iter().position(|o| o.key == "water_used").unwrap();
    results.programs[0].outcomes[water] = vec![0.0; 1000];
    let text = summary(&Told {
        results: &results,
        scenario: &scenario,
        units: Units::Us,
        catalogue: &[],
        cautions: &[],
        folder: "out",
        files: &[],
    });
    assert!(text.contains("  cost                    $1,000\n"), "{text}");
    assert!(text.contains("and costs $600 more over the season; "), "{text}");
    assert!(text.contains("  irrigation              none\n"), "{text}");
}
