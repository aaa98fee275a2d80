//! The crates that the program stands on: their licences, and none of them twice.
//!
//! `cargo metadata` is asked, so that the answer is that of the lock file. Licence expressions are
//! read by SPDX's rules (<https://spdx.dev/specifications>).

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;
use spdx::{Expression, ParseMode};

/// Permissive licences: nothing is asked of whoever uses the program but to keep the notices.
const PERMISSIVE: [&str; 11] = [
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Licences that are good enough for what only the tests use: copyleft by file, and nothing of it
/// is in the program.
const IN_TESTS: [&str; 1] = ["MPL-2.0"];

/// Crates that stand in the program in two versions, since crates that it needs disagree.
const TWICE: [&str; 1] = ["miniz_oxide"];

/// Crates that only compile others; what they leave in the program is nobody's twice.
const BUILD_ONLY: [&str; 1] = ["syn"];

fn metadata() -> Value {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .args(["--manifest-path", concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml")])
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

/// Ids of the crates that are built into the program: what is reached without dev-dependencies.
fn shipped(metadata: &Value) -> BTreeSet<&str> {
    let nodes: BTreeMap<&str, &Value> = list(&metadata["resolve"], "nodes")
        .iter()
        .map(|node| (node["id"].as_str().unwrap(), node))
        .collect();
    let mut reached = BTreeSet::new();
    let mut open = vec![metadata["resolve"]["root"].as_str().unwrap()];
    while let Some(id) = open.pop() {
        if !reached.insert(id) {
            continue;
        }
        for dep in list(nodes[id], "deps") {
            // A kind of null is a normal dependency; "build" leaves nothing in the program.
            let normal = list(dep, "dep_kinds").iter().any(|kind| kind["kind"].is_null());
            open.extend(dep["pkg"].as_str().filter(|_| normal));
        }
    }
    reached
}

#[test]
fn licences_are_permissive() {
    let metadata = metadata();
    let shipped = shipped(&metadata);
    assert!(shipped.len() > 20, "the walk found the crates");
    for package in list(&metadata, "packages") {
        let (name, id) = (package["name"].as_str().unwrap(), package["id"].as_str().unwrap());
        let text = package["license"].as_str().unwrap_or_else(|| panic!("{name} has no licence"));
        let expression = Expression::parse_mode(text, ParseMode::LAX)
            .unwrap_or_else(|fault| panic!("{name}: {fault}"));
        let good = |licence: &spdx::LicenseReq| {
            let licence = licence.license.id().map_or("", |id| id.name);
            PERMISSIVE.contains(&licence) || (!shipped.contains(id) && IN_TESTS.contains(&licence))
        };
        assert!(expression.evaluate(good), "{name} is under {text}");
    }
}

#[test]
fn no_crate_is_there_twice_but_those_known() {
    let metadata = metadata();
    let shipped = shipped(&metadata);
    let mut versions: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for package in list(&metadata, "packages") {
        if shipped.contains(package["id"].as_str().unwrap()) {
            let version = package["version"].as_str().unwrap();
            versions.entry(package["name"].as_str().unwrap()).or_default().push(version);
        }
    }
    let twice: BTreeSet<&str> =
        versions.iter().filter(|(_, found)| found.len() > 1).map(|(name, _)| *name).collect();
    let known: BTreeSet<&str> = TWICE.into_iter().chain(BUILD_ONLY).collect();
    assert_eq!(twice, known, "drop from the list what is there once, and see to what is new");
}
