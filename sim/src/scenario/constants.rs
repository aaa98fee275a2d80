//! The names of the model's constants and what an override of one may hold.

use super::Uncertain;
use super::fault::near;
use crate::parameters::{self, Entry, Spread};

/// The catalogue; empty where it cannot be read, and then any name passes here.
pub(super) fn catalogue() -> Vec<Entry> {
    parameters::catalogue(parameters::TEXT).unwrap_or_default()
}

/// The names that one who wrote `name` may have meant: one with the same last part under another
/// group, else the nearest in spelling, whole or by its last part.
pub(super) fn meant<'a>(name: &str, entries: &'a [Entry]) -> Option<&'a str> {
    let last = |name: &str| name.rsplit('.').next().unwrap_or_default().to_lowercase();
    let names = || entries.iter().map(|entry| entry.name.as_str());
    let found = |wanted: &str| names().find(|n| n.eq_ignore_ascii_case(wanted));
    let by_last = |wanted: &str| names().find(|n| last(n) == wanted);
    found(name)
        .or_else(|| by_last(&last(name)))
        .or_else(|| near(name, names()).and_then(|n| found(&n)))
        .or_else(|| {
            let parts: Vec<String> = names().map(last).collect();
            near(&last(name), parts.iter().map(String::as_str)).and_then(|part| by_last(&part))
        })
}

/// What a value must keep to: a share stays a share, and what cannot be negative stays above it.
pub(super) fn bounds(entry: &Entry) -> (f64, f64) {
    let share = entry.unit.starts_with("share") || entry.unit == "vol/vol";
    let high = if share && entry.value <= 1.0 { 1.0 } else { f64::INFINITY };
    match entry.unit.as_str() {
        // The sign of a temperature says nothing.
        "degC" => (-100.0, 100.0),
        _ if entry.value > 0.0 => (0.0, high),
        _ => (f64::NEG_INFINITY, high),
    }
}

/// Why a value is a doubtful one, where it lies far from where the catalogue's may.
pub(super) fn far(entry: &Entry, value: Uncertain) -> Option<String> {
    let (low, high) = match entry.spread {
        Spread::Fixed => (entry.value, entry.value),
        Spread::Uniform(low, high) | Spread::Triangular(low, high) => (low, high),
        // Draws are cut there.
        Spread::Normal(sd) => {
            let away = sd * crate::draw::CUT_SD;
            (entry.value - away, entry.value + away)
        }
        Spread::LogNormal(gsd) => {
            let away = gsd.powf(crate::draw::CUT_SD);
            (entry.value / away, entry.value * away)
        }
    };
    // A temperature is far off by degrees, anything else by a factor: our judgement.
    let (low, high) = match entry.unit.as_str() {
        "degC" => (low - FAR_DEGC, high + FAR_DEGC),
        _ if entry.value > 0.0 => (low / FAR_FACTOR, high * FAR_FACTOR),
        _ => return None,
    };
    let likely = value.likely();
    (likely < low || likely > high).then(|| {
        format!(
            "{likely} is far from the {} that the model takes for `{}`",
            entry.value, entry.name
        )
    })
}

const FAR_DEGC: f64 = 10.0;
const FAR_FACTOR: f64 = 5.0;

/// What is expected of an override.
pub(super) fn expected(entry: &Entry) -> String {
    let unit = if entry.unit == "1" { String::new() } else { format!(" in {}", entry.unit) };
    let (low, high) = bounds(entry);
    let within = match (low.is_finite(), high.is_finite()) {
        (true, true) => format!(" between {low} and {high}"),
        (true, false) if low == 0.0 => " of 0 or more".to_string(),
        _ => String::new(),
    };
    let value = entry.value;
    format!(
        "a number{unit}{within}, such as {value}; a range [low, high]; or {{ low = .., likely = \
         .., high = .. }}"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_found_by_its_last_part_and_by_its_spelling() {
        let all = catalogue();
        assert_eq!(meant("crop_coefficient", &all), Some("water.crop_coefficient"));
        assert_eq!(meant("soil.crop_coefficient", &all), Some("water.crop_coefficient"));
        assert_eq!(meant("water.crop_coeficient", &all), Some("water.crop_coefficient"));
        assert_eq!(meant("crop_coeficient", &all), Some("water.crop_coefficient"));
        assert_eq!(meant("zzzz", &all), None);
    }

    #[test]
    fn every_constant_keeps_to_its_own_bounds() {
        for entry in catalogue() {
            let (low, high) = bounds(&entry);
            assert!((low..=high).contains(&entry.value), "{}", entry.name);
            assert_eq!(far(&entry, Uncertain::Exact(entry.value)), None, "{}", entry.name);
        }
    }
}
