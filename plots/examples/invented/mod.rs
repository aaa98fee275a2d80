//! Invented but plausible data: two seasons, three programs. Nothing here is a result.

use jiff::civil::date;
use plots::{
    Application, BandSeries, BarrierPicture, BarrierProgram, Better, Caption, ContrastPanel,
    ContrastPicture, Dates, DotRow, DotsPicture, Mark, Overview, Panel, PracticeTicks,
    ProgramStyle, ScoreCell, ScoreRow, Scorecard, quantile_dots,
};

const DAYS: usize = 730;
const NOTE: &str = "1,000 simulated futures on weather drawn from 20 years of record. Invented \
                    numbers, made to try the drawing.";

/// Small repeatable noise, about -1 to 1.
fn noise(i: usize, salt: usize) -> f64 {
    let x = (i * 12_9898 + salt * 78_233) as f64;
    2.0 * ((x * 0.000_137).sin() * 43_758.545_3).fract().abs() - 1.0
}

/// Walks a little from day to day.
fn wander(days: usize, salt: usize, size: f64) -> Vec<f64> {
    let mut at = 0.0;
    (0..days)
        .map(|d| {
            at = 0.94 * at + 0.34 * noise(d, salt);
            at * size
        })
        .collect()
}

/// Day of the year of a day counted from 1 March.
fn day_of_year(day: usize) -> f64 {
    ((day + 59) % 365) as f64
}

/// A bump over the year, 1 at day of the year `middle`.
fn bump(day: usize, middle: f64, width: f64) -> f64 {
    let off = (day_of_year(day) - middle).abs();
    let off = off.min(365.0 - off);
    (-0.5 * (off / width).powi(2)).exp()
}

/// A band around a curve; `spread(day)` is about one standard deviation.
fn band(
    days: usize,
    salt: usize,
    bounds: (f64, f64),
    curve: impl Fn(usize) -> f64,
    spread: impl Fn(usize) -> f64,
) -> BandSeries {
    let rough = wander(days, salt, 0.2);
    let at = |z: f64| {
        (0..days)
            .map(|d| (curve(d) + (z + rough[d]) * spread(d)).clamp(bounds.0, bounds.1))
            .collect()
    };
    BandSeries { p05: at(-1.64), p25: at(-0.67), p50: at(0.0), p75: at(0.67), p95: at(1.64) }
}

/// The three programs.
pub fn programs() -> Vec<ProgramStyle> {
    let program = |place, name: &str, short: Option<&str>| ProgramStyle {
        name: name.to_owned(),
        short: short.map(str::to_owned),
        place,
    };
    vec![
        program(0, "Weekly cuts, barrier in two halves", Some("Weekly, two halves")),
        program(1, "Every second week, barrier once", Some("Second week, once")),
        program(2, "Low input", None),
    ]
}

fn caption(title: &str, subtitle: &str, alt: &str) -> Caption {
    Caption {
        title: title.to_owned(),
        subtitle: Some(subtitle.to_owned()),
        alt: alt.to_owned(),
        note: Some(NOTE.to_owned()),
    }
}

fn grown(day: usize) -> f64 {
    1.0 - (-(day as f64) / 220.0).exp()
}

fn panel(
    title: &str,
    unit: &str,
    range: Option<(f64, f64)>,
    series: impl Fn(usize) -> BandSeries,
) -> Panel {
    let series = (0..3).map(series).collect();
    Panel {
        title: title.to_owned(),
        unit: unit.to_owned(),
        range,
        series,
        acceptable: None,
        seen: vec![],
    }
}

fn panels() -> Vec<Panel> {
    let gain = [38.0, 26.0, 8.0];
    let weeds = [4.0, 14.0, 38.0];
    let turf = panel("Turf cover", "% of the lawn", Some((0.0, 100.0)), |p| {
        let dip = [4.0, 8.0, 14.0][p];
        let curve = move |d| 55.0 + gain[p] * grown(d) - dip * bump(d, 215.0, 30.0);
        band(DAYS, 1 + p, (0.0, 100.0), curve, move |d| 3.0 + 6.0 * grown(d))
    });
    let crabgrass = panel("Crabgrass", "% of the lawn", Some((0.0, 50.0)), |p| {
        let curve = move |d| {
            let year = if d < 330 { 1.0 } else { [0.45, 0.8, 1.25][p] };
            weeds[p] * year * bump(d, 245.0, 32.0)
        };
        band(DAYS, 11 + p, (0.0, 100.0), curve, move |d| 0.45 * curve(d))
    });
    let mut quality = panel("Quality", "1 to 9, as trials rate turf", Some((1.0, 9.0)), |p| {
        let lift = [2.4, 1.6, 0.2];
        let curve = move |d| {
            4.4 + lift[p] * grown(d) + 0.7 * bump(d, 140.0, 40.0)
                - 0.9 * bump(d, 215.0, 28.0)
                - 0.6 * bump(d, 20.0, 40.0)
        };
        band(DAYS, 21 + p, (1.0, 9.0), curve, |d| 0.35 + 0.25 * bump(d, 215.0, 50.0))
    });
    quality.acceptable = Some(Mark { value: 6.0, label: "6 is acceptable".to_owned() });
    let nitrogen = panel("Mineral nitrogen", "g per m²", None, |p| {
        let feed = [[140.0, 255.0], [140.0, 290.0], [260.0, 900.0]][p];
        let curve = move |d: usize| {
            let after = |day: f64| {
                let t = day_of_year(d) - day;
                if t < 0.0 { 0.0 } else { (t / 6.0).min(1.0) * (-t / 30.0).exp() }
            };
            0.8 + [3.5, 4.5, 2.5][p] * (after(feed[0]) + after(feed[1]))
        };
        band(DAYS, 31 + p, (0.0, 50.0), curve, move |d| 0.25 * curve(d))
    });
    let organic = panel("Organic matter", "% of the top 10 cm", None, |p| {
        let rise = [0.16, 0.1, 0.02];
        let curve = move |d| 2.0 + rise[p] * d as f64 / 365.0 + 0.02 * bump(d, 280.0, 60.0);
        band(DAYS, 41 + p, (0.0, 10.0), curve, |_| 0.05)
    });
    vec![turf, crabgrass, quality, nitrogen, organic]
}

fn ticks() -> Vec<PracticeTicks> {
    let mut ticks = Vec::new();
    let mut add = |program: usize, label: &str, share: &dyn Fn(usize) -> f64| {
        let shares = (0..DAYS).map(|d| share(d).clamp(0.0, 1.0)).collect();
        ticks.push(PracticeTicks { program, label: label.to_owned(), shares });
    };
    let growing = |d: usize| {
        let doy = day_of_year(d);
        if (95.0..315.0).contains(&doy) { 1.0 } else { 0.0 }
    };
    let near = |d: usize, doy: f64, spread: f64| {
        let z = (day_of_year(d) - doy) / spread;
        if z.abs() > 3.0 { 0.0 } else { (-0.5 * z * z).exp() / (2.5 * spread) }
    };
    add(0, "Mow", &|d| growing(d) / 7.0);
    add(1, "Mow", &|d| growing(d) / 14.0);
    add(2, "Mow", &|d| growing(d) / 24.0);
    add(0, "Lay the barrier", &|d| near(d, 98.0, 5.0) + near(d, 145.0, 5.0));
    add(1, "Lay the barrier", &|d| near(d, 98.0, 5.0));
    add(0, "Feed", &|d| near(d, 140.0, 3.0) + near(d, 255.0, 4.0));
    add(1, "Feed", &|d| near(d, 140.0, 3.0) + near(d, 290.0, 4.0));
    add(2, "Feed", &|d| near(d, 260.0, 1.0));
    add(0, "Overseed and topdress", &|d| if d == 196 { 0.9 } else { 0.0 });
    add(1, "Overseed and topdress", &|d| if d == 196 { 0.9 } else { 0.0 });
    ticks
}

/// The overview.
pub fn overview() -> Overview {
    Overview {
        caption: caption(
            "Weekly cuts and a split barrier keep crabgrass under 5 % in 17 of 20 futures",
            "A thin lawn on loam over fill: three programs in the same weather",
            "Five panels over two years for three programs.",
        ),
        dates: Dates { first: date(2025, 3, 1), days: DAYS },
        programs: programs(),
        panels: panels(),
        ticks: ticks(),
        today: None,
    }
}

/// The contrast.
pub fn contrast() -> ContrastPicture {
    let cover = |d: usize| 11.0 * grown(d) + 5.0 * bump(d, 230.0, 40.0);
    let rating = |d: usize| 0.5 * grown(d) + 0.7 * bump(d, 220.0, 45.0);
    ContrastPicture {
        caption: caption(
            "Cutting twice as often makes a thicker lawn by the second summer",
            "The same lawn and weather; only the mowing differs",
            "The difference in turf cover rises from 0 to 11 % of the lawn over two years.",
        ),
        dates: Dates { first: date(2025, 3, 1), days: DAYS },
        panels: vec![
            ContrastPanel {
                title: "Difference in turf cover".to_owned(),
                unit: "% of the lawn".to_owned(),
                band: band(DAYS, 51, (-100.0, 100.0), cover, |d| 0.5 + 6.0 * grown(d)),
                above: "more grass when cut weekly".to_owned(),
                below: "more grass when cut every second week".to_owned(),
                least: Some(5.0),
            },
            ContrastPanel {
                title: "Difference in quality".to_owned(),
                unit: "points of 9".to_owned(),
                band: band(DAYS, 52, (-8.0, 8.0), rating, |d| 0.1 + 0.5 * grown(d)),
                above: "looks better when cut weekly".to_owned(),
                below: "looks better when cut every second week".to_owned(),
                least: Some(1.0),
            },
        ],
    }
}

/// The barrier.
pub fn barrier() -> BarrierPicture {
    let days = 245;
    let flush = |d: usize| {
        let at = |middle: f64, width: f64, high: f64| {
            high * (-0.5 * ((d as f64 - middle) / width).powi(2)).exp()
        };
        let wet = 1.0 + 0.5 * noise(d / 4, 3);
        (at(75.0, 12.0, 42.0) + at(110.0, 16.0, 26.0) + at(150.0, 14.0, 12.0)) * wet
    };
    let program = |place: usize, name: &str, laid: &'static [(f64, f64)], result: &str| {
        let dose = move |d: usize| -> f64 {
            laid.iter()
                .filter(|(day, _)| d as f64 >= *day)
                .map(|(day, dose)| dose * 0.5f64.powf((d as f64 - day) / 38.0))
                .sum()
        };
        let stop = move |d: usize| 100.0 / (1.0 + (0.2 / dose(d).max(1e-9)).powf(2.2));
        let trying: Vec<f64> = (0..days).map(flush).collect();
        let through = trying.iter().enumerate().map(|(d, n)| n * (1.0 - stop(d) / 100.0)).collect();
        let words = ["1st", "2nd"];
        let applications = laid
            .iter()
            .zip(words)
            .map(|((day, _), word)| Application {
                label: format!("{word} application"),
                early_day: day - 8.0,
                usual_day: *day,
                late_day: day + 11.0,
            })
            .collect();
        let spread = move |d: usize| 0.25 * (stop(d) * (100.0 - stop(d))).max(0.0).sqrt() + 0.4;
        BarrierProgram {
            style: ProgramStyle { name: name.to_owned(), short: None, place },
            strength: band(days, 61 + place, (0.0, 100.0), stop, spread),
            trying,
            through,
            applications,
            result: Some(result.to_owned()),
        }
    };
    BarrierPicture {
        caption: caption(
            "The second half lands just before the first one lets go",
            "One season, the same product and the same yearly amount",
            "Barrier strength and crabgrass seedlings for one and two applications.",
        ),
        dates: Dates { first: date(2025, 3, 1), days },
        seedlings_unit: "per m² a day, mean".to_owned(),
        programs: vec![
            program(
                0,
                "In two halves",
                &[(36.0, 0.5), (86.0, 0.5)],
                "130 seedlings per m² come through",
            ),
            program(1, "All at once", &[(36.0, 1.0)], "310 seedlings per m² come through"),
        ],
    }
}

/// The dots.
pub fn dots() -> DotsPicture {
    let row = |place: usize, low: f64, spread: f64, count: &str| {
        let members: Vec<f64> = (0..1000)
            .map(|i| {
                let u = (f64::from(i) + 0.5) / 1000.0;
                low * (u / (1.0 - u)).powf(spread)
            })
            .collect();
        DotRow {
            style: programs()[place].clone(),
            values: quantile_dots(&members, 20),
            count: count.to_owned(),
            remark: Some("futures stay at or under 5 %".to_owned()),
        }
    };
    DotsPicture {
        caption: caption(
            "Crabgrass stays under 5 % of the lawn in 17 of 20 futures, if the barrier is split",
            "Each dot stands for one future in twenty",
            "Twenty dots a program: 17, 8 and 0 keep the line.",
        ),
        axis: "Crabgrass at its worst, % of the lawn".to_owned(),
        range: Some((0.0, 60.0)),
        line: Some(Mark { value: 5.0, label: "5 %".to_owned() }),
        better: Better::Lower,
        rows: vec![
            row(0, 2.3, 0.42, "17 of 20"),
            row(1, 6.2, 0.5, "8 of 20"),
            row(2, 24.0, 0.3, "0 of 20"),
        ],
    }
}

/// The scorecard.
pub fn scorecard() -> Scorecard {
    let row = |title: &str, remark: &str, cells: [(f64, f64, f64, &str); 3]| ScoreRow {
        title: title.to_owned(),
        remark: remark.to_owned(),
        range: Some((0.0, 0.0)),
        cells: cells
            .into_iter()
            .map(|(low, middle, high, text)| {
                let (text, between) =
                    text.split_once(" | ").map_or((text, None), |(t, b)| (t, Some(b)));
                let between = between.map(str::to_owned);
                ScoreCell { low, middle, high, text: text.to_owned(), between }
            })
            .collect(),
    };
    Scorecard {
        caption: caption(
            "The split program costs 220 more a year and buys 60 good days",
            "Three programs on the same lawn, in the same weather",
            "Outcomes, cost and hours of three programs.",
        ),
        covered: "9 in 10 futures".to_owned(),
        programs: programs(),
        rows: vec![
            row(
                "Crabgrass at its worst",
                "% of the lawn, less is better",
                [
                    (1.0, 2.3, 8.0, "2 % | 1 to 8"),
                    (2.0, 6.2, 27.0, "6 % | 2 to 27"),
                    (10.0, 24.0, 55.0, "24 % | 10 to 55"),
                ],
            ),
            row(
                "Days at quality 6 or better",
                "April to October, more is better",
                [
                    (120.0, 160.0, 190.0, "160 | 120 to 190"),
                    (60.0, 100.0, 140.0, "100 | 60 to 140"),
                    (0.0, 12.0, 45.0, "12 | 0 to 45"),
                ],
            ),
            row(
                "Nitrogen leached",
                "g per m² over two years, less is better",
                [
                    (0.8, 1.3, 2.2, "1.3 | 0.8 to 2.2"),
                    (1.0, 1.9, 3.6, "1.9 | 1.0 to 3.6"),
                    (0.6, 0.9, 1.4, "0.9 | 0.6 to 1.4"),
                ],
            ),
            row(
                "Cost",
                "$ a year, labour and product",
                [
                    (1020.0, 1110.0, 1180.0, "$1,110 | $1,020 to $1,180"),
                    (820.0, 890.0, 940.0, "$890 | $820 to $940"),
                    (380.0, 420.0, 455.0, "$420"),
                ],
            ),
            row(
                "Crew hours",
                "a year",
                [
                    (24.0, 26.5, 28.0, "26.5 h"),
                    (15.0, 16.5, 18.0, "16.5 h"),
                    (8.0, 9.0, 9.8, "9 h"),
                ],
            ),
        ],
    }
}
