//! From a record to the weather of a simulated run.

use rand::Rng;

use super::blocks::{Blocks, LEAST_DAYS, pick};
use super::years::{YearSpan, append_year, complete_years, is_leap};
use super::{Record, RecordDay, SoFar, WeatherPlan};

/// Most calendar years in one run.
const MOST_SEASONS: u32 = 200;

/// Why a record cannot serve a plan, and what to do instead.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}; {help}")]
pub struct PlanFault {
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub help: String,
}

impl PlanFault {
    pub(super) fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        PlanFault { message: message.into(), help: help.into() }
    }
}

/// A record made ready to draw many paths from: build it once, draw once per member.
#[derive(Clone, Debug)]
pub struct Resampler {
    name: String,
    days: Vec<RecordDay>,
    years: Vec<YearSpan>,
    blocks: Option<Blocks>,
}

impl Resampler {
    /// Works out what drawing needs: complete years, what is usual on each day of the year,
    /// standardized anomalies, and the days near each date.
    ///
    /// # Errors
    /// The record is neither as long as two years nor holds one complete calendar year.
    pub fn new(record: &Record) -> Result<Resampler, PlanFault> {
        let years = complete_years(record);
        let blocks = Blocks::new(record);
        if years.is_empty() && blocks.is_none() {
            return Err(PlanFault::new(
                format!(
                    "the record of {} has {} days and no complete calendar year",
                    record.name,
                    record.days.len()
                ),
                "use a longer record: one year to replay it, ten or more to draw seasons from it",
            ));
        }
        Ok(Resampler { name: record.name.clone(), days: record.days.clone(), years, blocks })
    }

    /// Number of complete calendar years behind the drawn weather. Below 8 the spread from year to
    /// year is not known.
    pub fn record_years(&self) -> usize {
        self.years.len()
    }

    /// The weather of `seasons` calendar years from `first_year` on, one entry a day.
    ///
    /// Leap years follow the simulated calendar. Replayed and whole years: a source without
    /// 29 February gives its 28 February twice, a source's 29 February is left out of a common year.
    /// Matched blocks: days simply follow one another. Draws are uniform values only, so the same
    /// generator gives the same path everywhere up to the last bits of `ln`.
    ///
    /// # Errors
    /// A replay that does not fit inside the record; whole years without a complete one; matched
    /// blocks from less than two years; no seasons or more than 200.
    pub fn draw<R: Rng + ?Sized>(
        &self,
        plan: WeatherPlan,
        first_year: i32,
        seasons: u32,
        rng: &mut R,
    ) -> Result<Vec<RecordDay>, PlanFault> {
        self.draw_after(plan, first_year, seasons, &SoFar::default(), rng)
    }

    /// As [`Self::draw`], beginning with days that were observed. Matched blocks follow the last of
    /// them as at any join; replayed and whole years go on at the next day of the calendar.
    ///
    /// # Errors
    /// Those of [`Self::draw`].
    pub fn draw_after<R: Rng + ?Sized>(
        &self,
        plan: WeatherPlan,
        first_year: i32,
        seasons: u32,
        so_far: &SoFar,
        rng: &mut R,
    ) -> Result<Vec<RecordDay>, PlanFault> {
        if !(1..=MOST_SEASONS).contains(&seasons) {
            return Err(PlanFault::new(
                format!("a run of {seasons} seasons cannot be drawn"),
                format!("choose 1 to {MOST_SEASONS}"),
            ));
        }
        let after = |mut path: Vec<RecordDay>| {
            path.iter_mut().zip(&so_far.days).for_each(|(day, observed)| *day = *observed);
            path
        };
        match plan {
            WeatherPlan::Replay { from_year } => {
                self.replay(from_year, first_year, seasons).map(after)
            }
            WeatherPlan::WholeYears => {
                if self.years.is_empty() {
                    return Err(PlanFault::new(
                        format!("the record of {} has no complete calendar year", self.name),
                        "use a record with at least one year from January to December, better ten",
                    ));
                }
                let mut choose = |_| self.years[pick(self.years.len(), rng)];
                Ok(after(self.join_years(first_year, (0..seasons).map(&mut choose))))
            }
            WeatherPlan::MatchedBlocks => match &self.blocks {
                Some(blocks) => Ok(blocks.draw(first_year, seasons, so_far, rng)),
                None => Err(PlanFault::new(
                    format!(
                        "the record of {} has {} days, and matched blocks need {LEAST_DAYS}",
                        self.name,
                        self.days.len()
                    ),
                    "use a longer record (ten years or more), or replay this one",
                )),
            },
        }
    }

    fn replay(
        &self,
        from_year: i32,
        first_year: i32,
        seasons: u32,
    ) -> Result<Vec<RecordDay>, PlanFault> {
        let to_year = i64::from(from_year) + i64::from(seasons) - 1;
        let fits = |span: &YearSpan| (i64::from(from_year)..=to_year).contains(&span.year.into());
        let spans: Vec<YearSpan> = self.years.iter().copied().filter(fits).collect();
        if spans.len() == seasons as usize {
            return Ok(self.join_years(first_year, spans.into_iter()));
        }
        let wanted =
            if seasons == 1 { from_year.to_string() } else { format!("{from_year} to {to_year}") };
        let has = match (self.years.first(), self.years.last()) {
            (Some(a), Some(b)) if a == b => format!("only {} is complete", a.year),
            (Some(a), Some(b)) => format!("its complete years are {} to {}", a.year, b.year),
            _ => "it has no complete year".to_owned(),
        };
        Err(PlanFault::new(
            format!("the record of {} does not hold {wanted}: {has}", self.name),
            "begin the replay in another year, play fewer seasons, or draw years instead",
        ))
    }

    fn join_years(&self, first_year: i32, spans: impl Iterator<Item = YearSpan>) -> Vec<RecordDay> {
        let mut path = vec![];
        for (i, span) in (0..).zip(spans) {
            append_year(&mut path, &self.days, span, is_leap(first_year.saturating_add(i)));
        }
        path
    }
}

/// As [`Resampler::draw`], for a single path.
///
/// # Errors
/// Those of [`Resampler::new`] and [`Resampler::draw`].
pub fn draw_days(
    record: &Record,
    plan: WeatherPlan,
    first_year: i32,
    seasons: u32,
    rng: &mut impl Rng,
) -> Result<Vec<RecordDay>, PlanFault> {
    Resampler::new(record)?.draw(plan, first_year, seasons, rng)
}
