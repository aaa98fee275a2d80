//! Scenarios played on the carried record with every track kept, and the audit of what they bring.

use std::sync::LazyLock;

use sim::ensemble::{Continue, MEASURES, Results, RunPlan, measure, run};
use sim::parameters::Catalogue;
use sim::scenario::{Checked, check};
use sim::weather::Record;
use swardplay::carried;

static JFK: LazyLock<Record> = LazyLock::new(|| {
    carried::station("jfk").expect("a carried record").read().expect("it reads").record
});

/// A practice as a scenario writes it.
pub fn practice(key: &str, what: &str, keys: &str) -> String {
    format!("[[program.practice]]\nkey = \"{key}\"\ndo = \"{what}\"\n{keys}\n")
}

/// A scenario without faults.
pub fn checked(text: &str) -> Checked {
    check(text, carried::PRODUCTS).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// Plays it; the books close every day and every measure is a number.
pub fn play(text: &str, members: u32) -> Results {
    let checked = checked(text);
    let catalogue = Catalogue::embedded();
    let plan = RunPlan {
        scenario: &checked.scenario,
        record: &JFK,
        so_far: None,
        catalogue: &catalogue.entries,
        members,
        seed: 3,
        threads: 0,
        keep_tracks: true,
    };
    let results = run(&plan, &catalogue, &|_| Continue::Yes).expect("a run");
    for program in &results.programs {
        for account in program.ledgers.iter().flatten() {
            assert!(account.worst_day < 1e-6, "{}: {account:?}", program.id);
        }
        for rows in program.tracks.iter().flatten() {
            assert!(rows.iter().all(|value| value.is_finite()), "{}", program.id);
        }
    }
    results
}

/// A measure on a day of the run, member by member.
pub fn on(results: &Results, program: usize, key: &str, day: usize) -> Vec<f32> {
    let column = measure(key).expect("a measure");
    let tracks = results.programs[program].tracks.as_ref().expect("tracks");
    tracks.iter().map(|rows| rows[day * MEASURES.len() + column]).collect()
}
