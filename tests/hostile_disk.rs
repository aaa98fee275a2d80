//! Disks, folders and processes that fail: a clear message, nothing half-written, and the next run goes well.
#![cfg(unix)]

#[path = "support/door.rs"]
mod door;
#[path = "support/folder.rs"]
mod folder;

use std::collections::BTreeSet;
use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

use assert_cmd::cargo::cargo_bin;
use door::swardplay;
use folder::names;

/// Every command that writes, with `@` where it is told to.
const WRITERS: [&str; 10] = [
    "play --members 4 --out @",
    "diary thin-front-lawn --members 4 --out @",
    "credit thin-front-lawn --program split --members 4 --out @",
    "when thin-front-lawn --program split --practice barrier --steps 2 --members 4 --out @",
    "sheet thin-front-lawn --program split --members 4 --out @",
    "thrift thin-front-lawn --need crabgrass-peak<5% --members 4 --tries 10 --out @",
    "measure-first thin-front-lawn --members 60 --out @",
    "lesson cut-often --answer A --members 4 --out @",
    "climate jfk --out @",
    "init @ --yes",
];

/// Those of them that are played to their end in a moment; the others write in the same way.
fn quick() -> impl Iterator<Item = &'static str> {
    let slow = ["thrift", "measure-first"];
    WRITERS.into_iter().filter(move |command| !slow.iter().any(|name| command.starts_with(name)))
}

fn put(command: &str, place: &str) -> Vec<String> {
    command.split(' ').map(|a| if a == "@" { place } else { a }.to_string()).collect()
}

/// The same, so long that nobody would wait for it; `thrift` refuses so many of its own accord.
fn lengthened(command: &str) -> String {
    match command.starts_with("thrift") {
        true => command.to_string(),
        false => command.replace("--members 4 ", "--members 100000 "),
    }
}

/// Runs the program with a small disk of its own at `disk`, mounted with `options` and gone with the
/// program; `None` where that is not allowed. What the disk holds in the end is the last line of stdout.
fn on_a_disk(folder: &Path, options: &str, args: &[String]) -> Option<Output> {
    fs::create_dir_all(folder.join("disk")).unwrap();
    let run = |script: &str, args: &[String]| {
        Command::new("unshare")
            .args(["--user", "--map-root-user", "--mount", "sh", "-c", script, "sh"])
            .arg(cargo_bin("swardplay"))
            .args(args)
            .current_dir(folder)
            .stdin(Stdio::null())
            .output()
            .ok()
    };
    let mount = format!("mount -t tmpfs -o {options} none disk");
    if !run(&mount, &[])?.status.success() {
        return None;
    }
    let script = format!(
        "{mount} && \"$@\"; code=$?; echo; find disk -mindepth 1 | tr '\\n' ' '; exit $code"
    );
    run(&script, args)
}

/// Nothing was told on stdout; of a lesson no more than its question.
fn no_result(command: &str, out: &str) -> bool {
    out.trim().is_empty() || (command.starts_with("lesson") && !out.contains("futures"))
}

fn told(end: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (end.status.code(), text(&end.stdout), text(&end.stderr))
}

#[test]
fn a_full_disk_is_told_and_keeps_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for command in quick() {
        // No room for a name; for a page of text; for some of the files, and then no more.
        let sizes = match command.split(' ').next() {
            Some("init") => &["size=4k,nr_inodes=1"][..],
            Some("play") => &["size=4k", "size=16k"],
            _ => &["size=4k"],
        };
        for size in sizes {
            let Some(end) = on_a_disk(folder.path(), size, &put(command, "disk/new")) else {
                eprintln!("not tried: no disk can be mounted here");
                return;
            };
            let (code, out, err) = told(&end);
            assert_eq!(code, Some(1), "{command}: {err}");
            assert!(
                err.contains("the disk is full: there is no room for `disk/new`"),
                "{command}: {err}"
            );
            assert!(!err.contains("panicked"), "{command}: {err}");
            let (told, left) = out.trim_end_matches(' ').rsplit_once('\n').unwrap();
            assert_eq!(left, "", "{command} left something");
            assert!(no_result(command, told), "{command}: {told}");
        }
    }
}

#[test]
fn a_disk_that_cannot_be_written_is_told_before_any_work() {
    let folder = tempfile::tempdir().unwrap();
    for command in WRITERS {
        let long = lengthened(command);
        let Some(end) = on_a_disk(folder.path(), "ro", &put(&long, "disk/new")) else {
            eprintln!("not tried: no disk can be mounted here");
            return;
        };
        let (code, out, err) = told(&end);
        assert_eq!(code, Some(1), "{command}: {err}");
        assert!(err.contains("no permission to write `disk/new`"), "{command}: {err}");
        assert!(no_result(command, out.trim()), "{command}: {out}");
    }
}

/// A full disk spares what an earlier run has left.
#[test]
fn an_earlier_run_outlives_a_full_disk() {
    let folder = tempfile::tempdir().unwrap();
    let words = |text: &str| -> Vec<String> { text.split(' ').map(str::to_string).collect() };
    let script = "disk/run --program split --members 4";
    let mut args = vec!["-c".to_string()];
    let program = cargo_bin("swardplay");
    let program = program.display();
    args[0] = format!(
        "{program} sheet thin-front-lawn --out {script} >/dev/null && ls -A disk/run | sort >before && \
         cp disk/run/run.json before.json && head -c 100000000 /dev/zero >disk/filler 2>/dev/null; \
         {program} sheet thin-front-lawn --out {script} --seed 9; code=$?; ls -A disk/run | sort >after; \
         cmp disk/run/run.json before.json && exit $code"
    );
    let args = [words("sh -c"), args].concat();
    fs::create_dir_all(folder.path().join("disk")).unwrap();
    let end = Command::new("unshare")
        .args(["--user", "--map-root-user", "--mount", "sh", "-c"])
        .arg("mount -t tmpfs -o size=2m none disk || exit 77; exec \"$@\"")
        .arg("sh")
        .args(&args)
        .current_dir(folder.path())
        .output();
    let Some(end) = end.ok().filter(|end| end.status.code() != Some(77)) else {
        eprintln!("not tried: no disk can be mounted here");
        return;
    };
    let (code, _, err) = told(&end);
    if err.contains("unshare") {
        eprintln!("not tried: {err}");
        return;
    }
    assert_eq!(code, Some(1), "{err}");
    assert!(err.contains("the disk is full"), "{err}");
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    assert_eq!(read("before"), read("after"));
}

/// Results that no disk takes.
#[test]
fn a_result_that_cannot_be_printed_is_a_failure() {
    let folder = tempfile::tempdir().unwrap();
    for command in ["facts", "vet thin-front-lawn", "lesson", "diary thin-front-lawn --members 4"] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let end = Command::new(cargo_bin("swardplay"))
            .current_dir(folder.path())
            .args(command.split(' '))
            .stdout(full)
            .output()
            .unwrap();
        let (code, _, err) = told(&end);
        assert_eq!(code, Some(1), "{command}: {err}");
        assert!(err.contains("cannot write to standard output"), "{command}: {err}");
    }
}

/// Places that are no folders and can be none.
#[test]
fn a_place_that_takes_no_folder_is_told_before_any_work() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("file"), "mine").unwrap();
    for command in WRITERS {
        for place in ["file/new", "file", "/proc/new", "/dev/null/new", "/dev/full"] {
            let long = put(&lengthened(command), place);
            let (code, out, err) =
                swardplay(folder.path(), &long.iter().map(String::as_str).collect::<Vec<_>>());
            assert!(code == 2 || code == 1, "{command} at {place}: {code} {err}");
            assert!(no_result(command, &out), "{command} at {place}: {out}");
            assert!(
                err.starts_with("error: ") && err.contains(place.split("/new").next().unwrap()),
                "{command} at {place}: {err}"
            );
            assert!(!err.contains("panicked"), "{command} at {place}: {err}");
        }
    }
    assert_eq!(names(folder.path()), only("file"));
    assert_eq!(fs::read_to_string(folder.path().join("file")).unwrap(), "mine");
}

/// Root may write everywhere, so that others than root see this one at work.
#[test]
fn a_folder_without_permission_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let shut = folder.path().join("shut");
    fs::create_dir(&shut).unwrap();
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).unwrap();
    if fs::write(shut.join("trial"), "").is_ok() {
        eprintln!("not tried: permissions do not hold for this user");
        return;
    }
    for command in WRITERS {
        let args = put(command, "shut/new");
        let (code, _, err) =
            swardplay(folder.path(), &args.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!(code, 1, "{command}: {err}");
        assert!(err.contains("no permission to write `shut/new`"), "{command}: {err}");
    }
}

/// A long run that has begun: its folder aside, which is given back, is there.
fn start(folder: &Path, out: &str) -> (Child, String) {
    let before = there(&folder.join(out));
    let child = Command::new(cargo_bin("swardplay"))
        .current_dir(folder)
        .args(["play", "--members", "100000", "--threads", "1", "--out", out])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let new = appeared(&folder.join(out), &before);
    (child, new)
}

fn only(name: &str) -> BTreeSet<String> {
    BTreeSet::from([name.to_string()])
}

fn there(folder: &Path) -> BTreeSet<String> {
    if folder.exists() { names(folder) } else { BTreeSet::new() }
}

/// Waits for what was not there before.
fn appeared(folder: &Path, before: &BTreeSet<String>) -> String {
    let since = Instant::now();
    loop {
        assert!(since.elapsed() < Duration::from_secs(60), "the run does not begin");
        std::thread::sleep(Duration::from_millis(5));
        if let Some(new) = there(folder).into_iter().find(|name| !before.contains(name)) {
            // It is locked as soon as it is made: a moment for that.
            std::thread::sleep(Duration::from_millis(200));
            return new;
        }
    }
}

/// What a killed run leaves is aside, and goes with the next run; what a living one has aside stays.
#[test]
fn a_killed_run_leaves_nothing_that_passes_for_a_result() {
    let folder = tempfile::tempdir().unwrap();
    let (mut child, left) = start(folder.path(), "out");
    child.kill().unwrap();
    child.wait().unwrap();
    let out = folder.path().join("out");
    assert!(left.starts_with(".unfinished-"), "{left:?}");
    assert_eq!(names(&out), only(&left));

    let (mut living, aside) = start(folder.path(), "out");
    assert_eq!(names(&out), only(&aside), "the dead run's is swept");
    let (code, _, err) = swardplay(folder.path(), &["play", "--members", "4", "--out", "out"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let after = names(&out);
    assert!(after.contains(&aside), "the living run's is kept: {after:?}");
    assert!(after.contains("run.json"), "{after:?}");
    living.kill().unwrap();
    living.wait().unwrap();
    // The earlier set is whole, and the next run leaves nothing else.
    let (code, _, _) = swardplay(folder.path(), &["play", "--members", "4", "--out", "out"]);
    assert_eq!(code, 0);
    assert!(names(&out).iter().all(|name| !name.starts_with('.')), "{:?}", names(&out));
}

/// A folder aside of a version that set no lock, or of someone else, is in nobody's way.
#[test]
fn a_strange_folder_aside_is_let_be() {
    let folder = tempfile::tempdir().unwrap();
    let strange = folder.path().join("out/.unfinished-abc");
    fs::create_dir_all(&strange).unwrap();
    fs::write(strange.join("bands.csv"), "half a tab").unwrap();
    let (code, _, err) = swardplay(folder.path(), &["play", "--members", "4", "--out", "out"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert_eq!(fs::read_to_string(strange.join("bands.csv")).unwrap(), "half a tab");
}

/// Every command that prints, before a reader that leaves at once (`| head -1`).
#[test]
fn a_reader_that_leaves_is_no_failure_of_any_command() {
    let folder = tempfile::tempdir().unwrap();
    let other = ["vet thin-front-lawn", "facts", "lesson", "--help"];
    for command in quick().chain(other) {
        let mut child = Command::new(cargo_bin("swardplay"))
            .current_dir(folder.path())
            .args(put(command, if command.starts_with("init") { "a.toml" } else { "out" }))
            .args(if command.starts_with("diary") { &["--force"][..] } else { &[] })
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let (code, _, err) = told(&child.wait_with_output().unwrap());
        assert_eq!((code, err.as_str()), (Some(0), ""), "{command}");
        // What one command names a file may be another's folder.
        let out = folder.path().join("out");
        let _ = fs::remove_file(&out);
        let _ = fs::remove_dir_all(&out);
    }
}
