//! The picture of a credit: one panel an outcome, one bar a practice.

use plots::{Caption, CreditBar, CreditPanel, CreditPicture, Picture, Tone};
use sim::analysis::credit::Estimate;
use sim::outcomes::{Better, OutcomeKind};

use super::{Row, Told, message, words};
use crate::drawing::failed;
use crate::failure::Failure;
use crate::pictures::scorecard::remark;
use crate::words::figure;
use crate::words::name::{quoted, upper_first};

/// Draws it.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub(super) fn draw(told: &Told) -> Result<Picture, Failure> {
    plots::credit(&picture(told)).map_err(|error| failed("credit", &error))
}

fn picture(told: &Told) -> CreditPicture {
    let title = message::title(told);
    let mut shown = told.shown();
    if shown.is_empty() {
        // Nothing matters: the headlines show how little.
        shown = told.rows().collect();
    }
    CreditPicture {
        caption: Caption {
            subtitle: Some(format!(
                "{}: {} against {}, in the same weather",
                told.scenario.title,
                quoted(&told.program.title),
                quoted(&told.base.title)
            )),
            alt: format!(
                "Bars that share out what a program changes among its practices. {title}."
            ),
            note: Some(words::note(told)),
            title,
        },
        panels: shown.iter().enumerate().map(|(at, row)| panel(told, row, at == 0)).collect(),
    }
}

fn panel(told: &Told, row: &Row, first: bool) -> CreditPanel {
    let players = told.credits.players.iter().zip(&row.shared.credits);
    let bars = players.map(|(player, credit)| {
        // What was changed is said once.
        let change = if first { told.change(player) } else { String::new() };
        bar(told, row.kind, upper_first(&told.name(player)), change, credit)
    });
    let shown = told.units.shown(row.kind.unit);
    CreditPanel {
        title: row.kind.label.into(),
        remark: remark(row.kind, told.scenario, told.units),
        least: Some(shown.difference(row.kind.least_difference)),
        bars: bars.collect(),
        total: (told.credits.players.len() > 1)
            .then(|| bar(told, row.kind, "All together".into(), String::new(), &row.shared.total)),
    }
}

fn bar(
    told: &Told,
    kind: &'static OutcomeKind,
    name: String,
    change: String,
    estimate: &Estimate,
) -> CreditBar {
    let shown = told.units.shown(kind.unit);
    let said = told.said(kind, estimate);
    let sized = estimate.clear() && said != figure::SAME;
    let tone = match (sized, kind.better, estimate.mean > 0.0) {
        (false, ..) => Tone::Unclear,
        (_, Better::Neither, _) => Tone::Plain,
        (_, Better::Higher, true) | (_, Better::Lower, false) => Tone::Better,
        _ => Tone::Worse,
    };
    let text = match estimate.clear() {
        _ if sized => said,
        _ if !estimate.standard_error().is_finite() => "too few to tell".into(),
        true => "next to nothing".into(),
        false => "no clear effect".into(),
    };
    let ends = told.ends(kind, estimate).filter(|_| sized);
    CreditBar {
        name,
        change,
        value: shown.difference(estimate.mean),
        ends: (shown.difference(estimate.interval.0), shown.difference(estimate.interval.1)),
        tone,
        text,
        between: ends.unwrap_or_default(),
    }
}
