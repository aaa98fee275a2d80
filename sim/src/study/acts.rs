//! What a study does to its lawn: ordinary acts, and interventions that no lawn program has.

use super::text::ActText;
use crate::calendar::Day;
use crate::lawn::{MAX_GRASSES, Plant, Setting, State, crabgrass, mowing};
use crate::parameters::{ACTIVES, GRASSES};
use crate::scenario::Grass;
use crate::weather::Sky;
use crate::work::{Act, ActiveId, Carrier, Clippings, NitrogenForms, Sowing};

/// Month and day of "MM-DD".
///
/// # Errors
/// Where the text is not such a day.
pub fn month_day(text: &str) -> Result<(u8, u8), String> {
    let wrong = || format!("{text:?} is not a day such as \"04-15\"");
    let (m, d) = text.split_once('-').ok_or_else(wrong)?;
    let (m, d) = (m.parse().map_err(|_| wrong())?, d.parse().map_err(|_| wrong())?);
    Day::from_ymd(2024, m, d).map(|_| (m, d)).ok_or_else(wrong)
}

/// Whether an act falls on a day of the run.
pub fn due(act: &ActText, day: Day, index: usize) -> Result<bool, String> {
    let (_, m, d) = day.ymd();
    if act.day.contains(&index) {
        return Ok(true);
    }
    for on in &act.on {
        if month_day(on)? == (m, d) {
            return Ok(true);
        }
    }
    let Some(every) = act.every_days else { return Ok(false) };
    let from = act.from.as_deref().map_or(Ok((1, 1)), month_day)?;
    let to = act.to.as_deref().map_or(Ok((12, 31)), month_day)?;
    if (m, d) < from || (m, d) > to {
        return Ok(false);
    }
    let start = Day::from_ymd(day.ymd().0, from.0, from.1).unwrap_or(day);
    Ok((day.0 - start.0) % every.max(1) == 0)
}

/// An act's doing: on the lawn with the day's acts, in the day's sky, or straight on the state.
pub enum Doing {
    /// An ordinary act.
    Act(Act),
    /// More rain, mm.
    Rain(f64),
    /// An intervention, done already.
    Done,
}

fn need(value: Option<f64>, what: &str, key: &str) -> Result<f64, String> {
    value.ok_or_else(|| format!("do = {what:?} needs {key}"))
}

/// Does an intervention at once, or says which act to hand to the lawn.
///
/// # Errors
/// Where the act is unknown or a key is missing.
pub fn doing(
    act: &ActText,
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    et0_since_mm: f64,
    held: &mut Option<[Plant; MAX_GRASSES]>,
) -> Result<Doing, String> {
    let what = act.what.as_str();
    let clippings = if act.collect { Clippings::Collect } else { Clippings::Return };
    Ok(Doing::Act(match what {
        "cut" => Act::Cut { height_mm: need(act.height_mm, what, "height-mm")?, clippings },
        "barrier" => barrier(act)?,
        "nitrogen" => Act::LayNitrogen(NitrogenForms {
            urea_g_m2: act.urea,
            ammonium_g_m2: act.ammonium,
            nitrate_g_m2: act.nitrate,
            coated_g_m2: act.coated,
            coated_days: act.coated_days,
            organic_g_m2: act.organic,
        }),
        "wet" => match act.et0_share {
            Some(share) => Act::Wet { water_mm: share * et0_since_mm },
            None => Act::Wet { water_mm: need(act.water_mm, what, "water-mm or et0-share")? },
        },
        "compost" => Act::LayCompost { depth_mm: need(act.depth_mm, what, "depth-mm")? },
        SOW => sow(act)?,
        "clip-share" => {
            let share = need(act.share, what, "share")?;
            for i in 0..setting.grasses.len() {
                mowing::remove(state, setting, sky, i, share, clippings);
            }
            return Ok(Doing::Done);
        }
        "pull-weeds" => {
            crabgrass::pull_all(state, setting);
            return Ok(Doing::Done);
        }
        "sow-crabgrass" => {
            let seeds = need(act.seeds_m2, what, "seeds-m2")?;
            state.weed.bank += seeds;
            state.weed.germinable += seeds;
            return Ok(Doing::Done);
        }
        "rain" => return Ok(Doing::Rain(need(act.water_mm, what, "water-mm")?)),
        "hold-canopy" => {
            match held {
                None => *held = Some(state.plants),
                Some(plants) => {
                    state.plants = *plants;
                    state.open_books(setting);
                }
            }
            return Ok(Doing::Done);
        }
        "lay-clippings" => {
            let grams = need(act.clippings_g_m2, what, "clippings-g-m2")?;
            let share = need(act.nitrogen_share, what, "nitrogen-share")?;
            let carbon = grams * setting.p.sward.carbon_share;
            state.ledger.carbon.enter(&mut state.litter.c, carbon);
            state.ledger.nitrogen.enter(&mut state.litter.n, grams * share);
            return Ok(Doing::Done);
        }
        other => return Err(format!("do = {other:?} is not known to studies")),
    }))
}

/// What the act of sowing grass is called.
pub const SOW: &str = "sow-grass";

/// Live seed in the bag where the study does not say: 0.95 pure, 0.85 of it germinating.
const PURE_LIVE_SEED: f64 = 0.81;

/// A grass by its name in parameters.toml.
///
/// # Errors
/// Where there is none of that name.
pub fn grass(name: &str) -> Result<Grass, String> {
    let found = GRASSES.iter().find(|(_, n)| *n == name).map(|(grass, _)| *grass);
    found.ok_or_else(|| format!("grass {name:?} is not in parameters.toml"))
}

fn sow(act: &ActText) -> Result<Act, String> {
    let name = act.grass.as_deref().ok_or("do = \"sow-grass\" needs grass")?;
    // 10 kg/ha are 1 g/m2.
    let seed = act.seed_g_m2.or(act.seed_kg_ha.map(|kg| kg / 10.0));
    let method = match act.method.as_deref() {
        None | Some("broadcast") => Sowing::Broadcast,
        Some("raked") => Sowing::Raked,
        Some("slit") => Sowing::Slit,
        Some(other) => return Err(format!("method {other:?} is not broadcast, raked or slit")),
    };
    Ok(Act::SowGrass {
        grass: grass(name)?,
        seed_g_m2: need(seed, SOW, "seed-g-m2 or seed-kg-ha")?,
        pure_live_seed: act.pure_live_seed.unwrap_or(PURE_LIVE_SEED),
        method,
    })
}

fn barrier(act: &ActText) -> Result<Act, String> {
    let name = act.active.as_deref().ok_or("do = \"barrier\" needs active")?;
    let active = ACTIVES
        .iter()
        .position(|a| *a == name)
        .ok_or_else(|| format!("active {name:?} is not in parameters.toml"))?;
    Ok(Act::LayBarrier {
        active: ActiveId(active as u8),
        rate_kg_ha: need(act.rate_kg_ha, "barrier", "rate-kg-ha")?,
        carrier: if act.granule { Carrier::Granule } else { Carrier::Spray },
        unevenness: act.unevenness.unwrap_or(0.15),
    })
}
