//! The table of lawns: one row a lawn, one column a fact in which lawns differ.

use std::collections::BTreeMap;
use std::path::Path;

use sim::scenario::{LawnKey, lawn_keys};

use crate::failure::Failure;
use crate::input::{self, LAWNS_MAX, nearest};
use crate::terminal::harmless;

/// Head of the column that names the lawns.
const NAME: &str = "name";

/// Most lawns of one table.
const LAWNS_MOST: usize = 1000;

/// Longest name of a lawn, characters.
const NAME_MAX: usize = 60;

/// Most faults that are told at once.
const FAULTS_MAX: usize = 20;

/// A table of lawns, each with facts of its own; what they are worth is not checked yet.
#[derive(Clone, Debug)]
pub struct Table {
    /// As typed.
    pub file: String,
    /// Its text.
    pub text: String,
    /// The facts that have a column.
    pub keys: Vec<LawnKey>,
    /// The lawns, in the order of the table.
    pub rows: Vec<Row>,
}

/// One lawn.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// Its line in the file, from 1.
    pub line: u64,
    /// What it states, by index of the key; an empty cell states nothing.
    pub cells: Vec<(usize, String)>,
}

impl Table {
    /// Reads a table.
    ///
    /// # Errors
    /// [`Failure::Input`] with every fault, by row and column.
    pub fn read(path: &Path) -> Result<Table, Failure> {
        let text = input::read_text(path, "table of lawns", LAWNS_MAX)?;
        Table::parse(path.display().to_string(), text)
    }

    /// Reads a table from its text; `file` is what it is called.
    ///
    /// # Errors
    /// As [`Table::read`].
    pub fn parse(file: String, text: String) -> Result<Table, Failure> {
        let (keys, rows) = parse(&text).map_err(|faults| refused(&file, &faults))?;
        Ok(Table { file, text, keys, rows })
    }

    /// The table with its faults.
    pub fn refuse(&self, faults: &[String]) -> Failure {
        refused(&self.file, faults)
    }
}

fn refused(file: &str, faults: &[String]) -> Failure {
    let mut told: Vec<String> = faults.iter().take(FAULTS_MAX).map(|f| format!("  {f}")).collect();
    if faults.len() > FAULTS_MAX {
        told.push(format!("  ... and {} more", faults.len() - FAULTS_MAX));
    }
    Failure::Input(harmless(&format!(
        "the table of lawns `{file}` needs mending; nothing was played:\n{}",
        told.join("\n")
    )))
}

fn parse(text: &str) -> Result<(Vec<LawnKey>, Vec<Row>), Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut records = reader.records().map(|record| {
        record.map(|r| (r.position().map_or(0, csv::Position::line), r)).map_err(|e| e.to_string())
    });
    let header = match records.next() {
        Some(header) => header.map_err(|fault| vec![fault])?.1,
        None => {
            return Err(vec![
                "it is empty; expected a row of heads and a row for each lawn".into(),
            ]);
        }
    };
    let (keys, places) = heads(&header)?;
    let (mut rows, mut faults): (Vec<Row>, Vec<String>) = (Vec::new(), Vec::new());
    let mut lines: BTreeMap<String, u64> = BTreeMap::new();
    for record in records {
        let (line, record) = match record {
            Ok(found) => found,
            Err(fault) => {
                faults.push(fault);
                break;
            }
        };
        let mut row = Row { name: String::new(), line, cells: vec![] };
        if record.len() != header.len() {
            let (has, heads) = (record.len(), header.len());
            faults.push(format!("line {line}: {has} cells, where the first row has {heads} heads"));
            continue;
        }
        for (cell, place) in record.iter().zip(&places) {
            match place {
                None => row.name = cell.to_string(),
                Some(key) if !cell.is_empty() => row.cells.push((*key, cell.to_string())),
                Some(_) => {}
            }
        }
        let long = row.name.chars().count() > NAME_MAX || row.name.chars().any(char::is_control);
        if row.name.is_empty() || long {
            faults.push(format!(
                "line {line}, column `{NAME}`: expected a name of 1 to {NAME_MAX} characters on one line"
            ));
        } else if let Some(first) = lines.insert(row.name.clone(), line) {
            faults.push(format!(
                "line {line}, column `{NAME}`: `{}` is the lawn of line {first} too; expected a name \
                 of its own",
                row.name
            ));
        }
        rows.push(row);
    }
    if rows.is_empty() && faults.is_empty() {
        faults.push("it has no lawns; expected a row for each below the heads".into());
    }
    if rows.len() > LAWNS_MOST {
        faults.push(format!("it has {} lawns; at most {LAWNS_MOST} are played", rows.len()));
    }
    if faults.is_empty() { Ok((keys, rows)) } else { Err(faults) }
}

/// The facts that have a column, and for each column which fact it is; the names have none.
type Heads = (Vec<LawnKey>, Vec<Option<usize>>);

fn heads(header: &csv::StringRecord) -> Result<Heads, Vec<String>> {
    let known = lawn_keys();
    let (mut keys, mut places, mut faults): (Vec<LawnKey>, Vec<Option<usize>>, Vec<String>) =
        (vec![], vec![], vec![]);
    for (at, head) in header.iter().enumerate() {
        let twice = header.iter().take(at).any(|earlier| earlier == head);
        let key = known.iter().find(|key| key.path == head);
        match key {
            _ if twice => faults.push(format!("column {}: `{head}` is there twice", at + 1)),
            _ if head == NAME => places.push(None),
            Some(key) => {
                places.push(Some(keys.len()));
                keys.push(key.clone());
            }
            None => faults.push(unknown(at, head, &known)),
        }
    }
    if !header.iter().any(|head| head == NAME) {
        faults.push(format!("it has no column `{NAME}`; expected one with the name of each lawn"));
    }
    if faults.is_empty() { Ok((keys, places)) } else { Err(faults) }
}

fn unknown(at: usize, head: &str, known: &[LawnKey]) -> String {
    let paths = || known.iter().map(|key| key.path.as_str());
    let last = |path: &&str| path.rsplit('.').next() == Some(head);
    let near = paths().find(last).or_else(|| nearest(head, paths().chain([NAME])));
    let near = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
    let all: Vec<&str> = paths().collect();
    format!(
        "column {}: `{head}` is no fact of a lawn{near} Expected `{NAME}`, or one of {}",
        at + 1,
        all.join(", ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_go_to_their_heads_and_empty_ones_state_nothing() {
        let text = "lawn.area,name,lawn.sun\n# a note\n\"1,200 ft2\",Oak 12,\n90 m2,Elm 3,half\n";
        let (keys, rows) = parse(text).unwrap();
        assert_eq!(keys[1].path, "lawn.sun");
        assert_eq!(rows[0].cells, [(0, "1,200 ft2".to_string())]);
        assert_eq!((rows[1].name.as_str(), rows[1].line, rows[1].cells.len()), ("Elm 3", 4, 2));
    }

    #[test]
    fn faults_are_told_by_row_and_column() {
        let all = |text: &str| parse(text).unwrap_err().join("\n");
        let heads = all("area,name,lawn.soil.textur,name\n");
        assert!(heads.contains("column 1: `area`") && heads.contains("`lawn.area`?"), "{heads}");
        assert!(heads.contains("did you mean `lawn.soil.texture`?"), "{heads}");
        assert!(heads.contains("column 4: `name` is there twice"), "{heads}");
        let rows = all("name,lawn.sun\nA,full\nA,half\n,half\nB\n");
        assert!(rows.contains("line 3, column `name`: `A` is the lawn of line 2 too"), "{rows}");
        assert!(rows.contains("line 4, column `name`"), "{rows}");
        assert!(rows.contains("line 5: 1 cells, where the first row has 2 heads"), "{rows}");
        assert!(all("").contains("empty") && all("name\n").contains("no lawns"));
    }
}
