//! The state of one lawn: plain data, averaged over its area.

use super::barrier::Deposits;
use super::clover::Clover;
use super::crabgrass::Weed;
use super::cultivation::Ground;
use super::dandelion::Dandelion;
use super::foliar::OnLeaf;
use super::ledger::Ledger;
use super::nutsedge::Nutsedge;
use super::plant::Plant;
use super::reaction::Reaction;
use super::seeding::Sown;
use super::setting::{LAYERS, MAX_GRASSES, Setting};
use super::spray::Sprays;

/// Carbon and nitrogen of an organic pool, g/m2.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Pool {
    /// Carbon, g/m2.
    pub c: f64,
    /// Nitrogen, g/m2.
    pub n: f64,
}

/// Fertilizer lying on the surface, undissolved, g N/m2.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Granules {
    /// Urea.
    pub urea: f64,
    /// Ammonium.
    pub ammonium: f64,
    /// Nitrate.
    pub nitrate: f64,
    /// Coated urea, not yet released.
    pub coated: f64,
    /// Rated release time of the coated part at 21 C, days.
    pub coated_days: f64,
    /// Share of the slow part, coated and organic, that still lies loose on the leaves, 0..=1.
    pub loose: f64,
    /// Coefficient of variation of the quick part over the area, 0 and more.
    pub unevenness: f64,
}

impl Granules {
    /// Quick nitrogen that lies undissolved, g/m2.
    pub fn quick(&self) -> f64 {
        self.urea + self.ammonium + self.nitrate
    }
}

/// Running totals since the first day.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Totals {
    /// Clippings cut, g DM/m2.
    pub clippings: f64,
    /// Nitrogen in clippings cut, g/m2.
    pub clippings_n: f64,
    /// Evaporation and transpiration, mm.
    pub et: f64,
    /// Runoff, mm.
    pub runoff: f64,
    /// Drainage below 1 m, mm.
    pub drainage: f64,
    /// Irrigation that reached the ground, mm.
    pub irrigation: f64,
    /// Nitrate leached below 1 m, g N/m2.
    pub leached: f64,
    /// Ammonia lost, g N/m2.
    pub ammonia: f64,
    /// Nitrogen lost by denitrification, g N/m2.
    pub denitrified: f64,
    /// Fertilizer washed off, g N/m2.
    pub washed: f64,
    /// Nitrogen laid, g/m2.
    pub laid: f64,
    /// Nitrogen set free from organic matter, net, g/m2.
    pub mineralized: f64,
    /// Nitrogen taken up by grass, g/m2.
    pub uptake: f64,
}

/// What one process tells the next within a day.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Today {
    /// Soil temperature at 5 cm, degrees C.
    pub soil_5cm_c: f64,
    /// Irrigation, mm.
    pub irrigation_mm: f64,
    /// Water that went into the ground, mm.
    pub infiltration_mm: f64,
    /// Moisture of the seedbed in the day's wettest hour, 0..=1.
    pub seedbed_wet: f64,
    /// Runoff, mm.
    pub runoff_mm: f64,
    /// Water passing the lower edge of each layer, mm.
    pub flux_mm: [f64; LAYERS],
    /// Water supply over demand of crabgrass, 0..=1.
    pub weed_ks: f64,
    /// The same of dandelion.
    pub dandelion_ks: f64,
    /// The same of clover.
    pub clover_ks: f64,
    /// The same of nutsedge.
    pub nutsedge_ks: f64,
    /// Ground under each grass that is light enough for crabgrass, 0..=1; read while any stands.
    pub leaks: [f64; MAX_GRASSES],
    /// Clippings lying in clumps, g DM/m2 (kept from day to day, decaying).
    pub clumps: f64,
    /// Crabgrass seedlings trying to come up today, 1/m2.
    pub emerging: f64,
    /// Those that came through the barrier, 1/m2.
    pub through: f64,
    /// Share of emerging crabgrass that the barrier stops, 0..=1.
    pub barrier: f64,
    /// Turf that crabgrass took today, share of the lawn.
    pub displaced: f64,
    /// Green leaf that fertilizer burned today, share, 0..=1.
    pub burned: f64,
    /// Turf that opened where fertilizer burned it today, share of the lawn.
    pub burned_out: f64,
    /// Green leaf that wheels and feet crushed today, share, 0..=1.
    pub trodden: f64,
    /// Turf that wheels and feet opened today, share of the lawn.
    pub trodden_out: f64,
}

/// Readings of one evening that signs and measures share, taken once.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Evening {
    /// Live green turf cover, 0..=1.
    pub green_cover: f64,
    /// Rooting depth of the sward, mm.
    pub root_depth_mm: f64,
    /// Share of the root zone's available water that is filled, 0..=1.
    pub soil_water: f64,
    /// Colour that more nitrogen would show, points of the scale from 1 to 9.
    pub colour_short: f64,
}

/// One lawn on one evening.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Soil water by layer, mm.
    pub water: [f64; LAYERS],
    /// Moisture of the seedbed this evening, share of available water, 0..=1.
    pub seedbed: f64,
    /// Nitrate by layer, g N/m2.
    pub nitrate: [f64; LAYERS],
    /// Ammonium in the top 15 cm, g N/m2.
    pub ammonium: f64,
    /// Urea dissolved in the top 15 cm, g N/m2.
    pub urea: f64,
    /// Fertilizer on the surface.
    pub granules: Granules,
    /// Nitrogen sprayed on leaves.
    pub on_leaf: OnLeaf,
    /// Clippings and dead leaf.
    pub litter: Pool,
    /// Dead roots.
    pub root_litter: Pool,
    /// Natural organic fertilizer.
    pub organic_fertilizer: Pool,
    /// Compost.
    pub compost: Pool,
    /// Humus of the top 15 cm.
    pub humus: Pool,
    /// The grasses; the first [`Setting::grasses`]`.len()` are in use.
    pub plants: [Plant; MAX_GRASSES],
    /// Crabgrass.
    pub weed: Weed,
    /// Dandelion.
    pub dandelion: Dandelion,
    /// White clover.
    pub clover: Clover,
    /// Yellow nutsedge.
    pub nutsedge: Nutsedge,
    /// Grass sown: its seed and seedlings.
    pub sown: Sown,
    /// Sprays on standing weeds that go in, and what dies of them.
    pub sprays: Sprays,
    /// The barrier.
    pub deposits: Deposits,
    /// What tools have done to the ground.
    pub ground: Ground,
    /// Iron on and in the leaf, kg Fe/ha.
    pub iron_kg_ha: f64,
    /// pH, lime and phosphorus, as far as the soil was tested.
    pub reaction: Reaction,
    /// Nitrogen that lies in streaks which show: standard deviation over the area, g N/m2.
    pub streak_g_m2: f64,
    /// Running totals.
    pub totals: Totals,
    /// Today's traffic between processes.
    pub today: Today,
    /// The accounts.
    pub ledger: Ledger,
    /// This evening's quality, 1-9.
    pub quality: f64,
    /// This evening's colour, 1-9.
    pub colour: f64,
    /// What else this evening's lawn shows.
    pub evening: Evening,
    /// Whether the first day is behind us.
    pub begun: bool,
}

impl State {
    /// Live turf cover of all grasses, 0..=1.
    pub fn turf_cover(&self) -> f64 {
        self.plants.iter().map(|p| p.cover).sum()
    }

    /// Ground that neither grass nor weed holds, 0..=1.
    pub fn bare(&self) -> f64 {
        (1.0 - self.turf_cover() - self.weed_cover()).max(0.0)
    }

    /// Ground that weeds of all kinds hold, 0..=1.
    pub fn weed_cover(&self) -> f64 {
        self.weed.cover + self.dandelion.cover + self.clover.cover + self.nutsedge.cover
    }

    /// Ground that weeds hold which live through winter, 0..=1.
    pub fn perennial_cover(&self) -> f64 {
        self.dandelion.cover + self.clover.cover + self.nutsedge.cover
    }

    /// Height of the canopy: mean of the grasses weighted by cover, mm.
    pub fn canopy_height_mm(&self) -> f64 {
        self.sward_mean(|plant| plant.height_mm)
    }

    /// Mean of something of the grasses, weighted by cover; 0 where none stands.
    pub(super) fn sward_mean(&self, of: impl Fn(&Plant) -> f64) -> f64 {
        let cover = self.turf_cover();
        if cover <= 0.0 {
            return 0.0;
        }
        self.plants.iter().map(|p| p.cover * of(p)).sum::<f64>() / cover
    }

    /// Depth of the compost still lying, mm.
    pub fn compost_depth_mm(&self, setting: &Setting) -> f64 {
        let p = &setting.p.compost;
        // g C/m2 over g C per m2 and mm: kg/m3 = g/m2 per mm.
        self.compost.c / (p.bulk_density_kg_m3 * p.carbon_share)
    }

    /// Water, nitrogen and carbon in all stores: mm, g/m2, g/m2.
    pub fn stocks(&self, setting: &Setting) -> [f64; 3] {
        let s = &setting.p.sward;
        let plants: f64 = self.plants.iter().map(|p| p.dry_mass(s.tiller_mass_g)).sum();
        let weed = self.weed.dry_mass(&setting.p.crabgrass);
        let sown = self.sown.stock(setting);
        let others = [
            self.dandelion.stock(setting),
            self.clover.stock(setting),
            self.nutsedge.stock(setting),
        ];
        let g = &self.granules;
        let pools =
            [self.litter, self.root_litter, self.organic_fertilizer, self.compost, self.humus];
        let nitrogen = self.nitrate.iter().sum::<f64>()
            + self.ammonium
            + self.urea
            + (g.quick() + g.coated)
            + self.on_leaf.total()
            + pools.iter().map(|p| p.n).sum::<f64>()
            + self.plants.iter().map(|p| p.nitrogen).sum::<f64>()
            + weed * setting.p.crabgrass.nitrogen_share
            + others.iter().map(|p| p.n).sum::<f64>()
            + sown.n;
        let carbon = pools.iter().map(|p| p.c).sum::<f64>()
            + (plants + weed) * s.carbon_share
            + others.iter().map(|p| p.c).sum::<f64>()
            + sown.c;
        [self.water.iter().sum(), nitrogen, carbon]
    }
}
