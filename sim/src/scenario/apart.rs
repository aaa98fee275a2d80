//! How near to each other the practices of a program may come: by the days on which their cues may call,
//! this year's and next year's, the first of the two as late as its holds may keep it.

use super::Cue;
use super::occasion::{COMMON_DAYS, least_apart, occasions, root};
use super::program::Built;

/// Days by which a practice may be done late: as long as it waits where a hold may keep it, and what it
/// follows before it.
fn late_days(built: &Built, i: usize) -> i32 {
    let (mut at, mut late) = (i, 0_i32);
    // A chain of follow-ups is no longer than the program.
    for _ in 0..=built.drafts.len() {
        let Some(draft) = built.drafts.get(at) else { break };
        if !draft.holds.is_empty() {
            late = late.saturating_add(i32::try_from(draft.give_up_days).unwrap_or(COMMON_DAYS));
        }
        match built.program.practices[at].cue {
            Cue::DaysAfter { practice, .. } => at = practice,
            _ => break,
        }
    }
    late.min(COMMON_DAYS)
}

/// Fewest and most days from practice `first` to practice `then`, this year's or next year's, for every
/// pair of their days that may lie fewer than `wait` apart.
pub(super) fn gaps(built: &Built, first: usize, then: usize, wait: f64) -> Vec<(i32, i32)> {
    let mut tight = Vec::new();
    let late = late_days(built, first);
    let (first, then) = (occasions(&built.program, first), occasions(&built.program, then));
    for a in &first {
        for b in &then {
            for later in [0, COMMON_DAYS] {
                let (fewest, most) = if a.root == b.root && a.once && later == 0 {
                    (b.after - a.after, b.after - a.after)
                } else {
                    (b.first.0 + later - a.last.0 - late, b.last.0 + later - a.first.0)
                };
                if most >= 0 && f64::from(fewest) < wait {
                    tight.push((fewest, most));
                }
            }
        }
    }
    tight
}

/// The nearest of [`gaps`].
pub(super) fn gap(built: &Built, first: usize, then: usize, wait: f64) -> Option<(i32, i32)> {
    gaps(built, first, then, wait)
        .into_iter()
        .min_by_key(|(fewest, most)| ((*fewest).max(0), *most))
}

/// Fewest days from one time that a practice is done to the next, where it may be done more than once in
/// a year, or late in one and early in the next.
pub(super) fn own_gap(built: &Built, i: usize) -> Option<i32> {
    let (at, _) = root(&built.program, i)?;
    let all = occasions(&built.program, i);
    let late = late_days(built, i);
    let next_year = all.first().map(|o| o.plus(COMMON_DAYS));
    let each = all.iter().copied().chain(next_year);
    let between = each.clone().zip(each.skip(1)).map(|(a, b)| b.first.0 - a.last.0 - late);
    let within = least_apart(&built.program.practices[at].cue);
    let within = within.and_then(|days| i32::try_from(days).ok());
    between.chain(within).min().map(|fewest| fewest.max(0))
}
