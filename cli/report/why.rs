//! Why it came out so: how the barrier held, how the grass stood, and what the spread is made of.

use maud::{Markup, html};
use sim::ensemble::{MEASURES, ProgramResults, measure};
use sim::outcomes::outcome;

use super::Report;
use super::picture::figure;
use crate::pictures::sketch::{BarrierRow, Content, Span, unit_in_words};
use crate::round;
use crate::units::Units;
use crate::words::name::quoted;
use crate::words::program::CLAIMS;
use crate::words::spread;

/// A barrier that stops fewer than this of the crabgrass is told as worn off, %. Our judgement.
const HALF_PCT: f64 = 50.0;

/// What stands between a practice and the crabgrass.
const ON_THE_WAY: [&str; 4] = ["canopy_height", "leaf_area_index", "bare_ground", "root_depth"];

/// Months in which crabgrass comes up and spreads.
const SUMMER: std::ops::RangeInclusive<u8> = 5..=8;

pub(super) fn section(report: &Report) -> Markup {
    html! {
        section id="why" {
            h2 { "Why it came out so" }
            p {
                "No practice acts on crabgrass by a rule of thumb. Mowing and feeding act through how the \
                 grass then stands and what is cut, a barrier through the seedlings that it stops."
            }
            (barrier(report))
            (stand(report))
            (luck(report))
        }
    }
}

fn barrier(report: &Report) -> Markup {
    let drawn = report.picture("barrier");
    let Some(Content::Barrier(span, _, rows)) = drawn.map(|d| &d.sketch.content) else {
        return html! {};
    };
    let named = drawn.iter().flat_map(|d| &d.sketch.programs);
    html! {
        h3 { "The crabgrass barrier (pre-emergent herbicide)" }
        ul {
            @for (program, row) in named.zip(rows) {
                li { strong { (program.name) } ": " (held(span, row)) }
            }
        }
        (figure(drawn, "Grey: seedlings that try to come up. Dark: those that come through. The barrier \
                        is strongest when it has just been laid and watered in, and fades with warmth and \
                        moisture."))
    }
}

/// When a barrier was laid, how long it held, and what came through.
fn held(span: &Span, row: &BarrierRow) -> String {
    let date = |day: f64| {
        let days = jiff::Span::new().days(day.round() as i64);
        span.first.checked_add(days).map_or(String::new(), |d| d.strftime("%-d %B").to_string())
    };
    let laid: Vec<String> = row
        .laid
        .iter()
        .map(|(_, early, usual, late)| match (date(*early), date(*usual), date(*late)) {
            (early, usual, late) if early == late => format!("about {usual}"),
            (early, usual, late) => format!("about {usual} ({early} to {late})"),
        })
        .collect();
    let mut out = match laid.as_slice() {
        [] => "hardly ever laid. ".into(),
        _ => format!("laid {}. ", laid.join(", and again ")),
    };
    let holds = row.strength.p50.iter().rposition(|s| *s >= HALF_PCT);
    if let Some(last) = holds {
        let sum = |days: &[f64]| days.iter().sum::<f64>();
        let (all, later) = (sum(&row.trying), row.trying.get(last + 1..).map_or(0.0, sum));
        out.push_str(&format!(
            "In the middle future it stops half or more until {}",
            date(last as f64)
        ));
        if all > 0.0 {
            let percent = round::spoken(later / all * 100.0, 5.0);
            out.push_str(&format!(
                "; about {percent} % of the year's seedlings try only after that"
            ));
        }
        out.push_str(". ");
    }
    format!("{out}On average over the futures, {}.", row.result)
}

/// How the grass stood, a row a program.
fn stand(report: &Report) -> Markup {
    let Report { results, units, .. } = *report;
    let shown: Vec<usize> = ON_THE_WAY.iter().filter_map(|key| measure(key)).collect();
    html! {
        h3 { "How the grass stood" }
        p {
            "Tall, dense grass shades the ground, and crabgrass seedlings need light and gaps. Leaf area \
             is how many times the leaves would cover the ground."
        }
        table {
            caption { "Mean of May to August over all futures" }
            thead {
                tr {
                    th scope="col" { "Program" }
                    @for at in &shown { th scope="col" { (head(*at, units)) } }
                }
            }
            tbody {
                @for program in &results.programs {
                    tr {
                        th scope="row" { (program.title) }
                        @for at in &shown {
                            td.number { (round::fixed(summer_mean(report, program, *at), places(*at, units))) }
                        }
                    }
                }
            }
        }
    }
}

/// "Canopy height, in".
fn head(at: usize, units: Units) -> String {
    let kind = MEASURES[at];
    match units.shown(kind.unit).unit {
        "m2/m2" => "Leaf area".into(),
        unit => format!("{}, {}", kind.label, unit_in_words(kind.key, unit)),
    }
}

/// Decimals that an eye on a lawn could tell.
fn places(at: usize, units: Units) -> usize {
    usize::from(matches!(units.shown(MEASURES[at].unit).unit, "in" | "m2/m2"))
}

/// Mean of a measure over members and the days of summer, in the reader's units.
fn summer_mean(report: &Report, program: &ProgramResults, at: usize) -> f64 {
    let results = report.results;
    let days = program.bands.get(at).map_or(&[][..], |band| &band.mean[..]);
    let summer = days
        .iter()
        .enumerate()
        .filter(|(day, _)| SUMMER.contains(&results.first.plus(*day as i32).ymd().1));
    let (sum, count) = summer.fold((0.0, 0.0), |(sum, n), (_, value)| (sum + value, n + 1.0));
    report.units.shown(MEASURES[at].unit).value(sum / count)
}

/// What spreads the outcomes that are told as odds.
fn luck(report: &Report) -> Markup {
    let told: Vec<(&str, Vec<String>)> = CLAIMS
        .iter()
        .map(|claim| (claim.title, of_claim(report, claim.outcome)))
        .filter(|(_, told)| !told.is_empty())
        .collect();
    html! {
        @if !told.is_empty() {
            h3 { "What the spread is made of" }
            p {
                "The same program comes out differently from future to future. Part of that is weather, \
                 part is what nobody knows of this lawn (the ranges under \u{201c}What was \
                 assumed\u{201d}, and numbers of the model that differ from lawn to lawn), part is \
                 slips in the work."
            }
            @for (title, sentences) in &told {
                p { strong { (title) } }
                ul { @for sentence in sentences { li { (sentence) } } }
            }
        }
    }
}

/// A sentence for each program, or one where they are all the same.
fn of_claim(report: &Report, key: &str) -> Vec<String> {
    let results = report.results;
    let Some(at) = outcome(key) else { return vec![] };
    let each = results.programs.iter().zip(&results.spread);
    let told: Vec<(String, String)> = each
        .filter_map(|(program, shares)| {
            Some((quoted(&program.title), spread::parts(shares.get(at)?)))
        })
        .filter(|(_, told)| !told.is_empty())
        .collect();
    match told.as_slice() {
        [(_, first), rest @ ..]
            if told.len() == results.programs.len() && rest.iter().all(|(_, s)| s == first) =>
        {
            vec![format!("Every program: {first}.")]
        }
        _ => told.into_iter().map(|(name, told)| format!("{name}: {told}.")).collect(),
    }
}
