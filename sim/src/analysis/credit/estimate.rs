//! A mean over members with how far it could be off.

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::ensemble::{mean_and_error, paired};
use crate::outcomes::OutcomeKind;

/// Confidence of the intervals.
const CONFIDENCE: f64 = 0.95;

/// A mean difference over members, in the outcome's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The mean.
    pub mean: f64,
    /// Its Monte Carlo standard error from the members; infinite for one member.
    pub members_error: f64,
    /// Its standard error from orders that were sampled; 0 where every coalition was played.
    pub orders_error: f64,
    /// Ends of its 95 % interval: what other draws could have given. It does not cover what the model
    /// gets wrong.
    pub interval: (f64, f64),
    /// Share of members in which it is better by at least the least difference that matters.
    pub share_better: f64,
    /// Share in which it is less than that difference, either way.
    pub share_same: f64,
}

impl Estimate {
    /// The mean of one value a member. `orders` are the mean values by pair of sampled orders; empty
    /// where nothing was sampled.
    pub(super) fn new(kind: &OutcomeKind, values: &[f64], orders: &[f64]) -> Estimate {
        let paired = paired(kind, values, &vec![0.0; values.len()]);
        let orders_error = if orders.is_empty() { 0.0 } else { mean_and_error(orders).1 };
        let error = paired.mean_se.hypot(orders_error);
        let fewest = if orders.is_empty() { values.len() } else { values.len().min(orders.len()) };
        let far = if error > 0.0 { reach(fewest) * error } else { 0.0 };
        Estimate {
            mean: paired.mean,
            members_error: paired.mean_se,
            orders_error,
            interval: (paired.mean - far, paired.mean + far),
            share_better: paired.share_better,
            share_same: paired.share_same,
        }
    }

    /// Its whole standard error: members and orders together.
    pub fn standard_error(&self) -> f64 {
        self.members_error.hypot(self.orders_error)
    }

    /// Whether it can be told from nothing: its interval lies to one side of zero.
    pub fn clear(&self) -> bool {
        self.interval.0 > 0.0 || self.interval.1 < 0.0
    }
}

/// Standard errors to the end of an interval of the mean of `count` values (Student 1908).
fn reach(count: usize) -> f64 {
    let freedom = count.saturating_sub(1).max(1) as f64;
    StudentsT::new(0.0, 1.0, freedom)
        .map_or(f64::INFINITY, |t| t.inverse_cdf(0.5 + 0.5 * CONFIDENCE))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcomes::{OUTCOMES, outcome};

    fn crabgrass() -> &'static OutcomeKind {
        &OUTCOMES[outcome("crabgrass_peak").unwrap()]
    }

    /// Student's sleep data (Student 1908, Biometrika 6:1-25): ten differences of hours of sleep with
    /// mean 1.58 and sd 1.23, 95 % interval 0.70 to 2.46 (R's `t.test(extra ~ group, paired = TRUE)`
    /// prints 0.7001142 to 2.4598858; from memory).
    #[test]
    fn the_interval_is_students() {
        let sleep = [1.2, 2.4, 1.3, 1.3, 0.0, 1.0, 1.8, 0.8, 4.6, 1.4];
        let told = Estimate::new(crabgrass(), &sleep, &[]);
        assert!((told.mean - 1.58).abs() < 1e-12);
        let (low, high) = told.interval;
        assert!((low - 0.700_114_2).abs() < 1e-6 && (high - 2.459_885_8).abs() < 1e-6, "{told:?}");
        assert!(told.clear());
        assert_eq!((told.share_better, told.share_same), (0.0, 1.0), "all less than 5 points");
    }

    #[test]
    fn sampled_orders_add_their_error() {
        let members = [1.0, 2.0, 3.0, 2.0];
        let plain = Estimate::new(crabgrass(), &members, &[]);
        let sampled = Estimate::new(crabgrass(), &members, &[1.0, 3.0, 2.0, 2.0]);
        assert_eq!(plain.mean, sampled.mean);
        let sum = plain.members_error.powi(2) + sampled.orders_error.powi(2);
        assert!((sampled.standard_error().powi(2) - sum).abs() < 1e-12);
        assert!(sampled.interval.1 > plain.interval.1);
    }

    #[test]
    fn one_member_tells_nothing_and_no_difference_is_none() {
        assert!(!Estimate::new(crabgrass(), &[9.0], &[]).clear());
        let none = Estimate::new(crabgrass(), &[0.0; 5], &[]);
        assert_eq!((none.clear(), none.interval), (false, (0.0, 0.0)));
    }
}
