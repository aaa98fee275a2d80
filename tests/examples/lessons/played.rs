//! Plays scenario texts on the real ensemble and pairs programs member by member.

use std::error::Error;
use swardplay::carried;

use sim::calendar::Day;
use sim::ensemble::{
    Continue, Contrast, MEASURES, ProgramResults, Results, RunPlan, measure, paired,
    quantile_sorted, run,
};
use sim::outcomes::{Better, OUTCOMES, OutcomeKind, outcome};
use sim::parameters::Catalogue;
use sim::scenario::{Fault, check};
use sim::weather::Record;

/// The outcomes that the page tells; the first is the headline.
pub const TOLD: [&str; 10] = [
    "crabgrass_peak",
    "crabgrass_peak_last",
    "quality_summer",
    "days_acceptable",
    "turf_cover_end",
    ROOTS,
    "mowings",
    "visits",
    "crew_hours",
    "cost",
];

/// Mean root mass in July of the last season, read off the tracks.
pub const ROOTS: &str = "root_mass_july";

/// Root masses closer than this share of the baseline's median are told as the same (our
/// judgement: cores of one plot differ by more).
const ROOTS_SAME: f64 = 0.1;

/// What all runs of the page share.
pub struct Ground {
    record: Record,
    catalogue: Catalogue,
    /// Number of members.
    pub members: u32,
    /// Seed of all draws.
    pub seed: u64,
    /// Constants that hold in every run: name and value.
    pub constants: Vec<(String, f64)>,
}

/// One program's outcomes: `values[told][member]`, in the order of [`TOLD`].
pub struct Sample {
    values: Vec<Vec<f64>>,
}

/// The years that a run rests on.
#[derive(Clone, Copy, Default)]
pub struct Years {
    /// Calendar years of record behind the weather.
    pub record: u32,
    /// Seasons that were played.
    pub seasons: u32,
}

/// A program against its baseline, in the order of [`TOLD`].
pub struct Pair {
    /// Medians of the baseline.
    pub base: Vec<f64>,
    /// Paired differences.
    pub contrasts: Vec<Contrast>,
    /// What was compared, with the least difference that matters.
    pub kinds: Vec<OutcomeKind>,
    /// Number of members.
    pub members: u32,
}

impl Ground {
    /// The demo's station and the embedded constants.
    pub fn new(members: u32, seed: u64, constants: Vec<(String, f64)>) -> Result<Ground, String> {
        let station = carried::station("jfk").ok_or("no JFK record")?;
        let record = station.read().map_err(|fault| fault.message)?.record;
        Ok(Ground { record, catalogue: Catalogue::embedded(), members, seed, constants })
    }

    /// The central value of a constant of the model.
    pub fn constant(&self, name: &str) -> Option<f64> {
        let set = self.constants.iter().rev().find(|(n, _)| n == name).map(|(_, value)| *value);
        set.or_else(|| Some(self.catalogue.entries[self.catalogue.position(name)?].value))
    }

    /// Plays a text: one sample a program, and the years behind them.
    pub fn play(&self, text: &str) -> Result<(Vec<Sample>, Years), Box<dyn Error>> {
        let checked = check(text, carried::PRODUCTS).map_err(|faults| told(&faults))?;
        let plan = RunPlan {
            scenario: &checked.scenario,
            record: &self.record,
            so_far: None,
            catalogue: &self.catalogue.entries,
            members: self.members,
            seed: self.seed,
            threads: 0,
            keep_tracks: true,
        };
        let results = run(&plan, &self.catalogue, &|_| Continue::Yes)?;
        let samples = results.programs.iter().map(|program| Sample::of(program, &results));
        let years = Years { record: results.record_years, seasons: checked.scenario.seasons };
        Ok((samples.collect(), years))
    }
}

fn told(faults: &[Fault]) -> String {
    let lines: Vec<String> =
        faults.iter().map(|f| format!("{}: expected {}", f.message, f.expected)).collect();
    lines.join("\n")
}

impl Sample {
    fn of(program: &ProgramResults, results: &Results) -> Sample {
        let values = TOLD.iter().map(|key| match outcome(key) {
            Some(at) => program.outcomes[at].clone(),
            None => roots(program, results),
        });
        Sample { values: values.collect() }
    }

    /// The median of an outcome of [`TOLD`].
    pub fn median(&self, key: &str) -> f64 {
        TOLD.iter().position(|k| *k == key).map_or(f64::NAN, |at| median(&self.values[at]))
    }

    /// This program against a baseline.
    pub fn against(&self, base: &Sample) -> Pair {
        let medians: Vec<f64> = base.values.iter().map(|v| median(v)).collect();
        let kinds: Vec<OutcomeKind> =
            TOLD.iter().zip(&medians).map(|(key, median)| kind(key, *median)).collect();
        let both = self.values.iter().zip(&base.values);
        let contrasts =
            kinds.iter().zip(both).map(|(kind, (ours, theirs))| paired(kind, ours, theirs));
        let members = self.values.first().map_or(0, Vec::len) as u32;
        Pair { base: medians, contrasts: contrasts.collect(), kinds: kinds.clone(), members }
    }
}

fn kind(key: &'static str, base: f64) -> OutcomeKind {
    outcome(key).map_or(
        OutcomeKind {
            key,
            label: "Roots in July of the last season",
            unit: "g/m2",
            better: Better::Higher,
            least_difference: (ROOTS_SAME * base).max(1.0),
        },
        |at| OUTCOMES[at],
    )
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    quantile_sorted(&sorted, 0.5)
}

/// Mean root mass in the last July, g/m2, by member.
fn roots(program: &ProgramResults, results: &Results) -> Vec<f64> {
    let column = measure("root_mass").expect("root mass is a measure");
    let (last_year, ..) = results.first.plus(results.days as i32 - 1).ymd();
    let july = |day: u8| Day::from_ymd(last_year, 7, day).map_or(0, |d| d.0 - results.first.0);
    let (from, to) = (july(1).max(0) as usize, july(31).max(0) as usize);
    let tracks = program.tracks.as_deref().unwrap_or_default();
    let mean = |rows: &Vec<f32>| {
        let days = rows.chunks_exact(MEASURES.len()).take(to + 1).skip(from);
        let (sum, count) =
            days.fold((0.0, 0u32), |(sum, n), row| (sum + f64::from(row[column]), n + 1));
        sum / f64::from(count.max(1))
    };
    tracks.iter().map(mean).collect()
}
