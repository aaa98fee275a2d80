//! The only place that calls the model.

use sim::ensemble::odds::Odds;
use sim::ensemble::{self, Observer, Results, RunFault, RunPlan};
use sim::parameters::{self, Catalogue, Entry};
use sim::scenario::{self, Checked, Fault, Scenario, WeatherSource};
use sim::weather::{self, Record};

use crate::args::PlayOptions;
use crate::carried;
use crate::failure::Failure;
use crate::scenario_source::WeatherText;

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
pub fn read_weather(weather: &WeatherText) -> Result<Weather, Failure> {
    let (name, site) = match &weather.source {
        WeatherSource::Carried(key) => match carried::station(key) {
            Some(station) => (station.name, Some(station.site)),
            None => (key.as_str(), None),
        },
        WeatherSource::File(name) => (name.as_str(), None),
    };
    match weather::read_daily_csv(&weather.text, name, site) {
        Ok(read) => {
            ensemble::northern(&read.record)
                .map_err(|fault| Failure::Input(format!("the weather record `{name}`: {fault}")))?;
            Ok(Weather { record: read.record, notes: read.notes })
        }
        Err(fault) => Err(Failure::Input(format!("the weather record `{name}`: {fault}"))),
    }
}

/// Plays every member under every program. Tracks are always kept: the contrast and barrier
/// pictures are made from them.
///
/// # Errors
/// [`Failure::Input`] where scenario and record do not fit together, [`Failure::Stopped`] where
/// the observer said so, [`Failure::Machine`] otherwise.
pub fn play(
    scenario: &Scenario,
    weather: &Weather,
    options: &PlayOptions,
    observer: Observer,
) -> Result<Results, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = RunPlan {
        scenario,
        record: &weather.record,
        catalogue: &catalogue.entries,
        members: options.members,
        seed: options.seed,
        // 0 takes one for each processor.
        threads: options.threads.unwrap_or(0) as usize,
        keep_tracks: true,
    };
    let mut results = ensemble::run(&plan, &catalogue, observer).map_err(failure)?;
    let again = |_: u32| observer(options.members);
    results.spread = ensemble::spread(&plan, &catalogue, &results, &again).map_err(failure)?;
    Ok(results)
}

fn failure(fault: RunFault) -> Failure {
    match fault {
        RunFault::Stopped => Failure::Stopped,
        RunFault::Threads(_) => Failure::Machine(fault.to_string()),
        _ => Failure::Input(fault.to_string()),
    }
}

/// Every constant of the model, in file order.
///
/// # Errors
/// Where the embedded catalogue is broken: a fault of the build, not of the input.
pub fn catalogue() -> Result<Vec<Entry>, Failure> {
    parameters::catalogue(parameters::TEXT).map_err(Failure::Machine)
}

/// The central 95 % binomial interval of a share, from `hits` of `members`: how far the count
/// could move with other draws.
pub fn interval(hits: u32, members: u32) -> (f64, f64) {
    Odds { hits: hits.min(members), of: members }.interval()
}
