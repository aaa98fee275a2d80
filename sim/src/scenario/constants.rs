//! The names of the model's constants, for overrides.

use crate::parameters;

/// Every name of the catalogue; empty where it cannot be read, and then any name passes here.
pub(super) fn names() -> Vec<String> {
    parameters::catalogue(parameters::TEXT)
        .map(|all| all.into_iter().map(|entry| entry.name).collect())
        .unwrap_or_default()
}
