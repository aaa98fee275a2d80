//! What a person gave as a range, beside what the walk-round left open.

use super::value::Reading;
use super::{Doubts, Uncertain};

/// The doubts about a lawn and its work.
pub(super) fn doubts(root: &Reading<'_>) -> Doubts {
    let lawn = root.table("lawn");
    let soil = lawn.and_then(|lawn| lawn.table("soil"));
    let crew = root.table("crew");
    Doubts {
        slope: doubt(lawn, "slope"),
        sun: doubt(lawn, "sun"),
        irrigation_efficiency: doubt(lawn, "irrigation-efficiency"),
        topsoil_mm: doubt(soil, "topsoil"),
        sand: doubt(soil, "sand"),
        clay: doubt(soil, "clay"),
        group_by_texture: soil.is_some_and(|soil| !soil.has("hydrologic-group")),
        hour_cost: doubt(crew, "hour-cost"),
        mower_speed_m_s: doubt(crew, "mower-speed"),
    }
}

fn doubt(table: Option<&Reading<'_>>, key: &str) -> Option<Uncertain> {
    table?.uncertain(key).filter(|known| !matches!(known, Uncertain::Exact(_)))
}
