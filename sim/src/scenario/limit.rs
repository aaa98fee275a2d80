//! A limit from the user's label and from typical figures: the stricter of the two, with whose it is.

use super::caution::LABEL;

/// Where a limit is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Whose {
    /// The label, as the user read it.
    Label,
    /// Typical figures: the user gave none.
    Typical,
    /// Typical figures, which are stricter than what the user gave.
    Stricter,
}

impl Whose {
    /// For brackets behind the limit.
    pub(super) fn words(self) -> &'static str {
        match self {
            Whose::Label => "your label",
            Whose::Typical => LABEL,
            Whose::Stricter => {
                "typical, and stricter than the figure that you gave: read your label again"
            }
        }
    }
}

/// A limit in its own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Limit {
    pub value: f64,
    pub whose: Whose,
}

/// The lower of two ceilings.
pub(super) fn at_most(label: Option<f64>, typical: Option<f64>) -> Option<Limit> {
    stricter(label, typical, |label, typical| label <= typical)
}

/// The longer of two waits, the higher of two floors.
pub(super) fn at_least(label: Option<f64>, typical: Option<f64>) -> Option<Limit> {
    stricter(label, typical, |label, typical| label >= typical)
}

fn stricter(
    label: Option<f64>,
    typical: Option<f64>,
    as_strict: fn(f64, f64) -> bool,
) -> Option<Limit> {
    Some(match (label, typical) {
        (Some(label), Some(typical)) if !as_strict(label, typical) => {
            Limit { value: typical, whose: Whose::Stricter }
        }
        (Some(value), _) => Limit { value, whose: Whose::Label },
        (None, Some(value)) => Limit { value, whose: Whose::Typical },
        (None, None) => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neither_figure_loosens_the_other() {
        let both = |limit: Option<Limit>| limit.map(|limit| (limit.value, limit.whose));
        assert_eq!(both(at_most(Some(1.0), Some(2.0))), Some((1.0, Whose::Label)));
        assert_eq!(both(at_most(Some(3.0), Some(2.0))), Some((2.0, Whose::Stricter)));
        assert_eq!(both(at_least(Some(3.0), Some(2.0))), Some((3.0, Whose::Label)));
        assert_eq!(both(at_least(Some(1.0), Some(2.0))), Some((2.0, Whose::Stricter)));
        assert_eq!(both(at_least(None, Some(2.0))), Some((2.0, Whose::Typical)));
        assert_eq!(both(at_most(None, None)), None);
    }
}
