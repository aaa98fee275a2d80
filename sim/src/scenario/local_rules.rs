//! The rules of the place, as the user states them, or as a dated example has them and the user
//! corrects it. What they forbid is theirs to look up: nothing here says that a program is lawful.

use super::crew::{WEEKDAYS, weekday};
use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::read::{self, Demand};
use super::registry::RULES_EXAMPLE;
use super::value::Reading;
use super::{Lawn, What, day, soil_caution};
use crate::calendar::{Day, MonthDay, Weekdays};
use crate::quantity::{Kind, Units, show};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The rules of a place; the default has none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LocalRules {
    /// Whose rules they are, such as "Maryland"; empty where there are none.
    pub place: String,
    /// Where they were read; may be empty.
    pub source: String,
    /// The day on which they were read, as written; may be empty.
    pub checked: String,
    /// Most nitrogen at one application, g N/m2.
    pub nitrogen_once_g_m2: Option<f64>,
    /// Most quick nitrogen at one application, g N/m2.
    pub quick_nitrogen_once_g_m2: Option<f64>,
    /// Most nitrogen in a year, g N/m2.
    pub nitrogen_year_g_m2: Option<f64>,
    /// Least share of the nitrogen that is slow, 0..=1.
    pub slow_at_least: Option<f64>,
    /// Highest share of phosphate (P2O5) in a bag where no soil test asks for it, 0..=1.
    pub phosphate_at_most: Option<f64>,
    /// Whether a soil test asks for phosphorus.
    pub phosphorus_tested: bool,
    /// Stretches of the year, both ends included, without fertilizer.
    pub fertilizer_closed: Vec<(MonthDay, MonthDay)>,
    /// What may be laid at once even then, g N/m2.
    pub fertilizer_closed_over_g_m2: f64,
    /// Stretches of the year, both ends included, without pre-emergents and sprays on weeds.
    pub pesticide_closed: Vec<(MonthDay, MonthDay)>,
    /// No fertilizer with at least this much rain promised for today and the two days after, mm.
    pub rain_coming_mm: Option<f64>,
    /// Days on which watering is allowed.
    pub water_days: WaterDays,
    /// Ground beside water that gets no fertilizer, m2.
    pub strip_m2: f64,
    /// Whether it gets no pre-emergent and no spray on weeds either.
    pub strip_without_pesticide: bool,
}

/// Days on which watering is allowed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WaterDays {
    /// All.
    #[default]
    Any,
    /// These days of the week.
    Week(Weekdays),
    /// Odd days of the month.
    Odd,
    /// Even days of the month.
    Even,
}

impl WaterDays {
    /// Whether watering is allowed on a day.
    pub fn allow(self, today: Day) -> bool {
        match self {
            WaterDays::Any => true,
            WaterDays::Week(days) => days.has(today),
            WaterDays::Odd => today.ymd().2 % 2 == 1,
            WaterDays::Even => today.ymd().2.is_multiple_of(2),
        }
    }

    /// The longest that one has to wait from an allowed day to the next.
    pub fn widest_gap_days(self) -> u32 {
        match self {
            WaterDays::Any => 1,
            WaterDays::Odd => 2,
            // From the 30th to the 2nd past a 31st.
            WaterDays::Even => 3,
            WaterDays::Week(days) => days.widest_gap().unsigned_abs(),
        }
    }

    /// "Wednesdays and Saturdays", "odd dates".
    pub fn words(self) -> String {
        match self {
            WaterDays::Any => "any day".to_string(),
            WaterDays::Odd => "odd dates".to_string(),
            WaterDays::Even => "even dates".to_string(),
            WaterDays::Week(days) => {
                let named =
                    (0..7_u8).filter(|n| Weekdays::NONE.with(*n).without(days) == Weekdays::NONE);
                let names = named.map(|n| format!("{}s", WEEKDAYS[usize::from(n)]));
                names.collect::<Vec<_>>().join(" and ")
            }
        }
    }
}

impl LocalRules {
    /// Whether the scenario states any.
    pub fn stated(&self) -> bool {
        !self.place.is_empty()
    }

    /// Share of the lawn that a practice's product goes on, 0..=1: the strip beside water gets no
    /// fertilizer, and by some rules no pesticide.
    pub fn treated_share(&self, what: &What, lawn: &Lawn) -> f64 {
        let kept_off = match what {
            What::Spread { .. } => true,
            what if what.is_pesticide() => self.strip_without_pesticide,
            _ => false,
        };
        if !kept_off || lawn.area_m2 <= 0.0 {
            return 1.0;
        }
        (1.0 - self.strip_m2 / lawn.area_m2).clamp(0.0, 1.0)
    }
}

/// The dated examples that a scenario may take by name.
pub(super) struct Examples<'t> {
    all: Vec<(&'t str, Reading<'t>)>,
}

impl<'t> Examples<'t> {
    /// Reads the examples' own text: one table for each place.
    pub(super) fn read(tree: &'t DeTable<'t>, faults: &mut Faults) -> Examples<'t> {
        let mut own = Faults::default();
        let mut all = Vec::new();
        for (name, node) in tree.iter() {
            let DeValue::Table(inner) = node.get_ref() else { continue };
            let reading = read::table(&RULES_EXAMPLE, inner, node.span(), Demand::Whole, &mut own);
            all.push((Spanned::get_ref(name).as_ref(), reading));
        }
        for fault in own.in_order() {
            let message = format!("the examples of local rules: {}", fault.message);
            faults.error("local-rules-file", &(0..0), message, fault.expected, None);
        }
        Examples { all }
    }
}

/// The rules of the place, over those of the example that they are like.
pub(super) fn local_rules<'t>(
    root: &Reading<'t>,
    examples: &Examples<'t>,
    lawn: Option<&Lawn>,
    faults: &mut Faults,
) -> LocalRules {
    let Some(own) = root.table("local-rules") else { return LocalRules::default() };
    let mut rules = own.clone();
    if let Some(like) = own.text("like") {
        let names = || examples.all.iter().map(|(name, _)| *name);
        match examples.all.iter().find(|(name, _)| *name == like) {
            Some((_, example)) => {
                for (key, found) in &example.found {
                    rules.found.entry(key).or_insert_with(|| found.clone());
                }
            }
            None => faults.error(
                "unknown-place",
                &own.span_of("like"),
                format!("`like`: there is no example of local rules called \"{like}\""),
                format!("one of {}, or the rules typed out", quoted(names())),
                did_you_mean(like, names()),
            ),
        }
    } else if !own.has("place") {
        faults.error(
            "missing-key",
            &own.span,
            "`place` is missing in [local-rules]",
            "place = \"Maryland\", or like = \"maryland\"",
            Some("whose rules they are".to_string()),
        );
    }
    build(own, &rules, lawn, faults)
}

fn build(
    own: &Reading<'_>,
    rules: &Reading<'_>,
    lawn: Option<&Lawn>,
    faults: &mut Faults,
) -> LocalRules {
    for key in ["checked", "phosphorus-test"] {
        date(key, own, faults);
    }
    if ["source", "checked"].iter().any(|key| !rules.has(key)) {
        faults.caution(
            "rules-without-source",
            &own.span,
            "the local rules do not say where and when they were read",
            "source = \"the page or the law\" and checked = \"22 Nov 2026\"",
            "look the rules up again, and note it: they change",
        );
    }
    if rules.has("fertilizer-closed-over") && !rules.has("fertilizer-closed") {
        faults.error(
            "stray-key",
            &own.span_of("fertilizer-closed-over"),
            "`fertilizer-closed-over` has no effect without `fertilizer-closed`",
            "fertilizer-closed = [\"15 Dec to 1 Mar\"]",
            None,
        );
    }
    LocalRules {
        place: rules.text("place").unwrap_or_default().to_string(),
        source: source(own, rules),
        checked: rules.text("checked").unwrap_or_default().to_string(),
        nitrogen_once_g_m2: rules.maybe("nitrogen-once"),
        quick_nitrogen_once_g_m2: rules.maybe("quick-nitrogen-once"),
        nitrogen_year_g_m2: rules.maybe("nitrogen-year"),
        slow_at_least: rules.maybe("slow-at-least"),
        phosphate_at_most: rules.maybe("phosphate-at-most"),
        phosphorus_tested: rules.has("phosphorus-test") || test_asks_for_phosphorus(lawn),
        fertilizer_closed: stretches("fertilizer-closed", rules, faults),
        fertilizer_closed_over_g_m2: rules.number("fertilizer-closed-over"),
        pesticide_closed: stretches("pesticide-closed", rules, faults),
        rain_coming_mm: rules.maybe("rain-coming"),
        water_days: water_days(rules, faults),
        strip_m2: strip_m2(own, rules, lawn, faults),
        strip_without_pesticide: rules.text("setback-for") != Some("fertilizer"),
    }
}

/// Where the rules were read. What is typed over an example has another source than the example.
fn source(own: &Reading<'_>, rules: &Reading<'_>) -> String {
    const NO_RULE: [&str; 5] = ["like", "place", "checked", "shore", "phosphorus-test"];
    let source = rules.text("source").unwrap_or_default();
    let typed = own.found.keys().any(|key| !NO_RULE.contains(key));
    if own.has("like") && typed && !own.has("source") {
        return format!("{source}, and figures of the scenario's own");
    }
    source.to_string()
}

/// Whether the scenario's own soil test is so low that a laboratory would recommend phosphorus.
fn test_asks_for_phosphorus(lawn: Option<&Lawn>) -> bool {
    let found = lawn.and_then(|lawn| lawn.soil.test?.phosphorus_ppm);
    found.is_some_and(|ppm| ppm < soil_caution::PHOSPHORUS_ENOUGH_PPM)
}

/// A day with its year; what has no year, or is none, is noted.
pub(super) fn date(key: &str, own: &Reading<'_>, faults: &mut Faults) -> Option<Day> {
    let text = own.text(key)?;
    let read = day::with_year(text).and_then(|(date, year)| {
        let year = year.ok_or(None)?;
        Day::from_ymd(year, date.month, date.day).ok_or(None)
    });
    read.map_err(|help| {
        let message = format!("`{key}`: \"{text}\" is not a day");
        let expected = "a day with its year, such as \"22 Nov 2026\"";
        faults.error("bad-day", &own.span_of(key), message, expected, help);
    })
    .ok()
}

fn stretches(key: &str, rules: &Reading<'_>, faults: &mut Faults) -> Vec<(MonthDay, MonthDay)> {
    let mut all = Vec::new();
    for text in rules.texts(key) {
        match day::stretch(text) {
            Ok(stretch) => all.push(stretch),
            Err(help) => {
                let message = format!("`{key}`: \"{text}\" is not a stretch of the year");
                let expected = "two days, such as \"1 Dec to 1 Apr\"";
                faults.error("bad-stretch", &rules.span_of(key), message, expected, help);
            }
        }
    }
    all
}

fn water_days(rules: &Reading<'_>, faults: &mut Faults) -> WaterDays {
    const KEY: &str = "water-days";
    let texts = rules.texts(KEY);
    let parity = |text: &str| match text.to_lowercase().as_str() {
        "odd" | "odd dates" => Some(WaterDays::Odd),
        "even" | "even dates" => Some(WaterDays::Even),
        _ => None,
    };
    if let [text] = texts
        && let Some(days) = parity(text)
    {
        return days;
    }
    let mut days = Weekdays::NONE;
    for text in texts {
        match weekday(text) {
            Some(day) => days = days.with(day),
            None => {
                let known = WEEKDAYS.into_iter().chain(["odd dates", "even dates"]);
                let message = match parity(text) {
                    Some(_) => format!("`{KEY}`: \"{text}\" stands alone"),
                    None => format!("`{KEY}`: \"{text}\" is not a day of the week"),
                };
                let expected = "days of the week such as [\"Wed\", \"Sat\"], or \"odd dates\", or \
                                \"even dates\"";
                let help = did_you_mean(text, known);
                faults.error("bad-weekday", &rules.span_of(KEY), message, expected, help);
                return WaterDays::Any;
            }
        }
    }
    match (rules.has(KEY), days == Weekdays::NONE) {
        (false, _) => WaterDays::Any,
        (true, false) => WaterDays::Week(days),
        (true, true) => {
            let expected = "at least one day; leave the key out where there is no rule";
            let message = format!("`{KEY}` leaves no day");
            faults.error("no-water-day", &rules.span_of(KEY), message, expected, None);
            WaterDays::Any
        }
    }
}

/// The strip beside water: as long as the shore and as wide as the setback.
fn strip_m2(
    own: &Reading<'_>,
    rules: &Reading<'_>,
    lawn: Option<&Lawn>,
    faults: &mut Faults,
) -> f64 {
    let Some(shore_m) = rules.maybe("shore") else { return 0.0 };
    let Some(setback_m) = rules.maybe("setback") else {
        faults.error(
            "missing-key",
            &own.span_of("shore"),
            "`shore` needs `setback`",
            "setback = \"15 ft\"",
            Some("how wide a strip beside the water gets nothing".to_string()),
        );
        return 0.0;
    };
    let strip_m2 = shore_m * setback_m;
    if let Some(lawn) = lawn.filter(|lawn| strip_m2 >= lawn.area_m2) {
        let area = |m2| show(m2, Kind::Area, Units::Us);
        faults.error(
            "strip-beyond-lawn",
            &own.span_of("shore"),
            format!("the strip beside the water would be {}", area(strip_m2)),
            format!("less than the lawn, which is {}", area(lawn.area_m2)),
            None,
        );
        return 0.0;
    }
    strip_m2
}
