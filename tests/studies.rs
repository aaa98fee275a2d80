//! Holds the model to the published studies: every study runs, its books close, and no check that
//! tests/STUDIES.md shows as passing is lost.

#[path = "support/published.rs"]
mod published;

use published::{records, root, studies};
use sim::parameters::Catalogue;
use sim::study::{check, run};
use std::collections::BTreeSet;

/// Studies of which every check must pass.
const WHOLE: [&str; 9] = [
    "barrier-bioassay",
    "barrier-rate",
    "barrier-turf",
    "emergence-time",
    "height-crab",
    "height-crab-bluegrass",
    "height-fescue",
    "height-not-emergence",
    "root-stop",
];

#[test]
fn no_published_pattern_is_lost() {
    let records = records().expect("the carried records read");
    let catalogue = Catalogue::embedded();
    let page = std::fs::read_to_string(root().join("tests/STUDIES.md")).expect("the page is kept");
    let kept = passing(&page);
    assert!(kept.len() > 80, "the page lists its passing checks");
    let mut lost = Vec::new();
    let mut seen = BTreeSet::new();
    for study in studies().expect("every study reads") {
        let tracks = run(&study, &catalogue, &|key| records.get(key)).expect("every study runs");
        for track in tracks.iter().flatten() {
            assert!(track.worst_residual < 1e-9, "{}: {}", study.id, track.worst_residual);
        }
        for row in check(&study, &tracks).expect("every check reads") {
            let name = (study.id.clone(), row.name.clone());
            let must = WHOLE.contains(&study.id.as_str()) || kept.contains(&name);
            if must && !row.pass {
                lost.push(format!("{}, {}: {} where {}", name.0, name.1, row.model, row.published));
            }
            seen.insert(name);
        }
    }
    assert!(lost.is_empty(), "lost:\n{}", lost.join("\n"));
    let gone: Vec<_> = kept.difference(&seen).collect();
    assert!(gone.is_empty(), "on the page, but no longer checked: {gone:?}");
}

/// Study and check of every line of the page that ends in "pass".
fn passing(page: &str) -> BTreeSet<(String, String)> {
    let mut id = "";
    let mut found = BTreeSet::new();
    for line in page.lines() {
        if let Some(title) = line.strip_prefix("## ") {
            id = title.split(':').next().unwrap_or(title);
        }
        let cells: Vec<&str> = line.split(" | ").collect();
        if let [name, _, _, verdict] = cells[..]
            && verdict.trim_end_matches([' ', '|']) == "pass"
        {
            found.insert((id.to_owned(), name.trim_start_matches("| ").to_owned()));
        }
    }
    found
}
