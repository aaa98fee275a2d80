//! What a person should look at where tools go into the ground or the turf is made anew.

use super::apart::gap;
use super::caution::{LB_PER_1000_FT2, name, us_and_metric};
use super::fault::Faults;
use super::limit::{Figure, Unit, at_least};
use super::occasion::falls_in_words;
use super::practice::Drafted;
use super::program::Built;
use super::{Hold, Tend, What};
use crate::calendar::MonthDay;
use crate::quantity::Kind;
use crate::work::Tending;

/// A barrier is counted on for about so long after it was laid, days (labels of prodiamine and
/// dithiopyr: three to five months).
const BARRIER_DAYS: f64 = 100.0;

/// Cool-season grass mends slowly in summer heat, and crabgrass comes up in what is opened
/// (extension advice: core and dethatch in late summer and fall, or in early spring).
const SUMMER: (MonthDay, MonthDay) =
    (MonthDay { month: 5, day: 15 }, MonthDay { month: 8, day: 14 });

/// Looks at practice `at`, which does `tending`.
pub(super) fn look(built: &Built, at: usize, tending: &Tending, faults: &mut Faults) {
    let draft = &built.drafts[at];
    match tending {
        Tending::Core { .. } | Tending::Scarify { .. } => {
            through_a_barrier(built, at, faults);
            in_summer(built, at, draft, faults);
        }
        Tending::Kill { rate_kg_ha } => {
            kill_rate(draft, *rate_kg_ha, faults);
            after_a_kill(built, at, faults);
        }
        Tending::Level { depth_mm } => deep_soil(built, at, *depth_mm, faults),
        Tending::LaySod { .. } => sod(built, at, faults),
        Tending::SprayIron { iron_kg_ha } => much_iron(draft, *iron_kg_ha, faults),
        Tending::Stimulate { root_growth, .. } => thin_evidence(draft, *root_growth, faults),
        // Lime is looked at beside the soil test.
        Tending::FeedStrip | Tending::Lime { .. } => {}
    }
}

/// Glyphosate needs so many days to reach the roots before the ground is worked or sown (labels of
/// non-selective products: 3 to 7 days).
const KILL_DAYS: f64 = 7.0;

/// Usual rates of glyphosate on cool-season turf, kg ae/ha (from memory of labels: 1 to 2 lb ae/ac).
const KILL_KG_HA: (f64, f64) = (1.1, 2.25);

/// Where a practice has no `label` to type a figure under.
const NO_LABEL: &str = "typical, from memory: the figure of the label in your hand comes first";

fn kill_rate(draft: &Drafted, rate_kg_ha: f64, faults: &mut Faults) {
    let (low, high) = KILL_KG_HA;
    let (side, mend) = match rate_kg_ha {
        rate if rate < low * 0.99 => ("below", "a low rate leaves patches green, to kill again"),
        rate if rate > high * 1.01 => ("above", "lower the rate: more kills no better"),
        _ => return,
    };
    let rate = |kg_ha| us_and_metric(kg_ha, Kind::ActiveRate);
    faults.caution(
        "untypical-rate",
        &draft.amount_span,
        format!("`{}` sprays {}, {side} usual rates of glyphosate", draft.key, rate(rate_kg_ha)),
        format!("{} to {} ({NO_LABEL})", rate(low), rate(high)),
        mend,
    );
}

/// Days after a kill within which something should be sown or laid.
const BARE_DAYS: f64 = 60.0;

/// Whether a practice brings new grass.
fn brings_grass(draft: &Drafted) -> bool {
    matches!(
        draft.what,
        What::Overseed { .. } | What::Tend(Tend { tending: Tending::LaySod { .. }, .. })
    )
}

fn after_a_kill(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let new: Vec<usize> =
        (0..built.drafts.len()).filter(|i| brings_grass(&built.drafts[*i])).collect();
    let early = new.iter().find(|i| gap(built, at, **i, KILL_DAYS).is_some());
    if let Some(i) = early {
        faults.caution(
            "grass-soon-after-kill",
            &draft.span,
            format!("`{}` may come too soon after `{}`", built.drafts[*i].key, draft.key),
            format!("about {KILL_DAYS:.0} days for the herbicide to reach the roots ({NO_LABEL})"),
            "kill earlier, look for what greens up again, and sow or lay then",
        );
    } else if !new.iter().any(|i| gap(built, at, *i, BARE_DAYS).is_some()) {
        faults.caution(
            "nothing-after-kill",
            &draft.span,
            format!(
                "`{}` kills the turf, and nothing is sown or laid within two months",
                draft.key
            ),
            "do = \"overseed\" or do = \"sod\" one to three weeks later",
            "bare ground is crabgrass's",
        );
    }
}

fn deep_soil(built: &Built, at: usize, depth_mm: f64, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let kills =
        |d: &Drafted| matches!(d.what, What::Tend(Tend { tending: Tending::Kill { .. }, .. }));
    let killed = built.drafts.iter().any(kills);
    if depth_mm > MOST_SOIL_MM + 0.01 && !killed {
        faults.caution(
            "deep-topsoil",
            &draft.amount_span,
            format!("`{}` buries standing grass under more than 1/2 in at once", draft.key),
            "1/4 to 1/2 in at once on living turf (common practice)",
            "level in several thin layers, or kill first and make the lawn anew",
        );
    }
}

/// Half an inch, mm.
const MOST_SOIL_MM: f64 = 12.7;

/// Sod is laid on ground free of barriers for so long, and is rooted so long after (labels: months
/// before, and until it has rooted and been mown).
const SOD_WAIT_DAYS: f64 = 120.0;
const ROOTED_DAYS: f64 = 60.0;

fn sod(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    if !built.drafts.iter().any(|d| matches!(d.what, What::Water { .. })) {
        faults.caution(
            "sod-not-watered",
            &draft.span,
            format!("`{}` counts on rain alone, and new sod has almost no roots", draft.key),
            "water every day at first, then less often and deeper until it has rooted",
            "add a practice with do = \"water\" for the first weeks",
        );
    }
    if let Some(on) = falls_in_words(&built.program, at, HOT) {
        faults.caution(
            "sod-in-heat",
            &draft.cue_span,
            format!("`{}` {on}: in heat new sod dries out within a day", draft.key),
            "late August to October, or spring (extension advice for cool-season grass)",
            "move it to fall, or count on watering more than once a day",
        );
    }
    for (i, barrier) in built.drafts.iter().enumerate() {
        if !matches!(barrier.what, What::PreEmergent { .. }) {
            continue;
        }
        let wait =
            |label, days| at_least(label, Some(Figure { value: days, recalled: true }), Unit::Days);
        let before = wait(barrier.label.reseed_days, SOD_WAIT_DAYS);
        let after = wait(barrier.label.after_seeding_days, ROOTED_DAYS);
        let (Some(before), Some(after)) = (before, after) else { continue };
        if gap(built, i, at, before.value).is_none() && gap(built, at, i, after.value).is_none() {
            continue;
        }
        let whose = if before.of_label() { after.words() } else { before.words() };
        faults.caution(
            "sod-near-barrier",
            &draft.span,
            format!("`{}` and `{}` come near to each other", draft.key, name(barrier)),
            format!(
                "{} from barrier to sod, {} from sod to barrier ({whose})",
                before.shown(),
                after.shown()
            ),
            "a barrier keeps new roots short: leave it out that year",
        );
    }
}

/// Summer heat in most places with cool-season grass.
const HOT: (MonthDay, MonthDay) = (MonthDay { month: 6, day: 15 }, MonthDay { month: 8, day: 20 });

/// Upper rate of iron in use, kg/ha: 4 oz of ferrous sulfate per 1000 ft2 (University of Arizona).
const MOST_IRON_KG_HA: f64 = 2.45;

fn much_iron(draft: &Drafted, iron_kg_ha: f64, faults: &mut Faults) {
    if iron_kg_ha > MOST_IRON_KG_HA {
        faults.caution(
            "much-iron",
            &draft.amount_span,
            format!(
                "`{}` sprays {iron_kg_ha:.1} kg of iron per hectare: it blackens leaf",
                draft.key
            ),
            "1.2 to 2.4 kg/ha: 2 to 4 oz of ferrous sulfate per 1000 ft2 (University of Arizona)",
            "spray less; it stains stone and concrete besides",
        );
    }
}

fn through_a_barrier(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let broken = built.drafts.iter().enumerate().find(|(i, other)| {
        matches!(other.what, What::PreEmergent { .. }) && gap(built, *i, at, BARRIER_DAYS).is_some()
    });
    let Some((_, barrier)) = broken else { return };
    faults.caution(
        "barrier-broken-up",
        &draft.cue_span,
        format!("`{}` may open the ground while `{}` is at work", draft.key, name(barrier)),
        "the barrier left undisturbed (most labels; trials of coring through one mostly found no harm)",
        "open the ground before the barrier goes down, or in fall",
    );
}

fn in_summer(built: &Built, at: usize, draft: &Drafted, faults: &mut Faults) {
    let Some(on) = falls_in_words(&built.program, at, SUMMER) else { return };
    faults.caution(
        "opened-in-summer",
        &draft.cue_span,
        format!("`{}` {on}: gaps made then close slowly", draft.key),
        "late August to October, or early spring (extension advice for cool-season grass)",
        "move it to fall",
    );
}

/// Products that are sold to stimulate growth: "there is a lack of season-long, field-based evidence"
/// (Zhang, Ervin & Schmidt 2003, J. Am. Soc. Hortic. Sci. 128:492, who saw gains on bentgrass);
/// gains in many short trials (Mackiewicz-Walec & Olszewska 2023, Agriculture 13:1796, a review).
fn thin_evidence(draft: &Drafted, root_growth: f64, faults: &mut Faults) {
    let plays = if root_growth > 0.0 {
        "plays the effect that you state, not one that is known"
    } else {
        "costs money and time here, and does nothing"
    };
    faults.caution(
        "thin-evidence",
        &draft.span,
        format!("`{}` {plays}: few trials followed such products on lawns for a season", draft.key),
        "gains in many short trials, most of them on greens or in pots (reviews of 2003 and 2023)",
        "spend it on seed, mowing or water first; or state root-growth to see what a claim would be worth",
    );
}

/// A hold that looks at a strip which nobody feeds.
pub(super) fn strip(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let looks = draft.holds.iter().any(|hold| matches!(hold, Hold::GreenWithin { .. }));
    let fed = |d: &Drafted| matches!(d.what, What::Tend(Tend { tending: Tending::FeedStrip, .. }));
    if looks && !built.drafts.iter().any(fed) {
        faults.caution(
            "no-reference-strip",
            &draft.span,
            format!("`{}` compares the lawn with a fed strip, and nobody feeds one", draft.key),
            "a practice with do = \"reference-strip\", early in the season and every few weeks",
            "add it; its cost is small",
        );
    }
}

/// Quick nitrogen that leaf bears if it dries on it: 0.25 lb/1000 ft2, and 0.1 lb above 85 degF
/// (common practice).
const ON_LEAF: f64 = 0.25 * LB_PER_1000_FT2;
const ON_LEAF_HOT: f64 = 0.1 * LB_PER_1000_FT2;

/// A liquid that is left to dry on the leaf.
pub(super) fn liquid(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let What::Spread { nitrogen, water_in_mm, .. } = &draft.what else { return };
    let quick = nitrogen.quick_g_m2();
    if !nitrogen.on_leaf || *water_in_mm > 0.0 {
        return;
    }
    let rate = |n| us_and_metric(n, Kind::NitrogenRate);
    let (most, when) = if quick > ON_LEAF * 1.001 {
        (ON_LEAF, String::new())
    } else if let Some(on) =
        falls_in_words(&built.program, at, HOT).filter(|_| quick > ON_LEAF_HOT * 1.001)
    {
        (ON_LEAF_HOT, format!(" and {on}, when it may be hot"))
    } else {
        return;
    };
    faults.caution(
        "liquid-burns",
        &draft.amount_span,
        format!("`{}` leaves {} of quick nitrogen on the leaf{when}", draft.key, rate(quick)),
        format!(
            "at most {} at once, {} above 85 degF (common practice)",
            rate(ON_LEAF),
            rate(ON_LEAF_HOT)
        ),
        if most == ON_LEAF {
            "spray less, or give water-in"
        } else {
            "spray less, or hold = [\"hotter than 85 degF\"]"
        },
    );
}
