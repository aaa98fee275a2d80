//! A table that was read: its values with their places in the text.

use super::key::{Def, Need, Shape};
use super::{Hold, Uncertain};
use crate::calendar::MonthDay;
use crate::quantity::{self, Kind};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

/// What a key held.
#[derive(Clone, Debug)]
pub(super) enum Value<'t> {
    Text(String),
    Number(f64),
    Whole(i64),
    Quantity(Kind, f64),
    Uncertain(Uncertain),
    Days(Vec<MonthDay>),
    Holds(Vec<Hold>),
    Texts(Vec<String>),
    Table(Reading<'t>),
    Tables(Vec<Reading<'t>>),
    Constants(Vec<(String, Uncertain)>),
    Later(&'t Spanned<DeValue<'t>>),
    /// Something that a fault was noted for.
    Faulty,
}

impl PartialEq for Value<'_> {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Value::Text(a), Value::Text(b)) => a == b,
            (Value::Number(a), Value::Number(b)) => a == b,
            (Value::Whole(a), Value::Whole(b)) => a == b,
            (Value::Quantity(k, a), Value::Quantity(l, b)) => {
                k == l && (a - b).abs() <= 1e-9 * a.abs()
            }
            (Value::Uncertain(a), Value::Uncertain(b)) => a == b,
            (Value::Days(a), Value::Days(b)) => a == b,
            (Value::Holds(a), Value::Holds(b)) => a == b,
            (Value::Texts(a), Value::Texts(b)) => a == b,
            (Value::Table(a), Value::Table(b)) => a == b,
            (Value::Tables(a), Value::Tables(b)) => a == b,
            _ => false,
        }
    }
}

/// A value with its place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found<'t> {
    pub value: Value<'t>,
    /// Where the value stands.
    pub span: Range<usize>,
    /// As written, without quotes.
    pub raw: String,
}

/// A table that was read.
#[derive(Clone, Debug)]
pub(super) struct Reading<'t> {
    pub def: &'static Def,
    /// Where the table's head stands.
    pub span: Range<usize>,
    pub found: BTreeMap<&'static str, Found<'t>>,
}

impl PartialEq for Reading<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.found.len() == other.found.len()
            && self.found.iter().all(|(k, v)| other.value(k) == Some(&v.value))
    }
}

impl<'t> Reading<'t> {
    /// A table that was left out: all its defaults.
    pub(super) fn empty(def: &'static Def) -> Self {
        Reading { def, span: 0..0, found: BTreeMap::new() }
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.found.contains_key(key)
    }

    pub(super) fn value(&self, key: &str) -> Option<&Value<'t>> {
        self.found.get(key).map(|f| &f.value)
    }

    /// Where a key's value stands, or else the table.
    pub(super) fn span_of(&self, key: &str) -> Range<usize> {
        self.found.get(key).map_or_else(|| self.span.clone(), |f| f.span.clone())
    }

    /// The value as written, or its default.
    pub(super) fn raw(&self, key: &str) -> Option<&str> {
        self.found.get(key).map(|f| f.raw.as_str()).or_else(|| self.default(key))
    }

    fn default(&self, key: &str) -> Option<&'static str> {
        match self.def.key(key)?.need {
            Need::Else(text) => Some(text),
            _ => None,
        }
    }

    /// What a key holds when it is left out.
    pub(super) fn default_value(&self, key: &str) -> Option<Value<'t>> {
        let text = self.default(key)?;
        match self.def.key(key)?.shape {
            Shape::Number(..) => text.parse().ok().map(Value::Number),
            Shape::Whole(..) => text.parse().ok().map(Value::Whole),
            Shape::Quantity(kind, ..) => {
                quantity::parse(text, kind).ok().map(|v| Value::Quantity(kind, v))
            }
            Shape::Uncertain(kind, ..) => {
                quantity::parse(text, kind).ok().map(|v| Value::Uncertain(Uncertain::Exact(v)))
            }
            Shape::ChoiceOrShare(words) => {
                words.iter().find(|w| w.0 == text).map(|w| Value::Uncertain(Uncertain::Exact(w.1)))
            }
            Shape::Text(_) | Shape::Choice(_) => Some(Value::Text(text.to_string())),
            _ => None,
        }
    }

    /// A number, in its kind's own unit, the likeliest where it is uncertain; the default where left
    /// out.
    pub(super) fn maybe(&self, key: &str) -> Option<f64> {
        let default = self.default_value(key);
        match self.value(key).or(default.as_ref())? {
            Value::Quantity(_, v) | Value::Number(v) => Some(*v),
            Value::Whole(n) => Some(*n as f64),
            Value::Uncertain(known) => Some(known.likely()),
            _ => None,
        }
    }

    /// A number that must be there or has a default. Where it is missing or faulty a fault was
    /// noted, and no scenario comes of it: any number will do.
    pub(super) fn number(&self, key: &str) -> f64 {
        self.maybe(key).unwrap_or(0.0)
    }

    /// A whole number, as for [`Reading::number`].
    pub(super) fn whole(&self, key: &str) -> i64 {
        let default = self.default_value(key);
        match self.value(key).or(default.as_ref()) {
            Some(Value::Whole(n)) => *n,
            _ => 0,
        }
    }

    /// A text; the default where left out.
    pub(super) fn text(&self, key: &str) -> Option<&str> {
        match self.value(key) {
            Some(Value::Text(text)) => Some(text),
            Some(_) => None,
            None => self.default(key),
        }
    }

    /// An uncertain number that must be there.
    pub(super) fn uncertain(&self, key: &str) -> Option<Uncertain> {
        match self.value(key)? {
            Value::Uncertain(u) => Some(*u),
            _ => None,
        }
    }

    /// A list of texts; empty where left out.
    pub(super) fn texts(&self, key: &str) -> &[String] {
        match self.value(key) {
            Some(Value::Texts(all)) => all,
            _ => &[],
        }
    }

    /// A table; an empty one where left out.
    pub(super) fn table(&self, key: &str) -> Option<&Reading<'t>> {
        match self.value(key)? {
            Value::Table(reading) => Some(reading),
            _ => None,
        }
    }

    /// A list of tables.
    pub(super) fn tables(&self, key: &str) -> &[Reading<'t>] {
        match self.value(key) {
            Some(Value::Tables(all)) => all,
            _ => &[],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::registry::{CREW, SLIPS};
    use super::*;

    #[test]
    fn every_default_of_crew_and_slips_reads() {
        for def in [&CREW, &SLIPS] {
            let empty = Reading::empty(def);
            for key in def.keys().filter(|k| k.need != Need::May) {
                assert!(empty.default_value(key.name).is_some(), "{}", key.name);
            }
        }
    }
}
