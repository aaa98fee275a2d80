//! Room: every patch of ground is held by grass, held by crabgrass, or bare.

use super::setting::{MAX_GRASSES, Setting};
use super::state::State;
use super::tillers;

/// Crabgrass takes the ground that its leaves cover: bare ground at once, turf only as fast as
/// it displaces it, and only as far as the light under the turf is past what crabgrass needs.
/// What it gives up falls bare.
pub fn step(state: &mut State, setting: &Setting) {
    let area = state.weed.leaf_area();
    if area <= 0.0 && state.weed.cover <= 0.0 {
        return;
    }
    let leaks = state.today.leaks;
    let leak: f64 = leaks.iter().sum();
    let room = in_reach(state);
    let wanted = if room > 0.0 { room * (1.0 - (-area / room).exp()) } else { 0.0 };
    state.weed.cover += (wanted - state.weed.cover).min(state.bare());
    let short = wanted - state.weed.cover;
    if short > 0.0 && leak > 0.0 {
        let turf = state.turf_cover();
        let c = &setting.p.crabgrass;
        let pace = c.displacement * state.weed.cover * leak / turf;
        let take = short.min(pace).min(c.displacement_max * turf);
        for (i, mine) in leaks.iter().enumerate().take(setting.grasses.len()) {
            displace(state, setting, i, take * mine / leak);
        }
    }
    state.weed.cover = state.weed.cover.clamp(0.0, 1.0);
}

/// Ground that crabgrass can hold, 0..=1: all that is not turf, and the turf that lets in light.
pub(super) fn in_reach(state: &State) -> f64 {
    (1.0 - state.turf_cover()).max(0.0) + state.today.leaks.iter().sum::<f64>()
}

/// Takes today's ground under each grass that is light enough for crabgrass, 0..=1.
pub(super) fn read_leaks(state: &mut State, setting: &Setting) {
    state.today.leaks = leaks(state, setting);
}

fn leaks(state: &State, setting: &Setting) -> [f64; MAX_GRASSES] {
    let dark = setting.p.crabgrass.invasion_light;
    std::array::from_fn(|i| {
        if i >= setting.grasses.len() {
            return 0.0;
        }
        let light = tillers::light_at_base(state, setting, i);
        state.plants[i].cover * ((light - dark) / (1.0 - dark)).max(0.0)
    })
}

/// Crabgrass takes ground from grass `i`; what stood there dies.
fn displace(state: &mut State, setting: &Setting, i: usize, ground: f64) {
    let cover = state.plants[i].cover;
    if cover > 0.0 {
        let lost = ground.min(setting.p.crabgrass.displacement_max * cover);
        tillers::die(state, setting, i, lost / cover);
        state.plants[i].cover -= lost;
        state.weed.cover += lost;
        state.today.displaced += lost;
    }
}

#[cfg(test)]
mod tests {
    use super::super::crabgrass::Cohort;
    use super::super::tests_support::lawn;
    use super::*;

    /// Turf, crabgrass and bare ground sum to 1 whatever the weed's leaf area.
    #[test]
    fn ground_sums_to_one() {
        for plants in [0.0, 1.0, 50.0, 5000.0] {
            let (setting, mut state) = lawn();
            state.weed.used = 1;
            state.weed.cohorts[0] =
                Cohort { in_gaps: plants, gap_area_m2: 0.01, ..Cohort::default() };
            for _ in 0..20 {
                read_leaks(&mut state, &setting);
                step(&mut state, &setting);
                let sum = state.turf_cover() + state.weed.cover + state.bare();
                assert!((sum - 1.0).abs() < 1e-9, "{plants} {sum}");
            }
            assert!((plants > 0.0) == (state.weed.cover > 0.0));
        }
    }

    /// Under a closed, dark canopy crabgrass takes no turf (Davis & Elmore 1998: none came into
    /// closed fescue).
    #[test]
    fn closed_turf_gives_no_ground() {
        let (setting, mut state) = lawn();
        state.plants[0].leaf = 400.0;
        let before = state.plants[0].cover;
        state.weed.used = 1;
        state.weed.cohorts[0] = Cohort { in_gaps: 5000.0, gap_area_m2: 0.01, ..Cohort::default() };
        for _ in 0..20 {
            read_leaks(&mut state, &setting);
            step(&mut state, &setting);
        }
        assert_eq!(state.plants[0].cover, before);
        // All of the bare ground but a remnant goes.
        assert!(state.bare() < 1e-6);
    }
}
