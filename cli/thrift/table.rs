//! `thrift.csv`: every program that was judged.

use std::io::{self, Write};

use sim::outcomes::OUTCOMES;

use super::{Told, words};
use crate::files::table::Table;
use crate::round;

/// Writes one row for each program that was judged on the fresh members: the scenario's own, then what was
/// found with what it changes, the one that is recommended marked (`pick`), and those that no other beats in cost and odds
/// (`curve`). `holds` is the share of members in which everything asked holds, with its 95 % interval. Then
/// comes the share of members that miss each thing asked, numbered in the order of asking (needs, then
/// budgets), and the means of the outcomes.
///
/// # Errors
/// Where it cannot be written.
pub(super) fn write(told: &Told, out: &mut dyn Write) -> io::Result<()> {
    let asked: Vec<String> = (1..=told.asked.len()).map(|n| format!("misses_{n}")).collect();
    let outcomes: Vec<String> = OUTCOMES.iter().map(|kind| format!("mean_{}", kind.key)).collect();
    let head = [
        "program",
        "from",
        "changes",
        "change",
        "pick",
        "curve",
        "holds",
        "holds_low",
        "holds_high",
        "members",
    ];
    let header: Vec<&str> = head
        .into_iter()
        .chain(asked.iter().map(String::as_str))
        .chain(outcomes.iter().map(String::as_str))
        .collect();
    let mut table = Table::start(out, &header)?;
    let answer = told.answer;
    for (at, finalist) in answer.finalists.iter().enumerate() {
        let start = &told.programs[finalist.one.start].id;
        if at < answer.starts {
            table.text(start)?;
        } else {
            table.text(&format!("found-{}", at + 1 - answer.starts))?;
        }
        table.text(start)?;
        table.count(finalist.changes)?;
        let changes = words::changes(told, finalist);
        let changes: Vec<String> =
            changes.into_iter().map(|(name, change)| format!("{name}: {change}")).collect();
        table.text(&changes.join("; "))?;
        table.text(if answer.choice.pick == Some(at) { "yes" } else { "no" })?;
        table.text(if answer.curve.contains(&at) { "yes" } else { "no" })?;
        let odds = finalist.judged.odds();
        let (low, high) = odds.interval();
        let places = round::share_decimals(odds.of);
        for share in [odds.share(), low, high] {
            table.figure(share, places)?;
        }
        table.count(odds.of as usize)?;
        for missed in finalist.judged.missed() {
            table.figure(f64::from(missed.members) / f64::from(odds.of.max(1)), places)?;
        }
        for kind in OUTCOMES {
            let values = finalist.judged.outcome(kind.key);
            let n = values.len().max(1) as f64;
            let mean = values.iter().sum::<f64>() / n;
            let spread = (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / n).sqrt();
            let finest = round::decimals(round::unit_of(kind.key, kind.unit));
            table.figure(mean, round::supported_decimals(finest, spread, odds.of))?;
        }
        table.end()?;
    }
    table.finish()
}
