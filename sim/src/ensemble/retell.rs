//! One member of a run played again, with everything that happened to it.

use super::run::{RunFault, RunPlan, World, calendar, constants, doubtful, make};
use super::{MEASURES, TrackRows};
use crate::draw::Streams;
use crate::lawn::turning::{Note, Notes};
use crate::season::{Past, Script, Track, play_told};
use crate::weather::Sky;

/// One member under some programs: the same weather, lawn and luck under each.
#[derive(Clone, Debug, PartialEq)]
pub struct Retold {
    /// Its number, from 0.
    pub number: u32,
    /// One sky a day of the run.
    pub skies: Vec<Sky>,
    /// What lies behind the lawn where the programs take over within the run.
    pub past: Option<Past>,
    /// One entry a program asked for, in the order asked.
    pub tracks: Vec<ToldTrack>,
}

/// One track with its turning points.
#[derive(Clone, Debug, PartialEq)]
pub struct ToldTrack {
    /// Index of the program.
    pub program: usize,
    /// Its measures, day by day.
    pub rows: TrackRows,
    /// Work, setbacks, outcomes.
    pub track: Track,
    /// Turning points, in order of time; those of the member's past among them.
    pub notes: Vec<Note>,
}

impl ToldTrack {
    /// A measure, by its column in [`MEASURES`], on the evening of a day counted from the first.
    pub fn measure(&self, day: usize, column: usize) -> Option<f64> {
        self.rows.get(day * MEASURES.len() + column).copied().map(f64::from)
    }
}

/// Plays a member again as [`super::run_with`] played it, and notes its turning points.
pub(super) fn retell_with<W: World>(
    plan: &RunPlan,
    world: &W,
    number: u32,
    programs: &[usize],
) -> Result<Retold, RunFault> {
    let almanac = calendar(plan)?;
    let streams = Streams::new(plan.seed);
    let member = make(world, &constants(plan)?, &streams, number, &almanac)?;
    let scenario = plan.scenario;
    let own = doubtful(scenario).then(|| world.settled(scenario, &streams, number));
    let tracks = programs.iter().filter_map(|at| Some((*at, scenario.programs.get(*at)?)));
    let tracks = tracks.map(|(program, of)| {
        let mut rows = vec![0.0; almanac.days() * MEASURES.len()];
        let mut notes = Notes::new();
        let script = Script::new(scenario, of, &almanac);
        let script = match &own {
            Some(settled) => script.of_member(settled),
            None => script,
        };
        let track = play_told(&script, &almanac, &streams, &member, &mut rows, &mut notes);
        ToldTrack { program, rows, track, notes: notes.finish() }
    });
    let tracks = tracks.collect();
    Ok(Retold { number, tracks, past: member.past, skies: member.skies })
}
