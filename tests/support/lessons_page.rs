//! The page of lessons: what each asks, what the model answers, and how a lesson is written.

use std::fmt::Write as _;

use clap::Parser;
use swardplay::args::{Cli, Command, LessonArgs};
use swardplay::lesson::{belief, play, source, told};

/// The arguments that a person would give.
pub fn typed(words: &[&str]) -> LessonArgs {
    match Cli::parse_from(["swardplay", "lesson"].iter().chain(words)).command {
        Some(Command::Lesson(args)) => args,
        _ => panic!("`lesson` is a command"),
    }
}

/// The page.
///
/// # Errors
/// Why a lesson could not be played.
pub fn page() -> Result<String, String> {
    let args = typed(&[]);
    let lessons = source::asked_for(&args).map_err(|failure| failure.to_string())?;
    let mut page = String::from(HEAD);
    let mut disagrees = Vec::new();
    for ready in &lessons {
        let (results, answer) = play(ready, &args).map_err(|failure| failure.to_string())?;
        let question = told::question(ready);
        let told = told::told(ready, &results, &answer);
        let popular = ready.lesson.popular;
        if popular.is_some_and(|popular| !answer.right.contains(&popular)) {
            disagrees.push(format!("`{}`", ready.name));
        }
        let _ = writeln!(page, "\n### {}: {}\n", ready.name, question.title);
        let _ = writeln!(page, "{} The change: {}.\n", question.story, question.change);
        let _ = writeln!(page, "**{}**\n", question.question);
        for (letter, says) in &question.choices {
            let _ = writeln!(page, "- {letter}. {says}");
        }
        let _ = writeln!(page, "\n{} {} {}", told.verdict, told.size, told.counts);
        if let Some(popular) = &told.popular {
            let _ = writeln!(page, "{popular}");
        }
        let studies: Vec<String> = ready
            .lesson
            .studies
            .iter()
            .filter_map(|id| Some((id, belief::study(id)?.near)))
            .map(|(id, (near, of))| format!("`{id}` ({near} of {of} near)"))
            .collect();
        if !studies.is_empty() {
            let _ = writeln!(page, "Trials that ask much the same: {}.", studies.join(", "));
        }
        page.push('\n');
        for (number, link) in told.chain.iter().enumerate() {
            let _ = writeln!(page, "{}. {link}", number + 1);
        }
    }
    let _ = writeln!(
        page,
        "\nWhere the model does not bear out what many would say: {}.",
        disagrees.join(", ")
    );
    page.push_str(HOW);
    // Under this heading the tables stand one level lower than in a page of their own.
    page.push_str(&sim::scenario::lesson_reference().replace("\n## ", "\n### "));
    Ok(page)
}

const HEAD: &str = "\
# Lessons: guess first, look second

Exercises in cause and effect for new crew. All lawns are invented. `swardplay lesson` lists them,
`swardplay lesson cut-often` asks one, `swardplay lesson --sheet` writes them for print, answers on
pages of their own. **The answers are below: do not read on before you have guessed.**

The answers are what the model gives in 200 simulated futures (seed 1), not what was measured on a
lawn. Made by `cargo run --example answers -- --write`; a test holds it to the model.

## What the model answers
";

const HOW: &str = "
## A lesson of your own

A lesson is a scenario, or the name of one, and a table of what is asked. `swardplay lesson --file
my-lesson.toml` asks it, and shows every mistake with its line. The file holds no answer: which choice is
right is worked out from the futures. With the carried thin front lawn:

```toml
title = \"Feed twice as much?\"
scenario = \"thin-front-lawn\"           # or a file beside the lesson, or all of a scenario's own tables

[[program]]                             # the program with the one change
id = \"double\"
based-on = \"usual\"
[[program.change]]
practice = \"feed\"
nitrogen = \"1.5 lb N/1000 ft2\"

[lesson]
story = \"The client would pay for twice the feed.\"
change = \"double\"
question = \"What happens to the crabgrass at its worst?\"
popular = \"A\"                           # what many would say, if you like
show = \"crabgrass_cover\"                # the measure that is drawn over the season

[lesson.asked]
outcome = \"crabgrass_peak\"

[[lesson.choice]]                       # together the ranges cover everything once
says = \"Less\"
to = \"-5 points\"
[[lesson.choice]]
says = \"About as much\"
from = \"-5 points\"
to = \"5 points\"
[[lesson.choice]]
says = \"More\"
from = \"5 points\"

[[lesson.link]]                         # the chain from cause to effect
measure = \"turf_cover\"
on = \"15 Jun\"
says = \"In mid June grass covers {a} of the ground, against {b}\"
```

Write a link so that it stays true whichever way the figures fall. `{a}` is the figure with the change,
`{b}` the one without, and `{more|less|about as much}` takes the wording that fits.

The right answer is the one whose range holds the middle future. Where the 95 % interval of that middle
reaches into another range, the lesson says that these futures do not tell the two apart; more of them
(`--members`) may.
";
