//! What the program carries with it: example scenarios, products, station records.

use sim::weather::{ReadRecord, RecordFault, Site, read_daily_csv};

/// Example scenarios: name and text.
pub const EXAMPLES: [(&str, &str); 4] = [
    ("thin-front-lawn", include_str!("../scenarios/thin-front-lawn.toml")),
    ("new-build-lot", include_str!("../scenarios/new-build-lot.toml")),
    ("dry-summer-lawn", include_str!("../scenarios/dry-summer-lawn.toml")),
    ("own-station", include_str!("../scenarios/own-station.toml")),
];

/// Products that a scenario may name.
pub const PRODUCTS: &str = include_str!("../scenarios/products.toml");

/// Dated examples of local rules that a scenario may take by name.
pub const LOCAL_RULES: &str = include_str!("../scenarios/local-rules.toml");

/// A station record that needs no file. Provenance: `scenarios/weather/README.md`.
#[derive(Clone, Copy, Debug)]
pub struct Station {
    /// Key in scenarios.
    pub key: &'static str,
    /// Name for people.
    pub name: &'static str,
    /// Where it lies.
    pub site: Site,
    /// The record, as daily CSV.
    pub text: &'static str,
}

impl Station {
    /// Reads the record.
    ///
    /// # Errors
    /// The first fault of its text; the tests see that there is none.
    pub fn read(&self) -> Result<ReadRecord, RecordFault> {
        read_daily_csv(self.text, self.name, Some(self.site))
    }
}

/// The carried records. Airport anemometers stand at 10 m, which is what a record without a word
/// on it is taken to have.
pub const STATIONS: [Station; 2] = [
    Station {
        key: "jfk",
        name: "New York, JFK airport",
        site: Site { latitude_deg: 40.639, elevation_m: 3.0 },
        text: include_str!("../scenarios/weather/jfk_2012_2015.csv"),
    },
    Station {
        key: "seattle",
        name: "Seattle-Tacoma airport",
        site: Site { latitude_deg: 47.444, elevation_m: 113.0 },
        text: include_str!("../scenarios/weather/seattle_2012_2015.csv"),
    },
];

/// The carried example of this name.
pub fn example(name: &str) -> Option<&'static str> {
    EXAMPLES.iter().find(|(key, _)| *key == name).map(|(_, text)| *text)
}

/// The carried station of this key.
pub fn station(key: &str) -> Option<&'static Station> {
    STATIONS.iter().find(|s| s.key == key)
}
