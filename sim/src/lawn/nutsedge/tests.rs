//! Nutsedge on a plain lawn: thermal time, tubers, mowing, frost, books.

use super::super::tests_support::{lawn, sky};
use super::*;
use crate::calendar::Day;
use crate::parameters::Catalogue;
use crate::work::Clippings;

/// Stoller & Wax 1973: none below 12 C.
#[test]
fn tubers_sprout_in_warm_moist_soil() {
    let up = |t_c: f64, wet: bool| {
        let (setting, mut state) = lawn();
        state.nutsedge = Nutsedge::from_tubers(&setting, 100.0);
        state.water = setting.layers.map(|l| if wet { l.fc_mm } else { l.wp_mm });
        for _ in 0..90 {
            tubers::step(&mut state, &setting, &sky(t_c));
        }
        state.nutsedge.emerged
    };
    assert_eq!(up(12.0, true), 0.0);
    assert!(up(20.0, true) > 20.0, "{}", up(20.0, true));
    assert_eq!(up(20.0, false), 0.0);
}

/// Stoller & Wax 1973: half-lives of 4.4 to 5.7 months are 0.15-0.23 a year (Illinois, sprouting
/// counted in); -7 C kills half.
#[test]
fn tubers_of_a_year_and_of_a_winter() {
    let p = Catalogue::embedded().central().nutsedge;
    let kept = (1.0 - p.sprouting_share) * p.tuber_survival;
    assert!((0.15..=0.23).contains(&kept), "{kept}");
    assert!((tubers::cold_survival(-7.0, &p) - 0.5).abs() < 1e-12);
    assert!(tubers::cold_survival(-2.0, &p) > 0.99 && tubers::cold_survival(-12.0, &p) < 0.01);
}

/// Cold kills once, by the winter's worst: two days of -7 C are no worse than one.
#[test]
fn the_same_cold_kills_once() {
    let (setting, mut state) = lawn();
    state.nutsedge = Nutsedge::from_tubers(&setting, 100.0);
    let mut left = [0.0; 3];
    for left in &mut left {
        let mut cold = sky(-7.0);
        cold.soil_10cm_c = -7.0;
        tubers::step(&mut state, &setting, &cold);
        *left = state.nutsedge.tubers;
    }
    assert!((left[0] - 50.0).abs() < 0.5, "{left:?}");
    assert!((left[1] / left[0] - 1.0).abs() < 0.01 && (left[2] / left[0] - 1.0).abs() < 0.01);
}

/// A grown stand in June or August on an open lawn.
fn stand(setting: &Setting, state: &mut State) {
    state.plants[0].cover = 0.3;
    state.nutsedge = Nutsedge::default();
    state.nutsedge.parts[0] = Stand { shoots: 100.0, area_m2: 0.004, ..Stand::default() };
    state.nutsedge.height_mm = 80.0;
    state.water = setting.layers.map(|l| l.fc_mm);
    state.today.nutsedge_ks = 1.0;
    state.ammonium = 3.0;
    state.open_books(setting);
}

/// New tubers from late June on (Pennsylvania State), none in lengthening days.
#[test]
fn tubers_are_made_in_shortening_days() {
    let made = |month: u8, day: u8, day_length_h: f64| {
        let (setting, mut state) = lawn();
        stand(&setting, &mut state);
        let day = Day::from_ymd(2013, month, day).expect("a day");
        let at = Sky { day, day_of_year: day.day_of_year(), day_length_h, ..sky(26.0) };
        shoots::grow(&mut state, &setting, &at);
        state.nutsedge.fresh
    };
    assert_eq!(made(6, 10, 15.0), 0.0);
    let (june, august) = (made(6, 28, 15.0), made(8, 10, 13.9));
    assert!(june > 0.0 && august > 3.0 * june, "{june} {august}");
}

/// Growth, mowing, frost: nothing is made or lost outside the books.
#[test]
fn the_books_close() {
    let (setting, mut state) = lawn();
    stand(&setting, &mut state);
    let close = |state: &mut State| {
        let stocks = state.stocks(&setting);
        state.ledger.nitrogen.close_day(stocks[1]);
        state.ledger.carbon.close_day(stocks[2]);
        assert!(state.ledger.nitrogen.worst_share() < 1e-9);
        assert!(state.ledger.carbon.worst_share() < 1e-9);
    };
    for day in 0..20 {
        shoots::grow(&mut state, &setting, &sky(26.0));
        if day % 5 == 0 {
            let way = if day % 2 == 0 { Clippings::Return } else { Clippings::Collect };
            mown(&mut state, &setting, 60.0, way);
            assert!(state.nutsedge.height_mm <= 60.0);
        }
        close(&mut state);
    }
    assert!(state.nutsedge.leaf_area() > 0.0);
    step(&mut state, &setting, &Sky { t_min_c: -4.0, ..sky(2.0) });
    assert_eq!(state.nutsedge.shoots(), 0.0);
    close(&mut state);
}

/// In midsummer it stands above the turf within days of a cut (extension).
#[test]
fn it_outgrows_the_turf_between_cuts() {
    let (setting, mut state) = lawn();
    stand(&setting, &mut state);
    state.plants[0].set_height(60.0, &setting.p.sward);
    state.nutsedge.height_mm = 60.0;
    for _ in 0..5 {
        shoots::grow(&mut state, &setting, &sky(26.0));
    }
    assert!(state.nutsedge.above_mm(60.0) > 15.0, "{}", state.nutsedge.height_mm);
}
