//! `init` from outside: by flags and by piped answers; what it writes plays as it stands.

#[path = "support/door.rs"]
mod door;

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use assert_cmd::cargo::cargo_bin;
use door::swardplay;

/// Questions that are asked.
const QUESTIONS: usize = 14;

fn piped(folder: &Path, args: &[&str], answers: &str) -> (i32, String) {
    let mut child = Command::new(cargo_bin("swardplay"))
        .current_dir(folder)
        .arg("init")
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A program that has seen enough does not read the rest.
    let _ = child.stdin.take().unwrap().write_all(answers.as_bytes());
    let end = child.wait_with_output().unwrap();
    (end.status.code().unwrap(), String::from_utf8(end.stderr).unwrap())
}

fn files(folder: &Path) -> Vec<String> {
    let names = fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name());
    names.map(|name| name.into_string().unwrap()).collect()
}

fn accepted(folder: &Path, name: &str, programs: usize) {
    let (code, out, err) = swardplay(folder, &["vet", name]);
    assert_eq!(code, 0, "{err}\n{}", fs::read_to_string(folder.join(name)).unwrap());
    let counted = format!("{programs} program{}", if programs == 1 { "" } else { "s" });
    assert!(out.contains(&counted), "{out}");
}

#[test]
fn enter_at_every_question_gives_a_lawn_that_plays() {
    let folder = tempfile::tempdir().unwrap();
    let (code, err) = piped(folder.path(), &[], &"\n".repeat(QUESTIONS));
    assert_eq!((code, err.as_str()), (0, ""));
    accepted(folder.path(), "my-lawn.toml", 4);
    let (code, out, err) =
        swardplay(folder.path(), &["play", "my-lawn.toml", "--members", "3", "--out", "out"]);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("My lawn"), "{out}");
}

#[test]
fn the_usual_answers_are_the_same_by_flag_as_by_enter() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(piped(folder.path(), &["a.toml"], &"\n".repeat(QUESTIONS)).0, 0);
    let (code, out, err) = swardplay(folder.path(), &["init", "b.toml", "--yes"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("swardplay vet b.toml"), "{out}");
    let text = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    assert_eq!(text("a.toml"), text("b.toml"));
}

#[test]
fn every_flag_is_taken_and_every_program_on_offer_passes() {
    let folder = tempfile::tempdir().unwrap();
    let everything = "often, taller, bag, barrier, split, feed, compost, water";
    let flags = [
        ("--area", "0.2 ac"),
        ("--grass", "60 % tall fescue, 40 % Kentucky bluegrass"),
        ("--cover", "80 to 95 %"),
        ("--crabgrass", "0 % to 5 % to 20 %"),
        ("--sun", "half to most"),
        ("--soil", "sand 30-40 %, clay 25 %"),
        ("--organic-matter", "4 %"),
        ("--compaction", "severe"),
        ("--weather", "seattle"),
        ("--mow-every", "1 week"),
        ("--height", "2.5 in"),
        ("--hour-cost", "22 $/h to 30 $/h"),
        ("--mower-width", "48 in"),
        ("--compare", everything),
    ];
    let args: Vec<&str> =
        ["init", "us.toml"].into_iter().chain(flags.iter().flat_map(|(f, v)| [*f, *v])).collect();
    assert_eq!(swardplay(folder.path(), &args).0, 0);
    accepted(folder.path(), "us.toml", 9);
    let text = fs::read_to_string(folder.path().join("us.toml")).unwrap();
    for line in [
        "area = \"0.2 ac\"",
        "kind = \"tall fescue\"\nshare = \"60 %\"",
        "grass-cover = [\"80 %\", \"95 %\"]",
        "crabgrass-last-august = { low = \"0 %\", likely = \"5 %\", high = \"20 %\" }",
        "sun = [\"half\", \"most\"]",
        "sand = [\"30 %\", \"40 %\"]\nclay = \"25 %\"",
        "compaction = \"severe\"",
        "station = \"seattle\"",
        "every = \"1 week\"",
        "hour-cost = [\"22 $/h\", \"30 $/h\"]",
        "mower-width = \"48 in\"",
    ] {
        assert!(text.contains(line), "{line}\n{text}");
    }
    let metric = ["init", "si.toml", "--area", "560 m2", "--compare", everything];
    assert_eq!(swardplay(folder.path(), &metric).0, 0);
    accepted(folder.path(), "si.toml", 9);
    let text = fs::read_to_string(folder.path().join("si.toml")).unwrap();
    assert!(text.contains("height = \"75 mm\"") && !text.contains(" in\""), "{text}");
}

#[test]
fn a_bad_answer_is_told_as_in_a_scenario_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    for (flag, value, told) in [
        ("--area", "6000 lb", "--area: `area`"),
        ("--area", "6000", "did you mean \"6000 ft2\"?"),
        ("--grass", "tall fescu", "did you mean \"tall fescue\"?"),
        ("--grass", "tall fescue 60 %", "add up to 60 %"),
        ("--grass", "", "--grass:"),
        ("--cover", "140 %", "out of range"),
        ("--cover", "60 % to 50 %", "does not rise"),
        ("--soil", "lome", "did you mean \"loam\"?"),
        ("--soil", "sand 80 %, clay 40 %", "more than 100 %"),
        ("--soil", "silt 80 %", "`silt` is not a key"),
        ("--compaction", "sever", "did you mean \"severe\"?"),
        ("--weather", "jkf", "did you mean \"jfk\"?"),
        ("--weather", "no-such.csv", "there is no weather record file"),
        ("--weather", "jfk, latitude 40", "is not a carried station"),
        ("--weather", "no-such.csv, station-id 72503014732", "there is no weather record file"),
        (
            "--weather",
            "no-such.csv, latitude .5, from-year 1990",
            "there is no weather record file",
        ),
        ("--weather", "no-such.csv, latitude north", "`latitude`"),
        ("--mow-every", "fortnight", "--mow-every:"),
        ("--height", "3 ft", "out of range"),
        ("--hour-cost", "25", "has no unit"),
        ("--compare", "barier", "did you mean \"barrier\"?"),
        ("--sun", "\"\u{1}", "--sun:"),
    ] {
        let (code, out, err) = swardplay(folder.path(), &["init", flag, value]);
        assert_eq!((code, out.as_str()), (2, ""), "{flag} {value}: {err}");
        assert!(err.contains(told), "{flag} {value}: {err}");
        assert!(!err.contains("panicked"), "{err}");
    }
    assert_eq!(files(folder.path()), [""; 0]);
}

#[test]
fn a_comparison_that_changes_nothing_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let (code, _, err) =
        swardplay(folder.path(), &["init", "--mow-every", "5 days", "--compare", "often"]);
    assert_eq!(code, 2);
    assert!(err.contains("in the base too"), "{err}");
    // Nobody who mows every 5 days is offered that by itself.
    assert_eq!(swardplay(folder.path(), &["init", "--mow-every", "5 days"]).0, 0);
    accepted(folder.path(), "my-lawn.toml", 3);
}

#[test]
fn answers_by_pipe_are_not_asked_again() {
    let folder = tempfile::tempdir().unwrap();
    let (code, err) = piped(folder.path(), &[], "6000 lb\n6000 ft2\n");
    assert_eq!(code, 2);
    assert!(err.contains("the answer for --area"), "{err}");
    let (code, err) = piped(folder.path(), &[], "6000 ft2\n\n");
    assert_eq!(code, 2);
    assert!(err.contains("the answers end before the one for --cover"), "{err}");
    assert_eq!(files(folder.path()), [""; 0]);
}

#[test]
fn without_terminal_and_flags_it_says_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = swardplay(folder.path(), &["init"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("no terminal") && err.contains("--yes"), "{err}");
    assert_eq!(files(folder.path()), [""; 0]);
}

#[test]
fn a_file_that_is_there_is_kept_unless_forced() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lawn.toml");
    fs::write(&path, "mine").unwrap();
    let (code, _, err) = swardplay(folder.path(), &["init", "lawn.toml", "--yes"]);
    assert_eq!(code, 2);
    assert!(err.contains("is there already") && err.contains("--force"), "{err}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    // A bad answer does not cost the old file, either.
    let bad = ["init", "lawn.toml", "--force", "--area", "x"];
    assert_eq!(swardplay(folder.path(), &bad).0, 2);
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    assert_eq!(swardplay(folder.path(), &["init", "lawn.toml", "--yes", "--force"]).0, 0);
    accepted(folder.path(), "lawn.toml", 4);
    for (name, told) in [(".", "is a folder"), ("no/such/lawn.toml", "there is no folder")] {
        let (code, _, err) = swardplay(folder.path(), &["init", name, "--yes"]);
        assert_eq!(code, 2);
        assert!(err.contains(told), "{err}");
    }
    assert_eq!(files(folder.path()), ["lawn.toml"]);
}

/// A station file of one's own is read at once, from where the scenario lies.
#[test]
fn an_own_station_file_is_read_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let lawns = folder.path().join("lawns");
    fs::create_dir(&lawns).unwrap();
    let record = include_str!("../scenarios/weather/jfk_2012_2015.csv");
    let placed = |latitude: &str| format!("# latitude_deg: {latitude}\n# elevation_m: 3\n{record}");
    fs::write(lawns.join("own.csv"), placed("40.6")).unwrap();
    fs::write(lawns.join("south.csv"), placed("-37.8")).unwrap();
    let args = |file| ["init", "lawns/a.toml", "--weather", file];
    assert_eq!(swardplay(folder.path(), &args("own.csv")).0, 0);
    accepted(folder.path(), "lawns/a.toml", 4);
    let (code, _, err) =
        swardplay(folder.path(), &["init", "lawns/b.toml", "--weather", "south.csv"]);
    assert_eq!(code, 2);
    assert!(err.contains("south of the equator"), "{err}");
}

#[cfg(unix)]
#[test]
fn stopping_it_midway_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let mut child = Command::new(cargo_bin("swardplay"))
        .current_dir(folder.path())
        .arg("init")
        .stdin(Stdio::piped())
        .spawn()
        .unwrap();
    let mut answers = child.stdin.take().unwrap();
    answers.write_all(b"6000 ft2\n\n").unwrap();
    std::thread::sleep(std::time::Duration::from_millis(300));
    // Not an interrupt: where the tests run in the background, a shell has that one ignored.
    let stopped = Command::new("kill").arg(child.id().to_string()).status().unwrap();
    assert!(stopped.success());
    assert!(!child.wait().unwrap().success());
    assert_eq!(files(folder.path()), [""; 0]);
}
