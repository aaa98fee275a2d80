//! The checked scenario: typed, in SI, with every fault already reported. What the members,
//! programs and lawn read; nothing here knows about text.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use super::event::Event;
use super::goal::Goals;
use super::local_rules::LocalRules;
use crate::calendar::{Day, MonthDay, Weekdays};
use crate::weather::{TableUnits, WeatherPlan};
use crate::work::{
    ActiveId, Carrier, Clippings, NitrogenForms, PostId, SeedMix, Sought, Sowing, Stand, Tending,
    Weed,
};

/// A number that a person knows exactly, as a range, or as low / likely / high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Uncertain {
    /// One value.
    Exact(f64),
    /// Anything between the two is as likely (uniform).
    Range(f64, f64),
    /// Low, likely, high (triangular).
    Triple(f64, f64, f64),
}

impl Uncertain {
    /// Mean of its distribution.
    pub fn mean(&self) -> f64 {
        match *self {
            Uncertain::Exact(value) => value,
            Uncertain::Range(low, high) => (low + high) / 2.0,
            Uncertain::Triple(low, likely, high) => (low + likely + high) / 3.0,
        }
    }

    /// Standard deviation of its distribution.
    pub fn sd(&self) -> f64 {
        match *self {
            Uncertain::Exact(_) => 0.0,
            Uncertain::Range(low, high) => (high - low) / 12f64.sqrt(),
            Uncertain::Triple(a, c, b) => {
                let squares = a * a + b * b + c * c - a * b - a * c - b * c;
                (squares / 18.0).max(0.0).sqrt()
            }
        }
    }

    /// The lowest value that may be drawn.
    pub fn least(self) -> f64 {
        match self {
            Uncertain::Exact(value) => value,
            Uncertain::Range(low, _) | Uncertain::Triple(low, _, _) => low,
        }
    }

    /// The likeliest value: the middle of a range.
    pub fn likely(self) -> f64 {
        match self {
            Uncertain::Exact(value) | Uncertain::Triple(_, value, _) => value,
            Uncertain::Range(low, high) => 0.5 * (low + high),
        }
    }

    /// The highest value that may be drawn.
    pub fn most(self) -> f64 {
        match self {
            Uncertain::Exact(value) => value,
            Uncertain::Range(_, high) | Uncertain::Triple(_, _, high) => high,
        }
    }
}

/// What is not known exactly of a place and of its work. Where there is a doubt, the plain field of
/// [`Lawn`], [`Soil`] or [`Crew`] holds the likeliest value, and each member draws its own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Doubts {
    /// Slope, m/m.
    pub slope: Option<Uncertain>,
    /// Share of full sun, 0..=1.
    pub sun: Option<Uncertain>,
    /// Share of the water from the tap that reaches the roots, 0..=1.
    pub irrigation_efficiency: Option<Uncertain>,
    /// Depth of topsoil, mm.
    pub topsoil_mm: Option<Uncertain>,
    /// Sand, mass fraction 0..=1.
    pub sand: Option<Uncertain>,
    /// Clay, mass fraction 0..=1.
    pub clay: Option<Uncertain>,
    /// Whether the hydrologic group follows from the drawn texture: none was stated.
    pub group_by_texture: bool,
    /// Cost of a person-hour.
    pub hour_cost: Option<Uncertain>,
    /// Mowing speed, m/s.
    pub mower_speed_m_s: Option<Uncertain>,
    /// Share of the weeds' ground that is found where spots are sprayed, 0..=1.
    pub weeds_found: Option<Uncertain>,
    /// Rated release times of coated nitrogen, days, each with the key of its practice. A practice
    /// has one luck in all programs; each range stands here once.
    pub release_days: Vec<(String, Uncertain)>,
}

/// A lawn, its weather and the programs to compare on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// A line for titles.
    pub title: String,
    /// What the scenario teaches, in a sentence or two; may be empty.
    pub about: String,
    /// The place.
    pub lawn: Lawn,
    /// The station record and how years are made from it.
    pub weather: WeatherChoice,
    /// First simulated calendar year.
    pub first_year: i32,
    /// Number of seasons (calendar years), 1..=20.
    pub seasons: u32,
    /// The programs, the baseline first.
    pub programs: Vec<Program>,
    /// What work costs.
    pub crew: Crew,
    /// How reliably work is done.
    pub slips: Slips,
    /// What is not known exactly of lawn and crew, beside what the walk-round left open.
    pub doubts: Doubts,
    /// Days on which the lawn is looked at, in the order written.
    pub events: Vec<Event>,
    /// Model constants set by the scenario: name in parameters.toml and value.
    pub overrides: Vec<(String, Uncertain)>,
    /// Program that the lawn had in the year before, where that year is to be run first.
    pub season_before: Option<usize>,
    /// What was seen of the lawn since the season began.
    pub scouting: Option<Scouting>,
    /// The rules of the place.
    pub rules: LocalRules,
    /// Bags, tank and tools of the crew; nothing of it bears on the lawn.
    pub gear: Gear,
    /// What a cheap program must still bring, where that is stated.
    pub goals: Goals,
}

impl Scenario {
    /// Calendar years of its run.
    pub fn years(&self) -> Range<i32> {
        self.first_year..self.first_year.saturating_add_unsigned(self.seasons.max(1))
    }

    /// The scenario with these programs in place of its own; the care that a lawn had before them
    /// stays, in programs behind them.
    #[must_use]
    pub fn with_programs(&self, programs: &[Program]) -> Scenario {
        let mut scenario = Scenario { programs: programs.to_vec(), ..self.clone() };
        let mut keep = |at: usize| {
            scenario.programs.push(self.programs[at].clone());
            scenario.programs.len() - 1
        };
        scenario.season_before = self.season_before.map(&mut keep);
        let followed = self.scouting.as_ref().map(|scouting| keep(scouting.program));
        if let (Some(scouting), Some(at)) = (&mut scenario.scouting, followed) {
            scouting.program = at;
        }
        scenario
    }
}

/// What was seen of the lawn since the first of January, and the care it had until then.
#[derive(Clone, Debug, PartialEq)]
pub struct Scouting {
    /// Index of the program that the lawn was under.
    pub program: usize,
    /// What was seen, at least one.
    pub notes: Vec<Note>,
}

/// One look at the lawn in the run's first year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Note {
    /// Evening of the look.
    pub on: MonthDay,
    /// What was looked at.
    pub what: Sighting,
    /// What was seen: % of the lawn, or quality 1-9.
    pub value: f64,
    /// Standard error of the look, in the same unit.
    pub sd: f64,
}

/// What a person can judge by eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sighting {
    /// Live grass, green or dormant, % of the ground.
    GrassCover,
    /// Green grass, % of the ground.
    GreenCover,
    /// Crabgrass, % of the ground.
    Crabgrass,
    /// Dandelion and its like, % of the ground.
    Dandelion,
    /// White clover, % of the ground.
    Clover,
    /// Yellow nutsedge, % of the ground.
    Nutsedge,
    /// Bare ground, %.
    BareGround,
    /// Visual quality, 1-9.
    Quality,
}

impl Sighting {
    /// Every sighting by the word that a scenario has for it.
    pub const ALL: [(&'static str, Sighting); 8] = [
        ("grass-cover", Sighting::GrassCover),
        ("green-cover", Sighting::GreenCover),
        ("crabgrass", Sighting::Crabgrass),
        ("dandelion", Sighting::Dandelion),
        ("clover", Sighting::Clover),
        ("nutsedge", Sighting::Nutsedge),
        ("bare-ground", Sighting::BareGround),
        ("quality", Sighting::Quality),
    ];

    /// As people say it.
    pub fn label(self) -> &'static str {
        match self {
            Sighting::GrassCover => "grass cover",
            Sighting::GreenCover => "green cover",
            Sighting::Crabgrass => "crabgrass",
            Sighting::Dandelion => "dandelion",
            Sighting::Clover => "clover",
            Sighting::Nutsedge => "nutsedge",
            Sighting::BareGround => "bare ground",
            Sighting::Quality => "quality",
        }
    }

    /// Key of the measure that it is a look at.
    pub fn measure(self) -> &'static str {
        match self {
            Sighting::GrassCover => "turf_cover",
            Sighting::GreenCover => "green_cover",
            Sighting::Crabgrass => "crabgrass_cover",
            Sighting::Dandelion => "broadleaf_cover",
            Sighting::Clover => "clover_cover",
            Sighting::Nutsedge => "nutsedge_cover",
            Sighting::BareGround => "bare_ground",
            Sighting::Quality => "quality",
        }
    }
}

/// The place and what was seen on the walk-round.
#[derive(Clone, Debug, PartialEq)]
pub struct Lawn {
    /// Area, m2.
    pub area_m2: f64,
    /// Slope, m/m.
    pub slope: f64,
    /// Share of full sun, 0..=1.
    pub sun: f64,
    /// The soil.
    pub soil: Soil,
    /// One or two grasses with their shares of the live cover (summing to 1), then those that
    /// programs sow into it, with none.
    pub grasses: Vec<(Grass, f64)>,
    /// Live grass cover at the start, share of the area 0..=1.
    pub turf_cover: Uncertain,
    /// Crabgrass cover last August, share of the area 0..=1.
    pub crabgrass_last_august: Uncertain,
    /// Viable crabgrass seed in the top of the soil, per m2, where the user states it; otherwise
    /// it is inferred from last August's cover.
    pub seed_bank_m2: Option<Uncertain>,
    /// Dandelion and its like last autumn, share of the area 0..=1; where it is left out they are
    /// not played: none stands, none comes, and none is told of.
    pub dandelion: Option<Uncertain>,
    /// White clover last autumn, likewise.
    pub clover: Option<Uncertain>,
    /// Yellow nutsedge last August, likewise.
    pub nutsedge: Option<Uncertain>,
    /// Share of the water from a hose or sprinkler that reaches the root zone, 0..=1.
    pub irrigation_efficiency: f64,
}

/// The soil as a person can describe it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soil {
    /// Sand, mass fraction 0..=1.
    pub sand: f64,
    /// Clay, mass fraction 0..=1.
    pub clay: f64,
    /// Organic matter of the top 10-15 cm, mass fraction (0.02 is 2 %).
    pub organic_matter: Uncertain,
    /// Depth of topsoil over subsoil, mm.
    pub topsoil_mm: f64,
    /// How compacted the subsoil is.
    pub compaction: Compaction,
    /// Curve-number hydrologic group.
    pub hydrologic_group: HydrologicGroup,
    /// Soil pH as noted; without effect (a tested one stands in `test`).
    pub ph: Option<f64>,
    /// What a laboratory found, where a sample was sent.
    pub test: Option<SoilTest>,
}

/// What a laboratory found in the top 10-15 cm of soil.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct SoilTest {
    /// Day of the sample.
    pub taken: Option<Day>,
    /// pH in water.
    pub ph: Option<f64>,
    /// pH that the lawn should have.
    pub target_ph: f64,
    /// Lime that the laboratory recommends for that, g/m2 of calcium carbonate or its equal.
    pub lime_g_m2: Option<f64>,
    /// Phosphorus by Mehlich 3 or as much as that, mg/kg.
    pub phosphorus_ppm: Option<f64>,
    /// Potassium likewise, mg/kg.
    pub potassium_ppm: Option<f64>,
}

/// Compaction of the soil below the topsoil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Compaction {
    /// Loose, roots pass.
    None,
    /// Some resistance to a probe.
    Moderate,
    /// Graded by machines: a probe stops.
    Severe,
}

/// NEH-630 hydrologic soil group.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the letters are the standard's own")]
pub enum HydrologicGroup {
    A,
    B,
    C,
    D,
}

/// The four cool-season grasses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Grass {
    /// Poa pratensis.
    KentuckyBluegrass,
    /// Lolium perenne.
    PerennialRyegrass,
    /// Lolium arundinaceum.
    TallFescue,
    /// Festuca rubra and kin.
    FineFescue,
}

/// Weather source.
#[derive(Clone, Debug, PartialEq)]
pub struct WeatherChoice {
    /// A carried station's key ("jfk") or a path as the user wrote it; the door reads it.
    pub source: WeatherSource,
    /// How years are made.
    pub plan: WeatherPlan,
    /// What is stated of a file that leaves it open.
    pub file: StationFile,
    /// Where the observed days of the run's own year come from, where there are any.
    pub so_far: Option<SoFarSource>,
}

/// What a person states of a station file; all of it may be left open.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StationFile {
    /// Which station to take where a file holds several.
    pub station: Option<String>,
    /// The units of a table whose columns do not say them.
    pub units: Option<TableUnits>,
    /// Latitude, degrees north.
    pub latitude_deg: Option<f64>,
    /// Elevation, m.
    pub elevation_m: Option<f64>,
    /// First and last calendar year to read.
    pub years: Option<(i32, i32)>,
}

/// Where the observed days of the run's own year come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SoFarSource {
    /// The record itself reaches into the run's first year.
    Record,
    /// A daily CSV file, as written in the scenario.
    File(String),
}

/// Where the record comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WeatherSource {
    /// One of the carried records, by key.
    Carried(String),
    /// A daily CSV file, as written in the scenario.
    File(String),
}

/// A named list of practices.
#[derive(Clone, Debug, PartialEq)]
pub struct Program {
    /// Key used in files and on the command line.
    pub id: String,
    /// A label for pictures.
    pub title: String,
    /// The program that this one was made from by changing one thing.
    pub based_on: Option<String>,
    /// In words, what differs from `based_on`; empty for a program of its own.
    pub difference: String,
    /// The practices, in the order written.
    pub practices: Vec<Practice>,
}

/// One thing the crew does.
#[derive(Clone, Debug, PartialEq)]
pub struct Practice {
    /// Key, unique in the program, stable over `based-on`: slips are keyed by it.
    pub key: String,
    /// What is done.
    pub what: What,
    /// When.
    pub cue: Cue,
    /// Conditions under which a due practice waits (and is dropped after `give_up_days`).
    pub holds: Vec<Hold>,
    /// Days that a held practice waits before it is dropped for this time.
    pub give_up_days: u32,
    /// Whose hands do it.
    pub by: Hands,
}

/// Whose hands do a practice, and so whether it needs a visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hands {
    /// The crew, on a visit.
    Crew,
    /// Whoever lives there, on any day, with the minutes counted: watering, where nobody is named.
    House,
    /// The client, on any day: neither visit nor minutes; product and water are still paid.
    Client,
}

/// What a practice does, resolved to SI amounts.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// Mow.
    Mow {
        /// Height of cut, mm.
        height_mm: f64,
        /// Where the clippings go.
        clippings: Clippings,
    },
    /// Lay a pre-emergent barrier.
    PreEmergent {
        /// Active ingredient.
        active: ActiveId,
        /// Rate, kg ai/ha.
        rate_kg_ha: f64,
        /// Sprayed or granular.
        carrier: Carrier,
        /// Irrigation given right after to water it in, mm (0: rely on rain).
        water_in_mm: f64,
        /// Product as bought: its name, and amount per m2 in `unit`.
        product: Product,
        /// Whether the user gave the label's figures for once and for a year, and it keeps to them.
        label_read: bool,
    },
    /// Spread fertilizer.
    Spread {
        /// Nitrogen by form, g N/m2.
        nitrogen: NitrogenForms,
        /// Irrigation given right after, mm (0: rely on rain).
        water_in_mm: f64,
        /// Product as bought.
        product: Product,
        /// Rated release time of the coated part, days, where it is not known exactly.
        release_days: Option<Uncertain>,
    },
    /// Irrigate.
    Water {
        /// Depth wanted on the ground, mm, before losses.
        depth_mm: f64,
    },
    /// Topdress with compost.
    Topdress {
        /// Depth, mm.
        depth_mm: f64,
        /// Price of compost, per m3.
        price_m3: f64,
    },
    /// Sow grass into the lawn.
    Overseed {
        /// Which grasses and how much of each, g/m2.
        seed: SeedMix,
        /// Share of the bag that is pure, live seed, 0..=1.
        pure_live_seed: f64,
        /// How the seed is brought to the ground.
        method: Sowing,
        /// Irrigation given right after, mm (0: rely on rain).
        water_in_mm: f64,
        /// Seed as bought.
        product: Product,
    },
    /// Spray weeds that are up.
    Spray(Spray),
    /// Any other work on the ground or the turf.
    Tend(Tend),
}

impl What {
    /// Whether rules of pesticides hold for it.
    pub fn is_pesticide(&self) -> bool {
        matches!(
            self,
            What::PreEmergent { .. }
                | What::Spray(_)
                | What::Tend(Tend { tending: Tending::Kill { .. }, .. })
        )
    }

    /// The product of a barrier or a spray on weeds.
    pub fn herbicide_product(&self) -> Option<&str> {
        match self {
            What::PreEmergent { product, .. } | What::Spray(Spray { product, .. }) => {
                Some(&product.name)
            }
            _ => None,
        }
    }

    /// Whether the user gave its label's figures for once and for a year, and it keeps to them.
    pub fn label_read(&self) -> bool {
        matches!(
            self,
            What::PreEmergent { label_read: true, .. }
                | What::Spray(Spray { label_read: true, .. })
        )
    }
}

/// Work on the ground or the turf, with what it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Tend {
    /// What the lawn gets, where it goes as meant.
    pub tending: Tending,
    /// Minutes of one person per 100 m2.
    pub minutes_per_100_m2: f64,
    /// Machine, material or product for 1 m2.
    pub price_per_m2: f64,
    /// Irrigation given right after, mm.
    pub water_in_mm: f64,
    /// Product as bought, where there is one.
    pub product: Option<Product>,
    /// Whether it is done for once, and not every year.
    pub once: bool,
}

/// A spray on weeds that are up.
#[derive(Clone, Debug, PartialEq)]
pub struct Spray {
    /// With what.
    pub post: PostId,
    /// Rate on the ground that is sprayed, kg ai/ha.
    pub rate_kg_ha: f64,
    /// Only where weeds are seen, and not all of the lawn.
    pub spots: bool,
    /// Weeds that it is for: as stated, or all that it controls.
    pub weeds: Vec<Weed>,
    /// What the crew walks the lawn for.
    pub sought: Sought,
    /// Mix of water and product on the ground that is sprayed, mL/m2.
    pub volume_ml_m2: f64,
    /// Product as bought, for the ground that is sprayed.
    pub product: Product,
    /// Whether the user gave the label's figures for once and for a year, and it keeps to them.
    pub label_read: bool,
}

/// A product as the crew buys and loads it.
#[derive(Clone, Debug, PartialEq)]
pub struct Product {
    /// Active ingredient or analysis with its concentration, no brand.
    pub name: String,
    /// Product laid, g/m2 (mL/m2 where `liquid`).
    pub amount_per_m2: f64,
    /// Whether the amount is mL.
    pub liquid: bool,
    /// Price for what is laid on one m2.
    pub price_per_m2: f64,
}

/// When a practice happens.
#[derive(Clone, Debug, PartialEq)]
pub enum Cue {
    /// On these days each year.
    Dates(Vec<MonthDay>),
    /// Every so many days inside a window of the year.
    Every {
        /// Interval, days.
        days: u32,
        /// Window's first day.
        from: MonthDay,
        /// Window's last day.
        to: MonthDay,
    },
    /// Once a year, when the 5 cm soil temperature has stood at or above a value.
    SoilTemperature {
        /// Threshold, degrees C.
        at_least_c: f64,
        /// For how many days running.
        for_days: u32,
        /// Not before.
        from: MonthDay,
        /// Dropped for this year after.
        to: MonthDay,
    },
    /// Once a year, when so many degree-days have come together since the window's first day.
    DegreeDays {
        /// Sum, degC days.
        at_least_c_days: f64,
        /// A day counts by what its mean of low and high has above this, degrees C.
        base_c: f64,
        /// Counted from this day on.
        from: MonthDay,
        /// Dropped for this year after.
        to: MonthDay,
    },
    /// When the canopy reaches a height, inside a window.
    CanopyHeight {
        /// Height, mm.
        at_least_mm: f64,
        /// Window's first day.
        from: MonthDay,
        /// Window's last day.
        to: MonthDay,
        /// At least this many days between two.
        min_gap_days: u32,
    },
    /// So many days after another practice of the program was done (each time it is done).
    DaysAfter {
        /// Index of the other practice in the program.
        practice: usize,
        /// Days.
        days: u32,
    },
    /// When the root zone's available water falls to a share, inside a window.
    DrySoil {
        /// Share of available water, 0..=1.
        at_most: f64,
        /// Window's first day.
        from: MonthDay,
        /// Window's last day.
        to: MonthDay,
        /// At least this many days between two.
        min_gap_days: u32,
    },
    /// When weeds have come to cover a share of the lawn, inside a window.
    WeedCover {
        /// Which.
        stand: Stand,
        /// Share of the lawn, 0..=1.
        at_least: f64,
        /// Window's first day.
        from: MonthDay,
        /// Window's last day.
        to: MonthDay,
        /// At least this many days between two.
        min_gap_days: u32,
    },
}

/// A condition under which a due practice waits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hold {
    /// Forecast or yesterday's high at or above, degrees C.
    Hotter {
        /// Threshold, degrees C.
        than_c: f64,
    },
    /// High promised for today at or below, degrees C.
    Cooler {
        /// Threshold, degrees C.
        than_c: f64,
    },
    /// Rain promised for today at or above, mm.
    RainComing {
        /// Threshold, mm.
        mm: f64,
    },
    /// Rain promised over three days at or above, mm (for watering: let the sky do it).
    RainIn3Days {
        /// Threshold, mm.
        mm: f64,
    },
    /// More rain than this fell yesterday, mm: too wet to work.
    Wet {
        /// Threshold, mm.
        mm: f64,
    },
    /// The turf is dormant from drought.
    Dormant,
    /// The water that roots can reach is down to this share, 0..=1.
    Drier {
        /// Threshold, 0..=1.
        than: f64,
    },
    /// Wind at or above, m/s (yesterday's mean stands in).
    Windy {
        /// Threshold, m/s.
        m_s: f64,
    },
    /// Wind at or below, m/s (yesterday's mean stands in): still air.
    Calm {
        /// Threshold, m/s.
        m_s: f64,
    },
    /// A closed season of a local rule: no act between the two days (may cross the new year).
    Closed {
        /// First closed day.
        from: MonthDay,
        /// Last closed day.
        to: MonthDay,
    },
    /// For a mowing: the canopy is no taller than its height of cut.
    NothingToCut,
    /// The lawn is paler than a richly fed strip by less than this, points of the scale from 1 to 9.
    GreenWithin {
        /// Threshold, points.
        points: f64,
    },
    /// The canopy is no taller than this, mm.
    ShorterThan {
        /// Threshold, mm.
        mm: f64,
    },
    /// The lawn was mown fewer than so many days ago.
    MownWithin {
        /// Days.
        days: u32,
    },
    /// Standing weeds were sprayed fewer than so many days ago.
    SprayedWithin {
        /// Days.
        days: u32,
    },
    /// For a spray: the weeds that it is for cover no more than this share of the lawn, 0..=1.
    NothingToSpray {
        /// Threshold, 0..=1.
        below: f64,
    },
    /// These weeds cover no more than this share of the lawn, 0..=1.
    FewWeeds {
        /// Which.
        sought: Sought,
        /// Threshold, 0..=1.
        below: f64,
    },
}

/// What work takes and costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Crew {
    /// ISO 4217 code or symbol for labels; amounts are in it.
    pub currency: String,
    /// Cost of a person-hour, burden included.
    pub hour_cost: f64,
    /// Travel and set-up for a visit, person-minutes.
    pub visit_minutes: f64,
    /// Mower's width of cut, m.
    pub mower_width_m: f64,
    /// Mowing speed, m/s.
    pub mower_speed_m_s: f64,
    /// Field efficiency of mowing, 0..=1.
    pub mower_efficiency: f64,
    /// Trimming and blowing at each mow, person-minutes per 100 m2.
    pub trim_minutes_per_100_m2: f64,
    /// Mowing time is multiplied by this, 1 or more, when clippings are bagged.
    pub bagging_factor: f64,
    /// Granular spreading, person-minutes per 100 m2.
    pub spread_minutes_per_100_m2: f64,
    /// Spraying, person-minutes per 100 m2.
    pub spray_minutes_per_100_m2: f64,
    /// Share of the weeds' ground that is found where spots are sprayed, 0..=1.
    pub weeds_found: f64,
    /// Ground sprayed around the weeds found, as a share of theirs.
    pub spot_margin: f64,
    /// Walking the lawn for weeds, person-minutes per 100 m2 of lawn.
    pub spot_walk_minutes_per_100_m2: f64,
    /// Spraying spots, person-minutes per 100 m2 of ground sprayed.
    pub spot_spray_minutes_per_100_m2: f64,
    /// Topdressing, person-minutes per 100 m2 and mm of depth.
    pub topdress_minutes_per_100_m2_mm: f64,
    /// Spreading grass seed, person-minutes per 100 m2.
    pub overseed_minutes_per_100_m2: f64,
    /// Raking seed in, person-minutes per 100 m2.
    pub rake_in_minutes_per_100_m2: f64,
    /// Sowing with a slit seeder or after coring, person-minutes per 100 m2.
    pub slit_seed_minutes_per_100_m2: f64,
    /// Setting out a sprinkler, person-minutes per watering.
    pub water_minutes: f64,
    /// Price of water, per m3.
    pub water_price_m3: f64,
    /// Days of the week on which the crew may come; at least one.
    pub visit_days: Weekdays,
    /// Person-minutes that a visit takes at the least, travel included (0: no least).
    pub least_visit_minutes: f64,
    /// Cost of a visit at the least, product included, in [`Self::currency`] (0: no least).
    pub least_visit_cost: f64,
    /// What rain keeps the crew from, besides the practices' own holds.
    pub rain_out: Option<RainOut>,
}

/// What a crew loads its products with, as far as it is stated.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gear {
    /// Weight of a bag, kg.
    pub bag_kg: Option<f64>,
    /// What the sprayer's tank holds, L.
    pub tank_l: Option<f64>,
    /// Spray mix laid, mL/m2.
    pub carrier_ml_m2: Option<f64>,
    /// Width that one pass of the spreader covers, m.
    pub spreader_m: Option<f64>,
    /// Depth that the sprinklers lay in an hour, mm/h.
    pub sprinkler_mm_h: Option<f64>,
}

/// Rain that keeps a crew from working, mm: more than `fallen` yesterday, or at least `coming`
/// promised for today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RainOut {
    /// From mowing.
    pub mow: RainLimit,
    /// From spraying.
    pub spray: RainLimit,
    /// From spreading, topdressing and sowing.
    pub spread: RainLimit,
}

/// One kind of work's limits of [`RainOut`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RainLimit {
    /// Rain that fell yesterday, mm.
    pub fallen_mm: f64,
    /// Rain promised for today, mm.
    pub coming_mm: f64,
}

/// How reliably work is done: drawn per member, practice and week.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slips {
    /// Chance that a due visit is missed altogether, 0..=1.
    pub missed: f64,
    /// Chance that it comes late, 0..=1.
    pub late: f64,
    /// Mean lateness of a late one, days (exponential, rounded up).
    pub late_mean_days: f64,
    /// Coefficient of variation of the mean rate laid (calibration error), 0..=1.
    pub rate_cv: f64,
    /// Coefficient of variation of a deposit over the area in one pass, 0..=1.
    pub unevenness_cv: f64,
}
