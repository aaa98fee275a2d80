//! What a person should look at where a barrier is laid: whether it comes in time, reaches the soil, and
//! suits the grass.

use super::apart::gap;
use super::caution::{LABEL, name, us_and_metric};
use super::day;
use super::fault::Faults;
use super::practice::Drafted;
use super::products::{Products, active_name};
use super::program::Built;
use super::terms::{Terms, Typical};
use super::{Cue, Grass, Hold, What};
use crate::calendar::MonthDay;
use crate::quantity::Kind;
use crate::work::{ActiveId, Stand};

/// Crabgrass comes up when the soil has warmed to 13.9-17.5 degrees C over a week (Fidanza,
/// Dernoeden & Zhang 1996, Crop Sci. 36:990).
const EMERGENCE_SOIL_C: f64 = 13.9;

/// From this day on crabgrass is up, and tillers, in most places (our judgement from extension
/// calendars).
const UP_FROM: MonthDay = MonthDay { month: 5, day: 15 };
const TILLERS_FROM: MonthDay = MonthDay { month: 6, day: 10 };

/// The barrier that also stops crabgrass that is up, until its first tiller (label text).
const TO_TILLERS: &str = "dithiopyr";

/// What a person should look at in the barrier of practice `i`.
pub(super) fn look(
    built: &Built,
    i: usize,
    grasses: &[(Grass, f64)],
    products: &Products,
    faults: &mut Faults,
) {
    let draft = &built.drafts[i];
    let What::PreEmergent { active, rate_kg_ha, water_in_mm, product, .. } = &draft.what else {
        return;
    };
    late(draft, *active, &built.program.practices[i].cue, faults);
    over_compost(built, i, *active, faults);
    let terms = Terms::of(draft, *rate_kg_ha, grasses, products);
    water_in(draft, *water_in_mm, &terms, faults);
    let Some(typical) = Typical::of(&draft.what, products).and_then(|t| t.barrier) else { return };
    for (grass, _) in grasses.iter().filter(|(grass, _)| typical.hurts.contains(grass)) {
        faults.caution(
            "hurts-grass",
            &draft.span,
            format!("`{}`: {} is not for {}", name(draft), active_name(*active), grass.name()),
            "a barrier that every grass of the lawn bears",
            "take another product",
        );
    }
    if typical.on_fertilizer {
        on_fertilizer(draft, product.amount_per_m2, faults);
    }
    if typical.dry_leaf && !draft.holds.iter().any(|hold| matches!(hold, Hold::Wet { .. })) {
        faults.caution(
            "granules-on-wet-leaf",
            &draft.span,
            format!(
                "`{}` goes out on wet leaves too: granules of {} stick there and burn them",
                name(draft),
                active_name(*active)
            ),
            format!("dry leaves, and water soon after ({LABEL}: this one is from memory)"),
            "hold = [\"wet 0.02 in\"], and water-in",
        );
    }
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

/// A barrier on granules of fertilizer: the nitrogen is the bag's, and nobody has counted it.
fn on_fertilizer(draft: &Drafted, amount_g_m2: f64, faults: &mut Faults) {
    faults.caution(
        "barrier-on-fertilizer",
        &draft.amount_span,
        format!(
            "`{}` comes on fertilizer, {} of it each time: its nitrogen is in no ceiling and no sum here",
            name(draft),
            us_and_metric(amount_g_m2, Kind::MassPerArea)
        ),
        format!(
            "the bag's own analysis: each 10 % of nitrogen is {}",
            us_and_metric(amount_g_m2 / 10.0, Kind::NitrogenRate)
        ),
        "spread that much less of other fertilizer, and keep to closed dates for fertilizer too",
    );
}

/// Compost that lies between a barrier and the soil. Herbicides of this kind cling to what is organic:
/// pendimethalin is found mostly in leaf and thatch (Stahnke et al. 1991). How much of one stays in compost
/// is not known; that a month of rain and worms works a thin layer in is our judgement.
const FRESH_COMPOST_DAYS: f64 = 30.0;

fn over_compost(built: &Built, i: usize, active: ActiveId, faults: &mut Faults) {
    let laid = |draft: &Drafted| matches!(draft.what, What::Topdress { .. });
    let fresh = built
        .drafts
        .iter()
        .enumerate()
        .find(|(at, other)| laid(other) && gap(built, *at, i, FRESH_COMPOST_DAYS).is_some());
    let Some((_, compost)) = fresh else { return };
    faults.caution(
        "barrier-on-compost",
        &built.drafts[i].cue_span,
        format!(
            "`{}` may go onto the fresh compost of `{}`: organic matter holds {} back from the soil \
             in which crabgrass comes up",
            name(&built.drafts[i]),
            name(compost),
            active_name(active)
        ),
        format!(
            "the barrier first, or {FRESH_COMPOST_DAYS:.0} days and more after the compost (our judgement; \
             how much it takes away is not known)"
        ),
        "lay compost after the barrier is watered in, or in fall",
    );
}

fn water_in(draft: &Drafted, given_mm: f64, terms: &Terms, faults: &mut Faults) {
    let Some(wanted) = terms.water_in.filter(|wanted| given_mm < wanted.value - 0.01) else {
        return;
    };
    let within = terms.within.map_or(String::new(), |within| {
        let same = within.whose == wanted.whose;
        let whose = if same { String::new() } else { format!(" ({})", within.words()) };
        format!(" within {}{whose}", within.shown())
    });
    let does = if given_mm > 0.01 {
        let given = us_and_metric(given_mm, Kind::Depth);
        format!("is watered in with {given}, and counts on rain for the rest")
    } else {
        "counts on rain to water it in".to_string()
    };
    faults.caution(
        "not-watered-in",
        &draft.span,
        format!("`{}` {does}", name(draft)),
        format!("{}{within} ({})", wanted.shown(), wanted.words()),
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
