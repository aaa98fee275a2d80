//! Plays every setting on the two sets of members and scores them.

use super::score::{Score, Verdict, best, score, verdict, width};
use super::turn::Point;
use crate::ensemble::{Observer, RunFault, RunPlan, tracks};
use crate::outcomes::OUTCOMES;
use crate::parameters::Catalogue;
use crate::scenario::{Fault, Program, day_of_year};
use crate::season::Track;

/// What is to be swept.
#[derive(Clone, Copy, Debug)]
pub struct Order<'a> {
    /// The program as the scenario has it.
    pub own: &'a Program,
    /// Its value of the setting, where it has one.
    pub own_value: Option<f64>,
    /// Every setting, rising; those without a program are passed over.
    pub points: &'a [Point],
    /// Key of the practice whose dates are looked at ("barrier/second" for a second half); that of
    /// a program without it are not.
    pub watched: &'a str,
    /// Index of the outcome in [`OUTCOMES`].
    pub outcome: usize,
}

/// One setting, played.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// Its value, in the setting's own unit; `None` for a program that does without.
    pub value: Option<f64>,
    /// Whether it is the program as the scenario has it.
    pub own: bool,
    /// Every outcome of each fresh member, `[outcome][member]`.
    pub outcomes: Vec<Vec<f64>>,
    /// Scores on the members that chose the best.
    pub first: Score,
    /// Scores on the fresh members.
    pub fresh: Score,
    /// Middle day of the year, from 0, on which the practice is first done in a season (fresh
    /// members); `None` where it never is.
    pub usual_day: Option<f64>,
    /// Fresh members in which a whole season goes by without it.
    pub never: u32,
    /// What a person should look at there.
    pub cautions: Vec<Fault>,
}

/// A sweep, played.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    /// Settings on the axis, rising.
    pub settings: Vec<Setting>,
    /// The program as it is, where it is none of the settings.
    pub apart: Option<Setting>,
    /// Index in `settings` of the best on the first members; `None` where the outcome has no better
    /// side.
    pub best: Option<usize>,
    /// What the fresh members show.
    pub verdict: Verdict,
    /// What they show by each of the other outcomes, each with a best of its own, in the order of
    /// [`OUTCOMES`]; the one that was asked for among them.
    pub by_outcome: Vec<(Option<usize>, Verdict)>,
    /// Members of each set.
    pub members: u32,
    /// Calendar years of record behind the weather.
    pub record_years: u32,
}

impl Sweep {
    /// The program as the scenario has it.
    pub fn own(&self) -> Option<&Setting> {
        self.settings.iter().find(|setting| setting.own).or(self.apart.as_ref())
    }
}

/// What is kept of a track.
struct Kept {
    outcomes: Vec<f64>,
    /// First day of the watched practice in each whole season that the program had.
    firsts: Vec<Option<f64>>,
}

/// Plays a sweep. The plan's members are those of each set; the observer hears of both. Where members
/// are chosen by what was seen of the lawn, the two sets stem from different candidates, but for one
/// that may reach into both.
///
/// # Errors
/// See [`RunFault`]; [`RunFault::NoPrograms`] where no setting may be played.
pub fn sweep(
    plan: &RunPlan,
    catalogue: &Catalogue,
    order: &Order,
    observer: Observer,
) -> Result<Sweep, RunFault> {
    let points: Vec<(&Point, &Program)> =
        order.points.iter().filter_map(|p| Some((p, p.program.as_ref()?))).collect();
    if points.is_empty() {
        return Err(RunFault::NoPrograms);
    }
    let is_own = |point: &Point| order.own_value == Some(point.value);
    let apart = !points.iter().any(|(point, _)| is_own(point));
    let mut played: Vec<Program> = points.iter().map(|(_, program)| (*program).clone()).collect();
    if apart {
        played.push(order.own.clone());
    }
    let scenario = plan.scenario.with_programs(&played);
    let members = plan.members;
    let both = RunPlan { scenario: &scenario, members: members.saturating_mul(2), ..*plan };
    let watched: Vec<Option<u16>> = played.iter().map(|p| place(p, order.watched)).collect();
    // What was done before a lawn's own past ends is in no work log.
    let year = scenario.first_year + i32::from(scenario.scouting.is_some());
    let end = scenario.first_year.saturating_add_unsigned(scenario.seasons.max(1));
    let keep = |program: usize, track: Track| Kept {
        firsts: watched.get(program).copied().flatten().map_or(vec![], |practice| {
            (year..end).map(|year| first_of(&track, practice, year)).collect()
        }),
        outcomes: track.outcomes,
    };
    let kept = tracks(&both, catalogue, observer, keep)?;
    let sets = Sets::of(kept, played.len(), members);
    let by_outcome: Vec<(Option<usize>, Verdict)> =
        (0..OUTCOMES.len()).map(|outcome| sets.judge(outcome, points.len())).collect();
    let (best, verdict) = by_outcome[order.outcome].clone();
    let setting = |at: usize, value, own, cautions| {
        sets.setting(at, order.outcome, best, value, own, cautions)
    };
    let settings: Vec<Setting> = points
        .iter()
        .enumerate()
        .map(|(at, (point, _))| {
            setting(at, Some(point.value), is_own(point), point.cautions.clone())
        })
        .collect();
    Ok(Sweep {
        verdict,
        by_outcome,
        apart: apart.then(|| setting(points.len(), order.own_value, true, vec![])),
        settings,
        best,
        members,
        record_years: plan.record.years(),
    })
}

/// What was kept of both sets of members: those that choose come first, those that judge after them.
struct Sets {
    /// `[member][program]`
    kept: Vec<Vec<Kept>>,
    /// `[program][outcome][member]`
    all: Vec<Vec<Vec<f64>>>,
    /// Members of each set.
    split: usize,
    /// Standard errors that chance may reach among so many programs.
    width: f64,
}

impl Sets {
    fn of(kept: Vec<Vec<Kept>>, programs: usize, members: u32) -> Sets {
        let of = |program: usize, outcome: usize| {
            let played = kept.iter().filter_map(|member| member.get(program));
            played.map(|kept| kept.outcomes[outcome]).collect()
        };
        let all = (0..programs)
            .map(|at| (0..OUTCOMES.len()).map(|outcome| of(at, outcome)).collect())
            .collect();
        Sets { all, kept, split: members as usize, width: width(programs, members) }
    }

    fn first(&self, at: usize, outcome: usize) -> &[f64] {
        &self.all[at][outcome][..self.split]
    }

    fn fresh(&self, at: usize, outcome: usize) -> &[f64] {
        &self.all[at][outcome][self.split..]
    }

    /// The best of the first programs by an outcome, and what the fresh members say of it.
    fn judge(&self, outcome: usize, programs: usize) -> (Option<usize>, Verdict) {
        let kind = &OUTCOMES[outcome];
        let on_axis: Vec<&[f64]> = (0..programs).map(|at| self.first(at, outcome)).collect();
        let best = best(kind, &on_axis);
        let fresh = |at: usize| self.fresh(at, outcome);
        let scores: Vec<Score> =
            (0..programs).map(|at| score(kind, fresh(at), best.map(fresh), self.width)).collect();
        (best, verdict(kind, &scores))
    }

    fn setting(
        &self,
        at: usize,
        outcome: usize,
        best: Option<usize>,
        value: Option<f64>,
        own: bool,
        cautions: Vec<Fault>,
    ) -> Setting {
        let kind = &OUTCOMES[outcome];
        let (first, fresh) = (|at| self.first(at, outcome), |at| self.fresh(at, outcome));
        let firsts = || {
            let judging = self.kept.iter().filter_map(|member| member.get(at)).skip(self.split);
            judging.map(|kept| &kept.firsts)
        };
        let mut days: Vec<f64> = firsts().flatten().filter_map(|day| *day).collect();
        days.sort_by(f64::total_cmp);
        Setting {
            value,
            own,
            outcomes: self.all[at].iter().map(|values| values[self.split..].to_vec()).collect(),
            first: score(kind, first(at), best.map(first), self.width),
            fresh: score(kind, fresh(at), best.map(fresh), self.width),
            usual_day: days.get(days.len() / 2).copied(),
            never: firsts().filter(|days| days.iter().any(Option::is_none)).count() as u32,
            cautions,
        }
    }
}

/// Index of a practice in its program.
fn place(program: &Program, key: &str) -> Option<u16> {
    let at = program.practices.iter().position(|practice| practice.key == key)?;
    u16::try_from(at).ok()
}

/// Day of a year, from 0, on which a practice was first done in it.
fn first_of(track: &Track, practice: u16, year: i32) -> Option<f64> {
    let done = track.work.iter().find(|e| e.practice == practice && e.day.ymd().0 == year)?;
    Some(day_of_year(done.day.month_day()))
}
