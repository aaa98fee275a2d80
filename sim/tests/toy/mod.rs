//! A toy lawn, toy weather and a small scenario: enough for programs and ensembles to bite on, with
//! no claim about grass.
#![allow(dead_code, reason = "each test file uses its own part")]

use sim::calendar::{Day, MonthDay, Weekdays};
use sim::draw::{Purpose, Streams, standard_normal, uniform};
use sim::ensemble::{Account, RunPlan, World, measure};
use sim::outcomes::Almanac;
use sim::parameters::{Entry, Spread};
use sim::scenario::*;
use sim::season::{Lawn as DailyLawn, Member};
use sim::weather::{Forecast, Record, Site, Sky, WeatherPlan};
use sim::work::{Act, ActiveId, Carrier, Clippings, NitrogenForms, Signs};

pub fn on(month: u8, day: u8) -> MonthDay {
    MonthDay::new(month, day).expect("a day of a common year")
}

pub fn day(year: i32, month: u8, of_month: u8) -> Day {
    Day::from_ymd(year, month, of_month).expect("a day of the calendar")
}

/// Signs of a mild spring evening.
pub fn mild() -> Signs {
    Signs {
        canopy_height_mm: 70.0,
        green_cover: 0.8,
        soil_water: 0.7,
        soil_5cm_c: 12.0,
        frozen_or_snow: false,
        rain_yesterday_mm: 0.0,
        t_max_yesterday_c: 18.0,
        t_mean_yesterday_c: 12.0,
        wind_yesterday_m_s: 2.0,
        colour_short: 0.0,
        dormant: false,
        crabgrass: 0.0,
        broadleaf: 0.0,
        nutsedge: 0.0,
    }
}

/// Dry, 18 degrees C.
pub fn fair() -> Forecast {
    Forecast { rain_today_mm: 0.0, rain_3_days_mm: 0.0, t_max_c: 18.0 }
}

pub const NO_SLIPS: Slips =
    Slips { missed: 0.0, late: 0.0, late_mean_days: 3.0, rate_cv: 0.0, unevenness_cv: 0.2 };

pub const SLIPS: Slips =
    Slips { missed: 0.1, late: 0.2, late_mean_days: 3.0, rate_cv: 0.15, unevenness_cv: 0.2 };

pub fn practice(key: &str, what: What, cue: Cue) -> Practice {
    let by = if matches!(what, What::Water { .. }) { Hands::House } else { Hands::Crew };
    Practice { key: key.into(), what, cue, holds: vec![], give_up_days: 5, by }
}

pub fn mow() -> What {
    What::Mow { height_mm: 75.0, clippings: Clippings::Return }
}

pub fn barrier() -> What {
    What::PreEmergent {
        active: ActiveId(0),
        rate_kg_ha: 0.73,
        carrier: Carrier::Spray,
        water_in_mm: 13.0,
        product: Product {
            name: "prodiamine 65 %".into(),
            amount_per_m2: 0.11,
            liquid: false,
            price_per_m2: 0.02,
        },
        label_read: false,
    }
}

pub fn feed() -> What {
    What::Spread {
        nitrogen: NitrogenForms { urea_g_m2: 4.0, ..NitrogenForms::default() },
        water_in_mm: 0.0,
        product: Product {
            name: "46-0-0".into(),
            amount_per_m2: 8.7,
            liquid: false,
            price_per_m2: 0.015,
        },
        release_days: None,
    }
}

pub fn every(days: u32) -> Cue {
    Cue::Every { days, from: on(4, 15), to: on(10, 15) }
}

pub fn program(id: &str, practices: Vec<Practice>) -> Program {
    Program {
        id: id.into(),
        title: id.to_uppercase(),
        based_on: None,
        difference: String::new(),
        practices,
    }
}

/// Mowing, a barrier held in wind, feeding before rain, watering unless rain is coming.
pub fn usual(id: &str, mow_days: u32) -> Program {
    let soil = Cue::SoilTemperature { at_least_c: 10.0, for_days: 4, from: on(3, 1), to: on(6, 1) };
    let dry = Cue::DrySoil { at_most: 0.4, from: on(5, 1), to: on(9, 30), min_gap_days: 3 };
    let mut barrier = practice("barrier", barrier(), soil);
    barrier.holds.push(Hold::Windy { m_s: 4.0 });
    let mut water = practice("water", What::Water { depth_mm: 15.0 }, dry);
    water.holds.push(Hold::RainIn3Days { mm: 8.0 });
    let feed = practice("feed", feed(), Cue::Dates(vec![on(5, 20), on(9, 1), on(10, 10)]));
    program(id, vec![practice("mow", mow(), every(mow_days)), barrier, feed, water])
}

pub fn lawn() -> Lawn {
    Lawn {
        area_m2: 500.0,
        slope: 0.02,
        sun: 1.0,
        soil: Soil {
            sand: 0.4,
            clay: 0.2,
            organic_matter: Uncertain::Range(0.02, 0.03),
            topsoil_mm: 100.0,
            compaction: Compaction::Moderate,
            hydrologic_group: HydrologicGroup::B,
            ph: None,
            test: None,
        },
        grasses: vec![(Grass::KentuckyBluegrass, 1.0)],
        turf_cover: Uncertain::Triple(0.45, 0.55, 0.65),
        crabgrass_last_august: Uncertain::Exact(0.25),
        seed_bank_m2: None,
        dandelion: None,
        clover: None,
        nutsedge: None,
        irrigation_efficiency: 0.8,
    }
}

pub fn crew() -> Crew {
    Crew {
        currency: "USD".into(),
        hour_cost: 45.0,
        visit_minutes: 15.0,
        mower_width_m: 0.5334,
        mower_speed_m_s: 1.1176,
        mower_efficiency: 0.75,
        trim_minutes_per_100_m2: 2.0,
        bagging_factor: 1.43,
        spread_minutes_per_100_m2: 0.9,
        spray_minutes_per_100_m2: 2.2,
        weeds_found: 0.8,
        spot_margin: 1.0,
        spot_walk_minutes_per_100_m2: 1.0,
        spot_spray_minutes_per_100_m2: 10.0,
        topdress_minutes_per_100_m2_mm: 10.0,
        overseed_minutes_per_100_m2: 1.1,
        rake_in_minutes_per_100_m2: 16.0,
        slit_seed_minutes_per_100_m2: 9.0,
        water_minutes: 4.0,
        water_price_m3: 2.0,
        visit_days: Weekdays::ALL,
        least_visit_minutes: 0.0,
        least_visit_cost: 0.0,
        rain_out: None,
    }
}

pub fn scenario(programs: Vec<Program>) -> Scenario {
    Scenario {
        season_before: None,
        scouting: None,
        rules: LocalRules::default(),
        gear: Gear::default(),
        goals: sim::scenario::Goals::default(),
        title: "Toy".into(),
        about: String::new(),
        lawn: lawn(),
        weather: WeatherChoice {
            source: WeatherSource::Carried("toy".into()),
            plan: WeatherPlan::WholeYears,
            file: StationFile::default(),
            so_far: None,
        },
        first_year: 2026,
        seasons: 2,
        programs,
        crew: crew(),
        slips: SLIPS,
        doubts: Doubts::default(),
        events: vec![],
        overrides: vec![],
    }
}

pub fn record() -> Record {
    let site = Site { latitude_deg: 40.6, elevation_m: 3.0 };
    Record {
        name: "Toy".into(),
        site,
        anemometer_m: 10.0,
        first: day(2012, 1, 1),
        days: vec![
            sim::weather::RecordDay {
                t_min_c: 5.0,
                t_max_c: 15.0,
                precip_mm: 1.0,
                wind_m_s: None,
                rs_mj_m2: None,
                rh_pct: None,
            };
            1461
        ],
    }
}

pub fn catalogue() -> Vec<Entry> {
    let entry = |name: &str, value, spread| Entry {
        name: name.into(),
        value,
        spread,
        unit: "1".into(),
        source: "toy".into(),
        grade: 'D',
    };
    vec![
        entry("toy.growth", 3.0, Spread::LogNormal(1.3)),
        entry("toy.capacity", 60.0, Spread::Normal(8.0)),
        entry("toy.fixed", 1.0, Spread::Fixed),
    ]
}

pub fn plan<'a>(
    scenario: &'a Scenario,
    record: &'a Record,
    catalogue: &'a [Entry],
    members: u32,
) -> RunPlan<'a> {
    RunPlan {
        scenario,
        record,
        so_far: None,
        catalogue,
        members,
        seed: 11,
        threads: 2,
        keep_tracks: true,
    }
}

/// A member's toy weather, and what its forecasts said.
pub fn skies(streams: &Streams, member: u32, almanac: &Almanac) -> Vec<Sky> {
    let mut rng = streams.of_member(member, Purpose::Weather);
    let mut anomaly = 0.0;
    let mut skies: Vec<Sky> = almanac
        .marks()
        .iter()
        .map(|mark| {
            anomaly = 0.7 * anomaly + 3.0 * standard_normal(&mut rng);
            let wet = uniform(&mut rng) < 0.3;
            let rain = if wet { 20.0 * uniform(&mut rng) } else { 0.0 };
            sky(mark.day, anomaly, rain, 1.0 + 4.0 * uniform(&mut rng))
        })
        .collect();
    let mut rng = streams.of_member(member, Purpose::Forecast);
    let rains: Vec<f64> = skies.iter().map(|s| s.precip_mm).collect();
    for (at, sky) in skies.iter_mut().enumerate() {
        let right = uniform(&mut rng) < 0.8;
        let ahead: f64 = rains[at..].iter().take(3).sum();
        let guess = |rain: f64| if right { rain } else { 0.0 };
        sky.forecast = Forecast {
            rain_today_mm: guess(rains[at]),
            rain_3_days_mm: guess(ahead),
            t_max_c: sky.t_max_c + standard_normal(&mut rng),
        };
    }
    skies
}

/// One toy day.
pub fn sky(day: Day, anomaly_c: f64, rain_mm: f64, wind_m_s: f64) -> Sky {
    let day_of_year = day.day_of_year();
    let phase = (f64::from(day_of_year) - 110.0) / 365.25 * std::f64::consts::TAU;
    let mean = 12.0 + 11.0 * phase.sin() + anomaly_c;
    Sky {
        day,
        day_of_year,
        t_min_c: mean - 5.0,
        t_max_c: mean + 5.0,
        t_mean_c: mean,
        precip_mm: rain_mm,
        water_in_mm: rain_mm,
        snow_mm: 0.0,
        frozen: mean < -2.0,
        rs_mj_m2: 14.0,
        wind_2m_m_s: wind_m_s,
        et0_mm: (0.2 * mean).max(0.2),
        soil_5cm_c: mean,
        soil_10cm_c: mean,
        day_length_h: 12.0,
        air_dd10: 0.0,
        forecast: Forecast::default(),
    }
}

/// Drawn constants of the toy lawn.
#[derive(Clone, Debug)]
pub struct Setting {
    pub growth_mm: f64,
    pub capacity_mm: f64,
    pub cover: f64,
}

/// The toy lawn.
#[derive(Clone, Debug)]
pub struct Toy {
    height_mm: f64,
    water_mm: f64,
    cover: f64,
    crabgrass: f64,
    barrier: f64,
    nitrogen: f64,
    leached: f64,
    drained_mm: f64,
    evaporated_mm: f64,
    entered_mm: f64,
    start_mm: f64,
    t_c: f64,
}

impl DailyLawn for Toy {
    type Setting = Setting;

    fn signs(&self, setting: &Setting, sky: Option<&Sky>) -> Signs {
        Signs {
            canopy_height_mm: self.height_mm,
            green_cover: self.cover,
            soil_water: self.water_mm / setting.capacity_mm,
            soil_5cm_c: sky.map_or(5.0, |s| s.soil_5cm_c),
            frozen_or_snow: sky.is_some_and(|s| s.frozen),
            rain_yesterday_mm: sky.map_or(0.0, |s| s.precip_mm),
            t_max_yesterday_c: sky.map_or(10.0, |s| s.t_max_c),
            t_mean_yesterday_c: sky.map_or(5.0, |s| (s.t_min_c + s.t_max_c) / 2.0),
            wind_yesterday_m_s: sky.map_or(0.0, |s| s.wind_2m_m_s),
            colour_short: 0.0,
            dormant: false,
            crabgrass: 0.0,
            broadleaf: 0.0,
            nutsedge: 0.0,
        }
    }

    fn day(&mut self, setting: &Setting, sky: &Sky, acts: &[Act]) -> Signs {
        for act in acts {
            match *act {
                Act::Cut { height_mm, .. } => self.height_mm = self.height_mm.min(height_mm),
                Act::LayBarrier { rate_kg_ha, .. } => self.barrier += rate_kg_ha,
                Act::LayNitrogen(nitrogen) => self.nitrogen += nitrogen.total_g_m2(),
                Act::Wet { water_mm } => {
                    self.water_mm += water_mm;
                    self.entered_mm += water_mm;
                }
                Act::LayCompost { .. }
                | Act::SowGrass { .. }
                | Act::Spray { .. }
                | Act::Tend(_) => {}
            }
        }
        self.entered_mm += sky.water_in_mm;
        self.water_mm += sky.water_in_mm;
        let used = sky.et0_mm.min(self.water_mm);
        self.water_mm -= used;
        self.evaporated_mm += used;
        let over = (self.water_mm - setting.capacity_mm).max(0.0);
        self.water_mm -= over;
        self.drained_mm += over;
        let lost = self.nitrogen * (over / 200.0).min(1.0);
        self.leached += lost;
        self.nitrogen = (self.nitrogen - lost) * 0.98;
        let warm = ((sky.t_mean_c - 4.0) / 16.0).clamp(0.0, 1.0);
        self.height_mm += setting.growth_mm * warm * (0.3 + 0.1 * self.nitrogen).min(1.0);
        self.barrier *= 0.985;
        let pressure = ((sky.t_mean_c - 14.0) / 10.0).clamp(0.0, 1.0);
        self.crabgrass += 0.01 * pressure * (1.0 - self.cover) / (1.0 + 8.0 * self.barrier);
        self.crabgrass = (self.crabgrass * if sky.frozen { 0.5 } else { 1.0 }).min(1.0);
        self.cover = (self.cover + 0.002 * warm - 0.003 * self.crabgrass).clamp(0.0, 1.0);
        self.t_c = sky.soil_5cm_c;
        self.signs(setting, Some(sky))
    }

    fn measures(&self, setting: &Setting, out: &mut [f32]) {
        for (at, value) in out.iter_mut().enumerate() {
            *value = at as f32;
        }
        let mut put = |key: &str, value: f64| {
            out[measure(key).expect("a measure")] = value as f32;
        };
        put("turf_cover", 100.0 * self.cover);
        put("green_cover", 90.0 * self.cover);
        put("crabgrass_cover", 100.0 * self.crabgrass);
        put("quality", (1.0 + 8.0 * self.cover - 3.0 * self.crabgrass).max(1.0));
        put("canopy_height", self.height_mm);
        put("soil_temperature", self.t_c);
        put("soil_water", self.water_mm / setting.capacity_mm);
        put("mineral_n", self.nitrogen);
        put("organic_matter", 2.0 + 0.0001 * self.evaporated_mm);
        put("n_leached_cum", self.leached);
        put("runoff_cum", 0.5 * self.drained_mm);
        put("drainage_cum", self.drained_mm);
        put("et_cum", self.evaporated_mm);
    }

    fn accounts(&self) -> [Account; 3] {
        let water = Account {
            entered: self.entered_mm,
            left: self.drained_mm + self.evaporated_mm,
            stored_change: self.water_mm - self.start_mm,
            worst_day: 0.0,
        };
        [water, Account::default(), Account::default()]
    }
}

/// Makes toy members for a scenario.
pub struct ToyWorld<'a> {
    pub scenario: &'a Scenario,
}

impl World for ToyWorld<'_> {
    type Lawn = Toy;

    fn member(
        &self,
        number: u32,
        constants: Vec<f64>,
        streams: &Streams,
        almanac: &Almanac,
    ) -> Result<Member<Toy>, String> {
        let facts = sim::ensemble::lawn_draw(&self.scenario.lawn, streams, number);
        let setting =
            Setting { growth_mm: constants[0], capacity_mm: constants[1], cover: facts.turf_cover };
        Ok(Member {
            past: None,
            number,
            start: start(&setting),
            setting,
            skies: skies(streams, number, almanac),
        })
    }
}

/// The toy lawn on the evening before the first day.
pub fn start(setting: &Setting) -> Toy {
    Toy {
        height_mm: 50.0,
        water_mm: setting.capacity_mm / 2.0,
        cover: setting.cover,
        crabgrass: 0.0,
        barrier: 0.0,
        nitrogen: 1.0,
        leached: 0.0,
        drained_mm: 0.0,
        evaporated_mm: 0.0,
        entered_mm: 0.0,
        start_mm: setting.capacity_mm / 2.0,
        t_c: 5.0,
    }
}
