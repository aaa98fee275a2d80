//! US or metric, in words and pictures. Inside, and in tables, all is metric.

use clap::ValueEnum;
use serde::{Deserialize, Serialize};
use sim::quantity;

/// The system that a person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Inches, pounds per 1000 square feet, degrees Fahrenheit
    Us,
    /// Millimetres, grams per square metre, degrees Celsius
    Metric,
}

/// How a quantity is shown: multiply by `factor`, add `offset`, print `unit`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    /// Factor from the metric value.
    pub factor: f64,
    /// Added after the factor, for temperatures; 0 elsewhere. Differences leave it out.
    pub offset: f64,
    /// Unit as a person reads it.
    pub unit: &'static str,
}

impl Shown {
    /// The shown figure of a metric value.
    pub fn value(&self, metric: f64) -> f64 {
        metric * self.factor + self.offset
    }

    /// The shown figure of a difference of metric values.
    pub fn difference(&self, metric: f64) -> f64 {
        metric * self.factor
    }
}

/// Exact: international inch, foot and avoirdupois pound (NIST SP 811, appendix B.8).
const MM_PER_INCH: f64 = 25.4;
const G_PER_LB: f64 = 453.592_37;
const M2_PER_1000_FT2: f64 = 92.903_04;
const M2_PER_ACRE: f64 = 4_046.856_422_4;

impl From<Units> for quantity::Units {
    fn from(units: Units) -> quantity::Units {
        match units {
            Units::Us => quantity::Units::Us,
            Units::Metric => quantity::Units::Metric,
        }
    }
}

impl Units {
    /// As written in files and on the command line.
    pub fn key(self) -> &'static str {
        match self {
            Units::Us => "us",
            Units::Metric => "metric",
        }
    }

    /// How a value in a file's unit is shown to a person.
    pub fn shown(self, unit: &'static str) -> Shown {
        let same = |unit| Shown { factor: 1.0, offset: 0.0, unit };
        if self == Units::Us {
            let lb_1000 = M2_PER_1000_FT2 / G_PER_LB;
            match unit {
                "mm" => return Shown { factor: 1.0 / MM_PER_INCH, offset: 0.0, unit: "in" },
                "g/m2" | "g N/m2" => {
                    return Shown { factor: lb_1000, offset: 0.0, unit: "lb/1000 ft2" };
                }
                // 28.349523 g are an ounce (NIST SP 811, B.8).
                "g Fe/m2" => {
                    let factor = M2_PER_1000_FT2 / 28.349_523;
                    return Shown { factor, offset: 0.0, unit: "oz Fe/1000 ft2" };
                }
                "degC" => return Shown { factor: 1.8, offset: 32.0, unit: "°F" },
                "1/dm2" => return Shown { factor: 9.290_304, offset: 0.0, unit: "per ft2" },
                "1/m2" => return Shown { factor: 0.092_903_04, offset: 0.0, unit: "per ft2" },
                "kg ai/ha" => {
                    let factor = 1000.0 / G_PER_LB * M2_PER_ACRE / 10_000.0;
                    return Shown { factor, offset: 0.0, unit: "lb ai/acre" };
                }
                "m2" => {
                    let factor = 1000.0 / M2_PER_1000_FT2;
                    return Shown { factor, offset: 0.0, unit: "ft2" };
                }
                _ => {}
            }
        }
        match unit {
            "degC" => same("°C"),
            "1/dm2" => same("per dm2"),
            "1/m2" => same("per m2"),
            "count" => same(""),
            _ => same(unit),
        }
    }
}

/// The system in which a scenario was written, read from its area ("650 m2", "7000 ft2"); US
/// where that does not tell.
pub fn of_text(scenario: &str) -> Units {
    let area = scenario.lines().map(str::trim_start).find(|line| {
        line.strip_prefix("area").is_some_and(|rest| rest.trim_start().starts_with('='))
    });
    match area {
        Some(line) if line.contains("m2") || line.contains("m²") || line.contains("ha\"") => {
            Units::Metric
        }
        _ => Units::Us,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 lb/1000 ft2 = 4.8824 g/m2 and 1 lb/acre = 1.1209 kg/ha (NIST SP 811, appendix B.8, from
    // the pound, the square foot and the acre).
    #[test]
    fn us_rates_agree_with_the_published_factors() {
        assert!((Units::Us.shown("g/m2").value(4.8824) - 1.0).abs() < 1e-4);
        assert!((Units::Us.shown("kg ai/ha").value(1.1209) - 1.0).abs() < 1e-4);
        assert!((Units::Us.shown("degC").value(100.0) - 212.0).abs() < 1e-9);
        assert!((Units::Us.shown("m2").value(92.903_04) - 1000.0).abs() < 1e-9);
    }

    #[test]
    fn a_scenario_is_told_in_the_units_it_was_written_in() {
        assert_eq!(of_text("[lawn]\narea = \"650 m2\"\n"), Units::Metric);
        assert_eq!(of_text("[lawn]\narea=\"7000 ft2\"\n"), Units::Us);
        assert_eq!(of_text(""), Units::Us);
    }
}
