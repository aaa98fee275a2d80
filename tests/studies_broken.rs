//! Study files with something wrong in them: told with line, expectation and near miss; whatever is
//! changed in a sound file, nothing panics and no book fails to close.

#[path = "support/published.rs"]
mod published;

use published::{root, sources};
use sim::parameters::Catalogue;
use sim::scenario::{Fault, line_of};
use sim::study::{Sources, Study, check, run};
use std::sync::LazyLock;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(Catalogue::embedded);

/// The guide's example, shortened.
fn example() -> String {
    let guide = std::fs::read_to_string(root().join("tests/studies/README.md")).expect("a guide");
    let from = guide.find("```toml\n").expect("an example") + 8;
    guide[from..from + guide[from..].find("```").expect("its end")].to_owned()
}

/// A study that uses what the example does not.
const OTHER: &str = r#"
id = "other"
title = "Everything else"
source = "none"
rank = "B"
conditions = "none"
sets-parameters = false

[weather]
repeat-record = true
years = [2016]
[[weather.record]]
latitude-deg = 41.8
days = """
date,tmin_c,tmax_c,precip_mm
2016-05-30,12.1,24.0,0.0
2016-05-31,13.4,25.1,8.2
2016-06-01,12.1,24.0,0.0
2016-06-02,13.4,25.1,8.2
2016-06-03,13.4,25.1,8.2
2016-06-04,13.4,25.1,0.0
"""
[[weather.span]]
from-day = 1
to-day = 2
warmer-c = 3
rain-factor = 0

[lawn]
grasses = { tall_fescue = 1.0 }
cover = 0.5
sand = 0.4
clay = 0.2
organic-matter-pct = 2.0
seed-bank-m2 = 100
root-depth-mm = 300
leaf-n-pct = 3.0
residue-kg-ha = { dithiopyr = 0.2 }

[run]
start = "06-01"
days = 4
members = 2

[[act]]
do = "remove-turf"
day = [1]
share = 0.5
[[act]]
do = "set-soil-water"
day = [1]
share = 0.2
[[act]]
do = "sow-crabgrass"
day = [0]
seeds-m2 = 50
[[act]]
do = "rain"
day = [2]
water-mm = 30
[[act]]
do = "barrier"
on = ["06-02"]
active = "oryzalin"
rate-kg-ha = 1.7
[[act]]
do = "clip-share"
every-days = 2
from-day = 0
share = 0.3
[[act]]
do = "lay-clippings"
day = [0]
clippings-g-m2 = 50
nitrogen-share = 0.04
[[act]]
do = "hold-canopy"
day = [2, 3]

[[treatment]]
name = "a"
[[treatment]]
name = "b"
weather = { warmer-c = 1 }
grasses = { fine_fescue = 1.0 }
[[treatment.act]]
do = "compost"
on = ["06-01"]
depth-mm = 6

[[check]]
name = "slope"
published = "none"
doses = { a = 0, b = 1 }
of = "soil_water"
how = "rate"
low = -1
[[check]]
name = "half-life"
published = "none"
treatments = ["a", "b"]
of = "residue_dithiopyr"
how = "half-life"
low = 1
[[check]]
name = "share"
published = "none"
treatment = "a"
of = "rain_day"
how = "sum"
compare = "percent"
low = 0
[check.other]
treatment = "b"
from-day = 1
"#;

/// Reads, and where it reads, runs.
fn try_out(text: &str, carried: &Sources) -> Result<(), Vec<Fault>> {
    let study = Study::read(text, &CATALOGUE)?;
    if study.waits_for.is_some() || study.elsewhere.is_some() {
        return Ok(());
    }
    if study.files().is_empty() {
        let faults = study.weather_faults(carried);
        if !faults.is_empty() {
            return Err(faults);
        }
        let tracks = run(&study, &CATALOGUE, carried).unwrap_or_else(|e| panic!("{e}\n{text}"));
        for track in tracks.iter().flatten() {
            assert!(track.worst_residual < 1e-9, "{}\n{text}", track.worst_residual);
        }
        // A check may find nothing to read on days that other years have.
        let _ = check(&study, &tracks);
    }
    Ok(())
}

#[test]
fn sound_files_are_sound() {
    let carried = sources(&[]).expect("the carried records read");
    for text in [example(), OTHER.to_owned()] {
        assert_eq!(try_out(&text, &carried), Ok(()), "{text}");
    }
}

/// Every line taken away, doubled, or given another value.
#[test]
fn a_changed_file_is_refused_or_runs() {
    let carried = sources(&[]).expect("the carried records read");
    let values = [
        "-1",
        "0",
        "1e300",
        "-1e-300",
        "nan",
        "inf",
        "99999999999",
        "0.5",
        "\"x\"",
        "\"\"",
        "\"02-29\"",
        "\"12-31\"",
        "true",
        "[]",
        "[0]",
        "[[]]",
        "{}",
        "{ x = 1 }",
        "[1, 2, 3]",
    ];
    let (mut refused, mut ran) = (0, 0);
    for text in [example(), OTHER.to_owned()] {
        let lines: Vec<&str> = text.lines().collect();
        for (i, line) in lines.iter().enumerate() {
            let mut changes = vec![String::new(), format!("{line}\n{line}"), format!("{line}\"")];
            if let Some((key, _)) = line.split_once('=') {
                changes.extend(values.iter().map(|v| format!("{key}= {v}")));
                changes.push(format!("{}x = 1", key.trim()));
            }
            for change in changes {
                let mut changed = lines.clone();
                changed[i] = &change;
                let changed = changed.join("\n");
                match try_out(&changed, &carried) {
                    Ok(()) => ran += 1,
                    Err(faults) => {
                        refused += 1;
                        assert!(!faults.is_empty());
                        for fault in faults {
                            assert!(!fault.message.is_empty(), "{changed}");
                            let line = line_of(&changed, &fault.span);
                            assert!(line <= 1 + changed.lines().count(), "{line}: {changed}");
                        }
                    }
                }
            }
        }
    }
    assert!(refused > 1000 && ran > 300, "{refused} refused, {ran} ran");
}

/// What is told, for one mistake each.
#[test]
fn a_mistake_is_told_with_its_line_and_a_near_miss() {
    let text = example();
    for (right, wrong, told, help) in [
        ("of = \"quality\"", "of = \"qualty\"", "no series is called \"qualty\"", "quality"),
        ("silt loam", "silt lome", "no texture is called", "silt loam"),
        ("fine_fescue", "fine_fescu", "no grass is called", "fine_fescue"),
        ("days = 240", "dais = 240", "unknown key `dais`", "days"),
        ("do = \"wet\"", "do = \"wett\"", "no act is called", "wet"),
        (
            "net-of = \"unfed, 40 mm\"",
            "net-of = \"unfed 40 mm\"",
            "no treatment is",
            "unfed, 40 mm",
        ),
        ("urea = 2.5 ", "uria = 2.5 ", "unknown key `uria`", "urea"),
        ("how = \"mean\"", "how = \"meen\"", "unknown variant `meen`", "mean"),
        ("lawn = { texture", "lawn = { textur", "unknown key `textur`", "texture"),
    ] {
        assert!(text.contains(right), "the example has no {right}");
        let changed = text.replacen(right, wrong, 1);
        let faults = Study::read(&changed, &CATALOGUE).expect_err(wrong);
        let fault = faults.iter().find(|f| f.message.contains(told));
        let fault = fault.unwrap_or_else(|| panic!("{wrong}: {faults:?}"));
        let line = changed.lines().nth(line_of(&changed, &fault.span) - 1).unwrap_or_default();
        assert!(line.contains(wrong), "{wrong}: points at {line}");
        let near = fault.help.as_deref().unwrap_or_default();
        assert!(near.contains(&format!("{help:?}")), "{wrong}: {near}");
    }
}

#[test]
fn a_study_that_waits_passes_nothing() {
    let head = "id = \"w\"\ntitle = \"t\"\nsource = \"s\"\nrank = \"B\"\nconditions = \"c\"\n\
                sets-parameters = false\nwaits-for = \"clover\"\n";
    assert!(Study::read(head, &CATALOGUE).is_err(), "it states nothing that was published");
    let check = "[[check]]\nname = \"n\"\npublished = \"p\"\nof = \"clover_cover\"\n";
    assert!(Study::read(&format!("{head}{check}"), &CATALOGUE).is_ok());
    let miss = format!("{head}{check}known-miss = \"m\"\n");
    assert!(Study::read(&miss, &CATALOGUE).is_err(), "what is not run cannot miss");
}
