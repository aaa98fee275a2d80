//! Events: days on which people will look at the lawn, and what it must be like by then.

use super::fault::{Faults, did_you_mean};
use super::practice::whole;
use super::value::Reading;
use super::{day, key::quoted};
use crate::calendar::{Day, MonthDay};
use crate::quantity::{self, Kind};

/// A day on which the lawn is looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// What it is.
    pub title: String,
    /// When.
    pub when: EventDay,
    /// What the lawn must be like that evening; all of it.
    pub needs: Vec<Need>,
    /// Days before it on which nothing is sprayed.
    pub no_spray_days: u32,
    /// One mowing more falls due so many days before it, 1 or more.
    pub mow_days: Option<u32>,
}

/// When an event is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EventDay {
    /// Once.
    Once(Day),
    /// On this day of each year.
    EachYear(MonthDay),
}

/// What a lawn must be like: one measure on one side of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// Key of the measure, as in files.
    pub measure: &'static str,
    /// How the measure must stand to the line.
    pub side: Side,
    /// The line, in the measure's own unit (shares in %).
    pub line: f64,
}

/// A side of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At or above it.
    AtLeast,
    /// Above it.
    Above,
    /// At or below it.
    AtMost,
    /// Below it.
    Below,
}

/// Quality that counts as acceptable where an event asks for nothing else: the usual line of
/// turfgrass trials.
const USUAL: Need = Need { measure: "quality", side: Side::AtLeast, line: 6.0 };

/// Days without spraying where an event does not say.
const USUAL_NO_SPRAY_DAYS: u32 = 1;

/// Most events of a scenario, and most needs of one: a sheet has no room for more.
const MOST: usize = 12;

/// What the line of a need is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NeedUnit {
    /// A rating from 1 to 9.
    Rating,
    /// A share of the ground, %.
    Share,
    /// A height, mm.
    Height,
}

/// Tallest line of a need, mm: no turf stands so high.
const TALLEST_MM: f64 = 1000.0;

/// What a need may ask about: as written, and the measure's key.
const MEASURES: [(&str, &str); 10] = [
    ("quality", "quality"),
    ("colour", "colour"),
    ("grass height", "canopy_height"),
    ("crabgrass", "crabgrass_cover"),
    ("turf cover", "turf_cover"),
    ("green cover", "green_cover"),
    ("bare ground", "bare_ground"),
    ("broadleaf weeds", "broadleaf_cover"),
    ("clover", "clover_cover"),
    ("nutsedge", "nutsedge_cover"),
];

/// The sides as written, the longer first.
const SIDES: [(&str, Side); 9] = [
    (">=", Side::AtLeast),
    ("<=", Side::AtMost),
    (">", Side::Above),
    ("<", Side::Below),
    ("at least", Side::AtLeast),
    ("at most", Side::AtMost),
    ("under", Side::Below),
    ("below", Side::Below),
    ("above", Side::Above),
];

impl Event {
    /// Its days between two, in order.
    pub fn days(&self, first: Day, last: Day) -> Vec<Day> {
        let days = match self.when {
            EventDay::Once(day) => vec![day],
            EventDay::EachYear(date) => {
                (first.ymd().0..=last.ymd().0).map(|year| date.in_year(year)).collect()
            }
        };
        days.into_iter().filter(|day| (first..=last).contains(day)).collect()
    }
}

impl Side {
    /// Whether a value lies on this side of a line.
    pub fn met(self, value: f64, line: f64) -> bool {
        match self {
            Side::AtLeast => value >= line,
            Side::Above => value > line,
            Side::AtMost => value <= line,
            Side::Below => value < line,
        }
    }
}

impl Need {
    /// Whether a value of the measure meets it.
    pub fn met(&self, value: f64) -> bool {
        self.side.met(value, self.line)
    }

    /// The measure as people name it: "crabgrass".
    pub fn name(&self) -> &'static str {
        MEASURES.iter().find(|(_, key)| *key == self.measure).map_or(self.measure, |(name, _)| name)
    }

    /// What its line is counted in.
    pub fn unit(&self) -> NeedUnit {
        unit_of(self.measure)
    }
}

pub(super) fn unit_of(measure: &str) -> NeedUnit {
    match measure {
        "quality" | "colour" => NeedUnit::Rating,
        "canopy_height" => NeedUnit::Height,
        _ => NeedUnit::Share,
    }
}

/// The events of a scenario.
pub(super) fn events(
    root: &Reading<'_>,
    first_year: i32,
    seasons: u32,
    faults: &mut Faults,
) -> Vec<Event> {
    let tables = root.tables("event");
    if tables.len() > MOST {
        let message = format!("a scenario has at most {MOST} events here");
        faults.error("too-many", &root.span_of("event"), message, "fewer of them", None);
    }
    let years = first_year..first_year.saturating_add_unsigned(seasons.max(1));
    let mut events: Vec<Event> = Vec::new();
    for table in tables {
        let Some(event) = event(table, faults) else { continue };
        let span = table.span_of("date");
        if let EventDay::Once(day) = event.when
            && !years.contains(&day.ymd().0)
        {
            faults.error(
                "event-outside-run",
                &span,
                format!("\"{}\" on {day} is not in the simulated years", event.title),
                format!("a day of {} to {}", years.start, years.end - 1),
                Some("leave the year out for each of them".to_string()),
            );
        }
        if events.iter().any(|other| meet(other.when, event.when)) {
            let message = format!("\"{}\" falls on the day of another event", event.title);
            let expected = "one event a day, with the needs of both";
            faults.error("duplicate-event", &span, message, expected, None);
        }
        events.push(event);
    }
    events
}

/// Whether two events can fall on one day.
fn meet(one: EventDay, other: EventDay) -> bool {
    let date = |when| match when {
        EventDay::Once(day) => day.month_day(),
        EventDay::EachYear(date) => date,
    };
    match (one, other) {
        (EventDay::Once(one), EventDay::Once(other)) => one == other,
        _ => date(one) == date(other),
    }
}

fn event(table: &Reading<'_>, faults: &mut Faults) -> Option<Event> {
    let when = when(table, faults);
    let mut needs = Vec::new();
    for text in table.texts("needs") {
        match need(text) {
            Ok(need) => needs.push(need),
            Err((expected, help)) => {
                let message = format!("`needs`: \"{text}\" is not understood");
                faults.error("bad-need", &table.span_of("needs"), message, expected, help);
            }
        }
    }
    if needs.len() > MOST || table.has("needs") && table.texts("needs").is_empty() {
        let expected = format!("one need, or up to {MOST}");
        faults.error(
            "bad-need",
            &table.span_of("needs"),
            "`needs` has no or too many needs",
            expected,
            None,
        );
    }
    if needs.is_empty() {
        needs.push(USUAL);
    }
    Some(Event {
        title: table.text("title")?.to_string(),
        when: when?,
        needs,
        no_spray_days: whole(table, "no-spray-before").unwrap_or(USUAL_NO_SPRAY_DAYS),
        mow_days: whole(table, "mow-before"),
    })
}

/// "20 Jun", or "20 Jun 2026" (the year at either end).
fn when(table: &Reading<'_>, faults: &mut Faults) -> Option<EventDay> {
    let text = table.text("date")?;
    let read = day::with_year(text).and_then(|(date, year)| match year {
        None => Ok(EventDay::EachYear(date)),
        Some(year) => Day::from_ymd(year, date.month, date.day).map(EventDay::Once).ok_or(None),
    });
    read.map_err(|help| {
        let message = format!("`date`: \"{text}\" is not a day");
        let expected = "a day such as \"20 Jun 2026\", or \"20 Jun\" for each year";
        faults.error("bad-day", &table.span_of("date"), message, expected, help);
    })
    .ok()
}

/// What was expected, and a help.
pub type Misread = (String, Option<String>);

/// Reads a need.
fn need(text: &str) -> Result<Need, Misread> {
    let form = || "a measure, a sign and a value, such as \"quality >= 6\" or \"crabgrass < 5 %\"";
    let lower = text.to_lowercase();
    let (name, side, value) = at_sign(&lower).ok_or_else(|| (form().to_string(), None))?;
    let name = name.replace(['-', '_'], " ");
    let Some(measure) = measure_named(&name) else {
        let expected = format!("one of {}, then a sign and a value", quoted(measure_names()));
        return Err((expected, did_you_mean(&name, measure_names())));
    };
    Ok(Need { measure, side, line: line(measure, value)? })
}

/// A lower-case text at its first sign: what stands before it, the side, what stands behind.
pub(super) fn at_sign(lower: &str) -> Option<(&str, Side, &str)> {
    let found = SIDES.iter().filter_map(|(sign, side)| Some((lower.find(sign)?, *sign, *side)));
    // Of two at one place the first, which is the longer.
    let (at, sign, side) = found.min_by_key(|(at, ..)| *at)?;
    Some((lower[..at].trim(), side, lower[at + sign.len()..].trim()))
}

/// Key of the measure that people name so.
pub(super) fn measure_named(name: &str) -> Option<&'static str> {
    MEASURES.iter().find(|(known, _)| *known == name).map(|(_, key)| *key)
}

/// What measures are called.
pub(super) fn measure_names() -> impl Iterator<Item = &'static str> + Clone {
    MEASURES.iter().map(|(name, _)| *name)
}

/// The line of a measure: a rating, a share in %, or a height in mm.
pub(super) fn line(measure: &str, value: &str) -> Result<f64, Misread> {
    let within = |low: f64, high: f64| move |v: &f64| (low..=high).contains(v);
    let (line, expected) = match unit_of(measure) {
        NeedUnit::Rating => {
            (value.parse::<f64>().ok().filter(within(1.0, 9.0)), "a rating between 1 and 9")
        }
        NeedUnit::Share => (
            quantity::parse(value, Kind::Share).ok().map(|v| 100.0 * v).filter(within(0.0, 100.0)),
            "a share of the ground such as \"5 %\"",
        ),
        NeedUnit::Height => (
            quantity::parse(value, Kind::Depth).ok().filter(within(0.0, TALLEST_MM)),
            "a height such as \"6 in\" or \"150 mm\"",
        ),
    };
    line.ok_or_else(|| (expected.to_string(), None))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_as_people_write_them() {
        let read = |text| need(text).unwrap();
        assert_eq!(read("quality >= 6"), USUAL);
        assert_eq!(read("Quality at least 6"), USUAL);
        let little = Need { measure: "crabgrass_cover", side: Side::Below, line: 5.0 };
        assert_eq!(read("crabgrass < 5 %"), little);
        assert_eq!(read("crabgrass under 5%"), little);
        assert_eq!(read("turf-cover > 80 %").line, 80.0);
        let short = read("grass height <= 6 in");
        assert_eq!((short.measure, short.unit()), ("canopy_height", NeedUnit::Height));
        assert!((short.line - 152.4).abs() < 1e-9);
        assert!(little.met(4.99) && !little.met(5.0));
        assert!(USUAL.met(6.0) && !USUAL.met(5.99));
    }

    #[test]
    fn other_needs_are_refused_with_help() {
        assert!(need("qualty >= 6").unwrap_err().1.unwrap().contains("quality"));
        assert!(need("quality >= 12").unwrap_err().0.contains("between 1 and 9"));
        assert!(need("crabgrass < 5").unwrap_err().0.contains("5 %"));
        assert!(need("grass height < 6 %").unwrap_err().0.contains("6 in"));
        assert!(need("grass height < 9 ft").is_err());
        assert!(need("green").unwrap_err().0.contains("a sign"));
        assert!(need("").is_err() && need("é < ü").is_err());
    }
}
