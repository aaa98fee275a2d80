//! Odds as natural frequencies, never finer than the ensemble supports.

use crate::engine;
use crate::round;

/// Half-widths of the binomial interval above which counts of 20, and of 10, are too fine: one
/// mark of the scale.
const TWENTIETH: f64 = 0.05;
const TENTH: f64 = 0.1;

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

    /// The 90 % binomial interval of the share.
    pub fn interval(&self) -> (f64, f64) {
        engine::interval(self.hits, self.members)
    }

    /// The scale on which the count can be told: 20, 10, or all members where these are so few
    /// that one mark of ten would claim too much.
    pub fn scale(&self) -> u32 {
        let (low, high) = self.interval();
        let half = (high - low) / 2.0;
        match half {
            _ if self.members < 20 || half > TENTH => self.members,
            _ if half > TWENTIETH => 10,
            _ => 20,
        }
    }

    /// Whether the members are too few for a claim on a scale of ten.
    pub fn too_few(&self) -> bool {
        self.scale() == self.members && self.members != 20 && self.members != 10
            || self.members < 20
    }

    /// "17 of 20", "all 1,000", "fewer than 1 of 20".
    pub fn of(&self) -> String {
        let scale = self.scale();
        let all = round::spoken(f64::from(self.members), 1.0);
        if self.members == 0 {
            return "none played".into();
        }
        if self.hits == self.members {
            return format!("all {all}");
        }
        if self.hits == 0 {
            return format!("none of the {all}");
        }
        if scale == self.members {
            return format!("{} of the {all}", self.hits);
        }
        match marks(self.share(), scale) {
            0 => format!("fewer than 1 of {scale}"),
            m if m == scale => format!("more than {} of {scale}", scale - 1),
            m => format!("{m} of {scale}"),
        }
    }

    /// "(15 to 18 with other draws)": how far the count could move; empty where it could not move
    /// by a mark, or the members are all told one by one.
    pub fn give_or_take(&self) -> String {
        let scale = self.scale();
        let (low, high) = self.interval();
        if scale == self.members {
            let (low, high) = (low * 100.0, high * 100.0);
            return format!(
                " (so few that the true odds may be anything from {} to {} in 100)",
                round::fixed(low, 0),
                round::fixed(high, 0)
            );
        }
        let low = (low * f64::from(scale)).floor();
        let high = (high * f64::from(scale)).ceil();
        if self.hits == 0 || self.hits == self.members || high - low <= 1.0 {
            return String::new();
        }
        format!(" (give or take: {} to {})", round::fixed(low, 0), round::fixed(high, 0))
    }

    /// The share, 0..=1.
    pub fn share(&self) -> f64 {
        f64::from(self.hits) / f64::from(self.members.max(1))
    }
}

fn marks(share: f64, scale: u32) -> u32 {
    (share * f64::from(scale)).round() as u32
}

/// Shares that sum to one as whole marks of a scale that sum to it (largest remainders; ties go
/// to the earlier).
pub fn marks_of(shares: [f64; 3], scale: u32) -> [u32; 3] {
    let exact = shares.map(|s| s.clamp(0.0, 1.0) * f64::from(scale));
    let mut marks = exact.map(|e| e.floor() as u32);
    let mut order = [0, 1, 2];
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

    #[test]
    fn counts_are_told_on_the_finest_scale_that_the_members_support() {
        assert_eq!(odds(850, 1000).of(), "17 of 20");
        assert_eq!(odds(85, 100).of(), "9 of 10");
        assert_eq!(odds(3, 5).of(), "3 of the 5");
        assert_eq!(odds(10, 30).of(), "10 of the 30");
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
