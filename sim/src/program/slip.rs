//! Slips: what people get wrong. One draw a member, practice and week.

use crate::calendar::Day;
use crate::draw::{Purpose, Streams, cut_normal, exponential, uniform};
use crate::scenario::Slips;

/// One week's luck of one practice. All visits of the practice that fall due in the week share
/// it: a miss means that nobody came that week.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slip {
    /// The visit does not happen.
    pub missed: bool,
    /// It comes so many days late, 0 or more.
    pub late_days: i32,
    /// What is laid, as a factor of what was meant; its mean over members is 1 (up to the cut).
    pub rate_factor: f64,
}

impl Slip {
    /// The slip of a practice ([`crate::draw::key`]) in a week ([`week_of`]).
    ///
    /// Keyed by seed, member, practice and week alone: a practice with the same key in another
    /// program has the same slip, and no other practice can shift it.
    pub fn draw(slips: &Slips, streams: &Streams, member: u32, practice: u64, week: i32) -> Slip {
        let rng = &mut streams.keyed(member, Purpose::Slips, practice, week);
        // All are drawn whatever comes of them, so that a changed chance shifts nothing else.
        let (miss, late) = (uniform(rng), uniform(rng));
        let wait = exponential(slips.late_mean_days, rng).ceil();
        let z = cut_normal(rng);
        let late_days = if late < slips.late { wait.clamp(1.0, 366.0) as i32 } else { 0 };
        Slip { missed: miss < slips.missed, late_days, rate_factor: rate_factor(slips.rate_cv, z) }
    }
}

/// A log-normal factor with mean 1 and coefficient of variation `cv`:
/// `exp(s z - s^2 / 2)` with `s^2 = ln(1 + cv^2)`.
fn rate_factor(cv: f64, z: f64) -> f64 {
    let variance = (cv * cv).ln_1p();
    (variance.sqrt() * z - 0.5 * variance).exp()
}

/// Number of the week, Monday to Sunday, counted on through the years.
pub fn week_of(day: Day) -> i32 {
    // Day 0, 1 January 1970, was a Thursday.
    (day.0 + 3).div_euclid(7)
}
