//! Unit expressions: "lb N/1000 ft2", "$/yd3", "min/1000 ft2/in".

use super::unit::{self, Dim, QUALIFIERS, Qualifier};

/// A unit expression that was understood.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Expression {
    /// Size in m, kg, s, money, degrees.
    pub size: f64,
    /// Its dimension.
    pub dim: Dim,
    /// What is weighed or counted, where said.
    pub said: Vec<Qualifier>,
    /// Whether it has a "per".
    pub per: bool,
}

/// Why it was not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum ExpressionFault {
    /// A word that is no unit.
    Unknown(String),
    /// Nothing after a "/".
    EmptyPer,
}

/// Reads a unit expression; an empty one is the plain number 1.
pub(super) fn read(text: &str) -> Result<Expression, ExpressionFault> {
    let text = tidy(text);
    let mut whole = Expression { size: 1.0, dim: unit::NONE, said: vec![], per: false };
    for (i, part) in text.split('/').enumerate() {
        let below = i > 0;
        if below && part.trim().is_empty() {
            return Err(ExpressionFault::EmptyPer);
        }
        whole.per |= below;
        read_product(part, below, &mut whole)?;
    }
    Ok(whole)
}

/// One spelling for squares, cubes, "per" and brackets.
fn tidy(text: &str) -> String {
    let mut text = text.replace('²', "2").replace('³', "3").replace(['(', ')', '*', '·'], " ");
    for (from, to) in [(" per ", "/"), ("^", ""), ("sq.", "sq"), ("cu.", "cu"), ("ft.", "ft")] {
        text = text.replace(from, to);
    }
    text
}

fn read_product(part: &str, below: bool, whole: &mut Expression) -> Result<(), ExpressionFault> {
    let mut rest = part.trim();
    if below
        && rest.starts_with(|c: char| c.is_ascii_digit())
        && let Ok((count, after)) = super::number::take(rest)
        && count > 0.0
    {
        whole.size /= count;
        rest = after.trim();
    }
    let words: Vec<&str> = rest.split_whitespace().collect();
    let mut at = 0;
    while at < words.len() {
        let (used, size, dim, said) = read_word(&words[at..], below)?;
        at += used;
        whole.said.extend(said);
        let way = if below { -1 } else { 1 };
        whole.size *= if below { 1.0 / size } else { size };
        for (total, one) in whole.dim.iter_mut().zip(dim) {
            *total = total.saturating_add(one.saturating_mul(way));
        }
    }
    Ok(())
}

type Word = (usize, f64, Dim, Option<Qualifier>);

/// The unit or qualifier at the start of `words`, and how many words it takes.
fn read_word(words: &[&str], below: bool) -> Result<Word, ExpressionFault> {
    let first = words[0];
    if let Some((size, dim, power)) = words.get(1).and_then(|second| squared(first, second)) {
        return Ok((2, size, scaled(dim, power), None));
    }
    if let Some(second) = words.get(1)
        && let Some(u) = unit::find(&format!("{first} {second}"))
    {
        return Ok((2, u.size, u.dim, None));
    }
    if let Some((_, said)) = QUALIFIERS.iter().find(|(w, _)| w.eq_ignore_ascii_case(first)) {
        return Ok((1, 1.0, unit::NONE, Some(*said)));
    }
    if below && first == "M" {
        // The trade's "per M" is per thousand square feet.
        return Ok((1, 92.903_04, unit::AREA, None));
    }
    let (name, power) = split_power(first);
    match unit::find(name) {
        Some(u) => Ok((1, u.size.powi(i32::from(power)), scaled(u.dim, power), None)),
        None => Err(ExpressionFault::Unknown(first.to_string())),
    }
}

/// "sq ft", "cubic yards".
fn squared(first: &str, second: &str) -> Option<(f64, Dim, i8)> {
    let power = match first.to_ascii_lowercase().as_str() {
        "sq" | "square" => 2,
        "cu" | "cubic" => 3,
        _ => return None,
    };
    let u = unit::find(second).filter(|u| u.dim == unit::LENGTH)?;
    Some((u.size.powi(i32::from(power)), u.dim, power))
}

fn split_power(word: &str) -> (&str, i8) {
    for (mark, power) in [('2', 2), ('3', 3)] {
        if let Some(name) = word.strip_suffix(mark) {
            return (name, power);
        }
    }
    (word, 1)
}

fn scaled(dim: Dim, power: i8) -> Dim {
    dim.map(|exponent| exponent.saturating_mul(power))
}
