//! When had a practice best happen: one of its settings swept, every setting played by the same
//! members.
//!
//! The best of many noisy estimates looks better than it is. So the members are two sets that share
//! nothing: the first chooses the best setting, and everything told about it, and about how the others
//! differ from it, comes from the second, whose members are numbered on from those of the first.
//! See [`score`] for what counts as being as good as the best.

mod choice;
mod grid;
mod play;
pub mod score;
mod turn;

pub use choice::{NotSwept, headline, pick};
pub use grid::{Asked, values};
pub use play::{Order, Setting, Sweep, sweep};
pub use score::{Score, Verdict};
pub use turn::{Point, points};
