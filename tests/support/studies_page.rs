//! The page of studies: what passes, what misses, what is not modelled yet, and every check.

use super::published::{Filed, Outcome};
use std::fmt::Write as _;

/// The heading of the list of misses.
const MISSES: &str = "## Misses";

/// Writes the page. `kept` is the page as it stands: a study whose records are not at hand keeps
/// its section.
pub fn page(results: &[(&Filed, Outcome)], kept: &str) -> String {
    let mut page = String::from("# Published studies against the model\n\n");
    page.push_str(
        "Made by `cargo run --release --example studies -- --write` from the files in\n\
         [tests/studies](studies/README.md). A pass in a study that set parameters says that the\n\
         model can be brought to it; only one that set none is a test. \"Stand-in\" weather is a\n\
         carried station's, shifted towards the study's place; it widens what can be asked.\n\n",
    );
    counts(&mut page, results, kept);
    summary(&mut page, results, kept);
    misses(&mut page, results, kept);
    for (filed, outcome) in results {
        match outcome {
            Outcome::NoRecord(_) => {
                if let Some(section) = kept_section(kept, &filed.study.id) {
                    page.push_str(section);
                    continue;
                }
                section(&mut page, filed, outcome);
            }
            _ => section(&mut page, filed, outcome),
        }
    }
    page
}

/// Passing and all checks of a study; from the kept page where its records are not at hand.
fn tally(filed: &Filed, outcome: &Outcome, kept: &str) -> (usize, usize) {
    match outcome {
        Outcome::Run(rows) => (rows.iter().filter(|r| r.pass).count(), rows.len()),
        Outcome::Elsewhere(holds, all) => (*holds, *all),
        Outcome::Waits(_) => (0, 0),
        Outcome::NoRecord(_) => kept_section(kept, &filed.study.id).map_or((0, 0), |section| {
            let count = |end: &str| section.lines().filter(|l| l.ends_with(end)).count();
            let passed = count("| pass |");
            (passed, passed + count("| MISS |"))
        }),
    }
}

fn kept_section<'a>(kept: &'a str, id: &str) -> Option<&'a str> {
    let from = kept.find(&format!("\n## {id}: "))? + 1;
    let to = kept[from + 1..].find("\n## ").map_or(kept.len(), |at| from + 1 + at + 1);
    Some(&kept[from..to])
}

fn counts(page: &mut String, results: &[(&Filed, Outcome)], kept: &str) {
    for (sets, words) in [(false, "set none"), (true, "set parameters")] {
        let run = results.iter().filter(|(f, o)| {
            f.study.sets_parameters == sets && matches!(o, Outcome::Run(_) | Outcome::NoRecord(_))
        });
        let (mut studies, mut passed, mut all) = (0, 0, 0);
        for (filed, outcome) in run {
            let (pass, of) = tally(filed, outcome, kept);
            (studies, passed, all) = (studies + 1, passed + pass, all + of);
        }
        let _ = writeln!(page, "- {studies} studies that {words}: {passed} of {all} checks pass.");
    }
    let waits: Vec<String> = results
        .iter()
        .filter_map(|(f, o)| match o {
            Outcome::Waits(what) => Some(format!("{} ({what})", f.study.id)),
            _ => None,
        })
        .collect();
    if !waits.is_empty() {
        let _ = writeln!(page, "- {} not modelled yet: {}.", waits.len(), waits.join(", "));
    }
    for (filed, outcome) in results {
        let id = &filed.study.id;
        if let (Some(e), Outcome::Elsewhere(holds, all)) = (&filed.study.elsewhere, outcome) {
            let _ = writeln!(page, "- {id} is run by `{}`: {holds} of {all} rows hold.", e.test);
        }
        if let Some(file) = filed.study.files().first().and_then(|r| r.file.as_ref()) {
            let _ = writeln!(
                page,
                "- {id} wants records that the project does not carry ({file} ...); it runs where \
                 `SWARDPLAY_RECORDS` names a folder that has them."
            );
        }
    }
}

fn summary(page: &mut String, results: &[(&Filed, Outcome)], kept: &str) {
    page.push_str("\n| study | rank | parameters | weather | passed |\n|---|---|---|---|---|\n");
    for (filed, outcome) in results {
        let s = &filed.study;
        let role = if s.sets_parameters { "sets" } else { "sets none" };
        let (passed, all) = tally(filed, outcome, kept);
        let passed = match outcome {
            Outcome::Waits(_) => "not modelled yet".to_owned(),
            Outcome::Elsewhere(..) => format!("{passed} of {all}, elsewhere"),
            Outcome::NoRecord(_) | Outcome::Run(_) => format!("{passed} of {all}"),
        };
        let (id, rank, weather) = (&s.id, &s.rank, weather(filed));
        let _ = writeln!(page, "| {id} | {rank} | {role} | {weather} | {passed} |");
    }
    page.push('\n');
}

/// Whose weather a study runs in.
fn weather(filed: &Filed) -> &'static str {
    let s = &filed.study;
    let w = &s.weather;
    if s.waits_for.is_some() || s.elsewhere.is_some() {
        "-"
    } else if w.constant.is_some() {
        "chamber"
    } else if w.own || !w.record.is_empty() {
        "its own"
    } else {
        "stand-in"
    }
}

fn misses(page: &mut String, results: &[(&Filed, Outcome)], kept: &str) {
    let _ = writeln!(page, "{MISSES}\n");
    let mut any = false;
    for (filed, outcome) in results {
        let id = &filed.study.id;
        match outcome {
            Outcome::Run(rows) => {
                for (row, check) in rows.iter().zip(&filed.study.check).filter(|(r, _)| !r.pass) {
                    any = true;
                    let why = check.known_miss.as_deref().unwrap_or("nothing is known of it yet");
                    let (name, published, model) = (&row.name, &row.published, &row.model);
                    let _ = writeln!(
                        page,
                        "- **{id}**, {name}: published {published}; the model gives {model}. {}",
                        sentence(why)
                    );
                }
            }
            Outcome::NoRecord(_) => {
                let section = kept_section(kept, id).unwrap_or_default();
                let n = section.lines().filter(|l| l.ends_with("| MISS |")).count();
                if n > 0 {
                    any = true;
                    let _ = writeln!(page, "- **{id}**: {n}, see below.");
                }
            }
            _ => {}
        }
    }
    if !any {
        page.push_str("None.\n");
    }
    page.push('\n');
}

/// Begun with a capital and ended with a full stop.
fn sentence(words: &str) -> String {
    let words = words.trim().trim_end_matches('.');
    let mut letters = words.chars();
    let first = letters.next().map_or(String::new(), |c| c.to_uppercase().collect());
    format!("{first}{}.", letters.as_str())
}

fn section(page: &mut String, filed: &Filed, outcome: &Outcome) {
    let s = &filed.study;
    let _ = writeln!(page, "## {}: {}\n", s.id, s.title);
    let role = if s.sets_parameters { "sets parameters" } else { "sets none" };
    let _ = writeln!(page, "{}. Rank {}, {role}. {}\n", s.source, s.rank, s.conditions);
    match outcome {
        Outcome::Run(rows) => {
            page.push_str("| check | published | model | |\n|---|---|---|---|\n");
            for r in rows {
                let verdict = if r.pass { "pass" } else { "MISS" };
                let _ =
                    writeln!(page, "| {} | {} | {} | {verdict} |", r.name, r.published, r.model);
            }
            page.push('\n');
        }
        Outcome::Waits(what) => {
            let _ = writeln!(page, "Not modelled yet: {what}. It will have to give:\n");
            for check in &s.check {
                let _ = writeln!(page, "- {}: {}", check.name, check.published);
            }
            page.push('\n');
        }
        Outcome::Elsewhere(holds, all) => {
            if let Some(e) = &s.elsewhere {
                let link = e.page.strip_prefix("tests/").unwrap_or(&e.page);
                let _ = writeln!(
                    page,
                    "Run by `{}`; its table is [{}]({link}): {holds} of {all} rows hold.\n",
                    e.test, e.page
                );
            }
        }
        Outcome::NoRecord(file) => {
            let _ = writeln!(page, "Not run here: {file} is not at hand.\n");
        }
    }
}
