//! Gathers members, in order, into programs.

use super::bins::Bins;
use super::run::KEPT_LOGS;
use super::{Account, ProgramResults, Results, RunPlan, TrackRows, bands, contrasts};
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
        let columns = plan.scenario.programs.iter().map(|_| empty()).collect();
        Gathering { plan, almanac, exact, columns }
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
            for column in &mut self.columns {
                column.count(self.almanac.days());
            }
        }
    }

    /// Makes bands and contrasts.
    pub(super) fn finish(self) -> Results {
        let Gathering { plan, almanac, columns, .. } = self;
        let programs = &plan.scenario.programs;
        let results: Vec<ProgramResults> = programs
            .iter()
            .zip(columns)
            .map(|(program, column)| ProgramResults {
                id: program.id.clone(),
                title: program.title.clone(),
                bands: match &column.bins {
                    Some(bins) => bins.bands(),
                    None => bands(&column.rows, almanac.days()),
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
            days: almanac.days(),
            members: plan.members,
            seed: plan.seed,
            record_years: record_years(plan.record),
            looks: looks(plan.scenario, almanac),
            contrasts: contrasts(programs, &results),
            programs: results,
            spread: vec![],
            conditioning: None,
        }
    }
}

impl Column {
    /// Counts the rows at hand and lets them go.
    fn count(&mut self, days: usize) {
        let rows = std::mem::take(&mut self.rows);
        match &mut self.bins {
            Some(bins) => bins.add(&rows),
            None => self.bins = Some(Bins::new(&rows, days)),
        }
    }
}

/// Calendar years that the record covers in full, give or take its ends: days / 365.25, rounded.
pub(crate) fn record_years(record: &Record) -> u32 {
    (record.days.len() as f64 / 365.25).round() as u32
}
