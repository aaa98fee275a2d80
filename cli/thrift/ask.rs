//! What is asked of which programs, read from what a person typed and from the scenario: every fault with
//! its near miss.

use sim::analysis::thrift::{Asked, Limits};
use sim::program::tap_mm;
use sim::quantity::QuantityFault;
use sim::scenario::{Dial, Misread, Program, Scenario, Spare, What, budget, dials, goal, odds};

use crate::args::ThriftArgs;
use crate::failure::Failure;
use crate::input::{nearest, unknown};
use crate::inputs::Inputs;
use crate::terminal::harmless;

/// Odds where nobody says.
const ODDS: f64 = 17.0 / 20.0;

/// Most needs and budgets: more cannot be told one by one.
const MOST: usize = 12;

/// What is asked.
pub(super) struct Question<'a> {
    pub programs: Vec<&'a Program>,
    pub asked: Vec<Asked>,
    pub odds: f64,
    /// What is to be spent as little of as can be.
    pub spare: Spare,
    pub limits: Limits,
    /// Index of the program whose failure is told.
    pub story: Option<usize>,
}

/// Reads what is asked.
///
/// # Errors
/// [`Failure::Input`] with what was expected and a near miss.
pub(super) fn read<'a>(args: &ThriftArgs, inputs: &'a Inputs) -> Result<Question<'a>, Failure> {
    let scenario = &inputs.checked.scenario;
    let programs = programs(args, scenario)?;
    let asked = asked(args, scenario)?;
    let stated = args
        .odds
        .as_deref()
        .map(|text| odds(text).map_err(|fault| misread("--odds", text, &fault)));
    let odds = stated.transpose()?.or(scenario.goals.odds).unwrap_or(ODDS);
    let spare = spare(args, scenario)?;
    let story = match &args.story {
        None => None,
        Some(id) => {
            let ids = programs.iter().map(|p| p.id.as_str());
            let at = programs.iter().position(|p| p.id == *id);
            Some(at.ok_or_else(|| unknown("--story", id, "program here", ids))?)
        }
    };
    let limits = limits(args, inputs, &programs)?;
    Ok(Question { programs, asked, odds, spare, limits, story })
}

/// What is to be spared: as typed, else as the scenario has it, else money.
fn spare(args: &ThriftArgs, scenario: &Scenario) -> Result<Spare, Failure> {
    let typed = args.cheap_in.as_deref().map(|text| {
        let names = Spare::ALL.into_iter().map(Spare::name);
        Spare::named(text).ok_or_else(|| unknown("--cheap-in", text, "thing to spare", names))
    });
    let spare = typed.transpose()?.or(scenario.goals.cheap_in).unwrap_or_default();
    let spends = |what: &What| match spare {
        Spare::Money | Spare::Hours => true,
        Spare::Water => tap_mm(what) > 0.0,
        Spare::Nitrogen => matches!(what, What::Spread { .. }),
    };
    let mut practices = scenario.programs.iter().flat_map(|program| &program.practices);
    if practices.any(|practice| spends(&practice.what)) {
        return Ok(spare);
    }
    Err(Failure::Input(format!(
        "cheap in {}: no program of this scenario spends any, so there is nothing to spare; expected one of \
         money or hours",
        spare.name()
    )))
}

fn programs<'a>(args: &ThriftArgs, scenario: &'a Scenario) -> Result<Vec<&'a Program>, Failure> {
    let ids = scenario.programs.iter().map(|p| p.id.as_str());
    let mut found: Vec<&Program> = Vec::new();
    for id in &args.program {
        let one = scenario.programs.iter().find(|p| p.id == *id);
        let one = one.ok_or_else(|| unknown("--program", id, "program", ids.clone()))?;
        if !found.iter().any(|p| p.id == one.id) {
            found.push(one);
        }
    }
    if found.is_empty() {
        found.extend(&scenario.programs);
    }
    Ok(found)
}

/// What is asked: as typed, else as the scenario has it.
fn asked(args: &ThriftArgs, scenario: &Scenario) -> Result<Vec<Asked>, Failure> {
    let mut asked = Vec::new();
    for text in &args.need {
        asked.push(Asked::Need(goal(text).map_err(|fault| misread("--need", text, &fault))?));
    }
    for text in &args.budget {
        asked.push(Asked::Budget(budget(text).map_err(|fault| misread("--budget", text, &fault))?));
    }
    if asked.is_empty() {
        asked.extend(scenario.goals.needs.iter().copied().map(Asked::Need));
        asked.extend(scenario.goals.budgets.iter().copied().map(Asked::Budget));
    }
    if asked.len() > MOST {
        return Err(Failure::Input(format!(
            "{} needs and budgets are more than can be told one by one; at most {MOST}",
            asked.len()
        )));
    }
    if !asked.iter().any(|asked| matches!(asked, Asked::Need(_))) {
        return Err(Failure::Input(
            "what must hold? Say it with --need, such as --need \"quality >= 6 on 60 % of summer days\" \
             --need \"crabgrass peak < 5 %\" --budget \"$450 a season\", or in the scenario under [thrift]. \
             Without a need the cheapest program is to do nothing"
                .into(),
        ));
    }
    Ok(asked)
}

fn misread(flag: &str, text: &str, (expected, help): &Misread) -> Failure {
    let help = help.as_ref().map(|help| format!(". {help}")).unwrap_or_default();
    Failure::Input(harmless(&format!(
        "{flag}: \"{text}\" is not understood; expected {expected}{help}"
    )))
}

fn limits(args: &ThriftArgs, inputs: &Inputs, programs: &[&Program]) -> Result<Limits, Failure> {
    let mut limits = Limits::default();
    for name in &args.keep {
        match name.split_once('.') {
            Some(_) => drop(find(inputs, programs, "--keep", name)?),
            None => {
                let all: Vec<&Program> = inputs.checked.scenario.programs.iter().collect();
                practice("--keep", name, &all)?;
            }
        }
        limits.keep.push(name.clone());
    }
    for text in &args.vary {
        let form = || {
            Failure::Input(harmless(&format!(
                "--vary: \"{text}\" is not understood; expected a practice, its setting and two ends, \
                 such as \"mow.every=7..21 days\""
            )))
        };
        let (name, ends) = text.split_once('=').ok_or_else(form)?;
        let (from, to) = ends.split_once("..").ok_or_else(form)?;
        let (name, from, to) = (name.trim(), from.trim(), to.trim());
        let dial = find(inputs, programs, "--vary", name)?;
        // A unit behind the second end serves both.
        let unit = to.trim_start_matches(|c: char| c.is_ascii_digit() || "., ".contains(c));
        let bare = from.chars().all(|c| c.is_ascii_digit() || c == '.');
        let from = if bare { format!("{from} {unit}") } else { from.to_string() };
        let read = |end: &str| dial.read(end.trim()).map_err(|fault| bad_value(name, &fault));
        let (low, high) = (read(&from)?, read(to)?);
        if low >= high {
            return Err(Failure::Input(harmless(&format!(
                "--vary {name}: nothing lies between {from} and {to}; the smaller or earlier end comes first"
            ))));
        }
        let (least, most) = dial.range;
        if low < least - 1e-9 || high > most + 1e-9 {
            return Err(Failure::Input(harmless(&format!(
                "--vary {name}: {from} to {to} is more than a scenario may say of it"
            ))));
        }
        limits.vary.push((name.to_string(), low, high));
    }
    Ok(limits)
}

/// A practice of one of the programs, as written.
fn practice<'p>(flag: &str, key: &str, programs: &[&'p Program]) -> Result<&'p str, Failure> {
    let keys = || {
        let all = programs.iter().flat_map(|p| p.practices.iter());
        let mut keys: Vec<&str> =
            all.map(|p| p.key.split('/').next().unwrap_or(p.key.as_str())).collect();
        keys.sort_unstable();
        keys.dedup();
        keys
    };
    let found = keys().into_iter().find(|known| *known == key);
    found.ok_or_else(|| unknown(flag, key, "practice", keys().into_iter()))
}

/// The setting that is named "practice.setting".
fn find(inputs: &Inputs, programs: &[&Program], flag: &str, name: &str) -> Result<Dial, Failure> {
    let form = || {
        Failure::Input(harmless(&format!(
            "{flag} {name}: expected a practice and its setting, such as mow.every"
        )))
    };
    let (key, setting) = name.split_once('.').ok_or_else(form)?;
    practice(flag, key, programs)?;
    let mut known: Vec<&'static str> = Vec::new();
    for program in programs {
        let Some(all) = dials(&inputs.source.text, &program.id, key) else { continue };
        if let Some(dial) = all.dials.iter().find(|dial| dial.key == setting) {
            return Ok(dial.clone());
        }
        known.extend(all.dials.iter().map(|dial| dial.key));
    }
    known.sort_unstable();
    known.dedup();
    let near = nearest(setting, known.iter().copied());
    let near = near.map(|near| format!(". Did you mean `{key}.{near}`?")).unwrap_or_default();
    Err(Failure::Input(harmless(&format!(
        "{flag} {name}: `{key}` has no such setting; expected one of {}{near}",
        known.join(", ")
    ))))
}

fn bad_value(name: &str, fault: &QuantityFault) -> Failure {
    let help = fault.suggestion.as_ref().map(|near| format!(". Perhaps: {near}"));
    Failure::Input(harmless(&format!(
        "--vary {name}: {}; expected {}{}",
        fault.message,
        fault.expected,
        help.unwrap_or_default()
    )))
}
