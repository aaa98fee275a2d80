//! What the perennial weeds that are no grasses share: leaf, what lasts beside it (taproot or
//! stolons) and reserves, and how a day's light, upkeep and growth move them.

use super::setting::Setting;
use super::state::{Pool, State};
use super::warmth::Warmth;
use super::{crabgrass, mowing};
use crate::weather::Sky;
use crate::work::Clippings;

/// Dry mass, g/m2 of lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Tissue {
    /// Leaf.
    pub leaf: f64,
    /// Taproots or stolons, with the roots on them.
    pub base: f64,
    /// Reserves, which hold no nitrogen.
    pub reserves: f64,
}

impl Tissue {
    /// All of it, g/m2.
    pub fn mass(&self) -> f64 {
        self.leaf + self.base + self.reserves
    }

    /// Carbon and nitrogen in it, g/m2.
    pub fn stock(&self, setting: &Setting, kind: &Kind) -> Pool {
        Pool { c: self.mass() * setting.p.sward.carbon_share, n: self.nitrogen(kind) }
    }

    fn nitrogen(&self, kind: &Kind) -> f64 {
        self.leaf * kind.leaf_nitrogen + self.base * kind.base_nitrogen
    }

    /// Takes a share of it away, 0..=1.
    pub fn part(&mut self, share: f64) -> Tissue {
        let share = share.clamp(0.0, 1.0);
        let gone = Tissue {
            leaf: self.leaf * share,
            base: self.base * share,
            reserves: self.reserves * share,
        };
        self.leaf -= gone.leaf;
        self.base -= gone.base;
        self.reserves -= gone.reserves;
        gone
    }

    /// Joins other tissue to it.
    pub fn join(&mut self, other: &Tissue) {
        self.leaf += other.leaf;
        self.base += other.base;
        self.reserves += other.reserves;
    }
}

/// What tells one kind of plant from another, as its day's economy asks for it.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// Nitrogen of leaf, share of dry mass.
    pub leaf_nitrogen: f64,
    /// Nitrogen of taproots or stolons, share of dry mass.
    pub base_nitrogen: f64,
    /// Leaf area over its mass, m2/g.
    pub specific_leaf_area: f64,
    /// Light-use efficiency, g/MJ of photosynthetically active radiation.
    pub rue_g_mj: f64,
    /// Reserves that the base can hold, share of its dry mass.
    pub reserve_share: f64,
    /// Reserves over what they can be, past which the base grows of them.
    pub spare_level: f64,
    /// Share of the reserves that leaf growth can draw in a day.
    pub draw: f64,
    /// Leaf that is short of what is wanted, grown back in a day.
    pub refill: f64,
    /// Base grown of spare reserves in a day, share of them.
    pub build_base: f64,
    /// Roots that feed it, g per g of base and leaf.
    pub root_share: f64,
    /// Their depth, mm.
    pub root_depth_mm: f64,
}

/// The [`Kind`] of a weed's constants, whose groups name these alike.
macro_rules! kind_of {
    ($constants:expr) => {{
        let p = &$constants;
        $crate::lawn::forb::Kind {
            leaf_nitrogen: p.leaf_nitrogen,
            base_nitrogen: p.base_nitrogen,
            specific_leaf_area: p.specific_leaf_area,
            rue_g_mj: p.rue_g_mj,
            reserve_share: p.reserve_share,
            spare_level: p.spare_level,
            draw: p.draw,
            refill: p.refill,
            build_base: p.build_base,
            root_share: p.root_share,
            root_depth_mm: p.root_depth_mm,
        }
    }};
}
pub(super) use kind_of;

/// A day's conditions for a stand.
#[derive(Clone, Copy, Debug)]
pub struct Conditions {
    /// Light that its leaves catch, MJ/m2 of lawn.
    pub caught_mj: f64,
    /// How warmth lets it work and grow, 0..=1.
    pub warm: f64,
    /// Water supply over demand, 0..=1.
    pub ks: f64,
    /// Leaf that it wants, g/m2 of lawn.
    pub leaf_wanted: f64,
    /// Share of the spare reserves for which there is room to grow, 0..=1.
    pub room: f64,
    /// Base that it can grow at most, g/m2 of lawn.
    pub base_most: f64,
}

/// Reserves that a stand can hold, g/m2: of its base, and as much again of its leaf as a seedling
/// lives on.
fn capacity(tissue: &Tissue, kind: &Kind) -> f64 {
    kind.reserve_share * (tissue.base + tissue.leaf)
}

/// Reserves over what they can be, 0..=1.
pub fn level(tissue: &Tissue, kind: &Kind) -> f64 {
    let full = capacity(tissue, kind);
    if full > 0.0 { (tissue.reserves / full).clamp(0.0, 1.0) } else { 0.0 }
}

/// Light into reserves, and upkeep out of them. Returns the share of the upkeep that could not be
/// paid, 0..=1.
pub(super) fn assimilate(
    state: &mut State,
    setting: &Setting,
    warmth: &Warmth,
    kind: &Kind,
    now: &Conditions,
    tissue: &mut Tissue,
) -> f64 {
    let s = &setting.p.sward;
    // Full stores hold assimilation back, as in grass.
    let full = capacity(tissue, kind);
    let space = (full - tissue.reserves) / (s.reserve_full_share * full).max(f64::MIN_POSITIVE);
    let made = kind.rue_g_mj * now.caught_mj * now.warm * now.ks * space.clamp(0.0, 1.0);
    let mut store = tissue.reserves * s.carbon_share;
    state.ledger.carbon.enter(&mut store, made * s.carbon_share);
    let due = warmth.respiration
        * (s.maintenance_leaf * tissue.leaf + s.maintenance_root * tissue.base)
        * s.carbon_share;
    let paid = state.ledger.carbon.leave(&mut store, due);
    tissue.reserves = store / s.carbon_share;
    if paid < due { (1.0 - paid / due).clamp(0.0, 1.0) } else { 0.0 }
}

/// Growth that reserves, warmth and water allow today, before nitrogen: leaf and base, g/m2.
pub(super) fn wanted(
    setting: &Setting,
    kind: &Kind,
    now: &Conditions,
    tissue: &Tissue,
) -> [f64; 2] {
    let efficiency = setting.p.sward.growth_efficiency;
    let pace = now.warm * now.ks;
    let short = (now.leaf_wanted - tissue.leaf).max(0.0);
    let leaf = pace * (kind.refill * short).min(kind.draw * tissue.reserves * efficiency);
    let left = tissue.reserves - leaf / efficiency;
    let spare = (left - kind.spare_level * capacity(tissue, kind)).max(0.0);
    let base = (now.room.clamp(0.0, 1.0) * kind.build_base * spare * efficiency).min(now.base_most);
    [leaf, pace * base]
}

/// Nitrogen in growth of leaf and base, g/m2.
pub(super) fn nitrogen_of(kind: &Kind, growth: [f64; 2]) -> f64 {
    growth[0] * kind.leaf_nitrogen + growth[1] * kind.base_nitrogen
}

/// Builds leaf and base out of reserves; the cost of growth is breathed out.
pub(super) fn build(state: &mut State, setting: &Setting, growth: [f64; 2], tissue: &mut Tissue) {
    let s = &setting.p.sward;
    let made = growth[0] + growth[1];
    let used = made / s.growth_efficiency;
    let mut breath = (used - made) * s.carbon_share;
    let all = breath;
    state.ledger.carbon.leave(&mut breath, all);
    tissue.reserves = (tissue.reserves - used).max(0.0);
    tissue.leaf += growth[0];
    tissue.base += growth[1];
}

/// Takes up the nitrogen that a growth holds, out of the soil; returns what was had, g/m2.
pub(super) fn take_up(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    kind: &Kind,
    tissue: &Tissue,
    demand: f64,
) -> f64 {
    let mass = kind.root_share * (tissue.base + tissue.leaf);
    let roots = (mass, kind.root_depth_mm.min(setting.root_limit_mm));
    let mut taken = 0.0;
    super::nitrogen::take_up(state, setting, sky, roots, demand, &mut taken)
}

/// Dead leaf becomes litter, dead bases and their reserves litter below ground.
pub(super) fn bury(state: &mut State, setting: &Setting, kind: &Kind, dead: &Tissue) {
    let c = setting.p.sward.carbon_share;
    state.litter.c += dead.leaf * c;
    state.litter.n += dead.leaf * kind.leaf_nitrogen;
    state.root_litter.c += (dead.base + dead.reserves) * c;
    state.root_litter.n += dead.base * kind.base_nitrogen;
}

/// A share of the leaf is mown off.
pub(super) fn clip(
    state: &mut State,
    setting: &Setting,
    kind: &Kind,
    tissue: &mut Tissue,
    share: f64,
    clippings: Clippings,
) {
    let cut = tissue.leaf * share.clamp(0.0, 1.0);
    tissue.leaf -= cut;
    mowing::lay_clippings(state, setting, cut, cut * kind.leaf_nitrogen, clippings);
}

/// The turf over other plants' leaves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Canopy {
    /// Mean height of the turf, mm.
    pub height_mm: f64,
    shade: f64,
}

impl Canopy {
    /// As the turf stands now.
    pub fn of(state: &State, setting: &Setting) -> Canopy {
        let shade = crabgrass::turf_shade(state, setting);
        Canopy { height_mm: state.canopy_height_mm(), shade }
    }

    /// Light at the top of leaves that stand `own_mm` tall in a gap `gap_mm` wide, share of full sun:
    /// the turf above them shades as far as the gap is narrow against its height (as
    /// [`crabgrass::seedling_light`], which is that of leaves on the ground).
    pub fn light(&self, setting: &Setting, own_mm: f64, gap_mm: f64) -> f64 {
        let above = self.height_mm - own_mm;
        if above <= 0.0 {
            return setting.sun;
        }
        let high = above / self.height_mm;
        setting.sun * (-self.shade * high * above / (above + gap_mm)).exp()
    }
}
