//! The daily series that a check can read: every measure, and some that only studies ask for.

use crate::ensemble::MEASURES;
use crate::lawn::{Setting, State, crabgrass, measures, quality};
use crate::parameters::{ACTIVES, GRASSES};
use crate::weather::Sky;
use crate::work::ActiveId;

/// Series that are not measures, in order.
const EXTRA: [&str; 38] = [
    "root_stopped_pct",
    "extension_mm",
    "soil_dd12",
    "air_dd10",
    "seedlings_today",
    "crabgrass_plants",
    "leaf_n_pct",
    "ks",
    "ammonia_cum",
    "leached_cum",
    "denitrified_cum",
    "washed_cum",
    "laid_cum",
    "uptake_cum",
    "clippings_n_cum",
    "mineralized_cum",
    "reserve_level",
    "seed_bank",
    "greenness_pct",
    "soil_mean_7d",
    "seedbed_wet",
    "seedbed",
    "moist_dd",
    "crabgrass_leaf_area",
    "weed_ks",
    "light_gap",
    "light_turf",
    "litter_c",
    "litter_n",
    "organic_c",
    "organic_n",
    "yield_day",
    "rain_cum",
    "grass_seedlings",
    "grass_emerged",
    "grass_seed_left",
    "stand_cover",
    "seed_up_pct",
];

/// Index of a series by name; residues are "residue_" and the name of the active, covers "cover_"
/// and the name of the grass, and its share of the turf "share_" and the name, %.
pub fn position(name: &str) -> Option<usize> {
    if let Some(i) = MEASURES.iter().position(|m| m.key == name) {
        return Some(i);
    }
    if let Some(i) = EXTRA.iter().position(|e| *e == name) {
        return Some(MEASURES.len() + i);
    }
    let after = MEASURES.len() + EXTRA.len();
    if let Some(grass) = name.strip_prefix("cover_") {
        let i = GRASSES.iter().position(|(_, g)| *g == grass)?;
        return Some(after + ACTIVES.len() + i);
    }
    if let Some(grass) = name.strip_prefix("share_") {
        let i = GRASSES.iter().position(|(_, g)| *g == grass)?;
        return Some(after + ACTIVES.len() + GRASSES.len() + i);
    }
    let active = name.strip_prefix("residue_")?;
    let i = ACTIVES.iter().position(|a| *a == active)?;
    Some(after + i)
}

/// What series remember from day to day.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    soil_dd12: f64,
    soil: Vec<f64>,
    clippings: f64,
    rain: f64,
}

/// One day's row.
pub fn row(state: &State, setting: &Setting, sky: &Sky, memory: &mut Memory) -> Vec<f64> {
    let mut first = vec![0.0f32; MEASURES.len()];
    measures::fill(state, setting, &mut first);
    let mut row: Vec<f64> = first.into_iter().map(f64::from).collect();
    memory.soil_dd12 += (sky.soil_5cm_c - 12.0).max(0.0);
    memory.soil.push(sky.soil_5cm_c);
    let week = &memory.soil[memory.soil.len().saturating_sub(7)..];
    let week_mean = week.iter().sum::<f64>() / week.len() as f64;
    let cover = state.turf_cover().max(1e-9);
    let mean = |f: &dyn Fn(usize) -> f64| -> f64 {
        (0..setting.grasses.len()).map(|i| state.plants[i].cover * f(i)).sum::<f64>() / cover
    };
    let (light_gap, light_turf) = crabgrass::seedling_light(state, setting);
    let t = &state.totals;
    memory.rain += sky.precip_mm;
    let pools =
        [state.litter, state.root_litter, state.organic_fertilizer, state.compost, state.humus];
    row.extend([
        100.0 * mean(&|i| state.plants[i].root_stop),
        mean(&|i| state.plants[i].extension_mm),
        memory.soil_dd12,
        sky.air_dd10,
        state.today.through,
        state.weed.plants(),
        100.0 * mean(&|i| state.plants[i].leaf_n),
        mean(&|i| state.plants[i].ks),
        t.ammonia,
        t.leached,
        t.denitrified,
        t.washed,
        t.laid,
        t.uptake,
        t.clippings_n,
        t.mineralized,
        measures::reserves(state, setting),
        state.weed.bank,
        100.0 * mean(&|i| quality::greenness(state, setting, i)),
        week_mean,
        state.today.seedbed_wet,
        state.seedbed,
        state.weed.progress_dd,
        state.weed.leaf_area(),
        state.today.weed_ks,
        light_gap,
        light_turf,
        state.litter.c,
        state.litter.n,
        pools.iter().map(|p| p.c).sum(),
        pools.iter().map(|p| p.n).sum(),
        t.clippings - memory.clippings,
        memory.rain,
        state.sown.plants(),
        state.sown.emerged,
        state.sown.seeds(),
        100.0 * stand_cover(state, setting),
        100.0 * state.sown.emerged / (state.sown.emerged + state.sown.seeds()).max(1e-9),
    ]);
    memory.clippings = t.clippings;
    row.extend((0..ACTIVES.len()).map(|a| state.deposits.all_kg_ha(ActiveId(a as u8))));
    let covers = GRASSES
        .map(|(grass, _)| setting.place_of(grass).map_or(0.0, |i| 100.0 * state.plants[i].cover));
    row.extend(covers);
    row.extend(covers.map(|c| c / cover));
    row
}

/// Ground that grass covers to the eye, seedlings in gaps included, 0..=1.
fn stand_cover(state: &State, setting: &Setting) -> f64 {
    let bare = state.bare();
    let young = state.sown.gap_leaf_area(setting);
    let shown = if bare > 0.0 { bare * (1.0 - (-young / bare).exp()) } else { 0.0 };
    state.turf_cover() + shown
}
