//! The dated work of one program in one member, with what to load for it: a work sheet.
//!
//! Days are those of the member. Amounts, minutes and money are the program's own, without the slips
//! of the hand: what a crew should load, not what it happened to lay. Work that the member lost is in
//! it too, on the day on which it was due, since a plan should not forget what a crew forgot; but for
//! mowings and waterings that weather kept from being done, since the next one takes their place.

mod calls;
pub mod load;
mod materials;

use std::collections::BTreeMap;

pub use calls::{Call, Slot, Spread};
pub use materials::{Material, TOPSOIL, Tool, is_routine, materials};

use crate::calendar::Day;
use crate::ensemble::ProgramResults;
use crate::outcomes::Almanac;
use crate::program::{Toll, travel};
use crate::scenario::{Hands, Program, Scenario, What};
use crate::season::Script;
use crate::work::{Act, Fate, WorkEntry};
use load::Dose;

/// The work of one program in one member.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Days with work, in order.
    pub visits: Vec<Visit>,
    /// What each practice takes, in the program's order.
    pub practices: Vec<Plan>,
    /// Years of the run.
    pub years: Vec<i32>,
    /// Members behind the spreads.
    pub members: u32,
}

/// What one visit of a practice loads, and how often it comes.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Materials for the whole lawn, or for what of it is treated.
    pub loads: Vec<Load>,
    /// Share of the lawn that its product goes on, 0..=1.
    pub treated: f64,
    /// Whether it is done again and again and loads nothing but water.
    pub routine: bool,
    /// By year: how often at the least and at the most in nine of ten members.
    pub times: Vec<(u32, u32)>,
}

/// One material with its amount for this lawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// The material.
    pub material: Material,
    /// Area that it goes on, m2.
    pub area_m2: f64,
    /// How much: kg dry, L of a liquid or of water, m3 of a layer.
    pub amount: f64,
}

/// One day with work.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// The day.
    pub day: Day,
    /// What is done, in order.
    pub jobs: Vec<Job>,
    /// Minutes of one person, travel included.
    pub minutes: f64,
    /// Travel and set-up among them, minutes; 0 where nobody needs to come.
    pub travel_minutes: f64,
    /// Labour, product and water, in the scenario's currency.
    pub cost: f64,
}

/// One practice on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Job {
    /// The call that it answers.
    pub call: Call,
    /// How that call fares over the members.
    pub spread: Spread,
    /// Minutes of one person, without travel.
    pub minutes: f64,
    /// Labour, product and water, without travel and without what is missing to the least visit, in the
    /// scenario's currency.
    pub cost: f64,
    /// Whose hands do it.
    pub by: Hands,
}

/// Sums over some visits.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sums {
    /// Days on which the crew comes.
    pub visits: u32,
    /// Minutes of one person.
    pub minutes: f64,
    /// Labour, product and water, in the scenario's currency.
    pub cost: f64,
}

/// What of one material a year takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// The material; its dose is that of the first load.
    pub material: Material,
    /// By year: kg, L or m3.
    pub amounts: Vec<f64>,
}

impl Sheet {
    /// The sheet of `program`, whose results are `results`, in the member of this number, from 0; `None`
    /// where that member's work was not kept.
    pub fn new(
        scenario: &Scenario,
        program: &Program,
        results: &ProgramResults,
        member: u32,
    ) -> Option<Sheet> {
        let almanac = Almanac::of_years(scenario.first_year, scenario.seasons);
        let script = Script::new(scenario, program, &almanac);
        let logs = results.work.iter().zip(&results.setbacks);
        let all: Vec<Vec<Vec<Call>>> =
            logs.map(|(work, setbacks)| calls::calls(program, work, setbacks)).collect();
        let own = all.get(member as usize)?;
        let of = |practice: usize| all.iter().map(move |member| member[practice].as_slice());
        let years: Vec<i32> = scenario.years().collect();
        let spots: Vec<f64> = (0..program.practices.len())
            .map(|at| usual_spots(&script, results, at as u16))
            .collect();
        let practices = program.practices.iter().enumerate().map(|(at, practice)| {
            let treated = script.treated(at as u16);
            let load = |material: Material| {
                let laid = treated * if in_spots(&practice.what) { spots[at] } else { 1.0 };
                let part = if material.tool == Tool::Sprinkler { 1.0 } else { laid };
                let area_m2 = scenario.lawn.area_m2 * part;
                Load { amount: material.dose.on(area_m2), area_m2, material }
            };
            Plan {
                loads: materials(&practice.what).into_iter().map(load).collect(),
                treated,
                routine: is_routine(&practice.what),
                times: years.iter().map(|year| calls::times(*year, of(at))).collect(),
            }
        });
        let practices: Vec<Plan> = practices.collect();
        let plain = |call: &Call| match call.fate {
            Some((Fate::NotNeeded, _)) => false,
            Some((Fate::GivenUp | Fate::WindowClosed, _)) => {
                !practices[usize::from(call.practice)].routine
            }
            _ => true,
        };
        let visits =
            days(own, &results.work[member as usize], plain).into_iter().map(|(day, calls)| {
                let spread = |call: &Call| calls::spread(call.slot, of(usize::from(call.practice)));
                visit(scenario, program, (&script, &spots), (day, &calls), spread)
            });
        Some(Sheet { visits: visits.collect(), practices, years, members: all.len() as u32 })
    }

    /// Days of one year.
    pub fn of_year(&self, year: i32) -> impl Iterator<Item = &Visit> {
        self.visits.iter().filter(move |visit| visit.day.ymd().0 == year)
    }

    /// What of each material the visits of each year take together, in the order in which they come.
    /// Water is not bought in bags and is left out.
    pub fn purchases(&self) -> Vec<Purchase> {
        let mut all: Vec<Purchase> = Vec::new();
        for visit in &self.visits {
            let year = self.years.iter().position(|y| *y == visit.day.ymd().0);
            let Some(year) = year else { continue };
            for job in &visit.jobs {
                for load in &self.practices[usize::from(job.call.practice)].loads {
                    let Load { material, amount, .. } = load;
                    if matches!(material.dose, Dose::Water(_)) {
                        continue;
                    }
                    let same = |p: &&mut Purchase| {
                        p.material.name == material.name && p.material.tool == material.tool
                    };
                    let at = match all.iter_mut().find(same) {
                        Some(found) => found,
                        None => {
                            let amounts = vec![0.0; self.years.len()];
                            all.push(Purchase { material: material.clone(), amounts });
                            all.last_mut().expect("just pushed")
                        }
                    };
                    at.amounts[year] += amount;
                }
            }
        }
        all
    }
}

impl Sums {
    /// Of some visits.
    pub fn of<'v>(visits: impl Iterator<Item = &'v Visit>) -> Sums {
        visits.fold(Sums::default(), |sums, visit| Sums {
            visits: sums.visits + u32::from(visit.by_crew()),
            minutes: sums.minutes + visit.minutes,
            cost: sums.cost + visit.cost,
        })
    }
}

impl Visit {
    /// Whether the crew comes for any of it.
    pub fn by_crew(&self) -> bool {
        self.jobs.iter().any(|job| job.by == Hands::Crew)
    }

    /// Whether all of it is done again and again: its practices in order, then.
    pub fn routine(&self, sheet: &Sheet) -> Option<Vec<u16>> {
        let plan = |job: &Job| &sheet.practices[usize::from(job.call.practice)];
        let all = self.jobs.iter().all(|job| plan(job).routine);
        all.then(|| self.jobs.iter().map(|job| job.call.practice).collect())
    }
}

/// Calls by the day on which they stand in the sheet, those done in the order of the work log, then
/// those lost; `plain` tells which of the calls are work.
fn days(
    own: &[Vec<Call>],
    work: &[WorkEntry],
    plain: impl Fn(&Call) -> bool,
) -> BTreeMap<Day, Vec<Call>> {
    let mut days: BTreeMap<Day, Vec<Call>> = BTreeMap::new();
    for call in own.iter().flatten() {
        if plain(call) {
            days.entry(call.done.unwrap_or(call.due)).or_default().push(*call);
        }
    }
    for (day, calls) in &mut days {
        let place = |call: &Call| {
            let done = work.iter().position(|w| w.day == *day && w.practice == call.practice);
            call.done.and(done).unwrap_or(usize::MAX)
        };
        calls.sort_by_key(place);
    }
    days
}

/// Whether a practice treats only spots of the lawn.
fn in_spots(what: &What) -> bool {
    matches!(what, What::Spray(spray) if spray.spots)
}

/// Share of the ground to be treated that a practice takes where it treats spots: the middle one of
/// all its visits in all members; all of it where it never came.
fn usual_spots(script: &Script, results: &ProgramResults, practice: u16) -> f64 {
    let treated = script.treated(practice);
    let sprayed = |e: &&WorkEntry| e.practice == practice && matches!(e.act, Act::Spray { .. });
    let entries = results.work.iter().flatten().filter(sprayed);
    let mut shares: Vec<f64> = entries.map(|e| e.ground / treated).collect();
    shares.sort_by(f64::total_cmp);
    shares.get(shares.len() / 2).copied().unwrap_or(1.0)
}

fn visit(
    scenario: &Scenario,
    program: &Program,
    (script, spots): (&Script, &[f64]),
    (day, calls): (Day, &[Call]),
    spread: impl Fn(&Call) -> Spread,
) -> Visit {
    let crew = &scenario.crew;
    let order: Vec<(u16, f64)> =
        calls.iter().map(|call| (call.practice, spots[usize::from(call.practice)])).collect();
    let sum = |entries: &[WorkEntry]| Toll {
        minutes: entries.iter().map(|e| e.minutes).sum(),
        cost: entries.iter().map(|e| e.cost).sum(),
    };
    let whole = sum(&script.planned(day, &order));
    let by = |call: &Call| program.practices[usize::from(call.practice)].by;
    let comes = calls.iter().any(|call| by(call) == Hands::Crew);
    let jobs = calls.iter().map(|call| {
        let alone = script.planned_alone(call.practice, spots[usize::from(call.practice)]);
        Job {
            call: *call,
            spread: spread(call),
            minutes: alone.minutes,
            cost: alone.cost,
            by: by(call),
        }
    });
    Visit {
        day,
        jobs: jobs.collect(),
        minutes: whole.minutes,
        travel_minutes: if comes { travel(crew).minutes } else { 0.0 },
        cost: whole.cost,
    }
}
