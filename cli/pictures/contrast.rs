//! Contrast pictures: the paired daily difference of two programs.

use sim::ensemble::{Band, MEASURES, Results, TrackRows, measure};
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::sketch::{Content, DifferencePanel, Sketch, note, span, unit_in_words};
use crate::units::Units;
use crate::words::choice::{Verdict, counts, verdict};
use crate::words::figure::quantile;
use crate::words::program::tracks_are_called;

/// A measure shown.
struct Shown {
    key: &'static str,
    label: &'static str,
    above: &'static str,
    below: &'static str,
    /// The outcome whose least difference applies.
    outcome: &'static str,
}

const SHOWN: [Shown; 2] = [
    Shown {
        key: "crabgrass_cover",
        label: "Difference in crabgrass",
        above: "more crabgrass",
        below: "less crabgrass",
        outcome: "crabgrass_peak",
    },
    Shown {
        key: "quality",
        label: "Difference in quality",
        above: "better quality",
        below: "worse quality",
        outcome: "quality_summer",
    },
];

/// Outcomes that a title may speak of, with words for better, the same and worse.
const TOLD: [(&str, [&str; 3]); 3] = [
    ("crabgrass_peak", ["less crabgrass", "as much", "more"]),
    ("quality_summer", ["better summer quality", "the same", "worse"]),
    ("turf_cover_end", ["more turf at the end", "as much", "less"]),
];

/// One picture for each pair that is compared and kept its tracks.
pub fn sketches(results: &Results, scenario: &Scenario, units: Units) -> Vec<Sketch> {
    let mut pairs: Vec<(usize, usize)> =
        results.contrasts.iter().map(|c| (c.program, c.baseline)).collect();
    pairs.dedup();
    pairs
        .into_iter()
        .filter_map(|(program, baseline)| sketch(results, scenario, program, baseline, units))
        .collect()
}

fn sketch(
    results: &Results,
    scenario: &Scenario,
    program: usize,
    baseline: usize,
    units: Units,
) -> Option<Sketch> {
    let (this, other) = (results.programs.get(program)?, results.programs.get(baseline)?);
    let (with, without) = (this.tracks.as_ref()?, other.tracks.as_ref()?);
    let panels = SHOWN.iter().filter_map(|panel| {
        let index = measure(panel.key)?;
        let shown = units.shown(MEASURES[index].unit);
        let least = OUTCOMES.iter().find(|o| o.key == panel.outcome)?.least_difference;
        Some(DifferencePanel {
            label: panel.label.into(),
            unit: unit_of_difference(panel.key, shown.unit),
            band: difference(with, without, index, results.days, |v| shown.difference(v)),
            above: format!("{} with {}", panel.above, this.title),
            below: format!("{} with {}", panel.below, this.title),
            least: shown.difference(least),
        })
    });
    let title = title(results, program, baseline);
    Some(Sketch {
        name: format!("contrast-{}", file_name(&this.id)),
        subtitle: subtitle(results, scenario, program, baseline),
        alt: format!("Paired daily difference of two programs. {title}."),
        title,
        note: note(results),
        programs: vec![(program, this.title.clone()), (baseline, other.title.clone())],
        content: Content::Contrast(span(results), panels.collect()),
    })
}

fn unit_of_difference(key: &str, unit: &str) -> String {
    if unit == "1-9" { "points of the 1 to 9 scale".into() } else { unit_in_words(key, unit) }
}

fn subtitle(results: &Results, scenario: &Scenario, program: usize, baseline: usize) -> String {
    let title = |i: usize| results.programs.get(i).map_or("", |p| p.title.as_str());
    let pair = format!("{} less {}, in the same weather", title(program), title(baseline));
    match scenario.programs.get(program) {
        Some(p) if !p.difference.is_empty() => format!("{}. {pair}", p.difference),
        _ => pair,
    }
}

/// Quantiles by day of the difference, member by member.
fn difference(
    with: &[TrackRows],
    without: &[TrackRows],
    index: usize,
    days: usize,
    scale: impl Fn(f64) -> f64,
) -> Band {
    let mut band = Band::default();
    let at = |rows: &TrackRows, day: usize| rows.get(day * MEASURES.len() + index).copied();
    for day in 0..days {
        let mut values: Vec<f64> = with
            .iter()
            .zip(without)
            .filter_map(|(a, b)| Some(scale(f64::from(at(a, day)?) - f64::from(at(b, day)?))))
            .collect();
        // In the order of members, so that the sum has the same bits on every run.
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        values.sort_by(f64::total_cmp);
        band.p05.push(quantile(&values, 0.05));
        band.p25.push(quantile(&values, 0.25));
        band.p50.push(quantile(&values, 0.5));
        band.p75.push(quantile(&values, 0.75));
        band.p95.push(quantile(&values, 0.95));
        band.mean.push(mean);
    }
    band
}

/// The first outcome on which the two differ, whatever the sign, told in counts.
fn title(results: &Results, program: usize, baseline: usize) -> String {
    let name = |i: usize| results.programs.get(i).map_or("", |p| p.title.as_str());
    let pair = format!("{} against {}", name(program), name(baseline));
    let mut few = false;
    for (key, words) in TOLD {
        let found = OUTCOMES.iter().position(|o| o.key == key).and_then(|outcome| {
            let wanted = (program, baseline, outcome);
            results.contrasts.iter().find(|c| (c.program, c.baseline, c.outcome) == wanted)
        });
        let Some(contrast) = found else { continue };
        match verdict(contrast, &OUTCOMES[contrast.outcome], results.members) {
            Verdict::Better | Verdict::Worse | Verdict::EitherWay => {
                let called = tracks_are_called(results);
                return format!("{pair}: {}", counts(contrast, results.members, words, called));
            }
            Verdict::TooFew => few = true,
            Verdict::Same | Verdict::Fact => {}
        }
    }
    if few {
        format!("{pair}: too few futures to tell")
    } else {
        format!("{pair}: no difference that matters in crabgrass, quality or turf cover")
    }
}

/// A program's key made safe for a file name.
pub fn file_name(id: &str) -> String {
    id.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect()
}
