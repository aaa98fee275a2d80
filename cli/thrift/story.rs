//! How a program fails: a future that stands for those that fail beside one for those that hold, and the
//! cheapest single change that mends it.

use plots::{Caption, Dates, FutureLine, FuturesPicture, Mark, Picture};
use sim::analysis::thrift::{Asked, Future, Story};
use sim::scenario::Spare;

use super::{Told, asked, words};
use crate::drawing::failed;
use crate::failure::Failure;
use crate::round;
use crate::words::diary::{self, Width};
use crate::words::lines::wrap;
use crate::words::name::{lower_first, quoted, upper_first};

/// Entries of a season that are told of each future, beside what is done again and again.
const PER_SEASON: usize = 7;
/// Characters in a line.
const WIDE: Width = Width(88);

/// The story; empty where no program fails.
pub(super) fn tell(told: &Told) -> String {
    let Some(story) = &told.answer.story else {
        return told.wanted_story.map_or_else(String::new, |at| {
            let title = quoted(&told.programs[at].title);
            format!("\n{}", wrap(&format!("{title} holds: there is no failure to tell."), 0, 0))
        });
    };
    let program = told.programs[story.start];
    let mut out = format!("\nHow {} fails\n", quoted(&program.title));
    let what = quoted(&told.asked(story.decisive));
    out.push_str(&wrap(
        &format!("What goes first in most futures that fail: {what}.{}", told_apart(told)),
        0,
        0,
    ));
    let missed = story
        .failing
        .missed
        .map(|day| format!(" Here it is missed {}.", words::month_of(told, day)));
    let head = format!(
        "A future that fails (number {}; it stands for {}).{}{}",
        story.failing.retold.number + 1,
        story.failing.of,
        missed.unwrap_or_default(),
        begun(told, story).unwrap_or_default()
    );
    out.push_str(&future(told, story, &story.failing, &head));
    match &story.holding {
        Some(holding) => {
            let head = format!(
                "A future that holds (number {}; it stands for {}).",
                holding.retold.number + 1,
                holding.of
            );
            out.push_str(&future(told, story, holding, &head));
        }
        None => {
            let none = "In no future does it hold: there is nothing to set beside it.";
            out.push_str(&format!("\n{}", wrap(none, 0, 0)));
        }
    }
    let head = format!("{} that mends {}", upper_first(&single(told)), quoted(&program.title));
    out.push_str(&format!("\n{head}\n"));
    out.push_str(&wrap(&mend(told, story), 2, 2));
    out
}

/// Where the decisive measure stood in both futures when the run began.
fn begun(told: &Told, story: &Story) -> Option<String> {
    let Asked::Need(_) = told.asked[story.decisive] else { return None };
    let drawn = asked::drawn(&told.asked[story.decisive], told.scenario, told.units)?;
    let first = |future: &Future| {
        let value = future.series.as_ref()?.first().copied()? * drawn.factor;
        value.is_finite().then(|| round::fixed(value, 1))
    };
    let unit = match drawn.unit.as_str() {
        "1-9" => String::new(),
        unit => format!(" {unit}"),
    };
    let here = first(&story.failing)?;
    let there = story.holding.as_ref().and_then(first);
    let there = there.map(|value| format!(", at {value} in the future that holds"));
    Some(format!(" {} began at {here}{unit} here{}.", drawn.title, there.unwrap_or_default()))
}

fn told_apart(told: &Told) -> &'static str {
    match &told.answer.story {
        Some(story) if story.holding.is_some() => {
            " Two futures, each the most typical of its kind, with their own weather and luck:"
        }
        _ => "",
    }
}

fn future(told: &Told, story: &Story, future: &Future, head: &str) -> String {
    let mut out = format!("\n{}", wrap(head, 0, 0));
    out.push_str(&diary::weather(&future.retold.skies, told.normals, told.units, WIDE));
    if let Some(track) = future.retold.tracks.first() {
        let program = told.programs[story.start];
        out.push_str(&diary::account(program, track, told.units, PER_SEASON, WIDE));
    }
    out
}

fn mend(told: &Told, story: &Story) -> String {
    let start = &told.answer.finalists[story.start];
    let Some(mend) = &story.mend else {
        return format!(
            "None of the {} single changes that were played makes it hold in {} futures: one setting of one \
             practice, or one practice more or less, is not enough.",
            story.tried,
            words::wanted(told)
        );
    };
    let changes: Vec<String> = words::changes(told, mend)
        .into_iter()
        .map(|(name, change)| format!("{name}: {change}"))
        .collect();
    format!(
        "{}. All of it then holds in {} futures, at {} instead of {}. Of {} single changes that were played it \
         {} least of those that mend.",
        changes.join("; "),
        told.odds_of(mend).of(),
        words::spent(told, mend),
        words::spent(told, start),
        story.tried,
        words::takes(told, 1)
    )
}

/// The decisive measure in both futures; `None` where no program fails, or no day shows it.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be drawn.
pub(super) fn draw(told: &Told) -> Result<Option<Picture>, Failure> {
    let Some(story) = &told.answer.story else { return Ok(None) };
    let Some(drawn) = asked::drawn(&told.asked[story.decisive], told.scenario, told.units) else {
        return Ok(None);
    };
    let line = |future: &Future, name: &str, keeps: bool| {
        let values = future.series.as_ref()?;
        Some(FutureLine {
            name: name.into(),
            values: values.iter().map(|v| v * drawn.factor).collect(),
            keeps,
            event: future.missed.map(|day| (day as usize, "here it is missed".to_string())),
        })
    };
    let lines: Vec<FutureLine> = [
        line(&story.failing, "a future that fails", false),
        story.holding.as_ref().and_then(|f| line(f, "a future that holds", true)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let Some(days) = lines.first().map(|line| line.values.len()) else { return Ok(None) };
    let title = quoted(&told.programs[story.start].title);
    let what = told.asked(story.decisive);
    let title = match (&story.holding, story.failing.missed) {
        (Some(_), Some(day)) => format!(
            "{title} fails {} in one future and holds in another. Wanted: {what}",
            words::month_of(told, day)
        ),
        (None, Some(day)) => {
            format!("{title} fails, here {}. Wanted: {what}", words::month_of(told, day))
        }
        _ => format!("{title}. Wanted: {what}"),
    };
    let picture = FuturesPicture {
        caption: Caption {
            alt: format!(
                "{} day by day in a future that fails and in one that holds, beside the line that it must \
                 keep to: {title}.",
                drawn.title
            ),
            title,
            subtitle: Some(told.scenario.title.clone()),
            note: Some(format!(
                "Each line is one simulated future: of those that fail, and of those that hold, the one \
                 nearest the middle. They differ in weather, lawn and luck. {}",
                mend_note(told, story)
            )),
        },
        dates: Dates { first: words::day_of(told, 0).date(), days },
        title: drawn.title,
        unit: drawn.unit,
        range: drawn.range,
        line: Mark { value: drawn.line, label: upper_first(&what) },
        stretches: story
            .stretches
            .iter()
            .filter(|days| !days.is_empty())
            .map(|days| (days.start, days.end - 1))
            .collect(),
        lines,
    };
    plots::futures(&picture).map(Some).map_err(|error| failed("story", &error))
}

/// "the cheapest single change".
fn single(told: &Told) -> String {
    match told.spare {
        Spare::Money => "the cheapest single change".into(),
        other => format!("the single change with the least {}", words::thing(other)),
    }
}

fn mend_note(told: &Told, story: &Story) -> String {
    match &story.mend {
        None => format!("No single change makes it hold in {} futures.", words::wanted(told)),
        Some(mend) => {
            let changes: Vec<String> = words::changes(told, mend)
                .into_iter()
                .map(|(name, change)| format!("{}: {change}", lower_first(&name)))
                .collect();
            format!(
                "{} that mends it: {}, at {}.",
                upper_first(&single(told)),
                changes.join("; "),
                words::spent(told, mend)
            )
        }
    }
}
