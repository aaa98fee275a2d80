//! Contrast pictures: the paired daily difference of two programs.

use sim::ensemble::{Contrast, Difference, MEASURES, Results, measure};
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::sketch::{
    Content, DifferencePanel, Sketch, map_band, note, span, these_programs, unit_in_words,
};
use crate::units::Units;
use crate::words::choice::{Verdict, counts, verdict};
use crate::words::name::{choice, quoted};

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

/// Outcomes that a title may speak of: words for better, the same and worse, and what they are of.
const TOLD: [(&str, [&str; 3], &str); 3] = [
    ("crabgrass_peak", ["less", "as much", "more"], "crabgrass"),
    ("quality_summer", ["better", "the same", "worse"], "summer quality"),
    ("turf_cover_end", ["more", "as much", "less"], "turf at the end"),
];

/// One picture for each pair that is compared.
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
    let panels = SHOWN.iter().filter_map(|panel| {
        let index = measure(panel.key)?;
        let shown = units.shown(MEASURES[index].unit);
        let least = OUTCOMES.iter().find(|o| o.key == panel.outcome)?.least_difference;
        Some(DifferencePanel {
            label: panel.label.into(),
            unit: unit_of_difference(panel.key, shown.unit),
            band: map_band(&found(results, program, baseline, index)?.band, |v| {
                shown.difference(v)
            }),
            above: format!("{} with {}", panel.above, quoted(&this.title)),
            below: format!("{} with {}", panel.below, quoted(&this.title)),
            least: shown.difference(least),
        })
    });
    let title = title(results, scenario, program, baseline);
    Some(Sketch {
        name: name(&this.id),
        subtitle: format!(
            "{} minus {}, in the same weather",
            quoted(&this.title),
            quoted(&other.title)
        ),
        alt: format!("Paired daily difference of two programs. {title}."),
        title,
        note: note(results),
        programs: these_programs(results, &[program, baseline]),
        content: Content::Contrast(span(results), panels.collect()),
    })
}

fn unit_of_difference(key: &str, unit: &str) -> String {
    if unit == "1-9" { "points of the 1 to 9 scale".into() } else { unit_in_words(key, unit) }
}

fn found(
    results: &Results,
    program: usize,
    baseline: usize,
    measure: usize,
) -> Option<&Difference> {
    let wanted = (program, baseline, measure);
    results.differences.iter().find(|d| (d.program, d.baseline, d.measure) == wanted)
}

/// Longest choice, in characters, that a title has room for.
const CHOICE_MAX: usize = 70;

/// The one choice in which the two differ; where it is long or not one choice, their names.
fn subject(results: &Results, scenario: &Scenario, program: usize, baseline: usize) -> String {
    let name = |i: usize| results.programs.get(i).map_or("", |p| p.title.as_str());
    match scenario.programs.get(program) {
        Some(p) if p.based_on.is_some() && (1..=CHOICE_MAX).contains(&p.difference.len()) => {
            choice(&p.difference)
        }
        _ => format!("{} against {}", quoted(name(program)), quoted(name(baseline))),
    }
}

/// The first outcome on which the two surely differ, whatever the sign, else the first on which it
/// depends, told in counts.
fn title(results: &Results, scenario: &Scenario, program: usize, baseline: usize) -> String {
    let subject = subject(results, scenario, program, baseline);
    let (mut few, mut depends) = (false, None);
    for (key, words, of) in TOLD {
        let found = OUTCOMES.iter().position(|o| o.key == key).and_then(|outcome| {
            let wanted = (program, baseline, outcome);
            results.contrasts.iter().find(|c| (c.program, c.baseline, c.outcome) == wanted)
        });
        let Some(contrast) = found else { continue };
        let told = || format!("{subject}: {}", counted(contrast, results.members, words, of));
        match verdict(contrast, &OUTCOMES[contrast.outcome], results.members) {
            Verdict::Better | Verdict::Worse => return told(),
            Verdict::AtTimes | Verdict::EitherWay => depends = depends.or_else(|| Some(told())),
            Verdict::TooFew => few = true,
            Verdict::Same | Verdict::Fact => {}
        }
    }
    if let Some(depends) = depends {
        return depends;
    }
    if few {
        format!("{subject}: too few futures to tell")
    } else {
        format!("{subject}: no difference that matters in crabgrass, quality or turf cover")
    }
}

/// "as much crabgrass in 11 of 20 futures, more in 9": the first count says what it is of.
fn counted(contrast: &Contrast, members: u32, words: [&str; 3], of: &str) -> String {
    let counts = counts(contrast, members, words, "futures");
    let first = words.into_iter().find_map(|word| Some((word, counts.strip_prefix(word)?)));
    first.map_or(counts.clone(), |(word, rest)| format!("{word} {of}{rest}"))
}

/// Name of the picture of a program's contrast, by the program's key.
pub fn name(id: &str) -> String {
    format!("contrast-{}", file_name(id))
}

/// A program's key made safe for a file name.
fn file_name(id: &str) -> String {
    id.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect()
}
