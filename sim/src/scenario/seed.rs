//! What an overseeding practice sows: one grass or two, by weight of seed.

use super::fault::Faults;
use super::place::mixture;
use super::products::Products;
use super::program::Built;
use super::value::{Reading, Value};
use super::{Grass, Product, Tend, What};
use crate::quantity::Kind;
use crate::work::{SeedMix, Sowing, Tending};

/// Most that seed may cost, currency/kg and currency/m2.
const MOST_PER_KG: f64 = 500.0;
const MOST_PER_M2: f64 = 10.0;

/// A sowing with its seed as bought.
pub(super) fn overseed(
    reading: &Reading<'_>,
    products: &Products,
    faults: &mut Faults,
) -> Option<What> {
    let kinds = mixture(reading, "seed", "seed", faults);
    let price = price(reading, faults);
    let rate_g_m2 = reading.maybe("rate")?;
    let seed = match kinds[..] {
        [(grass, _)] => SeedMix::one(grass, rate_g_m2),
        [(first, a), (second, b)] => SeedMix::two((first, rate_g_m2 * a), (second, rate_g_m2 * b)),
        _ => return None,
    };
    let price_per_m2 = match price {
        Some((Kind::MoneyPerArea, per_m2)) => per_m2,
        Some((_, per_kg)) => per_kg * rate_g_m2 / 1000.0,
        None => {
            seed.kinds().map(|(grass, g_m2)| usual_price(products, grass) * g_m2 / 1000.0).sum()
        }
    };
    if price.is_none() && kinds.iter().any(|(grass, _)| products.seed(*grass).is_none()) {
        faults.caution(
            "no-price",
            &reading.span,
            format!("`{}` has no price: it counts as free", reading.text("key").unwrap_or("?")),
            "price = \"6 $/lb\"",
            "give the price of the seed",
        );
    }
    let names: Vec<&str> = kinds.iter().map(|(grass, _)| grass.name()).collect();
    Some(What::Overseed {
        seed,
        pure_live_seed: reading.number("pure-live-seed"),
        method: match reading.text("method") {
            Some("raked") => Sowing::Raked,
            Some("slit") => Sowing::Slit,
            _ => Sowing::Broadcast,
        },
        water_in_mm: reading.number("water-in"),
        product: Product {
            name: format!("{} seed", names.join(" and ")),
            amount_per_m2: rate_g_m2,
            liquid: false,
            price_per_m2,
        },
    })
}

/// The price as stated.
fn price(reading: &Reading<'_>, faults: &mut Faults) -> Option<(Kind, f64)> {
    let Some(Value::Quantity(kind, price)) = reading.value("price") else { return None };
    let most = if *kind == Kind::MoneyPerArea { MOST_PER_M2 } else { MOST_PER_KG };
    if !(0.0..=most).contains(price) {
        let message = format!("`price` is {price:.2} {}: out of range", kind.si_unit());
        let expected = format!("0 to {most} {}", kind.si_unit());
        faults.error("out-of-range", &reading.span_of("price"), message, expected, None);
    }
    Some((*kind, *price))
}

/// Price for a kilogram of a grass's seed: the middle of the products file's range.
fn usual_price(products: &Products, grass: Grass) -> f64 {
    products.seed(grass).map_or(0.0, |seed| (seed.price_kg.0 + seed.price_kg.1) / 2.0)
}

/// A lawn's grasses, and after them those that programs sow or lay, which have no share yet.
pub(super) fn with_sown<'b>(
    grasses: &[(Grass, f64)],
    programs: impl IntoIterator<Item = &'b Built>,
) -> Vec<(Grass, f64)> {
    let mut all = grasses.to_vec();
    for practice in programs.into_iter().flat_map(|built| &built.program.practices) {
        let mut add = |grass| {
            if all.iter().all(|(known, _)| *known != grass) {
                all.push((grass, 0.0));
            }
        };
        match &practice.what {
            What::Overseed { seed, .. } => seed.kinds().for_each(|(grass, _)| add(grass)),
            What::Tend(Tend { tending: Tending::LaySod { kinds }, .. }) => {
                kinds.iter().filter(|(_, share)| *share > 0.0).for_each(|(grass, _)| add(*grass));
            }
            _ => {}
        }
    }
    all
}
