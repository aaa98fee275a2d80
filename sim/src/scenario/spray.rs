//! What a spray on standing weeds is: a product of the file, or an active ingredient as stated.

use super::barrier::{Which, price, product_name, rate, strength, which};
use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::posts::{PostEmergentProduct, find_post, post_name, unknown_post, weed_named};
use super::practice::{LabelFigures, unknown_product};
use super::products::{Products, Strength};
use super::value::Reading;
use super::{Product, Spray, What};
use crate::work::{PostId, Sought, Weed};

/// A spray as stated.
struct Stated<'p> {
    post: PostId,
    strength: Option<Strength>,
    name: String,
    typical: Option<&'p PostEmergentProduct>,
}

/// A spray with its rate as kg ai/ha and its product as bought.
pub(super) fn spray(
    reading: &Reading<'_>,
    products: &Products,
    label: &mut LabelFigures,
    faults: &mut Faults,
) -> Option<What> {
    let stated = stated(reading, products, faults)?;
    let rate_kg_ha = rate(reading, "rate", stated.strength, faults);
    if let Some(read) = reading.table("label") {
        *label = LabelFigures {
            once_kg_ha: rate(read, "once", stated.strength, faults),
            year_kg_ha: rate(read, "year", stated.strength, faults),
            times: read.maybe("times"),
            again_days: read.maybe("again"),
            rain_free_days: read.maybe("rain-free"),
            mow_before_days: read.maybe("mow-before"),
            mow_after_days: read.maybe("mow-after"),
            coolest_c: read.maybe("coolest"),
            hottest_c: read.maybe("hottest"),
            reseed_days: read.maybe("reseed"),
            after_seeding_days: read.maybe("after-seeding"),
            ..LabelFigures::default()
        };
    }
    let rate_kg_ha = rate_kg_ha?;
    let amount_per_m2 = stated.strength.map_or(rate_kg_ha / 10.0, |s| s.amount_per_m2(rate_kg_ha));
    let of_file = stated.typical.map(|product| product.price_per_m2(rate_kg_ha));
    let meant = named(reading);
    let controlled = || stated.typical.map_or(Weed::ALL.to_vec(), |p| p.weeds.clone());
    let weeds = if meant.is_empty() { controlled() } else { meant };
    Some(What::Spray(Spray {
        post: stated.post,
        rate_kg_ha,
        spots: reading.text("where") == Some("spots"),
        sought: Sought::of(weeds.iter().copied()),
        weeds,
        volume_ml_m2: reading.number("volume"),
        product: Product {
            name: stated.name,
            amount_per_m2,
            liquid: matches!(stated.strength, Some(Strength::Liquid(_))),
            price_per_m2: price(reading, of_file, faults),
        },
        label_read: label.once_kg_ha.is_some() && label.year_kg_ha.is_some(),
    }))
}

fn stated<'p>(
    reading: &Reading<'_>,
    products: &'p Products,
    faults: &mut Faults,
) -> Option<Stated<'p>> {
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
                post: product.post,
                strength: Some(product.strength),
                name: product.name.clone(),
                typical: Some(product),
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
            Some(Stated { post, strength, name, typical: products.with_post(post) })
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
