//! Whether one track meets what was asked, and on which day it is first known that it does not.

use std::ops::Range;

use crate::calendar::{Day, MonthDay};
use crate::ensemble::{MEASURES, measure};
use crate::outcomes::{Almanac, outcome};
use crate::program::tap_mm;
use crate::scenario::{
    Budget, Fold, Goal, Need, Period, Program, Resource, Scenario, Seasons, Side,
};
use crate::season::Track;
use crate::work::{Act, WorkEntry};

/// One thing that is asked of a program.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// What it must bring.
    Need(Goal),
    /// What it may take.
    Budget(Budget),
}

/// What is asked, laid over the days of a run.
#[derive(Clone, Debug)]
pub struct Judge {
    rules: Vec<Rule>,
    first: Day,
    days: usize,
    area_m2: f64,
}

#[derive(Clone, Debug)]
enum Rule {
    /// A measure's column, its line, how days are taken together, and the stretches in which it must hold.
    Measure(usize, Need, Fold, Vec<Range<usize>>),
    /// An outcome's place, its side and line.
    Outcome(usize, Side, f64),
    /// A resource, the most of it, and the stretches in which it must last.
    Budget(Resource, f64, Vec<Range<usize>>),
}

/// Rounding may not break a budget or a share of days.
const SLACK: f64 = 1e-9;

/// Litres of water on a square metre are mm: m3 over an area are this many mm.
const MM_PER_M: f64 = 1000.0;

impl Judge {
    /// Lays what is asked over a scenario's days. What asks for a measure or an outcome that there is not
    /// asks for nothing.
    pub fn new(scenario: &Scenario, asked: &[Asked]) -> Judge {
        let almanac = Almanac::of_years(scenario.first_year, scenario.seasons);
        let years = scenario.years();
        let at = |day: Day| (day.0 - almanac.first().0).max(0) as usize;
        let within = |year: i32, (from, to): (MonthDay, MonthDay)| {
            at(from.in_year(year))..(at(to.in_year(year)) + 1).min(almanac.days())
        };
        let whole = (MonthDay { month: 1, day: 1 }, MonthDay { month: 12, day: 31 });
        let rule = |asked: &Asked| match asked {
            Asked::Need(Goal::Measure { need, fold, stretch, seasons }) => {
                let years = match seasons {
                    Seasons::Every => years.clone(),
                    Seasons::First => years.start..years.start + 1,
                    Seasons::Last => years.end - 1..years.end,
                };
                let stretches = years.map(|year| within(year, *stretch)).collect();
                Rule::Measure(measure(need.measure).unwrap_or(usize::MAX), *need, *fold, stretches)
            }
            Asked::Need(Goal::Outcome { key, side, line }) => {
                Rule::Outcome(outcome(key).unwrap_or(usize::MAX), *side, *line)
            }
            Asked::Budget(Budget { of, most, per }) => {
                let stretches = match per {
                    Period::Season => years.clone().map(|year| within(year, whole)).collect(),
                    Period::Run => std::iter::once(0..almanac.days()).collect(),
                };
                Rule::Budget(*of, *most, stretches)
            }
        };
        Judge {
            rules: asked.iter().map(rule).collect(),
            first: almanac.first(),
            days: almanac.days(),
            area_m2: scenario.lawn.area_m2,
        }
    }

    /// For each thing asked, the day, counted from the run's first, on which it is settled that a track
    /// does not meet it; `None` where it does.
    pub fn misses(&self, program: &Program, rows: &[f32], track: &Track) -> Vec<Option<u32>> {
        let miss = |rule| self.miss(rule, program, rows, track).map(|day| day as u32);
        self.rules.iter().map(miss).collect()
    }

    /// Whether a track meets everything.
    pub fn holds(&self, program: &Program, rows: &[f32], track: &Track) -> bool {
        self.rules.iter().all(|rule| self.miss(rule, program, rows, track).is_none())
    }

    /// What one thing asked is about, day by day: the measure, or what was taken of a budget since its
    /// time began; `None` for an outcome, which only the end shows.
    pub fn series(
        &self,
        asked: usize,
        program: &Program,
        rows: &[f32],
        track: &Track,
    ) -> Option<Vec<f64>> {
        match self.rules.get(asked)? {
            Rule::Measure(column, ..) => {
                let value = |row: &[f32]| row.get(*column).copied().map_or(f64::NAN, f64::from);
                Some(rows.chunks_exact(MEASURES.len()).map(value).collect())
            }
            Rule::Budget(of, _, stretches) => {
                let mut taken = vec![0.0; self.days];
                for entry in &track.work {
                    if let Some(day) = taken.get_mut((entry.day.0 - self.first.0).max(0) as usize) {
                        *day += self.taken(*of, program, entry);
                    }
                }
                for days in stretches {
                    let mut sum = 0.0;
                    for day in &mut taken[days.clone()] {
                        sum += *day;
                        *day = sum;
                    }
                }
                Some(taken)
            }
            Rule::Outcome(..) => None,
        }
    }

    /// Days, counted from the run's first, in which one thing asked is looked at.
    pub fn stretches(&self, asked: usize) -> Vec<Range<usize>> {
        match self.rules.get(asked) {
            Some(Rule::Measure(_, _, _, all) | Rule::Budget(_, _, all)) => all.clone(),
            _ => vec![],
        }
    }

    fn miss(&self, rule: &Rule, program: &Program, rows: &[f32], track: &Track) -> Option<usize> {
        match rule {
            Rule::Measure(column, need, fold, stretches) => {
                let value =
                    |day: usize| rows.get(day * MEASURES.len() + column).copied().map(f64::from);
                stretches.iter().find_map(|days| missed(days, need, *fold, &value))
            }
            Rule::Outcome(at, side, line) => {
                let value = track.outcomes.get(*at)?;
                (!side.met(*value, *line)).then(|| self.days.saturating_sub(1))
            }
            Rule::Budget(of, most, stretches) => stretches.iter().find_map(|days| {
                let mut spent = 0.0;
                track.work.iter().find_map(|entry| {
                    let day = (entry.day.0 - self.first.0).max(0) as usize;
                    spent +=
                        if days.contains(&day) { self.taken(*of, program, entry) } else { 0.0 };
                    (spent > most + SLACK * most.max(1.0)).then_some(day)
                })
            }),
        }
    }

    /// What one act takes of a resource.
    fn taken(&self, of: Resource, program: &Program, entry: &WorkEntry) -> f64 {
        let tap = || match (entry.act, program.practices.get(usize::from(entry.practice))) {
            (Act::Wet { .. }, Some(practice)) => tap_mm(&practice.what),
            _ => 0.0,
        };
        match of {
            Resource::Money => entry.cost,
            Resource::Hours => entry.minutes / 60.0,
            Resource::WaterDepth => tap(),
            Resource::WaterVolume => tap() / MM_PER_M * self.area_m2,
            Resource::Nitrogen => match entry.act {
                Act::LayNitrogen(nitrogen) => nitrogen.total_g_m2(),
                _ => 0.0,
            },
        }
    }
}

/// The day on which a stretch of days is known to miss a need.
fn missed(
    days: &Range<usize>,
    need: &Need,
    fold: Fold,
    value: &impl Fn(usize) -> Option<f64>,
) -> Option<usize> {
    match fold {
        Fold::Days(share) => {
            let spare = (1.0 - share) * days.len() as f64 + SLACK;
            let mut bad = 0.0;
            days.clone().find(|day| {
                bad += if value(*day).is_some_and(|v| !need.met(v)) { 1.0 } else { 0.0 };
                bad > spare
            })
        }
        Fold::Mean => {
            let all: Vec<f64> = days.clone().filter_map(value).collect();
            let mean = all.iter().sum::<f64>() / all.len() as f64;
            (!all.is_empty() && !need.met(mean)).then(|| days.end - 1)
        }
        Fold::Last => {
            let last = days.clone().next_back()?;
            value(last).is_some_and(|v| !need.met(v)).then_some(last)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::goal;

    fn need(text: &str) -> Need {
        match goal(text) {
            Ok(Goal::Measure { need, .. }) => need,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_share_of_days_is_missed_when_too_few_are_left() {
        // Good on the first 5 of 10 days: at 60 % the fifth bad day is one too many.
        let quality = |day: usize| Some(if day < 15 { 7.0 } else { 5.0 });
        let need = need("quality >= 6 on all days");
        let miss = |share| missed(&(10..20), &need, Fold::Days(share), &quality);
        assert_eq!(miss(0.6), Some(19));
        assert_eq!(miss(0.5), None);
        assert_eq!(miss(1.0), Some(15));
        assert_eq!(missed(&(10..20), &need, Fold::Mean, &quality), None);
        assert_eq!(missed(&(12..20), &need, Fold::Mean, &quality), Some(19));
        assert_eq!(missed(&(10..15), &need, Fold::Last, &quality), None);
        assert_eq!(missed(&(10..16), &need, Fold::Last, &quality), Some(15));
    }

    #[test]
    fn every_name_of_a_need_is_a_measure_or_an_outcome() {
        for text in [
            "quality",
            "colour",
            "crabgrass",
            "turf cover",
            "green cover",
            "bare ground",
            "broadleaf weeds",
            "clover",
            "nutsedge",
        ] {
            let value = if matches!(text, "quality" | "colour") { "5" } else { "5 %" };
            let goal = goal(&format!("{text} < {value} on all days"));
            let Ok(Goal::Measure { need, .. }) = goal else { panic!("{text}: {goal:?}") };
            assert!(measure(need.measure).is_some(), "{text}");
        }
        for text in [
            "summer quality > 5",
            "acceptable days > 90",
            "organic matter change > 0.1 %",
            "nitrogen leached < 0.2 lb N/1000 ft2",
            "runoff < 4 in",
            "visits < 30",
            "mowings < 30",
            "crew hours < 20 h",
        ] {
            let goal = goal(text);
            let Ok(Goal::Outcome { key, .. }) = goal else { panic!("{text}: {goal:?}") };
            assert!(outcome(key).is_some(), "{text}");
        }
    }
}
