//! Tools in the ground: coring and scarifying open the turf, break the barrier, make room for seed;
//! core holes let water and roots through a tight layer until they settle.

use super::runoff::retention_mm;
use super::setting::{BOTTOM_MM, Setting, drained_share};
use super::state::State;
use super::tillers;

/// What tools have left in the ground.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Ground {
    /// Share of the surface over core holes that still let water and roots through, 0..=1.
    pub opened: f64,
    /// Depth of those holes, mm.
    pub hole_mm: f64,
    /// Share of the seed sown today that would lie as in fresh slits, 0..=1.
    pub seedbed: f64,
    /// Sod that has not rooted into the ground below, share of what it will need, 0..=1.
    pub unrooted: f64,
    /// More root growth than without what was sprayed to stimulate it, share.
    pub stimulus: f64,
    /// Soil brought in since the first day, mm.
    pub soil_mm: f64,
}

/// Below this share nothing is left of holes or slits.
const CLOSED: f64 = 1e-3;

/// Takes plugs out of a share of the surface, `opened` (0..=1), `depth_mm` deep; nothing where either is
/// 0 or less.
pub fn core(state: &mut State, setting: &Setting, depth_mm: f64, opened: f64) {
    let opened = opened.clamp(0.0, 1.0);
    if opened <= 0.0 || depth_mm <= 0.0 {
        return;
    }
    disturb(state, setting, opened, opened);
    let ground = &mut state.ground;
    ground.opened = 1.0 - (1.0 - ground.opened) * (1.0 - opened);
    ground.hole_mm = ground.hole_mm.max(depth_mm);
}

/// Combs dead leaf and thatch out, and with it turf, down to `depth_mm` below the top of the thatch (below
/// 0 counts as 0).
pub fn scarify(state: &mut State, setting: &Setting, depth_mm: f64) {
    let p = &setting.p.cultivation;
    let depth_mm = depth_mm.max(0.0);
    let tracks = (p.track_per_mm * depth_mm).min(p.track_max);
    disturb(state, setting, tracks, (p.torn_per_mm * depth_mm).min(tracks));
    let share = p.litter_share * (1.0 - (-depth_mm / p.litter_depth_mm).exp());
    let (carbon, nitrogen) = (state.litter.c * share, state.litter.n * share);
    state.ledger.carbon.leave(&mut state.litter.c, carbon);
    state.ledger.nitrogen.leave(&mut state.litter.n, nitrogen);
    state.today.clumps *= 1.0 - share;
}

/// What every tool does that opens a share of the surface and takes a share of the turf.
fn disturb(state: &mut State, setting: &Setting, opened: f64, taken: f64) {
    let p = &setting.p.cultivation;
    take_turf(state, setting, taken);
    state.deposits.break_up(p.barrier_broken * opened);
    state.ground.seedbed = (state.ground.seedbed + p.seed_catch * opened).min(1.0);
}

/// Takes a share of every grass, and as much of its ground falls bare.
pub(super) fn take_turf(state: &mut State, setting: &Setting, share: f64) {
    for i in 0..setting.grasses.len() {
        take_turf_of(state, setting, i, share);
    }
}

/// The same of grass `i` alone.
pub(super) fn take_turf_of(state: &mut State, setting: &Setting, i: usize, share: f64) {
    tillers::die(state, setting, i, share);
    state.plants[i].cover *= 1.0 - share.clamp(0.0, 1.0);
}

/// One day: holes settle and close.
pub fn step(state: &mut State, setting: &Setting) {
    let p = &setting.p.cultivation;
    let ground = &mut state.ground;
    if ground.seedbed > 0.0 {
        ground.seedbed = faded(ground.seedbed, p.seedbed_half_life_days);
    }
    if ground.stimulus > 0.0 {
        ground.stimulus = faded(ground.stimulus, p.stimulus_half_life_days);
    }
    if ground.opened > 0.0 {
        ground.opened = faded(ground.opened, p.loose_half_life_days);
        if ground.opened <= 0.0 {
            ground.hole_mm = 0.0;
        }
    }
}

fn faded(share: f64, half_life_days: f64) -> f64 {
    let left = share * (-1.0 / half_life_days).exp2();
    if left < CLOSED { 0.0 } else { left }
}

/// Share of a layer's water between field capacity and saturation that drains in a day, and its
/// conductivity, mm/h: holes and the ground between them side by side, and where holes end within
/// the layer, what is below them after that.
#[inline]
pub(super) fn drainage(state: &State, setting: &Setting, l: usize) -> (f64, f64) {
    let layer = &setting.layers[l];
    let Ground { opened, hole_mm, .. } = state.ground;
    let above = BOTTOM_MM[l] - layer.thickness_mm;
    if opened <= 0.0 || hole_mm <= above {
        return (layer.drained_share, layer.ks_mm_h);
    }
    let pierced = ((hole_mm - above) / layer.thickness_mm).min(1.0);
    let tight = layer.ks_mm_h;
    let loose = tight + opened * (setting.p.cultivation.hole_ks_mm_h - tight).max(0.0);
    let ks_mm_h = 1.0 / (pierced / loose + (1.0 - pierced) / tight);
    (drained_share(layer.fc_mm, layer.sat_mm, ks_mm_h), ks_mm_h)
}

/// Today's curve number with holes in the ground: the retention S = 25400/CN - 254 (NEH-630) grows
/// with the share opened.
#[inline]
pub(super) fn curve_number(state: &State, setting: &Setting, number: f64) -> f64 {
    let opened = state.ground.opened;
    if opened <= 0.0 {
        return number;
    }
    let more = retention_mm(number) * (1.0 + setting.p.cultivation.intake_gain * opened);
    25400.0 / (more + 254.0)
}

/// Depth below which no root goes, mm: in part deeper where holes pierce what stops them.
#[inline]
pub(super) fn root_limit_mm(state: &State, setting: &Setting) -> f64 {
    let (limit, ground) = (setting.root_limit_mm, &state.ground);
    if ground.opened <= 0.0 || ground.hole_mm <= limit {
        return limit;
    }
    let share = (setting.p.cultivation.root_gain * ground.opened).min(1.0);
    limit + share * (ground.hole_mm - limit)
}

#[cfg(test)]
mod tests {
    use super::super::barrier;
    use super::super::tests_support::{facts, lawn, lawn_of};
    use super::*;
    use crate::parameters::Catalogue;
    use crate::scenario::{Compaction, Grass};
    use crate::work::{ActiveId, Carrier, SeedMix, Sowing};

    /// A graded lot with 40 mm of topsoil over a severely compacted subsoil.
    fn graded() -> (Setting, State) {
        let mut facts = facts();
        facts.soil.topsoil_mm = 40.0;
        facts.soil.compaction = Compaction::Severe;
        let mut p = Catalogue::embedded().central();
        p.water.compaction_root_severe_mm = 20.0;
        lawn_of(&facts, &p)
    }

    /// Tines of half an inch on two-inch squares take pi/64 = 4.9 % of the surface: so much turf is
    /// gone that day, and its carbon and nitrogen are litter.
    #[test]
    fn holes_take_their_share_of_turf_and_nothing_is_lost() {
        let (setting, mut state) = lawn();
        let (cover, before) = (state.turf_cover(), state.stocks(&setting));
        let opened = std::f64::consts::PI / 64.0;
        core(&mut state, &setting, 63.0, opened);
        assert!((1.0 - state.turf_cover() / cover - 0.0491).abs() < 1e-4);
        for (a, b) in before.iter().zip(state.stocks(&setting)) {
            assert!((a - b).abs() < 1e-9 * a);
        }
    }

    /// Two conductors side by side and then in series: 5 % of holes at 100 mm/h through 2 mm/h let
    /// 0.95 * 2 + 0.05 * 100 = 6.9 mm/h through; half of the way so and half as before 3.1 mm/h.
    #[test]
    fn holes_and_ground_conduct_side_by_side() {
        let (mut setting, mut state) = lawn();
        setting.layers[0].ks_mm_h = 2.0;
        setting.layers[1].ks_mm_h = 2.0;
        core(&mut state, &setting, 100.0, 0.05);
        assert!((drainage(&state, &setting, 0).1 - 6.9).abs() < 1e-9);
        let half = 1.0 / (0.5 / 6.9 + 0.5 / 2.0);
        assert!((drainage(&state, &setting, 1).1 - half).abs() < 1e-9);
        assert_eq!(drainage(&state, &setting, 2).1, setting.layers[2].ks_mm_h);
    }

    /// Holes help roots only where they go deeper than what stops roots, and for a season.
    #[test]
    fn shallow_holes_do_not_reach_a_deep_pan() {
        let (setting, mut state) = graded();
        assert!((setting.root_limit_mm - 60.0).abs() < 1e-9);
        core(&mut state, &setting, 50.0, 0.05);
        assert_eq!(root_limit_mm(&state, &setting), 60.0);
        core(&mut state, &setting, 100.0, 0.05);
        assert!(root_limit_mm(&state, &setting) > 90.0);
        (0..365).for_each(|_| step(&mut state, &setting));
        assert!(root_limit_mm(&state, &setting) < 62.0);
    }

    /// A fifth of the ground without barrier: of an even deposit that stops all, four fifths are
    /// left, and what is left is as uneven as that makes it: cv^2 = 1/0.8 - 1.
    #[test]
    fn a_broken_barrier_lets_more_through() {
        let (mut setting, mut state) = lawn();
        setting.p.cultivation.barrier_broken = 1.0;
        barrier::lay(&mut state, &setting, ActiveId(0), 0.5, Carrier::Granule, 0.0);
        let whole = state.deposits.all_kg_ha(ActiveId(0));
        core(&mut state, &setting, 50.0, 0.2);
        let left = state.deposits.all_kg_ha(ActiveId(0)) / whole;
        assert!((left - 0.8).abs() < 0.03, "{left}");
        setting.p.cultivation.barrier_broken = 0.0;
        let before = state.deposits.clone();
        core(&mut state, &setting, 50.0, 0.2);
        assert_eq!(state.deposits, before, "no harm where none is drawn");
    }

    /// Seed thrown on fresh holes comes up better than on closed turf, and two months later no more.
    #[test]
    fn seed_finds_fresh_holes() {
        let live = |days: Option<u32>| {
            let (setting, mut state) = lawn();
            if let Some(days) = days {
                core(&mut state, &setting, 63.0, 0.05);
                (0..days).for_each(|_| step(&mut state, &setting));
            }
            let seed = SeedMix::one(Grass::KentuckyBluegrass, 5.0);
            super::super::seeding::sow(&mut state, &setting, seed, 0.8, Sowing::Broadcast);
            state.sown.seeds()
        };
        assert!(live(Some(0)) > 1.3 * live(None), "{} {}", live(Some(0)), live(None));
        assert!(live(Some(60)) < 1.1 * live(None), "{} {}", live(Some(60)), live(None));
    }

    /// What knives bring up leaves the lawn by the books; deeper takes more litter and more turf.
    #[test]
    fn scarifying_takes_litter_off_by_depth() {
        let taken = |depth_mm: f64| {
            let (setting, mut state) = lawn();
            state.open_books(&setting);
            let [_, nitrogen, carbon] = state.stocks(&setting);
            let cover = state.turf_cover();
            scarify(&mut state, &setting, depth_mm);
            let after = state.stocks(&setting);
            state.ledger.nitrogen.close_day(after[1]);
            state.ledger.carbon.close_day(after[2]);
            assert!(state.ledger.nitrogen.worst_share() < 1e-9);
            assert!(state.ledger.carbon.worst_share() < 1e-9);
            assert!(after[1] < nitrogen);
            (carbon - after[2], cover - state.turf_cover())
        };
        let (light, deep) = (taken(2.0), taken(10.0));
        assert!(deep.0 > light.0 && light.0 > 0.0);
        assert!(deep.1 > light.1 && light.1 > 0.0);
    }
}
