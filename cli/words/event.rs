//! Odds on a chosen date: how often the lawn is as an event needs it.

use sim::calendar::Day;
use sim::ensemble::{ProgramResults, Results};
use sim::quantity::{Kind, show};
use sim::scenario::{Event, Need, NeedUnit, Scenario, Side};

use super::lines::wrap;
use super::name::futures;
use super::odds::Odds;
use crate::round;
use crate::units::Units;

/// One day of an event under one program.
#[derive(Clone, Debug)]
pub struct Occasion<'a> {
    /// The event.
    pub event: &'a Event,
    /// The day.
    pub day: Day,
    /// For each need, whether each member meets it.
    pub met: Vec<Vec<bool>>,
}

impl Occasion<'_> {
    /// Whether a member meets every need.
    pub fn ready(&self, member: usize) -> bool {
        self.met.iter().all(|met| met.get(member).copied().unwrap_or(false))
    }
}

/// The days of a scenario's events under a program, in the order written.
pub fn occasions<'a>(
    results: &Results,
    scenario: &'a Scenario,
    program: &ProgramResults,
) -> Vec<Occasion<'a>> {
    let mut days: Vec<(usize, Day)> = results.looks.iter().map(|l| (l.event, l.day)).collect();
    days.dedup();
    let values = |event: usize, day: Day, need: &Need| {
        let same = |l: &sim::ensemble::Look| (l.event, l.day) == (event, day);
        let at = results.looks.iter().position(|l| same(l) && l.measure == need.measure);
        at.and_then(|at| program.looks.get(at)).map_or(&[][..], Vec::as_slice)
    };
    days.into_iter()
        .filter_map(|(index, day)| {
            let event = scenario.events.get(index)?;
            let met = |need: &Need| {
                values(index, day, need).iter().map(|v| need.met(f64::from(*v))).collect()
            };
            Some(Occasion { event, day, met: event.needs.iter().map(met).collect() })
        })
        .collect()
}

/// Tells the odds on every event's day; empty where there is none.
pub fn tell(
    results: &Results,
    scenario: &Scenario,
    program: &ProgramResults,
    units: Units,
) -> String {
    sentences(results, scenario, program, units).iter().map(|line| wrap(line, 2, 4)).collect()
}

/// The odds on every event's day, a few sentences each.
pub fn sentences(
    results: &Results,
    scenario: &Scenario,
    program: &ProgramResults,
    units: Units,
) -> Vec<String> {
    let mut out = Vec::new();
    for occasion in occasions(results, scenario, program) {
        let members = results.members;
        let all: Vec<bool> = (0..members as usize).map(|m| occasion.ready(m)).collect();
        let odds = count(&all);
        let needs: Vec<String> =
            occasion.event.needs.iter().map(|need| words(need, units)).collect();
        let mut line = format!(
            "On {} ({}): in {} simulated {} {}{}.",
            occasion.day.date().strftime("%-d %b %Y"),
            occasion.event.title,
            odds.of(),
            futures(members),
            needs.join(" and "),
            odds.give_or_take()
        );
        if needs.len() > 1 {
            let each: Vec<Odds> = occasion.met.iter().map(|met| count(met)).collect();
            let scale = Odds::common_scale(&each);
            let told =
                each.iter().zip(&needs).map(|(o, n)| format!("{n} in {}", o.of_scale(scale)));
            line.push_str(&format!(" Each by itself: {}.", told.collect::<Vec<_>>().join("; ")));
        }
        out.push(line);
    }
    out
}

fn count(met: &[bool]) -> Odds {
    Odds { hits: met.iter().filter(|met| **met).count() as u32, members: met.len() as u32 }
}

/// "quality is 6 or better", "crabgrass is under 5 %".
pub fn words(need: &Need, units: Units) -> String {
    let line = line(need, units);
    let is = if need.name().ends_with("weeds") { "are" } else { "is" };
    let side = match (need.side, need.unit() == NeedUnit::Rating) {
        (Side::AtLeast, true) => return format!("{} {is} {line} or better", need.name()),
        (Side::AtLeast, false) => "at least",
        (Side::Above, _) => "above",
        (Side::AtMost, _) => "at most",
        (Side::Below, _) => "under",
    };
    format!("{} {is} {side} {line}", need.name())
}

/// The line of a need with its unit: "6", "5 %", "6 in".
pub fn line(need: &Need, units: Units) -> String {
    let line = round::fixed(need.line, 1);
    let line = line.strip_suffix(".0").unwrap_or(&line);
    match need.unit() {
        NeedUnit::Rating => line.into(),
        NeedUnit::Share => format!("{line} %"),
        NeedUnit::Height => show(need.line, Kind::Depth, units.into()),
    }
}
