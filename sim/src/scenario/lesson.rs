//! A lesson: a scenario, one change in it, and what is asked about that change.
//!
//! A lesson may state its whole scenario or name one and state only what is other there. The text
//! holds no answer: [`crate::analysis::lesson`] works it out from the members.

mod choice;
mod overlay;
mod template;

pub use choice::Choice;
pub use template::{Piece, Template};

use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::local_rules::Examples;
use super::read::{self, Demand};
use super::registry::LESSON_ROOT;
use super::value::{Reading, Value};
use super::{Fault, Scenario, check};
use crate::calendar::{MONTHS, MonthDay};
use std::ops::Range;

/// A lesson that passed.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// Its scenario. The program without the change stands first and the one with it second; others
    /// are there only where the lawn's past needs them.
    pub scenario: Scenario,
    /// The lawn and what somebody wants to do there.
    pub story: String,
    /// The question, as it is put.
    pub question: String,
    /// What answers it.
    pub asked: Look,
    /// Whether the choices are about the value under the changed program; else they are about the
    /// change, member by member.
    pub of_value: bool,
    /// The answers to choose from, 2 to 6; together they cover the line once.
    pub choices: Vec<Choice>,
    /// Index of the choice that many people would take (grade C, common practice).
    pub popular: Option<usize>,
    /// Ids of published studies that ask much the same.
    pub studies: Vec<String>,
    /// Place among the measures of what is shown over the season.
    pub show: usize,
    /// The chain from cause to effect.
    pub links: Vec<Link>,
}

/// What a quantity is: an outcome or a daily measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Named {
    /// Key in files.
    pub key: &'static str,
    /// Label for people.
    pub label: &'static str,
    /// Unit as printed in files.
    pub unit: &'static str,
}

/// What a lesson may speak of, each in the order in which results hold it.
#[derive(Clone, Copy, Debug)]
pub struct Vocabulary<'a> {
    /// The outcomes.
    pub outcomes: &'a [Named],
    /// The daily measures.
    pub measures: &'a [Named],
    /// Ids of published studies.
    pub studies: &'a [&'a str],
}

/// Something to look at on a track.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// What it is.
    pub of: Named,
    /// Its place among the outcomes, or among the measures where it has a time.
    pub index: usize,
    /// When a measure is looked at, and in which season (0 is the first); `None` for an outcome.
    pub when: Option<(When, u32)>,
}

/// When a measure is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// On the evening of a day.
    On(MonthDay),
    /// The mean over a month, 1..=12.
    In(u8),
}

/// One link of the chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// What it is about.
    pub look: Look,
    /// Its sentence.
    pub says: Template,
}

/// Where a fault of a lesson stands.
#[derive(Clone, Debug, PartialEq)]
pub enum LessonFault {
    /// In the lesson's own text.
    Own(Fault),
    /// In the scenario that it names, once the lesson has changed it.
    Scenario(Fault),
}

/// The scenario that a lesson names, where it names one; nothing else of the text is looked at.
pub fn named(text: &str) -> Option<String> {
    overlay::named(text)
}

/// Checks a lesson. `base` is the text of the scenario that [`named`] gave; `rules` are the examples
/// of local rules.
///
/// # Errors
/// All faults found, those of the lesson's own text first.
pub fn check_lesson(
    text: &str,
    base: Option<&str>,
    products: &str,
    rules: &str,
    vocabulary: &Vocabulary,
) -> Result<Lesson, Vec<LessonFault>> {
    let base = base.map(|base| overlay::set_behind(text, base));
    let mut faults = Faults::default();
    let (tree, whole) = overlay::tree(text, base.as_deref(), &mut faults);
    let products = check::read_products(products, &mut faults);
    let end = text.len().min(1);
    let root = read::table(&LESSON_ROOT, &tree, 0..end, Demand::Whole, &mut faults);
    let rules = check::read_rules(rules, &mut faults);
    let examples = Examples::read(rules.get_ref(), &mut faults);
    let scenario = check::build(&root, &products, &examples, &mut faults);
    let built = root.table("lesson").zip(scenario);
    let built = built.and_then(|(table, scenario)| {
        let written: Vec<&str> =
            root.tables("program").iter().filter_map(|p| p.text("id")).collect();
        build(table, scenario, &written, vocabulary, &mut faults)
    });
    if !whole {
        faults.forget(&check::AFTER_SYNTAX);
    }
    let failed = faults.any_error();
    match built {
        Some(lesson) if !failed => Ok(lesson),
        _ => Err(overlay::told_apart(faults.in_order(), text.len())),
    }
}

fn build(
    table: &Reading<'_>,
    scenario: Scenario,
    written: &[&str],
    vocabulary: &Vocabulary,
    faults: &mut Faults,
) -> Option<Lesson> {
    let seasons = scenario.seasons;
    let scenario = with_pair(table, scenario, written, faults);
    let asked = table.table("asked");
    let look = asked.and_then(|asked| look(asked, seasons, vocabulary, faults));
    let choices = choice::choices(table, look, faults);
    let popular = popular(table, choices.len(), faults);
    for id in table.texts("studies").iter().filter(|id| !vocabulary.studies.contains(&id.as_str()))
    {
        faults.error(
            "unknown-study",
            &table.span_of("studies"),
            format!("there is no study \"{id}\""),
            "the id of a study of tests/STUDIES.md",
            did_you_mean(id, vocabulary.studies.iter().copied()),
        );
    }
    let show = known_measure(table, "show", vocabulary, faults);
    let tables = table.tables("link");
    if table.has("link") && tables.is_empty() {
        let message = "there is no link";
        faults.error("missing-key", &table.span_of("link"), message, "[[lesson.link]]", None);
    }
    let links: Vec<Option<Link>> =
        tables.iter().map(|t| link(t, seasons, vocabulary, faults)).collect();
    Some(Lesson {
        scenario: scenario?,
        story: table.text("story")?.to_string(),
        question: table.text("question")?.to_string(),
        asked: look?,
        of_value: asked?.text("of") == Some("value"),
        choices,
        popular,
        studies: table.texts("studies").to_vec(),
        show: show?,
        links: links.into_iter().collect::<Option<_>>()?,
    })
}

/// The scenario with the program that has the change second and its base first.
/// `written` are the ids of all programs, those that are at fault included.
fn with_pair(
    table: &Reading<'_>,
    scenario: Scenario,
    written: &[&str],
    faults: &mut Faults,
) -> Option<Scenario> {
    let id = table.text("change")?;
    let ids: Vec<&str> = scenario.programs.iter().map(|p| p.id.as_str()).collect();
    let place = |id: &str| ids.iter().position(|known| *known == id);
    let Some(changed) = place(id) else {
        if written.contains(&id) {
            return None;
        }
        faults.error(
            "unknown-program",
            &table.span_of("change"),
            format!("there is no program \"{id}\""),
            format!("one of {}", quoted(written.iter().copied())),
            did_you_mean(id, written.iter().copied()),
        );
        return None;
    };
    let Some(base) = scenario.programs[changed].based_on.as_deref().and_then(place) else {
        faults.error(
            "no-change",
            &table.span_of("change"),
            format!("the program \"{id}\" is not based on another"),
            "a program with `based-on` and one [[program.change]]",
            None,
        );
        return None;
    };
    // A lawn's past is played under programs of its own; they stay, behind the two.
    let scouted = scenario.scouting.as_ref().map(|scouting| scouting.program);
    let mut order = vec![base, changed];
    for past in scenario.season_before.into_iter().chain(scouted) {
        if !order.contains(&past) {
            order.push(past);
        }
    }
    let moved = |from: usize| order.iter().position(|kept| *kept == from);
    let season_before = scenario.season_before.and_then(moved);
    let scouting = scenario.scouting.clone().map(|mut scouting| {
        scouting.program = moved(scouting.program).unwrap_or(0);
        scouting
    });
    let programs = order.iter().map(|kept| scenario.programs[*kept].clone()).collect();
    Some(Scenario { programs, season_before, scouting, ..scenario })
}

/// What a table looks at.
fn look(
    table: &Reading<'_>,
    seasons: u32,
    vocabulary: &Vocabulary,
    faults: &mut Faults,
) -> Option<Look> {
    match (table.text("outcome"), table.has("measure")) {
        (Some(key), false) => {
            if let Some(stray) = ["on", "in", "season"].into_iter().find(|key| table.has(key)) {
                let message = format!("`{stray}` goes with `measure`; an outcome is one number");
                faults.error("stray-key", &table.span_of(stray), message, "no such key", None);
            }
            let index = place(vocabulary.outcomes, key);
            if index.is_none() {
                let span = table.span_of("outcome");
                let known = || keys(vocabulary.outcomes);
                let near = known().chain(keys(vocabulary.measures));
                unknown("outcome", key, &span, near, known(), faults);
            }
            index.map(|index| Look { of: vocabulary.outcomes[index], index, when: None })
        }
        (None, true) => {
            let when = when(table, faults);
            let season = season(table, seasons, faults);
            let index = known_measure(table, "measure", vocabulary, faults)?;
            let of = vocabulary.measures[index];
            Some(Look { of, index, when: Some((when?, season?)) })
        }
        _ => {
            let message = "one thing to look at is wanted";
            let expected = "`outcome` alone, or `measure` with `on` or `in`";
            faults.error("no-look", &table.span, message, expected, None);
            None
        }
    }
}

fn place(all: &[Named], key: &str) -> Option<usize> {
    all.iter().position(|named| named.key == key)
}

fn keys(all: &[Named]) -> impl Iterator<Item = &'static str> {
    all.iter().map(|named| named.key)
}

fn known_measure(
    table: &Reading<'_>,
    at: &str,
    vocabulary: &Vocabulary,
    faults: &mut Faults,
) -> Option<usize> {
    let key = table.text(at)?;
    let index = place(vocabulary.measures, key);
    if index.is_none() {
        let known = || keys(vocabulary.measures);
        unknown("measure", key, &table.span_of(at), known(), known(), faults);
    }
    index
}

fn unknown<'a>(
    what: &str,
    key: &str,
    span: &Range<usize>,
    near: impl Iterator<Item = &'a str>,
    known: impl Iterator<Item = &'a str>,
    faults: &mut Faults,
) {
    faults.error(
        "unknown-measure",
        span,
        format!("\"{key}\" is not a known {what}"),
        format!("one of {}", quoted(known)),
        did_you_mean(key, near),
    );
}

fn when(table: &Reading<'_>, faults: &mut Faults) -> Option<When> {
    match (table.value("on"), table.text("in")) {
        (Some(Value::Days(days)), None) => days.first().copied().map(When::On),
        (Some(_), None) => None,
        (None, Some(name)) => {
            let month = MONTHS.iter().position(|month| *month == name)?;
            u8::try_from(month + 1).ok().map(When::In)
        }
        _ => {
            let message = "a measure is looked at on a day or in a month";
            let expected = "one of `on` = \"1 Jun\" and `in` = \"Jun\"";
            faults.error("no-look", &table.span, message, expected, None);
            None
        }
    }
}

/// Counted from 0; the last where left out.
fn season(table: &Reading<'_>, seasons: u32, faults: &mut Faults) -> Option<u32> {
    let Some(Value::Whole(number)) = table.value("season") else {
        return (!table.has("season")).then(|| seasons.saturating_sub(1));
    };
    let season = u32::try_from(*number).ok().filter(|n| (1..=seasons).contains(n));
    if season.is_none() {
        let message = format!("the run has no season {number}");
        let expected = format!("a season from 1 to {seasons}");
        faults.error("out-of-range", &table.span_of("season"), message, expected, None);
    }
    season.map(|n| n - 1)
}

fn popular(table: &Reading<'_>, choices: usize, faults: &mut Faults) -> Option<usize> {
    let letter = table.text("popular")?;
    let place = usize::from(letter.bytes().next()?.checked_sub(b'A')?);
    if place >= choices {
        let message = format!("there is no choice {letter}");
        let expected = format!("a letter from A to {}", choice::letter(choices.saturating_sub(1)));
        faults.error("not-a-choice", &table.span_of("popular"), message, expected, None);
        return None;
    }
    Some(place)
}

fn link(
    table: &Reading<'_>,
    seasons: u32,
    vocabulary: &Vocabulary,
    faults: &mut Faults,
) -> Option<Link> {
    let look = look(table, seasons, vocabulary, faults);
    let says = template::parse(table.text("says")?, &table.span_of("says"), faults);
    Some(Link { look: look?, says: says? })
}

/// The reference of a lesson's keys, in Markdown.
pub fn lesson_reference() -> String {
    super::registry::lesson_reference()
}

/// The letter of a choice.
pub fn letter(choice: usize) -> char {
    choice::letter(choice)
}
