//! Numbers as people write them: "3.25", "1/4", "1 1/2", "1 000", "1,000", "½".

/// Why a number could not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NumberFault {
    /// No digit where the number should start.
    Missing,
    /// A comma that is not a thousands mark.
    Comma,
    /// A fraction with nothing or zero below the line.
    Fraction,
}

const FRACTIONS: [(char, f64); 7] =
    [('½', 0.5), ('¼', 0.25), ('¾', 0.75), ('⅛', 0.125), ('⅜', 0.375), ('⅝', 0.625), ('⅞', 0.875)];

/// Reads a number at the start of `text`; gives it with the rest of the text.
pub(super) fn take(text: &str) -> Result<(f64, &str), NumberFault> {
    let (sign, body) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    if let Some((value, rest)) = take_fraction_sign(body) {
        return Ok((sign * value, rest));
    }
    let (whole, rest) = take_decimal(body)?;
    if let Some(below) =
        rest.strip_prefix('/').filter(|r| r.starts_with(|c: char| c.is_ascii_digit()))
    {
        let (value, rest) = divide(whole, below)?;
        return Ok((sign * value, rest));
    }
    let after = rest.trim_start();
    if let Some((part, rest)) = take_fraction_sign(after) {
        return Ok((sign * (whole + part), rest));
    }
    match take_mixed(after) {
        Some((part, rest)) => Ok((sign * (whole + part), rest)),
        None => Ok((sign * whole, rest)),
    }
}

fn take_fraction_sign(text: &str) -> Option<(f64, &str)> {
    let (sign, value) = FRACTIONS.iter().find(|(sign, _)| text.starts_with(*sign))?;
    Some((*value, &text[sign.len_utf8()..]))
}

/// The "1/2" of "1 1/2".
fn take_mixed(text: &str) -> Option<(f64, &str)> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let above: f64 = text.get(..digits)?.parse().ok()?;
    let below = text.get(digits..)?.strip_prefix('/')?;
    divide(above, below).ok()
}

fn divide(above: f64, below: &str) -> Result<(f64, &str), NumberFault> {
    let digits = below.bytes().take_while(u8::is_ascii_digit).count();
    let divisor: f64 = below[..digits].parse().map_err(|_| NumberFault::Fraction)?;
    if divisor == 0.0 {
        return Err(NumberFault::Fraction);
    }
    Ok((above / divisor, &below[digits..]))
}

/// Digits with thousands marks (comma or space before exactly three digits), point and exponent.
fn take_decimal(text: &str) -> Result<(f64, &str), NumberFault> {
    let bytes = text.as_bytes();
    let mut digits = String::new();
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at].is_ascii_digit() {
            digits.push(char::from(bytes[at]));
            at += 1;
        } else if let Some(mark) = thousands_mark(text, at, &digits) {
            at += mark;
        } else {
            break;
        }
    }
    if bytes.get(at) == Some(&b',') {
        return Err(NumberFault::Comma);
    }
    if bytes.get(at) == Some(&b'.') {
        let decimals = bytes[at + 1..].iter().take_while(|b| b.is_ascii_digit()).count();
        digits.push_str(&text[at..=at + decimals]);
        at += 1 + decimals;
    }
    at += exponent(&text[at..], &mut digits);
    let value: f64 = digits.parse().map_err(|_| NumberFault::Missing)?;
    Ok((value, &text[at..]))
}

/// Length of a thousands mark at `at`, if one stands there.
fn thousands_mark(text: &str, at: usize, digits: &str) -> Option<usize> {
    let mark = text[at..].chars().next()?;
    if digits.is_empty() || !matches!(mark, ',' | ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}') {
        return None;
    }
    let after = &text.as_bytes()[at + mark.len_utf8()..];
    let run = after.iter().take_while(|b| b.is_ascii_digit()).count();
    (run == 3 && after.get(3) != Some(&b'/')).then_some(mark.len_utf8())
}

/// "e3" of "1e3"; an e that starts a word is left alone.
fn exponent(text: &str, digits: &mut String) -> usize {
    let bytes = text.as_bytes();
    if !matches!(bytes.first(), Some(b'e' | b'E')) || digits.is_empty() {
        return 0;
    }
    let sign = usize::from(matches!(bytes.get(1), Some(b'-' | b'+')));
    let run = bytes[1 + sign..].iter().take_while(|b| b.is_ascii_digit()).count();
    if run == 0 {
        return 0;
    }
    digits.push_str(&text[..1 + sign + run]);
    1 + sign + run
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_as_people_write_them() {
        for (text, value, rest) in [
            ("3.25 in", 3.25, " in"),
            ("1/4 in", 0.25, " in"),
            ("1 1/2 in", 1.5, " in"),
            ("2½ in", 2.5, " in"),
            ("½ in", 0.5, " in"),
            ("1 000 kg/ha", 1000.0, " kg/ha"),
            ("1,250,000", 1_250_000.0, ""),
            ("-4.5degC", -4.5, "degC"),
            (".5 in", 0.5, " in"),
            ("1e3 m", 1000.0, " m"),
            ("60%", 60.0, "%"),
        ] {
            assert_eq!(take(text), Ok((value, rest)), "{text}");
        }
        assert_eq!(take("0,5 in"), Err(NumberFault::Comma));
        assert_eq!(take("1/0 in"), Err(NumberFault::Fraction));
        assert_eq!(take("three in"), Err(NumberFault::Missing));
    }
}
