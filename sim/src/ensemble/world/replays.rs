//! One world whose members are played many times, each time with some of their luck exchanged.

use super::super::run::outcomes_with;
use super::super::{Factor, Observer, RunFault, RunPlan};
use super::StationWorld;
use crate::draw::Streams;
use crate::parameters::Catalogue;
use crate::scenario::Scenario;

/// A plan's world, its members chosen once where the scenario says what was seen.
pub struct Replays<'a> {
    plan: &'a RunPlan<'a>,
    world: StationWorld<'a>,
}

impl<'a> Replays<'a> {
    /// Makes the world.
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn new(
        plan: &'a RunPlan<'a>,
        catalogue: &'a Catalogue,
        observer: Observer,
    ) -> Result<Replays<'a>, RunFault> {
        Ok(Replays { plan, world: StationWorld::new(plan, catalogue, observer)? })
    }

    /// Whether members were chosen by what was seen: then no single fact of theirs may be exchanged.
    pub fn chosen(&self) -> bool {
        self.world.chosen.is_some()
    }

    /// Outcomes of so many members, `[program][outcome][member]`, under the programs of `scenario`,
    /// which is the plan's own or its [`Scenario::with_programs`].
    ///
    /// # Errors
    /// See [`RunFault`].
    pub fn outcomes(
        &self,
        scenario: &Scenario,
        members: u32,
        streams: &Streams,
        observer: Observer,
    ) -> Result<Vec<Vec<Vec<f64>>>, RunFault> {
        let plan = RunPlan { scenario, members, keep_tracks: false, ..*self.plan };
        outcomes_with(&plan, &self.world, streams, observer)
    }

    /// What each of so many members drew of a factor.
    pub fn draws(&self, factor: &Factor, members: u32, streams: &Streams) -> Vec<f64> {
        let own = if self.chosen() { &self.world.base } else { streams };
        let origin = |member| self.world.origin(streams, member);
        (0..members).map(|member| factor.value(own, origin(member))).collect()
    }
}
