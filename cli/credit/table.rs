//! credit.csv: every outcome's difference, its parts, and what pairs of practices bring together.

use std::io::{self, Write};

use sim::analysis::credit::{Estimate, shapley};
use sim::outcomes::{OUTCOMES, OutcomeKind};

use super::Told;
use crate::files::outcomes::unit_in_file;
use crate::files::table::Table;
use crate::round;

/// Writes `outcome,unit,part,practice,with,mean,standard_error,low_95,high_95,share_better,share_same`
/// with a row for the program less the baseline (`total`), one for each practice (`credit`; they add up
/// to the total) and one for each pair (`together`: what the two bring beyond what each brings alone;
/// none where orders were sampled). Means are over members.
///
/// # Errors
/// Where it cannot be written.
pub(super) fn write(told: &Told, out: &mut dyn Write) -> io::Result<()> {
    let header = [
        "outcome",
        "unit",
        "part",
        "practice",
        "with",
        "mean",
        "standard_error",
        "low_95",
        "high_95",
        "share_better",
        "share_same",
    ];
    let mut table = Table::start(out, &header)?;
    let players = &told.credits.players;
    for (kind, shared) in OUTCOMES.iter().zip(&told.credits.outcomes) {
        row(told, kind, ["total", "", ""], &shared.total, &mut table)?;
        for (player, credit) in players.iter().zip(&shared.credits) {
            row(told, kind, ["credit", &player.key, ""], credit, &mut table)?;
        }
        for ((a, b), both) in shapley::pairs(players.len()).zip(&shared.interactions) {
            let cells = ["together", players[a].key.as_str(), players[b].key.as_str()];
            row(told, kind, cells, both, &mut table)?;
        }
    }
    table.finish()
}

fn row(
    told: &Told,
    kind: &OutcomeKind,
    cells: [&str; 3],
    estimate: &Estimate,
    table: &mut Table,
) -> io::Result<()> {
    table.text(kind.key)?;
    table.text(unit_in_file(kind.unit, &told.scenario.crew.currency))?;
    cells.iter().try_for_each(|cell| table.text(cell))?;
    let members = told.credits.members;
    let error = estimate.standard_error();
    let finest = round::decimals(round::unit_of(kind.key, kind.unit));
    let places = round::supported_decimals(finest, error * f64::from(members).sqrt(), members);
    table.figure(estimate.mean, places)?;
    // Two figures of an error are worth having, and no more.
    table.figure(error, places + 1)?;
    table.figure(estimate.interval.0, places)?;
    table.figure(estimate.interval.1, places)?;
    let places = round::share_decimals(members);
    table.figure(estimate.share_better, places)?;
    table.figure(estimate.share_same, places)?;
    table.end()
}
