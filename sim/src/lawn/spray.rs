//! A spray on weeds that are up: what each weed, and the turf, takes of it.

use super::setting::Setting;
use super::state::State;
use crate::weather::Sky;
use crate::work::{PostId, Reach};

/// Sprays the lawn, or the spots that the crew finds.
pub fn spray(
    _state: &mut State,
    _setting: &Setting,
    _sky: &Sky,
    _post: PostId,
    _rate_kg_ha: f64,
    _reach: Reach,
) {
}
