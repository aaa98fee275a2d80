//! How far to believe it, and what the model lacks.

use maud::{Markup, html};

use super::Report;
use crate::words::{belief, caution};

pub(super) fn section(report: &Report) -> Markup {
    let seed = report.results.seed;
    html! {
        section id="belief" {
            h2 { "How far to believe it" }
            p { (belief::tried()) }
            p { (caution::judgement(report.catalogue).replace('`', "")) }
            p {
                "The counts come from one set of simulated futures (number " (seed) "). Another set would \
                 move them a little; no set covers what the model gets wrong, or what nobody thought of."
            }
            ul { @for said in belief::advice() { li { (said) } } }
            h3 { "What the model leaves out" }
            ul { @for entry in belief::left_out() { li { (entry) } } }
            p { "If the trouble of this lawn is on this list, no program here will show the cure." }
            h3 { "Where it missed what trials found" }
            p { "Where a decision hangs on one of these, go by the trials." }
            ul.columns { @for entry in belief::wrong() { li { (entry) } } }
        }
    }
}
