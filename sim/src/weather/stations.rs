//! One station out of a table: by name where there are several.

use std::collections::BTreeMap;

use super::layout::Table;
use super::options::Ask;
use super::record::{RecordFault, counted};

/// Stations that a message lists.
const LISTED: usize = 12;

/// Keeps the lines of one station; gives its key where the table has any.
///
/// # Errors
/// Several stations and none asked for, or one asked for that is not there.
pub(super) fn choose(
    table: &mut Table,
    wanted: Option<&str>,
) -> Result<Option<String>, RecordFault> {
    let Some(at) = table.position("STATION") else {
        return match wanted {
            Some(wanted) => Err(RecordFault::new(
                format!("'{wanted}' was asked for, and this table names no stations"),
                "a column STATION",
            )),
            None => Ok(None),
        };
    };
    let name_at = table.position("NAME").or_else(|| table.position("STATION_NAME"));
    let mut found: BTreeMap<&str, Found> = BTreeMap::new();
    for (line, fields) in table.rows() {
        let Some(key) = fields.get(at).filter(|key| !key.is_empty()) else { continue };
        let name = name_at.and_then(|i| fields.get(i)).map_or("", String::as_str);
        found.entry(key).or_insert(Found { line: *line, name, days: 0 }).days += 1;
    }
    let key = match wanted {
        Some(wanted) => pick(&found, wanted)?,
        None if found.len() > 1 => {
            let lines = || found.values().map(|f| f.line);
            // The second station's first line is where the trouble begins.
            let first = lines().min().unwrap_or(1);
            let second = lines().filter(|line| *line != first).min().unwrap_or(first);
            return Err(RecordFault::new(
                format!("this table holds {} stations: {}", found.len(), list(&found)),
                "one station, or the one to take named",
            )
            .at(second)
            .column("STATION")
            .ask(Ask::Station));
        }
        None => match found.keys().next() {
            Some(key) => (*key).to_owned(),
            None => return Ok(None),
        },
    };
    if found.len() > 1 {
        let mut row = 0;
        table.lines.retain(|(_, fields)| {
            row += 1;
            row == 1 || fields.get(at).is_none_or(|f| *f == key)
        });
    }
    Ok(Some(key))
}

/// A station in a table.
struct Found<'a> {
    line: usize,
    name: &'a str,
    days: usize,
}

/// The key that was asked for, with or without a network's prefix and in any case.
fn pick(found: &BTreeMap<&str, Found<'_>>, wanted: &str) -> Result<String, RecordFault> {
    let bare = |key: &str| key.rsplit(':').next().unwrap_or(key).to_ascii_lowercase();
    if let Some(key) = found.keys().find(|key| bare(key) == bare(wanted)) {
        return Ok((*key).to_owned());
    }
    let near = found
        .keys()
        .map(|key| (strsim::jaro_winkler(&bare(key), &bare(wanted)), key))
        .filter(|(likeness, _)| *likeness > 0.85)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let fault = RecordFault::new(
        format!("no station '{wanted}' in this table; it holds {}", list(found)),
        "one of these stations",
    );
    Err(match near {
        Some((_, key)) => fault.help(format!("did you mean {key}?")),
        None => fault,
    })
}

fn list(found: &BTreeMap<&str, Found<'_>>) -> String {
    let all = found.iter().take(LISTED).map(|(key, f)| {
        let days = counted(f.days, "day");
        if f.name.is_empty() {
            format!("{key} ({days})")
        } else {
            format!("{key} ({}, {days})", f.name)
        }
    });
    let mut text = all.collect::<Vec<_>>().join(", ");
    if found.len() > LISTED {
        text.push_str(&format!(" and {} more", found.len() - LISTED));
    }
    text
}
