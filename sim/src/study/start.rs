//! The lawn that a study starts from.

use super::acts::grass;
use super::text::LawnText;
use crate::calendar::Day;
use crate::lawn::nutsedge::Nutsedge;
use crate::lawn::{LawnDraw, Setting, State};
use crate::parameters::ACTIVES;
use crate::scenario::{Compaction, HydrologicGroup, Lawn, Soil, Uncertain, texture_class};
use crate::weather::{Forecast, Sky};
use crate::work::{Act, ActiveId, Carrier};

/// Constants that the study states: by name, and the start's under their own keys.
pub fn constants(text: &LawnText) -> Vec<(String, f64)> {
    let mut stated: Vec<(String, f64)> =
        text.constants.iter().map(|(n, v)| (n.clone(), *v)).collect();
    let start = [
        ("start.soil_water_share", text.soil_water_share),
        ("start.mineral_n_g_m2", text.mineral_n_g_m2),
    ];
    stated.extend(start.into_iter().filter_map(|(name, v)| v.map(|v| (name.to_owned(), v))));
    stated
}

/// Sand and clay, mass fractions.
///
/// # Errors
/// Where neither a texture nor sand and clay are stated.
pub fn sand_and_clay(text: &LawnText) -> Result<(f64, f64), String> {
    match (&text.texture, text.sand, text.clay) {
        (Some(name), None, None) => {
            texture_class(name).ok_or_else(|| format!("texture {name:?} is not a class"))
        }
        (None, Some(sand), Some(clay)) => Ok((sand, clay)),
        _ => Err("the lawn needs a texture, or sand and clay".to_owned()),
    }
}

/// The hydrologic group of a letter.
pub fn hydrologic_group(letter: &str) -> Option<HydrologicGroup> {
    Some(match letter {
        "A" => HydrologicGroup::A,
        "B" => HydrologicGroup::B,
        "C" => HydrologicGroup::C,
        "D" => HydrologicGroup::D,
        _ => return None,
    })
}

/// Compaction by its word.
pub fn compaction(word: &str) -> Option<Compaction> {
    Some(match word {
        "none" => Compaction::None,
        "moderate" => Compaction::Moderate,
        "severe" => Compaction::Severe,
        _ => return None,
    })
}

/// What does not change.
///
/// # Errors
/// Where a grass, the soil or the group is not known.
pub fn lawn(text: &LawnText) -> Result<Lawn, String> {
    let mut list = Vec::new();
    for (name, share) in &text.grasses {
        list.push((grass(name)?, *share));
    }
    let (sand, clay) = sand_and_clay(text)?;
    Ok(Lawn {
        area_m2: 1.0,
        slope: text.slope,
        sun: text.sun,
        soil: Soil {
            sand,
            clay,
            organic_matter: Uncertain::Exact(text.organic_matter_pct / 100.0),
            topsoil_mm: text.topsoil_mm,
            compaction: compaction(&text.compaction).ok_or("compaction is not known")?,
            hydrologic_group: hydrologic_group(&text.hydrologic_group)
                .ok_or("hydrologic-group is not A, B, C or D")?,
            ph: None,
            test: None,
        },
        grasses: list,
        turf_cover: Uncertain::Exact(text.cover),
        crabgrass_last_august: Uncertain::Exact(0.0),
        seed_bank_m2: Some(Uncertain::Exact(text.seed_bank_m2)),
        dandelion: None,
        clover: None,
        nutsedge: None,
        irrigation_efficiency: 1.0,
    })
}

/// The first morning, with what the study states of it in place of what the model assumes.
///
/// # Errors
/// Where the stated start cannot be.
pub fn state(text: &LawnText, setting: &Setting, drawn: &LawnDraw<'_>) -> Result<State, String> {
    let s = &setting.p.sward;
    let mut state = State::initial(setting, drawn);
    if let Some(height) = text.height_mm {
        state.set_canopy(setting, height);
    }
    for (plant, traits) in state.plants.iter_mut().zip(&setting.grasses) {
        let share = if text.cover > 0.0 { plant.cover / text.cover } else { 0.0 };
        let nitrogen_share = plant.nitrogen / plant.leaf_equivalent(s).max(f64::MIN_POSITIVE);
        if let Some(mass) = text.root_mass_g_m2 {
            plant.root = mass * share;
        }
        if let Some(depth) = text.root_depth_mm {
            // The depth's own relation turned round: depth/deepest = root/(root + half).
            let of = depth / traits.root_depth_max_mm;
            if of >= 1.0 {
                let deepest = traits.root_depth_max_mm;
                return Err(format!("root-depth-mm has to be less than {deepest}, the deepest"));
            }
            plant.root = s.root_half_g_m2 * plant.cover * of / (1.0 - of);
        }
        match text.leaf_n_pct {
            Some(pct) => {
                plant.set_leaf_n(pct / 100.0, s);
                plant.nitrogen = plant.leaf_n * plant.leaf_equivalent(s);
            }
            None => plant.nitrogen = nitrogen_share * plant.leaf_equivalent(s),
        }
    }
    state.nutsedge = Nutsedge::from_tubers(setting, text.nutsedge_tubers_m2);
    if !text.residue_kg_ha.is_empty() {
        state.deposits = residue(text, setting, drawn)?.deposits;
    }
    state.open_books(setting);
    Ok(state)
}

/// Residue in the soil: sprayed on bare ground, on a frozen day on which nothing decays.
fn residue(text: &LawnText, setting: &Setting, drawn: &LawnDraw<'_>) -> Result<State, String> {
    let mut bare = State::initial(setting, &LawnDraw { turf_cover: 0.0, ..drawn.clone() });
    let acts = text.residue_kg_ha.iter().map(|(name, rate)| {
        let active = ACTIVES.iter().position(|a| a == name);
        let active = active.ok_or_else(|| format!("active {name:?} is not in parameters.toml"))?;
        Ok(Act::LayBarrier {
            active: ActiveId(active as u8),
            rate_kg_ha: *rate,
            carrier: Carrier::Spray,
            unevenness: super::acts::UNEVENNESS,
        })
    });
    let acts = acts.collect::<Result<Vec<Act>, String>>()?;
    let frozen = Sky {
        day: Day(0),
        day_of_year: 1,
        t_min_c: 0.0,
        t_max_c: 0.0,
        t_mean_c: 0.0,
        precip_mm: 0.0,
        water_in_mm: 0.0,
        snow_mm: 0.0,
        frozen: true,
        rs_mj_m2: 1.0,
        wind_2m_m_s: 1.0,
        et0_mm: 0.0,
        soil_5cm_c: 0.0,
        soil_10cm_c: 0.0,
        day_length_h: 12.0,
        air_dd10: 0.0,
        forecast: Forecast::default(),
    };
    bare.day(setting, &frozen, &acts);
    Ok(bare)
}
