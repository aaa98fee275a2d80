//! The one change that makes a program out of another, and its words.

use super::cue;
use super::fault::{Faults, did_you_mean};
use super::key::{Need, quoted};
use super::program::{Written, practice_table, tables};
use super::read::{self, Demand};
use super::registry::change as change_def;
use super::value::Reading;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The three forms of a change.
const FORMS: [&str; 3] = ["practice", "add", "drop"];

/// Gives `written` the practices of its base, with its change made.
pub(super) fn apply<'t>(written: &mut Written<'t>, base: Vec<Reading<'t>>, faults: &mut Faults) {
    written.practices = base;
    let Some(node) = written.change else { return };
    let all = tables(node, "change", faults);
    for (_, span) in all.iter().skip(1) {
        more_than_one("there is a second change", span, faults);
    }
    let Some((table, span)) = all.into_iter().next() else { return };
    written.change_span = Some(span.clone());
    let forms: Vec<&str> = FORMS.into_iter().filter(|form| table.contains_key(*form)).collect();
    let difference = match forms[..] {
        ["practice"] => change(written, table, span, faults),
        ["add"] => add(written, table, &span, faults),
        ["drop"] => drop_one(written, table, faults),
        [] => {
            let expected = "`practice` with new values, or `add`, or `drop`";
            let message = "the change does not say what it changes";
            faults.error("no-change", &span, message, expected, None);
            None
        }
        _ => {
            let message = format!("{} are changes of their own", quoted(forms.into_iter()));
            more_than_one(&message, &span, faults);
            None
        }
    };
    written.difference = difference.unwrap_or_default();
}

fn more_than_one(message: &str, span: &Range<usize>, faults: &mut Faults) {
    more_or_other(message, span, "make a third program that is based on this one", faults);
}

fn more_or_other(message: &str, span: &Range<usize>, help: &str, faults: &mut Faults) {
    let expected = "one choice, so that the comparison shows what that choice does";
    faults.error("more-than-one-change", span, message, expected, Some(help.to_string()));
}

fn text(table: &DeTable<'_>, key: &str, faults: &mut Faults) -> Option<(String, Range<usize>)> {
    let node = table.get(key)?;
    match node.get_ref() {
        DeValue::String(text) => Some((text.trim().to_string(), node.span())),
        _ => {
            let message = format!("`{key}` is not a text");
            let expected = "the key of a practice, in quotes";
            faults.error("wrong-type", &node.span(), message, expected, None);
            None
        }
    }
}

/// Index of the practice of this key.
fn find(
    written: &Written<'_>,
    (key, span): &(String, Range<usize>),
    faults: &mut Faults,
) -> Option<usize> {
    let keys: Vec<&str> = written.practices.iter().filter_map(|p| p.text("key")).collect();
    let at = written.practices.iter().position(|p| p.text("key") == Some(key));
    if at.is_none() && !keys.is_empty() {
        let base = written.based_on.as_ref().map_or("?", |(id, _)| id);
        faults.error(
            "unknown-practice",
            span,
            format!("\"{base}\" has no practice \"{key}\""),
            format!("one of {}", quoted(keys.iter().copied())),
            did_you_mean(key, keys.iter().copied()),
        );
    }
    at
}

fn only(table: &DeTable<'_>, allowed: &str, faults: &mut Faults) {
    for (name, _) in table.iter().filter(|(name, _)| name.get_ref() != allowed) {
        faults.error(
            "unknown-key",
            &name.span(),
            format!("`{}` is not a key of a change with `{allowed}`", name.get_ref()),
            format!("`{allowed}` alone"),
            None,
        );
    }
}

fn drop_one(written: &mut Written<'_>, table: &DeTable<'_>, faults: &mut Faults) -> Option<String> {
    only(table, "drop", faults);
    let named = text(table, "drop", faults)?;
    let at = find(written, &named, faults)?;
    written.practices.remove(at);
    Some(format!("no {}", named.0))
}

fn add<'t>(
    written: &mut Written<'t>,
    table: &'t DeTable<'t>,
    span: &Range<usize>,
    faults: &mut Faults,
) -> Option<String> {
    only(table, "add", faults);
    let node: &'t Spanned<DeValue<'t>> = table.get("add")?;
    let DeValue::Table(inner) = node.get_ref() else {
        let message = "`add` is not a practice";
        let expected = "a table [program.change.add] with the keys of a practice";
        faults.error("wrong-type", &node.span(), message, expected, None);
        return None;
    };
    let reading = practice_table(inner, node.span(), faults);
    let key = reading.text("key")?.to_string();
    if written.practices.iter().any(|p| p.text("key") == Some(&key)) {
        let message = format!("there is a practice \"{key}\" already");
        faults.error("duplicate-id", span, message, "a name of its own", None);
        return None;
    }
    let words = format!("{key} added: {}", cue::words(&reading, true));
    written.practices.push(reading);
    Some(words)
}

fn change<'t>(
    written: &mut Written<'t>,
    table: &'t DeTable<'t>,
    span: Range<usize>,
    faults: &mut Faults,
) -> Option<String> {
    let named = text(table, "practice", faults)?;
    let at = find(written, &named, faults)?;
    if table.contains_key("without") {
        return without(written, at, table, &span, faults);
    }
    let old = &written.practices[at];
    if let Some(kept) = ["do", "key"].into_iter().find(|kept| table.contains_key(*kept)) {
        let message = format!("`{kept}` makes another practice of it");
        let help = "to put another practice in its place, drop this one in one program and add the \
                    other in a program that is based on that";
        more_or_other(&message, &span, help, faults);
        return None;
    }
    let new = read::table(change_def(old.text("do")?)?, table, span.clone(), Demand::Part, faults);
    let keys: Vec<&'static str> = new.found.keys().copied().filter(|k| *k != "practice").collect();
    if keys.is_empty() {
        if table.len() == 1 {
            let expected = "a key of the practice with its new value, such as every = \"5 days\"";
            faults.error("no-change", &span, "the change names no new value", expected, None);
        }
        return None;
    }
    let groups: BTreeSet<&str> = keys.iter().map(|k| group(&new, k)).collect();
    if groups.len() > 1 {
        let message = format!("{} are more than one choice", quoted(keys.iter().copied()));
        more_than_one(&message, &span, faults);
        return None;
    }
    let same = |key: &&str| {
        let usual = old.default_value(key);
        old.value(key).or(usual.as_ref()) == new.value(key)
    };
    if keys.iter().all(same) {
        faults.error(
            "changes-nothing",
            &new.span_of(keys[0]),
            format!("`{}` is {} in the base too", keys[0], new.raw(keys[0]).unwrap_or("the same")),
            "another value",
            None,
        );
    }
    let merged = merge(old, &new, &keys);
    let words = words(&named.0, old, &new, &merged, &keys);
    written.practices[at] = merged;
    Some(words)
}

/// Takes one key out of a practice, so that what holds without it holds again.
fn without(
    written: &mut Written<'_>,
    at: usize,
    table: &DeTable<'_>,
    span: &Range<usize>,
    faults: &mut Faults,
) -> Option<String> {
    if table.len() > 2 {
        more_than_one("`without` and a new value are two changes", span, faults);
        return None;
    }
    let (key, span) = text(table, "without", faults)?;
    let old = &mut written.practices[at];
    let practice = old.text("key")?.to_string();
    let may_go = |k: &&str| old.def.key(k).is_some_and(|key| key.need != Need::Must);
    let there: Vec<&str> = old.found.keys().copied().filter(may_go).collect();
    if !there.contains(&key.as_str()) {
        let known = old.found.contains_key(key.as_str());
        let message = if known {
            format!("`{practice}` cannot be without `{key}`")
        } else {
            format!("`{practice}` has no `{key}`")
        };
        let expected = format!("one of {}", quoted(there.iter().copied()));
        let help = did_you_mean(&key, there.into_iter()).filter(|_| !known);
        faults.error("unknown-key", &span, message, expected, help);
        return None;
    }
    old.found.retain(|k, _| *k != key);
    Some(match key.as_str() {
        "split" => format!("{practice}: all at once instead of in two halves"),
        "water-in" => format!("{practice}: not watered in"),
        key => format!("{practice}: no {}", key.replace('-', " ")),
    })
}

/// The choice that a key belongs to.
fn group(reading: &Reading<'_>, key: &'static str) -> &'static str {
    match reading.def.key(key).map(|k| k.group) {
        None | Some("") => key,
        Some(group) => group,
    }
}

/// The base's values with the new ones over them. Another way to say when, or another product,
/// takes the place of the old one with all that belonged to it.
fn merge<'t>(old: &Reading<'t>, new: &Reading<'t>, keys: &[&'static str]) -> Reading<'t> {
    let mut merged = old.clone();
    if let Some(way) = keys.iter().find(|k| cue::is_way(k)).filter(|k| !old.has(k)) {
        let kept = cue::keys_of(way);
        merged.found.retain(|k, _| group(old, k) != "when" || kept.contains(k));
    }
    for (one, other) in [("product", "active"), ("product", "analysis"), ("nitrogen", "rate")] {
        for (here, there) in [(one, other), (other, one)] {
            if keys.contains(&here) && old.has(there) && !new.has(there) {
                let gone = group(old, here);
                merged.found.retain(|k, _| group(old, k) != gone || *k == "rate");
            }
        }
    }
    if keys.iter().any(|k| PRODUCT.contains(k)) {
        // The price and the label were those of the other product.
        merged.found.retain(|k, _| !["price", "label"].contains(k));
    }
    for key in keys {
        if let Some(found) = new.found.get(key) {
            merged.found.insert(key, found.clone());
        }
    }
    merged
}

/// The difference in words: "mow: every 5 days instead of every 14 days".
fn words(
    name: &str,
    old: &Reading<'_>,
    new: &Reading<'_>,
    merged: &Reading<'_>,
    keys: &[&'static str],
) -> String {
    if keys.iter().all(|k| group(new, k) == "when") {
        let window = keys.iter().any(|k| ["from", "to", "at-least-apart"].contains(k));
        let (now, before) = (cue::words(merged, window), cue::words(old, window));
        return format!("{name}: {now} instead of {before}");
    }
    let other_product = keys.iter().any(|k| PRODUCT.contains(k));
    let product = other_product
        .then(|| format!("{} instead of {}", product_words(merged), product_words(old)));
    // With another product, what is the same of it needs no words.
    let told = |key: &&&str| {
        !other_product
            || !(PRODUCT.contains(*key) || **key == "carrier" || new.raw(key) == old.raw(key))
    };
    let each = keys.iter().filter(told).map(|key| {
        let now = new.raw(key).filter(|raw| !raw.is_empty()).unwrap_or("changed");
        match (*key, old.raw(key)) {
            ("split", None) => {
                let unit = if now.chars().all(|c| c.is_ascii_digit()) { " days" } else { "" };
                format!("in two halves {now}{unit} apart instead of all at once")
            }
            (key, Some(before)) if !before.is_empty() => {
                format!("{} {now} instead of {before}", key.replace('-', " "))
            }
            (key, _) => format!("{} {now}", key.replace('-', " ")),
        }
    });
    format!("{name}: {}", product.into_iter().chain(each).collect::<Vec<_>>().join(", "))
}

/// Keys that name a product.
const PRODUCT: [&str; 4] = ["product", "active", "analysis", "seed"];

/// What is laid, as written.
fn product_words(reading: &Reading<'_>) -> String {
    let named = PRODUCT.iter().find_map(|key| reading.raw(key)).unwrap_or("?");
    match reading.raw("carrier") {
        Some(carrier) => format!("{named} as {carrier}"),
        None => named.to_string(),
    }
}
