//! What a lawn-day costs, whole and by process, over a year at Kennedy airport;
//! `cargo bench -p swardplay-sim --bench lawn`.
//!
//! A process is timed on a copy of each evening's lawn, so that its inputs are those of a real
//! year; `copy_alone` is in every figure of `process` and has to be taken off. What a year costs
//! above the sum of its processes is the day's acts and readings.
#[path = "../../tests/support/mod.rs"]
mod support;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use sim::ensemble::MEASURES;
use sim::lawn::warmth::Warmth;
use sim::lawn::{Setting, State, measures};
use sim::lawn::{
    barrier, burn, clover, crabgrass, cultivation, dandelion, growth, iron, mowing, nitrogen,
    nutsedge, organic, quality, renovation, room, seedbed, seeding, tillers, water,
};
use sim::weather::Sky;
use sim::work::Act;
use support::{CATALOGUE, JFK, Place, loam, sky_path, usual};

fn main() {
    divan::main();
}

/// One lawn, its year's skies and acts.
struct Year {
    setting: Setting,
    start: State,
    skies: Vec<Sky>,
    acts: Vec<Vec<Act>>,
}

fn year(place: Place) -> Year {
    let p = CATALOGUE.central();
    let skies = sky_path(&JFK, &p, |_| {})[..366].to_vec();
    let (setting, start) = place.start(&p);
    let today = |sky: &Sky| {
        let mut acts = Vec::new();
        usual(sky, &mut acts);
        acts
    };
    let acts = skies.iter().map(today).collect();
    Year { setting, start, skies, acts }
}

/// 55 % turf and 5,000 seeds per m2: crabgrass all summer, in spite of the barrier.
fn weedy() -> Year {
    year(loam().with(|l| (l.turf_cover, l.seed_bank_m2) = (0.55, Some(5000.0))))
}

/// Every kind of weed that the model has.
fn full_of_weeds() -> Year {
    year(loam().with(|l| {
        (l.turf_cover, l.seed_bank_m2) = (0.55, Some(5000.0));
        (l.dandelion, l.clover, l.nutsedge) = (Some(0.1), Some(0.1), Some(0.1));
    }))
}

fn clean() -> Year {
    year(loam().with(|l| l.seed_bank_m2 = Some(0.0)))
}

fn play(year: &Year) -> State {
    let mut state = year.start.clone();
    for (sky, acts) in year.skies.iter().zip(&year.acts) {
        black_box(state.day(&year.setting, sky, acts));
    }
    state
}

#[divan::bench]
fn year_without_crabgrass(bencher: Bencher) {
    let year = clean();
    bencher.counter(ItemsCount::new(year.skies.len())).bench_local(|| play(&year));
}

#[divan::bench]
fn year_with_crabgrass(bencher: Bencher) {
    let year = weedy();
    bencher.counter(ItemsCount::new(year.skies.len())).bench_local(|| play(&year));
}

#[divan::bench]
fn year_with_every_weed(bencher: Bencher) {
    let year = full_of_weeds();
    bencher.counter(ItemsCount::new(year.skies.len())).bench_local(|| play(&year));
}

/// As the ensemble plays it: a row of measures each evening.
#[divan::bench]
fn year_with_crabgrass_and_measures(bencher: Bencher) {
    let year = weedy();
    let mut row = [0f32; MEASURES.len()];
    bencher.counter(ItemsCount::new(year.skies.len())).bench_local(|| {
        let mut state = year.start.clone();
        for (sky, acts) in year.skies.iter().zip(&year.acts) {
            black_box(state.day(&year.setting, sky, acts));
            measures::fill(&state, &year.setting, &mut row);
            black_box(&row);
        }
    });
}

/// A year with one grass.
#[divan::bench]
fn year_of_one_grass(bencher: Bencher) {
    let year = year(loam().with(|l| {
        l.seed_bank_m2 = Some(0.0);
        l.lawn.grasses.truncate(1);
        l.lawn.grasses[0].1 = 1.0;
    }));
    bencher.counter(ItemsCount::new(year.skies.len())).bench_local(|| play(&year));
}

/// One process on every evening of the year full of weeds.
fn process(bencher: Bencher, run: impl Fn(&mut State, &Setting, &Sky)) {
    let year = full_of_weeds();
    let mut state = year.start.clone();
    let mut evenings = Vec::with_capacity(year.skies.len());
    for (sky, acts) in year.skies.iter().zip(&year.acts) {
        state.day(&year.setting, sky, acts);
        evenings.push(state.clone());
    }
    bencher.counter(ItemsCount::new(evenings.len())).bench_local(|| {
        for (evening, sky) in evenings.iter().zip(&year.skies) {
            state.clone_from(evening);
            run(&mut state, &year.setting, sky);
            black_box(&mut state);
        }
    });
}

#[divan::bench]
fn copy_alone(bencher: Bencher) {
    process(bencher, |_, _, _| {});
}

#[divan::bench]
fn process_warmth(bencher: Bencher) {
    process(bencher, |_, setting, sky| {
        black_box(Warmth::of(setting, sky));
    });
}

#[divan::bench]
fn process_water(bencher: Bencher) {
    process(bencher, water::step);
}

#[divan::bench]
fn process_seedbed(bencher: Bencher) {
    process(bencher, seedbed::step);
}

/// With the day's microbial activity.
#[divan::bench]
fn process_nitrogen(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        nitrogen::step(state, setting, sky, organic::activity(state, setting, sky));
    });
}

/// With the day's microbial activity.
#[divan::bench]
fn process_organic(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        organic::step(state, setting, organic::activity(state, setting, sky));
    });
}

/// With the day's warmth.
#[divan::bench]
fn process_growth(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        growth::step(state, setting, sky, &Warmth::of(setting, sky));
    });
}

/// With the day's warmth.
#[divan::bench]
fn process_tillers(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        tillers::step(state, setting, sky, &Warmth::of(setting, sky));
    });
}

/// With the day's warmth.
#[divan::bench]
fn process_recover(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        mowing::recover(state, setting, &Warmth::of(setting, sky));
    });
}

#[divan::bench]
fn process_barrier(bencher: Bencher) {
    process(bencher, barrier::step);
}

#[divan::bench]
fn process_crabgrass(bencher: Bencher) {
    process(bencher, crabgrass::step);
}

/// With the day's warmth.
#[divan::bench]
fn process_dandelion(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        dandelion::step(state, setting, sky, &Warmth::of(setting, sky));
    });
}

/// With the day's warmth.
#[divan::bench]
fn process_clover(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        clover::step(state, setting, sky, &Warmth::of(setting, sky));
    });
}

#[divan::bench]
fn process_nutsedge(bencher: Bencher) {
    process(bencher, nutsedge::step);
}

/// Nothing is sown in this year: what the process costs when there is nothing for it to do.
#[divan::bench]
fn process_sown_grass_idle(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        seeding::step(state, setting, sky, &Warmth::of(setting, sky));
    });
}

/// Burn, tools in the ground, renovation and iron, most days with nothing to do.
#[divan::bench]
fn process_burn_and_ground_work(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        burn::step(state, setting, sky);
        cultivation::step(state, setting);
        renovation::step(state, setting);
        iron::step(state, setting);
    });
}

#[divan::bench]
fn process_room(bencher: Bencher) {
    process(bencher, |state, setting, _| room::step(state, setting));
}

#[divan::bench]
fn process_quality(bencher: Bencher) {
    process(bencher, |state, setting, _| quality::rate(state, setting));
}

#[divan::bench]
fn process_stocks(bencher: Bencher) {
    process(bencher, |state, setting, _| {
        black_box(state.stocks(setting));
    });
}

#[divan::bench]
fn process_signs(bencher: Bencher) {
    process(bencher, |state, setting, sky| {
        black_box(state.look(setting, Some(sky)));
    });
}

#[divan::bench]
fn process_measures(bencher: Bencher) {
    let mut row = [0f32; MEASURES.len()];
    let row = std::cell::RefCell::new(&mut row);
    process(bencher, |state, setting, _| {
        let mut row = row.borrow_mut();
        measures::fill(state, setting, &mut row[..]);
        black_box(&row);
    });
}
