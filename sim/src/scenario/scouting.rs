//! What was seen of the lawn: the year before, and looks since the season began.

use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::value::{Reading, Value};
use super::{Note, Scouting, Sighting, Uncertain};
use crate::calendar::MonthDay;

/// Where nothing is said, a look is off by this share of what was seen (D) ...
const USUAL_SHARE: f64 = 0.25;
/// ... and by no less than so many points of the lawn (D).
const LEAST_POINTS: f64 = 2.0;
/// Raters differ by about a point of quality.
const QUALITY_SD: f64 = 1.0;

/// Index of the program that stands for the care of the year before.
pub(super) fn season_before(
    root: &Reading<'_>,
    programs: &[&str],
    faults: &mut Faults,
) -> Option<usize> {
    let seen = root.table("lawn")?.table("seen")?;
    program(seen, "season-before", programs, faults)
}

/// The looks, with the program that the lawn was under.
pub(super) fn scouting(
    root: &Reading<'_>,
    programs: &[&str],
    faults: &mut Faults,
) -> Option<Scouting> {
    let scouting = root.table("scouting")?;
    let program = match scouting.has("program") {
        true => program(scouting, "program", programs, faults)?,
        false => 0,
    };
    let notes: Vec<Note> =
        scouting.tables("look").iter().filter_map(|look| note(look, root, faults)).collect();
    if notes.is_empty() && scouting.tables("look").is_empty() {
        let span = scouting.span_of("look");
        faults.error(
            "missing-key",
            &span,
            "there is no look",
            "at least one [[scouting.look]]",
            None,
        );
    }
    Some(Scouting { program, notes })
}

fn program(
    table: &Reading<'_>,
    key: &str,
    programs: &[&str],
    faults: &mut Faults,
) -> Option<usize> {
    let id = table.text(key)?;
    let found = programs.iter().position(|known| *known == id);
    if found.is_none() {
        faults.error(
            "unknown-program",
            &table.span_of(key),
            format!("`{key}` names \"{id}\", which is no program here"),
            format!("one of {}", quoted(programs.iter().copied())),
            did_you_mean(id, programs.iter().copied()),
        );
    }
    found
}

/// Whether the lawn is played without this weed.
fn unplayed(what: Sighting, root: &Reading<'_>) -> bool {
    let stated = |key: &str| {
        root.table("lawn").and_then(|lawn| lawn.table("seen")).is_some_and(|seen| seen.has(key))
    };
    match what {
        Sighting::Dandelion => !stated("dandelion"),
        Sighting::Clover => !stated("clover"),
        Sighting::Nutsedge => !stated("nutsedge"),
        Sighting::GrassCover
        | Sighting::GreenCover
        | Sighting::Crabgrass
        | Sighting::BareGround
        | Sighting::Quality => false,
    }
}

fn note(look: &Reading<'_>, root: &Reading<'_>, faults: &mut Faults) -> Option<Note> {
    let word = look.text("at")?;
    let what = Sighting::ALL.iter().find(|(known, _)| *known == word)?.1;
    let on = day(look)?;
    if unplayed(what, root) {
        faults.error(
            "unplayed-weed",
            &look.span_of("at"),
            format!("a look at {word}, which `[lawn.seen]` does not have"),
            format!("{word} = \"5 %\", or what it was, under [lawn.seen]: only then is it played"),
            None,
        );
        return None;
    }
    let (wanted, stray, example) = match what {
        Sighting::Quality => ("rated", "seen", "rated = 5"),
        _ => ("seen", "rated", "seen = \"4 %\""),
    };
    if look.has(stray) {
        faults.error(
            "stray-key",
            &look.span_of(stray),
            format!("`{stray}` does not go with at = \"{word}\""),
            example,
            None,
        );
        return None;
    }
    if !look.has(wanted) {
        faults.error(
            "missing-key",
            &look.span,
            format!("a look at {word} without `{wanted}`"),
            example,
            None,
        );
        return None;
    }
    let stated = look.maybe("give-or-take");
    if what == Sighting::Quality {
        // A share of the lawn says nothing of a rating.
        if look.has("give-or-take") {
            faults.error(
                "stray-key",
                &look.span_of("give-or-take"),
                "`give-or-take` is in points of the lawn, and does not go with quality",
                "no `give-or-take`: raters differ by about a point",
                None,
            );
        }
        return Some(Note { on, what, value: look.number("rated"), sd: QUALITY_SD });
    }
    let seen = look.uncertain("seen")?;
    let value = 100.0 * seen.mean();
    let sd = match (stated, seen) {
        (Some(sd), _) => 100.0 * sd,
        (None, Uncertain::Exact(_)) => (USUAL_SHARE * value).max(LEAST_POINTS),
        (None, range) => (100.0 * range.sd()).max(0.1),
    };
    Some(Note { on, what, value, sd })
}

fn day(look: &Reading<'_>) -> Option<MonthDay> {
    match look.value("on")? {
        Value::Days(days) => days.first().copied(),
        _ => None,
    }
}
