//! The table of units. Factors are exact by definition (international yard and pound, 1959; US
//! gallon of 231 cubic inches; NIST SP 811, appendix B). The acre is the international one.

/// Exponents of length, mass, time, money and plane angle.
pub(super) type Dim = [i8; 5];

pub(super) const NONE: Dim = [0, 0, 0, 0, 0];
pub(super) const LENGTH: Dim = [1, 0, 0, 0, 0];
pub(super) const AREA: Dim = [2, 0, 0, 0, 0];
pub(super) const VOLUME: Dim = [3, 0, 0, 0, 0];
pub(super) const MASS: Dim = [0, 1, 0, 0, 0];
pub(super) const TIME: Dim = [0, 0, 1, 0, 0];
pub(super) const MONEY: Dim = [0, 0, 0, 1, 0];
pub(super) const ANGLE: Dim = [0, 0, 0, 0, 1];

/// A unit: the names a person may write (the first is the one we show), its size in m, kg, s,
/// money and degrees of arc, and its dimension.
pub(super) struct Unit {
    pub names: &'static [&'static str],
    pub size: f64,
    pub dim: Dim,
}

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;
const YARD: f64 = 0.9144;
const POUND: f64 = 0.453_592_37;
const GALLON: f64 = 0.003_785_411_784;
const DAY: f64 = 86_400.0;

const fn unit(names: &'static [&'static str], size: f64, dim: Dim) -> Unit {
    Unit { names, size, dim }
}

/// Every unit but those of temperature, which are not mere factors.
pub(super) const UNITS: &[Unit] = &[
    unit(&["in", "inch", "inches", "\""], INCH, LENGTH),
    unit(&["ft", "foot", "feet"], FOOT, LENGTH),
    unit(&["yd", "yard", "yards"], YARD, LENGTH),
    unit(&["mi", "mile", "miles"], 1609.344, LENGTH),
    unit(&["mm", "millimeter", "millimeters", "millimetre", "millimetres"], 1e-3, LENGTH),
    unit(&["cm", "centimeter", "centimeters", "centimetre", "centimetres"], 1e-2, LENGTH),
    unit(&["m", "meter", "meters", "metre", "metres"], 1.0, LENGTH),
    unit(&["km", "kilometer", "kilometers", "kilometre", "kilometres"], 1e3, LENGTH),
    unit(&["ac", "acre", "acres"], 43_560.0 * FOOT * FOOT, AREA),
    unit(&["ha", "hectare", "hectares"], 1e4, AREA),
    unit(&["sqft"], FOOT * FOOT, AREA),
    unit(&["gal", "gallon", "gallons"], GALLON, VOLUME),
    unit(&["qt", "quart", "quarts"], GALLON / 4.0, VOLUME),
    unit(&["pt", "pint", "pints"], GALLON / 8.0, VOLUME),
    unit(&["fl oz", "floz", "fluid ounce", "fluid ounces"], GALLON / 128.0, VOLUME),
    unit(&["L", "l", "liter", "liters", "litre", "litres"], 1e-3, VOLUME),
    unit(&["mL", "ml", "milliliter", "milliliters", "millilitre", "millilitres"], 1e-6, VOLUME),
    unit(&["lb", "lbs", "pound", "pounds"], POUND, MASS),
    unit(&["oz", "ounce", "ounces"], POUND / 16.0, MASS),
    unit(&["ton", "tons"], POUND * 2000.0, MASS),
    unit(&["mg"], 1e-6, MASS),
    unit(&["g", "gram", "grams"], 1e-3, MASS),
    unit(&["kg", "kilogram", "kilograms"], 1.0, MASS),
    unit(&["t", "tonne", "tonnes"], 1e3, MASS),
    unit(&["s", "sec", "second", "seconds"], 1.0, TIME),
    unit(&["min", "minute", "minutes"], 60.0, TIME),
    unit(&["h", "hr", "hrs", "hour", "hours"], 3600.0, TIME),
    unit(&["days", "day", "d"], DAY, TIME),
    unit(&["weeks", "week", "wk", "wks"], 7.0 * DAY, TIME),
    unit(&["mph"], 1609.344 / 3600.0, [1, 0, -1, 0, 0]),
    unit(&["kph"], 1000.0 / 3600.0, [1, 0, -1, 0, 0]),
    unit(&["%", "percent", "pct"], 0.01, NONE),
    unit(&["deg", "degree", "degrees", "°"], 1.0, ANGLE),
    unit(&["$", "USD", "CAD", "AUD", "EUR", "GBP", "€", "£"], 1.0, MONEY),
];

/// Words that say what is weighed or counted and leave the size alone.
pub(super) const QUALIFIERS: &[(&str, Qualifier)] = &[
    ("N", Qualifier::Nitrogen),
    ("nitrogen", Qualifier::Nitrogen),
    ("ai", Qualifier::Active),
    ("a.i.", Qualifier::Active),
    ("ae", Qualifier::Active),
    ("seeds", Qualifier::Count),
    ("seed", Qualifier::Count),
    ("product", Qualifier::Product),
];

/// What is weighed or counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Qualifier {
    Nitrogen,
    Active,
    Count,
    Product,
}

/// The unit of this name: as written first, then without regard to case.
pub(super) fn find(name: &str) -> Option<&'static Unit> {
    let exact = UNITS.iter().find(|u| u.names.contains(&name));
    exact.or_else(|| UNITS.iter().find(|u| u.names.iter().any(|n| n.eq_ignore_ascii_case(name))))
}

/// What a dimension measures, for messages.
pub(super) fn dimension_name(dim: Dim) -> &'static str {
    match dim {
        NONE => "a plain number or share",
        LENGTH => "a length",
        AREA => "an area",
        VOLUME => "a volume",
        MASS => "a weight",
        TIME => "a time",
        MONEY => "an amount of money",
        ANGLE => "an angle",
        [1, 0, -1, 0, 0] => "a speed",
        [-2, 1, 0, 0, 0] => "a weight per area",
        [-3, 1, 0, 0, 0] => "a weight per volume",
        [-2, 0, 0, 0, 0] => "a number per area",
        [-2, 0, 1, 0, 0] => "a time per area",
        [0, 0, -1, 1, 0] => "money per time",
        [-2, 0, 0, 1, 0] => "money per area",
        [-3, 0, 0, 1, 0] => "money per volume",
        [0, -1, 0, 1, 0] => "money per weight",
        _ => "something else",
    }
}
