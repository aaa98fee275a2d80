//! Files that are not what they should be, at every argument that takes one: a clear message, exit code 2,
//! nothing written, no panic.

#[path = "support/door.rs"]
mod door;
#[path = "support/folder.rs"]
mod folder;

use std::fs;
use std::path::Path;

use door::swardplay;
use folder::names;

/// Every command that reads a file, with `@` in its place, and what messages call the file.
const READERS: [(&str, &str); 11] = [
    ("vet @", "scenario"),
    ("play @", "scenario"),
    ("diary @", "scenario"),
    ("credit @ --program split", "scenario"),
    ("when @ --program split --practice barrier", "scenario"),
    ("sheet @ --program split", "scenario"),
    ("thrift @ --need crabgrass-peak<5%", "scenario"),
    ("measure-first @", "scenario"),
    ("lesson --file @", "lesson"),
    ("climate @", "weather"),
    ("play --again @", "run record"),
];

fn example() -> &'static str {
    include_str!("../scenarios/thin-front-lawn.toml")
}

/// A command refuses what stands at `name` with one of `messages`, and leaves the folder as it was.
fn refused(folder: &Path, command: &str, name: &str, messages: &[&str]) {
    let before = names(folder);
    let args: Vec<&str> = command.split(' ').map(|a| if a == "@" { name } else { a }).collect();
    let (code, out, err) = swardplay(folder, &args);
    assert_eq!(code, 2, "{command} on {name}: {err}");
    assert_eq!(out, "", "{command} on {name}");
    assert!(!err.contains("panicked"), "{command} on {name}: {err}");
    assert!(err.len() < 20_000, "{command} on {name}: {} bytes of message", err.len());
    assert!(messages.iter().any(|m| err.contains(m)), "{command} on {name}: {err}");
    assert_eq!(names(folder), before, "{command} on {name} wrote something");
}

fn refused_by_all(folder: &Path, name: &str, message: &str) {
    for (command, _) in READERS {
        refused(folder, command, name, &[message]);
    }
}

#[test]
fn bytes_that_are_no_text_are_refused_by_every_reader() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, bytes: &[u8]| fs::write(folder.path().join(name), bytes).unwrap();
    write("nul", b"title = \"a\"\n\0\n");
    write("latin-1", b"title = \"caf\xe9\"\n");
    write("utf-16", b"\xff\xfet\0i\0t\0");
    write("utf-16-be", b"\xfe\xff\0t\0i\0t");
    write("cut-short", b"title = \"caf\xc3");
    refused_by_all(folder.path(), "nul", "NUL byte in line 2");
    refused_by_all(folder.path(), "latin-1", "is not UTF-8 text: line 1");
    refused_by_all(folder.path(), "utf-16", "saved as UTF-16");
    refused_by_all(folder.path(), "utf-16-be", "saved as UTF-16");
    refused_by_all(folder.path(), "cut-short", "is not UTF-8 text: line 1");
}

#[test]
fn a_folder_or_nothing_is_refused_by_every_reader() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("folder")).unwrap();
    fs::write(folder.path().join("file"), "").unwrap();
    for (command, what) in READERS {
        let message = format!("is a folder; a {what} file was expected");
        refused(folder.path(), command, "folder", &[&message]);
        refused(folder.path(), command, "nothing-here-of-that-name", &["there is no "]);
        refused(folder.path(), command, "nowhere/at/all", &["there is no "]);
        // A file where a folder of the path should be.
        refused(folder.path(), command, "file/inside", &["there is no ", "cannot read the "]);
        refused(folder.path(), command, "", &["there is no ", "a value is required"]);
    }
}

#[test]
fn an_empty_file_is_told_what_it_lacks() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in [("empty", ""), ("mark", "\u{feff}"), ("blank", " \r\n\t\n")] {
        fs::write(folder.path().join(name), text).unwrap();
        for (command, what) in READERS {
            let message = match what {
                "weather" => "there is no table in this file",
                "run record" => "is not the record of a run",
                _ => "is missing",
            };
            refused(folder.path(), command, name, &[message]);
        }
    }
}

#[test]
fn a_file_beyond_all_measure_is_refused_unread() {
    let folder = tempfile::tempdir().unwrap();
    // Sparse: nothing of it takes room on the disk.
    let file = fs::File::create(folder.path().join("large")).unwrap();
    file.set_len(65 << 20).unwrap();
    for (command, what) in READERS {
        let most = match what {
            "weather" => 64,
            "run record" => 1,
            _ => 4,
        };
        let message = format!("is larger than {most} MB, the most that is read");
        refused(folder.path(), command, "large", &[&message]);
        #[cfg(unix)]
        refused(folder.path(), command, "/dev/zero", &[&message]);
    }
}

/// Depth must not overflow the stack.
#[test]
fn deep_nesting_is_refused_by_every_reader() {
    let folder = tempfile::tempdir().unwrap();
    let deep = 200_000;
    for (name, text) in [
        ("lists", format!("x = {}", "[".repeat(deep))),
        ("tables", format!("x = {}", "{a=".repeat(deep))),
        ("names", format!("{}a = 1", "a.".repeat(deep))),
        ("json-lists", "[".repeat(deep)),
        ("json-tables", "{\"swardplay\":".repeat(deep / 8)),
    ] {
        fs::write(folder.path().join(name), text).unwrap();
        for (command, what) in READERS {
            let message = match what {
                "weather" => "expected",
                "run record" => "is not the record of a run",
                _ => "error",
            };
            refused(folder.path(), command, name, &[message]);
        }
    }
}

/// As many mistakes as a file can hold: told in time, and not all of them.
#[test]
fn a_flood_of_mistakes_is_cut_short() {
    let folder = tempfile::tempdir().unwrap();
    let flood: String = (0..150_000).map(|i| format!("key-{i} = 1\n")).collect();
    fs::write(folder.path().join("keys"), flood).unwrap();
    refused(folder.path(), "vet @", "keys", &["at least 1000 errors in keys"]);
    let long = format!("{} = 1\narea = \"{}\"\n", "k".repeat(1 << 20), "v".repeat(1 << 20));
    let long = format!("{long}[lawn]\nslope = \"1 {}\"\n", "u".repeat(1 << 20));
    fs::write(folder.path().join("long"), long).unwrap();
    refused(folder.path(), "vet @", "long", &["is not a key of"]);
    let program = "[[program]]\nid = \"a\"\nbased-on = \"a\"\n";
    let programs = format!("{}\n{}", example(), program.repeat(50_000));
    fs::write(folder.path().join("programs"), programs).unwrap();
    let message = "`program` is there 500";
    refused(folder.path(), "vet @", "programs", &[message]);
    let dates = vec!["\"1 Apr\""; 100_000].join(", ");
    let dates = example().replacen("every = \"14 days\"", &format!("on = [{dates}]"), 1);
    fs::write(folder.path().join("dates"), dates).unwrap();
    refused(folder.path(), "vet @", "dates", &["`on` is there 100000 times", "366 at most"]);
}

/// Programs that each add a practice to the one before.
#[test]
fn a_chain_of_programs_does_not_grow_without_end() {
    let folder = tempfile::tempdir().unwrap();
    let mow =
        "do = \"mow\"\nheight = \"3 in\"\nevery = \"14 days\"\nfrom = \"10 Apr\"\nto = \"5 Nov\"\n";
    let practices: String =
        (0..180).map(|i| format!("\n[[program.practice]]\nkey = \"p-{i}\"\n{mow}")).collect();
    let (head, _) = example().split_once("[[program]]").unwrap();
    let mut text = format!("{head}[[program]]\nid = \"c-0\"\ntitle = \"a\"{practices}");
    for i in 1..30 {
        text.push_str(&format!(
            "\n[[program]]\nid = \"c-{i}\"\ntitle = \"b {i}\"\nbased-on = \"c-{}\"\n\
             [program.change.add]\nkey = \"more-{i}\"\n{mow}",
            i - 1
        ));
    }
    fs::write(folder.path().join("chain"), text).unwrap();
    refused(folder.path(), "vet @", "chain", &["`practice` is there 201 times"]);
}

/// A table of weather that is none, as large as one that is read may be.
#[test]
fn a_table_of_commas_does_not_take_the_memory_of_the_machine() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("one-line.csv"), ",".repeat(8 << 20)).unwrap();
    refused(folder.path(), "climate @", "one-line.csv", &["line 1: the line is longer than 65536"]);
    let line = format!("date{}\n", ",".repeat(60_000));
    fs::write(folder.path().join("wide.csv"), line.repeat(350)).unwrap();
    refused(folder.path(), "climate @", "wide.csv", &["more than 20000000 fields up to here"]);
}

/// What editors do to a good file is no fault of it: a byte order mark, either line end, or both.
#[test]
fn marks_and_line_ends_of_any_editor_are_read() {
    let folder = tempfile::tempdir().unwrap();
    let mixed = |text: &str| -> String {
        let ends = ["\n", "\r\n"].into_iter().cycle();
        text.lines().zip(ends).map(|(line, end)| format!("{line}{end}")).collect()
    };
    let record = include_str!("../scenarios/weather/jfk_2012_2015.csv");
    let record = format!("# latitude_deg: 40.64\n# elevation_m: 3\n{record}");
    let lawn = example().replacen("station = \"jfk\"", "file = \"record.csv\"", 1);
    let lesson = include_str!("../scenarios/lessons/cut-often.toml");
    for (end, shape) in [
        ("mixed", &mixed as &dyn Fn(&str) -> String),
        ("windows", &|text: &str| text.replace('\n', "\r\n")),
    ] {
        let write = |name: &str, text: &str| {
            fs::write(folder.path().join(name), format!("\u{feff}{}", shape(text))).unwrap();
        };
        write("record.csv", &record);
        write("lawn.toml", &lawn);
        write("lesson.toml", lesson);
        for args in [
            &["vet", "lawn.toml"][..],
            &["sheet", "lawn.toml", "--program", "split", "--members", "4", "--out", end],
            &["lesson", "--file", "lesson.toml", "--answer", "A", "--members", "4"],
        ] {
            let (code, out, err) = swardplay(folder.path(), args);
            assert_eq!(code, 0, "{end} {args:?}: {err}");
            assert!(!out.contains('\r'), "{end} {args:?}");
        }
    }
    // A run record that went through an editor.
    let play = ["play", "lawn.toml", "--members", "4", "--out", "run"];
    assert_eq!(swardplay(folder.path(), &play).0, 0);
    let index = folder.path().join("run/run.json");
    let text = fs::read_to_string(&index).unwrap();
    fs::write(&index, format!("\u{feff}{}", text.replace('\n', "\r\n"))).unwrap();
    let again = ["play", "--again", "run/run.json", "--out", "again"];
    let (code, _, err) = swardplay(folder.path(), &again);
    assert_eq!(code, 0, "{err}");
    assert_eq!(fs::read_to_string(folder.path().join("again/run.json")).unwrap(), text);
}

/// Numbers beyond all measure, wherever a scenario takes one.
#[test]
fn huge_numbers_are_refused_by_their_range() {
    let folder = tempfile::tempdir().unwrap();
    let numbers =
        ["1e308", "-1e308", "1e9999", "99999999999999999999", "9223372036854775807", "nan", "inf"];
    let mut tried = 0;
    for (at, line) in example().lines().enumerate() {
        let line = line.split('#').next().unwrap_or_default();
        let Some((key, value)) = line.split_once(" = ") else { continue };
        let Some(from) = value.find(|c: char| c.is_ascii_digit()) else { continue };
        let end = value[from..].find(|c: char| !c.is_ascii_digit() && c != '.');
        let end = end.map_or(value.len(), |end| from + end);
        if key.starts_with(' ')
            || ["title", "about", "id"].contains(&key)
            || !value.starts_with(['"', '[', '1', '2'])
        {
            continue;
        }
        // Each line takes one of them: all lines with all numbers are the fuzzer's.
        let number = numbers[tried % numbers.len()];
        let new = format!("{key} = {}{number}{}", &value[..from], &value[end..]);
        let text: Vec<&str> =
            example().lines().enumerate().map(|(i, l)| if i == at { &new } else { l }).collect();
        fs::write(folder.path().join("huge.toml"), text.join("\n")).unwrap();
        refused(folder.path(), "vet @", "huge.toml", &["huge.toml:"]);
        tried += 1;
    }
    assert!(tried > 20, "{tried} lines with a number");
}

/// The weather files that a scenario names are files that a person names, too.
#[test]
fn weather_files_of_a_scenario_are_looked_at_as_closely() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("folder.csv")).unwrap();
    fs::write(folder.path().join("nul.csv"), b"date\0").unwrap();
    fs::write(folder.path().join("latin.csv"), b"date,caf\xe9").unwrap();
    fs::write(folder.path().join("wide.csv"), b"\xff\xfed\0").unwrap();
    for key in ["file", "so-far"] {
        for (name, message) in [
            ("folder.csv", "is a folder; a weather record file was expected"),
            ("nul.csv", "NUL byte in line 1"),
            ("latin.csv", "is not UTF-8 text: line 1"),
            ("wide.csv", "saved as UTF-16"),
            ("none.csv", "there is no weather record file"),
        ] {
            let station = if key == "file" { "" } else { "station = \"jfk\"\n" };
            let keys = format!("{station}{key} = \"{name}\"");
            let text = example().replacen("station = \"jfk\"", &keys, 1);
            fs::write(folder.path().join("lawn.toml"), text).unwrap();
            for command in ["vet @", "play @", "sheet @ --program split"] {
                refused(folder.path(), command, "lawn.toml", &[message]);
            }
        }
    }
}

/// `init` reads a record that an answer names, and writes where it is told.
#[test]
fn init_refuses_a_bad_record_and_a_bad_place() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("folder")).unwrap();
    fs::write(folder.path().join("taken.toml"), "mine").unwrap();
    fs::write(folder.path().join("nul.csv"), b"date\0").unwrap();
    for (args, message) in [
        ("init @ --yes --weather nul.csv", "NUL byte in line 1"),
        ("init @ --yes --weather folder", "folder"),
        ("init @ --yes --weather none.csv", "none.csv"),
    ] {
        refused(folder.path(), args, "new.toml", &[message]);
    }
    refused(folder.path(), "init @ --yes", "folder", &["is a folder; name a file inside it"]);
    refused(folder.path(), "init @ --yes", "taken.toml", &["is there already"]);
    refused(folder.path(), "init @ --yes", "none/new.toml", &["there is no folder `none`"]);
    refused(
        folder.path(),
        "init @ --yes",
        "taken.toml/new.toml",
        &["there is no folder `taken.toml`"],
    );
    assert_eq!(fs::read_to_string(folder.path().join("taken.toml")).unwrap(), "mine");
}
