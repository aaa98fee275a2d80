//! The only place that prints.

use std::io::{self, IsTerminal, Write};

use crate::failure::Failure;

/// Prints a command's result to stdout.
///
/// # Errors
/// [`Failure::ClosedPipe`] where the reader has gone, [`Failure::Machine`] otherwise.
pub fn say(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())
        .and_then(|()| out.flush())
        .map_err(|error| Failure::stdout(&error))
}

/// Prints a note to stderr. A closed stderr is not worth a failure.
pub fn note(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// Asks a question on stderr and leaves the cursor behind it.
pub fn prompt(text: &str) {
    let mut err = io::stderr().lock();
    let _ = write!(err, "{text}").and_then(|()| err.flush());
}

/// Whether a person may type answers: stdin is a terminal.
pub fn can_ask() -> bool {
    io::stdin().is_terminal()
}

/// Tells why a command did not finish, on stderr.
pub fn complain(failure: &Failure) {
    match failure {
        Failure::ClosedPipe => {}
        Failure::Faults(rendered) => note(rendered.trim_end()),
        Failure::Stopped => note(&format!("swardplay: {failure}")),
        _ => note(&format!("error: {failure}")),
    }
}

/// Whether stderr may be coloured: it is a terminal and nobody asked for plain text (NO_COLOR).
pub fn stderr_colour() -> bool {
    io::stderr().is_terminal() && plain_not_asked()
}

/// Whether stdout may be coloured.
pub fn stdout_colour() -> bool {
    io::stdout().is_terminal() && plain_not_asked()
}

fn plain_not_asked() -> bool {
    std::env::var_os("NO_COLOR").is_none_or(|v| v.is_empty())
}

/// Widest text that is easy to read, characters.
const WIDTH: usize = 84;

/// Characters that a line of stdout may have: those of the terminal, where there is one, and no more
/// than is easy to read.
pub fn width() -> usize {
    let columns = console::Term::stdout().size_checked().map(|(_, columns)| usize::from(columns));
    columns.map_or(WIDTH, |columns| columns.clamp(WIDTH / 2, WIDTH))
}

/// Text from a file made safe for a terminal: control characters, which could move the cursor or
/// change colours, become the replacement character. Line ends and tabs stay.
pub fn harmless(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() && c != '\n' && c != '\t' { '\u{FFFD}' } else { c })
        .collect()
}
