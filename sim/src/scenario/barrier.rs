//! What a pre-emergent practice lays: a product of the file, or an active ingredient as stated.

use super::fault::{Faults, did_you_mean};
use super::practice::{LabelFigures, unknown_product};
use super::products::{PreEmergentProduct, Products, Strength, active_name, find_active};
use super::value::{Reading, Value};
use super::{Product, What};
use crate::parameters::ACTIVES;
use crate::quantity::Kind;
use crate::work::{ActiveId, Carrier};

/// A pre-emergent as stated: a product of the file, or an active ingredient.
struct Stated<'p> {
    active: ActiveId,
    carrier: Carrier,
    strength: Option<Strength>,
    name: String,
    priced_as: Option<&'p PreEmergentProduct>,
}

/// A pre-emergent with its rate as kg ai/ha and its product as bought.
pub(super) fn pre_emergent(
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
        label.reseed_days = read.maybe("reseed");
        label.after_seeding_days = read.maybe("after-seeding");
    }
    let rate_kg_ha = rate_kg_ha?;
    let amount_per_m2 = stated.strength.map_or(rate_kg_ha / 10.0, |s| s.amount_per_m2(rate_kg_ha));
    let of_file = stated.priced_as.map(|p| p.price_per_m2(rate_kg_ha));
    let price_per_m2 = price(reading, of_file, faults);
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
    const EXAMPLE: &str =
        "product = \"dithiopyr-liquid-2\", or active = \"dithiopyr\" and carrier = \"spray\"";
    match which(reading, "laid", EXAMPLE, faults)? {
        Which::Product(name) => {
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
        Which::Active(name) => stated_active(name, reading, products, faults),
    }
}

/// A product of the file or an active ingredient, by name.
pub(super) enum Which<'r> {
    Product(&'r str),
    Active(&'r str),
}

/// Which of the two a practice names; it must be one. `done` is what it does with it: "laid".
pub(super) fn which<'r>(
    reading: &'r Reading<'_>,
    done: &str,
    example: &str,
    faults: &mut Faults,
) -> Option<Which<'r>> {
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
            Some(Which::Product(name))
        }
        (None, Some(name)) => Some(Which::Active(name)),
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
                format!("`{}` does not say what is {done}", reading.text("key").unwrap_or("?")),
                example,
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
    let strength = strength(reading, faults);
    let active = active?;
    let name = product_name(&active_name(active), reading);
    Some(Stated { active, carrier, strength, name, priced_as: products.like(active, carrier) })
}

/// How strong the stated active ingredient is, where that is said.
pub(super) fn strength(reading: &Reading<'_>, faults: &mut Faults) -> Option<Strength> {
    match reading.value("strength")? {
        Value::Quantity(Kind::Share, share) if *share > 0.0 && *share <= 1.0 => {
            Some(Strength::Dry(*share))
        }
        Value::Quantity(Kind::Density, kg_l) if *kg_l > 0.0 => Some(Strength::Liquid(*kg_l)),
        _ => {
            faults.error(
                "out-of-range",
                &reading.span_of("strength"),
                "`strength` is above 100 % or not above zero",
                "\"65 %\" or \"4 lb/gal\"",
                None,
            );
            None
        }
    }
}

/// An active ingredient with its strength, as a product is called.
pub(super) fn product_name(active: &str, reading: &Reading<'_>) -> String {
    match reading.raw("strength") {
        Some(text) => format!("{active} {text}"),
        None => format!("{active} (weight of active ingredient)"),
    }
}

/// Price of a rate on one m2: as stated, or as the file has it; a practice without one counts as free.
pub(super) fn price(reading: &Reading<'_>, of_file: Option<f64>, faults: &mut Faults) -> f64 {
    if !reading.has("price") && of_file.is_none() {
        faults.caution(
            "no-price",
            &reading.span,
            format!("`{}` has no price: it counts as free", reading.text("key").unwrap_or("?")),
            "price = \"0.6 $/1000 ft2\"",
            "give the price of the whole rate",
        );
    }
    reading.maybe("price").or(of_file).unwrap_or(0.0)
}

/// An amount of active ingredient or product as kg ai/ha.
pub(super) fn rate(
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
                Some(Strength::Dry(_)) => {
                    ("is a volume, but the product is dry", "oz/1000 ft2 or lb ai/ac")
                }
                Some(Strength::Liquid(_)) => {
                    ("is a weight, but the product is liquid", "fl oz/1000 ft2 or lb ai/ac")
                }
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
