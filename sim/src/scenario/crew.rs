//! Crew and slips: all with defaults.

use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::registry::{CREW, GEAR, SLIPS};
use super::value::{Reading, Value};
use super::{Crew, Gear, RainLimit, RainOut, Slips};
use crate::calendar::Weekdays;
use crate::quantity::Kind;

/// Monday first, as [`Weekdays`] counts.
pub(super) const WEEKDAYS: [&str; 7] =
    ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/// Fewest letters that tell one day of the week from another, as people shorten them.
const SHORT: usize = 3;

/// Bounds of a least visit: a day of one person, and a sum to match.
const LEAST_MINUTES: f64 = 480.0;
const LEAST_COST: f64 = 1000.0;

/// What work takes and costs.
pub(super) fn crew(root: &Reading<'_>, faults: &mut Faults) -> Crew {
    let usual = Reading::empty(&CREW);
    let crew = root.table("crew").unwrap_or(&usual);
    let (least_visit_minutes, least_visit_cost) = least_visit(crew, faults);
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
        weeds_found: crew.number("weeds-found"),
        spot_margin: crew.number("spot-margin"),
        spot_walk_minutes_per_100_m2: crew.number("spot-walk"),
        spot_spray_minutes_per_100_m2: crew.number("spot-spray"),
        topdress_minutes_per_100_m2_mm: crew.number("topdress"),
        overseed_minutes_per_100_m2: crew.number("overseed"),
        rake_in_minutes_per_100_m2: crew.number("rake-in"),
        slit_seed_minutes_per_100_m2: crew.number("slit-seed"),
        water_minutes: crew.number("watering"),
        water_price_m3: crew.number("water-price"),
        visit_days: visit_days(crew, faults),
        least_visit_minutes,
        least_visit_cost,
        rain_out: crew.table("rain-out").map(rain_out),
    }
}

/// The days of the visits, less those off.
fn visit_days(crew: &Reading<'_>, faults: &mut Faults) -> Weekdays {
    let stated = weekdays("visit-days", crew, faults);
    let off = weekdays("days-off", crew, faults).unwrap_or(Weekdays::NONE);
    let left = stated.unwrap_or(Weekdays::ALL).without(off);
    if left == Weekdays::NONE {
        let key = if stated == Some(Weekdays::NONE) { "visit-days" } else { "days-off" };
        faults.error(
            "no-visit-day",
            &crew.span_of(key),
            "no day of the week is left for the crew to come",
            "at least one day of visits that is not a day off",
            None,
        );
    }
    left
}

/// Days of the week under a key; `None` where it is left out or faulty.
fn weekdays(key: &str, crew: &Reading<'_>, faults: &mut Faults) -> Option<Weekdays> {
    let Some(Value::Texts(names)) = crew.value(key) else { return None };
    let mut days = Weekdays::NONE;
    for name in names {
        match weekday(name) {
            Some(day) => days = days.with(day),
            None => {
                faults.error(
                    "bad-weekday",
                    &crew.span_of(key),
                    format!("`{key}`: \"{name}\" is not a day of the week"),
                    format!("{}, or three letters of them", quoted(WEEKDAYS.into_iter())),
                    did_you_mean(name, WEEKDAYS.into_iter()),
                );
                return None;
            }
        }
    }
    Some(days)
}

/// "Tue", "tues", "Tuesday" or "Tuesdays"; Monday 0.
pub(super) fn weekday(name: &str) -> Option<u8> {
    let name = name.to_lowercase();
    let name = name.strip_suffix("days").map_or_else(|| name.clone(), |day| format!("{day}day"));
    let fits = |day: &&str| name.len() >= SHORT && day.to_lowercase().starts_with(&name);
    WEEKDAYS.iter().position(fits).map(|at| at as u8)
}

/// The least of a visit, minutes and money.
fn least_visit(crew: &Reading<'_>, faults: &mut Faults) -> (f64, f64) {
    let Some(Value::Quantity(kind, least)) = crew.value("minimum-visit") else { return (0.0, 0.0) };
    let (most, told) = match kind {
        Kind::Minutes => (LEAST_MINUTES, format!("at most {} h", LEAST_MINUTES / 60.0)),
        _ => (LEAST_COST, format!("at most {LEAST_COST}")),
    };
    if *least > most {
        let span = crew.span_of("minimum-visit");
        faults.error("out-of-range", &span, "`minimum-visit` is out of range", told, None);
    }
    if *kind == Kind::Minutes { (*least, 0.0) } else { (0.0, *least) }
}

fn rain_out(table: &Reading<'_>) -> RainOut {
    let limit = |fallen: &str, coming: &str| RainLimit {
        fallen_mm: table.number(fallen),
        coming_mm: table.number(coming),
    };
    RainOut {
        mow: limit("mow-wet", "mow-rain"),
        spray: limit("spray-wet", "spray-rain"),
        spread: limit("spread-wet", "spread-rain"),
    }
}

/// Bags, tank and tools.
pub(super) fn gear(root: &Reading<'_>) -> Gear {
    let none = Reading::empty(&GEAR);
    let gear = root.table("gear").unwrap_or(&none);
    Gear {
        bag_kg: gear.maybe("bag"),
        tank_l: gear.maybe("tank"),
        carrier_ml_m2: gear.maybe("carrier"),
        spreader_m: gear.maybe("spreader-width"),
        sprinkler_mm_h: gear.maybe("sprinkler-rate"),
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_week_as_people_write_them() {
        for text in ["Tue", "tues", "Tuesday", "Tuesdays", "TUE"] {
            assert_eq!(weekday(text), Some(1), "{text}");
        }
        for text in ["", "T", "days", "Tuseday", "any day"] {
            assert_eq!(weekday(text), None, "{text}");
        }
    }
}
