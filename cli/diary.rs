//! `diary`: one simulated future told day by day, each event with its cause.

use sim::analysis::typical;
use sim::ensemble::Results;
use sim::scenario::Scenario;

use crate::args::DiaryArgs;
use crate::failure::Failure;
use crate::progress::watched;
use crate::words::diary::{Told, Width, tell};
use crate::{engine, input, inputs, interrupt, outfile, terminal};

/// Futures to choose the typical one from, where the person asks for no number.
const MEMBERS: u32 = 200;

/// Runs `diary`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(args: &DiaryArgs) -> Result<(), Failure> {
    let members = args.options.members.unwrap_or(MEMBERS);
    let asked = args.member.map(|k| number(k, members)).transpose()?;
    if let Some(path) = &args.out {
        outfile::may_write(path, args.force)?;
    }
    let (inputs, weather) = inputs::read(&args.scenario, args.options.units)?;
    let scenario = &inputs.checked.scenario;
    let programs = programs(args, scenario)?;
    interrupt::listen();
    let pick = |results: &Results| match asked {
        Some(number) => number,
        None => typical::most_typical(results, &programs),
    };
    let options = &args.options;
    let (results, retold) = watched(members, |observer| {
        engine::retell(scenario, &weather, members, options, &programs, pick, observer)
    })?;
    let told = Told {
        scenario,
        results: &results,
        retold: &retold,
        normals: &engine::normals(&weather.record)?,
        units: inputs.units,
        picked: asked.is_none(),
        all: args.all,
        width: Width(if args.out.is_some() { Width::FILE } else { terminal::width() }),
    };
    let text = terminal::harmless(&tell(&told));
    match &args.out {
        Some(path) => outfile::write(path, &text, args.force),
        None => terminal::say(&text),
    }
}

/// A future's number, from 0, by the one that a person typed, from 1.
fn number(typed: i64, members: u32) -> Result<u32, Failure> {
    let number = u32::try_from(typed).ok().filter(|k| (1..=members).contains(k));
    number.map(|k| k - 1).ok_or_else(|| {
        Failure::Input(format!(
            "--member {typed}: there is no such future. There are {members}, numbered from 1 to \
             {members}; --members N makes more"
        ))
    })
}

/// Indices of the programs to tell.
fn programs(args: &DiaryArgs, scenario: &Scenario) -> Result<Vec<usize>, Failure> {
    let mut found = match &args.program {
        Some(id) => vec![program("--program", id, scenario)?],
        None => vec![0],
    };
    if let Some(id) = &args.against {
        let other = program("--against", id, scenario)?;
        if found.contains(&other) {
            return Err(Failure::Input(format!(
                "--against {}: that is the program itself; name another of {}",
                terminal::harmless(id),
                ids(scenario)
            )));
        }
        found.push(other);
    }
    Ok(found)
}

fn program(flag: &str, id: &str, scenario: &Scenario) -> Result<usize, Failure> {
    scenario.programs.iter().position(|p| p.id == id).ok_or_else(|| {
        let all = scenario.programs.iter().map(|p| p.id.as_str());
        let near = input::nearest(id, all);
        let near = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
        Failure::Input(terminal::harmless(&format!(
            "{flag} {id}: the scenario has no such program. It has {}{near}",
            ids(scenario)
        )))
    })
}

fn ids(scenario: &Scenario) -> String {
    scenario.programs.iter().map(|p| p.id.as_str()).collect::<Vec<_>>().join(", ")
}
