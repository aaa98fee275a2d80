//! `merge`: the parts of a run, wherever each was played, become the run.

use std::fs;
use std::path::{Path, PathBuf};

use crate::args::{MergeArgs, PlayOptions};
use crate::engine::Players;
use crate::failure::Failure;
use crate::files::timing::Stopwatch;
use crate::outdir::OutDir;
use crate::parts::file::{self, ENDING, Head};
use crate::parts::refused;
use crate::{inputs, interrupt, parts, play, terminal};

/// Most parts that are named one by one in a message.
const NAMED_MAX: usize = 20;

/// Runs `merge`.
///
/// # Errors
/// [`Failure::Input`] where parts are missing, of different runs, or damaged.
pub fn run(args: &MergeArgs) -> Result<(), Failure> {
    let mut watch = Stopwatch::start();
    let mut heads = Vec::new();
    for path in found(&args.parts)? {
        // The head alone is kept: a part may be large.
        let head = file::read(&path)?.head;
        heads.push((path, head));
    }
    heads.sort_by_key(|(_, head)| head.part);
    one_run(&heads)?;
    let Some((_, Head { run, .. })) = heads.first() else { return Err(none(&args.parts)) };
    let options = PlayOptions { out: args.out.clone(), ..PlayOptions::default() };
    let asked = run.args(&options);
    let (inputs, weather) = inputs::read(&asked.scenario, asked.options.units)?;
    run.same(&inputs)?;
    interrupt::listen();
    let out = OutDir::open(&args.out)?;
    watch.lap("read");

    let players = Players::new(&inputs.checked.scenario, &weather, &asked.options)?;
    let results = parts::together(&players, heads.iter().map(|(path, _)| path.clone()))?;
    watch.lap("merge");
    play::finish((&inputs, &weather), &asked.options, &results, out, watch)
}

/// The part files among what was named: files as they are, of folders all that end as part files do.
fn found(named: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut all = Vec::new();
    for path in named {
        if !path.is_dir() {
            all.push(path.clone());
            continue;
        }
        let entries = fs::read_dir(path).map_err(|error| refused(path, &error.to_string()))?;
        let is_part =
            |p: &PathBuf| p.file_name().is_some_and(|n| n.to_string_lossy().ends_with(ENDING));
        let mut inside: Vec<PathBuf> =
            entries.filter_map(|entry| Some(entry.ok()?.path())).filter(is_part).collect();
        // The order of a folder is the file system's own.
        inside.sort();
        all.extend(inside);
    }
    if all.is_empty() { Err(none(named)) } else { Ok(all) }
}

fn none(named: &[PathBuf]) -> Failure {
    let named: Vec<String> = named.iter().map(|path| format!("`{}`", shown(path))).collect();
    Failure::Input(format!(
        "there is no part file in {}; expected files that end in {ENDING}, as `swardplay play --part` \
         writes them",
        named.join(", ")
    ))
}

/// Sees that the parts, in order, are those of one run, each there once.
fn one_run(heads: &[(PathBuf, Head)]) -> Result<(), Failure> {
    let Some((first_path, first)) = heads.first() else { return Ok(()) };
    for (path, head) in heads {
        let mut unlike = head.run.unlike(&first.run);
        if head.of != first.of {
            unlike.push(format!("the number of parts: {} there, {} here", first.of, head.of));
        }
        if !unlike.is_empty() {
            let why = format!(
                "it is a part of another run than `{}`; these differ:\n  {}",
                shown(first_path),
                unlike.join("\n  ")
            );
            return Err(refused(path, &why));
        }
    }
    if let Some(twice) = heads.windows(2).find(|two| two[0].1.part == two[1].1.part) {
        let why = format!(
            "it is part {} of {}, as `{}` is; name each part once",
            twice[1].1.part,
            first.of,
            shown(&twice[0].0)
        );
        return Err(refused(&twice[1].0, &why));
    }
    let missing: Vec<u32> =
        (1..=first.of).filter(|n| heads.iter().all(|(_, head)| head.part != *n)).collect();
    let named: Vec<String> = missing.iter().take(NAMED_MAX).map(u32::to_string).collect();
    let more = if missing.len() > NAMED_MAX { " and others" } else { "" };
    match &missing[..] {
        [] => Ok(()),
        [one] => Err(Failure::Input(format!(
            "part {one} of {} is missing; `{} --part {one}/{}` plays it",
            first.of,
            terminal::harmless(first.run.repeat()),
            first.of
        ))),
        [one, ..] => Err(Failure::Input(format!(
            "{} of {} parts are missing: {}{more}; `{} --part {one}/{}` plays the first of them",
            missing.len(),
            first.of,
            named.join(", "),
            terminal::harmless(first.run.repeat()),
            first.of
        ))),
    }
}

fn shown(path: &Path) -> String {
    terminal::harmless(&path.display().to_string())
}
