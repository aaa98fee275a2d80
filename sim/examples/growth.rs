//! How the cost of a lawn-day goes with members, seasons, programs and threads; and one run with a
//! fingerprint of all that it gives back, to tell whether a change of the code changed a bit of it.
//!
//! ```sh
//! cargo run --release -p swardplay-sim --example growth               # the table
//! cargo run --release -p swardplay-sim --example growth -- demo 200 1 # scenario, members, threads
//! ```
//!
//! Times are processor time where the system tells it (Linux: of all threads, to 10 ms), which other
//! work on the machine stretches less than the clock on the wall.
use sim::ensemble::{Continue, Results, RunPlan, run, run_explained};
use sim::parameters::Catalogue;
use sim::scenario::{Scenario, check};
use sim::weather::{Record, Site, read_daily_csv};
use std::time::Instant;

const SEED: u64 = 1;

/// A row of the table is tried again until so much time is gone, s, or so many times.
const TRIES_S: f64 = 6.0;
const MOST_TRIES: usize = 9;
const DEMO: &str = include_str!("../../scenarios/thin-front-lawn.toml");
const WEEDS: &str = include_str!("../../scenarios/clover-nutsedge-lawn.toml");
const PRODUCTS: &str = include_str!("../../scenarios/products.toml");
const JFK: &str = include_str!("../../scenarios/weather/jfk_2012_2015.csv");

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let world = World::new();
    if let [name, members, threads] = args.as_slice() {
        let text = if name == "demo" { DEMO } else { WEEDS };
        let scenario = scenario(text);
        let ask = Ask {
            members: members.parse().expect("members is a number"),
            threads: threads.parse().expect("threads is a number"),
        };
        world.once(&scenario, ask);
    } else {
        world.table();
    }
}

fn scenario(text: &str) -> Scenario {
    check(text, PRODUCTS).expect("the scenario is sound").scenario
}

#[derive(Clone, Copy)]
struct Ask {
    members: u32,
    threads: usize,
}

struct World {
    record: Record,
    catalogue: Catalogue,
}

impl World {
    fn new() -> World {
        let site = Site { latitude_deg: 40.639, elevation_m: 3.0 };
        let record = read_daily_csv(JFK, "jfk", Some(site)).expect("the carried record reads");
        World { record: record.record, catalogue: Catalogue::embedded() }
    }

    fn plan<'a>(&'a self, scenario: &'a Scenario, ask: Ask) -> RunPlan<'a> {
        RunPlan {
            scenario,
            record: &self.record,
            so_far: None,
            catalogue: &self.catalogue.entries,
            members: ask.members,
            seed: SEED,
            threads: ask.threads,
            keep_tracks: false,
        }
    }

    /// One run, as `play` does it and without what it explains, each with its fingerprint.
    fn once(&self, scenario: &Scenario, ask: Ask) {
        let plan = self.plan(scenario, ask);
        let plain = Clock::start();
        let results = run(&plan, &self.catalogue, &|_| Continue::Yes).expect("it runs");
        println!(
            "run        {}  {:016x}",
            plain.per_lawn_day(scenario, ask),
            fingerprint(&results)
        );
        let explained = Clock::start();
        let again = run_explained(&plan, &self.catalogue, &|_| Continue::Yes).expect("it runs");
        println!(
            "explained  {}  {:016x}",
            explained.per_lawn_day(scenario, ask),
            fingerprint(&again)
        );
    }

    fn table(&self) {
        let demo = scenario(DEMO);
        let base = Ask { members: 1000, threads: 1 };
        println!("members, seasons, programs, threads: ns a lawn-day, best and middle");
        for members in [100, 1000, 10_000, 100_000] {
            self.row(&demo, 1, if members > 10_000 { 1 } else { 2 }, Ask { members, ..base });
        }
        for seasons in [1, 2, 5, 10, 20] {
            self.row(&demo, seasons, 2, Ask { members: 200, ..base });
        }
        for programs in [1, 4, 16, 64] {
            self.row(&demo, 2, programs, Ask { members: 100, ..base });
        }
        for threads in [1, 2] {
            self.row(&demo, 2, 3, Ask { threads, ..base });
        }
    }

    /// One line of the table: the demo with so many seasons, and its programs over and over until
    /// there are so many.
    fn row(&self, demo: &Scenario, seasons: u32, programs: usize, ask: Ask) {
        let mut scenario = demo.clone();
        scenario.seasons = seasons;
        scenario.programs =
            (0..programs).map(|k| demo.programs[k % demo.programs.len()].clone()).collect();
        let begun = Instant::now();
        let mut tries: Vec<(f64, f64)> = Vec::new();
        while tries.is_empty()
            || tries.len() < MOST_TRIES && begun.elapsed().as_secs_f64() < TRIES_S
        {
            let clock = Clock::start();
            run(&self.plan(&scenario, ask), &self.catalogue, &|_| Continue::Yes).expect("it runs");
            tries.push(clock.spent());
        }
        let lawn_days = lawn_days(&scenario, ask);
        let best_and_middle = |of: fn(&(f64, f64)) -> f64| {
            let mut all: Vec<f64> = tries.iter().map(of).collect();
            all.sort_by(f64::total_cmp);
            (1e9 * all[0] / lawn_days, 1e9 * all[all.len() / 2] / lawn_days)
        };
        let ((best, usual), (wall, usual_wall)) =
            (best_and_middle(|t| t.0), best_and_middle(|t| t.1));
        let Ask { members, threads } = ask;
        println!(
            "{members:>7} {seasons:>3} {programs:>3} {threads:>2}  processor {best:5.0} {usual:5.0}  \
             wall {wall:5.0} {usual_wall:5.0}  of {} tries",
            tries.len()
        );
    }
}

/// Time on the wall and of the processor since a moment.
struct Clock {
    wall: Instant,
    processor_s: Option<f64>,
}

impl Clock {
    fn start() -> Clock {
        Clock { wall: Instant::now(), processor_s: processor_s() }
    }

    /// Of the processor and on the wall, s.
    fn spent(&self) -> (f64, f64) {
        let wall = self.wall.elapsed().as_secs_f64();
        (self.processor_s.zip(processor_s()).map_or(wall, |(from, to)| to - from), wall)
    }

    fn per_lawn_day(&self, scenario: &Scenario, ask: Ask) -> String {
        let (spent, wall) = self.spent();
        let each = 1e9 * spent / lawn_days(scenario, ask);
        format!("{spent:8.2} s {each:6.0} ns a lawn-day, {wall:8.2} s")
    }
}

fn lawn_days(scenario: &Scenario, ask: Ask) -> f64 {
    let days = 365.0 * f64::from(scenario.seasons) * scenario.programs.len() as f64;
    days * f64::from(ask.members)
}

/// Processor time of all threads of this process so far, s.
fn processor_s() -> Option<f64> {
    const TICKS_PER_S: f64 = 100.0;
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // After the name in brackets: the state, then numbers, of which the 11th and 12th are the ticks
    // spent in user and in system mode.
    let mut fields = stat.rsplit(')').next()?.split_whitespace().skip(11);
    let mut ticks = || fields.next()?.parse::<f64>().ok();
    Some((ticks()? + ticks()?) / TICKS_PER_S)
}

/// A hash (FNV-1a) of bands, outcomes, ledgers, differences, work and spread, bit by bit.
fn fingerprint(results: &Results) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325u64;
    let mut take = |bits: u64| {
        for byte in bits.to_le_bytes() {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    };
    for program in &results.programs {
        let bands = program.bands.iter();
        for band in bands.flat_map(|b| [&b.p05, &b.p25, &b.p50, &b.p75, &b.p95, &b.mean]) {
            band.iter().for_each(|value| take(value.to_bits()));
        }
        program.outcomes.iter().flatten().for_each(|value| take(value.to_bits()));
        for account in program.ledgers.iter().flatten() {
            [account.entered, account.left, account.stored_change, account.worst_day]
                .iter()
                .for_each(|value| take(value.to_bits()));
        }
        for entry in program.work.iter().flatten() {
            take(u64::from(entry.day.0.unsigned_abs()));
            take(entry.cost.to_bits());
        }
    }
    for difference in &results.differences {
        difference.band.mean.iter().for_each(|value| take(value.to_bits()));
    }
    for shares in results.spread.iter().flatten() {
        [shares.weather, shares.lawn, shares.slips].iter().for_each(|v| take(v.to_bits()));
    }
    hash
}
