//! What runs, but a person should look at. Typical figures never stand in for a label: a figure
//! that the user read on the label is held to; otherwise the message asks for it.

use super::day;
use super::fault::Faults;
use super::limit::{Whose, at_most};
use super::occasion::{Occasion, due, root};
use super::posts::post_name;
use super::practice::Drafted;
use super::products::{PreEmergentProduct, Products, active_name};
use super::program::Built;
use super::{Cue, Grass, LocalRules, Program, What, reseed, tend_caution};
use crate::calendar::{COMMON_YEAR, Day, MonthDay};
use crate::quantity::{Kind, Units, show};
use crate::work::{ActiveId, Stand};

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

/// From this day on crabgrass is up, and tillers, in most places (our judgement from extension
/// calendars).
const UP_FROM: MonthDay = MonthDay { month: 5, day: 15 };
const TILLERS_FROM: MonthDay = MonthDay { month: 6, day: 10 };

/// The barrier that also stops crabgrass that is up, until its first tiller (label text).
const TO_TILLERS: &str = "dithiopyr";

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
            What::Water { .. } | What::Spray(_) => {}
        }
    }
    all.active_in_a_year(faults);
    all.passes_too_close(faults);
    if rules.nitrogen_year_g_m2.is_none() {
        all.nitrogen_in_a_year(faults);
    }
}

/// What one practice puts down of an active ingredient in a year.
struct Yearly {
    /// The practice's place in the program.
    place: usize,
    active: String,
    kg_ha: f64,
    /// Typical maximum for the grasses here, kg ai/ha.
    most: Option<f64>,
    sprayed: bool,
}

struct Look<'b> {
    built: &'b Built,
    grasses: &'b [(Grass, f64)],
    products: &'b Products,
}

/// Times a year that a practice is due; none where the lawn decides.
pub(super) fn times(program: &Program, i: usize) -> Option<f64> {
    let due = due(program, i);
    let known = |o: &Occasion| o.once || o.day().is_some();
    (!due.is_empty() && due.iter().all(known)).then_some(due.len() as f64)
}

/// The same, or as often as the lawn may call for it.
pub(super) fn times_at_most(program: &Program, i: usize) -> f64 {
    if let Some(times) = times(program, i) {
        return times;
    }
    let Some((at, _)) = root(program, i) else { return 1.0 };
    match &program.practices[at].cue {
        Cue::CanopyHeight { min_gap_days, from, to, .. }
        | Cue::DrySoil { min_gap_days, from, to, .. }
        | Cue::WeedCover { min_gap_days, from, to, .. } => {
            let length = to.in_year(COMMON_YEAR).0 - from.in_year(COMMON_YEAR).0;
            (1.0 + f64::from(length) / f64::from((*min_gap_days).max(1))).floor()
        }
        _ => 1.0,
    }
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
        typical_rate(draft, *rate_kg_ha, typical.rate_kg_ha, &typical.name, faults);
        water_in(draft, *water_in_mm, typical, faults);
        late(draft, *active, &self.built.program.practices[i].cue, faults);
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

    /// Each active ingredient over all of the program's barriers and sprays. Sprays hold to the
    /// stricter of label and typical figure; a barrier's label is taken by itself.
    fn active_in_a_year(&self, faults: &mut Faults) {
        let grasses = || self.grasses.iter().map(|g| g.0);
        let laid = |(i, draft): (usize, &'_ Drafted)| match &draft.what {
            What::PreEmergent { active, rate_kg_ha, carrier, .. } => Some(Yearly {
                place: i,
                active: active_name(*active),
                kg_ha: rate_kg_ha * times(&self.built.program, i).unwrap_or(1.0),
                most: self.products.like(*active, *carrier).and_then(|p| p.year_most(grasses())),
                sprayed: false,
            }),
            What::Spray(spray) => Some(Yearly {
                place: i,
                active: post_name(spray.post),
                kg_ha: spray.rate_kg_ha * times_at_most(&self.built.program, i),
                most: self.products.with_post(spray.post).and_then(|p| p.year_most(grasses())),
                sprayed: true,
            }),
            _ => None,
        };
        let all: Vec<Yearly> = self.built.drafts.iter().enumerate().filter_map(laid).collect();
        let mut told: Vec<&str> = Vec::new();
        for one in &all {
            if told.contains(&one.active.as_str()) {
                continue;
            }
            told.push(&one.active);
            self.one_active_in_a_year(one, &all, faults);
        }
    }

    fn one_active_in_a_year(&self, first: &Yearly, all: &[Yearly], faults: &mut Faults) {
        let draft = &self.built.drafts[first.place];
        let same = || all.iter().filter(|one| one.active == first.active);
        let sum: f64 = same().map(|one| one.kg_ha).sum();
        let stated = same().filter_map(|one| self.built.drafts[one.place].label.year_kg_ha);
        let stated = stated.min_by(f64::total_cmp);
        let sprayed = same().any(|one| one.sprayed);
        let typical = same().filter_map(|one| one.most).min_by(f64::total_cmp);
        let typical = typical.filter(|_| sprayed || stated.is_none());
        let Some(most) = at_most(stated, typical).filter(|most| sum > most.value * 1.001) else {
            return;
        };
        if most.whose == Whose::Label {
            over_label(draft, "in a year", sum, most.value, faults);
            return;
        }
        let does = if sprayed { "puts down up to" } else { "lays" };
        faults.caution(
            "much-active-in-a-year",
            &draft.amount_span,
            format!(
                "the program {does} {} of {} in a year",
                us_and_metric(sum, Kind::ActiveRate),
                first.active
            ),
            format!(
                "at most {} for the most sensitive grass here ({})",
                us_and_metric(most.value, Kind::ActiveRate),
                most.whose.words()
            ),
            "lower the rate or drop an application",
        );
    }

    /// Passes of one active on days that are known, closer together than its sequence wants: two dates of
    /// a practice, or two practices. Those that follow each other by `days-after` are told there.
    fn passes_too_close(&self, faults: &mut Faults) {
        let program = &self.built.program;
        let mut passes: Vec<(ActiveId, Day, usize)> = Vec::new();
        for (i, draft) in self.built.drafts.iter().enumerate() {
            if let What::PreEmergent { active, .. } = draft.what {
                let days = due(program, i).into_iter().filter_map(|o| o.day());
                passes.extend(days.map(|day| (active, day, i)));
            }
        }
        passes.sort_by_key(|(active, day, i)| (active.0, *day, *i));
        for pair in passes.windows(2) {
            let [(active, first, i), (other, second, j)] = *pair else { continue };
            let follows = |a: usize, b: usize| matches!(program.practices[b].cue, Cue::DaysAfter { practice, .. } if practice == a);
            if active != other || follows(i, j) || follows(j, i) {
                continue;
            }
            let draft = &self.built.drafts[j];
            let What::PreEmergent { carrier, .. } = draft.what else { continue };
            let Some((from, _)) = self.products.like(active, carrier).and_then(|p| p.again_days)
            else {
                continue;
            };
            let apart = second.0 - first.0;
            if f64::from(apart) < from {
                faults.caution(
                    "odd-sequence",
                    &draft.span,
                    format!(
                        "`{}` on {} comes {apart} days after {} on {}",
                        name(draft),
                        day::show(second.month_day()),
                        if i == j {
                            "its pass".to_string()
                        } else {
                            format!("`{}`", name(&self.built.drafts[i]))
                        },
                        day::show(first.month_day())
                    ),
                    format!(
                        "at least {from:.0} days between two of {} ({LABEL})",
                        active_name(active)
                    ),
                    "look at the label's sequence, and at its most in a year",
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

pub(super) fn over_label(draft: &Drafted, when: &str, rate: f64, most: f64, faults: &mut Faults) {
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

pub(super) fn typical_rate(
    draft: &Drafted,
    rate: f64,
    [low, _, high]: [f64; 3],
    product: &str,
    faults: &mut Faults,
) {
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
            product
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

/// When a barrier comes too late: most act on seedlings as they come up, one until they tiller.
fn late(draft: &Drafted, active: ActiveId, cue: &Cue, faults: &mut Faults) {
    let to_tillers = active_name(active) == TO_TILLERS;
    let (spring_ends, stage) =
        if to_tillers { (TILLERS_FROM, "has begun to tiller") } else { (UP_FROM, "is up") };
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
            format!("by {} crabgrass {stage} in most places", first.join(""))
        }
        Cue::WeedCover { stand: Stand::Crabgrass, .. } => {
            "when crabgrass is seen, most of it is past what a barrier stops".to_string()
        }
        _ => return,
    };
    let expected = if to_tillers && !matches!(cue, Cue::SoilTemperature { .. }) {
        "before the first tiller (label of dithiopyr: later is not satisfactory)".to_string()
    } else {
        let soil = us_and_metric(EMERGENCE_SOIL_C, Kind::Temperature);
        format!("before the soil has warmed to {soil}")
    };
    faults.caution(
        "late-barrier",
        &draft.cue_span,
        format!("`{}`: {why}", draft.key),
        expected,
        "an earlier date, or soil-temperature = \"50 degF\"; for what is up, do = \"spray\"",
    );
}
