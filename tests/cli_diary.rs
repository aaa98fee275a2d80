//! `diary` through the program itself: its structure, its faults, and the same text every time.

#[path = "support/door.rs"]
mod door;

use std::fs;
use std::path::Path;

use door::swardplay;

const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

fn diary(folder: &Path, more: &[&str]) -> (i32, String, String) {
    let args = ["diary", "thin-front-lawn", "--members", "20"];
    swardplay(folder, &[&args[..], more].concat())
}

/// Days of a diary's lines, as (year, month, day), in the order told.
fn dates(text: &str) -> Vec<(i32, usize, u32)> {
    let mut year = 0;
    let mut dates = Vec::new();
    for line in text.lines() {
        if let Ok(of) = line.parse() {
            year = of;
        }
        let mut words = line.get(..6).unwrap_or("").split_whitespace();
        if let (Some(day), Some(month), None) = (words.next(), words.next(), words.next())
            && let (Ok(day), Some(month)) = (day.parse(), MONTHS.iter().position(|m| *m == month))
        {
            dates.push((year, month, day));
        }
    }
    dates
}

#[test]
fn a_diary_says_which_future_then_its_days_in_order_then_what_it_came_to() {
    let folder = tempfile::tempdir().unwrap();
    let (code, text, err) = diary(folder.path(), &["--program", "split"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "A thin front lawn");
    assert!(lines[1].contains(" of 20 (seed 1), the most typical"), "{}", lines[1]);
    assert!(lines.iter().any(|l| l.starts_with("Weather 2026: rain in spring")), "{text}");
    let dates = dates(&text);
    assert!((30..=90).contains(&dates.len()), "{} days", dates.len());
    assert!(dates.is_sorted(), "{dates:?}");
    assert_eq!((dates[0].0, dates[dates.len() - 1].0), (2026, 2027));
    assert!(lines.iter().all(|l| l.chars().count() <= 84), "{text}");
    assert!(text.contains("Barrier, second half: "), "{text}");
    assert!(text.contains("\nWhat it came to over 2 seasons"), "{text}");
    assert!(!text.contains('\u{a0}') && !text.contains("  %"));
    // The whole of it is longer and holds every mowing.
    let (_, all, _) = diary(folder.path(), &["--program", "split", "--all"]);
    assert!(all.lines().count() > 2 * lines.len());
    assert!(all.contains("Mowed from") && !all.contains(" cuts between "), "{all}");
    assert!(fs::read_dir(folder.path()).unwrap().next().is_none(), "no file is written");
}

#[test]
fn any_number_of_threads_tells_the_same_and_another_member_something_else() {
    let folder = tempfile::tempdir().unwrap();
    let one = diary(folder.path(), &["--threads", "1", "--against", "split"]);
    assert_eq!(one, diary(folder.path(), &["--threads", "5", "--against", "split"]));
    let third = diary(folder.path(), &["--member", "3", "--against", "split"]);
    assert!(third.1.contains("future 3 of 20 (seed 1)"), "{}", third.1);
    assert!(!third.1.contains("the most typical"));
    assert!(third.1.contains("Cut every 5 days, barrier in two: "), "its whole title: {}", third.1);
    assert_ne!(one.1, third.1);
}

/// Two programs stand in one diary: what is the same once, the rest under its name with the other's
/// number.
#[test]
fn two_programs_are_told_between_the_same_dates() {
    let folder = tempfile::tempdir().unwrap();
    let (code, text, err) =
        diary(folder.path(), &["--program", "frequent", "--against", "split", "--units", "metric"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(dates(&text).is_sorted());
    for piece in ["Both: Feed: ", "Cut every 5 days: ", "+ barrier in two: Barrier, second half: "]
    {
        assert!(text.contains(piece), "{piece} in {text}");
    }
    let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(joined.contains("(+ barrier in two: 0.2"), "the other's half rate: {text}");
    let came_to = text.split("What it came to").nth(1).unwrap();
    let tells = |label: &str| came_to.contains(&format!("\n  {label}: crabgrass at its worst "));
    assert!(tells("Cut every 5 days") && tells("+ barrier in two"), "{came_to}");
}

#[test]
fn a_lawn_with_a_past_says_where_the_program_takes_over() {
    let folder = tempfile::tempdir().unwrap();
    let demo = include_str!("../scenarios/thin-front-lawn.toml");
    let past = "\n[scouting]\nprogram = \"usual\"\n[[scouting.look]]\non = \"20 Jul\"\n\
                at = \"crabgrass\"\nseen = [\"2 %\", \"20 %\"]\n";
    let before = "season-before = \"usual\"\n\n[weather]";
    let text = format!("{demo}{past}").replace("\n[weather]", before);
    fs::write(folder.path().join("mine.toml"), text).unwrap();
    let args = ["diary", "mine.toml", "--members", "20", "--program", "split"];
    let (code, text, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(text.contains("Up to 2026-07-20 the lawn is under the care"), "{text}");
    assert!(text.contains("The first crabgrass comes up"), "the past's lawn is told: {text}");
    let before = text.split("Jul").next().unwrap();
    assert!(!before.contains("Feed: "), "work before it is not: {before}");
}

#[test]
fn what_is_wrong_is_said_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let here = folder.path();
    fs::write(here.join("there.txt"), "mine").unwrap();
    let faults: [(&[&str], &str); 8] = [
        (&["--member", "21"], "--member 21: there is no such future. There are 20"),
        (&["--member", "0"], "numbered from 1 to 20"),
        (&["--member", "-3"], "--member -3: there is no such future"),
        (&["--program", "splitt"], "did you mean `split`?"),
        (&["--against", "none"], "It has usual, frequent, split"),
        (&["--against", "usual"], "that is the program itself"),
        (&["--out", "there.txt"], "`there.txt` is there already"),
        (&["--out", "no/such.txt"], "there is no folder `no`"),
    ];
    for (more, wanted) in faults {
        let (code, out, err) = diary(here, more);
        assert_eq!((code, out.as_str()), (2, ""), "{more:?}");
        assert!(err.contains(wanted), "{more:?}: {err}");
    }
    assert_eq!(fs::read_to_string(here.join("there.txt")).unwrap(), "mine");
    assert_eq!(fs::read_dir(here).unwrap().count(), 1);
}

#[test]
fn a_file_holds_what_the_terminal_would_show() {
    let folder = tempfile::tempdir().unwrap();
    let (_, shown, _) = diary(folder.path(), &[]);
    let (code, out, err) = diary(folder.path(), &["--out", "diary.txt"]);
    assert_eq!((code, out.as_str(), err.as_str()), (0, "", ""));
    assert_eq!(fs::read_to_string(folder.path().join("diary.txt")).unwrap(), shown);
    let (code, ..) = diary(folder.path(), &["--out", "diary.txt", "--force", "--member", "2"]);
    assert_eq!(code, 0);
    assert_ne!(fs::read_to_string(folder.path().join("diary.txt")).unwrap(), shown);
}

/// The README shows what the program tells, line for line.
#[test]
fn the_readme_shows_a_piece_of_a_diary() {
    let readme = include_str!("../README.md");
    let piece = readme.split("### Teach a crew").nth(1).unwrap().split("```").nth(1).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let args = ["diary", "thin-front-lawn", "--program", "frequent", "--against", "split"];
    let (code, text, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    let lines: Vec<&str> = piece.lines().skip(1).collect();
    assert!(lines.len() > 3);
    for line in lines {
        assert!(text.lines().any(|told| told == line), "{line:?} in {text}");
    }
}
