//! One number for the year, or one a month.

use serde::de::{Deserialize, Deserializer, Error, SeqAccess, Visitor};
use std::fmt;

/// One number for the year, or twelve from January on; none at all where the key is left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ByMonth(Vec<f64>);

impl ByMonth {
    /// The value of a month, 1..=12; `otherwise` where the key was left out.
    pub fn at(&self, month: u8, otherwise: f64) -> f64 {
        let at = usize::from(month.saturating_sub(1)).min(self.0.len().saturating_sub(1));
        self.0.get(at).copied().unwrap_or(otherwise)
    }

    /// All values stated.
    pub fn all(&self) -> &[f64] {
        &self.0
    }
}

impl<'de> Deserialize<'de> for ByMonth {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Numbers)
    }
}

struct Numbers;

impl<'de> Visitor<'de> for Numbers {
    type Value = ByMonth;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, or twelve of them from January to December")
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<ByMonth, E> {
        Ok(ByMonth(vec![value]))
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<ByMonth, E> {
        Ok(ByMonth(vec![value as f64]))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<ByMonth, A::Error> {
        let mut values = Vec::new();
        while let Some(value) = list.next_element::<f64>()? {
            values.push(value);
        }
        if matches!(values.len(), 1 | 12) {
            Ok(ByMonth(values))
        } else {
            Err(A::Error::invalid_length(values.len(), &self))
        }
    }
}
