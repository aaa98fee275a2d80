//! What a sweep says, in a few plain sentences: the answer, its size, and how far it can be trusted.

use sim::analysis::when::{Setting, Verdict};
use sim::outcomes::OutcomeKind;
use sim::scenario::{Fault, Measure};

use super::Told;
use crate::outdir::INDEX;
use crate::terminal::harmless;
use crate::words::caution;
use crate::words::figure::{self, Figure};
use crate::words::lines::wrap;
use crate::words::name::{lower_first, over, quoted, simulated};

/// A program that has no such setting: all of a barrier at once.
pub(super) const WITHOUT: &str = "all at once";

/// More runs than this are not told one by one.
const RUNS_MAX: usize = 3;
/// More settings than this are not told one by one.
const SETTINGS_MAX: usize = 4;

/// Everything that the command prints.
pub(super) fn all(told: &Told, folder: &str, files: &[String]) -> String {
    let mut out = format!("{}\n", told.scenario.title);
    out.push_str(&wrap(&asked(told), 0, 0));
    out.push('\n');
    let mut answer = vec![format!("{}.", headline(told))];
    answer.extend(size(told));
    answer.extend(yours(told));
    answer.extend(at_the_end(told));
    out.push_str(&wrap(&answer.join(" "), 0, 0));
    let more: Vec<String> = falls(told).into_iter().chain(never(told)).collect();
    if !more.is_empty() {
        out.push_str(&wrap(&more.join(" "), 0, 0));
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
        if files.iter().any(|file| file == name) && name != INDEX {
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
        Verdict::Same => format!("{subject} {whole}: it makes no difference that matters"),
        Verdict::Unclear => {
            format!("{subject} {whole}: too few futures to tell the values apart")
        }
        Verdict::Stretch(runs) if runs.len() > RUNS_MAX => {
            let best = sweep.best.map_or(f64::NAN, value);
            format!(
                "{subject} does best {}, as far as can be told, and at several others",
                speech.phrase(best, best)
            )
        }
        Verdict::Stretch(runs) => {
            let told: Vec<String> =
                runs.iter().map(|(a, b)| speech.phrase(value(*a), value(*b))).collect();
            format!("{subject} does best {}{}", told.join(", or "), among(sweep.own(), speech))
        }
    }
}

/// "; yours, 8 weeks, is among the best".
fn among(own: Option<&Setting>, speech: &super::Speech) -> String {
    let Some(own) = own else { return String::new() };
    let named = own.value.map_or_else(|| WITHOUT.to_string(), |value| speech.value(value));
    let is = if own.fresh.as_good { "is among the best" } else { "is not" };
    format!("; yours, {named}, {is}")
}

/// How large the outcome is, at both ends, at the best and at the program's own.
fn size(told: &Told) -> Option<String> {
    let sweep = told.sweep;
    let settings = &sweep.settings;
    let mut at: Vec<usize> = vec![0, settings.len().checked_sub(1)?];
    at.extend(sweep.best);
    at.extend(settings.iter().position(|setting| setting.own));
    at.sort_unstable();
    at.dedup();
    let middles: Vec<(String, String)> = at
        .iter()
        .filter_map(|at| {
            let setting = &settings[*at];
            Some((told.speech.value(setting.value?), middle(told, setting)))
        })
        .collect();
    let label = told.kind.label;
    let all_alike = middles.iter().all(|(_, middle)| *middle == middles[0].1);
    let mut said = if all_alike {
        format!("{label} comes to {} in the middle future, wherever it is set", middles[0].1)
    } else {
        let each: Vec<String> =
            middles.iter().map(|(value, middle)| format!("{middle} at {value}")).collect();
        format!("{label} comes, in the middle future, to {}", listed(&each))
    };
    if let Some(apart) = sweep.apart.as_ref() {
        let named =
            apart.value.map_or_else(|| WITHOUT.to_string(), |value| told.speech.value(value));
        said.push_str(&format!("; to {} at yours, {named}", middle(told, apart)));
    }
    Some(format!("{said}."))
}

/// How far the program's own setting is from the best.
fn yours(told: &Told) -> Option<String> {
    let best = told.sweep.best?;
    let own = told.sweep.own()?;
    let best = &told.sweep.settings[best];
    if best.own || matches!(told.sweep.verdict, Verdict::Same | Verdict::Unclear) {
        return None;
    }
    let difference = figure::difference(
        told.kind.key,
        told.kind.unit,
        own.fresh.difference,
        own.fresh.error,
        told.units,
        &told.scenario.crew.currency,
    );
    let said = if difference == figure::SAME {
        "comes to about the same as".to_string()
    } else {
        format!("comes, on average, {difference} than")
    };
    Some(format!("Yours {said} the best that was tried, {}.", told.speech.value(best.value?)))
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
    const WEATHER: [&str; 4] = ["soil-temperature", "for", "canopy-height", "dry-soil"];
    if !WEATHER.contains(&told.dial.key) || told.dial.measure == Measure::Date {
        return None;
    }
    let settings = &told.sweep.settings;
    let mut at = vec![0, settings.len().checked_sub(1)?];
    at.extend(told.sweep.best);
    at.extend(settings.iter().position(|setting| setting.own));
    at.sort_unstable();
    at.dedup();
    let each: Vec<String> = at
        .iter()
        .filter_map(|at| {
            let setting = &settings[*at];
            let day = sim::scenario::show_day(setting.usual_day?);
            Some(format!("{day} at {}", told.speech.value(setting.value?)))
        })
        .collect();
    (!each.is_empty())
        .then(|| format!("It first falls, in the middle season, on {}.", listed(&each)))
}

/// Settings at which seasons go by without the practice.
fn never(told: &Told) -> Option<String> {
    let members = told.sweep.members;
    let missed: Vec<(&Setting, f64)> = told
        .sweep
        .settings
        .iter()
        .filter(|setting| setting.never > 0)
        .filter_map(|setting| Some((setting, setting.value?)))
        .collect();
    let most = missed.iter().map(|(setting, _)| setting.never).max()?;
    let each: Vec<String> = if missed.len() <= SETTINGS_MAX {
        let one = |(setting, value): &(&Setting, f64)| {
            format!("{} of {members} futures at {}", setting.never, told.speech.value(*value))
        };
        missed.iter().map(one).collect()
    } else {
        let least = missed.iter().map(|(setting, _)| setting.never).min()?;
        let (first, last) = (missed.first()?.1, missed.last()?.1);
        vec![format!(
            "{least} to {most} of {members} futures, from {} to {}",
            told.speech.value(first),
            told.speech.value(last)
        )]
    };
    Some(format!("A season goes by without it in {}.", listed(&each)))
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
    let line = |(fault, values, refused): &(&Fault, Vec<f64>, bool)| {
        let runs: Vec<String> =
            runs_of(told, values).iter().map(|(a, b)| told.speech.range(*a, *b)).collect();
        let not = if *refused { ", not played" } else { "" };
        format!("at {}{not}: {}; expected {}", listed(&runs), fault.message, fault.expected)
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
        // The program's own value is not checked again: it interrupts nothing.
        open = here || (open && told.dial.now.get(told.nth) == Some(&point.value));
    }
    runs
}

/// The members and the rule.
fn behind(told: &Told) -> String {
    format!(
        "{} chose the best value; all figures come from as many fresh ones (seed {}), so that luck is \
         not taken for skill. As good as the best is what is worse by less than {}, the least that \
         matters, or by no more than chance could do.",
        simulated(told.sweep.members),
        told.seed,
        least(told)
    )
}

/// The small print of the picture.
pub(super) fn note(told: &Told) -> String {
    let years = told.sweep.record_years;
    format!(
        "{}, the same at every value; the best was chosen on as many others. As good: worse by less \
         than {}, or by no more than chance could do. Weather from {years} year{} of record.",
        simulated(told.sweep.members),
        least(told),
        if years == 1 { "" } else { "s" }
    )
}

/// The least difference that matters: "5 points", "14 days".
fn least(told: &Told) -> String {
    let said = figure::difference(
        told.kind.key,
        told.kind.unit,
        told.kind.least_difference,
        0.0,
        told.units,
        &told.scenario.crew.currency,
    );
    said.trim_end_matches(" more").trim_end_matches(" higher").to_string()
}

fn middle(told: &Told, setting: &Setting) -> String {
    let currency = &told.scenario.crew.currency;
    let figure = Figure::new(&setting.values, told.kind.unit, told.units, currency);
    figure.as_fine_as(told.kind.key).middle()
}

/// Whether an outcome starts at nothing, so that its axis should show zero.
pub(super) fn is_amount(kind: &OutcomeKind) -> bool {
    kind.unit != "1-9" && kind.key != "organic_matter_change"
}

/// "a", "a and b", "a, b and c".
fn listed(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
