//! What every command that plays a scenario reads first.

use sim::scenario::Checked;

use crate::engine::{self, Weather};
use crate::failure::Failure;
use crate::scenario_source::{self, ScenarioSource, WeatherText};
use crate::station::Says;
use crate::units::{self, Units};
use crate::vet;

/// Everything that goes into a run.
#[derive(Clone, Debug)]
pub struct Inputs {
    /// The scenario's text.
    pub source: ScenarioSource,
    /// The scenario, checked.
    pub checked: Checked,
    /// The weather record's text.
    pub weather: WeatherText,
    /// The reader's units.
    pub units: Units,
}

/// Reads a scenario, by file or carried name, and its weather. `units` are those the reader asked
/// for; the scenario's own where there are none.
///
/// # Errors
/// [`Failure::Input`] with every fault of the scenario, or the first of its weather.
pub fn read(name: &str, units: Option<Units>) -> Result<(Inputs, Weather), Failure> {
    let source = scenario_source::read(name)?;
    let checked = vet::check(&source)?;
    let weather = scenario_source::read_weather(&source, &checked.scenario.weather)?;
    let units = units.unwrap_or_else(|| units::of_text(&source.text));
    let inputs = Inputs { source, checked, weather, units };
    let record = engine::read_weather(&inputs.weather, &inputs.checked.scenario, Says::Keys)?;
    Ok((inputs, record))
}
