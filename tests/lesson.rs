//! `lesson`, as a person starts it, and the lessons that are carried.

#[path = "support/door.rs"]
mod door;
#[path = "support/lessons_page.rs"]
mod lessons_page;

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use assert_cmd::cargo::cargo_bin;
use door::swardplay;
use lessons_page::typed;
use swardplay::carried::LESSONS;
use swardplay::lesson::{play, source, told};

/// A lesson as text, for mistakes made in it.
const LESSON: &str = include_str!("../scenarios/lessons/feed-more.toml");

#[test]
fn every_carried_lesson_is_played_and_every_future_has_one_answer() {
    let args = typed(&["--members", "6"]);
    let lessons = source::asked_for(&args).unwrap();
    assert_eq!(lessons.len(), LESSONS.len());
    for ready in lessons {
        let (results, answer) = play(&ready, &args).unwrap();
        assert_eq!(answer.hits.iter().sum::<u32>(), 6, "{}", ready.name);
        assert!(answer.asked.iter().all(|value| value.is_finite()), "{}", ready.name);
        let told = told::told(&ready, &results, &answer);
        assert_eq!(told.chain.len(), ready.lesson.links.len());
        let figure = |text: &String| text.contains(|c: char| c.is_ascii_digit());
        assert!(told.chain.iter().all(figure), "{}: {:?}", ready.name, told.chain);
        assert!(told.chain.iter().all(|t| !t.contains(['{', '}', '|'])), "{:?}", told.chain);
        assert!(told.table.rows.iter().all(|(_, cells)| cells.iter().all(|c| !c.is_empty())));
    }
}

/// Which choice is right, and all figures, as the page has them.
#[test]
fn the_page_of_lessons_is_what_the_model_answers() {
    let kept = include_str!("../scenarios/lessons/README.md");
    let page = lessons_page::page().unwrap();
    for (kept, made) in kept.lines().zip(page.lines()) {
        assert_eq!(kept, made, "stale: cargo run --example answers -- --write");
    }
    assert_eq!(kept.lines().count(), page.lines().count());
}

#[test]
fn a_guess_may_be_a_flag_or_come_through_a_pipe() {
    let folder = tempfile::tempdir().unwrap();
    let lesson = ["lesson", "cut-height", "--members", "40"];
    let (code, flag, err) = swardplay(folder.path(), &[&lesson[..], &["--answer", "a"]].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(flag.contains("You said A"), "{flag}");
    let mut pipe = Command::new(cargo_bin("swardplay"))
        .args(lesson)
        .current_dir(folder.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    pipe.stdin.take().unwrap().write_all(b"A\n").unwrap();
    let out = pipe.wait_with_output().unwrap();
    assert_eq!(String::from_utf8(out.stdout).unwrap(), flag);
    // A pipe that says nothing gets the answer without a guess.
    let (code, silent, _) = swardplay(folder.path(), &lesson);
    assert_eq!(code, 0);
    assert!(silent.contains("The model says") && !silent.contains("You said"), "{silent}");
    let (code, _, err) = swardplay(folder.path(), &[&lesson[..], &["--answer", "Q"]].concat());
    assert_eq!(code, 2);
    assert!(err.contains("there is no answer \"Q\"; expected A, B or C"), "{err}");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0, "nothing is written unasked");
}

#[test]
fn threads_change_no_byte_and_a_picture_is_drawn_where_asked() {
    let folder = tempfile::tempdir().unwrap();
    let run = |threads: &str, out: &str| {
        let args = ["lesson", "barrier-split", "--members", "40", "--answer", "C"];
        let more = ["--threads", threads, "--out", out];
        let (code, text, err) = swardplay(folder.path(), &[&args[..], &more[..]].concat());
        assert_eq!((code, err.as_str()), (0, ""));
        let picture = fs::read(folder.path().join(out).join("lesson-barrier-split.png")).unwrap();
        (text.replace(out, "OUT"), picture)
    };
    assert!(run("1", "folder-1") == run("3", "folder-3"), "threads change the answer");
}

#[test]
fn few_futures_say_that_they_do_not_tell() {
    let folder = tempfile::tempdir().unwrap();
    let args = ["lesson", "barrier-early", "--members", "4", "--answer", "C"];
    let (code, text, _) = swardplay(folder.path(), &args);
    assert_eq!(code, 0);
    assert!(text.contains("do not tell"), "{text}");
}

#[test]
fn a_sheet_has_the_questions_before_the_answers() {
    let folder = tempfile::tempdir().unwrap();
    let args = ["lesson", "--sheet", "--members", "4", "--out", "sheet"];
    let (code, out, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("lessons.html"), "{out}");
    let html = fs::read_to_string(folder.path().join("sheet/lessons.html")).unwrap();
    let (questions, answers) = html.split_once("<div class=\"answers\">").unwrap();
    assert_eq!(questions.matches("<section class=\"lesson\">").count(), LESSONS.len());
    assert_eq!(answers.matches("<section class=\"answer\">").count(), LESSONS.len());
    assert_eq!(answers.matches("data:image/svg+xml,").count(), LESSONS.len());
    assert!(!questions.contains("The model says"));
    assert!(!html.contains("src=\"http") && !html.contains("href="), "nothing beside it is needed");
    let args = ["lesson", "compost", "--sheet", "--members", "4"];
    assert_eq!(swardplay(folder.path(), &args).0, 0);
    assert!(folder.path().join("swardplay-lesson/lesson-compost.html").exists());
}

/// Plays a file with mistakes: what it is refused with.
fn refused(folder: &Path, text: &str) -> String {
    fs::write(folder.join("mine.toml"), text).unwrap();
    let args = ["lesson", "--file", "mine.toml", "--answer", "A", "--out", "out"];
    let (code, out, err) = swardplay(folder, &args);
    assert_eq!((code, out.as_str()), (2, ""), "{err}");
    assert!(!folder.join("out").exists(), "nothing half-written");
    err
}

#[test]
fn mistakes_are_shown_with_their_line_and_a_near_miss() {
    let folder = tempfile::tempdir().unwrap();
    let cases = [
        (
            "outcome = \"crabgrass_peak\"\n",
            "outcome = \"crabgras_peak\"\n",
            "did you mean \"crabgrass_peak\"?",
        ),
        ("measure = \"barrier\"", "measure = \"barier\"", "did you mean \"barrier\"?"),
        ("show = \"crabgrass_cover\"", "show = \"crabgrass\"", "is not a known measure"),
        ("on = \"15 Jun\"\n", "on = \"31 Jun\"\n", "June has no day 31"),
        ("season = 2", "season = 3", "the run has no season 3"),
        ("from = \"-5 points\"", "from = \"-4 points\"", "no answer holds from -5 % to -4 %"),
        ("from = \"-5 points\"", "from = \"-6 points\"", "A and B both hold for some values"),
        (
            "to = \"-5 points\"",
            "from = \"-9 points\"\nto = \"-5 points\"",
            "no answer holds below -9 %",
        ),
        ("to = \"5 points\"\n", "to = \"5 inches\"\n", "is not an amount of crabgrass_peak"),
        ("the double feed and {b} without", "the double feed", "{b} is missing"),
        ("stops {a} of", "stops {c} of", "{c} is not known here"),
        ("popular = \"A\"", "popular = \"E\"", "there is no choice E"),
        (
            "studies = [\"weeds-n-barrier\"]",
            "studies = [\"weeds-n-bariers\"]",
            "did you mean \"weeds-n-barrier\"?",
        ),
        ("change = \"double\"", "change = \"doubel\"", "did you mean \"double\"?"),
        ("change = \"double\"", "change = \"usual\"", "is not based on another"),
        ("question = ", "qestion = ", "did you mean \"question\"?"),
        (
            "nitrogen = \"1.5 lb N/1000 ft2\"",
            "nitrogen = \"1.5 lb/1000 ft2\"",
            "a weight of nitrogen per area",
        ),
        ("practice = \"feed\"", "practice = \"fed\"", "did you mean \"feed\"?"),
    ];
    for (from, to, message) in cases {
        assert!(LESSON.contains(from), "{from}");
        let told = refused(folder.path(), &LESSON.replacen(from, to, 1));
        assert!(told.contains(message), "{to}: {told}");
        assert!(told.contains("mine.toml:"), "{told}");
    }
}

#[test]
fn a_scenario_that_is_not_there_or_does_not_bear_the_lesson_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let told = refused(folder.path(), &LESSON.replace("thin-front-lawn", "thin-frnt-lawn"));
    assert!(told.contains("thin-frnt-lawn"), "{told}");
    // The lesson's own lawn does not fit the scenario's soil: the fault stands in the lesson.
    let soil = "[lawn.soil]\nsand = \"40 %\"\n\n[[program]]";
    let told = refused(folder.path(), &LESSON.replacen("[[program]]", soil, 1));
    assert!(told.contains("error"), "{told}");
    let (code, _, err) = swardplay(folder.path(), &["lesson", "cut-oftn"]);
    assert_eq!(code, 2);
    assert!(err.contains("did you mean `cut-often`?"), "{err}");
    let (code, _, err) = swardplay(folder.path(), &["lesson", "--file", "none.toml"]);
    assert_eq!(code, 2);
    assert!(err.contains("there is no lesson file `none.toml`"), "{err}");
}

/// A file of a person's own with a scenario beside it, and text that a terminal must not obey.
#[test]
fn a_lesson_of_ones_own_may_lie_beside_its_scenario() {
    let folder = tempfile::tempdir().unwrap();
    let scenario = include_str!("../scenarios/thin-front-lawn.toml");
    fs::create_dir(folder.path().join("mine")).unwrap();
    fs::write(folder.path().join("mine/front.toml"), scenario).unwrap();
    let lesson = LESSON
        .replace("\"thin-front-lawn\"", "\"front.toml\"")
        .replace("title = \"More feed, less crabgrass?\"", "title = \"More \\u001b[31mfeed?\"");
    fs::write(folder.path().join("mine/feed.toml"), &lesson).unwrap();
    let args = ["lesson", "--file", "mine/feed.toml", "--members", "5"];
    let (code, _, err) = swardplay(folder.path(), &args);
    assert_eq!(code, 2, "control characters are refused in titles");
    assert!(err.contains("control characters") && !err.contains('\u{1b}'), "{err}");
    fs::write(folder.path().join("mine/feed.toml"), lesson.replace("\\u001b[31m", "")).unwrap();
    let (code, out, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.starts_with("More feed?\n"), "{out}");
}
