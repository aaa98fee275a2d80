//! `play`: from a scenario to tables, pictures and words.

use std::fmt::Write as _;

use sim::ensemble::Results;
use sim::scenario::Checked;

use crate::again::Recorded;
use crate::args::{PlayArgs, PlayOptions};
use crate::engine::Weather;
use crate::failure::Failure;
use crate::files;
use crate::files::run::RunRecord;
use crate::files::timing::Stopwatch;
use crate::inputs::Inputs;
use crate::outdir::{INDEX, OutDir};
use crate::progress::watched;
use crate::report::{Drawn, Report};
use crate::terminal;
use crate::words::summary::Told;
use crate::{again, drawing, engine, inputs, interrupt, parts, pictures, report, words};

/// Runs `play`.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn run(typed: &PlayArgs) -> Result<(), Failure> {
    let mut watch = Stopwatch::start();
    let recorded = typed.again.as_deref().map(again::read).transpose()?;
    let args = &recorded.as_ref().map_or_else(|| typed.clone(), |past| past.args(&typed.options));
    let (inputs, record) = inputs::read(&args.scenario, args.options.units)?;
    if let Some(past) = &recorded {
        past.same(&inputs)?;
    }
    interrupt::listen();
    let options = &args.options;
    if typed.part.is_some() || typed.in_parts.is_some() {
        // A stop in the middle of the parts may be any, and is to leave nothing but parts behind.
        drop(OutDir::open(&options.out)?);
    }
    if let Some(which) = typed.part {
        let path = parts::play_one((&inputs, &record), options, which, &of_run(&inputs, options))?;
        return terminal::say(&parts::told(which, &path));
    }
    watch.lap("read");

    let (results, out) = match typed.in_parts {
        Some(of) => {
            let run = of_run(&inputs, options);
            let results = parts::play_all((&inputs, &record), options, of, &run)?;
            (results, OutDir::open(&options.out)?)
        }
        None => {
            let out = OutDir::open(&options.out)?;
            (play(&inputs, &record, options)?, out)
        }
    };
    watch.lap("play");

    finish((&inputs, &record), options, &results, out, watch)?;
    if let Some(of) = typed.in_parts {
        parts::clear(options, of);
    }
    Ok(())
}

/// Writes every file of a run into its folder, and tells the run.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn finish(
    (inputs, weather): (&Inputs, &Weather),
    options: &PlayOptions,
    results: &Results,
    mut out: OutDir,
    watch: Stopwatch,
) -> Result<(), Failure> {
    let files = write(inputs, weather, options, results, &mut out, watch)?;
    out.commit()?;
    terminal::say(&words::summary(&Told {
        results,
        scenario: &inputs.checked.scenario,
        units: inputs.units,
        catalogue: &engine::catalogue()?,
        cautions: &caution_lines(&inputs.checked, weather),
        folder: &options.out.display().to_string(),
        files: &files,
    }))
}

/// What a run is made of, before it is played.
fn of_run(inputs: &Inputs, options: &PlayOptions) -> Recorded {
    let record = RunRecord {
        repeat: repeat(inputs, options),
        seed: options.seed,
        members: options.members,
        tracks: options.tracks,
        ..RunRecord::of_inputs(inputs, 0)
    };
    Recorded::of(&record, inputs.units)
}

fn play(inputs: &Inputs, record: &Weather, options: &PlayOptions) -> Result<Results, Failure> {
    let scenario = &inputs.checked.scenario;
    watched(options.members, |observer| engine::play(scenario, record, options, observer))
}

/// Writes every file of a run aside and gives back their names.
///
/// # Errors
/// [`Failure::Machine`] where one cannot be written, [`Failure::Stopped`] after Ctrl-C.
pub fn write(
    inputs: &Inputs,
    weather: &Weather,
    options: &PlayOptions,
    results: &Results,
    out: &mut OutDir,
    mut watch: Stopwatch,
) -> Result<Vec<String>, Failure> {
    let scenario = &inputs.checked.scenario;
    let currency = scenario.crew.currency.as_str();
    let mut drawn = Vec::new();
    for sketch in pictures::all(results, scenario, inputs.units) {
        let files = drawing::draw(&sketch)?;
        for (name, bytes) in &files {
            out.write(name, |w| w.write_all(bytes))?;
        }
        let svg = files.into_iter().find(|(name, _)| name.ends_with(".svg"));
        drawn.extend(svg.map(|(_, svg)| Drawn { sketch, svg }));
    }
    watch.lap("pictures");
    out.write("bands.csv", |w| files::bands::write(results, w))?;
    out.write("outcomes.csv", |w| files::outcomes::write(results, scenario, w))?;
    out.write("contrasts.csv", |w| files::contrasts::write(results, currency, w))?;
    out.write("spread.csv", |w| files::spread::write(results, w))?;
    out.write("work.csv", |w| files::work::write(results, scenario, w))?;
    out.write("missed.csv", |w| files::missed::write(results, scenario, w))?;
    out.write("ledger.csv", |w| files::ledger::write(results, w))?;
    if options.tracks {
        out.write("tracks.csv", |w| files::tracks::write(results, w))?;
    }
    watch.lap("tables");
    let mut record = record(inputs, options, results);
    let page = report::page(&Report {
        results,
        scenario,
        units: inputs.units,
        catalogue: &engine::catalogue()?,
        cautions: &inputs.checked.cautions,
        weather,
        pictures: &drawn,
        record: &record,
    });
    out.write(report::NAME, |w| w.write_all(page.as_bytes()))?;
    watch.lap("report");
    let days = results.days as u64 * u64::from(results.members) * results.programs.len() as u64;
    let timing = watch.finish(days);
    out.write("timing.json", |w| files::timing::write(&timing, w))?;
    let names = out.listing();
    record.files.clone_from(&names);
    out.write(INDEX, |w| files::run::write(&record, w))?;
    Ok(names)
}

/// What repeats the run; its files are not known yet.
fn record(inputs: &Inputs, options: &PlayOptions, results: &Results) -> RunRecord {
    RunRecord {
        repeat: repeat(inputs, options),
        seed: results.seed,
        members: results.members,
        tracks: options.tracks,
        programs: results.programs.iter().map(|p| p.id.clone()).collect(),
        ..RunRecord::of_inputs(inputs, results.record_years)
    }
}

/// The command line that makes the same files. The thread count and the folder do not matter.
fn repeat(inputs: &Inputs, options: &PlayOptions) -> String {
    let name = files::run::typed(&inputs.source.name);
    let mut line = format!(
        "swardplay play {name} --members {} --seed {} --units {}",
        options.members,
        options.seed,
        inputs.units.key()
    );
    if options.tracks {
        let _ = write!(line, " --tracks");
    }
    line
}

/// One line for each caution of a scenario and each note on its weather record.
fn caution_lines(checked: &Checked, weather: &Weather) -> Vec<String> {
    let notes = weather.notes.iter().map(|n| format!("weather record: {n}"));
    checked.cautions.iter().map(|c| c.message.clone()).chain(notes).collect()
}
