//! report.html, parsed as a browser would and checked on fabricated results, and on a short run.

#[path = "support/door.rs"]
mod door;
#[path = "fabricated/results.rs"]
mod fabricated;

use std::collections::BTreeMap;

use scraper::{ElementRef, Html, Selector};
use sim::ensemble::Results;
use sim::scenario::{Fault, Scenario, Severity};
use swardplay::carried;
use swardplay::engine::Weather;
use swardplay::files::run::{Hashed, RunRecord};
use swardplay::report::{Drawn, Report, page};
use swardplay::units::Units;
use swardplay::words::belief;
use swardplay::words::figure::Figure;
use swardplay::{drawing, pictures};

fn record(name: &str) -> RunRecord {
    let hashed = || Hashed::new(name, "abc");
    RunRecord {
        swardplay: "9.9.9",
        repeat: format!("swardplay play {name} --members 1000 --seed 7"),
        scenario: hashed(),
        weather: hashed(),
        weather_so_far: None,
        table: None,
        record_years: 4,
        parameters_sha256: String::new(),
        products_sha256: String::new(),
        local_rules_sha256: String::new(),
        seed: 7,
        members: 1000,
        units: "us",
        programs: vec![],
        first_date: "2026-01-01".into(),
        last_date: "2026-12-31".into(),
        files: vec![],
        tracks: false,
    }
}

/// The page of results, with every picture.
fn told(results: &Results, scenario: &Scenario, cautions: &[Fault], note: &str) -> String {
    let read = carried::station("jfk").unwrap().read().unwrap();
    let weather = Weather { record: read.record, notes: vec![note.into()], so_far: None };
    let drawn: Vec<Drawn> = pictures::all(results, scenario, Units::Us)
        .into_iter()
        .map(|sketch| {
            let svg = drawing::draw(&sketch).unwrap().swap_remove(0).1;
            Drawn { sketch, svg }
        })
        .collect();
    page(&Report {
        results,
        scenario,
        units: Units::Us,
        catalogue: &[],
        cautions,
        weather: &weather,
        pictures: &drawn,
        record: &record("lawn"),
    })
}

fn all<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn text(element: &ElementRef) -> String {
    element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What every page holds to (HTML Living Standard: headings, tables, img; WCAG 2.1: 1.1.1, 1.3.1,
/// 3.1.1), and that it needs nothing but itself.
fn sound(html: &str) {
    let page = Html::parse_document(html);
    // Without a quirk: a doctype, closed quotes, no stray end tags.
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    assert!(html.len() < 2_000_000, "{} bytes", html.len());
    assert_eq!(all(&page, "html[lang=en]").len(), 1);
    let levels: Vec<u32> = all(&page, "h1, h2, h3, h4, h5, h6")
        .iter()
        .map(|h| h.value().name()[1..].parse().unwrap())
        .collect();
    assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1);
    assert_eq!(levels[0], 1);
    assert!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{levels:?}");
    let pictures = all(&page, "img");
    assert!(pictures.len() >= 4);
    for picture in pictures {
        assert!(picture.attr("alt").is_some_and(|alt| alt.len() > 20));
        assert!(picture.attr("src").unwrap().starts_with("data:image/svg+xml;base64,"));
    }
    for table in all(&page, "table") {
        let head: Vec<_> = table.select(&Selector::parse("th").unwrap()).collect();
        assert!(!head.is_empty() && head.iter().all(|th| th.attr("scope").is_some()));
        assert_eq!(table.select(&Selector::parse("caption").unwrap()).count(), 1);
        // Every body row has its head.
        for row in table.select(&Selector::parse("tbody tr").unwrap()) {
            assert_eq!(row.select(&Selector::parse("th").unwrap()).count(), 1);
        }
    }
    assert_eq!(all(&page, "script, iframe, object, embed, link, a, form, base, svg").len(), 0);
    for element in all(&page, "*") {
        for (name, value) in element.value().attrs() {
            assert!(!name.starts_with("on"), "{name}");
            assert!(!value.contains("://"), "{name}={value}");
        }
    }
    for style in all(&page, "style") {
        assert!(!text(&style).contains("url(") && !text(&style).contains("@import"));
    }
}

// Crabgrass runs evenly from 5 to 45 % (usual) and from 1 to 13 % (weekly): 1 of 8 and 3 of 4 lie
// below 10 %. Quality is 5.5 and 6.5; hours 20 and 32; cost 1,000 and 1,600.
#[test]
fn the_first_screen_says_what_the_results_say() {
    let results = fabricated::results(1000);
    let html = told(&results, &fabricated::scenario(), &[], "");
    sound(&html);
    let page = Html::parse_document(&html);
    let answer: Vec<String> = all(&page, "#answer p").iter().map(text).collect();
    assert_eq!(
        answer[..3],
        [
            "Crabgrass. The crabgrass stays under 10 % of the lawn in 15 of 20 simulated futures with \
             \u{201c}Weekly cuts\u{201d}, and in 3 with \u{201c}Usual care\u{201d}.",
            "Look, scored by eye from 1 to 9. Summer quality averages 6 (acceptable) or better in all \
             1,000 simulated futures with \u{201c}Weekly cuts\u{201d}, and in none of the 1,000 with \
             \u{201c}Usual care\u{201d}; a typical summer scores 5.5 to 6.5.",
            "Cost. Over the season the work costs about 1,000 USD with \u{201c}Usual care\u{201d}, and \
             1,600 USD with \u{201c}Weekly cuts\u{201d}.",
        ]
    );
    let rows: Vec<Vec<String>> = all(&page, "#answer tbody tr")
        .iter()
        .map(|row| row.child_elements().map(|cell| text(&cell)).collect())
        .collect();
    assert_eq!(
        rows,
        [
            ["Usual care", "3 of 20", "none of the 1,000", "20 h", "1,000 USD"],
            ["Weekly cuts", "15 of 20", "all 1,000", "32 h", "1,600 USD"]
        ]
    );
    // Cautions never bury the result, and what the model lacks stands before the first picture.
    let at = |part: &str| html.find(part).unwrap_or_else(|| panic!("{part}"));
    let order = [
        at("in 15 of 20 simulated"),
        at("not known from so few years"),
        at(&belief::in_a_line()),
        at("<img"),
        at("The product label and local law come first"),
        at("--members 1000 --seed 7"),
    ];
    assert!(order.is_sorted(), "{order:?}");
}

#[test]
fn what_is_not_told_apart_is_said_not_to_be() {
    let mut results = fabricated::results(1000);
    results.programs[1].outcomes = results.programs[0].outcomes.clone();
    let html = told(&results, &fabricated::scenario(), &[], "");
    let page = Html::parse_document(&html);
    let answer: Vec<String> = all(&page, "#answer p").iter().map(text).collect();
    assert!(
        answer[0].ends_with(
            "in 3 of 20 simulated futures, whatever the program: these counts do not tell them apart."
        ),
        "{}",
        answer[0]
    );
    assert!(
        answer[2].ends_with(
            "about 1,000 USD with \u{201c}Usual care\u{201d} and \u{201c}Weekly cuts\u{201d}, which \
             hardly differ."
        ),
        "{}",
        answer[2]
    );
}

#[test]
fn few_futures_and_a_long_record_are_told_as_what_they_are() {
    let html = told(&fabricated::results(5), &fabricated::scenario(), &[], "");
    sound(&html);
    assert!(html.contains("5 futures are too few for odds"));
    assert!(!html.contains("of 20 "));
    let mut long = fabricated::results(100);
    long.record_years = 30;
    let html = told(&long, &fabricated::scenario(), &[], "");
    assert!(html.contains("30 years of record") && !html.contains("not known from so few years"));
}

/// What a person wrote stays text, wherever it is told.
#[test]
fn text_of_a_scenario_is_inert() {
    let evil = |n: usize| {
        format!(
            "</title><script>alert({n})</script><img src=x onerror=alert({n})>\"'&amp;\u{1b}[2J"
        )
    };
    let mut scenario = fabricated::scenario();
    let mut results = fabricated::results(100);
    (scenario.title, scenario.about) = (evil(0), evil(1));
    for (nth, program) in scenario.programs.iter_mut().enumerate() {
        program.title = evil(10 + nth);
        results.programs[nth].title.clone_from(&program.title);
        program.practices[0].key = evil(20 + nth);
        program.difference = if nth > 0 { evil(30) } else { String::new() };
    }
    scenario.overrides = vec![(evil(40), sim::scenario::Uncertain::Exact(1.0))];
    scenario.crew.currency = evil(50);
    let caution = Fault {
        code: "x",
        severity: Severity::Caution,
        message: evil(60),
        span: 0..0,
        expected: evil(61),
        help: Some(evil(62)),
    };
    let html = told(&results, &scenario, &[caution], &evil(70));
    sound(&html);
    let page = Html::parse_document(&html);
    let shown = evil(0).replace('\u{1b}', "\u{fffd}");
    assert_eq!(all(&page, "h1")[0].text().collect::<String>(), shown);
    assert_eq!(all(&page, "title")[0].text().collect::<String>(), shown);
    for n in [1, 10, 11, 40, 60, 61, 62, 70] {
        assert!(text(&page.root_element()).contains(&format!("alert({n})")), "{n} is told");
    }
}

/// A run of the program itself: the page stands, and its seasons are those of the work log.
#[test]
fn a_runs_page_is_sound_and_its_seasons_add_up() {
    let folder = tempfile::tempdir().unwrap();
    let args = ["play", "thin-front-lawn", "--members", "100", "--out", "out"];
    let (code, stdout, stderr) = door::swardplay(folder.path(), &args);
    assert_eq!(code, 0, "{stderr}");
    assert!(stdout.contains("report.html") && stdout.contains("<- open this first"), "{stdout}");
    let read = |name: &str| std::fs::read_to_string(folder.path().join("out").join(name)).unwrap();
    let html = read("report.html");
    sound(&html);
    assert!(read("run.json").contains("\"report.html\""));
    // The barrier and all contrasts are shown with the other pictures.
    let page = Html::parse_document(&html);
    assert_eq!(all(&page, "figure.barrier img").len(), 1);
    assert_eq!(all(&page, "figure.contrast img").len(), 3);
    let mut hours: BTreeMap<(String, i32), BTreeMap<u32, f64>> = BTreeMap::new();
    for line in read("work.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let year: i32 = cells[2][..4].parse().unwrap();
        let member: u32 = cells[1].parse().unwrap();
        let minutes: f64 = cells[6].parse().unwrap();
        *hours.entry((cells[0].into(), year)).or_default().entry(member).or_default() +=
            minutes / 60.0;
    }
    let groups = all(&page, "#work tbody");
    assert_eq!(groups.len(), 4);
    for (group, id) in groups.iter().zip(["usual", "frequent", "split", "halves"]) {
        let rows: Vec<_> = group.select(&Selector::parse("tr").unwrap()).collect();
        for (row, year) in rows[1..].iter().zip([2026, 2027]) {
            let cells: Vec<String> = row.child_elements().map(|cell| text(&cell)).collect();
            assert_eq!(cells[0], year.to_string());
            let kept = &hours[&(id.to_string(), year)];
            assert_eq!(kept.len(), 100);
            let values: Vec<f64> = kept.values().copied().collect();
            let middle = Figure::new(&values, "h", Units::Us, "$").middle();
            assert!(cells[2].starts_with(&middle), "{id} {year}: {cells:?}, {middle}");
        }
        assert_eq!(text(&rows[3].child_elements().next().unwrap()), "Both");
    }
}
