//! What a lawn-day costs apart from the lawn: crews, outcomes, bands. Uses the toy lawn of the
//! tests; `cargo bench -p swardplay-sim --bench ensemble`.
#[path = "../tests/toy/mod.rs"]
mod toy;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use sim::draw::{Purpose, Streams, standard_normal};
use sim::ensemble::{Continue, MEASURES, RunPlan, World, bands, facts, run_with};
use sim::outcomes::Almanac;
use sim::program::{Orders, Runner};
use sim::scenario::Scenario;
use sim::season::{Lawn, Member, Script, play};
use toy::*;

fn main() {
    divan::main();
}

fn member(scenario: &Scenario, streams: &Streams, almanac: &Almanac) -> Member<Toy> {
    let catalogue = catalogue();
    let constants = facts::Constants::new(&catalogue, &[]).expect("no override").draw(streams, 0);
    let world = ToyWorld { scenario };
    world.member(0, constants, streams, almanac).expect("a toy member")
}

/// The toy lawn by itself, to be taken off the next two.
#[divan::bench]
fn toy_lawn_alone(bencher: Bencher) {
    let (scenario, streams) = (scenario(vec![usual("p", 7)]), Streams::new(1));
    let almanac = Almanac::of_years(2026, 2);
    let member = member(&scenario, &streams, &almanac);
    let mut rows = vec![0f32; almanac.days() * MEASURES.len()];
    bencher.counter(ItemsCount::new(almanac.days())).bench_local(|| {
        let mut lawn = member.start.clone();
        for (sky, row) in member.skies.iter().zip(rows.chunks_exact_mut(MEASURES.len())) {
            black_box(lawn.day(&member.setting, sky, &[]));
            lawn.measures(&member.setting, row);
        }
    });
}

/// One track: crew, toy lawn, work log, outcomes.
#[divan::bench]
fn one_track(bencher: Bencher) {
    let (scenario, streams) = (scenario(vec![usual("p", 7)]), Streams::new(1));
    let almanac = Almanac::of_years(2026, 2);
    let member = member(&scenario, &streams, &almanac);
    let script = Script::new(&scenario, &scenario.programs[0], &almanac);
    let mut rows = vec![0f32; almanac.days() * MEASURES.len()];
    bencher
        .counter(ItemsCount::new(almanac.days()))
        .bench_local(|| play(&script, &almanac, &streams, &member, &mut rows));
}

/// The crew's mornings alone: four practices, fair weather.
#[divan::bench]
fn mornings(bencher: Bencher) {
    let scenario = scenario(vec![usual("p", 7)]);
    let (streams, almanac) = (Streams::new(1), Almanac::of_years(2026, 2));
    let (first, last) = (almanac.first(), almanac.last());
    let orders = Orders::new(&scenario.programs[0], &scenario.lawn, &scenario.slips, first, last);
    let mut jobs = Vec::with_capacity(8);
    bencher.counter(ItemsCount::new(almanac.days())).bench_local(|| {
        let mut crew = Runner::new(&orders, &streams, 0);
        for mark in almanac.marks() {
            jobs.clear();
            crew.morning(mark.day, &mild(), &fair(), &mut jobs);
            black_box(&jobs);
        }
    });
}

/// Bands over 1,000 members of all measures, a lawn-day, on every processor.
#[divan::bench(sample_count = 10)]
fn bands_of_1000_members(bencher: Bencher) {
    let days = 100;
    let mut rng = Streams::new(1).of_member(0, Purpose::Weather);
    let rows: Vec<Vec<f32>> = (0..1000)
        .map(|_| (0..days * MEASURES.len()).map(|_| standard_normal(&mut rng) as f32).collect())
        .collect();
    bencher.counter(ItemsCount::new(days * rows.len())).bench_local(|| bands(&rows, days));
}

/// A whole run: 3 programs, 500 members, 2 seasons.
#[divan::bench(sample_count = 5)]
fn whole_run(bencher: Bencher) {
    let scenario = scenario(vec![usual("a", 7), usual("b", 14), usual("c", 21)]);
    let (record, catalogue) = (record(), catalogue());
    let plan =
        RunPlan { threads: 0, keep_tracks: false, ..plan(&scenario, &record, &catalogue, 500) };
    let world = ToyWorld { scenario: &scenario };
    bencher
        .counter(ItemsCount::new(730usize * 3 * 500))
        .bench_local(|| run_with(&plan, &world, &|_| Continue::Yes));
}
