//! Gathers members, in order, into programs.

use std::ops::Range;

use rayon::prelude::*;

use super::bins::Bins;
use super::part::{Column, Part, logs_of};
use super::{DIFFERENCES, MEASURES, RunPlan, TrackRows, contrasts};
use crate::outcomes::OUTCOMES;
use crate::season::Track;

/// What a run keeps of one member: one entry a program.
pub(super) struct Played<T = (TrackRows, Track)> {
    pub(super) tracks: Vec<T>,
}

/// A stretch's members so far.
pub(super) struct Gathering {
    days: usize,
    /// Whether all rows are held, for exact bands.
    exact: bool,
    /// Work logs that are kept.
    logs: usize,
    /// Program and baseline.
    pairs: Vec<(usize, usize)>,
    part: Part,
}

impl Gathering {
    /// Room for a stretch of a plan's members.
    pub(super) fn new(plan: &RunPlan, members: Range<u32>, days: usize, exact: bool) -> Gathering {
        let empty = || Column { outcomes: vec![Vec::new(); OUTCOMES.len()], ..Column::default() };
        let programs = &plan.scenario.programs;
        let pairs = contrasts::pairs(programs);
        let logs = if exact { members.len() } else { logs_of(&members) };
        let part = Part {
            members,
            first: vec![],
            columns: programs.iter().map(|_| empty()).collect(),
            pairs: vec![None; pairs.len()],
            chosen: None,
            spread: vec![],
        };
        Gathering { days, exact, logs, pairs, part }
    }

    /// Takes the first members of the whole run: they say what came of member 0, and between which
    /// edges values are counted.
    pub(super) fn begin(&mut self, leading: &[Played]) {
        let outcomes = |member: &Played| {
            member.tracks.iter().map(|(_, track)| track.outcomes.clone()).collect()
        };
        self.part.first = leading.first().map(outcomes).unwrap_or_default();
        if self.exact {
            return;
        }
        let days = self.days;
        let rows = |program: usize| leading.iter().map(move |member| &member.tracks[program].0);
        for (bins, (program, baseline)) in self.part.pairs.iter_mut().zip(&self.pairs) {
            let apart = apart(rows(*program), rows(*baseline));
            *bins = Some(Bins::between(apart.iter(), days, DIFFERENCES.len()));
        }
        for (program, column) in self.part.columns.iter_mut().enumerate() {
            column.bins = Some(Bins::between(rows(program), days, MEASURES.len()));
        }
    }

    /// Takes the next members.
    pub(super) fn add(&mut self, members: Vec<Played>) {
        for member in members {
            for (column, (rows, track)) in self.part.columns.iter_mut().zip(member.tracks) {
                column.rows.push(rows);
                column.ledgers.push(track.accounts);
                if column.work.len() < self.logs {
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
        if self.exact {
            return;
        }
        for (bins, (program, baseline)) in self.part.pairs.iter_mut().zip(&self.pairs) {
            let rows = differences(&self.part.columns, *program, *baseline);
            bins.iter_mut().for_each(|bins| bins.add(&rows));
        }
        for column in &mut self.part.columns {
            let rows = std::mem::take(&mut column.rows);
            column.bins.iter_mut().for_each(|bins| bins.add(&rows));
        }
    }

    /// The stretch.
    pub(super) fn finish(self) -> Part {
        self.part
    }
}

/// The differences that are kept of a program and its baseline, member by member of the rows at hand.
pub(super) fn differences(columns: &[Column], program: usize, baseline: usize) -> Vec<TrackRows> {
    apart(columns[program].rows.iter(), columns[baseline].rows.iter())
}

fn apart<'r>(
    ours: impl Iterator<Item = &'r TrackRows>,
    theirs: impl Iterator<Item = &'r TrackRows>,
) -> Vec<TrackRows> {
    let day = |(ours, theirs): (&[f32], &[f32])| DIFFERENCES.map(|m| ours[m] - theirs[m]);
    let one = |(ours, theirs): (&TrackRows, &TrackRows)| -> TrackRows {
        let theirs = theirs.chunks_exact(MEASURES.len());
        ours.chunks_exact(MEASURES.len()).zip(theirs).flat_map(day).collect()
    };
    let members: Vec<_> = ours.zip(theirs).collect();
    members.into_par_iter().map(one).collect()
}
