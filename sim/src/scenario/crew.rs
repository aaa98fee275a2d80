//! Crew and slips: all with defaults.

use super::registry::{CREW, SLIPS};
use super::value::Reading;
use super::{Crew, Slips};

/// What work takes and costs.
pub(super) fn crew(root: &Reading<'_>) -> Crew {
    let usual = Reading::empty(&CREW);
    let crew = root.table("crew").unwrap_or(&usual);
    Crew {
        currency: crew.text("currency").unwrap_or("$").to_string(),
        hour_cost: crew.number("hour-cost"),
        visit_minutes: crew.number("visit"),
        mower_width_m: crew.number("mower-width"),
        mower_speed_m_s: crew.number("mower-speed"),
        mower_efficiency: crew.number("mower-efficiency"),
        trim_minutes_per_100_m2: crew.number("trim"),
        bagging_factor: crew.number("bagging"),
        spread_minutes_per_100_m2: crew.number("spread"),
        spray_minutes_per_100_m2: crew.number("spray"),
        topdress_minutes_per_100_m2_mm: crew.number("topdress"),
        water_minutes: crew.number("watering"),
        water_price_m3: crew.number("water-price"),
    }
}

/// How reliably work is done.
pub(super) fn slips(root: &Reading<'_>) -> Slips {
    let usual = Reading::empty(&SLIPS);
    let slips = root.table("slips").unwrap_or(&usual);
    Slips {
        missed: slips.number("missed"),
        late: slips.number("late"),
        late_mean_days: slips.number("late-by"),
        rate_cv: slips.number("rate-error"),
        unevenness_cv: slips.number("unevenness"),
    }
}
