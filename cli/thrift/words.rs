//! What is told of programs that were judged, and of the cheapest that holds.

use sim::analysis::credit::players;
use sim::analysis::thrift::{Asked, Fact, Finalist, Missed, Split};
use sim::calendar::Day;
use sim::climate::MONTHS;
use sim::ensemble::paired_mean;
use sim::outcomes::{Almanac, Better, OUTCOMES, outcome};
use sim::quantity::{Kind, show};
use sim::scenario::{Goal, NeedUnit, Program, Spare, What};

use super::{FOUND, Told, story};
use crate::credit::change;
use crate::round;
use crate::terminal::harmless;
use crate::words::figure::{self, Figure};
use crate::words::lines::wrap;
use crate::words::name::{
    futures, listed, lower_first, over, practice_in_line, quoted, simulated, upper_first,
};
use crate::words::odds::Odds;
use crate::words::{caution, summary};

/// Most points of the curve that are listed.
const CURVE: usize = 8;
/// Most practices that are named as changed; of more there is no room for the names.
const NAMED: usize = 3;

/// Everything that the command prints.
pub(super) fn all(told: &Told, folder: &str, files: &[String]) -> String {
    let answer = told.answer;
    let mut out = format!("{}\n", told.scenario.title);
    out.push_str(&wrap(&question(told), 0, 0));
    for at in 0..told.asked.len() {
        out.push_str(&wrap(&upper_first(&told.asked(at)), 2, 4));
    }
    out.push_str(&wrap(&summary::cost_means(told.scenario), 0, 0));
    out.push_str(&summary::few(answer.members.1));
    out.push('\n');
    for line in found(told) {
        out.push_str(&wrap(&line, 0, 2));
    }
    let shown = answer.choice.pick.or(answer.choice.surest);
    if let Some(shown) = shown.map(|at| &answer.finalists[at]).filter(|f| f.changes > 0) {
        for (name, change) in changes(told, shown) {
            out.push_str(&wrap(&format!("{name}: {change}"), 2, 4));
        }
    }
    for line in given_up(told).into_iter().chain(doubts(told)) {
        out.push_str(&wrap(&line, 0, 2));
    }
    out.push_str("\nYour programs\n");
    for at in 0..answer.starts {
        out.push_str(&program(told, at));
    }
    out.push_str(&not_the_weather(told));
    out.push_str(&curve(told));
    out.push_str(&story::tell(told));
    out.push_str("\nWhat this rests on\n");
    for line in behind(told) {
        out.push_str(&wrap(&line, 2, 2));
    }
    out.push_str(&caution::record(answer.record_years));
    told.notes.iter().for_each(|n| out.push_str(&wrap(&format!("weather record: {n}"), 2, 4)));
    out.push_str(&opened(folder, files));
    harmless(&out)
}

fn question(told: &Told) -> String {
    let programs = told.programs.len();
    format!(
        "{} judged {}, and {} more tried in search of {} that holds. It holds where all of \
         this does in one future, and it is to do so in {} {}:",
        if programs == 1 { "One program".into() } else { format!("{programs} programs") },
        over(told.scenario),
        round::spoken(told.answer.tried.saturating_sub(programs) as f64, 1.0),
        least(told),
        wanted(told),
        futures(2)
    )
}

/// The odds that are wanted: "17 of 20".
pub(super) fn wanted(told: &Told) -> String {
    let of = |steps: f64| {
        let hits = told.odds * steps;
        ((hits - hits.round()).abs() < 1e-6).then(|| format!("{hits:.0} of {steps:.0}"))
    };
    of(20.0)
        .or_else(|| of(100.0))
        .unwrap_or_else(|| format!("{} %", round::fixed(100.0 * told.odds, 1)))
}

/// The mean of what is spared.
pub(super) fn mean(told: &Told, finalist: &Finalist) -> f64 {
    finalist.judged.mean(told.kind().key)
}

/// The same as a figure: "$540", "22 h".
pub(super) fn cost(told: &Told, finalist: &Finalist) -> String {
    figure(told, finalist, told.kind().key, told.kind().unit)
}

fn figure(told: &Told, finalist: &Finalist, key: &str, unit: &'static str) -> String {
    figure_of(told, finalist.judged.mean(key), unit)
}

fn figure_of(told: &Told, mean: f64, unit: &'static str) -> String {
    Figure::new(&[mean], unit, told.units, &told.scenario.crew.currency).middle()
}

/// The same in a sentence, with the money where that is not what is spared: "$540", "22 h of work ($540)".
pub(super) fn spent(told: &Told, finalist: &Finalist) -> String {
    if told.spare == Spare::Money {
        return cost(told, finalist);
    }
    let thing = thing(told.spare);
    let money = figure(told, finalist, "cost", "currency");
    if mean(told, finalist) == 0.0 {
        return format!("no {thing} ({money})");
    }
    format!("{} of {thing} ({money})", cost(told, finalist))
}

/// The same for one of several seasons, as budgets are mostly stated: " ($180 a season)".
fn a_season(told: &Told, finalist: &Finalist) -> String {
    let seasons = f64::from(told.scenario.seasons);
    if seasons < 2.0 || told.spare != Spare::Money {
        return String::new();
    }
    format!(" ({} a season)", figure_of(told, mean(told, finalist) / seasons, told.kind().unit))
}

/// What is spared, behind "the least".
pub(super) fn thing(spare: Spare) -> &'static str {
    match spare {
        Spare::Money => "money",
        Spare::Hours => "work",
        Spare::Water => "water",
        Spare::Nitrogen => "nitrogen",
    }
}

/// "the cheapest", "the one with the least water".
pub(super) fn least(told: &Told) -> String {
    match told.spare {
        Spare::Money => "the cheapest".into(),
        other => format!("the one with the least {}", thing(other)),
    }
}

/// "costs" or "takes" of one, "cost" or "take" of several.
pub(super) fn takes(told: &Told, count: usize) -> &'static str {
    match (told.spare, count) {
        (Spare::Money, 1) => "costs",
        (Spare::Money, _) => "cost",
        (_, 1) => "takes",
        _ => "take",
    }
}

/// What one costs more than another, in the same futures: "$230 less".
fn dearer(told: &Told, one: &Finalist, other: &Finalist) -> String {
    let (key, unit) = (told.kind().key, told.kind().unit);
    let (mean, error) = paired_mean(one.judged.outcome(key), other.judged.outcome(key));
    let currency = &told.scenario.crew.currency;
    figure::difference(key, unit, mean, error, told.units, currency)
}

/// What was changed of the program that a finalist started from, practice by practice.
pub(super) fn changes(told: &Told, finalist: &Finalist) -> Vec<(String, String)> {
    let base: &Program = told.programs[finalist.one.start];
    let taken = told.space.taken(&finalist.one);
    players(base, &finalist.program)
        .iter()
        .map(|player| {
            let mut change = change::tell(player, base, &finalist.program, told.units);
            if let Some((_, title)) = taken.iter().find(|(key, _)| *key == player.key) {
                change.push_str(&format!(", as in {}", quoted(title)));
            }
            (upper_first(&practice_in_line(&player.key)), change)
        })
        .collect()
}

/// Title of the program that was found.
pub(super) fn found_title(told: &Told, finalist: &Finalist) -> String {
    let title = &told.programs[finalist.one.start].title;
    match told.spare {
        Spare::Money => format!("{title}, made cheap"),
        other => format!("{title}, with less {}", thing(other)),
    }
}

/// What was changed of a finalist's start, in a few words: "mow and feed changed".
fn changed(told: &Told, finalist: &Finalist) -> String {
    let base: &Program = told.programs[finalist.one.start];
    let all = players(base, &finalist.program);
    if all.len() > NAMED {
        return format!("{} practices changed", all.len());
    }
    let names: Vec<String> = all.iter().map(|player| practice_in_line(&player.key)).collect();
    format!("{} changed", listed(&names))
}

/// The odds of a finalist; where rounding would hide that it falls short, that it does: "just under 17 of
/// 20".
pub(super) fn count(told: &Told, finalist: &Finalist) -> String {
    count_on(told, finalist, told.odds_of(finalist).scale())
}

/// The same on a scale, so that several can stand side by side.
pub(super) fn count_on(told: &Told, finalist: &Finalist, scale: Option<u32>) -> String {
    let odds = told.odds_of(finalist);
    let rounded = scale.map(|scale| f64::from(odds.marks(scale)) / f64::from(scale));
    let hidden = !told.holds(finalist) && rounded.is_some_and(|share| share + 1e-9 >= told.odds);
    format!("{}{}", if hidden { "just under " } else { "" }, odds.of_scale(scale))
}

/// The odds with how far they could move: "18 of 20 futures (give or take: 17 to 19)".
fn holds_in(told: &Told, finalist: &Finalist) -> String {
    let odds = told.odds_of(finalist);
    format!("{} {}{}", count(told, finalist), futures(odds.members), odds.give_or_take())
}

/// The one message, for the title of the picture.
pub(super) fn message(told: &Told) -> String {
    let starts = &told.answer.finalists[..told.answer.starts];
    match told.pick() {
        Some(pick) if pick.changes == 0 => format!(
            "{} that holds is {} as it is, at {}",
            upper_first(&least(told)),
            quoted(&told.programs[pick.one.start].title),
            spent(told, pick)
        ),
        Some(pick) => {
            let start = &starts[pick.one.start];
            let title = quoted(&told.programs[pick.one.start].title);
            format!(
                "With {} {title} {}, at {} instead of {}",
                changed(told, pick),
                if told.holds(start) { "still holds" } else { "holds" },
                spent(told, pick),
                spent(told, start)
            )
        }
        None => match told.answer.choice.surest {
            Some(at) => format!(
                "None of the programs tried holds in {} futures; the surest does in {}",
                wanted(told),
                count(told, &told.answer.finalists[at])
            ),
            None => "Nothing could be tried".into(),
        },
    }
}

/// The answer in a few sentences.
fn found(told: &Told) -> Vec<String> {
    let answer = told.answer;
    let starts = &answer.finalists[..answer.starts];
    let holding: Vec<&Finalist> = starts.iter().filter(|start| told.holds(start)).collect();
    let titled = |f: &Finalist| quoted(&told.programs[f.one.start].title);
    let mut out = Vec::new();
    let names: Vec<String> = holding.iter().map(|f| titled(f)).collect();
    out.push(match names.len() {
        0 if starts.len() == 1 => format!("{} does not hold often enough.", titled(&starts[0])),
        0 => format!("None of your {} programs holds often enough.", starts.len()),
        n if n == starts.len() && n > 1 => format!("All of your {n} programs hold often enough."),
        1 => format!("{} holds often enough.", names[0]),
        _ => format!("{} hold often enough.", listed(&names)),
    });
    let Some(pick) = told.pick() else {
        if let Some(surest) = answer.choice.surest.and_then(|at| answer.finalists.get(at)) {
            let missed = surest.judged.missed();
            let bound =
                |m: &Missed| m.members > 0 && matches!(told.asked[m.asked], Asked::Budget(_));
            let most = missed.iter().rev().max_by_key(|m| m.members).filter(|m| m.members > 0);
            let most = most.map_or_else(String::new, |m| {
                format!(" What stands in its way most often: {}.", quoted(&told.asked(m.asked)))
            });
            out.push(format!(
                "Nor does any of the {} that were tried: the surest, {} with {}, holds in {} at {}.{most} \
                 Ask for less, {}or bring in a practice that no program here has.",
                round::spoken(answer.tried as f64, 1.0),
                titled(surest),
                if surest.changes == 0 { "nothing changed".into() } else { changed(told, surest) },
                holds_in(told, surest),
                spent(told, surest),
                if missed.iter().any(bound) { "allow more, " } else { "" }
            ));
        }
        return out;
    };
    if pick.changes == 0 {
        out.push(format!(
            "{} that holds, of all that were tried, is {} as it is: {} on average {}{}, and all of \
             it holds in {}.",
            upper_first(&least(told)),
            titled(pick),
            spent(told, pick),
            over(told.scenario),
            a_season(told, pick),
            holds_in(told, pick)
        ));
        return out;
    }
    let start = &starts[pick.one.start];
    let takes = takes(told, 1);
    out.push(format!(
        "{} that was found to hold {takes} {} on average {}{}: {} with {} (below). All of it holds \
         in {}. It {takes} {} than {} as it is.",
        upper_first(&least(told)),
        spent(told, pick),
        over(told.scenario),
        a_season(told, pick),
        titled(pick),
        changed(told, pick),
        holds_in(told, pick),
        dearer(told, pick, start),
        titled(start)
    ));
    let own = holding.into_iter().min_by(|a, b| mean(told, a).total_cmp(&mean(told, b)));
    if let Some(own) = own.filter(|own| own.one.start != pick.one.start) {
        out.push(format!(
            "{} of your own that holds is {}, at {}: the one found {takes} {}.",
            upper_first(&least(told)),
            titled(own),
            spent(told, own),
            dearer(told, pick, own)
        ));
    }
    out
}

/// Outcomes that a person may miss where no need asked for them.
const LOOKED_AT: [&str; 7] = [
    "crabgrass_peak",
    "quality_summer",
    "days_acceptable",
    "turf_cover_end",
    "broadleaf_end",
    "nutsedge_peak",
    "cost",
];

/// What the one found is worse in than its start, by what matters and by more than chance: no need asked for
/// it.
fn given_up(told: &Told) -> Option<String> {
    let pick = told.pick().filter(|pick| pick.changes > 0)?;
    let start = &told.answer.finalists[pick.one.start];
    let worse = |key: &&str| {
        let kind = &OUTCOMES[outcome(key)?];
        let (mean, error) = paired_mean(pick.judged.outcome(key), start.judged.outcome(key));
        let loss = if kind.better == Better::Lower { mean } else { -mean };
        let told = || {
            let currency = &told.scenario.crew.currency;
            let size = figure::difference(key, kind.unit, mean, error, told.units, currency);
            format!("{}, {size}", lower_first(kind.label))
        };
        (loss >= kind.least_difference && loss > 2.0 * error).then(told)
    };
    let others = LOOKED_AT.iter().filter(|key| **key != told.kind().key);
    let lost: Vec<String> = others.filter_map(worse).collect();
    let title = quoted(&told.programs[pick.one.start].title);
    (!lost.is_empty()).then(|| {
        format!(
            "What it gives up against {title} as it is, on average: {}. Where that is too much, ask for it \
             with a need of its own.",
            lost.join("; ")
        )
    })
}

/// What is open about the answer: near the line, alike, at an end of what was tried.
fn doubts(told: &Told) -> Vec<String> {
    let answer = told.answer;
    let Some(pick) = told.pick() else { return vec![] };
    let mut out = Vec::new();
    let near = |finalist: &Finalist| told.odds_of(finalist).interval().0 < told.odds;
    if near(pick) {
        out.push(format!(
            "That is near the line: with other draws it could come out below {}.{}",
            wanted(told),
            safer(told, near).map_or_else(String::new, |safer| format!(" {safer}"))
        ));
    }
    out.extend(rarely_cut(told, pick));
    let alike = answer.choice.alike.len();
    if alike > 1 {
        let others = match alike - 1 {
            1 => "Another one holds".to_string(),
            more => format!("{more} others hold"),
        };
        out.push(format!(
            "{others} as well and {} as much, but for what does not matter or these futures cannot tell; of \
             all of them this is the simplest, with the fewest changes, then the fewest visits.",
            takes(told, alike - 1)
        ));
    }
    let ends: Vec<String> = told
        .space
        .at_the_end(&pick.one)
        .into_iter()
        .map(|(key, setting)| format!("{key}.{setting}"))
        .collect();
    if !ends.is_empty() {
        out.push(format!(
            "{} {} at the end of what was tried: with --vary the search goes further.",
            listed(&ends),
            if ends.len() == 1 { "lies" } else { "lie" }
        ));
    }
    out
}

/// The first of those that cost more than the one found and are not near the line.
fn safer(told: &Told, near: impl Fn(&Finalist) -> bool) -> Option<String> {
    let answer = told.answer;
    let pick = mean(told, told.pick()?);
    let mut dearer = answer.curve.iter().map(|at| &answer.finalists[*at]);
    let found = dearer.find(|one| mean(told, one) > pick && !near(one))?;
    let title = quoted(&told.programs[found.one.start].title);
    let changes: Vec<String> = changes(told, found)
        .into_iter()
        .map(|(name, change)| format!("{}: {change}", lower_first(&name)))
        .collect();
    let changes = match changes.len() {
        0 => "as it is".to_string(),
        _ => format!("with {}", changes.join("; ")),
    };
    Some(format!(
        "A safer one {} {} and holds in {}: {title} {changes}.",
        takes(told, 1),
        spent(told, found),
        holds_in(told, found)
    ))
}

/// Fewer cuts than this part of the start's are told.
const RARELY: f64 = 0.8;
/// A height as an example of a need, mm (6 in).
const TALL_MM: f64 = 152.4;

/// That the lawn is cut less often than under the start, where no need asks how high the grass may stand.
fn rarely_cut(told: &Told, pick: &Finalist) -> Option<String> {
    let bounded = told.asked.iter().any(|asked| match asked {
        Asked::Need(Goal::Measure { need, .. }) => need.unit() == NeedUnit::Height,
        _ => false,
    });
    let start = &told.answer.finalists[pick.one.start];
    let (cuts, before) = (pick.judged.mean("mowings"), start.judged.mean("mowings"));
    let number = |cuts: f64| round::spoken(cuts, 1.0);
    (!bounded && cuts < RARELY * before).then(|| {
        format!(
            "It is cut {} times {}, against {} as it is. How high the grass stands between two cuts was not \
             asked for, nor are clumps of clippings judged: a client who minds is served by one more need, such \
             as --need \"grass height <= {} on every growing day\".",
            number(cuts),
            over(told.scenario),
            number(before),
            show(TALL_MM, Kind::Depth, told.units.into()),
        )
    })
}

/// One of the scenario's programs: its odds, what is missed, first and most, and in which weather.
fn program(told: &Told, at: usize) -> String {
    let finalist = &told.answer.finalists[at];
    let odds = told.odds_of(finalist);
    let mut out = wrap(
        &format!(
            "{}, {} on average: all of it holds in {}.{}",
            quoted(&told.programs[at].title),
            spent(told, finalist),
            holds_in(told, finalist),
            if told.holds(finalist) { "" } else { " Too few." }
        ),
        2,
        4,
    );
    let missed = finalist.judged.missed();
    for line in
        most_missed(told, &missed, odds.members).into_iter().chain(first_missed(told, &missed))
    {
        out.push_str(&wrap(&line, 4, 6));
    }
    if let Some(line) = weather(told, at).filter(|_| odds.hits < odds.members) {
        out.push_str(&wrap(&line, 4, 6));
    }
    out
}

/// "Missed most often: crabgrass always stays under 5 %, in 17 of 20; ...".
fn most_missed(told: &Told, missed: &[Missed], members: u32) -> Option<String> {
    let mut order: Vec<&Missed> = missed.iter().filter(|m| m.members > 0).collect();
    if missed.len() < 2 || order.is_empty() {
        return None;
    }
    order.sort_by_key(|m| std::cmp::Reverse(m.members));
    let counts: Vec<Odds> = order.iter().map(|m| Odds { hits: m.members, members }).collect();
    let scale = Odds::common_scale(&counts);
    let part = |(m, odds): (&&Missed, &Odds)| {
        format!("{}, in {}", quoted(&told.asked(m.asked)), odds.of_scale(scale))
    };
    let parts: Vec<String> = order.iter().zip(&counts).map(part).collect();
    Some(format!("Missed most often: {}.", parts.join("; ")))
}

/// "First to go, where it fails: ..., usually in July 2026".
fn first_missed(told: &Told, missed: &[Missed]) -> Option<String> {
    let failing: u32 = missed.iter().map(|m| m.first).sum();
    let first = missed.iter().rev().max_by_key(|m| m.first).filter(|m| m.first > 0)?;
    let when = first.usual_day.map(|day| month_of(told, day)).unwrap_or_default();
    let share = if missed.len() < 2 || first.first == failing {
        String::new()
    } else {
        let odds = Odds { hits: first.first, members: failing };
        let count = match odds.scale() {
            Some(_) => odds.of(),
            None => format!("{} of {failing}", first.first),
        };
        format!(" in {count} {} that fail", futures(2))
    };
    let what = if missed.len() < 2 {
        "Where it fails, that shows".into()
    } else {
        format!("First to go{share}: {},", quoted(&told.asked(first.asked)))
    };
    Some(format!("{what} usually {when}."))
}

/// "in July 2026", or "in July of the first season".
pub(super) fn month_of(told: &Told, day: u32) -> String {
    let (year, month, _) = day_of(told, day).ymd();
    format!("in {} {year}", MONTHS[usize::from(month) - 1])
}

/// A day of the run.
pub(super) fn day_of(told: &Told, day: u32) -> Day {
    let first = Almanac::of_years(told.scenario.first_year, told.scenario.seasons).first();
    first.plus(day as i32)
}

/// The first day of each season, counted from the run's first.
fn season_starts(told: &Told) -> Vec<u32> {
    let first = day_of(told, 0);
    let starts = told.scenario.years().filter_map(|year| Day::from_ymd(year, 1, 1));
    starts.map(|day| (day.0 - first.0).max(0) as u32).collect()
}

/// What the weather of futures that fail has in common.
fn weather(told: &Told, at: usize) -> Option<String> {
    let splits = told.answer.split(at, &season_starts(told));
    if splits.is_empty() {
        return None;
    }
    let clear: Vec<String> = splits.iter().filter(|s| s.clear).map(|s| fact(told, s)).collect();
    (!clear.is_empty()).then(|| {
        format!("Weather of the season in which it fails, on average: {}.", clear.join("; "))
    })
}

/// Under which programs the weather does not tell the futures that fail.
fn not_the_weather(told: &Told) -> String {
    let starts = season_starts(told);
    let looked_at: Vec<bool> = (0..told.answer.starts)
        .filter_map(|at| {
            let splits = told.answer.split(at, &starts);
            (!splits.is_empty()).then(|| splits.iter().any(|split| split.clear))
        })
        .collect();
    let unclear = looked_at.iter().filter(|clear| !**clear).count();
    if unclear == 0 {
        return String::new();
    }
    let under = match (unclear, looked_at.len()) {
        (_, 1) => "",
        (all, of) if all == of => " under any of these",
        (1, _) => " under the other",
        _ => " under the others",
    };
    wrap(
        &format!(
            "Summer rain, summer heat and spring warmth do not tell the futures that fail from those that \
             hold{under}."
        ),
        2,
        4,
    )
}

fn fact(told: &Told, split: &Split) -> String {
    let units = told.units;
    match split.fact {
        Fact::SummerRain => {
            let shown = units.shown("mm");
            let rain = |mm: f64| {
                let step = round::spoken_step(
                    if shown.unit == "in" { 0.1 } else { 1.0 },
                    shown.difference(split.error).abs() / 2.0,
                );
                format!("{} {}", round::spoken(shown.value(mm), step), shown.unit)
            };
            format!(
                "{} of rain in summer, against {} where it holds",
                rain(split.missing),
                rain(split.holding)
            )
        }
        Fact::SummerHeat => format!(
            "highs of {} in summer, against {} where it holds",
            degrees(told, split.missing),
            degrees(told, split.holding)
        ),
        Fact::SpringWarmth => format!(
            "a spring of {}, day and night, against {} where it holds",
            degrees(told, split.missing),
            degrees(told, split.holding)
        ),
    }
}

fn degrees(told: &Told, celsius: f64) -> String {
    let shown = told.units.shown("degC");
    format!("{} {}", round::fixed(shown.value(celsius), 1), shown.unit)
}

/// What more certainty costs: the programs that no other beats.
fn curve(told: &Told) -> String {
    let answer = told.answer;
    let ever = |at: &&usize| told.odds_of(&answer.finalists[**at]).hits > 0;
    let points: Vec<usize> = answer.curve.iter().filter(ever).copied().collect();
    if points.len() < 2 {
        return String::new();
    }
    let mut out = format!(
        "\nWhat more certainty {}: of all that were judged, those that no other beats\n",
        takes(told, 1)
    );
    let last = (points.len() - 1) as f64;
    let shown = points.len().min(CURVE);
    let mut places: Vec<usize> = (0..shown)
        .map(|i| (i as f64 * last / (shown.max(2) - 1) as f64).round() as usize)
        .collect();
    places.extend(points.iter().position(|at| answer.choice.pick == Some(*at)));
    places.sort_unstable();
    places.dedup();
    let odds: Vec<Odds> =
        places.iter().map(|place| told.odds_of(&answer.finalists[points[*place]])).collect();
    let scale = Odds::common_scale(&odds);
    for place in places {
        let finalist = &answer.finalists[points[place]];
        let mark =
            if answer.choice.pick == Some(points[place]) { "   <- the one above" } else { "" };
        let title = quoted(&told.programs[finalist.one.start].title);
        let what = match finalist.changes {
            0 => format!("{title} as it is"),
            _ => format!("{title} with {}", changed(told, finalist)),
        };
        let line = wrap(&format!("{what}{mark}"), 32, 32);
        let figures =
            format!("{:>9}  {:<20}", cost(told, finalist), count_on(told, finalist, scale));
        out.push_str(&figures);
        out.push_str(line.get(figures.chars().count()..).unwrap_or(&line));
    }
    out
}

/// How the answer came about, and what it does not see.
fn behind(told: &Told) -> Vec<String> {
    let answer = told.answer;
    let (searched, fresh) = answer.members;
    let refused: u32 = answer.refused.values().sum();
    let mut out = vec![format!(
        "All odds and costs come from {} (seed {}) that had no part in the search; {} others searched. \
         \"Give or take\" is how far a count could move with other draws; it does not cover what the model \
         gets wrong. Odds of `play` may differ by a little: its futures are others.",
        simulated(fresh),
        told.seed,
        round::spoken(f64::from(searched), 1.0)
    )];
    out.push(format!(
        "Tried: every practice with its amounts, heights, intervals and dates around your own, on one date \
         more, left out (mowing never is), and brought in or exchanged as another of your programs has it; \
         several at once in a sample of them, never all.{}{}",
        not_tried(told),
        if refused > 0 {
            format!(
                " {} programs were not played, since the check of a scenario refuses or warns of them: \
                 label figures, nitrogen ceilings, rules of the place and typical ranges hold here too.",
                round::spoken(f64::from(refused), 1.0)
            )
        } else {
            String::new()
        }
    ));
    out.push(
        format!(
            "{} are those of this scenario: wages, times, prices and travel decide which program is cheap. \
             The label, and the law of the place, come first.",
            if told.spare == Spare::Money { "Costs" } else { "Hours and costs" }
        )
    );
    out
}

/// What no program of the scenario does, and no try does for that.
fn not_tried(told: &Told) -> String {
    type Does = (&'static str, fn(&What) -> bool);
    const KINDS: [Does; 7] = [
        ("a crabgrass barrier", |what| matches!(what, What::PreEmergent { .. })),
        ("fertilizer", |what| matches!(what, What::Spread { .. })),
        ("watering", |what| matches!(what, What::Water { .. })),
        ("compost", |what| matches!(what, What::Topdress { .. })),
        ("seed", |what| matches!(what, What::Overseed { .. })),
        ("a spray on weeds that are up", |what| matches!(what, What::Spray(_))),
        ("coring and the like", |what| matches!(what, What::Tend(_))),
    ];
    let practices = || told.scenario.programs.iter().flat_map(|program| &program.practices);
    let lacking = KINDS.iter().filter(|(_, does)| !practices().any(|p| does(&p.what)));
    let lacking: Vec<String> = lacking.map(|(name, _)| (*name).to_string()).collect();
    if lacking.is_empty() {
        return String::new();
    }
    format!(
        " Not tried, since no program of yours has it: {}. To have it tried, write it into a program.",
        listed(&lacking)
    )
}

fn opened(folder: &str, files: &[String]) -> String {
    let mut out = format!("\nFiles are in {folder}\n");
    for (name, what) in [
        ("thrift.png", "cost against odds"),
        ("story.png", "how the failing program fails, beside a future in which it holds"),
        ("thrift.csv", "every program that was judged"),
        ("program.toml", "the program found, to add to your scenario"),
    ] {
        if files.iter().any(|file| file == name) {
            out.push_str(&format!("  {name:<24} {what}\n"));
        }
    }
    if files.iter().any(|file| file == "program.toml") {
        out.push_str(&wrap(
            &format!(
                "Add program.toml to your scenario, look at it with `vet`, and play it as program {FOUND}."
            ),
            2,
            2,
        ));
    }
    out
}
