//! Station files: how a fault is told, with what a person can say to settle it.

use sim::weather::{Ask, RecordFault};

use crate::terminal::harmless;

/// Where a person says what a file leaves open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Says {
    /// Keys under `[weather]` of a scenario.
    Keys,
    /// Flags of the command.
    Flags,
    /// The answer of `init`, after the file's name.
    Answer,
}

/// A fault of a station file in one sentence or two.
pub fn told(name: &str, fault: &RecordFault, says: Says) -> String {
    let mut text = format!("the weather record `{name}`: {fault}");
    if let Some(ask) = &fault.ask {
        text.push_str(&format!(". {}", settle(ask, says)));
    }
    harmless(&text)
}

/// What settles a question.
fn settle(ask: &Ask, says: Says) -> String {
    match (ask, says) {
        (Ask::Units, Says::Keys) => {
            "Say which they are: file-units = \"us\", \"metric\" or \"tenths\" under [weather]"
                .into()
        }
        (Ask::Units, Says::Answer) => {
            "Say which they are after the file's name: \"my-station.csv, file-units us\" (or metric, \
             tenths)"
                .into()
        }
        (Ask::Station, Says::Answer) => {
            "Say which after the file's name: \"my-station.csv, station-id ID\"".into()
        }
        (Ask::Place, Says::Answer) => "Or say so after the file's name: \"my-station.csv, latitude \
                                       40.64, elevation 10 ft\""
            .into(),
        (Ask::Years(from, to), Says::Answer) => format!(
            "To read only what is whole, say so after the file's name: \"my-station.csv, from-year \
             {from}, to-year {to}\""
        ),
        (Ask::Units, Says::Flags) => "Say which they are: --file-units us, metric or tenths".into(),
        (Ask::Station, Says::Keys) => "Say which: station-id = \"ID\" under [weather]".into(),
        (Ask::Station, Says::Flags) => "Say which: --station ID".into(),
        (Ask::Place, Says::Keys) => {
            "Or say so under [weather]: latitude = 40.64 and elevation = \"10 ft\"".into()
        }
        (Ask::Place, Says::Flags) => "Or say so: --latitude 40.64 --elevation \"10 ft\"".into(),
        (Ask::Years(from, to), Says::Keys) => format!(
            "To read only what is whole: from-year = {from} and to-year = {to} under [weather]"
        ),
        (Ask::Years(from, to), Says::Flags) => {
            format!("To read only what is whole: --from {from} --to {to}")
        }
    }
}
