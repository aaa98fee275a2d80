//! The first screen: what came of it, for somebody who has never seen such a page.

use maud::{Markup, html};
use sim::ensemble::ProgramResults;

use super::Report;
use crate::words::belief;
use crate::words::caution;
use crate::words::choice::{self, Choice};
use crate::words::figure::Figure;
use crate::words::name::{futures, over, simulated, upper_first};
use crate::words::odds::Odds;
use crate::words::program::{odds, values};
use crate::words::ranked;
use crate::words::seen;
use crate::words::summary;

pub(super) fn section(report: &Report) -> Markup {
    let Report { results, scenario, units, .. } = *report;
    let few = summary::few(results.members);
    html! {
        h1 { (scenario.title) }
        @if !scenario.about.is_empty() { p { (scenario.about) } }
        p { (played(report)) }
        section.answer id="answer" {
            h2 { "The answer" }
            @if !few.is_empty() { p { strong { (few.trim_end()) } } }
            @for (about, sentence) in ranked::answer(results, scenario, units) {
                p { strong { (about) ". " } (sentence) }
            }
            @let choices = choice::choices(results, scenario, units);
            @if !choices.is_empty() {
                p { strong { "What each choice does." } }
                ul { @for each in &choices { li { (in_short(each)) } } }
            }
            p.quiet { (caution::record(results.record_years)) }
            p.lacks {
                strong { "Not in the model: " } (belief::in_a_line()) ". "
                "No plan here shows a cure for these."
            }
            p.quiet {
                "Before anybody acts on it: the product label and local law come first, and some products are \
                 for licensed applicators only. The cautions stand near the end."
            }
            (table(report))
        }
        @for sentence in seen::sentences(results, scenario) { p { (sentence) } }
    }
}

/// What was played, in one sentence.
fn played(report: &Report) -> String {
    let Report { results, weather, .. } = *report;
    let programs = match results.programs.len() {
        1 => "One program of care".into(),
        n => format!("{n} programs of care"),
    };
    let all = simulated(results.members);
    format!(
        "{programs} over {}, each played day by day through the same {all} in the weather of {}: other \
         weather, other slips in the work, and a slightly different lawn in each.",
        report.years(),
        weather.record.name
    )
}

/// One choice, with what it changes first of all and what it takes.
fn in_short(choice: &Choice) -> String {
    let of = |wanted: &dyn Fn(&str) -> bool| choice.changes.iter().find(|(head, _)| wanted(head));
    // What holds in most futures before what holds in some.
    let first = of(&|head| !["at times", "also"].contains(&head)).or_else(|| of(&|h| h != "also"));
    let change = match first {
        Some((head, how)) => format!(" {}. {how}.", upper_first(head)),
        None => " Nothing that matters.".into(),
    };
    format!("{}:{change} {}", choice.heading, choice.price).trim_end().to_string()
}

/// Counts, hours and cost, a row a program.
fn table(report: &Report) -> Markup {
    let Report { results, scenario, units, .. } = *report;
    let scales = ranked::ANSWERS.map(|claim| {
        let all: Vec<Odds> = results.programs.iter().map(|p| odds(p, claim)).collect();
        Odds::common_scale(&all)
    });
    let sum = |program: &ProgramResults, key: &str, unit| {
        Figure::new(values(program, key), unit, units, &scenario.crew.currency).middle()
    };
    html! {
        table {
            caption {
                "Counts are of simulated " (futures(results.members)) "; hours and cost are typical, "
                (over(scenario))
            }
            thead {
                tr {
                    th scope="col" { "Program" }
                    @for claim in ranked::ANSWERS { th scope="col" { (claim.title) } }
                    th scope="col" { "Crew hours" }
                    th scope="col" { "Cost of the work" }
                }
            }
            tbody {
                @for program in &results.programs {
                    tr {
                        th scope="row" { (program.title) }
                        @for (claim, scale) in ranked::ANSWERS.iter().zip(scales) {
                            td { (odds(program, claim).of_scale(scale)) }
                        }
                        td.number { (sum(program, "crew_hours", "h")) }
                        td.number { (sum(program, "cost", "currency")) }
                    }
                }
            }
        }
    }
}
