//! The pre-emergent barrier: uneven deposits in two places, decaying, stopping seedlings.

mod tell;

pub(super) use tell::{Telling, laid as tell_laid, tell};

use super::plant::power_of_share;
use super::setting::Setting;
use super::state::State;
use crate::parameters::{Active, SOIL_ACTIVES};
use crate::weather::Sky;
use crate::work::{ActiveId, Carrier};

/// The most passes that are told apart; see [`Deposits::add`].
const MAX_PASSES: usize = 8;

/// Coefficient of variation over the area beyond which a pass is taken for no worse.
const MAX_CV: f64 = 2.0;

/// No work breaks more of a barrier than this share.
const MOST_BROKEN: f64 = 0.95;

/// Below this nothing is left to count, kg ai/ha.
const GONE_KG_HA: f64 = 1e-6;

/// What one pass laid.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
struct Pass {
    active: u8,
    /// On leaf and thatch, exposed, kg ai/ha.
    leaf: f64,
    /// Dry granules, not yet let go, kg ai/ha.
    granule: f64,
    /// In the surface soil, kg ai/ha.
    soil: f64,
    /// Coefficient of variation over the area.
    cv: f64,
}

impl Pass {
    /// Residue in every place, kg ai/ha.
    fn all(&self) -> f64 {
        self.leaf + self.granule + self.soil
    }

    /// Two passes as one: residues add, and so do their variances over the area.
    fn joined(&self, other: &Pass) -> Pass {
        let soil = self.soil + other.soil;
        let (a, b) = (self.soil * self.cv, other.soil * other.cv);
        let cv = if soil > 0.0 { (a * a + b * b).sqrt() / soil } else { self.cv.min(other.cv) };
        Pass {
            active: self.active,
            leaf: self.leaf + other.leaf,
            granule: self.granule + other.granule,
            soil,
            cv,
        }
    }
}

/// All passes still in place.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Deposits {
    passes: [Pass; MAX_PASSES],
    used: usize,
}

impl Deposits {
    /// All residue of one active ingredient in the surface soil, kg ai/ha.
    pub fn in_soil_kg_ha(&self, active: ActiveId) -> f64 {
        self.passes[..self.used].iter().filter(|p| p.active == active.0).map(|p| p.soil).sum()
    }

    /// Adds a pass. With every place taken, the two oldest passes of one active become one; where
    /// no active has two, the least of all gives way.
    fn add(&mut self, pass: Pass) {
        if self.used == MAX_PASSES {
            self.make_room();
        }
        self.passes[self.used] = pass;
        self.used += 1;
    }

    fn make_room(&mut self) {
        let passes = &mut self.passes[..self.used];
        let twins = (0..passes.len()).find_map(|i| {
            let later = (i + 1..passes.len()).find(|k| passes[*k].active == passes[i].active);
            later.map(|k| (i, k))
        });
        let gone = if let Some((first, second)) = twins {
            passes[first] = passes[first].joined(&passes[second]);
            second
        } else {
            let least = |a: &usize, b: &usize| passes[*a].all().total_cmp(&passes[*b].all());
            (0..passes.len()).min_by(least).unwrap_or(0)
        };
        self.passes.copy_within(gone + 1..self.used, gone);
        self.used -= 1;
    }

    /// All residue of one active ingredient in every place, kg ai/ha.
    pub fn all_kg_ha(&self, active: ActiveId) -> f64 {
        let of = self.passes[..self.used].iter().filter(|p| p.active == active.0);
        of.map(Pass::all).sum()
    }

    /// Breaks what is in the soil and on it over a share of the ground: the mean falls by that share,
    /// and the deposit is so much less even, as the mean of its square falls by the same.
    pub(super) fn break_up(&mut self, share: f64) {
        let left = 1.0 - share.clamp(0.0, MOST_BROKEN);
        for pass in &mut self.passes[..self.used] {
            pass.soil *= left;
            pass.granule *= left;
            pass.cv = ((1.0 + pass.cv * pass.cv) / left - 1.0).sqrt().min(MAX_CV);
        }
    }

    /// Bagged clippings carry what lies on the leaf that was cut.
    pub(super) fn carried_off(&mut self, cut_share: f64) {
        for pass in &mut self.passes[..self.used] {
            pass.leaf *= 1.0 - cut_share.clamp(0.0, 1.0);
        }
    }
}

/// Lays one pass.
pub(super) fn lay(
    state: &mut State,
    setting: &Setting,
    active: ActiveId,
    rate_kg_ha: f64,
    carrier: Carrier,
    unevenness: f64,
) {
    let active = ActiveId(active.0.min(SOIL_ACTIVES as u8 - 1));
    deposit(state, setting, active, rate_kg_ha, carrier, unevenness);
    early_post(state, setting, active, rate_kg_ha);
}

/// Puts one pass on leaf and ground: all that a spray on standing weeds does to the soil.
pub(super) fn deposit(
    state: &mut State,
    setting: &Setting,
    active: ActiveId,
    rate_kg_ha: f64,
    carrier: Carrier,
    unevenness: f64,
) {
    let b = &setting.p.barrier;
    // Leaves catch a spray as far as they cover the ground.
    let caught = match carrier {
        Carrier::Spray => b.leaf_spray,
        Carrier::Granule => b.leaf_granule,
    } * (state.turf_cover() + state.weed_cover()).clamp(0.0, 1.0);
    let leaf = rate_kg_ha * caught;
    let rest = rate_kg_ha - leaf;
    let (granule, soil) = match carrier {
        Carrier::Spray => (0.0, rest),
        Carrier::Granule => (rest, 0.0),
    };
    let pass = Pass { active: active.0, leaf, granule, soil, cv: unevenness.clamp(0.0, MAX_CV) };
    state.deposits.add(pass);
}

/// An active with early post-emergent reach takes the smallest seedlings that it lands on.
fn early_post(state: &mut State, setting: &Setting, active: ActiveId, rate_kg_ha: f64) {
    let a = &setting.p.actives[usize::from(active.0)];
    if a.early_post > 0.0 {
        let share = a.early_post * dose_response(rate_kg_ha, a);
        super::crabgrass::kill_smaller_than(
            state,
            setting,
            setting.p.barrier.early_post_area_m2,
            share,
        );
    }
}

/// Share of emerging seedlings stopped by an even deposit: the log-logistic law of Seefeldt,
/// Jensen & Fuerst (1995), 1 - 1/(1 + (x/ED50)^b).
pub fn dose_response(residue_kg_ha: f64, a: &Active) -> f64 {
    if residue_kg_ha <= 0.0 {
        return 0.0;
    }
    1.0 / (1.0 + (a.ed50_kg_ha / residue_kg_ha).powf(a.slope))
}

/// One day: water moves deposits in, light takes what lies open, the soil's share decays.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    if state.deposits.used == 0 {
        return;
    }
    let b = &setting.p.barrier;
    let water = state.today.infiltration_mm;
    let (washed, freed) = if water > 0.0 {
        (1.0 - (-water / b.wash_mm).exp(), 1.0 - (-water / b.granule_release_mm).exp())
    } else {
        (0.0, 0.0)
    };
    let exposed = exposed_share(setting, sky);
    let conditions = decay_conditions(state, setting, sky);
    for pass in &mut state.deposits.passes[..state.deposits.used] {
        let a = &setting.p.actives[usize::from(pass.active)];
        let down = pass.leaf * washed;
        let free = pass.granule * freed;
        pass.leaf = (pass.leaf - down) * exposed;
        pass.granule -= free;
        pass.soil = (pass.soil + down + free) * (-conditions / a.half_life_days).exp2();
    }
    drop_spent(&mut state.deposits);
}

/// Share of what lies on leaves that a day's light leaves there.
fn exposed_share(setting: &Setting, sky: &Sky) -> f64 {
    if sky.snow_mm > 0.0 { 1.0 } else { setting.leaf_residue_left }
}

/// How fast residue decays against the reference (bare soil, 20 C, field capacity): Q10 law times
/// Walker's (1974) power law of moisture, faster under turf; frozen soil keeps everything.
fn decay_conditions(state: &State, setting: &Setting, sky: &Sky) -> f64 {
    if sky.frozen {
        return 0.0;
    }
    let b = &setting.p.barrier;
    let layer = &setting.layers[0];
    let moisture = (state.water[0] / layer.fc_mm).clamp(0.0, 1.0);
    let turf = 1.0 + (b.turf_decay - 1.0) * state.turf_cover().min(1.0);
    turf * setting.residue.at(sky.soil_5cm_c) * power_of_share(moisture, b.moisture_power)
}

fn drop_spent(d: &mut Deposits) {
    let mut kept = 0;
    for i in 0..d.used {
        let p = d.passes[i];
        if p.leaf + p.granule + p.soil > GONE_KG_HA {
            d.passes[kept] = p;
            kept += 1;
        }
    }
    d.used = kept;
}

/// Five-point Gauss-Hermite quadrature for a standard normal (Abramowitz & Stegun 25.10, nodes
/// times sqrt 2, weights over sqrt pi): the weight at 0, then nodes and weights to either side.
const MIDDLE: f64 = 0.533_333_333_333_333_3;
const SIDES: [(f64, f64); 2] = [
    (1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (2.856_970_013_872_805_7, 0.011_257_411_327_720_688),
];

/// Share of emerging crabgrass that the barrier would stop today, 0..=1: the dose response taken
/// over the uneven residue. Passes of one active add up with independent gaps, so that two half
/// passes are more even than one; different actives act independently (Bliss).
pub(super) fn strength(state: &State, setting: &Setting) -> f64 {
    stopped(state, setting, |_| 1.0)
}

/// The same of emerging turfgrass, which some actives spare: each active's ED50 is what it is for
/// crabgrass times `grass_ed50_ratio`.
pub(super) fn strength_on_grass(state: &State, setting: &Setting) -> f64 {
    stopped(state, setting, |a| a.grass_ed50_ratio)
}

/// Share of emerging seedlings that are stopped when each active's ED50 is `ratio` times its own.
fn stopped(state: &State, setting: &Setting, ratio: impl Fn(&Active) -> f64) -> f64 {
    let d = &state.deposits;
    if d.used == 0 {
        return 0.0;
    }
    let mut through = 1.0;
    let mut done = [false; SOIL_ACTIVES];
    for i in 0..d.used {
        let active = usize::from(d.passes[i].active);
        if done[active] {
            continue;
        }
        done[active] = true;
        let (mut mean, mut variance) = (0.0, 0.0);
        for p in d.passes[i..d.used].iter().filter(|p| usize::from(p.active) == active) {
            mean += p.soil;
            variance += (p.soil * p.cv) * (p.soil * p.cv);
        }
        if mean > GONE_KG_HA {
            let a = &setting.p.actives[active];
            let a = Active { ed50_kg_ha: a.ed50_kg_ha * ratio(a), ..*a };
            through *= 1.0 - over_uneven(mean, variance, &a);
        }
    }
    1.0 - through
}

/// Mean log-logistic response to a deposit whose mean and coefficient of variation over the area are
/// these, 0..=1.
pub(super) fn mean_response(mean: f64, cv: f64, ed50_kg_ha: f64, slope: f64) -> f64 {
    if mean <= 0.0 {
        return 0.0;
    }
    let a =
        Active { half_life_days: 1.0, ed50_kg_ha, slope, early_post: 0.0, grass_ed50_ratio: 1.0 };
    over_uneven(mean, (mean * cv) * (mean * cv), &a)
}

/// Mean dose response over a log-normal residue with this mean and variance.
fn over_uneven(mean: f64, variance: f64, a: &Active) -> f64 {
    if variance <= 0.0 {
        return dose_response(mean, a);
    }
    let log_variance = (1.0 + variance / (mean * mean)).ln();
    let sd = log_variance.sqrt();
    // (ED50/x)^b at the median of the residue; each node moves it by exp(-b sd z).
    let base = (a.slope * ((a.ed50_kg_ha / mean).ln() + 0.5 * log_variance)).exp();
    let sides = SIDES.iter().map(|(z, w)| {
        let away = (a.slope * sd * z).exp();
        w / (1.0 + base * away) + w / (1.0 + base / away)
    });
    MIDDLE / (1.0 + base) + sides.sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::super::tests_support::{lawn, sky};
    use super::super::warmth::Q10;
    use super::*;

    const A: Active = Active {
        half_life_days: 60.0,
        ed50_kg_ha: 0.1,
        slope: 2.0,
        early_post: 0.0,
        grass_ed50_ratio: 1.0,
    };

    /// Nine passes of two actives: nothing of either is lost or told as the other's.
    #[test]
    fn a_ninth_pass_stays_its_own_actives() {
        let mut d = Deposits::default();
        for k in 0..12u8 {
            d.add(Pass { active: k % 2, soil: 1.0, cv: 0.2, ..Pass::default() });
        }
        assert!((d.in_soil_kg_ha(ActiveId(0)) - 6.0).abs() < 1e-12);
        assert!((d.in_soil_kg_ha(ActiveId(1)) - 6.0).abs() < 1e-12);
    }

    #[test]
    fn quadrature_weights_sum_to_one_with_unit_variance() {
        let sum = MIDDLE + SIDES.iter().map(|(_, w)| 2.0 * w).sum::<f64>();
        let variance: f64 = SIDES.iter().map(|(z, w)| 2.0 * w * z * z).sum();
        assert!((sum - 1.0).abs() < 1e-12 && (variance - 1.0).abs() < 1e-12);
    }

    /// Against the integral over a fine grid of the log-normal.
    #[test]
    fn uneven_deposits_against_a_fine_grid() {
        for (mean, cv) in [(0.3, 0.3), (0.1, 0.5), (0.05, 0.25)] {
            let log_variance = (1.0f64 + cv * cv).ln();
            let (mut sum, mut weight) = (0.0, 0.0);
            for k in -4000..=4000 {
                let z = f64::from(k) / 500.0;
                let w = (-0.5 * z * z).exp();
                let x = mean * (log_variance.sqrt() * z - 0.5 * log_variance).exp();
                sum += w * dose_response(x, &A);
                weight += w;
            }
            let got = over_uneven(mean, (mean * cv) * (mean * cv), &A);
            assert!((got - sum / weight).abs() < 2e-3, "{mean} {cv} {got} {}", sum / weight);
        }
    }

    #[test]
    fn half_the_seedlings_are_stopped_at_the_ed50() {
        assert!((dose_response(0.1, &A) - 0.5).abs() < 1e-12);
        assert_eq!(dose_response(0.0, &A), 0.0);
    }

    /// Residue left of a kilogram in the soil after `days` at a temperature and field capacity.
    fn left(days: usize, t_c: f64) -> f64 {
        let (mut setting, mut state) = lawn();
        setting.p.barrier.q10 = 2.0;
        setting.residue = Q10::new(2.0, 20.0);
        setting.p.actives[0] = A;
        state.plants.iter_mut().for_each(|p| p.cover = 0.0);
        lay(&mut state, &setting, ActiveId(0), 1.0, Carrier::Spray, 0.2);
        for _ in 0..days {
            state.water = setting.layers.map(|layer| layer.fc_mm);
            step(&mut state, &setting, &sky(t_c));
        }
        state.deposits.in_soil_kg_ha(ActiveId(0))
    }

    /// A half-life is stated at 20 C and field capacity; with Q10 = 2 it doubles at 10 C.
    #[test]
    fn half_lives_at_20_and_10_degrees() {
        assert!((left(60, 20.0) - 0.5).abs() < 1e-9, "{}", left(60, 20.0));
        assert!((left(120, 10.0) - 0.5).abs() < 1e-9, "{}", left(120, 10.0));
        assert!((left(30, 30.0) - 0.5).abs() < 1e-9, "{}", left(30, 30.0));
    }

    /// Two passes of half the rate with gaps of their own are more even than one (the variance of
    /// a sum of independent parts): they stop more where one stops most.
    #[test]
    fn two_half_passes_are_more_even_than_one() {
        let stopped = |passes: u32| {
            let (setting, mut state) = lawn();
            for _ in 0..passes {
                let rate = 1.0 / f64::from(passes);
                lay(&mut state, &setting, ActiveId(0), rate, Carrier::Spray, 0.4);
            }
            strength(&state, &setting)
        };
        assert!(stopped(2) > stopped(1));
    }
}
