//! One lawn's scenario: the template with the lawn's own facts in it.

use sim::scenario::{Checked, Fault, Form, LawnKey, Severity};

use super::table::{Row, Table};
use crate::engine;
use crate::init::toml_value::{quoted, uncertain};

/// The scenario of every lawn.
///
/// # Errors
/// Every fault, by line and column of the table.
pub fn scenarios(template: &str, table: &Table) -> Result<Vec<Checked>, Vec<String>> {
    let mut faults = Vec::new();
    let mut all = Vec::new();
    for row in &table.rows {
        match with(template, table, &row.cells).and_then(|text| engine::check(&text).ok()) {
            Some(checked) => all.push(checked),
            None => faults.extend(blamed(template, table, row)),
        }
    }
    if faults.is_empty() { Ok(all) } else { Err(faults) }
}

/// The cells of a row that cannot stand in the template by themselves; where each can, the row.
fn blamed(template: &str, table: &Table, row: &Row) -> Vec<String> {
    let at = |(key, cell): &(usize, String)| {
        let LawnKey { path, expected, .. } = &table.keys[*key];
        let cells = [(*key, cell.clone())];
        let place = format!("line {} ({}), column `{path}`", row.line, row.name);
        let Some(text) = with(template, table, &cells) else {
            return Some(format!("{place}: \"{cell}\" cannot be read; expected {expected}"));
        };
        let why = engine::check(&text).err()?;
        Some(format!("{place}: {}", said(&why)))
    };
    let cells: Vec<String> = row.cells.iter().filter_map(at).collect();
    if !cells.is_empty() {
        return cells;
    }
    let together = with(template, table, &row.cells).map(|text| engine::check(&text));
    let why = match together {
        Some(Err(why)) => said(&why),
        _ => "its facts do not go together".to_string(),
    };
    vec![format!("line {} ({}): {why}", row.line, row.name)]
}

fn said(faults: &[Fault]) -> String {
    let Some(fault) = faults.iter().find(|f| f.severity == Severity::Error) else {
        return "it does not fit the template".into();
    };
    let expected = match fault.expected.as_str() {
        "" => String::new(),
        expected => format!("; expected {expected}"),
    };
    let help = fault.help.as_ref().map(|help| format!("; {help}")).unwrap_or_default();
    format!("{}{expected}{help}", fault.message)
}

/// The template with these cells in it; `None` where one cannot be written.
fn with(template: &str, table: &Table, cells: &[(usize, String)]) -> Option<String> {
    let mut root: toml::Table = template.parse().ok()?;
    for (key, cell) in cells {
        let LawnKey { path, form, .. } = &table.keys[*key];
        let value = match form {
            Form::Text => quoted(cell),
            Form::Range => uncertain(cell),
            Form::Number => cell.parse::<f64>().ok().map(|_| cell.clone())?,
        };
        let mut line: toml::Table = format!("value = {value}").parse().ok()?;
        set(&mut root, path, line.remove("value")?)?;
    }
    toml::to_string(&root).ok()
}

fn set(root: &mut toml::Table, path: &str, value: toml::Value) -> Option<()> {
    let (tables, key) = path.rsplit_once('.')?;
    let mut at = root;
    for table in tables.split('.') {
        let empty = || toml::Value::Table(toml::Table::new());
        at = at.entry(table).or_insert_with(empty).as_table_mut()?;
    }
    // Texture by name and by its parts are two ways to say the same.
    let others: &[&str] = match (tables, key) {
        ("lawn.soil", "texture") => &["sand", "clay"],
        ("lawn.soil", "sand" | "clay") => &["texture"],
        _ => &[],
    };
    for other in others {
        at.remove(*other);
    }
    at.insert(key.to_string(), value);
    Some(())
}
