//! What is to be swept, read from what a person typed: every fault with its near miss.

use sim::analysis::when::{self, Asked, NotSwept, headline};
use sim::outcomes::{OUTCOMES, outcome};
use sim::quantity::QuantityFault;
use sim::scenario::{Dial, Program, dials};

use crate::args::WhenArgs;
use crate::failure::Failure;
use crate::input::{missing, program, unknown};
use crate::inputs::Inputs;
use crate::terminal::harmless;
use crate::words::name::SECOND;

/// Most values times members of both sets: more outcomes than that are not held.
const MOST_TRACKS: u64 = 1_000_000;

/// What is to be swept.
pub(super) struct Swept<'a> {
    pub program: &'a Program,
    /// Key of the practice.
    pub practice: String,
    /// What it does.
    pub what: String,
    pub dial: Dial,
    /// Which of several dates, from 0.
    pub nth: usize,
    /// Index of the outcome.
    pub outcome: usize,
    pub values: Vec<f64>,
}

/// Reads what is to be swept.
///
/// # Errors
/// [`Failure::Input`] with what was expected and a near miss.
pub(super) fn read<'a>(args: &WhenArgs, inputs: &'a Inputs) -> Result<Swept<'a>, Failure> {
    let scenario = &inputs.checked.scenario;
    let program = program(args.program.as_deref(), scenario)?;
    let (practice, half) = practice(args.practice.as_deref(), program)?;
    let all = dials(&inputs.source.text, &program.id, &practice)
        .ok_or_else(|| Failure::Input(format!("`{practice}` cannot be read again")))?;
    let setting = args.setting.as_deref().or(half.then_some("split"));
    let dial = when::pick(&all, setting).map_err(|fault| not_swept("--setting", &fault))?;
    let nth = nth(args.nth, dial)?;
    let outcome = wanted(args.outcome.as_deref().unwrap_or_else(|| headline(&all.what)))?;
    let read = |flag: &str, text: &Option<String>| {
        text.as_deref().map(|text| dial.read(text).map_err(|f| bad_value(flag, &f))).transpose()
    };
    let asked = Asked {
        from: read("--from", &args.from)?,
        to: read("--to", &args.to)?,
        steps: args.steps.map(|steps| steps as usize),
    };
    let units = inputs.units.into();
    let values = when::values(dial, nth, &asked, units)
        .map_err(|fault| not_swept(&format!("`{}`", dial.key), &fault))?;
    let members = u64::from(args.options.members.unwrap_or(super::MEMBERS));
    let tracks = 2 * members * (values.len() as u64 + 1);
    if tracks > MOST_TRACKS {
        let most = MOST_TRACKS / (2 * (values.len() as u64 + 1));
        return Err(Failure::Input(format!(
            "--members {members}: with {} values to try, that is more than can be held; at most {most}",
            values.len()
        )));
    }
    let (dial, what) = (dial.clone(), all.what.clone());
    Ok(Swept { program, practice, what, dial, nth, outcome, values })
}

/// Key of a practice as written, and whether its second half was meant.
fn practice(asked: Option<&str>, program: &Program) -> Result<(String, bool), Failure> {
    let keys = || program.practices.iter().map(|p| p.key.as_str());
    let written = || keys().filter(|key| !key.ends_with(SECOND));
    match asked {
        Some(key) if keys().any(|known| known == key) => {
            let whole = key.strip_suffix(SECOND);
            Ok((whole.unwrap_or(key).to_string(), whole.is_some()))
        }
        Some(key) => {
            Err(unknown("--practice", key, &format!("practice of \"{}\"", program.id), written()))
        }
        None => Err(missing("--practice", "practice", written())),
    }
}

fn nth(asked: Option<u32>, dial: &Dial) -> Result<usize, Failure> {
    let dates = dial.now.len().max(1);
    match asked.map_or(1, |nth| nth as usize) {
        nth if (1..=dates).contains(&nth) => Ok(nth - 1),
        nth => Err(Failure::Input(format!(
            "--nth {nth}: `{}` has {dates} value{}; expected a number from 1 to {dates}",
            dial.key,
            if dates == 1 { "" } else { "s" }
        ))),
    }
}

fn wanted(key: &str) -> Result<usize, Failure> {
    let keys = || OUTCOMES.iter().map(|kind| kind.key);
    outcome(key).ok_or_else(|| unknown("--outcome", key, "outcome", keys()))
}

fn not_swept(flag: &str, fault: &NotSwept) -> Failure {
    Failure::Input(harmless(&format!("{flag}: {fault}")))
}

fn bad_value(flag: &str, fault: &QuantityFault) -> Failure {
    let help = fault.suggestion.as_ref().map(|near| format!(". Perhaps: {near}"));
    Failure::Input(harmless(&format!(
        "{flag}: {}; expected {}{}",
        fault.message,
        fault.expected,
        help.unwrap_or_default()
    )))
}
