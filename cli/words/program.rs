//! One program's results in a few lines.

use sim::ensemble::{ProgramResults, Results};
use sim::outcomes::OUTCOMES;

use super::figure::Figure;
use super::odds::Odds;
use crate::units::Units;

/// Crabgrass cover that a client would not complain of, % of the lawn. Common practice.
pub const CRABGRASS_LITTLE_PCT: f64 = 10.0;
/// Acceptable quality on the 1-9 scale of turfgrass trials.
pub const QUALITY_ACCEPTABLE: f64 = 6.0;

/// A claim on one outcome, told as odds.
#[derive(Clone, Copy, Debug)]
pub struct Claim {
    /// Outcome that it is read from.
    pub outcome: &'static str,
    /// "the crabgrass stays under 10 % of the lawn".
    pub words: &'static str,
    /// Whether a value meets it.
    pub met: fn(f64) -> bool,
}

/// Claims told for every program.
pub const CLAIMS: [Claim; 2] = [
    Claim {
        outcome: "crabgrass_peak",
        words: "the crabgrass stays under 10 % of the lawn",
        met: |v| v < CRABGRASS_LITTLE_PCT,
    },
    Claim {
        outcome: "quality_summer",
        words: "summer quality averages 6 (acceptable) or better",
        met: |v| v >= QUALITY_ACCEPTABLE,
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
    Odds::count(values(program, claim.outcome), claim.met)
}

/// "simulated seasons", or "simulated futures" where a track has several seasons.
pub fn tracks_are_called(results: &Results) -> &'static str {
    if results.days <= 366 { "simulated seasons" } else { "simulated futures" }
}

/// Tells one program.
pub fn tell(results: &Results, program: &ProgramResults, units: Units, currency: &str) -> String {
    let mut out = format!("{}\n", program.title);
    let figure = |key: &str| {
        let kind = OUTCOMES.iter().find(|o| o.key == key)?;
        Some(Figure::new(values(program, key), kind.unit, units, currency).told())
    };
    let mut line = |label: &str, text: String| out.push_str(&format!("  {label:<22}{text}\n"));
    for (label, key) in [
        ("crabgrass at its worst", "crabgrass_peak"),
        ("summer quality, 1-9", "quality_summer"),
        ("turf cover at the end", "turf_cover_end"),
        ("crew hours", "crew_hours"),
        ("cost", "cost"),
        ("irrigation", "water_used"),
    ] {
        if let Some(text) = figure(key) {
            line(&format!("{label} "), text);
        }
    }
    for claim in &CLAIMS {
        let odds = odds(program, claim);
        out.push_str(&format!(
            "  In {} {} {}{}.\n",
            odds.of(),
            tracks_are_called(results),
            claim.words,
            odds.give_or_take()
        ));
    }
    out
}
