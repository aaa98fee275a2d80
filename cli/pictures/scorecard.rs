//! The scorecard: outcomes beside hours and cost.

use sim::ensemble::Results;
use sim::outcomes::{Better, OUTCOMES, OutcomeKind};
use sim::scenario::Scenario;

use super::sketch::{Content, ScoreRow, Sketch, every_program, note, unit_in_words};
use super::title;
use crate::units::Units;
use crate::words::figure::Figure;
use crate::words::name;
use crate::words::program::values;

/// Outcomes shown, top to bottom.
const SHOWN: [&str; 9] = [
    "crabgrass_peak",
    "quality_summer",
    "turf_cover_end",
    "organic_matter_change",
    "n_leached",
    "runoff",
    "water_used",
    "crew_hours",
    "cost",
];

/// Of these, what is shown only where programs differ in it by what matters.
const IF_DIFFERENT: [&str; 2] = ["organic_matter_change", "runoff"];

/// Of these, what adds up over the run.
const SUMS: [&str; 5] = ["n_leached", "runoff", "water_used", "crew_hours", "cost"];

/// The scorecard of all programs.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Sketch {
    let title = title::cost(results, scenario, units)
        .unwrap_or_else(|| title::claim(results, title::telling_claim(results)));
    let covered = results
        .programs
        .first()
        .map_or(String::new(), |p| Figure::new(values(p, "cost"), "currency", units, "").covered());
    Sketch {
        name: "scorecard".into(),
        subtitle: format!("{}: what each program brings, and what it takes", scenario.title),
        alt: format!("Outcomes, hours and cost of each program. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Scorecard(
            format!("{covered} {}", name::futures(results.members)),
            rows(results, scenario, units),
        ),
    }
}

fn rows(results: &Results, scenario: &Scenario, units: Units) -> Vec<ScoreRow> {
    let kinds = SHOWN.iter().filter_map(|key| OUTCOMES.iter().find(|o| o.key == *key));
    kinds
        .filter_map(|kind| {
            let figure = |p| {
                Figure::new(values(p, kind.key), kind.unit, units, &scenario.crew.currency)
                    .as_fine_as(kind.key)
            };
            let figures: Vec<Figure> = results.programs.iter().map(figure).collect();
            // What no program has, such as irrigation, would only take up room.
            let any = figures.iter().any(|f| !f.is_nothing());
            let wanted = !IF_DIFFERENT.contains(&kind.key) || differ(&figures, kind, units);
            (any && wanted).then(|| ScoreRow {
                label: kind.label.into(),
                remark: remark(kind, scenario, units),
                cells: figures.iter().map(cell).collect(),
            })
        })
        .collect()
}

/// Whether typical values lie further apart than the least difference that matters.
fn differ(figures: &[Figure], kind: &OutcomeKind, units: Units) -> bool {
    let middles = || figures.iter().map(|f| f.quantile(0.5)).filter(|v| v.is_finite());
    let (low, high) = (middles().reduce(f64::min), middles().reduce(f64::max));
    let least = units.shown(kind.unit).difference(kind.least_difference);
    low.zip(high).is_some_and(|(low, high)| high - low >= least)
}

fn cell(figure: &Figure) -> ([f64; 3], String, Option<String>) {
    let (low, high) = figure.range();
    ([low, figure.quantile(0.5), high], figure.short(), figure.between())
}

/// "hours over 2 seasons, less is better".
pub fn remark(kind: &OutcomeKind, scenario: &Scenario, units: Units) -> String {
    let currency = scenario.crew.currency.as_str();
    let unit = match units.shown(kind.unit).unit {
        // A symbol stands before each figure.
        "currency" if currency.chars().any(char::is_alphanumeric) => currency.to_string(),
        "currency" => "crew time, products and water".into(),
        "h" => "hours".into(),
        other => unit_in_words(kind.key, other),
    };
    let sum =
        if SUMS.contains(&kind.key) { format!(" {}", name::over(scenario)) } else { String::new() };
    let better = match kind.better {
        Better::Higher => ", more is better",
        Better::Lower => ", less is better",
        Better::Neither => "",
    };
    format!("{unit}{sum}{better}")
}
