//! Odds in plain words: natural frequencies, never finer than the ensemble supports.

use statrs::distribution::{Beta, ContinuousCDF};

/// So many of so many simulated seasons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Odds {
    /// Members in which it happened, at most `of`.
    pub hits: u32,
    /// Members.
    pub of: u32,
}

/// The finest denominators that odds are told in, the finest first.
const DENOMINATORS: [u32; 3] = [20, 10, 5];

/// Confidence of the intervals.
const CONFIDENCE: f64 = 0.95;

impl Odds {
    /// Counts the members for which something holds.
    pub fn count<T>(members: &[T], holds: impl Fn(&T) -> bool) -> Odds {
        let hits = members.iter().filter(|member| holds(member)).count();
        Odds { hits: hits as u32, of: members.len() as u32 }
    }

    /// The share, 0..=1; 0 where there is no member.
    pub fn share(self) -> f64 {
        if self.of == 0 { 0.0 } else { f64::from(self.hits) / f64::from(self.of) }
    }

    /// The exact 95 % interval of the share, two-sided (Clopper & Pearson 1934, Biometrika
    /// 26:404-413); from 0 to 1 where there is no member.
    ///
    /// It says what more members of this model would settle, not whether the model is right.
    pub fn interval(self) -> (f64, f64) {
        let (hits, misses) = (f64::from(self.hits), f64::from(self.of.saturating_sub(self.hits)));
        let tail = (1.0 - CONFIDENCE) / 2.0;
        let low = if self.hits == 0 { 0.0 } else { beta_quantile(hits, misses + 1.0, tail, 0.0) };
        let high =
            if misses == 0.0 { 1.0 } else { beta_quantile(hits + 1.0, misses, 1.0 - tail, 1.0) };
        (low, high)
    }

    /// Half the width of the interval.
    fn doubt(self) -> f64 {
        let (low, high) = self.interval();
        (high - low) / 2.0
    }

    /// The finest denominator of 20, 10 and 5 that the members support: one step of it must be at
    /// least half the width of the interval. `None` where even fifths are too fine.
    pub fn denominator(self) -> Option<u32> {
        // The interval is no narrower than its rounding: 0.05 itself should pass for twentieths.
        DENOMINATORS.into_iter().find(|d| self.doubt() <= 1.0 / f64::from(*d) + 1e-9)
    }

    /// The odds as people say them: "in 17 of 20 simulated seasons", "in fewer than 1 of 20
    /// simulated seasons", "in about half of the simulated seasons". With too few members for
    /// fifths the bare count is told, and that it is only a count.
    pub fn phrase(self) -> String {
        let Odds { hits, of } = self;
        let Some(steps) = self.denominator() else {
            return match of {
                0 => "in no simulated season, since there was none".to_owned(),
                _ => format!("in {hits} of only {of} simulated seasons"),
            };
        };
        if hits == 0 {
            return format!("in none of {of} simulated seasons");
        }
        if hits == of {
            return format!("in all of {of} simulated seasons");
        }
        let near = (self.share() * f64::from(steps)).round() as u32;
        match near {
            0 => format!("in fewer than 1 of {steps} simulated seasons"),
            n if n == steps => format!("in more than {} of {steps} simulated seasons", steps - 1),
            n if 2 * n == steps || self.even() => {
                "in about half of the simulated seasons".to_owned()
            }
            n => format!("in {n} of {steps} simulated seasons"),
        }
    }

    /// Whether the members cannot tell this from a coin.
    pub fn even(self) -> bool {
        let (low, high) = self.interval();
        low <= 0.5 && 0.5 <= high
    }
}

/// Quantile of a beta distribution, or `otherwise` where its shapes are out of range.
fn beta_quantile(a: f64, b: f64, p: f64, otherwise: f64) -> f64 {
    Beta::new(a, b).map_or(otherwise, |beta| beta.inverse_cdf(p))
}

/// Something that is said about an ensemble.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Claim {
    /// A quantile, 0..=1: the edge of a band, say.
    Quantile(f64),
    /// Odds of an event.
    Share(Odds),
    /// A mean difference with its Monte Carlo standard error, against the least that matters.
    Difference {
        /// Mean difference.
        mean: f64,
        /// Its standard error.
        standard_error: f64,
        /// Least difference that matters, more than 0.
        least: f64,
    },
}

/// Members that should lie beyond an outer quantile before it is read off.
const BEYOND: f64 = 5.0;

/// Whether the members are too few for a claim: what to say, with a number that would do. `None`
/// where they are enough.
///
/// A quantile wants 5 members beyond it (so 100 for the 5 % line). Odds want an interval that
/// supports tenths. A difference wants its 95 % Monte Carlo interval to lie within half of the
/// least difference that matters, unless it is clear of that difference anyway.
pub fn too_few(members: u32, claim: Claim) -> Option<String> {
    let wanted = match claim {
        Claim::Quantile(p) => BEYOND / p.min(1.0 - p).max(1e-6),
        Claim::Share(odds) => match odds.denominator() {
            Some(steps) if steps >= 10 => return None,
            // Half width 1.96 sqrt(p (1 - p) / n) within a tenth, at worst p = 1/2.
            _ => 100.0,
        },
        Claim::Difference { mean, standard_error, least } => {
            let doubt = 1.96 * standard_error;
            let clear = (mean.abs() - least).abs() > doubt;
            if clear || doubt <= least / 2.0 {
                return None;
            }
            // Doubt shrinks with the root of the members.
            f64::from(members) * (2.0 * doubt / least).powi(2)
        }
    };
    if f64::from(members) + 1e-9 >= wanted {
        return None;
    }
    Some(if wanted.is_finite() && wanted < 1e9 {
        format!(
            "{members} simulated seasons are too few to say this; run {} or more",
            round_up(wanted)
        )
    } else {
        format!("{members} simulated seasons are too few to say this")
    })
}

/// To the next number with one leading digit.
fn round_up(wanted: f64) -> u64 {
    let unit = 10f64.powf(wanted.max(1.0).log10().floor());
    ((wanted / unit - 1e-9).ceil() * unit) as u64
}
