//! report.html: the whole result in one file, to send to a client or to print.
//!
//! Everything stands inside it: the pictures as data, no script, nothing from elsewhere. All text goes
//! through [`maud`], which escapes it, and a policy in the page's head bars whatever might slip
//! through from running or loading. The order: the answer, the pictures, what it takes, why, what was
//! assumed, how far to believe it, cautions, how to repeat it.

mod answer;
mod assumed;
mod belief;
mod cautions;
mod choices;
mod picture;
mod repeat;
mod seasons;
mod why;
mod work;

use maud::{DOCTYPE, PreEscaped, html};
use sim::ensemble::Results;
use sim::parameters::Entry;
use sim::scenario::{Fault, Scenario};

use crate::engine::Weather;
use crate::files::run::RunRecord;
use crate::terminal::harmless;
use crate::units::Units;

pub use picture::Drawn;

/// File name of the report.
pub const NAME: &str = "report.html";

/// What the report is made from.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// The run.
    pub results: &'a Results,
    /// Its scenario.
    pub scenario: &'a Scenario,
    /// The reader's units.
    pub units: Units,
    /// The model's constants, for the share that rests on judgement.
    pub catalogue: &'a [Entry],
    /// Cautions of the scenario.
    pub cautions: &'a [Fault],
    /// The weather record.
    pub weather: &'a Weather,
    /// Every picture of the run.
    pub pictures: &'a [Drawn],
    /// What repeats the run.
    pub record: &'a RunRecord,
}

impl Report<'_> {
    /// The picture of this name.
    fn picture(&self, name: &str) -> Option<&Drawn> {
        self.pictures.iter().find(|drawn| drawn.sketch.name == name)
    }

    /// "2 seasons, 2026 to 2027", "the season of 2026".
    fn years(&self) -> String {
        let Scenario { seasons, first_year, .. } = *self.scenario;
        match seasons {
            0 | 1 => format!("the season of {first_year}"),
            _ => format!("{seasons} seasons, {first_year} to {}", first_year + seasons as i32 - 1),
        }
    }
}

/// Nothing may be loaded or run, whatever a text holds; pictures and style stand in the page.
const POLICY: &str = "default-src 'none'; img-src data:; style-src 'unsafe-inline'";

const STYLE: &str = include_str!("style.css");

/// The page.
pub fn page(report: &Report) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="generator" content=(format!("swardplay {}", report.record.swardplay));
                title { (report.scenario.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    (answer::section(report))
                    (seasons::section(report))
                    (work::section(report))
                    (choices::section(report))
                    (why::section(report))
                    (assumed::section(report))
                    (belief::section(report))
                    (cautions::section(report))
                    (repeat::section(report))
                }
            }
        }
    };
    let mut page = harmless(&page.into_string());
    page.push('\n');
    page
}
