//! A limit from the user's label and from typical figures: the stricter of the two, with whose it is.

use super::caution::{LABEL, us_and_metric};
use super::reseed::days;
use crate::quantity::Kind;

/// What a limit is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    /// kg ai/ha.
    Rate,
    /// mm.
    Depth,
    /// Degrees C.
    Temperature,
    /// Days.
    Days,
    /// Days, told as hours.
    Hours,
    /// Applications.
    Times,
}

impl Unit {
    /// A figure as people read it.
    pub(super) fn show(self, value: f64) -> String {
        match self {
            Unit::Rate => us_and_metric(value, Kind::ActiveRate),
            Unit::Depth => us_and_metric(value, Kind::Depth),
            Unit::Temperature => us_and_metric(value, Kind::Temperature),
            Unit::Days => days(value.ceil() as i32),
            Unit::Hours => format!("{:.0} h", 24.0 * value),
            Unit::Times => format!("{value:.0} time{}", if value < 1.5 { "" } else { "s" }),
        }
    }
}

/// A typical figure, in its own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Figure {
    pub value: f64,
    /// Whether it was recalled, and never checked against a page.
    pub recalled: bool,
}

/// Where a limit is from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Whose {
    /// The label, as the user read it.
    Label,
    /// Typical figures: the user gave none.
    Typical,
    /// Typical figures, which are stricter than what the user gave: this.
    Stricter(f64),
}

/// A limit in its own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Limit {
    pub value: f64,
    pub whose: Whose,
    /// Whether the figure is a typical one from memory.
    pub recalled: bool,
    pub unit: Unit,
}

impl Limit {
    /// The limit in its unit.
    pub(super) fn shown(&self) -> String {
        self.unit.show(self.value)
    }

    /// For brackets behind the limit.
    pub(super) fn words(&self) -> String {
        match (self.whose, self.recalled) {
            (Whose::Label, _) => "your label".to_string(),
            (Whose::Typical, false) => LABEL.to_string(),
            (Whose::Typical, true) => format!("{LABEL}: this one is from memory"),
            (Whose::Stricter(label), recalled) => format!(
                "typical{}, and stricter than the figure that you gave, {}: the stricter of the two is \
                 kept, so read your label again",
                if recalled { ", from memory" } else { "" },
                self.unit.show(label)
            ),
        }
    }

    /// Whether the label in hand alone sets it.
    pub(super) fn of_label(&self) -> bool {
        self.whose == Whose::Label
    }
}

/// The lower of two ceilings.
pub(super) fn at_most(label: Option<f64>, typical: Option<Figure>, unit: Unit) -> Option<Limit> {
    stricter(label, typical, unit, |label, typical| label <= typical)
}

/// The longer of two waits, the higher of two floors.
pub(super) fn at_least(label: Option<f64>, typical: Option<Figure>, unit: Unit) -> Option<Limit> {
    stricter(label, typical, unit, |label, typical| label >= typical)
}

fn stricter(
    label: Option<f64>,
    typical: Option<Figure>,
    unit: Unit,
    as_strict: fn(f64, f64) -> bool,
) -> Option<Limit> {
    Some(match (label, typical) {
        (Some(label), Some(typical)) if !as_strict(label, typical.value) => Limit {
            value: typical.value,
            whose: Whose::Stricter(label),
            recalled: typical.recalled,
            unit,
        },
        (Some(value), _) => Limit { value, whose: Whose::Label, recalled: false, unit },
        (None, Some(Figure { value, recalled })) => {
            Limit { value, whose: Whose::Typical, recalled, unit }
        }
        (None, None) => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neither_figure_loosens_the_other() {
        let typical = |value| Some(Figure { value, recalled: true });
        let most = |label, typical| {
            at_most(label, typical, Unit::Days).map(|limit| (limit.value, limit.whose))
        };
        let least = |label, typical| at_least(label, typical, Unit::Days).unwrap();
        assert_eq!(most(Some(1.0), typical(2.0)), Some((1.0, Whose::Label)));
        assert_eq!(most(Some(3.0), typical(2.0)), Some((2.0, Whose::Stricter(3.0))));
        assert_eq!(most(None, None), None);
        assert_eq!(least(Some(3.0), typical(2.0)).whose, Whose::Label);
        assert_eq!(least(Some(1.0), typical(2.0)).value, 2.0);
        assert_eq!(least(None, typical(2.0)).whose, Whose::Typical);
        let kept = least(Some(1.0), typical(2.0)).words();
        assert!(kept.contains("from memory") && kept.contains("1 day"), "{kept}");
        assert_eq!(least(Some(3.0), typical(2.0)).words(), "your label");
    }
}
