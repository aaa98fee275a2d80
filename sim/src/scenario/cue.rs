//! When a practice happens: exactly one way, with the keys that belong to it.

use super::Cue;
use super::day;
use super::fault::Faults;
use super::value::{Reading, Value};
use crate::calendar::MonthDay;
use crate::work::Stand;

/// A cue whose reference to another practice is still a name.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum CueDraft {
    /// Needs nothing more.
    Ready(Cue),
    /// So many days after the practice of this key.
    After { practice: String, days: u32 },
}

/// The ways to say when, each with the keys that go with it.
const WAYS: [(&str, &[&str]); 10] = [
    ("on", &[]),
    ("every", &["from", "to"]),
    ("soil-temperature", &["for", "from", "to"]),
    ("degree-days", &["base", "from", "to"]),
    ("canopy-height", &["from", "to", "at-least-apart"]),
    ("days-after", &[]),
    ("dry-soil", &["from", "to", "at-least-apart"]),
    ("crabgrass-cover", &["from", "to", "at-least-apart"]),
    ("broadleaf-cover", &["from", "to", "at-least-apart"]),
    ("nutsedge-cover", &["from", "to", "at-least-apart"]),
];
const COMPANIONS: [&str; 5] = ["for", "base", "from", "to", "at-least-apart"];

/// Base of degree-days where none is given: 50 degF, as extension counts for crabgrass have it.
const USUAL_BASE_C: f64 = 10.0;

/// Days between two of a practice that weeds call for: three weeks, the middle of what labels and
/// trials leave between two sprays on them (common practice).
const USUAL_WEEDS_APART: u32 = 21;

/// The first way that a practice says when.
pub(super) fn way(reading: &Reading<'_>) -> Option<&'static str> {
    WAYS.iter().map(|(way, _)| *way).find(|way| reading.has(way))
}

/// The keys that say when, of a way and its companions.
pub(super) fn keys_of(way: &str) -> &'static [&'static str] {
    WAYS.iter().find(|(name, _)| *name == way).map_or(&[], |(_, keys)| keys)
}

/// Whether a key is one of the ways.
pub(super) fn is_way(key: &str) -> bool {
    WAYS.iter().any(|(way, _)| *way == key)
}

/// Reads when a practice happens.
pub(super) fn cue(reading: &Reading<'_>, faults: &mut Faults) -> Option<CueDraft> {
    let stated: Vec<_> = WAYS.iter().filter(|(way, _)| reading.has(way)).collect();
    let (way, keys) = match stated[..] {
        [(way, keys)] => (*way, *keys),
        [] => {
            faults.error(
                "no-cue",
                &reading.span,
                format!("`{}` does not say when it happens", reading.text("key").unwrap_or("?")),
                "on = [\"15 Apr\"], or every = \"14 days\" with from and to, or soil-temperature, \
                 degree-days, canopy-height, dry-soil, crabgrass-cover, broadleaf-cover, \
                 nutsedge-cover, days-after",
                None,
            );
            return None;
        }
        [_, (second, _), ..] => {
            faults.error(
                "two-cues",
                &reading.span_of(second),
                format!("`{}` and `{second}` both say when", stated[0].0),
                "one of the two",
                Some("two ways are two practices, each with its key".to_string()),
            );
            return None;
        }
    };
    for stray in COMPANIONS.iter().filter(|k| reading.has(k) && !keys.contains(k)) {
        let span = reading.span_of(stray);
        let message = format!("`{stray}` has no effect with `{way}`");
        faults.error("stray-key", &span, message, format!("no `{stray}`"), None);
    }
    read(way, reading, faults)
}

fn read(way: &str, reading: &Reading<'_>, faults: &mut Faults) -> Option<CueDraft> {
    let cue = match way {
        "on" => Cue::Dates(dates(reading, faults)?),
        "every" => {
            let (from, to) = window(way, reading, faults)?;
            Cue::Every { days: days(reading, "every")?, from, to }
        }
        "soil-temperature" => {
            let (from, to) = window(way, reading, faults)?;
            let for_days = days(reading, "for").unwrap_or(3);
            Cue::SoilTemperature { at_least_c: reading.maybe(way)?, for_days, from, to }
        }
        "degree-days" => {
            let (from, to) = window(way, reading, faults)?;
            let base_c = reading.maybe("base").unwrap_or(USUAL_BASE_C);
            Cue::DegreeDays { at_least_c_days: reading.maybe(way)?, base_c, from, to }
        }
        "canopy-height" => {
            let (from, to) = window(way, reading, faults)?;
            let min_gap_days = days(reading, "at-least-apart").unwrap_or(3);
            Cue::CanopyHeight { at_least_mm: reading.maybe(way)?, from, to, min_gap_days }
        }
        "dry-soil" => {
            let (from, to) = window(way, reading, faults)?;
            let min_gap_days = days(reading, "at-least-apart").unwrap_or(2);
            Cue::DrySoil { at_most: reading.maybe(way)?, from, to, min_gap_days }
        }
        "crabgrass-cover" | "broadleaf-cover" | "nutsedge-cover" => {
            let (from, to) = window(way, reading, faults)?;
            let stand = match way {
                "crabgrass-cover" => Stand::Crabgrass,
                "broadleaf-cover" => Stand::Broadleaf,
                _ => Stand::Nutsedge,
            };
            let min_gap_days = days(reading, "at-least-apart").unwrap_or(USUAL_WEEDS_APART);
            Cue::WeedCover { stand, at_least: reading.maybe(way)?, from, to, min_gap_days }
        }
        _ => {
            let after = reading.table("days-after")?;
            let practice = after.text("practice")?.to_string();
            return Some(CueDraft::After { practice, days: days(after, "days")? });
        }
    };
    Some(CueDraft::Ready(cue))
}

fn days(reading: &Reading<'_>, key: &str) -> Option<u32> {
    match reading.value(key)? {
        Value::Whole(n) => u32::try_from(*n).ok(),
        _ => None,
    }
}

fn one_day(reading: &Reading<'_>, key: &str) -> Option<MonthDay> {
    match reading.value(key)? {
        Value::Days(days) => days.first().copied(),
        _ => None,
    }
}

fn dates(reading: &Reading<'_>, faults: &mut Faults) -> Option<Vec<MonthDay>> {
    let Some(Value::Days(days)) = reading.value("on") else { return None };
    let mut sorted = days.clone();
    sorted.sort_unstable();
    let all = sorted.len();
    sorted.dedup();
    if sorted.is_empty() || sorted.len() < all {
        let message = if all == 0 { "`on` has no day" } else { "`on` has a day twice" };
        let expected = "one day or several, each once";
        faults.error("bad-day", &reading.span_of("on"), message, expected, None);
        return None;
    }
    Some(sorted)
}

fn window(way: &str, reading: &Reading<'_>, faults: &mut Faults) -> Option<(MonthDay, MonthDay)> {
    for key in ["from", "to"].into_iter().filter(|k| !reading.has(k)) {
        faults.error(
            "missing-key",
            &reading.span_of(way),
            format!("`{way}` needs `{key}`"),
            "a window such as from = \"10 Apr\" and to = \"5 Nov\"",
            None,
        );
    }
    let (from, to) = (one_day(reading, "from")?, one_day(reading, "to")?);
    if from > to {
        faults.error(
            "reversed-window",
            &reading.span_of("from"),
            format!(
                "the window from {} to {} ends before it starts",
                day::show(from),
                day::show(to)
            ),
            "a window inside one calendar year",
            Some("swap them; work on both sides of the new year is two practices".to_string()),
        );
        return None;
    }
    Some((from, to))
}

/// When, in words: "every 14 days", "on 15 Apr and 1 Jun".
pub(super) fn words(reading: &Reading<'_>, with_window: bool) -> String {
    let raw = |key: &str| reading.raw(key).unwrap_or("?").to_string();
    let days = |key: &str| match raw(key) {
        text if text.chars().all(|c| c.is_ascii_digit()) => format!("{text} days"),
        text => text,
    };
    let covers = |weeds: &str| format!("when {weeds} covers {}", raw(&format!("{weeds}-cover")));
    let said = match way(reading) {
        Some("on") => format!("on {}", raw("on")),
        Some("every") => format!("every {}", days("every")),
        Some("soil-temperature") => {
            let held = if reading.has("for") { days("for") } else { "3 days".to_string() };
            format!("when the soil has stood at {} for {held}", raw("soil-temperature"))
        }
        Some("degree-days") => {
            let base = reading.raw("base").unwrap_or("50 degF");
            format!("when {} above {base} have come together", raw("degree-days"))
        }
        Some("canopy-height") => format!("when the grass stands {} high", raw("canopy-height")),
        Some("dry-soil") => format!("when soil water is down to {}", raw("dry-soil")),
        Some("crabgrass-cover") => covers("crabgrass"),
        Some("broadleaf-cover") => covers("broadleaf"),
        Some("nutsedge-cover") => covers("nutsedge"),
        Some("days-after") => match reading.table("days-after") {
            Some(after) => format!(
                "{} after {}",
                match after.raw("days").unwrap_or("?") {
                    text if text.chars().all(|c| c.is_ascii_digit()) => format!("{text} days"),
                    text => text.to_string(),
                },
                after.raw("practice").unwrap_or("?")
            ),
            None => String::new(),
        },
        _ => String::new(),
    };
    if with_window && reading.has("from") {
        return format!("{said}, {} to {}", raw("from"), raw("to"));
    }
    said
}
