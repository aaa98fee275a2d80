//! The barrier picture: how long it holds, and the crabgrass that tries to come up behind it.

use sim::ensemble::Results;
use sim::scenario::{Practice, Scenario, What};

use super::sketch::{Content, Sketch, note, panel, span, ticks};
use crate::round;
use crate::units::Units;

/// The picture, where any program lays a barrier.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Option<Sketch> {
    let lays = |p: &Practice| matches!(p.what, What::PreEmergent { .. });
    let places: Vec<usize> = (0..results.programs.len())
        .filter(|i| scenario.programs.get(*i).is_some_and(|p| p.practices.iter().any(lays)))
        .collect();
    if places.is_empty() {
        return None;
    }
    let programs = places.iter().map(|i| (*i, results.programs[*i].title.clone())).collect();
    let barrier = panel(results, &places, "barrier", units)?;
    let pressure = panel(results, &places, "crabgrass_pressure", units)?;
    let title = title(results, &places);
    Some(Sketch {
        name: "barrier".into(),
        subtitle: format!("{}: share of emerging crabgrass that the barrier stops", scenario.title),
        alt: format!("Barrier strength and crabgrass emergence by day. {title}."),
        title,
        note: note(results),
        programs,
        content: Content::Barrier {
            span: span(results),
            barrier,
            pressure,
            laid: ticks(results, scenario, &places, lays),
        },
    })
}

/// How much of the crabgrass meets the barrier: the median barrier weighted by the mean flush.
/// Read from bands, so told as a typical share and not as odds of a season.
fn title(results: &Results, places: &[usize]) -> String {
    let told = |place: &usize| {
        let program = &results.programs[*place];
        let band = |key: &str| sim::ensemble::measure(key).and_then(|i| program.bands.get(i));
        let (barrier, flush) = (band("barrier")?, band("crabgrass_pressure")?);
        let all: f64 = flush.mean.iter().sum();
        let stopped: f64 = barrier.p50.iter().zip(&flush.mean).map(|(b, f)| b / 100.0 * f).sum();
        let share = if all > 0.0 { stopped / all } else { return None };
        Some((share, program.title.as_str()))
    };
    let mut shares: Vec<(f64, &str)> = places.iter().filter_map(told).collect();
    shares.sort_by(|a, b| b.0.total_cmp(&a.0));
    let percent = |share: f64| round::spoken(share * 100.0, 5.0);
    match shares[..] {
        [] => "How long the barrier holds".into(),
        [(share, name)] => {
            format!("With {name} the barrier meets about {} % of the crabgrass", percent(share))
        }
        [(first, name), .., (last, other)] => format!(
            "The barrier meets about {} % of the crabgrass with {name}, {} % with {other}",
            percent(first),
            percent(last)
        ),
    }
}
