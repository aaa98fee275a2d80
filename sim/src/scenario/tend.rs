//! Other work on the ground and the turf, as it is written.

use super::fault::Faults;
use super::place::mixture;
use super::products::Strength;
use super::value::Reading;
use super::{Product, Tend};
use crate::work::{Stimulant, Tending};

/// Acid equivalent in most jugs of glyphosate.
pub(super) const GLYPHOSATE: &str = "3 lb/gal";

/// Work without a product.
fn work(reading: &Reading<'_>, tending: Tending) -> Tend {
    Tend {
        tending,
        minutes_per_100_m2: reading.number("takes"),
        price_per_m2: reading.number("price"),
        water_in_mm: reading.maybe("water-in").unwrap_or(0.0),
        product: None,
        once: reading.text("times") == Some("once"),
    }
}

pub(super) fn core(reading: &Reading<'_>) -> Tend {
    let (depth_mm, opened) = (reading.number("depth"), reading.number("opened"));
    work(reading, Tending::Core { depth_mm, opened })
}

pub(super) fn scarify(reading: &Reading<'_>) -> Tend {
    work(reading, Tending::Scarify { depth_mm: reading.number("depth") })
}

pub(super) fn kill(reading: &Reading<'_>) -> Tend {
    let rate_kg_ha = reading.number("rate");
    let strength = Strength::Liquid(reading.number("strength"));
    let name = format!("glyphosate ({} as acid)", reading.raw("strength").unwrap_or(GLYPHOSATE));
    let product =
        Product { liquid: true, ..bought(reading, &name, strength.amount_per_m2(rate_kg_ha)) };
    Tend { product: Some(product), ..work(reading, Tending::Kill { rate_kg_ha }) }
}

pub(super) fn level(reading: &Reading<'_>) -> Tend {
    let depth_mm = reading.number("depth");
    Tend {
        tending: Tending::Level { depth_mm },
        minutes_per_100_m2: reading.number("takes") * depth_mm,
        // A millimetre on a square metre is a litre.
        price_per_m2: reading.number("price") * depth_mm / 1000.0,
        water_in_mm: 0.0,
        product: None,
        once: reading.text("times") == Some("once"),
    }
}

pub(super) fn sod(reading: &Reading<'_>, faults: &mut Faults) -> Option<Tend> {
    let kinds = match mixture(reading, "grass", "sod", faults)[..] {
        [one] => [one, (one.0, 0.0)],
        [first, second] => [first, second],
        _ => return None,
    };
    Some(work(reading, Tending::LaySod { kinds }))
}

pub(super) fn iron(reading: &Reading<'_>) -> Tend {
    let (g_m2, strength) = (reading.number("rate"), reading.number("strength"));
    let product = bought(reading, "iron product", g_m2);
    let iron_kg_ha = g_m2 * strength / G_M2_PER_KG_HA;
    Tend { product: Some(product), ..work(reading, Tending::SprayIron { iron_kg_ha }) }
}

/// Pure calcium carbonate counts as 1, and limestone is never pure (C); the keys tell these values.
const CALCITIC: f64 = 0.90;
const DOLOMITIC: f64 = 0.95;

pub(super) fn lime(reading: &Reading<'_>) -> Tend {
    let g_m2 = reading.number("rate");
    let (name, usual) = match reading.text("kind") {
        Some("dolomitic") => ("dolomitic lime", DOLOMITIC),
        _ => ("calcitic lime", CALCITIC),
    };
    let value = reading.maybe("neutralizing-value").unwrap_or(usual);
    let price_per_m2 = reading.number("price") * g_m2 / G_PER_KG;
    let product = Product { price_per_m2, ..bought(reading, name, g_m2) };
    let tending = Tending::Lime { carbonate_g_m2: g_m2 * value };
    Tend { product: Some(product), price_per_m2, ..work(reading, tending) }
}

const G_PER_KG: f64 = 1000.0;

pub(super) fn stimulate(reading: &Reading<'_>) -> Tend {
    let kind = match reading.text("kind") {
        Some("humic") => Stimulant::Humic,
        Some("seaweed") => Stimulant::Seaweed,
        _ => Stimulant::Microbial,
    };
    work(reading, Tending::Stimulate { kind, root_growth: reading.number("root-growth") })
}

pub(super) fn strip(reading: &Reading<'_>) -> Tend {
    work(reading, Tending::FeedStrip)
}

/// 1 kg/ha is 0.1 g/m2.
const G_M2_PER_KG_HA: f64 = 0.1;

fn bought(reading: &Reading<'_>, name: &str, amount_per_m2: f64) -> Product {
    let price_per_m2 = reading.number("price");
    Product { name: name.to_string(), amount_per_m2, liquid: false, price_per_m2 }
}
