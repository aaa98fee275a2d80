//! A spray on weeds that are up: what of it gets into the leaf, and what each weed, the turf and
//! sown grass take of it.
//!
//! A pass takes some days to go in (`uptake`); then it is settled what it will kill, and the
//! plants die over the days that the herbicide takes (`effect`). Weeds that come up later are
//! untouched, but for what a residue in the soil stops: that is the barrier's.

mod effect;
mod tell;
mod uptake;

pub(super) use tell::{Telling, sprayed as tell_sprayed, tell};

use super::barrier;
use super::setting::{MAX_GRASSES, Setting};
use super::state::State;
use crate::calendar::Day;
use crate::parameters::{ACTIVES, POSTS, Post, RESIDUALS};
use crate::weather::Sky;
use crate::work::{ActiveId, Carrier, PostId, Reach};
use uptake::Uptake;

/// The most passes that go in at one time; one more and the oldest has gone in at once.
const MAX_PASSES: usize = 4;

/// Days after which what has not gone in does not count: the day of the spray and two more.
const DAYS_IN: u8 = 3;

/// Deposits more patchy than this are taken for no worse (coefficient of variation over the area).
const MOST_PATCHY: f64 = 2.0;

/// Fewer doomed plants (1/m2), or less of a doomed share, than this is none.
const NONE: f64 = 1e-4;

/// One pass that is going in.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
struct Pass {
    post: u8,
    rate_kg_ha: f64,
    /// Share of every weed's ground that it reached, 0..=1.
    weeds: f64,
    /// Share of the lawn that was sprayed, 0..=1.
    lawn: f64,
    /// Where it is, as shares of what fell on leaves.
    uptake: Uptake,
    /// Leaf that a mower had taken shortly before, as a share of the grass's.
    clipped: f64,
    /// Share of it that mowers have carried off the grass since.
    cut_away: f64,
    /// Highest temperature on the day of the spray, degrees C.
    t_max_c: f64,
    days: u8,
}

/// A share of a weed that is going to die, and of its leaf that is going to wither.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
struct Doom {
    plants: f64,
    leaf: f64,
    /// Share of them that dies in a day.
    pace: f64,
}

/// What a pass has come to, on the day on which that is settled; shares 0..=1.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Settled {
    /// Index in [`POSTS`].
    pub post: u8,
    /// Ground that was sprayed.
    pub lawn: f64,
    /// What went in, over what goes in on a mild dry day.
    pub taken: f64,
    /// Crabgrass plants that will die of it, of those that stood; none where none stood.
    pub crabgrass: Option<f64>,
    /// Crabgrass plants that had tillered.
    pub tillered: f64,
    /// Dandelions that will die, root and all; none where none stood.
    pub dandelion: Option<f64>,
    /// Clover; none where none stood.
    pub clover: Option<f64>,
    /// Nutsedge shoots; none where none stood.
    pub nutsedge: Option<f64>,
    /// Turf leaf that browns, mean of the lawn.
    pub turf: f64,
}

/// All passes that are going in, and what is dying of earlier ones.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Sprays {
    passes: [Pass; MAX_PASSES],
    used: usize,
    /// The last mowing, and the share of the grass's leaf that it took.
    mown: (Day, f64),
    /// Share of doomed crabgrass that dies in a day; 0 where none is doomed.
    crabgrass_pace: f64,
    /// The same of nutsedge.
    nutsedge_pace: f64,
    dandelion: Doom,
    clover: Doom,
    /// Leaf of each grass that is going to brown, as a share of what it has.
    turf: [f64; MAX_GRASSES],
    /// Whether anything of all this is going on.
    busy: bool,
    /// What was settled today.
    pub settled: Option<Settled>,
    /// Share of what lay on leaves that rain or irrigation took today.
    pub washed_today: f64,
}

/// The herbicide of a pass.
fn post_of(setting: &Setting, post: u8) -> &Post {
    &setting.p.posts[usize::from(post)]
}

/// Sprays the lawn, or the spots that the crew finds.
pub fn spray(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    post: PostId,
    rate_kg_ha: f64,
    reach: Reach,
) {
    let post = post.0.min(POSTS.len() as u8 - 1);
    let rate_kg_ha = rate_kg_ha.max(0.0);
    let weeds = match reach {
        Reach::Blanket => 1.0,
        Reach::Spots { found } => found.clamp(0.0, 1.0),
    };
    let lawn = match reach {
        Reach::Blanket => 1.0,
        Reach::Spots { .. } => {
            (weeds * effect::ground_m2(state, post_of(setting, post), rate_kg_ha)).min(1.0)
        }
    };
    leave_residue(state, setting, post, rate_kg_ha, lawn);
    if state.sprays.used == MAX_PASSES {
        effect::settle(state, setting, sky, 0);
        state.sprays.passes.copy_within(1.., 0);
        state.sprays.used -= 1;
    }
    let (mown, share) = state.sprays.mown;
    let since = f64::from((sky.day.0 - mown.0).max(0));
    let clipped = share * (-since / setting.p.spray.regrowth_days).exp();
    let uptake = Uptake::on_leaf();
    let (cut_away, t_max_c, days) = (0.0, sky.t_max_c, 0);
    let pass = Pass { post, rate_kg_ha, weeds, lawn, uptake, clipped, cut_away, t_max_c, days };
    let sprays = &mut state.sprays;
    sprays.passes[sprays.used] = pass;
    sprays.used += 1;
    sprays.busy = true;
}

/// What the soil keeps of herbicides that stop seed as well. Spots leave most of the lawn without.
fn leave_residue(state: &mut State, setting: &Setting, post: u8, rate_kg_ha: f64, lawn: f64) {
    let name = POSTS[usize::from(post)];
    let Some(active) = ACTIVES.iter().chain(&RESIDUALS).position(|a| *a == name) else { return };
    if lawn <= 0.0 {
        return;
    }
    let even = setting.p.spray.unevenness;
    let patchy = ((1.0 + even * even) / lawn - 1.0).sqrt().min(MOST_PATCHY);
    let (active, mean) = (ActiveId(active as u8), rate_kg_ha * lawn);
    barrier::deposit(state, setting, active, mean, Carrier::Spray, patchy);
}

/// A mower has passed that took a share of the grass's leaf: what is still on or in leaves goes
/// with them.
pub(super) fn mown(state: &mut State, day: Day, leaf: f64) {
    let sprays = &mut state.sprays;
    sprays.mown = (day, leaf);
    for pass in &mut sprays.passes[..sprays.used] {
        pass.cut_away += (1.0 - pass.cut_away) * leaf * pass.uptake.in_leaf_share();
    }
}

/// One day: passes go in or are washed off, and what is doomed dies.
pub(super) fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    if !state.sprays.busy {
        return;
    }
    state.sprays.settled = None;
    state.sprays.washed_today = 0.0;
    let water_mm = sky.precip_mm + state.today.irrigation_mm;
    for k in 0..state.sprays.used {
        let pass = &mut state.sprays.passes[k];
        let from_h = if pass.days == 0 { setting.p.spray.hour } else { 0.0 };
        let washed = pass.uptake.day(
            &setting.p.spray,
            post_of(setting, pass.post),
            sky.t_mean_c,
            from_h,
            water_mm,
        );
        pass.days += 1;
        state.sprays.washed_today = state.sprays.washed_today.max(washed);
    }
    while state.sprays.used > 0 && state.sprays.passes[0].days >= DAYS_IN {
        effect::settle(state, setting, sky, 0);
        let used = state.sprays.used;
        state.sprays.passes.copy_within(1..used, 0);
        state.sprays.used -= 1;
    }
    effect::die(state, setting);
}

#[cfg(test)]
mod tests;
