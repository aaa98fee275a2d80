//! Dot pictures: one outcome as countable dots, a row a program.

use sim::ensemble::Results;
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use super::sketch::{Content, Dots, Sketch, every_program, note, unit_in_words};
use super::title;
use crate::words::figure::quantile;
use crate::words::odds::Odds;
use crate::words::program::{CLAIMS, Claim, odds, values};

/// Most dots in a row where every member is shown by its own.
const DOTS_MAX: u32 = 40;

/// One picture for each claim that is told as odds.
pub fn sketches(results: &Results, scenario: &Scenario) -> Vec<Sketch> {
    CLAIMS.iter().filter_map(|claim| sketch(results, scenario, claim)).collect()
}

/// Name of a claim's picture.
pub fn name(claim: &Claim) -> String {
    format!("dots-{}", claim.outcome.replace('_', "-"))
}

fn sketch(results: &Results, scenario: &Scenario, claim: &Claim) -> Option<Sketch> {
    let kind = OUTCOMES.iter().find(|o| o.key == claim.outcome)?;
    let title = title::claim(results, claim);
    let all: Vec<Odds> = results.programs.iter().map(|p| odds(p, claim)).collect();
    let scale = Odds::common_scale(&all);
    // Without a scale the members are few: each has its dot.
    let dots = scale.unwrap_or(results.members.min(DOTS_MAX));
    let rows = results.programs.iter().zip(&all);
    Some(Sketch {
        name: name(claim),
        subtitle: format!(
            "{}. Each dot stands for 1 in {dots} of the simulated futures",
            scenario.title
        ),
        alt: format!("Dot plot, a row a program. {title}."),
        title,
        note: note(results),
        programs: every_program(results),
        content: Content::Dots(Dots {
            axis: format!("{}, {}", kind.label, unit_in_words(kind.key, kind.unit)),
            rows: rows.map(|(p, o)| chosen(values(p, claim.outcome), claim, o, dots)).collect(),
            counts: all.iter().map(|o| short(&o.of_scale(scale))).collect(),
            remark: format!("simulated futures {}", claim.line_kept),
            line: (claim.line, claim.line_label.into()),
            above_is_good: claim.above_is_good,
        }),
    })
}

/// A count in as few words as a large type has room for.
fn short(count: &str) -> String {
    match count.split_once(' ') {
        Some(("none", _)) => "none".into(),
        Some(("all", _)) => "all".into(),
        Some(("fewer", rest)) => rest.replacen("than", "under", 1),
        Some(("more", rest)) => rest.replacen("than", "over", 1),
        _ => count.into(),
    }
}

/// `dots` values that stand for all: as many that keep the line as the count says, and the rest
/// that miss it, each the quantiles of its part. Quantiles of the whole could put a dot more or
/// less on one side than the words beside it.
fn chosen(values: &[f64], claim: &Claim, odds: &Odds, dots: u32) -> Vec<f64> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let (keep, miss): (Vec<f64>, Vec<f64>) = sorted.into_iter().partition(|v| claim.met(*v));
    let kept = if miss.is_empty() { dots } else { odds.marks(dots) };
    let kept = if keep.is_empty() { 0 } else { kept };
    let mut all = spread(&keep, kept);
    all.extend(spread(&miss, dots - kept));
    all.sort_by(f64::total_cmp);
    all
}

/// The quantiles (i + 1/2) / n of sorted values.
fn spread(sorted: &[f64], n: u32) -> Vec<f64> {
    (0..n).map(|i| quantile(sorted, (f64::from(i) + 0.5) / f64::from(n))).collect()
}
