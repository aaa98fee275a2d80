//! Runs in parts and runs that were stopped, through the program itself: the bytes of the whole run, or
//! a refusal that says which part and why.

#[path = "support/door.rs"]
mod door;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use door::swardplay;

/// Every file of a folder but the one that tells the time.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let read = |path: std::path::PathBuf| {
        (path.file_name().unwrap().to_str().unwrap().to_string(), fs::read(path).unwrap())
    };
    entries.map(read).filter(|(name, _)| name != "timing.json").collect()
}

fn done(folder: &Path, args: &[&str]) -> String {
    let (code, out, err) = swardplay(folder, args);
    assert_eq!((code, err.as_str()), (0, ""), "{args:?}");
    out
}

/// Refused as input: what it says.
fn refused(folder: &Path, args: &[&str]) -> String {
    let (code, out, err) = swardplay(folder, args);
    assert_eq!((code, out.as_str()), (2, ""), "{args:?}: {err}");
    assert!(!err.contains("panicked"), "{err}");
    err
}

fn same(folder: &Path, one: &str, other: &str) {
    let (one, other) = (files(&folder.join(one)), files(&folder.join(other)));
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    for (name, bytes) in &one {
        assert!(*bytes == other[name], "{name} differs");
    }
}

/// Arguments of a small run, and more.
fn run<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&["play", "dry-summer-lawn", "--members", "60", "--seed", "4"], more].concat()
}

#[test]
fn parts_played_anywhere_are_the_whole_run_and_a_stopped_run_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let undivided = done(at, &run(&["--threads", "1", "--out", "undivided"]));
    done(at, &run(&["--part", "2/3", "--out", "there"]));
    done(at, &run(&["--part", "1/3", "--threads", "2", "--out", "here"]));

    let err = refused(at, &["merge", "here", "there", "--out", "merged"]);
    assert!(err.contains("part 3 of 3 is missing") && err.contains("--part 3/3"), "{err}");
    assert!(!at.join("merged").exists());

    done(at, &run(&["--part", "3/3", "--out", "here"]));
    let merged = done(at, &["merge", "here", "there", "--out", "merged"]);
    same(at, "undivided", "merged");
    assert_eq!(undivided.replace("undivided", "X"), merged.replace("merged", "X"));

    // A run that was stopped after its second part, with the first spoilt on the disk since.
    fs::create_dir(at.join("stopped")).unwrap();
    let (one, two) = ("part-0001-of-0003.part", "part-0002-of-0003.part");
    fs::copy(at.join("there").join(two), at.join("stopped").join(two)).unwrap();
    fs::write(at.join("stopped").join(one), "swardplay part, layout 1\n{}").unwrap();
    done(at, &run(&["--in-parts", "3", "--out", "stopped"]));
    same(at, "undivided", "stopped");
}

#[test]
fn parts_that_do_not_belong_together_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let play = |more: &[&str], out: &str| {
        let args = ["play", "dry-summer-lawn", "--members", "8", "--out", out];
        done(at, &[&args, more].concat());
    };
    play(&["--part", "1/2"], "one");
    play(&["--part", "2/2"], "two");
    play(&["--part", "2/2", "--seed", "2"], "seed");
    play(&["--part", "2/4"], "four");
    for (other, what) in [("seed", "the seed"), ("four", "the number of parts: 2 there, 4 here")] {
        let err = refused(at, &["merge", "one", other, "--out", "out"]);
        assert!(err.contains("another run") && err.contains(what), "{err}");
    }
    let err = refused(at, &["merge", "one", "two", "one", "--out", "out"]);
    assert!(err.contains("part 1 of 2") && err.contains("name each part once"), "{err}");
    let err = refused(at, &["merge", "nowhere.part", "--out", "out"]);
    assert!(err.contains("nowhere.part"), "{err}");
    fs::create_dir(at.join("empty")).unwrap();
    assert!(refused(at, &["merge", "empty"]).contains("no part file in `empty`"));

    // Every byte counts: spoilt in the head, in the middle or at the end, cut, or of another layout.
    let path = at.join("two/part-0002-of-0002.part");
    let good = fs::read(&path).unwrap();
    let spoil = |place: usize| {
        let mut bad = good.clone();
        bad[place] ^= 0x10;
        bad
    };
    let cut = |length: usize| good[..length].to_vec();
    let (middle, last) = (good.len() / 2, good.len() - 1);
    let spoilt = [spoil(60), spoil(middle), spoil(last), cut(middle), cut(30), cut(10), spoil(24)];
    for bad in spoilt {
        fs::write(&path, bad).unwrap();
        let err = refused(at, &["merge", "one", "two", "--out", "out"]);
        assert!(err.contains("part-0002-of-0002.part") && err.contains("cannot be used"), "{err}");
    }
    assert!(!at.join("out").exists(), "nothing is half-written");

    for wrong in ["0/3", "4/3", "3", "1/0", "1/9999999", "-1/3", "a/b"] {
        let err = refused(at, &["play", "--part", wrong]);
        assert!(err.contains("such as 3/10"), "{err}");
    }
    let err = refused(at, &["play", "--members", "5", "--part", "6/6"]);
    assert!(err.contains("5 futures cannot be split into 6 parts"), "{err}");
}

/// Further members leave the earlier ones as they were, to the byte of every row.
#[test]
fn more_futures_leave_the_earlier_ones_unchanged() {
    let folder = tempfile::tempdir().unwrap();
    let rows = |members: &str| -> Vec<String> {
        let args = ["play", "dry-summer-lawn", "--members", members, "--tracks", "--out", members];
        done(folder.path(), &args);
        let read = |name: &str| {
            let text = fs::read_to_string(folder.path().join(members).join(name)).unwrap();
            let future = |line: &str| line.split(',').nth(1)?.parse::<u32>().ok();
            let of_first = |line: &&str| future(line).is_some_and(|number| number <= 3);
            text.lines().filter(of_first).map(|line| format!("{name} {line}")).collect::<Vec<_>>()
        };
        ["tracks.csv", "outcomes.csv", "work.csv", "missed.csv"].map(read).concat()
    };
    let (few, many) = (rows("3"), rows("5"));
    assert!(few.len() > 3 * 365 && few == many);
}
