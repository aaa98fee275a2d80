//! A run in parts: what is kept of a stretch of its members, and how stretches are put together.
//!
//! Everything kept is a list in the members' order, an integer count between edges that the first members
//! of the whole run set, or an integer sum: parts put together in order are, to the bit, the whole.

use std::ops::Range;

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::bands::{bands, bands_of};
use super::bins::Bins;
use super::condition::Conditioning;
use super::gather::differences;
use super::run::{KEPT_LOGS, calendar, held, threads};
use super::spread::Shares;
use super::world::seen;
use super::{
    Account, DIFFERENCES, Difference, MEASURES, ProgramResults, Results, RunFault, RunPlan,
    TrackRows, contrasts,
};
use crate::calendar::Day;
use crate::outcomes::{Almanac, OUTCOMES};
use crate::parameters::{ACTIVES, Catalogue, POSTS};
use crate::season::looks;
use crate::work::{Act, Setback, WorkEntry};

/// A stretch of the members of a run, played.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Part {
    /// The members, by number from 0.
    pub(super) members: Range<u32>,
    /// Outcomes of member 0, one entry a program. Every part plays it, so that parts of different
    /// builds are told apart.
    pub(super) first: Vec<Vec<f64>>,
    pub(super) columns: Vec<Column>,
    /// One a pair of programs, as `contrasts::pairs` has them, in a run too large to hold.
    pub(super) pairs: Vec<Option<Bins>>,
    pub(super) chosen: Option<Choice>,
    /// In the part that has the first members.
    pub(super) spread: Vec<Vec<Shares>>,
}

/// One program's share of the members.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
pub(super) struct Column {
    pub(super) rows: Vec<TrackRows>,
    pub(super) bins: Option<Bins>,
    pub(super) work: Vec<Vec<WorkEntry>>,
    pub(super) setbacks: Vec<Vec<Setback>>,
    pub(super) looks: Vec<Vec<f32>>,
    pub(super) ledgers: Vec<[Account; 3]>,
    /// `outcomes[outcome][member]`.
    pub(super) outcomes: Vec<Vec<f64>>,
}

/// How the members of a run were chosen; what was seen is the scenario's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Choice {
    tried: u32,
    effective: f64,
    unlike: Vec<usize>,
    until: Option<Day>,
}

/// Why parts cannot be put together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PartFault {
    /// It is not a part of this run.
    #[error("it does not hold what a part of this run holds")]
    Shape,
    /// Its members are not those that come next.
    #[error("its futures do not follow on those before it")]
    Order,
    /// The same future came out otherwise.
    #[error("the same future came out otherwise there: another build, or another kind of machine")]
    Build,
    /// Members are missing at the end.
    #[error("futures are missing")]
    Missing,
    /// Nobody to sum them up.
    #[error("could not start the threads")]
    Threads,
}

impl From<&Conditioning> for Choice {
    fn from(about: &Conditioning) -> Choice {
        let Conditioning { tried, effective, ref unlike, until, .. } = *about;
        Choice { tried, effective, unlike: unlike.clone(), until }
    }
}

impl Part {
    /// Numbers of its members, from 0.
    pub fn members(&self) -> Range<u32> {
        self.members.clone()
    }

    /// Whether it holds what a part of this plan does, so that nothing read from a file is taken on
    /// trust.
    ///
    /// # Errors
    /// [`PartFault::Shape`].
    pub fn fits(&self, plan: &RunPlan, catalogue: &Catalogue) -> Result<(), PartFault> {
        let Ok(almanac) = calendar(plan) else { return Err(PartFault::Shape) };
        let (days, programs) = (almanac.days(), &plan.scenario.programs);
        let exact = held(plan, days);
        let members = self.members.len();
        let logs = if exact { members } else { logs_of(&self.members) };
        let pairs = contrasts::pairs(programs);
        let shares = |program: &Vec<Shares>| program.len() == OUTCOMES.len();
        let bins = |bins: &Option<Bins>, width: usize| match bins {
            Some(bins) => !exact && bins.fits(members, days, width),
            None => exact,
        };
        let whole = self.members.start < self.members.end
            && self.members.end <= plan.members
            && self.first.len() == programs.len()
            && self.first.iter().all(|outcomes| outcomes.len() == OUTCOMES.len())
            && self.columns.len() == programs.len()
            && self.pairs.len() == pairs.len()
            && (exact || self.pairs.iter().all(|p| bins(p, DIFFERENCES.len())))
            && (self.spread.is_empty() || self.spread.len() == programs.len())
            && self.spread.iter().all(shares);
        // A setback may reach back over the turn of the year.
        let (first, last) = (almanac.first().plus(-366), almanac.last().plus(366));
        let near = |day: &Day| (first..=last).contains(day);
        let column =
            |(column, practices): (&Column, usize)| {
                let rows = if exact { members } else { 0 };
                column.rows.len() == rows
                    && column.rows.iter().all(|row| row.len() == days * MEASURES.len())
                    && bins(&column.bins, MEASURES.len())
                    && column.work.len() == logs
                    && column.setbacks.len() == logs
                    && column.work.iter().flatten().all(|entry| sound(entry, practices, &almanac))
                    && column.setbacks.iter().flatten().all(|s| {
                        usize::from(s.practice) < practices && [s.due, s.day].iter().all(near)
                    })
                    && column.looks.len() == looks(plan.scenario, &almanac).len()
                    && column.looks.iter().all(|values| values.len() == members)
                    && column.ledgers.len() == members
                    && column.outcomes.len() == OUTCOMES.len()
                    && column.outcomes.iter().all(|values| values.len() == members)
            };
        let practices = programs.iter().map(|p| p.practices.len());
        let told = seen(plan.scenario, &catalogue.central().seen).len();
        let chosen = match &self.chosen {
            Some(choice) => choice.unlike.iter().all(|at| *at < told),
            None => told == 0,
        };
        let fits = whole && chosen && self.columns.iter().zip(practices).all(column);
        if fits { Ok(()) } else { Err(PartFault::Shape) }
    }

    /// Makes room for a run's members, `members` in all, so that the parts behind this one are added
    /// without holding anything twice. Where there is no such room, nothing changes.
    #[must_use]
    pub fn expecting(mut self, members: u32) -> Part {
        fn room<T>(all: &mut Vec<T>, members: usize) {
            let _ = all.try_reserve_exact(members.saturating_sub(all.len()));
        }
        for column in &mut self.columns {
            room(&mut column.ledgers, members as usize);
            column.looks.iter_mut().for_each(|values| room(values, members as usize));
            column.outcomes.iter_mut().for_each(|values| room(values, members as usize));
        }
        self
    }

    /// Puts the part behind this one, whose members come next; both fit the same plan.
    ///
    /// # Errors
    /// [`PartFault`]; the part is of no use then.
    pub fn append(&mut self, next: Part) -> Result<(), PartFault> {
        if next.members.start != self.members.end {
            return Err(PartFault::Order);
        }
        if !same(&self.first, &next.first) || self.chosen != next.chosen {
            return Err(PartFault::Build);
        }
        self.members.end = next.members.end;
        for (ours, theirs) in self.columns.iter_mut().zip(next.columns) {
            ours.append(theirs)?;
        }
        self.pairs.iter_mut().zip(next.pairs).try_for_each(|(ours, theirs)| join(ours, theirs))
    }

    /// Bands, contrasts and all else of a plan whose members are all here; the part fits the plan.
    ///
    /// # Errors
    /// [`PartFault::Missing`] where some are not, [`PartFault::Threads`] where no thread could be
    /// started.
    pub fn results(self, plan: &RunPlan, catalogue: &Catalogue) -> Result<Results, PartFault> {
        if self.members != (0..plan.members) {
            return Err(PartFault::Missing);
        }
        let (scenario, chosen) = (plan.scenario, self.chosen.clone());
        let almanac = Almanac::of_years(scenario.first_year, scenario.seasons);
        let mut results = self.summed_up(plan, &almanac).map_err(|_| PartFault::Threads)?;
        results.conditioning = chosen.map(|Choice { tried, effective, unlike, until }| {
            let seen = seen(scenario, &catalogue.central().seen);
            Conditioning { tried, effective, seen, unlike, until }
        });
        Ok(results)
    }

    /// Bands and contrasts of the members at hand, on the threads that the plan asks for.
    pub(super) fn summed_up(self, plan: &RunPlan, almanac: &Almanac) -> Result<Results, RunFault> {
        Ok(threads(plan)?.install(|| self.summed(plan, almanac)))
    }

    fn summed(self, plan: &RunPlan, almanac: &Almanac) -> Results {
        let Part { members, columns, pairs, spread, .. } = self;
        let (days, programs) = (almanac.days(), &plan.scenario.programs);
        let differences = contrasts::pairs(programs)
            .into_iter()
            .zip(&pairs)
            .flat_map(|((program, baseline), bins)| {
                let bands = match bins {
                    Some(bins) => bins.bands(),
                    None => {
                        let rows = differences(&columns, program, baseline);
                        bands_of(&rows, days, DIFFERENCES.len())
                    }
                };
                let one = move |(measure, band)| Difference { program, baseline, measure, band };
                DIFFERENCES.into_iter().zip(bands).map(one)
            })
            .collect();
        let results: Vec<ProgramResults> = programs
            .par_iter()
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
            members: members.len() as u32,
            seed: plan.seed,
            record_years: plan.record.years(),
            looks: looks(plan.scenario, almanac),
            contrasts: contrasts::contrasts(programs, &results),
            differences,
            programs: results,
            spread,
            conditioning: None,
        }
    }
}

impl Column {
    fn append(&mut self, next: Column) -> Result<(), PartFault> {
        self.rows.extend(next.rows);
        self.work.extend(next.work);
        self.setbacks.extend(next.setbacks);
        self.ledgers.extend(next.ledgers);
        self.looks.iter_mut().zip(next.looks).for_each(|(all, more)| all.extend(more));
        self.outcomes.iter_mut().zip(next.outcomes).for_each(|(all, more)| all.extend(more));
        join(&mut self.bins, next.bins)
    }
}

/// The members of a run's part, by number from 0: part `number` (1..=`of`) of `of` about equal ones.
pub fn stretch(members: u32, number: u32, of: u32) -> Range<u32> {
    let of = u64::from(of.max(1));
    let end = |number: u64| (u64::from(members) * number.min(of) / of) as u32;
    end(u64::from(number).saturating_sub(1))..end(u64::from(number))
}

/// How many of these members have their work log kept in a run too large to hold.
pub(super) fn logs_of(members: &Range<u32>) -> usize {
    let most = KEPT_LOGS as u32;
    (members.start.min(most)..members.end.min(most)).len()
}

/// What a run that could not be put together says of itself: nothing of the kind can happen to parts
/// that were never in a file.
impl From<PartFault> for RunFault {
    fn from(fault: PartFault) -> RunFault {
        match fault {
            PartFault::Threads => RunFault::Threads("none for the bands".into()),
            _ => RunFault::Member { member: 0, reason: fault.to_string() },
        }
    }
}

fn join(ours: &mut Option<Bins>, theirs: Option<Bins>) -> Result<(), PartFault> {
    let alike = match (ours, theirs) {
        (Some(ours), Some(theirs)) => ours.join(&theirs),
        (None, None) => true,
        _ => false,
    };
    if alike { Ok(()) } else { Err(PartFault::Build) }
}

/// To the bit, values that are no numbers too.
fn same(ours: &[Vec<f64>], theirs: &[Vec<f64>]) -> bool {
    let bits = |all: &[Vec<f64>]| all.iter().flatten().map(|x| x.to_bits()).collect::<Vec<_>>();
    bits(ours) == bits(theirs)
}

/// Whether an entry of a work log names things that there are.
fn sound(entry: &WorkEntry, practices: usize, almanac: &Almanac) -> bool {
    let known = match entry.act {
        Act::LayBarrier { active, .. } => usize::from(active.0) < ACTIVES.len(),
        Act::Spray { post, .. } => usize::from(post.0) < POSTS.len(),
        _ => true,
    };
    known
        && usize::from(entry.practice) < practices
        && (almanac.first()..=almanac.last()).contains(&entry.day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_meet_and_cover_all() {
        for (members, of) in [(1000, 7), (5, 5), (100_000, 64), (u32::MAX, 3)] {
            let mut end = 0;
            for number in 1..=of {
                let part = stretch(members, number, of);
                assert!(part.start == end && part.end > part.start, "{number} of {of}");
                end = part.end;
            }
            assert_eq!(end, members);
        }
    }
}
