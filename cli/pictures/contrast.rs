//! Contrast pictures: the paired daily difference of two programs, where tracks were kept.

use sim::ensemble::{Band, MEASURES, Results, TrackRows, measure};
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::sketch::{Content, Panel, Sketch, note, span};
use crate::units::Units;
use crate::words::choice::{Verdict, verdict};

/// Measures shown.
const SHOWN: [&str; 2] = ["crabgrass_cover", "quality"];

/// One picture for each program that is based on another.
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
    let panels = SHOWN
        .iter()
        .filter_map(|key| {
            let index = measure(key)?;
            let shown = units.shown(MEASURES[index].unit);
            let scale = |v: f64| shown.difference(v);
            Some(Panel {
                label: MEASURES[index].label.into(),
                unit: shown.unit.into(),
                bands: vec![difference(with, without, index, results.days, scale)],
                mark: Some((0.0, "no difference".into())),
            })
        })
        .collect();
    let title = title(results, program, baseline);
    let difference = scenario.programs.get(program).map_or("", |p| p.difference.as_str());
    Some(Sketch {
        name: format!("contrast-{}", file_name(&this.id)),
        subtitle: format!("{} less {}: {difference}", this.title, other.title),
        alt: format!("Paired daily difference of two programs. {title}."),
        title,
        note: note(results),
        programs: vec![(program, this.title.clone()), (baseline, other.title.clone())],
        content: Content::Contrast { span: span(results), panels },
    })
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
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        values.sort_by(f64::total_cmp);
        let quantile = |p| crate::words::figure::quantile(&values, p);
        band.p05.push(quantile(0.05));
        band.p25.push(quantile(0.25));
        band.p50.push(quantile(0.5));
        band.p75.push(quantile(0.75));
        band.p95.push(quantile(0.95));
        band.mean.push(mean);
    }
    band
}

/// What the change does to crabgrass and to quality, whatever its sign.
fn title(results: &Results, program: usize, baseline: usize) -> String {
    let told = |key: &str, name: &str| {
        let outcome = OUTCOMES.iter().position(|o| o.key == key)?;
        let contrast = results
            .contrasts
            .iter()
            .find(|c| (c.program, c.baseline, c.outcome) == (program, baseline, outcome))?;
        let word = match verdict(contrast, &OUTCOMES[outcome], results.members) {
            Verdict::Better => "better",
            Verdict::Worse => "worse",
            Verdict::Same | Verdict::Fact => "no different",
            Verdict::EitherWay => "better or worse with the season",
            Verdict::TooFew => "too few futures to tell",
        };
        Some(format!("{name}: {word}"))
    };
    let parts: Vec<String> =
        [told("crabgrass_peak", "crabgrass"), told("quality_summer", "summer quality")]
            .into_iter()
            .flatten()
            .collect();
    format!("{}. {}", results.programs[program].title, parts.join("; "))
}

/// A program's key made safe for a file name.
pub fn file_name(id: &str) -> String {
    id.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect()
}
