//! Bad input at the door: a clear message, exit code 2, nothing written.

#[path = "support/door.rs"]
mod door;

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use assert_cmd::cargo::cargo_bin;
use door::swardplay;

/// Both commands that read a scenario refuse `name` with `message`, and write nothing.
fn refused(folder: &Path, name: &str, message: &str) {
    let before = fs::read_dir(folder).unwrap().count();
    for command in ["vet", "play"] {
        let (code, out, err) = swardplay(folder, &[command, name]);
        assert_eq!(code, 2, "{command} {name}: {err}");
        assert_eq!(out, "", "{command} {name}");
        assert!(err.contains(message), "{command} {name}: {err}");
        assert!(!err.contains("panicked"), "{err}");
    }
    assert_eq!(fs::read_dir(folder).unwrap().count(), before, "nothing was written");
}

#[test]
fn a_missing_file_is_told_with_a_near_miss() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("front-lawn.toml"), "").unwrap();
    refused(folder.path(), "front-lwan.toml", "did you mean `front-lawn.toml`?");
    refused(folder.path(), "thin-front-lawm", "the carried example is called `thin-front-lawn`");
    refused(folder.path(), "nowhere/at/all.toml", "there is no scenario file");
    refused(folder.path(), "", "there is no scenario file");
}

#[test]
fn a_folder_is_not_a_scenario() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("lawn.toml")).unwrap();
    refused(folder.path(), "lawn.toml", "is a folder; a scenario file was expected");
    refused(folder.path(), ".", "is a folder");
}

#[test]
fn what_is_not_text_is_refused_with_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, bytes: &[u8]| fs::write(folder.path().join(name), bytes).unwrap();
    write("nul.toml", b"title = \"a\"\n\0\n");
    write("latin.toml", b"title = \"caf\xe9\"\n");
    write("utf16.toml", b"\xff\xfet\0i\0t\0");
    refused(folder.path(), "nul.toml", "NUL byte in line 2");
    refused(folder.path(), "latin.toml", "is not UTF-8 text: line 1");
    refused(folder.path(), "utf16.toml", "saved as UTF-16");
}

#[test]
fn a_file_beyond_any_scenario_is_refused_unread() {
    let folder = tempfile::tempdir().unwrap();
    let large = folder.path().join("large.toml");
    fs::File::create(&large).unwrap().set_len(5 * 1024 * 1024).unwrap();
    refused(folder.path(), "large.toml", "is larger than 4 MB");
    #[cfg(unix)]
    refused(folder.path(), "/dev/zero", "is larger than 4 MB");
}

#[test]
fn a_mistyped_argument_is_the_inputs_fault() {
    let folder = tempfile::tempdir().unwrap();
    for (args, message) in [
        (&["paly"][..], "unrecognized subcommand"),
        (&["play", "--members", "0"], "1 to 100000"),
        (&["play", "--members", "many"], "invalid value"),
        (&["play", "--seed", "-1"], "--seed"),
        (&["play", "--threads", "0"], "1..=1024"),
        (&["play", "--units", "furlongs"], "us, metric"),
        (&["vet"], "required"),
        (&["--members", "0"], "1 to 100000"),
        (&["--members", "3", "vet"], "--members"),
    ] {
        let (code, out, err) = swardplay(folder.path(), args);
        assert_eq!(code, 2, "{args:?}: {err}");
        assert_eq!(out, "", "{args:?}");
        assert!(err.contains(message), "{args:?}: {err}");
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

/// The model's year is the northern one: nothing is played on the other half.
#[test]
fn a_station_south_of_the_equator_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let record = include_str!("../scenarios/weather/jfk_2012_2015.csv");
    let placed = format!("# latitude_deg: -37.8\n# elevation_m: 3\n{record}");
    fs::write(folder.path().join("south.csv"), placed).unwrap();
    let lawn = include_str!("../scenarios/thin-front-lawn.toml")
        .replace("station = \"jfk\"", "file = \"south.csv\"");
    fs::write(folder.path().join("lawn.toml"), lawn).unwrap();
    refused(folder.path(), "lawn.toml", "`south.csv`: its station lies at latitude -37.8, south");
}

#[test]
fn help_names_every_command_in_plain_words() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = swardplay(folder.path(), &["--help"]);
    assert_eq!((code, err.as_str()), (0, ""));
    for command in ["play", "vet", "init", "facts", "climate", "when"] {
        assert!(out.contains(&format!("  {command} ")), "{out}");
        let (code, out, _) = swardplay(folder.path(), &[command, "--help"]);
        assert_eq!(code, 0);
        assert!(out.contains("Usage: swardplay"), "{out}");
    }
    let (code, out, _) = swardplay(folder.path(), &["--version"]);
    assert_eq!((code, out.trim()), (0, concat!("swardplay ", env!("CARGO_PKG_VERSION"))));
}

#[test]
fn an_unknown_fact_is_the_inputs_fault() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = swardplay(folder.path(), &["facts", "no-such-thing"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("there is no fact called `no-such-thing`"), "{err}");
}

#[test]
fn a_reader_that_has_had_enough_is_no_failure() {
    let folder = tempfile::tempdir().unwrap();
    for args in [&["facts"][..], &["--help"]] {
        let mut child = Command::new(cargo_bin("swardplay"))
            .current_dir(folder.path())
            .args(args)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let end = child.wait_with_output().unwrap();
        assert_eq!(end.status.code(), Some(0), "{args:?}");
        assert_eq!(String::from_utf8_lossy(&end.stderr), "", "{args:?}");
    }
}
