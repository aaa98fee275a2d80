//! Is a low-input program going to hold, and what does the cheapest one look like that does?

pub mod choice;
pub mod judge;
mod play;
pub mod race;
#[cfg(test)]
mod race_tests;
pub mod space;
pub mod weather;

pub use judge::{Asked, Judge};
pub use play::{Answer, Finalist, Future, Judged, Missed, Order, Story, effort, thrift};
pub use race::enough;
pub use space::{Limits, Space, Taken, Turn};
pub use weather::{Fact, Split};
