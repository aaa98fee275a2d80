//! What the code of the model names, read from its text: for holding a page to it.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::read_to_string;
use std::path::Path;

/// Files of Rust under a folder, by path from it, without comments.
///
/// # Errors
/// Where a file cannot be read.
pub fn sources(folder: &Path) -> std::io::Result<BTreeMap<String, String>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        if path.is_dir() {
            let inner = sources(&path)?;
            found.extend(inner.into_iter().map(|(file, text)| (format!("{name}/{file}"), text)));
        } else if name.ends_with(".rs") {
            let text = read_to_string(&path)?;
            let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
            found.insert(name, code.collect::<Vec<_>>().join("\n"));
        }
    }
    Ok(found)
}

/// Words of letters, digits and underscores.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').filter(|word| !word.is_empty())
}

/// Fields of a struct and of all structs that its fields are made of, as `Struct.field`; those in
/// `apart` are not looked into.
pub fn fields(files: &BTreeMap<String, String>, root: &str, apart: &[&str]) -> BTreeSet<String> {
    let (mut found, mut seen) = (BTreeSet::new(), BTreeSet::new());
    let mut open = vec![root.to_owned()];
    while let Some(name) = open.pop() {
        if apart.contains(&name.as_str()) || !seen.insert(name.clone()) {
            continue;
        }
        // Two modules may each have a struct of the name: all of them count.
        for line in files.values().filter_map(|text| body(text, &name)).flat_map(str::lines) {
            let line = line.trim().strip_prefix("pub ").unwrap_or(line.trim());
            if let Some((field, kind)) = line.split_once(": ") {
                found.insert(format!("{name}.{field}"));
                open.extend(words(kind).map(str::to_owned));
            }
        }
    }
    found
}

/// What stands between the braces of a struct.
fn body<'a>(text: &'a str, name: &str) -> Option<&'a str> {
    let (_, after) = text.split_once(&format!("struct {name} {{\n"))?;
    after.split_once("\n}").map(|(body, _)| body)
}

/// The processes of a day in their order, from the text of `day.rs`: a file's name where its
/// `step` is called, else file and function.
pub fn order_of_day(day: &str) -> Vec<String> {
    let from = day.find("let warmth").unwrap_or(0);
    let to = day.find("self.close_books(").unwrap_or(day.len());
    let calls = day[from..to].split(';').filter_map(|statement| {
        let (call, _) = statement.split_once('(')?;
        let (file, function) = call.rsplit([' ', '\n']).next()?.split_once("::")?;
        let file = file.to_lowercase();
        Some(if matches!(function, "step" | "of") { file } else { format!("{file}::{function}") })
    });
    calls.collect()
}
