//! The guess: asked on a terminal, or given.

use std::io::{self, BufRead, Read};

use super::told::Question;
use crate::failure::Failure;
use crate::terminal;

/// Longest answer that is read, bytes.
const ANSWER_MAX: u64 = 1000;

/// The choice that was guessed: the flag's, else the person's or the pipe's. `None` where a pipe says
/// nothing.
///
/// # Errors
/// [`Failure::Input`] where there is no such choice, [`Failure::Stopped`] where a person leaves.
pub fn guess(question: &Question, flag: Option<&str>) -> Result<Option<usize>, Failure> {
    if let Some(typed) = flag {
        return choice(question, typed)
            .map(Some)
            .map_err(|why| Failure::Input(format!("--answer: {why}")));
    }
    read(question, &mut io::stdin().lock(), terminal::can_ask())
}

fn read(
    question: &Question,
    lines: &mut impl BufRead,
    person: bool,
) -> Result<Option<usize>, Failure> {
    loop {
        if person {
            terminal::prompt(&format!("Your guess, {}: ", letters(question)));
        }
        let mut line = Vec::new();
        let taken = lines.by_ref().take(ANSWER_MAX).read_until(b'\n', &mut line);
        let length = taken.map_err(|e| Failure::Machine(format!("cannot read the answer: {e}")))?;
        if length == 0 {
            return if person { Err(Failure::Stopped) } else { Ok(None) };
        }
        let typed = String::from_utf8_lossy(&line);
        if typed.trim().is_empty() && !person {
            return Ok(None);
        }
        match choice(question, &typed) {
            Ok(choice) => return Ok(Some(choice)),
            Err(why) if person => terminal::note(&why),
            Err(why) => return Err(Failure::Input(why)),
        }
    }
}

fn choice(question: &Question, typed: &str) -> Result<usize, String> {
    let typed = typed.trim();
    let found = question.choices.iter().position(|(letter, _)| {
        typed.len() == 1 && typed.chars().all(|c| c.eq_ignore_ascii_case(letter))
    });
    found.ok_or_else(|| {
        let shown: String = terminal::harmless(typed).chars().take(40).collect();
        format!("there is no answer \"{shown}\"; expected {}", letters(question))
    })
}

/// "A, B or C".
fn letters(question: &Question) -> String {
    let all: Vec<String> = question.choices.iter().map(|(letter, _)| letter.to_string()).collect();
    match all.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} or {last}", others.join(", ")),
        _ => all.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn question() -> Question {
        Question {
            title: String::new(),
            story: String::new(),
            change: String::new(),
            played: String::new(),
            question: String::new(),
            choices: vec![('A', String::new()), ('B', String::new()), ('C', String::new())],
        }
    }

    fn answered(text: &str, person: bool) -> Result<Option<usize>, Failure> {
        read(&question(), &mut text.as_bytes(), person)
    }

    #[test]
    fn a_person_who_slips_is_asked_again_and_a_pipe_is_not() {
        assert_eq!(answered("Z\n\nb\n", true), Ok(Some(1)));
        let refused = answered("Z\nb\n", false).unwrap_err().to_string();
        assert!(refused.contains("expected A, B or C"), "{refused}");
    }

    #[test]
    fn a_silent_pipe_makes_no_guess_and_a_person_may_leave() {
        assert_eq!(answered("", false), Ok(None));
        assert_eq!(answered("\n", false), Ok(None));
        assert_eq!(answered("", true), Err(Failure::Stopped));
    }

    #[test]
    fn a_flag_is_read_as_typed() {
        assert_eq!(guess(&question(), Some(" c ")), Ok(Some(2)));
        assert!(guess(&question(), Some("AB")).unwrap_err().to_string().contains("--answer"));
    }
}
