//! The crates that the program stands on: their licences, none of them twice or unused, none newer than
//! the stated compiler.
//!
//! `cargo metadata` is asked, so that the answer is that of the lock file. Licence expressions are
//! read by SPDX's rules (<https://spdx.dev/specifications>).

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
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

/// No crate of the program asks for a newer compiler than the program says that it needs.
#[test]
fn the_stated_rust_version_is_enough() {
    let metadata = metadata();
    let shipped = shipped(&metadata);
    let parts = |text: &str| -> [u32; 3] {
        let mut parts = text.split('.').map(|n| n.parse().unwrap());
        std::array::from_fn(|_| parts.next().unwrap_or(0))
    };
    let stated = parts(env!("CARGO_PKG_RUST_VERSION"));
    for package in list(&metadata, "packages") {
        let Some(needs) = package["rust_version"].as_str() else { continue };
        let (name, id) = (package["name"].as_str().unwrap(), package["id"].as_str().unwrap());
        assert!(parts(needs) <= stated || !shipped.contains(id), "{name} needs Rust {needs}");
    }
}

/// What a crate of ours asks for, it uses.
#[test]
fn every_crate_that_is_asked_for_is_used() {
    let metadata = metadata();
    let members: BTreeSet<&str> =
        list(&metadata, "workspace_members").iter().filter_map(Value::as_str).collect();
    let ours = list(&metadata, "packages").iter();
    for package in ours.filter(|package| members.contains(package["id"].as_str().unwrap())) {
        let name = package["name"].as_str().unwrap();
        let library =
            list(package, "targets").iter().find(|t| list(t, "kind")[0] == "lib").unwrap();
        let source = Path::new(library["src_path"].as_str().unwrap()).parent().unwrap();
        let text = text_of(source);
        for dependency in list(package, "dependencies").iter().filter(|d| d["kind"].is_null()) {
            let asked = dependency["rename"].as_str().or(dependency["name"].as_str()).unwrap();
            let path = asked.replace('-', "_");
            let used = ["::", "!", ";"].iter().any(|end| text.contains(&format!("{path}{end}")));
            assert!(used, "{name} asks for {asked} and does not use it");
        }
    }
}

/// All of a folder's Rust.
fn text_of(folder: &Path) -> String {
    let mut text = String::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            text.push_str(&text_of(&path));
        } else if path.extension().is_some_and(|end| end == "rs") {
            text.push_str(&std::fs::read_to_string(path).unwrap());
        }
    }
    text
}
