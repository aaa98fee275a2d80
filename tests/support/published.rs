//! The published studies of tests/studies and the carried records, for the program that makes the
//! page and for the test that holds the model to it.

use sim::study::Study;
use sim::weather::{Record, Site, read_daily_csv};
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

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
    let mut records = BTreeMap::new();
    for (key, file, latitude_deg, elevation_m) in [
        ("jfk", "jfk_2012_2015.csv", 40.639, 3.0),
        ("seattle", "seattle_2012_2015.csv", 47.444, 113.0),
    ] {
        let text = std::fs::read_to_string(root().join("scenarios/weather").join(file))?;
        let site = Site { latitude_deg, elevation_m };
        let read = read_daily_csv(&text, key, Some(site)).map_err(|f| f.to_string())?;
        records.insert(key.to_owned(), read.record);
    }
    Ok(records)
}
