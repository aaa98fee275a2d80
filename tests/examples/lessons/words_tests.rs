//! The words must follow the numbers: made-up differences of either sign.

use super::super::played::{Pair, TOLD};
use super::super::trials::{Cell, Lesson};
use super::*;
use sim::ensemble::paired;
use sim::outcomes::{OUTCOMES, outcome};

/// A cell in which every outcome of every member differs by `by` times its least difference.
fn cell(at: &[&str], by: f64) -> Cell {
    let kinds: Vec<OutcomeKind> =
        TOLD.iter().map(|key| OUTCOMES[outcome(key).unwrap_or_default()]).collect();
    let base = vec![50.0; 300];
    let contrasts = kinds.iter().map(|kind| {
        let ours: Vec<f64> = base.iter().map(|b| b + by * kind.least_difference).collect();
        paired(kind, &ours, &base)
    });
    let contrasts = contrasts.collect();
    let pair = Pair { base: vec![50.0; TOLD.len()], contrasts, kinds, members: 300 };
    Cell { at: at.iter().map(|s| (*s).to_owned()).collect(), pair }
}

fn lesson(cells: Vec<Cell>) -> Lesson {
    Lesson {
        factors: vec!["a", "b"],
        cells,
        context: vec![],
        notes: vec![],
        record_years: 4,
        seasons: 2,
    }
}

const SPEECH: Speech = Speech { choice: "Doing it twice", tried: "ways", base: "done once" };

#[test]
fn words_turn_round_with_the_numbers() {
    let grid = |sign: f64| lesson(vec![cell(&["x", "1"], sign * 2.0), cell(&["y", "1"], 0.0)]);
    let less = opening(&grid(-1.0), &SPEECH);
    let more = opening(&grid(1.0), &SPEECH);
    assert!(less.contains("tried? In 1, it helps; in 1, it makes no difference"), "{less}");
    assert!(more.contains("tried? In 1, it hurts; in 1, it makes no difference"), "{more}");
    assert!(less.contains("\n- It helps (better in 10 of 10 runs): x."), "{less}{more}");
    assert!(more.contains("\n- It hurts (worse in 10 of 10 runs): x."), "{more}");
    assert!(!less.contains("- It hurts") && !more.contains("- It helps"), "{less}{more}");
}

#[test]
fn one_answer_everywhere_is_told_once() {
    let told = opening(&lesson(vec![cell(&["x", "1"], 0.1), cell(&["x", "2"], -0.1)]), &SPEECH);
    assert!(told.contains("tried? It makes no difference that matters, in all 2."), "{told}");
    assert!(told.contains("It makes no difference that matters: everywhere"), "{told}");
}

/// Crabgrass is better when less: 60 of 300 members touched, by twice the least difference.
#[test]
fn a_minority_that_is_touched_is_spoken_of() {
    let kind = OUTCOMES[outcome(TOLD[0]).unwrap_or_default()];
    let judged_with = |touched: [f64; 300]| {
        let mut cell = cell(&["x"], 0.0);
        let ours: Vec<f64> = touched.iter().map(|t| 50.0 + t * kind.least_difference).collect();
        cell.pair.contrasts[0] = paired(&kind, &ours, &[50.0; 300]);
        judged(&cell.pair, 0)
    };
    let mut some = [0.0; 300];
    some[..60].fill(-2.0);
    assert_eq!(judged_with(some), Sort::HelpsAtTimes);
    some[..60].fill(2.0);
    assert_eq!(judged_with(some), Sort::HurtsAtTimes);
    some[60..120].fill(-2.0);
    assert_eq!(judged_with(some), Sort::BothWays);
    assert_eq!(judged_with([-2.0; 300]), Sort::Helps);
    assert_eq!(judged_with([0.5; 300]), Sort::Same);
}

#[test]
fn places_are_told_together_where_they_agree() {
    let at = |names: &[&str]| cell(names, 0.0);
    let all = [at(&["x", "1"]), at(&["x", "2"]), at(&["y", "1"]), at(&["y", "2"]), at(&["z", "1"])];
    let told =
        |picked: &[usize]| places(&picked.iter().map(|i| &all[*i]).collect::<Vec<_>>(), &all);
    assert_eq!(told(&[0, 1]), "x");
    assert_eq!(told(&[0, 2]), "x and y, 1");
    assert_eq!(told(&[0, 3]), "x, 1; y, 2");
}

#[test]
fn differences_carry_their_sign_and_nothing_has_none() {
    assert_eq!(signed(-3.26, 1), "-3.3");
    assert_eq!(signed(3.26, 0), "+3");
    assert_eq!(signed(-0.04, 1), "0.0");
}
