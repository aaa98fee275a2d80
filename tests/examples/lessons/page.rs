//! The page: plain words first, then the tables behind them.

use super::played::{Ground, TOLD};
use super::texts::DEMO;
use super::trials::Lesson;
use super::words::{Speech, bare_range, judged, opening, unit};
use std::fmt::Write as _;
use swardplay::round;
use swardplay::words::choice::Verdict;
use swardplay::words::odds::{Odds, marks_of};

use sim::ensemble::Contrast;

/// Lesson on the barrier.
const SPLIT: Speech = Speech {
    choice: "Laying the same barrier in two halves instead of once",
    tried: "ways of laying it",
};

/// Lesson on mowing.
const OFTEN: Speech =
    Speech { choice: "Cutting every 7 or 5 days instead of every 14", tried: "ways of cutting" };

/// The whole page.
pub fn page(ground: &Ground, barrier: &Lesson, mowing: &Lesson) -> Result<String, std::fmt::Error> {
    let mut out = String::from("# What the model says of two choices\n\n");
    writeln!(out, "**One barrier or two halves.** {}\n", opening(barrier, &SPLIT))?;
    writeln!(out, "**Cutting more often at the same height.** {}\n", opening(mowing, &OFTEN))?;
    how(&mut out, ground, barrier)?;
    writeln!(out, "## One barrier or two halves\n")?;
    context(&mut out, barrier)?;
    tables(&mut out, barrier)?;
    writeln!(out, "## Cutting more often at the same height\n")?;
    writeln!(
        out,
        "The blade profile says how leaf is spread over the height: leaf below a height goes as \
         (height / canopy height) to this power, so that below 1 much of the leaf stands low and \
         above 1 it sits on top, where a mower takes it. It is not known for lawns; `drawn` takes \
         another value in each run.\n"
    )?;
    context(&mut out, mowing)?;
    tables(&mut out, mowing)?;
    Ok(out)
}

fn how(out: &mut String, ground: &Ground, lesson: &Lesson) -> std::fmt::Result {
    writeln!(
        out,
        "All of this is what the model says, not what was measured on a lawn: {} simulated runs \
         of the scenario `{DEMO}`, seed {}, weather made from {} years of record at New York, JFK \
         airport. Both sides of a comparison face the same weather, the same lawn and the same \
         crew. \"Helps\" and \"hurts\" mean a difference that matters in more than half of the \
         runs, beyond the doubt that the number of runs leaves. Figures are medians, with the \
         range of 9 in 10 runs in brackets. Hours and money are for the whole run. \
         `cargo run --release --example lessons -- --write` makes this page.\n",
        ground.members, ground.seed, lesson.record_years
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

fn tables(out: &mut String, lesson: &Lesson) -> std::fmt::Result {
    let Some(first) = lesson.cells.first() else { return Ok(()) };
    let factors = lesson.factors.join(" | ");
    let rule = "---|".repeat(lesson.factors.len());
    let least = first.pair.kinds[0].least_difference;
    writeln!(
        out,
        "Change in crabgrass at its worst, points of cover. Better, the same and worse are counted \
         against a difference of {least:.0} points.\n"
    )?;
    writeln!(out, "| {factors} | before | change | better / same / worse | in short |")?;
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
            in_short(judged(pair, 0)),
        )?;
    }
    let told: Vec<usize> = (1..TOLD.len()).collect();
    let heads: Vec<String> = told
        .iter()
        .map(|at| {
            let kind = &first.pair.kinds[*at];
            format!("{},{}", kind.label, unit(kind.unit)).trim_end_matches(',').to_owned()
        })
        .collect();
    writeln!(out, "\nChanges in the rest, each with the typical figure before it as `before:`.\n")?;
    writeln!(out, "| {factors} | {} |\n|{rule}{}", heads.join(" | "), "---|".repeat(told.len()))?;
    for cell in &lesson.cells {
        let pair = &cell.pair;
        let figures: Vec<String> = told
            .iter()
            .map(|at| {
                let kind = &pair.kinds[*at];
                let before = round::fixed(pair.base[*at], usize::from(kind.unit == "1-9"));
                let change = bare_range(&pair.contrasts[*at], kind, pair.members);
                format!("{before}: {change}")
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

fn in_short(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Better => "helps",
        Verdict::Worse => "hurts",
        Verdict::Same => "same",
        Verdict::EitherWay => "depends",
        Verdict::Fact => "more or less",
        Verdict::TooFew => "too few",
    }
}
