//! Odds as natural frequencies, never finer than the ensemble supports.

use crate::engine;
use crate::round;

/// Denominators that odds are told in, the finest first.
const SCALES: [u32; 3] = [20, 10, 5];

/// So many of all members.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Odds {
    /// Members that meet the claim.
    pub hits: u32,
    /// All members.
    pub members: u32,
}

impl Odds {
    /// Counts the values that meet a claim.
    pub fn count(values: &[f64], claim: impl Fn(f64) -> bool) -> Odds {
        let hits = values.iter().filter(|v| claim(**v)).count();
        Odds { hits: hits as u32, members: values.len() as u32 }
    }

    /// Odds from a share of the members.
    pub fn from_share(share: f64, members: u32) -> Odds {
        let hits = (share.clamp(0.0, 1.0) * f64::from(members)).round() as u32;
        Odds { hits, members }
    }

    /// The 95 % binomial interval of the share.
    pub fn interval(&self) -> (f64, f64) {
        engine::interval(self.hits, self.members)
    }

    /// The finest scale of 20, 10 and 5 that the members support: one mark of it is at least half
    /// the width of the interval. `None` where even fifths are too fine.
    pub fn scale(&self) -> Option<u32> {
        let (low, high) = self.interval();
        // A half-width of one mark itself passes, whatever its last bit.
        SCALES.into_iter().find(|s| (high - low) / 2.0 <= 1.0 / f64::from(*s) + 1e-9)
    }

    /// The scale that all of these odds support, so that they can stand side by side.
    pub fn common_scale(odds: &[Odds]) -> Option<u32> {
        odds.iter().map(Odds::scale).min_by_key(|s| s.unwrap_or(0)).flatten()
    }

    /// How many marks of a scale the share comes to, rounded to the nearest.
    pub fn marks(&self, scale: u32) -> u32 {
        (self.share() * f64::from(scale)).round() as u32
    }

    /// "17 of 20", "all 1,000", "fewer than 1 of 20".
    pub fn of(&self) -> String {
        self.of_scale(self.scale())
    }

    /// The same on a given scale, one that [`Odds::scale`] or [`Odds::common_scale`] gave.
    pub fn of_scale(&self, scale: Option<u32>) -> String {
        let all = round::spoken(f64::from(self.members), 1.0);
        match (self.hits, scale) {
            _ if self.members == 0 => "none (nothing was played)".into(),
            (hits, None) => format!("{hits} of only {all}"),
            (0, _) => format!("none of the {all}"),
            (hits, _) if hits == self.members => format!("all {all}"),
            (_, Some(scale)) => match self.marks(scale) {
                0 => format!("fewer than 1 of {scale}"),
                m if m == scale => format!("more than {} of {scale}", scale - 1),
                m => format!("{m} of {scale}"),
            },
        }
    }

    /// " (give or take: 15 to 18)": how far the count could move with other draws; empty where it
    /// could not move by more than its own rounding.
    pub fn give_or_take(&self) -> String {
        let (low, high) = self.interval();
        let Some(scale) = self.scale() else {
            let percent = |share: f64| round::fixed(share * 100.0, 0);
            return format!(
                " (too few: the odds may be anything from {} to {} in 100)",
                percent(low),
                percent(high)
            );
        };
        let low = (low * f64::from(scale)).floor();
        let high = (high * f64::from(scale)).ceil();
        if self.hits == 0 || self.hits == self.members || high - low <= 1.0 {
            return String::new();
        }
        format!(" (give or take: {} to {})", round::fixed(low, 0), round::fixed(high, 0))
    }

    /// Whether two odds cannot be told apart: their intervals overlap. Too careful for paired members,
    /// which is the right side to err on where a result is told first.
    pub fn alike(&self, other: &Odds) -> bool {
        let (a, b) = (self.interval(), other.interval());
        a.0 <= b.1 && b.0 <= a.1
    }

    /// The share, 0..=1.
    pub fn share(&self) -> f64 {
        f64::from(self.hits) / f64::from(self.members.max(1))
    }
}

/// A second count without the " of 20" that the first one has said.
pub fn again<'a>(first: &str, second: &'a str) -> &'a str {
    let scale = |count: &str| count.rfind(" of ").map(|at| count[at..].to_string());
    match scale(first).filter(|s| s[4..].parse::<u32>().is_ok()) {
        Some(said) => second.strip_suffix(&said).unwrap_or(second),
        None => second,
    }
}

/// Shares that sum to one as whole marks of a scale that sum to it (largest remainders; ties go
/// to the earlier).
pub fn marks_of<const N: usize>(shares: [f64; N], scale: u32) -> [u32; N] {
    let exact = shares.map(|s| s.clamp(0.0, 1.0) * f64::from(scale));
    let mut marks = exact.map(|e| e.floor() as u32);
    let mut order: [usize; N] = std::array::from_fn(|place| place);
    order.sort_by(|a, b| {
        (exact[*b] - exact[*b].floor()).total_cmp(&(exact[*a] - exact[*a].floor()))
    });
    let missing = scale.saturating_sub(marks.iter().sum());
    for place in order.into_iter().cycle().take(missing as usize) {
        marks[place] += 1;
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn odds(hits: u32, members: u32) -> Odds {
        Odds { hits, members }
    }

    // Clopper-Pearson half-widths at 95 %, worked with a statistics package's beta quantiles (from
    // memory): 0.02 for 850 of 1,000, 0.07 for 85 of 100, 0.16 for 24 of 40, 0.4 for 3 of 5.
    #[test]
    fn counts_are_told_on_the_finest_scale_that_the_members_support() {
        assert_eq!(odds(850, 1000).of(), "17 of 20");
        assert_eq!(odds(85, 100).of(), "9 of 10");
        assert_eq!(odds(24, 40).of(), "3 of 5");
        assert_eq!(odds(3, 5).of(), "3 of only 5");
    }

    #[test]
    fn rounding_never_turns_nearly_all_into_all() {
        assert_eq!(odds(1000, 1000).of(), "all 1,000");
        assert_eq!(odds(999, 1000).of(), "more than 19 of 20");
        assert_eq!(odds(1, 1000).of(), "fewer than 1 of 20");
        assert_eq!(odds(0, 1000).of(), "none of the 1,000");
    }

    #[test]
    fn parts_of_twenty_add_up_to_twenty() {
        assert_eq!(marks_of([0.333, 0.333, 0.334], 20).iter().sum::<u32>(), 20);
        assert_eq!(marks_of([0.76, 0.19, 0.05], 20), [15, 4, 1]);
        assert_eq!(marks_of([1.0, 0.0, 0.0], 20), [20, 0, 0]);
    }
}
