//! Which program, which future, which seasons: every fault with what was expected.

use sim::scenario::{Program, Scenario};

use crate::args::SheetArgs;
use crate::failure::Failure;
use crate::input::program;
use crate::terminal::harmless;

/// What a sheet is asked for.
pub(super) struct Asked<'a> {
    pub program: &'a Program,
    /// Number of the member, from 0; `None` takes the typical one.
    pub member: Option<u32>,
    /// Years to print.
    pub years: Vec<i32>,
}

/// Reads what is asked for.
///
/// # Errors
/// [`Failure::Input`] with what was expected.
pub(super) fn read<'a>(
    args: &SheetArgs,
    scenario: &'a Scenario,
    members: u32,
) -> Result<Asked<'a>, Failure> {
    let program = program(args.program.as_deref(), scenario)?;
    let member = match args.member.as_str() {
        "typical" => None,
        typed => Some(number(typed, members)?),
    };
    Ok(Asked { program, member, years: years(&args.season, scenario)? })
}

/// A future's number, from 0, by the one that a person typed, from 1.
fn number(typed: &str, members: u32) -> Result<u32, Failure> {
    let number = typed.parse::<u32>().ok().filter(|k| (1..=members).contains(k));
    number.map(|k| k - 1).ok_or_else(|| {
        Failure::Input(format!(
            "--member {}: there is no such future. There are {members}, numbered from 1 to {members}; \
             --members N makes more. Or say --member typical",
            harmless(typed)
        ))
    })
}

/// The years to print, by what a person typed: the season's number, from 1, or `all`.
fn years(typed: &str, scenario: &Scenario) -> Result<Vec<i32>, Failure> {
    let seasons = scenario.seasons.max(1);
    if typed == "all" {
        return Ok(scenario.years().collect());
    }
    let nth = typed.parse::<u32>().ok().filter(|n| (1..=seasons).contains(n));
    nth.map(|n| vec![scenario.first_year + n as i32 - 1]).ok_or_else(|| {
        let seasons = match seasons {
            1 => "the scenario has one: 1".to_string(),
            n => format!("the scenario has {n}, numbered from 1 to {n}; all prints each"),
        };
        Failure::Input(format!("--season {}: there is no such season; {seasons}", harmless(typed)))
    })
}
