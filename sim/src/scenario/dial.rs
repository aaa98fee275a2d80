//! What can be turned at a practice: those of its settings that are amounts or times. Which they are,
//! and how far each may go, is the registry's word.

use super::Hold;
use super::cue;
use super::day;
use super::fault::Faults;
use super::key::{Key, Shape};
use super::program::resolved;
use super::read::{self, Demand};
use super::registry::ROOT;
use super::value::{Reading, Value};
use crate::calendar::{COMMON_YEAR, MonthDay};
use crate::quantity::{self, Kind, QuantityFault};
use toml::de::DeTable;

/// What the values of a dial are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Whole days.
    Days,
    /// Days of the year, counted from 0 on 1 January of a common year.
    Date,
    /// Amounts in the kind's own unit.
    Amount(Kind),
}

/// One setting of a practice that can be turned.
#[derive(Clone, Debug, PartialEq)]
pub struct Dial {
    /// Its key in a scenario: "split".
    pub key: &'static str,
    /// What its values are.
    pub measure: Measure,
    /// Least and greatest value that may be written; without an end where the product decides.
    pub range: (f64, f64),
    /// Its values in the program: none where it is left out, several where it holds several dates.
    pub now: Vec<f64>,
    /// Key of the practice that this one waits for, where the dial is how long.
    pub after: Option<String>,
    /// Whether it is a height that a hold ("shorter than ..") repeats.
    pub held_at: bool,
}

/// A practice with its dials.
#[derive(Clone, Debug, PartialEq)]
pub struct Dials {
    /// What the practice does, as written: "mow".
    pub what: String,
    /// The way in which it says when: "on", "every", "soil-temperature" ...
    pub way: Option<&'static str>,
    /// Its dials, in the order of the reference page.
    pub dials: Vec<Dial>,
}

/// Kinds of amounts that change what is bought, not what is done.
const BOUGHT: [Kind; 7] = [
    Kind::Money,
    Kind::MoneyPerHour,
    Kind::MoneyPerVolume,
    Kind::MoneyPerArea,
    Kind::MoneyPerNitrogen,
    Kind::MoneyPerWeight,
    Kind::Density,
];

/// Amounts that change nothing but what the check says.
const TOLD_ONLY: [&str; 1] = ["volume"];

/// Last day of a common year, from 0.
const LAST_DAY: f64 = 364.0;

/// The dials of a practice in a scenario that passed its check; `None` where there is no such program
/// or practice.
pub fn dials(text: &str, program: &str, practice: &str) -> Option<Dials> {
    let mut faults = Faults::default();
    let (tree, _) = DeTable::parse_recoverable(text);
    let root = read::table(&ROOT, tree.get_ref(), 0..0, Demand::Whole, &mut faults);
    let programs = resolved(&root, &mut faults);
    let program = programs.iter().find(|p| p.id == program)?;
    let reading = program.practices.iter().find(|p| p.text("key") == Some(practice))?;
    let dials = reading.def.keys().filter_map(|key| dial(key, reading)).collect();
    Some(Dials { what: reading.text("do")?.to_string(), way: cue::way(reading), dials })
}

fn dial(key: &Key, reading: &Reading<'_>) -> Option<Dial> {
    let stated = reading.value(key.name);
    let mut dial = Dial {
        key: key.name,
        measure: Measure::Days,
        range: (f64::NEG_INFINITY, f64::INFINITY),
        now: vec![],
        after: None,
        held_at: false,
    };
    match (key.shape, stated) {
        (Shape::Quantity(kind, low, high), _)
            if !BOUGHT.contains(&kind) && !TOLD_ONLY.contains(&key.name) =>
        {
            let now = reading.maybe(key.name)?;
            (dial.measure, dial.range, dial.now) = (Measure::Amount(kind), (low, high), vec![now]);
            let repeats =
                |hold: &Hold| matches!(hold, Hold::ShorterThan { mm } if (mm - now).abs() < 0.01);
            dial.held_at = key.name == "height"
                && matches!(reading.value("hold"), Some(Value::Holds(all)) if all.iter().any(repeats));
        }
        // A share among them is the strength of a product.
        (Shape::AnyOf(_), Some(Value::Quantity(kind, now)))
            if !BOUGHT.contains(kind) && *kind != Kind::Share =>
        {
            (dial.measure, dial.range.0, dial.now) = (Measure::Amount(*kind), 0.0, vec![*now]);
        }
        (Shape::Days(low, high), Some(Value::Whole(days))) => {
            (dial.range, dial.now) = ((low as f64, high as f64), vec![*days as f64]);
        }
        (Shape::Days(low, high), None) if key.name == "split" => {
            // Nothing can be split that comes again every so many days.
            (cue::way(reading) != Some("every")).then_some(())?;
            dial.range = (low as f64, high as f64);
        }
        (Shape::Day | Shape::Dates, Some(Value::Days(days))) => {
            (dial.measure, dial.range) = (Measure::Date, (0.0, LAST_DAY));
            dial.now = days.iter().copied().map(day_of_year).collect();
            dial.now.sort_by(f64::total_cmp);
        }
        (Shape::Table(def), Some(Value::Table(inner))) if key.name == "days-after" => {
            let Shape::Days(low, high) = def.key("days")?.shape else { return None };
            dial.range = (low as f64, high as f64);
            dial.now = vec![inner.whole("days") as f64];
            dial.after = Some(inner.text("practice")?.to_string());
        }
        _ => return None,
    }
    Some(dial)
}

/// Day of a common year, from 0.
pub fn day_of_year(day: MonthDay) -> f64 {
    f64::from(day.in_year(COMMON_YEAR).0 - NEW_YEAR.in_year(COMMON_YEAR).0)
}

/// The day of the year nearest to a count from 0 on 1 January.
pub fn month_day(day_of_year: f64) -> MonthDay {
    let days = day_of_year.round().clamp(0.0, LAST_DAY) as i32;
    NEW_YEAR.in_year(COMMON_YEAR).plus(days).month_day()
}

/// "15 Apr".
pub fn show_day(day_of_year: f64) -> String {
    day::show(month_day(day_of_year))
}

const NEW_YEAR: MonthDay = MonthDay { month: 1, day: 1 };

impl Dial {
    /// Reads a value as a person types it: "8 weeks", "15 Apr", "2.5 in".
    ///
    /// # Errors
    /// What is wrong, what was expected, a near miss.
    pub fn read(&self, text: &str) -> Result<f64, QuantityFault> {
        match self.measure {
            Measure::Amount(kind) => quantity::parse(text, kind),
            Measure::Days => match text.trim().parse::<u32>() {
                Ok(days) => Ok(f64::from(days)),
                Err(_) => quantity::parse(text, Kind::Duration).map(f64::round),
            },
            Measure::Date => day::parse(text).map(day_of_year).map_err(|hint| QuantityFault {
                message: format!("\"{}\" is not a day of the year", text.trim()),
                expected: Shape::Day.expected(),
                suggestion: hint,
            }),
        }
    }

    /// The keys of a `[[program.change]]` that set it; of several dates the one at `nth`.
    pub fn change(&self, value: f64, nth: usize) -> String {
        let key = self.key;
        match (self.measure, &self.after) {
            (_, Some(practice)) => {
                format!("{key} = {{ practice = \"{practice}\", days = {value:.0} }}")
            }
            (Measure::Days, None) => format!("{key} = {value:.0}"),
            (Measure::Amount(Kind::Share), None) => format!("{key} = \"{} %\"", value * 100.0),
            (Measure::Amount(kind), None) => format!("{key} = \"{value} {}\"", kind.si_unit()),
            (Measure::Date, None) if self.now.len() > 1 => {
                let day = |(at, now): (usize, &f64)| {
                    format!("\"{}\"", show_day(if at == nth { value } else { *now }))
                };
                let days: Vec<String> = self.now.iter().enumerate().map(day).collect();
                format!("{key} = [{}]", days.join(", "))
            }
            (Measure::Date, None) => format!("{key} = \"{}\"", show_day(value)),
        }
    }
}
