//! A scenario's doubts settled, as they are in one member.

use super::{Crew, Lawn, Uncertain};

/// What a member's work is done on, by and with: the scenario's own, with every doubt drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// The place.
    pub place: Lawn,
    /// The crew.
    pub crew: Crew,
    /// Rated release times of coated nitrogen: key of the practice, what is known, days drawn.
    pub release_days: Vec<(u64, Uncertain, f64)>,
}
