//! The sheet on the terminal, short: days, work, loads, sums, what to buy, what comes first.

use super::phrases::{Lang, Say};
use super::told::{Month, Row, Source};
use crate::words::lines::wrap;

/// Indent of a day's work, behind its day.
const HANG: usize = 18;

/// Everything.
pub(super) fn all(source: &Source, folder: &str) -> String {
    let lang = source.lang();
    let mut out = String::new();
    for season in source.seasons() {
        let year = season.year.to_string();
        out.push_str(&format!("{}\n", lang.fill(Say::WorkSheet, &[&year])));
        for line in source.head() {
            out.push_str(&wrap(&line, 0, 2));
        }
        out.push_str(&wrap(&season.planned, 0, 2));
        out.push_str(&wrap(lang.say(Say::LabelFirst), 0, 2));
        season.months.iter().for_each(|each| month(&mut out, each));
        out.push_str(&format!("\n{}: {}\n\n", lang.fill(Say::SeasonSum, &[&year]), season.sum));
    }
    let bought = source.purchases();
    if !bought.is_empty() {
        out.push_str(&format!("{}\n", lang.say(Say::ToBuy)));
        for (name, amounts) in bought {
            let each = source.sheet.years.iter().zip(&amounts);
            let each: Vec<String> = each.map(|(year, told)| format!("{year} {told}")).collect();
            out.push_str(&wrap(&format!("{name}: {}", each.join("; ")), 2, 4));
        }
        out.push_str(&wrap(&source.typical(), 2, 4));
        out.push('\n');
    }
    out.push_str(&format!("{}\n", lang.say(Say::Cautions)));
    for caution in source.before_you_start() {
        out.push_str(&wrap(&caution, 2, 4));
    }
    if lang != Lang::En {
        let english = Lang::En.say(Say::Foot);
        out.push_str(&wrap(&format!("{} / {english}", lang.say(Say::Foot)), 2, 4));
    }
    out.push_str(&format!("\n{folder}/sheet.html\n{folder}/sheet.csv\n"));
    out
}

fn month(out: &mut String, month: &Month) {
    out.push_str(&format!("\n{}: {}\n", month.name, month.sum));
    month.rows.iter().for_each(|each| row(out, each));
}

fn row(out: &mut String, row: &Row) {
    let mut text = row.when.clone();
    // A short day leaves its work where that of the others stands.
    let wide = HANG - 2;
    let gap = wide.saturating_sub(text.chars().count());
    text.push_str(&"\u{a0}".repeat(gap));
    let jobs: Vec<String> = row
        .jobs
        .iter()
        .map(|job| {
            let days = if row.days.is_empty() {
                String::new()
            } else {
                format!(": {}", row.days.join(", "))
            };
            let loads: String = job.loads.iter().map(|load| format!("; {load}")).collect();
            format!("{}{}{loads}{days}", job.name, job.does)
        })
        .collect();
    let many = many(row);
    let (minutes, cost) = (&row.minutes, &row.cost);
    text.push_str(&format!(" {} [{many}{minutes} min, {many}{cost}]", jobs.join(". ")));
    out.push_str(&wrap(&text, 2, HANG + 1).replace('\u{a0}', " "));
}

/// "6 x ", where a line stands for several days; else empty.
pub(super) fn many(row: &Row) -> String {
    match row.days.len() {
        0 => String::new(),
        days => format!("{days} \u{d7} "),
    }
}
