//! The whole check: parse, walk, build, caution.

use super::fault::Faults;
use super::local_rules::{self, Examples};
use super::products::{self, Products};
use super::read::{self, Demand};
use super::registry::ROOT;
use super::value::{Reading, Value};
use super::{
    Checked, Fault, Lawn, Scenario, caution, clash, crew, doubts, event, goal, never, place,
    program, rule_caution, scouting, seed, soil_caution, spray_caution,
};
use toml::Spanned;
use toml::de::DeTable;

/// Codes that a broken text raises without the user's fault: they wait until it parses.
pub(super) const AFTER_SYNTAX: [&str; 7] = [
    "missing-key",
    "no-cue",
    "no-change",
    "unknown-practice",
    "unknown-program",
    "shares-do-not-add-up",
    "too-many",
];

pub(super) fn check(
    text: &str,
    products_text: &str,
    rules_text: &str,
) -> Result<Checked, Vec<Fault>> {
    let mut faults = Faults::default();
    let (tree, whole) = parse(text, &mut faults);
    let products = read_products(products_text, &mut faults);
    let end = text.len().min(1);
    let root = read::table(&ROOT, tree.get_ref(), 0..end, Demand::Whole, &mut faults);
    let rules = read_rules(rules_text, &mut faults);
    let examples = Examples::read(rules.get_ref(), &mut faults);
    let scenario = build(&root, &products, &examples, &mut faults);
    if !whole {
        faults.forget(&AFTER_SYNTAX);
    }
    let failed = faults.any_error();
    let by_program = faults.take_by_program();
    let list = faults.in_order();
    match scenario {
        Some(scenario) if !failed => Ok(Checked { scenario, cautions: list, by_program }),
        _ => Err(list),
    }
}

/// The tree of a text, faults of its syntax noted, and whether there was none.
pub(super) fn parse<'t>(text: &'t str, faults: &mut Faults) -> (Spanned<DeTable<'t>>, bool) {
    let (tree, broken) = DeTable::parse_recoverable(text);
    for error in &broken {
        let span = error.span().unwrap_or(0..0);
        let span = span.start.min(text.len())..span.end.min(text.len());
        let (expected, help) = syntax_help(error.message());
        faults.error("syntax", &span, error.message().replace('\n', ", "), expected, help);
    }
    (tree, broken.is_empty())
}

/// The products, or none with a fault.
pub(super) fn read_products(text: &str, faults: &mut Faults) -> Products {
    products::products(text).unwrap_or_else(|message| {
        let expected = "a products text that reads";
        faults.error("products-file", &(0..0), message, expected, None);
        Products::default()
    })
}

/// The tree of the examples of local rules.
pub(super) fn read_rules<'t>(text: &'t str, faults: &mut Faults) -> Spanned<DeTable<'t>> {
    let (tree, broken) = DeTable::parse_recoverable(text);
    for error in &broken {
        let message = format!("the examples of local rules: {}", error.message());
        faults.error("local-rules-file", &(0..0), message, "a text that reads", None);
    }
    tree
}

fn syntax_help(message: &str) -> (&'static str, Option<String>) {
    if message.contains("quoted") {
        let help = "put the value in quotes: area = \"6000 ft2\"";
        return ("a value in quotes", Some(help.to_string()));
    }
    if message.contains("duplicate") {
        return ("each key once", None);
    }
    ("a line such as key = \"value\", or a head such as [lawn]", None)
}

/// A scenario from its tables, where they are whole.
pub(super) fn build<'t>(
    root: &Reading<'t>,
    products: &Products,
    examples: &Examples<'t>,
    faults: &mut Faults,
) -> Option<Scenario> {
    let lawn = place::lawn(root, faults);
    let weather = place::weather(root, faults);
    let programs = program::programs(root, products, faults);
    let grasses = lawn.as_ref().map_or(&[][..], |lawn| &lawn.grasses);
    let (crew, slips) = (crew::crew(root, faults), crew::slips(root));
    let rules = local_rules::local_rules(root, examples, lawn.as_ref(), faults);
    let test = lawn.as_ref().and_then(|lawn| lawn.soil.test);
    let run = root.table("run");
    let seasons = run.map_or(1.0, |run| run.number("seasons"));
    for built in &programs {
        let grasses = seed::with_sown(grasses, [built]);
        faults.begin_program(&built.program.id);
        caution::program(built, &grasses, products, &rules, faults);
        spray_caution::program(built, &grasses, products, &crew, faults);
        rule_caution::program(built, &rules, &crew, faults);
        // A lawn that could not be read says nothing of its soil.
        if lawn.is_some() {
            soil_caution::program(built, test.as_ref(), &rules, seasons, faults);
        }
        never::program(built, lawn.as_ref(), &rules, &crew, faults);
        clash::program(built, faults);
        faults.end_program();
    }
    let lawn = lawn.map(|lawn| Lawn { grasses: seed::with_sown(&lawn.grasses, &programs), ..lawn });
    let doubts = doubts::doubts(root, &programs);
    let overrides = match root.value("constants") {
        Some(Value::Constants(all)) => all.clone(),
        _ => vec![],
    };
    let ids: Vec<&str> = programs.iter().map(|built| built.program.id.as_str()).collect();
    let season_before = scouting::season_before(root, &ids, faults);
    let scouting = scouting::scouting(root, &ids, faults);
    let run = root.table("run")?;
    let first_year = i32::try_from(run.whole("first-year")).ok()?;
    let seasons = u32::try_from(run.whole("seasons")).ok()?;
    let events = event::events(root, first_year, seasons, faults);
    Some(Scenario {
        title: root.text("title")?.to_string(),
        about: root.text("about").unwrap_or_default().to_string(),
        lawn: lawn?,
        weather: weather?,
        first_year,
        seasons,
        programs: programs.into_iter().map(|built| built.program).collect(),
        crew,
        slips,
        doubts,
        events,
        overrides,
        season_before,
        scouting,
        rules,
        gear: crew::gear(root),
        goals: goal::goals(root, faults),
    })
}
