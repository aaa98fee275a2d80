//! Published studies and the records that they run on, for the program that makes the page and for
//! the test that holds the model to it.
#![allow(dead_code, reason = "the test and the program each use their part")]

use sim::calendar::Day;
use sim::parameters::Catalogue;
use sim::study::{CheckResult, RecordText, Source, Sources, Study, StudyTracks, check, run};
use sim::weather::{Site, read_daily_csv};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use swardplay::carried::STATIONS;
use swardplay::diagnostic;

/// A study and the file that it stands in.
pub struct Filed {
    /// The file.
    pub path: PathBuf,
    /// Its text.
    pub text: String,
    /// What it says.
    pub study: Study,
}

/// What came of a study.
pub enum Outcome {
    /// It was run.
    Run(Vec<CheckResult>),
    /// The model lacks what it is about.
    Waits(String),
    /// Another test runs it; so many rows of its page hold, of so many.
    Elsewhere(usize, usize),
    /// A file of its records is not at hand.
    NoRecord(String),
}

/// The top of the tree.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All studies of the tree, by file name.
///
/// # Errors
/// Every fault of every file, rendered.
pub fn studies(catalogue: &Catalogue) -> Result<Vec<Filed>, String> {
    read_all(&[root().join("tests/studies")], catalogue)
}

/// Reads study files, and all study files of folders, by name.
///
/// # Errors
/// Every fault of every file, rendered.
pub fn read_all(paths: &[PathBuf], catalogue: &Catalogue) -> Result<Vec<Filed>, String> {
    let mut studies: Vec<Filed> = Vec::new();
    let mut wrong = String::new();
    for path in files(paths)? {
        match read_one(&path, catalogue) {
            Ok(filed) => {
                if let Some(twin) = studies.iter().find(|s| s.study.id == filed.study.id) {
                    wrong.push_str(&format!(
                        "error: {} and {} have the same id, {:?}\n",
                        twin.path.display(),
                        path.display(),
                        filed.study.id
                    ));
                }
                studies.push(filed);
            }
            Err(fault) => wrong.push_str(&fault),
        }
    }
    if wrong.is_empty() { Ok(studies) } else { Err(wrong) }
}

fn files(paths: &[PathBuf]) -> Result<Vec<PathBuf>, String> {
    let mut files = Vec::new();
    for path in paths {
        let wrong = |e: std::io::Error| format!("error: {}: {e}\n", path.display());
        if !path.is_dir() {
            files.push(path.clone());
            continue;
        }
        let before = files.len();
        for entry in std::fs::read_dir(path).map_err(wrong)? {
            let file = entry.map_err(wrong)?.path();
            if file.extension().is_some_and(|e| e == "toml") {
                files.push(file);
            }
        }
        if files.len() == before {
            return Err(format!("error: {}: no .toml file in this folder\n", path.display()));
        }
        files[before..].sort();
    }
    Ok(files)
}

fn read_one(path: &Path, catalogue: &Catalogue) -> Result<Filed, String> {
    let text =
        std::fs::read_to_string(path).map_err(|e| format!("error: {}: {e}\n", path.display()))?;
    match Study::read(&text, catalogue) {
        Ok(study) => Ok(Filed { path: path.to_owned(), text, study }),
        Err(faults) => Err(diagnostic::render(&name(path), &text, &faults, false)),
    }
}

/// A path as the tree's reader knows it.
fn name(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).display().to_string()
}

/// Every record that the studies name and that is at hand: the carried ones, and files beside the
/// study or where `SWARDPLAY_RECORDS` points.
///
/// # Errors
/// A file that is at hand and does not read, or a study whose record lacks its days.
pub fn sources(studies: &[Filed]) -> Result<Sources, String> {
    let mut sources = Sources::new();
    for station in STATIONS {
        let read = station.read().map_err(|fault| format!("error: {fault}\n"))?;
        sources.insert(station.key.to_owned(), Source::from(read.record));
    }
    for filed in studies {
        for record in filed.study.files() {
            let Some(file) = &record.file else { continue };
            if let Some(path) = at_hand(&filed.path, file)
                && !sources.contains_key(file)
            {
                sources.insert(file.clone(), from_file(&path, record)?);
            }
        }
    }
    let mut wrong = String::new();
    for filed in studies.iter().filter(|f| missing(f, &sources).is_none()) {
        let study = &filed.study;
        if study.waits_for.is_none() && study.elsewhere.is_none() {
            let faults = study.weather_faults(&sources);
            wrong.push_str(&diagnostic::render(&name(&filed.path), &filed.text, &faults, false));
        }
    }
    if wrong.is_empty() { Ok(sources) } else { Err(wrong) }
}

fn at_hand(study: &Path, file: &str) -> Option<PathBuf> {
    let beside = study.parent().unwrap_or(Path::new(".")).join(file);
    let elsewhere = std::env::var_os("SWARDPLAY_RECORDS").map(|f| PathBuf::from(f).join(file));
    std::iter::once(beside).chain(elsewhere).find(|p| p.is_file())
}

fn missing(filed: &Filed, sources: &Sources) -> Option<String> {
    let files = filed.study.files();
    let mut names = files.iter().filter_map(|r| r.file.as_ref());
    names.find(|f| !sources.contains_key(*f)).cloned()
}

fn from_file(path: &Path, record: &RecordText) -> Result<Source, String> {
    let wrong = |what: String| format!("error: {}: {what}\n", path.display());
    let text = std::fs::read_to_string(path).map_err(|e| wrong(e.to_string()))?;
    let since = record.since.as_deref().unwrap_or("");
    // Everything that is not a day of the table stays.
    let day = |line: &str| line.as_bytes().first().is_some_and(u8::is_ascii_digit);
    let kept: Vec<&str> = text.lines().filter(|l| !day(l) || *l >= since).collect();
    let site = record
        .latitude_deg
        .map(|latitude_deg| Site { latitude_deg, elevation_m: record.elevation_m });
    let read = read_daily_csv(&kept.join("\n"), &path.display().to_string(), site)
        .map_err(|e| wrong(format!("{e}; expected {}", e.expected)))?;
    let mut source = Source::from(read.record);
    source.record.anemometer_m = record.anemometer_m.unwrap_or(source.record.anemometer_m);
    source.observed = observed(&kept);
    Ok(source)
}

/// Every column of numbers, by the dates of the first.
fn observed(lines: &[&str]) -> BTreeMap<String, BTreeMap<Day, f64>> {
    let mut lines = lines.iter().filter(|l| !l.starts_with('#'));
    let header: Vec<&str> = lines.next().map_or(Vec::new(), |l| l.split(',').collect());
    let mut columns: BTreeMap<String, BTreeMap<Day, f64>> = BTreeMap::new();
    for line in lines {
        let fields: Vec<&str> = line.split(',').collect();
        let Some(day) = fields.first().and_then(|d| d.trim().parse().ok()).map(Day::from_date)
        else {
            continue;
        };
        for (name, field) in header.iter().zip(&fields).skip(1) {
            if let Ok(value) = field.trim().parse::<f64>() {
                columns.entry((*name).trim().to_owned()).or_default().insert(day, value);
            }
        }
    }
    columns
}

/// Runs a study and reads its checks; its tracks are given back where it was run.
///
/// # Errors
/// What the study has wrong.
pub fn outcome(
    filed: &Filed,
    catalogue: &Catalogue,
    sources: &Sources,
) -> Result<(Outcome, StudyTracks), String> {
    let study = &filed.study;
    let wrong = |e: String| format!("error: {}: {e}\n", name(&filed.path));
    if let Some(what) = &study.waits_for {
        return Ok((Outcome::Waits(what.clone()), StudyTracks::new()));
    }
    if let Some(elsewhere) = &study.elsewhere {
        let page = std::fs::read_to_string(root().join(&elsewhere.page))
            .map_err(|e| wrong(format!("{}: {e}", elsewhere.page)))?;
        let count = |word: &str| page.lines().filter(|l| l.contains(word)).count();
        let (holds, misses) = (count("| holds |"), count("| MISS |"));
        return Ok((Outcome::Elsewhere(holds, holds + misses), StudyTracks::new()));
    }
    if let Some(file) = missing(filed, sources) {
        return Ok((Outcome::NoRecord(file), StudyTracks::new()));
    }
    let tracks = run(study, catalogue, sources).map_err(wrong)?;
    let rows = check(study, &tracks).map_err(wrong)?;
    Ok((Outcome::Run(rows), tracks))
}
