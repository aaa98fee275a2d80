//! The only place that calls the model.

use sim::ensemble::{Observer, Results};
use sim::parameters::{self, Entry};
use sim::scenario::{self, Checked, Fault, Scenario};
use sim::weather::Record;
use statrs::distribution::{Beta, ContinuousCDF};

use crate::args::PlayArgs;
use crate::carried;
use crate::failure::Failure;
use crate::pictures::Sketch;
use crate::scenario_source::WeatherText;

/// Chance left out at each end of an interval.
const TAIL: f64 = 0.025;

/// Checks a scenario text against the carried products.
///
/// # Errors
/// Every fault of the text.
pub fn check(text: &str) -> Result<Checked, Vec<Fault>> {
    scenario::check(text, carried::PRODUCTS)
}

/// A record that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// The record.
    pub record: Record,
    /// What a user should know: gaps that were filled, columns that were not used.
    pub notes: Vec<String>,
}

/// Reads a weather record. A carried one has its site in [`carried`]; a file states its own.
///
/// # Errors
/// [`Failure::Input`] with the first fault and its line.
pub fn read_weather(_weather: &WeatherText) -> Result<Weather, Failure> {
    Err(Failure::Machine("weather records cannot be read yet".into()))
}

/// Plays every member under every program. Tracks are always kept: the contrast and barrier
/// pictures are made from them.
///
/// # Errors
/// [`Failure::Input`] where scenario and record do not fit together, [`Failure::Stopped`] where
/// the observer said so, [`Failure::Machine`] otherwise.
pub fn play(
    _scenario: &Scenario,
    _weather: &Weather,
    _args: &PlayArgs,
    _observer: Observer,
) -> Result<Results, Failure> {
    Err(Failure::Machine("the seasons cannot be played yet".into()))
}

/// Every constant of the model, in file order.
///
/// # Errors
/// Where the embedded catalogue is broken: a fault of the build, not of the input.
pub fn catalogue() -> Result<Vec<Entry>, Failure> {
    parameters::catalogue(parameters::TEXT).map_err(Failure::Machine)
}

/// A picture as files: name and bytes, SVG and PNG.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub fn draw(_sketch: &Sketch) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    Ok(vec![])
}

/// The central 95 % binomial interval of a share, from `hits` of `members` (Clopper and Pearson
/// 1934, Biometrika 26:404-413): how far the count could move with other draws.
pub fn interval(hits: u32, members: u32) -> (f64, f64) {
    let (hits, all) = (f64::from(hits.min(members)), f64::from(members));
    let quantile = |a: f64, b: f64, p: f64| Beta::new(a, b).map(|d| d.inverse_cdf(p));
    let low = if hits == 0.0 { Ok(0.0) } else { quantile(hits, all - hits + 1.0, TAIL) };
    let high = if hits == all { Ok(1.0) } else { quantile(hits + 1.0, all - hits, 1.0 - TAIL) };
    (low.unwrap_or(0.0), high.unwrap_or(1.0))
}

#[cfg(test)]
mod tests {
    use super::interval;

    // With no hit in n the upper limit is 1 - 0.025^(1/n), and with n hits the lower is its mirror
    // image: closed forms of the binomial.
    #[test]
    fn the_interval_agrees_with_its_closed_forms() {
        let (low, high) = interval(0, 20);
        assert_eq!(low, 0.0);
        assert!((high - (1.0 - 0.025_f64.powf(1.0 / 20.0))).abs() < 1e-9, "{high}");
        let (low, high) = interval(20, 20);
        assert!((low - 0.025_f64.powf(1.0 / 20.0)).abs() < 1e-9, "{low}");
        assert_eq!(high, 1.0);
    }
}
