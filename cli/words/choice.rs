//! What one choice changes, in the same weather: told with whatever sign it comes out.

use sim::ensemble::{Contrast, Results};
use sim::outcomes::{Better, OUTCOMES, OutcomeKind};
use sim::scenario::Scenario;

use super::figure;
use super::lines::wrap;
use super::name::{self, lower_first, quoted};
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
    /// Better, or worse, in some members, the same in others, the contrary in hardly any.
    AtTimes,
    /// Better in some members and worse in others: the weather, the lawn or the crew decides.
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

/// What a choice takes: told in one sentence where the members agree.
const PRICE: [&str; 3] = ["visits", "crew_hours", "cost"];

/// Words for the three parts of a count.
const COUNTED: [&str; 3] = ["better", "the same", "worse"];

/// A share of futures below which better or worse ones are not worth a word.
const RARE: f64 = 0.1;

/// Judges a contrast. Better and worse need a count that is told as three fifths or more, and whose
/// binomial interval lies wholly above one half: the same printed count then has the same word. "The
/// same" needs that interval, and both others surely rare.
pub fn verdict(contrast: &Contrast, kind: &OutcomeKind, members: u32) -> Verdict {
    let surely_most = |share: f64| Odds::from_share(share, members).interval().0 > 0.5;
    let rare = |share: f64| Odds::from_share(share, members).interval().0 < RARE;
    if kind.better == Better::Neither {
        let large = contrast.quantiles[2].abs() >= kind.least_difference;
        return if large { Verdict::Fact } else { Verdict::Same };
    }
    let [better, _, worse] = shares(contrast);
    let scale = told_scale(contrast, members);
    let [marks_better, _, marks_worse] = marks_of(shares(contrast), scale);
    let clearly = |marks: u32, share: f64| 5 * marks >= 3 * scale && surely_most(share);
    if clearly(marks_better, better) {
        Verdict::Better
    } else if clearly(marks_worse, worse) {
        Verdict::Worse
    } else if surely_most(contrast.share_same) && rare(better) && rare(worse) {
        Verdict::Same
    } else if Odds::from_share(0.5, members).scale().is_none() {
        Verdict::TooFew
    } else if rare(better) || rare(worse) {
        Verdict::AtTimes
    } else {
        Verdict::EitherWay
    }
}

/// What one program changes against the one that it is compared with, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Place of the program.
    pub program: usize,
    /// Place of the one that it is compared with.
    pub baseline: usize,
    /// "Mow every 5 days instead of every 14 days (“Often” against “Usual care”)".
    pub heading: String,
    /// What it takes, in one sentence; empty where nothing of it is known.
    pub price: String,
    /// What it changes: "better", "worse", "it depends" or "also", and how.
    pub changes: Vec<(&'static str, String)>,
    /// What it leaves, or cannot be told: "no difference that matters", and the outcomes.
    pub rest: Vec<(&'static str, String)>,
}

/// Why typical differences and differences of typical figures are not the same.
pub const TYPICAL: &str = "A typical difference is taken future by future; it need not be the \
                           difference of two typical figures.";

/// Tells what every program changes against the one that it is compared with.
pub fn tell(results: &Results, scenario: &Scenario, units: Units) -> String {
    let mut out = String::new();
    for choice in choices(results, scenario, units) {
        out.push_str(&wrap(&choice.heading, 0, 2));
        if !choice.price.is_empty() {
            out.push_str(&wrap(&choice.price, 2, 2));
        }
        for (head, how) in &choice.changes {
            out.push_str(&wrap(&format!("{head:<11} {how}"), 2, 14));
        }
        for (head, what) in &choice.rest {
            out.push_str(&wrap(&format!("{head}: {what}"), 2, 4));
        }
    }
    out
}

/// What every program changes against the one that it is compared with.
pub fn choices(results: &Results, scenario: &Scenario, units: Units) -> Vec<Choice> {
    let mut out = Vec::new();
    for program in 0..results.programs.len() {
        let of_program = || results.contrasts.iter().filter(|c| c.program == program);
        let mut baselines: Vec<usize> = of_program().map(|c| c.baseline).collect();
        baselines.dedup();
        for baseline in baselines {
            let contrasts: Vec<_> = of_program().filter(|c| c.baseline == baseline).collect();
            out.push(choice(results, scenario, &contrasts, units));
        }
    }
    out
}

/// "Seven days instead of fourteen (“Weekly” against “Usual care”)".
fn heading(results: &Results, scenario: &Scenario, program: usize, baseline: usize) -> String {
    let title = |i: usize| results.programs.get(i).map_or("", |p| p.title.as_str());
    let pair = format!("{} against {}", quoted(title(program)), quoted(title(baseline)));
    match scenario.programs.get(program) {
        Some(p) if p.based_on.is_some() && !p.difference.is_empty() => {
            format!("{} ({pair})", name::choice(&p.difference))
        }
        Some(p) if p.based_on.is_some() => pair,
        _ => format!("{pair} (several things differ between them)"),
    }
}

/// A contrast with what it amounts to.
type Judged<'a> = (&'a Contrast, &'a OutcomeKind, Verdict);

/// The words for the contrasts of one pair of programs, at least one.
fn choice(results: &Results, scenario: &Scenario, contrasts: &[&Contrast], units: Units) -> Choice {
    let (program, baseline) = contrasts.first().map_or((0, 0), |c| (c.program, c.baseline));
    let currency = scenario.crew.currency.as_str();
    let judged: Vec<Judged> = contrasts
        .iter()
        .filter_map(|c| {
            let kind = OUTCOMES.get(c.outcome).filter(|kind| kind.is_of(&scenario.lawn))?;
            Some((*c, kind, verdict(c, kind, results.members)))
        })
        .collect();
    let said =
        |(contrast, kind, _): &Judged| change(contrast, kind, results.members, units, currency);
    let (price, judged): (Vec<Judged>, Vec<Judged>) = judged.into_iter().partition(|(_, k, v)| {
        PRICE.contains(&k.key) && matches!(v, Verdict::Better | Verdict::Worse | Verdict::Same)
    });
    let (mut changes, mut rest) = (vec![], vec![]);
    let of = |wanted: Verdict| judged.iter().filter(move |(_, _, v)| *v == wanted);
    for (head, wanted) in [
        ("better", Verdict::Better),
        ("worse", Verdict::Worse),
        ("at times", Verdict::AtTimes),
        ("it depends", Verdict::EitherWay),
    ] {
        for each in of(wanted) {
            let counts = counts(each.0, results.members, COUNTED, "futures");
            changes.push((head, format!("{}: typically {}; {counts}", each.1.label, said(each))));
        }
    }
    for each in of(Verdict::Fact) {
        changes.push(("also", format!("{}: typically {}", each.1.label, said(each))));
    }
    for (head, wanted) in
        [("no difference that matters", Verdict::Same), ("too few to tell", Verdict::TooFew)]
    {
        let main = of(wanted).filter(|(_, k, _)| MAIN.contains(&k.key));
        let labels: Vec<String> = main.map(|(_, k, _)| lower_first(k.label)).collect();
        if !labels.is_empty() {
            rest.push((head, labels.join("; ")));
        }
    }
    Choice {
        program,
        baseline,
        heading: heading(results, scenario, program, baseline),
        price: price_sentence(&price, scenario, said),
        changes,
        rest,
    }
}

/// What a choice takes, in one sentence: "It typically takes 44 more visits and 28.5 more hours,
/// and costs $705 more over 2 seasons." Empty where nothing of it is known.
fn price_sentence(
    price: &[Judged],
    scenario: &Scenario,
    said: impl Fn(&Judged) -> String,
) -> String {
    let changed = |key: &str| {
        let found = price.iter().find(|(_, k, v)| k.key == key && *v != Verdict::Same)?;
        Some(said(found)).filter(|said| said != figure::SAME)
    };
    let count = |said: String, what: &str| {
        let said = said.replace(" h ", " ").replace(" less", " fewer");
        if said.starts_with("1 ") { format!("{said} {what}") } else { format!("{said} {what}s") }
    };
    let visits = changed("visits").map(|said| count(said, "visit"));
    let hours = changed("crew_hours").map(|said| count(said, "hour"));
    let takes: Vec<String> = visits.into_iter().chain(hours).collect();
    let and = if takes.len() > 1 { ", and " } else { " and " };
    let mut parts = Vec::new();
    if !takes.is_empty() {
        parts.push(format!("takes {}", takes.join(" and ")));
    }
    parts.extend(changed("cost").map(|said| format!("costs {said}")));
    let kept: Vec<&str> = [("visits", "visits"), ("crew_hours", "hours"), ("cost", "cost")]
        .into_iter()
        .filter(|(key, _)| price.iter().any(|(_, k, _)| k.key == *key) && changed(key).is_none())
        .map(|(_, what)| what)
        .collect();
    let kept = match kept[..] {
        [] => String::new(),
        ["cost"] => "cost hardly changes".into(),
        [what] => format!("{what} hardly change"),
        [ref first @ .., last] => format!("{} and {last} hardly change", first.join(", ")),
    };
    let over = name::over(scenario);
    match (parts.is_empty(), kept.is_empty()) {
        (true, true) => String::new(),
        (true, false) => format!("{}.", name::upper_first(&kept)),
        (false, true) => format!("It typically {} {over}.", parts.join(and)),
        (false, false) => format!("It typically {} {over}; {kept}.", parts.join(and)),
    }
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
    figure::difference(kind.key, kind.unit, median, error, units, currency)
}

/// Shares that are better, the same and worse.
fn shares(contrast: &Contrast) -> [f64; 3] {
    let worse = (1.0 - contrast.share_better - contrast.share_same).max(0.0);
    [contrast.share_better, contrast.share_same, worse]
}

/// The scale that the three are counted on: that of the most uncertain; the members themselves where
/// they are too few for one.
fn told_scale(contrast: &Contrast, members: u32) -> u32 {
    let scales = shares(contrast).map(|s| Odds::from_share(s, members).scale());
    let scale = scales.into_iter().map(|s| s.unwrap_or(0)).min().unwrap_or(0);
    if scale == 0 { members } else { scale }
}

/// "better in 15 of 20, the same in 4, worse in 1"; `called` ("futures") follows the
/// first count, and may be empty.
pub fn counts(contrast: &Contrast, members: u32, words: [&str; 3], called: &str) -> String {
    let shares = shares(contrast);
    if let Some(sure) = shares.iter().position(|s| *s >= 1.0) {
        return format!("{} in all {called}", words[sure]).trim_end().to_string();
    }
    let scale = told_scale(contrast, members);
    let parts: Vec<String> = words
        .iter()
        .zip(marks_of(shares, scale))
        .filter(|(_, marks)| *marks > 0)
        .enumerate()
        .map(|(i, (word, marks))| match i {
            // Not all, or it had been said above.
            0 if marks == scale && scale < members => {
                format!("{word} in more than {} of {scale} {called}", scale - 1)
            }
            0 => format!("{word} in {marks} of {scale} {called}").trim_end().to_string(),
            _ => format!("{word} in {marks}"),
        })
        .collect();
    parts.join(", ")
}
