//! How to repeat the run, and how to know that the repeat had the same inputs.

use maud::{Markup, html};

use super::Report;
use crate::round;

pub(super) fn section(report: &Report) -> Markup {
    let record = report.record;
    let hashes = [
        (format!("Scenario {}", record.scenario.name), record.scenario.sha256.as_str()),
        (format!("Weather {}", record.weather.name), record.weather.sha256.as_str()),
        ("Constants of the model".into(), record.parameters_sha256.as_str()),
        ("Products".into(), record.products_sha256.as_str()),
        ("Examples of local rules".into(), record.local_rules_sha256.as_str()),
    ];
    let so_far = record.weather_so_far.iter();
    let so_far = so_far.map(|h| (format!("Weather so far {}", h.name), h.sha256.as_str()));
    html! {
        section id="repeat" {
            h2 { "How to repeat it" }
            p { "The same version, scenario and seed give the same files, byte for byte:" }
            p { code { (record.repeat) } }
            table {
                caption { "The run" }
                thead { tr { th scope="col" { "What" } th scope="col" { "Value" } } }
                tbody {
                    tr { th scope="row" { "Version of swardplay" } td { (record.swardplay) } }
                    tr { th scope="row" { "Seed" } td { (record.seed) } }
                    tr {
                        th scope="row" { "Simulated futures" }
                        td { (round::spoken(f64::from(record.members), 1.0)) }
                    }
                    tr {
                        th scope="row" { "Days" }
                        td { (record.first_date) " to " (record.last_date) }
                    }
                    @for (what, hash) in hashes.into_iter().chain(so_far) {
                        tr { th scope="row" { (what) ", SHA-256" } td { code { (hash) } } }
                    }
                }
            }
        }
    }
}
