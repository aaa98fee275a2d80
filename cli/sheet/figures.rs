//! Amounts as a crew measures them, in the reader's units.

use sim::analysis::sheet::load::Dose;
use sim::calendar::Day;
use sim::quantity::{self, Kind};

use super::phrases::Lang;
use crate::units::Units;

/// Exact: avoirdupois pound, US gallon, cubic yard (NIST SP 811, appendix B.8).
const LB_KG: f64 = 0.453_592_37;
const GAL_L: f64 = 3.785_411_784;
const YD3_M3: f64 = 0.764_554_857_984;
const OUNCES: f64 = 16.0;
const FL_OUNCES: f64 = 128.0;
/// Square metres of an acre (NIST SP 811, appendix B.8).
const ACRE_M2: f64 = 4_046.856_422_4;

/// Two decimals without trailing zeros, thousands set apart: "18.75", "9.4", "1,870".
pub(super) fn number(value: f64) -> String {
    let decimals = if value.abs() >= 1000.0 { 0 } else { 2 };
    let text = crate::round::spoken(value, 10f64.powi(-decimals));
    match text.split_once('.') {
        Some(_) => text.trim_end_matches('0').trim_end_matches('.').to_string(),
        None => text,
    }
}

/// "18.75 lb (18 lb 12 oz)", "2.24 oz", "8.5 kg", "63.5 g".
pub(super) fn weight(kg: f64, units: Units) -> String {
    match units {
        Units::Us => {
            let pounds = kg / LB_KG;
            if pounds < 1.0 {
                return format!("{} oz", number(pounds * OUNCES));
            }
            let ounces = (pounds * OUNCES).round();
            let (whole, rest) = ((ounces / OUNCES).floor(), ounces % OUNCES);
            let plain = format!("{} lb", number(pounds));
            if rest == 0.0 { plain } else { format!("{plain} ({whole:.0} lb {rest:.0} oz)") }
        }
        Units::Metric if kg < 1.0 => format!("{} g", number(kg * 1000.0)),
        Units::Metric => format!("{} kg", number(kg)),
    }
}

/// "4.41 fl oz", "1.25 gal", "130 mL", "2.5 L".
pub(super) fn liquid(litres: f64, units: Units) -> String {
    match units {
        Units::Us if litres < GAL_L => format!("{} fl oz", number(litres / GAL_L * FL_OUNCES)),
        Units::Us => format!("{} gal", number(litres / GAL_L)),
        Units::Metric if litres < 1.0 => format!("{} mL", number(litres * 1000.0)),
        Units::Metric => format!("{} L", number(litres)),
    }
}

/// Mix or water, which nobody measures in ounces: "6 gal", "1,870 gal", "23 L".
pub(super) fn water(litres: f64, units: Units) -> String {
    let (figure, unit) = match units {
        Units::Us => (litres / GAL_L, "gal"),
        Units::Metric => (litres, "L"),
    };
    // Hundreds of gallons are not measured to the hundredth.
    format!("{} {unit}", number(if figure < 100.0 { figure } else { figure.round() }))
}

/// "4.63 yd3", "3.54 m3".
pub(super) fn loose(m3: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} yd3", number(m3 / YD3_M3)),
        Units::Metric => format!("{} m3", number(m3)),
    }
}

/// An amount of a dose for an area, as [`Dose::on`] gives it.
pub(super) fn amount(dose: Dose, amount: f64, units: Units) -> String {
    match dose {
        Dose::Dry(_) => weight(amount, units),
        Dose::Liquid(_) => liquid(amount, units),
        Dose::Layer(_) => loose(amount, units),
        Dose::Water(_) => water(amount, units),
    }
}

/// Spray mix on an area: "1 gal/1000 ft2", "4 L/100 m2".
pub(super) fn carrier(ml_m2: f64, units: Units) -> String {
    match units {
        // 1000 ft2 are 92.90304 m2.
        Units::Us => format!("{} gal/1000 ft2", number(ml_m2 * 92.903_04 / 1000.0 / GAL_L)),
        Units::Metric => format!("{} L/100 m2", number(ml_m2 / 10.0)),
    }
}

/// The same for a large area, without its unit: gal/ac, L/ha.
pub(super) fn carrier_large(ml_m2: f64, units: Units) -> String {
    match units {
        Units::Us => number(ml_m2 * ACRE_M2 / 1000.0 / GAL_L),
        Units::Metric => number(ml_m2 * 10.0),
    }
}

/// A value of a kind: "3 in", "50 °F".
pub(super) fn shown(value: f64, kind: Kind, units: Units) -> String {
    quantity::show(value, kind, units.into()).replace(" deg", " °")
}

/// "12 Apr", "12 abr".
pub(super) fn day(day: Day, lang: Lang) -> String {
    let (_, month, day) = day.ymd();
    format!("{day} {}", lang.short_month(month))
}

/// "4 to 21 Apr", "28 Mar to 4 Apr".
pub(super) fn days(first: Day, last: Day, lang: Lang) -> String {
    let (of, to) = (first.ymd(), last.ymd());
    if first == last {
        return day(first, lang);
    }
    if (of.0, of.1) == (to.0, to.1) {
        return format!("{}\u{2013}{}", of.2, day(last, lang));
    }
    format!("{}\u{2013}{}", day(first, lang), day(last, lang))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_as_crews_measure_them() {
        // 18.75 lb = 18 lb 12 oz; 0.14 lb = 2.24 oz.
        assert_eq!(weight(18.75 * LB_KG, Units::Us), "18.75 lb (18 lb 12 oz)");
        assert_eq!(weight(18.0 * LB_KG, Units::Us), "18 lb");
        assert_eq!(weight(1.999 * LB_KG, Units::Us), "2 lb");
        assert_eq!(weight(0.14 * LB_KG, Units::Us), "2.24 oz");
        assert_eq!(weight(0.0635, Units::Metric), "63.5 g");
        assert_eq!(liquid(4.0 * GAL_L, Units::Us), "4 gal");
        assert_eq!(liquid(0.1304, Units::Metric), "130.4 mL");
        assert_eq!(water(27_154.0 * GAL_L, Units::Us), "27,154 gal");
        assert_eq!(water(935.06 * GAL_L, Units::Us), "935 gal");
        assert_eq!(water(6.5 * GAL_L, Units::Us), "6.5 gal");
        assert_eq!(carrier(40.745_8, Units::Us), "1 gal/1000 ft2");
        assert_eq!(carrier_large(40.745_8, Units::Us), "43.56");
    }

    #[test]
    fn days_that_share_a_month_say_it_once() {
        let of = |month, day| Day::from_ymd(2026, month, day).unwrap();
        assert_eq!(days(of(4, 4), of(4, 21), Lang::En), "4\u{2013}21 Apr");
        assert_eq!(days(of(3, 28), of(4, 4), Lang::Es), "28 mar\u{2013}4 abr");
        assert_eq!(days(of(3, 28), of(3, 28), Lang::En), "28 Mar");
    }
}
