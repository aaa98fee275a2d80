//! Pictures are checked as a reader meets them: the SVG is laid out again by another library
//! (usvg), and every text must lie inside the picture and on no other text.

#[path = "../examples/invented/mod.rs"]
mod invented;

use std::sync::Arc;

use plots::{
    BandSeries, Better, Caption, CreditBar, CreditPanel, CreditPicture, Dates, DotRow, DotsPicture,
    FutureLine, FuturesPicture, KnowingBar, KnowingPart, KnowingPicture, KnowingRow, Mark,
    MonthPanel, MonthsPicture, NamedPrice, Picture, PlotError, Priced, ScoreCell, SpanRow,
    SpansPicture, Spread, SweepPicture, SweepPoint, Tone, TradeoffPicture,
};
use resvg::{tiny_skia, usvg};

/// A text with the box of its ink, px.
struct Ink {
    text: String,
    rect: usvg::Rect,
}

fn tree(picture: &Picture) -> usvg::Tree {
    let mut fonts = usvg::fontdb::Database::new();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    let options = usvg::Options { fontdb: Arc::new(fonts), ..usvg::Options::default() };
    usvg::Tree::from_str(&picture.svg, &options).expect("the SVG can be read")
}

fn texts(group: &usvg::Group, found: &mut Vec<Ink>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => texts(group, found),
            usvg::Node::Text(text) => {
                let whole: String = text.chunks().iter().map(|c| c.text()).collect();
                let rect = text.flattened().abs_bounding_box();
                found.push(Ink { text: whole.trim().to_owned(), rect });
            }
            _ => {}
        }
    }
}

/// Checks a picture and gives its texts.
fn check(name: &str, picture: &Picture) -> Vec<String> {
    let tree = tree(picture);
    assert_eq!(tree.size().width(), picture.width as f32, "{name}");
    assert_eq!(tree.size().height(), picture.height as f32, "{name}");
    let mut found = Vec::new();
    texts(tree.root(), &mut found);
    assert!(!found.is_empty(), "{name} has texts");
    let (wide, high) = (picture.width as f32, picture.height as f32);
    for (i, ink) in found.iter().enumerate() {
        let r = ink.rect;
        let inside = r.left() >= 1.0
            && r.top() >= 1.0
            && r.right() <= wide - 1.0
            && r.bottom() <= high - 1.0;
        assert!(inside, "{name}: \"{}\" is clipped at {r:?}", ink.text);
        for other in &found[i + 1..] {
            let o = other.rect;
            let apart = r.right() + 1.0 <= o.left()
                || o.right() + 1.0 <= r.left()
                || r.bottom() + 0.5 <= o.top()
                || o.bottom() + 0.5 <= r.top();
            assert!(apart, "{name}: \"{}\" {r:?} lies on \"{}\" {o:?}", ink.text, other.text);
        }
    }
    // Drawn eight times as large: 13 px at the true size.
    for size in picture.svg.split("font-size=\"").skip(1) {
        let size: f64 = size.split('"').next().unwrap().parse().unwrap();
        assert!(size / 8.0 >= 13.0, "{name}: text of {size}");
    }
    found.into_iter().map(|ink| ink.text.replace('\u{a0}', " ")).collect()
}

fn has(texts: &[String], wanted: &[&str]) {
    for words in wanted {
        assert!(texts.iter().any(|t| t.contains(words)), "\"{words}\" is not among {texts:?}");
    }
}

#[test]
fn every_picture_of_realistic_data_is_clean_and_complete() {
    let overview = check("overview", &plots::overview(&invented::overview()).unwrap());
    has(&overview, &["Turf cover", "Crabgrass", "Quality", "Organic matter", "6 is acceptable"]);
    has(&overview, &["% of the lawn", "g per m²", "Mar", "2025", "2026", "Lay the barrier"]);
    has(&overview, &["Every second week, barrier once", "Second week", "Low input"]);
    let contrast = check("contrast", &plots::contrast(&invented::contrast()).unwrap());
    has(&contrast, &["▲ more grass when cut weekly", "▼ more grass when cut every", "0"]);
    let barrier = check("barrier", &plots::barrier(&invented::barrier()).unwrap());
    has(&barrier, &["1st application", "2nd application", "come through", "per m² a day"]);
    let dots = check("dots", &plots::dots(&invented::dots()).unwrap());
    has(&dots, &["17 of 20", "8 of 20", "0 of 20", "% of the lawn", "5 %"]);
    let card = check("scorecard", &plots::scorecard(&invented::scorecard()).unwrap());
    has(&card, &["Crew hours", "$1,110", "16.5 h", "less is better"]);
}

#[test]
fn the_message_and_the_words_for_the_blind_are_in_the_svg() {
    let mut input = invented::scorecard();
    input.caption.title = "Less <weed> & more \"grass\"".to_owned();
    input.caption.alt = "A < B & C".to_owned();
    let picture = plots::scorecard(&input).unwrap();
    assert!(picture.svg.contains("<title>Less &lt;weed&gt; &amp; more \"grass\"</title>"));
    assert!(picture.svg.contains("<desc>A &lt; B &amp; C</desc>"));
    has(&check("scorecard", &picture), &["Less <weed> & more \"grass\""]);
}

#[test]
fn png_has_the_size_asked_for_and_ink_on_white() {
    let picture = plots::dots(&invented::dots()).unwrap();
    for scale in [0.5, 1.0, 2.0] {
        let bytes = picture.png(scale).unwrap();
        let pixels = tiny_skia::Pixmap::decode_png(&bytes).unwrap();
        assert_eq!(pixels.width(), (f64::from(picture.width) * scale).round() as u32);
        assert_eq!(pixels.height(), (f64::from(picture.height) * scale).round() as u32);
        let white =
            |p: &tiny_skia::PremultipliedColorU8| (p.red(), p.green(), p.blue()) == (255, 255, 255);
        assert!(white(&pixels.pixel(0, 0).unwrap()));
        let inked = pixels.pixels().iter().filter(|p| !white(p)).count() as f64;
        let share = inked / pixels.pixels().len() as f64;
        assert!((0.01..0.5).contains(&share), "{share}");
    }
    for scale in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e-9, 1e9] {
        assert!(matches!(picture.png(scale), Err(PlotError::Scale { .. })), "{scale}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes_on_any_thread() {
    let draw = || {
        let picture = plots::overview(&invented::overview()).unwrap();
        let png = picture.png(0.25).unwrap();
        (picture.svg, png)
    };
    let here = draw();
    let threads: Vec<_> = (0..3).map(|_| std::thread::spawn(draw)).collect();
    for thread in threads {
        assert!(thread.join().unwrap() == here);
    }
}

fn cut(band: &BandSeries, days: usize) -> BandSeries {
    let cut = |v: &Vec<f64>| v[..days].to_vec();
    BandSeries {
        p05: cut(&band.p05),
        p25: cut(&band.p25),
        p50: cut(&band.p50),
        p75: cut(&band.p75),
        p95: cut(&band.p95),
    }
}

fn map(band: &mut BandSeries, change: impl Fn(usize, f64) -> f64) {
    for part in [&mut band.p05, &mut band.p25, &mut band.p50, &mut band.p75, &mut band.p95] {
        for (day, value) in part.iter_mut().enumerate() {
            *value = change(day, *value);
        }
    }
}

#[test]
fn short_runs_are_drawn() {
    for days in [1, 2, 7, 31, 45, 200, 400, 680] {
        let mut overview = invented::overview();
        overview.dates.days = days;
        for panel in &mut overview.panels {
            panel.series = panel.series.iter().map(|b| cut(b, days)).collect();
        }
        for tick in &mut overview.ticks {
            tick.shares.truncate(days);
        }
        check(&format!("overview of {days} days"), &plots::overview(&overview).unwrap());
        let mut contrast = invented::contrast();
        contrast.dates.days = days;
        for panel in &mut contrast.panels {
            panel.band = cut(&panel.band, days);
        }
        check(&format!("contrast of {days} days"), &plots::contrast(&contrast).unwrap());
    }
}

#[test]
fn odd_values_leave_gaps_and_break_nothing() {
    type Change = fn(usize, f64) -> f64;
    let changes: [(&str, Change); 9] = [
        ("missing", |_, _| f64::NAN),
        ("infinite", |_, _| f64::NEG_INFINITY),
        ("every third missing", |d, v| if d % 3 == 0 { f64::NAN } else { v }),
        ("one day", |d, v| if d == 100 { v } else { f64::NAN }),
        ("constant", |_, _| 7.0),
        ("zero", |_, _| 0.0),
        ("huge", |_, v| v * 1e40),
        ("greatest", |d, _| if d % 2 == 0 { f64::MAX } else { f64::MIN }),
        ("tiny", |_, v| v * 1e-40),
    ];
    for (name, change) in changes {
        let mut overview = invented::overview();
        for panel in &mut overview.panels {
            panel.series.iter_mut().for_each(|b| map(b, change));
        }
        check(&format!("overview, {name}"), &plots::overview(&overview).unwrap());
        let mut contrast = invented::contrast();
        contrast.panels.iter_mut().for_each(|p| map(&mut p.band, change));
        check(&format!("contrast, {name}"), &plots::contrast(&contrast).unwrap());
        let mut barrier = invented::barrier();
        for program in &mut barrier.programs {
            map(&mut program.strength, change);
            for (day, value) in program.trying.iter_mut().enumerate() {
                *value = change(day, *value);
            }
            program.applications[0].early_day = change(0, 3.0);
        }
        check(&format!("barrier, {name}"), &plots::barrier(&barrier).unwrap());
        let mut dots = invented::dots();
        for row in &mut dots.rows {
            for (i, value) in row.values.iter_mut().enumerate() {
                *value = change(i, *value);
            }
        }
        check(&format!("dots, {name}"), &plots::dots(&dots).unwrap());
        let mut card = invented::scorecard();
        for cell in card.rows.iter_mut().flat_map(|r| &mut r.cells) {
            cell.high = change(1, cell.high);
        }
        check(&format!("scorecard, {name}"), &plots::scorecard(&card).unwrap());
    }
}

#[test]
fn long_words_are_wrapped_or_shortened() {
    let long = "A program with a very long name that goes on about mowing and feeding ".repeat(4);
    let unbroken = "Pre-emergent".replace('-', "").repeat(30);
    let control = "tab\tline\nnull\u{0}bell\u{7} \u{fffe}end";
    for words in [long.as_str(), unbroken.as_str(), control, "", "草坪 🌱 עשב"] {
        let caption = Caption {
            title: words.to_owned(),
            subtitle: Some(words.to_owned()),
            alt: words.to_owned(),
            note: Some(words.to_owned()),
        };
        let mut overview = invented::overview();
        overview.caption = caption.clone();
        overview.programs[1].name = words.to_owned();
        overview.programs[2].short = Some(words.to_owned());
        overview.panels[2].title = words.to_owned();
        overview.panels[3].unit = words.to_owned();
        overview.panels[2].acceptable = Some(Mark { value: 6.0, label: words.to_owned() });
        overview.ticks[3].label = words.to_owned();
        check("overview", &plots::overview(&overview).unwrap());
        let mut contrast = invented::contrast();
        contrast.caption = caption.clone();
        contrast.panels[0].above = words.to_owned();
        contrast.panels[1].below = words.to_owned();
        check("contrast", &plots::contrast(&contrast).unwrap());
        let mut barrier = invented::barrier();
        barrier.caption = caption.clone();
        barrier.programs[0].style.name = words.to_owned();
        barrier.programs[1].result = Some(words.to_owned());
        barrier.programs[0].applications[1].label = words.to_owned();
        check("barrier", &plots::barrier(&barrier).unwrap());
        let mut dots = invented::dots();
        dots.caption = caption.clone();
        dots.axis = words.to_owned();
        dots.line = Some(Mark { value: 5.0, label: words.to_owned() });
        dots.rows[0].count = words.to_owned();
        dots.rows[1].style.name = words.to_owned();
        dots.rows[2].remark = Some(words.to_owned());
        check("dots", &plots::dots(&dots).unwrap());
        let mut card = invented::scorecard();
        card.caption = caption.clone();
        card.programs[0].name = words.to_owned();
        card.covered = words.to_owned();
        card.rows[1].title = words.to_owned();
        card.rows[2].remark = words.to_owned();
        card.rows[3].cells[1].text = words.to_owned();
        card.rows[3].cells[2].between = Some(words.to_owned());
        check("scorecard", &plots::scorecard(&card).unwrap());
    }
}

#[test]
fn one_to_nine_programs_fit() {
    for programs in 1..=9 {
        let mut overview = invented::overview();
        let first = overview.programs[1].clone();
        overview.programs =
            (0..programs).map(|place| plots::ProgramStyle { place, ..first.clone() }).collect();
        for panel in &mut overview.panels {
            let band = panel.series[0].clone();
            panel.series = vec![band; programs];
        }
        overview.ticks.retain(|t| t.program < programs);
        check(&format!("{programs} programs"), &plots::overview(&overview).unwrap());
    }
}

#[test]
fn many_members_become_a_hundred_dots_and_none_is_no_fault() {
    for n in [0, 1, 20, 100, 5000] {
        let row = DotRow {
            style: invented::programs()[0].clone(),
            values: (0..n).map(f64::from).collect(),
            count: "all".to_owned(),
            remark: None,
        };
        let input = DotsPicture {
            caption: Caption::default(),
            axis: "days".to_owned(),
            range: None,
            line: None,
            better: Better::Higher,
            rows: vec![row],
        };
        let picture = plots::dots(&input).unwrap();
        check("dots", &picture);
        assert_eq!(picture.svg.matches("<circle").count(), (n as usize).min(100));
    }
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let mut overview = invented::overview();
    overview.dates.days = 0;
    assert_eq!(plots::overview(&overview).unwrap_err(), PlotError::Empty { what: "days" });
    let mut overview = invented::overview();
    overview.panels[1].series[2].p75.pop();
    let fault = plots::overview(&overview).unwrap_err();
    assert_eq!(fault.to_string(), "panel \"Crabgrass\" has 729 entries, but 730 are needed");
    let mut overview = invented::overview();
    overview.ticks[0].program = 3;
    let fault = plots::overview(&overview).unwrap_err();
    assert!(matches!(fault, PlotError::UnknownProgram { index: 3, programs: 3, .. }), "{fault}");
    let mut overview = invented::overview();
    overview.panels.clear();
    assert_eq!(plots::overview(&overview).unwrap_err(), PlotError::Empty { what: "panels" });
    let mut card = invented::scorecard();
    card.rows[0].cells.push(ScoreCell {
        low: 0.0,
        middle: 0.0,
        high: 0.0,
        text: String::new(),
        between: None,
    });
    assert!(matches!(
        plots::scorecard(&card),
        Err(PlotError::Length { expected: 3, found: 4, .. })
    ));
    let dates = Dates { first: jiff::civil::Date::MAX, days: usize::MAX };
    let contrast = plots::ContrastPicture { dates, ..invented::contrast() };
    assert!(matches!(plots::contrast(&contrast), Err(PlotError::Dates { .. })));
}

/// Twelve months of two panels, with so many single years.
fn months(years: usize) -> MonthsPicture {
    let wave = |m: usize| 10.0 - 12.0 * (m as f64 / 12.0 * std::f64::consts::TAU).cos();
    let each = |add: f64| (0..12).map(|m| wave(m) + add).collect::<Vec<f64>>();
    let year = |y: usize| (0..12).map(move |m| (m, 20.0 + ((y * 7 + m * 3) % 11) as f64));
    MonthsPicture {
        caption: Caption {
            title: "What is usual at a station whose name is long, month by month".into(),
            note: Some("Invented.".into()),
            ..Caption::default()
        },
        bars: "rain, mean".into(),
        dots: "a single year".into(),
        spread: ["half of the simulated years".into(), "9 in 10".into()],
        panels: vec![
            MonthPanel {
                title: "Temperature".into(),
                unit: "°C".into(),
                band: Some([(each(-4.0), "mean low".into()), (each(4.0), "mean high".into())]),
                mark: Some(Mark { value: 0.0, label: "freezing, 0".into() }),
                ..MonthPanel::default()
            },
            MonthPanel {
                title: "Rain".into(),
                unit: "mm a month".into(),
                bars: Some(each(30.0)),
                line: Some((each(40.0), "what grass can use".into())),
                spread: Some(Spread {
                    p05: each(22.0),
                    p25: each(26.0),
                    p50: each(30.0),
                    p75: each(34.0),
                    p95: each(38.0),
                }),
                dots: (0..years).flat_map(year).collect(),
                ..MonthPanel::default()
            },
        ],
    }
}

#[test]
fn months_hold_few_years_many_and_none() {
    for years in [0, 4, 60] {
        let said = check("months", &plots::months(&months(years)).unwrap());
        for words in ["Jan", "Dec", "mean low", "freezing, 0", "9 in 10"] {
            assert!(said.iter().any(|text| text == words), "{words}: {said:?}");
        }
        assert_eq!(said.iter().any(|text| text == "a single year"), years > 0);
    }
    let mut gaps = months(4);
    gaps.panels[1].bars = Some(vec![f64::NAN; 12]);
    gaps.panels[1].line.as_mut().unwrap().0[11] = f64::NAN;
    gaps.panels[0].band.as_mut().unwrap()[0].0[5] = f64::INFINITY;
    check("months with gaps", &plots::months(&gaps).unwrap());
    gaps.panels[1].spread.as_mut().unwrap().p25.pop();
    let fault = plots::months(&gaps).unwrap_err();
    assert!(matches!(fault, PlotError::Length { expected: 12, found: 11, .. }), "{fault}");
    gaps.panels.clear();
    assert_eq!(plots::months(&gaps).unwrap_err(), PlotError::Empty { what: "panels" });
}

#[test]
fn dates_of_the_year_hold_few_years_many_and_none() {
    let picture = |years: usize, spread: bool| SpansPicture {
        caption: Caption { title: "When things happen".into(), ..Caption::default() },
        dates: Dates { first: jiff::civil::date(2025, 3, 1), days: 122 },
        spread: ["half of the simulated years".into(), "9 in 10".into()],
        dots: "a year of the record".into(),
        rows: (0..4)
            .map(|row| SpanRow {
                title: format!(
                    "An event whose name is rather long, the {row}th of four (42 °F-days)"
                ),
                spread: spread.then_some([20.0, 30.0, 30.0, 30.0, 121.0]),
                dots: (0..years).map(|y| ((y * 17 % 122) as f64, (1980 + y).to_string())).collect(),
                told: "27 Mar to 16 Apr".into(),
            })
            .collect(),
    };
    for (years, spread) in [(0, true), (4, true), (4, false), (60, true)] {
        let said = check("spans", &plots::spans(&picture(years, spread)).unwrap());
        for words in ["Mar", "Jun", "27 Mar to 16 Apr"] {
            assert!(said.iter().any(|text| text == words), "{words}: {said:?}");
        }
        assert!(!said.iter().any(|text| text == "2025"), "no year is meant: {said:?}");
    }
    let mut none = picture(1, true);
    none.rows.clear();
    assert_eq!(plots::spans(&none).unwrap_err(), PlotError::Empty { what: "rows" });
}

/// A bowl, with a label at every value.
fn bowl(values: usize, label: fn(usize) -> String) -> SweepPicture {
    let point = |i: usize| {
        let away = i as f64 - values as f64 / 2.0;
        let middle = 10.0 + away * away;
        let quantiles = [0.1, 0.5, 1.0, 1.6, 2.4].map(|share| share * middle);
        SweepPoint { setting: i as f64, quantiles }
    };
    SweepPicture {
        caption: Caption {
            title: "The second half does best 6 to 10 weeks after the first".into(),
            subtitle: Some("A thin front lawn".into()),
            alt: "Crabgrass against weeks.".into(),
            note: Some("200 futures; weather from 4 years of record.".into()),
        },
        outcome: "Crabgrass at its worst".into(),
        unit: "% of the lawn".into(),
        range: Some((0.0, 0.0)),
        axis: "Weeks from the first half to the second".into(),
        ticks: (0..values).map(|i| (i as f64, label(i))).collect(),
        points: (0..values).map(point).collect(),
        own: Some(Mark { value: values as f64 / 2.0, label: "yours: 8 weeks".into() }),
        without: None,
        runs: vec![(1.0, 2.0)],
        bracket: "as good as the best that was tried".into(),
    }
}

#[test]
fn sweeps_are_clean_whatever_is_tried() {
    for values in [1, 2, 3, 13, 60] {
        for label in [|i: usize| i.to_string(), |i: usize| format!("{} September", i % 30 + 1)] {
            let picture = bowl(values, label);
            let said = check("sweep", &plots::sweep(&picture).unwrap());
            has(
                &said,
                &["Crabgrass at its worst", "% of the lawn", "yours: 8 weeks", "as good as"],
            );
            has(&said, &["Weeks from the first half to the second", "middle future", "9 in 10"]);
            // The setting in use at both ends, several brackets, a program without the setting.
            let last = values as f64 - 1.0;
            for own in [0.0, last] {
                let mut edge = bowl(values, label);
                edge.own = Some(Mark { value: own, label: "yours: 0.75 lb N/1000 ft2".into() });
                edge.runs = vec![(0.0, 0.0), (last, last)];
                check("sweep at an edge", &plots::sweep(&edge).unwrap());
            }
            for value in [0.0, 12.0, 5000.0] {
                let mut without = bowl(values, label);
                without.own = None;
                without.runs = vec![];
                without.without = Some(Mark { value, label: "yours, all at once".into() });
                has(&check("without", &plots::sweep(&without).unwrap()), &["yours, all at once"]);
            }
        }
    }
    let mut odd = bowl(13, |i| i.to_string());
    odd.points[4].quantiles[2] = f64::NAN;
    odd.points[12].setting = f64::INFINITY;
    check("sweep with gaps", &plots::sweep(&odd).unwrap());
    odd.points.clear();
    assert_eq!(plots::sweep(&odd).unwrap_err(), PlotError::Empty { what: "settings" });
}

/// So many practices, with long words where asked.
fn credit(practices: usize, long: bool) -> CreditPicture {
    let tones = [Tone::Better, Tone::Worse, Tone::Unclear, Tone::Plain];
    let bar = |at: usize| {
        let value = [-9.0, 2.5, 0.3, -4.0][at % 4];
        CreditBar {
            name: if long {
                format!("Barrier-against-all-that-comes-up-{at}, second half")
            } else {
                format!("Mow {at}")
            },
            change: "every 5 days instead of every 14 days; at 3.5 in instead of 3 in".into(),
            value,
            ends: (value - 1.5, value + 1.5),
            tone: tones[at % 4],
            text: if long {
                "2,123,456.5 lb/1000 ft2 more".into()
            } else {
                "9 points lower".into()
            },
            between: "7 to 11".into(),
        }
    };
    let panel = |title: &str| CreditPanel {
        title: title.into(),
        remark: "% of the lawn, less is better".into(),
        least: Some(5.0),
        bars: (0..practices).map(bar).collect(),
        total: (practices > 1).then(|| bar(0)),
    };
    CreditPicture {
        caption: Caption {
            title: "Crabgrass at its worst: 9 points lower, most of it owed to the barrier".into(),
            note: Some("Invented.".into()),
            ..Caption::default()
        },
        panels: vec![
            panel("Crabgrass at its worst"),
            panel("Days at quality 6 or better, April to October, in a lawn of many words"),
        ],
    }
}

#[test]
fn credits_of_few_practices_and_many_are_clean() {
    for (practices, long) in [(1, false), (2, false), (5, true), (20, true)] {
        let said = check("credit", &plots::credit(&credit(practices, long)).unwrap());
        has(&said, &["Crabgrass at its worst", "less is better", "7 to 11", "too small to matter"]);
        has(&said, &["could be anything along here", "every 5 days instead", "better"]);
        assert_eq!(said.iter().any(|text| text == "neither"), practices > 3, "{said:?}");
    }
    let mut gaps = credit(3, false);
    gaps.panels[0].bars[0].value = f64::NAN;
    gaps.panels[0].bars[1].ends = (f64::NEG_INFINITY, f64::INFINITY);
    gaps.panels[1].least = Some(f64::NAN);
    check("credit with gaps", &plots::credit(&gaps).unwrap());
    gaps.panels.clear();
    assert_eq!(plots::credit(&gaps).unwrap_err(), PlotError::Empty { what: "panels" });
}

/// So many named programs, all near each other or far apart.
fn tradeoff(named: usize, apart: f64) -> TradeoffPicture {
    let priced = |at: usize| Priced {
        cost: 400.0 + apart * at as f64,
        marks: (4.0 + 0.02 * apart * at as f64).min(20.0),
    };
    let name = |at: usize| NamedPrice {
        at: priced(at),
        name: ["Usual care", "Cut every 5 days and rake every leaf of the lawn", "No water"]
            [at % 3]
            .into(),
        figures: format!("$1,{at}40, more than 19 of 20"),
        place: (at > 0).then_some(at),
    };
    TradeoffPicture {
        caption: Caption {
            title: "With 3 things changed it holds, at $310 instead of $540".into(),
            note: Some("400 futures.".into()),
            ..Caption::default()
        },
        axis: "Cost over 2 seasons, $, on average".into(),
        odds: "Futures of 20 in which all of it holds".into(),
        scale: 20,
        wanted: Mark { value: 17.0, label: "wanted: 17 of 20".into() },
        curve: (0..6).map(priced).collect(),
        others: vec![Priced { cost: 500.0, marks: 3.0 }],
        named: (0..named).map(name).collect(),
        dots: "others that were judged; the line joins those that none beats".into(),
    }
}

fn knowing(rows: usize, words: &str) -> KnowingPicture {
    let bar = |value: f64, text: &str, clear| KnowingBar {
        value,
        ends: (value * 0.7, value * 1.3),
        text: text.into(),
        clear,
    };
    let row = |i: usize| KnowingRow {
        name: format!("Last August's crabgrass {words}"),
        how: format!("ask for last summer's photos {words}"),
        value: if i == 0 { bar(2.1, "2 points", true) } else { bar(0.0, "none", false) },
        moved: (i != 1).then(|| bar(i as f64, "1,234 points", true)),
    };
    KnowingPicture {
        caption: Caption { title: "Go and count".into(), ..Caption::default() },
        columns: ["Worth of knowing it, points".into(), "How far it moves crabgrass".into()],
        least: 5.0,
        parts: vec![
            KnowingPart {
                title: "You can find out".into(),
                rows: (0..rows).map(row).collect(),
                noise: Some(0.4),
            },
            KnowingPart { title: "Not yours".into(), rows: vec![row(2)], noise: None },
        ],
    }
}

#[test]
fn tradeoffs_are_clean_whether_programs_are_alike_or_not() {
    for (named, apart) in [(0, 100.0), (1, 0.0), (2, 40.0), (4, 120.0), (5, 150.0)] {
        let said = check("tradeoff", &plots::tradeoff(&tradeoff(named, apart)).unwrap());
        has(&said, &["Cost over 2 seasons", "wanted: 17 of 20", "in which all of it holds"]);
        has(&said, &["the one found", "others that were judged"]);
    }
    let mut empty = tradeoff(0, 1.0);
    empty.curve.clear();
    empty.others.clear();
    assert_eq!(plots::tradeoff(&empty).unwrap_err(), PlotError::Empty { what: "programs" });
}

#[test]
fn single_futures_are_clean_wherever_the_line_lies() {
    let wave = |by: f64| (0..730).map(|d| 20.0 + by * (d as f64 / 58.0).sin()).collect::<Vec<_>>();
    for (line, day) in [(5.0, 0), (20.0, 200), (45.0, 729)] {
        let future = |name: &str, by, keeps| FutureLine {
            name: name.into(),
            values: wave(by),
            keeps,
            event: (!keeps).then(|| (day, "missed from here".to_string())),
        };
        let input = FuturesPicture {
            caption: Caption { title: "It fails in July".into(), ..Caption::default() },
            dates: Dates { first: jiff::civil::date(2026, 1, 1), days: 730 },
            title: "Crabgrass".into(),
            unit: "% of the lawn".into(),
            range: Some((0.0, 0.0)),
            line: Mark { value: line, label: "Crabgrass always stays under 20 %".into() },
            stretches: vec![(151, 242), (516, 607)],
            lines: vec![
                future("a future that fails", 18.0, false),
                future("a future that holds", 3.0, true),
            ],
        };
        let said = check("futures", &plots::futures(&input).unwrap());
        has(&said, &["missed from here", "a future that holds", "days that count", "2027"]);
        let mut short = input;
        short.lines[1].values.pop();
        assert!(plots::futures(&short).is_err());
    }
}

#[test]
fn knowing_is_clean_whatever_its_rows() {
    for (rows, words) in [(0, ""), (1, ""), (4, "in words that go on and on for a while"), (14, "")]
    {
        let said = check("knowing", &plots::knowing(&knowing(rows, words)).unwrap());
        has(&said, &["Not yours", "could be anything along here"]);
        assert_eq!(said.iter().any(|text| text == "2 points"), rows > 0, "{said:?}");
    }
    let mut gaps = knowing(3, "");
    gaps.least = f64::NAN;
    gaps.parts[0].noise = Some(f64::INFINITY);
    gaps.parts[0].rows[0].value.value = f64::NAN;
    gaps.parts[0].rows[2].value.ends = (f64::NAN, f64::INFINITY);
    check("knowing with gaps", &plots::knowing(&gaps).unwrap());
    gaps.parts.iter_mut().for_each(|part| part.rows.clear());
    assert_eq!(plots::knowing(&gaps).unwrap_err(), PlotError::Empty { what: "rows" });
}
