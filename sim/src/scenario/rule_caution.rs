//! What in a program would break the rules of the place as the scenario states them. Silence is no
//! leave: what is in force, and what the keys cannot say, is for the user to look up.

use super::caution::{name, us_and_metric};
use super::fault::Faults;
use super::nitrogen_caution::{at_one_time, year};
use super::occasion::{falls_in_words, least_apart, never_open, occasions};
use super::practice::Drafted;
use super::products::analysis_phosphate;
use super::program::Built;
use super::{Crew, Cue, Hands, LocalRules, WaterDays, What, day};
use crate::calendar::{COMMON_YEAR, MonthDay, Weekdays};
use crate::program::tap_mm;
use crate::quantity::{Kind, Units, show};

const CODE: &str = "local-rule";

/// Notes every practice of a program that would break a rule.
pub(super) fn program(built: &Built, rules: &LocalRules, crew: &Crew, faults: &mut Faults) {
    if !rules.stated() {
        return;
    }
    let look = Look { built, rules, crew };
    for (i, draft) in built.drafts.iter().enumerate() {
        look.nitrogen_once(i, draft, faults);
        look.slow(draft, faults);
        look.phosphate(draft, faults);
        look.closed(i, draft, faults);
        look.water_days(i, draft, faults);
    }
    look.nitrogen_year(faults);
}

/// Whether the crew comes on no day on which the rules of the place allow watering.
fn no_water_day(draft: &Drafted, allowed: WaterDays, crew: &Crew) -> bool {
    let WaterDays::Week(days) = allowed else { return false };
    let visited = days.without(Weekdays::ALL.without(crew.visit_days));
    draft.by == Hands::Crew && tap_mm(&draft.what) > 0.0 && visited == Weekdays::NONE
}

/// Stretches of the year in which the rules close the ground to what a practice lays, and what that is.
fn closed_to<'r>(what: &What, rules: &'r LocalRules) -> (&'r [(MonthDay, MonthDay)], &'static str) {
    match what {
        What::Spread { nitrogen, .. }
            if nitrogen.total_g_m2() > rules.fertilizer_closed_over_g_m2 =>
        {
            (&rules.fertilizer_closed, "fertilizer")
        }
        what if what.is_pesticide() => (&rules.pesticide_closed, "pesticides"),
        _ => (&[], ""),
    }
}

/// Why the rules of the place keep a practice from ever being done; none where they do not.
pub(super) fn refused(built: &Built, i: usize, rules: &LocalRules, crew: &Crew) -> Option<String> {
    let draft = &built.drafts[i];
    if no_water_day(draft, rules.water_days, crew) {
        return Some("no visit falls on a day on which watering is allowed".to_string());
    }
    let (stretches, to) = closed_to(&draft.what, rules);
    let shut = stretches.iter().any(|(from, until)| {
        never_open(&occasions(&built.program, i), draft.give_up_days, *from, *until)
    });
    shut.then(|| format!("it is due only while the local rules close the ground to {to}"))
}

struct Look<'b> {
    built: &'b Built,
    rules: &'b LocalRules,
    crew: &'b Crew,
}

impl Look<'_> {
    /// "the local rules of Maryland".
    fn whose(&self) -> String {
        format!("the local rules of {}", self.rules.place)
    }

    /// A limit with where it was read.
    fn read(&self, limit: &str) -> String {
        match (self.rules.source.as_str(), self.rules.checked.as_str()) {
            ("", "") => limit.to_string(),
            ("", checked) => format!("{limit} (read {checked})"),
            (source, "") => format!("{limit} ({source})"),
            (source, checked) => format!("{limit} ({source}; read {checked})"),
        }
    }

    fn note(&self, draft: &Drafted, message: String, limit: &str, mend: &str, faults: &mut Faults) {
        faults.caution(CODE, &draft.amount_span, message, self.read(limit), mend);
    }

    fn nitrogen_once(&self, i: usize, draft: &Drafted, faults: &mut Faults) {
        let rate = |n| us_and_metric(n, Kind::NitrogenRate);
        let mut over = [false; 2];
        for together in at_one_time(self.built, i) {
            for (at, (laid, most, what, mend)) in [
                (
                    together.total_g_m2,
                    self.rules.nitrogen_once_g_m2,
                    "nitrogen",
                    "lay less at once, and oftener where the year's sum allows it",
                ),
                (
                    together.quick_g_m2,
                    self.rules.quick_nitrogen_once_g_m2,
                    "quick nitrogen",
                    "lay less at once, or take a bag with more slow nitrogen",
                ),
            ]
            .into_iter()
            .enumerate()
            {
                let Some(most) = most.filter(|most| !over[at] && laid > most * 1.001) else {
                    continue;
                };
                over[at] = true;
                let message = format!(
                    "{} {} of {what} at once, more than {} say",
                    together.does,
                    rate(laid),
                    self.whose()
                );
                self.note(draft, message, &format!("at most {}", rate(most)), mend, faults);
            }
        }
    }

    fn slow(&self, draft: &Drafted, faults: &mut Faults) {
        let (What::Spread { nitrogen, .. }, Some(least)) = (&draft.what, self.rules.slow_at_least)
        else {
            return;
        };
        let slow = 1.0 - nitrogen.quick_g_m2() / nitrogen.total_g_m2().max(1e-9);
        if slow < least - 1e-6 {
            let share = |part| show(part, Kind::Share, Units::Us);
            let message = format!(
                "`{}` lays nitrogen of which {} is slow, less than {} ask for",
                draft.key,
                share(slow.max(0.0)),
                self.whose()
            );
            let limit = format!("at least {} of it slow", share(least));
            self.note(draft, message, &limit, "take a bag with more slow nitrogen", faults);
        }
    }

    fn phosphate(&self, draft: &Drafted, faults: &mut Faults) {
        let What::Spread { product, .. } = &draft.what else { return };
        let Some(most) = self.rules.phosphate_at_most.filter(|_| !self.rules.phosphorus_tested)
        else {
            return;
        };
        let share = |part| show(part, Kind::Share, Units::Us);
        if let Some(has) = analysis_phosphate(&product.name).filter(|has| *has > most + 1e-9) {
            let message = format!(
                "`{}` spreads {} with {} phosphate and no soil test that asks for it, against {}",
                draft.key,
                product.name,
                share(has),
                self.whose()
            );
            let limit = match most {
                0.0 => "no phosphate without a soil test".to_string(),
                most => format!("at most {} without a soil test", share(most)),
            };
            let mend = "take a bag whose middle number is 0, or test the soil and give the day as \
                        `phosphorus-test`";
            self.note(draft, message, &limit, mend, faults);
        }
    }

    fn closed(&self, i: usize, draft: &Drafted, faults: &mut Faults) {
        let (stretches, to) = closed_to(&draft.what, self.rules);
        for (from, until) in stretches {
            let Some(due) = falls_in_words(&self.built.program, i, (*from, *until)) else {
                continue;
            };
            let message =
                format!("`{}` {due}, while {} close the ground to {to}", draft.key, self.whose());
            let limit = format!("none from {} to {}", day::show(*from), day::show(*until));
            let mend = format!(
                "move it; as it stands the crew waits for the end of the stretch, and drops it \
                 after {} days",
                draft.give_up_days
            );
            faults.caution(CODE, &draft.cue_span, message, self.read(&limit), mend);
        }
    }

    /// What waters, or waters in, and cannot do so on the days that it is due.
    fn water_days(&self, i: usize, draft: &Drafted, faults: &mut Faults) {
        let allowed = self.rules.water_days;
        if allowed == WaterDays::Any || tap_mm(&draft.what) <= 0.0 {
            return;
        }
        let limit = format!("watering on {} only", allowed.words());
        if no_water_day(draft, allowed, self.crew) {
            let message = format!(
                "`{}` is never done: on no day of the crew's visits do {} allow watering",
                name(draft),
                self.whose()
            );
            let mend = "another visit day, or by = \"client\" for the watering";
            self.note(draft, message, &limit, mend, faults);
            return;
        }
        let gap = allowed.widest_gap_days();
        let often = least_apart(&self.built.program.practices[i].cue);
        if let Some(days) = often.filter(|days| *days < gap) {
            let message = format!(
                "`{}` may fall due every {days} days, oftener than {} allow watering",
                name(draft),
                self.whose()
            );
            let mend = format!(
                "{gap} days apart or more; as it stands what is due on another day waits for the \
                 next that is allowed"
            );
            self.note(draft, message, &limit, &mend, faults);
            return;
        }
        // A date falls on another day of the week each year, and an interval runs on from when it
        // was last done: whether these must wait is the run's business. Odd and even dates are known.
        let parity = matches!(allowed, WaterDays::Odd | WaterDays::Even);
        let Cue::Dates(dates) = &self.built.program.practices[i].cue else { return };
        let forbidden =
            dates.iter().find(|date| parity && !allowed.allow(date.in_year(COMMON_YEAR)));
        if let Some(date) = forbidden {
            let message = format!(
                "`{}` is due on {}, when {} allow no watering",
                name(draft),
                day::show(*date),
                self.whose()
            );
            let mend = "move it by a day; as it stands it waits for the next day that is allowed";
            faults.caution(CODE, &draft.cue_span, message, self.read(&limit), mend);
        }
    }

    fn nitrogen_year(&self, faults: &mut Faults) {
        let Some(most) = self.rules.nitrogen_year_g_m2 else { return };
        let year = year(self.built);
        let Some(last) = year.places.last().filter(|_| year.total_g_m2 > most * 1.001) else {
            return;
        };
        let rate = |n| us_and_metric(n, Kind::NitrogenRate);
        let message = format!(
            "{} {} of nitrogen in a year, more than {} say",
            year.does,
            rate(year.total_g_m2),
            self.whose()
        );
        let limit = format!("at most {} a year", rate(most));
        let last = &self.built.drafts[*last];
        self.note(last, message, &limit, "lay less, or less often", faults);
    }
}
