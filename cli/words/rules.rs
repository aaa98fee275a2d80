//! The rules of the place, as the scenario states them.

use sim::scenario::Scenario;

use super::lines::wrap;
use crate::round;
use crate::units::Units;

/// Tells whose rules were taken, and what is left out beside water; empty where none are stated.
pub fn tell(scenario: &Scenario, units: Units) -> String {
    let told = sentences(scenario, units);
    if told.is_empty() { told } else { wrap(&told, 0, 0) }
}

/// The same on one line.
pub fn sentences(scenario: &Scenario, units: Units) -> String {
    let rules = &scenario.rules;
    if !rules.stated() {
        return String::new();
    }
    let read = match (rules.source.as_str(), rules.checked.as_str()) {
        ("", "") => "no source or day given".to_string(),
        (source, "") => format!("{source}; no day given"),
        ("", checked) => format!("no source given; read {checked}"),
        (source, checked) => format!("{source}; read {checked}"),
    };
    let mut text = format!(
        "Local rules as the scenario states them: {} ({read}). You must check what is in force where \
         the lawn is: laws change, and towns add their own.",
        rules.place
    );
    if rules.strip_m2 > 0.0 {
        let shown = units.shown("m2");
        let area = |m2: f64| format!("{} {}", round::spoken(m2 * shown.factor, 1.0), shown.unit);
        let what = if rules.strip_without_pesticide {
            "neither fertilizer nor herbicide"
        } else {
            "no fertilizer"
        };
        text.push_str(&format!(
            " The strip beside the water, {} of {}, gets {what}: hours, product and cost are for the \
             rest. The model plays one lawn, so how that strip fares without is not shown.",
            area(rules.strip_m2),
            area(scenario.lawn.area_m2)
        ));
    }
    text
}
