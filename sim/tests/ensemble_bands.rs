//! Bands and contrasts against published and hand-worked numbers.
mod toy;

use proptest::prelude::*;
use sim::ensemble::*;
use sim::outcomes::{Better, OUTCOMES, OutcomeKind, outcome};
use toy::*;

fn near(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-9, "{got} is not {want}");
}

/// R: `quantile(1:10)` prints 1.00 3.25 5.50 7.75 10.00; `quantile(c(1, 2, 3, 4), 0.4)` is 2.2.
/// Type 7, h = (n - 1) p + 1 (R documentation of `quantile`; Hyndman & Fan 1996).
#[test]
fn quantiles_are_rs_type_7() {
    let ten: Vec<f64> = (1..=10).map(f64::from).collect();
    let quartiles = [0.0, 0.25, 0.5, 0.75, 1.0].map(|p| quantile_sorted(&ten, p));
    for (got, want) in quartiles.into_iter().zip([1.0, 3.25, 5.5, 7.75, 10.0]) {
        near(got, want);
    }
    near(quantile_sorted(&ten[..4], 0.4), 2.2);
    near(quantile_sorted(&ten[..1], 0.95), 1.0);
    assert!(quantile_sorted(&[], 0.5).is_nan());
}

#[test]
fn a_band_of_ten_members_is_the_hand_worked_one() {
    // Members 1..10 out of order, the same value in every cell of three days.
    let order = [3.0, 9.0, 1.0, 7.0, 10.0, 2.0, 8.0, 5.0, 4.0, 6.0];
    let rows: Vec<TrackRows> =
        order.iter().map(|value| vec![*value as f32; 3 * MEASURES.len()]).collect();
    let all = bands(&rows, 3);
    assert_eq!(all.len(), MEASURES.len());
    for band in all {
        assert_eq!(band.p50.len(), 3);
        for day in 0..3 {
            near(band.p05[day], 1.45);
            near(band.p25[day], 3.25);
            near(band.p50[day], 5.5);
            near(band.p75[day], 7.75);
            near(band.p95[day], 9.55);
            near(band.mean[day], 5.5);
        }
    }
}

#[test]
fn cells_keep_their_place() {
    let cells = 7 * MEASURES.len();
    let rows: Vec<TrackRows> =
        (0..3).map(|m| (0..cells).map(|c| (c * 10 + m) as f32).collect()).collect();
    let all = bands(&rows, 7);
    for (measure, band) in all.iter().enumerate() {
        for day in 0..7 {
            near(band.p50[day], ((day * MEASURES.len() + measure) * 10 + 1) as f64);
        }
    }
    assert!(bands(&[], 2)[0].p50.iter().all(|v| v.is_nan()));
}

proptest! {
    /// Selection agrees with sorting, ties and small ensembles included; those of more than 400 members
    /// are not sorted.
    #[test]
    fn selection_agrees_with_sorting(
        values in prop_oneof![1usize..60, 401usize..900]
            .prop_flat_map(|members| prop::collection::vec(-50i8..50, members))
    ) {
        let rows: Vec<TrackRows> =
            values.iter().map(|v| vec![f32::from(*v) / 3.0; MEASURES.len()]).collect();
        let mut sorted: Vec<f64> = rows.iter().map(|row| f64::from(row[0])).collect();
        sorted.sort_by(f64::total_cmp);
        let band = &bands(&rows, 1)[5];
        let got = [band.p05[0], band.p25[0], band.p50[0], band.p75[0], band.p95[0]];
        for (got, p) in got.into_iter().zip(QUANTILES) {
            prop_assert_eq!(got, quantile_sorted(&sorted, p));
        }
    }
}

fn kind(better: Better, least_difference: f64) -> OutcomeKind {
    OutcomeKind { key: "k", label: "l", unit: "u", better, least_difference }
}

/// Student's sleep data (1908, Biometrika 6:1-25; R's `sleep`): ten patients, two drugs. The mean
/// paired difference is 1.58 h, its standard error 0.3890 (t = 4.0621 with 9 degrees of freedom).
#[test]
fn paired_differences_agree_with_student() {
    let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    let more = paired(&kind(Better::Higher, 1.0), &second, &first);
    near(more.mean, 1.58);
    assert!((more.mean / more.mean_se - 4.0621).abs() < 5e-5);
    // Differences 1.2 2.4 1.3 1.3 0.0 1.0 1.8 0.8 4.6 1.4; the sixth is 4.4 - 3.4, a hair over 1.
    assert_eq!((more.share_better, more.share_same), (0.8, 0.2));
    near(more.quantiles[2], 1.3);
    let less = paired(&kind(Better::Lower, 1.0), &second, &first);
    assert_eq!((less.share_better, less.share_same), (0.0, 0.2));
    let fact = paired(&kind(Better::Neither, 1.0), &second, &first);
    assert_eq!((fact.share_better, fact.share_same), (0.0, 0.2));
    assert_eq!(paired(&kind(Better::Lower, 1.0), &[1.0], &[3.0]).mean_se, f64::INFINITY);
}

#[test]
fn the_baseline_is_what_a_program_is_based_on() {
    let mut programs = vec![usual("a", 7), usual("b", 14), usual("c", 21), usual("d", 28)];
    programs[2].based_on = Some("b".into());
    programs[3].based_on = Some("no such program".into());
    let results: Vec<ProgramResults> = programs
        .iter()
        .enumerate()
        .map(|(at, program)| ProgramResults {
            id: program.id.clone(),
            title: String::new(),
            bands: vec![],
            outcomes: vec![vec![at as f64 * 100.0; 4]; OUTCOMES.len()],
            work: vec![],
            setbacks: vec![],
            looks: vec![],
            ledgers: vec![],
            tracks: None,
        })
        .collect();
    let all = contrasts(&programs, &results);
    let pairs: Vec<(usize, usize)> = all
        .iter()
        .filter(|c| Some(c.outcome) == outcome("cost"))
        .map(|c| (c.program, c.baseline))
        .collect();
    assert_eq!(pairs, [(1, 0), (2, 1), (3, 0)]);
    assert_eq!(all.len(), 3 * OUTCOMES.len());
    assert!(all.iter().all(|c| c.quantiles == [100.0 * (c.program - c.baseline) as f64; 5]));
}
