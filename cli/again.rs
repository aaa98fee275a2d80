//! A run played again from the run.json that it wrote.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::args::{MEMBERS_MAX, PlayArgs, PlayOptions};
use crate::failure::Failure;
use crate::files::run::{Hashed, RunRecord};
use crate::inputs::Inputs;
use crate::units::Units;
use crate::{input, terminal};

/// Largest run.json that is read, bytes: a record takes a few thousand.
const RECORD_MAX: u64 = 1 << 20;

/// What a past run was made of, as far as it decides the files.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Recorded {
    swardplay: String,
    repeat: String,
    scenario: Hashed,
    weather: Hashed,
    #[serde(skip_serializing_if = "Option::is_none")]
    weather_so_far: Option<Hashed>,
    parameters_sha256: String,
    products_sha256: String,
    local_rules_sha256: String,
    seed: u64,
    members: u32,
    units: Units,
    #[serde(default)]
    tracks: bool,
    /// Where it was read; for messages.
    #[serde(skip)]
    path: PathBuf,
}

/// Reads the record of a past run.
///
/// # Errors
/// [`Failure::Input`] where the file is not one.
pub fn read(path: &Path) -> Result<Recorded, Failure> {
    parse(&input::read_text(path, "run record", RECORD_MAX)?, path)
}

/// Reads the record's text; `path` names it in messages.
///
/// # Errors
/// As for [`read`].
pub fn parse(text: &str, path: &Path) -> Result<Recorded, Failure> {
    let bad = |what: &str| {
        Failure::Input(format!(
            "`{}` is not the record of a run: {what}. Expected the run.json that `swardplay play` \
             writes into its folder",
            terminal::harmless(&path.display().to_string())
        ))
    };
    let mut past: Recorded =
        serde_json::from_str(text).map_err(|e| bad(&terminal::harmless(&e.to_string())))?;
    if !(1..=MEMBERS_MAX).contains(&past.members) {
        return Err(bad(&format!("it has {} members", past.members)));
    }
    if !past.repeat.starts_with("swardplay play ") {
        return Err(bad(&format!(
            "another command wrote it; type `{}`",
            terminal::harmless(&past.repeat)
        )));
    }
    past.path = path.to_path_buf();
    Ok(past)
}

impl Recorded {
    /// What a run, told in these units, will have been made of.
    pub fn of(now: &RunRecord, units: Units) -> Recorded {
        Recorded {
            swardplay: now.swardplay.to_string(),
            repeat: now.repeat.clone(),
            scenario: now.scenario.clone(),
            weather: now.weather.clone(),
            weather_so_far: now.weather_so_far.clone(),
            parameters_sha256: now.parameters_sha256.clone(),
            products_sha256: now.products_sha256.clone(),
            local_rules_sha256: now.local_rules_sha256.clone(),
            seed: now.seed,
            members: now.members,
            units,
            tracks: now.tracks,
            path: PathBuf::new(),
        }
    }

    /// Number of members.
    pub fn members(&self) -> u32 {
        self.members
    }

    /// What to type for the whole run.
    pub fn repeat(&self) -> &str {
        &self.repeat
    }

    /// In what this run was made of other things than that one, in words.
    pub fn unlike(&self, other: &Recorded) -> Vec<String> {
        let version = format!("the program: the run was made by version {}", self.swardplay);
        let checks = [
            (self.swardplay == other.swardplay, version.as_str()),
            (self.scenario.sha256 == other.scenario.sha256, "the text of its scenario"),
            (self.scenario.name == other.scenario.name, "the name of its scenario"),
            (self.weather == other.weather, "its weather record"),
            (self.weather_so_far == other.weather_so_far, "its weather so far"),
            (self.parameters_sha256 == other.parameters_sha256, "the constants of the model"),
            (self.products_sha256 == other.products_sha256, "the carried products"),
            (self.local_rules_sha256 == other.local_rules_sha256, "the carried local rules"),
            (self.seed == other.seed, "the seed"),
            (self.members == other.members, "the number of futures"),
            (self.units == other.units, "the units"),
            (self.tracks == other.tracks, "whether every future is written day by day"),
        ];
        let told = |(_, what): (bool, &str)| terminal::harmless(what);
        checks.into_iter().filter(|(same, _)| !same).map(told).collect()
    }

    /// What was typed for it; the folder and the threads are the new run's.
    pub fn args(&self, now: &PlayOptions) -> PlayArgs {
        PlayArgs {
            scenario: self.scenario.name.clone(),
            again: None,
            part: None,
            in_parts: None,
            options: PlayOptions {
                members: self.members,
                seed: self.seed,
                units: Some(self.units),
                tracks: self.tracks,
                ..now.clone()
            },
        }
    }

    /// Whether these inputs give the same files.
    ///
    /// # Errors
    /// [`Failure::Input`] that names everything that has changed since.
    pub fn same(&self, inputs: &Inputs) -> Result<(), Failure> {
        let mut now = Recorded::of(&RunRecord::of_inputs(inputs, 0), self.units);
        (now.seed, now.members, now.tracks) = (self.seed, self.members, self.tracks);
        let changed = self.unlike(&now);
        if changed.is_empty() {
            return Ok(());
        }
        let changed: String = changed.iter().map(|what| format!("\n  {what}")).collect();
        Err(Failure::Input(format!(
            "the run of `{}` cannot be repeated; this has changed since:{changed}\n\
             `swardplay play {}` plays it as it is now",
            terminal::harmless(&self.path.display().to_string()),
            terminal::harmless(&self.scenario.name)
        )))
    }
}
