//! What a run gives back: plain data for files, pictures and words.

use super::condition::Conditioning;
use super::spread::Shares;
use crate::calendar::Day;
pub use crate::lawn::ledger::Account;
use crate::work::{Setback, WorkEntry};

/// A daily quantity on a track.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MeasureKind {
    /// Key in files.
    pub key: &'static str,
    /// Label for people.
    pub label: &'static str,
    /// Unit as printed in files.
    pub unit: &'static str,
}

/// Every measure kept, in file order. A track row holds them in this order.
pub const MEASURES: [MeasureKind; 29] = [
    MeasureKind { key: "turf_cover", label: "Turf cover", unit: "%" },
    MeasureKind { key: "green_cover", label: "Green cover", unit: "%" },
    MeasureKind { key: "shoot_density", label: "Shoots", unit: "1/dm2" },
    MeasureKind { key: "crabgrass_cover", label: "Crabgrass", unit: "%" },
    MeasureKind { key: "broadleaf_cover", label: "Dandelion and other broadleaf weeds", unit: "%" },
    MeasureKind { key: "clover_cover", label: "White clover", unit: "%" },
    MeasureKind { key: "nutsedge_cover", label: "Yellow nutsedge", unit: "%" },
    MeasureKind {
        key: "crabgrass_emerged",
        label: "Crabgrass seedlings come up this year",
        unit: "1/m2",
    },
    MeasureKind { key: "bare_ground", label: "Bare ground", unit: "%" },
    MeasureKind { key: "quality", label: "Quality", unit: "1-9" },
    MeasureKind { key: "colour", label: "Colour", unit: "1-9" },
    MeasureKind { key: "canopy_height", label: "Canopy height", unit: "mm" },
    MeasureKind { key: "leaf_area_index", label: "Leaf area index", unit: "m2/m2" },
    MeasureKind { key: "root_mass", label: "Roots", unit: "g/m2" },
    MeasureKind { key: "root_depth", label: "Rooting depth", unit: "mm" },
    MeasureKind { key: "reserves", label: "Reserves", unit: "g/m2" },
    MeasureKind { key: "barrier", label: "Barrier: emerging crabgrass stopped", unit: "%" },
    MeasureKind {
        key: "crabgrass_pressure",
        label: "Crabgrass trying to come up, per day",
        unit: "1/m2",
    },
    MeasureKind {
        key: "crabgrass_through",
        label: "Crabgrass coming through the barrier, per day",
        unit: "1/m2",
    },
    MeasureKind { key: "soil_temperature", label: "Soil temperature, 5 cm", unit: "degC" },
    MeasureKind { key: "soil_water", label: "Available water, root zone", unit: "share" },
    MeasureKind { key: "mineral_n", label: "Mineral nitrogen", unit: "g/m2" },
    MeasureKind { key: "organic_matter", label: "Organic matter, top 10 cm", unit: "%" },
    MeasureKind { key: "clippings_cum", label: "Clippings since the start", unit: "g/m2" },
    MeasureKind { key: "n_leached_cum", label: "Nitrogen leached since the start", unit: "g/m2" },
    MeasureKind { key: "runoff_cum", label: "Runoff since the start", unit: "mm" },
    MeasureKind { key: "drainage_cum", label: "Drainage since the start", unit: "mm" },
    MeasureKind { key: "et_cum", label: "Evapotranspiration since the start", unit: "mm" },
    MeasureKind { key: "colour_short", label: "Colour that more nitrogen would show", unit: "1-9" },
];

/// Index of a measure in [`MEASURES`], by key.
pub fn measure(key: &str) -> Option<usize> {
    MEASURES.iter().position(|m| m.key == key)
}

/// Index of a measure in [`MEASURES`], while compiling: an unknown key fails the build.
pub(crate) const fn column(key: &str) -> usize {
    let mut at = 0;
    while at < MEASURES.len() {
        if same(MEASURES[at].key.as_bytes(), key.as_bytes()) {
            return at;
        }
        at += 1;
    }
    panic!("no measure has this key")
}

/// `==` of byte strings is not yet const.
const fn same(a: &[u8], b: &[u8]) -> bool {
    let mut at = 0;
    while at < a.len() && at < b.len() && a[at] == b[at] {
        at += 1;
    }
    at == a.len() && at == b.len()
}

/// Pointwise quantiles of one measure over the members, by day, in the measure's unit.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Band {
    /// 5 % quantile, one entry a day; so are the others.
    pub p05: Vec<f64>,
    /// 25 % quantile.
    pub p25: Vec<f64>,
    /// Median.
    pub p50: Vec<f64>,
    /// 75 % quantile.
    pub p75: Vec<f64>,
    /// 95 % quantile.
    pub p95: Vec<f64>,
    /// Mean.
    pub mean: Vec<f64>,
}

/// Water, nitrogen and carbon, in this order.
pub const SUBSTANCES: [(&str, &str); 3] =
    [("water", "mm"), ("nitrogen", "g/m2"), ("carbon", "g/m2")];

/// One track kept in full: `values[day * MEASURES.len() + measure]`.
pub type TrackRows = Vec<f32>;

/// One program over all members.
#[derive(Clone, Debug, PartialEq)]
pub struct ProgramResults {
    /// Its key.
    pub id: String,
    /// Its label.
    pub title: String,
    /// One band a measure, in the order of [`MEASURES`].
    pub bands: Vec<Band>,
    /// `outcomes[outcome][member]`, in the order of [`crate::outcomes::OUTCOMES`].
    pub outcomes: Vec<Vec<f64>>,
    /// Work log of each member; of the first 1,000 only in a run too large to hold every track.
    pub work: Vec<Vec<WorkEntry>>,
    /// What did not go by the calendar, of the members whose work log is kept.
    pub setbacks: Vec<Vec<Setback>>,
    /// `looks[look][member]`, in the order of [`Results::looks`].
    pub looks: Vec<Vec<f32>>,
    /// Ledger of each member: water, nitrogen, carbon.
    pub ledgers: Vec<[Account; 3]>,
    /// Full tracks of each member, where asked for.
    pub tracks: Option<Vec<TrackRows>>,
}

/// Paired difference of a program from the baseline, member by member, for one outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct Contrast {
    /// Index of the program.
    pub program: usize,
    /// Index of the program that it is compared with: `based_on`, else the first.
    pub baseline: usize,
    /// Index of the outcome.
    pub outcome: usize,
    /// 5, 25, 50, 75, 95 % quantiles of program less baseline, in the outcome's unit.
    pub quantiles: [f64; 5],
    /// Share of members in which the program is better by at least the least difference, 0..=1.
    pub share_better: f64,
    /// Share in which the two are the same within the least difference, 0..=1.
    pub share_same: f64,
    /// Mean difference, in the outcome's unit.
    pub mean: f64,
    /// Its Monte Carlo standard error.
    pub mean_se: f64,
}

/// Measures whose paired difference is kept by day.
pub const DIFFERENCES: [usize; 2] = [column("crabgrass_cover"), column("quality")];

/// Paired daily difference of a program from its baseline, member by member, for one measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Index of the program.
    pub program: usize,
    /// Index of the program that it is compared with: `based_on`, else the first.
    pub baseline: usize,
    /// Index of the measure, one of [`DIFFERENCES`].
    pub measure: usize,
    /// Quantiles of program less baseline, in the measure's unit.
    pub band: Band,
}

/// One measure on the evening of an event's day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Index of the event in its scenario.
    pub event: usize,
    /// The day.
    pub day: Day,
    /// Key of the measure.
    pub measure: &'static str,
}

/// Everything that a run gives back.
#[derive(Clone, Debug, PartialEq)]
pub struct Results {
    /// First simulated day.
    pub first: Day,
    /// Number of simulated days.
    pub days: usize,
    /// Number of members.
    pub members: u32,
    /// Seed of the run.
    pub seed: u64,
    /// Calendar years of record behind the weather.
    pub record_years: u32,
    /// What was looked at on the days of events.
    pub looks: Vec<Look>,
    /// One entry a program, in the scenario's order.
    pub programs: Vec<ProgramResults>,
    /// All contrasts.
    pub contrasts: Vec<Contrast>,
    /// The daily differences behind them.
    pub differences: Vec<Difference>,
    /// Which luck spreads each outcome, `[program][outcome]`; empty where it was not worked out or
    /// the members are too few.
    pub spread: Vec<Vec<Shares>>,
    /// How members were chosen by what was seen, where they were.
    pub conditioning: Option<Conditioning>,
}

/// How far a run has come; called from any thread.
pub type Observer<'a> = &'a (dyn Fn(u32) -> Continue + Sync);

/// The observer's answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Continue {
    /// Go on.
    Yes,
    /// Stop as soon as possible; the run returns nothing.
    No,
}
