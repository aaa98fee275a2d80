//! The demo's run with 1,000 members, whole and by stage: `cargo bench -p swardplay-sim --bench
//! demo`. The stages are timed on one thread over fewer members; items are lawn-days, so that the
//! times of a lawn-day may be added up (members are made once for all programs: divide by them).

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use rand::RngExt;
use sim::draw::{Purpose, Streams};
use sim::ensemble::{Constants, Continue, MEASURES, RunPlan, bands, contrasts, lawn_draw, run};
use sim::lawn::{Setting, State};
use sim::outcomes::Almanac;
use sim::parameters::Catalogue;
use sim::scenario::{Scenario, check};
use sim::season::{Lawn, Member, Script, play};
use sim::weather::{Record, Resampler, Site, SiteTables, read_daily_csv, skies_at};
use sim::work::Act;
use std::sync::LazyLock;

const MEMBERS: u32 = 1000;
/// Members of the stages.
const FEW: u32 = 32;
const SEED: u64 = 1;

static SCENARIO: LazyLock<Scenario> = LazyLock::new(|| {
    let text = include_str!("../../scenarios/thin-front-lawn.toml");
    let products = include_str!("../../scenarios/products.toml");
    let mut scenario = check(text, products).expect("the demo is sound").scenario;
    // The figures to compare with are of three programs.
    scenario.programs.truncate(3);
    scenario
});

static RECORD: LazyLock<Record> = LazyLock::new(|| {
    let text = include_str!("../../scenarios/weather/jfk_2012_2015.csv");
    let site = Site { latitude_deg: 40.639, elevation_m: 3.0 };
    read_daily_csv(text, "jfk", Some(site)).expect("the carried record reads").record
});

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(Catalogue::embedded);

fn main() {
    divan::main();
}

fn plan(threads: usize) -> RunPlan<'static> {
    RunPlan {
        scenario: &SCENARIO,
        record: &RECORD,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: MEMBERS,
        seed: SEED,
        threads,
        keep_tracks: false,
    }
}

fn almanac() -> Almanac {
    Almanac::of_years(SCENARIO.first_year, SCENARIO.seasons)
}

/// Lawn-days of so many members under all programs.
fn lawn_days(members: u32) -> ItemsCount {
    ItemsCount::new(almanac().days() * SCENARIO.programs.len() * members as usize)
}

/// The whole run: members, tracks, outcomes, bands, contrasts.
#[divan::bench(args = [1, 2], sample_count = 7, sample_size = 1)]
fn a_whole_run_of_1000_members(bencher: Bencher, threads: usize) {
    let plan = plan(threads);
    bencher
        .counter(lawn_days(MEMBERS))
        .bench_local(|| run(&plan, &CATALOGUE, &|_| Continue::Yes).expect("the demo runs"));
}

/// What members are made of, as the ensemble makes them.
struct Maker {
    constants: Constants<'static>,
    streams: Streams,
    resampler: Resampler,
    tables: SiteTables,
    almanac: Almanac,
}

impl Maker {
    fn new() -> Maker {
        Maker {
            constants: Constants::new(&CATALOGUE.entries, &SCENARIO.overrides).expect("no fault"),
            streams: Streams::new(SEED),
            resampler: Resampler::new(&RECORD).expect("the record has whole years"),
            tables: SiteTables::new(&RECORD.site, RECORD.anemometer_m),
            almanac: almanac(),
        }
    }

    fn member(&self, number: u32) -> Member<State> {
        let parameters = CATALOGUE.parameters(&self.constants.draw(&self.streams, number));
        let drawn = lawn_draw(&SCENARIO.lawn, &self.streams, number);
        let mut luck = self.streams.of_member(number, Purpose::Weather);
        let (first, seasons) = (SCENARIO.first_year, SCENARIO.seasons);
        let days = self.resampler.draw(SCENARIO.weather.plan, first, seasons, &mut luck);
        let days = days.expect("the record serves the demo");
        let mut luck = self.streams.of_member(number, Purpose::Forecast);
        let mut uniform = || luck.random::<f64>();
        let first = self.almanac.first();
        let skies = skies_at(&days, first, &self.tables, &parameters.weather, &mut uniform);
        let setting = Setting::new(&parameters, &drawn);
        let start = State::initial(&setting, &drawn);
        Member { number, setting, start, skies, past: None }
    }

    fn members(&self) -> Vec<Member<State>> {
        (0..FEW).map(|number| self.member(number)).collect()
    }

    fn scripts(&self) -> Vec<Script<'static>> {
        SCENARIO.programs.iter().map(|p| Script::new(&SCENARIO, p, &self.almanac)).collect()
    }

    fn row(&self) -> Vec<f32> {
        vec![0.0; self.almanac.days() * MEASURES.len()]
    }
}

/// Stage 1: draws and weather, once a member for all programs.
#[divan::bench]
fn stage_1_draws_and_weather(bencher: Bencher) {
    let maker = Maker::new();
    bencher.counter(lawn_days(FEW)).bench_local(|| black_box(maker.members()));
}

/// Stage 2: the lawn and its measures, with the acts that the crews did.
#[divan::bench]
fn stage_2_lawn(bencher: Bencher) {
    let maker = Maker::new();
    let members = maker.members();
    let scripts = maker.scripts();
    let mut row = maker.row();
    // acts[member][program][day]
    let acts: Vec<Vec<Vec<Vec<Act>>>> = members
        .iter()
        .map(|member| {
            let days = |script| {
                let track = play(script, &maker.almanac, &maker.streams, member, &mut row);
                let mut days = vec![vec![]; maker.almanac.days()];
                for entry in track.work {
                    days[(entry.day.0 - maker.almanac.first().0) as usize].push(entry.act);
                }
                days
            };
            scripts.iter().map(days).collect()
        })
        .collect();
    bencher.counter(lawn_days(FEW)).bench_local(|| {
        for (member, programs) in members.iter().zip(&acts) {
            for days in programs {
                let mut lawn = member.start.clone();
                let rows = row.chunks_exact_mut(MEASURES.len());
                for ((sky, acts), row) in member.skies.iter().zip(days).zip(rows) {
                    black_box(lawn.day(&member.setting, sky, acts));
                    lawn.measures(&member.setting, row);
                }
            }
        }
    });
}

/// Stages 2 and 3: the same with crews, work log and outcomes; the difference is theirs.
#[divan::bench]
fn stage_2_and_3_lawn_program_outcomes(bencher: Bencher) {
    let maker = Maker::new();
    let (members, scripts, mut row) = (maker.members(), maker.scripts(), maker.row());
    bencher.counter(lawn_days(FEW)).bench_local(|| {
        for member in &members {
            for script in &scripts {
                black_box(play(script, &maker.almanac, &maker.streams, member, &mut row));
            }
        }
    });
}

/// Stage 4: bands of all programs over 1,000 members on every processor, and the contrasts.
#[divan::bench(sample_count = 7, sample_size = 1)]
fn stage_4_bands_of_1000_members(bencher: Bencher) {
    let kept = RunPlan { keep_tracks: true, ..plan(0) };
    let results = run(&kept, &CATALOGUE, &|_| Continue::Yes).expect("the demo runs");
    bencher.counter(lawn_days(MEMBERS)).bench_local(|| {
        for program in &results.programs {
            black_box(bands(program.tracks.as_deref().unwrap_or_default(), results.days));
        }
        black_box(contrasts(&SCENARIO.programs, &results.programs));
    });
}
