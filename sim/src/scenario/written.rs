//! A program's practices as text, key by key, whatever the program is based on.

use super::fault::Faults;
use super::program::resolved;
use super::read::{self, Demand};
use super::registry::ROOT;
use super::value::{Found, Reading, Value};
use toml::de::DeTable;

/// One practice as it could be written in a program of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PracticeText {
    /// Its key.
    pub key: String,
    /// Its other keys with their values, as TOML.
    pub entries: Vec<(&'static str, String)>,
}

/// The practices of a program of a scenario that passed its check; `None` where there is no such
/// program.
pub fn practice_texts(text: &str, program: &str) -> Option<Vec<PracticeText>> {
    let mut faults = Faults::default();
    let (tree, _) = DeTable::parse_recoverable(text);
    let root = read::table(&ROOT, tree.get_ref(), 0..0, Demand::Whole, &mut faults);
    let programs = resolved(&root, &mut faults);
    let program = programs.iter().find(|p| p.id == program)?;
    let one = |reading: &Reading<'_>| {
        let mut entries = entries(text, reading);
        entries.retain(|(key, _)| *key != "key");
        // What is done stands first, then the rest in the order of the reference page.
        let place = |key: &str| reading.def.keys().position(|known| known.name == key);
        entries.sort_by_key(|(key, _)| (*key != "do", place(key)));
        Some(PracticeText { key: reading.text("key")?.to_string(), entries })
    };
    program.practices.iter().map(one).collect()
}

fn entries(text: &str, reading: &Reading<'_>) -> Vec<(&'static str, String)> {
    reading.found.iter().map(|(key, found)| (*key, value(text, found))).collect()
}

/// A value as it stands in the text; a table that has a head of its own on one line.
fn value(text: &str, found: &Found<'_>) -> String {
    let inline = |reading: &Reading<'_>| {
        let all: Vec<String> =
            entries(text, reading).iter().map(|(key, value)| format!("{key} = {value}")).collect();
        format!("{{ {} }}", all.join(", "))
    };
    match &found.value {
        Value::Table(reading) => inline(reading),
        Value::Tables(all) => {
            format!("[{}]", all.iter().map(inline).collect::<Vec<_>>().join(", "))
        }
        _ => text.get(found.span.clone()).unwrap_or_default().to_string(),
    }
}

impl PracticeText {
    /// The value of a key, as TOML.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.entries.iter().find(|(known, _)| *known == key).map(|(_, value)| value.as_str())
    }

    /// The same with a key set to a value, or without it.
    #[must_use]
    pub fn with(&self, key: &'static str, value: Option<String>) -> PracticeText {
        let mut new = self.clone();
        match (new.entries.iter().position(|(known, _)| *known == key), value) {
            (Some(at), Some(value)) => new.entries[at].1 = value,
            (Some(at), None) => drop(new.entries.remove(at)),
            (None, Some(value)) => new.entries.push((key, value)),
            (None, None) => {}
        }
        new
    }

    /// The practice under its head.
    pub fn write(&self) -> String {
        let lines: String =
            self.entries.iter().map(|(key, value)| format!("{key} = {value}\n")).collect();
        format!("[[program.practice]]\nkey = \"{}\"\n{lines}", self.key)
    }
}
