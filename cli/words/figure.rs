//! Figures over members: a typical value and a range, rounded to what they support.

use crate::round;
use crate::units::{Shown, Units};

/// Fewest members for a range that leaves out one in twenty at each end: 5 lie beyond each.
const RANGE_MIN: usize = 100;
/// A figure is not spoken finer than this part of itself.
const FINEST_PART: f64 = 1.0 / 200.0;

/// One outcome of one program, or a difference, in the reader's units.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    sorted: Vec<f64>,
    unit: Unit,
    finest: f64,
    /// Standard error of what it is told beside, where that may be the smaller.
    error: Option<f64>,
}

impl Figure {
    /// The figure of an outcome's values; `unit` is as in files, money is named.
    pub fn new(values: &[f64], unit: &'static str, units: Units, currency: &str) -> Figure {
        let (shown, unit) = shown(unit, units, currency);
        let mut sorted: Vec<f64> =
            values.iter().filter(|v| v.is_finite()).map(|v| v * shown.factor).collect();
        sorted.sort_by(f64::total_cmp);
        Figure { sorted, unit, finest: finest(shown.unit), error: None }
    }

    /// The figure of a level, such as a measure on a day: temperatures from their own zero, shares of
    /// one in %.
    pub fn level(values: &[f64], unit: &'static str, units: Units, currency: &str) -> Figure {
        let (unit, scale) = if unit == "share" { ("%", 100.0) } else { (unit, 1.0) };
        let Shown { factor, offset, .. } = units.shown(unit);
        // A difference has no zero of its own: only levels are moved to the shown scale's.
        let moved: Vec<f64> = values.iter().map(|v| v * scale + offset / factor).collect();
        Figure::new(&moved, unit, units, currency)
    }

    /// The same, as fine as the outcome of this key is told: changes of organic matter are
    /// hundredths of a percent.
    pub fn as_fine_as(mut self, key: &str) -> Figure {
        self.finest = self.finest.min(finest(round::unit_of(key, "")));
        self
    }

    /// The same, rounded by the error of what it is told beside: of two figures that are compared
    /// member by member, the difference is known better than either. `error` is metric.
    pub fn compared(mut self, error: f64, unit: &'static str, units: Units) -> Figure {
        self.error = Some(units.shown(unit).difference(error).abs());
        self
    }

    /// "about 34 % (9 in 10 between 12 and 55)".
    pub fn told(&self) -> String {
        let middle = self.middle();
        match self.ends() {
            Some((low, high)) if low != high => {
                let share = self.covered();
                let about = if middle.starts_with("less") { "" } else { "about " };
                format!("{about}{middle} ({share} between {low} and {high})")
            }
            _ => middle,
        }
    }

    /// Whether every value is zero.
    pub fn is_nothing(&self) -> bool {
        self.sorted.iter().all(|v| *v == 0.0)
    }

    /// "34" or "$590", for places where a unit that follows the figure stands elsewhere.
    pub fn short(&self) -> String {
        if self.sorted.is_empty() {
            return "not known".into();
        }
        let (median, step) = (self.quantile(0.5), self.step());
        let spoken = round::spoken(median, step);
        if is_zero(&spoken) && median > 0.0 {
            return format!("under {}{}", self.unit.before, round::spoken(step, step));
        }
        format!("{}{spoken}", self.unit.before)
    }

    /// "12 to 55" or "$545 to $625"; `None` where all values are the same.
    pub fn between(&self) -> Option<String> {
        let (low, high) = self.ends().filter(|(low, high)| low != high)?;
        Some(format!("{low} to {high}"))
    }

    /// What the range of a figure covers: "9 in 10", or all members where these are few.
    pub fn covered(&self) -> String {
        let all = self.sorted.len();
        if all < RANGE_MIN { format!("all {all}") } else { "9 in 10".into() }
    }

    /// The range, in the shown unit.
    pub fn range(&self) -> (f64, f64) {
        let outer = if self.sorted.len() < RANGE_MIN { 0.0 } else { 0.05 };
        (self.quantile(outer), self.quantile(1.0 - outer))
    }

    /// The range as spoken. Rounded outwards, so that no member is rounded out of it.
    fn ends(&self) -> Option<(String, String)> {
        let (first, last) = (self.sorted.first()?, self.sorted.last()?);
        let step = self.step();
        if first == last {
            let only = format!("{}{}", self.unit.before, round::spoken(*first, step));
            return Some((only.clone(), only));
        }
        let (low, high) = self.range();
        let told = |v: f64| format!("{}{}", self.unit.before, round::spoken(v * step, step));
        Some((told((low / step + 1e-9).floor()), told((high / step - 1e-9).ceil())))
    }

    /// The typical value alone: "34 %", or "less than 1 %" where it would round to nothing.
    pub fn middle(&self) -> String {
        self.middle_with(self.known_to())
    }

    /// The same beside others of the same futures, told as finely as the differences between them are
    /// known: to a standard error in the shown unit.
    pub fn middle_with(&self, error: f64) -> String {
        if self.sorted.is_empty() {
            return "not known".into();
        }
        let (median, step) = (self.quantile(0.5), self.step_with(error));
        let spoken = round::spoken(median, step);
        if is_zero(&spoken) && median > 0.0 {
            return format!("less than {}", self.unit.around(&round::spoken(step, step)));
        }
        self.unit.around(&spoken)
    }

    /// The step in which the figure and its range are spoken.
    fn step(&self) -> f64 {
        self.step_with(self.known_to())
    }

    fn step_with(&self, error: f64) -> f64 {
        let part = self.quantile(0.5).abs() * FINEST_PART;
        round::spoken_step(self.finest, error.max(part))
    }

    /// Linear interpolation between order statistics (type 7 of Hyndman and Fan 1996, The American
    /// Statistician 50:361-365).
    pub fn quantile(&self, p: f64) -> f64 {
        quantile(&self.sorted, p)
    }

    /// How finely it is known: to its own standard error, or to that beside another where smaller.
    fn known_to(&self) -> f64 {
        self.error.map_or(self.error(), |other| other.min(self.error()))
    }

    /// Standard error of the median, 1.2533 sd / sqrt(n) (its large-sample value for a normal).
    fn error(&self) -> f64 {
        let n = self.sorted.len() as f64;
        let mean = self.sorted.iter().sum::<f64>() / n;
        let var = self.sorted.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / n;
        1.2533 * (var / n).sqrt()
    }
}

/// The quantile `p` of sorted values; not a number where there are none.
pub fn quantile(sorted: &[f64], p: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else { return f64::NAN };
    let at = p.clamp(0.0, 1.0) * last as f64;
    let below = at.floor() as usize;
    let above = (below + 1).min(last);
    sorted[below] + (sorted[above] - sorted[below]) * (at - below as f64)
}

/// What stands before and after a figure: "$" before, " h" after.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Unit {
    before: String,
    after: String,
}

impl Unit {
    fn around(&self, figure: &str) -> String {
        format!("{}{figure}{}", self.before, self.after)
    }
}

/// How a unit is shown. A currency's symbol goes before the figure, its letters after.
fn shown(unit: &'static str, units: Units, currency: &str) -> (Shown, Unit) {
    let shown = units.shown(unit);
    let after = |text: &str| Unit { before: String::new(), after: format!(" {text}") };
    let unit = match shown.unit {
        "currency" if currency.chars().any(char::is_alphanumeric) => after(currency),
        "currency" => Unit { before: currency.to_string(), after: String::new() },
        "1-9" | "m2/m2" | "" => Unit { before: String::new(), after: String::new() },
        other => after(other),
    };
    (shown, unit)
}

/// A sum of money, to the nearest unit or hundredth: "$25", "45 USD".
pub fn money(amount: f64, currency: &str) -> String {
    let step = if amount.fract().abs() < 0.005 { 1.0 } else { 0.01 };
    shown("currency", Units::Us, currency).1.around(&round::spoken(amount, step))
}

/// The finest step in which a figure is spoken, by shown unit.
fn finest(unit: &str) -> f64 {
    match unit {
        "1-9" | "m2/m2" | "in" | "lb/1000 ft2" => 0.1,
        "g/m2" | "h" => 0.5,
        "% organic matter" => 0.01,
        _ => 1.0,
    }
}

/// A difference that rounds to nothing, in words.
pub const SAME: &str = "about the same";

/// A difference in words: "12 points lower", "9 h more", "0.8 points higher".
pub fn difference(
    key: &str,
    unit: &'static str,
    median: f64,
    error: f64,
    units: Units,
    currency: &str,
) -> String {
    let (shown, around) = shown(unit, units, currency);
    let step = difference_step(key, &shown, median, error);
    let size = round::spoken(shown.difference(median).abs(), step);
    if is_zero(&size) {
        return SAME.into();
    }
    let up = median >= 0.0;
    if matches!(unit, "%" | "1-9") {
        let direction = if up { "higher" } else { "lower" };
        return format!("{size}{} {direction}", plural(&size, " point"));
    }
    let told = around.around(&size);
    let told = if told == "1 days" { "1 day" } else { &told };
    format!("{told} {}", if up { "more" } else { "less" })
}

/// The step in which a difference and its range are spoken.
fn difference_step(key: &str, shown: &Shown, size: f64, error: f64) -> f64 {
    let finest = finest(round::unit_of(key, shown.unit));
    let part = shown.difference(size).abs() * FINEST_PART;
    round::spoken_step(finest, shown.difference(error).abs().max(part))
}

/// The ends of a difference's range in words, rounded outwards: "7 to 11", "$540 to $610", "up to 15",
/// and across zero "3 points lower to 1 point higher". `None` where there is no range.
pub fn difference_ends(
    key: &str,
    unit: &'static str,
    (low, high): (f64, f64),
    error: f64,
    units: Units,
    currency: &str,
) -> Option<String> {
    if !(low < high && high - low < f64::MAX) {
        return None;
    }
    let (shown, around) = shown(unit, units, currency);
    let step = difference_step(key, &shown, (low + high) / 2.0, error);
    let low = (shown.difference(low) / step + 1e-9).floor() * step;
    let high = (shown.difference(high) / step - 1e-9).ceil() * step;
    if low < 0.0 && high > 0.0 {
        let metric = |end: f64| end / shown.factor;
        let told = |end: f64| difference(key, unit, metric(end), error, units, currency);
        return Some(format!("{} to {}", told(low), told(high)));
    }
    let (least, most) = if high <= 0.0 { (-high, -low) } else { (low, high) };
    let told = |end: f64| format!("{}{}", around.before, round::spoken(end, step));
    // What lies to one side of zero is not told as if it might be none.
    let least = Some(least).filter(|end| *end > 0.0).map(told);
    let most = told(most);
    Some(least.map_or_else(|| format!("up to {most}"), |least| format!("{least} to {most}")))
}

fn is_zero(spoken: &str) -> bool {
    spoken.chars().all(|c| matches!(c, '0' | '.'))
}

fn plural(size: &str, what: &str) -> String {
    if size == "1" { what.to_string() } else { format!("{what}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(values: &[f64], unit: &'static str) -> String {
        Figure::new(values, unit, Units::Us, "$").told()
    }

    #[test]
    fn a_figure_says_what_its_range_covers() {
        let many: Vec<f64> = (0..1001).map(f64::from).map(|i| 20.0 + i / 50.0).collect();
        assert_eq!(told(&many, "%"), "about 30 % (9 in 10 between 21 and 39)");
        assert_eq!(told(&[20.0, 25.0, 30.0], "%"), "about 25 % (all 3 between 20 and 30)");
        assert_eq!(told(&[25.0; 3], "currency"), "$25");
        assert_eq!(told(&[], "%"), "not known");
    }

    #[test]
    fn a_little_is_not_told_as_nothing() {
        let little: Vec<f64> = (0..1000).map(|i| f64::from(i) / 1000.0 * 0.6).collect();
        assert_eq!(told(&little, "%"), "less than 1 % (9 in 10 between 0 and 1)");
    }

    #[test]
    fn a_difference_is_told_with_its_direction() {
        let told = |median| difference("cost", "currency", median, 4.0, Units::Us, "$");
        assert_eq!(told(612.0), "$610 more");
        assert_eq!(told(-612.0), "$610 less");
        assert_eq!(told(1.0), "about the same");
        let ends = |low, high| {
            difference_ends("crabgrass_peak", "%", (low, high), 0.9, Units::Us, "$").unwrap()
        };
        assert_eq!(ends(-10.2, -7.1), "7 to 11");
        assert_eq!(ends(-2.4, 0.6), "3 points lower to 1 point higher");
        assert_eq!(ends(0.2, 3.0), "up to 3");
        let cost = difference_ends("cost", "currency", (543.0, 612.0), 9.0, Units::Us, "$");
        assert_eq!(cost.as_deref(), Some("$540 to $620"));
        assert_eq!(difference_ends("cost", "currency", (5.0, 5.0), 0.0, Units::Us, "$"), None);
        let points = |median| difference("quality_summer", "1-9", median, 0.0, Units::Us, "$");
        assert_eq!(points(-0.8), "0.8 points lower");
    }
}
