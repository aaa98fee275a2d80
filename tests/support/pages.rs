//! Parts of pages that the program makes between two markers, and the parts themselves.

use sim::parameters::{Entry, Spread};
use sim::study::Study;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use swardplay::carried::STATIONS;

/// The page with its part between `<!-- NAME: begin ... -->` and `<!-- NAME: end -->` made anew.
///
/// # Errors
/// Where a marker is missing.
pub fn with_part(page: &str, name: &str, part: &str) -> Result<String, String> {
    let begin = format!("<!-- {name}: begin");
    let end = format!("<!-- {name}: end -->");
    let missing = || format!("the markers of {name:?} are not on the page");
    let (above, rest) = page.split_once(&begin).ok_or_else(missing)?;
    let (mark, rest) = rest.split_once("-->\n").ok_or_else(missing)?;
    let (_, below) = rest.split_once(&end).ok_or_else(missing)?;
    let indent: String = above.chars().rev().take_while(|c| *c == ' ').collect();
    let mut lines = String::new();
    for line in part.trim().lines() {
        lines.push_str(if line.is_empty() { "" } else { &indent });
        lines.push_str(line);
        lines.push('\n');
    }
    Ok(format!("{above}{begin}{mark}-->\n{lines}{indent}{end}{below}"))
}

/// The page without what stands between the markers of a part.
///
/// # Errors
/// Where a marker is missing.
pub fn without_part(page: &str, name: &str) -> Result<String, String> {
    with_part(page, name, "")
}

/// Every constant in a table, group by group in the order of the file.
pub fn constants(entries: &[Entry], toml: &str) -> String {
    let mut groups: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    for entry in entries {
        if let Some((group, _)) = entry.name.rsplit_once('.') {
            groups.entry(group).or_default().push(entry);
        }
    }
    let heading = |line: &str| Some(line.strip_prefix('[')?.strip_suffix(']')?.replace('"', ""));
    let mut page = String::new();
    for group in toml.lines().filter_map(heading) {
        let lines = groups.remove(group.as_str()).unwrap_or_default();
        let _ = writeln!(page, "\n### `{group}`\n");
        let _ = writeln!(
            page,
            "| constant | value | as drawn | unit | grade | what it is, and its source |"
        );
        let _ = writeln!(page, "|---|---|---|---|---|---|");
        for e in lines {
            let name = e.name.rsplit('.').next().unwrap_or(&e.name);
            let source = e.source.replace('|', "/");
            let _ = writeln!(
                page,
                "| `{name}` | {} | {} | {} | {} | {source} |",
                e.value,
                drawn(e.spread),
                e.unit,
                e.grade
            );
        }
    }
    page
}

fn drawn(spread: Spread) -> String {
    match spread {
        Spread::Fixed => String::new(),
        Spread::Uniform(a, b) => format!("{a} to {b}"),
        Spread::Triangular(a, b) => format!("{a} to {b}, triangular"),
        Spread::Normal(sd) => format!("normal, sd {sd}"),
        Spread::LogNormal(gsd) => format!("log-normal, times or over {gsd}"),
    }
}

/// One study of the page of results.
struct Told<'a> {
    study: &'a Study,
    rows: Vec<Row<'a>>,
}

impl Told<'_> {
    /// Checks that pass.
    fn near(&self) -> usize {
        self.rows.iter().filter(|row| row.pass).count()
    }
}

/// One line of its table.
struct Row<'a> {
    name: &'a str,
    published: &'a str,
    model: &'a str,
    pass: bool,
}

/// What a page for clients says of the model, by the name of the part: `hits`, `misses`, `grades`,
/// `records`. `results` is the text of tests/STUDIES.md.
///
/// # Errors
/// Where the results name no study that is carried, or the plain words do not read.
pub fn belief(
    entries: &[Entry],
    studies: &[&Study],
    results: &str,
) -> Result<Vec<(&'static str, String)>, String> {
    let words: toml::Table =
        toml::from_str(include_str!("plain.toml")).map_err(|e| e.to_string())?;
    let told = told(studies, results)?;
    Ok(vec![
        ("hits", hits(&told, &words)),
        ("misses", misses(&told, &words)),
        ("grades", grades(entries)),
        ("records", carried()?),
    ])
}

/// The studies that were run, with their rows.
fn told<'a>(studies: &[&'a Study], results: &'a str) -> Result<Vec<Told<'a>>, String> {
    let mut all = Vec::new();
    for section in results.split("\n## ").skip(1) {
        let rows: Vec<Row> = section.lines().filter_map(row).collect();
        if rows.is_empty() {
            continue;
        }
        let id = section.split(':').next().unwrap_or_default();
        let study = studies.iter().find(|study| study.id == id);
        let study = study.ok_or_else(|| format!("there is no study {id:?} of tests/STUDIES.md"))?;
        all.push(Told { study, rows });
    }
    Ok(all)
}

fn row(line: &str) -> Option<Row<'_>> {
    let cells: Vec<&str> = line.strip_prefix("| ")?.strip_suffix(" |")?.split(" | ").collect();
    match cells[..] {
        [name, published, model, verdict @ ("pass" | "MISS")] => {
            Some(Row { name, published, model, pass: verdict == "pass" })
        }
        _ => None,
    }
}

/// A study in plain words, or its title.
fn plain(told: &Told<'_>, words: &toml::Table) -> String {
    let stated = words.get(&told.study.id).and_then(|study| study.get("plain")?.as_str());
    stated.map_or_else(|| told.study.title.clone(), str::to_owned)
}

fn hits(all: &[Told<'_>], words: &toml::Table) -> String {
    let (tuned, fresh): (Vec<&Told>, Vec<&Told>) =
        all.iter().partition(|told| told.study.sets_parameters);
    let count = |of: &[&Told]| {
        let (hit, asked) =
            of.iter().fold((0, 0), |(h, a), told| (h + told.near(), a + told.rows.len()));
        format!("{hit} of {asked}")
    };
    let list = |of: &[&Told]| -> Vec<String> {
        let right = of.iter().filter(|told| told.near() == told.rows.len());
        right.map(|told| plain(told, words)).collect()
    };
    let bullets: String = list(&fresh).iter().map(|line| format!("- {line}\n")).collect();
    format!(
        "We play {} published trials through the program and compare {} results. On trials that had \
         no say in its numbers, {} come out near what was published; on trials that helped to set its \
         numbers, which proves less, {}. (Whoever builds a model has read the trials: none of this is a \
         blind test.)\n\nAll results near, on trials that had no say:\n\n{bullets}\n\
         All results near, on trials that helped to set the numbers: {}.\n",
        all.len(),
        all.iter().map(|told| told.rows.len()).sum::<usize>(),
        count(&fresh),
        count(&tuned),
        list(&tuned).join("; "),
    )
}

fn misses(all: &[Told<'_>], words: &toml::Table) -> String {
    let mut part = String::new();
    for told in all.iter().filter(|told| told.near() < told.rows.len()) {
        let missed: Vec<String> =
            told.rows.iter().filter(|row| !row.pass).map(|row| miss(told, row, words)).collect();
        let of = told.rows.len();
        let results = if of == 1 { "result" } else { "results" };
        let _ = writeln!(
            part,
            "- **{}** ({} of {of} {results} near). {}",
            capital(&plain(told, words)),
            told.near(),
            missed.join(" ")
        );
    }
    part
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map_or(String::new(), |c| c.to_uppercase().collect::<String>() + letters.as_str())
}

/// A missed check in plain words, with the numbers of the results.
fn miss(told: &Told<'_>, row: &Row<'_>, words: &toml::Table) -> String {
    let stated =
        words.get(&told.study.id).and_then(|study| study.get("missed")?.get(row.name)?.as_str());
    let Some(stated) = stated else {
        return format!("{}: {} in the model; the trial: {}.", row.name, row.model, row.published);
    };
    let number = row.model.split(' ').next().and_then(|first| first.parse::<f64>().ok());
    let check = told.study.check.iter().find(|c| c.name == row.name);
    let (least, most) = check.map_or((None, None), |c| (c.low, c.high));
    let below = number.zip(least).is_some_and(|(number, low)| number < low);
    let times =
        number.zip(most).map_or_else(|| "some".to_owned(), |(x, high)| two_figures(x / high));
    let model = number.map_or_else(|| row.model.to_owned(), two_figures);
    stated
        .replace("{side}", if below { "less" } else { "more" })
        .replace("{whole}", &number.map_or_else(String::new, |x| format!("{x:.0}")))
        .replace("{times}", &times)
        .replace("{published}", &row.published.replace(" > ", ", then "))
        .replace("{model}", &model)
}

fn two_figures(x: f64) -> String {
    let digits = if x == 0.0 { 0 } else { 1 - x.abs().log10().floor() as i32 };
    format!("{x:.*}", digits.clamp(0, 3) as usize)
}

fn grades(entries: &[Entry]) -> String {
    let count = |grade: char| entries.iter().filter(|e| e.grade == grade).count();
    let judged = count('D');
    let moving = entries.iter().filter(|e| e.grade == 'D' && e.spread != Spread::Fixed).count();
    let share = 10.0 * judged as f64 / entries.len() as f64;
    format!(
        "The program has {} numbers in it. {} were measured on lawns in several studies, {} come from \
         one study or a handbook, {} are common practice, and {judged}, about {share:.0} in 10, are our \
         judgement. Of these {moving} take another value in every future; the others stay as they \
         are, so the program cannot show how much hangs on them.\n",
        entries.len(),
        count('A'),
        count('B'),
        count('C'),
    )
}

fn carried() -> Result<String, String> {
    let mut each = Vec::new();
    for station in STATIONS {
        let record = station.read().map_err(|fault| fault.to_string())?.record;
        each.push(format!("{} ({} years)", record.name, record.years()));
    }
    Ok(format!("The weather records that come with it: {}.\n", each.join("; ")))
}
