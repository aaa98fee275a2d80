//! What was assumed: the lawn, the weather, the programs, the work, and what is not known of them.

use maud::{Markup, html};
use sim::scenario::{Practice, Program};
use sim::weather::WeatherPlan;

use super::Report;
use crate::words::caution;
use crate::words::name::{choice, practice, quoted};
use crate::words::place::{self, Fact, Given};
use crate::words::practice as told;
use crate::words::rules;

pub(super) fn section(report: &Report) -> Markup {
    let Report { scenario, units, .. } = *report;
    let (lawn, work) = (place::lawn(scenario, units), place::work(scenario, units));
    let overrides = place::overrides(scenario);
    let ranges: Vec<&Fact> = lawn.iter().chain(&work).chain(&overrides).collect();
    html! {
        section id="assumed" {
            h2 { "What was assumed" }
            h3 { "The lawn" }
            (exact("The lawn as it was described", &lawn))
            h3 { "What is not known exactly" }
            (doubts(&ranges))
            p {
                "Besides these, numbers of the model that differ from lawn to lawn, or that studies leave \
                 open, take another value in every future."
            }
            h3 { "The weather" }
            (weather(report))
            @let rules = rules::sentences(scenario, units);
            @if !rules.is_empty() {
                h3 { "The rules of the place" }
                p { (rules) }
            }
            h3 { "The programs" }
            @for program in &scenario.programs { (care(report, program)) }
            h3 { "The work" }
            (exact("What work takes, and how reliably it is done", &work))
            @if !overrides.is_empty() {
                h3 { "Numbers of the model set by this scenario" }
                (exact("Set instead of the model's own", &overrides))
            }
        }
    }
}

/// Facts that have one value.
fn exact(caption: &str, facts: &[Fact]) -> Markup {
    html! {
        table {
            caption { (caption) }
            thead { tr { th scope="col" { "Fact" } th scope="col" { "Taken as" } } }
            tbody {
                @for fact in facts {
                    tr {
                        th scope="row" { (fact.what) }
                        td {
                            @match &fact.given {
                                Given::Exact(value) => { (value) }
                                Given::Range(low, _, high) => { (low) " to " (high) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Facts that are ranges.
fn doubts(facts: &[&Fact]) -> Markup {
    let ranges: Vec<_> = facts
        .iter()
        .filter_map(|fact| match &fact.given {
            Given::Range(low, likely, high) => Some((&fact.what, low, likely, high)),
            Given::Exact(_) => None,
        })
        .collect();
    html! {
        @if ranges.is_empty() {
            p { "Every fact of the lawn and the work was given as one value." }
        } @else {
            table {
                caption { "Each future draws its own value between low and high" }
                thead {
                    tr {
                        @for head in ["Fact", "Low", "Likeliest", "High"] { th scope="col" { (head) } }
                    }
                }
                tbody {
                    @for (what, low, likely, high) in ranges {
                        tr {
                            th scope="row" { (what) }
                            td.number { (low) }
                            td.number { (likely.as_deref().unwrap_or("any")) }
                            td.number { (high) }
                        }
                    }
                }
            }
        }
    }
}

fn weather(report: &Report) -> Markup {
    let record = &report.weather.record;
    let last = record.first.plus(record.days.len().max(1) as i32 - 1);
    let made = match report.scenario.weather.plan {
        WeatherPlan::Replay { from_year } => {
            format!("Every future has the recorded weather from {from_year} on.")
        }
        WeatherPlan::WholeYears => {
            "Simulated years are whole years of the record, drawn again and again.".into()
        }
        WeatherPlan::MatchedBlocks => {
            "Simulated years are pieced together from weeks of the record that fit each other."
                .into()
        }
    };
    html! {
        p {
            (record.name) ", " (record.first) " to " (last) ". " (made) " "
            (caution::record(report.results.record_years))
        }
        @if !report.weather.notes.is_empty() {
            ul { @for note in &report.weather.notes { li { (note) } } }
        }
    }
}

/// One program: its practices, or what differs from the one that it is made from.
fn care(report: &Report, program: &Program) -> Markup {
    let programs = &report.scenario.programs;
    let base = program.based_on.as_ref().and_then(|id| programs.iter().find(|p| p.id == *id));
    let shown: Vec<&Practice> = match base {
        Some(base) => program.practices.iter().filter(|p| !base.practices.contains(p)).collect(),
        None => program.practices.iter().collect(),
    };
    html! {
        h4 { (program.title) }
        @if let Some(base) = base {
            p { "As " (quoted(&base.title)) ", but: " (choice(&program.difference)) "." }
        } @else if shown.is_empty() {
            p { "No care at all." }
        }
        @if !shown.is_empty() {
            ul {
                @for each in shown {
                    li {
                        strong { (practice(&each.key)) } ". "
                        (told::tell(each, &program.practices, report.units))
                    }
                }
            }
        }
    }
}
