//! The seasons day by day, and one outcome as dots to count.

use maud::{Markup, html};

use super::Report;
use super::picture::figure;
use crate::pictures::{dots, title};
use crate::words::event;
use crate::words::name::quoted;

/// How bands are read.
const BANDS: &str = "How to read it: the thick line is the middle future, half of them lie above it and \
                     half below. The filled band holds half of the futures, and nine in ten lie between \
                     the thin lines. A wide band means that much may happen. No single future follows a \
                     band's edge. At the foot: when the work falls, the darker the more futures have it \
                     then.";

/// How dots are read.
const DOTS: &str = "Count the dots: each stands for the same share of all futures. Filled ones keep the \
                    line, hollow ones miss it.";

pub(super) fn section(report: &Report) -> Markup {
    let Report { results, scenario, units, .. } = *report;
    let claim = title::telling_claim(results);
    let dots = dots::name(claim);
    let occasions =
        results.programs.iter().map(|p| (p, event::sentences(results, scenario, p, units)));
    let occasions: Vec<_> = occasions.filter(|(_, told)| !told.is_empty()).collect();
    html! {
        section id="seasons" {
            h2 { "Through the seasons" }
            (figure(report.picture("overview"), BANDS))
            (figure(report.picture(&dots), DOTS))
            @if !occasions.is_empty() {
                h3 { "On the day" }
                @for (program, told) in &occasions {
                    p { (quoted(&program.title)) }
                    ul { @for sentence in told { li { (sentence) } } }
                }
            }
        }
    }
}
