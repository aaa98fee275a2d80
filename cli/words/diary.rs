//! One future as a diary that can be read aloud: date, what was done, what the lawn did, and why.

mod amount;
mod entry;
mod layout;
mod opening;
mod sprayed;
mod turning;

use sim::analysis::diary::{self, Entry, PER_SEASON};
use sim::analysis::seasons::{Season, seasons};
use sim::climate::Normal;
use sim::ensemble::{Results, Retold, ToldTrack};
use sim::scenario::{Program, Scenario};
use sim::weather::Sky;

use crate::units::Units;
use crate::words::lines::wrap_to;

/// Characters in a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Width(pub usize);

impl Width {
    /// In a file.
    pub const FILE: usize = 84;
}

/// What a diary is made from.
#[derive(Clone, Copy, Debug)]
pub struct Told<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// All futures of the run.
    pub results: &'a Results,
    /// The one to tell, under one program or two.
    pub retold: &'a Retold,
    /// What is usual at the station.
    pub normals: &'a [Normal; 12],
    /// The reader's units.
    pub units: Units,
    /// Whether it was chosen as the most typical.
    pub picked: bool,
    /// Whether everything is told.
    pub all: bool,
    /// Widest line.
    pub width: Width,
}

/// The diary.
pub fn tell(told: &Told) -> String {
    let mut out = opening::tell(told);
    out.push_str(&layout::days(told));
    out.push_str(&opening::close(told));
    out
}

/// One track's days that matter most, at most so many of a season.
pub fn account(
    program: &Program,
    track: &ToldTrack,
    units: Units,
    per_season: usize,
    width: Width,
) -> String {
    let teller = entry::Teller { program, units };
    let entries = diary::chosen(track, program, per_season);
    layout::dated(width, entries.iter().map(|entry| (entry.day, teller.words(entry))).collect())
}

/// The weather of each season of a path, a paragraph each.
pub fn weather(skies: &[Sky], normals: &[Normal; 12], units: Units, width: Width) -> String {
    let of = |season: &Season| wrap(width, &opening::weather(season, units), 0, 2);
    seasons(skies, normals).iter().map(of).collect()
}

/// A paragraph within a diary's width; see [`amount`].
fn wrap(width: Width, text: &str, first: usize, rest: usize) -> String {
    wrap_to(width.0, text, first, rest).replace(amount::HOLD, " ")
}

/// The entries told of one track.
fn entries(told: &Told, track: usize) -> Vec<Entry> {
    let of = &told.retold.tracks[track];
    match told.scenario.programs.get(of.program) {
        Some(program) if !told.all => diary::chosen(of, program, PER_SEASON),
        _ => diary::all(of),
    }
}
