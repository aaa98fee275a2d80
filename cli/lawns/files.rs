//! lawns.csv and odds.csv: results keyed by lawn and program.

use std::io::{self, Write};

use sim::ensemble::{QUANTILES, Results};
use sim::outcomes::OUTCOMES;
use sim::scenario::Scenario;

use crate::files::outcomes::unit_in_file;
use crate::files::table::Table;
use crate::round;
use crate::words::figure::quantile;
use crate::words::odds::Odds;
use crate::words::program::{CLAIMS, odds as odds_of};

/// What is kept of one lawn.
pub(super) struct Summed {
    lawn: String,
    currency: String,
    programs: Vec<Program>,
}

struct Program {
    id: String,
    /// Quantiles and mean of each outcome.
    outcomes: Vec<[f64; 6]>,
    odds: Vec<Odds>,
}

impl Summed {
    /// Sums a lawn's run up.
    pub(super) fn new(lawn: &str, results: &Results, scenario: &Scenario) -> Summed {
        let outcome = |values: &Vec<f64>| {
            let mut sorted = values.clone();
            sorted.sort_by(f64::total_cmp);
            let mean = values.iter().fold(0.0, |sum, v| sum + v) / values.len() as f64;
            let [p05, p25, p50, p75, p95] = QUANTILES.map(|p| quantile(&sorted, p));
            [p05, p25, p50, p75, p95, mean]
        };
        let programs = results.programs.iter().map(|program| Program {
            id: program.id.clone(),
            outcomes: program.outcomes.iter().map(outcome).collect(),
            odds: CLAIMS.iter().map(|claim| odds_of(program, claim)).collect(),
        });
        let currency = scenario.crew.currency.clone();
        Summed { lawn: lawn.to_string(), currency, programs: programs.collect() }
    }
}

/// Writes `lawn,program,outcome,unit,p05,p25,p50,p75,p95,mean`, over each lawn's futures; money is in the
/// scenario's currency.
///
/// # Errors
/// Where it cannot be written.
pub(super) fn outcomes(lawns: &[Summed], out: &mut dyn Write) -> io::Result<()> {
    let header = ["lawn", "program", "outcome", "unit", "p05", "p25", "p50", "p75", "p95", "mean"];
    let mut table = Table::start(out, &header)?;
    for lawn in lawns {
        for program in &lawn.programs {
            for (kind, figures) in OUTCOMES.iter().zip(&program.outcomes) {
                table.text(&lawn.lawn)?;
                table.text(&program.id)?;
                table.text(kind.key)?;
                table.text(unit_in_file(kind.unit, &lawn.currency))?;
                let decimals = round::decimals(round::unit_of(kind.key, kind.unit));
                figures.iter().try_for_each(|figure| table.figure(*figure, decimals))?;
                table.end()?;
            }
        }
    }
    table.finish()
}

/// Writes `lawn,program,claim,futures,of`: in how many futures each claim holds.
///
/// # Errors
/// Where it cannot be written.
pub(super) fn odds(lawns: &[Summed], out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::start(out, &["lawn", "program", "claim", "futures", "of"])?;
    for lawn in lawns {
        for program in &lawn.programs {
            for (claim, odds) in CLAIMS.iter().zip(&program.odds) {
                table.text(&lawn.lawn)?;
                table.text(&program.id)?;
                table.text(claim.title)?;
                table.count(odds.hits as usize)?;
                table.count(odds.members as usize)?;
                table.end()?;
            }
        }
    }
    table.finish()
}
