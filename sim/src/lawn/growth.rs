//! Growth of the grasses: light, assimilation, respiration, reserves, leaf, root.

use super::nitrogen;
use super::setting::{MAX_GRASSES, Setting};
use super::state::{Plant, State};
use super::water::root_depth_mm;
use crate::parameters::GrassTraits;
use crate::weather::Sky;

/// Below this cover a grass is gone.
pub const GONE_COVER: f64 = 1e-4;

/// What depends on today's weather alone.
#[derive(Clone, Copy, Debug)]
pub struct Warmth {
    /// Shoot growth index of each grass, exp(-0.5 ((T - To)/s)^2) (Gelernter & Stowell 2005 with
    /// To = 20 C, s = 5.5 C), 0..=1.
    pub shoot: [f64; MAX_GRASSES],
    /// Photosynthesis factor, flat between its optima, 0..=1.
    pub photosynthesis: f64,
    /// Root growth factor on soil temperature, 0..=1.
    pub root: f64,
    /// Respiration factor, 1 at 20 C.
    pub respiration: f64,
    /// Spring flush of leaf growth, 1 or more.
    pub spring: f64,
}

/// A trapezoid: 0 at `low`, 1 from `opt_low` to `opt_high`, 0 at `high`.
pub fn trapezoid(t: f64, low: f64, opt_low: f64, opt_high: f64, high: f64) -> f64 {
    ((t - low) / (opt_low - low)).min((high - t) / (high - opt_high)).clamp(0.0, 1.0)
}

impl Warmth {
    /// Today's factors.
    pub fn of(setting: &Setting, sky: &Sky) -> Warmth {
        let s = &setting.p.sward;
        let t = sky.t_mean_c;
        let day = (s.photosynthesis_t_low_c, s.photosynthesis_t_opt_low_c);
        let hot = (s.photosynthesis_t_opt_high_c, s.photosynthesis_t_high_c);
        // The flush follows the reproductive phase: lengthening days of April to early June.
        // Hardened plants breathe less than the cold alone explains.
        let rest = s.winter_rest + (1.0 - s.winter_rest) * (t / 10.0).clamp(0.0, 1.0);
        let spring_day = trapezoid(f64::from(sky.day_of_year), 85.0, 110.0, 145.0, 170.0);
        Warmth {
            shoot: std::array::from_fn(|i| {
                let Some(traits) = setting.grasses.get(i) else { return 0.0 };
                let z = (t - traits.growth_t_opt_c) / s.growth_t_width_c;
                (-0.5 * z * z).exp()
            }),
            photosynthesis: trapezoid(t, day.0, day.1, hot.0, hot.1),
            root: trapezoid(
                sky.soil_10cm_c,
                s.root_t_low_c,
                s.root_t_opt_low_c,
                s.root_t_opt_high_c,
                s.root_t_high_c,
            ),
            respiration: s.maintenance_q10.powf((t - 20.0) / 10.0) * rest,
            spring: 1.0 + (s.spring_flush - 1.0) * spring_day,
        }
    }
}

/// Mass that counts for nitrogen, in units of leaf: leaf in full, tiller bases and roots at
/// their ratio to the leaf's concentration.
pub fn leaf_equivalent(plant: &Plant, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    plant.leaf
        + s.nitrogen_base_ratio * plant.tillers * s.tiller_mass_g
        + s.nitrogen_root_ratio * plant.root
}

/// Nitrogen factor of growth from the leaf's concentration, 0..=1.
pub fn nitrogen_factor(leaf_n: f64, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    ((leaf_n - s.nitrogen_min) / (s.nitrogen_critical - s.nitrogen_min)).clamp(0.0, 1.0)
}

/// Full green leaf of a canopy of this height, g/m2 of lawn: blade below height h goes as
/// (h/H)^p.
pub fn full_leaf(plant: &Plant, traits: &GrassTraits, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    let relative = plant.height_mm / s.profile_reference_mm;
    // Hungry leaves are narrower and fewer.
    let fed = 1.0 - s.hungry_leaf * (1.0 - nitrogen_factor(plant.leaf_n, setting));
    fed * traits.bulk_g_mm_tiller
        * plant.tillers
        * s.profile_reference_mm
        * relative.powf(s.blade_profile)
}

/// The reserves that a plant can hold, g/m2.
pub fn reserve_capacity(plant: &Plant, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    s.reserve_share_max * (plant.tillers * s.tiller_mass_g + 0.3 * (plant.leaf + plant.root))
}

/// Share of full reserves held, 0..=1.
pub fn reserve_level(plant: &Plant, setting: &Setting) -> f64 {
    let capacity = reserve_capacity(plant, setting);
    if capacity > 0.0 { (plant.reserves / capacity).clamp(0.0, 1.0) } else { 0.0 }
}

/// What of its reserves a plant spends on roots and tillers: nothing below the floor, 0..=1.
pub fn surplus(plant: &Plant, setting: &Setting) -> f64 {
    let floor = setting.p.sward.reserve_floor;
    ((reserve_level(plant, setting) - floor) / (1.0 - floor)).clamp(0.0, 1.0)
}

/// One day's growth of all grasses.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth) {
    for i in 0..setting.grasses.len() {
        if state.plants[i].cover <= GONE_COVER {
            continue;
        }
        feed(state, setting, sky, i);
        assimilate(state, setting, sky, warmth, i);
        senesce(state, setting, sky, warmth, i);
        grow_leaf(state, setting, warmth, i);
        grow_root(state, setting, warmth, i);
    }
}

/// Takes up nitrogen towards the luxury concentration.
fn feed(state: &mut State, setting: &Setting, sky: &Sky, i: usize) {
    let s = &setting.p.sward;
    let depth = root_depth_mm(state, setting, i);
    let mut plant = state.plants[i];
    let mass = leaf_equivalent(&plant, setting);
    // A hungry plant closes a quarter of its gap a day; past the critical concentration it takes
    // luxury slowly.
    let critical = s.nitrogen_critical * mass;
    let hunger = (critical - plant.nitrogen).max(0.0);
    let luxury = (s.nitrogen_max * mass - plant.nitrogen.max(critical)).max(0.0);
    let demand = 0.25 * hunger + s.luxury_pace * luxury;
    let roots = (plant.root * plant.ks.max(0.05), depth);
    let taken = nitrogen::take_up(state, setting, sky, roots, demand, &mut plant.nitrogen);
    plant.leaf_n = if mass > 0.0 { plant.nitrogen / mass } else { 0.0 };
    state.plants[i] = plant;
    state.totals.uptake += taken;
}

/// Light into reserves, and maintenance out of them.
fn assimilate(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let carbon = s.carbon_share;
    let plant = &mut state.plants[i];
    let full = full_leaf(plant, traits, setting);
    let green = if full > 0.0 { (plant.leaf / full).min(1.0) } else { 0.0 };
    let lai = plant.leaf_area_index(traits.specific_leaf_area);
    // Green sheaths and stubble catch light too.
    let caught = plant.cover
        * (1.0
            - (-s.extinction * (lai + s.stubble_area_index * green * (1.0 - plant.stubble))).exp());
    let par = if sky.snow_mm > 0.0 { 0.0 } else { s.par_share * sky.rs_mj_m2 * setting.sun };
    let capacity = reserve_capacity(plant, setting);
    // Full stores hold assimilation back.
    let room = ((capacity - plant.reserves) / (0.3 * capacity).max(1e-9)).clamp(0.0, 1.0);
    // Nitrogen-poor leaves fix less, but never nothing.
    let fed = 0.4 + 0.6 * nitrogen_factor(plant.leaf_n, setting);
    let made = s.rue_g_mj
        * traits.rue_factor
        * par
        * caught
        * warmth.photosynthesis
        * plant.ks
        * fed
        * room;
    let mut store = plant.reserves * carbon;
    state.ledger.carbon.enter(&mut store, made * carbon);
    // A drought-dormant plant hardly breathes, and wakes as its leaf comes back.
    let awake = s.dormant_rest + (1.0 - s.dormant_rest) * plant.ks.min(3.0 * green);
    let base = plant.tillers * s.tiller_mass_g;
    let due = warmth.respiration
        * (s.maintenance_leaf * plant.leaf
            + awake * (s.maintenance_base * base + s.maintenance_root * plant.root));
    let paid = state.ledger.carbon.leave(&mut store, due * carbon) / carbon;
    plant.starving = if due > 0.0 { (1.0 - paid / due).clamp(0.0, 1.0) } else { 0.0 };
    plant.reserves = store / carbon;
}

/// Green leaf ages, and dries in drought, heat and hard frost; part of its nitrogen is drawn
/// back.
fn senesce(state: &mut State, setting: &Setting, sky: &Sky, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let plant = &mut state.plants[i];
    // Slight stress slows leaves; browning starts past a fifth of the water wanted.
    let dry = ((0.8 - plant.ks) / 0.8).max(0.0).powi(2);
    let hot = ((sky.t_max_c - traits.heat_t_c) / 5.0).clamp(0.0, 2.0);
    let cold = ((s.frost_leaf_loss_t_c - sky.t_min_c) / 20.0).clamp(0.0, 0.3);
    let age = (0.15 + 0.85 * (sky.t_mean_c / 20.0).clamp(0.0, 1.5)) / s.leaf_life_days;
    let share = (age
        + s.drought_leaf_loss * dry
        + s.heat_leaf_loss * hot
        + 0.1 * cold
        + 0.3 * plant.starving * warmth.respiration.min(2.0) / s.leaf_life_days)
        .min(0.5);
    let leaf = plant.leaf * share;
    plant.leaf -= leaf;
    state.litter.c += leaf * s.carbon_share;
    let nitrogen = leaf * plant.leaf_n * (1.0 - s.nitrogen_resorption);
    super::ledger::shift(&mut plant.nitrogen, &mut state.litter.n, nitrogen);
}

/// Takes reserves for `tissue` g/m2 of growth, breathing out what growth costs; returns the
/// tissue that they paid for.
fn build(state: &mut State, setting: &Setting, i: usize, tissue: f64, available: f64) -> f64 {
    let s = &setting.p.sward;
    let plant = &mut state.plants[i];
    let tissue = tissue.min(available * s.growth_efficiency).max(0.0);
    let breathed = tissue * (1.0 / s.growth_efficiency - 1.0);
    plant.reserves -= tissue + breathed;
    // The breath leaves the lawn; the tissue stays and is booked by the caller's store.
    let mut breath = breathed * s.carbon_share;
    let amount = breath;
    state.ledger.carbon.leave(&mut breath, amount);
    tissue
}

/// Leaves lengthen as far as warmth, water, nitrogen and reserves let them, and thin canopies
/// fill up again.
fn grow_leaf(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let traits = &setting.grasses[i];
    let plant = state.plants[i];
    // Lengthening feels drought before assimilation does.
    let wet = plant.ks.powf(setting.p.water.extension_stress_power);
    let fed = nitrogen_factor(plant.leaf_n, setting);
    let low = 1.0 - (plant.height_mm / s.height_max_mm).powi(2);
    // The index has no end; leaves stop at freezing.
    let thawed = (warmth.photosynthesis * 10.0).min(1.0);
    let pace = warmth.shoot[i] * wet * fed * thawed;
    let extension = traits.extension_max_mm * pace * warmth.spring * low.max(0.0);
    let full = full_leaf(&plant, traits, setting);
    let height = plant.height_mm.max(1.0);
    let longer = full * (((height + extension) / height).powf(s.blade_profile) - 1.0);
    let vigour = (plant.leaf / full.max(1e-9)).clamp(0.1, 1.0);
    // Refilling goes on in weather too cool or warm for lengthening.
    let gentle = (0.3 * warmth.photosynthesis + 0.7 * warmth.shoot[i]) * wet * (0.2 + 0.8 * fed);
    let refill = (full - plant.leaf).max(0.0) / s.leaf_refill_days * gentle;
    let demand = longer * vigour + refill;
    // Leaves cannot be thinner in nitrogen than the least: what is there sets a limit.
    let mass = leaf_equivalent(&plant, setting);
    let by_nitrogen = (plant.nitrogen / s.nitrogen_min - mass).max(0.0);
    let available = plant.reserves * s.reserve_mobile_share;
    let grown = build(state, setting, i, demand.min(by_nitrogen), available);
    let plant = &mut state.plants[i];
    plant.leaf += grown;
    plant.extension_mm = if demand > 0.0 { extension * (grown / demand).min(1.0) } else { 0.0 };
    plant.height_mm += plant.extension_mm;
}

/// Roots take their part of what leaf growth left, while the soil is cool and cuts let them.
fn grow_root(state: &mut State, setting: &Setting, warmth: &Warmth, i: usize) {
    let s = &setting.p.sward;
    let plant = &mut state.plants[i];
    recover_roots(plant);
    let surplus = surplus(&state.plants[i], setting);
    let plant = state.plants[i];
    let pace = warmth.root * (1.0 - plant.root_stop) * plant.ks * surplus;
    let mass = leaf_equivalent(&plant, setting);
    let by_nitrogen = ((plant.nitrogen / s.nitrogen_min - mass) / s.nitrogen_root_ratio).max(0.0);
    let want = (s.root_growth_max * plant.cover * pace).min(0.3 * by_nitrogen);
    let available = plant.reserves * s.reserve_mobile_share;
    let grown = build(state, setting, i, want, available);
    let plant = &mut state.plants[i];
    plant.root += grown;
    // Old roots die, faster in warm soil; above the growth limit heat takes them.
    let warm = warmth.respiration.clamp(0.2, 3.0);
    let share = (warm / s.root_life_days
        + s.root_heat_loss * (1.0 - warmth.root) * (warm - 1.0).max(0.0))
    .min(0.2);
    let dead = plant.root * share;
    let nitrogen = dead * plant.leaf_n * s.nitrogen_root_ratio;
    plant.root -= dead;
    super::ledger::shift(&mut plant.nitrogen, &mut state.root_litter.n, nitrogen);
    state.root_litter.c += dead * s.carbon_share;
}

/// Root growth that cuts stopped comes back, after a hold.
fn recover_roots(plant: &mut Plant) {
    if plant.root_stop_hold > 0.0 {
        plant.root_stop_hold -= 1.0;
    } else if plant.root_stop > 0.0 {
        plant.root_stop *= (-1.0 / plant.root_stop_days.max(1.0)).exp();
    }
}
