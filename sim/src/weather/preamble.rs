//! The comment lines before a table: where the station lies.

use std::iter::Peekable;

use super::Site;
use super::options::{Ask, ReadOptions};
use super::record::RecordFault;

/// What the comment lines before the header state.
#[derive(Default)]
pub(super) struct Preamble {
    pub(super) name: Option<String>,
    pub(super) anemometer_m: Option<f64>,
    latitude_deg: Option<f64>,
    elevation_m: Option<f64>,
}

impl Preamble {
    /// Takes the leading comment lines. Comments that are not `# key: value` with a known key are
    /// only comments.
    ///
    /// # Errors
    /// A known key whose value does not read or lies outside its range.
    pub(super) fn read<'a>(
        lines: &mut Peekable<impl Iterator<Item = (usize, &'a str)>>,
    ) -> Result<Preamble, RecordFault> {
        let mut preamble = Preamble::default();
        while let Some((number, line)) = lines.next_if(|(_, l)| l.trim_start().starts_with('#')) {
            let comment = line.trim_start().trim_start_matches('#');
            let Some((key, value)) = comment.split_once(':') else { continue };
            // A spreadsheet pads comment lines with the commas of the empty cells.
            let value = value.trim().trim_end_matches([',', ' ']);
            match key.trim().to_lowercase().as_str() {
                "name" if !value.is_empty() => preamble.name = Some(value.to_owned()),
                "latitude_deg" => preamble.latitude_deg = Some(stated(LATITUDE, value, number)?),
                "elevation_m" => preamble.elevation_m = Some(stated(ELEVATION, value, number)?),
                "anemometer_m" => preamble.anemometer_m = Some(stated(ANEMOMETER, value, number)?),
                _ => {}
            }
        }
        Ok(preamble)
    }

    /// The station's place: as the options state it, or else the comments, or else the table.
    ///
    /// # Errors
    /// None of them states it, or what is stated lies outside the ranges.
    pub(super) fn site(
        &self,
        options: &ReadOptions<'_>,
        table: Option<Site>,
    ) -> Result<Site, RecordFault> {
        let given = options.site;
        let first = |all: [Option<f64>; 4]| all.into_iter().flatten().next();
        let latitude = first([
            options.latitude_deg,
            given.map(|s| s.latitude_deg),
            self.latitude_deg,
            table.map(|s| s.latitude_deg),
        ]);
        let elevation = first([
            options.elevation_m,
            given.map(|s| s.elevation_m),
            self.elevation_m,
            table.map(|s| s.elevation_m),
        ]);
        let missing = |(key, example): (&str, &str)| {
            RecordFault::new(
                format!("nothing says the station's {key}"),
                format!("a line '# {key}: {example}' above the header"),
            )
            .help("radiation and day length depend on where the station lies")
            .ask(Ask::Place)
        };
        Ok(Site {
            latitude_deg: in_range(
                LATITUDE,
                latitude.ok_or_else(|| missing(("latitude_deg", "40.64")))?,
            )?,
            elevation_m: in_range(
                ELEVATION,
                elevation.ok_or_else(|| missing(("elevation_m", "3")))?,
            )?,
        })
    }
}

/// A key with the range of its value.
type Range = (&'static str, f64, f64);
const LATITUDE: Range = ("latitude_deg", -66.0, 66.0);
const ELEVATION: Range = ("elevation_m", -430.0, 5000.0);
const ANEMOMETER: Range = ("anemometer_m", 1.0, 100.0);

fn stated(range: Range, text: &str, line: usize) -> Result<f64, RecordFault> {
    let value = text.parse().unwrap_or(f64::NAN);
    in_range(range, value).map_err(|fault| {
        RecordFault { message: format!("{} is '{text}'", range.0), ..fault }.at(line)
    })
}

fn in_range((key, low, high): Range, value: f64) -> Result<f64, RecordFault> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(RecordFault::new(format!("{key} is {value}"), format!("a number from {low} to {high}")))
    }
}
