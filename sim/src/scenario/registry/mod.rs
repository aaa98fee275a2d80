//! The one registry of the scenario language: every key, what it may hold, what it means, and
//! what holds when it is left out. The checks, the messages and the reference page come from it.

mod herbicide;
mod json;
mod lesson;
mod page;
mod place;
mod practice;
mod schema;
mod spray;
mod tend;

pub(in crate::scenario) use lesson::LESSON_ROOT;
pub(in crate::scenario) use page::lesson_reference;
pub use page::reference;
pub(in crate::scenario) use place::{CREW, GEAR, ROOT, RULES_EXAMPLE, SLIPS};
pub(in crate::scenario) use practice::{ANY_PRACTICE, change, practice};
pub use schema::schema;
