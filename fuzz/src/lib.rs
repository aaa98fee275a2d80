//! What is fuzzed: everything that a person's file or phrase goes through, as the program calls it.
//!
//! A target takes any bytes. What it holds to beside "no panic, no hang, no huge allocation" stands in
//! its assertions. With the feature `door` what is found is told and shown as well, as a person sees it.

#[cfg(feature = "door")]
mod door;
pub mod mutate;

use std::sync::LazyLock;

#[cfg(feature = "door")]
pub use door::{lawns, part, record};

use sim::ensemble::{self, Continue, Results, RunPlan};
use sim::parameters::{self, Catalogue};
use sim::quantity::{self, Kind};
use sim::scenario::{self, Checked, Fault, Severity, line_of};
use sim::study::{Sources, Study};
use sim::weather::{self, ReadOptions, Record, Site, SoFar, TableUnits};

static CATALOGUE: LazyLock<Catalogue> =
    LazyLock::new(|| Catalogue::new(parameters::TEXT).expect("the embedded catalogue"));

const SCENARIO: &str = include_str!("../../scenarios/thin-front-lawn.toml");
const PRODUCTS: &str = include_str!("../../scenarios/products.toml");
const LOCAL_RULES: &str = include_str!("../../scenarios/local-rules.toml");
const SITE: Site = Site { latitude_deg: 40.64, elevation_m: 3.0 };

/// The carried record.
static RECORD: LazyLock<Record> = LazyLock::new(|| {
    let text = include_str!("../../scenarios/weather/jfk_2012_2015.csv");
    weather::read_daily_csv(text, "jfk", Some(SITE)).expect("the carried record").record
});

/// A text as the program takes it from a file: no NUL bytes, UTF-8.
fn text(bytes: &[u8]) -> Option<&str> {
    std::str::from_utf8(bytes).ok().filter(|text| !text.contains('\0'))
}

fn check(text: &str) -> Result<Checked, Vec<Fault>> {
    scenario::check_with_rules(text, PRODUCTS, LOCAL_RULES)
}

/// Faults lie in the text, say something, and can be shown.
fn sound(text: &str, faults: &[Fault]) {
    for fault in faults {
        assert!(fault.span.start <= fault.span.end && fault.span.end <= text.len(), "{fault:?}");
        assert!(text.is_char_boundary(fault.span.start), "{fault:?}");
        assert!(text.is_char_boundary(fault.span.end), "{fault:?}");
        assert!(line_of(text, &fault.span) >= 1);
        assert!(!fault.message.is_empty());
    }
    #[cfg(feature = "door")]
    door::shown(text, faults);
}

/// A scenario text, checked and told.
pub fn scenario(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    match check(text) {
        Ok(checked) => {
            sound(text, &checked.cautions);
            assert!(checked.cautions.iter().all(|fault| fault.severity == Severity::Caution));
            dials(text, &checked);
            #[cfg(feature = "door")]
            door::vetted(&checked.scenario);
        }
        Err(faults) => {
            assert!(faults.iter().any(|fault| fault.severity == Severity::Error));
            sound(text, &faults);
        }
    }
}

/// What may be swept and searched of each practice, and written out by itself.
fn dials(text: &str, checked: &Checked) {
    for program in checked.scenario.programs.iter().take(3) {
        for practice in program.practices.iter().take(10) {
            if let Some(dials) = scenario::dials(text, &program.id, &practice.key) {
                let _ = format!("{dials:?}");
            }
        }
        let _ = scenario::practice_texts(text, &program.id);
    }
}

/// What a person says beside a station file, by the first byte.
fn options(byte: u8) -> ReadOptions<'static> {
    ReadOptions {
        name: "station",
        site: (byte & 1 == 0).then_some(SITE),
        latitude_deg: (byte & 2 != 0).then_some(41.0),
        elevation_m: (byte & 2 != 0).then_some(10.0),
        station: (byte & 4 != 0).then_some("USW00094789"),
        units: match byte & 24 {
            8 => Some(TableUnits::Us),
            16 => Some(TableUnits::Metric),
            24 => Some(TableUnits::Tenths),
            _ => None,
        },
        years: (byte & 32 != 0).then_some((2012, 2013)),
    }
}

/// A record holds what its text may hold, and numbers only.
fn whole(record: &Record, text: &str) {
    assert!(record.days.len() <= text.len(), "more days than bytes");
    for day in &record.days {
        let values = [day.t_min_c, day.t_max_c, day.precip_mm];
        assert!(values.iter().all(|v| v.is_finite()), "{day:?}");
        assert!(day.t_min_c <= day.t_max_c && day.precip_mm >= 0.0, "{day:?}");
    }
}

/// A station file in any layout.
pub fn station(bytes: &[u8]) {
    let Some((byte, rest)) = bytes.split_first() else { return };
    let Some(text) = text(rest) else { return };
    match weather::read_record(text, &options(*byte)) {
        Ok(read) => {
            whole(&read.record, text);
            let _ = ensemble::northern(&read.record);
            if read.record.days.len() < 2000 {
                let _ = sim::climate::normals(&read.record, &CATALOGUE.central().weather);
            }
        }
        Err(fault) => {
            assert!(!fault.to_string().is_empty());
            #[cfg(feature = "door")]
            door::told_of_a_record(&fault);
        }
    }
}

/// The weather so far of a scenario's own year.
pub fn so_far(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    let Ok(read) = weather::read_daily_csv(text, "so-far", Some(SITE)) else { return };
    whole(&read.record, text);
    let year = read.record.first.ymd().0;
    for year in [year - 1, year, year + 1, 2026] {
        if let Ok(so_far) = SoFar::new(&RECORD, &read.record, year) {
            assert!(so_far.days() <= 366);
        }
    }
}

/// The table of products.
pub fn products(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    let read = scenario::products(text);
    match scenario::check(SCENARIO, text) {
        Ok(_) => assert!(read.is_ok()),
        Err(faults) => assert!(!faults.is_empty()),
    }
}

/// A study file; a short one is run.
pub fn study(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    let study = match Study::read(text, &CATALOGUE) {
        Ok(study) => study,
        Err(faults) => return sound(text, &faults),
    };
    let sources = Sources::new();
    let faults = study.weather_faults(&sources);
    sound(text, &faults);
    let plays = study.run.members.max(1) as usize * study.treatment.len().max(1);
    if !faults.is_empty() || study.run.days as usize * plays > 400 {
        return;
    }
    if let Ok(tracks) = sim::study::run(&study, &CATALOGUE, &sources) {
        for track in tracks.iter().flatten() {
            assert!(track.worst_residual.is_finite(), "{}", track.worst_residual);
        }
        let _ = sim::study::check(&study, &tracks);
    }
}

const STUDIES: [&str; 2] = ["barrier-early", "interval"];

/// A lesson on the carried example.
pub fn lesson(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    let base = scenario::named(text).map(|_| SCENARIO);
    if let Err(faults) = sim::analysis::lesson::check(text, base, PRODUCTS, LOCAL_RULES, &STUDIES) {
        assert!(!faults.is_empty());
        let own = faults.into_iter().filter_map(|fault| match fault {
            scenario::LessonFault::Own(fault) => Some(fault),
            scenario::LessonFault::Scenario(_) => None,
        });
        sound(text, &own.collect::<Vec<_>>());
    }
}

const KINDS: [Kind; 8] = [
    Kind::Length,
    Kind::Area,
    Kind::Temperature,
    Kind::DegreeDays,
    Kind::NitrogenRate,
    Kind::ActiveRate,
    Kind::Share,
    Kind::Money,
];

/// What is typed on the command line: amounts, needs, budgets, odds.
pub fn phrases(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    for kind in KINDS {
        if let Ok(value) = quantity::parse(text, kind) {
            assert!(value.is_finite(), "{text:?} as {kind:?}");
            let _ = quantity::show(value, kind, quantity::Units::Us);
        }
    }
    let _ = quantity::parse_any(text, &KINDS);
    let _ = scenario::goal(text);
    let _ = scenario::budget(text);
    if let Ok(share) = scenario::odds(text) {
        assert!(share > 0.0 && share <= 1.0);
    }
}

/// Most practices and programs that are played: the fuzzer is to try many lawns, not long ones.
const PROGRAMS: usize = 3;
const PRACTICES: usize = 40;

/// A scenario that passes the check is played: two members, one season.
pub fn play(bytes: &[u8]) {
    let Some(text) = text(bytes) else { return };
    let Ok(mut checked) = check(text) else { return };
    let scenario = &mut checked.scenario;
    scenario.seasons = 1;
    scenario.programs.truncate(PROGRAMS);
    scenario.season_before = None;
    scenario.scouting = None;
    if scenario.programs.iter().any(|program| program.practices.len() > PRACTICES) {
        return;
    }
    let plan = RunPlan {
        scenario,
        record: &RECORD,
        so_far: None,
        catalogue: &CATALOGUE.entries,
        members: 2,
        seed: 1,
        threads: 1,
        keep_tracks: true,
    };
    let Ok(results) = ensemble::run(&plan, &CATALOGUE, &|_| Continue::Yes) else { return };
    finite(&results);
    #[cfg(feature = "door")]
    door::told_of_a_run(&checked, &results);
}

/// Every band and ledger is a number, and no outcome without end.
fn finite(results: &Results) {
    for program in &results.programs {
        for (kind, values) in sim::outcomes::OUTCOMES.iter().zip(&program.outcomes) {
            // Some outcomes have no value in a season that lacks them (a date that never came).
            assert!(values.iter().all(|v| !v.is_infinite()), "{}: {values:?}", kind.key);
        }
        for (kind, band) in ensemble::MEASURES.iter().zip(&program.bands) {
            assert!(band.mean.iter().all(|v| v.is_finite()), "{}", kind.key);
        }
    }
}
