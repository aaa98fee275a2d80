//! Pages that the program makes stand in the tree as it makes them.

#[path = "support/pages.rs"]
#[expect(dead_code, reason = "the table of constants is tests/model_page.rs's")]
mod pages;
#[path = "support/published.rs"]
mod published;

use sim::parameters::Catalogue;

#[test]
fn the_page_of_keys_is_the_registrys_own() {
    let kept = include_str!("../scenarios/KEYS.md");
    assert!(
        kept == sim::scenario::reference(),
        "scenarios/KEYS.md is stale: cargo run --example keys -- --write"
    );
}

#[test]
fn the_schema_for_editors_is_the_registrys_own() {
    let kept = include_str!("../scenarios/scenario.schema.json");
    assert!(
        kept == sim::scenario::schema(),
        "scenarios/scenario.schema.json is stale: cargo run --example keys -- --write"
    );
}

/// The parts of the page for clients, from the text of tests/STUDIES.md.
fn belief(results: &str) -> Vec<(&'static str, String)> {
    let catalogue = Catalogue::embedded();
    let filed = published::studies(&catalogue).unwrap_or_else(|wrong| panic!("{wrong}"));
    let studies: Vec<_> = filed.iter().map(|filed| &filed.study).collect();
    pages::belief(&catalogue.entries, &studies, results).expect("the results read")
}

#[test]
fn what_the_page_for_clients_says_follows_from_the_studies() {
    let kept = include_str!("../scenarios/HOW-FAR.md");
    let parts = belief(include_str!("STUDIES.md"));
    for (name, part) in parts {
        assert!(
            pages::with_part(kept, name, &part).as_deref() == Ok(kept),
            "scenarios/HOW-FAR.md is stale in {name}: cargo run --release --example model -- --write"
        );
    }
}

/// A missed check is told with its side and its numbers; a study that lost a check is no hit.
#[test]
fn a_lost_check_becomes_a_miss() {
    let results = include_str!("STUDIES.md");
    let told = |results: &str| {
        let parts = belief(results);
        (parts[0].1.clone(), parts[1].1.to_lowercase())
    };
    let words = "how fast crabgrass seed in the ground dies off";
    let (hits, misses) = told(results);
    assert!(hits.contains(words) && !misses.contains(words));
    let line = "| bank after a year, 1/m2 of 2,000 | falls 25 % and more |";
    let lost: String =
        results
            .lines()
            .map(|l| {
                if l.starts_with(line) {
                    format!("{line} 1800 | MISS |\n")
                } else {
                    format!("{l}\n")
                }
            })
            .collect();
    let (hits, misses) = told(&lost);
    assert!(!hits.contains(words) && misses.contains(words) && misses.contains("1800"), "{misses}");
}
