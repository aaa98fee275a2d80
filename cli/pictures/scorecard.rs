//! The scorecard: outcomes beside cost and hours.

use sim::ensemble::Results;
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::sketch::{Cell, Content, Sketch, every_program, note};
use super::title;
use crate::units::Units;
use crate::words::figure::Figure;
use crate::words::program::values;

/// Outcomes shown, left to right.
const SHOWN: [&str; 7] = [
    "crabgrass_peak",
    "quality_summer",
    "turf_cover_end",
    "n_leached",
    "water_used",
    "crew_hours",
    "cost",
];

/// The scorecard of all programs.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Sketch {
    let kinds: Vec<_> =
        SHOWN.iter().filter_map(|key| OUTCOMES.iter().find(|o| o.key == *key)).collect();
    let currency = scenario.crew.currency.as_str();
    let rows = results
        .programs
        .iter()
        .map(|p| {
            kinds
                .iter()
                .map(|k| {
                    let figure = Figure::new(values(p, k.key), k.unit, units, currency);
                    Cell { median: figure.quantile(0.5), text: figure.middle() }
                })
                .collect()
        })
        .collect();
    let title = title::claim(results, title::telling_claim(results));
    Sketch {
        name: "scorecard".into(),
        subtitle: format!("{}: typical (median) values", scenario.title),
        alt: format!("Table of outcomes, hours and cost, a row a program. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Scorecard {
            columns: kinds.iter().map(|k| k.label.to_string()).collect(),
            rows,
        },
    }
}
