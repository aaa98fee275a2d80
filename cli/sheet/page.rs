//! sheet.html: the sheet to print and tick, in one file that needs nothing beside it.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use sim::analysis::sheet::Tool;

use super::phrases::{Lang, Say};
use super::told::{Caution, How, Month, Row, Season, Source};
use super::words::many;
use crate::terminal::harmless;

/// Nothing may be loaded or run, whatever a text holds.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'";

const STYLE: &str = include_str!("page.css");

/// The page; `repeat` is what makes it again.
pub(super) fn page(source: &Source, repeat: &str) -> String {
    let lang = source.lang();
    let seasons = source.seasons();
    let years: Vec<String> = source.years.iter().map(ToString::to_string).collect();
    let title = lang.fill(Say::WorkSheet, &[&years.join(", ")]);
    let page = html! {
        (DOCTYPE)
        html lang=(lang.tag()) {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " \u{2013} " (source.program.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    @for season in &seasons { (sheet(source, season)) }
                    (hows(source))
                    (bought(source))
                    (cautions(source))
                    footer { p { (repeat) } }
                }
            }
        }
    };
    let mut page = harmless(&page.into_string());
    page.push('\n');
    page
}

fn sheet(source: &Source, season: &Season) -> Markup {
    let lang = source.lang();
    let year = season.year.to_string();
    let heads = [Say::Day, Say::Work, Say::Minutes, Say::Cost, Say::DoneByLeft];
    html! {
        section.season {
            h1 { (lang.fill(Say::WorkSheet, &[&year])) }
            p.head { @for line in source.head() { span { (line) } " " } }
            p.planned { (season.planned) " " (lang.say(Say::LabelFirst)) }
            table.days {
                thead { tr { @for head in heads { th scope="col" { (lang.say(head)) } } } }
                @for each in &season.months { (month(each, lang)) }
                tfoot {
                    tr {
                        th scope="row" colspan="5" {
                            (lang.fill(Say::SeasonSum, &[&year])) ": " (season.sum)
                        }
                    }
                }
            }
            p.small {
                (lang.fill(Say::TravelIn, &[&source.scenario.crew.visit_minutes.round().to_string()]))
                " " (lang.say(Say::PlanNote))
                @if source.sheet.members < super::MEMBERS {
                    " " (lang.fill(Say::MoreFutures, &[&source.sheet.members.to_string()]))
                }
            }
        }
    }
}

fn month(month: &Month, lang: Lang) -> Markup {
    html! {
        tbody {
            tr.month { th scope="rowgroup" colspan="5" { b { (month.name) } span { (month.sum) } } }
            @for each in &month.rows { (row(each, lang)) }
        }
    }
}

fn row(row: &Row, lang: Lang) -> Markup {
    let many = many(row);
    html! {
        tr.day {
            th scope="row" {
                @if row.days.is_empty() { span.box {} }
                (row.when.replace(' ', "\u{a0}"))
            }
            td.work {
                @for job in &row.jobs {
                    p {
                        b { (job.name) } (job.does)
                        @for load in &job.loads { ". " span.load { (load) } }
                        @for note in &job.notes { span.note { (note) } }
                    }
                }
                @if !row.days.is_empty() {
                    p.ticks { @for day in &row.days { span.tick { span.box {} (day) } " " } }
                }
            }
            td.number { (many) (row.minutes) "\u{a0}min" }
            td.number { (many) (row.cost) }
            td.line data-label=(lang.say(Say::DoneByLeft)) { span {} }
        }
    }
}

fn hows(source: &Source) -> Markup {
    let lang = source.lang();
    html! {
        section {
            h2 { (lang.say(Say::HowTo)) }
            @for how in source.hows() { (one(lang, &how)) }
            @if source.uses(Tool::Sprayer) { p.how { (source.voice.calibration()) } }
        }
    }
}

fn one(lang: Lang, how: &How) -> Markup {
    html! {
        div.how {
            p {
                b { (how.name) } (how.does) "."
                @for line in &how.lines { " " (line) }
            }
            @for caution in &how.cautions {
                p.caution { b { (lang.say(Say::Caution)) } ": " (told(caution)) }
            }
        }
    }
}

fn told(caution: &Caution) -> Markup {
    html! {
        @if let Some(about) = caution.about { (about) " " }
        span lang="en" { (caution.text) }
    }
}

fn bought(source: &Source) -> Markup {
    let lang = source.lang();
    let bought = source.purchases();
    if bought.is_empty() {
        return html! {};
    }
    html! {
        section {
            h2 { (lang.say(Say::ToBuy)) }
            table.buy {
                thead {
                    tr {
                        th scope="col" { (lang.say(Say::Product)) }
                        @for year in &source.sheet.years { th scope="col" { (year) } }
                    }
                }
                tbody {
                    @for (name, amounts) in &bought {
                        tr {
                            th scope="row" { (name) }
                            @for amount in amounts { td { (amount) } }
                        }
                    }
                }
            }
            p.small { (source.typical()) }
        }
    }
}

fn cautions(source: &Source) -> Markup {
    let lang = source.lang();
    html! {
        section {
            h2 { (lang.say(Say::Cautions)) }
            ul {
                @for caution in source.before_you_start() { li { (caution) } }
                @for caution in source.cautions_on_all() { li { (told(&caution)) } }
            }
            @if lang != Lang::En {
                p.foot { (lang.say(Say::Foot)) " " span lang="en" { (Lang::En.say(Say::Foot)) } }
            }
        }
    }
}
