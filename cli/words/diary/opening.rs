//! What stands above a diary, and what it came to below.

use sim::analysis::seasons::{Season, seasons};
use sim::analysis::typical;
use sim::calendar::MONTHS;
use sim::ensemble::{ToldTrack, quantile_sorted};
use sim::outcomes::{OUTCOMES, OutcomeKind};

use super::amount::{HOLD, date, days};
use super::layout::label;
use super::{Told, wrap};
use crate::round;
use crate::units::Units;
use crate::words::figure::Figure;
use crate::words::name::{over, quoted, simulated};

/// Outcomes that the last lines tell.
const OUTCOMES_TOLD: [&str; 7] = [
    "crabgrass_peak",
    "quality_summer",
    "days_acceptable",
    "turf_cover_end",
    "n_leached",
    "crew_hours",
    "cost",
];

/// Title, which future, and its weather.
pub fn tell(told: &Told) -> String {
    let mut out = format!("{}\n", told.scenario.title);
    let titles: Vec<String> = told.retold.tracks.iter().map(|t| quoted(title(told, t))).collect();
    let members = told.results.members;
    let number = told.retold.number + 1;
    let programs: Vec<usize> = told.retold.tracks.iter().map(|t| t.program).collect();
    let chosen = if told.picked {
        " the most typical: its outcomes lie nearest the middle ones".to_string()
    } else {
        format!(
            " {}",
            how_typical(&typical::distances(told.results, &programs), told.retold.number)
        )
    };
    let mut lines = format!(
        "{}: future {number} of {members} (seed {}),{chosen}.",
        titles.join(" beside "),
        told.results.seed
    );
    if titles.len() > 1 {
        lines.push_str(" Both have the same weather and the same luck.");
    }
    out.push_str(&wrap(told.width, &lines, 0, 0));
    if let Some(past) = told.retold.past {
        let text = format!(
            "Up to {} the lawn is under the care that it really had, the same under each program; work is \
             told from the next day on.",
            past.until
        );
        out.push_str(&wrap(told.width, &text, 0, 0));
    }
    for season in seasons(&told.retold.skies, told.normals) {
        out.push_str(&wrap(told.width, &weather(&season, told.units), 0, 2));
    }
    out
}

/// "nearer the middle than 164 of the 200".
fn how_typical(distances: &[f64], number: u32) -> String {
    let own = distances.get(number as usize).copied().unwrap_or(0.0);
    let farther = distances.iter().filter(|d| **d > own).count();
    format!("nearer the middle than {farther} others")
}

/// "2026: rain in spring 9.1 in (usually 12.0)...".
pub fn weather(season: &Season, units: Units) -> String {
    let shown = units.shown("mm");
    let places = if units == Units::Us { 1 } else { 0 };
    let rain = |(fell, usual): (f64, f64)| {
        let usual = round::fixed(shown.value(usual), places);
        let usual = if usual.is_empty() { "not known".into() } else { usual };
        format!("{} {} (usually {usual})", round::fixed(shown.value(fell), places), shown.unit)
    };
    let [spring, summer, fall] = season.rain_mm;
    let (month, high, usual) = season.hottest;
    let name = MONTHS[usize::from(month) - 1];
    format!(
        "Weather {}: rain in spring {}, in summer {}, in fall {}; hottest in {name}, with a mean high of \
         {} (usually {}); at the longest {} without a good rain, April to September.",
        season.year,
        rain(spring),
        rain(summer),
        rain(fall),
        units.warmth(high),
        units.warmth(usual),
        days(season.dry_days)
    )
}

fn title<'a>(told: &'a Told, track: &ToldTrack) -> &'a str {
    told.results.programs.get(track.program).map_or("", |p| p.title.as_str())
}

/// What it came to.
pub fn close(told: &Told) -> String {
    let members = told.results.members;
    let head = format!(
        "What it came to {} (in brackets the middle of {})",
        over(told.scenario),
        simulated(members)
    );
    let mut out = String::from("\n");
    out.push_str(&wrap(told.width, &head, 0, 0));
    for (at, track) in told.retold.tracks.iter().enumerate() {
        let parts: Vec<String> = OUTCOMES
            .iter()
            .enumerate()
            .filter(|(_, kind)| OUTCOMES_TOLD.contains(&kind.key))
            .filter_map(|(index, kind)| outcome(told, track, index, kind))
            .collect();
        let text = format!("{}: {}.", label(told, at), parts.join("; "));
        out.push_str(&wrap(told.width, &text, 2, 4));
    }
    out
}

fn outcome(told: &Told, track: &ToldTrack, index: usize, kind: &OutcomeKind) -> Option<String> {
    let currency = told.scenario.crew.currency.as_str();
    let value = *track.track.outcomes.get(index)?;
    let all = told.results.programs.get(track.program)?.outcomes.get(index)?;
    let mut sorted = all.clone();
    sorted.sort_by(f64::total_cmp);
    let figure = |v: f64| Figure::new(&[v], kind.unit, told.units, currency);
    let mut own = figure(value).middle();
    let middle = figure(quantile_sorted(&sorted, 0.5)).short();
    if kind.unit == "lb/1000 ft2" {
        own = own.replace("lb/", "lb per ");
    }
    let label = short(kind.key).unwrap_or(kind.label);
    Some(format!("{label} {own} ({middle})"))
}

/// Labels for one line.
fn short(key: &str) -> Option<&'static str> {
    Some(match key {
        "crabgrass_peak" => "crabgrass at its worst",
        "quality_summer" => "mean summer quality",
        "days_acceptable" => "acceptable for",
        "turf_cover_end" => "turf at the end",
        "n_leached" => "nitrogen leached",
        "crew_hours" => "crew hours",
        "cost" => "cost",
        _ => return None,
    })
}

/// "12 Jul", for the margin.
pub fn margin(day: sim::calendar::Day) -> String {
    format!("{:>6}", date(day).replace(HOLD, " "))
}
