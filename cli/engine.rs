//! The only place that calls the model.

use std::ops::Range;

use sim::analysis::credit::{self, Credits};
use sim::analysis::lesson::{self, Answer};
use sim::analysis::measure_first::{self, Asked, Findings};
use sim::analysis::thrift::{self, Limits, Space};
use sim::analysis::when::{self, Order, Point, Sweep};
use sim::climate::{self, Normal};
use sim::ensemble::odds::Odds;
use sim::ensemble::{self, Observer, Part, PartFault, Results, Retold, RunFault, RunPlan, Stage};
use sim::parameters::{self, Catalogue, Entry, Parameters};
use sim::scenario::{
    self, Checked, Dial, Fault, Lesson, LessonFault, Program, Scenario, SoFarSource, WeatherSource,
};
use sim::weather::{self, ReadOptions, Record, SoFar};

use crate::args::{AnalysisOptions, PlayOptions};
use crate::carried;
use crate::failure::Failure;
use crate::scenario_source::WeatherText;
use crate::station::{Says, told};
use crate::terminal;
use crate::units::Units;

/// Checks a scenario text against the carried products and examples of local rules.
///
/// # Errors
/// Every fault of the text.
pub fn check(text: &str) -> Result<Checked, Vec<Fault>> {
    scenario::check_with_rules(text, carried::PRODUCTS, carried::LOCAL_RULES)
}

/// Checks a lesson text as [`check`] does a scenario; `base` is the text of the scenario that it
/// names.
///
/// # Errors
/// Every fault, by the text that it stands in.
pub fn check_lesson(
    text: &str,
    base: Option<&str>,
    studies: &[&str],
) -> Result<Lesson, Vec<LessonFault>> {
    lesson::check(text, base, carried::PRODUCTS, carried::LOCAL_RULES, studies)
}

/// What the members of a lesson answer.
///
/// # Errors
/// [`Failure::Machine`] where its results lack something.
pub fn answer(lesson: &Lesson, results: &Results) -> Result<Answer, Failure> {
    lesson::answer(lesson, results).map_err(Failure::Machine)
}

/// A record that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// The record.
    pub record: Record,
    /// What a user should know: gaps that were filled, columns that were not used.
    pub notes: Vec<String>,
    /// The days observed in the run's own year, the same in every future.
    pub so_far: Option<SoFar>,
}

/// Reads the weather files of a scenario. A carried record has its site in [`carried`]; a file states
/// its own, or the scenario does. `says` is where a person settles what a file leaves open.
///
/// # Errors
/// [`Failure::Input`] with the first fault and its line.
pub fn read_weather(
    weather: &WeatherText,
    scenario: &Scenario,
    says: Says,
) -> Result<Weather, Failure> {
    let (name, site) = match &weather.source {
        WeatherSource::Carried(key) => match carried::station(key) {
            Some(station) => (station.name, Some(station.site)),
            None => (key.as_str(), None),
        },
        WeatherSource::File(name) => (name.as_str(), None),
    };
    let file = &scenario.weather.file;
    let carried = matches!(weather.source, WeatherSource::Carried(_));
    let options = ReadOptions {
        name,
        site,
        latitude_deg: file.latitude_deg,
        elevation_m: file.elevation_m,
        // A carried record has no need of them; they are about the weather so far.
        station: file.station.as_deref().filter(|_| !carried),
        units: file.units.filter(|_| !carried),
        years: file.years,
    };
    let fault = |name: &str, fault| Failure::Input(told(name, &fault, says));
    let read = weather::read_record(&weather.text, &options).map_err(|f| fault(name, f))?;
    ensemble::northern(&read.record).map_err(|fault| {
        Failure::Input(format!("the weather record `{}`: {fault}", terminal::harmless(name)))
    })?;
    let mut out = Weather { record: read.record, notes: read.notes, so_far: None };
    let observed = match (&scenario.weather.so_far, &weather.so_far) {
        (Some(SoFarSource::Record), _) => Some((name, out.record.clone())),
        (_, Some((name, text))) => {
            let site = Some(out.record.site);
            let (station, units) = (file.station.as_deref(), file.units);
            let options = ReadOptions { name, site, station, units, ..ReadOptions::default() };
            let read = weather::read_record(text, &options).map_err(|f| fault(name, f))?;
            out.notes.extend(read.notes.into_iter().map(|note| format!("so far: {note}")));
            Some((name.as_str(), read.record))
        }
        _ => None,
    };
    if let Some((name, observed)) = observed {
        let so_far = SoFar::new(&out.record, &observed, scenario.first_year).map_err(|fault| {
            Failure::Input(format!("so-far, from `{}`: {fault}", terminal::harmless(name)))
        })?;
        let last = observed.first.plus(observed.days.len() as i32 - 1);
        out.notes.push(format!(
            "observed up to {last}, the same in every future; simulated from the next day on"
        ));
        out.so_far = Some(so_far);
    }
    Ok(out)
}

/// A run's members, ready to be played in parts.
pub struct Players<'a> {
    scenario: &'a Scenario,
    weather: &'a Weather,
    options: &'a PlayOptions,
    catalogue: Catalogue,
}

impl<'a> Players<'a> {
    /// The members of a run.
    ///
    /// # Errors
    /// Where the embedded catalogue is broken: a fault of the build, not of the input.
    pub fn new(
        scenario: &'a Scenario,
        weather: &'a Weather,
        options: &'a PlayOptions,
    ) -> Result<Players<'a>, Failure> {
        let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
        Ok(Players { scenario, weather, options, catalogue })
    }

    fn plan(&self) -> RunPlan<'_> {
        plan(self.scenario, self.weather, &self.catalogue, self.options)
    }

    /// Plays stretches of members, one after the other, and hands each over as a part.
    ///
    /// # Errors
    /// As [`play`], and those of `take`.
    pub fn parts(
        &self,
        stretches: impl Iterator<Item = Range<u32>>,
        observer: Observer,
        mut take: impl FnMut(Part) -> Result<(), Failure>,
    ) -> Result<(), Failure> {
        let plan = self.plan();
        let stage = Stage::new(&plan, &self.catalogue, observer).map_err(failure)?;
        let mut done = 0;
        for members in stretches {
            let counted = |now: u32| observer(done + now);
            take(stage.part(members.clone(), &counted).map_err(failure)?)?;
            done += members.len() as u32;
        }
        Ok(())
    }

    /// Puts parts that came out of files together.
    ///
    /// # Errors
    /// What is wrong with a part, with its place; [`Failure::Machine`] where none is there.
    pub fn together<P>(
        &self,
        places: impl Iterator<Item = P>,
        read: impl Fn(&P) -> Result<Part, Failure>,
        refuse: impl Fn(&P, &str) -> Failure,
    ) -> Result<Results, Failure> {
        let plan = self.plan();
        let mut whole: Option<Part> = None;
        for place in places {
            let part = read(&place)?;
            let bad = |fault: PartFault| refuse(&place, &fault.to_string());
            part.fits(&plan, &self.catalogue).map_err(bad)?;
            match &mut whole {
                Some(whole) => whole.append(part).map_err(bad)?,
                None => whole = Some(part.expecting(plan.members)),
            }
        }
        let whole = whole.ok_or(PartFault::Missing);
        let results = whole.and_then(|whole| whole.results(&plan, &self.catalogue));
        results.map_err(|fault| Failure::Machine(fault.to_string()))
    }
}

/// Plays every member under every program.
///
/// # Errors
/// [`Failure::Input`] where scenario and record do not fit together, [`Failure::Stopped`] where
/// the observer said so, [`Failure::Machine`] otherwise.
pub fn play(
    scenario: &Scenario,
    weather: &Weather,
    options: &PlayOptions,
    observer: Observer,
) -> Result<Results, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = plan(scenario, weather, &catalogue, options);
    ensemble::run_explained(&plan, &catalogue, observer).map_err(failure)
}

/// The plan of a run as it was asked for.
fn plan<'a>(
    scenario: &'a Scenario,
    weather: &'a Weather,
    catalogue: &'a Catalogue,
    options: &PlayOptions,
) -> RunPlan<'a> {
    RunPlan {
        scenario,
        record: &weather.record,
        so_far: weather.so_far.as_ref(),
        catalogue: &catalogue.entries,
        members: options.members,
        seed: options.seed,
        // 0 takes one for each processor.
        threads: options.threads.unwrap_or(0) as usize,
        keep_tracks: options.tracks,
    }
}

/// Plays members as [`play`] does, for a question about them: without the runs that tell which luck
/// spreads an outcome.
///
/// # Errors
/// As [`play`].
pub fn ask(
    scenario: &Scenario,
    weather: &Weather,
    options: &AnalysisOptions,
    members: u32,
    observer: Observer,
) -> Result<Results, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    let plan = RunPlan { keep_tracks: true, ..plan };
    ensemble::run(&plan, &catalogue, observer).map_err(failure)
}

/// A program's practice with a setting at each of some values.
pub fn turned(
    text: &str,
    checked: &Checked,
    practice: (&Program, &str),
    dial: (&Dial, usize),
    values: &[f64],
) -> Vec<Point> {
    when::points(text, check, checked, practice, dial, values)
}

/// Plays members under a scenario's programs and keeps their work, not their days.
///
/// # Errors
/// As [`play`].
pub fn work(
    scenario: &Scenario,
    weather: &Weather,
    (members, options): (u32, &AnalysisOptions),
    observer: Observer,
) -> Result<Results, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    ensemble::run(&plan, &catalogue, observer).map_err(failure)
}

/// Plays a sweep, with so many members in each of its two sets.
///
/// # Errors
/// As for [`play`].
pub fn sweep(
    scenario: &Scenario,
    weather: &Weather,
    (members, options): (u32, &AnalysisOptions),
    order: &Order,
    observer: Observer,
) -> Result<Sweep, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    when::sweep(&plan, &catalogue, order, observer).map_err(failure)
}

/// Plays every mix of two programs of a scenario and shares their difference out.
///
/// # Errors
/// As for [`play`].
pub fn credit(
    scenario: &Scenario,
    weather: &Weather,
    (members, options): (u32, &AnalysisOptions),
    programs: (&Program, &Program),
    observer: Observer,
) -> Result<Credits, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    credit::credit(&plan, &catalogue, programs, observer).map_err(failure)
}

/// What may be changed of some programs of a scenario.
///
/// # Errors
/// [`Failure::Input`] where a program cannot be written out by itself.
pub fn space<'t>(
    text: &'t str,
    programs: &[&Program],
    limits: &Limits,
    units: Units,
) -> Result<Space<'t>, Failure> {
    Space::new(text, &check, programs, limits, units.into()).map_err(|faults| {
        let why = match faults.first() {
            Some(fault) if fault.code == "syntax" => {
                "write each under a head of its own, [[program]]".to_string()
            }
            Some(fault) => format!("{}; expected {}", fault.message, fault.expected),
            None => "it has no practices that can be read".to_string(),
        };
        Failure::Input(terminal::harmless(&format!("the programs cannot be added to: {why}")))
    })
}

/// Searches a space for the cheapest program that holds, and judges what it finds.
///
/// # Errors
/// As for [`play`].
pub fn thrift(
    scenario: &Scenario,
    weather: &Weather,
    options: &AnalysisOptions,
    (space, order): (&mut Space, &thrift::Order),
    observer: Observer,
) -> Result<thrift::Answer, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let members = order.members.saturating_add(order.fresh);
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    thrift::thrift(&plan, &catalogue, space, order, observer).map_err(failure)
}

/// Works out which facts would change the choice between some programs of a scenario.
///
/// # Errors
/// As for [`play`].
pub fn measure_first(
    scenario: &Scenario,
    weather: &Weather,
    (members, options): (u32, &AnalysisOptions),
    (programs, asked): (&[Program], Asked),
    observer: Observer,
) -> Result<Findings, Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    measure_first::measure_first(&plan, &catalogue, programs, asked, observer).map_err(failure)
}

/// The plan of a run that keeps no tracks.
fn analysis_plan<'a>(
    scenario: &'a Scenario,
    weather: &'a Weather,
    catalogue: &'a Catalogue,
    (members, options): (u32, &AnalysisOptions),
) -> RunPlan<'a> {
    RunPlan {
        scenario,
        record: &weather.record,
        so_far: weather.so_far.as_ref(),
        catalogue: &catalogue.entries,
        members,
        seed: options.seed,
        threads: options.threads.unwrap_or(0) as usize,
        keep_tracks: false,
    }
}

/// Plays every member under every program, and tells one of them again with its turning points: the one
/// that `pick` gives, by number from 0, under the programs of these indices.
///
/// # Errors
/// As [`play`].
pub fn retell(
    scenario: &Scenario,
    weather: &Weather,
    members: u32,
    options: &AnalysisOptions,
    programs: &[usize],
    pick: impl FnOnce(&Results) -> u32,
    observer: Observer,
) -> Result<(Results, Retold), Failure> {
    let catalogue = Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?;
    let plan = analysis_plan(scenario, weather, &catalogue, (members, options));
    ensemble::run_and_retell(&plan, &catalogue, programs, pick, observer).map_err(failure)
}

/// What is usual at a station, month by month.
///
/// # Errors
/// Where the embedded catalogue is broken: a fault of the build, not of the input.
pub fn normals(record: &Record) -> Result<[Normal; 12], Failure> {
    Ok(climate::normals(record, &central()?.weather))
}

fn failure(fault: RunFault) -> Failure {
    match fault {
        RunFault::Stopped => Failure::Stopped,
        RunFault::Threads(_) => Failure::Machine(fault.to_string()),
        _ => Failure::Input(fault.to_string()),
    }
}

/// Every constant of the model, in file order.
///
/// # Errors
/// Where the embedded catalogue is broken: a fault of the build, not of the input.
pub fn catalogue() -> Result<Vec<Entry>, Failure> {
    parameters::catalogue(parameters::TEXT).map_err(Failure::Machine)
}

/// The model's constants at their central values.
///
/// # Errors
/// Where the embedded catalogue is broken: a fault of the build, not of the input.
pub fn central() -> Result<Parameters, Failure> {
    Ok(Catalogue::new(parameters::TEXT).map_err(Failure::Machine)?.central())
}

/// The central 95 % binomial interval of a share, from `hits` of `members`: how far the count
/// could move with other draws.
pub fn interval(hits: u32, members: u32) -> (f64, f64) {
    Odds { hits: hits.min(members), of: members }.interval()
}
