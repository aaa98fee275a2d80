//! The JSON Schema (draft-07) of a scenario, made from the registry, for editors that check TOML as
//! it is typed. It knows keys, kinds of value and choices; units, sums and references are left to
//! the check itself.

use super::super::constants::catalogue;
use super::super::hold::FORMS;
use super::super::key::{Def, Key, Need, Shape};
use super::json::Json;
use super::place::{ROOT, TABLES};
use super::practice::{CHANGE_FORMS, CHANGES, DO, PRACTICES};
use std::collections::BTreeMap;

/// The schema as JSON text.
pub fn schema() -> String {
    let mut definitions = Definitions::default();
    let root = definitions.table(&ROOT);
    for def in TABLES.iter().filter(|def| def.name != ROOT.name) {
        definitions.refer(def);
    }
    definitions.put("quantity", quantity());
    definitions.put("uncertain", ranged(reference("quantity")));
    definitions.put("constant", ranged(Json::object([("type", Json::text("number"))])));
    definitions.put("constants", constants());
    definitions.practices();
    definitions.change();
    let schema = Json::object([
        ("$schema", Json::text("http://json-schema.org/draft-07/schema#")),
        ("title", Json::text("A lawn, its weather and the programs of care to compare on it")),
    ]);
    let Json::Object(members) = root else { return String::new() };
    let members = members.into_iter().fold(schema, |all, (name, value)| all.with([(&name, value)]));
    let mut text = String::new();
    members.with([("definitions", definitions.finish())]).write(0, &mut text);
    text.push('\n');
    text
}

/// Tables that others refer to, by name.
#[derive(Default)]
struct Definitions {
    made: BTreeMap<String, Option<Json>>,
}

impl Definitions {
    fn put(&mut self, name: &str, json: Json) {
        self.made.insert(name.to_string(), Some(json));
    }

    fn finish(self) -> Json {
        Json::Object(self.made.into_iter().filter_map(|(name, json)| Some((name, json?))).collect())
    }

    /// A reference to a table, which is made where it is not there yet.
    fn refer(&mut self, def: &'static Def) -> Json {
        if !self.made.contains_key(def.name) {
            // Its place is taken first, so that a table within itself would not go round.
            self.made.insert(def.name.to_string(), None);
            let table = self.table(def);
            self.put(def.name, table);
        }
        reference(def.name)
    }

    fn table(&mut self, def: &'static Def) -> Json {
        let keys: Vec<&Key> = def.keys().collect();
        let table = self.closed(keys.iter().copied());
        let must = keys.iter().filter(|key| key.need == Need::Must).map(|key| key.name);
        let table = table.with([("required", Json::texts(must))]);
        if keys.iter().any(|key| key.name == "based-on") {
            let of_its_own = required(&["practice"]);
            return table.with([(
                "anyOf",
                Json::List(vec![of_its_own, required(&["based-on", "change"])]),
            )]);
        }
        table
    }

    /// An object of these keys and no other. Where a key is there in several forms, any will do.
    fn closed(&mut self, keys: impl Iterator<Item = &'static Key>) -> Json {
        let mut order: Vec<(&str, Vec<Json>)> = Vec::new();
        let mut seen: Vec<(&str, String)> = Vec::new();
        for key in keys {
            let form = (key.name, format!("{:?}", key.shape));
            if seen.contains(&form) {
                continue;
            }
            seen.push(form);
            let json = self.key(key);
            match order.iter_mut().find(|(name, _)| *name == key.name) {
                Some((_, all)) => all.push(json),
                None => order.push((key.name, vec![json])),
            }
        }
        let properties = order.into_iter().map(|(name, mut all)| {
            let one = if all.len() == 1 { all.swap_remove(0) } else { any_of(all) };
            (name.to_string(), one)
        });
        Json::object([
            ("type", Json::text("object")),
            ("additionalProperties", Json::Flag(false)),
            ("properties", Json::Object(properties.collect())),
        ])
    }

    fn key(&mut self, key: &'static Key) -> Json {
        let shape = match (key.name, key.shape) {
            ("practice", Shape::Later) => one_or_more(reference("practice")),
            ("change", Shape::Later) => one_or_more(reference("change")),
            ("add", Shape::Later) => reference("practice"),
            (_, shape) => self.shape(shape),
        };
        let left_out = match key.need {
            Need::Else(text) if !text.is_empty() => format!(" Left out: {text}."),
            _ => String::new(),
        };
        let holds = match key.shape {
            Shape::Table(_) | Shape::Tables(_) | Shape::Later | Shape::Text(_) => String::new(),
            shape => format!(" Holds {}.", shape.expected()),
        };
        // A reference takes no neighbours in draft-07: it goes into an allOf of one.
        let shape = match shape {
            Json::Object(members) if members.iter().any(|(name, _)| name == "$ref") => {
                Json::object([("allOf", Json::List(vec![Json::Object(members)]))])
            }
            shape => shape,
        };
        shape.with([("description", Json::text(format!("{}{holds}{left_out}", key.doc)))])
    }

    fn shape(&mut self, shape: Shape) -> Json {
        match shape {
            Shape::Text(most) => text().with([("maxLength", Json::Number(most as f64))]),
            Shape::Id => text().with([("pattern", Json::text("^[a-z0-9-]{1,40}$"))]),
            Shape::Number(low, high) => between("number", low, high),
            Shape::Whole(low, high) => between("integer", low as f64, high as f64),
            Shape::Quantity(..) | Shape::AnyOf(_) => reference("quantity"),
            Shape::Uncertain(..) => reference("uncertain"),
            Shape::Days(low, high) => days(low, high),
            Shape::UncertainDays(low, high) => ranged(days(low, high)),
            Shape::Choice(words) => Json::object([("enum", Json::texts(words.iter().copied()))]),
            Shape::ChoiceOrShare(words) => {
                let words = Json::object([("enum", Json::texts(words.iter().map(|word| word.0)))]);
                ranged(any_of(vec![words, reference("quantity")]))
            }
            Shape::Day => day(),
            Shape::Dates => one_or_more(day()),
            Shape::Holds => one_or_more(hold()),
            Shape::Texts(most) => {
                one_or_more(text().with([("maxLength", Json::Number(most as f64))]))
            }
            Shape::Table(def) => self.refer(def),
            Shape::Tables(def) => one_or_more(self.refer(def)),
            Shape::Later => Json::object([("type", Json::text("object"))]),
            Shape::Constants => reference("constants"),
        }
    }

    /// A practice: its keys follow from what it does.
    fn practices(&mut self) {
        let mut ways = Vec::new();
        for (word, def) in DO.iter().zip(PRACTICES) {
            let name = format!("practice {word}");
            let table = self.table(def);
            self.put(&name, table);
            let does = Json::object([("const", Json::text(*word))]);
            let when = required(&["do"]).with([("properties", Json::object([("do", does)]))]);
            ways.push(Json::object([("if", when), ("then", reference(&name))]));
        }
        let does = Json::object([("enum", Json::texts(DO.iter().copied()))]);
        let practice = Json::object([
            ("type", Json::text("object")),
            ("properties", Json::object([("do", does)])),
            ("required", Json::texts(["key", "do"].into_iter())),
            ("allOf", Json::List(ways)),
        ]);
        self.put("practice", practice);
    }

    /// A change: which keys fit is known only once its practice is.
    fn change(&mut self) {
        let keys = CHANGE_FORMS.iter().chain(CHANGES.iter().flat_map(Def::keys));
        let change = self.closed(keys);
        let forms = ["practice", "add", "drop"].map(|form| required(&[form]));
        self.put("change", change.with([("oneOf", Json::List(forms.into_iter().collect()))]));
    }
}

fn reference(name: &str) -> Json {
    // RFC 6901 and 3986: a space in a reference is written %20.
    let path = format!("#/definitions/{}", name.replace(' ', "%20"));
    Json::object([("$ref", Json::text(path))])
}

fn required(names: &[&str]) -> Json {
    Json::object([("required", Json::texts(names.iter().copied()))])
}

fn any_of(all: Vec<Json>) -> Json {
    Json::object([("anyOf", Json::List(all))])
}

/// One schema for values of a type, another for the rest: a fault is then told where it stands, which
/// "any of these" would hide.
fn if_type(kind: &str, then: Json, otherwise: Json) -> Json {
    let is = Json::object([("type", Json::text(kind))]);
    Json::object([("if", is), ("then", then), ("else", otherwise)])
}

fn one_or_more(one: Json) -> Json {
    let list = Json::object([("type", Json::text("array"))]);
    if_type("array", list.with([("items", one.clone())]), one)
}

fn text() -> Json {
    Json::object([("type", Json::text("string"))])
}

fn pattern(pattern: &str) -> Json {
    text().with([("pattern", Json::text(pattern))])
}

fn between(kind: &str, low: f64, high: f64) -> Json {
    Json::object([
        ("type", Json::text(kind)),
        ("minimum", Json::Number(low)),
        ("maximum", Json::Number(high)),
    ])
}

/// Whole days, or a time with its unit.
fn days(low: i64, high: i64) -> Json {
    any_of(vec![between("integer", low as f64, high as f64), reference("quantity")])
}

/// A number and something after it that is its unit.
fn quantity() -> Json {
    pattern("[0-9½¼¾⅛⅜⅝⅞].*[^0-9\\s.,]")
}

/// A day and a month by its name, in either order.
fn day() -> Json {
    pattern("[0-9].*[A-Za-z]{3}|[A-Za-z]{3}.*[0-9]")
}

/// A hold by its first word.
fn hold() -> Json {
    let mut heads: Vec<&str> =
        FORMS.iter().filter_map(|form| form.split_whitespace().next()).collect();
    heads.dedup();
    pattern(&format!("^\\s*({})", heads.join("|")))
}

/// A value, a range, or low, likely and high.
fn ranged(one: Json) -> Json {
    let two = Json::object([
        ("type", Json::text("array")),
        ("items", one.clone()),
        ("minItems", Json::Number(2.0)),
        ("maxItems", Json::Number(2.0)),
    ]);
    let names = ["low", "likely", "high"];
    let three = Json::object([
        ("type", Json::text("object")),
        ("additionalProperties", Json::Flag(false)),
        ("properties", Json::Object(names.map(|n| (n.to_string(), one.clone())).into())),
        ("required", Json::texts(names.into_iter())),
    ]);
    if_type("array", two, if_type("object", three, one))
}

/// Constants by their dotted names, which are tables in tables: an editor completes them. Names in
/// quotes, and whether a name is one at all, are left to the check.
fn constants() -> Json {
    let mut top = Json::object([]);
    for entry in catalogue() {
        let parts: Vec<&str> = entry.name.split('.').collect();
        let unit = if entry.unit == "1" { String::new() } else { format!(" {}", entry.unit) };
        let told = format!("Left out: {}{unit} ({}: {}).", entry.value, entry.grade, entry.source);
        let constant = Json::object([
            ("allOf", Json::List(vec![reference("constant")])),
            ("description", Json::text(told)),
        ]);
        put(&mut top, &parts, constant);
    }
    names(top)
}

/// Puts a value under a path of names, making the objects on the way.
fn put(tree: &mut Json, path: &[&str], value: Json) {
    let (Json::Object(members), [first, rest @ ..]) = (tree, path) else { return };
    if rest.is_empty() {
        members.push(((*first).to_string(), value));
        return;
    }
    let at = members.iter().position(|(name, _)| name == first).unwrap_or_else(|| {
        members.push(((*first).to_string(), Json::object([])));
        members.len() - 1
    });
    put(&mut members[at].1, rest, value);
}

/// A tree of names as a schema: what is under no name that is known may be anything again.
fn names(tree: Json) -> Json {
    let Json::Object(members) = tree else { return tree };
    if members.iter().any(|(name, _)| name == "allOf") {
        return Json::Object(members);
    }
    let members = members.into_iter().map(|(name, inner)| (name, names(inner))).collect();
    Json::object([
        ("type", Json::text("object")),
        ("properties", Json::Object(members)),
        ("additionalProperties", any_of(vec![reference("constant"), reference("constants")])),
    ])
}
