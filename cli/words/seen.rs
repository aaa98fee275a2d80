//! How the simulated lawns were chosen by what was seen.

use sim::calendar::Day;
use sim::ensemble::Results;
use sim::ensemble::condition::Conditioning;
use sim::scenario::Scenario;

use super::lines::wrap;
use super::name::quoted;
use crate::round;

/// Fewest lawns that the odds may rest on before a warning.
const FEW: f64 = 30.0;

/// Tells the choice; empty where nothing was seen.
pub fn tell(results: &Results, scenario: &Scenario) -> String {
    sentences(results, scenario).iter().map(|line| wrap(line, 0, 0)).collect()
}

/// The choice, and warnings, a few sentences each.
pub fn sentences(results: &Results, scenario: &Scenario) -> Vec<String> {
    let Some(about) = &results.conditioning else { return vec![] };
    let all = round::spoken(f64::from(about.tried), 1.0);
    let like = round::spoken(about.effective.max(1.0), 1.0);
    let mut text = format!(
        "{all} lawns that could be yours were tried. All futures start from those that came out as \
         yours was seen: the odds rest on about {like} of them."
    );
    if let Some(until) = about.until {
        text.push_str(&format!(
            " Until {until} the lawn is what it was; the programs begin after that day, and hours and \
             cost are counted from there."
        ));
    }
    if let Some(until) = about.until {
        text.push_str(&too_late(results, scenario, until));
    }
    let mut out = vec![text];
    if about.effective < FEW {
        out.push(
            "Warning: so few lawns came out as yours that the odds rest on a handful. Play more members, \
             or give wider ranges for what you are not sure of."
                .into(),
        );
    }
    out.extend(about.unlike.iter().map(|at| unlike(about, *at)));
    out
}

/// What the compared programs would have done before the last look, and in no future do this year.
fn too_late(results: &Results, scenario: &Scenario, until: Day) -> String {
    let followed = scenario.scouting.as_ref().map(|scouting| scouting.program);
    let mut all = Vec::new();
    for (i, (program, played)) in scenario.programs.iter().zip(&results.programs).enumerate() {
        let this_year = |at: usize| {
            let mut work = played.work.iter().flatten();
            work.any(|e| usize::from(e.practice) == at && e.day.ymd().0 == until.ymd().0)
        };
        for (at, practice) in program.practices.iter().enumerate() {
            if Some(i) != followed && !this_year(at) {
                all.push(format!("{} of {}", practice.key, quoted(&program.title)));
            }
        }
    }
    if all.is_empty() {
        return String::new();
    }
    format!(
        " Not done this year in any future, as its time is past or never comes: {}.",
        all.join("; ")
    )
}

fn unlike(about: &Conditioning, at: usize) -> String {
    let seen = &about.seen[at];
    let day = seen.what.map_or(String::new(), |(_, day)| format!(" on {day}"));
    format!(
        "Warning: no simulated lawn comes near the {}{day} that was seen ({}). Look again at what was \
         noted, at the seed and soil of the scenario, or distrust the model here.",
        seen.label,
        round::spoken(seen.value, 0.1)
    )
}
