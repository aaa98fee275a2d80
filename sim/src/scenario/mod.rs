//! From what a person writes to a checked scenario, with every fault reported at once.

mod apart;
mod bag;
mod barrier;
mod barrier_caution;
mod caution;
mod ceiling;
mod change;
mod check;
mod checked;
mod clash;
mod constants;
mod crew;
mod cue;
mod day;
mod dial;
mod doubts;
mod event;
mod fault;
mod goal;
mod herbicide;
mod hold;
mod key;
mod lawn_keys;
mod lesson;
mod limit;
mod local_rules;
mod never;
mod nitrogen_caution;
mod occasion;
mod place;
mod posts;
mod practice;
mod products;
mod program;
mod read;
mod registry;
mod reseed;
mod rule_caution;
mod scouting;
mod seed;
mod settled;
mod soil_caution;
mod spray;
mod spray_caution;
mod tend;
mod tend_caution;
mod terms;
mod texture;
mod value;
mod written;

pub use checked::*;
pub use dial::{Dial, Dials, Measure, day_of_year, dials, month_day, show_day};
pub use event::{Event, EventDay, Need, NeedUnit, Side};
pub use fault::{FAULTS_MOST, line_of};
pub(crate) use fault::{did_you_mean, near};
pub use goal::{
    Budget, Fold, Goal, Goals, Misread, Period, Resource, Seasons, Spare, budget, goal, odds,
};
pub use lawn_keys::{Form, LawnKey, lawn_keys};
pub use lesson::{
    Choice, Lesson, LessonFault, Link, Look, Named, Piece, Template, Vocabulary, When,
    check_lesson, lesson_reference, letter, named,
};
pub use local_rules::{LocalRules, WaterDays};
pub use posts::{PostEmergentProduct, post_name};
pub use products::{
    Fertilizer, PreEmergentProduct, Products, Seed, Strength, Term, phosphate_and_potash_g_m2,
    products,
};
pub use registry::{reference, schema};
pub use settled::Settled;
pub(crate) use texture::{CLASSES as TEXTURES, hydrologic_group, of_class as texture_class};
pub use written::{PracticeText, practice_texts};

use std::ops::Range;

/// One thing that is wrong, or doubtful, in a scenario text. Rendering is the door's business.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Short kebab-case code, unique per kind of fault ("unknown-key").
    pub code: &'static str,
    /// Whether the scenario can still run.
    pub severity: Severity,
    /// What is wrong, naming the key and the value.
    pub message: String,
    /// Byte range in the scenario text.
    pub span: Range<usize>,
    /// What was expected there.
    pub expected: String,
    /// How to mend it: a near miss, an example.
    pub help: Option<String>,
}

/// How bad a [`Fault`] is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Severity {
    /// The scenario cannot run.
    Error,
    /// It runs, but a person should look.
    Caution,
}

/// A scenario that passed, with its cautions.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// The scenario.
    pub scenario: Scenario,
    /// Cautions, none of them an error.
    pub cautions: Vec<Fault>,
    /// The same that concern a program, each with the program's id: what a program inherits from the
    /// one that it is based on stands here for both.
    pub by_program: Vec<(String, Fault)>,
}

/// Checks a scenario text against the key registry and the products text.
///
/// # Errors
/// All faults found, in the order of the text; at least one is an [`Severity::Error`].
pub fn check(text: &str, products: &str) -> Result<Checked, Vec<Fault>> {
    check::check(text, products, "")
}

/// [`check`], with the text of the examples of local rules that `[local-rules]` may take by name.
///
/// # Errors
/// As for [`check`]; faults of the examples' own text among them.
pub fn check_with_rules(
    text: &str,
    products: &str,
    local_rules: &str,
) -> Result<Checked, Vec<Fault>> {
    check::check(text, products, local_rules)
}
