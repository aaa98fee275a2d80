//! Odds: counts of members, their exact interval, and how finely they may be told.

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
}

/// Quantile of a beta distribution, or `otherwise` where its shapes are out of range.
fn beta_quantile(a: f64, b: f64, p: f64, otherwise: f64) -> f64 {
    Beta::new(a, b).map_or(otherwise, |beta| beta.inverse_cdf(p))
}
