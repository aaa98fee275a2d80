//! How programs and practices are named inside sentences and in tight places.

use sim::scenario::Scenario;

use crate::round;

/// A program's title inside a sentence: in quotation marks, so that its end is seen.
pub fn quoted(title: &str) -> String {
    format!("\u{201c}{title}\u{201d}")
}

/// A short name for each title. One that goes on from another after a comma is named by what it
/// adds ("+ split barrier"); else the part before the first comma serves, where it is unique.
pub fn shorts(titles: &[&str]) -> Vec<String> {
    let short = |title: &str| -> String {
        let added = |base: &&str| title.strip_prefix(*base)?.strip_prefix(',').map(str::trim);
        // The longest base says most of what is left out.
        let base = titles.iter().filter(|b| added(b).is_some()).max_by_key(|b| b.len());
        if let Some(rest) = base.and_then(added).filter(|rest| !rest.is_empty()) {
            return format!("+ {rest}");
        }
        let head = title.split(',').next().unwrap_or(title).trim();
        let alone = titles.iter().filter(|t| t.starts_with(head)).count() == 1;
        if alone && !head.is_empty() { head.into() } else { title.into() }
    };
    let short: Vec<String> = titles.iter().map(|t| short(t)).collect();
    let unique = |name: &String| short.iter().filter(|s| *s == name).count() == 1;
    let whole = |(name, title): (&String, &&str)| {
        if unique(name) { name.clone() } else { (*title).to_string() }
    };
    short.iter().zip(titles).map(whole).collect()
}

/// A practice's key as a label: "Barrier, second half".
pub fn practice(key: &str) -> String {
    upper_first(&practice_in_line(key))
}

/// The same within a line: "barrier, second half".
pub fn practice_in_line(key: &str) -> String {
    let words = match key.strip_suffix(SECOND) {
        Some(half) => format!("{half}, second half"),
        None => key.into(),
    };
    words.replace('_', " ")
}

/// What ends the key of the second half of a split practice.
pub const SECOND: &str = "/second";

/// What a choice changes, as the start of a sentence: "mow: every 5 days instead of every 14
/// days" becomes "Mow every 5 days instead of every 14 days".
pub fn choice(difference: &str) -> String {
    const GOES_ON: [&str; 6] = ["every", "in", "on", "at", "when", "after"];
    let whole = || upper_first(difference);
    let Some((what, how)) = difference.split_once(": ") else { return whole() };
    let goes_on = how.split(' ').next().is_some_and(|word| GOES_ON.contains(&word));
    if goes_on { upper_first(&format!("{what} {how}")) } else { whole() }
}

/// "a", "a and b", "a, b and c".
pub fn listed(words: &[String]) -> String {
    listed_with(words, " and ")
}

/// The same with other words before the last: ", and " where the parts have commas of their own.
pub fn listed_with(words: &[String], and: &str) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{}{and}{last}", first.join(", ")),
    }
}

/// "over 2 seasons": what hours, cost and other sums of a run cover.
pub fn over(scenario: &Scenario) -> String {
    match scenario.seasons {
        0 | 1 => "over the season".into(),
        seasons => format!("over {seasons} seasons"),
    }
}

/// "1,000 simulated futures".
pub fn simulated(members: u32) -> String {
    format!("{} simulated {}", round::spoken(f64::from(members), 1.0), futures(members))
}

/// "1 year", "4 years": a number of things whose plural ends in an s.
pub fn counted(n: usize, what: &str) -> String {
    format!("{n} {what}{}", if n == 1 { "" } else { "s" })
}

/// "4 years of record".
pub fn years_of_record(years: u32) -> String {
    format!("{} of record", counted(years as usize, "year"))
}

/// "futures", or "future" where there is one.
pub fn futures(members: u32) -> &'static str {
    if members == 1 { "future" } else { "futures" }
}

/// The words with a capital at their start.
pub fn upper_first(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// The words with a small letter at their start.
pub fn lower_first(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or(String::new(), |c| c.to_lowercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_names_say_what_is_added_and_stay_apart() {
        let titles = ["Usual care", "Cut often", "Cut often, barrier in two", "Lime, spring"];
        assert_eq!(shorts(&titles), ["Usual care", "Cut often", "+ barrier in two", "Lime"]);
        let alike = ["Feed, spring", "Feed, fall"];
        assert_eq!(shorts(&alike), alike);
        let same = ["One", "Two", "One, late", "Two, late"];
        assert_eq!(shorts(&same), same);
    }

    #[test]
    fn a_choice_reads_as_the_start_of_a_sentence() {
        assert_eq!(choice("mow: every 5 days instead of 7"), "Mow every 5 days instead of 7");
        assert_eq!(choice("feed: rate 1 lb instead of 2 lb"), "Feed: rate 1 lb instead of 2 lb");
        assert_eq!(choice("no feed"), "No feed");
        assert_eq!(practice("barrier/second"), "Barrier, second half");
    }
}
