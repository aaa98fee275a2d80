//! What a run means, in words that a homeowner follows. Results first, cautions after.

pub mod belief;
pub mod caution;
pub mod choice;
pub mod diary;
pub mod event;
pub mod figure;
pub mod lines;
pub mod name;
pub mod odds;
pub mod place;
pub mod practice;
pub mod program;
pub mod ranked;
pub mod rules;
pub mod seen;
pub mod setback;
pub mod spread;
pub mod summary;
pub mod tending;

pub use summary::summary;
