//! Dandelion, which stands for the broadleaf perennials: taproots, seed on the wind, seedlings in gaps.

use super::setting::Setting;
use super::state::{Pool, State};
use crate::weather::Sky;

/// All of it on a lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Dandelion {
    /// Ground that it covers, 0..=1.
    pub cover: f64,
}

impl Dandelion {
    /// Carbon and nitrogen in its plants, g/m2.
    pub fn stock(&self, _setting: &Setting) -> Pool {
        Pool::default()
    }
}

/// One day of it.
pub fn step(_state: &mut State, _setting: &Setting, _sky: &Sky) {}

/// Kills a share of the plants, 0..=1, root and all.
pub(super) fn kill(_state: &mut State, _setting: &Setting, _share: f64) {}

/// Withers a share of the leaf, 0..=1, which grows again from below.
pub(super) fn burn(_state: &mut State, _setting: &Setting, _share: f64) {}
