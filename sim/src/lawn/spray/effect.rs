//! What a spray does once it is in: which plants it dooms, and how they die.

use super::super::clover;
use super::super::crabgrass;
use super::super::dandelion;
use super::super::nutsedge;
use super::super::seeding;
use super::super::setting::Setting;
use super::super::state::State;
use super::super::tillers;
use super::super::{barrier, leaf};
use super::{Doom, NONE, Pass, Settled, post_of, uptake};
use crate::calendar::SOLSTICE_DAY;
use crate::parameters::{Post, Spray};
use crate::scenario::Grass;
use crate::weather::Sky;

/// Ground of the weeds that a herbicide acts on at a rate, share of the lawn: those of which it kills
/// half and more.
pub(super) fn ground_m2(state: &State, post: &Post, rate_kg_ha: f64) -> f64 {
    let weeds = [
        (state.weed.cover, post.crabgrass_ed50_kg_ha),
        (state.dandelion.cover, post.dandelion_ed50_kg_ha),
        (state.clover.cover, post.clover_ed50_kg_ha),
        (state.nutsedge.cover, post.nutsedge_ed50_kg_ha),
    ];
    weeds.iter().filter(|(_, ed50)| *ed50 <= rate_kg_ha).map(|(cover, _)| cover).sum()
}

/// Share of plants that a dose kills, by the log-logistic law over an uneven spray, 0..=1.
fn killed(p: &Spray, post: &Post, dose_kg_ha: f64, ed50_kg_ha: f64) -> f64 {
    barrier::mean_response(dose_kg_ha, p.unevenness, ed50_kg_ha, post.slope)
}

/// How much more a grown crabgrass plant bears than one of three leaves: 1 up to three leaves,
/// `ratio` at five tillers, on the logarithm of its leaf area.
pub(super) fn size_factor(p: &Spray, ratio: f64, area_m2: f64) -> f64 {
    let stage = (area_m2 / p.young_area_m2).ln() / (p.old_area_m2 / p.young_area_m2).ln();
    ratio.powf(stage.clamp(0.0, p.stage_most))
}

/// Share of a systemic herbicide's reach that gets into a perennial's root: the sap carries it
/// where the plant's sugar goes. In spring leaf is made of the root, and nothing goes down before
/// warmth has let the leaf feed it again; in the shortening days of autumn most goes there.
pub(super) fn root_share(p: &Spray, sky: &Sky) -> f64 {
    let refilled =
        (sky.air_dd10 - p.root_refill_from_dd) / (p.root_refill_to_dd - p.root_refill_from_dd);
    let autumn = if sky.day_of_year > SOLSTICE_DAY {
        (p.root_autumn_from_h - sky.day_length_h) / (p.root_autumn_from_h - p.root_autumn_full_h)
    } else {
        0.0
    };
    let autumn = autumn.clamp(0.0, 1.0);
    let summer = p.root_share_summer * refilled.clamp(0.0, 1.0);
    summer + (1.0 - summer) * autumn
}

/// Heat past what sprays bear, 0 or more.
fn heat(p: &Spray, t_max_c: f64) -> f64 {
    ((t_max_c - p.heat_from_c) / p.heat_scale_c).max(0.0)
}

/// What a pass amounts to in a weed, kg ai/ha of a good one: less where the plant stands dry, and
/// where mowers took leaf.
fn dose(pass: &Pass, p: &Spray, taken: f64, ks: f64, clip: f64) -> f64 {
    let drinks = p.dry_uptake + (1.0 - p.dry_uptake) * ks;
    let leaf = (1.0 - clip * pass.clipped).max(0.0) * (1.0 - clip * pass.cut_away).max(0.0);
    pass.rate_kg_ha * taken * drinks * leaf
}

/// Settles what pass `k` kills.
pub(super) fn settle(state: &mut State, setting: &Setting, sky: &Sky, k: usize) {
    let pass = state.sprays.passes[k];
    let p = &setting.p.spray;
    let post = post_of(setting, pass.post);
    let taken = pass.uptake.moved() / uptake::best(p, post);
    let hot = heat(p, pass.t_max_c);
    let mut settled = Settled { post: pass.post, lawn: pass.lawn, taken, ..Settled::default() };
    let pace = 1.0 - (-1.0 / post.kill_days).exp();
    doom_crabgrass(state, setting, &pass, taken, pace, &mut settled);
    doom_nutsedge(state, setting, &pass, taken, pace, &mut settled);
    // Broadleaf weeds stand among the grass and find the water that it finds.
    let ks = state.sward_mean(|plant| plant.ks);
    let cool = (1.0 - p.heat_kill_loss * hot).max(0.0);
    let broad = dose(&pass, p, taken * cool, ks, p.clip_low);
    if state.dandelion.cover > 0.0 {
        let leaf = killed(p, post, broad, post.dandelion_ed50_kg_ha);
        let deep = broad * post.moves * root_share(p, sky);
        let plants = killed(p, post, deep, post.dandelion_ed50_kg_ha);
        state.sprays.dandelion.add(pass.weeds * plants, pass.weeds * leaf, pace);
        settled.dandelion = Some(pass.weeds * plants);
    }
    if state.clover.cover > 0.0 {
        // Stolons lie on the ground, where the spray falls too.
        let leaf = killed(p, post, broad, post.clover_ed50_kg_ha);
        let plants = killed(p, post, broad * post.moves, post.clover_ed50_kg_ha);
        state.sprays.clover.add(pass.weeds * plants, pass.weeds * leaf, pace);
        settled.clover = Some(pass.weeds * plants);
    }
    settled.turf = hurt_turf(state, setting, &pass, post, taken, hot);
    let young = pass.rate_kg_ha * taken;
    seeding::sprayed(state, setting, pass.lawn, |tender| {
        killed(p, post, young * tender, post.seedling_ed50_kg_ha)
    });
    state.sprays.settled = Some(settled);
}

fn doom_crabgrass(
    state: &mut State,
    setting: &Setting,
    pass: &Pass,
    taken: f64,
    pace: f64,
    settled: &mut Settled,
) {
    let p = &setting.p.spray;
    let post = post_of(setting, pass.post);
    let stood = state.weed.plants();
    if stood <= 0.0 {
        return;
    }
    let dose = dose(pass, p, taken, state.today.weed_ks, p.clip_low);
    let kill = |area_m2: f64| {
        let ed50 = post.crabgrass_ed50_kg_ha * size_factor(p, post.crabgrass_size_ratio, area_m2);
        pass.weeds * killed(p, post, dose, ed50)
    };
    let doomed = crabgrass::doom(state, kill);
    settled.crabgrass = Some(doomed / stood);
    settled.tillered = state.weed.plants_over(p.tiller_area_m2) / stood;
    if doomed > NONE {
        state.sprays.crabgrass_pace = pace;
    }
}

fn doom_nutsedge(
    state: &mut State,
    setting: &Setting,
    pass: &Pass,
    taken: f64,
    pace: f64,
    settled: &mut Settled,
) {
    let p = &setting.p.spray;
    let post = post_of(setting, pass.post);
    let stood = state.nutsedge.shoots();
    if stood <= 0.0 {
        return;
    }
    let dose = dose(pass, p, taken, state.today.nutsedge_ks, p.clip_tall);
    let kill = |factor: f64| {
        let ed50 = post.nutsedge_ed50_kg_ha * factor;
        let leaf = pass.weeds * killed(p, post, dose, ed50);
        [leaf, pass.weeds * killed(p, post, dose * post.moves, ed50)]
    };
    let doomed = nutsedge::doom(state, setting, kill);
    settled.nutsedge = Some(doomed / stood);
    state.sprays.nutsedge_pace = pace;
}

/// Leaf of the grasses that a pass browns; heat and drought lower what they bear. Returns the mean
/// over the turf.
fn hurt_turf(
    state: &mut State,
    setting: &Setting,
    pass: &Pass,
    post: &Post,
    taken: f64,
    hot: f64,
) -> f64 {
    let p = &setting.p.spray;
    let (mut hurt, mut cover) = (0.0, 0.0);
    for (i, grass) in setting.species.iter().enumerate() {
        let plant = &state.plants[i];
        if plant.cover <= 0.0 {
            continue;
        }
        let heat = p.heat_turf * post.turf_heat * hot;
        let bears = (1.0 + heat) * (1.0 + p.dry_turf * (1.0 - plant.ks));
        let ed50 = turf_ed50_kg_ha(post, *grass) / bears;
        let share = pass.lawn * killed(p, post, pass.rate_kg_ha * taken, ed50);
        let before = state.sprays.turf[i];
        state.sprays.turf[i] = before + (1.0 - before) * share;
        hurt += plant.cover * share;
        cover += plant.cover;
    }
    if cover > 0.0 { hurt / cover } else { 0.0 }
}

fn turf_ed50_kg_ha(post: &Post, grass: Grass) -> f64 {
    match grass {
        Grass::KentuckyBluegrass => post.kentucky_bluegrass_ed50_kg_ha,
        Grass::PerennialRyegrass => post.perennial_ryegrass_ed50_kg_ha,
        Grass::TallFescue => post.tall_fescue_ed50_kg_ha,
        Grass::FineFescue => post.fine_fescue_ed50_kg_ha,
    }
}

impl Doom {
    fn add(&mut self, plants: f64, leaf: f64, pace: f64) {
        self.plants += (1.0 - self.plants) * plants;
        self.leaf += (1.0 - self.leaf) * leaf;
        self.pace = pace;
    }

    /// Today's deaths, and leaf withered on those who live, as shares of what stands this morning.
    fn today(&mut self) -> (f64, f64) {
        let (plants, leaf) = (self.plants * self.pace, self.leaf * self.pace);
        self.plants = after(self.plants, plants);
        self.leaf = after(self.leaf, leaf);
        (plants, if plants < 1.0 { ((leaf - plants) / (1.0 - plants)).max(0.0) } else { 0.0 })
    }
}

/// What of a doomed share is left of those who are left.
fn after(doomed: f64, died: f64) -> f64 {
    let left = if died < 1.0 { (doomed - died) / (1.0 - died) } else { 0.0 };
    if left > NONE { left } else { 0.0 }
}

/// One day of dying: the dead go to litter and leave their ground.
pub(super) fn die(state: &mut State, setting: &Setting) {
    let mut busy = state.sprays.used > 0 || state.sprays.settled.is_some();
    if state.sprays.crabgrass_pace > 0.0 {
        let left = crabgrass::wither(state, setting, state.sprays.crabgrass_pace);
        if left <= NONE {
            state.sprays.crabgrass_pace = 0.0;
        }
        busy = true;
    }
    if state.sprays.nutsedge_pace > 0.0 {
        let left = nutsedge::wither(state, setting, state.sprays.nutsedge_pace);
        if left <= NONE {
            state.sprays.nutsedge_pace = 0.0;
        }
        busy = true;
    }
    if state.sprays.dandelion != Doom::default() {
        let (plants, leaf) = state.sprays.dandelion.today();
        dandelion::kill(state, setting, plants);
        dandelion::burn(state, setting, leaf);
        busy = true;
        state.sprays.dandelion.end();
    }
    if state.sprays.clover != Doom::default() {
        let (plants, leaf) = state.sprays.clover.today();
        clover::kill(state, setting, plants);
        clover::burn(state, setting, leaf);
        busy = true;
        state.sprays.clover.end();
    }
    for i in 0..setting.grasses.len() {
        if state.sprays.turf[i] > 0.0 {
            brown(state, setting, i);
            busy = true;
        }
    }
    state.sprays.busy = busy;
}

impl Doom {
    /// Forgets what is over.
    fn end(&mut self) {
        if self.plants <= 0.0 && self.leaf <= 0.0 {
            *self = Doom::default();
        }
    }
}

/// A day's browning of one grass, and the tillers that go with it.
fn brown(state: &mut State, setting: &Setting, i: usize) {
    let p = &setting.p.spray;
    let hurt = state.sprays.turf[i];
    let today = hurt * (1.0 - (-1.0 / p.turf_days).exp());
    leaf::wither(state, setting, i, today);
    tillers::open(state, setting, i, p.turf_loss * hurt * today);
    state.sprays.turf[i] = after(hurt, today);
}
