//! The scorecard: outcomes beside hours and cost.

use sim::ensemble::Results;
use sim::outcomes::{Better, OUTCOMES};
use sim::scenario::Scenario;

use super::sketch::{Content, ScoreRow, Sketch, every_program, note, unit_in_words};
use super::title;
use crate::units::Units;
use crate::words::figure::Figure;
use crate::words::program::values;

/// Outcomes shown, top to bottom.
const SHOWN: [&str; 7] = [
    "crabgrass_peak",
    "quality_summer",
    "turf_cover_end",
    "n_leached",
    "water_used",
    "crew_hours",
    "cost",
];

/// Longest text of a cell, characters; beyond it the range is left to the drawing.
const TEXT_MAX: usize = 17;

/// The scorecard of all programs.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Sketch {
    let title = title::claim(results, title::telling_claim(results));
    let covered = results
        .programs
        .first()
        .map_or(String::new(), |p| Figure::new(values(p, "cost"), "currency", units, "").covered());
    Sketch {
        name: "scorecard".into(),
        subtitle: format!("{}: typical value, and where {covered} futures lie", scenario.title),
        alt: format!("Outcomes, hours and cost of each program. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Scorecard(rows(results, &scenario.crew.currency, units)),
    }
}

fn rows(results: &Results, currency: &str, units: Units) -> Vec<ScoreRow> {
    let kinds = SHOWN.iter().filter_map(|key| OUTCOMES.iter().find(|o| o.key == *key));
    kinds
        .map(|kind| {
            let unit = match units.shown(kind.unit).unit {
                "currency" => currency.to_string(),
                other => unit_in_words(kind.key, other),
            };
            let better = match kind.better {
                Better::Higher => ", more is better",
                Better::Lower => ", less is better",
                Better::Neither => "",
            };
            let cells = results.programs.iter().map(|p| {
                let figure = Figure::new(values(p, kind.key), kind.unit, units, currency);
                let (low, high) = figure.range();
                let short = figure.short();
                let text = if short.len() > TEXT_MAX { figure.middle() } else { short };
                (low, figure.quantile(0.5), high, text)
            });
            ScoreRow {
                label: kind.label.into(),
                remark: format!("{unit}{better}"),
                cells: cells.collect(),
            }
        })
        .collect()
}
