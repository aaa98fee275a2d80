//! The words of a run, checked on fabricated results.

#[path = "fabricated/results.rs"]
mod fabricated;

use sim::ensemble::Results;
use sim::parameters::{Entry, Spread};
use swardplay::units::Units;
use swardplay::words::choice::{Verdict, verdict};
use swardplay::words::summary::{Told, summary};

fn told(results: &Results) -> String {
    let entry = |grade| Entry {
        name: "a.b".into(),
        value: 1.0,
        spread: Spread::Fixed,
        unit: "1".into(),
        source: String::new(),
        grade,
    };
    summary(&Told {
        results,
        scenario: &fabricated::scenario(),
        units: Units::Us,
        catalogue: &[entry('A'), entry('D')],
        cautions: &[],
        folder: "out",
        files: &["outcomes.csv".to_string()],
    })
}

#[test]
fn a_summary_reads_like_this() {
    print!("{}", told(&fabricated::results(1000)));
    print!("{}", told(&fabricated::results(5)));
}
