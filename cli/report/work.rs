//! What each program takes: visits, hours and cost, season by season.

use std::collections::BTreeSet;

use maud::{Markup, html};
use sim::ensemble::ProgramResults;
use sim::scenario::{Hands, Program};

use super::Report;
use super::picture::figure;
use crate::words::figure::Figure;
use crate::words::name::{quoted, upper_first};
use crate::words::program::values;
use crate::words::setback;
use crate::words::summary::cost_means;

/// What is told, with its unit: visits, hours, cost.
const TOLD: [(&str, &str, &str); 3] = [
    ("Visits", "visits", "count"),
    ("Crew hours", "crew_hours", "h"),
    ("Cost", "cost", "currency"),
];

pub(super) fn section(report: &Report) -> Markup {
    let Report { results, scenario, units, .. } = *report;
    let covered = results
        .programs
        .first()
        .map_or(String::new(), |p| Figure::new(values(p, "cost"), "currency", units, "").covered());
    let years: Vec<i32> = scenario.years().collect();
    html! {
        section id="work" {
            h2 { "What it takes" }
            p { (cost_means(scenario)) }
            table {
                caption { "Typical, and below it the range of " (covered) " futures" }
                thead {
                    tr {
                        th scope="col" { "Season" }
                        @for (label, _, _) in TOLD { th scope="col" { (label) } }
                    }
                }
                @for (program, written) in results.programs.iter().zip(&scenario.programs) {
                    tbody {
                        tr.group { th scope="rowgroup" colspan="4" { (program.title) } }
                        @if years.len() > 1 {
                            @for year in &years {
                                tr {
                                    th scope="row" { (year) }
                                    @for ((_, _, unit), sums) in TOLD.iter().zip(season(program, written, *year)) {
                                        (cell(report, &sums, unit))
                                    }
                                }
                            }
                        }
                        tr {
                            th scope="row" { (whole(report)) }
                            @for (_, key, unit) in TOLD { (cell(report, values(program, key), unit)) }
                        }
                    }
                }
            }
            h3 { "Work that was due and not done" }
            ul {
                @for program in &results.programs {
                    li { (quoted(&program.title)) ": " (setback::lost(program)) }
                }
            }
            (figure(report.picture("scorecard"), ""))
        }
    }
}

/// "2026", "Both", "All 5".
fn whole(report: &Report) -> String {
    match report.scenario.seasons {
        0 | 1 => report.scenario.first_year.to_string(),
        2 => "Both".into(),
        n => format!("All {n}"),
    }
}

fn cell(report: &Report, values: &[f64], unit: &'static str) -> Markup {
    let figure = Figure::new(values, unit, report.units, &report.scenario.crew.currency);
    html! {
        td {
            span.number { (upper_first(&figure.middle())) }
            @if let Some(range) = figure.between() { span.range { (range) } }
        }
    }
}

/// Visits, hours and cost of one year, an entry a member whose work is kept.
fn season(program: &ProgramResults, written: &Program, year: i32) -> [Vec<f64>; 3] {
    let by_crew = |practice: u16| {
        written.practices.get(usize::from(practice)).is_none_or(|p| p.by == Hands::Crew)
    };
    let mut sums = [vec![], vec![], vec![]];
    for log in &program.work {
        let of_year = || log.iter().filter(|entry| entry.day.ymd().0 == year);
        let visits: BTreeSet<i32> =
            of_year().filter(|e| by_crew(e.practice)).map(|e| e.day.0).collect();
        sums[0].push(visits.len() as f64);
        sums[1].push(of_year().map(|e| e.minutes).sum::<f64>() / 60.0);
        sums[2].push(of_year().map(|e| e.cost).sum());
    }
    sums
}
