//! Words from the numbers: where a lesson holds, reverses or vanishes. No sign is known in advance.

use super::played::Pair;
use super::trials::{Cell, Lesson};
use swardplay::round;
use swardplay::words::choice::{Verdict, counts, verdict};

use sim::ensemble::Contrast;
use sim::outcomes::{Better, OutcomeKind};

/// How a lesson is spoken of.
pub struct Speech {
    /// "Laying the same barrier in two halves instead of once".
    pub choice: &'static str,
    /// "ways of laying it".
    pub tried: &'static str,
    /// "laid once".
    pub base: &'static str,
}

/// What a choice comes to over the members, in the order in which it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// Better in surely more than half.
    Helps,
    /// Better in some, worse in hardly any, otherwise the same.
    HelpsAtTimes,
    /// Worse in surely more than half.
    Hurts,
    /// Worse in some, better in hardly any, otherwise the same.
    HurtsAtTimes,
    /// Better in some, worse in others.
    BothWays,
    /// The same in all but hardly any.
    Same,
    /// The members cannot say.
    TooFew,
}

/// Every sort, in the order in which they are told.
const SORTS: [Sort; 7] = [
    Sort::Helps,
    Sort::HelpsAtTimes,
    Sort::Hurts,
    Sort::HurtsAtTimes,
    Sort::BothWays,
    Sort::Same,
    Sort::TooFew,
];

/// "Hardly any": a smaller share of the members than this is not spoken of.
pub const HARDLY: f64 = 0.1;

impl Sort {
    /// In a sentence.
    pub fn words(self) -> &'static str {
        match self {
            Sort::Helps => "it helps",
            Sort::HelpsAtTimes => "it helps in some runs and hardly ever hurts",
            Sort::Hurts => "it hurts",
            Sort::HurtsAtTimes => "it hurts in some runs and hardly ever helps",
            Sort::BothWays => "it helps in some runs and hurts in others",
            Sort::Same => "it makes no difference that matters",
            Sort::TooFew => "the runs are too few to tell",
        }
    }

    /// In a table.
    pub fn short(self) -> &'static str {
        match self {
            Sort::Helps => "helps",
            Sort::HelpsAtTimes => "helps at times",
            Sort::Hurts => "hurts",
            Sort::HurtsAtTimes => "hurts at times",
            Sort::BothWays => "either way",
            Sort::Same => "same",
            Sort::TooFew => "too few",
        }
    }
}

/// Judges one outcome of a pair: by the project's verdict, and below that by who is touched at all.
pub fn judged(pair: &Pair, at: usize) -> Sort {
    let contrast = &pair.contrasts[at];
    let better = contrast.share_better;
    let worse = (1.0 - better - contrast.share_same).max(0.0);
    match verdict(contrast, &pair.kinds[at], pair.members) {
        Verdict::Better => Sort::Helps,
        Verdict::Worse => Sort::Hurts,
        Verdict::TooFew => Sort::TooFew,
        _ if better >= HARDLY && worse >= HARDLY => Sort::BothWays,
        _ if better >= HARDLY => Sort::HelpsAtTimes,
        _ if worse >= HARDLY => Sort::HurtsAtTimes,
        _ => Sort::Same,
    }
}

/// The opening of a lesson: a paragraph, then where each answer holds.
pub fn opening(lesson: &Lesson, speech: &Speech) -> String {
    let cells = &lesson.cells;
    let Some(first) = cells.first() else { return String::new() };
    let headline = &first.pair.kinds[0];
    let mut out = format!(
        "{}: what it does to {}, in {} {} that were tried? {}.",
        speech.choice,
        lower_first(headline.label),
        cells.len(),
        speech.tried,
        upper_first(&tally(cells, 0))
    );
    out.push_str(&price(cells, lesson.seasons, speech.base));
    out.push('\n');
    for sort in SORTS {
        let held: Vec<&Cell> = cells.iter().filter(|c| judged(&c.pair, 0) == sort).collect();
        if !held.is_empty() {
            let places = places(&held, cells);
            let places = if places.is_empty() { "everywhere" } else { &places };
            let shares = shares(&held, sort);
            out.push_str(&format!("\n- {}{shares}: {places}.", upper_first(sort.words())));
        }
    }
    out.push_str(&extremes(cells, headline, speech.base));
    out.push_str(&others(cells));
    out
}

/// " (better in 3 to 5 of 10 runs)": how many runs are touched, over the cells.
fn shares(held: &[&Cell], sort: Sort) -> String {
    let better = |c: &Contrast| c.share_better;
    let worse = |c: &Contrast| (1.0 - c.share_better - c.share_same).max(0.0);
    let span = |share: &dyn Fn(&Contrast) -> f64, word: &str| {
        let tenths = |c: &&Cell| (10.0 * share(&c.pair.contrasts[0])).round() as u32;
        let low = held.iter().map(tenths).min().unwrap_or(0);
        let high = held.iter().map(tenths).max().unwrap_or(0);
        let range = if low == high { low.to_string() } else { format!("{low} to {high}") };
        format!("{word} in {range} of 10 runs")
    };
    match sort {
        Sort::Helps | Sort::HelpsAtTimes => format!(" ({})", span(&better, "better")),
        Sort::Hurts | Sort::HurtsAtTimes => format!(" ({})", span(&worse, "worse")),
        Sort::BothWays => format!(" ({}, {})", span(&better, "better"), span(&worse, "worse")),
        Sort::Same | Sort::TooFew => String::new(),
    }
}

/// "in 3, it helps; in 1, it hurts".
pub fn tally(cells: &[Cell], at: usize) -> String {
    let count = |sort| cells.iter().filter(|c| judged(&c.pair, at) == sort).count();
    let counted: Vec<(usize, Sort)> =
        SORTS.iter().map(|sort| (count(*sort), *sort)).filter(|(n, _)| *n > 0).collect();
    if let [(_, only)] = counted[..] {
        return format!("{}, in all {}", only.words(), cells.len());
    }
    let parts: Vec<String> =
        counted.iter().map(|(n, sort)| format!("in {n}, {}", sort.words())).collect();
    parts.join("; ")
}

/// Names cells: those that share all levels but the last are told together, and so on upwards.
pub fn places(held: &[&Cell], all: &[Cell]) -> String {
    let held: Vec<&[String]> = held.iter().map(|c| &c.at[..]).collect();
    let all: Vec<&[String]> = all.iter().map(|c| &c.at[..]).collect();
    branches(&held, &all).join("; ")
}

fn branches(held: &[&[String]], all: &[&[String]]) -> Vec<String> {
    if held.len() == all.len() {
        return vec![String::new()];
    }
    let levels = firsts(held);
    if held.iter().all(|path| path.len() == 1) {
        return vec![and(&levels)];
    }
    // Levels below which the same places hold are told together.
    let mut groups: Vec<(Vec<String>, Vec<String>)> = vec![];
    for level in levels {
        let below = branches(&under(held, &level), &under(all, &level));
        match groups.iter_mut().find(|(_, told)| *told == below) {
            Some((names, _)) => names.push(level),
            None => groups.push((vec![level], below)),
        }
    }
    let known = firsts(all).len();
    let mut out = vec![];
    for (names, below) in groups {
        let name = if names.len() == known { String::new() } else { and(&names) };
        for place in below {
            let gap = if name.is_empty() || place.is_empty() { "" } else { ", " };
            out.push(format!("{name}{gap}{place}"));
        }
    }
    out
}

fn firsts(paths: &[&[String]]) -> Vec<String> {
    let mut levels: Vec<String> = vec![];
    for level in paths.iter().filter_map(|path| path.first()) {
        if !levels.contains(level) {
            levels.push(level.clone());
        }
    }
    levels
}

fn under<'a>(paths: &[&'a [String]], level: &str) -> Vec<&'a [String]> {
    paths.iter().filter(|p| p.first().is_some_and(|l| l == level)).map(|p| &p[1..]).collect()
}

fn and(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// The cells with the most and the least favourable typical change in the headline outcome.
fn extremes(cells: &[Cell], kind: &OutcomeKind, base: &str) -> String {
    let gain = |c: &Cell| match kind.better {
        Better::Higher => c.pair.contrasts[0].quantiles[2],
        _ => -c.pair.contrasts[0].quantiles[2],
    };
    let best = cells.iter().max_by(|a, b| gain(a).total_cmp(&gain(b)));
    let worst = cells.iter().min_by(|a, b| gain(a).total_cmp(&gain(b)));
    let mut out = String::new();
    for (cell, words) in [(best, "Most"), (worst, "Least")] {
        let Some(cell) = cell else { continue };
        let pair = &cell.pair;
        out.push_str(&format!(
            "\n- {words} favourable: {}. {}: {} % {base}, changed by {}; {}.",
            cell.at.join(", "),
            kind.label,
            round::fixed(pair.base[0], 0),
            median_and_range(&pair.contrasts[0], kind, pair.members),
            counts(&pair.contrasts[0], pair.members, ["better", "the same", "worse"], "runs"),
        ));
    }
    out
}

/// The outcomes beside the headline that have a better direction and are no cost; those of which
/// the same is to be said are told together.
fn others(cells: &[Cell]) -> String {
    let mut told: Vec<(String, Vec<String>)> = vec![];
    for (at, kind) in cells[0].pair.kinds.iter().enumerate().skip(1) {
        if kind.better == Better::Neither || is_cost(kind.key) {
            continue;
        }
        let (words, change) = (tally(cells, at), between(cells, at));
        let name = format!("{} (typically {change})", lower_first(kind.label));
        match told.iter_mut().find(|(same, _)| *same == words) {
            Some((_, names)) => names.push(name),
            None => told.push((words, vec![name])),
        }
    }
    let lines = told.iter().map(|(words, names)| format!("\n- For {}: {words}.", and(names)));
    lines.collect()
}

fn is_cost(key: &str) -> bool {
    matches!(key, "visits" | "crew_hours" | "cost")
}

/// What the choice costs: the smallest and the largest typical difference.
fn price(cells: &[Cell], seasons: u32, base: &str) -> String {
    let kinds = cells[0].pair.kinds.iter().enumerate();
    let parts: Vec<String> = kinds
        .filter(|(_, kind)| is_cost(kind.key))
        .map(|(at, kind)| {
            let before = round::fixed(cells[0].pair.base[at], 0);
            format!("{} {} (about {before} {base})", lower_first(kind.label), between(cells, at))
        })
        .collect();
    let seasons = if seasons == 1 { "one season".into() } else { format!("{seasons} seasons") };
    format!(" What it takes over {seasons}: {}.", parts.join(", "))
}

/// "-0.4 to +1.2 h": the smallest and the largest median difference over cells.
fn between(cells: &[Cell], at: usize) -> String {
    let kind = &cells[0].pair.kinds[at];
    let decimals = cells
        .iter()
        .map(|c| decimals(&c.pair.contrasts[at], kind, c.pair.members))
        .min()
        .unwrap_or(0);
    let medians = || cells.iter().map(|c| c.pair.contrasts[at].quantiles[2]);
    let (low, high) =
        (medians().fold(f64::INFINITY, f64::min), medians().fold(-f64::INFINITY, f64::max));
    let (low, high) = (signed(low, decimals), signed(high, decimals));
    let unit = unit(kind.unit);
    if low == high { format!("{low}{unit}") } else { format!("{low} to {high}{unit}") }
}

/// "-6 (-15 to +1) points": the median and 9 in 10 members.
pub fn median_and_range(contrast: &Contrast, kind: &OutcomeKind, members: u32) -> String {
    format!("{}{}", bare_range(contrast, kind, members), unit(kind.unit))
}

/// The same without the unit.
pub fn bare_range(contrast: &Contrast, kind: &OutcomeKind, members: u32) -> String {
    let decimals = decimals(contrast, kind, members);
    let [low, _, middle, _, high] = contrast.quantiles.map(|q| signed(q, decimals));
    if low == high { middle } else { format!("{middle} ({low} to {high})") }
}

/// Decimals that the members support, and that are worth reading.
fn decimals(contrast: &Contrast, kind: &OutcomeKind, members: u32) -> usize {
    let finest = match kind.unit {
        "1-9" => 2,
        "%" | "h" => 1,
        _ => 0,
    };
    let [low, .., high] = contrast.quantiles;
    round::supported_decimals(finest, round::spread_of(low, high), members)
}

/// A difference with its sign; what rounds to nothing has none.
pub fn signed(value: f64, decimals: usize) -> String {
    let size = round::fixed(value.abs(), decimals);
    let nothing = size.bytes().all(|b| matches!(b, b'0' | b'.'));
    match value {
        _ if nothing => size,
        v if v < 0.0 => format!("-{size}"),
        _ => format!("+{size}"),
    }
}

/// A unit after a difference.
pub fn unit(unit: &str) -> String {
    match unit {
        "%" | "1-9" => " points".to_owned(),
        "currency" => " $".to_owned(),
        "count" => String::new(),
        other => format!(" {other}"),
    }
}

/// "Better" becomes "better".
pub fn lower_first(text: &str) -> String {
    with_first(text, |c| c.to_lowercase().collect())
}

fn upper_first(text: &str) -> String {
    with_first(text, |c| c.to_uppercase().collect())
}

fn with_first(text: &str, change: impl Fn(char) -> String) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| change(c) + chars.as_str())
}

#[cfg(test)]
#[path = "words_tests.rs"]
mod tests;
