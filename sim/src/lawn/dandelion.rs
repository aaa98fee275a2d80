//! Dandelion, which stands for the broadleaf perennials: seed on the wind, seedlings in gaps,
//! rosettes that lie flat under the mower, taproots from which they come again.

mod rosettes;
mod seed;
mod tell;

pub(super) use rosettes::mown;
pub(super) use tell::{Telling, tell};

use super::forb::{self, Kind, Tissue};
use super::room::{self, Claim, Holder};
use super::setting::Setting;
use super::state::{Pool, State};
use super::warmth::Warmth;
use crate::weather::Sky;
use seed::Heads;

/// Stands of rosettes that are told apart: the grown plants, then seedlings by when they came up.
const STANDS: usize = 9;

/// Flower heads that opened on one day are told apart for so many days.
const HEAD_DAYS: usize = 24;

/// Fewer plants than this are none, 1/m2.
const NONE_M2: f64 = 1e-6;

/// Rosettes of about one age.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Rosettes {
    /// Plants, 1/m2 of lawn.
    pub plants: f64,
    /// Their leaf, taproots and reserves, g/m2 of lawn.
    pub tissue: Tissue,
}

/// All of it on a lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Dandelion {
    /// Whether the lawn is played with it.
    pub played: bool,
    /// Ground that the walk-round saw under it, 0..=1.
    pub seen: f64,
    /// Living seed on the ground that has escaped its first losses, 1/m2.
    pub seed: f64,
    /// Grown plants, then the younger ones, the oldest first.
    pub stands: [Rosettes; STANDS],
    /// Younger stands in use.
    pub young: usize,
    /// Days since the last of them was opened.
    pub open_days: u32,
    heads: [Heads; HEAD_DAYS],
    heads_used: usize,
    /// Ground that it covers, 0..=1.
    pub cover: f64,
    /// Seedlings that came up this year, 1/m2.
    pub emerged: f64,
    /// Seed that fell on the lawn this year, its own and the wind's, 1/m2.
    pub seed_rain: f64,
    /// Heads that opened this year, 1/m2.
    pub flowered: f64,
    /// Turf that it has taken today, share of the lawn.
    pub displaced: f64,
}

impl Dandelion {
    /// A lawn on 1 January on which it covered a share of the ground last autumn, 0..=1.
    pub fn seen(setting: &Setting, cover: f64) -> Dandelion {
        let p = &setting.p.dandelion;
        let mut all = Dandelion { played: true, seen: cover, ..Dandelion::default() };
        let base = p.usual_base_g;
        let leaf = rosettes::leaf_wanted_g(p, base);
        let held_m2 = leaf * p.specific_leaf_area + base * p.crown_m2_g;
        // Ground held by an area spread at random, turned round.
        let plants = (1.0 / (1.0 - cover.clamp(0.0, p.cover_max))).ln() / held_m2;
        let reserves = plants * base * p.reserve_share;
        let leaf = plants * leaf * p.winter_leaf;
        all.stands[0] = Rosettes { plants, tissue: Tissue { leaf, base: plants * base, reserves } };
        all.cover = 1.0 - (-all.area(setting)).exp();
        all
    }

    /// Plants, seedlings and grown, 1/m2.
    pub fn plants(&self) -> f64 {
        self.stands[..=self.young].iter().fold(0.0, |sum, stand| sum + stand.plants)
    }

    /// Leaf area over the lawn, m2/m2.
    pub fn leaf_area(&self, setting: &Setting) -> f64 {
        let leaf =
            self.stands[..=self.young].iter().fold(0.0, |sum, stand| sum + stand.tissue.leaf);
        leaf * setting.p.dandelion.specific_leaf_area
    }

    /// Leaf and crowns that hold ground, m2/m2.
    fn area(&self, setting: &Setting) -> f64 {
        let base =
            self.stands[..=self.young].iter().fold(0.0, |sum, stand| sum + stand.tissue.base);
        self.leaf_area(setting) + base * setting.p.dandelion.crown_m2_g
    }

    /// Flower heads on the lawn, from bud to seed, 1/m2.
    pub fn heads(&self) -> f64 {
        self.heads[..self.heads_used].iter().fold(0.0, |sum, heads| sum + heads.count)
    }

    /// Carbon and nitrogen in its plants, g/m2.
    pub fn stock(&self, setting: &Setting) -> Pool {
        let kind = kind(setting);
        self.stands[..=self.young].iter().fold(Pool::default(), |sum, stand| {
            let one = stand.tissue.stock(setting, &kind);
            Pool { c: sum.c + one.c, n: sum.n + one.n }
        })
    }
}

/// What its economy asks of it.
fn kind(setting: &Setting) -> Kind {
    forb::kind_of!(setting.p.dandelion)
}

/// One day of it.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    if !state.dandelion.played {
        return;
    }
    let d = &mut state.dandelion;
    if sky.day_of_year == 1 && state.begun {
        (d.emerged, d.seed_rain, d.flowered) = (0.0, 0.0, 0.0);
    }
    d.open_days += 1;
    let p = &setting.p.dandelion;
    let leaks = room::leaks(state, setting, p.invasion_light);
    seed::ripen(state, setting, sky);
    seed::germinate(state, setting, sky, &leaks);
    rosettes::grow(state, setting, sky, warmth, &leaks);
    rosettes::age(state, setting);
    let claim = Claim {
        area: state.dandelion.area(setting),
        leaks,
        displacement: p.displacement,
        displacement_max: setting.p.crabgrass.displacement_max,
    };
    state.dandelion.displaced = room::hold(state, setting, Holder::Dandelion, &claim);
}

/// Kills a share of the plants, 0..=1, root and all.
pub fn kill(state: &mut State, setting: &Setting, share: f64) {
    for k in 0..=state.dandelion.young {
        rosettes::die(state, setting, k, share);
    }
    state.dandelion.spoil_heads(share);
}

/// Withers a share of the leaf, 0..=1, which grows again from the root.
pub fn burn(state: &mut State, setting: &Setting, share: f64) {
    let kind = kind(setting);
    for k in 0..=state.dandelion.young {
        let leaf = state.dandelion.stands[k].tissue.leaf * share.clamp(0.0, 1.0);
        state.dandelion.stands[k].tissue.leaf -= leaf;
        forb::bury(state, setting, &kind, &Tissue { leaf, ..Tissue::default() });
    }
    state.dandelion.spoil_heads(share);
}

#[cfg(test)]
mod tests;
