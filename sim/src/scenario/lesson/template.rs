//! A sentence with places for figures.

use super::super::fault::Faults;
use std::ops::Range;

/// A sentence with places for figures. `{a}` and `{b}` stand in it at least once.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// Its pieces, in order.
    pub pieces: Vec<Piece>,
}

/// A piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Words.
    Words(String),
    /// The figure with the change.
    Changed,
    /// The figure without it.
    Usual,
    /// Wordings for more, for less, and for no difference that shows.
    Way([String; 3]),
}

impl Template {
    /// Whether a wording of it follows the way of the difference.
    pub fn has_way(&self) -> bool {
        self.pieces.iter().any(|piece| matches!(piece, Piece::Way(_)))
    }
}

/// Reads a sentence.
pub(super) fn parse(text: &str, span: &Range<usize>, faults: &mut Faults) -> Option<Template> {
    let expected = "{a} for the figure with the change, {b} for the one without, or three wordings \
                    such as {more|less|about as much}";
    let mut fault = |message: String| {
        faults.error("bad-template", span, message, expected, None);
        None
    };
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some(open) = rest.find(['{', '}']) {
        if rest[open..].starts_with('}') {
            return fault("a } stands without its {".to_string());
        }
        let Some(length) = rest[open..].find('}') else {
            return fault("a { is not closed".to_string());
        };
        if open > 0 {
            pieces.push(Piece::Words(rest[..open].to_string()));
        }
        let inside = &rest[open + 1..open + length];
        match piece(inside) {
            Some(piece) => pieces.push(piece),
            None => return fault(format!("{{{inside}}} is not known here")),
        }
        rest = &rest[open + length + 1..];
    }
    if !rest.is_empty() {
        pieces.push(Piece::Words(rest.to_string()));
    }
    for (wanted, name) in [(Piece::Changed, "{a}"), (Piece::Usual, "{b}")] {
        if !pieces.contains(&wanted) {
            return fault(format!("{name} is missing: a link tells both figures"));
        }
    }
    Some(Template { pieces })
}

fn piece(inside: &str) -> Option<Piece> {
    match inside.trim() {
        "a" => return Some(Piece::Changed),
        "b" => return Some(Piece::Usual),
        _ => {}
    }
    let ways: Vec<String> = inside.split('|').map(|way| way.trim().to_string()).collect();
    let ways: [String; 3] = ways.try_into().ok()?;
    // The same words for more and for less would be true of one of them only.
    let told = ways.iter().all(|way| !way.is_empty() && !way.contains('{'));
    let apart = ways[0] != ways[1] && ways[1] != ways[2] && ways[0] != ways[2];
    (told && apart).then_some(Piece::Way(ways))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Template, String> {
        let mut faults = Faults::default();
        let read = parse(text, &(0..1), &mut faults);
        read.ok_or_else(|| faults.in_order().remove(0).message)
    }

    #[test]
    fn a_sentence_has_both_figures_and_ways() {
        let template = read("{a} instead of {b}, {more|less|about as much}").unwrap();
        assert_eq!(template.pieces.len(), 5);
        assert!(template.has_way());
        assert_eq!(template.pieces[0], Piece::Changed);
    }

    #[test]
    fn a_sentence_that_could_not_be_filled_in_is_refused() {
        let refused = |text: &str, with: &str| {
            let message = read(text).unwrap_err();
            assert!(message.contains(with), "{text}: {message}");
        };
        refused("{a} alone", "{b} is missing");
        refused("{a} and {b} and {c}", "{c} is not known");
        refused("{a} and {b", "not closed");
        refused("a} and {b}", "without its {");
        refused("{a} {b} {more|more|same}", "not known");
        refused("{a} {b} {more|less}", "not known");
    }
}
