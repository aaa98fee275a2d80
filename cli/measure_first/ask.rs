//! Between which programs, and by what: every fault with its near miss.

use sim::analysis::measure_first::Asked;
use sim::outcomes::{Better, OUTCOMES, OutcomeKind, outcome};
use sim::scenario::{Program, Scenario};

use super::MEMBERS;
use crate::args::MeasureFirstArgs;
use crate::failure::Failure;
use crate::input::unknown;
use crate::inputs::Inputs;
use crate::terminal::harmless;
use crate::units::Units;
use crate::words::figure;

/// Most programs times members: more outcomes than that are not held.
const MOST_TRACKS: u64 = 100_000;

/// What is asked.
pub(super) struct Chosen {
    /// The programs to choose from, in the scenario's order.
    pub programs: Vec<Program>,
    pub asked: Asked,
    /// "$20 for each point".
    pub worth_in_words: Option<String>,
}

/// Reads what is asked.
///
/// # Errors
/// [`Failure::Input`] with what was expected.
pub(super) fn read(args: &MeasureFirstArgs, inputs: &Inputs) -> Result<Chosen, Failure> {
    let scenario = &inputs.checked.scenario;
    let programs = programs(&args.program, scenario)?;
    let outcome = args.outcome.as_deref().map(by).transpose()?;
    let members = args.options.members.unwrap_or(MEMBERS);
    let tracks = u64::from(members) * programs.len() as u64;
    if tracks > MOST_TRACKS {
        let most = MOST_TRACKS / programs.len() as u64;
        return Err(Failure::Input(format!(
            "--members {members}: with {} programs, that is more than can be held; at most {most}",
            programs.len()
        )));
    }
    let kind = outcome.map(|at| &OUTCOMES[at]);
    let worth =
        args.worth.as_deref().map(|text| worth(text, kind, scenario, inputs.units)).transpose()?;
    let (worth, worth_in_words) = worth.unzip();
    Ok(Chosen { programs, asked: Asked { outcome, worth }, worth_in_words })
}

fn programs(asked: &[String], scenario: &Scenario) -> Result<Vec<Program>, Failure> {
    let ids = || scenario.programs.iter().map(|program| program.id.as_str());
    for id in asked {
        if !ids().any(|known| known == id) {
            return Err(unknown("--program", id, "program", ids()));
        }
    }
    let wanted = |program: &&Program| asked.is_empty() || asked.contains(&program.id);
    let chosen: Vec<Program> = scenario.programs.iter().filter(wanted).cloned().collect();
    if chosen.len() > 1 {
        return Ok(chosen);
    }
    Err(Failure::Input(if scenario.programs.len() < 2 {
        "the scenario has one program, so there is nothing to choose. Add a [[program]] with what you \
         would do instead"
            .into()
    } else {
        let others = ids().filter(|id| !asked.iter().any(|known| known == id));
        format!(
            "--program {}: a choice is between two programs or more; name another with a second \
             --program: one of {}",
            chosen.first().map_or("", |program| &program.id),
            others.collect::<Vec<_>>().join(", ")
        )
    }))
}

fn by(key: &str) -> Result<usize, Failure> {
    let keys = || OUTCOMES.iter().filter(|k| k.better != Better::Neither).map(|kind| kind.key);
    let at = outcome(key).ok_or_else(|| unknown("--outcome", key, "outcome", keys()))?;
    if OUTCOMES[at].better == Better::Neither {
        return Err(Failure::Input(format!(
            "--outcome {key}: more of it is neither better nor worse, so no program is best by it; \
             expected one of {}",
            keys().collect::<Vec<_>>().join(", ")
        )));
    }
    Ok(at)
}

/// Money for one unit of the outcome, metric, and how it is told.
fn worth(
    text: &str,
    kind: Option<&'static OutcomeKind>,
    scenario: &Scenario,
    units: Units,
) -> Result<(f64, String), Failure> {
    let Some(kind) = kind else {
        return Err(Failure::Input(
            "--worth says what one unit of an outcome is worth: say which with --outcome, such as \
             --outcome crabgrass_peak"
                .into(),
        ));
    };
    if kind.key == "cost" {
        return Err(Failure::Input("--worth: the cost is money already; leave it out".into()));
    }
    let shown = units.shown(kind.unit);
    let unit = match shown.unit {
        "%" | "1-9" => "point",
        "days" => "day",
        "" => "one",
        other => other,
    };
    let currency = &scenario.crew.currency;
    let wrong = || {
        Failure::Input(format!(
            "--worth {}: expected money for each {unit}, above 0, such as \"20 {currency} per {unit}\"",
            harmless(text)
        ))
    };
    let lower = text.trim().to_lowercase();
    let digit = |c: char| c.is_ascii_digit() || c == '.';
    let from = lower.find(digit).ok_or_else(wrong)?;
    let length = lower[from..].find(|c| !digit(c)).unwrap_or(lower.len() - from);
    let money: f64 = lower[from..from + length].parse().map_err(|_| wrong())?;
    let symbol = currency.to_lowercase();
    let before = lower[..from].trim();
    let mut after = lower[from + length..].trim();
    let has_symbol = before == symbol || after.starts_with(&symbol);
    if has_symbol && before.is_empty() {
        after = after[symbol.len()..].trim();
    }
    let of = after.strip_prefix("per ").or_else(|| after.strip_prefix('/')).map(str::trim);
    let plural = format!("{unit}s");
    let same = |word: &str| {
        let word = word.strip_prefix("a ").unwrap_or(word);
        word == unit.to_lowercase()
            || word == plural.to_lowercase()
            || (unit == "point" && word == "%")
    };
    let said =
        (before.is_empty() || before == symbol) && (after.is_empty() || of.is_some_and(same));
    if !(said && money > 0.0 && money < 1e9) {
        return Err(wrong());
    }
    let told = format!("{} for each {unit}", figure::money(money, currency));
    Ok((money * shown.factor, told))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::carried;
    use crate::engine;

    #[test]
    fn worth_is_read_in_the_readers_unit() {
        let text = carried::example("thin-front-lawn").unwrap();
        let scenario = engine::check(text).unwrap().scenario;
        let kind = |key: &str| Some(&OUTCOMES[outcome(key).unwrap()]);
        let read = |text: &str, key: &str| worth(text, kind(key), &scenario, Units::Us);
        for text in
            ["20 $ per point", "$20 per point", "20", "$20/%", "20 $ / points", "20 per a point"]
        {
            let (money, told) =
                read(text, "crabgrass_peak").unwrap_or_else(|f| panic!("{text}: {f}"));
            assert_eq!((money, told.as_str()), (20.0, "$20 for each point"), "{text}");
        }
        // An inch is 25.4 mm, exactly.
        let (money, told) = read("$10 per in", "runoff").unwrap();
        assert!((money * 25.4 - 10.0).abs() < 1e-12 && told == "$10 for each in");
        for text in ["", "-5", "0", "20 EUR", "20 per acre", "many", "20 $ point", "1.2.3"] {
            assert!(read(text, "crabgrass_peak").is_err(), "{text}");
        }
        assert!(read("20", "cost").is_err());
        assert!(worth("20", None, &scenario, Units::Us).is_err());
    }
}
