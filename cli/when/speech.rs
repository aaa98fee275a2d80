//! How a setting and its values are spoken of.

use sim::quantity::{self, Kind};
use sim::scenario::{Dial, Measure, show_day};

use crate::units::Units;
use crate::words::name::quoted;

/// How one setting is spoken of: `axis` under a picture, with `{u}` for the unit; what stands before
/// and after a value in a sentence.
struct Phrase {
    key: &'static str,
    axis: &'static str,
    before: &'static str,
    after: &'static str,
}

const PHRASES: [Phrase; 22] = [
    phrase("split", "{U} from the first half to the second", "", " after the first"),
    phrase("on", "Day on which it is due", "on ", ""),
    phrase("from", "First day of its window", "with its window opening on ", ""),
    phrase("to", "Last day of its window", "with its window closing on ", ""),
    phrase(
        "soil-temperature",
        "Soil temperature that starts it, {u}",
        "once the soil stands at ",
        "",
    ),
    phrase("for", "{U} that the soil must stand there", "once the soil has stood there for ", ""),
    phrase("degree-days", "Degree-days that start it, {u}", "once warmth has added up to ", ""),
    phrase("base", "Base of the degree-days, {u}", "with degree-days above ", ""),
    phrase("every", "{U} from one to the next", "every ", ""),
    phrase("days-after", "{U} after {p}", "", " after {p}"),
    phrase("canopy-height", "Height of the grass at which it is due, {u}", "at a growth of ", ""),
    phrase(
        "dry-soil",
        "Soil water at which it is due, {u} of what roots can reach",
        "with soil water down to ",
        "",
    ),
    phrase(
        "crabgrass-cover",
        "Crabgrass at which it is due, {u} of the lawn",
        "with crabgrass up to ",
        " of the lawn",
    ),
    phrase(
        "broadleaf-cover",
        "Broadleaf weeds at which it is due, {u} of the lawn",
        "with broadleaf weeds up to ",
        " of the lawn",
    ),
    phrase(
        "nutsedge-cover",
        "Nutsedge at which it is due, {u} of the lawn",
        "with nutsedge up to ",
        " of the lawn",
    ),
    phrase("at-least-apart", "Least {u} between two", "at least ", " apart"),
    phrase("give-up", "{U} until it is given up", "given up after ", ""),
    phrase("height", "Height of cut, {u}", "at ", ""),
    phrase("depth", "Depth each time, {u}", "with ", " each time"),
    phrase("nitrogen", "Nitrogen each time, {u}", "with ", " each time"),
    phrase("rate", "Rate each time, {u}", "with ", " each time"),
    phrase("water-in", "Water given right after, {u}", "watered in with ", ""),
];

const fn phrase(
    key: &'static str,
    axis: &'static str,
    before: &'static str,
    after: &'static str,
) -> Phrase {
    Phrase { key, axis, before, after }
}

/// A setting in words.
pub(super) struct Speech {
    measure: Measure,
    unit: &'static str,
    factor: f64,
    offset: f64,
    axis: String,
    before: String,
    after: String,
}

impl Speech {
    /// The words for a setting of which these values are tried.
    pub(super) fn new(dial: &Dial, values: &[f64], units: Units) -> Speech {
        let weeks = |days: &f64| days % 7.0 == 0.0;
        let apart = dial.key == "split" || dial.after.is_some();
        let system = units.into();
        let (unit, factor, offset) = match dial.measure {
            Measure::Days if apart && values.iter().all(weeks) => ("weeks", 1.0 / 7.0, 0.0),
            Measure::Days | Measure::Date => ("days", 1.0, 0.0),
            // A barrier's product is weighed in ounces.
            Measure::Amount(Kind::MassPerArea) if units == Units::Us && small(dial) => {
                let (_, factor, _) = quantity::shown(Kind::MassPerArea, system);
                ("oz/1000 ft2", 16.0 * factor, 0.0)
            }
            Measure::Amount(kind) => match quantity::shown(kind, system) {
                ("degF", factor, offset) => ("°F", factor, offset),
                ("degC", factor, offset) => ("°C", factor, offset),
                shown => shown,
            },
        };
        let key = dial.key.replace('-', " ");
        let (axis, before, after) = match PHRASES.iter().find(|p| p.key == dial.key) {
            Some(p) => (p.axis.to_string(), p.before.to_string(), p.after.to_string()),
            None => (format!("{}, {{u}}", upper(&key)), format!("with {key} at "), String::new()),
        };
        let other = dial.after.as_deref().unwrap_or_default();
        let fill = |text: &str| {
            text.replace("{u}", unit).replace("{U}", &upper(unit)).replace("{p}", &quoted(other))
        };
        Speech {
            measure: dial.measure,
            unit,
            factor,
            offset,
            axis: fill(&axis),
            before: fill(&before),
            after: fill(&after),
        }
    }

    /// The value as the axis counts it.
    pub(super) fn shown(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// A text of one line with no break between a value and its unit.
    pub(super) fn unbroken(&self, text: &str) -> String {
        let unit = format!(" {}", self.unit);
        text.replace(&unit, &unit.replace(' ', "\u{a0}"))
    }

    /// The axis in words.
    pub(super) fn axis(&self) -> &str {
        &self.axis
    }

    /// "8", "15 Apr": as a number on the axis.
    pub(super) fn figure(&self, value: f64) -> String {
        if self.measure == Measure::Date {
            return show_day(value);
        }
        let shown = self.shown(value);
        let sixteenths = shown * 16.0;
        let whole = sixteenths.round();
        let part = (sixteenths - whole).abs() < 1e-6 && (1.0..16.0).contains(&whole);
        if self.unit == "in" && part {
            let (mut over, mut under) = (whole as u32, 16);
            while over.is_multiple_of(2) {
                (over, under) = (over / 2, under / 2);
            }
            return format!("{over}/{under}");
        }
        quantity::show_number(shown)
    }

    /// "8 weeks", "15 Apr".
    pub(super) fn value(&self, value: f64) -> String {
        self.with_unit(&self.figure(value))
    }

    /// "6 to 10 weeks".
    pub(super) fn range(&self, from: f64, to: f64) -> String {
        let (from, to) = (self.figure(from), self.figure(to));
        self.with_unit(&if from == to { from } else { format!("{from} to {to}") })
    }

    /// "6 to 10 weeks after the first": some values inside a sentence.
    pub(super) fn phrase(&self, from: f64, to: f64) -> String {
        let before = if self.before == "on " && from != to { "from " } else { &self.before };
        format!("{before}{}{}", self.range(from, to), self.after)
    }

    fn with_unit(&self, figure: &str) -> String {
        if self.measure == Measure::Date {
            return figure.to_string();
        }
        let unit = if figure == "1" { self.unit.trim_end_matches('s') } else { self.unit };
        format!("{figure} {unit}")
    }
}

/// Whether a product is laid by the ounce.
fn small(dial: &Dial) -> bool {
    // A pound on 1000 ft2 is 4.88 g/m2.
    dial.now.first().is_some_and(|now| *now < 4.88)
}

fn upper(words: &str) -> String {
    crate::words::name::upper_first(words)
}

/// The practice as the start of a sentence: "The barrier", "The second half of the barrier".
pub(super) fn subject(what: &str, practice: &str, dial: &Dial, nth: usize) -> String {
    let who = match what {
        "mow" => "mowing".to_string(),
        "pre-emergent" => "the barrier".to_string(),
        "spread" => "feeding".to_string(),
        "water" => "watering".to_string(),
        "topdress" => "compost".to_string(),
        "overseed" => "overseeding".to_string(),
        "spray" => "the spray".to_string(),
        "core" => "coring".to_string(),
        "scarify" => "scarifying".to_string(),
        "sod" => "laying sod".to_string(),
        _ => quoted(practice),
    };
    if dial.key == "split" {
        return format!("The second half of {who}");
    }
    if dial.now.len() > 1 {
        return format!("{}, number {} of {} in the year,", upper(&who), nth + 1, dial.now.len());
    }
    upper(&who)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn speech(key: &'static str, measure: Measure, now: f64, values: &[f64]) -> Speech {
        let range = (0.0, 1000.0);
        let dial = Dial { key, measure, range, now: vec![now], after: None, held_at: false };
        Speech::new(&dial, values, Units::Us)
    }

    #[test]
    fn values_are_told_as_people_say_them() {
        let split = speech("split", Measure::Days, 56.0, &[14.0, 56.0]);
        assert_eq!(split.phrase(42.0, 70.0), "6 to 10 weeks after the first");
        assert_eq!(split.axis(), "Weeks from the first half to the second");
        let odd = speech("split", Measure::Days, 60.0, &[56.0, 60.0]);
        assert_eq!(odd.value(60.0), "60 days");
        let on = speech("on", Measure::Date, 104.0, &[104.0]);
        assert_eq!(on.phrase(104.0, 118.0), "from 15 Apr to 29 Apr");
        let every = speech("every", Measure::Days, 7.0, &[1.0, 7.0]);
        assert_eq!((every.value(1.0), every.value(7.0)), ("1 day".into(), "7 days".into()));
        let depth = speech("depth", Measure::Amount(Kind::Depth), 6.35, &[6.35]);
        assert_eq!(depth.range(4.7625, 6.35), "3/16 to 1/4 in");
        assert_eq!((depth.value(25.4), depth.value(82.55)), ("1 in".into(), "3.25 in".into()));
        // Rounding of the unit's factor makes no fraction of it.
        assert_eq!(
            (depth.value(25.4 * (1.0 - 1e-12)), depth.value(0.0)),
            ("1 in".into(), "0 in".into())
        );
        let soil = speech("soil-temperature", Measure::Amount(Kind::Temperature), 10.0, &[10.0]);
        assert_eq!(soil.value(10.0), "50 °F");
    }
}
