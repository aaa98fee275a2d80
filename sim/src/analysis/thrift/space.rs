//! What may be changed of a program, and the program with it changed, as a scenario would write it.
//!
//! Every try is written out as a program of its own and goes through the check of a scenario. What the
//! check refuses, or warns of where it did not warn of the program as it was, may not be tried: label
//! figures, nitrogen ceilings, rules of the place and typical ranges bound the search.

use std::collections::{BTreeMap, BTreeSet};

use super::race::{Knob, Try};
use crate::analysis::when::{Asked, values};
use crate::calendar::MonthDay;
use crate::quantity::{Units, show};
use crate::scenario::{
    Checked, Dial, Fault, Measure, PracticeText, Program, Severity, day_of_year, dials,
    practice_texts, show_day,
};

/// Settings of no interest to who wants to spend less, unless somebody names them: how long a held
/// practice waits, and what describes a product.
const LEFT_ALONE: [&str; 10] = [
    "give-up",
    "for",
    "base",
    "at-least-apart",
    "slow",
    "slow-lasts",
    "pure-live-seed",
    "strength",
    "neutralizing-value",
    "density",
];

/// The setting that holds the dates of a practice.
const DATES: &str = "on";

/// Ways of saying when in which the window decides how often something is done.
const AGAIN: [&str; 3] = ["every", "canopy-height", "dry-soil"];

/// Days between which one date more is tried: our judgement.
const ONE_MORE: (MonthDay, MonthDay) =
    (MonthDay { month: 3, day: 15 }, MonthDay { month: 11, day: 1 });
/// How many dates of it.
const ONE_MORE_STEPS: usize = 12;

/// What a person narrows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Limits {
    /// Practices, or settings ("mow.height"), that stay as they are.
    pub keep: Vec<String>,
    /// Settings with the ends between which they may go, in the setting's own unit.
    pub vary: Vec<(String, f64, f64)>,
}

/// What of a practice is changed.
#[derive(Clone, Debug, PartialEq)]
pub enum Turn {
    /// Whether it is done at all: the second level leaves it out.
    Drop,
    /// The practice as other programs of the scenario have it, behind the first level, which is as this
    /// one has it: without it, where it has none of this key.
    Take(Vec<Taken>),
    /// One of its settings, its own among the levels; `None` is without it: a barrier all at once, or one
    /// date less.
    Dial {
        /// The setting.
        dial: Dial,
        /// Which of several dates; one more than there are, where it is a further one.
        nth: usize,
        /// Its levels, without it first, then rising.
        levels: Vec<Option<f64>>,
    },
}

/// A practice of another program of the scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Title of the first program that has it so.
    pub title: String,
    text: PracticeText,
}

/// A program that is searched from.
#[derive(Clone, Debug, PartialEq)]
pub struct Start {
    /// The program.
    pub program: Program,
    /// Its practices as text.
    texts: Vec<PracticeText>,
    /// Index of a practice, and what of it is changed; those that the program lacks come behind its own.
    turns: Vec<(usize, Turn, Knob)>,
    /// What the check says of it as it is.
    known: BTreeSet<String>,
}

/// All that may be tried.
pub struct Space<'c> {
    text: &'c str,
    check: &'c dyn Fn(&str) -> Result<Checked, Vec<Fault>>,
    units: Units,
    starts: Vec<Start>,
    programs: BTreeMap<Try, Program>,
    /// How many tries were refused, by the code of the first reason.
    pub refused: BTreeMap<&'static str, u32>,
}

/// Id of a program that is tried.
pub const TRIED: &str = "thrift-tried";

impl<'c> Space<'c> {
    /// What may be changed of some programs of a scenario that passed its check.
    ///
    /// # Errors
    /// Where a program cannot be written out by itself, with the reason.
    pub fn new(
        text: &'c str,
        check: &'c dyn Fn(&str) -> Result<Checked, Vec<Fault>>,
        programs: &[&Program],
        limits: &Limits,
        units: Units,
    ) -> Result<Space<'c>, Vec<Fault>> {
        let mut space = Space {
            text,
            check,
            units,
            starts: vec![],
            programs: BTreeMap::new(),
            refused: BTreeMap::new(),
        };
        let every = (space.check)(text)?.scenario.programs;
        let all: Vec<(&str, Vec<PracticeText>)> = every
            .iter()
            .map(|p| (p.title.as_str(), practice_texts(text, &p.id).unwrap_or_default()))
            .collect();
        for program in programs {
            let texts = practice_texts(text, &program.id).unwrap_or_default();
            let (_, cautions) = space.checked(&texts)?;
            let known = cautions.into_iter().map(|c| c.message).collect();
            let mut turns = turns(text, program, &texts, limits, units);
            turns.extend(takes(&texts, &all, limits));
            space.starts.push(Start { program: (*program).clone(), texts, turns, known });
        }
        Ok(space)
    }

    /// The programs that are searched from.
    pub fn starts(&self) -> &[Start] {
        &self.starts
    }

    /// Their knobs.
    pub fn knobs(&self) -> Vec<Vec<Knob>> {
        let of = |start: &Start| start.turns.iter().map(|(_, _, knob)| *knob).collect();
        self.starts.iter().map(of).collect()
    }

    /// A try with the own settings of every practice that it leaves out or takes from another program.
    pub fn plain(&self, mut one: Try) -> Try {
        let turns = &self.starts[one.start].turns;
        let done = |place: usize, what: fn(&Turn) -> bool| {
            turns
                .iter()
                .zip(&one.levels)
                .any(|((at, turn, knob), level)| *at == place && what(turn) && *level != knob.own)
        };
        let dropped = |place| done(place, |turn| matches!(turn, Turn::Drop));
        let taken = |place| done(place, |turn| matches!(turn, Turn::Take(_)));
        let gone: Vec<bool> = turns
            .iter()
            .map(|(place, turn, _)| match turn {
                Turn::Drop => false,
                Turn::Take(_) => dropped(*place),
                Turn::Dial { .. } => dropped(*place) || taken(*place),
            })
            .collect();
        for ((level, (_, _, knob)), gone) in one.levels.iter_mut().zip(turns).zip(gone) {
            if gone {
                *level = knob.own;
            }
        }
        one
    }

    /// Whether a try may be played and is no program that was tried before.
    pub fn allowed(&mut self, one: &Try) -> bool {
        if self.programs.contains_key(one) {
            return true;
        }
        let start = &self.starts[one.start];
        let own = start.turns.iter().zip(&one.levels).all(|((_, _, knob), l)| knob.own == *l);
        let program = if own {
            start.program.clone()
        } else {
            let Some(texts) = self.texts(one) else { return false };
            match self.checked(&texts) {
                Ok((program, cautions)) => {
                    let known = &self.starts[one.start].known;
                    let new = cautions.iter().find(|c| !known.contains(&c.message));
                    if let Some(caution) = new {
                        *self.refused.entry(caution.code).or_default() += 1;
                        return false;
                    }
                    program
                }
                Err(faults) => {
                    let error = faults.iter().find(|fault| fault.severity == Severity::Error);
                    let code = error.map_or("unknown", |f| f.code);
                    *self.refused.entry(code).or_default() += 1;
                    return false;
                }
            }
        };
        let mut before = self.programs.values().chain(self.starts.iter().map(|s| &s.program));
        if !own && before.any(|other| other.practices == program.practices) {
            return false;
        }
        self.programs.insert(one.clone(), program);
        true
    }

    /// The program of a try that is allowed.
    pub fn program(&self, one: &Try) -> Option<&Program> {
        self.programs.get(one)
    }

    /// A try as it could be added to the scenario.
    pub fn written(&self, one: &Try, id: &str, title: &str) -> Option<String> {
        let texts = self.texts(one)?;
        // Escaped as TOML wants it: a basic string.
        let title = title.replace('\\', "\\\\").replace('"', "\\\"");
        Some(format!("[[program]]\nid = \"{id}\"\ntitle = \"{title}\"\n{}", listed(&texts)))
    }

    /// What a try takes from other programs: key of the practice, title of the program.
    pub fn taken(&self, one: &Try) -> Vec<(&str, &str)> {
        let start = &self.starts[one.start];
        let taken = start.turns.iter().zip(&one.levels).filter_map(|((_, turn, knob), level)| {
            let Turn::Take(all) = turn else { return None };
            let at = level.checked_sub(1).filter(|_| *level != knob.own)?;
            all.get(at).map(|taken| (taken.text.key.as_str(), taken.title.as_str()))
        });
        taken.collect()
    }

    /// How many programs were let through.
    pub fn tried(&self) -> usize {
        self.programs.len()
    }

    /// How many knobs all starts have together.
    pub fn size(&self) -> usize {
        self.starts.iter().map(|start| start.turns.len()).sum()
    }

    /// The settings of a try that lie at the end of what was tried, where a scenario could say more.
    pub fn at_the_end(&self, one: &Try) -> Vec<(String, &'static str)> {
        let start = &self.starts[one.start];
        let at_end = |((practice, turn, knob), level): (&(usize, Turn, Knob), &usize)| {
            let Turn::Dial { dial, levels, .. } = turn else { return None };
            let value = (*levels.get(*level)?)?;
            let rising: Vec<f64> = levels.iter().flatten().copied().collect();
            let (low, high) = (rising.first()?, rising.last()?);
            let slack = 1e-6 * value.abs().max(1.0);
            let low = value == *low && value - dial.range.0 > slack;
            let high = value == *high && dial.range.1 - value > slack;
            let end = *level != knob.own && (low || high);
            end.then(|| (start.texts[*practice].key.clone(), dial.key))
        };
        start.turns.iter().zip(&one.levels).filter_map(at_end).collect()
    }

    /// The practices of a try; `None` where nothing is left of what it changes.
    fn texts(&self, one: &Try) -> Option<Vec<PracticeText>> {
        let start = &self.starts[one.start];
        let mut out: Vec<Option<PracticeText>> = start.texts.iter().cloned().map(Some).collect();
        for (place, text) in start.texts.iter().enumerate() {
            let mine =
                || start.turns.iter().zip(&one.levels).filter(move |((at, ..), _)| *at == place);
            if mine().any(|((_, turn, knob), l)| matches!(turn, Turn::Drop) && *l != knob.own) {
                out[place] = None;
                continue;
            }
            if let Some(taken) = mine().find_map(|((_, turn, _), level)| turn.taken(*level)) {
                out[place] = Some(taken.clone());
                continue;
            }
            let mut new = text.clone();
            let mut dates: BTreeMap<&'static str, Vec<Option<f64>>> = BTreeMap::new();
            for ((_, turn, knob), level) in mine() {
                let Turn::Dial { dial, nth, levels } = turn else { continue };
                let value = levels.get(*level).copied().flatten();
                if dial.key == DATES {
                    let all = dates.entry(dial.key).or_insert_with(|| {
                        dial.now.iter().copied().map(Some).chain([None]).collect()
                    });
                    all[*nth] = value;
                } else if *level != knob.own {
                    new = new.with(dial.key, value.map(|v| written(dial, v, self.units)));
                    if dial.held_at {
                        new = follow(&new);
                    }
                }
            }
            for (key, days) in dates {
                let mut days: Vec<f64> = days.into_iter().flatten().collect();
                days.sort_by(f64::total_cmp);
                days.dedup();
                if days.is_empty() {
                    return None;
                }
                let days: Vec<String> =
                    days.iter().map(|d| format!("\"{}\"", show_day(*d))).collect();
                new = new.with(key, Some(format!("[{}]", days.join(", "))));
            }
            out[place] = Some(new);
        }
        let own = start.texts.len();
        let turns = start.turns.iter().zip(&one.levels);
        let more = turns.filter(|((place, ..), _)| *place >= own);
        out.extend(more.map(|((_, turn, _), level)| turn.taken(*level).cloned()));
        Some(out.into_iter().flatten().collect())
    }

    /// Practices as a program of their own, checked with the scenario: the program, and what the check
    /// says of it.
    fn checked(&self, texts: &[PracticeText]) -> Result<(Program, Vec<Fault>), Vec<Fault>> {
        let head = self.text.trim_end();
        let text = format!("{head}\n\n[[program]]\nid = \"{TRIED}\"\n{}", listed(texts));
        let Checked { mut scenario, mut cautions, .. } = (self.check)(&text)?;
        cautions.retain(|caution| caution.span.start >= head.len());
        let program = scenario.programs.pop().ok_or_else(Vec::new)?;
        Ok((program, cautions))
    }
}

impl Turn {
    /// The practice that a level of it takes from another program.
    fn taken(&self, level: usize) -> Option<&PracticeText> {
        let Turn::Take(all) = self else { return None };
        all.get(level.checked_sub(1)?).map(|taken| &taken.text)
    }
}

fn listed(texts: &[PracticeText]) -> String {
    if texts.is_empty() {
        return "practice = []\n".into();
    }
    texts.iter().map(|text| format!("\n{}", text.write())).collect()
}

/// A hold that keeps the mower off grass shorter than the cut goes up and down with the cut: it is written
/// as what it means.
fn follow(text: &PracticeText) -> PracticeText {
    let Some(hold) = text.get("hold") else { return text.clone() };
    let parts: Vec<String> =
        hold.split('"')
            .map(|part| {
                if part.trim_start().starts_with("shorter than") { "nothing to cut" } else { part }
            })
            .map(str::to_string)
            .collect();
    text.with("hold", Some(parts.join("\"")))
}

/// A setting's value as TOML, in the reader's units.
fn written(dial: &Dial, value: f64, units: Units) -> String {
    match (dial.measure, &dial.after) {
        (_, Some(practice)) => format!("{{ practice = \"{practice}\", days = {value:.0} }}"),
        (Measure::Days, None) => {
            format!("\"{value:.0} day{}\"", if value == 1.0 { "" } else { "s" })
        }
        (Measure::Date, None) => format!("\"{}\"", show_day(value)),
        (Measure::Amount(kind), None) => format!("\"{}\"", show(value, kind, units)),
    }
}

fn one_more() -> Asked {
    let (from, to) = ONE_MORE;
    Asked { from: Some(day_of_year(from)), to: Some(day_of_year(to)), steps: Some(ONE_MORE_STEPS) }
}

/// Practices that other programs have, and this one has not, or not so.
fn takes(
    own: &[PracticeText],
    all: &[(&str, Vec<PracticeText>)],
    limits: &Limits,
) -> Vec<(usize, Turn, Knob)> {
    let mut found: Vec<(String, Vec<Taken>)> = Vec::new();
    for (title, texts) in all {
        for text in texts {
            // Settings that a person keeps would go with the practice.
            let kept = |name: &String| name.split('.').next() == Some(text.key.as_str());
            if own.contains(text) || limits.keep.iter().any(kept) {
                continue;
            }
            let taken = Taken { title: (*title).to_string(), text: text.clone() };
            match found.iter_mut().find(|(key, _)| *key == text.key) {
                Some((_, all)) if all.iter().any(|known| known.text == *text) => {}
                Some((_, all)) => all.push(taken),
                None => found.push((text.key.clone(), vec![taken])),
            }
        }
    }
    let mut behind = own.len();
    let turn = |(key, all): (String, Vec<Taken>)| {
        let place = own.iter().position(|text| text.key == key).unwrap_or_else(|| {
            behind += 1;
            behind - 1
        });
        let knob = Knob { levels: all.len() + 1, own: 0 };
        (place, Turn::Take(all), knob)
    };
    found.into_iter().map(turn).collect()
}

fn turns(
    text: &str,
    program: &Program,
    texts: &[PracticeText],
    limits: &Limits,
    units: Units,
) -> Vec<(usize, Turn, Knob)> {
    let mut out = Vec::new();
    for (place, practice) in texts.iter().enumerate() {
        let key = &practice.key;
        if limits.keep.contains(key) {
            continue;
        }
        let Some(all) = dials(text, &program.id, key) else { continue };
        // A lawn that nobody mows is none: no need has to say so.
        if all.what != "mow" {
            out.push((place, Turn::Drop, Knob { levels: 2, own: 0 }));
        }
        let again = all.way.is_some_and(|way| AGAIN.contains(&way));
        for dial in &all.dials {
            let name = format!("{key}.{}", dial.key);
            let ends = limits.vary.iter().find(|(named, ..)| *named == name);
            let window = matches!(dial.key, "from" | "to") && !again;
            let usual = !LEFT_ALONE.contains(&dial.key) && !window;
            if limits.keep.contains(&name) || ends.is_none() && !usual {
                continue;
            }
            let asked = ends.map_or_else(Asked::default, |(_, from, to)| Asked {
                from: Some(*from),
                to: Some(*to),
                steps: None,
            });
            let dates = dial.key == DATES;
            for nth in 0..dial.now.len().max(1) + usize::from(dates) {
                let more = dates && nth == dial.now.len();
                let asked = if more && ends.is_none() { one_more() } else { asked };
                let Ok(values) = values(dial, nth, &asked, units) else { continue };
                let own = dial.now.get(nth).copied();
                let mut levels: Vec<Option<f64>> = values.into_iter().map(Some).collect();
                if own.is_some() && !levels.contains(&own) {
                    levels.push(own);
                    levels.sort_by(|a, b| a.unwrap_or(0.0).total_cmp(&b.unwrap_or(0.0)));
                }
                if dial.key == "split" || dates && (more || dial.now.len() > 1) {
                    levels.insert(0, None);
                }
                let Some(own) = levels.iter().position(|level| *level == own) else { continue };
                if levels.len() > 1 {
                    let knob = Knob { levels: levels.len(), own };
                    out.push((place, Turn::Dial { dial: dial.clone(), nth, levels }, knob));
                }
            }
        }
    }
    out
}
