//! What a credit says: what the whole program changed, and what each practice is owed of it.

use sim::analysis::credit::{Estimate, shapley};
use sim::outcomes::{Better, OutcomeKind};

use super::{Row, Told, message};
use crate::terminal::harmless;
use crate::words::figure;
use crate::words::lines::wrap;
use crate::words::name::{futures, lower_first, quoted, simulated, years_of_record};
use crate::words::odds::{Odds, marks_of};
use crate::words::{caution, summary};

/// What all practices together are called.
const WHOLE: &str = "all together";

/// Everything that the command prints.
pub(super) fn all(told: &Told, folder: &str) -> String {
    let credits = told.credits;
    let mut out = format!("{}\n", told.scenario.title);
    out.push_str(&wrap(&asked(told), 0, 0));
    out.push_str(&summary::few(credits.members));
    let wide = credits.players.iter().map(|p| told.name(p).chars().count());
    let wide = wide.chain([WHOLE.len()]).max().unwrap_or(0);
    out.push('\n');
    for player in &credits.players {
        let line = format!("{:<wide$}  {}", told.name(player), told.change(player));
        out.push_str(&wrap(&line, 2, wide + 4));
    }
    out.push('\n');
    out.push_str(&wrap(&format!("{}.", message::title(told)), 0, 0));
    for row in told.shown() {
        out.push('\n');
        out.push_str(&outcome(told, &row, wide));
    }
    let small: Vec<String> = told
        .rows()
        .filter(|row| told.wanted.is_none() && !row.matters())
        .map(|row| lower_first(row.kind.label))
        .collect();
    if !small.is_empty() && credits.members > 1 {
        let line = format!(
            "No difference that matters, from the whole or from any one practice: {}.",
            small.join("; ")
        );
        out.push_str(&format!("\n{}", wrap(&line, 0, 2)));
    }
    for line in missing(told) {
        out.push_str(&format!("\n{}", wrap(&line, 0, 2)));
    }
    out.push_str("\nHow the shares are made\n");
    out.push_str(&wrap(&how(told), 2, 2));
    out.push('\n');
    out.push_str(&wrap(&behind(told), 0, 0));
    out.push_str(&caution::record(credits.record_years));
    told.notes.iter().for_each(|n| out.push_str(&wrap(&format!("weather record: {n}"), 2, 4)));
    out.push_str(&format!(
        "\nFiles are in {folder}\n  credit.png               the picture\n  \
         credit.csv               every outcome, with its error, and what pairs bring together\n"
    ));
    harmless(&out)
}

/// What was asked, and what was played for it.
fn asked(told: &Told) -> String {
    let credits = told.credits;
    let differ = match credits.players.len() {
        1 => "One practice differs, so all of the difference is owed to it".into(),
        more => format!("{more} practices differ"),
    };
    format!(
        "What each practice of {} is owed, against {}, {}. {differ}; {} mixes of them were played, \
         each through the same {}.",
        quoted(&told.program.title),
        quoted(&told.base.title),
        told.over(),
        credits.coalitions,
        simulated(credits.members)
    )
}

/// One outcome: the whole, then each practice, then pairs that do more, or less, together.
fn outcome(told: &Told, row: &Row, wide: usize) -> String {
    let better = match row.kind.better {
        Better::Higher => " (more is better)",
        Better::Lower => " (less is better)",
        Better::Neither => "",
    };
    let mut out = format!("{}{better}\n", row.kind.label);
    let players = told.credits.players.iter().map(|p| told.name(p));
    let parts = players.zip(&row.shared.credits);
    let whole = (WHOLE.to_string(), &row.shared.total);
    // One practice is the whole.
    let parts = parts.filter(|_| told.credits.players.len() > 1);
    for (at, (name, estimate)) in [whole].into_iter().chain(parts).enumerate() {
        let line = format!("{name:<wide$}  {}", sentence(told, row.kind, estimate, at == 0));
        out.push_str(&wrap(&line, 2, wide + 4));
    }
    for line in together(told, row) {
        out.push_str(&wrap(&line, 2, 4));
    }
    out
}

/// "9 points lower (anything from 7 to 11); better in 15 of 20 futures, worse in 1".
fn sentence(told: &Told, kind: &OutcomeKind, estimate: &Estimate, whole: bool) -> String {
    if !estimate.standard_error().is_finite() {
        return "too few futures to tell".into();
    }
    let ends = told.ends(kind, estimate);
    if !estimate.clear() {
        let nothing = if ends.is_some() { "cannot be told from nothing" } else { "nothing" };
        return format!("{nothing}{}", anything(ends));
    }
    let said = told.said(kind, estimate);
    if estimate.mean.abs() < kind.least_difference {
        return if said == figure::SAME {
            "next to nothing".into()
        } else {
            let alone = if whole { "" } else { " by itself" };
            format!("{said}, too little to matter{alone}")
        };
    }
    format!("{said}{}{}", anything(ends), counts(kind, estimate, told.credits.members))
}

/// " (could be anything from 7 to 11)"; empty where there is no range.
fn anything(ends: Option<String>) -> String {
    match ends {
        Some(ends) if ends.starts_with("up to") => format!(" (could be anything {ends})"),
        Some(ends) => format!(" (could be anything from {ends})"),
        None => String::new(),
    }
}

/// "; better in 15 of 20 futures, worse in 1", where the futures do not all agree.
fn counts(kind: &OutcomeKind, estimate: &Estimate, members: u32) -> String {
    let (better, same) = (estimate.share_better, estimate.share_same);
    let worse = (1.0 - better - same).max(0.0);
    let shares = [better, same, worse];
    if kind.better == Better::Neither || shares.iter().any(|share| *share >= 1.0) {
        return String::new();
    }
    let scales = shares.map(|s| Odds::from_share(s, members).scale());
    let Some(scale) = scales.into_iter().map(|s| s.unwrap_or(0)).min().filter(|s| *s > 0) else {
        return String::new();
    };
    let [better, _, worse] = marks_of(shares, scale);
    let futures = futures(members);
    match (better, worse) {
        (0, 0) => format!("; too little to matter in most {futures}"),
        (0, worse) => format!("; worse in {worse} of {scale} {futures}"),
        (better, 0) => format!("; better in {better} of {scale} {futures}"),
        (better, worse) => format!("; better in {better} of {scale} {futures}, worse in {worse}"),
    }
}

/// Pairs that together bring something else than one by one, by what matters.
fn together(told: &Told, row: &Row) -> Vec<String> {
    let players = &told.credits.players;
    shapley::pairs(players.len())
        .zip(&row.shared.interactions)
        .filter(|(_, both)| row.counts(both))
        .map(|((a, b), both)| {
            let pair = format!(
                "{} and {}",
                quoted(&told.name(&players[a])),
                quoted(&told.name(&players[b]))
            );
            let rest = if players.len() > 2 { ", on average over the rest" } else { "" };
            let said = told.said(row.kind, both);
            let ends = anything(told.ends(row.kind, both));
            format!("With both {pair} it comes out {said}{ends} than the two one by one add up to{rest}.")
        })
        .collect()
}

/// Practices that could not happen in some mixes: what they waited for was not there.
fn missing(told: &Told) -> Vec<String> {
    let name = |key: &str| quoted(&crate::words::name::practice_in_line(key));
    let idle = told.credits.idle.iter();
    idle.map(|idle| {
        format!(
            "{} waits for {}. In the mixes without that it was never called, so it did not happen; \
             what the two bring is shared between them.",
            name(&idle.practice),
            name(&idle.waits_for)
        )
    })
    .collect()
}

/// How a share is made, in plain words.
fn how(told: &Told) -> String {
    let orders = match told.credits.orders {
        None => "every order in which they could be switched".to_string(),
        Some(orders) => format!(
            "{orders} orders in which they could be switched, drawn at random since there are too \
             many to play; what that leaves open is counted in the ranges, and what pairs of \
             practices bring together is not worked out"
        ),
    };
    format!(
        "Practices are switched one after the other from {} to {}. A practice's share is what it \
         changes when its turn comes, averaged over {orders}. So the shares add up to the whole \
         (here they are rounded), and what two practices bring only together is split evenly \
         between them.",
        quoted(&told.base.title),
        quoted(&told.program.title)
    )
}

/// What the figures stand on.
fn behind(told: &Told) -> String {
    format!(
        "All figures are means over {} (seed {}). \"Could be\" is how far a mean could move with other \
         draws, in 19 of 20 cases; it does not cover what the model gets wrong, and single futures \
         differ by more.",
        simulated(told.credits.members),
        told.seed
    )
}

/// The small print of the picture.
pub(super) fn note(told: &Told) -> String {
    format!(
        "Means over {}, the same for every mix of practices; weather from {}. \
         A share is what a practice changes when it is switched, averaged over {} of switching; \
         the shares add up to the whole. Whiskers: where the mean could lie with other draws, in 19 \
         of 20 cases; single futures differ by more.",
        simulated(told.credits.members),
        years_of_record(told.credits.record_years),
        match told.credits.orders {
            None => "all orders".to_string(),
            Some(orders) => format!("{orders} random orders"),
        }
    )
}
