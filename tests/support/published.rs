//! The published studies of tests/studies and the carried records, for the program that makes the
//! page and for the test that holds the model to it.

use sim::study::Study;
use sim::weather::Record;
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;
use swardplay::carried::STATIONS;

/// The top of the tree.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All studies, by file name.
///
/// # Errors
/// Where a file cannot be read; the message names it.
pub fn studies() -> Result<Vec<Study>, Box<dyn Error>> {
    let mut files: Vec<_> = std::fs::read_dir(root().join("tests/studies"))?
        .collect::<Result<Vec<_>, _>>()?
        .into_iter()
        .map(|f| f.path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files
        .iter()
        .map(|p| {
            let text = std::fs::read_to_string(p)?;
            Study::read(&text).map_err(|e| format!("{}: {e}", p.display()).into())
        })
        .collect()
}

/// The carried records by key.
///
/// # Errors
/// Where a record cannot be read.
pub fn records() -> Result<BTreeMap<String, Record>, Box<dyn Error>> {
    STATIONS
        .iter()
        .map(|station| {
            let read = station.read().map_err(|fault| fault.to_string())?;
            Ok((station.key.to_owned(), read.record))
        })
        .collect()
}
