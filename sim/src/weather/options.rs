//! What a person can settle about a station file that the file itself leaves open.

use super::Site;

/// What to know before a station file is read; all of it may be left open.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ReadOptions<'a> {
    /// Stands where the file names no station.
    pub name: &'a str,
    /// Where the station lies; goes before what the file says.
    pub site: Option<Site>,
    /// Latitude, degrees north, -66..=66; goes before what the file says.
    pub latitude_deg: Option<f64>,
    /// Elevation above sea level, m; goes before what the file says.
    pub elevation_m: Option<f64>,
    /// Which station to take where a file holds several.
    pub station: Option<&'a str>,
    /// The units of a table whose columns do not say them.
    pub units: Option<TableUnits>,
    /// First and last calendar year to read, where not all of them.
    pub years: Option<(i32, i32)>,
}

/// The units of a whole table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableUnits {
    /// Degrees Fahrenheit, inches, miles an hour.
    Us,
    /// Degrees C, mm, m/s.
    Metric,
    /// Tenths of a degree C, of a mm, of a m/s.
    Tenths,
}

impl TableUnits {
    /// All of them, by the word that a person writes.
    pub const WORDS: [(&'static str, TableUnits); 3] =
        [("us", TableUnits::Us), ("metric", TableUnits::Metric), ("tenths", TableUnits::Tenths)];

    /// The units of a word.
    pub fn of_word(word: &str) -> Option<TableUnits> {
        TableUnits::WORDS.iter().find(|(known, _)| *known == word).map(|(_, units)| *units)
    }

    /// For people.
    pub fn in_words(self) -> &'static str {
        match self {
            TableUnits::Us => "US units (F, inches, mph)",
            TableUnits::Metric => "metric units (C, mm, m/s)",
            TableUnits::Tenths => "tenths of C, mm and m/s",
        }
    }
}

/// The one thing that would let a file be read; the door knows how a person says it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ask {
    /// The units of the table.
    Units,
    /// Which of several stations.
    Station,
    /// Where the station lies.
    Place,
    /// Only these years of the file (first, last).
    Years(i32, i32),
}
