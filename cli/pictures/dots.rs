//! Dot pictures: one outcome as twenty countable futures a program.

use sim::ensemble::Results;
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::sketch::{Content, Dots, Sketch, every_program, note, unit_in_words};
use super::title;
use crate::words::program::{CLAIMS, Claim, odds, values};

/// Dots in a row: seasons that a person can count.
const DOTS: usize = 20;

/// One picture for each claim that is told as odds.
pub fn sketches(results: &Results, scenario: &Scenario) -> Vec<Sketch> {
    CLAIMS.iter().filter_map(|claim| sketch(results, scenario, claim)).collect()
}

fn sketch(results: &Results, scenario: &Scenario, claim: &Claim) -> Option<Sketch> {
    let kind = OUTCOMES.iter().find(|o| o.key == claim.outcome)?;
    let title = title::claim(results, claim);
    let rows: Vec<Vec<f64>> =
        results.programs.iter().map(|p| values(p, claim.outcome).to_vec()).collect();
    // Fewer members than dots: show those that there are.
    let dots = DOTS.min(results.members as usize);
    Some(Sketch {
        name: format!("dots-{}", claim.outcome.replace('_', "-")),
        subtitle: format!("{}. Each dot stands for 1 of {dots} futures", scenario.title),
        alt: format!("Dot plot, a row a program. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Dots(Dots {
            axis: format!("{}, {}", kind.label, unit_in_words(kind.key, kind.unit)),
            rows,
            counts: results.programs.iter().map(|p| odds(p, claim).of()).collect(),
            line: (claim.line, claim.line_label.into()),
            above_is_good: claim.above_is_good,
            dots,
        }),
    })
}
