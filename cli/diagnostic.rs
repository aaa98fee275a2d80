//! Shows what is wrong in a scenario: file, line, caret, what was expected, how to mend it.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use sim::scenario::{FAULTS_MOST, Fault, Severity};

use crate::terminal::harmless;

/// More faults than this are counted, not shown: the first ones usually cause the rest.
const SHOWN_MAX: usize = 40;
/// Widest piece of a line that is shown, bytes.
const LINE_MAX: usize = 400;
/// Longest message that is shown, characters: it may repeat a value of any length.
const MESSAGE_MAX: usize = 2000;

/// Renders all faults of a text, errors first, then cautions, and a line that counts them.
/// `name` is the file's name as the user knows it.
pub fn render(name: &str, text: &str, faults: &[Fault], colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.decor_style(DecorStyle::Ascii);
    let errors = faults.iter().filter(|f| f.severity == Severity::Error);
    let cautions = faults.iter().filter(|f| f.severity == Severity::Caution);
    let mut out = String::new();
    for fault in errors.clone().chain(cautions.clone()).take(SHOWN_MAX) {
        out.push_str(&one(&renderer, name, text, fault));
        out.push_str("\n\n");
    }
    if faults.len() > SHOWN_MAX {
        out.push_str(&format!("... and {} more\n", faults.len() - SHOWN_MAX));
    }
    out.push_str(&tally(name, errors.count(), cautions.count()));
    out
}

fn one(renderer: &Renderer, name: &str, text: &str, fault: &Fault) -> String {
    let piece = Piece::of(text, &fault.span);
    let level = match fault.severity {
        Severity::Error => Level::ERROR,
        Severity::Caution => Level::WARNING.with_name("caution"),
    };
    let message = clipped(&fault.message);
    let expected = clipped(&fault.expected);
    let mark = AnnotationKind::Primary.span(piece.span.clone());
    let mark = if expected.is_empty() { mark } else { mark.label(expected.as_str()) };
    let name = harmless(name);
    let snippet = Snippet::source(piece.text)
        .line_start(piece.line)
        .path(name.as_str())
        .fold(false)
        .annotation(mark);
    let mut group = level.primary_title(message.as_str()).id(fault.code).element(snippet);
    let help = fault.help.as_deref().map(clipped);
    if let Some(help) = &help {
        group = group.element(Level::HELP.message(help.as_str()));
    }
    renderer.render(&[group]).to_string()
}

/// A message as it may be shown.
fn clipped(message: &str) -> String {
    match message.char_indices().nth(MESSAGE_MAX) {
        Some((end, _)) => format!("{} ...", harmless(&message[..end])),
        None => harmless(message),
    }
}

fn tally(name: &str, errors: usize, cautions: usize) -> String {
    let count = |n: usize, what: &str| {
        let least = if n >= FAULTS_MOST { "at least " } else { "" };
        format!("{least}{n} {what}{}", if n == 1 { "" } else { "s" })
    };
    let name = harmless(name);
    match (errors, cautions) {
        (0, 0) => String::new(),
        (0, c) => format!("{} in {name}\n", count(c, "caution")),
        (e, 0) => format!("{} in {name}; nothing was played\n", count(e, "error")),
        (e, c) => format!(
            "{} and {} in {name}; nothing was played\n",
            count(e, "error"),
            count(c, "caution")
        ),
    }
}

/// The one line in which a fault begins. Faults carry byte ranges; whatever they are, the piece
/// is cut at character and line borders.
struct Piece<'a> {
    text: &'a str,
    /// Line number of the text, from 1.
    line: usize,
    /// Range of the fault in `text`.
    span: Range<usize>,
}

impl<'a> Piece<'a> {
    fn of(text: &'a str, span: &Range<usize>) -> Piece<'a> {
        let start = border_before(text, span.start);
        let end = border_before(text, span.end.max(start));
        let line_start = text[..start].rfind('\n').map_or(0, |i| i + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |i| start + i);
        let line_end = line_start.max(line_end - usize::from(text[..line_end].ends_with('\r')));
        let from = border_before(text, line_start.max(start.saturating_sub(LINE_MAX / 2)));
        let to = border_before(text, line_end.min(start + LINE_MAX)).max(from);
        let start = start.min(to);
        Piece {
            text: &text[from..to],
            line: 1 + text[..line_start].matches('\n').count(),
            span: start - from..end.clamp(start, to) - from,
        }
    }
}

fn border_before(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
