//! What a pre-emergent practice lays: a product of the file, or an active ingredient as stated.

use super::What;
use super::fault::{Faults, did_you_mean};
use super::herbicide::{LabelFigures, Stated, Which, bought, product_name, strength, which};
use super::key::quoted;
use super::practice::unknown_product;
use super::products::{Products, active_name, find_active};
use super::value::Reading;
use crate::parameters::ACTIVES;
use crate::work::{ActiveId, Carrier};

/// A pre-emergent with its rate as kg ai/ha and its product as bought.
pub(super) fn pre_emergent(
    reading: &Reading<'_>,
    products: &Products,
    label: &mut LabelFigures,
    faults: &mut Faults,
) -> Option<What> {
    let stated = stated(reading, products, faults)?;
    let (rate_kg_ha, product) = bought(reading, &stated, label, faults)?;
    Some(What::PreEmergent {
        active: stated.of.0,
        rate_kg_ha,
        carrier: stated.of.1,
        water_in_mm: reading.number("water-in"),
        product,
        label_read: label.read_for_once_and_year(),
    })
}

fn stated(
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Stated<(ActiveId, Carrier)>> {
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
                of: (product.active, product.carrier),
                strength: Some(product.strength),
                name: product.name.clone(),
                priced: Some((product.price_m2, product.rate_kg_ha)),
            })
        }
        Which::Active(name) => stated_active(name, reading, products, faults),
    }
}

fn stated_active(
    name: &str,
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Stated<(ActiveId, Carrier)>> {
    let active = find_active(name);
    if active.is_none() {
        let names = ACTIVES.map(|a| a.replace('_', " + "));
        faults.error(
            "unknown-active",
            &reading.span_of("active"),
            format!("\"{name}\" is not a pre-emergent that the model knows"),
            format!("one of {}", quoted(names.iter().map(String::as_str))),
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
    let like = products.like(active, carrier);
    let priced = like.map(|product| (product.price_m2, product.rate_kg_ha));
    Some(Stated { of: (active, carrier), strength, name, priced })
}
