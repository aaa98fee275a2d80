//! What a person should look at where lime, phosphorus or potassium goes down: whether a soil test asks
//! for it, and what it meets.

use super::apart::gap;
use super::caution::{LB_PER_1000_FT2, us_and_metric};
use super::fault::Faults;
use super::occasion::times;
use super::practice::Drafted;
use super::program::Built;
use super::value::Reading;
use super::{LocalRules, SoilTest, Tend, What, phosphate_and_potash_g_m2};
use crate::calendar::Day;
use crate::quantity::{Kind, show_number};
use crate::work::{NitrogenForms, Tending};

/// Most lime in one go on standing turf (Virginia Tech 452-717; Penn State allows lawns twice as much).
const LIME_ONCE: f64 = 50.0 * LB_PER_1000_FT2;

/// More lime than the laboratory asks for by this share is worth a word.
const LIME_OVER: f64 = 1.1;

/// Days between lime and a feeding that turns to ammonia on limed ground. Common practice: advice runs
/// from a week to a month.
const LIME_TO_FEED_DAYS: f64 = 14.0;

/// Nitrogen as urea or ammonium below which little can go off, g/m2: spoon-feeding.
const LITTLE_NITROGEN: f64 = 0.25 * LB_PER_1000_FT2;

/// Phosphorus by Mehlich 3 from which Penn State's laboratory recommends none for a home lawn, mg/kg.
pub(super) const PHOSPHORUS_ENOUGH_PPM: f64 = 45.0;

/// Potassium by Mehlich 3 above which it is more than the optimum (Rutgers: 277 lb/acre), mg/kg.
const POTASSIUM_ENOUGH_PPM: f64 = 138.0;

/// Seed makes use of phosphorus that lies beside it within so many days (our judgement).
const STARTER_DAYS: f64 = 30.0;

/// Years after which a soil is tested again (common practice; Massachusetts asks for it).
const TEST_YEARS: i32 = 3;

/// Notes every practice of a program that the soil test does not ask for, or that meets another.
pub(super) fn program(
    built: &Built,
    test: Option<&SoilTest>,
    rules: &LocalRules,
    seasons: f64,
    faults: &mut Faults,
) {
    for (at, draft) in built.drafts.iter().enumerate() {
        match &draft.what {
            What::Tend(tend @ Tend { tending: Tending::Lime { .. }, .. }) => {
                lime_once(draft, tend, faults);
                if unasked_lime(draft, test, faults) {
                    near_a_feeding(built, at, faults);
                }
            }
            What::Spread { .. } => {
                let (phosphate, potash) =
                    phosphate_and_potash_g_m2(&draft.what).unwrap_or_default();
                if phosphate > 0.0 {
                    phosphorus(built, at, test, rules, faults);
                }
                let found = test.and_then(|test| test.potassium_ppm).filter(|_| potash > 0.0);
                if let Some(ppm) = found.filter(|ppm| *ppm > POTASSIUM_ENOUGH_PPM) {
                    potassium(draft, potash, ppm, faults);
                }
            }
            _ => {}
        }
    }
    if let Some(asked) = test.and_then(|test| test.lime_g_m2).filter(|g_m2| *g_m2 > 0.0) {
        lime_in_all(built, asked, seasons, faults);
    }
}

/// A test that is too old for the run.
pub(super) fn age(table: &Reading<'_>, test: &SoilTest, first_year: i32, faults: &mut Faults) {
    let Some(taken) = test.taken else { return };
    let again = Day::from_ymd(taken.ymd().0 + TEST_YEARS + 1, 1, 1);
    if again.is_some_and(|again| Day::from_ymd(first_year, 1, 1).is_some_and(|run| run > again)) {
        faults.caution(
            "old-soil-test",
            &table.span_of("taken"),
            format!("the soil was sampled more than {TEST_YEARS} years before the first season"),
            format!("a test every {TEST_YEARS} years or so (common practice)"),
            "send another sample: lime and feedings have moved it since",
        );
    }
}

fn lime_once(draft: &Drafted, tend: &Tend, faults: &mut Faults) {
    let Some(laid) = tend.product.as_ref().map(|product| product.amount_per_m2) else { return };
    if laid <= LIME_ONCE * 1.001 {
        return;
    }
    let goes = (laid / LIME_ONCE).ceil();
    faults.caution(
        "much-lime-at-once",
        &draft.amount_span,
        format!(
            "`{}` spreads {} of lime in one go: it lies on the leaf, and little of it gets down",
            draft.key,
            us_and_metric(laid, Kind::MassPerArea)
        ),
        format!("at most {} at once (Virginia Tech)", us_and_metric(LIME_ONCE, Kind::MassPerArea)),
        format!("split it into {goes:.0}, one to six months apart, or work it in before seeding"),
    );
}

/// Lime that no test asks for; says whether nothing of it had to be told.
fn unasked_lime(draft: &Drafted, test: Option<&SoilTest>, faults: &mut Faults) -> bool {
    let Some((test, ph)) = test.and_then(|test| Some((test, test.ph?))) else {
        faults.caution(
            "lime-without-test",
            &draft.span,
            format!("`{}` spreads lime, and no soil test gives the pH", draft.key),
            "[lawn.soil-test] with ph, and lime as the laboratory recommends it",
            "test the soil first; as it stands the lime costs money and time, and does nothing here",
        );
        return true;
    };
    let none_asked = test.lime_g_m2 == Some(0.0);
    if ph < test.target_ph && !none_asked {
        return true;
    }
    let target = show_number(test.target_ph);
    faults.caution(
        "lime-not-needed",
        &draft.span,
        format!("`{}` spreads lime on soil of pH {}", draft.key, show_number(ph)),
        match none_asked {
            true => "none: the laboratory recommends no lime".to_string(),
            false => format!("lime below the target pH of {target} only"),
        },
        "leave it out; past pH 7.5 iron runs short and grass pales",
    );
    false
}

fn near_a_feeding(built: &Built, at: usize, faults: &mut Faults) {
    let draft = &built.drafts[at];
    let turns = |forms: &NitrogenForms| forms.urea_g_m2 + forms.ammonium_g_m2 > LITTLE_NITROGEN;
    let near = built.drafts.iter().enumerate().find_map(|(i, other)| {
        let What::Spread { nitrogen, .. } = &other.what else { return None };
        let days = gap(built, at, i, LIME_TO_FEED_DAYS)
            .or_else(|| gap(built, i, at, LIME_TO_FEED_DAYS))
            .filter(|_| turns(nitrogen))?;
        Some((other, days.0.max(0)))
    });
    let Some((feed, days)) = near else { return };
    let apart = match days {
        0 => "on the same day".to_string(),
        1 => "a day apart".to_string(),
        days => format!("{days} days apart"),
    };
    faults.caution(
        "lime-near-feeding",
        &draft.cue_span,
        format!(
            "`{}` and `{}` may come {apart}: beside lime, urea and ammonium go off as ammonia",
            draft.key, feed.key
        ),
        format!("about {LIME_TO_FEED_DAYS:.0} days and a soaking rain between (common practice)"),
        "lime in late fall or winter, or feed two weeks before; the loss is not played",
    );
}

fn lime_in_all(built: &Built, asked_g_m2: f64, seasons: f64, faults: &mut Faults) {
    let mut sum = 0.0;
    let mut last = None;
    for (i, draft) in built.drafts.iter().enumerate() {
        let What::Tend(tend) = &draft.what else { continue };
        let Tending::Lime { carbonate_g_m2 } = tend.tending else { continue };
        let often = if tend.once { 1.0 } else { times(&built.program, i).unwrap_or(1.0) * seasons };
        sum += carbonate_g_m2 * often;
        last = Some(draft);
    }
    let Some(draft) = last.filter(|_| sum > asked_g_m2 * LIME_OVER) else { return };
    let rate = |g_m2| us_and_metric(g_m2, Kind::MassPerArea);
    faults.caution(
        "more-lime-than-asked",
        &draft.amount_span,
        format!(
            "in all seasons together {} of lime goes down, counted as calcium carbonate",
            rate(sum)
        ),
        format!("{}, which the laboratory recommends", rate(asked_g_m2)),
        "times = \"once\", or less each time; then test again",
    );
}

fn phosphorus(
    built: &Built,
    at: usize,
    test: Option<&SoilTest>,
    rules: &LocalRules,
    faults: &mut Faults,
) {
    let draft = &built.drafts[at];
    let found = test.and_then(|test| test.phosphorus_ppm);
    if let Some(ppm) = found {
        if ppm >= PHOSPHORUS_ENOUGH_PPM {
            faults.caution(
                "phosphorus-enough",
                &draft.span,
                format!(
                    "`{}` brings phosphate to soil that tests at {} ppm of phosphorus (Mehlich 3)",
                    draft.key,
                    show_number(ppm.round())
                ),
                format!("none from {PHOSPHORUS_ENOUGH_PPM:.0} ppm on (Penn State, home lawns)"),
                "take a bag whose middle number is 0: what is over runs off to water",
            );
        }
        return;
    }
    let sows = |d: &Drafted| matches!(d.what, What::Overseed { .. });
    let starter = built.drafts.iter().enumerate().any(|(i, d)| {
        let near = || gap(built, at, i, STARTER_DAYS).or_else(|| gap(built, i, at, STARTER_DAYS));
        sows(d) && near().is_some()
    });
    // Where rules of the place limit it, they are told of instead.
    if starter || rules.phosphate_at_most.is_some() || rules.phosphorus_tested {
        return;
    }
    faults.caution(
        "phosphorus-without-test",
        &draft.span,
        format!("`{}` brings phosphate, and no soil test asks for it", draft.key),
        "a bag whose middle number is 0, unless a test is low or grass is sown",
        "test the soil ([lawn.soil-test] phosphorus); many states' laws ask for it: look up yours",
    );
}

fn potassium(draft: &Drafted, potash_g_m2: f64, ppm: f64, faults: &mut Faults) {
    faults.caution(
        "potassium-enough",
        &draft.span,
        format!(
            "`{}` brings {} of potash to soil that tests at {} ppm of potassium (Mehlich 3)",
            draft.key,
            us_and_metric(potash_g_m2, Kind::MassPerArea),
            show_number(ppm.round())
        ),
        format!("none needed above {POTASSIUM_ENOUGH_PPM:.0} ppm (Rutgers)"),
        "take a bag whose last number is 0, if it costs less: it changes nothing here",
    );
}
