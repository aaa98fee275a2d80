//! when.csv: the outcome at each setting, on the members that chose and on the fresh ones.

use std::io::{self, Write};

use sim::analysis::when::{Score, Setting};
use sim::scenario::{Measure, month_day};

use super::Told;
use crate::files::outcomes::unit_in_file;
use crate::files::table::Table;
use crate::round;

const HEADER: [&str; 18] = [
    "setting",
    "unit",
    "set",
    "outcome",
    "outcome_unit",
    "p05",
    "p25",
    "p50",
    "p75",
    "p95",
    "mean",
    "difference_to_best",
    "standard_error",
    "as_good",
    "yours",
    "usual_date",
    "never",
    "members",
];

/// Writes a row for each setting and set. Settings are in metric units, dates as `04-15`; a program that
/// does without has an empty setting. `usual_date` and `never` are of the fresh members: the middle date
/// on which the practice is first done in a season, and the members in which a season goes by without.
pub(super) fn write(told: &Told, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::start(out, &HEADER)?;
    for setting in told.sweep.settings.iter().chain(&told.sweep.apart) {
        row(told, setting, ("first", &setting.first), &mut table)?;
        row(told, setting, ("fresh", &setting.fresh), &mut table)?;
    }
    table.finish()
}

fn row(
    told: &Told,
    setting: &Setting,
    (set, score): (&str, &Score),
    table: &mut Table,
) -> io::Result<()> {
    let (kind, members) = (told.kind, told.sweep.members);
    let value = setting.value.map(|value| value_in_file(told.dial.measure, value));
    table.text(&value.unwrap_or_default())?;
    table.text(match told.dial.measure {
        Measure::Days => "days",
        Measure::Date => "month-day",
        Measure::Amount(kind) => kind.si_unit(),
    })?;
    table.text(set)?;
    table.text(kind.key)?;
    table.text(unit_in_file(kind.unit, &told.scenario.crew.currency))?;
    let finest = round::decimals(round::unit_of(kind.key, kind.unit));
    let spread = round::spread_of(score.quantiles[0], score.quantiles[4]);
    let places = round::supported_decimals(finest, spread, members);
    for figure in score.quantiles.into_iter().chain([score.mean]) {
        table.figure(figure, places)?;
    }
    // A paired difference is known better than the outcomes themselves.
    for figure in [score.difference, score.error] {
        table.figure(figure, finest + 1)?;
    }
    table.text(if score.as_good { "yes" } else { "no" })?;
    table.text(if setting.own { "yes" } else { "no" })?;
    let fresh = set == "fresh";
    let day = setting.usual_day.filter(|_| fresh).map(date_in_file);
    table.text(&day.unwrap_or_default())?;
    if fresh {
        table.count(setting.never as usize)?
    } else {
        table.text("")?
    }
    table.count(members as usize)?;
    table.end()
}

fn value_in_file(measure: Measure, value: f64) -> String {
    match measure {
        Measure::Date => date_in_file(value),
        Measure::Days => round::fixed(value, 0),
        Measure::Amount(_) => {
            let text = round::fixed(value, 4);
            text.trim_end_matches('0').trim_end_matches('.').to_string()
        }
    }
}

fn date_in_file(day_of_year: f64) -> String {
    let day = month_day(day_of_year);
    format!("{:02}-{:02}", day.month, day.day)
}
