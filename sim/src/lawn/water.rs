//! Soil water: infiltration and runoff, drainage, and the matric flow that evens layers out.

mod tell;

pub(crate) use tell::DRY_MM;
pub(super) use tell::{Telling, tell};

use super::limits::Limits;
use super::setting::{LAYERS, Setting};
use super::state::State;
use super::{cultivation, evapotranspiration, runoff};
use crate::weather::Sky;

/// One day's water: in, down, and back to the air.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    infiltrate(state, setting, sky);
    drain(state, setting, sky);
    level(state, setting, sky);
    evapotranspiration::step(state, setting, sky);
}

/// Water that compost on the surface holds beside the first layer's own, mm: it drains freely
/// above its field capacity, so its pores add that much and no more.
fn compost_water_mm(state: &State, setting: &Setting) -> f64 {
    state.compost_depth_mm(setting) * setting.p.compost.field_capacity
}

/// Rain by curve number, irrigation all of it, into the surface layer.
fn infiltrate(state: &mut State, setting: &Setting, sky: &Sky) {
    let irrigation = state.today.irrigation_mm;
    let rain = sky.water_in_mm;
    let runoff_mm = if rain > 0.0 {
        runoff::curve_number_runoff(rain, curve_number(state, setting, sky)).min(rain)
    } else {
        0.0
    };
    let into = rain - runoff_mm + irrigation;
    state.ledger.water.pass(runoff_mm);
    state.ledger.water.enter(&mut state.water[0], into);
    state.totals.irrigation += irrigation;
    state.today.infiltration_mm = into;
    state.today.runoff_mm = runoff_mm;
}

/// Today's curve number: cover, slope, and the moisture of the top two layers.
fn curve_number(state: &State, setting: &Setting, sky: &Sky) -> f64 {
    let cover = state.turf_cover() + state.weed_cover();
    let average = runoff::lawn_curve_number(setting.group, cover);
    let sloped = runoff::for_slope(average, setting.slope);
    if sky.frozen {
        return runoff::wet_curve_number(sloped);
    }
    let [top, next, ..] = &setting.layers;
    let wet = runoff::for_wetness(
        sloped,
        state.water[0] + state.water[1],
        top.wp_mm + next.wp_mm,
        top.fc_mm + next.fc_mm,
        top.sat_mm + next.sat_mm,
    );
    cultivation::curve_number(state, setting, wet)
}

/// Storage routing from the top down: excess over field capacity leaves with the travel time
/// (SAT - FC)/Ks; what stands above saturation passes within the day, as far as the conductivity
/// lets it.
fn drain(state: &mut State, setting: &Setting, sky: &Sky) {
    let compost = compost_water_mm(state, setting);
    let mut flux = [0.0; LAYERS];
    for (l, layer) in setting.layers.iter().enumerate() {
        let more = if l == 0 { compost } else { 0.0 };
        let excess = state.water[l] - (layer.fc_mm + more);
        if excess <= 0.0 || sky.frozen {
            continue;
        }
        let over = (state.water[l] - (layer.sat_mm + more)).max(0.0);
        let (drained_share, ks_mm_h) = cultivation::drainage(state, setting, l);
        let routed = (excess - over) * drained_share + over;
        let down = routed.at_most(24.0 * ks_mm_h);
        flux[l] = if l + 1 < LAYERS {
            let (upper, lower) = state.water.split_at_mut(l + 1);
            super::ledger::shift(&mut upper[l], &mut lower[0], down)
        } else {
            state.ledger.water.leave(&mut state.water[l], down)
        };
    }
    back_up(state, setting, setting.layers[0].sat_mm + compost, &mut flux);
    state.totals.drainage += flux[LAYERS - 1];
    state.totals.runoff += state.today.runoff_mm;
    state.today.flux_mm = flux;
}

/// Matric flow evens out neighbours, as shares of what they can hold available: a surface that
/// roots and sun dry is fed from below. No layer is filled past saturation.
fn level(state: &mut State, setting: &Setting, sky: &Sky) {
    if sky.frozen {
        return;
    }
    for (l, pair) in setting.layers.windows(2).enumerate() {
        let (above, below) = (&pair[0], &pair[1]);
        let (upper, lower) = state.water.split_at_mut(l + 1);
        let (upper, lower) = (&mut upper[l], &mut lower[0]);
        let pull = (*lower - below.wp_mm) * below.per_available_mm
            - (*upper - above.wp_mm) * above.per_available_mm;
        let flow = above.levelling_mm * pull;
        if flow > 0.0 {
            let room = (above.sat_mm - *upper).max(0.0);
            super::ledger::shift(lower, upper, flow.min(room));
        } else {
            let room = (below.sat_mm - *lower).max(0.0);
            super::ledger::shift(upper, lower, (-flow).min(room));
        }
    }
}

/// Water that a layer cannot hold stands in the layer above; what the surface cannot hold runs
/// off.
fn back_up(state: &mut State, setting: &Setting, sat0: f64, flux: &mut [f64; LAYERS]) {
    for l in (1..LAYERS).rev() {
        let over = state.water[l] - setting.layers[l].sat_mm;
        if over > 0.0 {
            let (upper, lower) = state.water.split_at_mut(l);
            let moved = super::ledger::shift(&mut lower[0], &mut upper[l - 1], over);
            flux[l - 1] = (flux[l - 1] - moved).max(0.0);
        }
    }
    let over = state.water[0] - sat0;
    if over > 0.0 {
        let back = state.ledger.water.leave(&mut state.water[0], over);
        state.today.runoff_mm += back;
        state.today.infiltration_mm = (state.today.infiltration_mm - back).max(0.0);
    }
}
