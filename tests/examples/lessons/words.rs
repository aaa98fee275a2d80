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
}

/// The verdicts in the order in which they are told, with their words after "in".
const SORTS: [(Verdict, &str); 5] = [
    (Verdict::Better, "it helps"),
    (Verdict::Worse, "it hurts"),
    (Verdict::Same, "no difference that matters"),
    (Verdict::EitherWay, "the weather or the lawn decides"),
    (Verdict::TooFew, "too few seasons to tell"),
];

/// The verdict on one outcome of a pair.
pub fn judged(pair: &Pair, at: usize) -> Verdict {
    verdict(&pair.contrasts[at], &pair.kinds[at], pair.members)
}

/// The opening paragraph of a lesson.
pub fn opening(lesson: &Lesson, speech: &Speech) -> String {
    let cells = &lesson.cells;
    let Some(first) = cells.first() else { return String::new() };
    let kind = &first.pair.kinds[0];
    let mut out = format!(
        "{}, judged by {}: {}.",
        speech.choice,
        lower_first(kind.label),
        tally(cells, 0, speech.tried)
    );
    for (sort, words) in SORTS {
        let held: Vec<&Cell> = cells.iter().filter(|c| judged(&c.pair, 0) == sort).collect();
        if !held.is_empty() && held.len() < cells.len() {
            out.push_str(&format!(" {}: {}.", upper_first(words), places(&held, cells)));
        }
    }
    out.push_str(&extremes(cells, kind));
    out.push_str(&others(cells, speech));
    out.push_str(&price(cells));
    out
}

/// "it helps in 3 of 9 ways of laying it, it hurts in 1, ...".
pub fn tally(cells: &[Cell], at: usize, tried: &str) -> String {
    let counted = SORTS.map(|(sort, words)| {
        let n = cells.iter().filter(|c| judged(&c.pair, at) == sort).count();
        (n, words)
    });
    if let Some((n, words)) = counted.iter().find(|(n, _)| *n == cells.len()) {
        return format!("{words} in any of the {n} {tried}");
    }
    let parts: Vec<String> = counted
        .iter()
        .filter(|(n, _)| *n > 0)
        .enumerate()
        .map(|(i, (n, words))| match i {
            0 => format!("{words} in {n} of {} {tried}", cells.len()),
            _ => format!("{words} in {n}"),
        })
        .collect();
    parts.join(", ")
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

/// The largest gain and the largest loss in the headline outcome.
fn extremes(cells: &[Cell], kind: &OutcomeKind) -> String {
    let gain = |c: &Cell| match kind.better {
        Better::Higher => c.pair.contrasts[0].quantiles[2],
        _ => -c.pair.contrasts[0].quantiles[2],
    };
    let best = cells.iter().max_by(|a, b| gain(a).total_cmp(&gain(b)));
    let worst = cells.iter().min_by(|a, b| gain(a).total_cmp(&gain(b)));
    let mut out = String::new();
    for (cell, words) in [(best, "At its best"), (worst, "At its worst")] {
        let Some(cell) = cell else { continue };
        let pair = &cell.pair;
        out.push_str(&format!(
            " {words} ({}) it changes the peak by {} from a typical {} %: {}.",
            cell.at.join(", "),
            median_and_range(&pair.contrasts[0], kind, pair.members),
            round::fixed(pair.base[0], 0),
            counts(&pair.contrasts[0], pair.members, ["better", "the same", "worse"], "runs"),
        ));
    }
    out
}

/// A line on each outcome beside the headline that has a better direction and is no cost.
fn others(cells: &[Cell], speech: &Speech) -> String {
    let mut out = String::new();
    for (at, kind) in cells[0].pair.kinds.iter().enumerate().skip(1) {
        if kind.better == Better::Neither || is_cost(kind.key) {
            continue;
        }
        out.push_str(&format!(
            " {}: {} (typical changes {}).",
            kind.label,
            tally(cells, at, speech.tried),
            between(cells, at)
        ));
    }
    out
}

fn is_cost(key: &str) -> bool {
    matches!(key, "visits" | "crew_hours" | "cost")
}

/// What the choice costs: the smallest and the largest typical difference.
fn price(cells: &[Cell]) -> String {
    let kinds = cells[0].pair.kinds.iter().enumerate();
    let parts: Vec<String> = kinds
        .filter(|(_, kind)| is_cost(kind.key))
        .map(|(at, kind)| format!("{} {}", lower_first(kind.label), between(cells, at)))
        .collect();
    format!(" What it takes over the whole run: {}.", parts.join(", "))
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
