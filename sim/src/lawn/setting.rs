//! What does not change on one lawn in one member: soil layers, grasses, drawn constants.

use super::soil::{Hydraulics, saxton_rawls};
use crate::parameters::{GRASSES, GrassTraits, Parameters};
use crate::scenario::{Compaction, HydrologicGroup, Lawn};

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
    /// Organic matter of the topsoil, mass fraction.
    pub organic_matter: f64,
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
}

/// What does not change on one lawn in one member.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// The drawn constants.
    pub p: Parameters,
    /// Traits of the lawn's grasses.
    pub grasses: Vec<GrassTraits>,
    /// The soil, from the top.
    pub layers: [Layer; LAYERS],
    /// How far a moist seedbed lets crabgrass seed go on, by its share of available water in
    /// 16 equal steps from 0 to 1.
    pub gate: [f64; GATE_STEPS + 1],
    /// Hydrologic group, one step worse where the subsoil is severely compacted.
    pub group: HydrologicGroup,
    /// Slope, m/m.
    pub slope: f64,
    /// Share of full sun, 0..=1.
    pub sun: f64,
    /// No root goes deeper, mm.
    pub root_limit_mm: f64,
    /// Dry mass of the top 10 cm of soil, g/m2.
    pub soil_mass_10cm_g_m2: f64,
}

impl Setting {
    /// Pace of germination at a seedbed moisture 0..=1.
    #[inline]
    pub fn germination_pace(&self, moisture: f64) -> f64 {
        let at = moisture.clamp(0.0, 1.0) * GATE_STEPS as f64;
        let k = (at as usize).min(GATE_STEPS - 1);
        self.gate[k] + (self.gate[k + 1] - self.gate[k]) * (at - k as f64)
    }

    /// Puts a member's constants and a lawn together.
    pub fn new(p: &Parameters, lawn: &LawnDraw<'_>) -> Setting {
        let soil = &lawn.facts.soil;
        let w = &p.water;
        let grasses = lawn.facts.grasses.iter().take(MAX_GRASSES).map(|(grass, _)| {
            let at = GRASSES.iter().position(|(g, _)| g == grass).unwrap_or(0);
            p.grasses[at]
        });
        let om_pct = lawn.organic_matter * 100.0;
        // The dispute about organic matter and water is drawn as an extra slope on field
        // capacity; the published equation stays as it is.
        let extra = w.om_extra_field_capacity * (om_pct.min(8.0) - 2.5);
        let top = saxton_rawls(soil.sand, soil.clay, om_pct)
            .with_more_at_field_capacity(extra)
            .with_ks_times(w.topsoil_ks_spread);
        let (ks_factor, root_limit_mm) = match soil.compaction {
            Compaction::None => (1.0, 1000.0),
            Compaction::Moderate => {
                let below = (1000.0 - soil.topsoil_mm).max(0.0);
                (w.compaction_ks_moderate, soil.topsoil_mm + below * w.compaction_root_moderate)
            }
            Compaction::Severe => {
                (w.compaction_ks_severe, soil.topsoil_mm + w.compaction_root_severe_mm)
            }
        };
        let sub =
            saxton_rawls(soil.sand, soil.clay, w.subsoil_organic_matter).with_ks_times(ks_factor);
        let layers = std::array::from_fn(|l| layer(l, soil.topsoil_mm, &top, &sub));
        Setting {
            grasses: grasses.collect(),
            layers,
            gate: moisture_gate(&top, p.crabgrass.gate_open_kpa, p.crabgrass.gate_shut_kpa),
            group: worse_if(soil.hydrologic_group, soil.compaction == Compaction::Severe),
            slope: lawn.facts.slope,
            sun: lawn.facts.sun,
            root_limit_mm: root_limit_mm.clamp(50.0, 1000.0),
            // Mineral particles weigh 2.65 g/cm3; the pores are the saturation.
            soil_mass_10cm_g_m2: 0.1 * 2.65e6 * (1.0 - top.saturation),
            p: p.clone(),
        }
    }
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

fn layer(l: usize, topsoil_mm: f64, top: &Hydraulics, sub: &Hydraulics) -> Layer {
    let thickness_mm = THICKNESS_MM[l];
    let above = BOTTOM_MM[l] - thickness_mm;
    let share = ((topsoil_mm - above) / thickness_mm).clamp(0.0, 1.0);
    let mix = |a: f64, b: f64| a * share + b * (1.0 - share);
    // The slowest part of a layer sets how fast it lets water down.
    let ks_mm_h = if share >= 1.0 { top.ks_mm_h } else { sub.ks_mm_h.min(top.ks_mm_h) };
    Layer {
        thickness_mm,
        wp_mm: mix(top.wilting_point, sub.wilting_point) * thickness_mm,
        fc_mm: mix(top.field_capacity, sub.field_capacity) * thickness_mm,
        sat_mm: mix(top.saturation, sub.saturation) * thickness_mm,
        ks_mm_h,
    }
}

fn worse_if(group: HydrologicGroup, worse: bool) -> HydrologicGroup {
    match (group, worse) {
        (g, false) => g,
        (HydrologicGroup::A, true) => HydrologicGroup::B,
        (HydrologicGroup::B, true) => HydrologicGroup::C,
        (HydrologicGroup::C | HydrologicGroup::D, true) => HydrologicGroup::D,
    }
}
