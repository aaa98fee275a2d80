//! Weather so far: the observed days of the run's own years, which every member has in common.

use super::evapotranspiration::wind_factor_2m;
use super::{PlanFault, Record, RecordDay};
use crate::calendar::Day;

/// The observed days from 1 January of a run's first year on, as the record's station would have read
/// them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SoFar {
    /// One entry a day.
    pub(super) days: Vec<RecordDay>,
    /// Where the last of them stands in the record that later days are drawn from, where it does.
    pub(super) last_in_record: Option<usize>,
}

impl SoFar {
    /// Takes the days of a run from an observed record, which may be the one that is drawn from.
    ///
    /// # Errors
    /// The observed days begin after 1 January of the run's first year, or end before it.
    pub fn new(record: &Record, observed: &Record, first_year: i32) -> Result<SoFar, PlanFault> {
        let last = observed.first.plus(observed.days.len() as i32 - 1);
        let beyond =
            |year| PlanFault::new(format!("year {year} is not in the calendar"), "choose another");
        let start = Day::from_ymd(first_year, 1, 1).ok_or_else(|| beyond(first_year))?;
        if last < start {
            return Err(PlanFault::new(
                format!("the weather so far ends on {last}, before the run begins on {start}"),
                "give days of the run's first year, or begin the run in an earlier year",
            ));
        }
        if observed.first > start {
            return Err(PlanFault::new(
                format!(
                    "the weather so far begins on {}, and the run begins on {start}",
                    observed.first
                ),
                "take the days from 1 January on, from a station nearby where yours began later",
            ));
        }
        let from = (start.0 - observed.first.0) as usize;
        // Wind is told at the height of the record's anemometer.
        let wind = wind_factor_2m(observed.anemometer_m) / wind_factor_2m(record.anemometer_m);
        let days = observed.days[from..]
            .iter()
            .map(|day| RecordDay { wind_m_s: day.wind_m_s.map(|w| w * wind), ..*day })
            .collect();
        let at = i64::from(last.0) - i64::from(record.first.0);
        let last_in_record = usize::try_from(at).ok().filter(|at| *at < record.days.len());
        Ok(SoFar { days, last_in_record })
    }

    /// Number of observed days.
    pub fn days(&self) -> usize {
        self.days.len()
    }
}
