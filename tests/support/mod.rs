//! Lawns, members, weather and crews for tests that play the real lawn, and the audit that every
//! evening of every lawn has to pass.
#![allow(dead_code, reason = "each test file uses its own part")]

use sim::draw::Streams;
use sim::ensemble::{Constants, MEASURES, measure};
use sim::lawn::{LAYERS, LawnDraw, Setting, State, measures};
use sim::parameters::{ACTIVES, Catalogue, Parameters};
use sim::scenario::{Compaction, Grass, HydrologicGroup, Lawn, Soil, Uncertain};
use sim::weather::{Record, RecordDay, Site, Sky, read_daily_csv, skies};
use sim::work::{Act, ActiveId, Carrier, Clippings, NitrogenForms};
use std::sync::LazyLock;

/// The embedded constants.
pub static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(Catalogue::embedded);

/// Kennedy airport, New York, 2012-2015.
pub static JFK: LazyLock<Record> = LazyLock::new(|| {
    carried(include_str!("../../scenarios/weather/jfk_2012_2015.csv"), "jfk", 40.639, 3.0)
});

/// Seattle-Tacoma airport, 2012-2015.
pub static SEATTLE: LazyLock<Record> = LazyLock::new(|| {
    carried(include_str!("../../scenarios/weather/seattle_2012_2015.csv"), "seattle", 47.444, 113.0)
});

fn carried(text: &str, name: &str, latitude_deg: f64, elevation_m: f64) -> Record {
    let site = Site { latitude_deg, elevation_m };
    read_daily_csv(text, name, Some(site)).expect("the carried record reads").record
}

/// A member's constants as the ensemble draws them.
pub fn drawn(seed: u64, member: u32) -> Parameters {
    let constants = Constants::new(&CATALOGUE.entries, &[]).expect("no override");
    CATALOGUE.parameters(&constants.draw(&Streams::new(seed), member))
}

/// A lawn and one draw of its uncertain facts.
#[derive(Clone, Debug)]
pub struct Place {
    pub lawn: Lawn,
    pub turf_cover: f64,
    pub crabgrass_last_august: f64,
    pub seed_bank_m2: Option<f64>,
    pub dandelion: Option<f64>,
    pub clover: Option<f64>,
    pub nutsedge: Option<f64>,
    pub organic_matter: f64,
}

/// A bluegrass and ryegrass lawn on loam, 85 % covered, with 2,000 crabgrass seeds per m2.
pub fn loam() -> Place {
    Place {
        lawn: Lawn {
            area_m2: 400.0,
            slope: 0.03,
            sun: 1.0,
            soil: Soil {
                sand: 0.40,
                clay: 0.20,
                organic_matter: Uncertain::Exact(0.03),
                topsoil_mm: 150.0,
                compaction: Compaction::None,
                hydrologic_group: HydrologicGroup::B,
                ph: None,
                test: None,
            },
            grasses: vec![(Grass::KentuckyBluegrass, 0.7), (Grass::PerennialRyegrass, 0.3)],
            turf_cover: Uncertain::Exact(0.85),
            crabgrass_last_august: Uncertain::Exact(0.1),
            seed_bank_m2: None,
            dandelion: None,
            clover: None,
            nutsedge: None,
            irrigation_efficiency: 1.0,
        },
        turf_cover: 0.85,
        crabgrass_last_august: 0.1,
        seed_bank_m2: Some(2000.0),
        dandelion: None,
        clover: None,
        nutsedge: None,
        organic_matter: 0.03,
    }
}

impl Place {
    pub fn with(mut self, change: impl FnOnce(&mut Place)) -> Place {
        change(&mut self);
        self
    }

    pub fn start(&self, p: &Parameters) -> (Setting, State) {
        let draw = LawnDraw {
            facts: &self.lawn,
            turf_cover: self.turf_cover,
            crabgrass_last_august: self.crabgrass_last_august,
            seed_bank_m2: self.seed_bank_m2,
            dandelion: self.dandelion,
            clover: self.clover,
            nutsedge: self.nutsedge,
            organic_matter: self.organic_matter,
        };
        let setting = Setting::new(p, &draw);
        let state = State::initial(&setting, &draw);
        (setting, state)
    }
}

/// The skies of a record, each day changed on the way.
pub fn sky_path(record: &Record, p: &Parameters, change: impl Fn(&mut RecordDay)) -> Vec<Sky> {
    let mut days = record.days.clone();
    days.iter_mut().for_each(change);
    skies(&days, record.first, &record.site, record.anemometer_m, &p.weather, &mut || 0.5)
}

/// What a crew does today.
pub type Crew = fn(&Sky, &mut Vec<Act>);

/// Month and day of the month.
pub fn date(sky: &Sky) -> (u8, u8) {
    let (_, month, day) = sky.day.ymd();
    (month, day)
}

pub fn mow(height_mm: f64) -> Act {
    Act::Cut { height_mm, clippings: Clippings::Return }
}

pub fn mow_weekly(sky: &Sky, acts: &mut Vec<Act>) {
    if (95..320).contains(&sky.day_of_year) && sky.day.0 % 7 == 0 {
        acts.push(mow(75.0));
    }
}

/// Half quick urea, half coated.
pub fn fertilizer(total_g_m2: f64) -> Act {
    Act::LayNitrogen(NitrogenForms {
        urea_g_m2: 0.5 * total_g_m2,
        coated_g_m2: 0.5 * total_g_m2,
        coated_days: 60.0,
        ..NitrogenForms::default()
    })
}

/// 15 g N/m2 a year in three parts.
pub fn feed(sky: &Sky, acts: &mut Vec<Act>) {
    if matches!(date(sky), (5, 1) | (9, 1) | (10, 10)) {
        acts.push(fertilizer(5.0));
    }
}

/// A pass of the first active ingredient as granules.
pub fn barrier(rate_kg_ha: f64) -> Act {
    Act::LayBarrier { active: ActiveId(0), rate_kg_ha, carrier: Carrier::Granule, unevenness: 0.25 }
}

/// 12 mm every four days from May to September.
pub fn water(sky: &Sky, acts: &mut Vec<Act>) {
    if (121..274).contains(&sky.day_of_year) && sky.day.0 % 4 == 0 {
        acts.push(Act::Wet { water_mm: 12.0 });
    }
}

/// Weekly mowing and summer water.
pub fn mow_and_water(sky: &Sky, acts: &mut Vec<Act>) {
    mow_weekly(sky, acts);
    water(sky, acts);
}

/// Weekly mowing, summer water, three feedings, a barrier in April.
pub fn usual(sky: &Sky, acts: &mut Vec<Act>) {
    unfed(sky, acts);
    feed(sky, acts);
}

/// The usual care without nitrogen.
pub fn unfed(sky: &Sky, acts: &mut Vec<Act>) {
    mow_and_water(sky, acts);
    if date(sky) == (4, 10) {
        acts.push(barrier(0.55));
    }
}

/// A track: the measures, day by day, and the lawn on the last evening.
pub struct Played {
    pub rows: Vec<[f32; MEASURES.len()]>,
    /// Crabgrass seedlings through the barrier each day, 1/m2.
    pub through: Vec<f64>,
    pub setting: Setting,
    pub end: State,
}

impl Played {
    /// Mean of a measure over the days of the year `days`, in the season counted from 0.
    pub fn mean(&self, key: &str, season: usize, days: std::ops::Range<usize>) -> f64 {
        let at = measure(key).expect("a measure");
        let rows = &self.rows[365 * season..][days];
        rows.iter().map(|r| f64::from(r[at])).sum::<f64>() / rows.len() as f64
    }

    /// The largest value of a measure on any day.
    pub fn peak(&self, key: &str) -> f64 {
        let at = measure(key).expect("a measure");
        self.rows.iter().map(|r| f64::from(r[at])).fold(f64::MIN, f64::max)
    }

    /// A measure on the last evening.
    pub fn last(&self, key: &str) -> f64 {
        let at = measure(key).expect("a measure");
        self.rows.last().map_or(f64::NAN, |r| f64::from(r[at]))
    }
}

/// Plays a lawn; every evening is audited.
///
/// # Errors
/// The first evening that fails, with what fails.
pub fn play(
    place: &Place,
    p: &Parameters,
    skies: &[Sky],
    mut crew: impl FnMut(&Sky, &mut Vec<Act>),
) -> Result<Played, String> {
    let (setting, mut state) = place.start(p);
    audit(&state, &setting).map_err(|e| format!("at the start: {e}"))?;
    let mut rows = Vec::with_capacity(skies.len());
    let mut through = Vec::with_capacity(skies.len());
    let mut acts = Vec::new();
    for sky in skies {
        acts.clear();
        crew(sky, &mut acts);
        state.day(&setting, sky, &acts);
        audit(&state, &setting).map_err(|e| format!("{}: {e}", sky.day))?;
        let mut row = [0.0; MEASURES.len()];
        measures::fill(&state, &setting, &mut row);
        rows.push(row);
        through.push(state.today.through);
    }
    Ok(Played { rows, through, setting, end: state })
}

/// What holds on every evening of every lawn: finite measures and stores, none below 0, ground
/// that adds up, ratings on their scale, books that close.
pub fn audit(state: &State, setting: &Setting) -> Result<(), String> {
    let mut row = [0.0f32; MEASURES.len()];
    measures::fill(state, setting, &mut row);
    for (kind, value) in MEASURES.iter().zip(row) {
        within(kind.key, f64::from(value), f64::MIN, f64::MAX)?;
    }
    soil_stores(state, setting)?;
    plants(state, setting)?;
    weed(state)?;
    perennials(state, setting)?;
    nutsedge(state, setting)?;
    sown(state, setting)?;
    ground(state)?;
    within("quality", state.quality, 1.0, 9.0)?;
    within("colour", state.colour, 1.0, 9.0)?;
    let r = &state.reaction;
    within("pH", r.ph.unwrap_or(7.0), 3.0, 9.5)?;
    let of = [("lime", r.lime_g_m2), ("stirred", r.stirred), ("phosphate", r.phosphate_g_m2)];
    stores(0, &of)?;
    store("streaks", state.streak_g_m2)?;
    for a in 0..ACTIVES.len() {
        let active = ActiveId(a as u8);
        store("residue", state.deposits.all_kg_ha(active))?;
        store("residue in the soil", state.deposits.in_soil_kg_ha(active))?;
    }
    let books = [&state.ledger.water, &state.ledger.nitrogen, &state.ledger.carbon];
    for (name, (book, stock)) in ["water", "nitrogen", "carbon"]
        .into_iter()
        .zip(books.into_iter().zip(state.stocks(setting)))
    {
        store(name, stock)?;
        within("worst day of the book", book.worst_share(), 0.0, 1e-9)
            .map_err(|e| format!("{name}: {e}"))?;
    }
    Ok(())
}

fn within(name: &str, value: f64, low: f64, high: f64) -> Result<(), String> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    Err(format!("{name} is {value:e}, not in {low:e}..={high:e}"))
}

/// Tubers and shoots of nutsedge; what a spray has marked is part of what stands.
fn nutsedge(state: &State, setting: &Setting) -> Result<(), String> {
    let n = &state.nutsedge;
    let stock = n.stock(setting);
    stores(0, &[("nutsedge, carbon", stock.c), ("nutsedge, nitrogen", stock.n)])?;
    stores(0, &[("tubers", n.tubers), ("new tubers", n.fresh), ("height", n.height_mm)])?;
    within("sprouting tubers", n.germinable, 0.0, n.tubers + 1e-9)?;
    for (i, stand) in n.parts.iter().enumerate() {
        stores(i, &[("shoots", stand.shoots), ("leaf of a shoot", stand.area_m2)])?;
        within("marked shoots", stand.doomed + stand.burned, 0.0, stand.shoots + 1e-9)?;
    }
    for c in &state.weed.cohorts[..state.weed.used] {
        within("doomed crabgrass in gaps", c.doomed[0], 0.0, c.in_gaps + 1e-9)?;
        within("doomed crabgrass in turf", c.doomed[1], 0.0, c.in_turf + 1e-9)?;
    }
    Ok(())
}

/// Seed and seedlings of turfgrass.
fn sown(state: &State, setting: &Setting) -> Result<(), String> {
    let stock = state.sown.stock(setting);
    stores(0, &[("seed and seedlings, carbon", stock.c), ("the same, nitrogen", stock.n)])?;
    for (i, c) in state.sown.cohorts[..state.sown.used].iter().enumerate() {
        stores(i, &[("seed", c.seeds), ("moist degree-days", c.progress_dd)])?;
        for part in c.parts {
            stores(i, &[("seedlings", part.plants), ("mass of a seedling", part.mass_g)])?;
        }
    }
    Ok(())
}

/// Finite and not below 0.
fn store(name: &str, value: f64) -> Result<(), String> {
    within(name, value, 0.0, f64::MAX)
}

/// The same, of the `i`th of several.
fn stores(i: usize, of: &[(&str, f64)]) -> Result<(), String> {
    of.iter().try_for_each(|(name, value)| store(name, *value)).map_err(|e| format!("{i}: {e}"))
}

fn soil_stores(state: &State, setting: &Setting) -> Result<(), String> {
    for l in 0..LAYERS {
        // No layer ends a day with more water than it can hold; compost holds its own.
        let most =
            setting.layers[l].sat_mm + if l == 0 { state.compost_depth_mm(setting) } else { 0.0 };
        within("water", state.water[l], 0.0, most + 1e-6).map_err(|e| format!("layer {l}: {e}"))?;
        stores(l, &[("nitrate", state.nitrate[l])])?;
    }
    let g = &state.granules;
    let t = &state.totals;
    stores(
        0,
        &[
            ("ammonium", state.ammonium),
            ("urea", state.urea),
            ("urea granules", g.urea),
            ("ammonium granules", g.ammonium),
            ("nitrate granules", g.nitrate),
            ("coated granules", g.coated),
            ("coated days", g.coated_days),
            ("clippings", t.clippings),
            ("clippings_n", t.clippings_n),
            ("et", t.et),
            ("runoff", t.runoff),
            ("drainage", t.drainage),
            ("irrigation", t.irrigation),
            ("leached", t.leached),
            ("ammonia", t.ammonia),
            ("denitrified", t.denitrified),
            ("washed", t.washed),
            ("laid", t.laid),
            ("uptake", t.uptake),
            ("clumps", state.today.clumps),
            ("runoff today", state.today.runoff_mm),
        ],
    )?;
    // Net: microbes may take more than they give.
    within("mineralized", t.mineralized, f64::MIN, f64::MAX)?;
    within("seedbed", state.seedbed, 0.0, 1.0)?;
    within("seedbed_wet", state.today.seedbed_wet, 0.0, 1.0)?;
    let pools =
        [state.litter, state.root_litter, state.organic_fertilizer, state.compost, state.humus];
    for (i, pool) in pools.iter().enumerate() {
        stores(i, &[("carbon of a pool", pool.c), ("nitrogen of a pool", pool.n)])?;
    }
    Ok(())
}

fn plants(state: &State, setting: &Setting) -> Result<(), String> {
    for (i, plant) in state.plants.iter().enumerate() {
        let masses = [
            ("tillers", plant.tillers),
            ("height", plant.height_mm),
            ("leaf", plant.leaf),
            ("root", plant.root),
            ("reserves", plant.reserves),
            ("nitrogen", plant.nitrogen),
            ("leaf_n", plant.leaf_n),
            ("dry days", plant.dry_days),
            ("extension", plant.extension_mm),
        ];
        stores(i, &masses)?;
        let shares = [
            ("cover", plant.cover),
            ("root stop", plant.root_stop),
            ("stubble", plant.stubble),
            ("ks", plant.ks),
            ("starving", plant.starving),
        ];
        for (name, value) in shares {
            // Ratios of two equal sums miss 1 by a rounding.
            within(name, value, -1e-12, 1.0 + 1e-12).map_err(|e| format!("grass {i}: {e}"))?;
        }
    }
    let used = setting.grasses.len();
    if state.plants[used..].iter().any(|p| p.dry_mass(1.0) + p.cover + p.nitrogen != 0.0) {
        return Err("a grass that the lawn does not have holds something".into());
    }
    Ok(())
}

fn weed(state: &State) -> Result<(), String> {
    let w = &state.weed;
    stores(
        0,
        &[
            ("seed bank", w.bank),
            ("germinable seed", w.germinable),
            ("fresh seed", w.fresh),
            ("thermal time", w.progress_dd),
            ("seedlings of the year", w.emerged),
            ("emerging", state.today.emerging),
            ("through", state.today.through),
        ],
    )?;
    within("barrier", state.today.barrier, 0.0, 1.0)?;
    within("crabgrass ks", state.today.weed_ks, 0.0, 1.0)?;
    for (i, c) in w.cohorts.iter().enumerate() {
        stores(
            i,
            &[
                ("plants in gaps", c.in_gaps),
                ("area in gaps", c.gap_area_m2),
                ("plants in turf", c.in_turf),
                ("area in turf", c.turf_area_m2),
            ],
        )?;
    }
    Ok(())
}

/// Dandelion and clover.
fn perennials(state: &State, setting: &Setting) -> Result<(), String> {
    let (d, c) = (&state.dandelion, &state.clover);
    stores(
        0,
        &[
            ("dandelion seed", d.seed),
            ("dandelion heads", d.heads()),
            ("dandelions", d.plants()),
            ("dandelion, carbon", d.stock(setting).c),
            ("clover leaf", c.tissue.leaf),
            ("clover stolons", c.tissue.base),
            ("clover reserves", c.tissue.reserves),
            ("nitrogen fixed", c.fixed_n),
        ],
    )?;
    for (i, stand) in d.stands.iter().enumerate() {
        let t = &stand.tissue;
        let parts = [("leaf", t.leaf), ("taproots", t.base), ("reserves", t.reserves)];
        stores(i, &parts)?;
        store("dandelions of a stand", stand.plants)?;
    }
    within("dandelion ks", state.today.dandelion_ks, 0.0, 1.0)?;
    within("clover ks", state.today.clover_ks, 0.0, 1.0)
}

fn ground(state: &State) -> Result<(), String> {
    let (turf, weeds, bare) = (state.turf_cover(), state.weed_cover(), state.bare());
    within("turf cover", turf, 0.0, 1.0 + 1e-9)?;
    let each = [state.weed.cover, state.dandelion.cover, state.clover.cover, state.nutsedge.cover];
    for cover in each {
        within("a weed's cover", cover, 0.0, 1.0)?;
    }
    within("bare ground", bare, 0.0, 1.0)?;
    within("turf + weeds + bare", turf + weeds + bare, 1.0 - 1e-9, 1.0 + 1e-9)
}
