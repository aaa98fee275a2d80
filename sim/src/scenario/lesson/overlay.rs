//! A lesson's text laid over the scenario that it names.
//!
//! Every value keeps its place in a text, for messages. The scenario is read as if it stood behind
//! the lesson, so that a place tells which of the two texts it is in.

use super::super::check;
use super::super::fault::Faults;
use super::super::{Fault, Severity};
use super::LessonFault;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The scenario that a lesson names.
pub(super) fn named(text: &str) -> Option<String> {
    let (tree, _) = DeTable::parse_recoverable(text);
    match tree.get_ref().get("scenario")?.get_ref() {
        DeValue::String(name) => Some(name.trim().to_string()),
        _ => None,
    }
}

/// The scenario's text at the place where it would stand behind the lesson's.
pub(super) fn set_behind(text: &str, base: &str) -> String {
    format!("{}\n{base}", " ".repeat(text.len()))
}

/// The lesson's tree, laid over its scenario's, and whether the lesson parsed as a whole.
pub(super) fn tree<'t>(
    text: &'t str,
    base: Option<&'t str>,
    faults: &mut Faults,
) -> (DeTable<'t>, bool) {
    let (own, whole) = check::parse(text, faults);
    let own = own.into_inner();
    let Some(base) = base else { return (own, whole) };
    let (base, base_whole) = check::parse(base, faults);
    let mut tree = base.into_inner();
    let programs = both(tree.get("program"), own.get("program"));
    lay(&mut tree, own);
    if let (Some(programs), Some(node)) = (programs, tree.get_mut("program")) {
        *node.get_mut() = programs;
    }
    (tree, whole && base_whole)
}

/// Puts the values of one table over those of another, table by table.
fn lay<'t>(under: &mut DeTable<'t>, over: DeTable<'t>) {
    for (name, node) in over {
        let deeper = match (under.get_mut(name.get_ref().as_ref()), node.get_ref()) {
            (Some(there), DeValue::Table(_)) => match there.get_mut() {
                DeValue::Table(there) => Some(there),
                _ => None,
            },
            _ => None,
        };
        match (deeper, node.get_ref()) {
            (Some(there), DeValue::Table(inner)) => lay(there, inner.clone()),
            _ => {
                under.remove(name.get_ref().as_ref());
                under.insert(name, node);
            }
        }
    }
}

/// The programs of both: those of the scenario, then the lesson's own, which take the place of
/// programs of the same id.
fn both<'t>(
    base: Option<&Spanned<DeValue<'t>>>,
    own: Option<&Spanned<DeValue<'t>>>,
) -> Option<DeValue<'t>> {
    let (DeValue::Array(base), DeValue::Array(own)) = (base?.get_ref(), own?.get_ref()) else {
        return None;
    };
    let id = |node: &Spanned<DeValue<'t>>| {
        let id = node.get_ref().as_table()?.get("id")?.get_ref().as_str()?;
        Some(id.to_string())
    };
    let taken: Vec<Option<String>> = own.iter().map(id).collect();
    let kept = base.iter().filter(|node| id(node).is_none() || !taken.contains(&id(node)));
    Some(DeValue::Array(kept.chain(own.iter()).cloned().collect()))
}

/// Faults by the text that they stand in; those of the lesson's own first. Cautions of a scenario
/// that can be played are its own affair.
pub(super) fn told_apart(faults: Vec<Fault>, own: usize) -> Vec<LessonFault> {
    let (own_faults, behind): (Vec<Fault>, Vec<Fault>) =
        faults.into_iter().partition(|fault| fault.span.start <= own);
    let behind = behind.into_iter().filter(|fault| fault.severity == Severity::Error);
    let shifted = behind.map(|mut fault| {
        let back = |at: usize| at.saturating_sub(own + 1);
        fault.span = back(fault.span.start)..back(fault.span.end);
        LessonFault::Scenario(fault)
    });
    own_faults.into_iter().map(LessonFault::Own).chain(shifted).collect()
}
