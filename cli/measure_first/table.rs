//! measure-first.csv: every fact, constant and kind of luck.

use std::io::{self, Write};

use sim::analysis::measure_first::{Judged, JudgedGroup};

use super::Told;
use crate::files::outcomes::unit_in_file;
use crate::files::table::Table;
use crate::round;

const HEADER: [&str; 23] = [
    "kind",
    "key",
    "unit",
    "value_of_knowing",
    "standard_error",
    "noise_floor",
    "clear",
    "switch_to",
    "share_switched",
    "gain_where_switched",
    "turns_at",
    "turns_at_error",
    "switch_above",
    "moved",
    "moved_error",
    "effect_mean_absolute",
    "effect_mean",
    "effect_sd",
    "first_order",
    "first_order_error",
    "total",
    "total_error",
    "factors",
];

/// Decimals of shares of variance.
const SHARE: usize = 3;

/// Writes one row for each fact, constant and group, the most valuable first within its kind. Gains are
/// in the file's unit of the outcome, or money, and effects are towards its better side; `turns_at` is in the fact's own unit, SI.
///
/// # Errors
/// Where it cannot be written.
pub(super) fn write(told: &Told, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::start(out, &HEADER)?;
    let findings = told.findings;
    for (kind, all, floor) in [
        ("fact", &findings.facts, findings.floor),
        ("constant", &findings.constants, findings.constants_floor),
    ] {
        all.iter().try_for_each(|judged| row(told, kind, judged, floor, &mut table))?;
    }
    findings.groups.iter().try_for_each(|judged| group(told, judged, &mut table))?;
    table.finish()
}

/// Decimals of gains: two more than the outcome's own.
fn places(told: &Told) -> usize {
    let kind = told.gain_kind();
    round::decimals(round::unit_of(kind.key, kind.unit)) + 2
}

fn head(told: &Told, [kind, key]: [&str; 2], table: &mut Table) -> io::Result<()> {
    table.text(kind)?;
    table.text(key)?;
    table.text(unit_in_file(told.gain_kind().unit, &told.scenario.crew.currency))
}

fn row(told: &Told, kind: &str, judged: &Judged, floor: f64, table: &mut Table) -> io::Result<()> {
    let places = places(told);
    head(told, [kind, &judged.subject.key], table)?;
    let knowing = &judged.knowing;
    for value in [knowing.value, knowing.error, floor] {
        table.figure(value, places)?;
    }
    table.text(if told.clear(judged) { "yes" } else { "no" })?;
    match knowing.switch {
        Some(switch) => {
            table.text(&told.programs[told.findings.others[switch.to]].id)?;
            table.figure(switch.share, SHARE)?;
            table.figure(switch.gain, places)?;
        }
        None => (0..3).try_for_each(|_| table.text(""))?,
    }
    match knowing.switch.and_then(|switch| switch.crossing) {
        Some(crossing) => {
            table.figure(crossing.at, 4)?;
            table.figure(crossing.error, 4)?;
            table.text(if crossing.above { "yes" } else { "no" })?;
        }
        None => (0..3).try_for_each(|_| table.text(""))?,
    }
    match judged.effect {
        Some(effect) => {
            let parts =
                [effect.moved, effect.error, effect.mean_absolute, effect.mean, effect.spread];
            parts.into_iter().try_for_each(|value| table.figure(value, places))?;
        }
        None => (0..5).try_for_each(|_| table.text(""))?,
    }
    match judged.indices {
        Some(shares) => {
            let parts = [shares.first, shares.first_error, shares.total, shares.total_error];
            parts.into_iter().try_for_each(|value| table.figure(value, SHARE))?;
        }
        None => (0..4).try_for_each(|_| table.text(""))?,
    }
    table.count(judged.subject.factors.len())?;
    table.end()
}

fn group(told: &Told, judged: &JudgedGroup, table: &mut Table) -> io::Result<()> {
    let places = places(told);
    head(told, ["group", judged.group.key()], table)?;
    for value in [judged.whole.value, judged.whole.error, judged.whole.floor] {
        table.figure(value, places)?;
    }
    table.text(if judged.whole.clear() { "yes" } else { "no" })?;
    (0..6).try_for_each(|_| table.text(""))?;
    table.figure(judged.moved.0, places)?;
    table.figure(judged.moved.1, places)?;
    (0..8).try_for_each(|_| table.text(""))?;
    table.end()
}
