//! One program's results in a few lines.

use sim::ensemble::ProgramResults;
use sim::ensemble::spread::Shares;
use sim::lawn::quality::ACCEPTABLE;
use sim::outcomes::{OUTCOMES, OutcomeKind};
use sim::scenario::Scenario;

use super::figure::Figure;
use super::lines::wrap;
use super::name::futures;
use super::odds::Odds;
use super::setback;
use super::spread;
use crate::units::Units;

/// Crabgrass cover that a client would not complain of, % of the lawn. Common practice.
pub const CRABGRASS_LITTLE_PCT: f64 = 10.0;

/// Grass on more of the ground than this is a good stand, % (TR-55, table 2-2a: "good, grass cover
/// over 75 %").
pub const TURF_GOOD_PCT: f64 = 75.0;

/// A claim on one outcome, told as odds.
#[derive(Clone, Copy, Debug)]
pub struct Claim {
    /// Outcome that it is read from.
    pub outcome: &'static str,
    /// "the crabgrass stays under 10 % of the lawn".
    pub words: &'static str,
    /// The same as a title starts: "Crabgrass stays under 10 %".
    pub title: &'static str,
    /// The line that is kept or missed, in the outcome's unit.
    pub line: f64,
    /// What the line means.
    pub line_label: &'static str,
    /// "stay under 10 %", after "17 of 20 simulated futures".
    pub line_kept: &'static str,
    /// Whether values at or above the line meet the claim; else those below it do.
    pub above_is_good: bool,
}

impl Claim {
    /// Whether a value meets it.
    pub fn met(&self, value: f64) -> bool {
        if self.above_is_good { value >= self.line } else { value < self.line }
    }
}

/// Claims told for every program.
pub const CLAIMS: [Claim; 3] = [
    Claim {
        outcome: "crabgrass_peak",
        words: "the crabgrass stays under 10 % of the lawn",
        title: "Crabgrass stays under 10 %",
        line: CRABGRASS_LITTLE_PCT,
        line_label: "10 % of the lawn",
        line_kept: "stay under 10 %",
        above_is_good: false,
    },
    Claim {
        outcome: "quality_summer",
        words: "summer quality averages 6 (acceptable) or better",
        title: "Summer quality averages 6 or better",
        line: ACCEPTABLE,
        line_label: "6 = acceptable",
        line_kept: "average 6 or better",
        above_is_good: true,
    },
    Claim {
        outcome: "turf_cover_end",
        words: "grass covers 75 % of the ground or more at the end",
        title: "Grass covers 75 % or more at the end",
        line: TURF_GOOD_PCT,
        line_label: "75 % = a good stand",
        line_kept: "end with 75 % or more",
        above_is_good: true,
    },
];

/// Values of one outcome, by key; empty where the run has none.
pub fn values<'a>(program: &'a ProgramResults, key: &str) -> &'a [f64] {
    OUTCOMES
        .iter()
        .position(|o| o.key == key)
        .and_then(|i| program.outcomes.get(i))
        .map_or(&[], Vec::as_slice)
}

/// The odds of a claim under a program.
pub fn odds(program: &ProgramResults, claim: &Claim) -> Odds {
    Odds::count(values(program, claim.outcome), |v| claim.met(v))
}

/// Tells one program.
pub fn tell(
    program: &ProgramResults,
    spread: &[Shares],
    scenario: &Scenario,
    units: Units,
) -> String {
    let currency = &scenario.crew.currency;
    let mut out = format!("{}\n", program.title);
    let figure = |key: &str| {
        let of_lawn = |o: &&OutcomeKind| o.key == key && o.is_of(&scenario.lawn);
        let kind = OUTCOMES.iter().find(of_lawn)?;
        let figure = Figure::new(values(program, key), kind.unit, units, currency);
        let told = if figure.is_nothing() { "none".into() } else { figure.told() };
        Some(told)
    };
    for (label, key) in [
        ("crabgrass at its worst", "crabgrass_peak"),
        ("summer quality, 1-9", "quality_summer"),
        ("dandelion and its like", "broadleaf_peak"),
        ("dandelion at the end", "broadleaf_end"),
        ("white clover", "clover_peak"),
        ("yellow nutsedge", "nutsedge_peak"),
        ("turf cover at the end", "turf_cover_end"),
        ("visits", "visits"),
        ("crew hours", "crew_hours"),
        ("cost", "cost"),
        ("irrigation", "water_used"),
    ] {
        if let Some(text) = figure(key) {
            out.push_str(&format!("  {label:<23} {text}\n"));
        }
        if key == "visits" {
            let line = format!("{:<23} {}", "missed or given up", setback::lost(program));
            out.push_str(&wrap(&line, 2, 26));
        }
    }
    for claim in &CLAIMS {
        let odds = odds(program, claim);
        let line = format!(
            "In {} simulated {} {}{}.",
            odds.of(),
            futures(odds.members),
            claim.words,
            odds.give_or_take()
        );
        out.push_str(&wrap(&line, 2, 4));
        let why = OUTCOMES.iter().position(|o| o.key == claim.outcome).and_then(|i| spread.get(i));
        let why = why.map(spread::tell).filter(|why| !why.is_empty());
        why.iter().for_each(|why| out.push_str(&wrap(why, 4, 4)));
    }
    out
}
