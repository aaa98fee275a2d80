//! What the program carries with it: example scenarios, products, station records.

use sim::weather::{ReadRecord, RecordFault, Site, read_daily_csv};

/// Example scenarios: name and text.
pub const EXAMPLES: [(&str, &str); 7] = [
    ("thin-front-lawn", include_str!("../scenarios/thin-front-lawn.toml")),
    ("new-build-lot", include_str!("../scenarios/new-build-lot.toml")),
    ("dry-summer-lawn", include_str!("../scenarios/dry-summer-lawn.toml")),
    ("tight-budget-lawn", include_str!("../scenarios/tight-budget-lawn.toml")),
    ("fall-renovation", include_str!("../scenarios/fall-renovation.toml")),
    ("clover-nutsedge-lawn", include_str!("../scenarios/clover-nutsedge-lawn.toml")),
    ("own-station", include_str!("../scenarios/own-station.toml")),
];

/// Lessons: name and text, in the order in which a crew may take them.
pub const LESSONS: [(&str, &str); 16] = [
    ("cut-often", include_str!("../scenarios/lessons/cut-often.toml")),
    ("cut-height", include_str!("../scenarios/lessons/cut-height.toml")),
    ("tall-seedlings", include_str!("../scenarios/lessons/tall-seedlings.toml")),
    ("barrier-early", include_str!("../scenarios/lessons/barrier-early.toml")),
    ("barrier-late", include_str!("../scenarios/lessons/barrier-late.toml")),
    ("barrier-half", include_str!("../scenarios/lessons/barrier-half.toml")),
    ("barrier-split", include_str!("../scenarios/lessons/barrier-split.toml")),
    ("barrier-lasting", include_str!("../scenarios/lessons/barrier-lasting.toml")),
    ("barrier-dry", include_str!("../scenarios/lessons/barrier-dry.toml")),
    ("clean-lawn", include_str!("../scenarios/lessons/clean-lawn.toml")),
    ("feed-more", include_str!("../scenarios/lessons/feed-more.toml")),
    ("feed-fall", include_str!("../scenarios/lessons/feed-fall.toml")),
    ("feed-coated", include_str!("../scenarios/lessons/feed-coated.toml")),
    ("clippings", include_str!("../scenarios/lessons/clippings.toml")),
    ("compost", include_str!("../scenarios/lessons/compost.toml")),
    ("water-when-dry", include_str!("../scenarios/lessons/water-when-dry.toml")),
];

/// What published studies the model was set against, and what came of it.
pub const STUDIES: &str = include_str!("../tests/STUDIES.md");

/// The same studies in plain words.
pub const STUDIES_PLAIN: &str = include_str!("../tests/support/plain.toml");

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

/// The carried lesson of this name.
pub fn lesson(name: &str) -> Option<&'static str> {
    LESSONS.iter().find(|(key, _)| *key == name).map(|(_, text)| *text)
}

/// The carried example of this name.
pub fn example(name: &str) -> Option<&'static str> {
    EXAMPLES.iter().find(|(key, _)| *key == name).map(|(_, text)| *text)
}

/// The carried station of this key.
pub fn station(key: &str) -> Option<&'static Station> {
    STATIONS.iter().find(|s| s.key == key)
}
