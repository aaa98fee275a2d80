//! The pictures of `climate`: normals, dates, and simulated years beside the record's.

use plots::{
    Caption, Dates, Mark, MonthPanel, MonthsPicture, Picture, PlotError, SpanRow, SpansPicture,
    Spread,
};
use sim::calendar::{COMMON_YEAR, Day, MONTHS};
use sim::climate::{Comparison, Normal, Statistics};
use sim::ensemble::quantile_sorted;

use super::Told;
use super::dates::{Event, events, in_words, quantiles};
use super::words::title;
use crate::drawing::failed;
use crate::failure::Failure;
use crate::units::Units;

/// Events in the picture of dates.
const SHOWN: [&str; 5] = ["last-frost", "soil-42", "soil-78", "soil-140", "soil-230"];

/// All pictures by name, as far as the record allows them.
pub(super) fn all(told: &Told) -> Result<Vec<(&'static str, Picture)>, Failure> {
    let mut all = vec![("normals", normals(told))];
    if !told.climate.dates.is_empty() {
        all.push(("emergence", emergence(told)));
    }
    if let Ok(comparison) = &told.climate.comparison {
        all.push(("simulated", simulated(told, comparison)));
    }
    all.into_iter()
        .map(|(name, picture)| Ok((name, picture.map_err(|error| failed(name, &error))?)))
        .collect()
}

fn rain_unit(units: Units) -> &'static str {
    match units {
        Units::Us => "inches a month",
        Units::Metric => "mm a month",
    }
}

/// The years behind a picture.
fn note(told: &Told) -> String {
    let years = &told.climate.years;
    match (years.first(), years.last()) {
        (Some(a), Some(b)) if a != b => format!("{} complete years, {a} to {b}.", years.len()),
        (Some(a), _) => format!("1 complete year, {a}."),
        _ => format!("{} days, no complete year.", told.read.record.days.len()),
    }
}

fn normals(told: &Told) -> Result<Picture, PlotError> {
    let (heat, rain) = (told.units.shown("degC"), told.units.shown("mm"));
    let each = |of: fn(&Normal) -> f64| told.climate.normals.iter().map(of).collect::<Vec<f64>>();
    let heat_of = |of: fn(&Normal) -> f64| each(of).iter().map(|c| heat.value(*c)).collect();
    let rain_of = |of: fn(&Normal) -> f64| each(of).iter().map(|v| rain.value(*v)).collect();
    let months = told.climate.normals.iter().enumerate();
    let dots = months.flat_map(|(m, normal)| {
        normal.precip_by_year_mm.iter().map(move |(_, mm)| (m, rain.value(*mm)))
    });
    let freezing = match told.units {
        Units::Us => "freezing, 32",
        Units::Metric => "freezing, 0",
    };
    let title = dry_months(&told.climate.normals);
    plots::months(&MonthsPicture {
        caption: Caption {
            title: title.clone(),
            subtitle: Some(format!("{}: what is usual", told.name)),
            alt: format!(
                "Mean low and high temperature of each month as a band; below it rain as bars with \
                 single years as dots, and reference evapotranspiration as a line. {title}."
            ),
            note: Some(format!(
                "{} What grass can use: reference evapotranspiration (FAO-56), for short grass that \
                 never lacks water.",
                note(told)
            )),
        },
        bars: "rain, mean".into(),
        dots: "a single year".into(),
        spread: [String::new(), String::new()],
        panels: vec![
            MonthPanel {
                title: "Temperature".into(),
                unit: heat.unit.into(),
                band: Some([
                    (heat_of(|n| n.t_min_c), "mean low".into()),
                    (heat_of(|n| n.t_max_c), "mean high".into()),
                ]),
                mark: Some(Mark { value: heat.value(0.0), label: freezing.into() }),
                ..MonthPanel::default()
            },
            MonthPanel {
                title: "Rain".into(),
                unit: rain_unit(told.units).into(),
                bars: Some(rain_of(|n| n.precip_mm)),
                line: Some((rain_of(|n| n.et0_mm), "what grass can use".into())),
                dots: dots.collect(),
                ..MonthPanel::default()
            },
        ],
    })
}

/// "Less rain than grass can use from May to August", by the means.
fn dry_months(normals: &[Normal; 12]) -> String {
    let dry: Vec<usize> = (0..12).filter(|&m| normals[m].precip_mm < normals[m].et0_mm).collect();
    match (dry.first(), dry.last()) {
        (None, _) | (_, None) => "In every month the mean rain is as much as grass can use".into(),
        (Some(0), Some(11)) if dry.len() == 12 => "Less rain than grass can use, all year".into(),
        (Some(a), Some(b)) if a == b => format!("Less rain than grass can use in {}", MONTHS[*a]),
        (Some(a), Some(b)) if b - a + 1 == dry.len() => {
            format!("Less rain than grass can use from {} to {}", MONTHS[*a], MONTHS[*b])
        }
        (Some(_), Some(last)) if dry.len() <= 5 => {
            let names: Vec<&str> = dry[..dry.len() - 1].iter().map(|m| MONTHS[*m]).collect();
            let names = format!("{} and {}", names.join(", "), MONTHS[*last]);
            format!("Less rain than grass can use in {names}")
        }
        _ => format!("Less rain than grass can use in {} of 12 months", dry.len()),
    }
}

fn emergence(told: &Told) -> Result<Picture, PlotError> {
    let events = events();
    let drawn = told.climate.comparison.as_ref().ok().map(|c| c.drawn_dates.as_slice());
    let shown = || events.iter().filter(|event| SHOWN.contains(&event.key));
    let wide = |event: &Event| {
        let all = quantiles(&event.days(&told.climate.dates), [0.0, 1.0]);
        let simulated = drawn.and_then(|drawn| quantiles(&event.days(drawn), [0.05, 0.95]));
        all.into_iter().chain(simulated).flatten().collect::<Vec<f64>>()
    };
    let (first, length) = whole_months(shown().flat_map(wide));
    let from = f64::from(first.day_of_year()) - 1.0;
    let rows = shown().map(|event| {
        let days = event.days(&told.climate.dates);
        let spread = drawn.and_then(|drawn| {
            quantiles(&event.days(drawn), [0.05, 0.25, 0.5, 0.75, 0.95])
                .map(|days| days.map(|day| day - from))
        });
        let dots = days.iter().map(|(year, day)| (day - from, year.to_string()));
        SpanRow {
            title: upper(&title(told.units, event)),
            spread,
            dots: dots.collect(),
            told: told_of(&days),
        }
    });
    let rows: Vec<SpanRow> = rows.collect();
    let title = crabgrass_title(told, &events);
    plots::spans(&SpansPicture {
        caption: Caption {
            title: title.clone(),
            subtitle: Some(format!("{}; on the right the record's earliest and latest", told.name)),
            alt: format!(
                "Rows of dates from March to June, each with the years of the record as dots and the \
                 simulated years as a bar. {title}."
            ),
            note: Some(format!(
                "{} Soil degree-days above 12 °C (53.6 °F) from 1 April: Fidanza, Dernoeden & Zhang \
                 1996; soil at 2 in (5 cm), worked out from air temperature: a date is good to \
                 about a week.",
                note(told)
            )),
        },
        dates: Dates { first: first.date(), days: length },
        spread: ["half of the simulated years".into(), "9 in 10".into()],
        dots: "a year of the record".into(),
        rows,
    })
}

/// First day and number of days of the months that hold these days of a common year; March to June
/// where there are none.
fn whole_months(days: impl Iterator<Item = f64>) -> (Day, usize) {
    let ends = days.fold(None, |ends: Option<(f64, f64)>, day| {
        Some(ends.map_or((day, day), |(low, high)| (low.min(day), high.max(day))))
    });
    let month =
        |day: f64| Day::from_ymd(COMMON_YEAR, 1, 1).map_or(1, |d| d.plus(day as i32).ymd().1);
    let (from, to) = ends.map_or((3, 6), |(low, high)| (month(low), month(high)));
    let start = Day::from_ymd(COMMON_YEAR, from, 1).unwrap_or(Day(0));
    let end = if to == 12 {
        Day::from_ymd(COMMON_YEAR + 1, 1, 1)
    } else {
        Day::from_ymd(COMMON_YEAR, to + 1, 1)
    };
    (start, end.map_or(1, |end| (end.0 - start.0) as usize))
}

fn upper(text: &str) -> String {
    crate::words::name::upper_first(text)
}

/// "7 May to 18 May".
fn told_of(days: &[(i32, f64)]) -> String {
    match quantiles(days, [0.0, 1.0]) {
        Some([a, b]) if in_words(a) == in_words(b) => in_words(a),
        Some([a, b]) => format!("{} to {}", in_words(a), in_words(b)),
        None => "never".into(),
    }
}

fn crabgrass_title(told: &Told, events: &[Event]) -> String {
    let days = |key: &str| {
        events
            .iter()
            .find(|event| event.key == key)
            .map(|event| event.days(&told.climate.dates))
            .unwrap_or_default()
    };
    let (first, main) = (days("soil-42"), days("soil-140"));
    match (quantiles(&first, [0.0, 1.0]), quantiles(&main, [0.0, 1.0])) {
        (Some(a), Some(b)) => {
            format!("First crabgrass {}; its main flush begins {}", between(a), between(b))
        }
        _ => "The soil hardly warms enough for crabgrass here".into(),
    }
}

/// "7 to 18 May", "28 Apr to 6 May", or one date.
fn between([a, b]: [f64; 2]) -> String {
    let (a, b) = (in_words(a), in_words(b));
    let month = |text: &str| text.split(' ').nth(1).map(str::to_string);
    if a == b {
        a
    } else if month(&a) == month(&b) {
        format!("{} to {b}", a.split(' ').next().unwrap_or(&a))
    } else {
        format!("{a} to {b}")
    }
}

fn simulated(told: &Told, comparison: &Comparison) -> Result<Picture, PlotError> {
    let (heat, rain) = (told.units.shown("degC"), told.units.shown("mm"));
    let held = comparison.gates.iter().filter(|gate| gate.holds()).count();
    let all = comparison.gates.len();
    let title = format!("Simulated years are like the record in {held} of {all} checks");
    let panel = |title: &str,
                 unit: String,
                 of: fn(&Statistics) -> &Vec<[f64; 12]>,
                 to: &dyn Fn(f64) -> f64| {
        let dots = of(&comparison.record)
            .iter()
            .flat_map(|year| year.iter().enumerate().map(|(m, v)| (m, to(*v))).collect::<Vec<_>>());
        MonthPanel {
            title: title.into(),
            unit,
            spread: Some(spread(&comparison.drawn, of, to)),
            dots: dots.collect(),
            ..MonthPanel::default()
        }
    };
    let heat_of = |v: f64| heat.value(v);
    let rain_of = |v: f64| rain.value(v);
    plots::months(&MonthsPicture {
        caption: Caption {
            title: title.clone(),
            subtitle: Some(format!("{}: each month of single years", told.name)),
            alt: format!(
                "For each month the spread of simulated years as a bar and the years of the record as \
                 dots, for mean temperature and for rain. {title}."
            ),
            note: Some(format!(
                "{} Simulated: {} times as many years, made of pieces of the record that are joined \
                 where the weather matches. The checks are listed in climate.csv.",
                note(told),
                comparison.drawn.len()
            )),
        },
        bars: String::new(),
        dots: "a year of the record".into(),
        spread: ["half of the simulated years".into(), "9 in 10".into()],
        panels: vec![
            panel("Mean temperature", heat.unit.into(), |s| &s.t_by_year_c, &heat_of),
            panel("Rain", rain_unit(told.units).into(), |s| &s.p_by_year_mm, &rain_of),
        ],
    })
}

/// Quantiles of each month over all drawn years.
fn spread(
    drawn: &[Statistics],
    of: fn(&Statistics) -> &Vec<[f64; 12]>,
    to: &dyn Fn(f64) -> f64,
) -> Spread {
    let mut spread = Spread::default();
    for month in 0..12 {
        let mut values: Vec<f64> =
            drawn.iter().flat_map(|s| of(s).iter().map(|year| to(year[month]))).collect();
        values.sort_by(f64::total_cmp);
        for (part, at) in [
            (&mut spread.p05, 0.05),
            (&mut spread.p25, 0.25),
            (&mut spread.p50, 0.5),
            (&mut spread.p75, 0.75),
            (&mut spread.p95, 0.95),
        ] {
            part.push(if values.is_empty() { f64::NAN } else { quantile_sorted(&values, at) });
        }
    }
    spread
}
