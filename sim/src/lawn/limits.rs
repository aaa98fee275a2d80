//! Limits of values that are numbers.

/// The lesser or greater of two numbers. [`f64::min`] and [`f64::max`] also take care of what is no
/// number, at seven instructions for one where neither side is a constant; here the limit is given
/// back then.
pub(super) trait Limits {
    /// This, or the limit where this is more.
    fn at_most(self, limit: f64) -> f64;
    /// This, or the limit where this is less.
    fn at_least(self, limit: f64) -> f64;
}

impl Limits for f64 {
    #[inline]
    fn at_most(self, limit: f64) -> f64 {
        if self < limit { self } else { limit }
    }

    #[inline]
    fn at_least(self, limit: f64) -> f64 {
        if self > limit { self } else { limit }
    }
}
