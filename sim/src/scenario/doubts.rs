//! What a person gave as a range, beside what the walk-round left open.

use super::program::Built;
use super::value::Reading;
use super::{Doubts, Uncertain, What};

/// The doubts about a lawn and its work.
pub(super) fn doubts(root: &Reading<'_>, programs: &[Built]) -> Doubts {
    let of_table = |table: Option<&Reading<'_>>, key| doubt(table?.uncertain(key));
    let lawn = root.table("lawn");
    let soil = lawn.and_then(|lawn| lawn.table("soil"));
    let crew = root.table("crew");
    Doubts {
        slope: of_table(lawn, "slope"),
        sun: of_table(lawn, "sun"),
        irrigation_efficiency: of_table(lawn, "irrigation-efficiency"),
        topsoil_mm: of_table(soil, "topsoil"),
        sand: of_table(soil, "sand"),
        clay: of_table(soil, "clay"),
        group_by_texture: soil.is_some_and(|soil| !soil.has("hydrologic-group")),
        hour_cost: of_table(crew, "hour-cost"),
        mower_speed_m_s: of_table(crew, "mower-speed"),
        weeds_found: of_table(crew, "weeds-found"),
        release_days: release_days(programs),
    }
}

/// What is known of a number, where it is not known exactly.
pub(super) fn doubt(known: Option<Uncertain>) -> Option<Uncertain> {
    known.filter(|known| !matches!(known, Uncertain::Exact(_)))
}

/// Release times by practice: programs that share a practice share its doubt.
fn release_days(programs: &[Built]) -> Vec<(String, Uncertain)> {
    let mut all: Vec<(String, Uncertain)> = Vec::new();
    for practice in programs.iter().flat_map(|built| &built.program.practices) {
        if let What::Spread { release_days: Some(known), .. } = &practice.what {
            let one = (practice.key.clone(), *known);
            if !all.contains(&one) {
                all.push(one);
            }
        }
    }
    all
}
