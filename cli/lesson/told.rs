//! A lesson in words: the question, then the answer. What is shown on a terminal and on paper is the
//! same.

use sim::analysis::lesson::{Answer, CHANGED, Pair, USUAL, Way};
use sim::calendar::{Day, MONTHS};
use sim::ensemble::{MEASURES, Results};
use sim::scenario::{Lesson, Look, Piece, Template, letter};

use super::amount::Amounts;
use super::belief;
use super::source::Ready;
use crate::pictures::sketch::unit_in_words;
use crate::round;
use crate::terminal::harmless;
use crate::words::name::{choice as change_in_words, futures, quoted, shorts, upper_first};
use crate::words::odds::{Odds, marks_of};
use crate::words::summary;

/// A lesson's question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// Title.
    pub title: String,
    /// The lawn, and what somebody wants to do there.
    pub story: String,
    /// The one change.
    pub change: String,
    /// Over how long and in whose weather it is played.
    pub played: String,
    /// The question.
    pub question: String,
    /// The answers to choose from, with their letters.
    pub choices: Vec<(char, String)>,
}

/// A lesson's answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// Which answer is right.
    pub verdict: String,
    /// How much it is.
    pub size: String,
    /// In how many futures each answer holds.
    pub counts: String,
    /// The chain from cause to effect, link by link.
    pub chain: Vec<String>,
    /// The middle future over the season.
    pub table: Table,
    /// What many would say, and whether the model agrees.
    pub popular: Option<String>,
    /// How far to believe it.
    pub belief: Vec<String>,
}

/// Figures by time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What they are.
    pub heading: String,
    /// Heads of the columns behind the first.
    pub columns: Vec<String>,
    /// A time and its figures.
    pub rows: Vec<(String, Vec<String>)>,
}

/// Puts a lesson's question into words.
pub fn question(ready: &Ready) -> Question {
    let lesson = &ready.lesson;
    let scenario = &lesson.scenario;
    let choice = |at: usize| {
        let because = match lesson.choices[at].because.as_str() {
            "" => String::new(),
            because => harmless(&format!(": {because}")),
        };
        (letter(at), format!("{}{because}", bare(ready, at)))
    };
    let seasons = match scenario.seasons {
        1 => "one season".to_string(),
        seasons => format!("{seasons} seasons"),
    };
    Question {
        title: harmless(&scenario.title),
        story: harmless(&one_line(&lesson.story)),
        change: harmless(&change(ready)),
        played: harmless(&format!(
            "Played over {seasons} in the weather of {}.",
            ready.weather.record.name
        )),
        question: harmless(&lesson.question),
        choices: (0..lesson.choices.len()).map(choice).collect(),
    }
}

/// Longest change, in characters, that is told as it was written; beyond it the names do.
const CHANGE_MAX: usize = 80;

fn change(ready: &Ready) -> String {
    let programs = &ready.lesson.scenario.programs;
    let (usual, changed) = (&programs[USUAL], &programs[CHANGED]);
    if changed.difference.chars().count() <= CHANGE_MAX {
        return change_in_words(&changed.difference);
    }
    format!("{} instead of {}", quoted(&changed.title), quoted(&usual.title))
}

/// A choice without its reason: which answer is right is known, why it is so is the chain's affair.
fn bare(ready: &Ready, choice: usize) -> String {
    let lesson = &ready.lesson;
    let amounts = amounts(ready);
    let it = &lesson.choices[choice];
    let range = if lesson.of_value {
        amounts.value_range(lesson.asked, it)
    } else {
        amounts.change_range(lesson.asked, it)
    };
    harmless(&format!("{} ({range})", it.says))
}

/// Puts a lesson's answer into words.
pub fn told(ready: &Ready, results: &Results, answer: &Answer) -> Told {
    let lesson = &ready.lesson;
    Told {
        verdict: verdict(ready, answer),
        size: harmless(&size(ready, answer)),
        counts: counts(answer, results.members),
        chain: lesson
            .links
            .iter()
            .zip(&answer.links)
            .map(|(link, pair)| harmless(&filled(ready, link.look, &link.says, pair)))
            .collect(),
        table: table(ready, results),
        popular: popular(lesson, answer),
        belief: belief::told(&lesson.studies),
    }
}

/// How a guess compares with the answer.
pub fn guessed(answer: &Answer, guess: usize) -> String {
    let said = letter(guess);
    if !answer.right.contains(&guess) {
        format!("You said {said}.")
    } else if answer.is_clear() {
        format!("You said {said}, and so does the model.")
    } else {
        format!("You said {said}, and that may be it.")
    }
}

pub(super) fn amounts(ready: &Ready) -> Amounts<'_> {
    Amounts { units: ready.units, currency: &ready.lesson.scenario.crew.currency }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn verdict(ready: &Ready, answer: &Answer) -> String {
    let says = bare(ready, answer.middle());
    let right = letter(answer.middle());
    if answer.is_clear() {
        return format!("The model says {right}: {says}.");
    }
    let mut letters: Vec<char> = answer.right.iter().map(|at| letter(*at)).collect();
    letters.sort_unstable();
    let last = letters.pop().map(String::from).unwrap_or_default();
    let others: Vec<String> = letters.into_iter().map(String::from).collect();
    format!(
        "{} {} {} not tell {} and {last} apart. The middle of them has {right}: {says}.",
        round::spoken(answer.asked.len() as f64, 1.0),
        futures(answer.asked.len() as u32),
        if answer.asked.len() == 1 { "does" } else { "do" },
        others.join(", ")
    )
}

/// The title of a picture: what it comes to with the change and without, so that a small change is not
/// taken for a large one.
pub(super) fn headline(ready: &Ready, answer: &Answer) -> String {
    let (changed, usual) = amounts(ready).levels(ready.lesson.asked, &answer.pair);
    format!("{}: {changed} with the change, {usual} without", when(ready.lesson.asked, ready))
}

/// What it is without the change, and the change; the value with it where that is what was asked.
fn size(ready: &Ready, answer: &Answer) -> String {
    let (amounts, look) = (amounts(ready), ready.lesson.asked);
    let differences = answer.pair.differences();
    let change = amounts.change(look, &differences);
    let spread = amounts.spread(look, &differences).map(|spread| format!(" ({spread})"));
    let spread = spread.unwrap_or_default();
    let (changed, usual) = amounts.levels(look, &answer.pair);
    let with = if ready.lesson.of_value { format!(", {changed} with it") } else { String::new() };
    format!(
        "{}: {usual} without the change{with}. The change, future by future in the same weather: \
         {change}{spread}.",
        when(look, ready),
    )
}

/// The label of a look, with its time where it has one.
fn when(look: Look, ready: &Ready) -> String {
    use sim::scenario::When;
    let Some((when, season)) = look.when else { return look.of.label.to_string() };
    let year = ready.lesson.scenario.first_year + i32::try_from(season).unwrap_or(0);
    let several = ready.lesson.scenario.seasons > 1;
    let year = if several { format!(" {year}") } else { String::new() };
    match when {
        When::On(date) => {
            format!("{}, {} {}{year}", look.of.label, date.day, month(date.month))
        }
        When::In(number) => format!("{}, {}{year}", look.of.label, month(number)),
    }
}

/// "A in none, B in 14 of 20": marks that add up.
fn counts(answer: &Answer, members: u32) -> String {
    let odds: Vec<Odds> = answer.hits.iter().map(|hits| Odds { hits: *hits, members }).collect();
    let scale = Odds::common_scale(&odds);
    let mut shares = [0.0; 6];
    shares.iter_mut().zip(&odds).for_each(|(share, odds)| *share = odds.share());
    let marks = scale.map(|scale| marks_of(shares, scale));
    let each = odds.iter().enumerate().map(|(at, odds)| {
        let told = match (odds.hits, scale.zip(marks)) {
            (0, _) => "none".to_string(),
            (hits, _) if hits == members => "all".to_string(),
            (_, Some((scale, marks))) if (1..scale).contains(&marks[at]) => {
                format!("{} of {scale}", marks[at])
            }
            _ => odds.of_scale(scale),
        };
        format!("{} in {told}", letter(at))
    });
    let told = each.collect::<Vec<_>>().join(", ");
    let all = round::spoken(f64::from(members), 1.0);
    // By the count as it is told, so that the same count has the same word.
    let most = scale
        .zip(marks)
        .is_some_and(|(scale, marks)| f64::from(marks[answer.middle()]) >= MOST * f64::from(scale));
    let hangs = if most || scale.is_none() {
        ""
    } else {
        " So it hangs on the season and the lawn: no one answer holds nearly always."
    };
    let few = summary::few(members);
    let hangs = if few.is_empty() { hangs.into() } else { format!(" {}", few.trim_end()) };
    format!("How often each answer holds, in {all} simulated futures: {told}.{hangs}")
}

/// Share of futures from which on an answer is said to hold in most.
const MOST: f64 = 0.7;

/// A link's sentence with its figures.
fn filled(ready: &Ready, look: Look, says: &Template, pair: &Pair) -> String {
    let (changed, usual) = amounts(ready).levels(look, pair);
    // Figures that are told alike leave no way to tell.
    let way = if changed == usual { Way::Same } else { pair.way() };
    let mut text = String::new();
    for piece in &says.pieces {
        text.push_str(match piece {
            Piece::Words(words) => words,
            Piece::Changed => &changed,
            Piece::Usual => &usual,
            Piece::Way([more, less, same]) => match way {
                Way::More => more,
                Way::Less => less,
                Way::Same => same,
            },
        });
    }
    // Two like figures, one "instead of" the other, would puzzle.
    if changed == usual && !says.has_way() {
        text = format!("{} (no difference that shows)", text.trim_end_matches('.'));
    }
    let text = upper_first(text.trim());
    if text.ends_with(['.', '!', '?']) { text } else { format!("{text}.") }
}

fn popular(lesson: &Lesson, answer: &Answer) -> Option<String> {
    let popular = lesson.popular?;
    let said = letter(popular);
    Some(if !answer.right.contains(&popular) {
        format!("Many would say {said}. On this lawn the model does not bear that out.")
    } else if answer.is_clear() {
        format!("Many would say {said}: here the model agrees with what is commonly held.")
    } else {
        format!("Many would say {said}: these futures do not settle it.")
    })
}

/// Months of the table.
const SEASON: std::ops::RangeInclusive<u8> = 3..=11;
/// Day of the month that the table shows.
const MIDDLE: u8 = 15;
/// Seasons from which on the table goes year by year, at the end of August.
const YEARLY: u32 = 3;

fn table(ready: &Ready, results: &Results) -> Table {
    let lesson = &ready.lesson;
    let scenario = &lesson.scenario;
    let titles: Vec<&str> =
        [USUAL, CHANGED].iter().map(|at| scenario.programs[*at].title.as_str()).collect();
    let names: Vec<String> = shorts(&titles).iter().map(|name| harmless(name)).collect();
    let years = (0..scenario.seasons).map(|n| scenario.first_year + i32::try_from(n).unwrap_or(0));
    let years: Vec<i32> = years.collect();
    let cell = |program: usize, year: i32, month: u8, day: u8| {
        cell(ready, results, program, (year, month, day))
    };
    let kind = MEASURES[lesson.show];
    let unit = ready.units.shown(kind.unit).unit;
    let unit = match kind.unit {
        "share" => "%".to_string(),
        _ => unit_in_words(kind.key, unit),
    };
    let (rows, columns, dates) = if scenario.seasons >= YEARLY {
        let row = |year: &i32| {
            let cells = [USUAL, CHANGED].map(|program| cell(program, *year, 8, 31));
            (year.to_string(), cells.to_vec())
        };
        (years.iter().map(row).collect(), names, "at the end of August")
    } else {
        let row = |number: u8| {
            let each =
                |year: &i32| [USUAL, CHANGED].map(|program| cell(program, *year, number, MIDDLE));
            (month(number).to_string(), years.iter().flat_map(each).collect())
        };
        let columns = match years[..] {
            [_] => names,
            _ => years
                .iter()
                .flat_map(|year| names.iter().map(move |name| format!("{name}, {year}")))
                .collect(),
        };
        (SEASON.map(row).collect(), columns, "in the middle of each month")
    };
    Table {
        heading: format!("{} ({unit}), {dates}, in the middle future", kind.label),
        columns,
        rows,
    }
}

/// The median of the shown measure on a day.
fn cell(
    ready: &Ready,
    results: &Results,
    program: usize,
    (year, month, day): (i32, u8, u8),
) -> String {
    let kind = MEASURES[ready.lesson.show];
    let at =
        Day::from_ymd(year, month, day).and_then(|d| usize::try_from(d.0 - results.first.0).ok());
    let band = results.programs.get(program).and_then(|p| p.bands.get(ready.lesson.show));
    let value = at.zip(band).and_then(|(at, band)| band.p50.get(at).copied());
    let shown = ready.units.shown(kind.unit);
    value.map_or_else(String::new, |value| {
        let value = if kind.unit == "share" { 100.0 * value } else { shown.value(value) };
        let decimals = match shown.unit {
            "1-9" | "in" | "lb/1000 ft2" => 1,
            _ if kind.key == "organic_matter" => 1,
            _ => 0,
        };
        round::fixed(value, decimals)
    })
}

/// A month's short name.
fn month(number: u8) -> &'static str {
    MONTHS.get(usize::from(number).wrapping_sub(1)).copied().unwrap_or("")
}
