//! Yellow nutsedge: tubers that sprout with warmth, shoots that outgrow mown turf, new tubers as days
//! shorten, tops that die at frost. No barrier stops it.

mod shoots;
mod tell;
mod tubers;

pub(super) use shoots::{doom, kill, mown, wither};
pub(super) use tell::{Telling, tell};

use super::room;
use super::setting::Setting;
use super::state::{Pool, State};
use crate::weather::Sky;

/// Shoots in gaps, or under turf.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Stand {
    /// Shoots, 1/m2 of lawn.
    pub shoots: f64,
    /// Leaf area of one of them, m2.
    pub area_m2: f64,
    /// Of them, those that a spray will kill, tuber and all, 1/m2.
    pub doomed: f64,
    /// Of them, those whose leaf a spray will wither and that come again from below, 1/m2.
    pub burned: f64,
}

impl Stand {
    fn leaf_area(&self) -> f64 {
        self.shoots * self.area_m2
    }

    /// Share of the shoots that a spray has stopped, 0..=1.
    fn stopped(&self) -> f64 {
        if self.shoots > 0.0 { ((self.doomed + self.burned) / self.shoots).min(1.0) } else { 0.0 }
    }
}

/// All of it on a lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Nutsedge {
    /// Living tubers of earlier years that have not sprouted, 1/m2.
    pub tubers: f64,
    /// Of them, those that sprout this year, 1/m2.
    pub germinable: f64,
    /// Tubers made this year, 1/m2.
    pub fresh: f64,
    /// Warmth of moist soil at 10 cm above the base since 1 January, C-days.
    pub progress_dd: f64,
    /// Share of this year's sprouting that is done, 0..=1.
    pub sprouted: f64,
    /// Shoots that came up from tubers this year, 1/m2.
    pub emerged: f64,
    /// Shoots in gaps and under turf.
    pub parts: [Stand; 2],
    /// Height of its leaves, mm.
    pub height_mm: f64,
    /// The coldest soil at 10 cm that the tubers have met this winter, degrees C.
    pub coldest_c: f64,
    /// Ground that it covers, 0..=1.
    pub cover: f64,
}

impl Nutsedge {
    /// Tubers in the ground, as last summer's cover left them.
    pub fn seen(setting: &Setting, cover: f64) -> Nutsedge {
        Nutsedge::from_tubers(setting, cover.clamp(0.0, 1.0) * setting.p.nutsedge.tubers_m2)
    }

    /// So many tubers, 1/m2, on 1 January.
    pub fn from_tubers(setting: &Setting, tubers: f64) -> Nutsedge {
        let tubers = tubers.max(0.0);
        let germinable = tubers * setting.p.nutsedge.sprouting_share;
        Nutsedge { tubers, germinable, ..Nutsedge::default() }
    }

    /// Whether there is any on the lawn.
    pub fn stands(&self) -> bool {
        self.tubers + self.fresh + self.shoots() + self.cover > 0.0
    }

    /// Shoots, 1/m2.
    pub fn shoots(&self) -> f64 {
        self.parts[0].shoots + self.parts[1].shoots
    }

    /// Leaf area over the lawn, m2/m2.
    pub fn leaf_area(&self) -> f64 {
        self.parts[0].leaf_area() + self.parts[1].leaf_area()
    }

    /// Dry mass of shoots and tubers, g/m2.
    fn dry_mass(&self, setting: &Setting) -> f64 {
        let p = &setting.p.nutsedge;
        self.leaf_area() * p.leaf_g_m2 + (self.tubers + self.fresh) * p.tuber_g
    }

    /// Carbon and nitrogen in its plants and tubers, g/m2.
    pub fn stock(&self, setting: &Setting) -> Pool {
        let mass = self.dry_mass(setting);
        Pool { c: mass * setting.p.sward.carbon_share, n: mass * setting.p.nutsedge.nitrogen_share }
    }
}

/// One day of it.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    if !state.nutsedge.stands() {
        return;
    }
    if sky.day_of_year == 1 && state.begun {
        shoots::kill_all(state, setting);
        tubers::turn_year(&mut state.nutsedge, setting);
    }
    if sky.t_min_c <= setting.p.nutsedge.frost_c {
        shoots::kill_all(state, setting);
    }
    tubers::step(state, setting, sky);
    shoots::grow(state, setting, sky);
    hold_ground(state, setting);
}

/// Covers the ground that its leaf reaches, by the one rule of room.
fn hold_ground(state: &mut State, setting: &Setting) {
    let p = &setting.p.nutsedge;
    let claim = room::Claim {
        area: state.nutsedge.leaf_area(),
        leaks: room::leaks(state, setting, p.invasion_light),
        displacement: p.displacement,
        displacement_max: p.displacement_max,
    };
    room::hold(state, setting, room::Holder::Nutsedge, &claim);
}

/// Dead tops become litter, dead bases and tubers litter below ground; g/m2 of each.
fn to_litter(state: &mut State, setting: &Setting, above: f64, below: f64) {
    let (c, n) = (setting.p.sward.carbon_share, setting.p.nutsedge.nitrogen_share);
    state.litter.c += above * c;
    state.litter.n += above * n;
    state.root_litter.c += below * c;
    state.root_litter.n += below * n;
}

#[cfg(test)]
mod tests;
