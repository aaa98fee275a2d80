//! From lines to a record without gaps: short ones are filled and noted, long ones refused.

use super::RecordDay;
use super::record::{RecordFault, counted};
use crate::calendar::Day;

/// Longest gap that is filled, days.
const LONGEST_FILLED: i32 = 5;
/// Filled gaps that are noted one by one; more are only counted.
const NOTED_SINGLY: usize = 8;

/// One line of a table, in SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// Line of the text, from 1.
    pub(super) line: usize,
    /// Its date.
    pub(super) day: Day,
    /// Lowest and highest temperature, degrees C, where both were measured.
    pub(super) temperature: Option<(f64, f64)>,
    /// Precipitation, mm.
    pub(super) precip_mm: Option<f64>,
    /// Wind at the anemometer, m/s.
    pub(super) wind_m_s: Option<f64>,
    /// Solar radiation, MJ/m2/day.
    pub(super) rs_mj_m2: Option<f64>,
    /// Mean relative humidity, %.
    pub(super) rh_pct: Option<f64>,
}

/// A run of days on which something was not measured.
struct Gap {
    first: Day,
    last: Day,
    /// Line of the reading that ends it.
    line: usize,
}

impl Gap {
    fn days(&self) -> i32 {
        self.last.0 - self.first.0 + 1
    }

    fn dates(&self) -> String {
        if self.first == self.last {
            self.first.to_string()
        } else {
            format!("{} to {}", self.first, self.last)
        }
    }
}

/// Fills the gaps of rows whose dates go up. Returns the first day and one entry a day.
///
/// # Errors
/// No day with temperature, a table that is not daily, or a gap of more than five days.
pub(super) fn close_gaps(
    rows: &[Row],
    notes: &mut Vec<String>,
) -> Result<(Day, Vec<RecordDay>), RecordFault> {
    refuse_coarse(rows)?;
    let rows = trim(rows, notes)?;
    let heat = gaps(rows, "temperature", |row| row.temperature.is_some())?;
    let rain = gaps(rows, "precipitation", |row| row.precip_mm.is_some())?;
    note(&heat, "temperature was interpolated", notes);
    note(&rain, "no rain was assumed", notes);
    Ok((rows[0].day, fill(rows)))
}

/// A table whose lines are never a day apart is monthly, weekly or a sample.
fn refuse_coarse(rows: &[Row]) -> Result<(), RecordFault> {
    let steps = || rows.windows(2).map(|w| i64::from(w[1].day.0) - i64::from(w[0].day.0));
    let Some(shortest) = steps().min().filter(|&s| rows.len() >= 3 && s > 1) else {
        return Ok(());
    };
    let kind = match (shortest, steps().max()) {
        (28..=31, Some(28..=31)) => "monthly".to_owned(),
        (7, Some(7)) => "weekly".to_owned(),
        _ => format!("no two of its lines are less than {shortest} days apart"),
    };
    Err(RecordFault::new(
        format!("this table is not daily: {kind}"),
        "one line a day, with the day's low, high and precipitation",
    )
    .at(rows[1].line)
    .column("date"))
}

/// Leaves off days without temperature at either end.
fn trim<'a>(rows: &'a [Row], notes: &mut Vec<String>) -> Result<&'a [Row], RecordFault> {
    let measured = |row: &Row| row.temperature.is_some();
    let Some((from, to)) = rows.iter().position(measured).zip(rows.iter().rposition(measured))
    else {
        return Err(RecordFault::new(
            "no day has both a low and a high",
            "one line a day, with the day's low, high and precipitation",
        ));
    };
    let off = from + rows.len() - 1 - to;
    if off > 0 {
        notes.push(format!("left off at the ends: {} without temperature", counted(off, "day")));
    }
    Ok(&rows[from..=to])
}

/// Runs of days without a reading, between rows that have it.
fn gaps(rows: &[Row], what: &str, has: impl Fn(&Row) -> bool) -> Result<Vec<Gap>, RecordFault> {
    let mut found = vec![];
    let Some(first) = rows.first() else { return Ok(found) };
    // The day before the first, so that a run at the very start is seen too.
    let mut last_measured = Day(first.day.0.saturating_sub(1));
    let end = rows.last().map(|row| Row { day: Day(row.day.0.saturating_add(1)), ..*row });
    let measured = rows.iter().filter(|row| has(row)).copied().chain(end);
    for row in measured {
        let gap = Gap {
            first: Day(last_measured.0.saturating_add(1)),
            last: Day(row.day.0.saturating_sub(1)),
            line: row.line,
        };
        if gap.days() > LONGEST_FILLED {
            return Err(RecordFault::new(
                format!("{what} is missing for {} days, {}", gap.days(), gap.dates()),
                format!("gaps of at most {LONGEST_FILLED} days"),
            )
            .at(gap.line)
            .help(
                "begin the record after the gap or end it before, or fill these days from a \
                 station nearby",
            ));
        }
        if gap.days() > 0 {
            found.push(gap);
        }
        last_measured = row.day;
    }
    Ok(found)
}

fn note(gaps: &[Gap], done: &str, notes: &mut Vec<String>) {
    notes.extend(gaps.iter().take(NOTED_SINGLY).map(|gap| format!("{}: {done}", gap.dates())));
    if gaps.len() > NOTED_SINGLY {
        let days: usize = gaps[NOTED_SINGLY..].iter().map(|gap| gap.days() as usize).sum();
        let more = counted(gaps.len() - NOTED_SINGLY, "more gap");
        notes.push(format!("and {more}, {} in all: {done}", counted(days, "day")));
    }
}

/// One entry a day, by linear interpolation of temperature between the days that have it. The first
/// and the last row have it.
fn fill(rows: &[Row]) -> Vec<RecordDay> {
    let mut days: Vec<RecordDay> = vec![];
    let mut rest = rows.iter().peekable();
    let mut before: Option<(Day, (f64, f64))> = None;
    for row in rows {
        let Some(now) = row.temperature else { continue };
        if let Some((from, start)) = before {
            let length = f64::from(row.day.0 - from.0);
            for date in from.0 + 1..row.day.0 {
                let part = f64::from(date - from.0) / length;
                let between = |a: f64, b: f64| a + part * (b - a);
                let heat = (between(start.0, now.0), between(start.1, now.1));
                let there = rest.next_if(|r| r.day.0 == date);
                days.push(entry(there, heat));
            }
        }
        days.push(entry(rest.next_if(|r| r.day == row.day), now));
        before = Some((row.day, now));
    }
    days
}

fn entry(row: Option<&Row>, (t_min_c, t_max_c): (f64, f64)) -> RecordDay {
    RecordDay {
        t_min_c,
        t_max_c,
        precip_mm: row.and_then(|r| r.precip_mm).unwrap_or(0.0),
        wind_m_s: row.and_then(|r| r.wind_m_s),
        rs_mj_m2: row.and_then(|r| r.rs_mj_m2),
        rh_pct: row.and_then(|r| r.rh_pct),
    }
}
