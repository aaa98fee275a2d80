//! What `climate` prints.

use std::fmt::Write as _;

use sim::calendar::MONTHS;
use sim::climate::{Gate, Normal, YEARS_FEW};

use super::Told;
use super::dates::{Event, events, in_words, quantiles};
use crate::round::fixed;
use crate::terminal::harmless;
use crate::units::{Shown, Units};
use crate::words::lines::wrap;
use crate::words::name::counted;

/// From so many years on whole seasons can be drawn from the record as they were.
const YEARS_MANY: usize = 20;
/// Gaps that are listed one by one.
const GAPS_LISTED: usize = 6;

/// Everything, one block a part.
pub(super) fn all(told: &Told, folder: &str, files: &[String]) -> String {
    let mut text = record(told);
    text.push('\n');
    text.push_str(&normals(told));
    text.push('\n');
    text.push_str(&dates(told));
    text.push('\n');
    text.push_str(&evapotranspiration(told));
    text.push('\n');
    text.push_str(&comparison(told));
    let _ = write!(text, "\nIn {folder}: {}\n", files.join(", "));
    harmless(&text)
}

fn record(told: &Told) -> String {
    let (record, account) = (&told.read.record, &told.read.account);
    let n = record.days.len();
    let last = record.first.plus(n as i32 - 1);
    let latitude = record.site.latitude_deg;
    let hemisphere = if latitude < 0.0 { "S" } else { "N" };
    let metres = record.site.elevation_m;
    let elevation = match told.units {
        Units::Us => format!("{} ft", fixed(metres / 0.3048, 0)),
        Units::Metric => format!("{} m", fixed(metres, 0)),
    };
    let years = told.climate.years.len();
    let mut text =
        format!("{} ({}° {hemisphere}, {elevation})\n", told.name, fixed(latitude.abs(), 2));
    let complete = counted(years, "complete year");
    let _ = writeln!(text, "  {} to {last}: {}, {complete}", record.first, counted(n, "day"));
    let units = account.units.map_or(String::new(), |units| format!(", {}", units.in_words()));
    let station = account.station.as_ref().map_or(String::new(), |key| format!(", station {key}"));
    let _ = writeln!(text, "  Read as {}{units}{station}", account.layout.in_words());
    let share = |days: usize| {
        let share = fixed(100.0 * days as f64 / n.max(1) as f64, 1);
        format!("{} %", share.trim_end_matches(".0"))
    };
    let _ = writeln!(
        text,
        "  Measured: temperature on {} of the days, rain on {}",
        share(account.temperature_days),
        share(account.precip_days)
    );
    if account.filled.is_empty() {
        text.push_str("  Gaps: none\n");
    }
    for gap in account.filled.iter().take(GAPS_LISTED) {
        let _ = writeln!(text, "  Gap, {}: {}", gap.dates(), gap.what.in_words());
    }
    let rest = account.filled.get(GAPS_LISTED..).unwrap_or(&[]);
    if !rest.is_empty() {
        let days: i32 = rest.iter().map(sim::weather::Gap::days).sum();
        let gaps = counted(rest.len(), "more gap");
        let _ = writeln!(text, "  and {gaps}, {days} days in all, filled likewise (climate.csv)");
    }
    // Notes on gaps and layout are told above in other words.
    let above = |note: &str| {
        note.starts_with("read as")
            || note.ends_with("temperature was interpolated")
            || note.ends_with("no rain was assumed")
    };
    for note in told.read.notes.iter().filter(|note| !above(note)) {
        text.push_str(&wrap(&format!("Note: {note}"), 2, 4));
    }
    text.push_str(&wrap(&long_enough(years), 2, 4));
    if latitude < 0.0 {
        text.push_str(&wrap(
            "Caution: the dates below are counted for the northern hemisphere",
            2,
            4,
        ));
    }
    text
}

/// Whether the record is long enough.
fn long_enough(years: usize) -> String {
    let have = counted(years, "complete year");
    if years < YEARS_FEW {
        format!(
            "Too short to know how years differ: {have}, and {YEARS_FEW} are the least. Simulated \
             seasons are made of these years' days; a season unlike them is not in the odds."
        )
    } else if years < YEARS_MANY {
        format!("Long enough: {have} show roughly how years differ.")
    } else {
        format!("Long enough: {have} show well how years differ.")
    }
}

fn normals(told: &Told) -> String {
    let (heat, rain) = (told.units.shown("degC"), told.units.shown("mm"));
    let places = rain_places(told.units);
    let mut text = format!(
        "Normals: mean low and high, {}; rain and reference evapotranspiration (ET), {}\n",
        heat.unit, rain.unit
    );
    text.push_str("         low   high   rain  wet days    ET  years\n");
    let row = |name: &str, n: &Normal, years: &str| {
        let heat = |c: f64| cell(fixed(heat.value(c), 0));
        let rain = |mm: f64| cell(fixed(rain.value(mm), places));
        format!(
            "  {name:4} {:>6} {:>6} {:>6} {:>9} {:>5} {years:>6}\n",
            heat(n.t_min_c),
            heat(n.t_max_c),
            rain(n.precip_mm),
            cell(fixed(n.wet_days, 0)),
            rain(n.et0_mm),
        )
    };
    for (name, normal) in MONTHS.iter().zip(&told.climate.normals) {
        text.push_str(&row(name, normal, &normal.precip_by_year_mm.len().to_string()));
    }
    let all = &told.climate.normals;
    let mean = |of: fn(&Normal) -> f64| all.iter().map(of).sum::<f64>() / 12.0;
    let year = Normal {
        t_min_c: mean(|n| n.t_min_c),
        t_max_c: mean(|n| n.t_max_c),
        precip_mm: 12.0 * mean(|n| n.precip_mm),
        wet_days: 12.0 * mean(|n| n.wet_days),
        et0_mm: 12.0 * mean(|n| n.et0_mm),
        precip_by_year_mm: vec![],
    };
    text.push_str(&row("year", &year, ""));
    text
}

/// What is not a number is shown as a dash.
fn cell(text: String) -> String {
    if text.is_empty() { "-".into() } else { text }
}

/// Decimals of rain.
fn rain_places(units: Units) -> usize {
    match units {
        Units::Us => 1,
        Units::Metric => 0,
    }
}

/// A sum of warmth in the reader's degrees.
pub(super) fn warmth(units: Units, goal_c_days: f64) -> String {
    match units {
        Units::Us => format!("{} °F-days", fixed(goal_c_days * 1.8, 0)),
        Units::Metric => format!("{} °C-days", fixed(goal_c_days, 0)),
    }
}

/// Title of an event, with its sum.
pub(super) fn title(units: Units, event: &Event) -> String {
    let title = match event.key {
        "air-56" => "spring warmth in the air",
        "air-111" => "rule of thumb for crabgrass, by air",
        "air-278" => "early summer warmth in the air",
        _ => event.title.as_str(),
    };
    if event.goal_c_days > 0.0 {
        format!("{title} ({})", warmth(units, event.goal_c_days))
    } else {
        title.to_string()
    }
}

fn dates(told: &Told) -> String {
    if told.climate.dates.is_empty() {
        return "Dates: none, since the record has no complete year\n".into();
    }
    let (air, soil) = match told.units {
        Units::Us => ("50 °F", "53.6 °F"),
        Units::Metric => ("10 °C", "12 °C"),
    };
    let mut text = String::from("Dates: earliest, middle and latest of the record's years");
    let drawn = told.climate.comparison.as_ref().ok().map(|c| c.drawn_dates.as_slice());
    if drawn.is_some() {
        text.push_str("; 5 %, middle and\n95 % of simulated years");
    }
    text.push('\n');
    for event in events() {
        let days = event.days(&told.climate.dates);
        let all = told.climate.dates.len();
        let few = if days.len() < all && !days.is_empty() {
            format!(" (in {} of {all} years)", days.len())
        } else {
            String::new()
        };
        let seen = spread(&days, [0.0, 0.5, 1.0]);
        let simulated = drawn.map_or(String::new(), |d| spread(&event.days(d), [0.05, 0.5, 0.95]));
        let _ = writeln!(text, "  {:<52} {seen:<24} {simulated}{few}", title(told.units, &event));
    }
    text.push_str(&wrap(
        &format!(
            "Air: mean of low and high above {air} from 1 March. Soil: worked out at 2 in (5 cm) above \
             {soil} from 1 April; crabgrass by Fidanza, Dernoeden & Zhang 1996. A date from air alone \
             is good to about a week, at some places worse."
        ),
        2,
        2,
    ));
    text
}

fn spread(days: &[(i32, f64)], at: [f64; 3]) -> String {
    match quantiles(days, at) {
        Some(dates) => dates.map(|d| format!("{:>6}", in_words(d))).join("  "),
        None => "   never".into(),
    }
}

/// Which method the columns allow, and what has to be estimated.
fn evapotranspiration(told: &Told) -> String {
    let account = &told.read.account;
    let n = told.read.record.days.len();
    let mut text = String::from("Reference evapotranspiration: FAO-56 Penman-Monteith\n");
    let wind = told.wind_missing_m_s;
    // 1 mph = 0.44704 m/s (NIST SP 811, B.8).
    let taken = format!("taken as {} m/s ({} mph)", fixed(wind, 1), fixed(wind / 0.44704, 1));
    let parts = [
        ("Wind", account.wind_days, taken.as_str()),
        ("Sunshine", account.rs_days, "estimated from the day's range of temperature (eq. 50)"),
        ("Humidity", account.rh_days, "estimated from the low (eq. 48)"),
    ];
    for (what, days, otherwise) in parts {
        let line = if days == 0 {
            format!("{what}: not measured; {otherwise}")
        } else if days == n {
            format!("{what}: measured")
        } else {
            let share = fixed(100.0 * days as f64 / n.max(1) as f64, 1);
            format!("{what}: measured on {share} % of the days, on the others {otherwise}")
        };
        text.push_str(&wrap(&line, 2, 4));
    }
    if account.rs_days == 0 || account.rh_days == 0 {
        text.push_str(&wrap(
            "Estimated like this a single day is good to about 0.03 in (0.7 mm); a season came out 6 % \
             high at the middle one of 29 US stations in our trial, 11 % low to 19 % high at the worst.",
            2,
            4,
        ));
    }
    text
}

fn comparison(told: &Told) -> String {
    let comparison = match &told.climate.comparison {
        Ok(comparison) => comparison,
        Err(fault) => {
            return wrap(&format!("No simulated years from this record: {fault}."), 0, 2);
        }
    };
    let mut text = format!(
        "Simulated years beside the record's ({} times as many, matched blocks)\n",
        comparison.drawn.len()
    );
    text.push_str(
        "                                            record simulated   off by  allowed\n",
    );
    for gate in &comparison.gates {
        text.push_str(&gate_line(told.units, gate));
    }
    let missed = comparison.gates.iter().filter(|gate| !gate.holds()).count();
    if missed > 0 {
        text.push_str(&wrap(
            "Marked *: more apart than a faithful generator should be. From few years some are to be \
             expected: drawing from n years shrinks their spread by the root of (n-1)/n.",
            2,
            4,
        ));
    }
    text
}

fn gate_line(units: Units, gate: &Gate) -> String {
    let month = gate.month.map_or(String::new(), |m| format!(" ({})", MONTHS[m]));
    let name = format!("{}{month}", plain(gate.name));
    let shown = match gate.measured_in {
        "degC" => units.shown("degC"),
        "mm" => units.shown("mm"),
        _ => Shown { factor: 1.0, offset: 0.0, unit: gate.measured_in },
    };
    let of_day = gate.measured_in == "day of year";
    let value = |v: f64| {
        if of_day {
            return in_words(v - 1.0);
        }
        let places = match (gate.measured_in, units) {
            ("mm", Units::Us) | ("", _) => 2,
            ("mm", Units::Metric) => 0,
            _ => 1,
        };
        let unit = match shown.unit {
            "" | "days" => String::new(),
            unit => format!(" {unit}"),
        };
        format!("{}{unit}", fixed(shown.value(v), places))
    };
    // A standard deviation is a difference: no offset.
    let value = |v: f64| {
        if gate.measured_in == "C" {
            let d = units.shown("degC");
            format!("{} {}", fixed(d.difference(v), 1), d.unit)
        } else {
            value(v)
        }
    };
    let difference = |v: f64| match gate.unit {
        "share" => format!("{} %", fixed(100.0 * v, 0)),
        "x" => format!("{} %", fixed(100.0 * (v - 1.0), 1).trim_end_matches(".0")),
        "C" => {
            let d = units.shown("degC");
            format!("{} {}", fixed(d.difference(v), 1), d.unit)
        }
        "days" => format!("{} d", fixed(v, 1)),
        _ => fixed(v, 2),
    };
    let mark = if gate.holds() { " " } else { "*" };
    format!(
        " {mark}{name:<40} {:>9} {:>9} {:>8}  {} to {}\n",
        value(gate.record),
        value(gate.drawn),
        difference(gate.value),
        difference(gate.low),
        difference(gate.high)
    )
}

/// A gate's name for people.
pub(super) fn plain(name: &str) -> &str {
    match name {
        "temperature of the worst month" => "temperature, worst month",
        "precipitation of the worst month" => "rain, worst month",
        "wet days of the worst month" => "wet days, worst month",
        "precipitation of the year" => "rain of the year",
        "SD of daily highs" => "spread of daily highs (SD)",
        "SD of monthly rain, median" => "spread of a month's rain (SD)",
        "SD of the year's rain, median" => "spread of the year's rain (SD)",
        "lag-1 correlation of temperature" => "how a day takes after the last",
        "longest dry spell, Apr-Oct" => "longest dry spell Apr-Oct, days",
        "99 % wet day" => "the wettest of 100 wet days",
        "last spring frost" => "last frost, mean",
        "last spring frost, 0 C sharp" => "last frost counted at 32 °F (0 °C) sharp",
        other => other,
    }
}
