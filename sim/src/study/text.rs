//! The study file: conditions, treatments and checks of one published study, as data.

use super::by_month::ByMonth;
use crate::weather::Record;
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
    /// What the model lacks for it ("white clover"): the study is kept, not run, and counted apart.
    pub waits_for: Option<String>,
    /// Where it is run, when not by the runner of studies.
    pub elsewhere: Option<Elsewhere>,
    /// Weather.
    #[serde(default)]
    pub weather: WeatherText,
    /// Lawn and soil.
    #[serde(default)]
    pub lawn: LawnText,
    /// When the run starts and how long it is.
    #[serde(default)]
    pub run: RunText,
    /// Acts common to all treatments.
    #[serde(default)]
    pub act: Vec<ActText>,
    /// Treatments.
    #[serde(default)]
    pub treatment: Vec<Treatment>,
    /// What must come out.
    #[serde(default)]
    pub check: Vec<CheckText>,
    /// The file's text, for the lines of faults.
    #[serde(skip)]
    pub(super) text: String,
}

/// A study that another test runs.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Elsewhere {
    /// File of the test, from the top of the tree.
    pub test: String,
    /// Page with its table, whose rows say "holds" or "MISS".
    pub page: String,
}

/// Weather of a study: years of a station, shifted where it is a stand-in, or constant days.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct WeatherText {
    /// Key of a carried record.
    pub station: Option<String>,
    /// Keys of several carried records; each makes tracks of its own.
    #[serde(default)]
    pub stations: Vec<String>,
    /// Records that the project does not carry, beside the study file.
    #[serde(default)]
    pub record: Vec<RecordText>,
    /// Calendar years in which runs start; each makes a track. None: every year that the run fits.
    #[serde(default)]
    pub years: Vec<i32>,
    /// Past its end the record begins anew, for runs longer than the record.
    #[serde(default)]
    pub repeat_record: bool,
    /// Added to every temperature of January, February ..., C: a stand-in for another place, by
    /// the difference of monthly normals. One value stands for all months.
    #[serde(default)]
    pub warmer_c: ByMonth,
    /// Every day's rain is multiplied by this, one value or one a month.
    #[serde(default)]
    pub rain_factor: ByMonth,
    /// Every day's wind is multiplied by this: an airport by the sea stands in for inland plots.
    #[serde(default)]
    pub wind_factor: ByMonth,
    /// Every day's reference evapotranspiration is multiplied by this: drier air than the record's.
    #[serde(default)]
    pub et0_factor: ByMonth,
    /// Spans ("06-01" to "09-30") in which rain is kept off.
    #[serde(default)]
    pub no_rain: Vec<[String; 2]>,
    /// Parts of the year that are sheltered, heated or cooled.
    #[serde(default)]
    pub span: Vec<SpanText>,
    /// The same day over and over (a growth chamber).
    pub constant: Option<ConstantText>,
    /// The record is the study's own place and years, not a stand-in.
    #[serde(default)]
    pub own: bool,
}

/// A daily record, in a file beside the study or in the study itself.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct RecordText {
    /// Daily file, from the study's folder or from where `SWARDPLAY_RECORDS` points.
    pub file: Option<String>,
    /// The table itself: a header line "date,tmin_c,tmax_c,precip_mm" and a line a day.
    pub days: Option<String>,
    /// Latitude, degrees north.
    pub latitude_deg: Option<f64>,
    /// Elevation, m.
    #[serde(default)]
    pub elevation_m: f64,
    /// Height of the anemometer, m.
    pub anemometer_m: Option<f64>,
    /// Days of the file before this one, "YYYY-MM-DD", are left out.
    pub since: Option<String>,
    /// What `days` holds.
    #[serde(skip)]
    pub(super) read: Option<Record>,
}

/// A part of the year that differs.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SpanText {
    /// First day, "MM-DD".
    pub from: Option<String>,
    /// Last day, "MM-DD"; before `from`, the span goes over the new year.
    pub to: Option<String>,
    /// First day of the run, counted from 0.
    pub from_day: Option<usize>,
    /// Last day of the run, counted from 0.
    pub to_day: Option<usize>,
    /// Added to temperatures, C, on top of the months'.
    #[serde(default)]
    pub warmer_c: f64,
    /// Rain is multiplied by this as well; 0 keeps it off.
    #[serde(default = "one")]
    pub rain_factor: f64,
    /// Wind is multiplied by this as well.
    #[serde(default = "one")]
    pub wind_factor: f64,
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
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct LawnText {
    /// Grass (as in parameters.toml) and its share of the cover; empty with a cover of 0.
    pub grasses: BTreeMap<String, f64>,
    /// Live cover at the start, 0..=1.
    pub cover: f64,
    /// Texture class ("silt loam"), or sand and clay.
    pub texture: Option<String>,
    /// Sand, mass fraction.
    pub sand: Option<f64>,
    /// Clay, mass fraction.
    pub clay: Option<f64>,
    /// Organic matter, %.
    pub organic_matter_pct: f64,
    /// Depth of topsoil, mm.
    #[serde(default = "deep")]
    pub topsoil_mm: f64,
    /// Hydrologic group.
    #[serde(default = "group_b")]
    pub hydrologic_group: String,
    /// Compaction below the topsoil: "none", "moderate" or "severe".
    #[serde(default = "not_compacted")]
    pub compaction: String,
    /// Slope, m/m.
    #[serde(default = "gentle")]
    pub slope: f64,
    /// Share of full sun, 0..=1.
    #[serde(default = "one")]
    pub sun: f64,
    /// Crabgrass seed in the ground, 1/m2, all of it able to germinate where a study sows it.
    #[serde(default)]
    pub seed_bank_m2: f64,
    /// Living tubers of yellow nutsedge in the ground, 1/m2.
    #[serde(default)]
    pub nutsedge_tubers_m2: f64,
    /// Dandelion last autumn, share of the ground 0..=1; not played where it is left out.
    pub dandelion: Option<f64>,
    /// White clover last autumn, likewise.
    pub clover: Option<f64>,
    /// Height of the canopy at the start, mm: a full, well-fed canopy then.
    pub height_mm: Option<f64>,
    /// Nitrogen in leaf at the start, % of dry mass.
    pub leaf_n_pct: Option<f64>,
    /// Roots at the start, g/m2.
    pub root_mass_g_m2: Option<f64>,
    /// Rooting depth at the start, mm, less than the species' deepest; instead of their mass.
    pub root_depth_mm: Option<f64>,
    /// Available water in the soil at the start, share of what it holds, 0..=1.
    pub soil_water_share: Option<f64>,
    /// Mineral nitrogen in the soil at the start, g/m2.
    pub mineral_n_g_m2: Option<f64>,
    /// Pre-emergent residue in the soil at the start, kg ai/ha by active.
    #[serde(default)]
    pub residue_kg_ha: BTreeMap<String, f64>,
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

fn not_compacted() -> String {
    "none".to_owned()
}

fn gentle() -> f64 {
    0.02
}

/// When a run starts and how long it is.
#[derive(Clone, Debug, Default, Deserialize)]
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
    /// Keys of `[lawn]` that differ in this treatment.
    #[serde(default)]
    pub lawn: toml::Table,
    /// Keys of `[weather]` that differ in this treatment.
    #[serde(default)]
    pub weather: toml::Table,
    /// The study's lawn with what differs here.
    #[serde(skip)]
    pub(super) ground: LawnText,
    /// The study's weather with what differs here.
    #[serde(skip)]
    pub(super) sky: WeatherText,
}

/// One thing done, with when.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ActText {
    /// cut, barrier, nitrogen, wet, compost, spray, sow-grass, iron; study-only: clip-share, pull-weeds, sow-crabgrass,
    /// hold-canopy (from its first day on, the grasses are put back each morning as they stood),
    /// rain (falls on top of the day's own, and can run off), lay-clippings, remove-turf,
    /// set-soil-water.
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
    /// Last day of the window, "MM-DD"; before `from`, the window goes over the new year.
    pub to: Option<String>,
    /// First day of the window as a day of the run, the first being 0.
    pub from_day: Option<usize>,
    /// Last day of the window as a day of the run.
    pub to_day: Option<usize>,
    /// Only in these calendar years of the run, the first being 0; all where none is named.
    #[serde(default)]
    pub years: Vec<i32>,
    /// Only when the canopy stood higher than this last evening, mm.
    pub canopy_above_mm: Option<f64>,
    /// Only when the root zone held less than this share of its available water last evening.
    pub soil_water_below: Option<f64>,
    /// Height of cut, mm.
    pub height_mm: Option<f64>,
    /// Share of green blade clipped, of turf removed, of available water set, 0..=1.
    pub share: Option<f64>,
    /// Clippings taken away.
    #[serde(default)]
    pub collect: bool,
    /// Active ingredient, as in parameters.toml.
    pub active: Option<String>,
    /// Rate, kg ai/ha.
    pub rate_kg_ha: Option<f64>,
    /// Post-emergent herbicide, as in parameters.toml.
    pub herbicide: Option<String>,
    /// Share of the weeds' ground that spot sprays reach; all of the lawn is sprayed where not given.
    pub found: Option<f64>,
    /// Granules instead of a spray.
    #[serde(default)]
    pub granule: bool,
    /// Coefficient of variation of the deposit.
    pub unevenness: Option<f64>,
    /// Water, mm, one value or one a month.
    pub water_mm: Option<ByMonth>,
    /// Water as a share of the reference evapotranspiration of the days since the last, within the
    /// window; one value or one a month.
    pub et0_share: Option<ByMonth>,
    /// With `et0-share`: less the rain of the same days.
    #[serde(default)]
    pub less_rain: bool,
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
    /// Sprayed, so that leaves catch part of it.
    #[serde(default)]
    pub on_leaf: bool,
    /// Compost, mm.
    pub depth_mm: Option<f64>,
    /// Seed sown, 1/m2.
    pub seeds_m2: Option<f64>,
    /// Clippings laid, g dry matter/m2.
    pub clippings_g_m2: Option<f64>,
    /// Nitrogen in them, share of dry matter.
    pub nitrogen_share: Option<f64>,
    /// Iron sprayed, kg Fe/ha.
    pub iron_kg_ha: Option<f64>,
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
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct CheckText {
    /// What is checked, in words.
    pub name: String,
    /// The published number or shape, in words.
    pub published: String,
    /// Treatment; not given where an order, `treatments` or `doses` names them.
    pub treatment: Option<String>,
    /// The mean of these treatments is read.
    #[serde(default)]
    pub treatments: Vec<String>,
    /// The daily series that is read: a measure or a study series.
    pub of: String,
    /// Read on this day of the year.
    pub on: Option<String>,
    /// Read on this day of the run.
    pub day: Option<usize>,
    /// First day of a span as a day of the run, where `from` is not given.
    pub from_day: Option<usize>,
    /// Last day of a span as a day of the run, where `to` is not given.
    pub to_day: Option<usize>,
    /// First day of a span, "MM-DD", or the run's first.
    pub from: Option<String>,
    /// Last day of a span, "MM-DD", or the run's last.
    pub to: Option<String>,
    /// Year of the run that `on`, `from` and `to` fall in, the first being 0.
    #[serde(default)]
    pub year: i32,
    /// Year of the run that `to` falls in, where it is not `year`.
    pub to_year: Option<i32>,
    /// Only days of these months, 1 to 12, of the span.
    #[serde(default)]
    pub months: Vec<u8>,
    /// How the span is read.
    #[serde(default)]
    pub how: How,
    /// Threshold of first-above, last-above, days-above; share of first-share, %.
    pub above: Option<f64>,
    /// Threshold of first-below, days-below.
    pub below: Option<f64>,
    /// Report this series on the day found instead of the day.
    pub at: Option<String>,
    /// Column of the record that rmse and bias compare with.
    pub observed: Option<String>,
    /// The same reading of this treatment is taken off first.
    pub net_of: Option<String>,
    /// Compare with this treatment.
    pub against: Option<String>,
    /// Compare with another reading: what it names differs from this check.
    pub other: Option<OtherText>,
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
    /// These treatments must come out in rising order.
    #[serde(default)]
    pub rising: Vec<String>,
    /// Each step by more than this (0: strictly; below 0: so much of a step back is let pass).
    #[serde(default)]
    pub by: f64,
    /// Dose by treatment: the slope of the reading over the dose is what passes or not.
    #[serde(default)]
    pub doses: BTreeMap<String, f64>,
    /// With `doses`: instead of the slope, the dose at which the reading reaches this value.
    pub reaches: Option<f64>,
    /// Whether every track must pass, or their mean.
    #[serde(default)]
    pub each: bool,
    /// What is known of a miss that stands: the tests ask for it, and refuse it on a pass.
    pub known_miss: Option<String>,
}

/// Another reading to compare with: what is left out is as in the check. Where it names any day,
/// none of the check's days is kept.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct OtherText {
    /// Treatment.
    pub treatment: Option<String>,
    /// Series.
    pub of: Option<String>,
    /// Day of the year.
    pub on: Option<String>,
    /// Day of the run.
    pub day: Option<usize>,
    /// First day of a span as a day of the run.
    pub from_day: Option<usize>,
    /// Last day of a span as a day of the run.
    pub to_day: Option<usize>,
    /// First day of a span.
    pub from: Option<String>,
    /// Last day of a span.
    pub to: Option<String>,
    /// Year of the run.
    pub year: Option<i32>,
    /// Year of the run that `to` falls in.
    pub to_year: Option<i32>,
    /// Months.
    pub months: Option<Vec<u8>>,
    /// How it is read.
    pub how: Option<How>,
    /// What a value must be above: in the series' unit, or for a first share % of its last value.
    pub above: Option<f64>,
    /// What a value must be below, in the series' unit.
    pub below: Option<f64>,
}

impl CheckText {
    /// What this check's reading is compared with, as a check of its own.
    pub fn compared(&self) -> Option<CheckText> {
        let mut c = self.clone();
        if let Some(name) = &self.against {
            c.treatment = Some(name.clone());
            c.treatments.clear();
        }
        let Some(o) = &self.other else { return self.against.is_some().then_some(c) };
        if let Some(name) = &o.treatment {
            c.treatment = Some(name.clone());
            c.treatments.clear();
        }
        let days = o.on.is_some() || o.day.is_some() || o.from.is_some() || o.to.is_some();
        if days || o.from_day.is_some() || o.to_day.is_some() || o.months.is_some() {
            (c.on, c.day, c.from, c.to) = (o.on.clone(), o.day, o.from.clone(), o.to.clone());
            (c.from_day, c.to_day) = (o.from_day, o.to_day);
            (c.to_year, c.months) = (o.to_year, o.months.clone().unwrap_or_default());
        }
        c.of = o.of.clone().unwrap_or(c.of);
        c.year = o.year.unwrap_or(c.year);
        c.to_year = o.to_year.or(c.to_year);
        c.how = o.how.unwrap_or(c.how);
        c.above = o.above.or(c.above);
        c.below = o.below.or(c.below);
        Some(c)
    }
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
    /// Sum over the span, of a series of days.
    Sum,
    /// Greatest value in the span.
    Max,
    /// Least value in the span.
    Min,
    /// Last less first value of the span; with months, what changed on their days.
    Change,
    /// Slope of a straight line through the span, a day.
    Rate,
    /// Days to half, from a straight line through the logarithms.
    HalfLife,
    /// Days from the span's start until the series first exceeds `above`.
    FirstAbove,
    /// Days from the span's start until the series is first less than `below`.
    FirstBelow,
    /// Days from the span's start until the series last exceeds `above`.
    LastAbove,
    /// Days from the span's start until the series first exceeds `above` % of its value at the
    /// span's end.
    FirstShare,
    /// Days from the span's start until the series is greatest.
    DayOfMax,
    /// Days of the span on which the series exceeds `above`.
    DaysAbove,
    /// Days of the span on which the series is less than `below`.
    DaysBelow,
    /// Value at the span's end as % of the value at the run's end.
    ShareOfEnd,
    /// Greatest mean of seven days running, as the day in its middle.
    DayOfBestWeek,
    /// Root of the mean square of series less observation.
    Rmse,
    /// Mean of series less observation.
    Bias,
}

/// How two readings are compared.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Compare {
    /// Treatment less the other.
    #[default]
    Difference,
    /// Treatment over the other.
    Ratio,
    /// 100 treatment/other.
    Percent,
    /// 100 (treatment/other - 1).
    ChangePct,
    /// 100 (1 - treatment/other).
    ControlPct,
}
