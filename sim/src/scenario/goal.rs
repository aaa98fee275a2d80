//! What a program must bring, and what it may take, in plain words: "quality >= 6 on 60 % of summer
//! days", "crabgrass peak < 5 %", "turf cover > 70 % at the end of the last season", "450 $ a season".

use super::event::{self, at_sign, measure_named, measure_names};
use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::value::Reading;
use super::{Need, NeedUnit, Side, day};
use crate::calendar::MonthDay;
use crate::quantity::{Kind, parse, parse_any};

pub use super::event::Misread;

/// What a scenario asks of a cheap program.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Goals {
    /// What must hold.
    pub needs: Vec<Goal>,
    /// What there is to spend.
    pub budgets: Vec<Budget>,
    /// Share of the futures in which all of it must hold, 0..=1, where it is stated.
    pub odds: Option<f64>,
    /// What is to be spent as little of as can be, where it is stated.
    pub cheap_in: Option<Spare>,
}

/// What a cheap program spends little of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Spare {
    /// Money.
    #[default]
    Money,
    /// Person-hours.
    Hours,
    /// Water from the tap.
    Water,
    /// Nitrogen laid.
    Nitrogen,
}

/// Names of what may be spared, in the order of [`Spare::ALL`].
pub(super) const SPARES: [&str; 4] = ["money", "hours", "water", "nitrogen"];

impl Spare {
    /// All that may be spared.
    pub const ALL: [Spare; 4] = [Spare::Money, Spare::Hours, Spare::Water, Spare::Nitrogen];

    /// Its name, as people write it.
    pub fn name(self) -> &'static str {
        SPARES[self as usize]
    }

    /// By its name.
    pub fn named(name: &str) -> Option<Spare> {
        Spare::ALL.into_iter().find(|spare| spare.name() == name)
    }

    /// Key of the outcome that counts it.
    pub fn outcome(self) -> &'static str {
        match self {
            Spare::Money => "cost",
            Spare::Hours => "crew_hours",
            Spare::Water => "water_used",
            Spare::Nitrogen => "n_applied",
        }
    }
}

/// One thing that must hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Goal {
    /// A measure through a part of each season.
    Measure {
        /// The measure and its line.
        need: Need,
        /// How the days of the stretch are taken together.
        fold: Fold,
        /// First and last day of the stretch, both included; it may cross no new year.
        stretch: (MonthDay, MonthDay),
        /// In which seasons.
        seasons: Seasons,
    },
    /// An outcome of the whole run.
    Outcome {
        /// Its key, as in files.
        key: &'static str,
        /// How it must stand to the line.
        side: Side,
        /// The line, in the outcome's own unit.
        line: f64,
    },
}

/// How days are taken together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fold {
    /// On at least this share of them, 0..=1.
    Days(f64),
    /// On their mean.
    Mean,
    /// On the last of them.
    Last,
}

/// In which seasons of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seasons {
    /// In each.
    Every,
    /// In the first.
    First,
    /// In the last.
    Last,
}

/// What there is to spend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// Of what.
    pub of: Resource,
    /// How much: money in the scenario's currency, hours, mm or m3 of water, g N/m2.
    pub most: f64,
    /// In what time.
    pub per: Period,
}

/// What a budget is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resource {
    /// Money.
    Money,
    /// Person-hours.
    Hours,
    /// Water from the tap, mm over the lawn.
    WaterDepth,
    /// Water from the tap, m3.
    WaterVolume,
    /// Nitrogen laid, g/m2.
    Nitrogen,
}

/// The time of a budget.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Period {
    /// A calendar year.
    Season,
    /// All seasons of the run together.
    Run,
}

/// Month and day of a stretch's first and last day.
type Ends = ((u8, u8), (u8, u8));

/// Stretches of the year by name.
const STRETCHES: [(&str, Ends); 6] = [
    ("spring", ((3, 1), (5, 31))),
    ("summer", ((6, 1), (8, 31))),
    ("fall", ((9, 1), (11, 30))),
    ("autumn", ((9, 1), (11, 30))),
    ("growing", ((4, 1), (10, 31))),
    ("year", ((1, 1), (12, 31))),
];

/// Words behind or before a measure that say how its days are taken together.
const FOLDS: [(&str, Fold); 9] = [
    ("at its worst", Fold::Days(1.0)),
    ("at its thinnest", Fold::Days(1.0)),
    ("peak", Fold::Days(1.0)),
    ("worst", Fold::Days(1.0)),
    ("lowest", Fold::Days(1.0)),
    ("low", Fold::Days(1.0)),
    ("always", Fold::Days(1.0)),
    ("mean", Fold::Mean),
    ("average", Fold::Mean),
];

/// What a figure of an outcome is written in.
enum Written {
    Rating,
    Plain,
    Hours,
    As(Kind, f64),
}

/// Outcomes that a need may name: as people say it, key, and how its figure is written, with the factor
/// to the outcome's own unit.
const OUTCOMES: [(&str, &str, Written); 8] = [
    ("summer quality", "quality_summer", Written::Rating),
    ("acceptable days", "days_acceptable", Written::Plain),
    ("organic matter change", "organic_matter_change", Written::As(Kind::Share, 100.0)),
    ("nitrogen leached", "n_leached", Written::As(Kind::NitrogenRate, 1.0)),
    ("runoff", "runoff", Written::As(Kind::Depth, 1.0)),
    ("visits", "visits", Written::Plain),
    ("mowings", "mowings", Written::Plain),
    ("crew hours", "crew_hours", Written::Hours),
];

/// Ways to end a budget.
const PERIODS: [(&str, Period); 12] = [
    ("a season", Period::Season),
    ("per season", Period::Season),
    ("each season", Period::Season),
    ("a year", Period::Season),
    ("per year", Period::Season),
    ("each year", Period::Season),
    ("in all", Period::Run),
    ("altogether", Period::Run),
    ("in total", Period::Run),
    ("over all seasons", Period::Run),
    ("over the run", Period::Run),
    ("for the run", Period::Run),
];

const EXAMPLES: &str = "such as \"quality >= 6 on 60 % of summer days\", \"crabgrass peak < 5 %\", \
                        \"quality mean >= 5.5 in summer\" or \"turf cover > 70 % at the end of the \
                        last season\"";

/// Most needs, and most budgets: more cannot be told one by one.
const MOST: usize = 12;

/// What a scenario asks for.
pub(super) fn goals(root: &Reading<'_>, faults: &mut Faults) -> Goals {
    let Some(table) = root.table("thrift") else { return Goals::default() };
    let mut goals = Goals {
        needs: read_all(table, "needs", goal, faults),
        budgets: read_all(table, "budget", budget, faults),
        odds: None,
        cheap_in: table.text("cheap-in").and_then(Spare::named),
    };
    if let Some(text) = table.text("odds") {
        match odds(text) {
            Ok(share) => goals.odds = Some(share),
            Err((expected, help)) => {
                let message = format!("`odds`: \"{text}\" is not understood");
                faults.error("bad-odds", &table.span_of("odds"), message, expected, help);
            }
        }
    }
    goals
}

fn read_all<T>(
    table: &Reading<'_>,
    key: &str,
    read: impl Fn(&str) -> Result<T, Misread>,
    faults: &mut Faults,
) -> Vec<T> {
    let mut all = Vec::new();
    for text in table.texts(key) {
        match read(text) {
            Ok(one) => all.push(one),
            Err((expected, help)) => {
                let message = format!("`{key}`: \"{text}\" is not understood");
                faults.error("bad-need", &table.span_of(key), message, expected, help);
            }
        }
    }
    if all.len() > MOST {
        let message = format!("`{key}` has more than {MOST} entries");
        faults.error("too-many", &table.span_of(key), message, "fewer of them", None);
    }
    all
}

/// Reads what must hold.
///
/// # Errors
/// What was expected, and a help.
pub fn goal(text: &str) -> Result<Goal, Misread> {
    let lower = text.to_lowercase();
    let form = || format!("a measure, a sign, a value, and when, {EXAMPLES}");
    let (name, side, rest) = at_sign(&lower).ok_or_else(|| (form(), None))?;
    let name = name.replace(['-', '_'], " ");
    if let Some(found) = outcome(&name, side, rest) {
        return found;
    }
    let (name, mut fold) = folded(&name);
    let Some(measure) = measure_named(name) else {
        let outcomes = OUTCOMES.iter().map(|(name, ..)| *name);
        let expected = format!("one of {}, then a sign and a value", quoted(all_names()));
        return Err((expected, did_you_mean(name, measure_names().chain(outcomes))));
    };
    let (value, when) = cut_value(rest, event::unit_of(measure));
    let need = Need { measure, side, line: event::line(measure, value)? };
    let (mut stretch, mut seasons) = (None, Seasons::Every);
    let mut words = when.split_whitespace().filter(|word| *word != "the").peekable();
    while let Some(word) = words.next() {
        let read = match word {
            "on" => on(&mut words).map(|(how, days)| {
                fold = Some(how);
                stretch = Some(days);
            }),
            "in" | "during" | "of" => match words.next() {
                Some(which @ ("last" | "first" | "every" | "each")) => {
                    let season = words.next().is_some_and(|w| matches!(w, "season" | "year"));
                    seasons = match which {
                        "last" => Seasons::Last,
                        "first" => Seasons::First,
                        _ => Seasons::Every,
                    };
                    season.then_some(())
                }
                Some(name) => {
                    if words.peek() == Some(&"season") {
                        words.next();
                    }
                    stretch = named(name);
                    stretch.map(|_| ())
                }
                None => None,
            },
            "from" => {
                let ends: Vec<&str> = words.by_ref().take(5).collect();
                stretch = day::stretch(&ends.join(" ")).ok();
                stretch.map(|_| ())
            }
            "at" if words.next() == Some("end") => {
                fold = Some(Fold::Last);
                Some(())
            }
            _ => None,
        };
        if read.is_none() {
            return Err((form(), Some(format!("\"{word}\" leads nowhere in \"{when}\""))));
        }
    }
    let Some(fold) = fold else {
        let help =
            format!("say on how many days, or that its peak, low or mean is meant: {EXAMPLES}");
        return Err((form(), Some(help)));
    };
    let stretch = stretch.unwrap_or((JANUARY, DECEMBER));
    if stretch.1 < stretch.0 {
        let help = "a stretch that crosses the new year lies in two seasons: state two needs";
        return Err((form(), Some(help.to_string())));
    }
    Ok(Goal::Measure { need, fold, stretch, seasons })
}

const JANUARY: MonthDay = MonthDay { month: 1, day: 1 };
const DECEMBER: MonthDay = MonthDay { month: 12, day: 31 };

fn all_names() -> impl Iterator<Item = &'static str> + Clone {
    measure_names().chain(OUTCOMES.iter().map(|(name, ..)| *name))
}

/// A need on an outcome, where the name is that of one.
fn outcome(name: &str, side: Side, value: &str) -> Option<Result<Goal, Misread>> {
    let (_, key, written) =
        OUTCOMES.iter().find(|(known, key, _)| *known == name || key.replace('_', " ") == name)?;
    let number = |expected: &str| value.parse::<f64>().map_err(|_| (expected.to_string(), None));
    let line = match written {
        Written::Rating => event::line("quality", value),
        Written::Plain => number("a plain number over the whole run"),
        Written::Hours => read(value, Kind::Minutes).map(|minutes| minutes / 60.0),
        Written::As(kind, factor) => read(value, *kind).map(|v| v * factor),
    };
    Some(line.map(|line| Goal::Outcome { key, side, line }))
}

fn read(value: &str, kind: Kind) -> Result<f64, Misread> {
    // Nitrogen must be written with a capital N.
    let value = if kind == Kind::NitrogenRate { value.replace(" n/", " N/") } else { value.into() };
    parse(&value, kind).map_err(|fault| (fault.expected, fault.suggestion))
}

/// A name without the words that say how days are taken together.
fn folded(name: &str) -> (&str, Option<Fold>) {
    for (words, fold) in FOLDS {
        let cut = name.strip_suffix(words).or_else(|| name.strip_prefix(words));
        if let Some(rest) = cut.filter(|rest| !rest.trim().is_empty()) {
            return (rest.trim(), Some(fold));
        }
    }
    (name, None)
}

/// A value, and the words behind it that say when.
fn cut_value(rest: &str, unit: NeedUnit) -> (&str, &str) {
    const LEADS: [&str; 5] = [" on ", " in ", " from ", " at ", " during "];
    // The first "in" behind a height is its inches.
    let inches = || rest.find(" in ").map(|at| at + " in".len());
    let number =
        |until: &usize| rest[..*until].trim_end_matches("in").trim().parse::<f64>().is_ok();
    let from = (unit == NeedUnit::Height).then(inches).flatten().filter(number).unwrap_or(0);
    let leads = LEADS.iter().filter_map(|lead| rest[from..].find(lead));
    let at = leads.min().map_or(rest.len(), |at| from + at);
    (rest[..at].trim(), rest[at..].trim())
}

/// Behind "on": "60 % of summer days", "every summer day", "15 Jul".
fn on<'w>(
    words: &mut std::iter::Peekable<impl Iterator<Item = &'w str>>,
) -> Option<(Fold, (MonthDay, MonthDay))> {
    let mut first = words.next()?;
    if first == "at" && words.peek() == Some(&"least") {
        words.next();
        first = words.next()?;
    }
    if let "all" | "every" | "each" = first {
        return Some((Fold::Days(1.0), days(words)?));
    }
    let percent = first.strip_suffix('%').or_else(|| {
        (words.peek() == Some(&"%")).then(|| {
            words.next();
            first
        })
    });
    if let Some(percent) = percent {
        let share = percent.parse::<f64>().ok().filter(|v| (0.0..=100.0).contains(v))?;
        (words.next() == Some("of")).then_some(())?;
        return Some((Fold::Days(share / 100.0), days(words)?));
    }
    let date = day::parse(&format!("{first} {}", words.next()?)).ok()?;
    Some((Fold::Last, (date, date)))
}

/// "summer days", "growing season days", "days".
fn days<'w>(words: &mut impl Iterator<Item = &'w str>) -> Option<(MonthDay, MonthDay)> {
    let mut stretch = (JANUARY, DECEMBER);
    for word in words {
        match word {
            "day" | "days" => return Some(stretch),
            "season" | "all" => {}
            name => stretch = named(name)?,
        }
    }
    None
}

fn named(name: &str) -> Option<(MonthDay, MonthDay)> {
    let of = |(month, day)| MonthDay { month, day };
    let (_, (from, to)) = STRETCHES.iter().find(|(known, _)| *known == name)?;
    Some((of(*from), of(*to)))
}

impl Goal {
    /// Name of its stretch, where that has one: "summer", "growing", "year".
    pub fn stretch_name(&self) -> Option<&'static str> {
        match self {
            Goal::Measure { stretch, .. } => STRETCHES
                .iter()
                .find(|(name, ..)| named(name) == Some(*stretch))
                .map(|(name, ..)| *name),
            Goal::Outcome { .. } => None,
        }
    }
}

/// Reads what there is to spend: "450 $ a season", "$900 in all", "40 h", "6 in of water", "2000 gal",
/// "2 lb N/1000 ft2". A season is meant where nothing is said.
///
/// # Errors
/// What was expected, and a help.
pub fn budget(text: &str) -> Result<Budget, Misread> {
    let text = text.trim();
    let lower = text.to_lowercase();
    let ends = PERIODS.iter().filter(|(words, _)| lower.ends_with(words));
    let (amount, per) = match ends.max_by_key(|(words, _)| words.len()) {
        Some((words, per)) => (text[..text.len() - words.len()].trim(), *per),
        None => (text, Period::Season),
    };
    let amount = amount.strip_suffix("of water").unwrap_or(amount).trim();
    const KINDS: [(Kind, Resource, f64); 4] = [
        (Kind::Money, Resource::Money, 1.0),
        (Kind::Minutes, Resource::Hours, 1.0 / 60.0),
        (Kind::Depth, Resource::WaterDepth, 1.0),
        (Kind::NitrogenRate, Resource::Nitrogen, 1.0),
    ];
    let budget = |of, most: f64| Budget { of, most, per };
    let found = match parse_any(amount, &KINDS.map(|(kind, ..)| kind)) {
        Ok((kind, value)) => KINDS
            .into_iter()
            .find(|(known, ..)| *known == kind)
            .map(|(_, of, factor)| budget(of, value * factor)),
        // A volume alone is no kind of quantity; on a square metre it is one, mL/m2.
        Err(_) => parse(&format!("{amount}/m2"), Kind::VolumePerArea)
            .ok()
            .map(|ml| budget(Resource::WaterVolume, ml * 1e-6)),
    };
    let expected = "money, hours, water or nitrogen, a season or in all, such as \"450 $ a season\", \
                    \"40 h in all\", \"4 in of water\", \"2000 gal a season\" or \"2 lb N/1000 ft2\"";
    found.filter(|b| b.most.is_finite() && b.most >= 0.0).ok_or((expected.to_string(), None))
}

/// Reads odds: "17 of 20", "85 %".
///
/// # Errors
/// What was expected.
pub fn odds(text: &str) -> Result<f64, Misread> {
    let whole = |text: &str| text.trim().parse::<u32>().ok();
    let share = match text.split_once(" of ") {
        Some((hits, of)) => whole(hits)
            .zip(whole(of))
            .filter(|(_, of)| *of > 0)
            .map(|(hits, of)| f64::from(hits) / f64::from(of)),
        None => parse(text, Kind::Share).ok(),
    };
    share
        .filter(|share| *share > 0.0 && *share <= 1.0)
        .ok_or(("odds such as \"17 of 20\" or \"85 %\"".to_string(), None))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn md(month: u8, day: u8) -> MonthDay {
        MonthDay { month, day }
    }

    fn measure(text: &str) -> (Need, Fold, (MonthDay, MonthDay), Seasons) {
        match goal(text) {
            Ok(Goal::Measure { need, fold, stretch, seasons }) => (need, fold, stretch, seasons),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn needs_as_people_write_them() {
        let (need, fold, stretch, seasons) = measure("quality >= 6 on 60 % of summer days");
        assert_eq!((need.measure, need.side, need.line), ("quality", Side::AtLeast, 6.0));
        assert_eq!((fold, stretch), (Fold::Days(0.6), (md(6, 1), md(8, 31))));
        assert_eq!(seasons, Seasons::Every);
        let (need, fold, stretch, _) = measure("crabgrass peak < 5 %");
        assert_eq!((need.measure, need.side, need.line), ("crabgrass_cover", Side::Below, 5.0));
        assert_eq!((fold, stretch), (Fold::Days(1.0), (JANUARY, DECEMBER)));
        let last = measure("Turf cover > 70% at the end of the last season");
        assert_eq!((last.1, last.3), (Fold::Last, Seasons::Last));
        let mean = measure("mean quality at least 5.5 in summer in the first season");
        assert_eq!((mean.0.line, mean.1), (5.5, Fold::Mean));
        assert_eq!((mean.2, mean.3), ((md(6, 1), md(8, 31)), Seasons::First));
        let on = measure("quality >= 6 on 20 Jun");
        assert_eq!((on.1, on.2), (Fold::Last, (md(6, 20), md(6, 20))));
        let every = measure("green cover > 40 % on every growing season day");
        assert_eq!((every.1, every.2), (Fold::Days(1.0), (md(4, 1), md(10, 31))));
        let dates = measure("quality >= 6 on at least 50% of days from 1 May to 30 Sep");
        assert_eq!((dates.1, dates.2), (Fold::Days(0.5), (md(5, 1), md(9, 30))));
        let tall = measure("grass height <= 6 in on every growing day");
        assert_eq!((tall.1, tall.2), (Fold::Days(1.0), (md(4, 1), md(10, 31))));
        assert!((tall.0.line - 152.4).abs() < 1e-9);
        let mean = measure("mean grass height < 90 mm in summer");
        assert_eq!((mean.0.line, mean.2), (90.0, (md(6, 1), md(8, 31))));
        let mean = measure("mean grass height < 4 in in summer");
        assert_eq!(mean.2, (md(6, 1), md(8, 31)));
        assert_eq!(measure("grass height peak < 4 in").1, Fold::Days(1.0));
        let leached = goal("nitrogen leached < 0.2 lb N/1000 ft2").unwrap();
        assert!(matches!(leached, Goal::Outcome { key: "n_leached", line, .. }
            if (line - 0.9765).abs() < 1e-3));
        assert_eq!(
            goal("visits <= 30"),
            Ok(Goal::Outcome { key: "visits", side: Side::AtMost, line: 30.0 })
        );
    }

    #[test]
    fn what_is_not_understood_is_told_with_help() {
        let help = |text: &str| {
            let (expected, help) = goal(text).unwrap_err();
            format!("{expected} / {}", help.unwrap_or_default())
        };
        assert!(help("qualty peak >= 6").contains("quality"), "{}", help("qualty peak >= 6"));
        assert!(help("quality >= 6").contains("on how many days"));
        assert!(help("quality >= 12 on all days").contains("between 1 and 9"));
        assert!(help("quality >= 6 on 60 % of sumer days").contains("leads nowhere"));
        assert!(help("crabgrass peak < 5").contains("5 %"));
        assert!(help("grass height peak < 5 in summer").contains("6 in"));
        assert!(help("crabgrass peak").contains("a sign"));
        assert!(help("crabgrass peak < 5 % from 1 Nov to 1 Feb").contains("new year"));
        assert!(goal("").is_err() && goal("é < ü on").is_err());
    }

    #[test]
    fn budgets_and_odds_as_people_write_them() {
        let read = |text| budget(text).unwrap();
        let money = |most, per| Budget { of: Resource::Money, most, per };
        assert_eq!(read("$900"), money(900.0, Period::Season));
        assert_eq!(read("450 $ a season"), money(450.0, Period::Season));
        assert_eq!(read("$1,200 in all"), money(1200.0, Period::Run));
        assert_eq!(read("40 h in all").most, 40.0);
        assert_eq!(read("4 in of water a season").most, 101.6);
        // NIST SP 811: a gallon is 3.785412 L.
        let gallons = read("2000 gal");
        assert_eq!(gallons.of, Resource::WaterVolume);
        assert!((gallons.most - 7.570_824).abs() < 1e-6);
        assert_eq!(read("2 lb N/1000 ft2 a year").of, Resource::Nitrogen);
        assert!(budget("900").is_err() && budget("-5 $").is_err() && budget("3 lb").is_err());
        assert_eq!((odds("17 of 20"), odds("85 %")), (Ok(0.85), Ok(0.85)));
        assert!(odds("21 of 20").is_err() && odds("0 of 20").is_err() && odds("often").is_err());
    }
}
