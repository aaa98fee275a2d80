//! What does not change on one lawn in one member: soil layers, grasses, drawn constants.

use super::quality;
use super::reaction;
use super::soil::{Hydraulics, MAX_ORGANIC_MATTER_PCT, saxton_rawls};
use super::warmth::{Q10, REFERENCE_T_C};
use crate::parameters::{GRASSES, GrassSeed, GrassTraits, Parameters, Sward, Water};
use crate::scenario::{Compaction, Grass, HydrologicGroup, Lawn, Soil, Uncertain};
use crate::weather::Sky;

/// Number of soil layers: the surface (seeds and barrier), then down to 1 m.
pub const LAYERS: usize = 5;

/// Thickness of the layers, mm.
pub const THICKNESS_MM: [f64; LAYERS] = [50.0, 100.0, 150.0, 300.0, 400.0];

/// Depth of each layer's lower edge, mm.
pub const BOTTOM_MM: [f64; LAYERS] = [50.0, 150.0, 300.0, 600.0, 1000.0];

/// Steps of the table that turns seedbed moisture into the pace of germination.
pub const GATE_STEPS: usize = 16;

/// The most grasses that one lawn may have.
pub const MAX_GRASSES: usize = 4;

/// One member's draw of the uncertain facts of a lawn, beside the exact ones.
#[derive(Clone, Debug, PartialEq)]
pub struct LawnDraw<'a> {
    /// The exact facts.
    pub facts: &'a Lawn,
    /// Live grass cover at the start, 0..=1.
    pub turf_cover: f64,
    /// Crabgrass cover last August, 0..=1.
    pub crabgrass_last_august: f64,
    /// Viable crabgrass seeds per m2, where the user states them.
    pub seed_bank_m2: Option<f64>,
    /// Dandelion last autumn, 0..=1, where it is played.
    pub dandelion: Option<f64>,
    /// White clover last autumn, 0..=1, where it is played.
    pub clover: Option<f64>,
    /// Yellow nutsedge last August, 0..=1, where it is played.
    pub nutsedge: Option<f64>,
    /// Organic matter of the topsoil, mass fraction.
    pub organic_matter: f64,
}

impl LawnDraw<'_> {
    /// A lawn on which every fact is at its mean.
    pub fn expected(facts: &Lawn) -> LawnDraw<'_> {
        let mean = |known: &Option<Uncertain>| known.as_ref().map(Uncertain::mean);
        LawnDraw {
            facts,
            turf_cover: facts.turf_cover.mean(),
            crabgrass_last_august: facts.crabgrass_last_august.mean(),
            seed_bank_m2: mean(&facts.seed_bank_m2),
            dandelion: mean(&facts.dandelion),
            clover: mean(&facts.clover),
            nutsedge: mean(&facts.nutsedge),
            organic_matter: facts.soil.organic_matter.mean(),
        }
    }
}

/// One soil layer, in mm of water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Water at the wilting point, mm.
    pub wp_mm: f64,
    /// Water at field capacity, mm.
    pub fc_mm: f64,
    /// Water at saturation, mm.
    pub sat_mm: f64,
    /// Saturated conductivity, mm/h.
    pub ks_mm_h: f64,
    /// Water that plants can use at field capacity, mm.
    pub available_mm: f64,
    /// One over that.
    pub per_available_mm: f64,
    /// Share of the water between field capacity and saturation that drains in a day, 0..=1.
    pub drained_share: f64,
    /// Matric flow to or from the layer below, mm a day, were one full and the other dry; 0 in the
    /// last layer.
    pub levelling_mm: f64,
}

/// What does not change on one lawn in one member.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// The drawn constants.
    pub p: Parameters,
    /// Traits of the lawn's grasses.
    pub grasses: Vec<GrassTraits>,
    /// Which grasses they are.
    pub species: Vec<Grass>,
    /// Their seed.
    pub seeds: Vec<GrassSeed>,
    /// The soil, from the top.
    pub layers: [Layer; LAYERS],
    /// How far a moist seedbed lets crabgrass seed go on, 0..=1, by its share of available water in
    /// 16 equal steps from 0 to 1.
    pub gate: [f64; GATE_STEPS + 1],
    /// The same for the seed of turfgrasses.
    pub grass_gate: [f64; GATE_STEPS + 1],
    /// Hydrologic group, one step worse where the subsoil is severely compacted.
    pub group: HydrologicGroup,
    /// Slope, m/m.
    pub slope: f64,
    /// Share of full sun, 0..=1.
    pub sun: f64,
    /// Evaporative demand over the reference in full sun, 0..=1.
    pub demand_share: f64,
    /// No root goes deeper, mm.
    pub root_limit_mm: f64,
    /// Dry mass of the top 10 cm of soil, g/m2.
    pub soil_mass_10cm_g_m2: f64,
    /// Lime that raises pH by one, g CaCO3/m2.
    pub lime_per_ph_g_m2: f64,
    /// Phosphorus by Mehlich 3, mg/kg, where it was tested.
    pub phosphorus_ppm: Option<f64>,
    /// How unlike two grasses look, as the evenness lost where each has half of the sward, 0..=1.
    pub unlike: [[f64; MAX_GRASSES]; MAX_GRASSES],
    /// How far leaf at the critical concentration of nitrogen goes towards a grass's deepest
    /// colour, 0..=1.
    pub rich_colour: f64,
    /// Share of a deposit on leaves that a day's light leaves there, 0..=1.
    pub leaf_residue_left: f64,
    /// Share of a feeding's streaks that a day leaves, 0..=1.
    pub streaks_left: f64,
    /// Share of the phosphate laid that seedlings still find a day later, 0..=1.
    pub phosphate_left: f64,
    /// Temperature law of the grasses' maintenance, on air.
    pub respiration: Q10,
    /// Temperature law of what a drought-dormant crown lives on, on air.
    pub dormancy: Q10,
    /// Temperature law of organic matter and nitrification, on soil at 10 cm.
    pub decay: Q10,
    /// Temperature law of the barrier's decay, on soil at 5 cm.
    pub residue: Q10,
    /// Temperature law of coated fertilizer's release, on soil at 5 cm.
    pub coating: Q10,
}

impl Setting {
    /// Pace of germination at a seedbed moisture 0..=1.
    #[inline]
    pub fn germination_pace(&self, moisture: f64) -> f64 {
        on_gate(&self.gate, moisture)
    }

    /// The same of turfgrass seed.
    #[inline]
    pub fn grass_germination_pace(&self, moisture: f64) -> f64 {
        on_gate(&self.grass_gate, moisture)
    }

    /// Where a grass stands in the lawn's list.
    pub fn place_of(&self, grass: Grass) -> Option<usize> {
        self.species.iter().position(|g| *g == grass)
    }

    /// Evaporative demand on the lawn, mm: the reference evapotranspiration, less in shade.
    #[inline]
    pub fn demand_mm(&self, sky: &Sky) -> f64 {
        self.demand_share * sky.et0_mm
    }

    /// Puts a member's constants and a lawn together.
    pub fn new(p: &Parameters, lawn: &LawnDraw<'_>) -> Setting {
        let soil = &lawn.facts.soil;
        let w = &p.water;
        let sun = lawn.facts.sun;
        let listed = lawn.facts.grasses.iter().take(MAX_GRASSES).map(|(grass, _)| grass);
        let places = listed.clone().map(|g| GRASSES.iter().position(|(k, _)| k == g).unwrap_or(0));
        let grasses = places.clone().map(|at| in_shade(p.grasses[at], &p.sward, sun));
        let grasses: Vec<GrassTraits> = grasses.collect();
        let (top, sub) = profile(p, lawn);
        Setting {
            species: listed.copied().collect(),
            seeds: places.map(|at| p.grass_seeds[at]).collect(),
            layers: layers(
                soil.topsoil_mm,
                &top,
                &sub,
                w.redistribution,
                w.redistribution_distance_mm,
            ),
            gate: moisture_gate(&top, p.crabgrass.gate_open_kpa, p.crabgrass.gate_shut_kpa),
            grass_gate: moisture_gate(&top, p.seeding.gate_open_kpa, p.seeding.gate_shut_kpa),
            group: worse_if(soil.hydrologic_group, soil.compaction == Compaction::Severe),
            slope: lawn.facts.slope,
            sun,
            demand_share: 1.0 - w.sun_driven_demand * (1.0 - sun),
            root_limit_mm: root_limit_mm(w, soil),
            // Mineral particles weigh 2.65 g/cm3; the pores are the saturation.
            soil_mass_10cm_g_m2: 0.1 * 2.65e6 * (1.0 - top.saturation),
            lime_per_ph_g_m2: reaction::lime_per_ph_g_m2(&p.reaction, lawn.facts),
            phosphorus_ppm: soil.test.and_then(|test| test.phosphorus_ppm),
            unlike: quality::unlike(&p.quality, &grasses),
            rich_colour: quality::fed(p.sward.nitrogen_critical, &p.quality),
            leaf_residue_left: left_after_a_day(p.barrier.leaf_half_life_days),
            streaks_left: left_after_a_day(p.quality.streak_half_life_days),
            phosphate_left: left_after_a_day(p.reaction.phosphate_half_life_days),
            respiration: Q10::new(p.sward.maintenance_q10, REFERENCE_T_C),
            dormancy: Q10::new(p.sward.maintenance_q10, p.sward.drought_account_t_c),
            decay: Q10::new(p.organic.q10, REFERENCE_T_C),
            residue: Q10::new(p.barrier.q10, p.barrier.reference_t_c),
            coating: Q10::new(p.nitrogen.coated_q10, p.nitrogen.coated_reference_t_c),
            grasses,
            p: p.clone(),
        }
    }
}

/// Reads a table of germination at a moisture 0..=1.
#[inline]
fn on_gate(gate: &[f64; GATE_STEPS + 1], moisture: f64) -> f64 {
    let at = moisture.clamp(0.0, 1.0) * GATE_STEPS as f64;
    let k = (at as usize).min(GATE_STEPS - 1);
    gate[k] + (gate[k + 1] - gate[k]) * (at - k as f64)
}

/// Share that a day leaves of what fades by a half-life, days.
fn left_after_a_day(half_life_days: f64) -> f64 {
    (-1.0 / half_life_days).exp2()
}

/// A grass that grows in shade makes thinner leaf and more of the light it gets: powers of the
/// share of full sun.
fn in_shade(mut traits: GrassTraits, s: &Sward, sun: f64) -> GrassTraits {
    let sun = sun.max(s.shade_sun_min);
    traits.specific_leaf_area *= sun.powf(-s.shade_leaf_power);
    traits.rue_factor *= sun.powf(-s.shade_efficiency_power);
    traits
}

/// Topsoil and subsoil. The dispute about organic matter and water is drawn as an extra slope on
/// field capacity, up to where the equations end; the published equation stays as it is.
fn profile(p: &Parameters, lawn: &LawnDraw<'_>) -> (Hydraulics, Hydraulics) {
    let soil = &lawn.facts.soil;
    let w = &p.water;
    let om_pct = lawn.organic_matter * 100.0;
    let extra =
        w.om_extra_field_capacity * (om_pct.min(MAX_ORGANIC_MATTER_PCT) - w.om_reference_pct);
    let top = saxton_rawls(soil.sand, soil.clay, om_pct)
        .with_more_at_field_capacity(extra)
        .with_ks_times(w.topsoil_ks_spread);
    let factor = match soil.compaction {
        Compaction::None => 1.0,
        Compaction::Moderate => w.compaction_ks_moderate,
        Compaction::Severe => w.compaction_ks_severe,
    };
    let sub = saxton_rawls(soil.sand, soil.clay, w.subsoil_organic_matter).with_ks_times(factor);
    (top, sub)
}

/// Depth below which no root goes, mm.
fn root_limit_mm(w: &Water, soil: &Soil) -> f64 {
    let bottom = BOTTOM_MM[LAYERS - 1];
    let limit = match soil.compaction {
        Compaction::None => bottom,
        Compaction::Moderate => {
            let below = (bottom - soil.topsoil_mm).max(0.0);
            soil.topsoil_mm + below * w.compaction_root_moderate
        }
        Compaction::Severe => soil.topsoil_mm + w.compaction_root_severe_mm,
    };
    limit.max(w.root_limit_min_mm).min(bottom)
}

/// Hydrothermal time: seed goes on in proportion to (psi - psi_shut)/(psi_open - psi_shut).
fn moisture_gate(soil: &Hydraulics, open_kpa: f64, shut_kpa: f64) -> [f64; GATE_STEPS + 1] {
    let room = soil.field_capacity - soil.wilting_point;
    std::array::from_fn(|k| {
        let moisture = k as f64 / GATE_STEPS as f64;
        let tension = soil.tension_kpa(soil.wilting_point + moisture * room);
        ((shut_kpa - tension) / (shut_kpa - open_kpa)).clamp(0.0, 1.0)
    })
}

/// The layers from the top. Matric flow between neighbours is `pace` (1/day, for middles
/// `distance_mm` apart; slower between thick layers) times a b/(a + b) of what they hold: their
/// shares of available water close by `pace` of their difference in a day.
fn layers(
    topsoil_mm: f64,
    top: &Hydraulics,
    sub: &Hydraulics,
    pace: f64,
    distance_mm: f64,
) -> [Layer; LAYERS] {
    let mut layers = std::array::from_fn(|l| layer(l, topsoil_mm, top, sub));
    for l in 0..LAYERS - 1 {
        let apart = 0.5 * (layers[l].thickness_mm + layers[l + 1].thickness_mm);
        let (a, b) = (layers[l].available_mm, layers[l + 1].available_mm);
        layers[l].levelling_mm = pace * distance_mm / apart * a * b / (a + b);
    }
    layers
}

fn layer(l: usize, topsoil_mm: f64, top: &Hydraulics, sub: &Hydraulics) -> Layer {
    let thickness_mm = THICKNESS_MM[l];
    let above = BOTTOM_MM[l] - thickness_mm;
    let share = ((topsoil_mm - above) / thickness_mm).clamp(0.0, 1.0);
    let mix = |a: f64, b: f64| (a * share + b * (1.0 - share)) * thickness_mm;
    // The slowest part of a layer sets how fast it lets water down.
    let ks_mm_h = if share >= 1.0 { top.ks_mm_h } else { sub.ks_mm_h.min(top.ks_mm_h) };
    let wp_mm = mix(top.wilting_point, sub.wilting_point);
    let fc_mm = mix(top.field_capacity, sub.field_capacity);
    let sat_mm = mix(top.saturation, sub.saturation);
    Layer {
        thickness_mm,
        wp_mm,
        fc_mm,
        sat_mm,
        ks_mm_h,
        available_mm: fc_mm - wp_mm,
        per_available_mm: 1.0 / (fc_mm - wp_mm),
        drained_share: drained_share(fc_mm, sat_mm, ks_mm_h),
        levelling_mm: 0.0,
    }
}

/// Share of the water between field capacity and saturation, mm, that drains in a day at a
/// conductivity, mm/h.
pub(super) fn drained_share(fc_mm: f64, sat_mm: f64, ks_mm_h: f64) -> f64 {
    let travel_hours = ((sat_mm - fc_mm) / ks_mm_h).max(0.01);
    1.0 - (-24.0 / travel_hours).exp()
}

/// One group worse, D at most.
fn worse_if(group: HydrologicGroup, worse: bool) -> HydrologicGroup {
    match (group, worse) {
        (g, false) => g,
        (HydrologicGroup::A, true) => HydrologicGroup::B,
        (HydrologicGroup::B, true) => HydrologicGroup::C,
        (HydrologicGroup::C | HydrologicGroup::D, true) => HydrologicGroup::D,
    }
}
