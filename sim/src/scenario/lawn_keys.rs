//! The facts of a lawn that one value states: what a table of lawns may have a column for.

use super::key::{Def, Shape};
use super::registry::ROOT;

/// One fact of the lawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LawnKey {
    /// Its key with the tables that it stands in: "lawn.seen.grass-cover".
    pub path: String,
    /// How its value is written.
    pub form: Form,
    /// What is expected of it, with an example.
    pub expected: String,
}

/// How a value is written in a scenario.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// In quotes.
    Text,
    /// As it is.
    Number,
    /// In quotes; it may be a range, or low, likely and high.
    Range,
}

/// Every such fact, in the order of the reference page.
pub fn lawn_keys() -> Vec<LawnKey> {
    let mut all = Vec::new();
    if let Some(Shape::Table(lawn)) = ROOT.key("lawn").map(|key| key.shape) {
        gather(lawn, &mut all);
    }
    all
}

fn gather(def: &Def, all: &mut Vec<LawnKey>) {
    for key in def.keys() {
        let form = match key.shape {
            Shape::Table(inner) => {
                gather(inner, all);
                continue;
            }
            Shape::Number(..) | Shape::Whole(..) => Form::Number,
            Shape::Uncertain(..) | Shape::UncertainDays(..) | Shape::ChoiceOrShare(_) => {
                Form::Range
            }
            Shape::Text(_) | Shape::Choice(_) | Shape::Quantity(..) => Form::Text,
            _ => continue,
        };
        let path = format!("{}.{}", def.name, key.name);
        all.push(LawnKey { path, form, expected: key.shape.expected() });
    }
}
