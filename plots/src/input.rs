//! What goes into a picture: plain data, told apart from how it was made.

use jiff::civil::Date;

use crate::error::PlotError;

/// The words of a picture.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Caption {
    /// The one message, as a sentence. Wrapped to at most four lines, then cut with an ellipsis.
    pub title: String,
    /// A quieter second line: what is shown, where.
    pub subtitle: Option<String>,
    /// What a person who cannot see the picture should hear; becomes `<desc>`.
    pub alt: String,
    /// Small print at the foot: the number of futures, the years of record.
    pub note: Option<String>,
}

/// A run of days, one entry of a daily series each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dates {
    /// The first day.
    pub first: Date,
    /// Number of days, 1 or more.
    pub days: usize,
}

impl Dates {
    /// The date of day `index`, counted from 0; `None` outside the calendar.
    pub fn date(&self, index: usize) -> Option<Date> {
        let days = i64::try_from(index).ok()?;
        self.first.checked_add(jiff::Span::new().try_days(days).ok()?).ok()
    }

    /// Fails where there are no days or they leave the calendar.
    pub(crate) fn check(&self) -> Result<(), PlotError> {
        if self.days == 0 {
            return Err(PlotError::Empty { what: "days" });
        }
        match self.date(self.days) {
            Some(_) => Ok(()),
            None => Err(PlotError::Dates { first: self.first, days: self.days }),
        }
    }
}

/// Quantiles of one quantity over the futures, one entry a day each. `NaN` leaves a gap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BandSeries {
    /// 5 % quantile.
    pub p05: Vec<f64>,
    /// 25 % quantile.
    pub p25: Vec<f64>,
    /// Median.
    pub p50: Vec<f64>,
    /// 75 % quantile.
    pub p75: Vec<f64>,
    /// 95 % quantile.
    pub p95: Vec<f64>,
}

impl BandSeries {
    /// Fails unless all five quantiles have `days` entries. `what` names the series.
    pub(crate) fn check(&self, days: usize, what: &str) -> Result<(), PlotError> {
        for part in [&self.p05, &self.p25, &self.p50, &self.p75, &self.p95] {
            check_length(part, days, what)?;
        }
        Ok(())
    }

    /// All values.
    pub(crate) fn values(&self) -> impl Iterator<Item = f64> + '_ {
        [&self.p05, &self.p25, &self.p50, &self.p75, &self.p95].into_iter().flatten().copied()
    }
}

/// Fails unless `values` has `expected` entries.
pub(crate) fn check_length(values: &[f64], expected: usize, what: &str) -> Result<(), PlotError> {
    if values.len() == expected {
        return Ok(());
    }
    Err(PlotError::Length { what: what.to_owned(), expected, found: values.len() })
}

/// How a program is named. Its colour and line style follow from its place in the list, so that
/// a program looks the same in every picture that lists the programs in the same order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProgramStyle {
    /// Its name, for keys and row heads.
    pub name: String,
    /// A shorter name for the ends of lines (best under 30 letters); the name where `None`.
    pub short: Option<String>,
    /// Its place in the scenario's list of programs: chooses colour and line style.
    pub place: usize,
}

impl ProgramStyle {
    /// The name for tight places.
    pub(crate) fn tight(&self) -> &str {
        self.short.as_deref().unwrap_or(&self.name)
    }
}

/// A value worth a line of its own, such as 6 on the quality scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where it lies, in the axis's unit.
    pub value: f64,
    /// What it means: "6 = acceptable".
    pub label: String,
}
