//! The walk: a spanned tree against the registry, every fault noted.

use super::fault::{Faults, did_you_mean};
use super::key::{Def, Key, Need, Shape, quoted};
use super::value::{Found, Reading, Value};
use super::{Uncertain, constants, day, hold};
use crate::parameters::Entry;
use crate::quantity::{self, Kind, Units, show};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

type Node<'t> = Spanned<DeValue<'t>>;

/// Most tables of one kind, such as programs, or practices of one program. A lawn has a dozen; what
/// plays thousands of them is a mistake of a script, and would take days.
pub(super) const TABLES_MOST: usize = 200;

/// Most entries of a list: a day of the year each.
const LIST_MOST: usize = 366;

/// Notes a list that is too long.
pub(super) fn not_too_many(
    name: &str,
    span: &Range<usize>,
    (count, most): (usize, usize),
    faults: &mut Faults,
) {
    if count > most {
        let message = format!("`{name}` is there {count} times");
        let expected = format!("{most} at most");
        faults.error("too-many", span, message, expected, None);
    }
}

/// Whether keys that must be there are asked for.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Demand {
    /// All of them.
    Whole,
    /// None: the table only changes another.
    Part,
    /// All of them; other keys are passed over.
    Known,
}

/// Reads a table by its definition.
pub(super) fn table<'t>(
    def: &'static Def,
    table: &'t DeTable<'t>,
    span: Range<usize>,
    demand: Demand,
    faults: &mut Faults,
) -> Reading<'t> {
    let mut found = BTreeMap::new();
    for (name, node) in table.iter() {
        match def.key(name.get_ref()) {
            Some(key) => {
                let value = value(key, node, faults).unwrap_or(Value::Faulty);
                found.insert(key.name, Found { value, span: node.span(), raw: raw(node) });
            }
            None if demand == Demand::Known => {}
            None => unknown_key(def, name, faults),
        }
    }
    for key in def.keys().filter(|k| demand != Demand::Part && k.need == Need::Must) {
        if !table.contains_key(key.name) {
            faults.error(
                "missing-key",
                &span,
                format!("`{}` is missing in [{}]", key.name, def.name),
                format!("{}: {}", key.name, key.shape.expected()),
                Some(key.doc.to_string()),
            );
        }
    }
    Reading { def, span, found }
}

fn unknown_key(def: &'static Def, name: &Spanned<std::borrow::Cow<'_, str>>, faults: &mut Faults) {
    faults.error(
        "unknown-key",
        &name.span(),
        format!("`{}` is not a key of [{}]", name.get_ref(), def.name),
        format!("one of {}", quoted(def.keys().map(|k| k.name))),
        did_you_mean(name.get_ref(), def.keys().map(|k| k.name)),
    );
}

fn raw(node: &Node<'_>) -> String {
    match node.get_ref() {
        DeValue::String(s) => s.to_string(),
        DeValue::Integer(i) => i.to_string(),
        DeValue::Float(f) => f.to_string(),
        DeValue::Array(all) => all.iter().map(raw).collect::<Vec<_>>().join(" and "),
        // A grass of a mixture: its name and its share.
        DeValue::Table(inner) if inner.contains_key("kind") => {
            let parts = ["kind", "share"].into_iter().filter_map(|key| inner.get(key));
            parts.map(raw).collect::<Vec<_>>().join(" ")
        }
        _ => String::new(),
    }
}

/// Reads the value of a key.
fn value<'t>(key: &Key, node: &'t Node<'t>, faults: &mut Faults) -> Option<Value<'t>> {
    let mut ask = Ask { name: key.name, shape: &key.shape, faults };
    match key.shape {
        Shape::Text(most) => ask.text(node, most).map(Value::Text),
        Shape::Id => ask.id(node).map(Value::Text),
        Shape::Number(low, high) => ask.number(node, low, high).map(Value::Number),
        Shape::Whole(low, high) => ask.whole(node, low, high).map(Value::Whole),
        Shape::Quantity(kind, low, high) => {
            ask.quantity(node, kind, low, high).map(|v| Value::Quantity(kind, v))
        }
        Shape::AnyOf(kinds) => ask.any_of(node, kinds).map(|(k, v)| Value::Quantity(k, v)),
        Shape::Uncertain(kind, low, high) => {
            let one = |ask: &mut Ask<'_>, node: &Node<'_>| ask.quantity(node, kind, low, high);
            ask.uncertain(node, &one).map(Value::Uncertain)
        }
        Shape::Days(low, high) => ask.days(node, low, high).map(Value::Whole),
        Shape::UncertainDays(low, high) => {
            let one = |ask: &mut Ask<'_>, node: &Node<'_>| {
                ask.days(node, low, high).map(|days| days as f64)
            };
            ask.uncertain(node, &one).map(Value::Uncertain)
        }
        Shape::Choice(words) => ask.choice(node, words).map(Value::Text),
        Shape::ChoiceOrShare(words) => {
            let one = |ask: &mut Ask<'_>, node: &Node<'_>| ask.choice_or_share(node, words);
            ask.uncertain(node, &one).map(Value::Uncertain)
        }
        Shape::Day => ask.day(node).map(|d| Value::Days(vec![d])),
        Shape::Dates => ask.list(node, |ask, n| ask.day(n).map(Some)).map(Value::Days),
        Shape::Holds => ask.list(node, |ask, n| ask.hold(n)).map(Value::Holds),
        Shape::Texts(most) => {
            let list = match node.get_ref() {
                DeValue::Array(all) => {
                    not_too_many(ask.name, &node.span(), (all.len(), LIST_MOST), ask.faults);
                    all.iter().take(LIST_MOST).map(|n| ask.text(n, most)).collect()
                }
                _ => vec![ask.text(node, most)],
            };
            list.into_iter().collect::<Option<Vec<String>>>().map(Value::Texts)
        }
        Shape::Table(def) => match node.get_ref() {
            DeValue::Table(inner) => {
                Some(Value::Table(table(def, inner, node.span(), Demand::Whole, faults)))
            }
            _ => ask.wrong_type(node),
        },
        Shape::Tables(def) => ask.tables(node, def),
        Shape::Later => Some(Value::Later(node)),
        Shape::Constants => ask.constants(node).map(Value::Constants),
    }
}

struct Ask<'a> {
    name: &'a str,
    shape: &'a Shape,
    faults: &'a mut Faults,
}

impl Ask<'_> {
    fn wrong_type<T>(&mut self, node: &Node<'_>) -> Option<T> {
        let is = match node.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let help = match (self.shape, node.get_ref()) {
            (Shape::Quantity(..) | Shape::AnyOf(_), DeValue::Array(_) | DeValue::Table(_)) => {
                return self.not_uncertain(node);
            }
            (Shape::Day | Shape::Dates, DeValue::Datetime(_)) => {
                Some("leave the year out: the day comes back every year".to_string())
            }
            _ => None,
        };
        let expected = self.shape.expected();
        let message = format!("`{}` is {is}", self.name);
        self.faults.error("wrong-type", &node.span(), message, expected, help);
        None
    }

    fn not_uncertain<T>(&mut self, node: &Node<'_>) -> Option<T> {
        self.faults.error(
            "not-uncertain",
            &node.span(),
            format!("`{}` takes one value: it is known or chosen, not drawn", self.name),
            self.shape.expected(),
            Some("give the likeliest value".to_string()),
        );
        None
    }

    fn fault<T>(
        &mut self,
        code: &'static str,
        node: &Node<'_>,
        message: String,
        help: Option<String>,
    ) -> Option<T> {
        let expected = self.shape.expected();
        self.faults.error(code, &node.span(), message, expected, help);
        None
    }

    fn text(&mut self, node: &Node<'_>, most: usize) -> Option<String> {
        let DeValue::String(text) = node.get_ref() else { return self.wrong_type(node) };
        if text.chars().count() > most || text.chars().any(|c| c.is_control() && c != '\n') {
            let message = format!(
                "`{}` is longer than {most} characters or has control characters",
                self.name
            );
            return self.fault("bad-text", node, message, None);
        }
        Some(text.trim().to_string())
    }

    fn id(&mut self, node: &Node<'_>) -> Option<String> {
        let text = self.text(node, 200)?;
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if text.is_empty() || text.len() > 40 || !text.chars().all(plain) {
            let near: String = text
                .to_ascii_lowercase()
                .chars()
                .map(|c| if plain(c) { c } else { '-' })
                .take(40)
                .collect();
            let help = (!near.is_empty()).then(|| format!("write \"{near}\""));
            let message = format!("`{}` = \"{text}\" is not a short name", self.name);
            return self.fault("bad-name", node, message, help);
        }
        Some(text)
    }

    fn number(&mut self, node: &Node<'_>, low: f64, high: f64) -> Option<f64> {
        let Some(value) = plain_number(node) else { return self.wrong_type(node) };
        if !(low..=high).contains(&value) {
            let message = format!("`{}` = {value} is out of range", self.name);
            return self.fault("out-of-range", node, message, None);
        }
        Some(value)
    }

    fn whole(&mut self, node: &Node<'_>, low: i64, high: i64) -> Option<i64> {
        let DeValue::Integer(i) = node.get_ref() else { return self.wrong_type(node) };
        match i64::from_str_radix(i.as_str(), i.radix()) {
            Ok(n) if (low..=high).contains(&n) => Some(n),
            _ => {
                let message = format!("`{}` = {i} is out of range", self.name);
                self.fault("out-of-range", node, message, None)
            }
        }
    }

    /// The text of a quantity: a bare number is taken as text, so that the message is about its
    /// missing unit.
    fn quantity_text(&mut self, node: &Node<'_>) -> Option<String> {
        match node.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            DeValue::Integer(_) | DeValue::Float(_) => Some(raw(node)),
            _ => self.wrong_type(node),
        }
    }

    fn any_of(&mut self, node: &Node<'_>, kinds: &[Kind]) -> Option<(Kind, f64)> {
        let text = self.quantity_text(node)?;
        match quantity::parse_any(&text, kinds) {
            Ok((_, value)) if value < 0.0 && !kinds.contains(&Kind::Temperature) => {
                let message = format!("`{}` = \"{text}\" is below zero", self.name);
                self.fault("out-of-range", node, message, None)
            }
            Ok(read) => Some(read),
            Err(fault) => {
                let help = fault.suggestion.map(|s| format!("did you mean \"{s}\"?"));
                let message = format!("`{}`: {}", self.name, fault.message);
                self.faults.error("bad-quantity", &node.span(), message, fault.expected, help);
                None
            }
        }
    }

    fn quantity(&mut self, node: &Node<'_>, kind: Kind, low: f64, high: f64) -> Option<f64> {
        let (_, value) = self.any_of(node, &[kind])?;
        // Rounding of a unit's factor must not push a bound that was typed exactly out of range.
        let slack = 1e-9 * (low.abs() + high.abs());
        if !(low - slack..=high + slack).contains(&value) {
            let between = |u| format!("{} to {}", show(low, kind, u), show(high, kind, u));
            let expected = match (between(Units::Us), between(Units::Metric)) {
                (us, metric) if us == metric => us,
                (us, metric) => format!("{us} ({metric})"),
            };
            let message = format!("`{}` = \"{}\" is out of range", self.name, raw(node));
            self.faults.error("out-of-range", &node.span(), message, expected, None);
            return None;
        }
        Some(value.clamp(low, high))
    }

    fn days(&mut self, node: &Node<'_>, low: i64, high: i64) -> Option<i64> {
        if matches!(node.get_ref(), DeValue::Integer(_)) {
            return self.whole(node, low, high);
        }
        let (_, value) = self.any_of(node, &[Kind::Duration])?;
        let days = value.round();
        if days < low as f64 || days > high as f64 {
            let message = format!("`{}` = \"{}\" is out of range", self.name, raw(node));
            let expected = format!("between {low} and {high} days");
            self.faults.error("out-of-range", &node.span(), message, expected, None);
            return None;
        }
        Some(days as i64)
    }

    fn choice(&mut self, node: &Node<'_>, words: &[&'static str]) -> Option<String> {
        let DeValue::String(text) = node.get_ref() else { return self.wrong_type(node) };
        let word = words.iter().find(|w| w.eq_ignore_ascii_case(text.trim()));
        if word.is_none() {
            let message = format!("`{}` = \"{text}\" is not a choice", self.name);
            let help = did_you_mean(text, words.iter().copied());
            return self.fault("not-a-choice", node, message, help);
        }
        word.map(|w| (*w).to_string())
    }

    fn choice_or_share(&mut self, node: &Node<'_>, words: &[(&'static str, f64)]) -> Option<f64> {
        if let DeValue::String(text) = node.get_ref() {
            if let Some((_, share)) = words.iter().find(|w| w.0.eq_ignore_ascii_case(text.trim())) {
                return Some(*share);
            }
            if !text.contains(|c: char| c.is_ascii_digit()) {
                let message = format!("`{}` = \"{text}\" is not a choice", self.name);
                let help = did_you_mean(text, words.iter().map(|w| w.0));
                return self.fault("not-a-choice", node, message, help);
            }
        }
        self.quantity(node, Kind::Share, 0.05, 1.0)
    }

    fn day(&mut self, node: &Node<'_>) -> Option<crate::calendar::MonthDay> {
        let DeValue::String(text) = node.get_ref() else { return self.wrong_type(node) };
        match day::parse(text) {
            Ok(day) => Some(day),
            Err(help) => {
                let message = format!("`{}`: \"{text}\" is not a day of the year", self.name);
                self.faults.error("bad-day", &node.span(), message, Shape::Day.expected(), help);
                None
            }
        }
    }

    fn hold(&mut self, node: &Node<'_>) -> Option<Option<super::Hold>> {
        let DeValue::String(text) = node.get_ref() else { return self.wrong_type(node) };
        match hold::parse(text) {
            Ok(hold) => Some(hold),
            Err(fault) => {
                self.faults.error(
                    "bad-hold",
                    &node.span(),
                    format!("`{}`: {}", self.name, fault.message),
                    fault.expected,
                    fault.help,
                );
                None
            }
        }
    }

    /// One or several, all read so that all faults are noted. What reads to nothing is left out.
    fn list<T>(
        &mut self,
        node: &Node<'_>,
        one: fn(&mut Self, &Node<'_>) -> Option<Option<T>>,
    ) -> Option<Vec<T>> {
        let DeValue::Array(all) = node.get_ref() else {
            return one(self, node).map(|v| v.into_iter().collect());
        };
        not_too_many(self.name, &node.span(), (all.len(), LIST_MOST), self.faults);
        let read: Vec<Option<Option<T>>> =
            all.iter().take(LIST_MOST).map(|n| one(self, n)).collect();
        let whole: Option<Vec<Option<T>>> = read.into_iter().collect();
        whole.map(|v| v.into_iter().flatten().collect())
    }

    fn tables<'t>(&mut self, node: &'t Node<'t>, def: &'static Def) -> Option<Value<'t>> {
        let mut all = Vec::new();
        match node.get_ref() {
            DeValue::Table(inner) => {
                all.push(table(def, inner, node.span(), Demand::Whole, self.faults));
            }
            DeValue::Array(nodes) => {
                not_too_many(self.name, &node.span(), (nodes.len(), TABLES_MOST), self.faults);
                for node in nodes.iter().take(TABLES_MOST) {
                    match node.get_ref() {
                        DeValue::Table(inner) => {
                            all.push(table(def, inner, node.span(), Demand::Whole, self.faults));
                        }
                        _ => return self.wrong_type(node),
                    }
                }
            }
            _ => return self.wrong_type(node),
        }
        Some(Value::Tables(all))
    }

    fn uncertain(
        &mut self,
        node: &Node<'_>,
        one: &dyn Fn(&mut Self, &Node<'_>) -> Option<f64>,
    ) -> Option<Uncertain> {
        let values = match node.get_ref() {
            DeValue::Array(all) if all.len() == 2 => {
                all.iter().map(|n| one(self, n)).collect::<Vec<_>>()
            }
            DeValue::Array(all) => {
                let message = format!("`{}` has {} values", self.name, all.len());
                let help = Some("a range has two: [\"50 %\", \"60 %\"]".to_string());
                return self.fault("wrong-type", node, message, help);
            }
            DeValue::Table(inner) => self.triple(node, inner, one)?,
            _ => return one(self, node).map(Uncertain::Exact),
        };
        let values = values.into_iter().collect::<Option<Vec<f64>>>()?;
        if values.windows(2).any(|pair| pair[0] > pair[1]) {
            let message = format!("`{}` does not rise from its low to its high", self.name);
            return self.fault("reversed-range", node, message, Some("swap them".to_string()));
        }
        match values[..] {
            [low, high] => Some(Uncertain::Range(low, high)),
            [low, likely, high] => Some(Uncertain::Triple(low, likely, high)),
            _ => None,
        }
    }

    fn triple(
        &mut self,
        node: &Node<'_>,
        inner: &DeTable<'_>,
        one: &dyn Fn(&mut Self, &Node<'_>) -> Option<f64>,
    ) -> Option<Vec<Option<f64>>> {
        const NAMES: [&str; 3] = ["low", "likely", "high"];
        for (name, _) in inner.iter().filter(|(n, _)| !NAMES.contains(&n.get_ref().as_ref())) {
            let message =
                format!("`{}` is not a key of an uncertain `{}`", name.get_ref(), self.name);
            let help = did_you_mean(name.get_ref(), NAMES.into_iter());
            let expected = "low, likely and high";
            self.faults.error("unknown-key", &name.span(), message, expected, help);
        }
        let mut values = Vec::new();
        for name in NAMES {
            let Some(node) = inner.iter().find(|(n, _)| n.get_ref() == name).map(|(_, v)| v) else {
                let message = format!("`{}` has no `{name}`", self.name);
                return self.fault("missing-key", node, message, None);
            };
            values.push(one(self, node));
        }
        Some(values)
    }

    /// Dotted names, written in quotes or as nested tables.
    fn constants(&mut self, node: &Node<'_>) -> Option<Vec<(String, Uncertain)>> {
        let DeValue::Table(inner) = node.get_ref() else { return self.wrong_type(node) };
        let mut out = Vec::new();
        self.constants_in("", inner, &constants::catalogue(), &mut out);
        Some(out)
    }

    fn constants_in(
        &mut self,
        prefix: &str,
        inner: &DeTable<'_>,
        catalogue: &[Entry],
        out: &mut Vec<(String, Uncertain)>,
    ) {
        for (name, node) in inner.iter() {
            let full = format!("{prefix}{}", name.get_ref());
            let entry = catalogue.iter().find(|entry| entry.name == full);
            match (entry, node.get_ref()) {
                (None, DeValue::Table(deeper)) if !deeper.contains_key("low") => {
                    self.constants_in(&format!("{full}."), deeper, catalogue, out);
                }
                (None, _) => self.unknown_constant(&full, &name.span(), catalogue),
                (Some(_), _) if out.iter().any(|(there, _)| *there == full) => {
                    let message = format!("\"{full}\" is there twice");
                    self.faults.error("duplicate-id", &name.span(), message, "each once", None);
                }
                (Some(entry), _) => {
                    if let Some(value) = self.constant(entry, node) {
                        out.push((full, value));
                    }
                }
            }
        }
    }

    fn constant(&mut self, entry: &Entry, node: &Node<'_>) -> Option<Uncertain> {
        let shape = Shape::Number(f64::MIN, f64::MAX);
        let mut ask = Ask { name: &entry.name, shape: &shape, faults: self.faults };
        let (low, high) = constants::bounds(entry);
        let one = |ask: &mut Ask<'_>, node: &Node<'_>| {
            let expected = constants::expected(entry);
            let Some(value) = plain_number(node) else {
                let message = format!("`{}` is not a plain number here", entry.name);
                let help = Some("leave the unit and the quotes out".to_string());
                ask.faults.error("wrong-type", &node.span(), message, expected, help);
                return None;
            };
            if !(low..=high).contains(&value) {
                let message = format!("`{}` = {value} is out of range", entry.name);
                ask.faults.error("out-of-range", &node.span(), message, expected, None);
                return None;
            }
            Some(value)
        };
        let value = ask.uncertain(node, &one)?;
        if let Some(message) = constants::far(entry, value) {
            let expected = constants::expected(entry);
            let mend = format!("`swardplay facts {}` tells where its value comes from", entry.name);
            self.faults.caution("far-from-known", &node.span(), message, expected, mend);
        }
        Some(value)
    }

    fn unknown_constant(&mut self, full: &str, span: &Range<usize>, catalogue: &[Entry]) {
        self.faults.error(
            "unknown-constant",
            span,
            format!("\"{full}\" is not a constant of the model"),
            "a name that the list of constants has, such as those that `facts` prints",
            constants::meant(full, catalogue).map(|name| format!("did you mean \"{name}\"?")),
        );
    }
}

fn plain_number(node: &Node<'_>) -> Option<f64> {
    let value: f64 = match node.get_ref() {
        DeValue::Integer(i) => i64::from_str_radix(i.as_str(), i.radix()).ok()? as f64,
        DeValue::Float(f) => f.as_str().parse().ok()?,
        _ => return None,
    };
    value.is_finite().then_some(value)
}
