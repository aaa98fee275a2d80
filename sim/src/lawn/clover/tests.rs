//! What clover does when a single thing is changed.

use super::super::tests_support::{facts, sky};
use super::super::{LawnDraw, Setting, State};
use super::*;
use crate::parameters::Catalogue;

fn lawn(turf_cover: f64, clover: f64) -> (Setting, State) {
    let facts = facts();
    let draw = LawnDraw {
        turf_cover,
        crabgrass_last_august: 0.0,
        seed_bank_m2: Some(0.0),
        clover: Some(clover),
        organic_matter: 0.03,
        ..LawnDraw::expected(&facts)
    };
    let setting = Setting::new(&Catalogue::embedded().central(), &draw);
    let state = State::initial(&setting, &draw);
    (setting, state)
}

/// Plays so many warm days with a full soil and so much mineral nitrogen in it every morning.
fn play(state: &mut State, setting: &Setting, days: u32, mineral_g_m2: f64) {
    for _ in 0..days {
        state.water = setting.layers.map(|layer| layer.fc_mm);
        state.ammonium = mineral_g_m2;
        state.nitrate = [0.0; super::super::LAYERS];
        state.open_books(setting);
        state.day(setting, &sky(20.0), &[]);
        assert!(state.ledger.nitrogen.worst_share() < 1e-9);
        assert!(state.ledger.carbon.worst_share() < 1e-9);
    }
}

/// It lives without a grain of mineral nitrogen, out of the air; where the soil has plenty it takes
/// less from the air (Sincik & Acikgoz 2007: direction).
#[test]
fn the_air_feeds_it_where_the_soil_does_not() {
    let run = |mineral: f64| {
        let (setting, mut state) = lawn(0.5, 0.3);
        let before = state.clover.tissue.base;
        play(&mut state, &setting, 90, mineral);
        let c = state.clover;
        (c.tissue.base / before, c.fixed_n / (c.fixed_n + c.taken_n))
    };
    let (hungry, fed) = (run(0.0), run(10.0));
    assert!(hungry.0 > 1.2, "{hungry:?}");
    assert!(hungry.1 > 0.8 && fed.1 < 0.75, "{hungry:?} {fed:?}");
}

/// What it fixed reaches the soil when it dies.
#[test]
fn dead_clover_feeds_the_soil() {
    let (setting, mut state) = lawn(0.5, 0.3);
    let before = state.stocks(&setting);
    let litter = state.litter.n + state.root_litter.n;
    let held = state.clover.stock(&setting).n;
    kill(&mut state, &setting, 0.5);
    for (a, b) in before.iter().zip(state.stocks(&setting)) {
        assert!((a - b).abs() < 1e-9 * a.max(1.0));
    }
    assert!((state.litter.n + state.root_litter.n - litter - 0.5 * held).abs() < 1e-9);
    burn(&mut state, &setting, 1.0);
    assert_eq!(state.clover.leaf_area(&setting), 0.0);
    assert!(state.clover.tissue.base > 0.0);
}

/// Stolons branch less where the turf about them is dark (from memory; the way in which fed grass
/// holds it back).
#[test]
fn dark_turf_holds_stolons_back() {
    let branching_under = |leaf: f64| {
        let (setting, mut state) = lawn(0.8, 0.1);
        state.plants[0].leaf = leaf;
        branching(&state, &setting)
    };
    assert!(branching_under(150.0) < 0.7 * branching_under(30.0));
}

/// It thins in a drought and in hard frost without snow.
#[test]
fn drought_and_hard_frost_thin_it() {
    let left = |dry: bool, t_c: f64| {
        let (setting, mut state) = lawn(0.5, 0.3);
        let before = state.clover.tissue.base;
        for _ in 0..60 {
            if dry {
                state.water = setting.layers.map(|layer| layer.wp_mm);
            }
            state.day(&setting, &sky(t_c), &[]);
        }
        state.clover.tissue.base / before
    };
    assert!(left(true, 22.0) < 0.8 * left(false, 22.0));
    assert!(left(false, -15.0) < 0.6, "{}", left(false, -15.0));
}
