//! What runs, but a person should look at. Typical figures never stand in for a label: a figure
//! that the user read on the label is held to; otherwise the message asks for it.

use super::day;
use super::fault::Faults;
use super::practice::Drafted;
use super::products::{PreEmergentProduct, Products, active_name};
use super::program::Built;
use super::{Cue, Grass, LocalRules, Program, What, reseed, tend_caution};
use crate::calendar::MonthDay;
use crate::quantity::{Kind, Units, show};
use crate::work::ActiveId;

pub(super) const LABEL: &str = "typical; enter the figure of the label in your hand under `label`";

/// Pounds per 1000 ft2 as g/m2.
pub(super) const LB_PER_1000_FT2: f64 = 453.592_37 / 92.903_04;

/// Most nitrogen at one application: 0.9 lb/1000 ft2 in all and 0.7 lb soluble (Pennsylvania Act
/// 83 of 2022; Maryland), and in a year 4 lb/1000 ft2 (the upper end of extension programs:
/// University of Illinois 1995).
const N_ONCE: f64 = 0.9 * LB_PER_1000_FT2;
const N_ONCE_SOLUBLE: f64 = 0.7 * LB_PER_1000_FT2;
const N_YEAR: f64 = 4.0 * LB_PER_1000_FT2;

/// Crabgrass comes up when the soil has warmed to 13.9-17.5 degrees C over a week (Fidanza,
/// Dernoeden & Zhang 1996, Crop Sci. 36:990).
const EMERGENCE_SOIL_C: f64 = 13.9;

/// Lowest usual height of cut, mm (Virginia Tech 1996: 1.5 in for bluegrass and ryegrass, 2 in
/// for the fescues).
fn lowest_cut_mm(grass: Grass) -> f64 {
    match grass {
        Grass::KentuckyBluegrass | Grass::PerennialRyegrass => 38.1,
        Grass::TallFescue | Grass::FineFescue => 50.8,
    }
}

/// Notes what a person should look at in a program. Figures from the user's label that are passed
/// are errors.
pub(super) fn program(
    built: &Built,
    grasses: &[(Grass, f64)],
    products: &Products,
    rules: &LocalRules,
    faults: &mut Faults,
) {
    let all = Look { built, grasses, products };
    for (i, draft) in built.drafts.iter().enumerate() {
        tend_caution::strip(built, i, faults);
        match &draft.what {
            What::Mow { height_mm, .. } => low_cut(draft, *height_mm, grasses, faults),
            What::PreEmergent { .. } => all.barrier(i, draft, faults),
            What::Spread { .. } => {
                nitrogen_once(draft, rules, faults);
                tend_caution::liquid(built, i, faults);
            }
            What::Topdress { depth_mm, .. } => deep_compost(draft, *depth_mm, faults),
            What::Overseed { .. } => reseed::sowing(built, i, products, faults),
            What::Tend(tend) => tend_caution::look(built, i, &tend.tending, faults),
            What::Water { .. } => {}
        }
    }
    all.active_in_a_year(faults);
    if rules.nitrogen_year_g_m2.is_none() {
        all.nitrogen_in_a_year(faults);
    }
}

struct Look<'b> {
    built: &'b Built,
    grasses: &'b [(Grass, f64)],
    products: &'b Products,
}

/// Times a year that a practice is due; none where the lawn decides.
pub(super) fn times(program: &Program, i: usize) -> Option<f64> {
    let mut at = i;
    for _ in 0..=program.practices.len() {
        match &program.practices.get(at)?.cue {
            Cue::Dates(days) => return Some(days.len() as f64),
            Cue::Every { days, from, to } => {
                let length = to.in_year(2025).0 - from.in_year(2025).0;
                return Some(f64::from(1 + length / i32::try_from(*days).ok()?.max(1)));
            }
            Cue::SoilTemperature { .. } | Cue::DegreeDays { .. } => return Some(1.0),
            Cue::DaysAfter { practice, .. } => at = *practice,
            Cue::CanopyHeight { .. } | Cue::DrySoil { .. } => return None,
        }
    }
    None
}

/// Key as written: both halves of a split barrier are told of as one.
pub(super) fn name(draft: &Drafted) -> &str {
    draft.key.trim_end_matches("/second")
}

pub(super) fn us_and_metric(value: f64, kind: Kind) -> String {
    format!("{} ({})", show(value, kind, Units::Us), show(value, kind, Units::Metric))
}

fn low_cut(draft: &Drafted, height_mm: f64, grasses: &[(Grass, f64)], faults: &mut Faults) {
    let highest = grasses.iter().map(|g| lowest_cut_mm(g.0)).max_by(f64::total_cmp).unwrap_or(0.0);
    if height_mm < highest - 0.01 {
        faults.caution(
            "low-cut",
            &draft.amount_span,
            format!(
                "`{}` cuts at {}, lower than this grass is usually kept",
                draft.key,
                us_and_metric(height_mm, Kind::Depth)
            ),
            format!("at least {}", us_and_metric(highest, Kind::Depth)),
            "raise the deck",
        );
    }
}

fn deep_compost(draft: &Drafted, depth_mm: f64, faults: &mut Faults) {
    if depth_mm > 12.7 + 0.01 {
        faults.caution(
            "deep-compost",
            &draft.amount_span,
            format!("`{}` lays more than 1/2 in at once: it smothers grass", draft.key),
            "1/4 to 3/8 in at once (common practice)",
            "lay it in two passes some months apart",
        );
    }
}

/// Against common ceilings, where the place states none of its own.
fn nitrogen_once(draft: &Drafted, rules: &LocalRules, faults: &mut Faults) {
    let What::Spread { nitrogen, .. } = &draft.what else { return };
    for (amount, most, stated, what) in [
        (nitrogen.total_g_m2(), N_ONCE, rules.nitrogen_once_g_m2, "nitrogen"),
        (nitrogen.quick_g_m2(), N_ONCE_SOLUBLE, rules.quick_nitrogen_once_g_m2, "quick nitrogen"),
    ] {
        if stated.is_none() && amount > most * 1.001 {
            faults.caution(
                "much-nitrogen-at-once",
                &draft.amount_span,
                format!(
                    "`{}` lays {} of {what} at once, above common ceilings",
                    draft.key,
                    us_and_metric(amount, Kind::NitrogenRate)
                ),
                format!("at most {}", us_and_metric(most, Kind::NitrogenRate)),
                "lay less and more often, or more of it slow; your state may have its own ceiling",
            );
        }
    }
}

impl Look<'_> {
    fn barrier(&self, i: usize, draft: &Drafted, faults: &mut Faults) {
        let What::PreEmergent { active, rate_kg_ha, carrier, water_in_mm, product } = &draft.what
        else {
            return;
        };
        if let Some(most) = draft.label.once_kg_ha.filter(|m| *rate_kg_ha > m * 1.001) {
            over_label(draft, "at once", *rate_kg_ha, most, faults);
        }
        let typical = self.products.pre_emergent(&product.name);
        let Some(typical) = typical.or_else(|| self.products.like(*active, *carrier)) else {
            return;
        };
        typical_rate(draft, *rate_kg_ha, typical, faults);
        water_in(draft, *water_in_mm, typical, faults);
        late(draft, &self.built.program.practices[i].cue, faults);
        self.again(i, draft, *active, typical, faults);
        if !typical.note.is_empty() {
            faults.caution(
                "product-note",
                &draft.span,
                format!("`{}`, {}: {}", name(draft), active_name(*active), typical.note),
                "a use that the label and the place allow",
                "read the label and the rules of the place",
            );
        }
    }

    /// Two applications of one active too close or too far apart.
    fn again(
        &self,
        i: usize,
        draft: &Drafted,
        active: ActiveId,
        typical: &PreEmergentProduct,
        faults: &mut Faults,
    ) {
        let Cue::DaysAfter { practice, days } = self.built.program.practices[i].cue else { return };
        let other = &self.built.program.practices[practice];
        let same = matches!(other.what, What::PreEmergent { active: a, .. } if a == active);
        let Some((from, to)) = typical.again_days.filter(|_| same) else { return };
        if !(from..=to).contains(&f64::from(days)) {
            faults.caution(
                "odd-sequence",
                &draft.span,
                format!("`{}` comes {days} days after `{}`", draft.key, other.key),
                format!("{from:.0} to {to:.0} days between two of {} ({LABEL})", typical.name),
                "look at the label's sequence",
            );
        }
    }

    fn active_in_a_year(&self, faults: &mut Faults) {
        let barriers = || {
            self.built.drafts.iter().enumerate().filter_map(|(i, draft)| match &draft.what {
                What::PreEmergent { active, rate_kg_ha, carrier, .. } => Some((
                    draft,
                    *active,
                    *carrier,
                    rate_kg_ha * times(&self.built.program, i).unwrap_or(1.0),
                )),
                _ => None,
            })
        };
        let mut told: Vec<ActiveId> = Vec::new();
        for (draft, active, carrier, _) in barriers() {
            if told.contains(&active) {
                continue;
            }
            told.push(active);
            let sum: f64 = barriers().filter(|b| b.1 == active).map(|b| b.3).sum();
            let stated = barriers().filter(|b| b.1 == active).filter_map(|b| b.0.label.year_kg_ha);
            if let Some(most) = stated.min_by(f64::total_cmp) {
                if sum > most * 1.001 {
                    over_label(draft, "in a year", sum, most, faults);
                }
                continue;
            }
            let like = self.products.like(active, carrier);
            let most = like.and_then(|p| p.year_most(self.grasses.iter().map(|g| g.0)));
            if let Some(most) = most.filter(|most| sum > most * 1.001) {
                faults.caution(
                    "much-active-in-a-year",
                    &draft.amount_span,
                    format!(
                        "the program lays {} of {} in a year",
                        us_and_metric(sum, Kind::ActiveRate),
                        active_name(active)
                    ),
                    format!(
                        "at most {} for the most sensitive grass here ({LABEL})",
                        us_and_metric(most, Kind::ActiveRate)
                    ),
                    "lower the rate or drop an application",
                );
            }
        }
    }

    fn nitrogen_in_a_year(&self, faults: &mut Faults) {
        let mut sum = 0.0;
        let mut last = None;
        for (i, draft) in self.built.drafts.iter().enumerate() {
            if let What::Spread { nitrogen, .. } = &draft.what {
                sum += nitrogen.total_g_m2() * times(&self.built.program, i).unwrap_or(1.0);
                last = Some(draft);
            }
        }
        if let Some(draft) = last.filter(|_| sum > N_YEAR * 1.001) {
            faults.caution(
                "much-nitrogen-in-a-year",
                &draft.amount_span,
                format!("the program lays {} a year", us_and_metric(sum, Kind::NitrogenRate)),
                format!("at most {} (common ceiling)", us_and_metric(N_YEAR, Kind::NitrogenRate)),
                "lay less, or less often",
            );
        }
    }
}

fn over_label(draft: &Drafted, when: &str, rate: f64, most: f64, faults: &mut Faults) {
    faults.error(
        "over-label",
        &draft.amount_span,
        format!(
            "`{}` lays {} {when}, more than the label figure that you gave",
            draft.key,
            us_and_metric(rate, Kind::ActiveRate)
        ),
        format!("at most {}", us_and_metric(most, Kind::ActiveRate)),
        Some("the label is the law".to_string()),
    );
}

fn typical_rate(draft: &Drafted, rate: f64, typical: &PreEmergentProduct, faults: &mut Faults) {
    let [low, _, high] = typical.rate_kg_ha;
    let side = match draft.label.once_kg_ha {
        _ if rate < low * 0.99 => "below",
        None if rate > high * 1.01 => "above",
        _ => return,
    };
    faults.caution(
        "untypical-rate",
        &draft.amount_span,
        format!(
            "`{}` lays {}, {side} the typical range of {}",
            draft.key,
            us_and_metric(rate, Kind::ActiveRate),
            typical.name
        ),
        format!(
            "{} to {} ({LABEL})",
            show(low, Kind::ActiveRate, Units::Us),
            us_and_metric(high, Kind::ActiveRate)
        ),
        "check the rate, and whether it is product or active ingredient",
    );
}

fn water_in(draft: &Drafted, given_mm: f64, typical: &PreEmergentProduct, faults: &mut Faults) {
    let wanted = draft.label.water_in_mm.unwrap_or(typical.water_in_mm);
    let days = draft.label.within_days.unwrap_or(typical.water_in_days);
    if given_mm >= wanted - 0.01 {
        return;
    }
    let from = if draft.label.water_in_mm.is_some() { "your label" } else { LABEL };
    faults.caution(
        "not-watered-in",
        &draft.span,
        format!("`{}` counts on rain to water it in", name(draft)),
        format!("{} within {days:.0} days ({from})", us_and_metric(wanted, Kind::Depth)),
        "give water-in, or look at how often the rain comes too late",
    );
}

fn late(draft: &Drafted, cue: &Cue, faults: &mut Faults) {
    let spring_ends = MonthDay { month: 5, day: 15 };
    let summer_ends = MonthDay { month: 7, day: 31 };
    let why = match cue {
        Cue::SoilTemperature { at_least_c, for_days, .. } if *at_least_c > EMERGENCE_SOIL_C => {
            format!(
                "by the time the soil has stood at {} for {for_days} days, crabgrass is coming up",
                us_and_metric(*at_least_c, Kind::Temperature)
            )
        }
        Cue::Dates(days) if days.iter().all(|d| *d > spring_ends && *d <= summer_ends) => {
            let first: Vec<String> = days.iter().take(1).map(|d| day::show(*d)).collect();
            format!("by {} crabgrass is up in most places", first.join(""))
        }
        _ => return,
    };
    faults.caution(
        "late-barrier",
        &draft.cue_span,
        format!("`{}`: {why}", draft.key),
        format!(
            "before the soil has warmed to {}",
            us_and_metric(EMERGENCE_SOIL_C, Kind::Temperature)
        ),
        "an earlier date, or soil-temperature = \"50 degF\"",
    );
}
