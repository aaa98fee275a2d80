//! Holds as people write them: "hotter than 88 degF", "rain coming", "closed 1 Dec to 1 Apr".

use super::Hold;
use super::day;
use super::fault::did_you_mean;
use crate::quantity::{self, Kind};

/// Why a hold was not understood.
pub(super) struct HoldFault {
    pub message: String,
    pub expected: String,
    pub help: Option<String>,
}

/// The forms of a hold, as a person writes them.
pub(super) const FORMS: [&str; 17] = [
    "frozen",
    "hotter than 88 degF",
    "cooler than 50 degF",
    "rain coming 0.1 in",
    "rain in 3 days 0.5 in",
    "wet 0.4 in",
    "dormant",
    "drier than 25 %",
    "windy 10 mph",
    "calm 3 mph",
    "closed 1 Dec to 1 Apr",
    "nothing to cut",
    "shorter than 3 in",
    "mown within 2 days",
    "sprayed within 2 days",
    "nothing to spray",
    "green within 0.5 points",
];

/// Reads a hold. "frozen" reads to nothing: nobody works frozen or snow-covered ground, so every
/// practice waits for it anyway. Where the amount may be left out, common practice stands in:
/// 0.1 in of rain today, 0.5 in over three days, 0.4 in fallen yesterday, 10 mph of wind, 3 mph for
/// still air, 2 days between mower and spray; and 0.5 % of the lawn under weeds (D) for "nothing to
/// spray".
pub(super) fn parse(text: &str) -> Result<Option<Hold>, HoldFault> {
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let lower = plain.to_lowercase();
    let after = |head: &str| lower.strip_prefix(head).map(|_| plain[head.len()..].trim());
    if lower == "frozen" {
        return Ok(None);
    }
    if lower == "dormant" {
        return Ok(Some(Hold::Dormant));
    }
    if lower == "nothing to cut" {
        return Ok(Some(Hold::NothingToCut));
    }
    let hold = if let Some(rest) = after("cooler than") {
        Hold::Cooler { than_c: amount(text, rest, Kind::Temperature, None)? }
    } else if let Some(rest) = after("mown within") {
        Hold::MownWithin { days: days(text, rest)? }
    } else if let Some(rest) = after("sprayed within") {
        Hold::SprayedWithin { days: days(text, rest)? }
    } else if let Some(rest) = after("nothing to spray") {
        Hold::NothingToSpray { below: amount(text, rest, Kind::Share, Some("0.5 %"))? }
    } else if let Some(rest) = after("calm") {
        Hold::Calm { m_s: amount(text, rest, Kind::Speed, Some("3 mph"))? }
    } else if let Some(rest) = after("hotter than") {
        Hold::Hotter { than_c: amount(text, rest, Kind::Temperature, None)? }
    } else if let Some(rest) = after("rain coming") {
        Hold::RainComing { mm: amount(text, rest, Kind::Depth, Some("0.1 in"))? }
    } else if let Some(rest) = after("rain in 3 days") {
        Hold::RainIn3Days { mm: amount(text, rest, Kind::Depth, Some("0.5 in"))? }
    } else if let Some(rest) = after("shorter than") {
        Hold::ShorterThan { mm: amount(text, rest, Kind::Depth, None)? }
    } else if let Some(rest) = after("drier than") {
        Hold::Drier { than: amount(text, rest, Kind::Share, None)? }
    } else if let Some(rest) = after("windy") {
        Hold::Windy { m_s: amount(text, rest, Kind::Speed, Some("10 mph"))? }
    } else if let Some(rest) = after("wet") {
        Hold::Wet { mm: amount(text, rest, Kind::Depth, Some("0.4 in"))? }
    } else if let Some(rest) = after("green within") {
        Hold::GreenWithin { points: points(text, rest)? }
    } else if let Some(rest) = after("closed") {
        closed(text, rest)?
    } else {
        return Err(unknown(&plain, &lower));
    };
    Ok(Some(hold))
}

fn amount(text: &str, rest: &str, kind: Kind, usual: Option<&str>) -> Result<f64, HoldFault> {
    let rest = if rest.is_empty() { usual.unwrap_or(rest) } else { rest };
    let value = quantity::parse(rest, kind).map_err(|fault| HoldFault {
        message: format!("in the hold \"{text}\", {}", fault.message),
        expected: fault.expected,
        help: fault.suggestion.map(|s| format!("did you mean \"{s}\"?")),
    })?;
    let range = match kind {
        Kind::Temperature => 0.0..=60.0,
        Kind::Speed => 0.5..=40.0,
        Kind::Share => 0.001..=0.99,
        Kind::Duration => 1.0..=60.0,
        _ => 0.0..=400.0,
    };
    if range.contains(&value) {
        return Ok(value);
    }
    Err(HoldFault {
        message: format!("the hold \"{text}\" would never or always stand"),
        expected: format!("{} of a usual size", kind.name()),
        help: None,
    })
}

/// Whole days between mower and spray.
fn days(text: &str, rest: &str) -> Result<u32, HoldFault> {
    Ok(amount(text, rest, Kind::Duration, Some("2 days"))?.ceil() as u32)
}

fn points(text: &str, rest: &str) -> Result<f64, HoldFault> {
    let number = rest.trim_end_matches("points").trim_end_matches("point").trim();
    let read = number.parse::<f64>().ok().filter(|points| (0.1..=4.0).contains(points));
    read.ok_or_else(|| HoldFault {
        message: format!("in the hold \"{text}\", the difference of colour is not understood"),
        expected: "points of the scale from 1 to 9, 0.1 to 4, such as \"green within 0.5 points\""
            .to_string(),
        help: None,
    })
}

fn closed(text: &str, rest: &str) -> Result<Hold, HoldFault> {
    let (from, to) = day::stretch(rest).map_err(|help| HoldFault {
        message: format!("in the hold \"{text}\", the closed season is not understood"),
        expected: "two days, such as \"closed 1 Dec to 1 Apr\"".to_string(),
        help,
    })?;
    Ok(Hold::Closed { from, to })
}

fn unknown(text: &str, lower: &str) -> HoldFault {
    let number = lower.find(|c: char| c.is_ascii_digit()).map(|at| &text[at..]);
    let with = |words: &str, usual: &str| Some(format!("{words} {}", number.unwrap_or(usual)));
    let meant = match lower.split(' ').next().unwrap_or_default() {
        "cold" | "cool" | "cooler" | "below" => with("cooler than", "50 degF"),
        "mown" | "mowed" | "mowing" => with("mown within", "2 days"),
        "sprayed" | "spray" => with("sprayed within", "2 days"),
        "weeds" | "few" => Some("nothing to spray".to_string()),
        "still" | "calm" | "inversion" => with("calm", "3 mph"),
        "heat" | "hot" | "hotter" | "above" => with("hotter than", "88 degF"),
        "raining" | "rain" => with("rain coming", "0.1 in"),
        "wind" => with("windy", "10 mph"),
        "dry" | "drier" => with("drier than", "25 %"),
        "drought" | "brown" => Some("dormant".to_string()),
        "snow" | "ice" => Some("frozen".to_string()),
        "nothing" | "uncut" => Some("nothing to cut".to_string()),
        "short" | "shorter" => with("shorter than", "3 in"),
        _ => None,
    };
    HoldFault {
        message: format!("\"{text}\" is not a hold"),
        expected: format!("one of {}", super::key::quoted(FORMS.into_iter())),
        help: meant
            .map(|m| format!("did you mean \"{m}\"?"))
            .or_else(|| did_you_mean(lower, FORMS.into_iter())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::MonthDay;

    #[test]
    fn every_form_reads() {
        let read: Vec<_> = FORMS.iter().map(|f| parse(f).map_err(|e| e.message)).collect();
        assert!(read.iter().all(Result::is_ok), "{read:?}");
        assert_eq!(read[0], Ok(None));
        assert_eq!(read[4], Ok(Some(Hold::RainIn3Days { mm: 12.7 })));
        let closed = Hold::Closed {
            from: MonthDay { month: 12, day: 1 },
            to: MonthDay { month: 4, day: 1 },
        };
        assert_eq!(read[10], Ok(Some(closed)));
        assert_eq!(read[7], Ok(Some(Hold::Drier { than: 0.25 })));
        assert_eq!(read[13], Ok(Some(Hold::MownWithin { days: 2 })));
        assert_eq!(read[15], Ok(Some(Hold::NothingToSpray { below: 0.005 })));
    }

    #[test]
    fn other_words_are_helped() {
        for (text, help) in
            [("heat 95 degF", "\"hotter than 95 degF\""), ("raining", "rain coming")]
        {
            assert!(parse(text).err().unwrap().help.unwrap().contains(help), "{text}");
        }
        assert!(parse("windy 10").err().unwrap().message.contains("no unit"));
    }
}
