//! What runs, but a person should look at. Typical figures never stand in for a label: the message asks
//! for the label's figure, and the stricter of the two is held to.

use super::fault::Faults;
use super::practice::Drafted;
use super::products::Products;
use super::program::Built;
use super::{
    Grass, LocalRules, What, barrier_caution, ceiling, nitrogen_caution, reseed, tend_caution,
};
use crate::quantity::{Kind, Units, show};

pub(super) const LABEL: &str = "typical; enter the figure of the label in your hand under `label`";

/// Pounds per 1000 ft2 as g/m2.
pub(super) const LB_PER_1000_FT2: f64 = 453.592_37 / 92.903_04;

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
    for (i, draft) in built.drafts.iter().enumerate() {
        tend_caution::strip(built, i, faults);
        match &draft.what {
            What::Mow { height_mm, .. } => low_cut(draft, *height_mm, grasses, faults),
            What::PreEmergent { .. } => barrier_caution::look(built, i, grasses, products, faults),
            What::Spread { .. } => {
                nitrogen_caution::once(built, i, rules, faults);
                tend_caution::liquid(built, i, faults);
            }
            What::Topdress { depth_mm, .. } => deep_compost(draft, *depth_mm, faults),
            What::Overseed { .. } => reseed::sowing(built, i, grasses, products, faults),
            What::Tend(tend) => tend_caution::look(built, i, &tend.tending, faults),
            What::Water { .. } | What::Spray(_) => {}
        }
    }
    ceiling::program(built, grasses, products, faults);
    nitrogen_caution::in_a_year(built, rules, faults);
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
