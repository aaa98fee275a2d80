//! What to look at and to do before acting on a result.

use maud::{Markup, html};

use super::Report;
use crate::vet;
use crate::words::caution::USUAL;

pub(super) fn section(report: &Report) -> Markup {
    let rates = vet::unchecked(report.scenario, report.units);
    let read = vet::within_label(report.scenario, report.units);
    html! {
        section id="cautions" {
            h2 { "Before you act on it" }
            ul { @for caution in USUAL { li { (caution) } } }
            @if !report.cautions.is_empty() {
                table {
                    caption { "Cautions on these programs" }
                    thead {
                        tr {
                            @for head in ["What", "Expected", "How to mend it"] { th scope="col" { (head) } }
                        }
                    }
                    tbody {
                        @for caution in report.cautions {
                            tr {
                                th scope="row" { (caution.message.replace('`', "")) }
                                td { (caution.expected.replace('`', "")) }
                                td { (caution.help.as_deref().unwrap_or("").replace('`', "")) }
                            }
                        }
                    }
                }
            }
            @if !rates.is_empty() {
                p { "Not checked against your label: read it, and compare these rates." }
                ul { @for rate in &rates { li { (rate) } } }
            }
            @if !read.is_empty() {
                p { "Within the label figures that you gave, for once and for a year; read the rest." }
                ul { @for rate in &read { li { (rate) } } }
            }
            p {
                "Not checked either: local law beyond what the scenario states, licences, and whether a \
                 product is registered where the lawn is."
            }
        }
    }
}
