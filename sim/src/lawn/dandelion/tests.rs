//! What dandelions do when a single thing is changed.

use super::super::mowing;
use super::super::tests_support::{facts, sky};
use super::super::{LawnDraw, Setting, State};
use super::*;
use crate::parameters::Catalogue;
use crate::work::Clippings;

/// A lawn of some turf cover with some dandelion, at the constants' middle.
fn lawn(turf_cover: f64, dandelion: f64) -> (Setting, State) {
    let facts = facts();
    let draw = LawnDraw {
        turf_cover,
        crabgrass_last_august: 0.0,
        seed_bank_m2: Some(0.0),
        dandelion: Some(dandelion),
        organic_matter: 0.03,
        ..LawnDraw::expected(&facts)
    };
    let setting = Setting::new(&Catalogue::embedded().central(), &draw);
    let state = State::initial(&setting, &draw);
    (setting, state)
}

/// Water, nitrogen and carbon as they were: a move within the lawn changes none.
fn same_stocks(before: [f64; 3], after: [f64; 3]) {
    for (a, b) in before.iter().zip(after) {
        assert!((a - b).abs() < 1e-9 * a.max(1.0), "{before:?} {after:?}");
    }
}

/// Seed that comes down on bare, moist, mild ground: 1-5 % of it comes up, in a line with the seed
/// (Honek et al. 2009: 3 %).
#[test]
fn a_few_in_a_hundred_seeds_come_up() {
    let up = |seed: f64| {
        let (setting, mut state) = lawn(0.0, 0.0);
        state.dandelion.seed = seed * setting.p.dandelion.entry_share;
        for _ in 0..200 {
            (state.seedbed, state.today.seedbed_wet) = (0.8, 0.9);
            seed::germinate(&mut state, &setting, &sky(14.0), &[0.0; 4]);
        }
        state.dandelion.emerged / seed
    };
    assert!((0.01..0.05).contains(&up(5000.0)), "{}", up(5000.0));
    assert!((up(5000.0) - up(500.0)).abs() < 1e-9);
}

/// Seed shed in 30 days of flowering at a temperature, cut low every so many days (0: not).
fn shed(t_c: f64, every_days: u32) -> f64 {
    let (mut setting, mut state) = lawn(0.5, 0.2);
    setting.p.dandelion.arrivals_m2 = 0.0;
    let spring = Sky { day_of_year: 130, day_length_h: 14.2, ..sky(t_c) };
    let summer = Sky { day_length_h: 15.2, ..spring };
    for day in 1..=60 {
        // No new heads after a month.
        let today = if day <= 30 { spring } else { summer };
        state.dandelion.stands[0].tissue.reserves = 10.0;
        seed::ripen(&mut state, &setting, &today);
        if every_days > 0 && day % every_days == 0 {
            seed::mow_heads(&mut state, &setting, 30.0, false);
        }
    }
    state.dandelion.seed_rain
}

/// Seed is viable 6 days after flowering in spring (about 14 C), 3 days in summer: a cut every 5
/// days stops it in spring, one every week does not quite, and in summer 5 days are too long
/// (Martinkova et al. 2011).
#[test]
fn only_frequent_cuts_stop_seed() {
    assert!(shed(14.0, 0) > 100.0);
    assert_eq!(shed(14.0, 5), 0.0);
    let weekly = shed(14.0, 7);
    assert!(weekly > 0.0 && weekly < 0.25 * shed(14.0, 0), "{weekly}");
    assert!(shed(24.0, 6) > 0.0);
    assert_eq!(shed(24.0, 3), 0.0);
}

/// A taproot puts its leaf up again; what is killed stays dead. Nothing of it is lost on the way.
#[test]
fn it_comes_again_from_the_root() {
    let (setting, mut state) = lawn(0.5, 0.2);
    let before = state.stocks(&setting);
    let whole = state.clone();
    burn(&mut state, &setting, 1.0);
    same_stocks(before, state.stocks(&setting));
    assert_eq!(state.dandelion.leaf_area(&setting), 0.0);
    assert_eq!(state.dandelion.plants(), whole.dandelion.plants());
    let mild = sky(18.0);
    for _ in 0..45 {
        state.water = setting.layers.map(|layer| layer.fc_mm);
        state.day(&setting, &mild, &[]);
    }
    assert!(state.dandelion.leaf_area(&setting) > whole.dandelion.leaf_area(&setting));
    let mut killed = whole.clone();
    kill(&mut killed, &setting, 0.7);
    same_stocks(before, killed.stocks(&setting));
    assert!((killed.dandelion.plants() / whole.dandelion.plants() - 0.3).abs() < 1e-9);
}

/// A rosette lies flat: a cut at the usual height takes a little of its leaf and much of the grass's.
#[test]
fn a_mower_passes_over_it() {
    let (setting, mut state) = lawn(0.5, 0.2);
    state.set_canopy(&setting, 100.0);
    let (leaf, grass) = (state.dandelion.leaf_area(&setting), state.plants[0].leaf);
    let before = state.stocks(&setting);
    mowing::cut(&mut state, &setting, &sky(18.0), 60.0, Clippings::Return);
    same_stocks(before, state.stocks(&setting));
    assert!(state.dandelion.leaf_area(&setting) > 0.9 * leaf);
    assert!(state.plants[0].leaf < 0.8 * grass);
}

/// What the walk-round saw comes back in a mild, moist spell.
#[test]
fn the_cover_that_was_seen_is_that_of_the_growing_season() {
    let (setting, mut state) = lawn(0.6, 0.08);
    assert!(state.dandelion.cover < 0.08);
    for _ in 0..40 {
        state.water = setting.layers.map(|layer| layer.fc_mm);
        state.day(&setting, &sky(14.0), &[]);
    }
    assert!((0.06..0.11).contains(&state.dandelion.cover), "{}", state.dandelion.cover);
}

/// Not stated, not played.
#[test]
fn a_lawn_without_it_stays_without() {
    let (setting, mut state) = super::super::tests_support::lawn();
    for _ in 0..60 {
        state.day(&setting, &sky(16.0), &[]);
    }
    assert_eq!(state.dandelion, Dandelion::default());
}
