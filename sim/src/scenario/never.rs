//! Practices that cannot happen, or come to nothing: a hold that never lets go, a cue that hardly ever
//! calls, a window that no visit day falls into. A lawn would show it a year late.

use super::caution::{name, us_and_metric};
use super::day;
use super::fault::Faults;
use super::occasion::{Occasion, falls_in, never_open, occasions};
use super::practice::Drafted;
use super::program::Built;
use super::rule_caution::refused;
use super::{Crew, Cue, Hands, Hold, Lawn, LocalRules, What};
use crate::calendar::{MonthDay, Weekdays};
use crate::quantity::Kind;
use crate::work::Stand;

const CODE: &str = "never-happens";

/// The 5 cm soil temperature that seldom stands for days on a lawn of the north, degrees C (85 degF). Our
/// judgement.
const SELDOM_SOIL_C: f64 = 29.4;

/// Cool-season grass does not grow in the dead of winter: from 15 December to 15 February. Our judgement for
/// the north of the United States.
const DEAD_OF_WINTER: (MonthDay, MonthDay) =
    (MonthDay { month: 12, day: 15 }, MonthDay { month: 2, day: 15 });

/// What becomes of a practice, whatever the weather.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fate {
    Never,
    HardlyEver,
}

impl Fate {
    fn words(self) -> &'static str {
        match self {
            Fate::Never => "is never done",
            Fate::HardlyEver => "hardly ever happens",
        }
    }
}

/// Notes the practices of a program that cannot happen, or come to nothing, and those that wait for them.
pub(super) fn program(
    built: &Built,
    lawn: Option<&Lawn>,
    rules: &LocalRules,
    crew: &Crew,
    faults: &mut Faults,
) {
    let mut fates: Vec<Option<Fate>> = Vec::new();
    for (i, draft) in built.drafts.iter().enumerate() {
        let look = Look { built, draft, due: occasions(&built.program, i), i };
        let mut fate = look.holds(faults).or(look.cue(faults));
        if let Some(lawn) = lawn {
            fate = fate.or(look.weeds(lawn, faults));
        }
        if draft.by == Hands::Crew {
            look.visits(crew.visit_days, faults);
        }
        look.winter(faults);
        // The rules' own caution tells of it.
        let refused = || refused(built, i, rules, crew).map(|_| Fate::Never);
        fates.push(fate.or_else(refused));
    }
    for (i, draft) in built.drafts.iter().enumerate() {
        if fates[i].is_none() {
            follows(built, i, draft, &fates, rules, crew, faults);
        }
    }
}

/// Notes a practice that waits for one that never comes, straight or by way of others.
fn follows(
    built: &Built,
    i: usize,
    draft: &Drafted,
    fates: &[Option<Fate>],
    rules: &LocalRules,
    crew: &Crew,
    faults: &mut Faults,
) {
    let mut at = i;
    // A chain of follow-ups is no longer than the program.
    for _ in 0..built.drafts.len() {
        let Cue::DaysAfter { practice, .. } = built.program.practices[at].cue else { return };
        at = practice;
        let Some(fate) = fates[at] else { continue };
        let first = &built.drafts[at];
        let why = match refused(built, at, rules, crew) {
            Some(why) => format!(": {why}"),
            None => String::new(),
        };
        let does = fate.words();
        faults.caution(
            CODE,
            &draft.cue_span,
            format!("`{}` {does}: it waits for `{}`, which {does}{why}", draft.key, name(first)),
            "a practice that happens, to count the days from",
            format!("mend `{}`, or give `{}` a date of its own", name(first), draft.key),
        );
        return;
    }
}

struct Look<'b> {
    built: &'b Built,
    draft: &'b Drafted,
    due: Vec<Occasion>,
    i: usize,
}

impl Look<'_> {
    fn note(&self, why: String, expected: &str, mend: &str, faults: &mut Faults) {
        let message = format!("`{}` {why}", name(self.draft));
        faults.caution(CODE, &self.draft.cue_span, message, expected, mend);
    }

    /// Holds that stand whatever the weather, or on every day that the practice is due.
    fn holds(&self, faults: &mut Faults) -> Option<Fate> {
        let mut fate = None;
        for hold in &self.draft.holds {
            let always = match *hold {
                Hold::Hotter { than_c } => than_c <= 0.0,
                Hold::RainComing { mm } | Hold::RainIn3Days { mm } => mm <= 0.0,
                Hold::Windy { m_s } => m_s <= 0.0,
                Hold::Drier { than } => than >= 1.0,
                _ => false,
            };
            if always {
                self.note(
                    "is never done: one of its holds stands in any weather".to_string(),
                    "a hold that lets go",
                    "look at the figure of its holds",
                    faults,
                );
                fate = Some(Fate::Never);
            }
        }
        for hold in &self.draft.holds {
            let Hold::Closed { from, to } = *hold else { continue };
            let waits = self.draft.give_up_days;
            if never_open(&self.due, waits, from, to) {
                self.note(
                    format!(
                        "is never done: it is due only while its hold \"closed {} to {}\" stands, and is \
                         given up after {waits} days",
                        day::show(from),
                        day::show(to)
                    ),
                    "a day outside of the closed season",
                    "move it, or the closed season",
                    faults,
                );
                fate = Some(Fate::Never);
            }
        }
        fate
    }

    /// A spray or a cue for weeds that the lawn is not stated to have: they are not played.
    fn weeds(&self, lawn: &Lawn, faults: &mut Faults) -> Option<Fate> {
        let played = |stand: Stand| match stand {
            Stand::Crabgrass => true,
            Stand::Broadleaf => lawn.dandelion.is_some() || lawn.clover.is_some(),
            Stand::Nutsedge => lawn.nutsedge.is_some(),
        };
        let waits = self.draft.holds.iter().any(|h| matches!(h, Hold::NothingToSpray { .. }));
        let missing = match (&self.built.program.practices[self.i].cue, &self.draft.what) {
            (Cue::WeedCover { stand, .. }, _) if !played(*stand) => stand.name(),
            (_, What::Spray(spray)) if waits && !spray.sought.stands().any(played) => {
                spray.sought.stands().next()?.name()
            }
            _ => return None,
        };
        self.note(
            format!("is never done: it waits for {missing}, and the lawn is not stated to have any"),
            "the share of the lawn that these weeds hold, under [lawn.seen]: only then are they played",
            "state it there, or leave the practice out",
            faults,
        );
        Some(Fate::Never)
    }

    /// Cues that hold against their own practice, or hardly ever call.
    fn cue(&self, faults: &mut Faults) -> Option<Fate> {
        match self.built.program.practices[self.i].cue {
            Cue::DrySoil { at_most, .. } => {
                let drier = |h: &Hold| matches!(h, Hold::Drier { than } if *than >= at_most);
                if self.draft.holds.iter().any(drier) {
                    self.note(
                        "is never done: it is due when the soil is dry, and its hold waits for wetter soil"
                            .to_string(),
                        "a hold below the share that calls it",
                        "drop the hold \"drier than\"",
                        faults,
                    );
                    return Some(Fate::Never);
                }
            }
            Cue::CanopyHeight { at_least_mm, .. } => {
                if let What::Mow { height_mm, .. } = self.draft.what
                    && at_least_mm <= height_mm
                {
                    self.note(
                        format!(
                            "comes to nothing: it is due at {}, and the deck stands at {}",
                            us_and_metric(at_least_mm, Kind::Depth),
                            us_and_metric(height_mm, Kind::Depth)
                        ),
                        "grass taller than the height of cut",
                        "a third above the height of cut is usual: 4 1/2 in for a cut at 3 in",
                        faults,
                    );
                }
            }
            Cue::SoilTemperature { at_least_c, from, to, .. } => {
                let winter = self.due.iter().all(|o| o.inside(DEAD_OF_WINTER.0, DEAD_OF_WINTER.1));
                if at_least_c >= SELDOM_SOIL_C || winter && at_least_c >= 10.0 {
                    self.note(
                        format!(
                            "hardly ever happens: between {} and {} the soil seldom stands at {}",
                            day::show(from),
                            day::show(to),
                            us_and_metric(at_least_c, Kind::Temperature)
                        ),
                        "a soil temperature that the place reaches in that window",
                        "soil-temperature = \"50 degF\" in spring, or another window",
                        faults,
                    );
                    return Some(Fate::HardlyEver);
                }
            }
            _ => {}
        }
        None
    }

    /// Windows, and waits for better weather, that visit days leave no room in.
    fn visits(&self, days: Weekdays, faults: &mut Faults) {
        let gap = days.widest_gap();
        if gap <= 1 {
            return;
        }
        let cue = &self.built.program.practices[self.i].cue;
        let windowed = matches!(
            cue,
            Cue::Every { .. }
                | Cue::CanopyHeight { .. }
                | Cue::DrySoil { .. }
                | Cue::DegreeDays { .. }
                | Cue::WeedCover { .. }
        );
        let narrow = self.due.iter().any(|o| o.last.0 - o.first.0 + 1 < gap);
        if windowed && narrow {
            self.note(
                format!(
                    "has a window shorter than the {gap} days from one visit day to the next: in some years no \
                     visit falls into it"
                ),
                "a window that holds a visit day in every year",
                "a wider window, or more visit days",
                faults,
            );
        }
        let once = i32::try_from(self.draft.give_up_days).is_ok_and(|wait| wait < gap);
        if once && !self.draft.holds.is_empty() {
            self.note(
                format!(
                    "is tried on one visit day only: the next comes after {gap} days, and it is given up after \
                     {}",
                    self.draft.give_up_days
                ),
                "a wait that reaches the next visit day",
                &format!("give-up = \"{gap} days\" or more"),
                faults,
            );
        }
    }

    /// Mowings that fall due in the dead of winter, where nothing but the crew's own eye keeps it away.
    fn winter(&self, faults: &mut Faults) {
        let spared = |h: &Hold| matches!(h, Hold::NothingToCut | Hold::ShorterThan { .. });
        let calls =
            matches!(self.built.program.practices[self.i].cue, Cue::Every { .. } | Cue::Dates(_));
        if !matches!(self.draft.what, What::Mow { .. })
            || !calls
            || self.draft.holds.iter().any(spared)
        {
            return;
        }
        if let Some((on, _)) = falls_in(&self.built.program, self.i, DEAD_OF_WINTER) {
            faults.caution(
                "mow-in-winter",
                &self.draft.cue_span,
                format!("`{}` is due on {}, when the grass does not grow", self.draft.key, day::show(on)),
                "mowing in the months in which grass grows",
                "a narrower window, or hold = [\"nothing to cut\"]: the visit costs, and wheels crush \
                 frosted grass",
            );
        }
    }
}
