//! Gathers members, in order, into programs.

use super::bands::{bands, bands_of};
use super::bins::Bins;
use super::run::KEPT_LOGS;
use super::{
    Account, DIFFERENCES, Difference, MEASURES, ProgramResults, Results, RunPlan, TrackRows,
    contrasts,
};
use crate::outcomes::{Almanac, OUTCOMES};
use crate::season::{Track, looks};
use crate::weather::Record;
use crate::work::{Setback, WorkEntry};

/// What a run keeps of one member: one entry a program.
pub(super) struct Played<T = (TrackRows, Track)> {
    pub(super) tracks: Vec<T>,
}

/// A run's members so far.
pub(super) struct Gathering<'a> {
    plan: &'a RunPlan<'a>,
    almanac: &'a Almanac,
    /// Whether all rows are held, for exact bands.
    exact: bool,
    columns: Vec<Column>,
    pairs: Vec<Pair>,
}

/// The daily differences of a program from its baseline, of the members so far.
struct Pair {
    program: usize,
    baseline: usize,
    bins: Option<Bins>,
}

/// One program's share of the members so far.
#[derive(Default)]
struct Column {
    rows: Vec<TrackRows>,
    bins: Option<Bins>,
    work: Vec<Vec<WorkEntry>>,
    setbacks: Vec<Vec<Setback>>,
    looks: Vec<Vec<f32>>,
    ledgers: Vec<[Account; 3]>,
    outcomes: Vec<Vec<f64>>,
}

impl<'a> Gathering<'a> {
    pub(super) fn new(plan: &'a RunPlan<'a>, almanac: &'a Almanac, exact: bool) -> Gathering<'a> {
        let empty = || Column { outcomes: vec![Vec::new(); OUTCOMES.len()], ..Column::default() };
        let programs = &plan.scenario.programs;
        let columns = programs.iter().map(|_| empty()).collect();
        let pair = |(program, baseline)| Pair { program, baseline, bins: None };
        let pairs = contrasts::pairs(programs).into_iter().map(pair).collect();
        Gathering { plan, almanac, exact, columns, pairs }
    }

    /// Takes the next members.
    pub(super) fn add(&mut self, members: Vec<Played>) {
        for member in members {
            for (column, (rows, track)) in self.columns.iter_mut().zip(member.tracks) {
                column.rows.push(rows);
                column.ledgers.push(track.accounts);
                if self.exact || column.work.len() < KEPT_LOGS {
                    column.work.push(track.work);
                    column.setbacks.push(track.setbacks);
                }
                column.looks.resize(track.looks.len(), Vec::new());
                for (values, value) in column.looks.iter_mut().zip(track.looks) {
                    values.push(value);
                }
                for (values, value) in column.outcomes.iter_mut().zip(track.outcomes) {
                    values.push(value);
                }
            }
        }
        if !self.exact {
            let days = self.almanac.days();
            for pair in &mut self.pairs {
                let rows = differences(&self.columns, pair);
                count(&mut pair.bins, &rows, days, DIFFERENCES.len());
            }
            for column in &mut self.columns {
                count(&mut column.bins, &std::mem::take(&mut column.rows), days, MEASURES.len());
            }
        }
    }

    /// Makes bands and contrasts.
    pub(super) fn finish(self) -> Results {
        let Gathering { plan, almanac, columns, pairs, .. } = self;
        let days = almanac.days();
        let differences = pairs
            .iter()
            .flat_map(|pair| {
                let bands = match &pair.bins {
                    Some(bins) => bins.bands(),
                    None => bands_of(&differences(&columns, pair), days, DIFFERENCES.len()),
                };
                DIFFERENCES.into_iter().zip(bands).map(|(measure, band)| {
                    let Pair { program, baseline, .. } = *pair;
                    Difference { program, baseline, measure, band }
                })
            })
            .collect();
        let programs = &plan.scenario.programs;
        let results: Vec<ProgramResults> = programs
            .iter()
            .zip(columns)
            .map(|(program, column)| ProgramResults {
                id: program.id.clone(),
                title: program.title.clone(),
                bands: match &column.bins {
                    Some(bins) => bins.bands(),
                    None => bands(&column.rows, days),
                },
                outcomes: column.outcomes,
                work: column.work,
                setbacks: column.setbacks,
                looks: column.looks,
                ledgers: column.ledgers,
                tracks: plan.keep_tracks.then_some(column.rows),
            })
            .collect();
        Results {
            first: almanac.first(),
            days,
            members: plan.members,
            seed: plan.seed,
            record_years: record_years(plan.record),
            looks: looks(plan.scenario, almanac),
            contrasts: contrasts::contrasts(programs, &results),
            differences,
            programs: results,
            spread: vec![],
            conditioning: None,
        }
    }
}

/// Counts the rows at hand.
fn count(bins: &mut Option<Bins>, rows: &[TrackRows], days: usize, width: usize) {
    match bins {
        Some(bins) => bins.add(rows),
        None => *bins = Some(Bins::new(rows, days, width)),
    }
}

/// The differences that are kept of a pair, member by member of the rows at hand.
fn differences(columns: &[Column], pair: &Pair) -> Vec<TrackRows> {
    let day = |(ours, theirs): (&[f32], &[f32])| DIFFERENCES.map(|m| ours[m] - theirs[m]);
    let members = columns[pair.program].rows.iter().zip(&columns[pair.baseline].rows);
    let one = |(ours, theirs): (&TrackRows, &TrackRows)| -> TrackRows {
        let theirs = theirs.chunks_exact(MEASURES.len());
        ours.chunks_exact(MEASURES.len()).zip(theirs).flat_map(day).collect()
    };
    members.map(one).collect()
}

/// Calendar years that the record covers in full, give or take its ends: days / 365.25, rounded.
pub(crate) fn record_years(record: &Record) -> u32 {
    (record.days.len() as f64 / 365.25).round() as u32
}
