//! Makes the parts of pages that follow from the model's constants and from the studies: the table
//! in sim/MODEL.md, and hits, misses and grades in scenarios/HOW-FAR.md. Prints them; `--write`
//! puts them into the pages. tests/STUDIES.md must be up to date before.

#[path = "../support/pages.rs"]
#[expect(dead_code, reason = "a page is read without its parts in the tests only")]
mod pages;
#[path = "../support/published.rs"]
mod published;

use published::{root, studies};
use sim::parameters::{Catalogue, TEXT};
use std::error::Error;
use std::fs::{read_to_string, write};

fn main() -> Result<(), Box<dyn Error>> {
    let catalogue = Catalogue::embedded();
    let entries = &catalogue.entries;
    let table = pages::constants(entries, TEXT);
    let results = read_to_string(root().join("tests/STUDIES.md"))?;
    let mut parts = vec![("sim/MODEL.md", "constants", table)];
    let filed = studies(&catalogue)?;
    let studies: Vec<_> = filed.iter().map(|filed| &filed.study).collect();
    for (name, part) in pages::belief(entries, &studies, &results)? {
        parts.push(("scenarios/HOW-FAR.md", name, part));
    }
    let keep = std::env::args().any(|a| a == "--write");
    for (page, name, part) in parts {
        print!("{part}");
        if keep {
            let path = root().join(page);
            write(&path, pages::with_part(&read_to_string(&path)?, name, &part)?)?;
        }
    }
    Ok(())
}
