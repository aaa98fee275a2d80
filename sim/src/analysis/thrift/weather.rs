//! In which weather a program fails: the seasons of members that miss beside those of members that hold.

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::weather::Sky;

/// A simple fact of a season's weather.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fact {
    /// Rain of June to August, mm.
    SummerRain,
    /// Mean high of June to August, degrees C.
    SummerHeat,
    /// Mean of low and high of March to May, degrees C.
    SpringWarmth,
}

impl Fact {
    /// Least difference that a person would notice: our judgement.
    fn least(self) -> f64 {
        match self {
            Fact::SummerRain => 10.0,
            Fact::SummerHeat | Fact::SpringWarmth => 0.5,
        }
    }
}

/// All of them, in the order in which [`facts`] gives them.
pub const FACTS: [Fact; 3] = [Fact::SummerRain, Fact::SummerHeat, Fact::SpringWarmth];

/// How often a difference may be told where there is none, all facts together.
const ASTRAY: f64 = 0.05;

/// Fewest members on either side.
const FEWEST: usize = 8;

/// The facts of one year of a path.
pub fn facts(skies: &[Sky], year: i32) -> [f64; 3] {
    let (mut rain, mut high, mut spring) = (0.0, Mean::default(), Mean::default());
    for sky in skies {
        let (of, month, _) = sky.day.ymd();
        if of != year {
            continue;
        }
        match month {
            6..=8 => {
                rain += sky.precip_mm;
                high.take(sky.t_max_c);
            }
            3..=5 => spring.take(0.5 * (sky.t_min_c + sky.t_max_c)),
            _ => {}
        }
    }
    [rain, high.value(), spring.value()]
}

#[derive(Default)]
struct Mean {
    sum: f64,
    days: f64,
}

impl Mean {
    fn take(&mut self, value: f64) {
        (self.sum, self.days) = (self.sum + value, self.days + 1.0);
    }

    fn value(&self) -> f64 {
        if self.days > 0.0 { self.sum / self.days } else { f64::NAN }
    }
}

/// A fact on both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Split {
    /// Which.
    pub fact: Fact,
    /// Its mean in the season in which members first miss.
    pub missing: f64,
    /// Its mean over the seasons of members that hold.
    pub holding: f64,
    /// Standard error of the difference of the two.
    pub error: f64,
    /// Whether the difference is larger than its noise, and than what a person would notice.
    pub clear: bool,
}

/// Compares the facts of members that miss with those of members that hold (Welch 1947, Biometrika
/// 34:28-35; for all facts together by Bonferroni's inequality). Empty where a side has too few members.
pub fn split(missing: &[[f64; 3]], holding: &[[f64; 3]]) -> Vec<Split> {
    if missing.len() < FEWEST || holding.len() < FEWEST {
        return vec![];
    }
    let one = |(at, fact): (usize, &Fact)| {
        let side = |members: &[[f64; 3]]| {
            let n = members.len() as f64;
            let mean = members.iter().map(|m| m[at]).sum::<f64>() / n;
            let squares: f64 = members.iter().map(|m| (m[at] - mean).powi(2)).sum();
            (mean, squares / (n - 1.0) / n, n)
        };
        let ((a, va, na), (b, vb, nb)) = (side(missing), side(holding));
        let freedom = (va + vb).powi(2) / (va * va / (na - 1.0) + vb * vb / (nb - 1.0));
        let tail = 1.0 - ASTRAY / 2.0 / FACTS.len() as f64;
        let t = StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |t| t.inverse_cdf(tail));
        let error = (va + vb).sqrt();
        Split {
            fact: *fact,
            missing: a,
            holding: b,
            error,
            clear: (a - b).abs() > (t * error).max(fact.least()) && error > 0.0,
        }
    };
    FACTS.iter().enumerate().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Purpose, Streams, standard_normal};

    fn side(seed: u64, mean: f64, count: u32) -> Vec<[f64; 3]> {
        let streams = Streams::new(seed);
        let one = |n| {
            let rng = &mut streams.of_member(n, Purpose::Weather);
            [standard_normal(rng), mean + standard_normal(rng), standard_normal(rng)]
        };
        (0..count).map(one).collect()
    }

    /// Two sides of one distribution are told apart in about 1 of 20 trials; two that differ by more
    /// than their noise nearly always.
    #[test]
    fn noise_is_not_told_and_a_difference_is() {
        let told = |mean, seed: u64| {
            let found = split(&side(2 * seed, 0.0, 40), &side(2 * seed + 1, mean, 80));
            (found[1].clear, found.iter().any(|s| s.clear))
        };
        let astray = (0..200).filter(|seed| told(0.0, *seed).1).count();
        // 10 expected; two binomial standard errors of 0.05 over 200 are 0.031.
        assert!(astray <= 17, "{astray}");
        let found = (0..200).filter(|seed| told(1.5, *seed).0).count();
        assert!(found >= 190, "{found}");
        assert!(split(&side(1, 0.0, 5), &side(2, 9.0, 80)).is_empty());
    }
}
