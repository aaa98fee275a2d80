//! The files of a run, checked on fabricated results against lines written by hand.

#[path = "fabricated/results.rs"]
mod fabricated;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use sim::ensemble::MEASURES;
use sim::outcomes::OUTCOMES;
use sim::scenario::{Checked, WeatherSource};
use swardplay::args::PlayOptions;
use swardplay::carried;
use swardplay::engine::Weather;
use swardplay::files::timing::Stopwatch;
use swardplay::inputs::Inputs;
use swardplay::outdir::OutDir;
use swardplay::play;
use swardplay::scenario_source::{ScenarioSource, WeatherText};
use swardplay::units::Units;

fn inputs() -> Inputs {
    Inputs {
        source: ScenarioSource { name: "my lawn.toml".into(), text: "abc".into(), folder: None },
        checked: Checked { scenario: fabricated::scenario(), cautions: vec![], by_program: vec![] },
        weather: WeatherText {
            source: WeatherSource::Carried("jfk".into()),
            text: String::new(),
            so_far: None,
        },
        units: Units::Us,
    }
}

fn weather() -> Weather {
    let read = carried::station("jfk").unwrap().read().unwrap();
    Weather { record: read.record, notes: read.notes, so_far: None }
}

fn write(target: &Path, members: u32, tracks: bool) {
    let mut out = OutDir::open(target).unwrap();
    let args =
        PlayOptions { members, tracks, seed: 7, threads: Some(members), ..PlayOptions::default() };
    let results = fabricated::results(members);
    play::write(&inputs(), &weather(), &args, &results, &mut out, Stopwatch::start()).unwrap();
    out.commit().unwrap();
}

fn lines(folder: &Path, name: &str) -> Vec<String> {
    let text = fs::read_to_string(folder.join(name)).unwrap();
    assert!(!text.contains('\r'), "{name} has LF line ends");
    assert!(text.ends_with('\n'), "{name} ends with a line end");
    text.lines().map(str::to_string).collect()
}

#[test]
fn tables_have_the_contracts_columns_and_rounded_figures() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), 100, true);
    let bands = lines(folder.path(), "bands.csv");
    assert_eq!(bands[0], "program,measure,unit,date,p05,p25,p50,p75,p95,mean");
    // Spread (42.9 - 10) / 3.29 = 10, error 10 / sqrt(100) = 1: one decimal is below it.
    assert_eq!(bands[1], "usual,turf_cover,%,2026-01-01,10.0,15.0,20.1,25.0,42.9,0.0");
    assert_eq!(bands.len(), 1 + 2 * MEASURES.len() * fabricated::DAYS);
    let outcomes = lines(folder.path(), "outcomes.csv");
    assert_eq!(outcomes[0], "program,member,outcome,unit,value");
    assert_eq!(outcomes[1], "usual,1,crabgrass_peak,%,5.2");
    assert!(outcomes.iter().any(|line| line == "weekly,100,cost,USD,1600.00"));
    assert_eq!(outcomes.len(), 1 + 2 * 100 * OUTCOMES.len());
    let contrasts = lines(folder.path(), "contrasts.csv");
    assert_eq!(
        contrasts[0],
        "program,baseline,outcome,unit,p05,p25,p50,p75,p95,share_better,share_same"
    );
    // Member m of 100 differs by -4 - 0.28 (m + 0.5); 96 of them by 5 or more. The error of a
    // share of 100 is up to 0.05: two decimals.
    assert_eq!(
        contrasts[1],
        "weekly,usual,crabgrass_peak,%,-30.7,-25.1,-18.1,-11.1,-5.5,0.96,0.04"
    );
    assert_eq!(
        lines(folder.path(), "work.csv")[..2],
        [
            "program,member,date,practice,amount,unit,minutes,cost,ground_m2",
            "usual,1,2026-05-01,mow,76.2,mm,42.3,31.70,650.0"
        ]
    );
    assert_eq!(
        lines(folder.path(), "ledger.csv")[..2],
        [
            "program,member,substance,unit,entered,left,stored_change,residual",
            "usual,1,water,mm,900.000000,890.500000,9.500000,0.000000000"
        ]
    );
    let tracks = lines(folder.path(), "tracks.csv");
    assert!(tracks[0].starts_with("program,member,date,turf_cover,green_cover,"));
    assert!(tracks[1].starts_with("usual,1,2026-01-01,0.5,0.5,"), "{}", tracks[1]);
    assert_eq!(tracks.len(), 1 + 2 * 100 * fabricated::DAYS);
}

#[test]
fn the_index_repeats_the_run_and_names_every_file() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), 5, false);
    let text = fs::read_to_string(folder.path().join("run.json")).unwrap();
    let index: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(index["seed"], 7);
    assert_eq!(index["members"], 5);
    assert_eq!(index["record_years"], 4);
    assert_eq!(index["repeat"], "swardplay play 'my lawn.toml' --members 5 --seed 7 --units us");
    assert_eq!(index["first_date"], "2026-01-01");
    assert_eq!(index["last_date"], "2026-12-31");
    // FIPS 180-4 example: the SHA-256 of "abc".
    assert_eq!(
        index["scenario"]["sha256"],
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
    let listed: BTreeSet<String> = index["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|v| v.as_str().unwrap().to_string())
        .collect();
    let found: BTreeSet<String> = fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(listed, found);
}

#[test]
fn two_writings_of_the_same_results_differ_in_timing_alone() {
    let (a, b) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    write(a.path(), 5, true);
    write(b.path(), 5, true);
    for entry in fs::read_dir(a.path()).unwrap() {
        let name = entry.unwrap().file_name();
        if name != "timing.json" {
            let same =
                fs::read(a.path().join(&name)).unwrap() == fs::read(b.path().join(&name)).unwrap();
            assert!(same, "{name:?}");
        }
    }
}

#[test]
fn a_second_run_takes_away_what_only_the_first_had_made() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("mine.csv"), "mine").unwrap();
    write(folder.path(), 5, true);
    assert!(folder.path().join("tracks.csv").exists());
    write(folder.path(), 5, false);
    assert!(!folder.path().join("tracks.csv").exists(), "it belonged to the earlier run");
    assert_eq!(fs::read_to_string(folder.path().join("mine.csv")).unwrap(), "mine");
}

#[test]
fn an_index_cannot_have_foreign_files_taken_away() {
    let outer = tempfile::tempdir().unwrap();
    let folder = outer.path().join("out");
    fs::create_dir(&folder).unwrap();
    fs::write(outer.path().join("victim.csv"), "keep").unwrap();
    fs::write(folder.join("notes.txt"), "keep").unwrap();
    let index = r#"{"swardplay": "0", "files": ["../victim.csv", "notes.txt"]}"#;
    fs::write(folder.join("run.json"), index).unwrap();
    write(&folder, 5, false);
    assert!(outer.path().join("victim.csv").exists());
    assert!(folder.join("notes.txt").exists());
}

#[test]
fn a_run_that_ends_early_leaves_no_trace() {
    let outer = tempfile::tempdir().unwrap();
    let target = outer.path().join("new/deep");
    let mut out = OutDir::open(&target).unwrap();
    out.write("bands.csv", |w| w.write_all(b"half")).unwrap();
    drop(out);
    assert_eq!(fs::read_dir(outer.path()).unwrap().count(), 0);
}

#[test]
fn a_run_that_ends_early_leaves_the_earlier_files_whole() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), 5, false);
    let before = fs::read(folder.path().join("run.json")).unwrap();
    let count = fs::read_dir(folder.path()).unwrap().count();
    let mut out = OutDir::open(folder.path()).unwrap();
    let full = std::io::ErrorKind::StorageFull;
    let failed = out.write("bands.csv", |w| {
        w.write_all(b"half")?;
        Err(full.into())
    });
    let failure = failed.unwrap_err();
    assert_eq!(failure.exit_code(), 1);
    assert!(failure.to_string().contains("the disk is full"), "{failure}");
    drop(out);
    assert_eq!(fs::read(folder.path().join("run.json")).unwrap(), before);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), count);
}

#[test]
fn a_file_in_the_place_of_the_folder_is_the_inputs_fault() {
    let outer = tempfile::tempdir().unwrap();
    let file = outer.path().join("taken");
    fs::write(&file, "x").unwrap();
    for target in [file.clone(), file.join("below")] {
        let failure = OutDir::open(&target).unwrap_err();
        assert_eq!(failure.exit_code(), 2, "{failure}");
        assert!(failure.to_string().contains("taken` is a file"), "{failure}");
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), "x");
}
