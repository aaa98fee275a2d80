//! Setting text in the room there is: clean, wrap, shorten.

use crate::canvas::{Canvas, Point, width};
use crate::error::PlotError;
use crate::style::Type;

/// Text on one line without characters that XML forbids. A number keeps its "%" beside it.
pub(crate) fn clean(text: &str) -> String {
    let plain = |c: char| {
        if c == NO_BREAK {
            return Some(c);
        }
        if c.is_whitespace() {
            return Some(' ');
        }
        (!c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}')).then_some(c)
    };
    let line: String = text.chars().filter_map(plain).collect();
    let words: Vec<&str> = line.split(' ').filter(|word| !word.is_empty()).collect();
    words.join(" ").replace(" %", "\u{a0}%")
}

/// A space at which no line is broken.
const NO_BREAK: char = '\u{a0}';

/// Stands for what was left out.
const ELLIPSIS: &str = "\u{2026}";

/// Shortens a text with an ellipsis until it fits into `room` px.
pub(crate) fn shorten(text: &str, room: f64, face: Type) -> Result<String, PlotError> {
    let text = clean(text);
    if width(&text, face)? <= room {
        return Ok(text);
    }
    let letters: Vec<char> = text.chars().collect();
    let cut = |n: usize| letters[..n].iter().collect::<String>().trim_end().to_owned() + ELLIPSIS;
    let keep = longest(letters.len(), |n| Ok(width(&cut(n), face)? <= room))?;
    Ok(cut(keep))
}

/// The largest number up to `most` that fits, by halving; 0 where none does.
fn longest(
    most: usize,
    fits: impl Fn(usize) -> Result<bool, PlotError>,
) -> Result<usize, PlotError> {
    let (mut low, mut high) = (0, most);
    while low < high {
        let middle = (low + high).div_ceil(2);
        if fits(middle)? {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    Ok(low)
}

/// Breaks a text into at most `most` lines of `room` px; what is left over ends in an ellipsis.
pub(crate) fn wrap(
    text: &str,
    room: f64,
    face: Type,
    most: usize,
) -> Result<Vec<String>, PlotError> {
    let text = clean(text);
    let mut rest = text.as_str();
    let mut lines = Vec::new();
    while !rest.is_empty() && lines.len() < most {
        if lines.len() + 1 == most {
            lines.push(shorten(rest, room, face)?);
            break;
        }
        let end = line_end(rest, room, face)?;
        lines.push(rest[..end].trim_end().to_owned());
        rest = rest[end..].trim_start();
    }
    Ok(lines)
}

/// As [`wrap`], with lines of about the same length: no single word is left on the last.
pub(crate) fn wrap_evenly(
    text: &str,
    room: f64,
    face: Type,
    most: usize,
) -> Result<Vec<String>, PlotError> {
    let wide = wrap(text, room, face, most)?;
    let whole = |lines: &[String]| lines.iter().map(String::len).sum::<usize>();
    // The least room, in steps of a twentieth, that loses nothing and takes no more lines.
    for twentieth in 10..20 {
        let lines = wrap(text, room * f64::from(twentieth) / 20.0, face, wide.len().max(1))?;
        if whole(&lines) == whole(&wide) && lines.last().is_none_or(|l| !l.ends_with(ELLIPSIS)) {
            return Ok(lines);
        }
    }
    Ok(wide)
}

/// Byte at which the first line of `text` ends: after a word where it can, inside one where it
/// must, and never at 0.
fn line_end(text: &str, room: f64, face: Type) -> Result<usize, PlotError> {
    if width(text, face)? <= room {
        return Ok(text.len());
    }
    let ends: Vec<usize> = text.char_indices().map(|(at, c)| at + c.len_utf8()).collect();
    let fit = longest(ends.len(), |n| Ok(n == 0 || width(&text[..ends[n - 1]], face)? <= room))?;
    let hard = ends[fit.max(1) - 1];
    if text[hard..].starts_with(' ') {
        return Ok(hard);
    }
    Ok(text[..hard].rfind(' ').map_or(hard, |space| space + 1))
}

/// Draws lines one under the other, the first baseline at `at`; gives the next free baseline.
pub(crate) fn draw_lines(
    canvas: &mut Canvas<'_>,
    lines: &[String],
    at: Point,
    face: Type,
) -> Result<f64, PlotError> {
    let mut y = at.1;
    for line in lines {
        canvas.text(line, (at.0, y), face)?;
        y += face.leading();
    }
    Ok(y)
}
