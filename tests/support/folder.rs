//! What lies in a folder.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Names of all that lies in it.
pub fn names(folder: &Path) -> BTreeSet<String> {
    let entries = fs::read_dir(folder).unwrap();
    entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect()
}
