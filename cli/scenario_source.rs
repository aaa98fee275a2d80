//! Where a scenario comes from: a file, or an example that the program carries.

use std::path::{Path, PathBuf};

use sim::scenario::{SoFarSource, WeatherChoice, WeatherSource};

use crate::carried;
use crate::failure::Failure;
use crate::input;

/// A scenario's text and where it came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScenarioSource {
    /// For messages and for repeating the run: the path or name as typed.
    pub name: String,
    /// The text.
    pub text: String,
    /// Folder that the scenario's own file names are relative to; `None` for an example.
    pub folder: Option<PathBuf>,
}

/// A weather record's text and where it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct WeatherText {
    /// As the scenario names it.
    pub source: WeatherSource,
    /// The daily CSV.
    pub text: String,
    /// Name and text of the file with the weather so far, where the scenario names one.
    pub so_far: Option<(String, String)>,
}

/// Reads a scenario: a carried example by its bare name, else a file.
///
/// # Errors
/// [`Failure::Input`], with a near miss among the examples and the folder's files.
pub fn read(typed: &str) -> Result<ScenarioSource, Failure> {
    if let Some(text) = carried::example(typed) {
        return Ok(ScenarioSource { name: typed.into(), text: text.into(), folder: None });
    }
    let path = Path::new(typed);
    let missing = !path.exists();
    let names = || carried::EXAMPLES.iter().map(|(name, _)| *name);
    if missing
        && path.components().count() <= 1
        && let Some(near) = input::nearest(typed.trim_end_matches(".toml"), names())
    {
        return Err(Failure::Input(format!(
            "there is no scenario file `{typed}`; the carried example is called `{near}`"
        )));
    }
    let text = input::read_text(path, "scenario", input::SCENARIO_MAX).map_err(|failure| {
        if !missing {
            return failure;
        }
        let names: Vec<&str> = names().collect();
        Failure::Input(format!(
            "{failure}. Carried examples go by name: {}; `swardplay init` writes a scenario of your own",
            names.join(", ")
        ))
    })?;
    let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
    Ok(ScenarioSource { name: typed.into(), text, folder: Some(folder) })
}

/// Reads the weather files that a scenario names; they are looked for beside the scenario.
///
/// # Errors
/// [`Failure::Input`] where there is no such record.
pub fn read_weather(
    scenario: &ScenarioSource,
    choice: &WeatherChoice,
) -> Result<WeatherText, Failure> {
    let beside = |name: &str| {
        let path = match &scenario.folder {
            Some(folder) => folder.join(name),
            None => PathBuf::from(name),
        };
        input::read_text(&path, "weather record", input::WEATHER_MAX).map_err(|failure| {
            if path.exists() {
                return failure;
            }
            Failure::Input(format!(
                "{failure}. A weather file is looked for {}; the README tells where a station's \
                 daily record is to be had, free of charge. Or take a carried one: station = \
                 \"jfk\" under [weather]",
                match scenario.folder {
                    Some(_) => "beside its scenario",
                    None => "in the folder that you are in",
                }
            ))
        })
    };
    let text = match &choice.source {
        WeatherSource::Carried(key) => match carried::station(key) {
            Some(station) => station.text.to_string(),
            None => return Err(unknown_station(key)),
        },
        WeatherSource::File(name) => beside(name)?,
    };
    let so_far = match &choice.so_far {
        Some(SoFarSource::File(name)) => Some((name.clone(), beside(name)?)),
        _ => None,
    };
    Ok(WeatherText { source: choice.source.clone(), text, so_far })
}

fn unknown_station(key: &str) -> Failure {
    let known: Vec<&str> = carried::STATIONS.iter().map(|s| s.key).collect();
    Failure::Input(format!(
        "no station `{key}` is carried; expected one of {}, or a file of daily weather",
        known.join(", ")
    ))
}
