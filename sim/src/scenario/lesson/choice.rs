//! The answers to choose from: ranges that cover the line once.

use super::super::fault::Faults;
use super::super::value::Reading;
use super::Look;
use crate::quantity::{self, Kind, show_number};
use std::ops::Range;

/// One answer to choose from. It is right for values of its range.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// In words.
    pub says: String,
    /// Why one might think so; may be empty.
    pub because: String,
    /// Its lower end, included, in the asked unit as in files; `None` has no end.
    pub from: Option<f64>,
    /// Its upper end, not included.
    pub to: Option<f64>,
}

impl Choice {
    /// Whether a value is in its range.
    pub fn holds(&self, value: f64) -> bool {
        self.from.is_none_or(|from| value >= from) && self.to.is_none_or(|to| value < to)
    }
}

/// Fewest and most choices.
const COUNT: (usize, usize) = (2, 6);

/// The letter of a choice.
pub(super) fn letter(choice: usize) -> char {
    char::from(b'A' + u8::try_from(choice.min(25)).unwrap_or(25))
}

/// The choices of a lesson; what they are about may have been at fault.
pub(super) fn choices(
    lesson: &Reading<'_>,
    asked: Option<Look>,
    faults: &mut Faults,
) -> Vec<Choice> {
    let tables = lesson.tables("choice");
    if lesson.has("choice") && !(COUNT.0..=COUNT.1).contains(&tables.len()) {
        let message = format!("there {} to choose from", answers(tables.len()));
        let expected = format!("{} to {} tables [[lesson.choice]]", COUNT.0, COUNT.1);
        faults.error("bad-choices", &lesson.span_of("choice"), message, expected, None);
        return vec![];
    }
    let Some(asked) = asked else { return vec![] };
    let read: Vec<Option<Choice>> = tables.iter().map(|t| choice(t, asked, faults)).collect();
    let Some(choices) = read.into_iter().collect::<Option<Vec<Choice>>>() else { return vec![] };
    let spans: Vec<Range<usize>> = tables.iter().map(|table| table.span.clone()).collect();
    cover(&choices, &spans, asked.of.unit, faults);
    choices
}

fn answers(count: usize) -> String {
    match count {
        1 => "is 1 answer".to_string(),
        count => format!("are {count} answers"),
    }
}

fn choice(table: &Reading<'_>, asked: Look, faults: &mut Faults) -> Option<Choice> {
    let (from, to) = (bound(table, "from", asked, faults)?, bound(table, "to", asked, faults)?);
    if from.zip(to).is_some_and(|(from, to)| from >= to) {
        let message = "`from` is not below `to`";
        faults.error("reversed-range", &table.span, message, "the lower end first", None);
        return None;
    }
    let because = table.text("because").unwrap_or_default().to_string();
    Some(Choice { says: table.text("says")?.to_string(), because, from, to })
}

/// An end of a range: `None` for a fault, `Some(None)` where there is no end.
#[expect(clippy::option_option, reason = "no end is not the same as a faulty one")]
fn bound(table: &Reading<'_>, key: &str, asked: Look, faults: &mut Faults) -> Option<Option<f64>> {
    if !table.has(key) {
        return Some(None);
    }
    let text = table.text(key)?;
    match read(text, asked.of.unit) {
        Some(value) => Some(Some(value)),
        None => {
            faults.error(
                "bad-quantity",
                &table.span_of(key),
                format!("`{key}`: \"{text}\" is not an amount of {}", asked.of.key),
                format!("such as {}", example(asked.of.unit)),
                None,
            );
            None
        }
    }
}

/// An amount, with its sign, in a unit of files.
fn read(text: &str, unit: &str) -> Option<f64> {
    let text = text.trim();
    let (sign, size) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let plain = |word: &str| {
        let number = size.strip_suffix(word).unwrap_or(size).trim_end();
        number.parse::<f64>().ok().filter(|v| v.is_finite() && *v >= 0.0)
    };
    let of = |kind, per: f64| quantity::parse(size, kind).ok().map(|v| v * per);
    let value = match unit {
        "%" => match size.strip_suffix("points") {
            Some(number) => number.trim_end().parse::<f64>().ok().filter(|v| v.is_finite()),
            None => of(Kind::Share, 100.0),
        },
        "share" => of(Kind::Share, 1.0),
        "mm" => of(Kind::Depth, 1.0),
        "days" => plain("days"),
        "h" => of(Kind::Minutes, 1.0 / 60.0),
        "currency" => of(Kind::Money, 1.0),
        "g/m2" | "g N/m2" => of(Kind::NitrogenRate, 1.0).or_else(|| of(Kind::MassPerArea, 1.0)),
        "1/m2" => of(Kind::CountPerArea, 1.0),
        "1/dm2" => of(Kind::CountPerArea, 0.01),
        "degC" => plain("degC"),
        _ => plain("points"),
    };
    value.map(|value| sign * value)
}

fn example(unit: &str) -> &'static str {
    match unit {
        "%" => "\"-5 points\" or \"20 %\"",
        "share" => "\"40 %\"",
        "mm" => "\"-0.5 in\" or \"12 mm\"",
        "days" => "\"14 days\"",
        "h" => "\"-2 h\"",
        "currency" => "\"50 $\"",
        "g/m2" | "g N/m2" => "\"-0.2 lb/1000 ft2\" or \"1 g/m2\"",
        "1/m2" | "1/dm2" => "\"20 seeds/ft2\" or \"200 seeds/m2\"",
        "degC" => "\"2 degC\"",
        _ => "\"-1 points\" or \"2\"",
    }
}

/// Notes gaps, overlaps and open ends.
fn cover(choices: &[Choice], spans: &[Range<usize>], unit: &str, faults: &mut Faults) {
    let mut order: Vec<usize> = (0..choices.len()).collect();
    let low = |at: usize| choices[at].from.unwrap_or(f64::NEG_INFINITY);
    order.sort_by(|a, b| low(*a).total_cmp(&low(*b)));
    let told = |value: f64| format!("{} {unit}", show_number(value)).trim_end().to_string();
    let mut note = |at: usize, message: String| {
        let expected = "ranges that cover every value once: each begins where another ends, the \
                        lowest has no `from` and the highest no `to`";
        faults.error("bad-choices", &spans[at], message, expected, None);
    };
    let (Some(first), Some(last)) = (order.first(), order.last()) else { return };
    if let Some(from) = choices[*first].from {
        note(*first, format!("no answer holds below {}", told(from)));
    }
    for pair in order.windows(2) {
        let (here, next) = (pair[0], pair[1]);
        let (here_letter, next_letter) = (letter(here), letter(next));
        match (choices[here].to, choices[next].from) {
            (Some(to), Some(from)) if to == from => {}
            (Some(to), Some(from)) if to < from => {
                note(next, format!("no answer holds from {} to {}", told(to), told(from)));
            }
            _ => note(next, format!("{here_letter} and {next_letter} both hold for some values")),
        }
    }
    if let Some(to) = choices[*last].to {
        note(*last, format!("no answer holds from {} on", told(to)));
    }
}

#[cfg(test)]
mod tests {
    use super::read;

    // 1 in = 25.4 mm; 1 lb/1000 ft2 = 4.8824 g/m2 (NIST SP 811, appendix B.8).
    #[test]
    fn bounds_are_amounts_with_a_sign() {
        assert_eq!(read("-5 points", "%"), Some(-5.0));
        assert_eq!(read("\u{2212}5 %", "%"), Some(-5.0));
        assert_eq!(read("+20 %", "%"), Some(20.0));
        assert!((read("-1 in", "mm").unwrap() + 25.4).abs() < 1e-9);
        assert!((read("0.5 lb N/1000 ft2", "g/m2").unwrap() - 2.4412).abs() < 1e-3);
        assert_eq!(read("14 days", "days"), Some(14.0));
        assert_eq!(read("-1 points", "1-9"), Some(-1.0));
        assert_eq!(read("5", "%"), None, "a share carries its unit");
        assert_eq!(read("much", "1-9"), None);
    }
}
