//! The scenario language from outside: good scenarios give what they say, bad ones give every
//! fault with its line.

mod ceilings;
mod changes;
mod faults;
mod never;
mod rules;
mod seed;
mod spray;

use sim::scenario::{Checked, Fault, Scenario, Severity, What, check, line_of};

const PRODUCTS: &str = include_str!("../../scenarios/products.toml");
const THIN: &str = include_str!("../../scenarios/thin-front-lawn.toml");
const LOT: &str = include_str!("../../scenarios/new-build-lot.toml");

const MINIMAL: &str = r#"title = "x"
[lawn]
area = "500 m2"
soil = { texture = "loam", organic-matter = "3 %" }
grass = [{ kind = "tall fescue" }]
seen = { grass-cover = "90 %", crabgrass-last-august = "0 %" }
[weather]
station = "seattle"
[run]
first-year = 2026
[[program]]
id = "a"
[[program.practice]]
key = "mow"
do = "mow"
height = "80 mm"
every = 7
from = "1 Apr"
to = "31 Oct"
"#;

fn good(text: &str) -> Checked {
    check(text, PRODUCTS).unwrap_or_else(|faults| panic!("{}", told(text, &faults)))
}

fn bad(text: &str) -> Vec<Fault> {
    check(text, PRODUCTS).map(|c| panic!("passed: {c:?}")).unwrap_err()
}

fn told(text: &str, faults: &[Fault]) -> String {
    let line = |f: &Fault| format!("{} {}: {}", line_of(text, &f.span), f.code, f.message);
    faults.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// Codes and lines of the errors.
fn errors(text: &str) -> Vec<(usize, &'static str)> {
    let all = bad(text).into_iter().filter(|f| f.severity == Severity::Error);
    all.map(|f| (line_of(text, &f.span), f.code)).collect()
}

/// The only error, and the text that it points at.
fn only_error(text: &str) -> (Fault, String) {
    let mut all: Vec<Fault> =
        bad(text).into_iter().filter(|f| f.severity == Severity::Error).collect();
    assert_eq!(all.len(), 1, "{}", told(text, &all));
    let fault = all.remove(0);
    let at = text[fault.span.clone()].to_string();
    (fault, at)
}

fn swapped(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "the scenario has no {from:?}");
    text.replacen(from, to, 1)
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-6 * b.abs().max(1e-9), "{a} against {b}");
}

fn barrier_rates(scenario: &Scenario, program: usize) -> Vec<(String, f64, f64)> {
    let all = scenario.programs[program].practices.iter();
    all.filter_map(|p| match &p.what {
        What::PreEmergent { rate_kg_ha, product, .. } => {
            Some((p.key.clone(), *rate_kg_ha, product.amount_per_m2))
        }
        _ => None,
    })
    .collect()
}
