//! Which practice is owed what: the difference between two programs shared out among the practices in
//! which they differ.
//!
//! Every mix of switched and unswitched practices is a program of its own, played by the same members
//! ([`players()`], [`coalition`]). A practice's credit is what switching it changes, averaged over all
//! orders in which the practices could be switched: the [Shapley value](shapley). It is worked out member
//! by member, so that credits add up to the difference of the two programs in every member, and the error
//! of a mean credit is that of a mean over members.
//!
//! A practice that waits for another ("56 days after the first half") does not happen in a mix without
//! that other: nothing calls it. Which ones that befell is told ([`Credits::idle`]).

mod estimate;
mod play;
mod players;
pub mod shapley;

pub use estimate::Estimate;
pub use play::{Credits, OutcomeCredits, credit, programs_to_play};
pub use players::{Idle, Player, coalition, players};
