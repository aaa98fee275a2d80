//! One practice: what it does, in SI, with the product as the crew buys it.

use super::cue::{self, CueDraft};
use super::fault::{Faults, did_you_mean};
use super::herbicide::LabelFigures;
use super::products::Products;
use super::value::{Reading, Value};
use super::{Hands, Hold, What, bag, barrier, seed, spray, tend};
use crate::work::{Clippings, Weed};
use std::ops::Range;

/// A practice that was read, before its cue is tied to the others of its program.
#[derive(Clone, Debug)]
pub(super) struct Drafted {
    pub key: String,
    pub what: What,
    pub cue: CueDraft,
    pub cue_span: Range<usize>,
    pub holds: Vec<Hold>,
    pub give_up_days: u32,
    pub by: Hands,
    /// The table's head, for cautions.
    pub span: Range<usize>,
    /// Where the rate, height or depth stands, for cautions.
    pub amount_span: Range<usize>,
    pub label: LabelFigures,
    /// Weeds that it is stated to be meant for.
    pub against: Vec<Weed>,
    /// Half of the rate again so many days later.
    pub split_days: Option<u32>,
}

/// Builds a practice from its table.
pub(super) fn draft(
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Drafted> {
    let cue = cue::cue(reading, faults);
    let mut label = LabelFigures::default();
    let (what, amount_key) = doing(reading, products, &mut label, faults)?;
    let split_days = whole(reading, "split");
    if split_days.is_some() && matches!(&cue, Some(CueDraft::Ready(super::Cue::Every { .. }))) {
        faults.error(
            "stray-key",
            &reading.span_of("split"),
            "`split` does not go with `every`",
            "a date, a soil temperature or days after another practice",
            None,
        );
    }
    let usual = if matches!(reading.text("do"), Some("mow" | "water")) { 7 } else { 14 };
    let by = match (reading.text("by"), &what) {
        (Some("client"), _) => Hands::Client,
        (None, Some(What::Water { .. })) => Hands::House,
        _ => Hands::Crew,
    };
    let holds = match reading.value("hold") {
        Some(Value::Holds(holds)) => holds.clone(),
        _ => vec![],
    };
    stray_holds(reading, &holds, what.as_ref(), faults);
    let way = cue::way(reading).unwrap_or("on");
    Some(Drafted {
        key: reading.text("key")?.to_string(),
        what: what?,
        cue: cue?,
        cue_span: reading.span_of(way),
        holds,
        give_up_days: whole(reading, "give-up").unwrap_or(usual),
        by,
        span: reading.span.clone(),
        amount_span: reading.span_of(amount_key),
        label,
        against: spray::against(reading, faults),
        split_days,
    })
}

/// What it does, where that could be read, and the key under which its amount stands.
fn doing(
    reading: &Reading<'_>,
    products: &Products,
    label: &mut LabelFigures,
    faults: &mut Faults,
) -> Option<(Option<What>, &'static str)> {
    Some(match reading.text("do")? {
        "mow" => (Some(mow(reading)), "height"),
        "pre-emergent" => (barrier::pre_emergent(reading, products, label, faults), "rate"),
        "spread" if reading.has("nitrogen") => (bag::spread(reading, products, faults), "nitrogen"),
        "spread" => (bag::spread(reading, products, faults), "rate"),
        "water" => (Some(What::Water { depth_mm: reading.number("depth") }), "depth"),
        "spray" => (spray::spray(reading, products, label, faults), "rate"),
        "overseed" => (seed::overseed(reading, products, faults), "rate"),
        "core" => (Some(What::Tend(tend::core(reading))), "opened"),
        "scarify" => (Some(What::Tend(tend::scarify(reading))), "depth"),
        "kill" => (Some(What::Tend(tend::kill(reading))), "rate"),
        "topsoil" => (Some(What::Tend(tend::level(reading))), "depth"),
        "sod" => (tend::sod(reading, faults).map(What::Tend), "grass"),
        "iron" => (Some(What::Tend(tend::iron(reading))), "rate"),
        "lime" => (Some(What::Tend(tend::lime(reading))), "rate"),
        "biostimulant" => (Some(What::Tend(tend::stimulate(reading))), "root-growth"),
        "reference-strip" => (Some(What::Tend(tend::strip(reading))), "takes"),
        "topdress" => (Some(topdress(reading)), "depth"),
        unbuilt => {
            faults.error(
                "unbuilt-practice",
                &reading.span_of("do"),
                format!("\"{unbuilt}\" is in the list of practices, and nothing here plays it"),
                "another practice",
                None,
            );
            return None;
        }
    })
}

/// Holds that look for what this practice does not do.
fn stray_holds(reading: &Reading<'_>, holds: &[Hold], what: Option<&What>, faults: &mut Faults) {
    if holds.contains(&Hold::NothingToCut) && !matches!(what, Some(What::Mow { .. }) | None) {
        faults.error(
            "stray-hold",
            &reading.span_of("hold"),
            "\"nothing to cut\" holds a mowing, and this is none",
            "another hold, or none",
            None,
        );
    }
    let to_spray = |hold: &Hold| matches!(hold, Hold::NothingToSpray { .. });
    if holds.iter().any(to_spray) && !matches!(what, Some(What::Spray(_)) | None) {
        faults.error(
            "stray-hold",
            &reading.span_of("hold"),
            "\"nothing to spray\" holds a spray on weeds, and this is none",
            "another hold, or none",
            None,
        );
    }
}

pub(super) fn whole(reading: &Reading<'_>, key: &str) -> Option<u32> {
    match reading.value(key)? {
        Value::Whole(n) => u32::try_from(*n).ok(),
        _ => None,
    }
}

fn mow(reading: &Reading<'_>) -> What {
    let clippings = match reading.text("clippings") {
        Some("bagged") => Clippings::Collect,
        _ => Clippings::Return,
    };
    What::Mow { height_mm: reading.number("height"), clippings }
}

fn topdress(reading: &Reading<'_>) -> What {
    What::Topdress { depth_mm: reading.number("depth"), price_m3: reading.number("price") }
}

/// Notes a product that the products file does not have.
pub(super) fn unknown_product<'a>(
    name: &str,
    what: &str,
    ids: impl Iterator<Item = &'a str> + Clone,
    reading: &Reading<'_>,
    faults: &mut Faults,
) {
    faults.error(
        "unknown-product",
        &reading.span_of("product"),
        format!("\"{name}\" is not a {what} of the products file"),
        format!("one of {}", super::key::quoted(ids.clone())),
        did_you_mean(name, ids),
    );
}
