//! `vet`: checks a scenario without playing it.

use sim::scenario::{Checked, Practice, Program, Scenario, Tend, What};

use crate::args::VetArgs;
use crate::engine::Weather;
use crate::failure::Failure;
use crate::round;
use crate::scenario_source::{self, ScenarioSource};
use crate::station::Says;
use crate::terminal::{self, harmless};
use crate::units::{self, Units};
use crate::words::caution::USUAL;
use crate::words::lines::wrap;
use crate::words::{name, rules, tending};
use crate::{diagnostic, engine};

/// Runs `vet`.
///
/// # Errors
/// [`Failure::Faults`] with every fault of the scenario, [`Failure::Input`] where it cannot be
/// read or its weather is not there.
pub fn run(args: &VetArgs) -> Result<(), Failure> {
    let source = scenario_source::read(&args.scenario)?;
    let checked = check(&source)?;
    let weather = weather(&source, &checked, Says::Keys)?;
    let units = args.units.unwrap_or_else(|| units::of_text(&source.text));
    let mut out = String::new();
    if !checked.cautions.is_empty() {
        let colour = terminal::stdout_colour();
        out.push_str(&diagnostic::render(&source.name, &source.text, &checked.cautions, colour));
        out.push('\n');
    }
    for note in &weather.notes {
        out.push_str(&format!("caution: weather record: {}\n\n", harmless(note)));
    }
    out.push_str(&verdict(&source.name, &checked.scenario, units));
    terminal::say(&out)
}

/// Reads the weather that a scenario names.
///
/// # Errors
/// [`Failure::Input`] where it is not there or cannot be used.
pub fn weather(source: &ScenarioSource, checked: &Checked, says: Says) -> Result<Weather, Failure> {
    let text = scenario_source::read_weather(source, &checked.scenario.weather)?;
    engine::read_weather(&text, &checked.scenario, says)
}

/// Checks a scenario; its faults come back rendered, errors first.
///
/// # Errors
/// [`Failure::Faults`].
pub fn check(source: &ScenarioSource) -> Result<Checked, Failure> {
    engine::check(&source.text).map_err(|faults| {
        let colour = terminal::stderr_colour();
        Failure::Faults(diagnostic::render(&source.name, &source.text, &faults, colour))
    })
}

/// What was found sound, and what nobody has checked.
pub fn verdict(name: &str, scenario: &Scenario, units: Units) -> String {
    let programs = scenario.programs.len();
    let mut out = format!(
        "{name} can be played: {programs} program{}, {} season{}.\n",
        if programs == 1 { "" } else { "s" },
        scenario.seasons,
        if scenario.seasons == 1 { "" } else { "s" }
    );
    let lines = unchecked(scenario, units);
    if !lines.is_empty() {
        out.push_str("\nNot checked against your label: read it, and compare these rates\n");
        lines.iter().for_each(|l| out.push_str(&format!("  {l}\n")));
    }
    let lines = within_label(scenario, units);
    if !lines.is_empty() {
        out.push_str(
            "\nWithin the label figures that you gave, for once and for a year; read the rest\n",
        );
        lines.iter().for_each(|l| out.push_str(&format!("  {l}\n")));
    }
    out.push_str("\nBefore any of it is done\n");
    USUAL.iter().for_each(|line| out.push_str(&wrap(line, 2, 2)));
    let rules = rules::tell(scenario, units);
    if !rules.is_empty() {
        out.push_str(&format!("\n{rules}"));
    }
    out.push_str(
        "\nNot checked either: local law beyond what the scenario states, licences, and whether a \
         product\nis registered where the lawn is.\n",
    );
    harmless(&out)
}

/// Practices that lay a product, with their rates, which nobody has held against a label.
pub fn unchecked(scenario: &Scenario, units: Units) -> Vec<String> {
    rates(scenario, units, false)
}

/// Practices that keep to the figures that the user read on the label, with their rates.
pub fn within_label(scenario: &Scenario, units: Units) -> Vec<String> {
    rates(scenario, units, true)
}

fn rates(scenario: &Scenario, units: Units, label_read: bool) -> Vec<String> {
    let of =
        |p| move |x: &Practice| rate(p, x, units).filter(|_| x.what.label_read() == label_read);
    scenario.programs.iter().flat_map(|p| p.practices.iter().filter_map(of(p))).collect()
}

/// One practice that lays a product, with its rates.
fn rate(program: &Program, practice: &Practice, units: Units) -> Option<String> {
    let (rate, unit, product) = match &practice.what {
        What::PreEmergent { rate_kg_ha, product, .. } => (*rate_kg_ha, "kg ai/ha", product),
        What::Spread { nitrogen, product, .. } => (nitrogen.total_g_m2(), "g N/m2", product),
        What::Spray(spray) => (spray.rate_kg_ha, "kg ai/ha", &spray.product),
        What::Tend(Tend { tending, product: Some(product), .. }) => {
            let (rate, unit) = tending::in_files(tending);
            (rate, unit, product)
        }
        _ => return None,
    };
    let shown = units.shown(unit);
    let unit = if unit == "g N/m2" && units == Units::Us { "lb N/1000 ft2" } else { shown.unit };
    let (amount, amount_unit) = product_amount(product.amount_per_m2, product.liquid, units);
    Some(format!(
        "{}, {}: {}, {} {unit} each time ({} {amount_unit} of product)",
        program.id,
        name::practice_in_line(&practice.key),
        product.name,
        round::fixed(shown.value(rate), round::rate_decimals(shown.value(rate))),
        round::spoken(amount, if amount < 0.1 { 0.001 } else { 0.01 }).trim_end_matches(".00"),
    ))
}

/// A product's amount as a crew measures it: oz, lb or fl oz per 1000 ft2, g or mL per m2.
fn product_amount(per_m2: f64, liquid: bool, units: Units) -> (f64, &'static str) {
    // 1000 ft2 = 92.90304 m2; 1 oz = 28.349523 g; 1 US fl oz = 29.573530 mL (NIST SP 811, B.8).
    match (units, liquid) {
        (Units::Us, false) => match per_m2 * 92.903_04 / 28.349_523 {
            oz if oz >= 16.0 => (oz / 16.0, "lb/1000 ft2"),
            oz => (oz, "oz/1000 ft2"),
        },
        (Units::Us, true) => (per_m2 * 92.903_04 / 29.573_53, "fl oz/1000 ft2"),
        (Units::Metric, false) => (per_m2, "g/m2"),
        (Units::Metric, true) => (per_m2, "mL/m2"),
    }
}
