//! What a stretch of whole years is like: the statistics that the gates compare.

use std::f64::consts::PI;

use crate::calendar::Day;
use crate::weather::{RecordDay, days_in_year};

/// A day counts as wet from this on, mm (0.01 inch, the least that US gauges tell).
pub const WET_MM: f64 = 0.254;
/// A frost: 32.5 F. US records are in whole degrees F, and half of these stations' last frosts stand
/// at 32 F sharp; between two readings a shift of some hundredths cannot undo a frost.
const FROST_C: f64 = 0.28;
/// A dry spell is broken by this much in a day, mm.
const DRY_BELOW_MM: f64 = 1.0;

/// A day's place in its years.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Years since the first.
    pub year: usize,
    /// Month, from 0.
    pub month: usize,
    /// Day of the year, from 1.
    pub day_of_year: u16,
}

/// The places of so many calendar years of days, as far as the calendar goes.
pub fn places(first_year: i32, years: usize) -> Vec<Place> {
    (0..years)
        .map_while(|year| {
            let calendar_year = first_year.checked_add(i32::try_from(year).ok()?)?;
            Some((year, calendar_year, Day::from_ymd(calendar_year, 1, 1)?))
        })
        .flat_map(|(year, calendar_year, first)| {
            (1..=days_in_year(calendar_year)).map(move |day_of_year| {
                let (_, month, _) = first.plus(i32::from(day_of_year) - 1).ymd();
                Place { year, month: usize::from(month) - 1, day_of_year }
            })
        })
        .collect()
}

/// Statistics of some years of days.
#[derive(Clone, Debug, PartialEq)]
pub struct Statistics {
    /// Mean temperature by month, C.
    pub t_month_c: [f64; 12],
    /// Mean precipitation by month, mm.
    pub p_month_mm: [f64; 12],
    /// Mean number of wet days by month.
    pub wet_days: [f64; 12],
    /// Mean precipitation of a year, mm.
    pub p_year_mm: f64,
    /// Standard deviation of the years' precipitation, mm.
    pub p_year_sd_mm: f64,
    /// Standard deviation of a month's precipitation between years, root mean square over months, mm.
    pub p_month_sd_mm: f64,
    /// Standard deviation of the daily high within months, root mean square over months, C.
    pub t_max_sd_c: f64,
    /// Correlation of the mean temperature's anomaly with that of the day before.
    pub lag_1: f64,
    /// Longest dry spell from April to October, mean over years, days.
    pub dry_spell_days: f64,
    /// Day of the year of the last frost (a low of at most 0.28 C) before July, mean over years that have one.
    pub last_frost_day: f64,
    /// The same with frosts at or below 0 C.
    pub last_frost_sharp_day: f64,
    /// All wet days' precipitation, mm.
    pub wet_mm: Vec<f64>,
    /// Mean temperature of each year's months, C.
    pub t_by_year_c: Vec<[f64; 12]>,
    /// Precipitation of each year's months, mm.
    pub p_by_year_mm: Vec<[f64; 12]>,
}

impl Statistics {
    /// Works them out; `days` are whole calendar years with these places.
    pub fn of(days: &[RecordDay], places: &[Place]) -> Statistics {
        let years = places.last().map_or(0, |p| p.year + 1);
        let mut totals = vec![[0.0; 12]; years];
        let mut t_by_year = vec![[Mean::default(); 12]; years];
        let mut t_month = [Mean::default(); 12];
        let mut t_max = [Mean::default(); 12];
        let mut wet_days = [0.0; 12];
        let mut wet_mm = vec![];
        for (day, place) in days.iter().zip(places) {
            totals[place.year][place.month] += day.precip_mm;
            let t_mean = 0.5 * (day.t_min_c + day.t_max_c);
            t_month[place.month].add(t_mean);
            t_by_year[place.year][place.month].add(t_mean);
            t_max[place.month].add(day.t_max_c);
            if day.precip_mm >= WET_MM {
                wet_days[place.month] += 1.0 / years as f64;
                wet_mm.push(day.precip_mm);
            }
        }
        let by_month = |month: usize| totals.iter().map(move |year| year[month]);
        let p_year = totals.iter().map(|year| year.iter().sum::<f64>()).collect::<Mean>();
        let monthly: [Mean; 12] = std::array::from_fn(|m| by_month(m).collect());
        Statistics {
            t_month_c: t_month.map(|m| m.mean()),
            p_month_mm: monthly.map(|m| m.mean()),
            wet_days,
            p_year_mm: p_year.mean(),
            p_year_sd_mm: p_year.variance().sqrt(),
            p_month_sd_mm: root_mean(&monthly.map(|m| m.variance())),
            t_max_sd_c: root_mean(&t_max.map(|m| m.variance())),
            lag_1: lag_1(days, places),
            dry_spell_days: dry_spell(days, places, years),
            last_frost_day: last_frost(days, places, years, FROST_C),
            last_frost_sharp_day: last_frost(days, places, years, 0.0),
            wet_mm,
            t_by_year_c: t_by_year.iter().map(|year| year.map(|m| m.mean())).collect(),
            p_by_year_mm: totals,
        }
    }
}

/// Mean and variance of what was added.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Mean {
    n: f64,
    sum: f64,
    squares: f64,
}

impl Mean {
    /// Takes a value in.
    pub fn add(&mut self, value: f64) {
        self.n += 1.0;
        self.sum += value;
        self.squares += value * value;
    }

    /// The mean; not a number where nothing was added.
    pub fn mean(&self) -> f64 {
        self.sum / self.n
    }

    /// The variance, with n - 1.
    pub fn variance(&self) -> f64 {
        ((self.squares - self.sum * self.sum / self.n) / (self.n - 1.0)).max(0.0)
    }
}

impl FromIterator<f64> for Mean {
    fn from_iter<I: IntoIterator<Item = f64>>(values: I) -> Mean {
        let mut mean = Mean::default();
        values.into_iter().for_each(|value| mean.add(value));
        mean
    }
}

fn root_mean(variances: &[f64]) -> f64 {
    (variances.iter().sum::<f64>() / variances.len() as f64).sqrt()
}

/// The anomaly is taken from the mean and three harmonics of the year, fitted to the same days.
fn lag_1(days: &[RecordDay], places: &[Place]) -> f64 {
    let n = days.len() as f64;
    let mut anomaly: Vec<f64> = days.iter().map(|d| 0.5 * (d.t_min_c + d.t_max_c)).collect();
    let mean = anomaly.iter().sum::<f64>() / n;
    anomaly.iter_mut().for_each(|t| *t -= mean);
    for harmonic in 1..=3 {
        let waves: Vec<(f64, f64)> = places
            .iter()
            .map(|p| {
                let angle = 2.0 * PI * f64::from(harmonic) * f64::from(p.day_of_year) / 365.25;
                angle.sin_cos()
            })
            .collect();
        let (mut a, mut b) = (0.0, 0.0);
        for (t, (sin, cos)) in anomaly.iter().zip(&waves) {
            a += t * sin * 2.0 / n;
            b += t * cos * 2.0 / n;
        }
        for (t, (sin, cos)) in anomaly.iter_mut().zip(&waves) {
            *t -= a * sin + b * cos;
        }
    }
    let products: f64 = anomaly.windows(2).map(|w| w[0] * w[1]).sum();
    products / anomaly.iter().map(|x| x * x).sum::<f64>()
}

fn dry_spell(days: &[RecordDay], places: &[Place], years: usize) -> f64 {
    let mut longest = vec![0.0_f64; years];
    let mut run = 0.0;
    for (day, place) in days.iter().zip(places) {
        let in_season = (3..10).contains(&place.month);
        run = if in_season && day.precip_mm < DRY_BELOW_MM { run + 1.0 } else { 0.0 };
        longest[place.year] = longest[place.year].max(run);
    }
    longest.into_iter().collect::<Mean>().mean()
}

fn last_frost(days: &[RecordDay], places: &[Place], years: usize, frost_c: f64) -> f64 {
    let mut last = vec![None; years];
    for (day, place) in days.iter().zip(places) {
        if place.month < 6 && day.t_min_c <= frost_c {
            last[place.year] = Some(f64::from(place.day_of_year));
        }
    }
    last.into_iter().flatten().collect::<Mean>().mean()
}
