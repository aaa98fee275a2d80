//! Making turf anew: killing what stands, levelling with topsoil, laying sod.

use super::organic::ORGANIC_MATTER_PER_CARBON;
use super::plant::{GONE_COVER, Plant, root_stop_left};
use super::setting::Setting;
use super::state::{Pool, State};
use super::{barrier, clover, crabgrass, cultivation, dandelion, nutsedge, seeding};
use crate::scenario::Grass;
use crate::weather::Sky;

/// Sprays a herbicide that spares no green plant (glyphosate), kg ae/ha. What stands dies as far as it
/// is green and the weather is warm enough to move the herbicide; seed in the ground is not touched
/// and nothing of it stays in the soil. The stand counts as dead at once, though it browns over a
/// week or two.
pub fn kill(state: &mut State, setting: &Setting, sky: &Sky, rate_kg_ha: f64) {
    let p = &setting.p.renovation;
    let warm = (sky.t_mean_c / p.kill_t_full_c).clamp(0.0, 1.0);
    for i in 0..setting.grasses.len() {
        let plant = &state.plants[i];
        let green = plant.green_share(plant.full_leaf(&setting.grasses[i], &setting.p.sward));
        let share = killed(setting, rate_kg_ha * warm * green);
        cultivation::take_turf_of(state, setting, i, share);
    }
    let share = killed(setting, rate_kg_ha * warm);
    kill_weeds(state, setting, share);
    seeding::kill_seedlings(state, setting, share);
}

/// A share of all weeds that stand dies, 0..=1; seed and tubers below do not feel it.
fn kill_weeds(state: &mut State, setting: &Setting, share: f64) {
    crabgrass::kill_smaller_than(state, setting, f64::INFINITY, share);
    dandelion::kill(state, setting, share);
    clover::kill(state, setting, share);
    nutsedge::kill(state, setting, share);
}

/// Share of plants killed by what they took up: the log-logistic law of Seefeldt, Jensen & Fuerst
/// (1995), 1/(1 + (ED50/x)^b).
fn killed(setting: &Setting, taken_kg_ha: f64) -> f64 {
    let p = &setting.p.renovation;
    if taken_kg_ha <= 0.0 {
        return 0.0;
    }
    1.0 / (1.0 + (p.kill_ed50_kg_ha / taken_kg_ha).powf(p.kill_slope))
}

/// Levels with topsoil: it brings organic matter and seed of weeds, buries what stands low, and what
/// barrier there was; seed sown on it lies well.
pub fn level(state: &mut State, setting: &Setting, depth_mm: f64) {
    let p = &setting.p.renovation;
    let depth_mm = depth_mm.max(0.0);
    let stands = state.canopy_height_mm();
    if stands > 0.0 {
        let buried = (depth_mm / stands - p.smother_from) / (1.0 - p.smother_from);
        bury(state, setting, buried.clamp(0.0, 1.0));
    }
    lay_soil(state, setting, depth_mm);
    state.weed.fresh += p.soil_seed_m2_mm * depth_mm;
    let ground = &mut state.ground;
    ground.seedbed = ground.seedbed.max((depth_mm / p.soil_contact_mm).min(1.0));
}

/// A share of everything that stands goes under.
fn bury(state: &mut State, setting: &Setting, share: f64) {
    cultivation::take_turf(state, setting, share);
    kill_weeds(state, setting, share);
    seeding::kill_seedlings(state, setting, share);
}

/// Soil with its humus comes on top; what barrier lies below is out of reach in that measure.
fn lay_soil(state: &mut State, setting: &Setting, depth_mm: f64) {
    let p = &setting.p.renovation;
    // kg/m3 are g/m2 a mm.
    let organic = depth_mm * p.soil_density_kg_m3 * p.soil_organic_share;
    let carbon = organic / ORGANIC_MATTER_PER_CARBON;
    state.ledger.carbon.enter(&mut state.humus.c, carbon);
    let nitrogen = carbon / setting.p.organic.humus_cn;
    state.ledger.nitrogen.enter(&mut state.humus.n, nitrogen);
    state.ground.soil_mm += depth_mm;
    state.deposits.break_up(depth_mm / p.barrier_depth_mm);
}

/// Lays mature turf over all of the lawn, of one grass or two by share: what stood goes under. Its
/// roots are a few, and a barrier below holds up new ones as it holds up those of seedlings. A grass
/// that the lawn does not list comes to nothing.
pub fn lay_sod(state: &mut State, setting: &Setting, kinds: [(Grass, f64); 2]) {
    let p = &setting.p.renovation;
    let held_up = barrier::strength_on_grass(state, setting);
    bury(state, setting, 1.0);
    crabgrass::pull_all(state, setting);
    for cover in [&mut state.dandelion.cover, &mut state.clover.cover, &mut state.nutsedge.cover] {
        *cover = 0.0;
    }
    lay_soil(state, setting, p.sod_soil_mm);
    state.ground.unrooted = 1.0;
    for (grass, share) in kinds {
        if let Some(i) = setting.place_of(grass).filter(|_| share > 0.0) {
            let sod = sod(setting, i, share.min(1.0), held_up);
            let s = &setting.p.sward;
            let c = sod.dry_mass(s.tiller_mass_g) * s.carbon_share;
            state.ledger.bring_in(Pool { c, n: sod.nitrogen });
            state.plants[i] = sod;
        }
    }
}

fn sod(setting: &Setting, i: usize, cover: f64, held_up: f64) -> Plant {
    let p = &setting.p.renovation;
    let (s, traits) = (&setting.p.sward, &setting.grasses[i]);
    let mut plant = Plant {
        cover,
        tillers: cover * traits.density_max_m2 * p.sod_density_share,
        root: cover * p.sod_root_g_m2,
        ks: 1.0,
        root_stop: held_up,
        root_stop_hold: 0.0,
        root_stop_left: root_stop_left(p.sod_root_stop_days),
        ..Plant::default()
    };
    plant.set_leaf_n(s.nitrogen_critical, s);
    plant.set_height(p.sod_height_mm, s);
    plant.leaf = plant.full_leaf(traits, s);
    plant.reserves = p.sod_reserve_share * plant.reserve_capacity(s);
    plant.nitrogen = s.nitrogen_critical * plant.leaf_equivalent(s);
    plant
}

/// One day of sod that has not rooted: nothing feeds its slab but what falls on it, and where that is
/// dry, sod dies that would sleep if it had roots.
pub fn step(state: &mut State, setting: &Setting) {
    if state.ground.unrooted <= 0.0 {
        return;
    }
    let p = &setting.p.renovation;
    let roots: f64 = state.plants.iter().map(|plant| plant.root).sum();
    let rooted = roots / (p.sod_rooted_g_m2 * state.turf_cover().max(GONE_COVER));
    let ground = &mut state.ground;
    ground.unrooted = ground.unrooted.min(1.0 - rooted).max(0.0);
    let dry = (1.0 - state.seedbed / p.sod_moist_from).max(0.0);
    let lost = p.sod_dry_loss * dry * state.ground.unrooted;
    if lost > 0.0 {
        cultivation::take_turf(state, setting, lost);
    }
}

#[cfg(test)]
mod tests {
    use super::super::organic::organic_matter_pct;
    use super::super::seeding::sow;
    use super::super::tests_support::{lawn, sky};
    use super::*;
    use crate::work::{Act, ActiveId, Carrier, SeedMix, Sowing};

    const BLUEGRASS: [(Grass, f64); 2] =
        [(Grass::KentuckyBluegrass, 1.0), (Grass::KentuckyBluegrass, 0.0)];

    fn summer() -> (Setting, State) {
        let (setting, mut state) = lawn();
        state.set_canopy(&setting, 70.0);
        (setting, state)
    }

    /// Label rates (1.1-2.2 kg ae/ha) kill green cool-season turf nearly outright, leave seed in the
    /// ground alone, and do little to a lawn that is brown; nothing is lost from the books.
    #[test]
    fn green_turf_dies_and_seed_does_not() {
        let (setting, mut state) = summer();
        let seed = SeedMix::one(Grass::KentuckyBluegrass, 5.0);
        sow(&mut state, &setting, seed, 0.8, Sowing::Broadcast);
        let (cover, seeds, bank) = (state.turf_cover(), state.sown.seeds(), state.weed.bank);
        let before = state.stocks(&setting);
        kill(&mut state, &setting, &sky(20.0), 1.7);
        assert!(state.turf_cover() < 0.05 * cover, "{}", state.turf_cover());
        assert_eq!((state.sown.seeds(), state.weed.bank), (seeds, bank));
        for (a, b) in before.iter().zip(state.stocks(&setting)) {
            assert!((a - b).abs() < 1e-9 * a);
        }
        let (setting, mut brown) = summer();
        brown.plants[0].leaf *= 0.1;
        kill(&mut brown, &setting, &sky(20.0), 1.7);
        assert!(brown.turf_cover() > 0.5 * cover, "{}", brown.turf_cover());
    }

    /// A mixture by weight: 10 mm of soil at 1,300 kg/m3 and 4 % on a lawn of 3 % make its top 10 cm
    /// richer by less than a tenth of the difference and a little, as humus is taken for evenly mixed.
    #[test]
    fn topsoil_mixes_its_organic_matter_in() {
        let (setting, mut state) = summer();
        let before = organic_matter_pct(&state, &setting);
        level(&mut state, &setting, 10.0);
        let gain = organic_matter_pct(&state, &setting) - before;
        assert!((-0.05..0.2).contains(&gain), "{before} {gain}");
    }

    /// More than half an inch at once smothers (common practice): a quarter inch on grass of 70 mm
    /// takes none, two inches most.
    #[test]
    fn deep_soil_smothers() {
        let left = |depth_mm: f64| {
            let (setting, mut state) = summer();
            let cover = state.turf_cover();
            level(&mut state, &setting, depth_mm);
            state.turf_cover() / cover
        };
        assert_eq!(left(6.0), 1.0);
        assert!(left(50.0) < 0.5, "{}", left(50.0));
    }

    /// Days without water in which sod and old turf lose a third of their cover in warm, dry weather.
    fn lasts(sodded: bool) -> usize {
        let (setting, mut state) = summer();
        state.water = setting.layers.map(|layer| layer.fc_mm);
        let sky = sky(24.0);
        if sodded {
            lay_sod(&mut state, &setting, BLUEGRASS);
        } else {
            state.plants[0] = sod(&setting, 0, 1.0, 0.0);
            state.plants[0].root = 150.0;
            state.open_books(&setting);
        }
        (0..200)
            .find(|_| {
                state.day(&setting, &sky, &[]);
                state.turf_cover() < 0.67
            })
            .unwrap_or(200)
    }

    /// Newly sodded bluegrass died in a drought that established turf outlived (Colorado, from
    /// memory): sod must be watered from the first day.
    #[test]
    fn sod_dies_of_drought_before_old_turf() {
        let (sod, old) = (lasts(true), lasts(false));
        assert!(sod < old, "{sod} days, old turf {old}");
    }

    /// Watered daily, sod roots within weeks; over a barrier it roots later.
    #[test]
    fn a_barrier_below_holds_sods_roots_up() {
        let depth = |walled: bool| {
            let (setting, mut state) = summer();
            if walled {
                state.deposits = Default::default();
                barrier::lay(&mut state, &setting, ActiveId(0), 1.0, Carrier::Granule, 0.2);
                for _ in 0..3 {
                    state.day(&setting, &sky(18.0), &[Act::Wet { water_mm: 12.0 }]);
                }
            }
            lay_sod(&mut state, &setting, BLUEGRASS);
            let first = state.stocks(&setting);
            assert!(first.iter().all(|stock| stock.is_finite()));
            for _ in 0..25 {
                state.day(&setting, &sky(18.0), &[Act::Wet { water_mm: 5.0 }]);
            }
            assert!(state.ledger.carbon.worst_share() < 1e-9);
            assert!(state.ledger.nitrogen.worst_share() < 1e-9);
            state.evening.root_depth_mm
        };
        let (free, walled) = (depth(false), depth(true));
        assert!(free > 60.0 && walled < 0.8 * free, "{free} mm, over a barrier {walled}");
    }
}
