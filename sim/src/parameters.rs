//! Every constant of the model, read from `parameters.toml`: the catalogue (what each one is) and
//! the typed values that the processes read.

mod groups;

pub use groups::*;

use crate::scenario::Grass;
use serde::Deserialize;
use std::collections::HashMap;

/// Pre-emergent active ingredients known to the model, in the order of [`crate::work::ActiveId`].
pub const ACTIVES: [&str; 10] = [
    "prodiamine",
    "dithiopyr",
    "pendimethalin",
    "oxadiazon",
    "oryzalin",
    "bensulide",
    "siduron",
    "benefin",
    "benefin_trifluralin",
    "mesotrione",
];

/// Post-emergent herbicides whose residue in the soil stops seed too; their constants follow those of
/// [`ACTIVES`].
pub const RESIDUALS: [&str; 3] = ["quinclorac", "halosulfuron", "sulfentrazone"];

/// Everything that the soil can hold and that stops seed.
pub const SOIL_ACTIVES: usize = ACTIVES.len() + RESIDUALS.len();

/// Post-emergent herbicides by active ingredient, mixtures of a trade under one name.
pub const POSTS: [&str; 12] = [
    "2,4-D_mecoprop_dicamba_amine",
    "2,4-D_mecoprop_dicamba_ester",
    "triclopyr",
    "fluroxypyr",
    "carfentrazone",
    "quinclorac",
    "mesotrione",
    "topramezone",
    "fenoxaprop",
    "halosulfuron",
    "sulfentrazone",
    "bentazon",
];

/// The grasses' names in `parameters.toml`, in the order of [`Grass`].
pub const GRASSES: [(Grass, &str); 4] = [
    (Grass::KentuckyBluegrass, "kentucky_bluegrass"),
    (Grass::PerennialRyegrass, "perennial_ryegrass"),
    (Grass::TallFescue, "tall_fescue"),
    (Grass::FineFescue, "fine_fescue"),
];

/// How a constant varies between members.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// The same in every member.
    Fixed,
    /// Uniform between two values.
    Uniform(f64, f64),
    /// Normal with the entry's value as mean and this standard deviation, cut at 2.5 of them.
    Normal(f64),
    /// Log-normal with the entry's value as median and this geometric standard deviation (> 1),
    /// cut at 2.5 of them.
    LogNormal(f64),
    /// Triangular between two values with the entry's value as mode.
    Triangular(f64, f64),
}

/// One constant.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Dotted name: "water.crop_coefficient".
    pub name: String,
    /// Central value, in `unit`.
    pub value: f64,
    /// How it varies.
    pub spread: Spread,
    /// Unit, SI or the field's usual one.
    pub unit: String,
    /// What it is, and where the value comes from.
    pub source: String,
    /// `A` several lawn studies, `B` one study or a handbook, `C` common practice, `D` our judgement.
    pub grade: char,
}

/// The text that is embedded at build time.
pub const TEXT: &str = include_str!("../parameters.toml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawEntry {
    value: f64,
    spread: Option<RawSpread>,
    unit: String,
    source: String,
    grade: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum RawSpread {
    Uniform([f64; 2]),
    Normal(f64),
    LogNormal(f64),
    Triangular([f64; 2]),
}

/// Reads the catalogue, sorted by name.
///
/// # Errors
/// A message that names the entry at fault.
pub fn catalogue(text: &str) -> Result<Vec<Entry>, String> {
    let table: toml::Table = toml::from_str(text).map_err(|e| e.to_string())?;
    let mut entries = Vec::new();
    collect(&mut entries, "", &toml::Value::Table(table))?;
    entries.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(entries)
}

fn collect(entries: &mut Vec<Entry>, name: &str, value: &toml::Value) -> Result<(), String> {
    let toml::Value::Table(table) = value else {
        return Err(format!("{name}: expected a table with value, unit, source and grade"));
    };
    if table.contains_key("value") {
        entries.push(entry(name, value.clone())?);
        return Ok(());
    }
    for (key, inner) in table {
        let path = if name.is_empty() { key.clone() } else { format!("{name}.{key}") };
        collect(entries, &path, inner)?;
    }
    Ok(())
}

fn entry(name: &str, value: toml::Value) -> Result<Entry, String> {
    let raw: RawEntry = value.try_into().map_err(|e| format!("{name}: {e}"))?;
    let spread = match raw.spread {
        None => Spread::Fixed,
        Some(RawSpread::Uniform([a, b])) if a < b && a <= raw.value && raw.value <= b => {
            Spread::Uniform(a, b)
        }
        Some(RawSpread::Triangular([a, b])) if a < b && a <= raw.value && raw.value <= b => {
            Spread::Triangular(a, b)
        }
        Some(RawSpread::Normal(sd)) if sd > 0.0 => Spread::Normal(sd),
        Some(RawSpread::LogNormal(gsd)) if gsd > 1.0 && raw.value > 0.0 => Spread::LogNormal(gsd),
        Some(_) => return Err(format!("{name}: the spread does not hold its value")),
    };
    let grade = match raw.grade.as_str() {
        "A" => 'A',
        "B" => 'B',
        "C" => 'C',
        "D" => 'D',
        other => return Err(format!("{name}: grade {other} is not one of A, B, C, D")),
    };
    Ok(Entry {
        name: name.to_owned(),
        value: raw.value,
        spread,
        unit: raw.unit,
        source: raw.source,
        grade,
    })
}

/// All constants of one member.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the groups are the tables of parameters.toml")]
pub struct Parameters {
    pub weather: crate::weather::WeatherParameters,
    pub water: Water,
    pub seedbed: Seedbed,
    pub compost: Compost,
    pub sward: Sward,
    pub mowing: Mowing,
    pub nitrogen: Nitrogen,
    pub organic: Organic,
    pub barrier: Barrier,
    pub crabgrass: Crabgrass,
    /// Dandelion and its like.
    pub dandelion: Dandelion,
    /// White clover.
    pub clover: Clover,
    pub nutsedge: Nutsedge,
    pub seeding: Seeding,
    pub seedling: Seedling,
    pub cultivation: Cultivation,
    pub renovation: Renovation,
    pub iron: Iron,
    pub reaction: Reaction,
    pub foliar: Foliar,
    pub quality: Quality,
    pub seen: Seen,
    pub start: Start,
    /// In the order of [`GRASSES`].
    pub grasses: [GrassTraits; 4],
    /// Their seed, in the same order.
    pub grass_seeds: [GrassSeed; 4],
    /// In the order of [`ACTIVES`], then of [`RESIDUALS`].
    pub actives: [Active; SOIL_ACTIVES],
    pub spray: Spray,
    /// In the order of [`POSTS`].
    pub posts: [Post; POSTS.len()],
}

/// Gives the value of a constant by its group and its name there.
struct Getter<'a>(&'a mut dyn FnMut(&str, &str) -> f64);

impl Getter<'_> {
    fn value(&mut self, group: &str, name: &str) -> f64 {
        (self.0)(group, name)
    }
}

/// A catalogue with its index: made once a run, read once a member.
#[derive(Clone, Debug)]
pub struct Catalogue {
    /// The constants, sorted by name.
    pub entries: Vec<Entry>,
    index: HashMap<String, usize>,
    /// Index of each constant, in the order in which the model asks for them.
    places: Vec<usize>,
}

impl Catalogue {
    /// Reads a catalogue and checks that it holds exactly the constants that the model reads.
    ///
    /// # Errors
    /// A message that names what is missing, unknown or malformed.
    pub fn new(text: &str) -> Result<Catalogue, String> {
        let entries = catalogue(text)?;
        let index: HashMap<String, usize> =
            entries.iter().enumerate().map(|(i, e)| (e.name.clone(), i)).collect();
        let (mut places, mut missing) = (Vec::new(), Vec::new());
        build(&mut Getter(&mut |group, name| {
            let name = format!("{group}.{name}");
            if let Some(&at) = index.get(&name) {
                places.push(at);
                entries[at].value
            } else {
                missing.push(name);
                f64::NAN
            }
        }));
        if let Some(name) = missing.first() {
            return Err(format!("parameters: {name} is missing"));
        }
        let mut used = vec![false; entries.len()];
        places.iter().for_each(|at| used[*at] = true);
        if let Some(at) = used.iter().position(|used| !used) {
            return Err(format!("parameters: {} is not read by the model", entries[at].name));
        }
        Ok(Catalogue { entries, index, places })
    }

    /// The catalogue that is embedded at build time.
    pub fn embedded() -> Catalogue {
        Catalogue::new(TEXT).expect("the embedded parameters are checked by the tests")
    }

    /// Index of a constant, by dotted name.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.index.get(name).copied()
    }

    /// The typed constants for one value an entry.
    pub fn parameters(&self, values: &[f64]) -> Parameters {
        // The model asks in the same order each time: no name is looked up again.
        let mut places = self.places.iter();
        build(&mut Getter(&mut |_, _| places.next().map_or(f64::NAN, |at| values[*at])))
    }

    /// The typed constants at their central values.
    pub fn central(&self) -> Parameters {
        let central: Vec<f64> = self.entries.iter().map(|e| e.value).collect();
        self.parameters(&central)
    }
}

/// The typed constants, asked for one by one.
fn build(g: &mut Getter<'_>) -> Parameters {
    Parameters {
        weather: groups::read_weather("weather", g),
        water: Water::read("water", g),
        seedbed: Seedbed::read("seedbed", g),
        compost: Compost::read("compost", g),
        sward: Sward::read("sward", g),
        mowing: Mowing::read("mowing", g),
        nitrogen: Nitrogen::read("nitrogen", g),
        organic: Organic::read("organic", g),
        barrier: Barrier::read("barrier", g),
        crabgrass: Crabgrass::read("crabgrass", g),
        dandelion: Dandelion::read("dandelion", g),
        clover: Clover::read("clover", g),
        nutsedge: Nutsedge::read("nutsedge", g),
        seeding: Seeding::read("seeding", g),
        seedling: Seedling::read("seedling", g),
        cultivation: Cultivation::read("cultivation", g),
        renovation: Renovation::read("renovation", g),
        iron: Iron::read("iron", g),
        reaction: Reaction::read("reaction", g),
        foliar: Foliar::read("foliar", g),
        quality: Quality::read("quality", g),
        seen: Seen::read("seen", g),
        start: Start::read("start", g),
        grasses: GRASSES.map(|(_, name)| GrassTraits::read(&format!("grass.{name}"), g)),
        grass_seeds: GRASSES.map(|(_, name)| GrassSeed::read(&format!("seed.{name}"), g)),
        actives: std::array::from_fn(|i| {
            let name = ACTIVES.iter().chain(&RESIDUALS).nth(i).expect("as many as there are");
            Active::read(&format!("active.{name}"), g)
        }),
        spray: Spray::read("spray", g),
        posts: POSTS.map(|name| Post::read(&format!("post.{name}"), g)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_embedded_catalogue_holds_exactly_what_the_model_reads() {
        let catalogue = Catalogue::new(TEXT).expect("sound");
        for e in &catalogue.entries {
            assert!(e.source.len() > 8, "{}: no source", e.name);
            assert!(!e.unit.is_empty(), "{}: no unit", e.name);
        }
    }

    #[test]
    fn a_missing_or_unknown_constant_is_named() {
        let without = TEXT.replacen("p_depletion", "q_depletion", 1);
        let message = Catalogue::new(&without).expect_err("one is missing");
        assert!(message.contains("p_depletion"), "{message}");
        let more = format!(
            "{TEXT}\n[extra]\nx = {{ value = 1, unit = \"1\", source = \"none at all\", grade = \"D\" }}\n"
        );
        let message = Catalogue::new(&more).expect_err("one is unknown");
        assert!(message.contains("extra.x"), "{message}");
    }
}
