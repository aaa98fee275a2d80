//! Cohorts: how crabgrass plants grow and thin in gaps and under turf.

use super::super::limits::Limits;
use super::super::nitrogen;
use super::super::room::{self, Holder};
use super::super::seeding;
use super::super::setting::Setting;
use super::super::state::State;
use super::super::warmth::trapezoid;
use super::{Cohort, MAX_COHORTS, loss};
use crate::calendar::SOLSTICE_DAY;
use crate::parameters::Crabgrass;
use crate::weather::Sky;

/// Light that a seedling sees in a gap and under turf, share of full sun: gaps are lit as far as
/// they are wide against the canopy's height.
pub fn seedling_light(state: &State, setting: &Setting) -> (f64, f64) {
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return (setting.sun, setting.sun);
    }
    let shade = turf_shade(state, setting);
    let height = state.canopy_height_mm();
    let edge = height / (height + gap_mm(state, setting));
    (setting.sun * (-shade * edge).exp(), setting.sun * (-shade).exp())
}

/// Width of the gaps in the turf, mm.
pub(in crate::lawn) fn gap_mm(state: &State, setting: &Setting) -> f64 {
    let p = &setting.p.crabgrass;
    let open = (1.0 - state.turf_cover() - state.perennial_cover()).max(0.0);
    p.gap_mm + p.gap_open_mm * open * open
}

/// Optical depth of the turf's leaf and stubble over the ground that it holds; 0 where none stands.
pub(in crate::lawn) fn turf_shade(state: &State, setting: &Setting) -> f64 {
    let s = &setting.p.sward;
    let p = &setting.p.crabgrass;
    let cover = state.turf_cover();
    if cover <= 0.0 {
        return 0.0;
    }
    let leaf_area: f64 = setting
        .grasses
        .iter()
        .zip(&state.plants)
        .filter(|(_, plant)| plant.cover > 0.0)
        .map(|(traits, plant)| {
            // Leaf that has browned where it stands still shades in part.
            let brown = (plant.full_leaf(traits, s) - plant.leaf).max(0.0);
            (plant.leaf + p.brown_shade * brown) * traits.specific_leaf_area
        })
        .sum();
    s.extinction * (leaf_area / cover + s.stubble_area_index)
}

/// Today's conditions for growth, the same for every cohort. Divisors are turned over once, as a
/// summer's day asks for the rates of some twenty groups of plants.
#[derive(Clone, Copy, Debug)]
struct Conditions {
    /// Growth at full light, 1/day, before size limits.
    pace: f64,
    /// Loss of seedlings in full light, 1/day.
    loss: f64,
    /// Light in gaps and under turf, share of full sun.
    light: [f64; 2],
    /// Leaf area of a plant that has half outgrown this turf, m2.
    escape_m2: f64,
    /// Light above the turf, share of full sun.
    sun: f64,
    /// Dying back after seed, 1/day.
    decline: f64,
    /// One over the leaf area of the largest plant, 1/m2.
    per_area_max: f64,
    /// One over the net gain below which shade kills.
    per_shade_gain: f64,
    /// One over the net gain in full sun, which is set to 1.
    per_best: f64,
}

impl Conditions {
    fn of(state: &State, setting: &Setting, sky: &Sky) -> Conditions {
        let p = &setting.p.crabgrass;
        let warm = trapezoid(
            sky.t_mean_c,
            p.rgr_t_low_c,
            p.rgr_t_opt_c,
            p.rgr_t_opt_high_c,
            p.rgr_t_high_c,
        );
        let late = sky.day_of_year > SOLSTICE_DAY && sky.day_length_h < p.decline_day_length_h;
        let (in_gaps, in_turf) = seedling_light(state, setting);
        let height = state.canopy_height_mm().max(p.escape_height_min_mm) / p.escape_height_mm;
        Conditions {
            pace: if late { 0.0 } else { p.rgr * warm * state.today.weed_ks.sqrt() },
            loss: p.seedling_loss + p.dry_loss * (1.0 - state.today.weed_ks),
            light: [in_gaps * seeding::light_below(state, setting), in_turf],
            escape_m2: p.escape_area_m2 * height * height,
            sun: setting.sun,
            decline: if late { p.decline } else { 0.0 },
            per_area_max: 1.0 / p.plant_area_max_m2,
            per_shade_gain: 1.0 / p.shade_gain,
            per_best: 1.0 / (1.0 / (1.0 + p.light_half) - p.light_compensation),
        }
    }
}

/// What happens today to the plants of one part of a cohort.
#[derive(Clone, Copy, Debug, Default)]
struct Rates {
    /// Relative growth of a plant with all the nitrogen wanted, 1/day.
    growth: f64,
    /// Plants lost, 1/day.
    loss: f64,
    /// Share of that growth for which older and larger plants, and their own like, leave room;
    /// below 0 where they leave less than none.
    room: f64,
}

impl Rates {
    /// Of plants of leaf areas `a`, m2, in gaps and in turf.
    #[inline]
    fn of(a: [f64; 2], c: &Conditions, p: &Crabgrass) -> [Rates; 2] {
        // A plant that has tillered lies on top of the mown turf.
        let young = a.map(|a| c.escape_m2 / (c.escape_m2 + a));
        let seen: [f64; 2] =
            std::array::from_fn(|k| c.light[k] + (c.sun - c.light[k]) * (1.0 - young[k]));
        let net =
            seen.map(|seen| (seen / (seen + p.light_half) - p.light_compensation) * c.per_best);
        std::array::from_fn(|k| {
            let size = (1.0 - a[k] * c.per_area_max).max(0.0);
            // Shade kills when what light brings does not cover what a seedling spends.
            let shade = (1.0 - net[k] * c.per_shade_gain).max(0.0);
            let loss = young[k] * (c.loss + p.shade_loss * shade);
            Rates {
                growth: c.pace * net[k].max(0.0) * size,
                loss: (loss.at_most(p.loss_max) + c.decline).min(1.0),
                room: 1.0,
            }
        })
    }
}

impl Cohort {
    /// What a spray has doomed does not grow.
    #[inline]
    fn stop_doomed(&self, rates: &mut [Rates; 2]) {
        for ((n, doomed), rate) in
            [self.in_gaps, self.in_turf].into_iter().zip(self.doomed).zip(rates)
        {
            if doomed > 0.0 && n > 0.0 {
                rate.growth *= 1.0 - (doomed / n).min(1.0);
            }
        }
    }
}

/// One day of all cohorts: what light and warmth allow, as far as nitrogen is had, less the dead.
pub(super) fn grow(state: &mut State, setting: &Setting, sky: &Sky) {
    let leaf_area = state.weed.leaf_area();
    if leaf_area <= 0.0 {
        return;
    }
    let p = &setting.p.crabgrass;
    let conditions = Conditions::of(state, setting, sky);
    // A closed stand's leaf area, over the ground that crabgrass can hold.
    let full = p.leaf_area_max * room::in_reach(state, Holder::Crabgrass, &state.today.leaks);
    let per_full = 1.0 / full.max(f64::MIN_POSITIVE);
    let mut rates = [[Rates::default(); 2]; MAX_COHORTS];
    let (mut wanted, mut older) = (0.0, 0.0);
    for (rates, c) in rates.iter_mut().zip(&state.weed.cohorts[..state.weed.used]) {
        // Both parts in one go, empty or not: the compiler works them out side by side.
        *rates = Rates::of([c.gap_area_m2, c.turf_area_m2], &conditions, p);
        c.stop_doomed(rates);
        let areas = [c.in_gaps * c.gap_area_m2, c.in_turf * c.turf_area_m2];
        for (rate, area) in rates.iter_mut().zip(areas) {
            older += area;
            rate.room = (1.0 - older * per_full).max(-1.0);
            wanted += area * rate.growth * rate.room.max(0.0);
        }
    }
    let fed = feed(state, setting, sky, wanted, leaf_area);
    let dead = advance(state, &rates, fed);
    let (mut made, grams) = (0.0, wanted * fed * p.leaf_g_m2);
    state.ledger.carbon.enter(&mut made, grams * setting.p.sward.carbon_share);
    loss::to_litter(state, setting, dead);
}

/// Takes up the nitrogen that growth wants; returns the share of it that was had, 0..=1.
fn feed(state: &mut State, setting: &Setting, sky: &Sky, wanted_m2: f64, leaf_area: f64) -> f64 {
    let p = &setting.p.crabgrass;
    let demand = wanted_m2 * p.leaf_g_m2 * p.nitrogen_share;
    if demand <= 0.0 {
        return 0.0;
    }
    let mass = p.root_share * leaf_area * p.leaf_g_m2;
    let roots = (mass, p.root_depth_mm.min(setting.root_limit_mm));
    let mut taken = 0.0;
    nitrogen::take_up(state, setting, sky, roots, demand, &mut taken);
    taken / demand
}

/// Grows and thins every cohort. Crowding thins numbers and not the size of those who live (the
/// self-thinning of even-aged stands: their leaf area nears a constant while fewer and larger
/// plants hold it); the leaf of those who give way is their neighbours' gain. Returns the leaf area of the dead, m2/m2, as large as they were
/// at the day's end.
fn advance(state: &mut State, rates: &[[Rates; 2]; MAX_COHORTS], fed: f64) -> f64 {
    let mut dead = 0.0;
    let used = state.weed.used;
    for (c, rates) in state.weed.cohorts[..used].iter_mut().zip(rates) {
        let parts = [(&mut c.in_gaps, &mut c.gap_area_m2), (&mut c.in_turf, &mut c.turf_area_m2)];
        for (((n, a), doomed), rate) in parts.into_iter().zip(&mut c.doomed).zip(rates) {
            let growth = rate.growth * fed;
            dead += *n * *a * growth * (-rate.room).max(0.0);
            let thinned = (1.0 + growth * rate.room) / (1.0 + growth);
            *n *= thinned;
            *a *= 1.0 + growth;
            dead += *n * *a * rate.loss;
            *n *= 1.0 - rate.loss;
            *doomed *= thinned * (1.0 - rate.loss);
        }
    }
    dead
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parameters::Catalogue;

    const OPEN: Conditions = Conditions {
        pace: 0.24,
        loss: 0.012,
        light: [0.0, 0.0],
        escape_m2: 0.003,
        sun: 1.0,
        decline: 0.0,
        per_area_max: 0.0,
        per_shade_gain: 0.0,
        per_best: 0.0,
    };

    fn rates(a: f64, light: f64) -> Rates {
        let p = Catalogue::embedded().central().crabgrass;
        let conditions = Conditions {
            per_area_max: 1.0 / p.plant_area_max_m2,
            per_shade_gain: 1.0 / p.shade_gain,
            per_best: 1.0 / (1.0 / (1.0 + p.light_half) - p.light_compensation),
            light: [light, light],
            ..OPEN
        };
        Rates::of([a, a], &conditions, &p)[0]
    }

    #[test]
    fn a_small_plant_in_full_sun_grows_at_the_stated_rate() {
        let got = rates(1e-9, 1.0).growth;
        assert!((got - 0.24).abs() < 1e-6, "{got}");
        let p = Catalogue::embedded().central().crabgrass;
        assert_eq!(rates(p.plant_area_max_m2, 1.0).growth, 0.0);
    }

    #[test]
    fn deep_shade_kills_seedlings_and_spares_plants_on_top() {
        assert_eq!(rates(1e-5, 0.05).growth, 0.0);
        assert!(rates(1e-5, 0.05).loss > 5.0 * rates(1e-5, 1.0).loss);
        assert!(rates(0.03, 0.05).loss < 0.2 * rates(1e-5, 0.05).loss);
        assert!(rates(0.03, 0.05).growth > 0.0);
    }
}
