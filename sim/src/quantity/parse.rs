//! Text to a number in the kind's own unit.

use super::Kind;
use super::expression::{self, Expression, ExpressionFault};
use super::number::{self, NumberFault};
use super::show::{Units, unit_of};
use super::unit::{self, Qualifier, UNITS};

/// Longest word for which a unit is guessed, bytes; no unit's name is longer.
const NEAR_MOST: usize = 60;

/// Why a quantity was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuantityFault {
    /// What is wrong, with the text as written.
    pub message: String,
    /// What was expected, with an example.
    pub expected: String,
    /// A unit or spelling that was perhaps meant.
    pub suggestion: Option<String>,
}

/// Reads `text` ("3.25 in") as a quantity of a kind; the number is in [`Kind::si_unit`].
///
/// ```
/// use sim::quantity::{Kind, parse};
/// assert_eq!(parse("1/4 in", Kind::Depth).unwrap(), 6.35);
/// ```
///
/// # Errors
/// A message, an example, and a near miss where there is one. A number without a unit is a fault.
pub fn parse(text: &str, kind: Kind) -> Result<f64, QuantityFault> {
    parse_any(text, &[kind]).map(|(_, value)| value)
}

/// Reads `text` as whichever of several kinds its unit belongs to ("0.3 oz/1000 ft2" or
/// "0.65 lb ai/ac").
///
/// # Errors
/// As for [`parse`]; the fault shows an example of each kind.
pub fn parse_any(text: &str, kinds: &[Kind]) -> Result<(Kind, f64), QuantityFault> {
    let ask = Ask { text: text.trim(), kinds };
    if kinds.contains(&Kind::Slope)
        && let Some(slope) = slope_ratio(ask.text)
    {
        return Ok((Kind::Slope, slope));
    }
    let (value, rest) = ask.number()?;
    if !value.is_finite() {
        return Err(ask.fault(format!("\"{}\" is not a finite number", ask.text), None));
    }
    if kinds.contains(&Kind::Temperature)
        && let Some(celsius) = temperature(value, rest.trim())
    {
        return Ok((Kind::Temperature, celsius));
    }
    if kinds.contains(&Kind::DegreeDays)
        && let Some(sum) = degree_days(value, rest.trim())
    {
        return Ok((Kind::DegreeDays, sum));
    }
    let after = rest.trim_start();
    if let Some(high) = after.strip_prefix(['-', '–']).or_else(|| after.strip_prefix("to ")) {
        let high = high.trim();
        let unit = high.trim_start_matches(|c: char| c.is_ascii_digit() || "., ".contains(c));
        let message = format!(
            "\"{}\" is a range; where one may stand, it is written [\"{value} {unit}\", \"{high}\"]",
            ask.text
        );
        return Err(ask.fault(message, None));
    }
    if rest.trim().is_empty() {
        let unit = kinds.first().map(|kind| unit_of(*kind, Units::Us));
        let meant = unit.map(|unit| format!("{} {unit}", ask.text));
        return Err(ask.fault(format!("\"{}\" has no unit", ask.text), meant));
    }
    let found = expression::read(&rest).map_err(|fault| ask.unit_fault(&fault))?;
    ask.pick(value, &found)
}

struct Ask<'t> {
    text: &'t str,
    kinds: &'t [Kind],
}

impl<'t> Ask<'t> {
    /// The number, with the money sign of "$25/h" moved behind it.
    fn number(&self) -> Result<(f64, String), QuantityFault> {
        let sign = self.text.chars().next().filter(|c| matches!(c, '$' | '€' | '£'));
        let body = sign.map_or(self.text, |c| self.text[c.len_utf8()..].trim_start());
        match number::take(body) {
            Ok((value, rest)) => Ok((value, format!("{}{rest}", sign.map_or("", |_| "$")))),
            Err(NumberFault::Comma) => Err(self.fault(
                format!("\"{}\" has a comma that is not a thousands mark", self.text),
                Some(self.text.replace(',', ".")),
            )),
            Err(NumberFault::Fraction) => {
                Err(self.fault(format!("\"{}\" is not a fraction", self.text), None))
            }
            Err(NumberFault::Missing) => {
                Err(self.fault(format!("\"{}\" does not start with a number", self.text), None))
            }
        }
    }

    /// The kind that the unit belongs to, and the number in that kind's unit.
    fn pick(&self, value: f64, found: &Expression) -> Result<(Kind, f64), QuantityFault> {
        for kind in self.kinds {
            if let Some(value) = convert(value, found, *kind) {
                return Ok((*kind, value));
            }
        }
        let said = found.said.first();
        let same_dim = self.kinds.iter().find(|k| k.dim() == found.dim);
        let message = match same_dim.and_then(|k| k.must_say()) {
            Some(Qualifier::Nitrogen) if said.is_none() => {
                format!("\"{}\" does not say what is weighed: nitrogen, or product?", self.text)
            }
            Some(Qualifier::Active) if said.is_none() => format!(
                "\"{}\" does not say what is weighed: active ingredient, or product?",
                self.text
            ),
            _ if same_dim.is_some() => {
                format!("\"{}\" weighs or counts the wrong thing", self.text)
            }
            _ => format!(
                "\"{}\" is {}, not {}",
                self.text,
                unit::dimension_name(found.dim),
                self.names()
            ),
        };
        Err(self.fault(message, self.liquid_hint(found)))
    }

    /// An "oz" of a liquid is the commonest slip: it must be "fl oz".
    fn liquid_hint(&self, found: &Expression) -> Option<String> {
        let wants_liquid = self.kinds.contains(&Kind::VolumePerArea);
        let has_mass = found.dim == Kind::MassPerArea.dim() && self.text.contains("oz");
        (wants_liquid && has_mass).then(|| self.text.replacen("oz", "fl oz", 1))
    }

    fn unit_fault(&self, fault: &ExpressionFault) -> QuantityFault {
        match fault {
            ExpressionFault::EmptyPer => {
                self.fault(format!("\"{}\" has nothing after a \"/\"", self.text), None)
            }
            ExpressionFault::Unknown(word) => {
                let near =
                    near_unit(word, self.kinds).map(|name| self.text.replacen(word, name, 1));
                self.fault(
                    format!("\"{word}\" in \"{}\" is not a unit that we know", self.text),
                    near,
                )
            }
        }
    }

    fn names(&self) -> String {
        self.kinds.iter().map(|k| k.name()).collect::<Vec<_>>().join(" or ")
    }

    fn fault(&self, message: String, suggestion: Option<String>) -> QuantityFault {
        let examples: Vec<_> = self.kinds.iter().map(|k| k.example()).collect();
        QuantityFault {
            message,
            expected: format!("{}, such as {}", self.names(), examples.join(" or ")),
            suggestion,
        }
    }
}

fn convert(value: f64, found: &Expression, kind: Kind) -> Option<f64> {
    if kind == Kind::Slope && found.dim == unit::ANGLE && (0.0..89.0).contains(&value) {
        return Some((value * found.size).to_radians().tan());
    }
    let said_right = found.said.iter().all(|said| kind.may_say(*said));
    let said_enough = kind.must_say().is_none_or(|must| found.said.contains(&must));
    let per_right = kind != Kind::VolumePerArea || found.per;
    if matches!(kind, Kind::Temperature | Kind::DegreeDays) || kind.dim() != found.dim {
        return None;
    }
    (said_right && said_enough && per_right).then(|| tidy(value * (found.size * kind.per_base())))
}

/// Rounds to 15 significant figures, so that 3 in is 76.2 mm and not a hair less.
fn tidy(value: f64) -> f64 {
    format!("{value:.14e}").parse().unwrap_or(value)
}

fn temperature(value: f64, unit: &str) -> Option<f64> {
    let unit = unit.replace('°', "deg").replace(' ', "").to_ascii_lowercase();
    match unit.as_str() {
        "degf" | "f" | "fahrenheit" | "degreesf" => Some(tidy((value - 32.0) / 1.8)),
        "degc" | "c" | "celsius" | "degreesc" => Some(value),
        _ => None,
    }
}

/// "200 degF days", "110 degC-days": the degrees are steps, so no zero is shifted.
fn degree_days(value: f64, unit: &str) -> Option<f64> {
    let unit = unit.replace('°', "deg").replace([' ', '-'], "").to_ascii_lowercase();
    let degrees = ["days", "day", "d"].into_iter().find_map(|days| unit.strip_suffix(days))?;
    match degrees {
        "degf" | "f" => Some(tidy(value / 1.8)),
        "degc" | "c" => Some(value),
        _ => None,
    }
}

/// "1:20" and "1 in 20".
fn slope_ratio(text: &str) -> Option<f64> {
    let (rise, run) = text.split_once(':').or_else(|| text.split_once(" in "))?;
    let (rise, run): (f64, f64) = (rise.trim().parse().ok()?, run.trim().parse().ok()?);
    (run > 0.0 && rise >= 0.0).then_some(rise / run)
}

/// The unit nearest to a word, of those that fit one of the kinds by themselves first.
fn near_unit(word: &str, kinds: &[Kind]) -> Option<&'static str> {
    if kinds.contains(&Kind::DegreeDays) {
        return Some("degF days");
    }
    if kinds.contains(&Kind::Temperature) {
        return Some(if word.to_ascii_lowercase().contains('c') { "degC" } else { "degF" });
    }
    if word.len() > NEAR_MOST {
        return None;
    }
    let lower = word.to_ascii_lowercase();
    let candidates = UNITS.iter().flat_map(|u| u.names.iter().map(move |n| (u, *n)));
    candidates
        .map(|(u, name)| {
            let near = strsim::damerau_levenshtein(&lower, &name.to_ascii_lowercase());
            let fits = kinds.iter().any(|k| k.dim() == u.dim);
            (near, !fits, name, u.names[0])
        })
        .filter(|(near, _, name, _)| *near <= 2 && *near < name.len().max(2))
        .min_by_key(|(near, fits, ..)| (*near, *fits))
        .map(|(.., shown)| shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(text: &str, kind: Kind, expected: f64) {
        let got = parse(text, kind).unwrap_or_else(|f| panic!("{text}: {f:?}"));
        assert!((got - expected).abs() <= 1e-9 * expected.abs().max(1e-9), "{text}: {got}");
    }

    /// Factors from NIST SP 811 (2008), appendix B.8; the rest are definitions.
    #[test]
    fn units_of_every_kind() {
        close("3.25 in", Kind::Depth, 82.55);
        close("21 in", Kind::Length, 0.5334);
        close("6000 ft2", Kind::Area, 6000.0 * 0.092_903_04);
        close("6,000 sq. ft.", Kind::Area, 6000.0 * 0.092_903_04);
        close("1 ac", Kind::Area, 4_046.856_422_4);
        close("0.5 ha", Kind::Area, 5000.0);
        close("60 degF", Kind::Temperature, 140.0 / 9.0);
        close("15 °C", Kind::Temperature, 15.0);
        close("0.3 oz/1000 ft2", Kind::MassPerArea, 0.3 * 28.349_523_125 / 92.903_04);
        close("0.65 lb ai/ac", Kind::ActiveRate, 0.65 * 1.120_851_156);
        close("1 lb N/1000 ft2", Kind::NitrogenRate, 453.592_37 / 92.903_04);
        close("1 lb N/M", Kind::NitrogenRate, 453.592_37 / 92.903_04);
        close("49 kg N/ha", Kind::NitrogenRate, 4.9);
        close("1 fl oz/ac", Kind::VolumePerArea, 29.573_529_562_5 / 4_046.856_422_4);
        close("2 %", Kind::Share, 0.02);
        close("14 days", Kind::Duration, 14.0);
        close("8 weeks", Kind::Duration, 56.0);
        close("3 mph", Kind::Speed, 1.341_12);
        close("4.8 km/h", Kind::Speed, 4.8 / 3.6);
        close("10.58 lb/gal", Kind::Density, 10.58 * 0.119_826_427_3);
        close("45 $", Kind::Money, 45.0);
        close("$45", Kind::Money, 45.0);
        close("25 $/h", Kind::MoneyPerHour, 25.0);
        close("$25/h", Kind::MoneyPerHour, 25.0);
        close("30 $/yd3", Kind::MoneyPerVolume, 30.0 / 0.764_554_857_984);
        close("3.4 $/lb N", Kind::MoneyPerNitrogen, 3.4 / 0.453_592_37);
        close("2 min/1000 ft2", Kind::MinutesPerArea, 2.0 / 0.929_030_4);
        close("1 min/100 m2/mm", Kind::MinutesPerLayer, 1.0);
        close("100 seeds/ft2", Kind::CountPerArea, 100.0 / 0.092_903_04);
        close("180 degF days", Kind::DegreeDays, 100.0);
        close("100 degC-days", Kind::DegreeDays, 100.0);
        close("3 %", Kind::Slope, 0.03);
        close("45 deg", Kind::Slope, 1.0);
        close("1:20", Kind::Slope, 0.05);
        close("1 000 kg/ha", Kind::MassPerArea, 100.0);
    }

    #[test]
    fn faults_help() {
        let no_unit = parse("3", Kind::Depth).unwrap_err();
        assert_eq!(no_unit.message, "\"3\" has no unit");
        assert!(no_unit.expected.contains("3.25 in"));
        assert_eq!(no_unit.suggestion.as_deref(), Some("3 in"));
        let degrees = parse("60", Kind::Temperature).unwrap_err();
        assert_eq!(degrees.suggestion.as_deref(), Some("60 degF"));
        let near = parse("3 inchs", Kind::Depth).unwrap_err();
        assert_eq!(near.suggestion.as_deref(), Some("3 in"));
        let wrong = parse("3 lb", Kind::Depth).unwrap_err();
        assert_eq!(wrong.message, "\"3 lb\" is a weight, not a depth or height");
        let bare = parse("0.75 lb/1000 ft2", Kind::NitrogenRate).unwrap_err();
        assert!(bare.message.contains("nitrogen, or product"), "{bare:?}");
        let liquid = parse("0.4 oz/1000 ft2", Kind::VolumePerArea).unwrap_err();
        assert_eq!(liquid.suggestion.as_deref(), Some("0.4 fl oz/1000 ft2"));
        let comma = parse("0,5 in", Kind::Depth).unwrap_err();
        assert!(parse("1-2 %", Kind::Share).unwrap_err().message.contains("[\"1 %\", \"2 %\"]"));
        assert!(
            parse("5 to 10 %", Kind::Share).unwrap_err().message.contains("[\"5 %\", \"10 %\"]")
        );
        assert_eq!(comma.suggestion.as_deref(), Some("0.5 in"));
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in ".{0,40}") {
            for kind in [Kind::Depth, Kind::Slope, Kind::Temperature, Kind::MoneyPerHour] {
                let _ = parse(&text, kind);
            }
        }

        #[test]
        fn number_like_text_does_not_panic(text in "[0-9.,/ $½e%a-m²-]{0,20}") {
            let _ = parse(&text, Kind::MassPerArea);
        }
    }
}
