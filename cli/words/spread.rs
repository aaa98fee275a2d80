//! Where the spread of an odd comes from, in words.

use sim::ensemble::spread::Shares;

/// A share below this is called little, and never told more finely than the run can say.
const LITTLE: f64 = 0.12;

/// "Why the seasons differ: most is the weather, some is not knowing this lawn." Empty where nothing
/// is spread, or where the shares cannot be told.
pub fn tell(shares: &Shares) -> String {
    let parts = parts(shares);
    if parts.is_empty() { parts } else { format!("Why the seasons differ: {parts}") }
}

/// "most is the weather, some is not knowing this lawn."
pub fn parts(shares: &Shares) -> String {
    let named = [
        ("the weather", shares.weather),
        ("not knowing this lawn", shares.lawn),
        ("slips in the work", shares.slips),
    ];
    let little = LITTLE.max(2.0 * shares.error);
    let mut large: Vec<(&str, f64)> = named.iter().copied().filter(|(_, s)| *s >= little).collect();
    large.sort_by(|a, b| b.1.total_cmp(&a.1));
    let small: Vec<&str> =
        named.iter().filter(|(_, s)| *s < little).map(|(name, _)| *name).collect();
    let [first, rest @ ..] = large.as_slice() else { return String::new() };
    let mut line = format!("{} {}", amount(first.1), first.0);
    for (name, share) in rest {
        line.push_str(&format!(", {} {name}", amount(*share)));
    }
    match small.as_slice() {
        [] => {}
        [one] => line.push_str(&format!(", little is {}", one)),
        [one, other, ..] => line.push_str(&format!(", little is {one} or {other}")),
    }
    let together = 1.0 - named.iter().map(|(_, s)| s).sum::<f64>();
    if together >= little.max(0.25) {
        line.push_str(&format!("; {} comes of these acting together", part(together)));
    }
    line.push('.');
    line
}

/// A share as a listener would say it.
fn part(share: f64) -> &'static str {
    match share {
        s if s >= 0.6 => "most",
        s if s >= 0.42 => "about half",
        s if s >= 0.28 => "about a third",
        s if s >= 0.2 => "about a quarter",
        _ => "some",
    }
}

fn amount(share: f64) -> String {
    format!("{} is", part(share))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(weather: f64, lawn: f64, slips: f64) -> Shares {
        Shares { weather, lawn, slips, error: 0.05 }
    }

    #[test]
    fn large_shares_come_first_and_small_ones_are_little() {
        assert_eq!(
            tell(&shares(0.30, 0.62, 0.01)),
            "Why the seasons differ: most is not knowing this lawn, about a third is the weather, \
             little is slips in the work."
        );
        assert_eq!(
            tell(&shares(0.45, 0.05, 0.02)),
            "Why the seasons differ: about half is the weather, little is not knowing this lawn or \
             slips in the work; about half comes of these acting together."
        );
    }

    #[test]
    fn what_does_not_vary_or_cannot_be_told_is_left_unsaid() {
        assert_eq!(tell(&shares(0.0, 0.0, 0.0)), "");
        assert_eq!(tell(&Shares { error: 0.2, ..shares(0.3, 0.2, 0.1) }), "");
    }
}
