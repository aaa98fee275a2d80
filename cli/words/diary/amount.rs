//! Amounts as people say them, in their units and no finer than they matter. What belongs on one line
//! is held together by no-break spaces, which [`super::wrap`] turns into plain ones.

use sim::calendar::Day;
use sim::calendar::MONTHS;

use crate::round::{fixed, rate_decimals, spoken};
use crate::units::Units;

/// Holds a figure and its unit together.
pub const HOLD: char = '\u{a0}';

/// "12 Jul".
pub fn date(day: Day) -> String {
    let (_, month, of_month) = day.ymd();
    format!("{of_month}{HOLD}{}", MONTHS[usize::from(month) - 1])
}

/// "31 %"; a little is not told as nothing, nor almost all as all.
pub fn share(share: f64) -> String {
    let percent = 100.0 * share;
    if percent > 0.0 && percent < 1.0 {
        return format!("less than 1{HOLD}%");
    }
    if (99.5..100.0).contains(&percent) {
        return format!("more than 99{HOLD}%");
    }
    format!("{}{HOLD}%", fixed(percent, 0))
}

/// "1 day", "12 days".
pub fn days(days: u32) -> String {
    times(days, "day")
}

/// "1 mowing", "12 mowings".
pub fn times(count: u32, what: &str) -> String {
    format!("{count}{HOLD}{what}{}", if count == 1 { "" } else { "s" })
}

impl Units {
    /// A depth of water: "0.6 in", "15 mm".
    pub(super) fn water(self, mm: f64) -> String {
        match self {
            Units::Us if mm > 0.0 && mm < 1.3 => "less than 0.1 in".into(),
            Units::Us => self.told("mm", mm, 1),
            Units::Metric if mm > 0.0 && mm < 0.5 => "less than 1 mm".into(),
            Units::Metric => self.told("mm", mm, 0),
        }
    }

    /// A height of grass or depth of compost: "3.2 in", "81 mm".
    pub(super) fn height(self, mm: f64) -> String {
        match self {
            Units::Us => {
                let inches = fixed(self.shown("mm").value(mm), 2);
                format!("{}{HOLD}in", inches.trim_end_matches('0').trim_end_matches('.'))
            }
            Units::Metric => self.told("mm", mm, 0),
        }
    }

    /// The same of a canopy, that nobody measures to hundredths.
    pub(super) fn canopy(self, mm: f64) -> String {
        let places = if self == Units::Us { 1 } else { 0 };
        let shown = self.shown("mm");
        let figure = fixed(shown.value(mm), places);
        format!("{}{HOLD}{}", figure.trim_end_matches(".0"), shown.unit)
    }

    /// "58 °F".
    pub(super) fn warmth(self, c: f64) -> String {
        self.told("degC", c, 0)
    }

    /// "95 °F-days": a sum of warmth, which has no offset.
    pub(super) fn warmth_sum(self, c_days: f64) -> String {
        let shown = self.shown("degC");
        format!("{}{HOLD}{}-days", fixed(shown.difference(c_days), 0), shown.unit)
    }

    /// "0.75 lb per 1000 ft2", of nitrogen or seed.
    pub(super) fn spread(self, g_m2: f64) -> String {
        match self {
            Units::Us => {
                format!("{}{HOLD}lb per 1000{HOLD}ft2", fixed(self.shown("g/m2").value(g_m2), 2))
            }
            Units::Metric => format!("{}{HOLD}g per m2", fixed(g_m2, 1)),
        }
    }

    /// "46 seedlings per ft2": two digits.
    pub(super) fn count(self, per_m2: f64, what: &str) -> String {
        let shown = self.shown("1/m2");
        let value = shown.value(per_m2);
        let figure = if value <= 0.0 {
            "no".into()
        } else if value < 0.95 {
            "fewer than 1".into()
        } else {
            spoken(value, 10f64.powi((value.log10().floor() as i32 - 1).max(0)))
        };
        let what = if what.is_empty() { String::new() } else { format!(" {what}") };
        format!("{figure}{what} {}", shown.unit)
    }

    /// "25 grown plants per 100 ft2", of what stands far apart: two digits.
    pub(super) fn sparse(self, per_m2: f64, what: &str) -> String {
        // 100 ft2 are 9.29 m2.
        let (area_m2, area) = match self {
            Units::Us => (9.290_304, format!("100{HOLD}ft2")),
            Units::Metric => (10.0, format!("10{HOLD}m2")),
        };
        let value = area_m2 * per_m2;
        let figure = if value < 0.95 {
            "no".into()
        } else {
            spoken(value, 10f64.powi((value.log10().floor() as i32 - 1).max(0)))
        };
        format!("{figure} {what} per {area}")
    }

    /// "0.5 lb ai/acre".
    pub(super) fn active(self, kg_ha: f64) -> String {
        self.told("kg ai/ha", kg_ha, rate_decimals(self.shown("kg ai/ha").value(kg_ha)))
    }

    fn told(self, unit: &'static str, value: f64, places: usize) -> String {
        let shown = self.shown(unit);
        format!("{}{HOLD}{}", fixed(shown.value(value), places), shown.unit)
    }
}
