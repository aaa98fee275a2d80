//! The picture: what knowing is worth, beside how far the lawn moves.

use plots::{Caption, KnowingBar, KnowingPart, KnowingPicture, KnowingRow, Picture};
use sim::analysis::measure_first::{Group, Judged, JudgedGroup};

use super::{Told, how, message, words};
use crate::drawing::failed;
use crate::failure::Failure;
use crate::words::name::upper_first;

/// Standard errors to the end of a whisker.
const WHISKER: f64 = 2.0;

/// Draws it.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub(super) fn draw(told: &Told) -> Result<Picture, Failure> {
    plots::knowing(&picture(told)).map_err(|error| failed("measure-first", &error))
}

fn picture(told: &Told) -> KnowingPicture {
    let title = message::short(told);
    let findings = told.findings;
    let unit = unit(told);
    let moved = match told.worth {
        Some(_) => format!("How far it moves the balance{unit}"),
        None => format!("How far it moves {}{unit}", told.label()),
    };
    let lawn = |judged: &&JudgedGroup| judged.group != Group::Lawn;
    let floors = findings.groups.iter().filter(lawn).map(|judged| judged.whole.floor);
    let floor = floors.filter(|floor| floor.is_finite()).fold(0.0, f64::max);
    KnowingPicture {
        caption: Caption {
            subtitle: Some(format!("{}: by {}", told.scenario.title, told.by())),
            alt: format!(
                "Two columns of bars, a row for each unknown: what knowing it is worth for the choice, and \
                 how far it moves the lawn. {title}."
            ),
            note: Some(words::note(told)),
            title,
        },
        columns: [format!("Worth of knowing it for this choice{unit}"), moved],
        least: told.shown(findings.aim.least()),
        parts: vec![
            KnowingPart {
                title: "You can find out".into(),
                rows: findings.facts.iter().map(|judged| fact(told, judged)).collect(),
                noise: Some(told.shown(findings.floor)),
            },
            KnowingPart {
                title: "Not yours to find out".into(),
                rows: findings.groups.iter().filter(lawn).map(|j| group(told, j)).collect(),
                noise: Some(told.shown(floor)),
            },
        ],
    }
}

/// ", points", ", $".
fn unit(told: &Told) -> String {
    let unit = told.units.shown(told.gain_kind().unit).unit;
    match unit {
        "%" | "1-9" => ", points".into(),
        "currency" => format!(", {}", told.scenario.crew.currency),
        "" => String::new(),
        other => format!(", {other}"),
    }
}

fn fact(told: &Told, judged: &Judged) -> KnowingRow {
    let way = how::way_of(&judged.subject.key);
    let knowing = &judged.knowing;
    let clear = told.clear(judged);
    KnowingRow {
        name: upper_first(way.name),
        how: if told.telling(judged) { way.how.into() } else { String::new() },
        value: bar(told, (knowing.value, knowing.error), clear, "none"),
        moved: judged.effect.map(|effect| {
            bar(told, (effect.moved, effect.error), effect.moved > 0.0, "not at all")
        }),
    }
}

fn group(told: &Told, judged: &JudgedGroup) -> KnowingRow {
    let name = match judged.group {
        Group::Lawn => "All of the above",
        Group::Model => "The model's own doubts",
        Group::Weather => "The weather",
        Group::Slips => "What the crew gets wrong",
    };
    let whole = judged.whole;
    KnowingRow {
        name: name.into(),
        how: String::new(),
        value: bar(told, (whole.value, whole.error), judged.whole.clear(), "none"),
        moved: Some(bar(told, judged.moved, judged.moved.0 > 0.0, "not at all")),
    }
}

fn bar(told: &Told, (value, error): (f64, f64), clear: bool, none: &str) -> KnowingBar {
    let end = |sign: f64| told.shown(value + sign * WHISKER * error).max(0.0);
    KnowingBar {
        value: told.shown(value.max(0.0)),
        ends: if error.is_finite() { (end(-1.0), end(1.0)) } else { (f64::NAN, f64::NAN) },
        text: if clear { told.short(value, error) } else { none.into() },
        clear,
    }
}
