//! A number in the kind's own unit back to words, in US or metric units.

use super::{Kind, parse};

/// Which units people see.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Units {
    /// Inches, pounds, square feet, degrees Fahrenheit.
    #[default]
    Us,
    /// Millimetres, kilograms, square metres, degrees Celsius.
    Metric,
}

/// Writes a value of a kind (in [`Kind::si_unit`]) for people: "3.25 in", "83 mm".
///
/// ```
/// use sim::quantity::{Kind, Units, show};
/// assert_eq!(show(76.2, Kind::Depth, Units::Us), "3 in");
/// assert_eq!(show(76.2, Kind::Depth, Units::Metric), "76.2 mm");
/// ```
pub fn show(si: f64, kind: Kind, units: Units) -> String {
    let (value, unit) = match kind {
        Kind::Temperature if units == Units::Us => (si * 1.8 + 32.0, "degF"),
        Kind::Temperature => (si, "degC"),
        _ => in_unit(si, kind, unit_of(kind, units)),
    };
    format!("{} {unit}", show_number(value))
}

/// How a kind is shown: the unit, the factor from [`Kind::si_unit`] to it, and what is added after the
/// factor (for temperatures; 0 elsewhere).
pub fn shown(kind: Kind, units: Units) -> (&'static str, f64, f64) {
    let unit = unit_of(kind, units);
    match (kind, units) {
        (Kind::Temperature, Units::Us) => (unit, 1.8, 32.0),
        _ => (unit, in_unit(1.0, kind, unit).0, 0.0),
    }
}

/// A number with three significant figures and no trailing zeros; whole above a thousand.
pub fn show_number(value: f64) -> String {
    if !value.is_finite() {
        return value.to_string();
    }
    let size = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    let decimals = (2.0 - size).clamp(0.0, 9.0) as usize;
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    };
    if text == "-0" { "0".to_string() } else { text }
}

fn in_unit(si: f64, kind: Kind, unit: &'static str) -> (f64, &'static str) {
    match parse(&format!("1 {unit}"), kind) {
        Ok(one) => (si / one, unit),
        Err(_) => (si, kind.si_unit()),
    }
}

/// The unit that people see for a kind.
pub(super) fn unit_of(kind: Kind, units: Units) -> &'static str {
    let (us, metric) = match kind {
        Kind::Length => ("ft", "m"),
        Kind::Depth => ("in", "mm"),
        Kind::Area => ("ft2", "m2"),
        Kind::MassPerArea => ("lb/1000 ft2", "g/m2"),
        Kind::NitrogenRate => ("lb N/1000 ft2", "g N/m2"),
        Kind::ActiveRate => ("lb ai/ac", "kg ai/ha"),
        Kind::VolumePerArea => ("fl oz/1000 ft2", "mL/m2"),
        Kind::Duration => ("days", "days"),
        Kind::Minutes => ("min", "min"),
        Kind::Speed => ("mph", "km/h"),
        Kind::Density => ("lb/gal", "kg/L"),
        Kind::Weight => ("lb", "kg"),
        Kind::Volume => ("gal", "L"),
        Kind::DepthPerHour => ("in/h", "mm/h"),
        Kind::Money => ("$", "$"),
        Kind::MoneyPerHour => ("$/h", "$/h"),
        Kind::MoneyPerVolume => ("$/yd3", "$/m3"),
        Kind::MoneyPerArea => ("$/1000 ft2", "$/100 m2"),
        Kind::MoneyPerNitrogen => ("$/lb N", "$/kg N"),
        Kind::MoneyPerWeight => ("$/lb", "$/kg"),
        Kind::MinutesPerArea => ("min/1000 ft2", "min/100 m2"),
        Kind::MinutesPerLayer => ("min/1000 ft2/in", "min/100 m2/mm"),
        Kind::CountPerArea => ("seeds/ft2", "seeds/m2"),
        Kind::Angle => ("deg", "deg"),
        Kind::Temperature => ("degF", "degC"),
        Kind::DegreeDays => ("degF days", "degC days"),
        Kind::Share | Kind::Slope => ("%", "%"),
    };
    if units == Units::Us { us } else { metric }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [Kind; 28] = [
        Kind::Length,
        Kind::Depth,
        Kind::Area,
        Kind::Temperature,
        Kind::DegreeDays,
        Kind::MassPerArea,
        Kind::NitrogenRate,
        Kind::ActiveRate,
        Kind::VolumePerArea,
        Kind::Share,
        Kind::Duration,
        Kind::Minutes,
        Kind::Speed,
        Kind::Density,
        Kind::Weight,
        Kind::Volume,
        Kind::DepthPerHour,
        Kind::Money,
        Kind::MoneyPerHour,
        Kind::MoneyPerVolume,
        Kind::MoneyPerArea,
        Kind::MoneyPerNitrogen,
        Kind::MoneyPerWeight,
        Kind::MinutesPerArea,
        Kind::MinutesPerLayer,
        Kind::CountPerArea,
        Kind::Angle,
        Kind::Slope,
    ];

    #[test]
    fn shown_values_read_back_within_three_figures() {
        for kind in KINDS {
            for units in [Units::Us, Units::Metric] {
                for value in [0.0432, 0.5, 7.25, 812.0] {
                    let text = show(value, kind, units);
                    let back = parse(&text, kind).unwrap_or_else(|f| panic!("{text}: {f:?}"));
                    let slack = if kind == Kind::Temperature { 0.3 } else { 0.005 * value };
                    assert!((back - value).abs() <= slack, "{kind:?} {value} -> {text} -> {back}");
                }
            }
        }
    }

    #[test]
    fn words_that_people_use() {
        assert_eq!(show(557.418_24, Kind::Area, Units::Us), "6000 ft2");
        assert_eq!(show(15.0, Kind::Temperature, Units::Us), "59 degF");
        assert_eq!(show(0.55, Kind::Share, Units::Us), "55 %");
        assert_eq!(show(0.728_55, Kind::ActiveRate, Units::Us), "0.65 lb ai/ac");
        assert_eq!(show_number(0.0), "0");
        assert_eq!(show_number(-0.000_000_000_1), "0");
    }
}
