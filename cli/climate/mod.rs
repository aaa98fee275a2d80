//! `climate`: what a station's record is like, and whether seasons can be drawn from it.

mod dates;
mod pictures;
mod table;
mod words;

use std::path::Path;

use serde::Serialize;
use sim::climate::{self, Climate};
use sim::quantity::{self, Kind};
use sim::weather::{self, ReadOptions, ReadRecord};

use crate::args::ClimateArgs;
use crate::carried;
use crate::engine;
use crate::failure::Failure;
use crate::files::run::Hashed;
use crate::input;
use crate::interrupt;
use crate::outdir::{INDEX, OutDir};
use crate::station::{Says, told};
use crate::terminal;
use crate::units::Units;

/// Synthetic records that are drawn and held against the record: the least that a trial of generators
/// found steady.
const REPLICATES: u32 = 60;
/// Their seed.
const SEED: u64 = 1;

/// A station's record and what it is like.
pub(crate) struct Told {
    read: ReadRecord,
    climate: Climate,
    units: Units,
    /// Wind where none was measured, m/s.
    wind_missing_m_s: f64,
    /// The station in words.
    name: String,
}

/// Runs `climate`.
///
/// # Errors
/// [`Failure::Input`] where the record cannot be read, with what would settle it; [`Failure::Machine`]
/// where results cannot be written. Nothing is left half-written.
pub fn run(args: &ClimateArgs) -> Result<(), Failure> {
    let (text, read) = read(args)?;
    interrupt::listen();
    let mut out = OutDir::open(&args.out)?;
    let p = engine::central()?;
    let climate = climate::climate(&read.record, &p.weather, REPLICATES, SEED);
    interrupt::check()?;
    let name = terminal::harmless(&read.record.name);
    let wind_missing_m_s = p.weather.wind_missing_m_s;
    let told = Told { read, climate, units: args.units, wind_missing_m_s, name };
    out.write("climate.csv", |w| table::write(&told, w))?;
    for (name, picture) in pictures::all(&told)? {
        out.write(&format!("{name}.svg"), |w| w.write_all(picture.svg.as_bytes()))?;
        let png = crate::drawing::png(name, &picture)?;
        out.write(&format!("{name}.png"), |w| w.write_all(&png))?;
    }
    let names = out.listing();
    let index = Index {
        swardplay: env!("CARGO_PKG_VERSION"),
        weather: Hashed::new(&args.record, &text),
        replicates: REPLICATES,
        seed: SEED,
        units: args.units.key(),
        files: names.clone(),
    };
    out.write(INDEX, |w| {
        serde_json::to_writer_pretty(&mut *w, &index)?;
        w.write_all(b"\n")
    })?;
    out.commit()?;
    terminal::say(&words::all(&told, &args.out.display().to_string(), &names))
}

/// run.json of a record: what it takes to make the same files.
#[derive(Serialize)]
struct Index {
    swardplay: &'static str,
    weather: Hashed,
    replicates: u32,
    seed: u64,
    units: &'static str,
    files: Vec<String>,
}

/// The record's text and what was read: a carried station by its key, else a file.
fn read(args: &ClimateArgs) -> Result<(String, ReadRecord), Failure> {
    let elevation_m = args.elevation.as_deref().map(elevation).transpose()?;
    let file_name = Path::new(&args.record).file_stem().and_then(|stem| stem.to_str());
    let mut options = ReadOptions {
        name: file_name.unwrap_or(&args.record),
        site: None,
        latitude_deg: args.latitude,
        elevation_m,
        station: args.station.as_deref(),
        units: args.file_units.map(Into::into),
        years: match (args.from, args.to) {
            (None, None) => None,
            (from, to) => Some((from.unwrap_or(i32::MIN), to.unwrap_or(i32::MAX))),
        },
    };
    let text = if let Some(station) = carried::station(&args.record) {
        (options.name, options.site) = (station.name, Some(station.site));
        station.text.to_string()
    } else {
        let path = Path::new(&args.record);
        if !path.exists() && path.components().count() <= 1 {
            let keys = carried::STATIONS.iter().map(|s| s.key);
            if let Some(near) = input::nearest(&args.record.to_lowercase(), keys) {
                return Err(Failure::Input(format!(
                    "there is no weather file `{}`; the carried record is called `{near}`",
                    terminal::harmless(&args.record)
                )));
            }
        }
        input::read_text(path, "weather", input::WEATHER_MAX)?
    };
    match weather::read_record(&text, &options) {
        Ok(read) => Ok((text, read)),
        Err(fault) => Err(Failure::Input(told(&args.record, &fault, Says::Flags))),
    }
}

fn elevation(text: &str) -> Result<f64, Failure> {
    quantity::parse(text, Kind::Length).map_err(|fault| {
        let text = terminal::harmless(text);
        Failure::Input(format!(
            "--elevation {text}: {} (expected such as \"10 ft\" or \"3 m\")",
            fault.message
        ))
    })
}
