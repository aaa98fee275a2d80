//! What a key of the scenario language may hold.

use crate::quantity::Kind;

/// One key of the language.
#[derive(Debug)]
pub(super) struct Key {
    /// As written in a scenario.
    pub name: &'static str,
    /// What it may hold.
    pub shape: Shape,
    /// Whether it must be there.
    pub need: Need,
    /// Keys of one group make one choice together: a change may touch only one group.
    pub group: &'static str,
    /// What it means, for the reference page and for messages.
    pub doc: &'static str,
}

/// Whether a key must be there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Need {
    /// It must.
    Must,
    /// It may be left out, and then is unknown or off.
    May,
    /// It may be left out, and then holds this.
    Else(&'static str),
}

/// What a key may hold. Bounds are in the kind's own unit, both included.
#[derive(Clone, Copy, Debug)]
pub(super) enum Shape {
    /// Free text of at most so many characters.
    Text(usize),
    /// A short name of lower-case letters, digits and dashes.
    Id,
    /// A plain number.
    Number(f64, f64),
    /// A whole number.
    Whole(i64, i64),
    /// A quantity with its unit.
    Quantity(Kind, f64, f64),
    /// A quantity of one of several kinds; the caller checks the range.
    AnyOf(&'static [Kind]),
    /// A quantity that may be a value, a range or a low / likely / high triple.
    Uncertain(Kind, f64, f64),
    /// Whole days: a number of days, or a time with its unit.
    Days(i64, i64),
    /// Whole days that may be a value, a range or a low / likely / high triple.
    UncertainDays(i64, i64),
    /// One of these words.
    Choice(&'static [&'static str]),
    /// One of these words, or a share; that may be a range or a triple too.
    ChoiceOrShare(&'static [(&'static str, f64)]),
    /// A day of the year.
    Day,
    /// One day of the year or several.
    Dates,
    /// A list of holds.
    Holds,
    /// One text or several, of at most so many characters each; the caller reads them.
    Texts(usize),
    /// A table.
    Table(&'static Def),
    /// A list of tables.
    Tables(&'static Def),
    /// Read later, once more is known.
    Later,
    /// Names and values of model constants.
    Constants,
}

/// The keys that a table may hold.
#[derive(Debug)]
pub(super) struct Def {
    /// As it stands in a scenario: "lawn.soil".
    pub name: &'static str,
    /// Its keys, in groups that tables share.
    pub groups: &'static [&'static [Key]],
}

impl Def {
    pub(super) fn keys(&self) -> impl Iterator<Item = &'static Key> {
        self.groups.iter().flat_map(|group| group.iter())
    }

    pub(super) fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys().find(|key| key.name == name)
    }
}

impl Shape {
    /// What is expected, with an example.
    pub(super) fn expected(&self) -> String {
        match self {
            Shape::Text(_) => "a text in quotes".to_string(),
            Shape::Id => "a short name of lower-case letters, digits and dashes".to_string(),
            Shape::Number(low, high) => format!("a number between {low} and {high}"),
            Shape::Whole(low, high) => format!("a whole number between {low} and {high}"),
            Shape::Quantity(kind, ..) => format!("{}, such as {}", kind.name(), kind.example()),
            Shape::AnyOf(kinds) => {
                let all: Vec<_> = kinds.iter().map(|k| k.example()).collect();
                format!("an amount such as {}", all.join(" or "))
            }
            Shape::Uncertain(kind, ..) => {
                format!("{}, such as {}; {RANGES}", kind.name(), kind.example())
            }
            Shape::Days(..) => DAYS.to_string(),
            Shape::UncertainDays(..) => format!("{DAYS}; {RANGES}"),
            Shape::Choice(words) => format!("one of {}", quoted(words.iter().copied())),
            Shape::ChoiceOrShare(words) => {
                let words = quoted(words.iter().map(|w| w.0));
                format!("one of {words}, or a share such as \"80 %\"; {RANGES}")
            }
            Shape::Day => "a day of the year such as \"15 Apr\"".to_string(),
            Shape::Dates => "days of the year such as [\"15 Apr\", \"1 Jun\"]".to_string(),
            Shape::Holds => "a list of holds such as [\"hotter than 88 degF\", \"dormant\"]".into(),
            Shape::Texts(_) => "a text in quotes, or a list of them".to_string(),
            Shape::Table(def) => format!("a table [{}]", def.name),
            Shape::Tables(def) => format!("tables [[{}]]", def.name),
            Shape::Later => "a table".to_string(),
            Shape::Constants => "a table of names and numbers".to_string(),
        }
    }
}

/// How a number of days is written.
const DAYS: &str = "a number of days such as 56, or \"8 weeks\"";

/// How an uncertain value is written.
const RANGES: &str = "a range [\"..\", \"..\"]; or { low = .., likely = .., high = .. }";

/// Words in quotes, with commas.
pub(super) fn quoted<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.map(|w| format!("\"{w}\"")).collect::<Vec<_>>().join(", ")
}

pub(super) const MUST: Need = Need::Must;
pub(super) const MAY: Need = Need::May;

/// A key that is a choice of its own.
pub(super) const fn key(name: &'static str, shape: Shape, need: Need, doc: &'static str) -> Key {
    Key { name, shape, need, group: "", doc }
}

/// A key that makes one choice together with others.
pub(super) const fn grouped(group: &'static str, mut key: Key) -> Key {
    key.group = group;
    key
}

/// A share between two bounds.
pub(super) const fn share(low: f64, high: f64) -> Shape {
    Shape::Quantity(Kind::Share, low, high)
}
