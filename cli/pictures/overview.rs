//! The overview: turf, crabgrass, quality, nitrogen and organic matter under one time axis.

use sim::ensemble::Results;
use sim::scenario::Scenario;

use super::sketch::{Content, Sketch, every_program, note, panel, span, ticks};
use super::title;
use crate::units::Units;
use crate::words::program::QUALITY_ACCEPTABLE;

/// Measures shown, top to bottom.
const SHOWN: [&str; 5] =
    ["turf_cover", "crabgrass_cover", "quality", "mineral_n", "organic_matter"];

/// The overview of all programs.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Sketch {
    let places: Vec<usize> = (0..results.programs.len()).collect();
    let mut panels: Vec<_> =
        SHOWN.iter().filter_map(|key| panel(results, &places, key, units)).collect();
    if let Some(quality) = SHOWN.iter().position(|k| *k == "quality") {
        panels[quality].mark = Some((QUALITY_ACCEPTABLE, "6 = acceptable".into()));
    }
    let title = title::claim(results, title::telling_claim(results));
    Sketch {
        name: "overview".into(),
        subtitle: format!("{}: middle half and 9 in 10 of the futures, day by day", scenario.title),
        alt: format!("Daily bands for each program under one time axis. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Overview {
            span: span(results),
            panels,
            ticks: ticks(results, scenario, &places, |_| true),
        },
    }
}
