//! The page: plain words first, then the tables behind them.

use super::played::{Ground, TOLD};
use super::texts::DEMO;
use super::trials::Lesson;
use super::words::{HARDLY, Speech, bare_range, judged, opening, unit};
use std::fmt::Write as _;
use swardplay::round;
use swardplay::words::odds::{Odds, marks_of};

use sim::ensemble::Contrast;

/// Outcomes that are work and money.
const WORK: [&str; 4] = ["mowings", "visits", "crew_hours", "cost"];

/// Lesson on the barrier.
const SPLIT: Speech = Speech {
    choice: "Laying the same barrier in two halves instead of once",
    tried: "ways of laying it",
    base: "laid once",
};

/// Lesson on mowing.
const OFTEN: Speech = Speech {
    choice: "Cutting every 7 or 5 days instead of every 14, at the same height",
    tried: "ways of cutting",
    base: "cut every 14 days",
};

/// The whole page.
pub fn page(ground: &Ground, barrier: &Lesson, mowing: &Lesson) -> Result<String, std::fmt::Error> {
    let mut out = String::from("# What the model says of two choices\n\n");
    writeln!(out, "**One barrier or two halves.** {}\n", opening(barrier, &SPLIT))?;
    writeln!(out, "**Cutting more often.** {}\n", opening(mowing, &OFTEN))?;
    how(&mut out, ground, barrier)?;
    writeln!(out, "## One barrier or two halves: the figures\n")?;
    tables(&mut out, barrier, &SPLIT)?;
    writeln!(out, "## Cutting more often: the figures\n")?;
    tables(&mut out, mowing, &OFTEN)?;
    Ok(out)
}

fn how(out: &mut String, ground: &Ground, lesson: &Lesson) -> std::fmt::Result {
    writeln!(
        out,
        "All of this is what the model says, not what was measured on a lawn: {} simulated runs \
         of the scenario `{DEMO}`, seed {}, weather made from {} years of record at New York, JFK \
         airport. Both sides of a comparison face the same weather, the same lawn and the same \
         crew. A choice helps or hurts where a difference that matters shows in surely more than \
         half of the runs; below that, runs are spoken of where they are at least 1 in {}. \
         Figures are medians, with the range of 9 in 10 runs in brackets. \
         `cargo run --release --example lessons -- --write` makes this page.\n",
        ground.members,
        ground.seed,
        lesson.record_years,
        round::fixed(1.0 / HARDLY, 0)
    )?;
    if !ground.constants.is_empty() {
        let set: Vec<String> = ground.constants.iter().map(|(n, v)| format!("{n} = {v}")).collect();
        writeln!(out, "Constants set by hand: {}.\n", set.join(", "))?;
    }
    Ok(())
}

fn context(out: &mut String, lesson: &Lesson) -> std::fmt::Result {
    let parts: Vec<String> = lesson
        .context
        .iter()
        .map(|(label, value)| format!("{label} {} %", round::fixed(*value, 0)))
        .collect();
    writeln!(out, "Crabgrass at its worst, typically: {}.\n", parts.join("; "))
}

fn tables(out: &mut String, lesson: &Lesson, speech: &Speech) -> std::fmt::Result {
    writeln!(out, "{}.\n", lesson.notes.join("; "))?;
    context(out, lesson)?;
    headline(out, lesson, speech)?;
    let (grass, work) = (1..TOLD.len()).partition(|at| !WORK.contains(&TOLD[*at]));
    rest(out, lesson, speech, "What it does to the grass", grass)?;
    rest(out, lesson, speech, "What it takes", work)
}

fn headline(out: &mut String, lesson: &Lesson, speech: &Speech) -> std::fmt::Result {
    let Some(first) = lesson.cells.first() else { return Ok(()) };
    let kind = &first.pair.kinds[0];
    writeln!(
        out,
        "{}: better, the same and worse are counted against a difference of {:.0} points.\n",
        kind.label, kind.least_difference
    )?;
    let (factors, rule) = heads(lesson);
    let base = speech.base;
    writeln!(out, "| {factors} | {base} | change, points | better / same / worse | in short |")?;
    writeln!(out, "|{rule}---|---|---|---|")?;
    for cell in &lesson.cells {
        let pair = &cell.pair;
        writeln!(
            out,
            "| {} | {} % | {} | {} | {} |",
            cell.at.join(" | "),
            round::fixed(pair.base[0], 0),
            bare_range(&pair.contrasts[0], &pair.kinds[0], pair.members),
            three(&pair.contrasts[0], pair.members),
            judged(pair, 0).short(),
        )?;
    }
    writeln!(out)
}

fn heads(lesson: &Lesson) -> (String, String) {
    (lesson.factors.join(" | "), "---|".repeat(lesson.factors.len()))
}

/// A table of other outcomes: what was, and by how much the choice changes it.
fn rest(
    out: &mut String,
    lesson: &Lesson,
    speech: &Speech,
    title: &str,
    told: Vec<usize>,
) -> std::fmt::Result {
    let Some(first) = lesson.cells.first() else { return Ok(()) };
    let labels: Vec<String> = told
        .iter()
        .map(|at| {
            let kind = &first.pair.kinds[*at];
            format!("{},{}", kind.label, unit(kind.unit)).trim_end_matches(',').to_owned()
        })
        .collect();
    let (factors, rule) = heads(lesson);
    writeln!(out, "{title}: the figure {}, then the change.\n", speech.base)?;
    writeln!(out, "| {factors} | {} |\n|{rule}{}", labels.join(" | "), "---|".repeat(told.len()))?;
    for cell in &lesson.cells {
        let pair = &cell.pair;
        let figures: Vec<String> = told
            .iter()
            .map(|at| {
                let kind = &pair.kinds[*at];
                let before = round::fixed(pair.base[*at], usize::from(kind.unit == "1-9"));
                let change = bare_range(&pair.contrasts[*at], kind, pair.members);
                format!("{before}; {change}")
            })
            .collect();
        writeln!(out, "| {} | {} |", cell.at.join(" | "), figures.join(" | "))?;
    }
    writeln!(out)
}

/// "14 / 5 / 1 of 20", on the finest scale that the members support.
fn three(contrast: &Contrast, members: u32) -> String {
    let worse = (1.0 - contrast.share_better - contrast.share_same).max(0.0);
    let shares = [contrast.share_better, contrast.share_same, worse];
    let odds = shares.map(|share| Odds::from_share(share, members));
    let scale = Odds::common_scale(&odds).unwrap_or(members);
    let [better, same, worse] = marks_of(shares, scale);
    format!("{better} / {same} / {worse} of {scale}")
}
