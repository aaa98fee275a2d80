//! What a study does to its lawn: ordinary acts, and interventions that no lawn program has.

use super::text::ActText;
use crate::calendar::Day;
use crate::lawn::{MAX_GRASSES, Plant, Setting, State, crabgrass, mowing, traffic};
use crate::parameters::{ACTIVES, GRASSES, POSTS};
use crate::scenario::Grass;
use crate::weather::Sky;
use crate::work::{
    Act, ActiveId, Carrier, Clippings, NitrogenForms, PostId, Reach, SeedMix, Sowing, Tending,
};

/// Coefficient of variation of a deposit on research plots, where the study states none.
pub const UNEVENNESS: f64 = 0.15;

/// A mowing.
const CUT: &str = "cut";

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

/// Whether a day lies in a window of the year, which may go over the new year.
///
/// # Errors
/// Where an end is not a day.
pub fn within(from: Option<&str>, to: Option<&str>, day: Day) -> Result<bool, String> {
    let (_, m, d) = day.ymd();
    let from = from.map_or(Ok((1, 1)), month_day)?;
    let to = to.map_or(Ok((12, 31)), month_day)?;
    let (after, before) = (from <= (m, d), (m, d) <= to);
    Ok(if from <= to { after && before } else { after || before })
}

/// Whether a day lies in an act's window; a window that is not stated holds every day.
pub fn in_window(act: &ActText, day: Day, index: usize) -> Result<bool, String> {
    let days = act.from_day.unwrap_or(0)..=act.to_day.unwrap_or(usize::MAX);
    Ok(days.contains(&index) && within(act.from.as_deref(), act.to.as_deref(), day)?)
}

/// Whether an act falls on a day of the run, in whose calendar year `year` (0 the first) it lies.
///
/// # Errors
/// Where a day of the act is not one.
pub fn due(act: &ActText, day: Day, index: usize, year: i32) -> Result<bool, String> {
    if !act.years.is_empty() && !act.years.contains(&year) {
        return Ok(false);
    }
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
    if !in_window(act, day, index)? {
        return Ok(false);
    }
    // Counted from the window's first day.
    if let Some(from) = act.from_day {
        return Ok((index - from).is_multiple_of(every.max(1) as usize));
    }
    let (from_m, from_d) = act.from.as_deref().map_or(Ok((1, 1)), month_day)?;
    let begun = if (from_m, from_d) <= (m, d) { day.ymd().0 } else { day.ymd().0 - 1 };
    let start = Day::from_ymd(begun, from_m, from_d).unwrap_or(day);
    Ok((day.0 - start.0) % every.max(1) == 0)
}

/// Whether the lawn of last evening lets a conditional act go ahead.
pub fn called_for(act: &ActText, state: &State) -> bool {
    act.canopy_above_mm.is_none_or(|h| state.canopy_height_mm() > h)
        && act.soil_water_below.is_none_or(|share| state.evening.soil_water < share)
}

/// Whether an act that is due waits for a better morning: a trial that mows "weekly" mows no frosted leaf,
/// frozen ground or snow, as no crew does.
pub fn waits(act: &ActText, setting: &Setting, sky: &Sky) -> bool {
    act.what == CUT && (sky.frozen || sky.snow_mm > 0.0 || traffic::frosted(setting, sky) > 0.0)
}

/// What has come since an act was last due, within its window.
#[derive(Clone, Copy, Debug, Default)]
pub struct Since {
    /// It was due, and waits.
    pub waits: bool,
    /// Reference evapotranspiration, mm.
    pub et0_mm: f64,
    /// Rain, mm.
    pub rain_mm: f64,
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

/// Everything a study can do, with the keys that each takes beside those that say when.
pub const DO: [(&str, &[&str]); 16] = [
    (CUT, &["height-mm", "collect"]),
    ("barrier", &["active", "rate-kg-ha", "granule", "unevenness"]),
    ("nitrogen", &["urea", "ammonium", "nitrate", "coated", "coated-days", "organic", "on-leaf"]),
    ("wet", &["water-mm", "et0-share", "less-rain"]),
    ("compost", &["depth-mm"]),
    ("spray", &["herbicide", "rate-kg-ha", "found"]),
    (SOW, &["grass", "seed-g-m2", "seed-kg-ha", "pure-live-seed", "method"]),
    ("iron", &["iron-kg-ha"]),
    ("rain", &["water-mm", "et0-share", "less-rain"]),
    ("clip-share", &["share", "collect"]),
    ("pull-weeds", &[]),
    ("sow-crabgrass", &["seeds-m2"]),
    ("hold-canopy", &[]),
    ("lay-clippings", &["clippings-g-m2", "nitrogen-share"]),
    ("remove-turf", &["share"]),
    ("set-soil-water", &["share"]),
];

/// The keys of an act that say what and when.
pub const WHEN: [&str; 11] = [
    "do",
    "on",
    "day",
    "every-days",
    "from",
    "to",
    "from-day",
    "to-day",
    "years",
    "canopy-above-mm",
    "soil-water-below",
];

/// Does an intervention at once, or says which act to hand to the lawn.
///
/// # Errors
/// Where the act is unknown or a key is missing.
pub fn doing(
    act: &ActText,
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    since: Since,
    held: &mut Option<[Plant; MAX_GRASSES]>,
) -> Result<Doing, String> {
    let what = act.what.as_str();
    let clippings = if act.collect { Clippings::Collect } else { Clippings::Return };
    Ok(Doing::Act(match what {
        CUT => Act::Cut { height_mm: need(act.height_mm, what, "height-mm")?, clippings },
        "barrier" => barrier(act)?,
        "nitrogen" => Act::LayNitrogen(NitrogenForms {
            urea_g_m2: act.urea,
            ammonium_g_m2: act.ammonium,
            nitrate_g_m2: act.nitrate,
            coated_g_m2: act.coated,
            coated_days: act.coated_days,
            organic_g_m2: act.organic,
            unevenness: act.unevenness.unwrap_or(0.0),
            on_leaf: act.on_leaf,
            phosphate_g_m2: 0.0,
        }),
        "wet" => Act::Wet { water_mm: watering(act, sky, since)? },
        "spray" => spray(act)?,
        "compost" => Act::LayCompost { depth_mm: need(act.depth_mm, what, "depth-mm")? },
        SOW => sow(act)?,
        "iron" => {
            Act::Tend(Tending::SprayIron { iron_kg_ha: need(act.iron_kg_ha, what, "iron-kg-ha")? })
        }
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
        "rain" => return Ok(Doing::Rain(watering(act, sky, since)?)),
        "remove-turf" => {
            let left = 1.0 - need(act.share, what, "share")?;
            for plant in &mut state.plants {
                plant.cover *= left;
                plant.tillers *= left;
                plant.leaf *= left;
                plant.root *= left;
                plant.reserves *= left;
                plant.nitrogen *= left;
            }
            state.open_books(setting);
            return Ok(Doing::Done);
        }
        "set-soil-water" => {
            let share = need(act.share, what, "share")?;
            for (water, layer) in state.water.iter_mut().zip(&setting.layers) {
                *water = layer.wp_mm + share * layer.available_mm;
            }
            state.seedbed = share;
            state.open_books(setting);
            return Ok(Doing::Done);
        }
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
        seed: SeedMix::one(grass(name)?, need(seed, SOW, "seed-g-m2 or seed-kg-ha")?),
        pure_live_seed: act.pure_live_seed.unwrap_or(PURE_LIVE_SEED),
        method,
    })
}

/// Depth of water, mm.
fn watering(act: &ActText, sky: &Sky, since: Since) -> Result<f64, String> {
    let month = sky.day.ymd().1;
    let wanted = match (&act.et0_share, &act.water_mm) {
        (Some(share), _) => share.at(month, 0.0) * since.et0_mm,
        (None, Some(water)) => water.at(month, 0.0),
        (None, None) => return Err(format!("do = {:?} needs water-mm or et0-share", act.what)),
    };
    let rain = if act.less_rain { since.rain_mm } else { 0.0 };
    Ok((wanted - rain).max(0.0))
}

/// A spray on weeds that are up: on all of the lawn, or on the weeds' ground that is found.
fn spray(act: &ActText) -> Result<Act, String> {
    let name = act.herbicide.as_deref().ok_or("do = \"spray\" needs herbicide")?;
    let post = POSTS.iter().position(|p| *p == name);
    let post = post.ok_or_else(|| format!("herbicide {name:?} is not in parameters.toml"))?;
    Ok(Act::Spray {
        post: PostId(post as u8),
        rate_kg_ha: need(act.rate_kg_ha, "spray", "rate-kg-ha")?,
        reach: act.found.map_or(Reach::Blanket, |found| Reach::Spots { found }),
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
        unevenness: act.unevenness.unwrap_or(UNEVENNESS),
    })
}
