//! What one choice changes, in the same weather: told with whatever sign it comes out.

use sim::ensemble::{Contrast, Results};
use sim::outcomes::{Better, OUTCOMES, OutcomeKind};
use sim::scenario::Scenario;

use super::figure;
use super::odds::{Odds, marks_of};
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
    } else if Odds::from_share(0.5, members).too_few() {
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
            out.push_str(&heading(results, scenario, program, baseline));
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
            format!("{} ({this} against {other})\n", p.difference)
        }
        Some(p) if p.based_on.is_some() => format!("{this} against {other}\n"),
        _ => format!("{this} against {other} (several things differ between them)\n"),
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
        [("better", Verdict::Better), ("worse", Verdict::Worse), ("either way", Verdict::EitherWay)]
    {
        for (contrast, kind, _) in of(wanted) {
            let change = change(contrast, kind, results.members, units, currency);
            let counts = counts(contrast, results.members);
            out.push_str(&format!("  {head:<11} {}: {change}; {counts}\n", kind.label));
        }
    }
    for (contrast, kind, _) in of(Verdict::Fact) {
        let change = change(contrast, kind, results.members, units, currency);
        out.push_str(&format!("  {:<11} {}: {change}\n", "also", kind.label));
    }
    for (head, wanted) in
        [("no difference that matters", Verdict::Same), ("too few to tell", Verdict::TooFew)]
    {
        let labels: Vec<String> = of(wanted).map(|(_, k, _)| lower_first(k.label)).collect();
        if !labels.is_empty() {
            out.push_str(&format!("  {head}: {}\n", labels.join("; ")));
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
    let error = 1.2533 * crate::round::spread_of(p05, p95) / f64::from(members.max(1)).sqrt();
    let said = figure::difference(kind.key, kind.unit, median, error, units, currency);
    format!("typically {said}")
}

/// "better in 15 of 20, the same in 4, worse in 1".
fn counts(contrast: &Contrast, members: u32) -> String {
    let worse = (1.0 - contrast.share_better - contrast.share_same).max(0.0);
    let shares = [contrast.share_better, contrast.share_same, worse];
    // The scale of the most uncertain of the three.
    let scale = shares
        .iter()
        .map(|s| Odds::from_share(*s, members).scale())
        .min_by_key(|scale| if *scale == members { 0 } else { *scale })
        .unwrap_or(members);
    let marks = marks_of(shares, scale);
    let parts: Vec<String> = ["better in", "the same in", "worse in"]
        .iter()
        .zip(marks)
        .filter(|(_, m)| *m > 0)
        .enumerate()
        .map(
            |(i, (head, m))| {
                if i == 0 { format!("{head} {m} of {scale}") } else { format!("{head} {m}") }
            },
        )
        .collect();
    parts.join(", ")
}

fn lower_first(label: &str) -> String {
    let mut chars = label.chars();
    chars.next().map_or(String::new(), |c| c.to_lowercase().chain(chars).collect())
}
