//! The one message of a credit, computed from its numbers.

use std::cmp::Ordering;

use sim::analysis::credit::{Estimate, Player};

use super::{Row, Told};
use crate::words::name::{listed, lower_first, quoted};

/// A practice that makes at least this share of a whole is named alone.
const NEARLY_ALL: f64 = 0.9;
/// One that makes this share is said to make most of it.
const MOST: f64 = 0.6;
/// One that makes less than this share is not named.
const A_PART: f64 = 0.1;
/// Most practices that are named.
const NAMED: usize = 3;

/// "Crabgrass at its worst: 9 points lower with “Split”, nearly all of it owed to “barrier”".
pub(super) fn title(told: &Told) -> String {
    let shown = told.shown();
    let with = quoted(&told.program.title);
    if told.credits.members < 2 {
        return format!("One future is too few to share anything out with {with}");
    }
    if let Some(row) = shown.iter().find(|row| row.counts(&row.shared.total)) {
        let whole = told.said(row.kind, &row.shared.total);
        return format!("{}: {whole} with {with}, {}", row.kind.label, owed(told, row));
    }
    match shown.iter().find(|row| row.matters()) {
        Some(row) => {
            let parts: Vec<String> = ranked(told, row)
                .filter(|(_, credit)| row.counts(credit))
                .map(|(player, credit)| part(told, row, player, credit))
                .collect();
            let change = if row.shared.total.clear() { "little" } else { "no clear" };
            format!(
                "{}: {change} change as a whole with {with}, but {}",
                row.kind.label,
                listed(&parts)
            )
        }
        None => {
            let labels: Vec<String> = told.rows().map(|row| lower_first(row.kind.label)).collect();
            format!("No practice of {with} changes what matters in {}", labels.join("; "))
        }
    }
}

/// Practices with their credits, the largest first; equal ones in their order.
fn ranked<'t>(
    told: &Told<'t>,
    row: &Row<'t>,
) -> impl Iterator<Item = (&'t Player, &'t Estimate)> + use<'t> {
    let mut all: Vec<_> = told.credits.players.iter().zip(&row.shared.credits).collect();
    let size = |credit: &Estimate| credit.mean.abs();
    all.sort_by(|a, b| size(b.1).partial_cmp(&size(a.1)).unwrap_or(Ordering::Equal));
    all.into_iter()
}

fn part(told: &Told, row: &Row, player: &Player, credit: &Estimate) -> String {
    format!("{} {}", quoted(&told.name(player)), told.said(row.kind, credit))
}

/// Whose work a whole is.
fn owed(told: &Told, row: &Row) -> String {
    let whole = row.shared.total.mean;
    let share = |credit: &Estimate| credit.mean / whole;
    let ranked: Vec<_> = ranked(told, row).collect();
    match (&ranked[..], ranked.iter().find(|(_, credit)| credit.clear())) {
        ([(only, _)], _) => format!("all of it owed to {}", quoted(&told.name(only))),
        (_, Some((first, credit))) if (NEARLY_ALL..=2.0 - NEARLY_ALL).contains(&share(credit)) => {
            format!("nearly all of it owed to {}", quoted(&told.name(first)))
        }
        (_, Some((first, credit))) if (MOST..NEARLY_ALL).contains(&share(credit)) => {
            format!("most of it owed to {}", quoted(&told.name(first)))
        }
        (_, Some(_)) => {
            let worth = |credit: &Estimate| credit.clear() && share(credit).abs() >= A_PART;
            let parts: Vec<String> = ranked
                .iter()
                .filter(|(_, credit)| worth(credit))
                .map(|(player, credit)| part(told, row, player, credit))
                .collect();
            match parts.len() {
                0 => "a little of it from each practice".into(),
                1..=NAMED => format!("made up of {}", listed(&parts)),
                _ => format!("made up of {} and others", parts[..NAMED].join(", ")),
            }
        }
        (_, None) => "whose parts cannot be told from nothing one by one".into(),
    }
}
