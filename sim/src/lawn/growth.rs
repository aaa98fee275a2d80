//! Growth of the grasses: nitrogen and light come in; leaf and root are built of them.

use super::limits::Limits;
use super::plant::GONE_COVER;
use super::roots::root_depth_mm;
use super::setting::{MAX_GRASSES, Setting};
use super::state::State;
use super::warmth::Warmth;
use super::{leaf, nitrogen, reaction, root};
use crate::weather::Sky;

/// One day's growth of all grasses.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    let (mut standing, mut grasses) = ([0; MAX_GRASSES], 0);
    for i in 0..setting.grasses.len() {
        if state.plants[i].cover > GONE_COVER {
            standing[grasses] = i;
            grasses += 1;
        }
    }
    for k in 0..grasses {
        // Who feeds first takes most: it goes by turns among those that stand.
        let i = standing[(k + usize::from(sky.day_of_year)) % grasses];
        feed(state, setting, sky, i);
        let full_leaf = state.plants[i].full_leaf(&setting.grasses[i], &setting.p.sward);
        assimilate(state, setting, sky, warmth, full_leaf, i);
        leaf::senesce(state, setting, sky, warmth, i);
        leaf::grow(state, setting, warmth, full_leaf, i);
        root::grow(state, setting, warmth, i);
    }
}

/// Takes up nitrogen: a hungry plant closes its gap to the critical concentration fast, and past
/// it takes luxury slowly.
fn feed(state: &mut State, setting: &Setting, sky: &Sky, i: usize) {
    let s = &setting.p.sward;
    let depth = root_depth_mm(state, setting, i);
    let plant = &state.plants[i];
    let mass = plant.leaf_equivalent(s);
    let mut store = plant.nitrogen;
    let critical = s.nitrogen_critical * mass;
    let hunger = (critical - store).max(0.0);
    let luxury = (s.nitrogen_max * mass - store.at_least(critical)).max(0.0);
    let demand = s.hunger_pace * hunger + s.luxury_pace * luxury;
    let roots = (plant.root * plant.ks.at_least(s.dry_uptake_share), depth);
    state.totals.uptake += nitrogen::take_up(state, setting, sky, roots, demand, &mut store);
    let plant = &mut state.plants[i];
    plant.nitrogen = store;
    plant.set_leaf_n(if mass > 0.0 { store / mass } else { 0.0 }, s);
}

/// Light into reserves (light caught by Beer's law times radiation-use efficiency), and
/// maintenance out of them.
fn assimilate(
    state: &mut State,
    setting: &Setting,
    sky: &Sky,
    warmth: &Warmth,
    full_leaf: f64,
    i: usize,
) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let sound = reaction::growth(state, setting, traits);
    let plant = &mut state.plants[i];
    let green = plant.green_share(full_leaf);
    // Green sheaths and stubble catch light too.
    let area = plant.leaf_area_index(traits.specific_leaf_area)
        + s.stubble_area_index * green * (1.0 - plant.stubble);
    let caught = plant.cover * (1.0 - (-s.extinction * area).exp());
    let par = if sky.snow_mm > 0.0 { 0.0 } else { s.par_share * sky.rs_mj_m2 * setting.sun };
    // Full stores hold assimilation back.
    let capacity = plant.reserve_capacity(s);
    let room =
        ((capacity - plant.reserves) / (s.reserve_full_share * capacity).max(1e-9)).clamp(0.0, 1.0);
    // Nitrogen-poor leaves fix less, but never nothing.
    let fed = s.hungry_assimilation + (1.0 - s.hungry_assimilation) * plant.fed;
    let efficiency =
        s.rue_g_mj * traits.rue_factor * warmth.photosynthesis * plant.ks * fed * sound;
    let mut store = plant.reserves * s.carbon_share;
    state.ledger.carbon.enter(&mut store, efficiency * par * caught * room * s.carbon_share);
    // A drought-dormant plant hardly breathes, and wakes as its leaf comes back.
    let awake = s.dormant_rest + (1.0 - s.dormant_rest) * plant.ks.at_most(s.waking_ratio * green);
    let base = plant.tillers * s.tiller_mass_g;
    let due = warmth.respiration
        * (s.maintenance_leaf * plant.leaf
            + awake * (s.maintenance_base * base + s.maintenance_root * plant.root));
    let due = due * s.carbon_share;
    let paid = state.ledger.carbon.leave(&mut store, due);
    plant.starving = if paid < due { (1.0 - paid / due).clamp(0.0, 1.0) } else { 0.0 };
    plant.reserves = store / s.carbon_share;
}
