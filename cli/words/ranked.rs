//! The answer first: what each program came to, most first, grouped where the counts do not tell them apart.

use sim::ensemble::{ProgramResults, Results};
use sim::outcomes::{OUTCOMES, outcome};
use sim::scenario::Scenario;

use super::choice::{Verdict, verdict};
use super::figure::Figure;
use super::name::{futures, listed, listed_with, over, quoted, upper_first};
use super::odds::{Odds, again};
use super::program::{CLAIMS, Claim, odds, values};
use crate::round;
use crate::units::Units;

/// The claims that an answer rests on: crabgrass, and how the lawn looks.
pub const ANSWERS: [&Claim; 2] = [&CLAIMS[0], &CLAIMS[1]];

/// The answer in three sentences, each with the word that it is about.
pub fn answer(results: &Results, scenario: &Scenario, units: Units) -> [(&'static str, String); 3] {
    let look = format!("{}; {}.", claim(results, ANSWERS[1]), look(results));
    [
        ("Crabgrass", format!("{}.", claim(results, ANSWERS[0]))),
        ("Look, scored by eye from 1 to 9", look),
        ("Cost", format!("{}.", cost(results, scenario, units))),
    ]
}

/// "The crabgrass stays under 10 % of the lawn in 10 of 20 simulated futures with “Two halves”, and
/// in 4 to 6 with “Usual care” and “Cut often”, whose counts are too near to tell apart".
pub fn claim(results: &Results, claim: &Claim) -> String {
    let told = |p: &ProgramResults| odds(p, claim);
    let all: Vec<Odds> = results.programs.iter().map(told).collect();
    let scale = Odds::common_scale(&all);
    let what = upper_first(claim.words);
    let futures = format!("simulated {}", futures(results.members));
    let mut ranked: Vec<&ProgramResults> = results.programs.iter().collect();
    // Stable: programs with equal odds stay in the scenario's order.
    ranked.sort_by_key(|p| std::cmp::Reverse(told(p).hits));
    let groups = grouped(&ranked, |a, b| told(a).alike(&told(b)));
    let count = |group: &[&ProgramResults]| {
        let odds: Vec<Odds> = group.iter().map(|p| told(p)).collect();
        between(&odds, scale)
    };
    let [first, rest @ ..] = groups.as_slice() else { return String::new() };
    let most = count(first);
    if rest.is_empty() && results.programs.len() > 1 {
        let whatever = if scale.is_some() {
            "whatever the program: these counts do not tell them apart"
        } else {
            "too few to tell the programs apart"
        };
        return format!("{what} in {most} {futures}, {whatever}");
    }
    let mut out = format!("{what} in {most} {futures} with {}", names(first));
    for (at, group) in rest.iter().enumerate() {
        let and = if at + 1 == rest.len() { ", and" } else { "," };
        let count = count(group);
        out.push_str(&format!("{and} in {} with {}", again(&most, &count), names(group)));
    }
    out
}

/// The program, by place, that meets a claim more often than any other, where the counts tell it from
/// the next.
pub fn leader(results: &Results, claim: &Claim) -> Option<usize> {
    let mut ranked: Vec<(usize, Odds)> =
        results.programs.iter().map(|p| odds(p, claim)).enumerate().collect();
    ranked.sort_by_key(|(_, odds)| std::cmp::Reverse(odds.hits));
    match &ranked[..] {
        [first, next, ..] if !first.1.alike(&next.1) => Some(first.0),
        _ => None,
    }
}

/// What a typical summer's quality comes to under the programs, and whether any choice moves it by
/// what an eye tells: "a typical summer scores 4.8 to 5.0; no choice here moves that by a point".
pub fn look(results: &Results) -> String {
    let (Some(at), Some(first)) = (outcome("quality_summer"), results.programs.first()) else {
        return String::new();
    };
    let kind = &OUTCOMES[at];
    let middle =
        |p: &ProgramResults| Figure::new(values(p, kind.key), kind.unit, Units::Us, "").middle();
    let mut all: Vec<&ProgramResults> = results.programs.iter().collect();
    let median = |p: &ProgramResults| {
        Figure::new(values(p, kind.key), kind.unit, Units::Us, "").quantile(0.5)
    };
    all.sort_by(|a, b| median(a).total_cmp(&median(b)));
    let (low, high) = all.first().zip(all.last()).unwrap_or((&first, &first));
    let (low, high) = (middle(low), middle(high));
    let scores = if low == high { low } else { format!("{low} to {high}") };
    let mut of_look = results.contrasts.iter().filter(|c| c.outcome == at).peekable();
    let same = of_look.peek().is_some()
        && of_look.all(|c| verdict(c, kind, results.members) == Verdict::Same);
    let none = if same {
        let least = round::spoken(kind.least_difference, 1.0);
        let points = if kind.least_difference == 1.0 { "point" } else { "points" };
        format!("; in a typical future no choice here moves that by {least} {points}")
    } else {
        String::new()
    };
    format!("a typical summer scores {scores}{none}")
}

/// "Over 2 seasons the work costs about $580 with “Usual care”, and $1,260 to $1,280 with “Cut
/// often” and “Two halves”, which hardly differ": the cheapest first.
pub fn cost(results: &Results, scenario: &Scenario, units: Units) -> String {
    let Some(kind) = OUTCOMES.iter().find(|o| o.key == "cost") else { return String::new() };
    let figure = |p: &ProgramResults| {
        Figure::new(values(p, kind.key), kind.unit, units, &scenario.crew.currency)
    };
    let median = |p: &ProgramResults| figure(p).quantile(0.5);
    let mut ranked: Vec<&ProgramResults> = results.programs.iter().collect();
    ranked.sort_by(|a, b| median(a).total_cmp(&median(b)));
    let groups = grouped(&ranked, |a, b| median(b) - median(a) < kind.least_difference);
    let told: Vec<String> = groups
        .iter()
        .filter_map(|group| {
            let (low, high) = (figure(group.first()?).middle(), figure(group.last()?).middle());
            let sum = if low == high { low } else { format!("{low} to {high}") };
            Some(format!("{sum} with {}", named(group, "which hardly differ")))
        })
        .collect();
    format!(
        "{} the work costs about {}",
        upper_first(&over(scenario)),
        listed_with(&told, ", and ")
    )
}

/// Runs of neighbours that are like the first of their run.
fn grouped<'a>(
    ranked: &[&'a ProgramResults],
    alike: impl Fn(&ProgramResults, &ProgramResults) -> bool,
) -> Vec<Vec<&'a ProgramResults>> {
    let mut groups: Vec<Vec<&ProgramResults>> = Vec::new();
    for program in ranked {
        match groups.last_mut() {
            Some(group) if alike(group[0], program) => group.push(program),
            _ => groups.push(vec![program]),
        }
    }
    groups
}

/// The counts of a group, the most first: "10 of 20", "4 to 6 of 20".
fn between(odds: &[Odds], scale: Option<u32>) -> String {
    let (Some(most), Some(least)) = (odds.first(), odds.last()) else { return String::new() };
    let (high, low) = (most.of_scale(scale), least.of_scale(scale));
    let Some(scale) = scale.filter(|_| high != low) else {
        let counts = if high == low { high } else { format!("{} to {high}", least.hits) };
        return counts;
    };
    match (least.marks(scale), most.marks(scale)) {
        (0, 0) => format!("fewer than 1 of {scale}"),
        (0, high) => format!("at most {high} of {scale}"),
        (low, high) if low == scale || high == scale => format!("at least {low} of {scale}"),
        (low, high) => format!("{low} to {high} of {scale}"),
    }
}

/// "“Usual care” and “Cut often”, whose counts are too near to tell apart".
fn names(group: &[&ProgramResults]) -> String {
    named(group, "whose counts are too near to tell apart")
}

/// The titles of a group, and what several have in common.
fn named(group: &[&ProgramResults], common: &str) -> String {
    let titles: Vec<String> = group.iter().map(|p| quoted(&p.title)).collect();
    let common = if titles.len() > 1 { format!(", {common}") } else { String::new() };
    format!("{}{common}", listed(&titles))
}
