//! Nitrogen against ceilings, at one time and in a year: what is laid within a week counts as one time, and
//! a cue that the lawn calls counts as often as it may call.

use super::LocalRules;
use super::What;
use super::apart::gap;
use super::caution::{LB_PER_1000_FT2, us_and_metric};
use super::fault::Faults;
use super::occasion::{least_apart, most_in_a_year, root, times};
use super::program::Built;
use crate::quantity::Kind;

/// Most nitrogen at one application: 0.9 lb/1000 ft2 in all and 0.7 lb soluble (Pennsylvania Act
/// 83 of 2022; Maryland), and in a year 4 lb/1000 ft2 (the upper end of extension programs:
/// University of Illinois 1995).
const N_ONCE: f64 = 0.9 * LB_PER_1000_FT2;
const N_ONCE_SOLUBLE: f64 = 0.7 * LB_PER_1000_FT2;
const N_YEAR: f64 = 4.0 * LB_PER_1000_FT2;

/// Passes within so many days count as one application: the grass and the rain do not tell them apart (our
/// judgement).
const ONE_TIME_DAYS: f64 = 7.0;

/// What is spread at one time.
pub(super) struct Together {
    pub total_g_m2: f64,
    pub quick_g_m2: f64,
    /// "`feed` and `green` may come within a week and together lay".
    pub does: String,
}

/// What practice `i` spreads, alone and with all others that may come within a week of it; the latter is
/// told by the last of them, and none where it spreads nothing.
pub(super) fn at_one_time(built: &Built, i: usize) -> Vec<Together> {
    let draft = &built.drafts[i];
    let What::Spread { nitrogen, .. } = &draft.what else { return Vec::new() };
    let mut out = vec![Together {
        total_g_m2: nitrogen.total_g_m2(),
        quick_g_m2: nitrogen.quick_g_m2(),
        does: format!("`{}` lays", draft.key),
    }];
    let near = |at: usize| {
        at == i
            || gap(built, at, i, ONE_TIME_DAYS).is_some()
            || gap(built, i, at, ONE_TIME_DAYS).is_some()
    };
    let (mut total, mut quick, mut keys) = (0.0, 0.0, Vec::new());
    let mut last = i;
    for (at, other) in built.drafts.iter().enumerate() {
        if let What::Spread { nitrogen, .. } = &other.what
            && near(at)
        {
            let passes = passes_in_a_week(built, at);
            total += passes * nitrogen.total_g_m2();
            quick += passes * nitrogen.quick_g_m2();
            keys.push(format!("`{}`", other.key));
            last = at;
        }
    }
    if last == i && total > nitrogen.total_g_m2() * 1.001 {
        let does = match keys.len() {
            1 => format!("{} may come more than once within a week and then lays", keys[0]),
            _ => {
                format!("{} may come within a week of each other and then lay", keys.join(" and "))
            }
        };
        out.push(Together { total_g_m2: total, quick_g_m2: quick, does });
    }
    out
}

/// Most times within a week that a practice is done.
fn passes_in_a_week(built: &Built, i: usize) -> f64 {
    let cue = root(&built.program, i).map(|(at, _)| &built.program.practices[at].cue);
    let apart = cue.and_then(least_apart).map_or(f64::INFINITY, |days| f64::from(days.max(1)));
    1.0 + ((ONE_TIME_DAYS - 1.0) / apart).floor()
}

/// What a program spreads from January to December, g N/m2.
pub(super) struct Year {
    /// The most that it may come to.
    pub total_g_m2: f64,
    /// What it comes to where a practice that the lawn calls for is done once.
    pub least_g_m2: f64,
    /// The practices that spread it.
    pub places: Vec<usize>,
    /// "`feed` and `green` lay up to".
    pub does: String,
}

/// What a program may spread in a year.
pub(super) fn year(built: &Built) -> Year {
    let (mut total_g_m2, mut least_g_m2, mut places, mut known) = (0.0, 0.0, Vec::new(), true);
    for (i, draft) in built.drafts.iter().enumerate() {
        if let What::Spread { nitrogen, .. } = &draft.what {
            let (most, sure) = (most_in_a_year(&built.program, i), times(&built.program, i));
            total_g_m2 += nitrogen.total_g_m2() * most;
            least_g_m2 += nitrogen.total_g_m2() * sure.unwrap_or(1.0);
            known &= sure == Some(most);
            places.push(i);
        }
    }
    let keys: Vec<String> = places.iter().map(|i| format!("`{}`", built.drafts[*i].key)).collect();
    let does = format!(
        "{} lay{}{}",
        keys.join(" and "),
        if keys.len() == 1 { "s" } else { "" },
        if known { "" } else { " up to" }
    );
    Year { total_g_m2, least_g_m2, places, does }
}

/// What goes down at one time, against common ceilings where the place states none of its own.
pub(super) fn once(built: &Built, i: usize, rules: &LocalRules, faults: &mut Faults) {
    let rate = |n| us_and_metric(n, Kind::NitrogenRate);
    let mut over = [false; 2];
    for together in at_one_time(built, i) {
        for (at, (amount, most, of_place, what)) in [
            (together.total_g_m2, N_ONCE, rules.nitrogen_once_g_m2, "nitrogen"),
            (together.quick_g_m2, N_ONCE_SOLUBLE, rules.quick_nitrogen_once_g_m2, "quick nitrogen"),
        ]
        .into_iter()
        .enumerate()
        {
            if over[at] || of_place.is_some() || amount <= most * 1.001 {
                continue;
            }
            over[at] = true;
            faults.caution(
                "much-nitrogen-at-once",
                &built.drafts[i].amount_span,
                format!(
                    "{} {} of {what} at once, above common ceilings",
                    together.does,
                    rate(amount)
                ),
                format!("at most {}", rate(most)),
                "lay less and more often, or more of it slow; your state may have its own ceiling",
            );
        }
    }
}

/// What goes down in a year, likewise.
pub(super) fn in_a_year(built: &Built, rules: &LocalRules, faults: &mut Faults) {
    let year = year(built);
    let Some(last) = year.places.last() else { return };
    if rules.nitrogen_year_g_m2.is_some() || year.total_g_m2 <= N_YEAR * 1.001 {
        return;
    }
    let rate = |n| us_and_metric(n, Kind::NitrogenRate);
    faults.caution(
        "much-nitrogen-in-a-year",
        &built.drafts[*last].amount_span,
        format!("{} {} of nitrogen a year", year.does, rate(year.total_g_m2)),
        format!("at most {} (common ceiling)", rate(N_YEAR)),
        "lay less, or less often",
    );
}
