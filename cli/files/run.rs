//! run.json: enough to repeat the run, and to know whether a repeat had the same inputs.

use std::io::{self, Write};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use sim::outcomes::Almanac;
use sim::parameters;
use sim::scenario::WeatherSource;

use crate::carried;
use crate::inputs::Inputs;

/// What a run was made of. Nothing here depends on the clock, the machine or the thread count.
#[derive(Clone, Debug, Serialize)]
pub struct RunRecord {
    /// Version of the program.
    pub swardplay: &'static str,
    /// What to type for the same files again.
    pub repeat: String,
    /// Scenario as named, with its hash.
    pub scenario: Hashed,
    /// Weather as the scenario names it, with its hash.
    pub weather: Hashed,
    /// The file with the weather so far, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weather_so_far: Option<Hashed>,
    /// The table of lawns, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub table: Option<Hashed>,
    /// Calendar years of record behind the weather.
    pub record_years: u32,
    /// Hash of the model's constants.
    pub parameters_sha256: String,
    /// Hash of the carried products.
    pub products_sha256: String,
    /// Hash of the carried examples of local rules.
    pub local_rules_sha256: String,
    /// Seed.
    pub seed: u64,
    /// Members.
    pub members: u32,
    /// Units of words and pictures.
    pub units: &'static str,
    /// Whether every future was written day by day.
    pub tracks: bool,
    /// Programs, the baseline first.
    pub programs: Vec<String>,
    /// First simulated day.
    pub first_date: String,
    /// Last simulated day.
    pub last_date: String,
    /// Every file of the run, this one included.
    pub files: Vec<String>,
}

impl RunRecord {
    /// What went into any run on these inputs; what was asked of it is left to fill in.
    pub fn of_inputs(inputs: &Inputs, record_years: u32) -> RunRecord {
        let weather = match &inputs.weather.source {
            WeatherSource::Carried(key) => key.as_str(),
            WeatherSource::File(name) => name.as_str(),
        };
        let so_far = inputs.weather.so_far.as_ref();
        let scenario = &inputs.checked.scenario;
        let days = Almanac::of_years(scenario.first_year, scenario.seasons);
        RunRecord {
            swardplay: env!("CARGO_PKG_VERSION"),
            repeat: String::new(),
            scenario: Hashed::new(&inputs.source.name, &inputs.source.text),
            weather: Hashed::new(weather, &inputs.weather.text),
            weather_so_far: so_far.map(|(name, text)| Hashed::new(name, text)),
            table: None,
            record_years,
            parameters_sha256: sha256(parameters::TEXT),
            products_sha256: sha256(carried::PRODUCTS),
            local_rules_sha256: sha256(carried::LOCAL_RULES),
            seed: 0,
            members: 0,
            units: inputs.units.key(),
            tracks: false,
            programs: vec![],
            first_date: days.first().to_string(),
            last_date: days.last().to_string(),
            files: vec![],
        }
    }
}

/// A named text and its SHA-256, hexadecimal.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
pub struct Hashed {
    /// Name or path, as typed or written.
    pub name: String,
    /// SHA-256 of the text as it was read (without a byte order mark).
    pub sha256: String,
}

impl Hashed {
    /// Hashes a text.
    pub fn new(name: &str, text: &str) -> Hashed {
        Hashed { name: name.to_string(), sha256: sha256(text) }
    }
}

/// SHA-256 of a text, lower-case hexadecimal.
pub fn sha256(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|b| format!("{b:02x}")).collect()
}

/// A name or value as it is typed at a shell: in quotes where it needs them.
pub fn typed(text: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "-_./\\:".contains(c);
    if text.chars().all(plain) {
        text.to_string()
    } else {
        format!("'{}'", text.replace('\'', "'\\''"))
    }
}

/// Writes the record as JSON.
///
/// # Errors
/// Where it cannot be written.
pub fn write(record: &RunRecord, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, record)?;
    out.write_all(b"\n")
}

#[cfg(test)]
mod tests {
    // FIPS 180-4 example: the SHA-256 of "abc".
    #[test]
    fn the_hash_is_sha_256() {
        assert_eq!(
            super::sha256("abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
