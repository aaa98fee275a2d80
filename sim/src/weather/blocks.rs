//! The matched-block bootstrap: a station's own days in blocks that are joined where the weather
//! matches.
//!
//! Blocks have geometric lengths with a mean of 60 days. At a join a year is drawn evenly, and in it
//! the days within 7 calendar days of today are ranked by their likeness to today in standardized
//! anomalies of low and high temperature, sqrt(precipitation) and whether it is wet; of the
//! k = sqrt(n) nearest the j-th is taken with probability (1/j)/sum, and its successor is tomorrow.
//! Nearest neighbours: Rajagopalan & Lall 1999 (Water Resources Research 35:3089), Buishand &
//! Brandsma 2001 (WRR 37:2761); the year first is ours: neighbours sought in all years at once pass
//! over the extraordinary ones (on four years at JFK December came out 0.6 C too cold, and on 15 years
//! at Central Park the standard deviation of annual precipitation was 0.85 of the record's, against
//! 0.93 this way). The end of a record is joined to its beginning where the calendar allows.
//!
//! Records under ten years have too few days near each date: their temperatures are shifted by the
//! difference between the usual at the target date and at the source's, and at joins the date counts
//! as well as the weather. Days follow one another through 29 February, so that a block may run a day
//! ahead of or behind the calendar after it; the next join mends that.
//!
//! After observed days of the run's own year the first drawn day follows the last observed one as at
//! any other join.

use rand::{Rng, RngExt};

use super::climatology::{Course, YEAR};
use super::{Record, RecordDay, SoFar};
use crate::weather::years::{FEB_28, days_in_year, is_leap};

/// Mean length of a block, days.
const MEAN_BLOCK_DAYS: f64 = 60.0;
/// Neighbours lie within so many calendar days of the date.
const WINDOW_DAYS: usize = 7;
/// Records shorter than this have their temperatures shifted, years.
const SHIFT_BELOW_YEARS: f64 = 10.0;
/// In short records so many days off the date weigh as much as one standard deviation.
const DATE_SCALE_DAYS: f64 = 3.0;
/// A day is wet from this on, mm (0.01 inch).
const WET_MM: f64 = 0.254;
/// The shortest record that can be joined with itself, days.
pub(super) const LEAST_DAYS: usize = 730;

/// Low and high anomaly, sqrt(precipitation), wet or dry; all in comparable units.
type Features = [f64; 4];

/// The day that a join starts from.
struct Here {
    features: Features,
    /// Its place in the record, where it is one of its days.
    at: Option<usize>,
    /// Whether a block ran into the end of the record here.
    at_end: bool,
}

/// What is worked out once for a record.
#[derive(Clone, Debug)]
pub(super) struct Blocks {
    days: Vec<RecordDay>,
    /// Each day's index in a year of 365 days.
    calendar: Vec<u16>,
    features: Vec<Features>,
    /// Standard deviation of sqrt(precipitation), sqrt(mm).
    root_sd: f64,
    /// By day of the year: the days of any year within the window that have a successor.
    near: Vec<Vec<u32>>,
    low: Course,
    high: Course,
    /// Whether temperatures are shifted and joins mind the date: for short records.
    shifts: bool,
}

impl Blocks {
    /// `None` where the record is shorter than two years.
    pub(super) fn new(record: &Record) -> Option<Blocks> {
        let days = record.days.clone();
        if days.len() < LEAST_DAYS {
            return None;
        }
        let (year, _, _) = record.first.ymd();
        let calendar: Vec<u16> = calendar_days(year)
            .skip(usize::from(record.first.day_of_year()) - 1)
            .take(days.len())
            .collect();
        let low = Course::fit(&days, &calendar, |d| d.t_min_c);
        let high = Course::fit(&days, &calendar, |d| d.t_max_c);
        let n = days.len() as f64;
        let root_mean = days.iter().map(|d| d.precip_mm.sqrt()).sum::<f64>() / n;
        let root_variance =
            days.iter().map(|d| (d.precip_mm.sqrt() - root_mean).powi(2)).sum::<f64>() / n;
        let root_sd = root_variance.sqrt().max(0.1);
        let near = near_days(&calendar);
        let shifts = n / 365.25 < SHIFT_BELOW_YEARS;
        let mut blocks =
            Blocks { days, calendar, features: vec![], root_sd, near, low, high, shifts };
        let days = blocks.days.iter().zip(&blocks.calendar);
        blocks.features = days.map(|(day, &c)| blocks.features_of(day, c)).collect();
        Some(blocks)
    }

    fn features_of(&self, day: &RecordDay, calendar: u16) -> Features {
        [
            self.low.anomaly(day.t_min_c, calendar),
            self.high.anomaly(day.t_max_c, calendar),
            day.precip_mm.sqrt() / self.root_sd,
            if day.precip_mm >= WET_MM { 1.0 } else { 0.0 },
        ]
    }

    /// One path of so many calendar years, which begins with the days observed so far.
    pub(super) fn draw<R: Rng + ?Sized>(
        &self,
        first_year: i32,
        seasons: u32,
        so_far: &SoFar,
        rng: &mut R,
    ) -> Vec<RecordDay> {
        let length: usize = (0..seasons as i32)
            .map(|i| usize::from(days_in_year(first_year.saturating_add(i))))
            .sum();
        let mut path = Vec::with_capacity(length);
        let mut scratch = vec![];
        let observed = &so_far.days[..so_far.days.len().min(length)];
        path.extend_from_slice(observed);
        let mut calendar = calendar_days(first_year).take(length);
        let mut at = match observed.last() {
            None => {
                let start = &self.near[0];
                start[pick(start.len(), rng)] as usize
            }
            Some(day) => {
                let today = calendar.nth(observed.len() - 1).unwrap_or(0);
                let features = self.features_of(day, today);
                // At the end of the record the neighbours are those of any day.
                let here = Here { features, at: so_far.last_in_record, at_end: false };
                self.neighbour(&here, today, &mut scratch, rng) + 1
            }
        };
        let mut left = block_length(rng);
        for today in calendar {
            path.push(self.shifted(at, today));
            left -= 1;
            let at_end = at + 1 == self.days.len();
            if left == 0 || at_end {
                let here = Here { features: self.features[at], at: Some(at), at_end };
                at = self.neighbour(&here, today, &mut scratch, rng);
                left = block_length(rng);
            }
            at += 1;
        }
        path
    }

    /// A day of the record as it would be on a day of the year.
    fn shifted(&self, at: usize, today: u16) -> RecordDay {
        let mut day = self.days[at];
        if self.shifts {
            let source = self.calendar[at];
            day.t_min_c += self.low.shift(source, today);
            day.t_max_c = (day.t_max_c + self.high.shift(source, today)).max(day.t_min_c);
        }
        day
    }

    /// A day like this one, near the same date, of another stretch of the record. It always has a
    /// successor.
    fn neighbour<R: Rng + ?Sized>(
        &self,
        here: &Here,
        today: u16,
        scratch: &mut Vec<(f64, u32)>,
        rng: &mut R,
    ) -> usize {
        let near = &self.near[usize::from(today)];
        let beginning = |j: usize| j <= 2 * WINDOW_DAYS;
        let start = near.iter().take_while(|&&j| beginning(j as usize)).count();
        scratch.clear();
        if here.at_end && start > 0 {
            scratch.extend(near[..start].iter().map(|&j| (self.unlike(here, today, j), j)));
        } else {
            // The day's own neighbourhood would only repeat what has just been. Drawing a day draws
            // its year, evenly also where a record's ends cut a window short.
            let apart = |a: usize, b: usize| a.abs_diff(b) > 2 * WINDOW_DAYS;
            let elsewhere = |j: &&u32| here.at.is_none_or(|at| apart(**j as usize, at));
            let others = near.iter().filter(elsewhere).count();
            let drawn = pick(others.max(1), rng);
            let year = near.iter().filter(elsewhere).nth(drawn);
            // Where the day's own neighbourhood is all there is, it has to do.
            let own = near.first().map_or(0, |&j| j as usize);
            let year = year.map_or(here.at.unwrap_or(own), |&j| j as usize);
            scratch.extend(
                near.iter()
                    .filter(|&&j| !apart(j as usize, year))
                    .map(|&j| (self.unlike(here, today, j), j)),
            );
        }
        nearest(scratch, rng)
    }

    /// How unlike a day of the record is to the one at hand: squared distance, with the date in short
    /// records.
    fn unlike(&self, here: &Here, today: u16, other: u32) -> f64 {
        let other = other as usize;
        let weather = distance(&here.features, &self.features[other]);
        if self.shifts {
            let away = days_apart(self.calendar[other], today) / DATE_SCALE_DAYS;
            weather + away * away
        } else {
            weather
        }
    }
}

/// One of the k = sqrt(n) nearest of n days, the j-th nearest with probability (1/j)/sum.
fn nearest<R: Rng + ?Sized>(days: &mut [(f64, u32)], rng: &mut R) -> usize {
    let order = |a: &(f64, u32), b: &(f64, u32)| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1));
    let k = ((days.len() as f64).sqrt().round() as usize).clamp(1, days.len());
    if k < days.len() {
        days.select_nth_unstable_by(k - 1, order);
    }
    days[..k].sort_unstable_by(order);
    let total: f64 = (1..=k).map(|j| 1.0 / j as f64).sum();
    let mut mark = rng.random::<f64>() * total;
    for (j, &(_, day)) in (1..).zip(&days[..k]) {
        mark -= 1.0 / f64::from(j);
        if mark < 0.0 {
            return day as usize;
        }
    }
    days[k - 1].1 as usize
}

/// Days between two days of the year, the short way round.
fn days_apart(a: u16, b: u16) -> f64 {
    let straight = usize::from(a.abs_diff(b));
    straight.min(YEAR - straight) as f64
}

/// Squared distance of two days.
fn distance(a: &Features, b: &Features) -> f64 {
    a.iter().zip(b).map(|(x, y)| (x - y) * (x - y)).sum()
}

/// Length of a block, days: geometric with the mean stated above, at least 1.
fn block_length<R: Rng + ?Sized>(rng: &mut R) -> u32 {
    let uniform: f64 = 1.0 - rng.random::<f64>();
    // At most 2200 days, since the least uniform value above 0 is 2^-53.
    1 + (uniform.ln() / (1.0 - 1.0 / MEAN_BLOCK_DAYS).ln()).floor() as u32
}

/// A uniform index below `n`, which is at least 1.
pub(super) fn pick<R: Rng + ?Sized>(n: usize, rng: &mut R) -> usize {
    ((rng.random::<f64>() * n as f64) as usize).min(n - 1)
}

/// Days of the year from 1 January of a year on, in years of 365 days: 29 February counts as 28
/// February.
fn calendar_days(first_year: i32) -> impl Iterator<Item = u16> {
    (0..).flat_map(move |i: i32| {
        let leap = is_leap(first_year.saturating_add(i));
        (0..365 + usize::from(leap))
            .map(move |d| if leap && d > FEB_28 { d as u16 - 1 } else { d as u16 })
    })
}

/// For each day of the year, the days of the record within the window around it, but not the last
/// one, which has no successor.
fn near_days(calendar: &[u16]) -> Vec<Vec<u32>> {
    let mut near = vec![vec![]; YEAR];
    for (j, &c) in calendar[..calendar.len() - 1].iter().enumerate() {
        for step in 0..=2 * WINDOW_DAYS {
            near[(usize::from(c) + YEAR + step - WINDOW_DAYS) % YEAR].push(j as u32);
        }
    }
    near
}
