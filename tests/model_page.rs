//! Holds sim/MODEL.md to the code: the table of constants is the file's own, and no constant, state
//! variable or process goes unnamed.

#[path = "support/code.rs"]
mod code;
#[path = "support/pages.rs"]
#[expect(dead_code, reason = "the parts of another page are made there too")]
mod pages;

use sim::parameters::{Catalogue, TEXT};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

const PAGE: &str = include_str!("../sim/MODEL.md");

/// The page as people wrote it.
fn written() -> String {
    pages::without_part(PAGE, "constants").expect("the page has its markers")
}

fn sources() -> BTreeMap<String, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sim/src");
    code::sources(&folder).expect("the model's code reads")
}

fn of_lawn(files: &BTreeMap<String, String>) -> BTreeMap<String, String> {
    let lawn = files.iter().filter(|(file, _)| file.starts_with("lawn/"));
    lawn.map(|(file, text)| (file.clone(), text.clone())).collect()
}

/// The section of the page that begins with a heading.
fn section<'a>(page: &'a str, heading: &str) -> &'a str {
    let (_, rest) = page.split_once(&format!("\n## {heading}")).expect("the section is there");
    rest.split_once("\n## ").map_or(rest, |(section, _)| section)
}

#[test]
fn the_table_of_constants_is_the_files_own() {
    let part = pages::constants(&Catalogue::embedded().entries, TEXT);
    assert!(
        pages::with_part(PAGE, "constants", &part).as_deref() == Ok(PAGE),
        "sim/MODEL.md is stale: cargo run --release --example model -- --write"
    );
    let lines = part.lines().filter(|line| line.starts_with("| `")).count();
    assert_eq!(lines, Catalogue::embedded().entries.len(), "every constant has its line");
}

/// A name that several groups have must stand with its group.
#[test]
fn every_constant_stands_in_an_equation_or_a_sentence() {
    let page = written();
    let bare: BTreeSet<&str> = code::words(&page).collect();
    let mut groups: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for entry in &Catalogue::embedded().entries {
        let (group, name) = entry.name.rsplit_once('.').expect("group and name");
        let group = group.split('.').next().unwrap_or(group);
        groups.entry(name.to_owned()).or_default().insert(group.to_owned());
    }
    let mut missing = Vec::new();
    for (name, groups) in &groups {
        for group in groups {
            let dotted = page.contains(&format!("{group}.{name}"));
            if !dotted && (groups.len() > 1 || !bare.contains(name.as_str())) {
                missing.push(format!("{group}.{name}"));
            }
        }
    }
    assert!(missing.is_empty(), "not in sim/MODEL.md: {missing:?}");
}

#[test]
fn every_state_variable_is_listed() {
    let page = written();
    let entities = section(&page, "2. ");
    let lawn = of_lawn(&sources());
    let mut all = code::fields(&lawn, "State", &["Ledger"]);
    all.extend(code::fields(&lawn, "Setting", &["Q10"]));
    assert!(all.len() > 80, "the code's state was found: {all:?}");
    let listed = |field: &str| entities.contains(&format!("`{field}`"));
    let missing: Vec<&String> =
        all.iter().filter(|name| !name.rsplit('.').next().is_some_and(listed)).collect();
    // Constants have their own table; a setting holds them all as `p`.
    assert!(missing.is_empty(), "not in section 2 of sim/MODEL.md: {missing:?}");
}

#[test]
fn the_order_of_the_day_is_the_codes() {
    let page = written();
    let told: Vec<String> = section(&page, "3. ")
        .lines()
        .filter_map(|line| line.trim_start().split_once(". `"))
        .filter(|(number, _)| number.parse::<u32>().is_ok())
        .filter_map(|(_, rest)| rest.split('`').next().map(str::to_owned))
        .collect();
    assert_eq!(told, code::order_of_day(&sources()["lawn/day.rs"]));
}

#[test]
fn every_process_is_described() {
    let page = written();
    let files = sources();
    let silent = |file: &&String| !page.contains(file.as_str());
    let process = |file: &&String| {
        file.matches('/').count() == 1 && !file.ends_with("mod.rs") && !file.contains("tests")
    };
    let lawn = of_lawn(&files);
    let missing: Vec<&String> = lawn.keys().filter(process).filter(silent).collect();
    assert!(missing.is_empty(), "files that sim/MODEL.md does not name: {missing:?}");
}

/// Names with an underscore are the code's: one that the code has dropped is found here.
#[test]
fn no_name_is_stale() {
    let page = written();
    let files = sources();
    let mut known: BTreeSet<&str> = files.values().flat_map(|text| code::words(text)).collect();
    let catalogue = Catalogue::embedded();
    known.extend(catalogue.entries.iter().flat_map(|e| e.name.split('.')));
    known.extend(files.keys().flat_map(|file| code::words(file)));
    known.insert("model_page");
    let spans = page.split('`').skip(1).step_by(2).chain(page.split("```").skip(1).step_by(2));
    let stale: BTreeSet<&str> = spans
        .flat_map(code::words)
        .filter(|word| word.contains('_') && !known.contains(word))
        .collect();
    assert!(stale.is_empty(), "sim/MODEL.md names what the code does not have: {stale:?}");
}
