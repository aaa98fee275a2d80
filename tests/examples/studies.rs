//! Runs published studies on the real model and prints the page that the documents carry.
//!
//! ```sh
//! cargo run --release --example studies                        # the studies of the tree
//! cargo run --release --example studies -- --write             # and writes tests/STUDIES.md
//! cargo run --release --example studies -- ID [ID ...]         # some of them
//! cargo run --release --example studies -- FILE.toml FOLDER    # studies of your own
//! cargo run --release --example studies -- --series ID-OR-FILE TREATMENT a,b,c [EVERY]
//! ```
//!
//! `--series` prints daily series of one treatment, for looking at what the model does. Exit code 2
//! where an argument or a study file needs mending.

#[path = "../support/published.rs"]
mod published;
#[path = "../support/studies_page.rs"]
mod studies_page;

use published::{Filed, outcome, read_all, root, sources, studies};
use sim::parameters::Catalogue;
use sim::study::{reference, run, series_names, series_position};
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match go(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{}", message.trim_end());
            ExitCode::from(2)
        }
    }
}

fn go(arguments: &[String]) -> Result<(), String> {
    let catalogue = Catalogue::embedded();
    if let Some(("--series", rest)) = arguments.split_first().map(|(a, r)| (a.as_str(), r)) {
        return series(rest, &catalogue);
    }
    let write = arguments.iter().any(|a| a == "--write");
    let wanted: Vec<&String> = arguments.iter().filter(|a| *a != "--write").collect();
    if let Some(flag) = wanted.iter().find(|a| a.starts_with('-')) {
        return Err(format!("error: no option {flag}; there are --write and --series"));
    }
    if write && !wanted.is_empty() {
        return Err("error: --write makes the page of all studies of the tree".to_owned());
    }
    let chosen = choose(&wanted, &catalogue)?;
    let sources = sources(&chosen)?;
    let mut results = Vec::new();
    for filed in &chosen {
        results.push((filed, outcome(filed, &catalogue, &sources)?.0));
    }
    let path = root().join("tests/STUDIES.md");
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let page = studies_page::page(&results, &kept);
    say(&page);
    if write {
        put(&path, &page)?;
        guide()?;
    }
    Ok(())
}

/// The studies that the arguments name: ids of the tree's, files, folders; all where none is named.
fn choose(wanted: &[&String], catalogue: &Catalogue) -> Result<Vec<Filed>, String> {
    if wanted.is_empty() {
        return studies(catalogue);
    }
    let (paths, ids): (Vec<&String>, Vec<&String>) = wanted.iter().partition(|a| is_path(a));
    let mut chosen = Vec::new();
    if !ids.is_empty() {
        let tree = studies(catalogue)?;
        let known: Vec<String> = tree.iter().map(|f| f.study.id.clone()).collect();
        if let Some(unknown) = ids.iter().find(|id| !known.contains(id)) {
            return Err(format!("error: no study {unknown:?}{}", meant(unknown, &known)));
        }
        chosen.extend(tree.into_iter().filter(|f| ids.iter().any(|id| **id == f.study.id)));
    }
    let paths: Vec<PathBuf> = paths.iter().map(PathBuf::from).collect();
    chosen.extend(read_all(&paths, catalogue)?);
    Ok(chosen)
}

fn is_path(argument: &str) -> bool {
    let path = Path::new(argument);
    path.extension().is_some_and(|e| e == "toml")
        || argument.contains(std::path::MAIN_SEPARATOR)
        || path.exists()
}

/// "; did you mean ..?", or all there are.
fn meant(word: &str, known: &[String]) -> String {
    let near = known.iter().map(|k| (strsim::damerau_levenshtein(word, k), k)).min();
    match near {
        Some((edits, name)) if edits <= word.chars().count().div_ceil(3) => {
            format!("; did you mean {name:?}?")
        }
        _ => format!("; there are {}", known.join(", ")),
    }
}

fn series(arguments: &[String], catalogue: &Catalogue) -> Result<(), String> {
    let [id, treatment, names, rest @ ..] = arguments else {
        return Err("error: --series ID-OR-FILE TREATMENT a,b,c [EVERY]".to_owned());
    };
    let every: usize = match rest.first().map(|e| e.parse()) {
        None => 7,
        Some(Ok(every)) if every > 0 => every,
        Some(_) => return Err(format!("error: every {:?} days?", rest[0])),
    };
    let chosen = choose(&[id], catalogue)?;
    let sources = sources(&chosen)?;
    let study = &chosen[0].study;
    let known: Vec<String> = study.treatment.iter().map(|t| t.name.clone()).collect();
    let at = known.iter().position(|n| n == treatment);
    let at =
        at.ok_or_else(|| format!("error: no treatment {treatment:?}{}", meant(treatment, &known)))?;
    let names: Vec<&str> = names.split(',').collect();
    let all = series_names();
    let columns: Vec<usize> = names
        .iter()
        .map(|n| {
            series_position(n).ok_or_else(|| format!("error: no series {n:?}{}", meant(n, &all)))
        })
        .collect::<Result<_, _>>()?;
    let tracks = run(study, catalogue, &sources)?;
    let mut table = String::new();
    for track in tracks.get(at).into_iter().flatten() {
        let names = names.join(",");
        let _ = writeln!(table, "date,{names}   (worst residual {:.1e})", track.worst_residual);
        for (i, row) in track.rows.iter().enumerate().step_by(every) {
            let figures: Vec<String> = columns.iter().map(|c| format!("{:.3}", row[*c])).collect();
            let _ = writeln!(table, "{},{}", track.first.plus(i as i32), figures.join(","));
        }
    }
    say(&table);
    Ok(())
}

fn put(path: &Path, text: &str) -> Result<(), String> {
    std::fs::write(path, text).map_err(|e| format!("error: {}: {e}", path.display()))
}

/// Puts the lists of names that the program knows at the end of the studies' guide.
fn guide() -> Result<(), String> {
    let path = root().join("tests/studies/README.md");
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    let heading = "## Names\n\n";
    let from = text.find(heading).ok_or("the studies' guide has no heading \"Names\"")?;
    put(&path, &format!("{}{}", &text[..from + heading.len()], reference()))
}

/// Prints; a reader that has gone is no fault.
fn say(text: &str) {
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}
