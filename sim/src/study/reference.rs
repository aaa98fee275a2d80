//! The lists of names that a study file can use, in Markdown.

use super::acts::DO;
use super::series;
use crate::parameters::{ACTIVES, GRASSES, POSTS};
use crate::scenario::TEXTURES;

/// Every series, act, grass, active, herbicide and texture, for tests/studies/README.md.
pub fn reference() -> String {
    let grasses: Vec<&str> = GRASSES.iter().map(|(_, n)| *n).collect();
    let textures: Vec<&str> = TEXTURES.iter().map(|t| t.0).collect();
    let mut page = format!(
        "Grasses: {}.\n\nActives: {}.\n\nHerbicides of `spray`: {}.\n\nTextures: {}.\n",
        ticked(&grasses),
        ticked(&ACTIVES),
        ticked(&POSTS),
        ticked(&textures)
    );
    page.push_str("\n| series | unit | what |\n|---|---|---|\n");
    for (name, unit, what) in series::all() {
        page.push_str(&format!("| `{name}` | {unit} | {what} |\n"));
    }
    page.push_str("\n| `do` | keys |\n|---|---|\n");
    for (name, keys) in DO {
        let keys = if keys.is_empty() { "none".to_owned() } else { ticked(keys) };
        page.push_str(&format!("| `{name}` | {keys} |\n"));
    }
    page
}

fn ticked(names: &[&str]) -> String {
    names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ")
}
