//! How many digits a figure is given: no more than the ensemble can support.
//!
//! Two rules.
//!
//! 1. A value of one member (outcomes, tracks, work) gets the fixed number of decimals of its unit,
//!    [`decimals`]: about a hundredth of the least difference that matters, or of what an
//!    instrument on a lawn could read. This also hides the last bits in which processors differ.
//! 2. A figure over members (bands, contrasts) is a Monte Carlo estimate. Its last digit is the
//!    first one below its standard error, spread / sqrt(members), and never finer than rule 1
//!    ([`supported_decimals`]). One number of decimals holds for a whole series.

use std::fmt::Write as _;

/// Decimals of one member's value, by unit as printed in files. Organic matter, whose changes are
/// hundredths of a percent, has its own unit key here: "% organic matter".
pub fn decimals(unit: &str) -> usize {
    match unit {
        "1/dm2" | "1/m2" | "count" => 1,
        "%" | "mm" | "m2" | "degC" | "days" | "minutes" => 1,
        "1-9" | "m2/m2" | "g/m2" | "g N/m2" | "g seed/m2" | "h" | "currency" => 2,
        "share" | "kg ai/ha" | "% organic matter" => 3,
        _ => 3,
    }
}

/// Decimals of a rate of active ingredient: some work by the hundredth of a pound on an acre.
pub fn rate_decimals(rate: f64) -> usize {
    if rate < 0.1 { 3 } else { 2 }
}

/// The unit under which a measure or outcome is looked up in [`decimals`].
pub fn unit_of<'a>(key: &str, unit: &'a str) -> &'a str {
    if key.starts_with("organic_matter") { "% organic matter" } else { unit }
}

/// Decimals of a figure over `members` members whose values spread (one standard deviation) by
/// `spread`: the first digit below the standard error, at most `finest`.
pub fn supported_decimals(finest: usize, spread: f64, members: u32) -> usize {
    let error = spread / f64::from(members.max(1)).sqrt();
    if error <= 0.0 || !error.is_finite() {
        return finest;
    }
    let wanted = (-error.log10()).floor() + 1.0;
    // `wanted` is a small whole number here, so the cast is exact.
    (wanted.max(0.0) as usize).min(finest)
}

/// Decimals of a share (0..=1) counted over `members` members; the spread is that of a coin.
pub fn share_decimals(members: u32) -> usize {
    supported_decimals(3, 0.5, members)
}

/// Standard deviation that a band's outer quantiles point to, were it normal (3.29 sd from 5 to
/// 95 %).
pub fn spread_of(p05: f64, p95: f64) -> f64 {
    (p95 - p05).abs() / 3.29
}

/// Writes `value` with `decimals` decimals into `buffer`, replacing what was there. No "-0.0";
/// what is not a number becomes empty, as tables expect.
pub fn put(buffer: &mut String, value: f64, decimals: usize) {
    buffer.clear();
    if !value.is_finite() {
        return;
    }
    let _ = write!(buffer, "{value:.decimals$}");
    if buffer.starts_with('-') && buffer.bytes().all(|b| matches!(b, b'-' | b'.' | b'0')) {
        buffer.remove(0);
    }
}

/// `value` with `decimals` decimals.
pub fn fixed(value: f64, decimals: usize) -> String {
    let mut text = String::new();
    put(&mut text, value, decimals);
    text
}

/// The step in which a figure is spoken: the smallest of 1, 5, 10, 50... (or tenths, hundredths)
/// that is no finer than `finest` and no finer than the figure's standard error.
pub fn spoken_step(finest: f64, error: f64) -> f64 {
    let mut step = finest;
    let mut by_five = true;
    while step < error && step < 1e12 {
        step *= if by_five { 5.0 } else { 2.0 };
        by_five = !by_five;
    }
    step
}

/// `value` to the nearest multiple of `step`, with thousands set apart: "1,250", "6.5", "-3".
pub fn spoken(value: f64, step: f64) -> String {
    let decimals = if step >= 1.0 { 0 } else { (-step.log10()).ceil().max(0.0) as usize };
    let text = fixed((value / step).round() * step, decimals);
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", text.as_str()),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let mut out = String::from(sign);
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    // Halves are told as such; a whole number among them needs no ".0".
    let whole_among_halves = step >= 0.5 && part.bytes().all(|b| b == b'0');
    if !part.is_empty() && !whole_among_halves {
        out.push('.');
        out.push_str(part);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    // Standard errors worked by hand: 18 / sqrt(1000) = 0.57, 18 / sqrt(25) = 3.6,
    // 0.5 / sqrt(1000) = 0.016.
    #[test]
    fn the_last_digit_is_the_first_below_the_standard_error() {
        assert_eq!(supported_decimals(3, 18.0, 1000), 1);
        assert_eq!(supported_decimals(3, 18.0, 25), 0);
        assert_eq!(supported_decimals(3, 0.5, 1000), 2);
        assert_eq!(supported_decimals(1, 0.001, 1000), 1, "never finer than the unit's own");
        assert_eq!(supported_decimals(2, 0.0, 1000), 2, "no spread, no Monte Carlo error");
    }

    #[test]
    fn no_minus_stands_before_a_zero() {
        assert_eq!(fixed(-0.04, 1), "0.0");
        assert_eq!(fixed(-0.06, 1), "-0.1");
        assert_eq!(fixed(f64::NAN, 1), "");
    }

    #[test]
    fn money_is_spoken_in_round_figures() {
        assert_eq!(spoken_step(1.0, 7.0), 10.0);
        assert_eq!(spoken(1234.0, 10.0), "1,230");
        assert_eq!(spoken(-1234567.0, 1.0), "-1,234,567");
        assert_eq!(spoken(6.44, 0.1), "6.4");
        assert_eq!(spoken(6.44, 0.5), "6.5");
    }
}
