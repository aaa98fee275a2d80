//! Sprays on weeds that are up, as the products text has them.

use super::fault::{Faults, did_you_mean};
use super::products::{
    RawAfter, RawAgain, RawReseed, RawThree, RawTwo, RawYearMost, Strength, Term, after_seeding,
    again, grasses, maybe_most, read, recalled, reseed, rising, sourced, strength, three,
    wait_after,
};
use super::{Grass, key};
use crate::parameters::POSTS;
use crate::quantity::Kind;
use crate::work::{PostId, Weed};
use serde::Deserialize;
use std::ops::Range;

/// A post-emergent product with its typical figures: not a label.
#[derive(Clone, Debug, PartialEq)]
pub struct PostEmergentProduct {
    /// Id in scenarios.
    pub id: String,
    /// Active ingredient and concentration.
    pub name: String,
    /// Active ingredient, or mixture.
    pub post: PostId,
    /// How strong it is.
    pub strength: Strength,
    /// Weeds that it controls, at least one.
    pub weeds: Vec<Weed>,
    /// Grasses that show it at the usual rates.
    pub hurts: Vec<Grass>,
    /// Low, typical and high rate of one application, kg ai/ha.
    pub rate_kg_ha: [f64; 3],
    /// Most at one application, kg ai/ha, for any grass (`None`) or for one; empty where the high
    /// rate is all that is known.
    pub once_most_kg_ha: Vec<(Option<Grass>, f64)>,
    /// Typical yearly maximum, kg ai/ha, as for `once_most_kg_ha`.
    pub year_most_kg_ha: Vec<(Option<Grass>, f64)>,
    /// Most applications in a year, where one is known.
    pub times_most: Option<u32>,
    /// Air in which it works and does not burn, degrees C.
    pub temperature_c: (Option<f64>, Option<f64>),
    /// Dry time after the spray, days.
    pub rain_free_days: f64,
    /// Wait from a mowing to the spray and from the spray to a mowing, days.
    pub mowing_days: (f64, f64),
    /// Fewest and most days between two applications of a sequence.
    pub again_days: (f64, f64),
    /// Wait before seeding, days, by rate, kg ai/ha, rising.
    pub reseed_days: Vec<(f64, f64)>,
    /// Wait after seeding, days.
    pub after_seeding_days: f64,
    /// Stage of the weeds at which it works, in words.
    pub stage: String,
    /// What goes into the tank besides, in words; may be empty.
    pub adjuvant: String,
    /// Water and product together, mL/m2.
    pub volume_ml_m2: (f64, f64),
    /// Price at the low and at the high rate, currency/m2.
    pub price_m2: (f64, f64),
    /// What else to know; may be empty.
    pub note: String,
    /// Figures that are from memory.
    pub recalled: Vec<Term>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct RawPostEmergent {
    pub id: String,
    name: String,
    active: String,
    strength: String,
    weeds: Vec<String>,
    #[serde(default)]
    hurts: Vec<String>,
    rate: RawThree,
    once_most: Option<RawYearMost>,
    year_most: Option<RawYearMost>,
    times_most: Option<RawTimes>,
    temperature: RawTemperature,
    rain_free: RawAfter,
    mowing: RawMowing,
    again: RawAgain,
    reseed: RawReseed,
    after_seeding: RawAfter,
    stage: RawWords,
    adjuvant: Option<RawWords>,
    volume: RawTwo,
    price: RawTwo,
    #[serde(default)]
    note: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTimes {
    value: u32,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTemperature {
    from: Option<String>,
    to: Option<String>,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMowing {
    before: String,
    after: String,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawWords {
    is: String,
    source: String,
    grade: String,
}

/// Reads one product.
///
/// # Errors
/// What is wrong with it.
pub(super) fn post_emergent(raw: &RawPostEmergent) -> Result<PostEmergentProduct, String> {
    let post =
        find_post(&raw.active).ok_or_else(|| format!("unknown active \"{}\"", raw.active))?;
    let weed = |name: &String| {
        weed_named(name).ok_or_else(|| format!("\"{name}\" is not a weed that the model knows"))
    };
    let product = PostEmergentProduct {
        id: raw.id.clone(),
        name: raw.name.clone(),
        post,
        strength: strength(&raw.strength)?,
        weeds: raw.weeds.iter().map(weed).collect::<Result<_, _>>()?,
        hurts: grasses(&raw.hurts)?,
        rate_kg_ha: three(&raw.rate, Kind::ActiveRate)?,
        once_most_kg_ha: maybe_most(raw.once_most.as_ref())?,
        year_most_kg_ha: maybe_most(raw.year_most.as_ref())?,
        times_most: raw.times_most.as_ref().map(times).transpose()?,
        temperature_c: temperature(&raw.temperature)?,
        rain_free_days: after_seeding(&raw.rain_free)?,
        mowing_days: mowing(&raw.mowing)?,
        again_days: again(&raw.again)?,
        reseed_days: reseed(&raw.reseed)?,
        after_seeding_days: after_seeding(&raw.after_seeding)?,
        stage: words(&raw.stage)?,
        adjuvant: raw.adjuvant.as_ref().map_or(Ok(String::new()), words)?,
        volume_ml_m2: rising(&raw.volume, Kind::VolumePerArea)?,
        price_m2: rising(&raw.price, Kind::MoneyPerArea)?,
        note: raw.note.clone(),
        recalled: recalled([
            (Term::Rate, Some(&raw.rate.grade)),
            (Term::OnceMost, raw.once_most.as_ref().map(|most| &most.grade)),
            (Term::YearMost, raw.year_most.as_ref().map(|most| &most.grade)),
            (Term::Times, raw.times_most.as_ref().map(|times| &times.grade)),
            (Term::Temperature, Some(&raw.temperature.grade)),
            (Term::RainFree, Some(&raw.rain_free.grade)),
            (Term::Mowing, Some(&raw.mowing.grade)),
            (Term::Again, Some(&raw.again.grade)),
            (Term::Reseed, Some(&raw.reseed.grade)),
            (Term::AfterSeeding, Some(&raw.after_seeding.grade)),
        ]),
    };
    if product.weeds.is_empty() {
        return Err("it controls no weed".to_string());
    }
    Ok(product)
}

fn times(raw: &RawTimes) -> Result<u32, String> {
    sourced(&raw.source, &raw.grade)?;
    if raw.value == 0 { Err("no application at all is allowed".to_string()) } else { Ok(raw.value) }
}

fn temperature(raw: &RawTemperature) -> Result<(Option<f64>, Option<f64>), String> {
    sourced(&raw.source, &raw.grade)?;
    let one =
        |text: &Option<String>| text.as_ref().map(|text| read(text, Kind::Temperature)).transpose();
    Ok((one(&raw.from)?, one(&raw.to)?))
}

fn mowing(raw: &RawMowing) -> Result<(f64, f64), String> {
    sourced(&raw.source, &raw.grade)?;
    Ok((read(&raw.before, Kind::Duration)?, read(&raw.after, Kind::Duration)?))
}

fn words(raw: &RawWords) -> Result<String, String> {
    sourced(&raw.source, &raw.grade)?;
    Ok(raw.is.clone())
}

impl PostEmergentProduct {
    /// Wait before seeding after a rate, days: the step of the table that covers it, else the last.
    pub fn reseed_wait_days(&self, rate_kg_ha: f64) -> f64 {
        wait_after(&self.reseed_days, rate_kg_ha)
    }
}

/// The weed of this name.
pub(super) fn weed_named(name: &str) -> Option<Weed> {
    Weed::ALL.into_iter().find(|weed| weed.name().eq_ignore_ascii_case(name.trim()))
}

/// The post-emergent of this name, in any spelling of its spaces.
pub(super) fn find_post(name: &str) -> Option<PostId> {
    let plain = |text: &str| -> String {
        text.to_lowercase().chars().filter(char::is_ascii_alphanumeric).collect()
    };
    let wanted = plain(name);
    let at = POSTS.iter().position(|post| {
        let post = plain(post);
        // "fenoxaprop-P" is the half of the molecule that works: the same in the trade.
        wanted == post || wanted.strip_suffix('p') == Some(&post)
    })?;
    u8::try_from(at).ok().map(PostId)
}

/// Name of a post-emergent as people write it: "2,4-D + mecoprop + dicamba (amine)".
pub fn post_name(post: PostId) -> String {
    let name = POSTS.get(usize::from(post.0)).copied().unwrap_or_default();
    let (name, form) = match name.rsplit_once('_') {
        Some((mix, form @ ("amine" | "ester"))) => (mix, format!(" ({form})")),
        _ => (name, String::new()),
    };
    format!("{}{form}", name.replace('_', " + "))
}

/// Notes a herbicide that is no spray of the model's, and those that have no place on a home lawn.
pub(super) fn unknown_post(name: &str, span: &Range<usize>, faults: &mut Faults) {
    if name.to_lowercase().contains("clopyralid") {
        faults.error(
            "not-for-home-lawns",
            span,
            "clopyralid is not for home lawns: it stays in clippings and compost and kills garden plants",
            "another herbicide for the same weeds",
            Some("fluroxypyr, triclopyr or a three-way mix take clover".to_string()),
        );
        return;
    }
    let names: Vec<String> = (0..POSTS.len()).map(|at| post_name(PostId(at as u8))).collect();
    faults.error(
        "unknown-active",
        span,
        format!("\"{name}\" is not a post-emergent herbicide that the model knows"),
        format!("one of {}", key::quoted(names.iter().map(String::as_str))),
        did_you_mean(name, names.iter().map(String::as_str)),
    );
}
