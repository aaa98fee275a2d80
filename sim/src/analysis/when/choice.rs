//! Which setting is meant, and which outcome it is for.

use crate::scenario::{Dial, Dials, near};

/// Why there is nothing to sweep.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}; expected {expected}{}", help.as_ref().map(|h| format!(". {h}")).unwrap_or_default())]
pub struct NotSwept {
    /// What is wrong.
    pub message: String,
    /// What was expected.
    pub expected: String,
    /// How to mend it.
    pub help: Option<String>,
}

/// The setting of this name, or the one that people mean by "when": the days to the second half of what
/// is split, else what its cue turns on. `date` stands for the latter, `interval` for `every`, and
/// `rate` for `nitrogen` where that is how the amount is stated.
///
/// # Errors
/// Where the practice has no such setting, with those that it has.
pub fn pick<'d>(dials: &'d Dials, asked: Option<&str>) -> Result<&'d Dial, NotSwept> {
    let find = |key: &str| dials.dials.iter().find(|dial| dial.key == key);
    let cue = || dials.way.and_then(find);
    let found = match asked {
        None => find("split").filter(|split| !split.now.is_empty()).or_else(cue),
        Some("date") => cue(),
        Some("interval") => find("every"),
        Some("rate") => find("rate").or_else(|| find("nitrogen")),
        Some(key) => find(key),
    };
    found.ok_or_else(|| {
        let keys: Vec<&str> = dials.dials.iter().map(|dial| dial.key).collect();
        let asked = asked.unwrap_or("date");
        NotSwept {
            message: format!("this practice has no `{asked}` that could be swept"),
            expected: format!("one of {}", keys.join(", ")),
            help: near(asked, keys.into_iter()).map(|key| format!("Did you mean `{key}`?")),
        }
    })
}

/// Key of the outcome that a practice is done for: what a barrier is to keep down, what seed is to
/// cover, else the days on which the lawn looks good.
pub fn headline(what: &str) -> &'static str {
    match what {
        "pre-emergent" => "crabgrass_peak",
        "overseed" | "core" | "scarify" | "kill" | "topsoil" | "sod" => "turf_cover_end",
        _ => "days_acceptable",
    }
}
