//! `sheet` through the program itself: what is on it, its arithmetic, its faults, the same bytes.

#[path = "support/door.rs"]
mod door;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use door::swardplay;
use scraper::{Html, Selector};

fn sheet(folder: &Path, more: &[&str]) -> (i32, String, String) {
    let args = ["sheet", "thin-front-lawn", "--members", "60"];
    swardplay(folder, &[&args[..], more].concat())
}

/// The table's rows by column.
fn rows(folder: &Path) -> Vec<BTreeMap<String, String>> {
    let text = fs::read_to_string(folder.join("swardplay-sheet/sheet.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.unwrap()).collect()
}

fn page(folder: &Path) -> String {
    fs::read_to_string(folder.join("swardplay-sheet/sheet.html")).unwrap()
}

fn texts(page: &str, selector: &str) -> Vec<String> {
    let page = Html::parse_document(page);
    let found = page.select(&Selector::parse(selector).unwrap()).collect::<Vec<_>>();
    let words = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    found.iter().map(|e| words(e.text().collect::<String>())).collect()
}

fn number(row: &BTreeMap<String, String>, column: &str) -> f64 {
    row[column].parse().unwrap_or_else(|_| panic!("{column}: {row:?}"))
}

const LB_KG: f64 = 0.453_592_37;
const GAL_L: f64 = 3.785_411_784;

/// Extension arithmetic by hand, for 6,000 ft2: 0.75 lb N of a 24-0-11 is 0.75 / 0.24 = 3.125 lb on
/// 1,000 ft2 and 18.75 lb here, two passes of 9.38 (product = wanted / fraction, Nebraska Extension).
/// 0.25 lb ai/ac of a 2 lb/gal liquid is 16 fl oz/ac = 0.367 fl oz on 1,000 ft2 (trade rate tables) and
/// 2.20 here; at 1 gal on 1,000 ft2 it takes 6 gal of mix, 4 and 2 in a tank of 4.
#[test]
fn loads_are_those_of_the_handbooks() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = sheet(folder.path(), &["--program", "split"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let rows = rows(folder.path());
    let hundredth = |got: f64, wanted: f64| assert!((got - wanted).abs() < 0.006, "{got} {wanted}");
    let feeds: Vec<_> = rows.iter().filter(|r| r["practice"] == "feed").collect();
    assert!(!feeds.is_empty());
    for feed in feeds {
        assert_eq!((feed["tool"].as_str(), feed["unit"].as_str()), ("spreader", "kg"));
        hundredth(number(feed, "amount") / LB_KG, 18.75);
        hundredth(number(feed, "product_a_pass") / LB_KG, 9.375);
        hundredth(number(feed, "bags"), 18.75 / 50.0);
    }
    let halves: Vec<_> = rows.iter().filter(|r| r["practice"].starts_with("barrier")).collect();
    assert!(halves.len() >= 2);
    for half in halves {
        let ounces = |column: &str| number(half, column) / GAL_L * 128.0;
        hundredth(ounces("amount"), 2.204);
        assert_eq!(half["tank_fills"], "1");
        hundredth(number(half, "last_fill_l") / GAL_L, 2.0);
        hundredth(ounces("product_a_fill"), 1.469);
        hundredth(ounces("product_in_last_fill"), 0.735);
    }
    assert!(out.contains("load 18.75 lb (18 lb 12 oz), 0.38"), "{out}");
    assert!(out.contains("24-0-11, half slow: 2026 37.5 lb"), "{out}");
    assert!(out.contains("bags of 50 lb: 1"), "{out}");
    let page = page(folder.path());
    for piece in [
        "6 gal of mix in all, at 1 gal/1000 ft2. Full tanks of 4 gal: 1, with 1.47 fl oz in each; then \
         one of 2 gal with 0.73 fl oz.",
        "two passes crosswise, 9.38 lb (9 lb 6 oz) in each; 8 ft wide, so 10 times across",
        "43.56 fl oz caught are 43.56 gal/ac",
        "Typical, for want of yours",
    ] {
        assert!(page.contains(piece), "{piece}");
    }
}

/// What the slips of a member did to its rates and visits is not what a crew should load or plan.
#[test]
fn every_call_is_planned_with_the_amount_that_was_meant() {
    let folder = tempfile::tempdir().unwrap();
    let demo = include_str!("../scenarios/thin-front-lawn.toml");
    let careless = format!("{demo}\n[slips]\nmissed = \"60 %\"\nrate-error = \"50 %\"\n");
    fs::write(folder.path().join("mine.toml"), careless).unwrap();
    let args = ["sheet", "mine.toml", "--program", "usual", "--members", "20"];
    let (code, _, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    let rows = rows(folder.path());
    let feeds: Vec<_> = rows.iter().filter(|r| r["practice"] == "feed").collect();
    assert_eq!(feeds.len(), 4, "two a year for two years, missed or not");
    assert!(feeds.iter().any(|r| r["fate"] == "missed"), "{feeds:?}");
    let amounts: BTreeSet<&str> = feeds.iter().map(|r| r["amount"].as_str()).collect();
    assert_eq!(amounts.len(), 1);
    assert!(feeds.iter().all(|r| number(r, "share_not_done") > 0.3), "{feeds:?}");
    assert!(page(folder.path()).contains("left undone in this future (nobody came)"));
}

/// Visits, minutes and money add up: those of the rows to those of the head, and to what `play` counts
/// for a crew without slips.
#[test]
fn the_sums_are_those_of_the_model() {
    let folder = tempfile::tempdir().unwrap();
    let here = folder.path();
    let demo = include_str!("../scenarios/thin-front-lawn.toml");
    let sure = format!("{demo}\n[slips]\nmissed = \"0 %\"\nlate = \"0 %\"\nrate-error = \"0 %\"\n");
    fs::write(here.join("mine.toml"), sure).unwrap();
    let args = ["sheet", "mine.toml", "--program", "split", "--members", "20", "--member", "7"];
    assert_eq!(swardplay(here, &args).0, 0);
    let play = ["play", "mine.toml", "--members", "20", "--out", "played"];
    assert_eq!(swardplay(here, &play).0, 0);
    let work = fs::read_to_string(here.join("played/work.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(work.as_bytes());
    let of_member =
        |row: &BTreeMap<String, String>| row["program"] == "split" && row["member"] == "7";
    let played: Vec<BTreeMap<String, String>> =
        reader.deserialize().map(|row| row.unwrap()).filter(of_member).collect();
    let rows = rows(here);
    let sum = |rows: &[BTreeMap<String, String>], column: &str| -> f64 {
        rows.iter().filter_map(|row| row[column].parse::<f64>().ok()).sum()
    };
    let days = |rows: &[BTreeMap<String, String>]| -> BTreeSet<String> {
        rows.iter().map(|row| row["date"].clone()).collect()
    };
    assert_eq!(days(&rows), days(&played));
    // The tables round each row to a tenth of a minute and to a cent.
    let (minutes, cost) = (sum(&rows, "visit_minutes"), sum(&rows, "visit_cost"));
    assert!((minutes - sum(&played, "minutes")).abs() < 0.05 * played.len() as f64);
    assert!((cost - sum(&played, "cost")).abs() < 0.01 * played.len() as f64);
    let travel = sum(&rows, "visit_travel_minutes");
    assert!((sum(&rows, "job_minutes") + travel - minutes).abs() < 0.1 * rows.len() as f64);
}

#[test]
fn days_of_the_calendar_and_days_that_wait_are_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, _) = sheet(folder.path(), &["--program", "split", "--season", "2"]);
    assert_eq!(code, 0);
    assert!(out.starts_with("Work sheet 2027\n") && !out.contains("Work sheet 2026"), "{out}");
    let page = page(folder.path());
    let days = texts(&page, "tr.day");
    assert!(days.iter().any(|d| d.starts_with("about ") && d.contains("2. Barrier:")), "{days:?}");
    let feed = days.iter().find(|d| d.contains("4. Feed:")).unwrap();
    assert!(!feed.starts_with("about"), "{feed}");
    assert!(days.iter().all(|d| !d.contains("Feed:") || d.contains("futures")), "{days:?}");
    assert!(
        page.contains("When the soil at 2 in (5 cm) has stood at 50\u{a0}°F for 4 days")
            || page.contains("When the soil at 2 in (5 cm) has stood at 50 °F for 4 days")
    );
    let rows = rows(folder.path());
    let timing = |key: &str| -> BTreeSet<&str> {
        rows.iter().filter(|r| r["practice"] == key).map(|r| r["timing"].as_str()).collect()
    };
    assert_eq!(timing("feed"), BTreeSet::from(["calendar"]));
    assert_eq!(timing("barrier/second"), BTreeSet::from(["cue"]));
    // The second half comes 56 days after the first, and both are the same call in every year.
    for row in rows.iter().filter(|r| r["practice"].starts_with("barrier")) {
        assert!(row["earliest"] <= row["middle"] && row["middle"] <= row["latest"], "{row:?}");
        assert_eq!(row["earliest"][..4], row["date"][..4]);
    }
}

/// Everything is inside the file, cautions stand once and behind the work, and no program or maker is
/// named.
#[test]
fn the_page_stands_alone_and_says_what_comes_first() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(sheet(folder.path(), &["--program", "split"]).0, 0);
    let page = page(folder.path());
    assert!(!page.contains("://") && !page.contains("<script") && !page.contains("<img"));
    assert!(page.contains("default-src 'none'"));
    let heads = texts(&page, "h1, h2");
    assert_eq!(heads[0], "Work sheet 2026");
    assert_eq!(heads.last().unwrap(), "Before you start");
    assert!(page.contains("The product label and local law come first."));
    assert_eq!(page.matches("licensed applicator").count(), 1);
    assert!(!page.to_lowercase().contains("within label"));
    assert!(!page.to_lowercase().contains("within the label"));
    // The caution of `vet` stands beside the practice, once for both halves.
    let barrier = texts(&page, "div.how").into_iter().find(|how| how.starts_with("2. Barrier:"));
    assert!(barrier.unwrap().contains("Caution: Barrier counts on rain to water it in"));
    assert_eq!(page.matches("counts on rain to water it in").count(), 1);
    // A box and a line to fill in for every day.
    let days = texts(&page, "tr.day").len();
    assert!(texts(&page, "tr.day .box").len() >= days);
    assert_eq!(texts(&page, "td.line").len(), days);
}

#[test]
fn a_caution_stands_by_the_program_that_it_is_about() {
    let folder = tempfile::tempdir().unwrap();
    let demo = include_str!("../scenarios/thin-front-lawn.toml");
    let low = format!(
        "{demo}\n[[program]]\nid = \"low\"\ntitle = \"Cut low\"\nbased-on = \"usual\"\n\
         [[program.change]]\npractice = \"mow\"\nheight = \"1 in\"\n"
    );
    fs::write(folder.path().join("mine.toml"), low).unwrap();
    let told = |program: &str| {
        let args = ["sheet", "mine.toml", "--members", "5", "--program", program];
        assert_eq!(swardplay(folder.path(), &args).0, 0);
        page(folder.path())
    };
    assert!(told("low").contains("lower than this grass is usually kept"));
    assert!(told("low").contains("counts on rain"), "what it inherits concerns it too");
    assert!(!told("usual").contains("lower than this grass is usually kept"));
}

#[test]
fn spanish_is_told_as_unchecked_in_both_languages() {
    let folder = tempfile::tempdir().unwrap();
    let args = ["--program", "split", "--lang", "es", "--units", "metric"];
    let (code, out, _) = sheet(folder.path(), &args);
    assert_eq!(code, 0);
    let page = page(folder.path());
    assert!(page.contains("<html lang=\"es\">"));
    for text in [&out, &page] {
        assert!(
            text.contains("Hoja de trabajo 2026") && text.contains("cortar el césped a 76.2 mm")
        );
        let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(joined.contains("no fue revisado por un traductor con licencia"), "{joined}");
        assert!(joined.contains("was not checked by a licensed translator"), "{joined}");
        // A person's own title stays as it is.
        assert!(joined.contains("Cut every 5 days, barrier in two"), "{joined}");
        for english in ["futures", " bag ", "Work sheet", "visits", "leave the clippings"] {
            assert!(!joined.contains(english), "{english} in {joined}");
        }
    }
    // 18.75 lb are 8.50 kg; a metric bag is 25 kg, and a metric tank 15 L.
    assert!(out.contains("cargar 8.5 kg, 0.34 bolsa de 25 kg"), "{out}");
    assert!(page.contains("Tanques llenos de 15 L: 1"), "{page}");
}

/// Gear, water and compost: an inch on 1,000 ft2 is 623 gal (0.62 gal on a square foot); 0.5 in at
/// 1 in/h take 30 minutes; 1/4 in of compost on 6,000 ft2 is 6000 x 0.25 / 324 = 4.63 cubic yards; 3 lb
/// of seed on 1,000 ft2 are 18 lb.
#[test]
fn gear_water_compost_and_seed() {
    let folder = tempfile::tempdir().unwrap();
    let demo = include_str!("../scenarios/thin-front-lawn.toml");
    let (before, _) = demo.split_once("# The same lawn, the same height").unwrap();
    let more = "[[program.practice]]\nkey = \"soak\"\ndo = \"water\"\ndepth = \"0.5 in\"\non = [\"1 Jul\"]\n\
                [[program.practice]]\nkey = \"compost\"\ndo = \"topdress\"\ndepth = \"0.25 in\"\non = [\"20 Sep\"]\n\
                [[program.practice]]\nkey = \"seed\"\ndo = \"overseed\"\nseed = { kind = \"perennial ryegrass\" }\n\
                rate = \"3 lb/1000 ft2\"\nmethod = \"raked\"\nwater-in = \"0.25 in\"\non = [\"1 Sep\"]\nby = \"client\"\n\
                [gear]\nbag = \"40 lb\"\ntank = \"3 gal\"\ncarrier = \"2 gal/1000 ft2\"\nspreader-width = \"4 ft\"\n\
                sprinkler-rate = \"1 in/h\"\n";
    fs::write(folder.path().join("mine.toml"), format!("{before}{more}")).unwrap();
    let args = ["sheet", "mine.toml", "--members", "10"];
    let (code, out, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    let page = page(folder.path());
    for piece in ["1,870 gal, 30 min of sprinklers at 1 in/h", "4.63 yd3 of compost"] {
        assert!(page.contains(piece), "{piece}");
    }
    assert!(page.contains("load 18 lb, 0.45 bag of 40 lb"), "{page}");
    assert!(
        page.contains("the client does it")
            && page.contains("then water in, 0.25 in deep: 935 gal")
    );
    assert!(page.contains("4 ft wide, so 20 times across"), "{page}");
    assert!(
        page.contains("12 gal of mix in all, at 2 gal/1000 ft2. Full tanks of 3 gal: 4"),
        "{page}"
    );
    assert!(!page.contains("Typical, for want of yours"), "all of the gear is stated");
    assert!(out.contains("perennial ryegrass seed: 2026 18 lb; bags of 40 lb: 1"), "{out}");
    // The flag stands before the scenario.
    let args = ["sheet", "mine.toml", "--members", "10", "--tank", "6 gal"];
    assert_eq!(swardplay(folder.path(), &args).0, 0);
    let page = fs::read_to_string(folder.path().join("swardplay-sheet/sheet.html")).unwrap();
    assert!(page.contains("Full tanks of 6 gal: 2"), "{page}");
}

#[test]
fn any_number_of_threads_writes_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let written = |more: &[&str]| {
        let (code, out, _) = sheet(folder.path(), &[&["--program", "usual"], more].concat());
        assert_eq!(code, 0);
        let file = |name: &str| {
            fs::read_to_string(folder.path().join("swardplay-sheet").join(name)).unwrap()
        };
        (out, file("sheet.csv"), file("sheet.html"), file("run.json"))
    };
    let one = written(&["--threads", "1"]);
    assert_eq!(one, written(&["--threads", "5"]));
    assert_ne!(one.1, written(&["--member", "3"]).1);
    assert!(written(&["--member", "3"]).0.contains("simulated future 3 of 60 (seed 1)"));
}

#[test]
fn what_is_wrong_is_said_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let faults: [(&[&str], &str); 8] = [
        (&[], "which program? Say it with --program: one of usual, frequent, split, halves"),
        (&["--program", "splitt"], "Did you mean `split`?"),
        (
            &["--program", "usual", "--member", "61"],
            "--member 61: there is no such future. There are 60",
        ),
        (&["--program", "usual", "--member", "-1"], "numbered from 1 to 60"),
        (&["--program", "usual", "--member", "best"], "Or say --member typical"),
        (&["--program", "usual", "--season", "3"], "the scenario has 2, numbered from 1 to 2"),
        (&["--program", "usual", "--tank", "4 lb"], "--tank 4 lb: "),
        (&["--program", "usual", "--tank", "9999 gal"], "a tank holds 0.5 to 5000 L"),
    ];
    for (more, wanted) in faults {
        let (code, out, err) = sheet(folder.path(), more);
        assert_eq!((code, out.as_str()), (2, ""), "{more:?}: {err}");
        assert!(err.contains(wanted), "{more:?}: {err}");
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

/// The README shows what the program tells, line for line.
#[test]
fn the_readme_shows_a_piece_of_a_sheet() {
    let readme = include_str!("../README.md");
    let piece = readme.split("### Hand the crew").nth(1).unwrap().split("```").nth(1).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let args = ["sheet", "thin-front-lawn", "--program", "split"];
    let (code, text, err) = swardplay(folder.path(), &args);
    assert_eq!((code, err.as_str()), (0, ""));
    let lines: Vec<&str> = piece.lines().skip(1).collect();
    assert!(lines.len() > 1);
    for line in lines {
        assert!(text.lines().any(|told| told == line), "{line:?} in {text}");
    }
}
