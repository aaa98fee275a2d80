//! The daily series that a check can read: every measure, and some that only studies ask for.

use crate::ensemble::MEASURES;
use crate::lawn::organic::ORGANIC_MATTER_PER_CARBON;
use crate::lawn::{BOTTOM_MM, LAYERS, Setting, State, Totals, crabgrass, measures, quality};
use crate::parameters::{ACTIVES, GRASSES};
use crate::weather::Sky;
use crate::work::ActiveId;

/// Series that are not measures, in order: name, unit, what it is.
const EXTRA: [(&str, &str, &str); 89] = [
    ("root_stopped_pct", "%", "roots that the last cuts stopped"),
    ("extension_mm", "mm", "height that leaves grew on the day"),
    ("soil_dd12", "C-days", "soil at 5 cm above 12 C, summed from the run's start"),
    ("air_dd10", "C-days", "air above 10 C, summed from 1 January"),
    ("seedlings_today", "1/m2", "crabgrass come up through the barrier on the day"),
    ("crabgrass_plants", "1/m2", "crabgrass standing"),
    ("leaf_n_pct", "%", "nitrogen in leaf dry mass"),
    ("ks", "0-1", "water supply over demand of the grasses (FAO-56 Ks)"),
    ("ammonia_cum", "g N/m2", "lost as ammonia"),
    ("leached_cum", "g N/m2", "nitrate leached below 1 m"),
    ("denitrified_cum", "g N/m2", "lost by denitrification"),
    ("washed_cum", "g N/m2", "fertilizer washed off"),
    ("laid_cum", "g N/m2", "nitrogen spread"),
    ("uptake_cum", "g N/m2", "taken up by grass"),
    ("clippings_n_cum", "g N/m2", "nitrogen in clippings cut"),
    ("mineralized_cum", "g N/m2", "set free from organic matter, net"),
    ("reserve_level", "0-1", "reserves, share of full"),
    ("seed_bank", "1/m2", "living crabgrass seed in the ground"),
    ("greenness_pct", "%", "green leaf over the full canopy's"),
    ("soil_mean_7d", "C", "soil at 5 cm, mean of the last seven days"),
    ("seedbed_wet", "0-1", "moisture of the seedbed in the day's wettest hour"),
    ("seedbed", "0-1", "moisture of the seedbed in the evening"),
    ("moist_dd", "C-days", "crabgrass' warmth while its seedbed was moist"),
    ("crabgrass_leaf_area", "m2/m2", "leaf area of crabgrass"),
    ("weed_ks", "0-1", "water supply over demand of crabgrass"),
    ("light_gap", "0-1", "light at a seedling in a gap"),
    ("light_turf", "0-1", "light at a seedling in turf"),
    ("litter_c", "g C/m2", "clippings and dead leaf"),
    ("litter_n", "g N/m2", "clippings and dead leaf"),
    ("organic_c", "g C/m2", "all organic pools"),
    ("organic_n", "g N/m2", "all organic pools"),
    ("yield_day", "g/m2", "dry clippings cut on the day"),
    ("rain_cum", "mm", "rain and snow"),
    ("day_of_year", "1-366", "day of the year"),
    ("t_mean", "C", "mean air temperature"),
    ("t_max", "C", "highest air temperature"),
    ("t_min", "C", "lowest air temperature"),
    ("soil_5cm", "C", "soil temperature at 5 cm"),
    ("soil_10cm", "C", "soil temperature at 10 cm"),
    ("rain_day", "mm", "rain and snow of the day"),
    ("et0_day", "mm", "reference evapotranspiration of the day"),
    ("et0_cum", "mm", "reference evapotranspiration"),
    ("et_day", "mm", "evaporation and transpiration of the day"),
    ("irrigation_day", "mm", "irrigation of the day"),
    ("irrigation_cum", "mm", "irrigation"),
    ("runoff_day", "mm", "runoff of the day"),
    ("drainage_day", "mm", "drainage below 1 m of the day"),
    ("leached_day", "g N/m2", "nitrate leached on the day"),
    ("leachate_mg_l", "mg N/L", "nitrate leached over drainage, since the start"),
    ("uptake_day", "g N/m2", "taken up by grass on the day"),
    ("mineralized_day", "g N/m2", "set free from organic matter on the day, net"),
    ("ammonia_day", "g N/m2", "lost as ammonia on the day"),
    ("denitrified_day", "g N/m2", "lost by denitrification on the day"),
    ("clippings_n_day", "g N/m2", "nitrogen in clippings cut on the day"),
    ("coated_left", "g N/m2", "coated fertilizer not yet released"),
    ("leaf_mass", "g/m2", "green leaf blade"),
    ("shoots_m2", "1/m2", "shoots of the grasses"),
    ("water_top15", "0-1", "available water in the top 15 cm, share"),
    ("water_top30", "0-1", "available water in the top 30 cm, share"),
    ("water_mm_1m", "mm", "all water in the top metre"),
    ("nitrate", "g N/m2", "nitrate in the top metre"),
    ("ammonium", "g N/m2", "ammonium in the top 15 cm"),
    ("snow_mm", "mm", "water in lying snow"),
    ("compost_c", "g C/m2", "carbon of compost"),
    ("compost_n", "g N/m2", "nitrogen of compost"),
    ("stored_organic_matter_g_m2", "g/m2", "organic matter of all pools, as 1.724 times carbon"),
    ("dead_cover", "%", "turf cover that is not green"),
    ("soil_dd9", "C-days", "soil at 5 cm above 9 C, summed from the run's start"),
    ("soil_dd10", "C-days", "soil at 5 cm above 10 C, summed from the run's start"),
    ("grass_seedlings", "1/m2", "seedlings of sown grass standing"),
    ("grass_emerged", "1/m2", "seedlings of sown grass come up, since the start"),
    ("grass_seed_left", "1/m2", "sown grass seed that may still come up"),
    ("stand_cover", "%", "grass cover to the eye, seedlings in gaps counted in"),
    ("seed_up_pct", "%", "of the sown seed that came up or may, come up"),
    ("dandelion_plants", "1/m2", "grown dandelions"),
    ("dandelion_young", "1/m2", "dandelion seedlings standing"),
    ("dandelion_emerged", "1/m2", "dandelion seedlings come up this year"),
    ("dandelion_seed_rain", "1/m2", "dandelion seed that came down this year"),
    ("dandelion_heads", "1/m2", "dandelion heads that opened this year"),
    ("dandelion_root_g", "g", "dry taproot of a grown dandelion"),
    ("clover_fixed_cum", "g N/m2", "nitrogen that clover took from the air"),
    ("clover_taken_cum", "g N/m2", "nitrogen that clover took up from the soil"),
    ("clover_stolons", "g/m2", "stolons of clover, with their roots"),
    ("nutsedge_emerged", "1/m2", "nutsedge shoots come up from tubers this year"),
    ("nutsedge_shoots", "1/m2", "nutsedge shoots standing"),
    ("nutsedge_tubers", "1/m2", "living tubers of earlier years that have not sprouted"),
    ("nutsedge_new_tubers", "1/m2", "living tubers made this year"),
    ("nutsedge_above_mm", "mm", "how far nutsedge stands above the turf"),
    ("nutsedge_leaf_area", "m2/m2", "leaf area of nutsedge"),
];

/// All series with unit and meaning, in order; residues and covers of one grass at the end.
pub fn all() -> Vec<(String, String, String)> {
    let measures = MEASURES.iter().map(|m| (m.key, m.unit, m.label));
    let named = measures.chain(EXTRA);
    let mut all: Vec<(String, String, String)> =
        named.map(|(n, u, l)| (n.to_owned(), u.to_owned(), l.to_owned())).collect();
    for active in ACTIVES {
        let of = format!("{active} in every place");
        all.push((format!("residue_{active}"), "kg ai/ha".to_owned(), of));
    }
    for active in ACTIVES {
        let of = format!("{active} in the surface soil");
        all.push((format!("soil_residue_{active}"), "kg ai/ha".to_owned(), of));
    }
    for (_, grass) in GRASSES {
        all.push((format!("cover_{grass}"), "%".to_owned(), format!("live cover of {grass}")));
    }
    for (_, grass) in GRASSES {
        all.push((format!("share_{grass}"), "%".to_owned(), format!("{grass} in the live cover")));
    }
    all
}

/// Index of a series by name; residues are "residue_" and the name of the active.
pub fn position(name: &str) -> Option<usize> {
    if let Some(i) = MEASURES.iter().position(|m| m.key == name) {
        return Some(i);
    }
    let mut before = MEASURES.len();
    if let Some(i) = EXTRA.iter().position(|e| e.0 == name) {
        return Some(before + i);
    }
    before += EXTRA.len();
    let active = |name: &str| ACTIVES.iter().position(|a| *a == name);
    if let Some(i) = name.strip_prefix("residue_").and_then(active) {
        return Some(before + i);
    }
    before += ACTIVES.len();
    if let Some(i) = name.strip_prefix("soil_residue_").and_then(active) {
        return Some(before + i);
    }
    before += ACTIVES.len();
    let grass = |name: &str| GRASSES.iter().position(|(_, g)| *g == name);
    if let Some(i) = name.strip_prefix("cover_").and_then(grass) {
        return Some(before + i);
    }
    before += GRASSES.len();
    Some(before + name.strip_prefix("share_").and_then(grass)?)
}

/// What series remember from day to day.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    soil_dd9: f64,
    soil_dd10: f64,
    soil_dd12: f64,
    soil: Vec<f64>,
    totals: Totals,
    rain: f64,
    et0: f64,
}

/// One day's row.
pub fn row(state: &State, setting: &Setting, sky: &Sky, memory: &mut Memory) -> Vec<f64> {
    let mut first = vec![0.0f32; MEASURES.len()];
    measures::fill(state, setting, &mut first);
    let mut row: Vec<f64> = first.into_iter().map(f64::from).collect();
    memory.soil_dd9 += (sky.soil_5cm_c - 9.0).max(0.0);
    memory.soil_dd10 += (sky.soil_5cm_c - 10.0).max(0.0);
    memory.soil_dd12 += (sky.soil_5cm_c - 12.0).max(0.0);
    memory.soil.push(sky.soil_5cm_c);
    memory.rain += sky.precip_mm;
    memory.et0 += sky.et0_mm;
    grass_and_weed(&mut row, state, setting, sky, memory);
    weather_and_flows(&mut row, state, setting, sky, memory);
    memory.totals = state.totals;
    let actives = || (0..ACTIVES.len()).map(|a| ActiveId(a as u8));
    row.extend(actives().map(|a| state.deposits.all_kg_ha(a)));
    row.extend(actives().map(|a| state.deposits.in_soil_kg_ha(a)));
    let covers = GRASSES
        .map(|(grass, _)| setting.place_of(grass).map_or(0.0, |i| 100.0 * state.plants[i].cover));
    row.extend(covers);
    row.extend(covers.map(|cover| cover / state.turf_cover().max(1e-9)));
    debug_assert_eq!(row.len(), MEASURES.len() + EXTRA.len() + 2 * (ACTIVES.len() + GRASSES.len()));
    row
}

fn grass_and_weed(
    row: &mut Vec<f64>,
    state: &State,
    setting: &Setting,
    sky: &Sky,
    memory: &Memory,
) {
    let week = &memory.soil[memory.soil.len().saturating_sub(7)..];
    let week_mean = week.iter().sum::<f64>() / week.len() as f64;
    let cover = state.turf_cover().max(1e-9);
    let mean = |f: &dyn Fn(usize) -> f64| -> f64 {
        (0..setting.grasses.len()).map(|i| state.plants[i].cover * f(i)).sum::<f64>() / cover
    };
    let (light_gap, light_turf) = crabgrass::seedling_light(state, setting);
    let t = &state.totals;
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
        t.clippings - memory.totals.clippings,
        memory.rain,
    ]);
}

fn weather_and_flows(
    row: &mut Vec<f64>,
    state: &State,
    setting: &Setting,
    sky: &Sky,
    memory: &Memory,
) {
    let (t, before) = (&state.totals, &memory.totals);
    let carbon: f64 =
        [state.litter, state.root_litter, state.organic_fertilizer, state.compost, state.humus]
            .iter()
            .map(|p| p.c)
            .sum();
    let leachate = if t.drainage > 0.0 { 1000.0 * t.leached / t.drainage } else { f64::NAN };
    row.extend([
        f64::from(sky.day_of_year),
        sky.t_mean_c,
        sky.t_max_c,
        sky.t_min_c,
        sky.soil_5cm_c,
        sky.soil_10cm_c,
        sky.precip_mm,
        sky.et0_mm,
        memory.et0,
        t.et - before.et,
        t.irrigation - before.irrigation,
        t.irrigation,
        t.runoff - before.runoff,
        t.drainage - before.drainage,
        t.leached - before.leached,
        leachate,
        t.uptake - before.uptake,
        t.mineralized - before.mineralized,
        t.ammonia - before.ammonia,
        t.denitrified - before.denitrified,
        t.clippings_n - before.clippings_n,
        state.granules.coated,
        state.plants.iter().map(|p| p.leaf).sum(),
        state.plants.iter().map(|p| p.tillers).sum(),
        available_share(state, setting, 150.0),
        available_share(state, setting, 300.0),
        state.water.iter().sum(),
        state.nitrate.iter().sum(),
        state.ammonium,
        sky.snow_mm,
        state.compost.c,
        state.compost.n,
        ORGANIC_MATTER_PER_CARBON * carbon,
        100.0 * (state.turf_cover() - state.evening.green_cover).max(0.0),
        memory.soil_dd9,
        memory.soil_dd10,
        state.sown.plants(),
        state.sown.emerged,
        state.sown.seeds(),
        100.0 * stand_cover(state, setting),
        100.0 * state.sown.emerged / (state.sown.emerged + state.sown.seeds()).max(1e-9),
        state.dandelion.stands[0].plants,
        state.dandelion.plants() - state.dandelion.stands[0].plants,
        state.dandelion.emerged,
        state.dandelion.seed_rain,
        state.dandelion.flowered,
        state.dandelion.stands[0].tissue.base / state.dandelion.stands[0].plants.max(1e-9),
        state.clover.fixed_n,
        state.clover.taken_n,
        state.clover.tissue.base,
        state.nutsedge.emerged,
        state.nutsedge.shoots(),
        state.nutsedge.tubers,
        state.nutsedge.fresh,
        state.nutsedge.above_mm(state.canopy_height_mm()),
        state.nutsedge.leaf_area(),
    ]);
}

/// Ground that grass covers to the eye, seedlings in gaps included, 0..=1.
fn stand_cover(state: &State, setting: &Setting) -> f64 {
    let bare = state.bare();
    let young = state.sown.gap_leaf_area(setting);
    let shown = if bare > 0.0 { bare * (1.0 - (-young / bare).exp()) } else { 0.0 };
    state.turf_cover() + shown
}

/// Available water of the layers down to a depth that is the lower edge of one, share.
fn available_share(state: &State, setting: &Setting, depth_mm: f64) -> f64 {
    let (mut held, mut holds) = (0.0, 0.0);
    for l in (0..LAYERS).filter(|l| BOTTOM_MM[*l] <= depth_mm) {
        let layer = &setting.layers[l];
        held += (state.water[l] - layer.wp_mm).clamp(0.0, layer.available_mm);
        holds += layer.available_mm;
    }
    held / holds
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_has_its_own_place_in_order() {
        let all = all();
        for (i, (name, unit, meaning)) in all.iter().enumerate() {
            assert_eq!(position(name), Some(i), "{name}");
            assert!(!unit.is_empty() && !meaning.is_empty(), "{name}");
        }
    }
}
