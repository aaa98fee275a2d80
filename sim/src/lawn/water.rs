//! Soil water: infiltration and runoff, drainage, evaporation, transpiration.

use super::runoff;
use super::setting::{BOTTOM_MM, LAYERS, MAX_GRASSES, Setting};
use super::state::State;
use crate::weather::Sky;

/// Share of a plant's roots above a depth when they reach down to `depth_mm`: the density falls
/// off with the square of the distance to the tip, so the share is 1 - (1 - z/Z)^3.
#[inline]
pub fn root_share_above(z_mm: f64, depth_mm: f64) -> f64 {
    if z_mm >= depth_mm {
        return 1.0;
    }
    let below = 1.0 - z_mm / depth_mm;
    1.0 - below * below * below
}

/// Share of a plant's roots in each layer.
#[inline]
pub fn root_shares(depth_mm: f64) -> [f64; LAYERS] {
    let depth_mm = depth_mm.max(1.0);
    let mut above = 0.0;
    std::array::from_fn(|l| {
        let to = root_share_above(BOTTOM_MM[l], depth_mm);
        let share = to - above;
        above = to;
        share
    })
}

/// Rooting depth of grass `i`, mm: towards the species' depth as root mass builds up, no deeper
/// than the soil lets it.
pub fn root_depth_mm(state: &State, setting: &Setting, i: usize) -> f64 {
    let plant = &state.plants[i];
    if plant.cover <= 0.0 {
        return 0.0;
    }
    let local = plant.root / plant.cover;
    let half = setting.p.sward.root_half_g_m2;
    let depth = setting.grasses[i].root_depth_max_mm * local / (local + half);
    depth.clamp(20.0, setting.root_limit_mm)
}

/// Share of the root zone's capacity (field capacity less wilting point) that is filled, 0..=1.
pub fn available_share(state: &State, setting: &Setting, depth_mm: f64) -> f64 {
    let (held, capacity) = root_zone(state, setting, depth_mm);
    if capacity > 0.0 { (held / capacity).clamp(0.0, 1.0) } else { 0.0 }
}

/// Available water and capacity (TAW) down to a depth, mm.
fn root_zone(state: &State, setting: &Setting, depth_mm: f64) -> (f64, f64) {
    let mut held = 0.0;
    let mut capacity = 0.0;
    let mut top = 0.0;
    for l in 0..LAYERS {
        let layer = &setting.layers[l];
        let share = ((depth_mm - top) / layer.thickness_mm).clamp(0.0, 1.0);
        top += layer.thickness_mm;
        let room = layer.fc_mm - layer.wp_mm;
        held += share * (state.water[l] - layer.wp_mm).clamp(0.0, room);
        capacity += share * room;
    }
    (held, capacity)
}

/// One day's water: in, down, and back to the air.
pub fn step(state: &mut State, setting: &Setting, sky: &Sky) {
    infiltrate(state, setting, sky);
    drain(state, setting, sky);
    level(state, setting, sky);
    if sky.snow_mm <= 0.0 && !sky.frozen {
        evapotranspire(state, setting, sky);
    } else {
        for plant in &mut state.plants {
            plant.ks = 1.0;
        }
        state.today.weed_ks = 1.0;
    }
}

/// Saturation of the surface layer, mm, with the compost that lies on it.
fn surface_room(state: &State, setting: &Setting) -> (f64, f64) {
    let depth = state.compost_depth_mm(setting);
    let c = &setting.p.compost;
    let layer = &setting.layers[0];
    // Compost drains freely above its field capacity: its pores add that much and no more.
    (layer.fc_mm + depth * c.field_capacity, layer.sat_mm + depth * c.field_capacity)
}

fn infiltrate(state: &mut State, setting: &Setting, sky: &Sky) {
    let irrigation = state.today.irrigation_mm;
    let rain = sky.water_in_mm;
    let top = &setting.layers[0];
    let next = &setting.layers[1];
    let cover = state.turf_cover() + state.weed.cover;
    let mut runoff_mm = 0.0;
    if rain > 0.0 {
        let average = runoff::lawn_curve_number(setting.group, cover);
        let sloped = runoff::for_slope(average, setting.slope);
        let cn = if sky.frozen {
            runoff::wet_curve_number(sloped)
        } else {
            runoff::for_wetness(
                sloped,
                state.water[0] + state.water[1],
                top.wp_mm + next.wp_mm,
                top.fc_mm + next.fc_mm,
                top.sat_mm + next.sat_mm,
            )
        };
        runoff_mm = runoff::curve_number_runoff(rain, cn).min(rain);
    }
    let into = rain - runoff_mm + irrigation;
    state.ledger.water.pass(runoff_mm);
    state.ledger.water.enter(&mut state.water[0], into);
    state.totals.irrigation += irrigation;
    state.today.infiltration_mm = into;
    state.today.runoff_mm = runoff_mm;
}

fn drain(state: &mut State, setting: &Setting, sky: &Sky) {
    let (fc0, sat0) = surface_room(state, setting);
    let mut flux = [0.0; LAYERS];
    for l in 0..LAYERS {
        let layer = &setting.layers[l];
        let (fc, sat) = if l == 0 { (fc0, sat0) } else { (layer.fc_mm, layer.sat_mm) };
        let excess = state.water[l] - fc;
        if excess <= 0.0 || sky.frozen {
            continue;
        }
        // Storage routing: excess leaves with travel time (SAT - FC)/Ks; what stands above
        // saturation passes within the day, as far as the conductivity lets it.
        let hours = ((sat - fc) / layer.ks_mm_h).max(0.01);
        let over = (state.water[l] - sat).max(0.0);
        let routed = (excess - over) * (1.0 - (-24.0 / hours).exp()) + over;
        let down = routed.min(24.0 * layer.ks_mm_h);
        flux[l] = if l + 1 < LAYERS {
            let (upper, lower) = state.water.split_at_mut(l + 1);
            super::ledger::shift(&mut upper[l], &mut lower[0], down)
        } else {
            state.ledger.water.leave(&mut state.water[l], down)
        };
    }
    back_up(state, setting, sat0, &mut flux);
    state.totals.drainage += flux[LAYERS - 1];
    state.totals.runoff += state.today.runoff_mm;
    state.today.flux_mm = flux;
}

/// Matric flow evens out neighbours, as shares of what they can hold available: a surface that
/// roots and sun dry is fed from below. Slower between thick layers, as their middles lie apart.
fn level(state: &mut State, setting: &Setting, sky: &Sky) {
    if sky.frozen {
        return;
    }
    let available = |state: &State, l: usize| {
        let layer = &setting.layers[l];
        (state.water[l] - layer.wp_mm) / (layer.fc_mm - layer.wp_mm)
    };
    for l in 0..LAYERS - 1 {
        let (above, below) = (&setting.layers[l], &setting.layers[l + 1]);
        let apart = 0.5 * (above.thickness_mm + below.thickness_mm);
        let pace = setting.p.water.redistribution * 75.0 / apart;
        let (a, b) = (above.fc_mm - above.wp_mm, below.fc_mm - below.wp_mm);
        let flow = pace * (available(state, l + 1) - available(state, l)) * a * b / (a + b);
        let (upper, lower) = state.water.split_at_mut(l + 1);
        if flow > 0.0 {
            let room = (above.sat_mm - upper[l]).max(0.0);
            super::ledger::shift(&mut lower[0], &mut upper[l], flow.min(room));
        } else {
            let room = (below.sat_mm - lower[0]).max(0.0);
            super::ledger::shift(&mut upper[l], &mut lower[0], (-flow).min(room));
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
        state.today.runoff_mm += state.ledger.water.leave(&mut state.water[0], over);
    }
}

fn evapotranspire(state: &mut State, setting: &Setting, sky: &Sky) {
    let w = &setting.p.water;
    let share = leaf_shares(state, setting);
    // Kc rises with height of cut.
    let height = state.canopy_height_mm();
    let kc = (w.crop_coefficient + w.crop_coefficient_per_mm * (height - 50.0))
        .clamp(0.5, w.crop_coefficient_max);
    // Ground between plants evaporates freely; under turf, thatch and stubble hold it back.
    let between = state.turf_cover() - share.iter().sum::<f64>();
    let open = state.bare() + w.mulched_share * between.max(0.0);
    let evaporation = w.soil_coefficient * sky.et0_mm * open * evaporation_factor(state, setting);
    let mut et = state.ledger.water.leave(&mut state.water[0], evaporation);
    for (i, mine) in share.iter().enumerate().take(setting.grasses.len()) {
        let depth = root_depth_mm(state, setting, i);
        let demand = kc * sky.et0_mm * mine;
        let (ks, used) = transpire(state, setting, depth, demand, kc * sky.et0_mm);
        state.plants[i].ks = ks;
        et += used;
    }
    let c = &setting.p.crabgrass;
    let demand = kc * c.transpiration_factor * sky.et0_mm * state.weed.cover;
    let depth = c.root_depth_mm.min(setting.root_limit_mm);
    let (ks, used) = transpire(state, setting, depth, demand, kc * sky.et0_mm);
    state.today.weed_ks = ks;
    state.totals.et += et + used;
}

/// Ground whose demand each grass's leaves meet, 0..=1.
fn leaf_shares(state: &State, setting: &Setting) -> [f64; MAX_GRASSES] {
    std::array::from_fn(|i| {
        let Some(traits) = setting.grasses.get(i) else { return 0.0 };
        let plant = &state.plants[i];
        let lai = plant.leaf_area_index(traits.specific_leaf_area);
        plant.cover * (1.0 - (-setting.p.water.transpiration_extinction * lai).exp()).min(1.0)
    })
}

/// FAO-56 eq 74: evaporation from bare soil falls once the readily evaporable part is gone.
/// The surface layer dries to half the wilting point.
fn evaporation_factor(state: &State, setting: &Setting) -> f64 {
    let layer = &setting.layers[0];
    let floor = 0.5 * layer.wp_mm;
    let total = layer.fc_mm - floor;
    let slow = total * (1.0 - setting.p.water.evaporation_ready_share);
    ((state.water[0] - floor) / slow).clamp(0.0, 1.0)
}

/// FAO-56 eq 84: Ks = (TAW - Dr)/((1 - p) TAW) past RAW; p = p_table + 0.04 (5 - ETc), 0.1..=0.8.
/// Takes the water out of the layers in proportion to roots and water; returns Ks and mm used.
fn transpire(
    state: &mut State,
    setting: &Setting,
    depth_mm: f64,
    demand_mm: f64,
    etc_mm: f64,
) -> (f64, f64) {
    let (held, taw) = root_zone(state, setting, depth_mm);
    if taw <= 0.0 {
        return (0.0, 0.0);
    }
    let p = (setting.p.water.p_depletion + 0.04 * (5.0 - etc_mm)).clamp(0.1, 0.8);
    let ks = (held / ((1.0 - p) * taw)).clamp(0.0, 1.0);
    if demand_mm <= 0.0 {
        return (ks, 0.0);
    }
    let shares = root_shares(depth_mm);
    let weights: [f64; LAYERS] = std::array::from_fn(|l| {
        let layer = &setting.layers[l];
        let left = (state.water[l] - layer.wp_mm).max(0.0);
        shares[l] * left / (layer.fc_mm - layer.wp_mm)
    });
    let sum: f64 = weights.iter().sum();
    if sum <= 0.0 {
        return (ks, 0.0);
    }
    let mut used = 0.0;
    for ((water, layer), weight) in state.water.iter_mut().zip(&setting.layers).zip(weights) {
        let left = (*water - layer.wp_mm).max(0.0);
        let want = (ks * demand_mm * weight / sum).min(left);
        used += state.ledger.water.leave(water, want);
    }
    (ks, used)
}
