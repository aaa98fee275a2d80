//! Products by active ingredient and analysis, read from the products text.

use super::place::grass_named;
use super::posts::{PostEmergentProduct, RawPostEmergent, post_emergent};
use crate::parameters::ACTIVES;
use crate::quantity::{self, Kind, rates};
use crate::scenario::{Grass, What};
use crate::work::{ActiveId, Carrier, NitrogenForms, PostId};
use serde::Deserialize;

/// How strong a product is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strength {
    /// Share of active ingredient by weight, above 0.
    Dry(f64),
    /// Active ingredient in a litre, kg ai/L.
    Liquid(f64),
}

/// A pre-emergent product with its typical figures: not a label.
#[derive(Clone, Debug, PartialEq)]
pub struct PreEmergentProduct {
    /// Id in scenarios.
    pub id: String,
    /// Active ingredient and concentration.
    pub name: String,
    /// Active ingredient.
    pub active: ActiveId,
    /// Sprayed or granular.
    pub carrier: Carrier,
    /// How strong it is.
    pub strength: Strength,
    /// Low, typical and high rate of one application, kg ai/ha.
    pub rate_kg_ha: [f64; 3],
    /// Most at one application, kg ai/ha, for any grass (`None`) or for one; empty where the high
    /// rate is all that is known.
    pub once_most_kg_ha: Vec<(Option<Grass>, f64)>,
    /// Typical yearly maximum, kg ai/ha, for any grass (`None`) or for one.
    pub year_most_kg_ha: Vec<(Option<Grass>, f64)>,
    /// Grasses that it is not for.
    pub hurts: Vec<Grass>,
    /// Water that the barrier needs, mm.
    pub water_in_mm: f64,
    /// Days that it may wait for the water.
    pub water_in_days: f64,
    /// Wait before seeding, days, by rate, kg ai/ha, rising.
    pub reseed_days: Vec<(f64, f64)>,
    /// Wait after seeding, days, where one is known.
    pub after_seeding_days: Option<f64>,
    /// First and last day after seeding on which the young grass does not bear it, where it may go
    /// down with the seed and later, but not between.
    pub young_days: Option<(f64, f64)>,
    /// Fewest and most days between two applications of a sequence.
    pub again_days: Option<(f64, f64)>,
    /// Price at the low and at the high rate, currency/m2.
    pub price_m2: (f64, f64),
    /// Whether it comes on fertilizer, whose nitrogen the bag has and the model does not.
    pub on_fertilizer: bool,
    /// Whether it goes on dry leaves only.
    pub dry_leaf: bool,
    /// What else to know; may be empty.
    pub note: String,
    /// Figures that are from memory.
    pub recalled: Vec<Term>,
}

/// What a label limits, as its typical figures are called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Term {
    /// Range of one application's rate.
    Rate,
    /// Most at one application, by grass.
    OnceMost,
    /// Most in a year, by grass.
    YearMost,
    /// Most applications in a year.
    Times,
    /// Least time between two applications.
    Again,
    /// Water that a barrier asks for.
    WaterIn,
    /// Wait before seeding.
    Reseed,
    /// Wait after seeding.
    AfterSeeding,
    /// Dry time after a spray.
    RainFree,
    /// Waits between mower and spray.
    Mowing,
    /// Air in which a spray works and does not burn.
    Temperature,
}

/// Terms whose figure is from memory.
pub(super) fn recalled<const N: usize>(grades: [(Term, Option<&String>); N]) -> Vec<Term> {
    let memory = |grade: Option<&String>| grade.is_some_and(|grade| grade == "memory");
    grades.into_iter().filter(|(_, grade)| memory(*grade)).map(|(term, _)| term).collect()
}

/// A fertilizer.
#[derive(Clone, Debug, PartialEq)]
pub struct Fertilizer {
    /// Id in scenarios.
    pub id: String,
    /// Analysis and form.
    pub name: String,
    /// Nitrogen by weight, above 0..=1.
    pub nitrogen: f64,
    /// How one gram of nitrogen is split.
    pub forms: NitrogenForms,
    /// Weight of a liquid, kg/L; none for a dry one.
    pub density_kg_l: Option<f64>,
    /// Low, typical and high nitrogen of one application, g N/m2.
    pub rate_g_m2: [f64; 3],
    /// Price for nitrogen, low and high, currency/kg N.
    pub price_kg_n: (f64, f64),
    /// What else to know; may be empty.
    pub note: String,
}

/// Grass seed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seed {
    /// The grass.
    pub grass: Grass,
    /// Usual rate on bare ground, low and high, g/m2.
    pub new_lawn_g_m2: (f64, f64),
    /// Usual rate in a lawn that stands, low and high, g/m2.
    pub overseed_g_m2: (f64, f64),
    /// Price, low and high, currency/kg.
    pub price_kg: (f64, f64),
}

/// All products that a scenario may name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Products {
    /// Pre-emergents, in file order.
    pub pre_emergents: Vec<PreEmergentProduct>,
    /// Post-emergents, in file order.
    pub post_emergents: Vec<PostEmergentProduct>,
    /// Fertilizers, in file order.
    pub fertilizers: Vec<Fertilizer>,
    /// Grass seed, in file order.
    pub seeds: Vec<Seed>,
}

impl Strength {
    /// Product that carries a rate (kg ai/ha): g/m2, or mL/m2 of a liquid.
    pub fn amount_per_m2(self, rate_kg_ha: f64) -> f64 {
        match self {
            Strength::Dry(share) => rates::dry_for_active_g_m2(rate_kg_ha, share),
            Strength::Liquid(kg_l) => rates::liquid_for_active_ml_m2(rate_kg_ha, kg_l),
        }
    }

    /// Rate (kg ai/ha) of an amount of product: g/m2, or mL/m2 of a liquid.
    pub fn rate_kg_ha(self, amount_per_m2: f64) -> f64 {
        match self {
            Strength::Dry(share) => rates::active_from_dry_kg_ha(amount_per_m2, share),
            Strength::Liquid(kg_l) => rates::active_from_liquid_kg_ha(amount_per_m2, kg_l),
        }
    }
}

impl PreEmergentProduct {
    /// Wait before seeding after a rate, days: the step of the table that covers it, else the last.
    pub fn reseed_wait_days(&self, rate_kg_ha: f64) -> f64 {
        wait_after(&self.reseed_days, rate_kg_ha)
    }
}

/// Price of a rate on one m2: in proportion, by the mean of what a kilogram of active ingredient costs
/// at the low and at the high rate.
pub(super) fn price_at(prices: (f64, f64), rates_kg_ha: [f64; 3], rate_kg_ha: f64) -> f64 {
    (prices.0 / rates_kg_ha[0] + prices.1 / rates_kg_ha[2]) / 2.0 * rate_kg_ha
}

/// Days of the step that covers a rate, else of the last.
pub(super) fn wait_after(steps: &[(f64, f64)], rate_kg_ha: f64) -> f64 {
    let covers = |step: &&(f64, f64)| step.0 >= rate_kg_ha * 0.999;
    steps.iter().find(covers).or(steps.last()).map_or(0.0, |(_, days)| *days)
}

/// The figure of the most sensitive of some grasses.
pub(super) fn most_for(
    most: &[(Option<Grass>, f64)],
    grasses: impl Iterator<Item = Grass>,
) -> Option<f64> {
    let of = |grass: Option<Grass>| most.iter().find(|(g, _)| *g == grass).map(|(_, most)| *most);
    grasses.filter_map(|g| of(Some(g)).or_else(|| of(None))).min_by(f64::total_cmp)
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawFile {
    #[serde(default)]
    pre_emergent: Vec<RawPreEmergent>,
    #[serde(default)]
    post_emergent: Vec<RawPostEmergent>,
    #[serde(default)]
    fertilizer: Vec<RawFertilizer>,
    #[serde(default)]
    seed: Vec<RawSeed>,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawSeed {
    kind: String,
    new_lawn: RawTwo,
    overseed: RawTwo,
    price: RawTwo,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawPreEmergent {
    id: String,
    name: String,
    active: String,
    carrier: RawCarrier,
    strength: String,
    rate: RawThree,
    once_most: Option<RawYearMost>,
    year_most: RawYearMost,
    #[serde(default)]
    hurts: Vec<String>,
    water_in: RawWaterIn,
    reseed: RawReseed,
    after_seeding: Option<RawAfter>,
    young: Option<RawAgain>,
    again: Option<RawAgain>,
    price: RawTwo,
    #[serde(default)]
    on_fertilizer: bool,
    #[serde(default)]
    dry_leaf: bool,
    #[serde(default)]
    note: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum RawCarrier {
    Spray,
    Granule,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawThree {
    low: String,
    typical: String,
    high: String,
    source: String,
    pub(super) grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawTwo {
    low: String,
    high: String,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct RawYearMost {
    any: Option<String>,
    kentucky_bluegrass: Option<String>,
    perennial_ryegrass: Option<String>,
    tall_fescue: Option<String>,
    fine_fescue: Option<String>,
    source: String,
    pub(super) grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawWaterIn {
    depth: String,
    within: String,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawReseed {
    waits: Vec<[String; 2]>,
    source: String,
    pub(super) grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAfter {
    wait: String,
    source: String,
    pub(super) grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAgain {
    from: String,
    to: String,
    source: String,
    pub(super) grade: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawFertilizer {
    id: String,
    name: String,
    analysis: String,
    forms: RawForms,
    density: Option<RawDensity>,
    nitrogen: RawThree,
    price: RawTwo,
    #[serde(default)]
    note: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct RawForms {
    urea: Option<String>,
    ammonium: Option<String>,
    nitrate: Option<String>,
    coated: Option<String>,
    coated_lasts: Option<String>,
    organic: Option<String>,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawDensity {
    value: String,
    source: String,
    grade: String,
}

/// Reads the products text.
///
/// # Errors
/// A message that names the product at fault, or the line where the text is not TOML.
pub fn products(text: &str) -> Result<Products, String> {
    let raw: RawFile = toml::from_str(text).map_err(|error| {
        let line = error.span().map_or(1, |span| super::line_of(text, &span));
        format!("products, line {line}: {}", error.message())
    })?;
    let mut out = Products::default();
    for one in &raw.pre_emergent {
        let read = pre_emergent(one).map_err(|e| format!("product \"{}\": {e}", one.id))?;
        out.pre_emergents.push(read);
    }
    for one in &raw.post_emergent {
        let read = post_emergent(one).map_err(|e| format!("product \"{}\": {e}", one.id))?;
        out.post_emergents.push(read);
    }
    for one in &raw.fertilizer {
        let read = fertilizer(one).map_err(|e| format!("product \"{}\": {e}", one.id))?;
        out.fertilizers.push(read);
    }
    for one in &raw.seed {
        let read = seed(one).map_err(|e| format!("seed \"{}\": {e}", one.kind))?;
        if out.seed(read.grass).is_some() {
            return Err(format!("seed \"{}\" is there twice", one.kind));
        }
        out.seeds.push(read);
    }
    let mut ids: Vec<&str> = raw.pre_emergent.iter().map(|p| p.id.as_str()).collect();
    ids.extend(raw.post_emergent.iter().map(|p| p.id.as_str()));
    ids.extend(raw.fertilizer.iter().map(|p| p.id.as_str()));
    ids.sort_unstable();
    match ids.windows(2).find(|pair| pair[0] == pair[1]) {
        Some(pair) => Err(format!("two products have the id \"{}\"", pair[0])),
        None => Ok(out),
    }
}

pub(super) fn read(text: &str, kind: Kind) -> Result<f64, String> {
    let value =
        quantity::parse(text, kind).map_err(|f| format!("{}; {}", f.message, f.expected))?;
    if value < 0.0 { Err(format!("\"{text}\" is below zero")) } else { Ok(value) }
}

pub(super) fn sourced(source: &str, grade: &str) -> Result<(), String> {
    if source.trim().is_empty() || !["A", "B", "C", "D", "memory"].contains(&grade) {
        return Err("a figure needs a source and a grade (A, B, C, D or memory)".to_string());
    }
    Ok(())
}

pub(super) fn three(raw: &RawThree, kind: Kind) -> Result<[f64; 3], String> {
    sourced(&raw.source, &raw.grade)?;
    let all = [read(&raw.low, kind)?, read(&raw.typical, kind)?, read(&raw.high, kind)?];
    if all[0] > 0.0 && all[0] <= all[1] && all[1] <= all[2] {
        return Ok(all);
    }
    Err("rates must rise from low to high, above zero".to_string())
}

pub(super) fn two(raw: &RawTwo, kind: Kind) -> Result<(f64, f64), String> {
    sourced(&raw.source, &raw.grade)?;
    Ok((read(&raw.low, kind)?, read(&raw.high, kind)?))
}

fn pre_emergent(raw: &RawPreEmergent) -> Result<PreEmergentProduct, String> {
    let active =
        find_active(&raw.active).ok_or_else(|| format!("unknown active \"{}\"", raw.active))?;
    sourced(&raw.water_in.source, &raw.water_in.grade)?;
    Ok(PreEmergentProduct {
        id: raw.id.clone(),
        name: raw.name.clone(),
        active,
        carrier: match raw.carrier {
            RawCarrier::Spray => Carrier::Spray,
            RawCarrier::Granule => Carrier::Granule,
        },
        strength: strength(&raw.strength)?,
        rate_kg_ha: three(&raw.rate, Kind::ActiveRate)?,
        once_most_kg_ha: maybe_most(raw.once_most.as_ref())?,
        year_most_kg_ha: year_most(&raw.year_most)?,
        hurts: grasses(&raw.hurts)?,
        water_in_mm: read(&raw.water_in.depth, Kind::Depth)?,
        water_in_days: read(&raw.water_in.within, Kind::Duration)?,
        reseed_days: reseed(&raw.reseed)?,
        after_seeding_days: raw.after_seeding.as_ref().map(after_seeding).transpose()?,
        young_days: raw.young.as_ref().map(again).transpose()?,
        again_days: raw.again.as_ref().map(again).transpose()?,
        price_m2: two(&raw.price, Kind::MoneyPerArea)?,
        on_fertilizer: raw.on_fertilizer,
        dry_leaf: raw.dry_leaf,
        note: raw.note.clone(),
        recalled: recalled([
            (Term::Rate, Some(&raw.rate.grade)),
            (Term::OnceMost, raw.once_most.as_ref().map(|most| &most.grade)),
            (Term::YearMost, Some(&raw.year_most.grade)),
            (Term::WaterIn, Some(&raw.water_in.grade)),
            (Term::Reseed, Some(&raw.reseed.grade)),
            (Term::AfterSeeding, raw.after_seeding.as_ref().map(|after| &after.grade)),
            (Term::Again, raw.again.as_ref().map(|again| &again.grade)),
        ]),
    })
}

/// A strength as written on a container: a share by weight, or a weight in a volume.
pub(super) fn strength(text: &str) -> Result<Strength, String> {
    match quantity::parse_any(text, &[Kind::Share, Kind::Density]) {
        Ok((_, value)) if value <= 0.0 => Err(format!("strength \"{text}\" is not above zero")),
        Ok((Kind::Share, value)) if value <= 1.0 => Ok(Strength::Dry(value)),
        Ok((Kind::Share, _)) => Err(format!("strength \"{text}\" is above 100 %")),
        Ok((_, value)) => Ok(Strength::Liquid(value)),
        Err(fault) => Err(fault.message),
    }
}

pub(super) fn year_most(raw: &RawYearMost) -> Result<Vec<(Option<Grass>, f64)>, String> {
    sourced(&raw.source, &raw.grade)?;
    let all = [
        (None, &raw.any),
        (Some(Grass::KentuckyBluegrass), &raw.kentucky_bluegrass),
        (Some(Grass::PerennialRyegrass), &raw.perennial_ryegrass),
        (Some(Grass::TallFescue), &raw.tall_fescue),
        (Some(Grass::FineFescue), &raw.fine_fescue),
    ];
    let stated = all.into_iter().filter_map(|(grass, text)| Some((grass, text.as_ref()?)));
    stated.map(|(grass, text)| Ok((grass, read(text, Kind::ActiveRate)?))).collect()
}

/// The same, where it is stated.
pub(super) fn maybe_most(raw: Option<&RawYearMost>) -> Result<Vec<(Option<Grass>, f64)>, String> {
    raw.map_or(Ok(Vec::new()), year_most)
}

/// Grasses by name.
pub(super) fn grasses(names: &[String]) -> Result<Vec<Grass>, String> {
    let grass = |name: &String| {
        grass_named(name).ok_or_else(|| format!("\"{name}\" is not a grass that the model knows"))
    };
    names.iter().map(grass).collect()
}

pub(super) fn reseed(raw: &RawReseed) -> Result<Vec<(f64, f64)>, String> {
    sourced(&raw.source, &raw.grade)?;
    let pair = |[rate, days]: &[String; 2]| {
        Ok((read(rate, Kind::ActiveRate)?, read(days, Kind::Duration)?))
    };
    raw.waits.iter().map(pair).collect()
}

pub(super) fn after_seeding(raw: &RawAfter) -> Result<f64, String> {
    sourced(&raw.source, &raw.grade)?;
    read(&raw.wait, Kind::Duration)
}

pub(super) fn rising(raw: &RawTwo, kind: Kind) -> Result<(f64, f64), String> {
    match two(raw, kind)? {
        (low, high) if low <= high => Ok((low, high)),
        _ => Err("figures must rise from low to high".to_string()),
    }
}

fn seed(raw: &RawSeed) -> Result<Seed, String> {
    let grass = grass_named(&raw.kind).ok_or("not a grass that the model knows")?;
    Ok(Seed {
        grass,
        new_lawn_g_m2: rising(&raw.new_lawn, Kind::MassPerArea)?,
        overseed_g_m2: rising(&raw.overseed, Kind::MassPerArea)?,
        price_kg: rising(&raw.price, Kind::MoneyPerWeight)?,
    })
}

pub(super) fn again(raw: &RawAgain) -> Result<(f64, f64), String> {
    sourced(&raw.source, &raw.grade)?;
    Ok((read(&raw.from, Kind::Duration)?, read(&raw.to, Kind::Duration)?))
}

fn fertilizer(raw: &RawFertilizer) -> Result<Fertilizer, String> {
    let density = match &raw.density {
        Some(density) => {
            sourced(&density.source, &density.grade)?;
            Some(read(&density.value, Kind::Density)?).filter(|d| *d > 0.0)
        }
        None => None,
    };
    let nitrogen = analysis_nitrogen(&raw.analysis)
        .ok_or_else(|| format!("analysis \"{}\" is not like \"24-0-11\"", raw.analysis))?;
    Ok(Fertilizer {
        id: raw.id.clone(),
        name: raw.name.clone(),
        nitrogen,
        forms: forms(&raw.forms)?,
        density_kg_l: density,
        rate_g_m2: three(&raw.nitrogen, Kind::NitrogenRate)?,
        price_kg_n: two(&raw.price, Kind::MoneyPerNitrogen)?,
        note: raw.note.clone(),
    })
}

fn forms(raw: &RawForms) -> Result<NitrogenForms, String> {
    sourced(&raw.source, &raw.grade)?;
    let share = |text: &Option<String>| text.as_ref().map_or(Ok(0.0), |t| read(t, Kind::Share));
    let forms = NitrogenForms {
        urea_g_m2: share(&raw.urea)?,
        ammonium_g_m2: share(&raw.ammonium)?,
        nitrate_g_m2: share(&raw.nitrate)?,
        coated_g_m2: share(&raw.coated)?,
        coated_days: raw.coated_lasts.as_ref().map_or(Ok(0.0), |t| read(t, Kind::Duration))?,
        organic_g_m2: share(&raw.organic)?,
        unevenness: 0.0,
        on_leaf: false,
        phosphate_g_m2: 0.0,
    };
    if (forms.total_g_m2() - 1.0).abs() > 1e-6 {
        return Err("the forms of nitrogen must add up to 100 %".to_string());
    }
    if (forms.coated_g_m2 > 0.0) != (forms.coated_days > 0.0) {
        return Err("a coated part and `coated-lasts` go together".to_string());
    }
    Ok(forms)
}

/// Nitrogen by weight of "24-0-11" or "21-0-0-24S", above 0..=1.
pub(super) fn analysis_nitrogen(text: &str) -> Option<f64> {
    nutrients(text).map(|[nitrogen, _, _]| nitrogen)
}

/// Phosphate (P2O5) by weight of the same, 0..=1.
pub(super) fn analysis_phosphate(text: &str) -> Option<f64> {
    nutrients(text).map(|[_, phosphate, _]| phosphate)
}

/// Phosphate (P2O5) and potash (K2O) that a feeding lays, g/m2: the analysis of its product, by its
/// nitrogen. None of a practice that feeds nothing.
pub fn phosphate_and_potash_g_m2(what: &What) -> Option<(f64, f64)> {
    let What::Spread { nitrogen, product, .. } = what else { return None };
    let [n, phosphate, potash] = nutrients(&product.name)?;
    let per_nitrogen = nitrogen.total_g_m2() / n;
    Some((phosphate * per_nitrogen, potash * per_nitrogen))
}

/// Nitrogen, phosphate and potash by weight, nitrogen above 0.
pub(super) fn nutrients(text: &str) -> Option<[f64; 3]> {
    let word = text.split([' ', ',']).find(|word| !word.is_empty())?;
    let parts: Vec<&str> = word.split('-').collect();
    if !(3..=4).contains(&parts.len()) {
        return None;
    }
    let numbers: Option<Vec<f64>> = parts[..3].iter().map(|p| p.parse().ok()).collect();
    let numbers = numbers?;
    let plausible = numbers.iter().all(|n| (0.0..=100.0).contains(n));
    (plausible && numbers[0] > 0.0 && numbers.iter().sum::<f64>() <= 100.0)
        .then(|| [numbers[0], numbers[1], numbers[2]].map(|percent| percent / 100.0))
}

/// The active ingredient of this name, in any spelling of its spaces.
pub(super) fn find_active(name: &str) -> Option<ActiveId> {
    let plain = |text: &str| text.to_lowercase().replace([' ', '-', '_', '+'], "");
    let at = ACTIVES.iter().position(|a| plain(a) == plain(name))?;
    u8::try_from(at).ok().map(ActiveId)
}

/// Name of an active ingredient as people write it.
pub(super) fn active_name(active: ActiveId) -> String {
    ACTIVES.get(usize::from(active.0)).map_or_else(String::new, |name| name.replace('_', " + "))
}

impl Products {
    /// The pre-emergent of this id or name.
    pub(super) fn pre_emergent(&self, name: &str) -> Option<&PreEmergentProduct> {
        self.pre_emergents.iter().find(|p| same(name, &p.id) || same(name, &p.name))
    }

    /// The post-emergent of this id or name.
    pub(super) fn post_emergent(&self, name: &str) -> Option<&PostEmergentProduct> {
        self.post_emergents.iter().find(|p| same(name, &p.id) || same(name, &p.name))
    }

    /// The spray of this name, or one with this post-emergent.
    pub(super) fn post(&self, post: PostId, name: &str) -> Option<&PostEmergentProduct> {
        self.post_emergent(name).or_else(|| self.with_post(post))
    }

    /// The barrier of this name, or one like it.
    pub(super) fn barrier(
        &self,
        active: ActiveId,
        carrier: Carrier,
        name: &str,
    ) -> Option<&PreEmergentProduct> {
        self.pre_emergent(name).or_else(|| self.like(active, carrier))
    }

    /// A product with this post-emergent.
    pub(super) fn with_post(&self, post: PostId) -> Option<&PostEmergentProduct> {
        self.post_emergents.iter().find(|p| p.post == post)
    }

    /// The fertilizer of this id or name.
    pub(super) fn fertilizer(&self, name: &str) -> Option<&Fertilizer> {
        self.fertilizers.iter().find(|p| same(name, &p.id) || same(name, &p.name))
    }

    /// Seed of this grass.
    pub(super) fn seed(&self, grass: Grass) -> Option<&Seed> {
        self.seeds.iter().find(|seed| seed.grass == grass)
    }

    /// A product with this active ingredient, of this carrier if there is one.
    pub(super) fn like(&self, active: ActiveId, carrier: Carrier) -> Option<&PreEmergentProduct> {
        let mut all = self.pre_emergents.iter().filter(|p| p.active == active);
        all.clone().find(|p| p.carrier == carrier).or_else(|| all.next())
    }
}

fn same(a: &str, b: &str) -> bool {
    a.trim().eq_ignore_ascii_case(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = include_str!("../../../scenarios/products.toml");

    #[test]
    fn the_carried_products_read() {
        let all = products(TEXT).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!((all.pre_emergents.len(), all.fertilizers.len(), all.seeds.len()), (11, 9, 4));
        // One spray for each that the model knows, in its order.
        let posts: Vec<u8> = all.post_emergents.iter().map(|p| p.post.0).collect();
        assert_eq!(posts, (0..crate::parameters::POSTS.len() as u8).collect::<Vec<_>>());
        // Trade rate table: 0.65 lb ai/ac of a 65 % product is 0.37 oz/1000 ft2.
        let wg = all.pre_emergent("prodiamine 65 % WG").unwrap();
        let ounce = quantity::parse("1 oz/1000 ft2", Kind::MassPerArea).unwrap();
        assert!((wg.strength.amount_per_m2(wg.rate_kg_ha[1]) / ounce - 0.37).abs() < 0.005);
        // The most sensitive grass rules a mixture.
        let mixture = [Grass::TallFescue, Grass::FineFescue].into_iter();
        let most = most_for(&wg.year_most_kg_ha, mixture).unwrap();
        assert!((most - 0.65 * 1.120_851).abs() < 1e-4);
        // The 2022 survey price of urea, 2.17 $/lb N, lies in the range.
        let urea = all.fertilizer("urea-46-0-0").unwrap();
        let survey = 2.17 / 0.453_592_37;
        assert!(urea.price_kg_n.0 < survey && survey < urea.price_kg_n.1);
    }

    #[test]
    fn analyses() {
        assert_eq!(analysis_nitrogen("24-0-11"), Some(0.24));
        assert_eq!(analysis_nitrogen("21-0-0-24S"), Some(0.21));
        for bad in ["", "24", "0-0-7", "24-0", "x-y-z", "60-50-0", "NaN-0-0"] {
            assert_eq!(analysis_nitrogen(bad), None, "{bad}");
        }
    }

    #[test]
    fn faults_name_the_product() {
        let broken = TEXT.replacen("\"0.38 lb ai/ac\", typical", "\"0.38 lb/ac\", typical", 1);
        assert!(products(&broken).unwrap_err().contains("prodiamine-wg-65"));
        assert!(products("[[x]]").unwrap_err().contains("line 1"));
    }
}
