//! The tally of one track: every outcome grown as the loop runs.

use super::folds::{Ends, Low, Mean, Peak};
use super::{Mark, OUTCOMES};
use crate::lawn::quality::ACCEPTABLE;
use crate::work::{Act, WorkEntry};

/// Where the measures that outcomes read stand in a row.
mod column {
    use crate::ensemble::column;

    pub const TURF: usize = column("turf_cover");
    pub const CRABGRASS: usize = column("crabgrass_cover");
    pub const BROADLEAF: usize = column("broadleaf_cover");
    pub const CLOVER: usize = column("clover_cover");
    pub const NUTSEDGE: usize = column("nutsedge_cover");
    pub const QUALITY: usize = column("quality");
    pub const ORGANIC_MATTER: usize = column("organic_matter");
    pub const N_LEACHED: usize = column("n_leached_cum");
    pub const RUNOFF: usize = column("runoff_cum");
}

/// Every outcome of a track so far.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    crabgrass_peak: Peak,
    crabgrass_peak_last: Peak,
    crabgrass_august: f64,
    broadleaf_peak: Peak,
    broadleaf_end: f64,
    clover_peak: Peak,
    nutsedge_peak: Peak,
    quality_summer: Mean,
    days_acceptable: u32,
    turf: Ends,
    turf_low: Low,
    organic_matter: Ends,
    n_leached: f64,
    runoff: f64,
    n_applied: f64,
    tap_mm: f64,
    mowings: u32,
    visits: u32,
    minutes: f64,
    cost: f64,
}

impl Tally {
    /// Before the first day.
    pub fn new() -> Tally {
        Tally::default()
    }

    /// Takes an evening's measures.
    #[inline]
    pub fn day(&mut self, mark: &Mark, row: &[f32]) {
        let measure = |at: usize| f64::from(row[at]);
        let (crabgrass, quality) = (measure(column::CRABGRASS), measure(column::QUALITY));
        let turf = measure(column::TURF);
        self.crabgrass_peak.take(crabgrass);
        self.nutsedge_peak.take(measure(column::NUTSEDGE));
        self.turf.take(turf);
        self.organic_matter.take(measure(column::ORGANIC_MATTER));
        self.n_leached = measure(column::N_LEACHED);
        self.runoff = measure(column::RUNOFF);
        if mark.summer {
            self.quality_summer.take(quality);
        }
        if mark.growing && quality >= ACCEPTABLE {
            self.days_acceptable += 1;
        }
        if mark.last_season {
            self.crabgrass_peak_last.take(crabgrass);
            self.turf_low.take(turf);
        }
        self.broadleaf_peak.take(measure(column::BROADLEAF));
        self.clover_peak.take(measure(column::CLOVER));
        if mark.mid_october {
            self.broadleaf_end = measure(column::BROADLEAF);
        }
        if mark.late_august {
            self.crabgrass_august = crabgrass;
        }
    }

    /// Takes all work of one day, whether it took a visit, and the water that left the tap for it,
    /// mm over the lawn.
    pub fn work(&mut self, entries: &[WorkEntry], visit: bool, tap_mm: f64) {
        for entry in entries {
            self.minutes += entry.minutes;
            self.cost += entry.cost;
            match entry.act {
                Act::Cut { .. } => self.mowings += 1,
                Act::LayNitrogen(nitrogen) => self.n_applied += nitrogen.total_g_m2(),
                Act::LayBarrier { .. }
                | Act::Wet { .. }
                | Act::LayCompost { .. }
                | Act::SowGrass { .. }
                | Act::Spray { .. }
                | Act::Tend(_) => {}
            }
        }
        self.visits += u32::from(visit);
        self.tap_mm += tap_mm;
    }

    /// The outcomes, in the order of [`OUTCOMES`].
    pub fn finish(&self) -> Vec<f64> {
        OUTCOMES.iter().map(|kind| self.value(kind.key).unwrap_or(0.0)).collect()
    }

    /// One outcome, by key; `None` for a key that no fold makes.
    pub fn value(&self, key: &str) -> Option<f64> {
        Some(match key {
            "crabgrass_peak" => self.crabgrass_peak.value(),
            "crabgrass_peak_last" => self.crabgrass_peak_last.value(),
            "crabgrass_last_august" => self.crabgrass_august,
            "broadleaf_peak" => self.broadleaf_peak.value(),
            "broadleaf_end" => self.broadleaf_end,
            "clover_peak" => self.clover_peak.value(),
            "quality_summer" => self.quality_summer.value(),
            "days_acceptable" => f64::from(self.days_acceptable),
            "turf_cover_end" => self.turf.last(),
            "turf_cover_low" => self.turf_low.value(),
            "organic_matter_change" => self.organic_matter.change(),
            "n_applied" => self.n_applied,
            "n_leached" => self.n_leached,
            "runoff" => self.runoff,
            "water_used" => self.tap_mm,
            "mowings" => f64::from(self.mowings),
            "visits" => f64::from(self.visits),
            "crew_hours" => self.minutes / 60.0,
            "cost" => self.cost,
            "nutsedge_peak" => self.nutsedge_peak.value(),
            _ => return None,
        })
    }
}
