//! The reference page, made from the registry.

use super::super::hold::FORMS;
use super::super::key::{Key, Need};
use super::lesson::{LESSON_ROOT, LESSON_TABLES};
use super::place::{ROOT, TABLES};
use super::practice::{DO, ROWS, SHARED};

/// The reference page of the language, in Markdown: every table, key, default and meaning.
pub fn reference() -> String {
    let mut page = String::from("# The keys of a scenario\n");
    for def in TABLES {
        section(&mut page, &format!("[{}]", def.name), def.keys());
    }
    for (title, keys) in SHARED {
        section(&mut page, title, keys.iter());
    }
    for (word, keys) in DO.iter().zip(ROWS) {
        section(&mut page, &format!("do = \"{word}\""), keys.iter());
    }
    page.push_str("\n## hold\n\n");
    for form in FORMS {
        page.push_str(&format!("- `{form}`\n"));
    }
    page
}

/// The reference of a lesson's keys: those that a scenario has not.
pub(in crate::scenario) fn lesson_reference() -> String {
    let mut page = String::new();
    let own = LESSON_ROOT.keys().filter(|key| ROOT.key(key.name).is_none());
    section(&mut page, "[lesson file]", own);
    for def in LESSON_TABLES {
        section(&mut page, &format!("[{}]", def.name), def.keys());
    }
    page
}

fn section(page: &mut String, title: &str, keys: impl Iterator<Item = &'static Key>) {
    page.push_str(&format!(
        "\n## {title}\n\n| key | holds | left out | meaning |\n|---|---|---|---|\n"
    ));
    for key in keys {
        let need = match key.need {
            Need::Must => "must be there".to_string(),
            Need::May => "may be".to_string(),
            Need::Else("") => "empty".to_string(),
            Need::Else(text) => format!("`{text}`"),
        };
        let holds = key.shape.expected().replace('|', "/");
        page.push_str(&format!("| `{}` | {holds} | {need} | {} |\n", key.name, key.doc));
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::key::Shape;
    use super::super::practice::{CHANGES, PRACTICES};
    use super::*;

    #[test]
    fn the_reference_names_every_key() {
        let page = reference();
        for def in PRACTICES.iter().chain(TABLES) {
            for key in def.keys() {
                assert!(page.contains(&format!("| `{}` |", key.name)), "{}", key.name);
            }
        }
    }

    /// A table that hangs on a listed one is listed too.
    #[test]
    fn no_table_is_left_out() {
        let page = reference();
        for key in TABLES.iter().flat_map(|def| def.keys()) {
            if let Shape::Table(inner) | Shape::Tables(inner) = key.shape {
                let named = page.contains(&format!("\n## [{}]\n", inner.name));
                let shared = page.contains(&format!("\n## {}\n", inner.name));
                assert!(named || shared, "{}", inner.name);
            }
        }
    }

    #[test]
    fn no_table_has_a_key_twice() {
        for def in PRACTICES.iter().chain(CHANGES).chain(TABLES) {
            let mut names: Vec<_> = def.keys().map(|k| k.name).collect();
            let all = names.len();
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), all, "{}", def.name);
        }
    }
}
