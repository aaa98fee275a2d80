//! Other work on the ground and the turf, as it is written.

use super::Tend;
use super::value::Reading;
use crate::work::Tending;

/// Work without a product.
fn work(reading: &Reading<'_>, tending: Tending) -> Tend {
    Tend {
        tending,
        minutes_per_100_m2: reading.number("takes"),
        price_per_m2: reading.number("price"),
        water_in_mm: reading.maybe("water-in").unwrap_or(0.0),
        product: None,
    }
}

pub(super) fn core(reading: &Reading<'_>) -> Tend {
    let (depth_mm, opened) = (reading.number("depth"), reading.number("opened"));
    work(reading, Tending::Core { depth_mm, opened })
}

pub(super) fn scarify(reading: &Reading<'_>) -> Tend {
    work(reading, Tending::Scarify { depth_mm: reading.number("depth") })
}
