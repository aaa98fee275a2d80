//! The stations of the generator's checks: the carried records, and longer ones where the
//! environment variable `SWARDPLAY_RECORDS` names a folder that has them.
#![allow(dead_code, reason = "each test file uses its own part")]

use std::path::PathBuf;

use sim::weather::{Record, Site, read_daily_csv};

/// A station and how its results are to be read.
pub struct Station {
    pub name: &'static str,
    pub record: Record,
    /// Whether the project carries the record.
    pub carried: bool,
    /// Synthetic records drawn for the gates.
    pub replicates: u32,
}

fn read(text: &str, name: &str, latitude_deg: f64, elevation_m: f64) -> Record {
    let site = Site { latitude_deg, elevation_m };
    read_daily_csv(text, name, Some(site)).expect("the record reads").record
}

/// New York's JFK airport and Seattle-Tacoma, 2012-2015.
pub fn carried() -> Vec<Station> {
    [("JFK 2012-2015", "jfk"), ("Seattle 2012-2015", "seattle")]
        .map(|(name, key)| {
            let station = swardplay::carried::station(key).expect("a carried station");
            let record = station.read().expect("a carried record").record;
            Station { name, record, carried: true, replicates: 400 }
        })
        .into()
}

/// Central Park, 15 years, and a grid cell in Maine, 35 years; none, with a word on stderr, where
/// the folder is not named.
pub fn long() -> Vec<Station> {
    let Some(folder) = std::env::var_os("SWARDPLAY_RECORDS").map(PathBuf::from) else {
        eprintln!("skipped: SWARDPLAY_RECORDS is not set, so the long records are not there");
        return vec![];
    };
    [
        ("Central Park 2009-2024", "central_park_2009_2024.csv", 40.779, 43.0, 150),
        ("Maine 1980-2014", "maine_1980_2014.csv", 45.4, 200.0, 60),
    ]
    .into_iter()
    .map(|(name, file, latitude, elevation, replicates)| {
        let text = std::fs::read_to_string(folder.join(file)).expect("the folder has the record");
        let record = read(&text, name, latitude, elevation);
        Station { name, record, carried: false, replicates }
    })
    .collect()
}
