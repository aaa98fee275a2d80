//! What one choice changes, in the same weather: told with whatever sign it comes out.

use sim::ensemble::{Contrast, Results};
use sim::outcomes::{Better, OUTCOMES, OutcomeKind};
use sim::scenario::Scenario;

use super::figure;
use super::lines::wrap;
use super::odds::{Odds, marks_of};
use crate::round;
use crate::units::Units;

/// What a contrast amounts to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Better, by at least the least difference that matters, in most members.
    Better,
    /// Worse, so.
    Worse,
    /// The same within the least difference, in most members.
    Same,
    /// None of these holds most of the time: the weather, the lawn or the crew decides.
    EitherWay,
    /// More or less of something that is neither good nor bad.
    Fact,
    /// The members are too few to tell.
    TooFew,
}

/// Outcomes that are named even where nothing came of a choice; contrasts.csv has all.
const MAIN: [&str; 8] = [
    "crabgrass_peak",
    "quality_summer",
    "days_acceptable",
    "turf_cover_end",
    "organic_matter_change",
    "n_leached",
    "crew_hours",
    "cost",
];

/// Words for the three parts of a count.
const COUNTED: [&str; 3] = ["better", "the same", "worse"];

/// Judges a contrast. A verdict needs a share whose binomial interval lies wholly above one half.
pub fn verdict(contrast: &Contrast, kind: &OutcomeKind, members: u32) -> Verdict {
    let surely_most = |share: f64| Odds::from_share(share, members).interval().0 > 0.5;
    if kind.better == Better::Neither {
        let large = contrast.quantiles[2].abs() >= kind.least_difference;
        return if large { Verdict::Fact } else { Verdict::Same };
    }
    let worse = (1.0 - contrast.share_better - contrast.share_same).max(0.0);
    if surely_most(contrast.share_better) {
        Verdict::Better
    } else if surely_most(worse) {
        Verdict::Worse
    } else if surely_most(contrast.share_same) {
        Verdict::Same
    } else if Odds::from_share(0.5, members).scale().is_none() {
        Verdict::TooFew
    } else {
        Verdict::EitherWay
    }
}

/// Tells what every program changes against the one that it is compared with.
pub fn tell(results: &Results, scenario: &Scenario, units: Units) -> String {
    let mut out = String::new();
    for program in 0..results.programs.len() {
        let of_program = || results.contrasts.iter().filter(|c| c.program == program);
        let mut baselines: Vec<usize> = of_program().map(|c| c.baseline).collect();
        baselines.dedup();
        for baseline in baselines {
            let contrasts: Vec<_> = of_program().filter(|c| c.baseline == baseline).collect();
            out.push_str(&wrap(&heading(results, scenario, program, baseline), 0, 2));
            out.push_str(&lines(results, &contrasts, units, &scenario.crew.currency));
        }
    }
    out
}

/// "Seven days instead of fourteen (Weekly against Usual care)".
fn heading(results: &Results, scenario: &Scenario, program: usize, baseline: usize) -> String {
    let title = |i: usize| results.programs.get(i).map_or("", |p| p.title.as_str());
    let (this, other) = (title(program), title(baseline));
    match scenario.programs.get(program) {
        Some(p) if p.based_on.is_some() && !p.difference.is_empty() => {
            format!("{} ({this} against {other})", p.difference)
        }
        Some(p) if p.based_on.is_some() => format!("{this} against {other}"),
        _ => format!("{this} against {other} (several things differ between them)"),
    }
}

fn lines(results: &Results, contrasts: &[&Contrast], units: Units, currency: &str) -> String {
    let judged: Vec<(&Contrast, &OutcomeKind, Verdict)> = contrasts
        .iter()
        .filter_map(|c| {
            let kind = OUTCOMES.get(c.outcome)?;
            Some((*c, kind, verdict(c, kind, results.members)))
        })
        .collect();
    let of = |wanted: Verdict| judged.iter().filter(move |(_, _, v)| *v == wanted);
    let mut out = String::new();
    for (head, wanted) in
        [("better", Verdict::Better), ("worse", Verdict::Worse), ("it depends", Verdict::EitherWay)]
    {
        for (contrast, kind, _) in of(wanted) {
            let change = change(contrast, kind, results.members, units, currency);
            let counts = counts(contrast, results.members, COUNTED, "");
            let line = format!("{head:<11} {}: {change}; {counts}", kind.label);
            out.push_str(&wrap(&line, 2, 14));
        }
    }
    for (contrast, kind, _) in of(Verdict::Fact) {
        let change = change(contrast, kind, results.members, units, currency);
        out.push_str(&wrap(&format!("{:<11} {}: {change}", "also", kind.label), 2, 14));
    }
    for (head, wanted) in
        [("no difference that matters", Verdict::Same), ("too few to tell", Verdict::TooFew)]
    {
        let main = of(wanted).filter(|(_, k, _)| MAIN.contains(&k.key));
        let labels: Vec<String> = main.map(|(_, k, _)| lower_first(k.label)).collect();
        if !labels.is_empty() {
            out.push_str(&wrap(&format!("{head}: {}", labels.join("; ")), 2, 4));
        }
    }
    out
}

fn change(
    contrast: &Contrast,
    kind: &OutcomeKind,
    members: u32,
    units: Units,
    currency: &str,
) -> String {
    let [p05, _, median, _, p95] = contrast.quantiles;
    let error = 1.2533 * round::spread_of(p05, p95) / f64::from(members.max(1)).sqrt();
    let said = figure::difference(kind.key, kind.unit, median, error, units, currency);
    format!("typically {said}")
}

/// "better in 15 of 20, the same in 4, worse in 1"; `called` ("simulated seasons") follows the
/// first count, and may be empty.
pub fn counts(contrast: &Contrast, members: u32, words: [&str; 3], called: &str) -> String {
    let worse = (1.0 - contrast.share_better - contrast.share_same).max(0.0);
    let shares = [contrast.share_better, contrast.share_same, worse];
    if let Some(sure) = shares.iter().position(|s| *s >= 1.0) {
        return format!("{} in all {called}", words[sure]).trim_end().to_string();
    }
    // The scale of the most uncertain of the three.
    let scales = shares.map(|s| Odds::from_share(s, members).scale());
    let scale = scales.into_iter().map(|s| s.unwrap_or(0)).min().unwrap_or(0);
    let scale = if scale == 0 { members } else { scale };
    let parts: Vec<String> = words
        .iter()
        .zip(marks_of(shares, scale))
        .filter(|(_, marks)| *marks > 0)
        .enumerate()
        .map(|(i, (word, marks))| match i {
            0 => format!("{word} in {marks} of {scale} {called}").trim_end().to_string(),
            _ => format!("{word} in {marks}"),
        })
        .collect();
    parts.join(", ")
}

fn lower_first(label: &str) -> String {
    let mut chars = label.chars();
    chars.next().map_or(String::new(), |c| c.to_lowercase().chain(chars).collect())
}
