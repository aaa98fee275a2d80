//! What each single choice changed, in the same weather.

use maud::{Markup, html};

use super::Report;
use super::picture::figure;
use crate::pictures::contrast;
use crate::words::choice::{Choice, TYPICAL, choices};
use crate::words::name::{quoted, upper_first};

pub(super) fn section(report: &Report) -> Markup {
    let Report { results, scenario, units, .. } = *report;
    let choices = choices(results, scenario, units);
    html! {
        @if !choices.is_empty() {
            section id="choices" {
                h2 { "What each choice changed" }
                p {
                    "Both programs of a pair meet the same lawn and the same weather, future by future; \
                     what differs is what the choice does. A difference counts where it is as large as \
                     an eye or a purse would notice. " (TYPICAL)
                }
                @for choice in &choices { (one(report, choice)) }
            }
        }
    }
}

fn one(report: &Report, choice: &Choice) -> Markup {
    let id = report.results.programs.get(choice.program).map_or("", |p| p.id.as_str());
    let title = |at: usize| report.results.programs.get(at).map_or("", |p| p.title.as_str());
    let caption = format!(
        "Above zero, {} has more of it than {}; below zero, less. The line is the middle future, the \
         filled band holds half of them, nine in ten lie between the thin lines.",
        quoted(title(choice.program)),
        quoted(title(choice.baseline))
    );
    html! {
        h3 { (choice.heading) }
        @if !choice.price.is_empty() { p { (choice.price) } }
        ul {
            @for (head, how) in &choice.changes {
                li { strong { (upper_first(head)) } ". " (how) "." }
            }
            @for (head, what) in &choice.rest {
                li { strong { (upper_first(head)) } ": " (what) "." }
            }
        }
        (figure(report.picture(&contrast::name(id)), &caption))
    }
}
