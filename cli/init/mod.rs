//! `init`: a few answers become a scenario that can be played as it stands.
//!
//! Each answer is checked at once by the scenario check itself, on the scenario that the answers so
//! far make.

mod draft;
mod questions;
pub(crate) mod toml_value;

use std::io::{self, BufRead, Read};
use std::path::Path;

use sim::scenario::Severity;

use crate::args::InitArgs;
use crate::failure::Failure;
use crate::scenario_source::ScenarioSource;
use crate::station::Says;
use crate::terminal::{self, harmless};
use crate::{engine, outfile, vet};
use questions::{Answers, QUESTIONS, Question, Topic};

/// Longest answer that is read, bytes.
const ANSWER_MAX: u64 = 1000;

/// Runs `init`.
///
/// # Errors
/// [`Failure::Input`] where an answer is not understood or the file is there already,
/// [`Failure::Stopped`] where the answers end early on a terminal; nothing is written then.
pub fn run(args: &InitArgs) -> Result<(), Failure> {
    outfile::may_write(&args.file, args.force)?;
    let flags = Answers::of_flags(&args.answers);
    let asking = !args.yes && (terminal::can_ask() || flags.none());
    let mut answers = Answers::default();
    let stdin = io::stdin();
    let mut asked = Asked { lines: stdin.lock(), person: terminal::can_ask(), read: 0 };
    for question in &QUESTIONS {
        settle(
            question,
            flags.given(question.topic),
            &mut answers,
            asking.then_some(&mut asked),
            &args.file,
        )?;
    }
    let text = answers.draft().map_err(Failure::Input)?;
    outfile::write(&args.file, &text, args.force)?;
    let name = harmless(&args.file.display().to_string());
    terminal::say(&format!(
        "{name} is written. Look it over: its comments explain each line. Then\n\n  swardplay vet \
         {name}\n  swardplay play {name} --out my-lawn\n"
    ))
}

/// Gives one question an answer that passes: the flag's, the person's, or the usual one.
fn settle<R: BufRead>(
    question: &Question,
    flag: Option<&str>,
    answers: &mut Answers,
    mut asked: Option<&mut Asked<R>>,
    file: &Path,
) -> Result<(), Failure> {
    if let Some(text) = flag {
        answers.put(question.topic, text.to_string());
        return verdict(question, answers, file)
            .map_err(|why| Failure::Input(format!("--{}: {why}", question.flag)));
    }
    let usual = answers.usual(question.topic);
    loop {
        let typed = match asked.as_deref_mut() {
            Some(asked) => asked.answer(question, &usual)?,
            None => usual.clone(),
        };
        answers.put(question.topic, typed);
        match (verdict(question, answers, file), asked.as_deref()) {
            (Ok(()), _) => return Ok(()),
            (Err(why), Some(asked)) if asked.person => terminal::note(&format!("  {why}\n")),
            (Err(why), _) => {
                return Err(Failure::Input(format!("the answer for --{}: {why}", question.flag)));
            }
        }
    }
}

/// Whether the scenario of the answers so far passes; if not, why, in lines.
fn verdict(question: &Question, answers: &Answers, file: &Path) -> Result<(), String> {
    let text = answers.draft()?;
    let checked = engine::check(&text).map_err(|faults| {
        let errors = faults.iter().filter(|fault| fault.severity == Severity::Error);
        // What is missing is often so because of what is wrong beside it.
        let first = errors.min_by_key(|fault| fault.code == "missing-key");
        first.map_or_else(String::new, |fault| {
            let help = fault.help.as_ref().map(|help| format!("\n  {help}")).unwrap_or_default();
            harmless(&format!("{}\n  expected {}{help}", fault.message, fault.expected))
        })
    })?;
    if question.topic == Topic::Weather {
        let name = file.display().to_string();
        let source = ScenarioSource { name, text, folder: Some(outfile::folder(file)) };
        vet::weather(&source, &checked, Says::Answer)
            .map_err(|failure| harmless(&failure.to_string()))?;
    }
    Ok(())
}

/// Where answers are read from.
struct Asked<R> {
    lines: R,
    /// Whether a person types them, who can be asked again.
    person: bool,
    /// Answers read so far.
    read: usize,
}

impl<R: BufRead> Asked<R> {
    /// One answer; an empty one is the usual.
    fn answer(&mut self, question: &Question, usual: &str) -> Result<String, Failure> {
        if self.person {
            let Question { ask, such_as, .. } = question;
            terminal::prompt(&format!("\n{ask}\n  {such_as}\n[{usual}] "));
        }
        let mut line = Vec::new();
        let taken = self.lines.by_ref().take(ANSWER_MAX).read_until(b'\n', &mut line);
        let length = taken.map_err(|e| Failure::Machine(format!("cannot read answers: {e}")))?;
        if length == 0 {
            return Err(self.ended(question));
        }
        self.read += 1;
        let typed = String::from_utf8(line).map_err(|_| {
            Failure::Input(format!("the answer for --{} is not UTF-8 text", question.flag))
        })?;
        let typed = typed.trim();
        Ok(if typed.is_empty() { usual.to_string() } else { typed.to_string() })
    }

    fn ended(&self, question: &Question) -> Failure {
        if self.person {
            return Failure::Stopped;
        }
        if self.read == 0 {
            return Failure::Input(
                "there is no terminal to ask questions on. Give the answers as flags, such as \
                 --area \"6000 ft2\" --grass \"tall fescue\" (`swardplay init --help` lists them), or \
                 take the usual ones with --yes"
                    .to_string(),
            );
        }
        Failure::Input(format!(
            "the answers end before the one for --{}; give one line for each question, empty for \
             the usual answer",
            question.flag
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(lines: &'static str, person: bool) -> Asked<&'static [u8]> {
        Asked { lines: lines.as_bytes(), person, read: 0 }
    }

    /// A person who slips is asked again, and the mended answer counts.
    #[test]
    fn a_person_is_asked_again() {
        let mut answers = Answers::default();
        let mut person = asked("6000 lb\n6000\n7000 ft2\n", true);
        settle(&QUESTIONS[0], None, &mut answers, Some(&mut person), Path::new("x.toml")).unwrap();
        assert!(answers.draft().unwrap().contains("area = \"7000 ft2\""));
        assert_eq!(person.read, 3);
    }

    #[test]
    fn a_pipe_is_not_asked_again() {
        let mut answers = Answers::default();
        let mut pipe = asked("6000 lb\n7000 ft2\n", false);
        let end = settle(&QUESTIONS[0], None, &mut answers, Some(&mut pipe), Path::new("x.toml"));
        assert!(end.unwrap_err().to_string().contains("--area"));
    }

    /// Ctrl-D.
    #[test]
    fn a_person_may_leave() {
        let mut answers = Answers::default();
        let mut person = asked("", true);
        let end = settle(&QUESTIONS[0], None, &mut answers, Some(&mut person), Path::new("x.toml"));
        assert_eq!(end, Err(Failure::Stopped));
    }
}
