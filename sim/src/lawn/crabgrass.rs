//! Crabgrass: seed bank, emergence by thermal time, cohorts that live or die by light, seed rain,
//! frost.

use super::growth::trapezoid;
use super::nitrogen;
use super::setting::Setting;
use super::state::State;
use crate::parameters::Crabgrass;
use crate::weather::Sky;

/// The most cohorts of one year; later seedlings join the last.
pub const MAX_COHORTS: usize = 14;

/// Days that one cohort stays open to new seedlings.
const COHORT_DAYS: u32 = 10;

/// Seedlings that came up within a few days of each other.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Cohort {
    /// Plants in gaps, 1/m2 of lawn.
    pub in_gaps: f64,
    /// Leaf area of one of them, m2.
    pub gap_area_m2: f64,
    /// Plants under the turf's leaves, 1/m2 of lawn.
    pub in_turf: f64,
    /// Leaf area of one of them, m2.
    pub turf_area_m2: f64,
}

/// All the crabgrass of a lawn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Weed {
    /// Viable seed in the top of the soil, 1/m2.
    pub bank: f64,
    /// Seed that can germinate this year, 1/m2 (part of the bank, at the year's start).
    pub germinable: f64,
    /// Seed shed this year that will join the bank, 1/m2.
    pub fresh: f64,
    /// Moist thermal time above the base since 1 January, C-days.
    pub progress_dd: f64,
    /// Seedlings that came up this year, 1/m2.
    pub emerged: f64,
    /// This year's cohorts.
    pub cohorts: [Cohort; MAX_COHORTS],
    /// Cohorts in use.
    pub used: usize,
    /// Days since the last cohort was opened.
    pub open_days: u32,
    /// Ground that crabgrass covers, 0..=1.
    pub cover: f64,
}

impl Weed {
    /// Leaf area over the lawn, m2/m2.
    pub fn leaf_area(&self) -> f64 {
        let cohorts = &self.cohorts[..self.used];
        cohorts.iter().map(|c| c.in_gaps * c.gap_area_m2 + c.in_turf * c.turf_area_m2).sum()
    }

    /// Dry mass, g/m2.
    pub fn dry_mass(&self, p: &Crabgrass) -> f64 {
        self.leaf_area() * p.leaf_g_m2
    }

    /// Plants, 1/m2.
    pub fn plants(&self) -> f64 {
        self.cohorts[..self.used].iter().map(|c| c.in_gaps + c.in_turf).sum()
    }
}

/// Share of the year's germinable seed that has come up by a moist thermal time: a main flush
/// (lagged Weibull) and a tail into late summer.
pub fn emerged_share(progress_dd: f64, p: &Crabgrass) -> f64 {
    let past = progress_dd - p.lag_dd;
    if past <= 0.0 {
        return 0.0;
    }
    let main = 1.0 - (-(past / p.scale_dd).powf(p.shape)).exp();
    let tail = 1.0 - (-past / p.late_scale_dd).exp();
    (1.0 - p.late_share) * main + p.late_share * tail
}

/// One day of crabgrass.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    if sky.day_of_year == 1 && state.begun {
        turn_year(state, setting);
    }
    emerge(state, setting, sky);
    if state.weed.used == 0 {
        return;
    }
    frost(state, setting, sky);
    grow(state, setting, sky);
    seed(state, setting, sky);
}

/// Winter: part of the bank dies, fresh seed joins it, and a share can germinate next.
fn turn_year(state: &mut State, setting: &Setting) {
    let p = &setting.p.crabgrass;
    kill_share(state, setting, 1.0, |_| true);
    let w = &mut state.weed;
    w.bank = w.bank * p.bank_survival + w.fresh;
    w.germinable = w.bank * p.germinable_share;
    *w = Weed { bank: w.bank, germinable: w.germinable, cover: 0.0, ..Weed::default() };
}

/// Thermal time runs on moist soil only; what comes up meets the barrier.
fn emerge(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    state.today.barrier = super::barrier::strength(state, setting);
    state.today.emerging = 0.0;
    state.today.through = 0.0;
    let warm = (sky.soil_5cm_c - p.base_t_c).max(0.0);
    // The mean of the day's wettest hour and its evening.
    let moist = 0.5
        * (setting.germination_pace(state.today.seedbed_wet)
            + setting.germination_pace(state.seedbed));
    let w = &mut state.weed;
    w.open_days += 1;
    if warm * moist <= 0.0 || w.germinable <= 0.0 {
        return;
    }
    let before = emerged_share(w.progress_dd, p);
    w.progress_dd += warm * moist;
    let emerging = w.germinable * (emerged_share(w.progress_dd, p) - before);
    let through = emerging * (1.0 - state.today.barrier);
    w.bank = (w.bank - emerging).max(0.0);
    w.emerged += through;
    state.today.emerging = emerging;
    state.today.through = through;
    if through > 1e-6 {
        establish(state, setting, through);
    }
}

/// Puts today's seedlings into a cohort, in gaps and under the turf as the ground lies.
fn establish(state: &mut State, setting: &Setting, seedlings: f64) {
    let area = setting.p.crabgrass.seedling_area_m2;
    let turf = state.turf_cover().clamp(0.0, 1.0);
    let mass_before = state.weed.leaf_area();
    let w = &mut state.weed;
    if w.used == 0 || (w.open_days >= COHORT_DAYS && w.used < MAX_COHORTS) {
        w.used += 1;
        w.open_days = 0;
        w.cohorts[w.used - 1] = Cohort::default();
    }
    let c = &mut w.cohorts[w.used - 1];
    let add = |n: &mut f64, a: &mut f64, more: f64| {
        if more > 0.0 {
            *a = (*n * *a + more * area) / (*n + more);
            *n += more;
        }
    };
    add(&mut c.in_gaps, &mut c.gap_area_m2, seedlings * (1.0 - turf));
    add(&mut c.in_turf, &mut c.turf_area_m2, seedlings * turf);
    // Seedlings bring their first leaf's carbon and nitrogen with the seed.
    let grams = (state.weed.leaf_area() - mass_before) * setting.p.crabgrass.leaf_g_m2;
    let (mut seed_c, mut seed_n) = (0.0, 0.0);
    state.ledger.carbon.enter(&mut seed_c, grams * setting.p.sward.carbon_share);
    state.ledger.nitrogen.enter(&mut seed_n, grams * setting.p.crabgrass.nitrogen_share);
}

/// Light that a seedling sees in a gap and under turf, share of full sun: gaps are lit as far as
/// they are wide against the canopy's height.
pub fn seedling_light(state: &State, setting: &Setting) -> (f64, f64) {
    let s = &setting.p.sward;
    let p = &setting.p.crabgrass;
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return (setting.sun, setting.sun);
    }
    let mut lai = 0.0;
    for (i, traits) in setting.grasses.iter().enumerate() {
        let plant = &state.plants[i];
        lai += plant.cover * plant.leaf_area_index(traits.specific_leaf_area);
    }
    let shade = s.extinction * (lai / cover + s.stubble_area_index);
    let height = state.canopy_height_mm();
    let open = (1.0 - cover).max(0.0);
    let gap = p.gap_mm + p.gap_open_mm * open * open;
    let edge = height / (height + gap);
    (setting.sun * (-shade * edge).exp(), setting.sun * (-shade).exp())
}

/// Today's conditions for growth, the same for every cohort.
struct Conditions {
    /// Growth a day at full light, 1/day, before size limits.
    pace: f64,
    dry: f64,
    light_gap: f64,
    light_turf: f64,
    escape_m2: f64,
    sun: f64,
    crowd: f64,
}

fn grow(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    let warm =
        trapezoid(sky.t_mean_c, p.rgr_t_low_c, p.rgr_t_opt_c, p.rgr_t_opt_c + 4.0, p.rgr_t_high_c);
    let (light_gap, light_turf) = seedling_light(state, setting);
    let height = state.canopy_height_mm().max(25.0) / p.escape_height_mm;
    let area = state.weed.leaf_area();
    let late =
        if sky.day_of_year > 172 && sky.day_length_h < p.decline_day_length_h { 0.0 } else { 1.0 };
    let conditions = Conditions {
        pace: p.rgr * warm * state.today.weed_ks.sqrt() * late,
        dry: 1.0 - state.today.weed_ks,
        light_gap,
        light_turf,
        escape_m2: p.escape_area_m2 * height * height,
        sun: setting.sun,
        crowd: (1.0 - area / p.leaf_area_max).clamp(0.0, 1.0),
    };
    let wanted = potential_growth(state, setting, &conditions);
    let fed = feed(state, setting, sky, wanted);
    let decline = if late == 0.0 { p.decline } else { 0.0 };
    advance(state, setting, &conditions, fed, decline);
}

/// Growth rate of a plant of area `a`, 1/day, and its rate of loss, 1/day.
#[inline]
fn rates(a: f64, light: f64, c: &Conditions, p: &Crabgrass) -> (f64, f64) {
    // A plant that has tillered lies on top of the mown turf.
    let seen = light + (c.sun - light).max(0.0) * a / (a + c.escape_m2);
    let full = 1.0 / (1.0 + p.light_half) - p.light_compensation;
    let net = (seen / (seen + p.light_half) - p.light_compensation) / full;
    let size = (1.0 - a / p.plant_area_max_m2).max(0.0);
    let young = c.escape_m2 / (c.escape_m2 + a);
    // Shade kills when what light brings does not cover what a seedling spends.
    let shade = ((0.35 - net) / 0.35).max(0.0);
    let loss = young * (p.seedling_loss + p.shade_loss * shade + p.dry_loss * c.dry)
        + p.thinning_loss * (1.0 - c.crowd) * young;
    (c.pace * net.max(0.0) * size * c.crowd, loss.min(0.9))
}

/// Leaf area that would be grown today with all the nitrogen wanted, m2/m2.
fn potential_growth(state: &State, setting: &Setting, conditions: &Conditions) -> f64 {
    let p = &setting.p.crabgrass;
    let w = &state.weed;
    let mut sum = 0.0;
    for c in &w.cohorts[..w.used] {
        sum +=
            c.in_gaps * c.gap_area_m2 * rates(c.gap_area_m2, conditions.light_gap, conditions, p).0;
        sum += c.in_turf
            * c.turf_area_m2
            * rates(c.turf_area_m2, conditions.light_turf, conditions, p).0;
    }
    sum
}

/// Takes up the nitrogen that growth wants; returns the share of it that was had.
fn feed(state: &mut State, setting: &Setting, sky: &Sky, wanted_m2: f64) -> f64 {
    let p = &setting.p.crabgrass;
    let grams = wanted_m2 * p.leaf_g_m2;
    let demand = grams * p.nitrogen_share;
    if demand <= 0.0 {
        return 0.0;
    }
    let roots = (p.root_share * state.weed.dry_mass(p), p.root_depth_mm.min(setting.root_limit_mm));
    let mut taken = 0.0;
    nitrogen::take_up(state, setting, sky, roots, demand, &mut taken);
    taken / demand
}

/// Grows and thins every cohort; the dead become litter.
fn advance(state: &mut State, setting: &Setting, conditions: &Conditions, fed: f64, decline: f64) {
    let p = &setting.p.crabgrass;
    let (mut grown, mut dead) = (0.0, 0.0);
    let used = state.weed.used;
    for c in &mut state.weed.cohorts[..used] {
        let parts = [
            (&mut c.in_gaps, &mut c.gap_area_m2, conditions.light_gap),
            (&mut c.in_turf, &mut c.turf_area_m2, conditions.light_turf),
        ];
        for (n, a, light) in parts {
            if *n <= 0.0 {
                continue;
            }
            let (growth, loss) = rates(*a, light, conditions, p);
            let lost = (loss + decline).min(1.0);
            grown += *n * *a * growth * fed;
            *a *= 1.0 + growth * fed;
            dead += *n * *a * lost;
            *n *= 1.0 - lost;
        }
    }
    let mut made = 0.0;
    let carbon = grown * p.leaf_g_m2 * setting.p.sward.carbon_share;
    state.ledger.carbon.enter(&mut made, carbon);
    to_litter(state, setting, dead);
}

/// Dead leaf area, m2/m2, becomes litter.
fn to_litter(state: &mut State, setting: &Setting, area: f64) {
    let grams = area * setting.p.crabgrass.leaf_g_m2;
    state.litter.c += grams * setting.p.sward.carbon_share;
    state.litter.n += grams * setting.p.crabgrass.nitrogen_share;
}

/// Kills a share of the plants that `chosen` picks by leaf area.
fn kill_share(state: &mut State, setting: &Setting, share: f64, chosen: impl Fn(f64) -> bool) {
    let mut dead = 0.0;
    let used = state.weed.used;
    for c in &mut state.weed.cohorts[..used] {
        for (n, a) in [(&mut c.in_gaps, c.gap_area_m2), (&mut c.in_turf, c.turf_area_m2)] {
            if *n > 0.0 && chosen(a) {
                dead += *n * a * share;
                *n *= 1.0 - share;
            }
        }
    }
    to_litter(state, setting, dead);
}

/// Kills a share of the plants whose leaf area is under a size: an early post-emergent effect.
pub fn kill_smaller_than(state: &mut State, setting: &Setting, area_m2: f64, share: f64) {
    kill_share(state, setting, share.clamp(0.0, 1.0), |a| a < area_m2);
}

/// Pulls every plant, as a counting crew does in a study.
pub fn pull_all(state: &mut State, setting: &Setting) {
    kill_share(state, setting, 1.0, |_| true);
    state.weed.used = 0;
    state.weed.cover = 0.0;
}

/// Frost ends grown plants; seedlings stand a little more.
fn frost(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    let tillered = p.escape_area_m2;
    if sky.t_min_c <= p.frost_mature_c {
        kill_share(state, setting, 1.0, |a| a >= tillered);
    }
    if sky.t_min_c <= p.frost_seedling_c {
        kill_share(state, setting, 1.0, |a| a < tillered);
    }
}

/// Seed falls from plants in shortening days, per area that they cover.
fn seed(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    if sky.day_of_year > 172 && sky.day_length_h < p.seed_day_length_h {
        let w = &mut state.weed;
        w.fresh += p.seed_rain_m2 * p.seed_rate * w.cover * p.entry_share;
    }
}
