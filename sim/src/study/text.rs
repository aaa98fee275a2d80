//! The study file: conditions, treatments and checks of one published study, as data.

use serde::Deserialize;
use std::collections::BTreeMap;

/// One published study.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Study {
    /// Key, as in the patterns list: "barrier-rate".
    pub id: String,
    /// What was studied, in a line.
    pub title: String,
    /// Who published it and where.
    pub source: String,
    /// `A` solid number and direct comparison, `B` solid shape, `C` direction only.
    pub rank: String,
    /// What the run stands in for, and why its range is as wide as it is.
    pub conditions: String,
    /// Whether its numbers set parameters of the model (then passing it proves little).
    pub sets_parameters: bool,
    /// Weather.
    pub weather: WeatherText,
    /// Lawn and soil.
    pub lawn: LawnText,
    /// When the run starts and how long it is.
    pub run: RunText,
    /// Acts common to all treatments.
    #[serde(default)]
    pub act: Vec<ActText>,
    /// Treatments.
    pub treatment: Vec<Treatment>,
    /// What must come out.
    pub check: Vec<CheckText>,
}

/// Weather of a study: years of a station, shifted where it is a stand-in, or constant days.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct WeatherText {
    /// Key of a carried record.
    pub station: Option<String>,
    /// Calendar years in which runs start; each makes a track.
    #[serde(default)]
    pub years: Vec<i32>,
    /// Added to every temperature of January, February ..., C: a stand-in for another place, by
    /// the difference of monthly normals. One value stands for all months.
    #[serde(default)]
    pub warmer_c: Vec<f64>,
    /// Every day's rain is multiplied by this.
    #[serde(default = "one")]
    pub rain_factor: f64,
    /// Every day's wind is multiplied by this: an airport by the sea stands in for inland plots.
    #[serde(default = "one")]
    pub wind_factor: f64,
    /// Spans ("06-01" to "09-30") in which rain is kept off.
    #[serde(default)]
    pub no_rain: Vec<[String; 2]>,
    /// The same day over and over (a growth chamber).
    pub constant: Option<ConstantText>,
}

/// A growth chamber's day.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ConstantText {
    /// Air and soil, degrees C.
    pub t_c: f64,
    /// Day and night differ from the mean by this, C.
    #[serde(default)]
    pub swing_c: f64,
    /// Water a day, mm.
    #[serde(default)]
    pub rain_mm: f64,
    /// Radiation, MJ/m2/day.
    #[serde(default = "chamber_light")]
    pub rs_mj_m2: f64,
    /// Reference evapotranspiration, mm/day.
    #[serde(default)]
    pub et0_mm: f64,
    /// Day length, h.
    #[serde(default = "chamber_day")]
    pub day_length_h: f64,
}

fn one() -> f64 {
    1.0
}

fn chamber_light() -> f64 {
    15.0
}

fn chamber_day() -> f64 {
    14.0
}

/// Lawn and soil of a study.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct LawnText {
    /// Grass (as in parameters.toml) and its share of the cover; empty with a cover of 0.
    pub grasses: BTreeMap<String, f64>,
    /// Live cover at the start, 0..=1.
    pub cover: f64,
    /// Sand and clay, mass fractions.
    pub sand: f64,
    /// Clay, mass fraction.
    pub clay: f64,
    /// Organic matter, %.
    pub organic_matter_pct: f64,
    /// Depth of topsoil, mm.
    #[serde(default = "deep")]
    pub topsoil_mm: f64,
    /// Hydrologic group.
    #[serde(default = "group_b")]
    pub hydrologic_group: String,
    /// Crabgrass seed in the ground, 1/m2, all of it able to germinate where a study sows it.
    #[serde(default)]
    pub seed_bank_m2: f64,
    /// Height of the canopy at the start, mm.
    pub height_mm: Option<f64>,
    /// Constants of the model set for this study by what it states (never to make it pass).
    #[serde(default)]
    pub constants: BTreeMap<String, f64>,
}

fn deep() -> f64 {
    300.0
}

fn group_b() -> String {
    "B".to_owned()
}

/// When a run starts and how long it is.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct RunText {
    /// First day, "MM-DD".
    pub start: String,
    /// Days to run.
    pub days: usize,
    /// Members with drawn constants for each starting year; 0 runs the central values once.
    #[serde(default)]
    pub members: u32,
}

/// A treatment: a name and what is done.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Treatment {
    /// Its name.
    pub name: String,
    /// Acts of this treatment.
    #[serde(default)]
    pub act: Vec<ActText>,
    /// Grasses, where the treatment is the grass.
    pub grasses: Option<BTreeMap<String, f64>>,
    /// A growth chamber's day, where the treatment is the chamber.
    pub constant: Option<ConstantText>,
    /// Spans in which rain is kept off this treatment.
    #[serde(default)]
    pub no_rain: Vec<[String; 2]>,
    /// Seed in the ground, where the treatment is the seed, 1/m2.
    pub seed_bank_m2: Option<f64>,
}

/// One thing done, with when.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ActText {
    /// cut, barrier, nitrogen, wet, compost, sow-grass; study-only: clip-share, pull-weeds, sow-crabgrass,
    /// hold-canopy (from its first day on, the grasses are put back each morning as they stood),
    /// rain (falls on top of the day's own, and can run off), lay-clippings.
    #[serde(rename = "do")]
    pub what: String,
    /// On these days of each year, "MM-DD".
    #[serde(default)]
    pub on: Vec<String>,
    /// On these days of the run, the first being 0.
    #[serde(default)]
    pub day: Vec<usize>,
    /// Every so many days between `from` and `to`.
    pub every_days: Option<i32>,
    /// First day of the window, "MM-DD".
    pub from: Option<String>,
    /// Last day of the window, "MM-DD".
    pub to: Option<String>,
    /// Height of cut or of a held canopy, mm.
    pub height_mm: Option<f64>,
    /// Share of green blade clipped, 0..=1.
    pub share: Option<f64>,
    /// Clippings taken away.
    #[serde(default)]
    pub collect: bool,
    /// Active ingredient, as in parameters.toml.
    pub active: Option<String>,
    /// Rate, kg ai/ha.
    pub rate_kg_ha: Option<f64>,
    /// Granules instead of a spray.
    #[serde(default)]
    pub granule: bool,
    /// Coefficient of variation of the deposit.
    pub unevenness: Option<f64>,
    /// Water, mm.
    pub water_mm: Option<f64>,
    /// Water as a share of the reference evapotranspiration of the days since the last.
    pub et0_share: Option<f64>,
    /// Nitrogen by form, g N/m2.
    #[serde(default)]
    pub urea: f64,
    /// Ammonium, g N/m2.
    #[serde(default)]
    pub ammonium: f64,
    /// Nitrate, g N/m2.
    #[serde(default)]
    pub nitrate: f64,
    /// Coated, g N/m2.
    #[serde(default)]
    pub coated: f64,
    /// Rated release time of the coated part, days.
    #[serde(default)]
    pub coated_days: f64,
    /// Natural organic, g N/m2.
    #[serde(default)]
    pub organic: f64,
    /// Compost, mm.
    pub depth_mm: Option<f64>,
    /// Seed sown, 1/m2.
    pub seeds_m2: Option<f64>,
    /// Clippings laid, g dry matter/m2.
    pub clippings_g_m2: Option<f64>,
    /// Nitrogen in them, share of dry matter.
    pub nitrogen_share: Option<f64>,
    /// Grass sown, as in parameters.toml.
    pub grass: Option<String>,
    /// Grass seed as it comes out of the bag, g/m2.
    pub seed_g_m2: Option<f64>,
    /// The same, kg/ha.
    pub seed_kg_ha: Option<f64>,
    /// Purity times germination, 0..=1.
    pub pure_live_seed: Option<f64>,
    /// How the seed is brought to the ground: broadcast, raked or slit.
    pub method: Option<String>,
}

/// One thing that must come out.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct CheckText {
    /// What is checked, in words.
    pub name: String,
    /// The published number or shape, in words.
    pub published: String,
    /// Treatment; not given where `order` names them.
    pub treatment: Option<String>,
    /// The daily series that is read: a measure or a study series.
    pub of: String,
    /// Read on this day of the year.
    pub on: Option<String>,
    /// Read on this day of the run.
    pub day: Option<usize>,
    /// First day of a span as a day of the run, where `from` is not given.
    pub from_day: Option<usize>,
    /// First day of a span, "MM-DD", or the run's first.
    pub from: Option<String>,
    /// Last day of a span, "MM-DD", or the run's last.
    pub to: Option<String>,
    /// Year of the run that `on`, `from` and `to` fall in, the first being 0.
    #[serde(default)]
    pub year: i32,
    /// How the span is read: value (default), mean, max, min, change, first-above,
    /// day-of-max, day-of-best-week, days-above, share-of-end.
    #[serde(default)]
    pub how: How,
    /// Threshold of first-above.
    pub above: Option<f64>,
    /// Report this series on the day found instead of the day.
    pub at: Option<String>,
    /// Compare with this treatment.
    pub against: Option<String>,
    /// How to compare: control-pct is 100 (1 - treatment/against).
    #[serde(default)]
    pub compare: Compare,
    /// Lowest value that passes.
    pub low: Option<f64>,
    /// Highest value that passes.
    pub high: Option<f64>,
    /// These treatments must come out in falling order.
    #[serde(default)]
    pub falling: Vec<String>,
    /// Falling means by at least this much each step (0: strictly).
    #[serde(default)]
    pub by: f64,
    /// Whether every track must pass, or their mean.
    #[serde(default)]
    pub each: bool,
}

/// How a span of days is read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum How {
    /// The value on the day.
    #[default]
    Value,
    /// Mean over the span.
    Mean,
    /// Greatest value in the span.
    Max,
    /// Least value in the span.
    Min,
    /// Last less first value of the span.
    Change,
    /// Days from the span's start until the series first exceeds `above`.
    FirstAbove,
    /// Days from the span's start until the series is greatest.
    DayOfMax,
    /// Days of the span on which the series exceeds `above`.
    DaysAbove,
    /// Value at the span's end as % of the value at the run's end.
    ShareOfEnd,
    /// Greatest mean of seven days running, as the day in its middle.
    DayOfBestWeek,
}

/// How two treatments are compared.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Compare {
    /// Treatment less the other.
    #[default]
    Difference,
    /// Treatment over the other.
    Ratio,
    /// 100 (1 - treatment/other).
    ControlPct,
}

impl Study {
    /// Reads a study file.
    ///
    /// # Errors
    /// The TOML reader's message, with the line.
    pub fn read(text: &str) -> Result<Study, String> {
        toml::from_str(text).map_err(|e| e.to_string())
    }
}
