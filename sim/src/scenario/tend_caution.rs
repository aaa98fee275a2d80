//! What a person should look at where tools go into the ground or the turf is made anew.

use super::What;
use super::caution::name;
use super::day;
use super::fault::Faults;
use super::practice::Drafted;
use super::program::Built;
use super::reseed::gap;
use super::rule_caution::due;
use crate::calendar::MonthDay;
use crate::work::Tending;

/// A barrier is counted on for about so long after it was laid, days (labels of prodiamine and
/// dithiopyr: three to five months).
const BARRIER_DAYS: f64 = 100.0;

/// Cool-season grass mends slowly in summer heat, and crabgrass comes up in what is opened
/// (extension advice: core and dethatch in late summer and fall, or in early spring).
const SUMMER: (MonthDay, MonthDay) =
    (MonthDay { month: 5, day: 15 }, MonthDay { month: 8, day: 14 });

/// Looks at practice `at`, which does `tending`.
pub(super) fn look(built: &Built, at: usize, tending: &Tending, faults: &mut Faults) {
    let draft = &built.drafts[at];
    match tending {
        Tending::Core { .. } | Tending::Scarify { .. } => {
            through_a_barrier(built, at, faults);
            in_summer(built, at, draft, faults);
        }
    }
}

fn through_a_barrier(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let broken = built.drafts.iter().enumerate().find(|(i, other)| {
        matches!(other.what, What::PreEmergent { .. }) && gap(built, *i, at, BARRIER_DAYS).is_some()
    });
    let Some((_, barrier)) = broken else { return };
    faults.caution(
        "barrier-broken-up",
        &draft.cue_span,
        format!("`{}` may open the ground while `{}` is at work", draft.key, name(barrier)),
        "the barrier left undisturbed (most labels; trials of coring through one mostly found no harm)",
        "open the ground before the barrier goes down, or in fall",
    );
}

fn in_summer(built: &Built, at: usize, draft: &Drafted, faults: &mut Faults) {
    let due = due(&built.program, at);
    let Some((on, sure)) = due.iter().find_map(|days| days.meets(SUMMER.0, SUMMER.1)) else {
        return;
    };
    let when = if sure { "is due" } else { "may fall due" };
    faults.caution(
        "opened-in-summer",
        &draft.cue_span,
        format!("`{}` {when} on {}: gaps made then close slowly", draft.key, day::show(on)),
        "late August to October, or early spring (extension advice for cool-season grass)",
        "move it to fall",
    );
}
