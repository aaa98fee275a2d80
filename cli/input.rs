//! The only place that reads files a person names. Nothing is assumed about what is in them.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use sim::scenario::{Program, Scenario};

use crate::failure::Failure;
use crate::terminal::harmless;

/// Largest scenario that is read, bytes (a long one is some 20 kB).
pub const SCENARIO_MAX: u64 = 4 * 1024 * 1024;
/// Largest table of lawns that is read, bytes (a thousand lawns are some 100 kB).
pub const LAWNS_MAX: u64 = 4 * 1024 * 1024;
/// Largest weather record that is read, bytes (a century of days is some 3 MB as a plain table, and
/// up to 30 MB with every element and its attributes).
pub const WEATHER_MAX: u64 = 64 * 1024 * 1024;

/// Reads a text file of at most `max` bytes. A byte order mark is dropped; Windows line ends are
/// left as they are. `what` names the file's role in messages ("scenario").
///
/// # Errors
/// [`Failure::Input`] where there is no such file, it is a folder, too large, not UTF-8, or holds
/// NUL bytes; each message says how to mend it.
pub fn read_text(path: &Path, what: &str, max: u64) -> Result<String, Failure> {
    let name = path.display();
    if path.is_dir() {
        return Err(Failure::Input(format!(
            "`{name}` is a folder; a {what} file was expected. Name the file inside it"
        )));
    }
    let file = File::open(path).map_err(|error| Failure::Input(unopened(path, what, &error)))?;
    let mut bytes = Vec::new();
    file.take(max + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| Failure::Input(format!("cannot read the {what} `{name}`: {error}")))?;
    if bytes.len() as u64 > max {
        return Err(Failure::Input(format!(
            "the {what} `{name}` is larger than {} MB, the most that is read; is it the right \
             file?",
            max / (1024 * 1024)
        )));
    }
    decode(bytes).map_err(|why| Failure::Input(format!("the {what} `{name}` {why}")))
}

fn unopened(path: &Path, what: &str, error: &std::io::Error) -> String {
    let name = path.display();
    match error.kind() {
        ErrorKind::NotFound => {
            let mut message = format!("there is no {what} file `{name}`");
            if let Some(near) = neighbour(path) {
                message.push_str(&format!("; did you mean `{near}`?"));
            }
            message
        }
        ErrorKind::PermissionDenied => format!("no permission to read the {what} `{name}`"),
        _ => format!("cannot read the {what} `{name}`: {error}"),
    }
}

/// A file in the same folder whose name is nearly the one asked for.
fn neighbour(path: &Path) -> Option<String> {
    let wanted = path.file_name()?.to_str()?;
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    // Sorted, so that the suggestion does not depend on the file system's order.
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .ok()?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    names.sort();
    let near = nearest(wanted, names.iter().map(String::as_str))?;
    Some(folder.join(near).display().to_string().trim_start_matches("./").to_string())
}

/// The candidate nearest in spelling, where one is near enough to be meant.
pub fn nearest<'a>(wanted: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    candidates
        .map(|c| (strsim::jaro_winkler(wanted, c), c))
        .filter(|(likeness, _)| *likeness > 0.85)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, c)| c)
}

/// A flag that must be given: `what` it names, and what it may name.
pub fn missing<'n>(flag: &str, what: &str, known: impl Iterator<Item = &'n str>) -> Failure {
    let known: Vec<&str> = known.collect();
    Failure::Input(format!("which {what}? Say it with {flag}: one of {}", known.join(", ")))
}

/// A flag that names nothing that there is, with a near miss.
pub fn unknown<'n>(
    flag: &str,
    typed: &str,
    what: &str,
    known: impl Iterator<Item = &'n str> + Clone,
) -> Failure {
    let near = nearest(typed, known.clone());
    let near = near.map(|near| format!(". Did you mean `{near}`?")).unwrap_or_default();
    let known: Vec<&str> = known.collect();
    Failure::Input(format!(
        "{flag} {}: there is no such {what}; expected one of {}{near}",
        harmless(typed),
        known.join(", ")
    ))
}

/// The program that a person names, or the only one.
///
/// # Errors
/// [`Failure::Input`] with the programs that there are.
pub fn program<'a>(asked: Option<&str>, scenario: &'a Scenario) -> Result<&'a Program, Failure> {
    let ids = || scenario.programs.iter().map(|p| p.id.as_str());
    match (asked, &scenario.programs[..]) {
        (Some(id), programs) => programs
            .iter()
            .find(|program| program.id == id)
            .ok_or_else(|| unknown("--program", id, "program", ids())),
        (None, [only]) => Ok(only),
        (None, _) => Err(missing("--program", "program", ids())),
    }
}

/// What a file's bytes say as text, without a byte order mark.
///
/// # Errors
/// Why they are not text, to stand after the file's name ("is saved as UTF-16; ...").
pub fn decode(bytes: Vec<u8>) -> Result<String, String> {
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err("is saved as UTF-16; save it as UTF-8 (\"Save as\", encoding UTF-8)".into());
    }
    if let Some(at) = bytes.iter().position(|b| *b == 0) {
        return Err(format!(
            "is not a text file: NUL byte in line {}; was it made by a text editor?",
            line_of(&bytes, at)
        ));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let line = line_of(error.as_bytes(), at);
        format!("is not UTF-8 text: line {line} holds a byte of another encoding; save it as UTF-8")
    })?;
    match text.strip_prefix('\u{FEFF}') {
        Some(rest) => Ok(rest.to_string()),
        None => Ok(text),
    }
}

fn line_of(bytes: &[u8], at: usize) -> usize {
    1 + bytes[..at].iter().filter(|b| **b == b'\n').count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_byte_order_mark_goes_and_windows_line_ends_stay() {
        assert_eq!(decode(b"\xEF\xBB\xBFa = 1\r\n".to_vec()), Ok("a = 1\r\n".to_string()));
    }

    #[test]
    fn bytes_that_are_not_text_are_told_with_their_line() {
        let nul = decode(b"a = 1\nb\0\n".to_vec()).unwrap_err();
        assert!(nul.contains("NUL byte in line 2"), "{nul}");
        let latin = decode(b"a\n\n\xE9t\xE9\n".to_vec()).unwrap_err();
        assert!(latin.contains("line 3 holds"), "{latin}");
        let wide = decode(b"\xFF\xFEa\0".to_vec()).unwrap_err();
        assert!(wide.contains("UTF-16"), "{wide}");
    }

    #[test]
    fn a_slip_of_the_pen_is_recognised_and_a_stranger_is_not() {
        let names = ["thin-front-lawn", "new-build-lot"];
        assert_eq!(nearest("thin-frnt-lawn", names.into_iter()), Some("thin-front-lawn"));
        assert_eq!(nearest("zzz", names.into_iter()), None);
    }
}
