//! What a sweep says, in a few plain sentences: the answer, its size, and how far it can be trusted.

use std::cmp::Ordering;

use sim::analysis::when::{Setting, Verdict};
use sim::ensemble::paired;
use sim::outcomes::{OUTCOMES, OutcomeKind, outcome};
use sim::quantity::show_number;
use sim::scenario::{Fault, Measure, What, show_day};

use super::Told;
use super::speech::Speech;
use crate::terminal::harmless;
use crate::words::caution;
use crate::words::figure::{self, Figure};
use crate::words::lines::wrap;
use crate::words::name::{listed, lower_first, over, quoted, simulated, years_of_record};
use crate::words::summary::few;

/// A program that has no such setting: all of a barrier at once.
pub(super) const WITHOUT: &str = "all at once";

/// Outcomes that may be weighed against the one that was asked for.
const WEIGHED: [&str; 8] = [
    "crabgrass_peak",
    "quality_summer",
    "days_acceptable",
    "turf_cover_low",
    "n_leached",
    "water_used",
    "crew_hours",
    "cost",
];

/// More runs than this are not told one by one.
const RUNS_MAX: usize = 3;
/// Everything that the command prints.
pub(super) fn all(told: &Told, folder: &str, files: &[String]) -> String {
    let mut out = format!("{}\n", told.scenario.title);
    out.push_str(&wrap(&asked(told), 0, 0));
    out.push_str(&few(told.sweep.members));
    out.push('\n');
    let mut answer = vec![format!("{}.", headline(told))];
    answer.push(size(told));
    answer.extend(yours(told));
    answer.extend(beyond(told));
    answer.extend(at_the_end(told));
    answer.extend(unseen(told));
    out.push_str(&wrap(&answer.join(" "), 0, 0));
    let more: Vec<String> =
        falls(told).into_iter().chain(never(told)).chain(settled(told)).collect();
    if !more.is_empty() {
        out.push_str(&wrap(&more.join(" "), 0, 0));
    }
    let others = others(told);
    if !others.is_empty() {
        out.push_str("\nWhat else it changes, in the middle future\n");
        others.iter().for_each(|line| out.push_str(&wrap(line, 2, 4)));
    }
    let cautions = cautions(told);
    if !cautions.is_empty() {
        out.push_str("\nWhere the sweep passes a limit\n");
        cautions.iter().for_each(|line| out.push_str(&wrap(line, 2, 4)));
    }
    out.push('\n');
    out.push_str(&wrap(&behind(told), 0, 0));
    out.push_str(&caution::record(told.sweep.record_years));
    told.notes.iter().for_each(|n| out.push_str(&wrap(&format!("weather record: {n}"), 2, 4)));
    out.push_str(&format!("\nFiles are in {folder}\n"));
    for (name, what) in [("when.png", "the picture"), ("when.csv", "the same as a table")] {
        if files.iter().any(|file| file == name) {
            out.push_str(&format!("  {name:<24} {what}\n"));
        }
    }
    harmless(&out)
}

/// What was asked.
fn asked(told: &Told) -> String {
    let values: Vec<f64> = told.sweep.settings.iter().filter_map(|s| s.value).collect();
    let ends = values.first().zip(values.last());
    let tried = ends.map(|(a, b)| told.speech.range(*a, *b)).unwrap_or_default();
    format!(
        "Program {}, practice {}: `{}` at {} values, {tried}, judged by {} {}.",
        quoted(&told.program.title),
        quoted(told.practice),
        told.dial.key,
        values.len(),
        quoted(&lower_first(told.kind.label)),
        over(told.scenario)
    )
}

/// The message, without its full stop.
pub(super) fn title(told: &Told) -> String {
    headline(told)
}

fn headline(told: &Told) -> String {
    let (sweep, speech) = (told.sweep, &told.speech);
    let value = |at: usize| sweep.settings[at].value.unwrap_or(f64::NAN);
    let last = sweep.settings.len().saturating_sub(1);
    let whole = speech.phrase(value(0), value(last));
    let subject = &told.subject;
    match &sweep.verdict {
        Verdict::Fact => format!("{subject} {whole}: {}", lower_first(told.kind.label)),
        Verdict::Same => {
            let outcome = lower_first(told.kind.label);
            format!("{subject} {whole}: no difference that matters in {outcome}")
        }
        Verdict::Unclear => {
            format!("{subject} {whole}: too few futures to tell the values apart")
        }
        Verdict::Stretch(_) if stretches(told).len() > RUNS_MAX => {
            let best = sweep.best.map_or(f64::NAN, value);
            format!(
                "{subject} does best {}, as far as can be told, and at several others",
                speech.phrase(best, best)
            )
        }
        Verdict::Stretch(_) => {
            let told: Vec<String> =
                stretches(told).iter().map(|(a, b)| speech.phrase(value(*a), value(*b))).collect();
            format!("{subject} does best {}{}", told.join(", or "), among(sweep.own(), speech))
        }
    }
}

/// The values that are as good as the best and pass no limit that the scenario's own keeps, as runs of
/// neighbours; where none is left, all that are as good.
pub(super) fn stretches(told: &Told) -> Vec<(usize, usize)> {
    let Verdict::Stretch(runs) = &told.sweep.verdict else { return vec![] };
    let within = |at: &usize| told.sweep.settings[*at].cautions.is_empty();
    let mut kept: Vec<(usize, usize)> = vec![];
    for at in runs.iter().flat_map(|(a, b)| *a..=*b).filter(within) {
        match kept.last_mut() {
            Some(run) if run.1 + 1 == at => run.1 = at,
            _ => kept.push((at, at)),
        }
    }
    if kept.is_empty() { runs.clone() } else { kept }
}

/// That other values do as well, where they were left out for a limit that they pass.
fn beyond(told: &Told) -> Option<String> {
    let Verdict::Stretch(runs) = &told.sweep.verdict else { return None };
    let count = |runs: &[(usize, usize)]| runs.iter().map(|(a, b)| b - a + 1).sum::<usize>();
    (count(&stretches(told)) < count(runs))
        .then(|| "Values beyond do as well on the lawn, but pass a limit: see below.".into())
}

/// What an eye would mind and the model does not see.
fn unseen(told: &Told) -> Option<String> {
    let mut practices = told.program.practices.iter();
    let mows = practices.any(|p| p.key == told.practice && matches!(p.what, What::Mow { .. }));
    (mows && told.dial.key == "every")
        .then(|| "Not judged: how the lawn looks between two cuts, and clumps of clippings.".into())
}

/// "; yours, 8 weeks, is one of them".
fn among(own: Option<&Setting>, speech: &Speech) -> String {
    let Some(own) = own else { return String::new() };
    let is = if own.fresh.as_good { "is one of them" } else { "is not one of them" };
    format!("; yours, {}, {is}", named(own, speech))
}

/// A setting's value, or that it has none.
fn named(setting: &Setting, speech: &Speech) -> String {
    setting.value.map_or_else(|| WITHOUT.to_string(), |value| speech.value(value))
}

/// Settings that stand for all: both ends, the best by an outcome and the program's own.
fn shown<'a>(told: &'a Told, best: Option<usize>) -> Vec<&'a Setting> {
    let settings = &told.sweep.settings;
    let mut at: Vec<usize> = vec![0, settings.len().saturating_sub(1)];
    at.extend(best);
    at.extend(settings.iter().position(|setting| setting.own));
    at.sort_unstable();
    at.dedup();
    at.into_iter().filter_map(|at| settings.get(at)).collect()
}

/// How large the outcome is, at both ends, at the best and at the program's own.
fn size(told: &Told) -> String {
    let (said, alike) = middles(told, told.outcome, told.sweep.best);
    let hardly = if alike && said.starts_with("0 ") {
        " Most futures never get there: another outcome, with --outcome, tells more."
    } else {
        ""
    };
    format!("{}, in the middle future: {said}.{hardly}", told.kind.label)
}

/// The outcome in the middle future at the settings that stand for all: "26 % at 2, 14 % at 8 (yours)
/// and 31 % at 14 weeks"; and whether it is the same at all of them.
fn middles(told: &Told, outcome: usize, best: Option<usize>) -> (String, bool) {
    let kind = &OUTCOMES[outcome];
    let currency = &told.scenario.crew.currency;
    let factor = told.units.shown(kind.unit).factor.abs();
    let settings = shown(told, best);
    // The same futures at every value: the differences are known better than the figures.
    let all = || settings.iter().copied().chain(&told.sweep.apart);
    let values = all().map(|setting| setting.outcomes[outcome].as_slice());
    let first = values.clone().next().unwrap_or_default();
    let errors = values.map(|values| paired(kind, values, first).mean_se * factor);
    let error = errors.filter(|error| error.is_finite()).fold(0.0, f64::max);
    let middle = |setting: &Setting| {
        let figure = Figure::new(&setting.outcomes[outcome], kind.unit, told.units, currency);
        figure.as_fine_as(kind.key).middle_with(error)
    };
    let apart = told.sweep.apart.as_ref().map(|apart| (middle(apart), named(apart, &told.speech)));
    let each: Vec<String> = settings.iter().map(|setting| middle(setting)).collect();
    let alike = each.iter().all(|middle| *middle == each[0]);
    let alike = alike && apart.iter().all(|(middle, _)| *middle == each[0]);
    let said = if alike {
        format!("{} at every value", each[0])
    } else {
        at_values(told, &settings, &each)
    };
    let apart = apart.map_or_else(String::new, |(m, named)| format!("; {m} at yours, {named}"));
    (format!("{said}{apart}"), alike)
}

/// Something at each of some settings, the unit of the setting at the last: "26 at 2 and 31 at 14 weeks".
fn at_values(told: &Told, settings: &[&Setting], each: &[String]) -> String {
    let last = settings.len().saturating_sub(1);
    let one = |(at, (setting, said)): (usize, (&&Setting, &String))| {
        let value = setting.value.unwrap_or(f64::NAN);
        let value = if at == last { told.speech.value(value) } else { told.speech.figure(value) };
        format!("{said} at {value}{}", if setting.own { " (yours)" } else { "" })
    };
    listed(&settings.iter().zip(each).enumerate().map(one).collect::<Vec<_>>())
}

/// How far the program's own setting is from the best.
fn yours(told: &Told) -> Option<String> {
    let best = &told.sweep.settings[told.sweep.best?];
    let own = told.sweep.own()?;
    let none_stands_out = matches!(told.sweep.verdict, Verdict::Same | Verdict::Unclear);
    // Of values that are all alike yours is one, unless it was not among them.
    if best.own || none_stands_out && told.sweep.apart.is_none() {
        return None;
    }
    let (kind, value) = (told.kind, told.speech.value(best.value?));
    let difference = figure::difference(
        kind.key,
        kind.unit,
        own.fresh.difference,
        own.fresh.error,
        told.units,
        &told.scenario.crew.currency,
    );
    let small = own.fresh.difference.abs() < kind.least_difference;
    Some(if difference == figure::SAME {
        format!("On average yours comes to about the same as the best tried, {value}.")
    } else if small {
        format!("On average yours is {difference} than the best tried, {value}: less than matters.")
    } else {
        format!("On average yours is {difference} than the best tried, {value}.")
    })
}

/// What else the setting changes, of what a person may weigh against it.
fn others(told: &Told) -> Vec<String> {
    let line = |key: &&str| {
        let at = outcome(key).filter(|at| *at != told.outcome)?;
        let (best, verdict) = &told.sweep.by_outcome[at];
        let (said, alike) = middles(told, at, *best);
        let differs = matches!(verdict, Verdict::Stretch(_)) && !alike;
        differs.then(|| format!("{}: {said}.", OUTCOMES[at].label))
    };
    WEIGHED.iter().filter_map(line).collect()
}

/// Where the best lies at an end that could be moved.
fn at_the_end(told: &Told) -> Option<String> {
    let Verdict::Stretch(runs) = &told.sweep.verdict else { return None };
    let settings = &told.sweep.settings;
    let best = told.sweep.best?;
    let value = settings[best].value?;
    let (least, most) = told.dial.range;
    let last = settings.len() - 1;
    let room = |end: f64| (value - end).abs() > 1e-6;
    let flag = match best {
        0 if room(least) => "--from",
        _ if best == last && room(most) => "--to",
        _ => return None,
    };
    runs.iter()
        .any(|run| run.0 == best || run.1 == best)
        .then(|| format!("The best lies at the end of what was tried: look further with {flag}."))
}

/// Where a cue that the weather decides falls in the calendar.
fn falls(told: &Told) -> Option<String> {
    const WEATHER: [&str; 9] = [
        "soil-temperature",
        "for",
        "degree-days",
        "base",
        "canopy-height",
        "dry-soil",
        "crabgrass-cover",
        "broadleaf-cover",
        "nutsedge-cover",
    ];
    if !WEATHER.contains(&told.dial.key) || told.dial.measure == Measure::Date {
        return None;
    }
    let settings = shown(told, told.sweep.best);
    let settings: Vec<&Setting> =
        settings.into_iter().filter(|setting| setting.usual_day.is_some()).collect();
    let days: Vec<String> = settings.iter().filter_map(|s| s.usual_day).map(show_day).collect();
    (!days.is_empty()).then(|| {
        format!(
            "Where it is done, it first falls, in the middle season, on {}.",
            at_values(told, &settings, &days)
        )
    })
}

/// Futures in which a season goes by without the practice.
fn never(told: &Told) -> Option<String> {
    let members = told.sweep.members;
    if told.sweep.settings.iter().all(|setting| setting.never == 0) {
        return None;
    }
    let mut settings = shown(told, told.sweep.best);
    // Where it is lost most often is among those told.
    let most = told.sweep.settings.iter().max_by_key(|setting| setting.never)?;
    if settings.iter().all(|setting| setting.never < most.never) {
        settings.push(most);
    }
    settings.sort_by(|a, b| a.value.partial_cmp(&b.value).unwrap_or(Ordering::Equal));
    let counts: Vec<String> = settings.iter().map(|s| s.never.to_string()).collect();
    Some(format!(
        "Futures, of {members}, with a season that goes by without it (held back until it was given up, \
         or never called for): {}.",
        at_values(told, &settings, &counts)
    ))
}

/// What a lawn's own past leaves open.
fn settled(told: &Told) -> Option<String> {
    told.scenario.scouting.is_some().then(|| {
        "The season so far, up to the last look at the lawn, is settled: no value changes what falls \
         before that."
            .to_string()
    })
}

/// What the check of the scenario refuses or warns of, by the values at which it does.
fn cautions(told: &Told) -> Vec<String> {
    let mut kinds: Vec<(&Fault, Vec<f64>, bool)> = vec![];
    for point in told.points {
        let refused = point.fault.iter().map(|fault| (fault, true));
        for (fault, refused) in refused.chain(point.cautions.iter().map(|c| (c, false))) {
            match kinds.iter_mut().find(|(known, ..)| known.code == fault.code) {
                Some((_, values, _)) => values.push(point.value),
                None => kinds.push((fault, vec![point.value], refused)),
            }
        }
    }
    // The program's own value is the scenario's, which was checked before.
    let own = told.dial.now.get(told.nth).copied();
    let named = |caution: &Fault| caution.message.contains(&format!("`{}", told.practice));
    for (fault, values, refused) in &mut kinds {
        let too = told.cautions.iter().any(|known| known.code == fault.code && named(known));
        values.extend(own.filter(|_| too && !*refused));
    }
    let line = |(fault, values, refused): &(&Fault, Vec<f64>, bool)| {
        let runs: Vec<String> =
            runs_of(told, values).iter().map(|(a, b)| told.speech.range(*a, *b)).collect();
        let not = if *refused { ", not played" } else { "" };
        let such = if values.len() > 1 { ", for one" } else { "" };
        format!("at {}{not}{such}: {}; expected {}", listed(&runs), fault.message, fault.expected)
    };
    kinds.iter().map(line).collect()
}

/// Values as runs of neighbours among those that were tried.
fn runs_of(told: &Told, values: &[f64]) -> Vec<(f64, f64)> {
    let mut runs: Vec<(f64, f64)> = vec![];
    let mut open = false;
    for point in told.points {
        let here = values.contains(&point.value);
        match runs.last_mut() {
            Some(run) if here && open => run.1 = point.value,
            _ if here => runs.push((point.value, point.value)),
            _ => {}
        }
        open = here;
    }
    runs
}

/// The members and the rule.
fn behind(told: &Told) -> String {
    format!(
        "{} chose the best value; all figures come from as many fresh ones (seed {}), so that luck is \
         not taken for skill. They may differ by a few points from those of `play`, which are of other \
         futures. As good as the best is what is worse by less than {}, the least that \
         matters, or by no more than chance could do.",
        simulated(told.sweep.members),
        told.seed,
        least(told)
    )
}

/// The small print of the picture.
pub(super) fn note(told: &Told) -> String {
    format!(
        "{}, the same at every value; the best was chosen on as many others. As good: worse by less \
         than {}, or by no more than chance could do. Weather from {}.",
        simulated(told.sweep.members),
        least(told),
        years_of_record(told.sweep.record_years)
    )
}

/// The least difference that matters: "5 points", "14 days".
fn least(told: &Told) -> String {
    let (kind, currency) = (told.kind, &told.scenario.crew.currency);
    let shown = told.units.shown(kind.unit);
    let size = show_number(shown.difference(kind.least_difference));
    match shown.unit {
        "currency" => figure::money(kind.least_difference, currency),
        "%" | "1-9" if size == "1" => "1 point".into(),
        "%" | "1-9" => format!("{size} points"),
        unit => format!("{size} {unit}").trim_end().to_string(),
    }
}

/// Whether an outcome starts at nothing, so that its axis should show zero.
pub(super) fn is_amount(kind: &OutcomeKind) -> bool {
    kind.unit != "1-9" && kind.key != "organic_matter_change"
}
