//! Programs: their practices, what they are based on, and how cues refer to each other.

use super::change;
use super::cue::CueDraft;
use super::fault::{Faults, did_you_mean};
use super::herbicide::LabelFigures;
use super::practice::{self, Drafted};
use super::products::Products;
use super::read::{self, Demand, TABLES_MOST, not_too_many};
use super::registry::{ANY_PRACTICE, practice as practice_def};
use super::value::{Reading, Value};
use super::{Cue, Practice, Program, Spray, What};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A program as written: its practices are still tables.
pub(super) struct Written<'t> {
    pub id: String,
    pub title: String,
    pub span: Range<usize>,
    pub based_on: Option<(String, Range<usize>)>,
    pub change: Option<&'t Spanned<DeValue<'t>>>,
    pub practices: Vec<Reading<'t>>,
    pub difference: String,
    /// Where the change stands: faults that it brings to inherited practices are shown there.
    pub change_span: Option<Range<usize>>,
}

/// A checked program with what cautions need.
pub(super) struct Built {
    pub program: Program,
    /// One for each practice of the program.
    pub drafts: Vec<Drafted>,
}

/// All programs of a scenario.
pub(super) fn programs(root: &Reading<'_>, products: &Products, faults: &mut Faults) -> Vec<Built> {
    let written = resolved(root, faults);
    let mut built = Vec::new();
    for program in &written {
        match build(program, products, faults) {
            Some(one) => built.push(one),
            // No program may get lost in silence.
            None if !faults.any_error() => faults.error(
                "incomplete",
                program.change_span.as_ref().unwrap_or(&program.span),
                format!("the program \"{}\" is not complete", program.id),
                "practices that say what, how much and when",
                None,
            ),
            None => {}
        }
    }
    built
}

/// All programs as written, each with the practices that it has or inherits.
pub(super) fn resolved<'t>(root: &Reading<'t>, faults: &mut Faults) -> Vec<Written<'t>> {
    let mut written: Vec<Written<'_>> = Vec::new();
    for table in root.tables("program") {
        if let Some(program) = write_down(table, faults) {
            if written.iter().any(|w| w.id == program.id) {
                duplicate("program", &program.id, &table.span_of("id"), faults);
            }
            written.push(program);
        }
    }
    if root.has("program") && root.tables("program").is_empty() {
        let span = root.span_of("program");
        let expected = "at least one [[program]]";
        faults.error("missing-key", &span, "there is no program", expected, None);
    }
    resolve_bases(&mut written, faults);
    written
}

fn duplicate(what: &str, id: &str, span: &Range<usize>, faults: &mut Faults) {
    let message = format!("two {what}s are called \"{id}\"");
    faults.error("duplicate-id", span, message, "a name of its own", None);
}

/// The tables of an array of tables, or a single table.
pub(super) fn tables<'t>(
    node: &'t Spanned<DeValue<'t>>,
    what: &str,
    faults: &mut Faults,
) -> Vec<(&'t DeTable<'t>, Range<usize>)> {
    let nodes: Vec<_> = match node.get_ref() {
        DeValue::Array(all) => all.iter().collect(),
        _ => vec![node],
    };
    not_too_many(what, &node.span(), (nodes.len(), TABLES_MOST), faults);
    let mut out = Vec::new();
    for node in nodes.into_iter().take(TABLES_MOST) {
        match node.get_ref() {
            DeValue::Table(table) => out.push((table, node.span())),
            _ => {
                let message = format!("`{what}` is not a table");
                let expected = format!("tables [[program.{what}]]");
                faults.error("wrong-type", &node.span(), message, expected, None);
            }
        }
    }
    out
}

/// Reads one practice by what it does.
pub(super) fn practice_table<'t>(
    table: &'t DeTable<'t>,
    span: Range<usize>,
    faults: &mut Faults,
) -> Reading<'t> {
    let what = match table.get("do").map(Spanned::get_ref) {
        Some(DeValue::String(word)) => practice_def(&word.trim().to_ascii_lowercase()),
        _ => None,
    };
    match what {
        Some(def) => read::table(def, table, span, Demand::Whole, faults),
        // Which keys belong here is not known: only those that all practices share are read.
        None => read::table(&ANY_PRACTICE, table, span, Demand::Known, faults),
    }
}

fn write_down<'t>(table: &Reading<'t>, faults: &mut Faults) -> Option<Written<'t>> {
    let later = |key: &str| match table.value(key) {
        Some(Value::Later(node)) => Some(*node),
        _ => None,
    };
    let based_on = table.text("based-on").map(|id| (id.to_string(), table.span_of("based-on")));
    let mut practices = Vec::new();
    if let Some(node) = later("practice") {
        if based_on.is_some() {
            faults.error(
                "practice-in-variant",
                &node.span(),
                "a program with `based-on` has the practices of that program",
                "[[program.change]] with one change",
                Some("drop `based-on` to write a program of its own".to_string()),
            );
        } else {
            for (inner, span) in tables(node, "practice", faults) {
                practices.push(practice_table(inner, span, faults));
            }
        }
    } else if based_on.is_none() && !table.has("based-on") {
        let message = "the program has no practice";
        faults.error(
            "missing-key",
            &table.span,
            message,
            "[[program.practice]], based-on, or practice = [] for no care at all",
            None,
        );
    }
    let change = later("change");
    if let (None, Some(node)) = (&based_on, change) {
        faults.error(
            "stray-key",
            &node.span(),
            "`change` has no effect without `based-on`",
            "based-on = \"..\" with the id of the program that is changed",
            None,
        );
    }
    if let (Some((_, span)), None) = (&based_on, change) {
        let message = "the program is based on another and changes nothing";
        faults.error("no-change", span, message, "one [[program.change]]", None);
    }
    unique_keys(&practices, faults);
    let id = table.text("id")?.to_string();
    Some(Written {
        title: table.text("title").unwrap_or(&id).to_string(),
        span: table.span.clone(),
        id,
        based_on,
        change,
        practices,
        difference: String::new(),
        change_span: change.map(Spanned::span),
    })
}

fn unique_keys(practices: &[Reading<'_>], faults: &mut Faults) {
    for (i, one) in practices.iter().enumerate() {
        let Some(key) = one.text("key") else { continue };
        if practices[..i].iter().any(|other| other.text("key") == Some(key)) {
            duplicate("practice", key, &one.span_of("key"), faults);
        }
    }
}

/// Gives each program that is based on another the practices of that one, changed. Bases may
/// stand anywhere; what is left over goes round in a circle.
fn resolve_bases(written: &mut [Written<'_>], faults: &mut Faults) {
    let mut done: Vec<bool> = written.iter().map(|w| w.based_on.is_none()).collect();
    loop {
        let mut moved = false;
        for i in 0..written.len() {
            let Some((base, span)) = written[i].based_on.clone().filter(|_| !done[i]) else {
                continue;
            };
            match written.iter().position(|w| w.id == base) {
                Some(at) if done[at] => {
                    let inherited = written[at].practices.clone();
                    change::apply(&mut written[i], inherited, faults);
                    // A chain of programs that each add to the one before must not grow for ever.
                    let count = written[i].practices.len();
                    not_too_many("practice", &span, (count, TABLES_MOST), faults);
                    written[i].practices.truncate(TABLES_MOST);
                    (done[i], moved) = (true, true);
                }
                Some(_) => {}
                None => {
                    let ids =
                        written.iter().map(|w| w.id.as_str()).filter(|id| *id != written[i].id);
                    faults.error(
                        "unknown-program",
                        &span,
                        format!("there is no program \"{base}\""),
                        format!("one of {}", super::key::quoted(ids.clone())),
                        did_you_mean(&base, ids),
                    );
                    (done[i], moved) = (true, true);
                }
            }
        }
        if !moved {
            break;
        }
    }
    for (program, _) in written.iter().zip(&done).filter(|(_, done)| !**done) {
        if let Some((base, span)) = &program.based_on {
            let message = format!("\"{}\" and \"{base}\" are based on each other", program.id);
            let expected = "a program of its own at the start";
            faults.error("based-on-cycle", span, message, expected, None);
        }
    }
}

fn build(written: &Written<'_>, products: &Products, faults: &mut Faults) -> Option<Built> {
    let read: Vec<Option<Drafted>> =
        written.practices.iter().map(|p| practice::draft(p, products, faults)).collect();
    let whole = read.iter().all(Option::is_some);
    let mut drafts: Vec<Drafted> = read.into_iter().flatten().flat_map(split).collect();
    one_label(&mut drafts);
    // A practice that could not be read may be the one that another refers to.
    let known: Vec<&str> = written.practices.iter().filter_map(|p| p.text("key")).collect();
    let cues: Vec<Option<Cue>> =
        drafts.iter().map(|draft| tie(draft, &drafts, &known, written, faults)).collect();
    let cues: Vec<Cue> = cues.into_iter().collect::<Option<_>>().filter(|_| whole)?;
    no_circles(&cues, &drafts, faults);
    let practices = drafts.iter().zip(cues).map(|(draft, cue)| Practice {
        key: draft.key.clone(),
        what: draft.what.clone(),
        cue,
        holds: draft.holds.clone(),
        give_up_days: draft.give_up_days,
        by: draft.by,
    });
    let program = Program {
        id: written.id.clone(),
        title: written.title.clone(),
        based_on: written.based_on.as_ref().map(|(id, _)| id.clone()),
        difference: written.difference.clone(),
        practices: practices.collect(),
    };
    Some(Built { program, drafts })
}

/// A split barrier is two practices: half the rate, and half again so many days later.
fn split(whole: Drafted) -> Vec<Drafted> {
    let Some(days) = whole.split_days else { return vec![whole] };
    let mut half = whole;
    if let What::PreEmergent { rate_kg_ha, product, .. } = &mut half.what {
        *rate_kg_ha /= 2.0;
        product.amount_per_m2 /= 2.0;
        product.price_per_m2 /= 2.0;
    }
    let mut second = half.clone();
    second.key = format!("{}/second", half.key);
    second.cue = CueDraft::After { practice: half.key.clone(), days };
    vec![half, second]
}

/// One product has one label: what was read on it for one practice holds for all that take the product,
/// the stricter figure where two were read.
fn one_label(drafts: &mut [Drafted]) {
    let read: Vec<(String, LabelFigures)> = drafts
        .iter()
        .filter_map(|draft| Some((draft.what.herbicide_product()?.to_string(), draft.label)))
        .collect();
    for draft in drafts {
        let Some(name) = draft.what.herbicide_product() else { continue };
        let same = read.iter().filter(|(other, _)| other == name).map(|(_, label)| *label);
        draft.label = same.fold(draft.label, LabelFigures::stricter);
        let (What::PreEmergent { label_read, .. } | What::Spray(Spray { label_read, .. })) =
            &mut draft.what
        else {
            continue;
        };
        *label_read = draft.label.read_for_once_and_year();
    }
}

/// Ties a cue to the other practice that it names.
fn tie(
    draft: &Drafted,
    drafts: &[Drafted],
    known: &[&str],
    written: &Written<'_>,
    faults: &mut Faults,
) -> Option<Cue> {
    let (name, days) = match &draft.cue {
        CueDraft::Ready(cue) => return Some(cue.clone()),
        CueDraft::After { practice, days } => (practice, *days),
    };
    if let Some(practice) = drafts.iter().position(|d| d.key == *name) {
        return Some(Cue::DaysAfter { practice, days });
    }
    if known.contains(&name.as_str()) {
        return None;
    }
    let others = known.iter().copied().filter(|k| *k != draft.key);
    let span = written.change_span.as_ref().unwrap_or(&draft.cue_span);
    faults.error(
        "unknown-practice",
        span,
        format!("`{}` waits for \"{name}\", which \"{}\" does not have", draft.key, written.id),
        format!("one of {}", super::key::quoted(others.clone())),
        did_you_mean(name, others),
    );
    None
}

/// A practice that waits for itself, straight or by way of others, never happens.
fn no_circles(cues: &[Cue], drafts: &[Drafted], faults: &mut Faults) {
    let next = |i: usize| match cues.get(i) {
        Some(Cue::DaysAfter { practice, .. }) => Some(*practice),
        _ => None,
    };
    for (start, draft) in drafts.iter().enumerate() {
        let mut at = start;
        for _ in 0..drafts.len() {
            match next(at) {
                Some(other) if other == start => {
                    faults.error(
                        "cue-cycle",
                        &draft.cue_span,
                        format!("`{}` waits for itself", draft.key),
                        "a chain of days-after that starts at a date or a sign",
                        None,
                    );
                    break;
                }
                Some(other) => at = other,
                None => break,
            }
        }
    }
}
