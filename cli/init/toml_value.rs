//! What a person types at a question, as values of a scenario.

/// A text in quotes.
pub fn quoted(text: &str) -> String {
    // A JSON string is a TOML string too.
    serde_json::Value::from(text.trim()).to_string()
}

/// A value, "50 % to 60 %" as a range, "20 % to 35 % to 60 %" as low, likely, high. A part without a
/// unit has the unit of the last: "50 to 60 %".
pub fn uncertain(text: &str) -> String {
    let parts = parts(text);
    let unit = parts.last().map_or("", |last| after_number(last));
    let with_unit = |part: &String| match after_number(part) {
        "" => quoted(&format!("{part} {unit}")),
        _ => quoted(part),
    };
    match &parts[..] {
        [low, high] => format!("[{}, {}]", with_unit(low), with_unit(high)),
        [low, likely, high] => format!(
            "{{ low = {}, likely = {}, high = {} }}",
            with_unit(low),
            with_unit(likely),
            with_unit(high)
        ),
        _ => quoted(text),
    }
}

/// The ends of a range: between them stands "to" or a dash.
fn parts(text: &str) -> Vec<String> {
    let chars: Vec<char> = text.trim().chars().collect();
    let mut plain = String::new();
    for (i, c) in chars.iter().enumerate() {
        let before = chars[..i].iter().rev().find(|c| !c.is_whitespace());
        let after = chars[i + 1..].iter().find(|c| !c.is_whitespace());
        let between = before.is_some_and(|c| c.is_ascii_digit() || *c == '%')
            && after.is_some_and(|c| c.is_ascii_digit() || *c == '.');
        if matches!(c, '-' | '–') && between { plain.push_str(" to ") } else { plain.push(*c) }
    }
    plain.split(" to ").map(|part| part.trim().to_string()).collect()
}

fn after_number(part: &str) -> &str {
    part.trim_start_matches(|c: char| c.is_ascii_digit() || " .,/½¼¾".contains(c)).trim()
}

/// A number of days: bare digits stay a number, for a scenario reads them as days.
pub fn days(text: &str) -> String {
    match text.trim() {
        digits if !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit()) => digits.into(),
        other => quoted(other),
    }
}

/// The words of a list: "often, barrier and split".
pub fn words(text: &str) -> Vec<String> {
    let text = text.replace(" and ", ",").replace(['+', ';'], ",");
    text.split(',').map(str::trim).filter(|w| !w.is_empty()).map(str::to_string).collect()
}

/// "60 % Kentucky bluegrass" or "Kentucky bluegrass 60 %": the name and, where there is one, the
/// share.
pub fn name_and_share(text: &str) -> (String, Option<String>) {
    let text = text.trim();
    let Some(at) = text.find(|c: char| c.is_ascii_digit()) else { return (text.to_string(), None) };
    if at > 0 {
        return (text[..at].trim().to_string(), Some(text[at..].trim().to_string()));
    }
    match text.rfind('%') {
        Some(end) => (text[end + 1..].trim().to_string(), Some(text[..=end].trim().to_string())),
        None => (text.to_string(), None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_as_people_type_them() {
        for text in ["50 % to 60 %", "50 to 60 %", "50-60 %", "50 % – 60 %", "50 %-60 %"] {
            assert_eq!(uncertain(text), "[\"50 %\", \"60 %\"]", "{text}");
        }
        assert_eq!(uncertain("55 %"), "\"55 %\"");
        assert_eq!(uncertain("half to full"), "[\"half\", \"full\"]");
        assert_eq!(
            uncertain("1 to 2 to 4 %"),
            "{ low = \"1 %\", likely = \"2 %\", high = \"4 %\" }"
        );
    }

    #[test]
    fn names_with_shares_on_either_side() {
        let share = Some("60 %".to_string());
        assert_eq!(name_and_share("tall fescue 60 %"), ("tall fescue".to_string(), share.clone()));
        assert_eq!(name_and_share("60 % tall fescue"), ("tall fescue".to_string(), share));
        assert_eq!(name_and_share("tall fescue"), ("tall fescue".to_string(), None));
    }

    #[test]
    fn quotes_in_an_answer_stay_in_it() {
        assert_eq!(quoted("a \"b\" \\"), "\"a \\\"b\\\" \\\\\"");
    }
}
