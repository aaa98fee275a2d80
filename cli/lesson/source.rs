//! Where a lesson comes from, and what is read of it before it is played.

use std::path::{Path, PathBuf};

use sim::scenario::{self, Lesson, LessonFault};

use super::belief;
use crate::args::LessonArgs;
use crate::engine::{self, Weather};
use crate::failure::Failure;
use crate::scenario_source::{self, ScenarioSource};
use crate::station::Says;
use crate::units::{self, Units};
use crate::{carried, diagnostic, input, terminal};

/// A lesson ready to be played.
#[derive(Debug)]
pub struct Ready {
    /// Its short name, for files and the command line.
    pub name: String,
    /// The lesson.
    pub lesson: Lesson,
    /// Its weather.
    pub weather: Weather,
    /// The reader's units.
    pub units: Units,
}

/// The lessons that were asked for: one by name or file, else all that are carried.
///
/// # Errors
/// [`Failure::Input`] where there is no such lesson, [`Failure::Faults`] where one is at fault.
pub fn asked_for(args: &LessonArgs) -> Result<Vec<Ready>, Failure> {
    let units = args.options.units;
    if let Some(path) = &args.file {
        let text = input::read_text(path, "lesson", input::SCENARIO_MAX)?;
        let stem = path.file_stem().map_or("lesson".into(), |stem| stem.to_string_lossy());
        let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
        let typed = path.display().to_string();
        return Ok(vec![ready(&plain(&stem), &typed, &text, Some(folder), units)?]);
    }
    let chosen: Vec<(&str, &str)> = match &args.name {
        None => carried::LESSONS.to_vec(),
        Some(name) => match carried::lesson(name) {
            Some(text) => vec![(name.as_str(), text)],
            None => return Err(unknown(name)),
        },
    };
    chosen.into_iter().map(|(name, text)| ready(name, name, text, None, units)).collect()
}

fn unknown(name: &str) -> Failure {
    let names = || carried::LESSONS.iter().map(|(name, _)| *name);
    let near = input::nearest(name, names());
    let near = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
    Failure::Input(format!(
        "there is no lesson `{}`{near}; expected one of {}. A lesson of your own is named with --file",
        terminal::harmless(name),
        names().collect::<Vec<_>>().join(", ")
    ))
}

/// A name that is safe in the name of a file.
fn plain(stem: &str) -> String {
    stem.chars()
        .map(|c| if c.is_ascii_alphanumeric() || "-_".contains(c) { c } else { '-' })
        .collect()
}

/// Checks a lesson and reads its weather. `typed` is how messages name it; files that it names are
/// looked for in `folder`.
fn ready(
    name: &str,
    typed: &str,
    text: &str,
    folder: Option<PathBuf>,
    units: Option<Units>,
) -> Result<Ready, Failure> {
    let base = scenario::named(text).map(|named| base(&named, folder.as_deref())).transpose()?;
    let base_text = base.as_ref().map(|base| base.text.as_str());
    let studies = belief::ids();
    let checked = engine::check_lesson(text, base_text, &studies);
    let lesson = checked.map_err(|faults| told(typed, text, base.as_ref(), faults))?;
    let own = ScenarioSource { name: typed.to_string(), text: text.to_string(), folder };
    // A weather file lies beside the text that names it.
    let names = if names_weather(text) { &own } else { base.as_ref().unwrap_or(&own) };
    let weather = scenario_source::read_weather(names, &lesson.scenario.weather)?;
    let weather = engine::read_weather(&weather, &lesson.scenario, Says::Keys)?;
    let written = || units::of_text(&format!("{text}\n{}", base_text.unwrap_or_default()));
    Ok(Ready { name: name.to_string(), lesson, weather, units: units.unwrap_or_else(written) })
}

/// Whether a text, which has been checked, names a weather file.
fn names_weather(text: &str) -> bool {
    let table = text.parse::<toml::Table>().unwrap_or_default();
    let weather = table.get("weather").and_then(toml::Value::as_table);
    weather.is_some_and(|weather| ["file", "so-far"].iter().any(|key| weather.contains_key(*key)))
}

/// The scenario that a lesson names: a carried one, or a file beside the lesson.
fn base(named: &str, folder: Option<&Path>) -> Result<ScenarioSource, Failure> {
    match folder {
        Some(folder) if carried::example(named).is_none() => {
            scenario_source::read(&folder.join(named).display().to_string())
        }
        _ => scenario_source::read(named),
    }
}

/// The faults, each with the text that it stands in.
fn told(
    typed: &str,
    text: &str,
    base: Option<&ScenarioSource>,
    faults: Vec<LessonFault>,
) -> Failure {
    let colour = terminal::stderr_colour();
    let (mut own, mut behind) = (Vec::new(), Vec::new());
    for fault in faults {
        match fault {
            LessonFault::Own(fault) => own.push(fault),
            LessonFault::Scenario(fault) => behind.push(fault),
        }
    }
    let mut out = String::new();
    if !own.is_empty() {
        out.push_str(&diagnostic::render(typed, text, &own, colour));
    }
    if let Some(base) = base.filter(|_| !behind.is_empty()) {
        out.push_str(&diagnostic::render(&base.name, &base.text, &behind, colour));
        out.push_str(&format!("(as {} changes it)\n", terminal::harmless(typed)));
    }
    Failure::Faults(out)
}
