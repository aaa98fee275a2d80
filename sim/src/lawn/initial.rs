//! The lawn on the first day.

use super::barrier::Deposits;
use super::crabgrass::Weed;
use super::growth::{full_leaf, leaf_equivalent, reserve_capacity};
use super::ledger::Ledger;
use super::setting::{LAYERS, LawnDraw, MAX_GRASSES, Setting};
use super::state::{Granules, Plant, Pool, State, Today, Totals};

impl State {
    /// The lawn in its winter coat on the first of January: cover and crabgrass as the
    /// walk-round found them, roots, reserves and nitrogen as the constants of `start` say.
    pub fn initial(setting: &Setting, lawn: &LawnDraw<'_>) -> State {
        let start = &setting.p.start;
        let organic = &setting.p.organic;
        // Humus of the top 15 cm holds the soil test's organic matter (carbon over 1.724).
        let mass = setting.soil_mass_10cm_g_m2 * organic.humus_depth_mm / 100.0;
        let carbon = mass * lawn.organic_matter / 1.724 * start.humus_carbon_share;
        let share = setting.p.sward.carbon_share;
        let mut state = State {
            water: std::array::from_fn(|l| {
                let layer = &setting.layers[l];
                layer.wp_mm + start.soil_water_share * (layer.fc_mm - layer.wp_mm)
            }),
            seedbed: 1.0,
            nitrate: [start.mineral_n_g_m2 / 2.0 / LAYERS as f64; LAYERS],
            ammonium: start.mineral_n_g_m2 / 2.0,
            urea: 0.0,
            granules: Granules::default(),
            litter: Pool { c: start.litter_g_m2 * share, n: start.litter_g_m2 * 0.015 },
            root_litter: Pool { c: start.litter_g_m2 * share, n: start.litter_g_m2 * 0.010 },
            organic_fertilizer: Pool::default(),
            compost: Pool::default(),
            humus: Pool { c: carbon, n: carbon / organic.humus_cn },
            plants: [Plant::default(); MAX_GRASSES],
            weed: seed_bank(setting, lawn),
            deposits: Deposits::default(),
            totals: Totals::default(),
            today: Today::default(),
            ledger: Ledger::default(),
            quality: 1.0,
            colour: 1.0,
            begun: false,
        };
        for (i, (_, share)) in lawn.facts.grasses.iter().take(MAX_GRASSES).enumerate() {
            state.plants[i] = plant(setting, i, lawn.turf_cover.clamp(0.0, 1.0) * share);
        }
        state.open_books(setting);
        super::quality::rate(&mut state, setting);
        state
    }

    /// Sets every grass to a full, well-fed canopy of a height: how a study starts. The books are
    /// opened anew.
    pub fn set_canopy(&mut self, setting: &Setting, height_mm: f64) {
        for i in 0..setting.grasses.len() {
            let plant = &mut self.plants[i];
            plant.height_mm = height_mm;
            plant.leaf = full_leaf(plant, &setting.grasses[i], setting);
            plant.nitrogen = setting.p.sward.nitrogen_critical * leaf_equivalent(plant, setting);
            plant.leaf_n = setting.p.sward.nitrogen_critical;
        }
        self.open_books(setting);
    }

    /// Opens the books anew with what is in store: where a study put something in its place.
    pub fn open_books(&mut self, setting: &Setting) {
        let [water, nitrogen, carbon] = self.stocks(setting);
        self.ledger.water.open(water);
        self.ledger.nitrogen.open(nitrogen);
        self.ledger.carbon.open(carbon);
    }
}

fn plant(setting: &Setting, i: usize, cover: f64) -> Plant {
    let start = &setting.p.start;
    let traits = &setting.grasses[i];
    let mut plant = Plant {
        cover,
        tillers: cover * traits.density_max_m2 * start.density_share,
        height_mm: 50.0,
        ks: 1.0,
        leaf_n: start.leaf_nitrogen,
        root_stop_days: 1.0,
        ..Plant::default()
    };
    plant.leaf = full_leaf(&plant, traits, setting) * start.winter_green;
    plant.root = cover * setting.p.sward.root_half_g_m2 * start.root_share;
    plant.reserves = start.reserve_share * reserve_capacity(&plant, setting);
    plant.nitrogen = start.leaf_nitrogen * leaf_equivalent(&plant, setting);
    plant
}

/// Seed in the ground: as stated, or what last August's crabgrass shed, with an old stock.
fn seed_bank(setting: &Setting, lawn: &LawnDraw<'_>) -> Weed {
    let p = &setting.p.crabgrass;
    let shed = p.seed_rain_m2 * lawn.crabgrass_last_august * p.entry_share;
    let bank = lawn.seed_bank_m2.unwrap_or(p.background_bank_m2 + shed).max(0.0);
    Weed { bank, germinable: bank * p.germinable_share, ..Weed::default() }
}
