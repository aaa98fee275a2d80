//! What is told: the message, what you can find out, what nobody can, and how it was worked out.

use sim::analysis::measure_first::{Crossing, Elsewhere, Group, Judged, SURE, stated};
use sim::outcomes::OUTCOMES;

use super::message::{self, Verdict};
use super::{NOTHING, Told, how};
use crate::round;
use crate::terminal::harmless;
use crate::words::lines::wrap;
use crate::words::name::{futures, listed, listed_with, over, quoted, simulated, upper_first};
use crate::words::{caution, figure, summary};

/// A share is told in steps of a tenth, or more coarsely.
const TENTH: f64 = 0.1;
/// A cost is not told more finely than this part of itself.
const COST_PART: f64 = 0.005;
/// Nor a price that turns the choice than this part.
const PRICE_PART: f64 = 0.03;
/// Standard errors that are told as "give or take": 19 of 20 cases.
const GIVE_OR_TAKE: f64 = 2.0;

/// Why no fact is changed by itself where futures were picked by what was seen.
const PICKED: &str = "How far each of these moves the lawn by itself is not told: these futures were picked \
                      because their lawn came to look as yours was seen to look. Its facts fit together, and with \
                      one of them changed alone it would not look so any more. What they are worth knowing \
                      is worked out from the futures as they are, and holds all the same.";

/// Everything that the command prints.
pub(super) fn all(told: &Told, folder: &str) -> String {
    let findings = told.findings;
    let mut out = format!("{}\n", told.scenario.title);
    out.push_str(&wrap(&format!("{}.", message::title(told)), 0, 0));
    if let Verdict::Worth(worth) = told.verdict() {
        worth.iter().for_each(|judged| out.push_str(&wrap(&turns(told, judged), 0, 0)));
    }
    if let Some(line) = message::what_is_wanted(told) {
        out.push_str(&wrap(&line, 0, 0));
    }
    out.push_str(&summary::few(findings.members));
    out.push('\n');
    out.push_str(&wrap(&question(told), 0, 0));
    out.push_str(&wrap(&standing(told), 0, 0));
    if let Some(price) = price(told) {
        out.push_str(&wrap(&price, 0, 0));
    }
    if !findings.elsewhere.is_empty() {
        out.push_str("\nThe same programs judged by something else\n");
        for found in &findings.elsewhere {
            out.push_str(&wrap(&elsewhere(told, found), 2, 4));
        }
        if findings.elsewhere.iter().all(|found| otherwise(told, found).is_none()) {
            out.push_str(&wrap("Nothing that you can find out changes any of that.", 2, 4));
        }
    }
    if !findings.facts.is_empty() {
        let order = if findings.facts.iter().any(|judged| told.clear(judged)) {
            "the most worth knowing for this choice first"
        } else {
            "none of it worth knowing for this choice"
        };
        let head = format!(
            "What you can find out, {order}; how far it moves the lawn is told under {}",
            told.best()
        );
        out.push_str(&format!("\n{}", wrap(&head, 0, 0)));
        for judged in &findings.facts {
            out.push_str(&wrap(&fact(told, judged), 2, 4));
            if told.telling(judged) {
                let way = how::way_of(&judged.subject.key);
                out.push_str(&wrap(&format!("{}: {}", way.how, way.takes()), 6, 6));
            }
        }
        if told.picked() {
            out.push_str(&wrap(PICKED, 2, 2));
        }
    }
    out.push_str("\nWhat you cannot find out beforehand\n");
    for judged in &findings.groups {
        if let Some(line) = group(told, judged.group) {
            out.push_str(&wrap(&line, 2, 4));
        }
    }
    out.push_str(&wrap(&everything(told), 2, 4));
    let known = taken_for_known(told);
    if !known.is_empty() {
        out.push_str(&format!("\n{}", wrap(&known, 0, 0)));
    }
    out.push_str("\nHow this is worked out\n");
    out.push_str(&wrap(&worked_out(told), 2, 2));
    out.push('\n');
    out.push_str(&caution::record(findings.record_years));
    told.notes.iter().for_each(|n| out.push_str(&wrap(&format!("weather record: {n}"), 2, 4)));
    out.push_str(&format!(
        "\nFiles are in {folder}\n  measure-first.png        the picture\n  \
         measure-first.csv        every fact, constant and kind of luck, with its error\n"
    ));
    harmless(&out)
}

fn question(told: &Told) -> String {
    let titles: Vec<String> = told.programs.iter().map(|p| quoted(&p.title)).collect();
    let by = if told.worth.is_some() || told.kind.key == "cost" {
        ""
    } else {
        " Cost is left out; --worth, with --outcome, weighs it in."
    };
    let usual =
        if told.usual { " (The outcome was chosen for you; --outcome takes another.)" } else { "" };
    format!("The choice is between {}, judged by {}.{by}{usual}", listed(&titles), told.by())
}

/// How the programs stand on average.
fn standing(told: &Told) -> String {
    let findings = told.findings;
    let cost = |program: usize| {
        let cost = findings.costs.get(program).copied().filter(|_| told.kind.key != "cost");
        cost.map_or(String::new(), |cost| {
            format!(" ({})", sum(told, cost, round::spoken_step(1.0, cost * COST_PART)))
        })
    };
    let others: Vec<String> = findings
        .gains
        .iter()
        .enumerate()
        .map(|(at, (mean, error))| {
            let amount = told.amount(*mean, *error);
            let behind =
                if amount == NOTHING { "level with it".into() } else { format!("{amount} behind") };
            format!("{}{} {behind}", told.other(at), cost(findings.others[at]))
        })
        .collect();
    let costs = if told.kind.key == "cost" {
        String::new()
    } else {
        format!("; in brackets, what each costs {}", over(told.scenario))
    };
    format!(
        "On average {}{} does best, with {}{costs}. Another of them turns out better by what matters ({} \
         or more) {}.",
        told.best(),
        cost(findings.best),
        listed_with(&others, ", and "),
        told.amount(findings.aim.least(), 0.0),
        told.in_futures(findings.regret),
    )
}

/// From what the outcome has to be worth to the client on, the best program pays for being dearer: the
/// most that it costs more, for each unit that it is ahead, of those that it is clearly ahead of.
fn price(told: &Told) -> Option<String> {
    let findings = told.findings;
    if told.worth.is_some() || told.kind.key == "cost" {
        return None;
    }
    let cost = |program: usize| findings.costs.get(program).copied();
    let dearer = |(at, (gain, error)): (usize, &(f64, f64))| {
        let behind = (-gain > SURE * error).then(|| told.shown(-gain))?;
        let more = cost(findings.best)? - cost(findings.others[at])?;
        (more > 0.0).then(|| (at, more / behind))
    };
    let all = findings.gains.iter().enumerate().filter_map(dearer);
    let (at, price) = all.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let unit = match told.units.shown(told.gain_kind().unit).unit {
        "%" | "1-9" => "a point".to_string(),
        "days" => "a day".to_string(),
        "" => return None,
        other => format!("1 {other}"),
    };
    Some(format!(
        "It costs more than {}; that pays where {unit} of {} is worth about {} or more to the client (--worth \
         weighs it in).",
        told.other(at),
        told.label(),
        sum(told, price, round::spoken_step(0.1, price * PRICE_PART))
    ))
}

/// A sum of money to the nearest step.
fn sum(told: &Told, amount: f64, step: f64) -> String {
    figure::money((amount / step).round() * step, &told.scenario.crew.currency)
}

/// The choice by another outcome.
fn elsewhere(told: &Told, found: &Elsewhere) -> String {
    let kind = &OUTCOMES[found.outcome];
    let best = quoted(&told.programs[found.best].title);
    let lead = if found.best == told.findings.best {
        "does best here too".into()
    } else {
        let amount = told.amount_of(kind, found.lead.0, found.lead.1);
        let ahead =
            if amount == NOTHING { "level with".into() } else { format!("{amount} ahead of") };
        format!("does best, {ahead} {}", told.best())
    };
    let fact = otherwise(told, found).unwrap_or_default();
    format!("{}: {best} {lead}{fact}.", kind.label)
}

/// The fact that most speaks for another program then.
fn otherwise(told: &Told, found: &Elsewhere) -> Option<String> {
    let (key, knowing) = found.telling.as_ref()?;
    let way = how::way_of(key);
    let switch = told.seen(knowing.switch)?;
    Some(format!("; {} tells otherwise {}", way.name, told.in_futures(switch.share)))
}

/// Where the choice turns along a fact.
fn turns(told: &Told, judged: &Judged) -> String {
    let way = how::way_of(&judged.subject.key);
    let Some(switch) = judged.knowing.switch else { return String::new() };
    let (best, other) = (told.best(), told.other(switch.to));
    let currency = &told.scenario.crew.currency;
    let value = |crossing: Crossing| {
        let give = GIVE_OR_TAKE * crossing.error;
        let low = way.value(crossing.at - give, crossing.error, told.units, currency)?;
        let high = way.value(crossing.at + give, crossing.error, told.units, currency)?;
        let at = way.value(crossing.at, crossing.error, told.units, currency)?;
        let plain = |text: &str| text.strip_prefix("about ").unwrap_or(text).to_string();
        let range = if low == high {
            String::new()
        } else {
            format!(" (the turn may lie anywhere from {} to {})", plain(&low), plain(&high))
        };
        Some((at, range))
    };
    match switch.crossing.and_then(|crossing| Some((crossing, value(crossing)?))) {
        Some((crossing, (at, range))) => {
            let (below, above) = if crossing.above { (best, other) } else { (other, best) };
            format!("{}: below {at} take {below}, above it {above}{range}.", upper_first(way.name))
        }
        None => format!(
            "{}: the choice turns from {best} to {other}, but at no one value that could be told.",
            upper_first(way.name)
        ),
    }
}

/// One fact.
fn fact(told: &Told, judged: &Judged) -> String {
    let way = how::way_of(&judged.subject.key);
    let name = match judged.subject.key.split_once(' ') {
        Some((_, practice)) => format!("{} ({})", way.name, harmless(practice)),
        None => way.name.to_string(),
    };
    let moves = moves(told, judged).unwrap_or_default();
    format!("{}: {}{moves}.", upper_first(&name), worth(told, judged))
}

fn worth(told: &Told, judged: &Judged) -> String {
    let knowing = &judged.knowing;
    let Some(switch) = knowing.switch.filter(|_| told.clear(judged)) else {
        return "does not change the choice".into();
    };
    let give = GIVE_OR_TAKE * knowing.error;
    let give = if give.is_finite() {
        format!(", give or take {}", told.finely(give, knowing.error))
    } else {
        String::new()
    };
    let error = knowing.error / switch.share.max(f64::MIN_POSITIVE);
    format!(
        "speaks for {} {}, where it gains {}: worth {} over all futures{give}",
        told.other(switch.to),
        told.in_futures(switch.share),
        told.amount(switch.gain, error),
        told.finely(knowing.value, knowing.error),
    )
}

/// How far a fact moves what the best program brings, where that was worked out.
fn moves(told: &Told, judged: &Judged) -> Option<String> {
    let effect = judged.effect?;
    let what = brought(told);
    if effect.moved <= 0.0 {
        return Some(format!(", and does not move {what} at all"));
    }
    let amount = told.finely(effect.moved, effect.error);
    let share = judged.indices.map(|indices| {
        let share = (indices.total / TENTH).round() * TENTH;
        if share < TENTH / 2.0 || indices.total_error > TENTH {
            return String::new();
        }
        format!(
            " (about {} % of the spread that the unknowns make in the same weather)",
            round::fixed(100.0 * share.min(1.0), 0)
        )
    });
    let small = effect.moved < told.findings.aim.least();
    let share = share.unwrap_or_default();
    if told.clear(judged) {
        return Some(format!("; it moves {what} by {amount}{share}"));
    }
    if small {
        if amount == NOTHING {
            return Some(format!(", and hardly moves {what}"));
        }
        return Some(format!(", and moves {what} by {amount}{share}, less than matters"));
    }
    Some(format!("; yet it moves {what} by {amount}{share}"))
}

/// What the best program brings: "crabgrass at its worst".
fn brought(told: &Told) -> String {
    match told.worth {
        Some(_) => "the balance".into(),
        None => told.label(),
    }
}

/// One kind of luck.
fn group(told: &Told, which: Group) -> Option<String> {
    let findings = told.findings;
    let judged = findings.groups.iter().find(|judged| judged.group == which)?;
    let value = if judged.whole.clear() {
        format!("would gain {} on average", told.finely(judged.whole.value, judged.whole.error))
    } else {
        "would not change the choice".into()
    };
    let moved = told.finely(judged.moved.0, judged.moved.1);
    let moved = format!("it moves {} by {moved}", brought(told));
    Some(match which {
        Group::Weather => format!("The weather, were it known to the end: {value}; {moved}."),
        Group::Slips => format!("What the crew gets wrong, were it known: {value}; {moved}."),
        Group::Model => {
            let leading: Vec<&Judged> =
                findings.constants.iter().filter(|judged| told.clear(judged)).take(2).collect();
            let names: Vec<String> =
                leading.iter().map(|judged| format!("`{}`", judged.subject.key)).collect();
            let named = if names.is_empty() {
                String::new()
            } else {
                format!("; most of all {} (`swardplay facts` tells what that is)", listed(&names))
            };
            format!(
                "What the model itself is unsure of, which is not yours to measure: knowing it \
                 {value}{named}; {moved}."
            )
        }
        // Told with what can be found out.
        Group::Lawn => return None,
    })
}

/// What knowing all facts, and everything, would bring.
fn everything(told: &Told) -> String {
    let findings = told.findings;
    let lawn = findings.groups.iter().find(|judged| judged.group == Group::Lawn);
    let facts = lawn.filter(|_| !findings.facts.is_empty()).map(|judged| {
        if judged.whole.clear() {
            let amount = told.finely(judged.whole.value, judged.whole.error);
            format!(" All that you can find out, known together, would gain {amount}.")
        } else {
            " All that you can find out, known together, would not change the choice.".into()
        }
    });
    format!(
        "Everything at once, weather, slips and all: would gain {} on average, and no more can be had.{}",
        told.amount(findings.perfect, 0.0),
        facts.unwrap_or_default()
    )
}

/// Facts that were stated as one number.
fn taken_for_known(told: &Told) -> String {
    let names: Vec<String> =
        stated(told.scenario).iter().map(|key| how::way_of(key).name.to_string()).collect();
    let seen = if told.scenario.season_before.is_some() {
        " Grass cover and last August's crabgrass come of the year before, which is played first; they are \
         not judged here."
    } else {
        ""
    };
    if names.is_empty() {
        return seen.trim().into();
    }
    format!(
        "Taken for known, since the scenario gives one number: {}. Not sure of one? Give it as a range, \
         and it is judged too.{seen}",
        listed(&names)
    )
}

fn worked_out(told: &Told) -> String {
    let moved = if told.picked() {
        ""
    } else {
        " How far it moves it comes from futures played again with another draw of that fact alone."
    };
    format!(
        "All programs were played through the same {} (seed {}), each with its own weather, lawn and \
         slips. For each fact a smooth curve tells, from these futures, which program \
         does best at each value of it. Knowing the fact is worth what choosing by the curve gains over \
         choosing {} always. A value no larger than what chance alone finds, when the results are dealt \
         out to other futures, or than twice its own error, counts as none. A fact that moves all programs alike changes no choice, \
         however far it moves the lawn.{moved} To know means to know exactly: a rough count is worth less. None of \
         this covers what the model gets wrong.",
        simulated(told.findings.members),
        told.seed,
        told.best(),
    )
}

/// The small print of the picture.
pub(super) fn note(told: &Told) -> String {
    let years = told.findings.record_years;
    format!(
        "{} under every program; weather from {years} year{} of record. Worth: how much better the \
         choice would turn out on average over all {}, if the fact were known exactly. Weather, slips and \
         the model are each taken as a whole.{}",
        upper_first(&simulated(told.findings.members)),
        if years == 1 { "" } else { "s" },
        futures(told.findings.members),
        if told.picked() {
            " How far single facts move the lawn is not told, since futures were picked by what was seen."
        } else {
            ""
        }
    )
}
