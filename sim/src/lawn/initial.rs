//! The lawn on the first day.

use super::barrier::Deposits;
use super::clover::Clover;
use super::crabgrass::Weed;
use super::cultivation::Ground;
use super::dandelion::Dandelion;
use super::foliar::OnLeaf;
use super::ledger::Ledger;
use super::nutsedge::Nutsedge;
use super::organic::ORGANIC_MATTER_PER_CARBON;
use super::plant::{Plant, root_stop_left};
use super::reaction::Reaction;
use super::seeding::Sown;
use super::setting::{LAYERS, LawnDraw, MAX_GRASSES, Setting};
use super::spray::Sprays;
use super::state::{Evening, Granules, Pool, State, Today, Totals};

impl State {
    /// The lawn in its winter coat on the first of January: cover and crabgrass as the
    /// walk-round found them, roots, reserves and nitrogen as the constants of `start` say.
    pub fn initial(setting: &Setting, lawn: &LawnDraw<'_>) -> State {
        let start = &setting.p.start;
        let organic = &setting.p.organic;
        // Humus of the top 15 cm holds the soil test's organic matter.
        let mass = setting.soil_mass_10cm_g_m2 * organic.humus_depth_mm / 100.0;
        let carbon =
            mass * lawn.organic_matter / ORGANIC_MATTER_PER_CARBON * start.humus_carbon_share;
        let ammonium = start.mineral_n_g_m2 * start.ammonium_share;
        let nitrate = start.mineral_n_g_m2 - ammonium;
        let share = setting.p.sward.carbon_share;
        // Where more was seen than there is ground, clover and then grass give way.
        let dandelion = lawn.dandelion.map(|cover| cover.clamp(0.0, 1.0));
        let room = 1.0 - dandelion.unwrap_or(0.0);
        let clover = lawn.clover.map(|cover| cover.clamp(0.0, room));
        let mut state = State {
            water: std::array::from_fn(|l| {
                let layer = &setting.layers[l];
                layer.wp_mm + start.soil_water_share * layer.available_mm
            }),
            seedbed: 1.0,
            nitrate: [nitrate / LAYERS as f64; LAYERS],
            ammonium,
            urea: 0.0,
            granules: Granules::default(),
            on_leaf: OnLeaf::default(),
            litter: Pool {
                c: start.litter_g_m2 * share,
                n: start.litter_g_m2 * start.litter_nitrogen,
            },
            root_litter: Pool {
                c: start.litter_g_m2 * share,
                n: start.litter_g_m2 * start.root_litter_nitrogen,
            },
            organic_fertilizer: Pool::default(),
            compost: Pool::default(),
            humus: Pool { c: carbon, n: carbon / organic.humus_cn },
            plants: [Plant::default(); MAX_GRASSES],
            weed: seed_bank(setting, lawn),
            dandelion: dandelion.map_or_else(Dandelion::default, |c| Dandelion::seen(setting, c)),
            clover: clover.map_or_else(Clover::default, |c| Clover::seen(setting, c)),
            nutsedge: Nutsedge::seen(setting, lawn.nutsedge.unwrap_or(0.0)),
            sown: Sown::default(),
            sprays: Sprays::default(),
            deposits: Deposits::default(),
            ground: Ground::default(),
            iron_kg_ha: 0.0,
            reaction: Reaction::tested(lawn.facts.soil.test.as_ref()),
            streak_g_m2: 0.0,
            totals: Totals::default(),
            today: Today::default(),
            ledger: Ledger::default(),
            quality: 1.0,
            colour: 1.0,
            evening: Evening::default(),
            begun: false,
        };
        let turf = lawn.turf_cover.clamp(0.0, (1.0 - state.perennial_cover()).max(0.0));
        for (i, (_, share)) in lawn.facts.grasses.iter().take(MAX_GRASSES).enumerate() {
            state.plants[i] = plant(setting, i, turf * share);
        }
        state.open_books(setting);
        state.read_evening(setting);
        state
    }

    /// Sets every grass to a full, well-fed canopy of a height: how a study starts. The books are
    /// opened anew.
    pub fn set_canopy(&mut self, setting: &Setting, height_mm: f64) {
        let s = &setting.p.sward;
        for (plant, traits) in self.plants.iter_mut().zip(&setting.grasses) {
            plant.set_height(height_mm, s);
            plant.set_leaf_n(s.nitrogen_critical, s);
            plant.leaf = plant.full_leaf(traits, s);
            plant.nitrogen = s.nitrogen_critical * plant.leaf_equivalent(s);
        }
        self.open_books(setting);
        self.read_evening(setting);
    }

    /// The lawn as it goes on into a run from the year before: totals and books begin anew.
    pub fn carried_over(mut self, setting: &Setting) -> State {
        self.totals = Totals::default();
        self.open_books(setting);
        self
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
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let mut plant = Plant {
        cover,
        tillers: cover * traits.density_max_m2 * start.density_share,
        ks: 1.0,
        root_stop_left: root_stop_left(1.0),
        ..Plant::default()
    };
    plant.set_leaf_n(start.leaf_nitrogen, s);
    plant.set_height(start.height_mm, s);
    plant.leaf = plant.full_leaf(traits, s) * start.winter_green;
    plant.root = cover * s.root_half_g_m2 * start.root_share;
    plant.reserves = start.reserve_share * plant.reserve_capacity(s);
    plant.nitrogen = start.leaf_nitrogen * plant.leaf_equivalent(s);
    plant
}

/// Seed in the ground: as stated, or what last August's crabgrass shed with what is left of the
/// seed of earlier years. Of those the walk-round saw nothing: they were in part like the last.
fn seed_bank(setting: &Setting, lawn: &LawnDraw<'_>) -> Weed {
    let p = &setting.p.crabgrass;
    let seen = lawn.crabgrass_last_august.clamp(0.0, 1.0);
    let earlier = p.likeness * seen + (1.0 - p.likeness) * p.usual_cover.min(1.0);
    // Of a year's seed so much is still there a year later; older years add up as a series.
    let kept = (1.0 - p.germinable_share) * p.bank_survival;
    let worth = p.seed_rain_m2 * p.entry_share;
    let bank = worth * (seen + earlier * kept / (1.0 - kept));
    let bank = lawn.seed_bank_m2.unwrap_or(bank).max(0.0);
    Weed { bank, germinable: bank * p.germinable_share, ..Weed::default() }
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::lawn;
    use super::*;

    /// A clean August leaves a bank of earlier years, and a small one: less than a tenth of what
    /// an August at 45 % leaves; every bit of cover seen counts.
    #[test]
    fn last_augusts_cover_tells_the_bank() {
        let (setting, _) = lawn();
        let facts = super::super::tests_support::facts();
        let bank = |cover: f64| {
            let draw = LawnDraw {
                turf_cover: 0.8,
                crabgrass_last_august: cover,
                seed_bank_m2: None,
                organic_matter: 0.03,
                ..LawnDraw::expected(&facts)
            };
            seed_bank(&setting, &draw).bank
        };
        assert!(bank(0.0) > 0.0 && bank(0.0) < 0.1 * bank(0.45), "{} {}", bank(0.0), bank(0.45));
        assert!(bank(0.02) > 1.3 * bank(0.0) && bank(0.10) > 2.0 * bank(0.02));
    }
}
