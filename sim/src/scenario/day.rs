//! Days of the year as people write them: "15 Apr", "Apr 15", "1 June".

use crate::calendar::MonthDay;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Reads a day of the year; the fault is a hint, where there is one.
pub(super) fn parse(text: &str) -> Result<MonthDay, Option<String>> {
    let words: Vec<&str> =
        text.split([' ', '-', ',', '.']).filter(|word| !word.is_empty()).collect();
    let [first, second] = words[..] else {
        return Err(hint(text));
    };
    let (month, number) = match (month(first), month(second)) {
        (Some(month), None) => (month, second),
        (None, Some(month)) => (month, first),
        _ => return Err(hint(text)),
    };
    let number = number.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let day: u8 = number.parse().map_err(|_| None)?;
    MonthDay::new(month, day).ok_or_else(|| {
        Some(format!("{} has no day {day}", capital(MONTHS[usize::from(month) - 1])))
    })
}

/// Reads a day that may have its year, at either end: "20 Jun 2026".
pub(super) fn with_year(text: &str) -> Result<(MonthDay, Option<i32>), Option<String>> {
    let words: Vec<&str> = text.split([' ', ',', '-']).filter(|w| !w.is_empty()).collect();
    let year = |word: &&&str| word.len() == 4 && word.bytes().all(|b| b.is_ascii_digit());
    let years: Vec<&&str> = words.iter().filter(year).collect();
    let rest: Vec<&str> = words.iter().filter(|w| !year(w)).copied().collect();
    match years[..] {
        [] => parse(text).map(|date| (date, None)),
        [year] => {
            let date = parse(&rest.join(" "))?;
            Ok((date, Some(year.parse().map_err(|_| None)?)))
        }
        _ => Err(None),
    }
}

/// Reads a stretch of the year, both ends included: "1 Dec to 1 Apr".
pub(super) fn stretch(text: &str) -> Result<(MonthDay, MonthDay), Option<String>> {
    let (from, to) = text.split_once(" to ").ok_or(None)?;
    Ok((parse(from)?, parse(to)?))
}

fn month(word: &str) -> Option<u8> {
    let word = word.to_lowercase();
    if word.len() < 3 {
        return None;
    }
    let at = MONTHS
        .iter()
        .position(|m| m.starts_with(&word) || (word == "sept" && *m == "september"))?;
    u8::try_from(at + 1).ok()
}

fn hint(text: &str) -> Option<String> {
    let slashes = text.contains('/') || text.chars().all(|c| c.is_ascii_digit() || c == '-');
    slashes.then(|| "write the month by its name, so that 4/5 cannot be two days".to_string())
}

fn capital(word: &str) -> String {
    word[..1].to_uppercase() + &word[1..]
}

/// "15 Apr".
pub(super) fn show(day: MonthDay) -> String {
    let name = MONTHS.get(usize::from(day.month).saturating_sub(1)).copied().unwrap_or("???");
    format!("{} {}", day.day, capital(&name[..3]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_as_people_write_them() {
        for text in ["15 Apr", "Apr 15", "15 April", "april 15", "15-Apr", "Apr. 15", "15th April"]
        {
            assert_eq!(parse(text), Ok(MonthDay { month: 4, day: 15 }), "{text}");
        }
        assert_eq!(parse("31 Apr").unwrap_err().as_deref(), Some("April has no day 31"));
        assert_eq!(parse("29 Feb").unwrap_err().as_deref(), Some("February has no day 29"));
        assert!(parse("4/15").unwrap_err().unwrap().contains("month by its name"));
        assert_eq!(show(MonthDay { month: 9, day: 1 }), "1 Sep");
    }
}
