//! `lesson`: guess first, look second. What one change does to a lawn, asked of a new crew member and
//! answered by playing it.

mod amount;
mod ask;
pub mod belief;
mod picture;
mod sheet;
pub mod source;
pub mod told;

use sim::analysis::lesson::Answer;
use sim::ensemble::Results;

use crate::args::LessonArgs;
use crate::carried;
use crate::failure::Failure;
use crate::outdir::OutDir;
use crate::progress::watched;
use crate::words::lines::wrap;
use crate::{drawing, engine, interrupt, terminal};
use source::Ready;
use told::{Question, Table, Told};

/// Simulated futures of a lesson where nobody asks for another number.
pub const MEMBERS: u32 = 200;

/// Where a sheet goes where nobody says otherwise.
const FOLDER: &str = "swardplay-lesson";

/// Runs `lesson`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &LessonArgs) -> Result<(), Failure> {
    if args.sheet {
        return sheet(args);
    }
    if args.name.is_none() && args.file.is_none() {
        return terminal::say(&list());
    }
    let ready = source::asked_for(args)?;
    ready.iter().try_for_each(|ready| one(ready, args))
}

/// Asks one lesson and answers it.
fn one(ready: &Ready, args: &LessonArgs) -> Result<(), Failure> {
    let question = told::question(ready);
    terminal::say(&asked(&question))?;
    let guess = ask::guess(&question, args.answer.as_deref())?;
    interrupt::listen();
    let mut out = args.out.as_deref().map(OutDir::open).transpose()?;
    let (results, answer) = play(ready, args)?;
    let mut text = shown(&told::told(ready, &results, &answer));
    if let Some(guess) = guess {
        text = format!("\n{}\n{text}", told::guessed(&answer, guess));
    }
    if let Some(mut out) = out.take() {
        for (name, bytes) in drawing::draw(&picture::sketch(ready, &results, &answer))? {
            out.write(&name, |w| w.write_all(&bytes))?;
        }
        let names: Vec<String> = out.names().map(str::to_string).collect();
        let folder = out.commit()?;
        text.push_str(&format!(
            "\nThe picture is in {}: {}\n",
            terminal::harmless(&folder.display().to_string()),
            names.join(", ")
        ));
    }
    if let Some(next) = next(args) {
        text.push_str(&format!("\nNext: swardplay lesson {next}\n"));
    }
    terminal::say(&text)
}

/// The carried lesson after the one that was asked for.
fn next(args: &LessonArgs) -> Option<&'static str> {
    let name = args.name.as_deref()?;
    let at = carried::LESSONS.iter().position(|(known, _)| *known == name)?;
    carried::LESSONS.get(at + 1).map(|(next, _)| *next)
}

/// Plays a lesson.
///
/// # Errors
/// As [`engine::ask`].
pub fn play(ready: &Ready, args: &LessonArgs) -> Result<(Results, Answer), Failure> {
    let scenario = &ready.lesson.scenario;
    let members = args.options.members.unwrap_or(MEMBERS);
    let results = watched(members, |observer| {
        engine::ask(scenario, &ready.weather, &args.options, members, observer)
    })?;
    let answer = engine::answer(&ready.lesson, &results)?;
    Ok((results, answer))
}

/// Writes the sheet of one lesson or of all.
fn sheet(args: &LessonArgs) -> Result<(), Failure> {
    let lessons = source::asked_for(args)?;
    interrupt::listen();
    let folder = args.out.clone().unwrap_or_else(|| FOLDER.into());
    let mut out = OutDir::open(&folder)?;
    let mut pages = Vec::new();
    for ready in &lessons {
        let (results, answer) = play(ready, args)?;
        pages.push(sheet::Page {
            question: told::question(ready),
            told: told::told(ready, &results, &answer),
            right: answer.right.clone(),
            picture: drawing::svg(&picture::sketch(ready, &results, &answer))?,
        });
    }
    let name = match &lessons[..] {
        [only] => format!("lesson-{}.html", only.name),
        _ => "lessons.html".to_string(),
    };
    let members = args.options.members.unwrap_or(MEMBERS);
    out.write(&name, |w| w.write_all(sheet::html(&pages, members).as_bytes()))?;
    let folder = out.commit()?;
    terminal::say(&format!(
        "Written: {}. Open it in a browser and print it: questions first, answers behind them.\n",
        terminal::harmless(&folder.join(name).display().to_string())
    ))
}

/// The carried lessons.
fn list() -> String {
    let wide = carried::LESSONS.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
    let mut out = String::from("Lessons: guess first, look second.\n\n");
    for (name, text) in carried::LESSONS {
        let title = text.lines().find_map(|line| line.strip_prefix("title = \""));
        let title = title.and_then(|rest| rest.strip_suffix('"')).unwrap_or_default();
        out.push_str(&format!("  {name:wide$}  {title}\n"));
    }
    out.push_str(
        "\nswardplay lesson NAME asks one; swardplay lesson --sheet writes all of them for print.\n",
    );
    out
}

/// The question, as a terminal shows it.
fn asked(question: &Question) -> String {
    let mut out = format!("{}\n\n", question.title);
    out.push_str(&wrap(&question.story, 2, 2));
    out.push_str(&wrap(&format!("The change: {}.", question.change.trim_end_matches('.')), 2, 2));
    out.push_str(&wrap(&question.played, 2, 2));
    out.push('\n');
    out.push_str(&wrap(&question.question, 0, 0));
    for (letter, says) in &question.choices {
        out.push_str(&wrap(&format!("{letter}  {says}"), 2, 5));
    }
    out.push('\n');
    out
}

/// The answer, as a terminal shows it.
pub fn shown(told: &Told) -> String {
    let mut out = String::new();
    out.push_str(&wrap(&told.verdict, 0, 0));
    out.push_str(&wrap(&told.size, 2, 2));
    out.push_str(&wrap(&told.counts, 2, 2));
    out.push_str(
        "\nFrom cause to effect, in the middle of the futures (half have more, half less)\n",
    );
    for (number, link) in told.chain.iter().enumerate() {
        out.push_str(&wrap(&format!("{}. {link}", number + 1), 2, 5));
    }
    out.push('\n');
    out.push_str(&table(&told.table));
    out.push_str("\nHow far to believe it\n");
    for line in told.popular.iter().chain(&told.belief) {
        out.push_str(&wrap(line, 2, if line.starts_with("- ") { 4 } else { 2 }));
    }
    out.push_str(&wrap(LABEL, 2, 2));
    out
}

/// What a lesson cannot settle.
pub(super) const LABEL: &str =
    "Whatever a lesson says, a product's label and the local law come first.";

/// Characters that a head of a column may be wide before it goes on below.
const HEAD: usize = 12;

/// A head in lines of at most [`HEAD`] characters, where its words allow.
fn head(column: &str) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in column.split(' ') {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) if line.chars().count() + 1 + word.chars().count() <= HEAD => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_string()),
        }
    }
    lines
}

fn table(table: &Table) -> String {
    let heads: Vec<Vec<String>> = table.columns.iter().map(|column| head(column)).collect();
    let high = heads.iter().map(Vec::len).max().unwrap_or(0);
    let first = table.rows.iter().map(|(time, _)| time.len()).max().unwrap_or(0);
    let width = |at: usize| {
        let cells = table.rows.iter().filter_map(|(_, cells)| cells.get(at));
        let widest = cells.chain(&heads[at]).map(|text| text.chars().count()).max();
        widest.unwrap_or(0)
    };
    let widths: Vec<usize> = (0..heads.len()).map(width).collect();
    let mut out = format!("{}\n", table.heading);
    let mut line = |time: &str, cells: &[String]| {
        let cells = cells.iter().zip(&widths).map(|(cell, wide)| format!("  {cell:>wide$}"));
        out.push_str(format!("  {time:first$}{}", cells.collect::<String>()).trim_end());
        out.push('\n');
    };
    for row in 0..high {
        // Heads stand on the figures.
        let part = |head: &Vec<String>| {
            let at = (row + head.len()).checked_sub(high);
            at.and_then(|at| head.get(at).cloned()).unwrap_or_default()
        };
        line("", &heads.iter().map(part).collect::<Vec<_>>());
    }
    table.rows.iter().for_each(|(time, cells)| line(time, cells));
    out
}
