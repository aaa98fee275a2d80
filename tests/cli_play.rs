//! `play` and `vet` on whole scenarios, through the program itself.

#[path = "support/door.rs"]
mod door;
#[path = "support/folder.rs"]
mod folder;

use std::collections::BTreeSet;
use std::fs;
use std::process::{Command, Stdio};

use assert_cmd::cargo::cargo_bin;
use door::swardplay;
use folder::names;

/// The carried example as text, for scenarios that change one thing in it.
fn example() -> &'static str {
    include_str!("../scenarios/thin-front-lawn.toml")
}

#[test]
fn the_example_is_played_into_a_whole_set_of_files() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = swardplay(folder.path(), &["play", "--members", "20"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let files = names(&folder.path().join("swardplay-out"));
    for name in [
        "bands.csv",
        "outcomes.csv",
        "contrasts.csv",
        "work.csv",
        "ledger.csv",
        "run.json",
        "timing.json",
        "overview.svg",
        "overview.png",
        "scorecard.svg",
        "scorecard.png",
    ] {
        assert!(files.contains(name), "{name} in {files:?}");
    }
    assert!(!files.contains("tracks.csv"));
    assert!(files.iter().all(|n| !n.starts_with('.')), "{files:?}");
    assert!(out.starts_with("A thin front lawn\n"), "{out}");
    assert!(out.contains("Files are in swardplay-out\n"), "{out}");
}

#[test]
fn threads_change_no_byte_and_the_seed_does() {
    let folder = tempfile::tempdir().unwrap();
    let play = |threads: &str, seed: &str, out: &str| {
        let args = ["play", "--members", "40", "--tracks", "--threads", threads, "--seed", seed];
        let (code, _, err) = swardplay(folder.path(), &[&args[..], &["--out", out]].concat());
        assert_eq!((code, err.as_str()), (0, ""));
    };
    play("1", "3", "one");
    play("5", "3", "five");
    play("5", "4", "other");
    let read = |out: &str, name: &str| fs::read(folder.path().join(out).join(name)).unwrap();
    let files = names(&folder.path().join("one"));
    assert!(files.contains("tracks.csv"));
    assert_eq!(files, names(&folder.path().join("five")));
    for name in files.iter().filter(|n| *n != "timing.json") {
        assert!(read("one", name) == read("five", name), "{name}");
    }
    assert!(read("one", "outcomes.csv") != read("other", "outcomes.csv"));
}

#[test]
fn the_line_in_the_index_repeats_the_run() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("mine.toml"), example()).unwrap();
    let args = ["play", "mine.toml", "--members", "12", "--seed", "9", "--units", "metric"];
    let (code, _, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    let out = folder.path().join("swardplay-out");
    let before = fs::read_to_string(out.join("run.json")).unwrap();
    let outcomes = fs::read(out.join("outcomes.csv")).unwrap();
    let index: serde_json::Value = serde_json::from_str(&before).unwrap();
    let line = index["repeat"].as_str().unwrap().to_string();
    let words: Vec<&str> = line.split(' ').skip(1).collect();
    assert_eq!(swardplay(folder.path(), &words).0, 0);
    assert_eq!(fs::read_to_string(out.join("run.json")).unwrap(), before);
    assert_eq!(fs::read(out.join("outcomes.csv")).unwrap(), outcomes);

    // The index itself, too, with whatever threads and into whatever folder.
    let index = out.join("run.json");
    let index = index.to_str().unwrap();
    let again = ["play", "--again", index, "--out", "again", "--threads", "1"];
    let (code, _, err) = swardplay(folder.path(), &again);
    assert_eq!((code, err.as_str()), (0, ""));
    let copy = folder.path().join("again");
    assert_eq!(names(&copy), names(&out));
    for name in names(&out).iter().filter(|name| *name != "timing.json") {
        assert!(fs::read(copy.join(name)).unwrap() == fs::read(out.join(name)).unwrap(), "{name}");
    }
    // What decides the run cannot be said twice.
    let twice = ["play", "--again", index, "--members", "5"];
    assert_eq!(swardplay(folder.path(), &twice).0, 2);
    // A scenario that has changed since is named, and nothing is played.
    fs::write(folder.path().join("mine.toml"), example().replace("6000 ft2", "6100 ft2")).unwrap();
    let (code, out, err) = swardplay(folder.path(), &["play", "--again", index, "--out", "late"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("the text of its scenario") && !err.contains("weather"), "{err}");
    assert!(!folder.path().join("late").exists());
}

/// A file that is no record of a run of `play` is refused by what it is.
#[test]
fn only_the_index_of_a_run_is_played_again() {
    let folder = tempfile::tempdir().unwrap();
    let other = r#"{"repeat":"swardplay credit x"}"#;
    for text in ["", "{", "[]", other, "\u{0}", "{\"members\": 1e99}"] {
        fs::write(folder.path().join("run.json"), text).unwrap();
        let (code, _, err) = swardplay(folder.path(), &["play", "--again", "run.json"]);
        assert_eq!(code, 2, "{text}");
        assert!(err.contains("run.json"), "{err}");
    }
    let (code, _, err) = swardplay(folder.path(), &["play", "--again", "run.jsn"]);
    assert_eq!(code, 2);
    assert!(err.contains("did you mean `run.json`"), "{err}");
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_are_as_good_as_none() {
    let folder = tempfile::tempdir().unwrap();
    let text = format!("\u{FEFF}{}", example().replace('\n', "\r\n"));
    fs::write(folder.path().join("windows.toml"), text).unwrap();
    let (code, out, err) = swardplay(folder.path(), &["vet", "windows.toml"]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
}

#[test]
fn vet_never_says_within_label_on_its_own_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["thin-front-lawn", "new-build-lot", "dry-summer-lawn"] {
        let (code, out, err) = swardplay(folder.path(), &["vet", name]);
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains(&format!("{name} can be played")), "{out}");
        assert!(out.contains("Not checked against your label"), "{out}");
        assert!(!out.contains("within label"), "{out}");
    }
    assert!(names(folder.path()).is_empty());
}

#[test]
fn every_fault_is_shown_with_its_line_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let text = example().replacen("slope =", "slop =", 1).replacen(
        "height = \"3 in\"",
        "height = \"3 inn\"",
        1,
    );
    fs::write(folder.path().join("faulty.toml"), &text).unwrap();
    let line = |part: &str| 1 + text.lines().position(|l| l.contains(part)).unwrap();
    for command in ["vet", "play"] {
        let (code, out, err) = swardplay(folder.path(), &[command, "faulty.toml"]);
        assert_eq!((code, out.as_str()), (2, ""), "{err}");
        assert!(err.contains(&format!("faulty.toml:{}:", line("slop ="))), "{err}");
        assert!(err.contains("slope"), "{err}");
        assert!(err.contains(&format!("faulty.toml:{}:", line("\"3 inn\""))), "{err}");
        assert!(err.contains("2 errors"), "{err}");
        assert!(!err.contains('\u{1b}'), "no colours off a terminal");
    }
    assert_eq!(names(folder.path()).len(), 1);
}

#[test]
fn a_faulty_weather_record_is_told_with_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let text = example().replacen("station = \"jfk\"", "file = \"near.csv\"", 1);
    fs::write(folder.path().join("mine.toml"), text).unwrap();
    let (code, _, err) = swardplay(folder.path(), &["vet", "mine.toml"]);
    assert_eq!(code, 2, "{err}");
    assert!(err.contains("there is no weather record file") && err.contains("near.csv"), "{err}");
    let record = "# latitude_deg: 40.6\n# elevation_m: 3\ndate,tmin_c,tmax_c,precip_mm\n\
                  2012-01-01,3,10,0\n2012-01-02,30,10,0\n";
    fs::write(folder.path().join("near.csv"), record).unwrap();
    for command in ["vet", "play"] {
        let (code, out, err) = swardplay(folder.path(), &[command, "mine.toml"]);
        assert_eq!((code, out.as_str()), (2, ""), "{err}");
        assert!(err.contains("near.csv") && err.contains("line 5"), "{err}");
    }
    assert_eq!(names(folder.path()).len(), 2);
}

#[test]
fn a_folder_that_cannot_be_made_is_told_before_any_work() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("taken"), "x").unwrap();
    let args = ["play", "--members", "100000", "--out", "taken"];
    let (code, out, err) = swardplay(folder.path(), &args);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("`taken` is a file"), "{err}");
    assert_eq!(fs::read_to_string(folder.path().join("taken")).unwrap(), "x");
}

#[cfg(unix)]
#[test]
fn ctrl_c_stops_the_run_and_leaves_the_earlier_one_whole() {
    use std::time::{Duration, Instant};
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(swardplay(folder.path(), &["play", "--members", "5"]).0, 0);
    let out = folder.path().join("swardplay-out");
    let before = (names(&out), fs::read(out.join("run.json")).unwrap());
    let child = Command::new(cargo_bin("swardplay"))
        .current_dir(folder.path())
        .args(["play", "--members", "12000", "--threads", "1"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The run has begun, and listens, once its folder aside is there.
    let since = Instant::now();
    while names(&out) == before.0 && since.elapsed() < Duration::from_secs(30) {
        std::thread::sleep(Duration::from_millis(5));
    }
    let id = child.id().to_string();
    assert!(Command::new("kill").args(["-INT", &id]).status().unwrap().success());
    let end = child.wait_with_output().unwrap();
    assert_eq!(end.status.code(), Some(130));
    assert_eq!(String::from_utf8_lossy(&end.stdout), "");
    assert_eq!(String::from_utf8_lossy(&end.stderr), "swardplay: stopped; nothing was written\n");
    assert_eq!((names(&out), fs::read(out.join("run.json")).unwrap()), before);
}

#[cfg(unix)]
#[test]
fn a_reader_that_leaves_early_still_gets_its_files() {
    let folder = tempfile::tempdir().unwrap();
    let mut child = Command::new(cargo_bin("swardplay"))
        .current_dir(folder.path())
        .args(["play", "--members", "5"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let end = child.wait_with_output().unwrap();
    assert_eq!((end.status.code(), end.stderr.len()), (Some(0), 0));
    assert!(folder.path().join("swardplay-out/run.json").exists());
}

/// Ranges of lawn and crew facts are drawn in every future, the same for any number of threads; what
/// leaves the tap is what the program says, however much of it is lost.
#[test]
fn ranges_of_lawn_and_crew_are_drawn_in_every_future() {
    let folder = tempfile::tempdir().unwrap();
    let exact = "\n[[program]]\nid = \"wet\"\nbased-on = \"usual\"\n[program.change.add]\nkey = \"water\"\n\
                 do = \"water\"\ndepth = \"20 mm\"\non = [\"1 Jul\"]\n";
    let exact = format!("{}{exact}", example());
    let ranges = [
        ("slope = \"3 %\"", "slope = \"3 %\"\nirrigation-efficiency = [\"40 %\", \"80 %\"]"),
        ("sun = \"full\"", "sun = [\"half\", \"full\"]"),
        ("topsoil = \"6 in\"", "topsoil = [\"3 in\", \"8 in\"]"),
        ("hour-cost = \"25 $/h\"", "hour-cost = [\"20 $/h\", \"30 $/h\"]"),
        ("mower-speed = \"3 mph\"", "mower-speed = [\"2 mph\", \"4 mph\"]"),
    ];
    let unsure = ranges.iter().fold(exact.clone(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    });
    let play = |name: &str, text: &str, threads: &str| -> (String, String) {
        fs::write(folder.path().join("lawn.toml"), text).unwrap();
        let args = ["play", "lawn.toml", "--members", "12", "--threads", threads, "--out", name];
        let (code, out, err) = swardplay(folder.path(), &args);
        assert_eq!(code, 0, "{err}");
        (fs::read_to_string(folder.path().join(name).join("work.csv")).unwrap(), out)
    };
    let (sure, _) = play("sure", &exact, "2");
    let (drawn, out) = play("drawn", &unsure, "2");
    assert_eq!(drawn, play("again", &unsure, "1").0);
    assert!(out.contains("$20 to $30"), "{out}");
    let column = |text: &str, key: &str, at: usize| -> BTreeSet<String> {
        let rows = text.lines().map(|line| line.split(',').collect::<Vec<_>>());
        rows.filter(|row| row[3] == key).map(|row| row[at].to_string()).collect()
    };
    for text in [&sure, &drawn] {
        let water = column(text, "water", 4);
        assert!(water.iter().all(|mm| mm.parse() == Ok(20.0)), "{water:?}");
    }
    // With the mower's speed drawn each future takes its own time, and else all take the same.
    let minutes = |text: &str| column(text, "mow", 6).len();
    assert!(minutes(&sure) <= 2, "{}", minutes(&sure));
    assert!(minutes(&drawn) >= 12, "{}", minutes(&drawn));
}

/// The options of `play` go with the program's bare name too.
#[test]
fn the_bare_program_takes_the_options_of_play() {
    let folder = tempfile::tempdir().unwrap();
    let options = ["--members", "3", "--seed", "5", "--units", "metric", "--out"];
    let (code, bare, err) = swardplay(folder.path(), &[&options[..], &["a"]].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    let (_, typed, _) = swardplay(folder.path(), &[&["play"], &options[..], &["b"]].concat());
    assert_eq!(bare.replace("in a\n", "in b\n").lines().count(), typed.lines().count());
    let read = |out: &str, name: &str| fs::read(folder.path().join(out).join(name)).unwrap();
    for name in ["run.json", "outcomes.csv", "work.csv"] {
        assert!(read("a", name) == read("b", name), "{name}");
    }
}
