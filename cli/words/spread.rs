//! Where the spread of an odd comes from, in words.

use sim::ensemble::spread::Shares;

/// A share below this is called little, and never told more finely than the run can say.
const LITTLE: f64 = 0.12;

/// "Why they differ: the lawn's unknowns (most), the weather (a third), slips (little)." Empty where
/// nothing is spread, or where the shares cannot be told.
pub fn tell(shares: &Shares) -> String {
    let parts = parts(shares);
    if parts.is_empty() { parts } else { format!("Why they differ: {parts}.") }
}

/// "the lawn's unknowns (most), the weather (a third), slips (little)".
pub fn parts(shares: &Shares) -> String {
    let mut named = [
        ("the weather", shares.weather),
        ("the lawn's unknowns", shares.lawn),
        ("slips", shares.slips),
    ];
    let little = LITTLE.max(2.0 * shares.error);
    named.sort_by(|a, b| b.1.total_cmp(&a.1));
    if named[0].1 < little {
        return String::new();
    }
    let each = named.iter().map(|(name, share)| {
        format!("{name} ({})", if *share < little { "little" } else { part(*share) })
    });
    let mut parts: Vec<String> = each.collect();
    let together = 1.0 - named.iter().map(|(_, s)| s).sum::<f64>();
    if together >= little.max(0.25) {
        parts.push(format!("these acting together ({})", part(together)));
    }
    parts.join(", ")
}

/// A share as a listener would say it.
fn part(share: f64) -> &'static str {
    match share {
        s if s >= 0.6 => "most",
        s if s >= 0.42 => "half",
        s if s >= 0.28 => "a third",
        s if s >= 0.2 => "a quarter",
        _ => "some",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(weather: f64, lawn: f64, slips: f64) -> Shares {
        Shares { weather, lawn, slips, error: 0.05 }
    }

    #[test]
    fn large_shares_come_first() {
        assert_eq!(
            tell(&shares(0.30, 0.62, 0.01)),
            "Why they differ: the lawn's unknowns (most), the weather (a third), slips (little)."
        );
        assert_eq!(
            tell(&shares(0.45, 0.05, 0.02)),
            "Why they differ: the weather (half), the lawn's unknowns (little), slips (little), \
             these acting together (half)."
        );
    }

    #[test]
    fn what_does_not_vary_or_cannot_be_told_is_left_unsaid() {
        assert_eq!(tell(&shares(0.0, 0.0, 0.0)), "");
        assert_eq!(tell(&Shares { error: 0.2, ..shares(0.3, 0.2, 0.1) }), "");
    }
}
