//! Ranges and figures of a lesson in the reader's units.

use sim::analysis::lesson::{Pair, median};
use sim::scenario::{Choice, Look};

use crate::round;
use crate::units::Units;
use crate::words::figure::{self, Figure};

/// How a lesson's figures are told.
#[derive(Clone, Copy, Debug)]
pub struct Amounts<'a> {
    /// The reader's units.
    pub units: Units,
    /// Label of all money.
    pub currency: &'a str,
}

/// Half the width of a 95 % interval in standard errors.
const ERRORS: f64 = 1.96;

impl Amounts<'_> {
    /// The figures of both programs in the middle future, with the change first: "34 %", "41 %".
    pub fn levels(&self, look: Look, pair: &Pair) -> (String, String) {
        let (unit, scale) = scaled(look.of.unit);
        let error = scale * error(&pair.differences());
        let told = |values: &[f64]| {
            let figure = Figure::level(values, look.of.unit, self.units, self.currency);
            figure.as_fine_as(look.of.key).compared(error, unit, self.units).middle()
        };
        (told(&pair.changed), told(&pair.usual))
    }

    /// The median change: "12 points higher".
    pub fn change(&self, look: Look, differences: &[f64]) -> String {
        let (middle, _) = median(differences);
        let error = error(differences);
        let (unit, scale) = scaled(look.of.unit);
        let told = figure::difference(
            look.of.key,
            unit,
            middle * scale,
            error * scale,
            self.units,
            self.currency,
        );
        let counts = counted(unit);
        match (told.strip_suffix(" less"), told.strip_suffix(" more")) {
            (Some(size), _) if size.contains(" per ") => format!("fewer by {size}"),
            (_, Some(size)) if size.contains(" per ") => format!("more by {size}"),
            (Some(size), _) if counts => format!("{size} fewer"),
            _ => told,
        }
    }

    /// What a choice says of the change: "higher by more than 5 points".
    pub fn change_range(&self, look: Look, choice: &Choice) -> String {
        let (less, more) = match look.of.unit {
            "%" | "1-9" | "share" | "degC" => ("lower", "higher"),
            unit if counted(unit) => ("fewer", "more"),
            _ => ("less", "more"),
        };
        let size = |value: f64| self.bound(look, value.abs(), true);
        match (choice.from, choice.to) {
            (None, None) => "any change".to_string(),
            (None, Some(to)) if to <= 0.0 => beyond(less, to, &size(to)),
            (None, Some(to)) => format!("{more} by less than {}, or {less}", size(to)),
            (Some(from), None) if from >= 0.0 => beyond(more, from, &size(from)),
            (Some(from), None) => format!("{less} by less than {}, or {more}", size(from)),
            (Some(from), Some(to)) if from == -to => format!("within {} either way", size(to)),
            (Some(from), Some(to)) if from >= 0.0 => {
                format!("{more} by {} to {}", self.number(look, from, true), size(to))
            }
            (Some(from), Some(to)) if to <= 0.0 => {
                format!("{less} by {} to {}", self.number(look, -to, true), size(from))
            }
            (Some(from), Some(to)) => {
                format!("from {} {less} to {} {more}", size(from), size(to))
            }
        }
    }

    /// What a choice says of a value: "10 to 20 %".
    pub fn value_range(&self, look: Look, choice: &Choice) -> String {
        let full = |value: f64| self.bound(look, value, false);
        match (choice.from, choice.to) {
            (None, None) => "any value".to_string(),
            (None, Some(to)) => format!("under {}", full(to)),
            (Some(from), None) => format!("{} or more", full(from)),
            (Some(from), Some(to)) => {
                format!("{} to {}", self.number(look, from, false), full(to))
            }
        }
    }

    /// The ends between which the change lies in 9 of 10 members: "between -1 and +32 points".
    pub fn spread(&self, look: Look, differences: &[f64]) -> Option<String> {
        let (unit, scale) = scaled(look.of.unit);
        let figure = Figure::new(differences, unit, self.units, "");
        let (low, high) = figure.range();
        let step = self.step(look);
        let (low, high) =
            ((low * scale / step).floor() * step, (high * scale / step).ceil() * step);
        (low != high).then(|| {
            let end = |value: f64| {
                let sign = if value > 0.0 { "+" } else { "" };
                format!("{sign}{}", round::spoken(value, step)).replace('-', "\u{2212}")
            };
            let unit = self.unit(look, true);
            format!("{} between {} and {}{unit}", figure.covered(), end(low), end(high))
        })
    }

    fn step(&self, look: Look) -> f64 {
        match self.units.shown(look.of.unit).unit {
            "1-9" | "in" | "lb/1000 ft2" | "h" => 0.1,
            _ if look.of.key.starts_with("organic_matter") => 0.01,
            _ => 1.0,
        }
    }

    /// An end of a range with its unit.
    fn bound(&self, look: Look, value: f64, change: bool) -> String {
        let number = self.number(look, value, change);
        if look.of.unit == "currency" && !self.currency.chars().any(char::is_alphanumeric) {
            return format!("{}{number}", self.currency);
        }
        let unit = self.unit(look, change);
        if number == "1" {
            format!("{number}{}", unit.trim_end_matches('s'))
        } else {
            format!("{number}{unit}")
        }
    }

    fn unit(&self, look: Look, change: bool) -> String {
        match self.units.shown(look.of.unit).unit {
            "%" | "1-9" | "share" if change => " points".to_string(),
            "1-9" | "" => String::new(),
            "share" => " %".to_string(),
            "m2/m2" => String::new(),
            "currency" => format!(" {}", self.currency),
            unit => format!(" {unit}"),
        }
    }

    /// An end of a range: as it was written, but for the last digits of a factor between units.
    fn number(&self, look: Look, value: f64, change: bool) -> String {
        let shown = self.units.shown(look.of.unit);
        let value = value * scaled(look.of.unit).1;
        let value = if change { shown.difference(value) } else { shown.value(value) };
        let steps = [1.0, 0.1, 0.01];
        let fits = |step: &&f64| {
            ((value / **step).round() * **step - value).abs() < 0.005 * value.abs().max(1e-9)
        };
        let step = steps.iter().find(fits).copied().unwrap_or(0.01);
        round::spoken(value, step)
    }
}

/// Standard error of the median of some differences; half their range where they are too few.
fn error(differences: &[f64]) -> f64 {
    let (_, (low, high)) = median(differences);
    if low.is_finite() && high.is_finite() {
        return (high - low) / 2.0 / ERRORS;
    }
    let ends = differences.iter().fold((f64::MAX, f64::MIN), |(l, h), d| (l.min(*d), h.max(*d)));
    (ends.1 - ends.0).max(0.0) / 2.0
}

/// Unit in which shares are told, and the factor to it.
fn scaled(unit: &'static str) -> (&'static str, f64) {
    if unit == "share" { ("%", 100.0) } else { (unit, 1.0) }
}

/// Whether there are fewer of something rather than less of it.
fn counted(unit: &str) -> bool {
    matches!(unit, "days" | "count" | "1/m2" | "1/dm2")
}

fn beyond(way: &str, end: f64, size: &str) -> String {
    if end == 0.0 { way.to_string() } else { format!("{way} by more than {size}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim::outcomes::{OUTCOMES, outcome};
    use sim::scenario::Named;

    fn range(key: &str, from: Option<f64>, to: Option<f64>) -> String {
        let amounts = Amounts { units: Units::Us, currency: "$" };
        let choice = Choice { says: String::new(), because: String::new(), from, to };
        let index = outcome(key).unwrap();
        let kind = OUTCOMES[index];
        let of = Named { key: kind.key, label: kind.label, unit: kind.unit };
        amounts.change_range(Look { of, index, when: None }, &choice)
    }

    #[test]
    fn ranges_say_their_ends() {
        assert_eq!(range("crabgrass_peak", None, Some(-5.0)), "lower by more than 5 points");
        assert_eq!(range("crabgrass_peak", Some(-5.0), Some(5.0)), "within 5 points either way");
        assert_eq!(range("crabgrass_peak", Some(5.0), Some(20.0)), "higher by 5 to 20 points");
        assert_eq!(range("days_acceptable", None, Some(-14.0)), "fewer by more than 14 days");
        assert_eq!(range("cost", Some(50.0), None), "more by more than $50");
        assert_eq!(range("quality_summer", Some(1.0), None), "higher by more than 1 point");
        // 1 in = 25.4 mm (NIST SP 811, appendix B.8).
        assert_eq!(range("water_used", None, Some(-25.4)), "less by more than 1 in");
    }
}
