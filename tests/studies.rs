//! Holds the model to the published studies: every study runs, its books close, no check that
//! tests/STUDIES.md shows as passing is lost, and every miss that stands says what is known of it.

#[path = "support/published.rs"]
mod published;

use published::{Filed, Outcome, outcome, root, sources, studies};
use sim::parameters::Catalogue;
use sim::study::reference;
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
    let catalogue = Catalogue::embedded();
    let page = std::fs::read_to_string(root().join("tests/STUDIES.md")).expect("the page is kept");
    let kept = passing(&page);
    assert!(kept.len() > 100, "the page lists its passing checks");
    let studies = studies(&catalogue).unwrap_or_else(|wrong| panic!("{wrong}"));
    let sources = sources(&studies).unwrap_or_else(|wrong| panic!("{wrong}"));
    let (mut lost, mut seen) = (Vec::new(), BTreeSet::new());
    for filed in &studies {
        let id = &filed.study.id;
        let (outcome, tracks) =
            outcome(filed, &catalogue, &sources).unwrap_or_else(|wrong| panic!("{wrong}"));
        for track in tracks.iter().flatten() {
            assert!(track.worst_residual < 1e-9, "{id}: {}", track.worst_residual);
        }
        match outcome {
            Outcome::Run(rows) => {
                for (row, check) in rows.iter().zip(&filed.study.check) {
                    let name = (id.clone(), row.name.clone());
                    let must = WHOLE.contains(&id.as_str()) || kept.contains(&name);
                    let told = format!("{id}, {}: {} where {}", row.name, row.model, row.published);
                    match (row.pass, &check.known_miss) {
                        (false, _) if must => lost.push(format!("{told}: passed before")),
                        (false, None) => lost.push(format!("{told}: a miss without known-miss")),
                        (true, Some(_)) => lost.push(format!("{told}: passes; drop known-miss")),
                        _ => {}
                    }
                    seen.insert(name);
                }
            }
            // What cannot be run here is not lost.
            _ => seen.extend(kept.iter().filter(|(study, _)| study == id).cloned()),
        }
    }
    assert!(lost.is_empty(), "the page and the model differ:\n{}", lost.join("\n"));
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

/// Every study of the tree is on the page, and nothing else is.
#[test]
fn the_page_has_a_line_for_every_study() {
    let page = std::fs::read_to_string(root().join("tests/STUDIES.md")).expect("the page is kept");
    let of_files: BTreeSet<String> = read_tree().into_iter().map(|filed| filed.study.id).collect();
    let on_page = |id: &String| page.contains(&format!("\n| {id} | "));
    let missing: Vec<_> = of_files.iter().filter(|id| !on_page(id)).collect();
    assert!(missing.is_empty(), "remake tests/STUDIES.md: it lacks {missing:?}");
    let sections = page.lines().filter_map(|l| l.strip_prefix("## ")).filter(|l| *l != "Misses");
    for section in sections {
        let id = section.split(':').next().unwrap_or(section);
        assert!(of_files.contains(id), "remake tests/STUDIES.md: no file has the id {id}");
    }
}

fn read_tree() -> Vec<Filed> {
    studies(&Catalogue::embedded()).unwrap_or_else(|wrong| panic!("{wrong}"))
}

/// The lists of names in the studies' guide are those that the program knows.
#[test]
fn the_guide_lists_what_the_program_knows() {
    let guide = std::fs::read_to_string(root().join("tests/studies/README.md")).expect("a guide");
    assert!(
        guide.ends_with(&reference()),
        "tests/studies/README.md is stale: cargo run --example studies -- --write"
    );
}

/// The example in the guide is a study that runs, and every check of it reads a number.
#[test]
fn the_guides_example_runs() {
    let guide = std::fs::read_to_string(root().join("tests/studies/README.md")).expect("a guide");
    let from = guide.find("```toml\n").expect("an example") + 8;
    let text = &guide[from..from + guide[from..].find("```").expect("its end")];
    let catalogue = Catalogue::embedded();
    let study = sim::study::Study::read(text, &catalogue).expect("the example reads");
    let filed = Filed { path: root().join("example.toml"), text: text.to_owned(), study };
    let sources = sources(&[]).expect("the carried records read");
    let Ok((Outcome::Run(rows), _)) = outcome(&filed, &catalogue, &sources) else {
        panic!("the example does not run")
    };
    assert_eq!(rows.len(), filed.study.check.len());
    assert!(rows.iter().all(|r| !r.model.contains("none")), "{rows:?}");
}
