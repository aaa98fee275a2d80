//! Dot pictures: one outcome as twenty countable futures a program.

use sim::ensemble::Results;
use sim::outcomes::{Better, OUTCOMES};
use sim::scenario::Scenario;

use super::sketch::{Content, Sketch, every_program, note};
use super::title;
use crate::words::program::{CLAIMS, CRABGRASS_LITTLE_PCT, QUALITY_ACCEPTABLE, values};

/// Dots in a row: seasons that a person can count.
const DOTS: u32 = 20;

/// One picture for each claim that is told as odds.
pub fn sketches(results: &Results, scenario: &Scenario) -> Vec<Sketch> {
    CLAIMS
        .iter()
        .filter_map(|claim| {
            let kind = OUTCOMES.iter().find(|o| o.key == claim.outcome)?;
            let line = match claim.outcome {
                "crabgrass_peak" => (CRABGRASS_LITTLE_PCT, "10 % of the lawn"),
                _ => (QUALITY_ACCEPTABLE, "6 = acceptable"),
            };
            let title = title::claim(results, claim);
            Some(Sketch {
                name: format!("dots-{}", claim.outcome.replace('_', "-")),
                subtitle: format!("{}: {}. Each dot is 1 of {DOTS}", scenario.title, kind.label),
                alt: format!("Dot plot, a row a program. {title}."),
                title,
                note: note(results),
                programs: every_program(results),
                content: Content::Dots {
                    unit: kind.unit.into(),
                    rows: results
                        .programs
                        .iter()
                        .map(|p| values(p, claim.outcome).to_vec())
                        .collect(),
                    line: Some((line.0, line.1.into())),
                    more_is_better: match kind.better {
                        Better::Higher => Some(true),
                        Better::Lower => Some(false),
                        Better::Neither => None,
                    },
                    // Fewer members than dots: show those that there are.
                    dots: DOTS.min(results.members),
                },
            })
        })
        .collect()
}
