//! Room: every patch of ground is held by grass, held by one weed, or bare.

use super::limits::Limits;
use super::setting::{MAX_GRASSES, Setting};
use super::state::State;
use super::tillers;

/// A kind of weed that holds ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holder {
    Crabgrass,
    Dandelion,
    Clover,
    Nutsedge,
}

impl Holder {
    /// Ground that it covers, 0..=1.
    fn cover(self, state: &mut State) -> &mut f64 {
        match self {
            Holder::Crabgrass => &mut state.weed.cover,
            Holder::Dandelion => &mut state.dandelion.cover,
            Holder::Clover => &mut state.clover.cover,
            Holder::Nutsedge => &mut state.nutsedge.cover,
        }
    }

    /// Ground that the other weeds cover, 0..=1.
    fn others(self, state: &State) -> f64 {
        let of = |kind: Holder, cover: f64| if kind == self { 0.0 } else { cover };
        of(Holder::Crabgrass, state.weed.cover)
            + of(Holder::Dandelion, state.dandelion.cover)
            + of(Holder::Clover, state.clover.cover)
            + of(Holder::Nutsedge, state.nutsedge.cover)
    }
}

/// What a weed brings to the day's struggle for ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Claim {
    /// Its leaf, and what else of it covers ground, m2 per m2 of lawn.
    pub area: f64,
    /// Ground under each grass that is light enough for it, 0..=1 ([`leaks`]).
    pub leaks: [f64; MAX_GRASSES],
    /// Turf ground that it takes a day per cover where all of the turf is light enough, 1/day.
    pub displacement: f64,
    /// Of a grass's ground it takes no more in a day, 0..=1.
    pub displacement_max: f64,
}

/// Crabgrass takes its room.
pub fn step(state: &mut State, setting: &Setting) {
    let area = state.weed.leaf_area();
    if area <= 0.0 && state.weed.cover <= 0.0 {
        return;
    }
    let c = &setting.p.crabgrass;
    let claim = Claim {
        area,
        leaks: state.today.leaks,
        displacement: c.displacement,
        displacement_max: c.displacement_max,
    };
    state.today.displaced += hold(state, setting, Holder::Crabgrass, &claim);
}

/// A weed takes the ground that its leaves cover: bare ground at once, turf only as fast as it
/// displaces it, and only as far as the light under the turf is past what the weed needs; ground of
/// another weed never. What it gives up falls bare. Returns the turf that it took, share of the lawn.
pub(super) fn hold(state: &mut State, setting: &Setting, holder: Holder, claim: &Claim) -> f64 {
    let leak: f64 = claim.leaks.iter().sum();
    let room = in_reach(state, holder, &claim.leaks);
    let wanted = if room > 0.0 { room * (1.0 - (-claim.area / room).exp()) } else { 0.0 };
    let bare = state.bare();
    let cover = holder.cover(state);
    *cover += (wanted - *cover).at_most(bare);
    let (held, mut taken) = (*cover, 0.0);
    let short = wanted - held;
    if short > 0.0 && leak > 0.0 {
        let turf = state.turf_cover();
        let pace = claim.displacement * held * leak / turf;
        let take = short.min(pace).min(claim.displacement_max * turf);
        for (i, mine) in claim.leaks.iter().enumerate().take(setting.grasses.len()) {
            let lost = displace(state, setting, i, take * mine / leak, claim.displacement_max);
            *holder.cover(state) += lost;
            taken += lost;
        }
    }
    let cover = holder.cover(state);
    *cover = cover.clamp(0.0, 1.0);
    taken
}

/// Ground that a weed can hold, 0..=1: all that neither turf nor another weed holds, and the turf
/// that lets in light.
pub(super) fn in_reach(state: &State, holder: Holder, leaks: &[f64; MAX_GRASSES]) -> f64 {
    (1.0 - state.turf_cover() - holder.others(state)).max(0.0) + leaks.iter().sum::<f64>()
}

/// Takes today's ground under each grass that is light enough for crabgrass, 0..=1.
pub(super) fn read_leaks(state: &mut State, setting: &Setting) {
    state.today.leaks = leaks(state, setting, setting.p.crabgrass.invasion_light);
}

/// Ground under each grass that is lighter than `dark`, the light (share of full sun) below which a
/// weed takes no ground from it; 0..=1.
pub(super) fn leaks(state: &State, setting: &Setting, dark: f64) -> [f64; MAX_GRASSES] {
    std::array::from_fn(|i| {
        if i >= setting.grasses.len() {
            return 0.0;
        }
        let light = tillers::light_at_base(state, setting, i);
        state.plants[i].cover * ((light - dark) / (1.0 - dark)).max(0.0)
    })
}

/// A weed takes ground from grass `i`, no more than `most` of it; what stood there dies. Returns the
/// ground taken, share of the lawn.
fn displace(state: &mut State, setting: &Setting, i: usize, ground: f64, most: f64) -> f64 {
    let cover = state.plants[i].cover;
    if cover <= 0.0 {
        return 0.0;
    }
    let lost = ground.min(most * cover);
    tillers::die(state, setting, i, lost / cover);
    state.plants[i].cover -= lost;
    lost
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

    /// However many weeds claim ground, and however much: all shares sum to 1, and none takes
    /// another's.
    #[test]
    fn weeds_share_the_ground() {
        let (setting, mut state) = lawn();
        let holders = [Holder::Dandelion, Holder::Clover, Holder::Nutsedge, Holder::Crabgrass];
        let mut most = 0.0;
        for day in 0..60 {
            for holder in holders {
                let leaks = leaks(&state, &setting, 0.0);
                let area = if day < 30 { 3.0 } else { 0.0 };
                let claim = Claim { area, leaks, displacement: 0.2, displacement_max: 0.5 };
                let before = holder.others(&state);
                hold(&mut state, &setting, holder, &claim);
                assert_eq!(holder.others(&state), before);
                let sum = state.turf_cover() + state.weed_cover() + state.bare();
                assert!((sum - 1.0).abs() < 1e-9, "{day} {holder:?} {sum}");
            }
            most = f64::max(most, state.weed_cover());
        }
        assert!(most > 0.3 && state.weed_cover() == 0.0, "{most}");
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
