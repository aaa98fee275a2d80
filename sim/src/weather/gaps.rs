//! From lines to a record without gaps: short ones are filled and noted, long ones refused.

use super::RecordDay;
use super::options::Ask;
use super::record::{RecordFault, counted};
use crate::calendar::Day;

/// Longest gap that is filled, days.
const LONGEST_FILLED: i32 = 5;
/// Filled gaps that are noted one by one; more are only counted.
const NOTED_SINGLY: usize = 8;

/// One line of a table, in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    /// Precipitation of so many days that end with this one, mm.
    pub(super) total: Option<(f64, i32)>,
}

impl Row {
    /// A day of which nothing is known, told on a line.
    fn blank(day: Day, line: usize) -> Row {
        Row {
            line,
            day,
            temperature: None,
            precip_mm: None,
            wind_m_s: None,
            rs_mj_m2: None,
            rh_pct: None,
            total: None,
        }
    }
}

/// A run of days on which something was not measured, and what was put there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The first day without a reading.
    pub first: Day,
    /// The last one.
    pub last: Day,
    /// What was not measured.
    pub what: Filled,
    /// Line of the reading that ends it.
    line: usize,
}

/// What was put into a gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filled {
    /// Low and high, in a straight line between the days around it.
    Temperature,
    /// No rain.
    Rain,
}

impl Filled {
    /// What is missing.
    fn subject(self) -> &'static str {
        match self {
            Filled::Temperature => "temperature",
            Filled::Rain => "precipitation",
        }
    }

    /// What was done about it.
    pub fn in_words(self) -> &'static str {
        match self {
            Filled::Temperature => "temperature was interpolated",
            Filled::Rain => "no rain was assumed",
        }
    }
}

impl Gap {
    /// Length, days.
    pub fn days(&self) -> i32 {
        self.last.0 - self.first.0 + 1
    }

    /// "2024-04-01 to 2024-04-03", or the one day.
    pub fn dates(&self) -> String {
        if self.first == self.last {
            self.first.to_string()
        } else {
            format!("{} to {}", self.first, self.last)
        }
    }
}

/// A record without gaps, and what was done for it.
pub(super) struct Closed {
    pub(super) first: Day,
    pub(super) days: Vec<RecordDay>,
    /// In the order of time, temperature first.
    pub(super) filled: Vec<Gap>,
}

/// Fills the gaps of rows whose dates go up.
///
/// # Errors
/// No day with temperature and rain, a table that is not daily, or a gap of more than five days.
pub(super) fn close_gaps(rows: &[Row], notes: &mut Vec<String>) -> Result<Closed, RecordFault> {
    refuse_coarse(rows)?;
    let rows = spread_totals(rows, notes);
    let rows = trim(&rows, notes)?;
    let heat = gaps(rows, Filled::Temperature, |row| row.temperature.is_some());
    let rain = gaps(rows, Filled::Rain, |row| row.precip_mm.is_some());
    refuse_long(rows, &heat, &rain)?;
    note(&heat, notes);
    note(&rain, notes);
    Ok(Closed { first: rows[0].day, days: fill(rows), filled: [heat, rain].concat() })
}

/// Puts the precipitation of several days, read on the last of them, evenly on those that have no
/// reading of their own.
fn spread_totals(rows: &[Row], notes: &mut Vec<String>) -> Vec<Row> {
    let mut all = rows.to_vec();
    let mut spread = 0;
    for row in rows.iter().filter(|row| row.precip_mm.is_none()) {
        let Some((total_mm, days)) = row.total.filter(|t| t.1 <= LONGEST_FILLED) else { continue };
        spread += 1;
        for day in (row.day.0.saturating_sub(days - 1)..=row.day.0).map(Day) {
            let share_mm = Some(total_mm / f64::from(days));
            match all.binary_search_by_key(&day, |r| r.day) {
                Ok(at) => all[at].precip_mm = all[at].precip_mm.or(share_mm),
                // Before the first line nothing is added.
                Err(0) => {}
                Err(at) => {
                    all.insert(at, Row { precip_mm: share_mm, ..Row::blank(day, row.line) });
                }
            }
        }
    }
    if spread > 0 {
        let totals = counted(spread, "total");
        notes.push(format!("{totals} of several days' rain: spread evenly over those days"));
    }
    all
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

/// Leaves off days at either end that lack temperature or rain.
fn trim<'a>(rows: &'a [Row], notes: &mut Vec<String>) -> Result<&'a [Row], RecordFault> {
    let measured = |row: &Row| row.temperature.is_some() && row.precip_mm.is_some();
    let Some((from, to)) = rows.iter().position(measured).zip(rows.iter().rposition(measured))
    else {
        let lacks = if rows.iter().all(|row| row.temperature.is_none()) {
            "both a low and a high"
        } else {
            "low, high and precipitation"
        };
        return Err(RecordFault::new(
            format!("no day has {lacks}"),
            "one line a day, with the day's low, high and precipitation",
        ));
    };
    let off = &[&rows[..from], &rows[to + 1..]].concat();
    if !off.is_empty() {
        let cold = off.iter().filter(|row| row.temperature.is_none()).count();
        let what = if cold == off.len() { "temperature" } else { "temperature or rain" };
        notes.push(format!("left off at the ends: {} without {what}", counted(off.len(), "day")));
    }
    Ok(&rows[from..=to])
}

/// Runs of days without a reading, between rows that have it.
fn gaps(rows: &[Row], what: Filled, has: impl Fn(&Row) -> bool) -> Vec<Gap> {
    let mut found = vec![];
    let Some(first) = rows.first() else { return found };
    let mut last_measured = first.day;
    for row in rows.iter().filter(|row| has(row)) {
        let gap = Gap {
            first: Day(last_measured.0.saturating_add(1)),
            last: Day(row.day.0.saturating_sub(1)),
            what,
            line: row.line,
        };
        if gap.last >= gap.first {
            found.push(gap);
        }
        last_measured = row.day;
    }
    found
}

/// Gaps that a message names.
const NAMED: usize = 4;

/// Refuses gaps that are too long to fill, with the dates and the longest stretch between them.
fn refuse_long(rows: &[Row], heat: &[Gap], rain: &[Gap]) -> Result<(), RecordFault> {
    let mut long: Vec<&Gap> =
        heat.iter().chain(rain).filter(|gap| gap.days() > LONGEST_FILLED).collect();
    long.sort_by_key(|gap| gap.first);
    let Some((worst, others)) = long.split_first() else { return Ok(()) };
    let subject = worst.what.subject();
    let mut message = format!("{subject} is missing for {} days, {}", worst.days(), worst.dates());
    for gap in others.iter().take(NAMED - 1) {
        message.push_str(&format!(
            "; {} for {} days, {}",
            gap.what.subject(),
            gap.days(),
            gap.dates()
        ));
    }
    if others.len() >= NAMED {
        message.push_str(&format!("; and {} more", counted(others.len() + 1 - NAMED, "such gap")));
    }
    let expected = format!("gaps of at most {LONGEST_FILLED} days");
    let fault = RecordFault::new(message, expected).at(worst.line);
    let (first, last) = longest_stretch(rows, &long);
    let fill = "fill these days from a station nearby, or begin the record after the gap or end it \
                before";
    Err(match whole_years(first, last, rows[rows.len() - 1].day) {
        Some((from, to)) => fault
            .help(format!("{fill}; the longest stretch without such a gap is {first} to {last}"))
            .ask(Ask::Years(from, to)),
        None => fault.help(fill),
    })
}

/// First and last day of the longest stretch of rows without a long gap.
fn longest_stretch(rows: &[Row], long: &[&Gap]) -> (Day, Day) {
    let mut start = rows[0].day;
    let mut best = (start, start);
    let mut take = |from: Day, to: Day| {
        if to.0 - from.0 > best.1.0 - best.0.0 {
            best = (from, to);
        }
    };
    for gap in long {
        take(start, gap.first.plus(-1));
        start = start.max(gap.last.plus(1));
    }
    take(start, rows[rows.len() - 1].day);
    best
}

/// The calendar years to read so that only this stretch is read: from the first that begins in it to
/// the last that ends in it, or that the record itself ends in.
fn whole_years(first: Day, last: Day, end: Day) -> Option<(i32, i32)> {
    let (year, ..) = first.ymd();
    let from = if first.day_of_year() == 1 { year } else { year + 1 };
    let (year, ..) = last.ymd();
    let ends = last == end || last.plus(1).day_of_year() == 1;
    let to = if ends { year } else { year - 1 };
    (from <= to).then_some((from, to))
}

fn note(gaps: &[Gap], notes: &mut Vec<String>) {
    let Some(done) = gaps.first().map(|gap| gap.what.in_words()) else { return };
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
