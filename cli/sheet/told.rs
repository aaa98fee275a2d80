//! The sheet in words, once for terminal and page.

use std::collections::BTreeMap;

use sim::analysis::sheet::load::Dose;
use sim::analysis::sheet::{Plan, Purchase, Sheet, Sums, Tool, Visit};
use sim::scenario::{Cue, Fault, Hands, Practice, Program, Scenario, What};
use sim::weather::WeatherPlan;

use super::figures::{self, number};
use super::phrases::{Lang, Say};
use super::say::Voice;
use crate::words::figure::money;
use crate::words::name::upper_first;

/// What a sheet is told from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source<'a> {
    pub scenario: &'a Scenario,
    pub program: &'a Program,
    pub sheet: &'a Sheet,
    pub voice: Voice<'a>,
    /// Number of the member, from 1, and whether it was chosen as the typical one.
    pub member: (u32, bool),
    pub seed: u64,
    /// Cautions on this program.
    pub cautions: &'a [&'a Fault],
    /// Years to tell.
    pub years: &'a [i32],
}

/// One year.
#[derive(Clone, Debug)]
pub(super) struct Season {
    pub year: i32,
    pub planned: String,
    pub months: Vec<Month>,
    pub sum: String,
}

/// One month with work.
#[derive(Clone, Debug)]
pub(super) struct Month {
    pub name: String,
    pub sum: String,
    pub rows: Vec<Row>,
}

/// One line: a day, or days on which the same is done again and again.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// "10 May", "about 12 Apr", "2\u{2013}29 May".
    pub when: String,
    /// Days of the month, where there are several.
    pub days: Vec<String>,
    pub jobs: Vec<Told>,
    /// Of one day, where it stands for several.
    pub minutes: String,
    pub cost: String,
}

/// One practice in a line.
#[derive(Clone, Debug)]
pub(super) struct Told {
    /// "2. Barrier".
    pub name: String,
    pub does: String,
    pub loads: Vec<String>,
    pub notes: Vec<String>,
}

/// How a practice is done, once.
#[derive(Clone, Debug)]
pub(super) struct How {
    pub name: String,
    pub does: String,
    pub lines: Vec<String>,
    pub cautions: Vec<Caution>,
}

/// A caution of `vet`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Caution {
    /// What it is about, in the sheet's language; `None` where that is English.
    pub about: Option<&'static str>,
    /// As `vet` has it, in English.
    pub text: String,
}

impl<'a> Source<'a> {
    pub(super) fn lang(&self) -> Lang {
        self.voice.lang
    }

    fn practice(&self, at: u16) -> &'a Practice {
        &self.program.practices[usize::from(at)]
    }

    fn money(&self, amount: f64) -> String {
        money(amount.round(), &self.scenario.crew.currency)
    }

    /// Lines of the head, below its title.
    pub(super) fn head(&self) -> Vec<String> {
        let lang = self.lang();
        let area =
            figures::shown(self.scenario.lawn.area_m2, sim::quantity::Kind::Area, self.voice.units);
        let (member, typical) = self.member;
        let chosen = lang.say(if typical { Say::Typical } else { Say::Asked });
        let members = self.sheet.members.to_string();
        let mut lines = vec![
            lang.fill(Say::Care, &[&self.program.title]),
            lang.fill(Say::Lawn, &[&self.scenario.title, &area]),
            lang.fill(
                Say::OneFuture,
                &[&member.to_string(), &members, &self.seed.to_string(), chosen],
            ),
        ];
        if let WeatherPlan::Replay { from_year } = self.scenario.weather.plan {
            lines.push(lang.fill(Say::Replayed, &[&from_year.to_string()]));
        }
        lines.push(lang.say(Say::Legend).to_string());
        lines
    }

    /// The years asked for.
    pub(super) fn seasons(&self) -> Vec<Season> {
        self.years.iter().map(|year| self.season(*year)).collect()
    }

    fn season(&self, year: i32) -> Season {
        let lang = self.lang();
        let visits: Vec<&Visit> = self.sheet.of_year(year).collect();
        let sums = Sums::of(visits.iter().copied());
        let travel: f64 = visits.iter().map(|v| v.travel_minutes).sum();
        let hours = |minutes: f64| crate::round::spoken(minutes / 60.0, 0.1);
        let planned = lang.fill(
            Say::Planned,
            &[
                &sums.visits.to_string(),
                &hours(sums.minutes),
                &hours(travel),
                &self.money(sums.cost),
            ],
        );
        let months = visits.chunk_by(|a, b| a.day.ymd().1 == b.day.ymd().1);
        Season {
            year,
            planned,
            months: months.map(|visits| self.month(visits)).collect(),
            sum: self.sum(&sums),
        }
    }

    fn sum(&self, sums: &Sums) -> String {
        let say = if sums.visits == 1 { Say::MonthOneVisit } else { Say::MonthSum };
        let hours = crate::round::spoken(sums.minutes / 60.0, 0.1);
        self.lang().fill(say, &[&sums.visits.to_string(), &hours, &self.money(sums.cost)])
    }

    fn month(&self, visits: &[&Visit]) -> Month {
        // What is done again and again stands where its first day does.
        let mut folded: BTreeMap<Vec<u16>, usize> = BTreeMap::new();
        let mut groups: Vec<Vec<&Visit>> = Vec::new();
        for visit in visits {
            let routine = visit.routine(self.sheet);
            match routine.as_ref().and_then(|key| folded.get(key)) {
                Some(at) => groups[*at].push(visit),
                None => {
                    folded.extend(routine.map(|key| (key, groups.len())));
                    groups.push(vec![visit]);
                }
            }
        }
        let month = visits.first().map_or(1, |visit| visit.day.ymd().1);
        Month {
            name: upper_first(self.lang().month(month)),
            sum: self.sum(&Sums::of(visits.iter().copied())),
            rows: groups.iter().map(|group| self.row(group)).collect(),
        }
    }

    fn row(&self, group: &[&Visit]) -> Row {
        let first = group[0];
        let routine = first.routine(self.sheet).is_some();
        let jobs = first.jobs.iter().map(|job| {
            let at = job.call.practice;
            let mut told = self.told(at);
            if !self.plan(at).routine {
                let spread = self.voice.spread(&job.spread);
                told.notes.extend(Some(spread).filter(|spread| !spread.is_empty()));
            }
            told.notes.extend(self.voice.fate(job).filter(|_| !routine));
            told
        });
        let waits = first.jobs.iter().any(|job| {
            let at = job.call.practice;
            (routine || !self.plan(at).routine) && waits(&self.practice(at).cue)
        });
        let lang = self.lang();
        let when = figures::days(first.day, group[group.len() - 1].day, lang);
        let when = if waits { lang.fill(Say::About, &[&when]) } else { when };
        let several = group.iter().filter(|_| group.len() > 1);
        let days = several.map(|visit| visit.day.ymd().2.to_string()).collect();
        Row {
            when,
            days,
            jobs: jobs.collect(),
            minutes: number(first.minutes.round()),
            cost: self.money(first.cost),
        }
    }

    fn plan(&self, practice: u16) -> &'a Plan {
        &self.sheet.practices[usize::from(practice)]
    }

    fn told(&self, at: u16) -> Told {
        let practice = self.practice(at);
        let loads = self.plan(at).loads.iter().map(|load| {
            let told = self.voice.load(load);
            match (load.material.dose, &practice.what) {
                (Dose::Water(_), What::Water { .. }) => told,
                (Dose::Water(mm), _) => {
                    self.lang().fill(Say::WaterIn, &[&self.voice.depth(mm), &told])
                }
                _ => told,
            }
        });
        let by = match practice.by {
            Hands::Crew => None,
            Hands::Client => Some(Say::ByClient),
            Hands::House => Some(Say::ByHouse),
        };
        let (name, does) = self.named(at);
        Told {
            name,
            does,
            loads: loads.collect(),
            notes: by.map(|say| self.lang().say(say).to_string()).into_iter().collect(),
        }
    }

    /// Number and name of a practice, and what is done: "2. Barrier: ", "crabgrass barrier ..."; the name
    /// is left out where what is done begins with it.
    fn named(&self, at: u16) -> (String, String) {
        let practice = self.practice(at);
        let (name, does) = (self.voice.name(&practice.key), self.voice.does(&practice.what));
        let begun =
            upper_first(&does).strip_prefix(&name).is_some_and(|rest| rest.starts_with(' '));
        if begun {
            return (format!("{}. {name}", at + 1), does[name.len()..].to_string());
        }
        (format!("{}. {name}: ", at + 1), does)
    }

    /// How each practice is done, in the program's order.
    pub(super) fn hows(&self) -> Vec<How> {
        (0..self.program.practices.len() as u16).map(|at| self.how(at)).collect()
    }

    fn how(&self, at: u16) -> How {
        let (practice, plan) = (self.practice(at), self.plan(at));
        let lang = self.lang();
        let say = if waits(&practice.cue) { Say::Waits } else { Say::Fixed };
        let when = self.voice.when(&practice.cue, &self.program.practices);
        let mut lines = vec![format!("{} ({}).", upper_first(&when), lang.say(say))];
        lines.extend(Some(self.voice.holds(&practice.holds)).filter(|holds| !holds.is_empty()));
        if plan.routine {
            lines.extend(self.years.iter().map(|year| self.times(at, *year)));
        }
        lines.extend(plan.loads.iter().filter_map(|load| self.voice.divided(load)));
        if plan.treated < 1.0 {
            let area = self.scenario.lawn.area_m2 * plan.treated;
            let area = figures::shown(area, sim::quantity::Kind::Area, self.voice.units);
            lines.push(lang.fill(Say::TreatedShare, &[&area]));
        }
        let (name, does) = self.named(at);
        How { name, does, lines, cautions: self.cautions_on(&practice.key) }
    }

    /// "14 times in this future, 12 to 15 in nine of ten".
    fn times(&self, at: u16, year: i32) -> String {
        let has = |visit: &&Visit| visit.jobs.iter().any(|job| job.call.practice == at);
        let own = self.sheet.of_year(year).filter(has).count().to_string();
        let nth = self.sheet.years.iter().position(|y| *y == year).unwrap_or(0);
        let (least, most) = self.plan(at).times.get(nth).copied().unwrap_or_default();
        let told = if least == most {
            self.lang().fill(Say::TimesSame, &[&own, &least.to_string()])
        } else {
            self.lang().fill(Say::Times, &[&own, &least.to_string(), &most.to_string()])
        };
        format!("{year}: {told}.")
    }

    /// Cautions that name this practice. Those of a split one stand beside its first half.
    fn cautions_on(&self, key: &str) -> Vec<Caution> {
        self.told_once(|fault| names(fault, key))
    }

    fn told_once(&self, which: impl Fn(&Fault) -> bool) -> Vec<Caution> {
        let mut told: Vec<Caution> = Vec::new();
        for fault in self.cautions.iter().filter(|fault| which(fault)) {
            let about = self.lang().about(fault.code);
            let caution = Caution { about, text: caution(fault) };
            if !told.contains(&caution) {
                told.push(caution);
            }
        }
        told
    }

    /// Cautions on the program that name none of its practices.
    pub(super) fn cautions_on_all(&self) -> Vec<Caution> {
        self.told_once(|fault| !self.program.practices.iter().any(|p| names(fault, &p.key)))
    }

    /// Whether any practice is done with this tool.
    pub(super) fn uses(&self, tool: Tool) -> bool {
        let loads = |plan: &Plan| plan.loads.iter().any(|load| load.material.tool == tool);
        self.sheet.practices.iter().any(loads)
    }

    /// What to buy: name, and an amount for each year of the sheet.
    pub(super) fn purchases(&self) -> Vec<(String, Vec<String>)> {
        let told = |purchase: &Purchase| {
            let Purchase { material, amounts } = purchase;
            let name = match material.dose {
                Dose::Layer(_) => upper_first(self.voice.loose(material)),
                _ => material.name.clone(),
            };
            let amounts = amounts
                .iter()
                .map(|whole| self.voice.purchase(material.dose, material.tool, *whole))
                .collect();
            (name, amounts)
        };
        self.sheet.purchases().iter().map(told).collect()
    }

    /// What of the gear is only typical, in a sentence; empty where nothing is.
    pub(super) fn typical(&self) -> String {
        let bags = self.uses(Tool::Spreader) || self.uses(Tool::SlitSeeder);
        let sprayed = self.uses(Tool::Sprayer);
        let used = [bags, sprayed, sprayed, self.uses(Tool::Spreader)];
        let typical = self.voice.tools.typical(self.voice.units, used);
        if typical.is_empty() {
            return String::new();
        }
        self.lang().fill(Say::TypicalGear, &[&typical.join(", ")])
    }

    /// The cautions that concern this work, each once.
    pub(super) fn before_you_start(&self) -> Vec<String> {
        let what = |of: fn(&What) -> bool| self.program.practices.iter().any(|p| of(&p.what));
        let pesticide = what(What::is_pesticide);
        let laid = self.uses(Tool::Spreader) || self.uses(Tool::Sprayer);
        let mown = what(|what| matches!(what, What::Mow { .. }));
        let said = [
            (true, Say::LabelIsLaw),
            (pesticide || laid, Say::Licensed),
            (laid, Say::Gear),
            (laid, Say::Sweep),
            (mown, Say::Mower),
            (true, Say::NotChecked),
        ];
        let said = said.into_iter().filter(|(holds, _)| *holds);
        said.map(|(_, say)| self.lang().say(say).to_string()).collect()
    }
}

/// Whether a practice waits for weather, lawn or another practice, and not for a day.
pub(super) fn waits(cue: &Cue) -> bool {
    match cue {
        Cue::Dates(_) | Cue::Every { .. } => false,
        Cue::SoilTemperature { .. }
        | Cue::DegreeDays { .. }
        | Cue::CanopyHeight { .. }
        | Cue::DaysAfter { .. }
        | Cue::WeedCover { .. }
        | Cue::DrySoil { .. } => true,
    }
}

fn names(fault: &Fault, key: &str) -> bool {
    fault.message.contains(&format!("`{key}`"))
}

/// A caution as `vet` has it; how to mend it is for whoever plans.
fn caution(fault: &Fault) -> String {
    upper_first(&format!("{}; {}.", fault.message, fault.expected).replace('`', ""))
}
