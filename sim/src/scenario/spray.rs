//! What a spray on standing weeds is: a product of the file, or an active ingredient as stated.

use super::fault::{Faults, did_you_mean};
use super::herbicide::{LabelFigures, Stated, Which, bought, product_name, strength, which};
use super::key::quoted;
use super::posts::{find_post, post_name, unknown_post, weed_named};
use super::practice::unknown_product;
use super::products::Products;
use super::value::Reading;
use super::{Spray, What};
use crate::work::{PostId, Sought, Weed};

/// A spray with its rate as kg ai/ha and its product as bought.
pub(super) fn spray(
    reading: &Reading<'_>,
    products: &Products,
    label: &mut LabelFigures,
    faults: &mut Faults,
) -> Option<What> {
    let stated = stated(reading, products, faults)?;
    let (rate_kg_ha, product) = bought(reading, &stated, label, faults)?;
    let meant = named(reading);
    let controlled =
        || products.post(stated.of, &product.name).map_or(Weed::ALL.to_vec(), |p| p.weeds.clone());
    let weeds = if meant.is_empty() { controlled() } else { meant };
    Some(What::Spray(Spray {
        post: stated.of,
        rate_kg_ha,
        spots: reading.text("where") == Some("spots"),
        sought: Sought::of(weeds.iter().copied()),
        weeds,
        volume_ml_m2: reading.number("volume"),
        product,
        label_read: label.read_for_once_and_year(),
    }))
}

fn stated(
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<Stated<PostId>> {
    const EXAMPLE: &str = "product = \"quinclorac-df-75\", or active = \"quinclorac\"";
    match which(reading, "sprayed", EXAMPLE, faults)? {
        Which::Product(name) => {
            let Some(product) = products.post_emergent(name) else {
                let ids = products.post_emergents.iter().map(|p| p.id.as_str());
                if name.to_lowercase().contains("clopyralid") {
                    unknown_post(name, &reading.span_of("product"), faults);
                } else {
                    unknown_product(name, "post-emergent", ids, reading, faults);
                }
                return None;
            };
            Some(Stated {
                of: product.post,
                strength: Some(product.strength),
                name: product.name.clone(),
                priced: Some((product.price_m2, product.rate_kg_ha)),
            })
        }
        Which::Active(name) => {
            let post = find_post(name);
            if post.is_none() {
                unknown_post(name, &reading.span_of("active"), faults);
            }
            let strength = strength(reading, faults);
            let post = post?;
            let name = product_name(&post_name(post), reading);
            let like = products.with_post(post);
            let priced = like.map(|product| (product.price_m2, product.rate_kg_ha));
            Some(Stated { of: post, strength, name, priced })
        }
    }
}

/// The weeds that a practice is stated to be meant for; none where it does not say, or not rightly.
fn named(reading: &Reading<'_>) -> Vec<Weed> {
    reading.texts("against").iter().filter_map(|name| weed_named(name)).collect()
}

/// The same, with a fault for a name that is no weed.
pub(super) fn against(reading: &Reading<'_>, faults: &mut Faults) -> Vec<Weed> {
    for name in reading.texts("against").iter().filter(|name| weed_named(name).is_none()) {
        let known = Weed::ALL.map(Weed::name);
        faults.error(
            "unknown-weed",
            &reading.span_of("against"),
            format!("\"{name}\" is not a weed that the model knows"),
            format!("one of {}", quoted(known.into_iter())),
            did_you_mean(name, known.into_iter()),
        );
    }
    named(reading)
}
