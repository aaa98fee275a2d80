//! The lawn a year before the run, of which nothing was seen but what came of it.

use crate::draw::{Purpose, Streams, key, triangular, uniform};
use crate::parameters;
use crate::scenario::{Lawn, Uncertain};

/// One candidate's lawn on 1 January of the year before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Before {
    /// Live grass cover, 0..=1.
    pub turf_cover: f64,
    /// Crabgrass in the August before that, 0..=1.
    pub crabgrass: f64,
    /// Dandelion in the autumn before that, where it is played, 0..=1.
    pub dandelion: Option<f64>,
    /// White clover, likewise.
    pub clover: Option<f64>,
}

impl Before {
    /// Draws it widely around what was seen a year later: cover could have changed either way, and
    /// the weeds too.
    pub(super) fn draw(
        lawn: &Lawn,
        p: &parameters::Seen,
        streams: &Streams,
        number: u32,
    ) -> Before {
        let stream = |name: &str| streams.keyed(number, Purpose::Facts, key(name), 0);
        let cover = lawn.turf_cover.mean();
        let low = (cover - p.cover_change).max(p.cover_least);
        let high = (cover + p.cover_change).min(1.0);
        let mode = cover.clamp(low, high);
        let most =
            |known: &Uncertain| (p.crabgrass_factor * known.mean() + p.crabgrass_more).min(1.0);
        let likewise = |name: &str, known: &Option<Uncertain>| {
            Some(most(known.as_ref()?) * uniform(&mut stream(name)))
        };
        Before {
            dandelion: likewise("dandelion_before", &lawn.dandelion),
            clover: likewise("clover_before", &lawn.clover),
            turf_cover: triangular(low, mode, high, &mut stream("turf_cover_before")),
            crabgrass: most(&lawn.crabgrass_last_august) * uniform(&mut stream("crabgrass_before")),
        }
    }
}
