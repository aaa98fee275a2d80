//! One practice: what it does, in SI, with the product as the crew buys it.

use super::cue::{self, CueDraft};
use super::fault::{Faults, did_you_mean};
use super::products::{
    Fertilizer, PreEmergentProduct, Products, Strength, active_name, analysis_nitrogen, find_active,
};
use super::value::{Reading, Value};
use super::{Hold, Product, What};
use crate::parameters::ACTIVES;
use crate::quantity::{Kind, rates};
use crate::work::{ActiveId, Carrier, Clippings, NitrogenForms};
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
    /// The table's head, for cautions.
    pub span: Range<usize>,
    /// Where the rate, height or depth stands, for cautions.
    pub amount_span: Range<usize>,
    pub label: LabelFigures,
    /// Half of the rate again so many days later.
    pub split_days: Option<u32>,
}

/// What the user read on the label in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct LabelFigures {
    pub once_kg_ha: Option<f64>,
    pub year_kg_ha: Option<f64>,
    pub water_in_mm: Option<f64>,
    pub within_days: Option<f64>,
}

/// Builds a practice from its table.
pub(super) fn draft(
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Drafted> {
    let cue = cue::cue(reading, faults);
    let mut label = LabelFigures::default();
    let (what, amount_key) = match reading.text("do")? {
        "mow" => (Some(mow(reading)), "height"),
        "pre-emergent" => (pre_emergent(reading, products, &mut label, faults), "rate"),
        "spread" if reading.has("nitrogen") => (spread(reading, products, faults), "nitrogen"),
        "spread" => (spread(reading, products, faults), "rate"),
        "water" => (Some(What::Water { depth_mm: reading.number("depth") }), "depth"),
        _ => (Some(topdress(reading)), "depth"),
    };
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
    let way = cue::way(reading).unwrap_or("on");
    Some(Drafted {
        key: reading.text("key")?.to_string(),
        what: what?,
        cue: cue?,
        cue_span: reading.span_of(way),
        holds: match reading.value("hold") {
            Some(Value::Holds(holds)) => holds.clone(),
            _ => vec![],
        },
        give_up_days: whole(reading, "give-up").unwrap_or(usual),
        span: reading.span.clone(),
        amount_span: reading.span_of(amount_key),
        label,
        split_days,
    })
}

fn whole(reading: &Reading<'_>, key: &str) -> Option<u32> {
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

/// A pre-emergent as stated: a product of the file, or an active ingredient.
struct Stated<'p> {
    active: ActiveId,
    carrier: Carrier,
    strength: Option<Strength>,
    name: String,
    priced_as: Option<&'p PreEmergentProduct>,
}

fn pre_emergent(
    reading: &Reading<'_>,
    products: &Products,
    label: &mut LabelFigures,
    faults: &mut Faults,
) -> Option<What> {
    let stated = stated(reading, products, faults)?;
    let rate_kg_ha = rate(reading, "rate", stated.strength, faults);
    if let Some(read) = reading.table("label") {
        label.once_kg_ha = rate(read, "once", stated.strength, faults);
        label.year_kg_ha = rate(read, "year", stated.strength, faults);
        label.water_in_mm = read.maybe("water-in");
        label.within_days = read.maybe("within");
    }
    let rate_kg_ha = rate_kg_ha?;
    let amount_per_m2 = stated.strength.map_or(rate_kg_ha / 10.0, |s| s.amount_per_m2(rate_kg_ha));
    let price_per_m2 = reading
        .maybe("price")
        .or_else(|| stated.priced_as.map(|p| p.price_per_m2(rate_kg_ha)))
        .unwrap_or(0.0);
    if !reading.has("price") && stated.priced_as.is_none() {
        faults.caution(
            "no-price",
            &reading.span,
            format!("`{}` has no price: it counts as free", reading.text("key").unwrap_or("?")),
            "price = \"0.6 $/1000 ft2\"",
            "give the price of the whole rate",
        );
    }
    Some(What::PreEmergent {
        active: stated.active,
        rate_kg_ha,
        carrier: stated.carrier,
        water_in_mm: reading.number("water-in"),
        product: Product {
            name: stated.name,
            amount_per_m2,
            liquid: matches!(stated.strength, Some(Strength::Liquid(_))),
            price_per_m2,
        },
    })
}

fn stated<'p>(
    reading: &Reading<'_>,
    products: &'p Products,
    faults: &mut Faults,
) -> Option<Stated<'p>> {
    match (reading.text("product"), reading.text("active")) {
        (Some(name), None) => {
            for stray in ["carrier", "strength"].into_iter().filter(|k| reading.has(k)) {
                faults.error(
                    "stray-key",
                    &reading.span_of(stray),
                    format!("`{stray}` is known from `product`"),
                    format!("no `{stray}`; or `active` instead of `product`"),
                    None,
                );
            }
            let Some(product) = products.pre_emergent(name) else {
                let ids = products.pre_emergents.iter().map(|p| p.id.as_str());
                unknown_product(name, "pre-emergent", ids, reading, faults);
                return None;
            };
            Some(Stated {
                active: product.active,
                carrier: product.carrier,
                strength: Some(product.strength),
                name: product.name.clone(),
                priced_as: Some(product),
            })
        }
        (None, Some(name)) => stated_active(name, reading, products, faults),
        (Some(_), Some(_)) => {
            let expected = "one of the two";
            let message = "`product` and `active` are both there";
            faults.error("exclude-each-other", &reading.span_of("active"), message, expected, None);
            None
        }
        (None, None) if reading.has("product") || reading.has("active") => None,
        (None, None) => {
            faults.error(
                "missing-key",
                &reading.span,
                format!("`{}` does not say what is laid", reading.text("key").unwrap_or("?")),
                "product = \"dithiopyr-liquid-2\", or active = \"dithiopyr\" and carrier = \"spray\"",
                None,
            );
            None
        }
    }
}

fn stated_active<'p>(
    name: &str,
    reading: &Reading<'_>,
    products: &'p Products,
    faults: &mut Faults,
) -> Option<Stated<'p>> {
    let active = find_active(name);
    if active.is_none() {
        let names = ACTIVES.map(|a| a.replace('_', " + "));
        faults.error(
            "unknown-active",
            &reading.span_of("active"),
            format!("\"{name}\" is not a pre-emergent that the model knows"),
            format!("one of {}", super::key::quoted(names.iter().map(String::as_str))),
            did_you_mean(name, names.iter().map(String::as_str)),
        );
    }
    if !reading.has("carrier") {
        faults.error(
            "missing-key",
            &reading.span_of("active"),
            "`active` needs `carrier`: a spray stays on the leaves until it is watered in",
            "carrier = \"spray\" or \"granule\"",
            None,
        );
    }
    let carrier = match reading.text("carrier")? {
        "granule" => Carrier::Granule,
        _ => Carrier::Spray,
    };
    let strength = match reading.value("strength") {
        Some(Value::Quantity(Kind::Share, share)) if *share > 0.0 && *share <= 1.0 => {
            Some(Strength::Dry(*share))
        }
        Some(Value::Quantity(Kind::Density, kg_l)) if *kg_l > 0.0 => Some(Strength::Liquid(*kg_l)),
        Some(_) => {
            faults.error(
                "out-of-range",
                &reading.span_of("strength"),
                "`strength` is above 100 % or not above zero",
                "\"65 %\" or \"4 lb/gal\"",
                None,
            );
            None
        }
        None => None,
    };
    let active = active?;
    let name = match reading.raw("strength") {
        Some(text) => format!("{} {text}", active_name(active)),
        None => format!("{} (weight of active ingredient)", active_name(active)),
    };
    Some(Stated { active, carrier, strength, name, priced_as: products.like(active, carrier) })
}

fn unknown_product<'a>(
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

/// An amount of active ingredient or product as kg ai/ha.
fn rate(
    reading: &Reading<'_>,
    key: &str,
    strength: Option<Strength>,
    faults: &mut Faults,
) -> Option<f64> {
    let Some(Value::Quantity(kind, value)) = reading.value(key) else { return None };
    let rate = match (kind, strength) {
        (Kind::ActiveRate, _) => *value,
        (Kind::MassPerArea, Some(s @ Strength::Dry(_)))
        | (Kind::VolumePerArea, Some(s @ Strength::Liquid(_))) => s.rate_kg_ha(*value),
        (_, strength) => {
            let (message, expected) = match strength {
                Some(Strength::Dry(_)) => ("is a volume, but the product is dry", "a weight"),
                Some(Strength::Liquid(_)) => ("is a weight, but the product is liquid", "fl oz"),
                None => ("is of a product whose strength is not known", "lb ai/ac, or `strength`"),
            };
            let message = format!("`{key}` {message}");
            faults.error("wrong-measure", &reading.span_of(key), message, expected, None);
            return None;
        }
    };
    if !(0.005..=30.0).contains(&rate) {
        let message = format!("`{key}` is {rate:.3} kg ai/ha: out of range");
        let expected = "0.005 to 30 kg ai/ha (0.0045 to 27 lb ai/ac)";
        faults.error("out-of-range", &reading.span_of(key), message, expected, None);
        return None;
    }
    Some(rate)
}

/// A fertilizer as stated.
struct Bag {
    name: String,
    nitrogen: f64,
    forms: NitrogenForms,
    density_kg_l: Option<f64>,
    price_kg_n: Option<f64>,
}

impl Bag {
    fn of(product: &Fertilizer) -> Bag {
        Bag {
            name: product.name.clone(),
            nitrogen: product.nitrogen,
            forms: product.forms,
            density_kg_l: product.density_kg_l,
            price_kg_n: Some((product.price_kg_n.0 + product.price_kg_n.1) / 2.0),
        }
    }

    /// Nitrogen in an amount of product, g N/m2, where the measure fits.
    fn nitrogen_in(&self, kind: Kind, amount: f64) -> Option<f64> {
        match (kind, self.density_kg_l) {
            (Kind::MassPerArea, _) => Some(rates::nitrogen_from_dry_g_m2(amount, self.nitrogen)),
            (Kind::VolumePerArea, Some(density)) => {
                Some(rates::nitrogen_from_liquid_g_m2(amount, density, self.nitrogen))
            }
            _ => None,
        }
    }

    /// Product that carries nitrogen: g/m2, or mL/m2 of a liquid.
    fn amount_for(&self, n_g_m2: f64) -> f64 {
        match self.density_kg_l {
            Some(density) => rates::liquid_for_nitrogen_ml_m2(n_g_m2, density, self.nitrogen),
            None => rates::dry_product_g_m2(n_g_m2, self.nitrogen),
        }
    }
}

fn spread(reading: &Reading<'_>, products: &Products, faults: &mut Faults) -> Option<What> {
    let bag = bag(reading, products, faults)?;
    let n_g_m2 = nitrogen(reading, &bag, faults)?;
    let amount_per_m2 = bag.amount_for(n_g_m2);
    let price_per_m2 = match reading.value("price") {
        Some(Value::Quantity(Kind::MoneyPerArea, price)) => *price,
        Some(Value::Quantity(_, price_kg_n)) => price_kg_n * n_g_m2 / 1000.0,
        _ => bag.price_kg_n.unwrap_or(0.0) * n_g_m2 / 1000.0,
    };
    Some(What::Spread {
        nitrogen: bag.forms.scaled(n_g_m2),
        water_in_mm: reading.number("water-in"),
        product: Product {
            name: bag.name,
            amount_per_m2,
            liquid: bag.density_kg_l.is_some(),
            price_per_m2,
        },
    })
}

fn bag(reading: &Reading<'_>, products: &Products, faults: &mut Faults) -> Option<Bag> {
    let mut bag = match (reading.text("product"), reading.text("analysis")) {
        (Some(name), None) => match products.fertilizer(name) {
            Some(product) => Bag::of(product),
            None => {
                let ids = products.fertilizers.iter().map(|p| p.id.as_str());
                unknown_product(name, "fertilizer", ids, reading, faults);
                return None;
            }
        },
        (None, Some(analysis)) => by_analysis(analysis, reading, products, faults)?,
        (Some(_), Some(_)) => {
            let message = "`product` and `analysis` are both there";
            let span = reading.span_of("analysis");
            faults.error("exclude-each-other", &span, message, "one of the two", None);
            return None;
        }
        (None, None) if reading.has("product") || reading.has("analysis") => return None,
        (None, None) => {
            faults.error(
                "missing-key",
                &reading.span,
                format!("`{}` does not say what is spread", reading.text("key").unwrap_or("?")),
                "product = \"urea-46-0-0\", or analysis = \"24-0-11\"",
                None,
            );
            return None;
        }
    };
    bag.density_kg_l = reading.maybe("density").or(bag.density_kg_l);
    if ["slow", "slow-form", "slow-lasts", "quick-form"].iter().any(|k| reading.has(k)) {
        bag.forms = forms(reading, bag.forms);
    }
    Some(bag)
}

fn by_analysis(
    analysis: &str,
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Bag> {
    let Some(nitrogen) = analysis_nitrogen(analysis) else {
        faults.error(
            "bad-analysis",
            &reading.span_of("analysis"),
            format!("\"{analysis}\" is not the analysis of a nitrogen fertilizer"),
            "three numbers with dashes, nitrogen first and above 0, such as \"24-0-11\"",
            None,
        );
        return None;
    };
    let slow = reading.maybe("slow").unwrap_or(0.0);
    let priced_as =
        products.fertilizers.iter().filter(|p| p.density_kg_l.is_none()).min_by(|a, b| {
            let far = |p: &Fertilizer| (p.forms.coated_g_m2 + p.forms.organic_g_m2 - slow).abs();
            far(a).total_cmp(&far(b))
        });
    Some(Bag {
        name: analysis.to_string(),
        nitrogen,
        forms: NitrogenForms { urea_g_m2: 1.0, ..NitrogenForms::default() },
        density_kg_l: None,
        price_kg_n: priced_as.map(|p| (p.price_kg_n.0 + p.price_kg_n.1) / 2.0),
    })
}

/// The forms of one gram of nitrogen as stated, over those of the product.
fn forms(reading: &Reading<'_>, usual: NitrogenForms) -> NitrogenForms {
    let usual_slow = usual.coated_g_m2 + usual.organic_g_m2;
    let slow = reading.maybe("slow").unwrap_or(usual_slow);
    let quick = 1.0 - slow;
    let usual_quick = (1.0 - usual_slow).max(1e-9);
    let mut forms = match reading.text("quick-form") {
        Some("ammonium") => NitrogenForms { ammonium_g_m2: quick, ..NitrogenForms::default() },
        Some("nitrate") => NitrogenForms { nitrate_g_m2: quick, ..NitrogenForms::default() },
        None if usual_slow < 1.0 => NitrogenForms {
            urea_g_m2: quick * usual.urea_g_m2 / usual_quick,
            ammonium_g_m2: quick * usual.ammonium_g_m2 / usual_quick,
            nitrate_g_m2: quick * usual.nitrate_g_m2 / usual_quick,
            ..NitrogenForms::default()
        },
        _ => NitrogenForms { urea_g_m2: quick, ..NitrogenForms::default() },
    };
    let organic = match reading.text("slow-form") {
        Some("organic") => true,
        Some(_) => false,
        None => usual.organic_g_m2 > usual.coated_g_m2,
    };
    if organic {
        forms.organic_g_m2 = slow;
    } else if slow > 0.0 {
        forms.coated_g_m2 = slow;
        // Eight weeks: the low end of common coats (from memory).
        let usual_days = if usual.coated_days > 0.0 { usual.coated_days } else { 56.0 };
        forms.coated_days = whole(reading, "slow-lasts").map_or(usual_days, f64::from);
    }
    forms
}

fn nitrogen(reading: &Reading<'_>, bag: &Bag, faults: &mut Faults) -> Option<f64> {
    match (reading.value("nitrogen"), reading.value("rate")) {
        (Some(Value::Quantity(_, n)), None) => Some(*n),
        (None, Some(Value::Quantity(kind, amount))) => {
            let n = bag.nitrogen_in(*kind, *amount);
            if n.is_none() {
                faults.error(
                    "wrong-measure",
                    &reading.span_of("rate"),
                    "`rate` is a volume, but the weight of the product is not known",
                    "a weight of product, or density = \"10.58 lb/gal\"",
                    None,
                );
            }
            n.filter(|n| {
                let fits = (0.01..=30.0).contains(n);
                if !fits {
                    let message = format!("`rate` lays {n:.2} g N/m2: out of range");
                    let expected = "0.01 to 30 g N/m2 (0.002 to 6 lb N/1000 ft2)";
                    faults.error("out-of-range", &reading.span_of("rate"), message, expected, None);
                }
                fits
            })
        }
        (Some(_), Some(_)) => {
            let message = "`nitrogen` and `rate` are both there";
            let span = reading.span_of("rate");
            faults.error("exclude-each-other", &span, message, "one of the two", None);
            None
        }
        _ if reading.has("nitrogen") || reading.has("rate") => None,
        _ => {
            faults.error(
                "missing-key",
                &reading.span,
                format!("`{}` does not say how much", reading.text("key").unwrap_or("?")),
                "nitrogen = \"0.75 lb N/1000 ft2\", or the rate of product",
                None,
            );
            None
        }
    }
}
