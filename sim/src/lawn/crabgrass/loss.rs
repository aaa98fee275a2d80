//! How crabgrass ends: seed falls, frost kills, crews pull.

use super::super::setting::Setting;
use super::super::state::State;
use crate::calendar::SOLSTICE_DAY;
use crate::weather::Sky;

/// Frost ends grown plants; seedlings stand a little more.
pub(super) fn frost(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    let tillered = p.escape_area_m2;
    if sky.t_min_c <= p.frost_mature_c {
        kill_share(state, setting, 1.0, |a| a >= tillered);
    }
    if sky.t_min_c <= p.frost_seedling_c {
        kill_share(state, setting, 1.0, |a| a < tillered);
    }
}

/// Seed falls in shortening days, more as they shorten, from leaf that stands on grown plants: a
/// closed stand of them sheds the published seed of an area, whatever their number.
pub(super) fn seed(state: &mut State, setting: &Setting, sky: &Sky) {
    let p = &setting.p.crabgrass;
    if sky.day_of_year <= SOLSTICE_DAY || sky.day_length_h >= p.seed_day_length_h {
        return;
    }
    let ripe =
        (p.seed_day_length_h - sky.day_length_h) / (p.seed_day_length_h - p.seed_full_day_length_h);
    let w = &mut state.weed;
    let grown = |n: f64, a: f64| n * a * a / (a + p.seed_area_m2);
    let cohorts = &w.cohorts[..w.used];
    let bearing: f64 = cohorts
        .iter()
        .map(|c| grown(c.in_gaps, c.gap_area_m2) + grown(c.in_turf, c.turf_area_m2))
        .sum();
    let shed = p.seed_rain_m2 * p.seed_rate * ripe.min(1.0) * bearing / p.leaf_area_max;
    w.fresh += shed * p.entry_share;
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

/// Kills a share of the plants that `chosen` picks by leaf area, m2.
fn kill_share(state: &mut State, setting: &Setting, share: f64, chosen: impl Fn(f64) -> bool) {
    let mut dead = 0.0;
    let used = state.weed.used;
    for c in &mut state.weed.cohorts[..used] {
        let parts = [(&mut c.in_gaps, c.gap_area_m2), (&mut c.in_turf, c.turf_area_m2)];
        for ((n, a), doomed) in parts.into_iter().zip(&mut c.doomed) {
            if *n > 0.0 && chosen(a) {
                dead += *n * a * share;
                *n *= 1.0 - share;
                *doomed *= 1.0 - share;
            }
        }
    }
    to_litter(state, setting, dead);
}

/// Marks plants that a spray will kill: `kill` gives their share by leaf area, m2. Returns how many,
/// 1/m2.
pub(in crate::lawn) fn doom(state: &mut State, kill: impl Fn(f64) -> f64) -> f64 {
    let used = state.weed.used;
    let mut sum = 0.0;
    for c in &mut state.weed.cohorts[..used] {
        let parts = [(c.in_gaps, c.gap_area_m2), (c.in_turf, c.turf_area_m2)];
        for ((n, a), doomed) in parts.into_iter().zip(&mut c.doomed) {
            if n > 0.0 {
                let more = (n - *doomed).max(0.0) * kill(a);
                *doomed += more;
                sum += more;
            }
        }
    }
    sum
}

/// A day's share of the doomed dies, and those that live lose leaf with them. Returns how many are
/// left, 1/m2.
pub(in crate::lawn) fn wither(state: &mut State, setting: &Setting, pace: f64) -> f64 {
    let used = state.weed.used;
    let (mut dead, mut left) = (0.0, 0.0);
    for c in &mut state.weed.cohorts[..used] {
        let parts = [(&mut c.in_gaps, &mut c.gap_area_m2), (&mut c.in_turf, &mut c.turf_area_m2)];
        for ((n, a), doomed) in parts.into_iter().zip(&mut c.doomed) {
            let gone = (*doomed * pace).min(*n);
            if gone <= 0.0 {
                continue;
            }
            let shrunk = *a * setting.p.spray.survivor_loss * gone / *n;
            *n -= gone;
            dead += gone * *a + *n * shrunk;
            *a -= shrunk;
            *doomed -= gone;
            left += *doomed;
        }
    }
    to_litter(state, setting, dead);
    left
}

/// Dead leaf area, m2/m2, becomes litter.
pub(super) fn to_litter(state: &mut State, setting: &Setting, area: f64) {
    let grams = area * setting.p.crabgrass.leaf_g_m2;
    state.litter.c += grams * setting.p.sward.carbon_share;
    state.litter.n += grams * setting.p.crabgrass.nitrogen_share;
}

#[cfg(test)]
mod tests {
    use super::super::super::tests_support::{lawn, sky};
    use super::super::Cohort;
    use super::*;

    /// Seedlings outlived April frosts (Indiana 2012); a hard frost ends grown plants.
    #[test]
    fn frost_takes_grown_plants_first() {
        let left = |t_min_c: f64| {
            let (setting, mut state) = lawn();
            let p = &setting.p.crabgrass;
            state.weed.used = 1;
            state.weed.cohorts[0] = Cohort {
                in_gaps: 10.0,
                gap_area_m2: 2.0 * p.escape_area_m2,
                in_turf: 20.0,
                turf_area_m2: p.seedling_area_m2,
                doomed: [0.0; 2],
            };
            let before = state.stocks(&setting);
            frost(&mut state, &setting, &Sky { t_min_c, ..sky(2.0) });
            let after = state.stocks(&setting);
            assert!(before.iter().zip(after).all(|(a, b)| (a - b).abs() < 1e-9 * a));
            (state.weed.cohorts[0].in_gaps, state.weed.cohorts[0].in_turf)
        };
        assert_eq!(left(0.0), (10.0, 20.0));
        assert_eq!(left(-2.0), (0.0, 20.0));
        assert_eq!(left(-5.0), (0.0, 0.0));
    }

    /// Seed shed in a day by some plants of some leaf area each, 1/m2.
    fn shed(plants: f64, area_m2: f64, day_of_year: u16, day_length_h: f64) -> f64 {
        let (setting, mut state) = lawn();
        state.weed.used = 1;
        state.weed.cohorts[0] =
            Cohort { in_gaps: plants, gap_area_m2: area_m2, ..Cohort::default() };
        seed(&mut state, &setting, &Sky { day_of_year, day_length_h, ..sky(20.0) });
        state.weed.fresh / setting.p.crabgrass.entry_share
    }

    #[test]
    fn seed_falls_in_shortening_days_and_more_as_they_shorten() {
        assert_eq!(shed(40.0, 0.05, 130, 14.0), 0.0);
        assert_eq!(shed(40.0, 0.05, 175, 15.1), 0.0);
        let (july, august) = (shed(40.0, 0.05, 205, 14.5), shed(40.0, 0.05, 235, 13.4));
        assert!(july > 0.0 && august > 2.0 * july, "{july} {august}");
    }

    /// Grown plants of a closed stand shed about 10,000 seeds per ft2 (Patton) and a lone one some
    /// thousands in two months; as much leaf on seedlings sheds next to none.
    #[test]
    fn seed_follows_the_size_of_plants() {
        let season = |plants: f64, area_m2: f64| 60.0 * shed(plants, area_m2, 240, 13.0);
        let stand = season(80.0, 0.05);
        assert!((80_000.0..120_000.0).contains(&stand), "{stand}");
        assert!((1_000.0..10_000.0).contains(&season(1.0, 0.08)), "{}", season(1.0, 0.08));
        assert!(season(40_000.0, 0.0001) < 0.05 * stand);
    }
}
