//! What a practice does, when, and what holds it back, as a person would say it.

use sim::calendar::{LEAP_YEAR, MonthDay};
use sim::quantity::{self, Kind};
use sim::scenario::{Cue, Hands, Hold, Practice, Spray, What, phosphate_and_potash_g_m2};
use sim::work::{Carrier, Clippings, Sought, Sowing, Weed};

use super::name::{counted, listed, practice_in_line, upper_first};
use super::tending;
use crate::units::Units;

/// A value of a kind in the reader's units: "3 in", "50 °F".
pub fn shown(value: f64, kind: Kind, units: Units) -> String {
    let system = units.into();
    quantity::show(value, kind, system).replace(" deg", " °")
}

/// "cut at 3 in, clippings left on the lawn".
pub fn what(what: &What, units: Units) -> String {
    let depth = |mm: f64| shown(mm, Kind::Depth, units);
    let watered = |mm: f64| match mm {
        mm if mm > 0.0 => format!("watered in with {}", depth(mm)),
        _ => "rain waters it in".into(),
    };
    match what {
        What::Mow { height_mm, clippings } => {
            let clippings = match clippings {
                Clippings::Return => "clippings left on the lawn",
                Clippings::Collect => "clippings taken away",
            };
            format!("cut at {}, {clippings}", depth(*height_mm))
        }
        What::PreEmergent { rate_kg_ha, carrier, water_in_mm, product, .. } => {
            let how = match carrier {
                Carrier::Spray => "sprayed",
                Carrier::Granule => "as granules",
            };
            format!(
                "lay a crabgrass barrier (pre-emergent herbicide): {}, {} of active ingredient, {how}, {}",
                product.name,
                shown(*rate_kg_ha, Kind::ActiveRate, units),
                watered(*water_in_mm)
            )
        }
        What::Spread { nitrogen, water_in_mm, product, .. } => format!(
            "spread {}, {}{}, {}",
            product.name,
            shown(nitrogen.total_g_m2(), Kind::NitrogenRate, units),
            besides_nitrogen(what, units),
            watered(*water_in_mm)
        ),
        What::Water { depth_mm } => format!("water, {} each time", depth(*depth_mm)),
        What::Topdress { depth_mm, .. } => {
            format!("topdress with {} of compost", depth(*depth_mm))
        }
        What::Overseed { seed, method, water_in_mm, .. } => {
            let kinds: Vec<String> = seed
                .kinds()
                .map(|(grass, rate)| {
                    format!("{} at {}", grass.name(), shown(rate, Kind::MassPerArea, units))
                })
                .collect();
            let how = match method {
                Sowing::Broadcast => "thrown on top",
                Sowing::Raked => "raked in",
                Sowing::Slit => "drilled in, or sown after coring",
            };
            format!("sow {}, {how}, {}", kinds.join(" and "), watered(*water_in_mm))
        }
        What::Spray(spray) => self::spray(spray, units),
        What::Tend(tend) => tending::plan(tend, units),
    }
}

/// " with 0.17 lb/1000 ft2 of phosphate and 0.33 lb/1000 ft2 of potash"; empty where there is none.
fn besides_nitrogen(what: &What, units: Units) -> String {
    let (phosphate, potash) = phosphate_and_potash_g_m2(what).unwrap_or_default();
    let with: Vec<String> = [(phosphate, "phosphate"), (potash, "potash")]
        .iter()
        .filter(|(g_m2, _)| *g_m2 > 0.0)
        .map(|(g_m2, of)| format!("{} of {of}", shown(*g_m2, Kind::MassPerArea, units)))
        .collect();
    if with.is_empty() { String::new() } else { format!(" with {}", listed(&with)) }
}

/// "spray crabgrass and clover where they are found: quinclorac, 0.75 lb ai/ac, in 1 gal/1000 ft2".
fn spray(spray: &Spray, units: Units) -> String {
    let weeds: Vec<String> = spray.weeds.iter().map(|weed| Weed::name(*weed).into()).collect();
    let place = if spray.spots { "in spots where the crew finds it" } else { "on all of the lawn" };
    format!(
        "spray weeds that are up ({}) {place}: {}, {} of active ingredient, in {}",
        listed(&weeds),
        spray.product.name,
        shown(spray.rate_kg_ha, Kind::ActiveRate, units),
        mix(spray.volume_ml_m2, units)
    )
}

/// Water and product together: "1 gal/1000 ft2".
fn mix(volume_ml_m2: f64, units: Units) -> String {
    // 1 gal is 128 fl oz.
    let (_, factor, _) = quantity::shown(Kind::VolumePerArea, units.into());
    match units {
        Units::Us => {
            format!("{} gal/1000 ft2", quantity::show_number(volume_ml_m2 * factor / 128.0))
        }
        Units::Metric => shown(volume_ml_m2, Kind::VolumePerArea, units),
    }
}

/// "crabgrass and broadleaf weeds".
fn sought(sought: Sought) -> String {
    let stands: Vec<String> = sought.stands().map(|stand| stand.name().into()).collect();
    listed(&stands)
}

/// "every 14 days from 10 Apr to 5 Nov". `all` are the practices of its program.
pub fn when(cue: &Cue, all: &[Practice], units: Units) -> String {
    let window = |from: &MonthDay, to: &MonthDay| format!("from {} to {}", day(*from), day(*to));
    let apart = |days: u32| format!("at least {} apart", days_of(days));
    match cue {
        Cue::Dates(days) => {
            format!("on {}", days.iter().map(|d| day(*d)).collect::<Vec<_>>().join(", "))
        }
        Cue::Every { days, from, to } => format!("every {} {}", days_of(*days), window(from, to)),
        Cue::SoilTemperature { at_least_c, for_days, from, to } => format!(
            "once the topsoil has stood at {} for {}, {}",
            shown(*at_least_c, Kind::Temperature, units),
            days_of(*for_days),
            window(from, to)
        ),
        Cue::DegreeDays { at_least_c_days, base_c, from, to } => format!(
            "once {} above {} have come together, {}",
            shown(*at_least_c_days, Kind::DegreeDays, units),
            shown(*base_c, Kind::Temperature, units),
            window(from, to)
        ),
        Cue::CanopyHeight { at_least_mm, from, to, min_gap_days } => format!(
            "when the grass stands {} high, {}, {}",
            shown(*at_least_mm, Kind::Depth, units),
            window(from, to),
            apart(*min_gap_days)
        ),
        Cue::DaysAfter { practice, days } => format!(
            "{} after \u{201c}{}\u{201d}",
            days_of(*days),
            all.get(*practice).map_or(String::new(), |p| practice_in_line(&p.key))
        ),
        Cue::DrySoil { at_most, from, to, min_gap_days } => format!(
            "when the water in reach of the roots is down to {}, {}, {}",
            shown(*at_most, Kind::Share, units),
            window(from, to),
            apart(*min_gap_days)
        ),
        Cue::WeedCover { stand, at_least, from, to, min_gap_days } => format!(
            "when {} cover {} of the lawn, {}, {}",
            stand.name(),
            shown(*at_least, Kind::Share, units),
            window(from, to),
            apart(*min_gap_days)
        ),
    }
}

/// "the grass is no taller than 3 in": what a due practice waits for to pass.
pub fn hold(hold: &Hold, units: Units) -> String {
    let depth = |mm: f64| shown(mm, Kind::Depth, units);
    match *hold {
        Hold::Hotter { than_c } => {
            format!("it is {} or hotter", shown(than_c, Kind::Temperature, units))
        }
        Hold::Cooler { than_c } => {
            format!("{} or cooler is promised", shown(than_c, Kind::Temperature, units))
        }
        Hold::RainComing { mm } => format!("{} of rain or more is promised for the day", depth(mm)),
        Hold::RainIn3Days { mm } => {
            format!("{} of rain or more is promised for the next three days", depth(mm))
        }
        Hold::Wet { mm } => format!("more than {} of rain fell the day before", depth(mm)),
        Hold::Dormant => "the grass has gone dormant from drought".into(),
        Hold::Drier { than } => format!(
            "the water in reach of the roots is down to {}",
            shown(than, Kind::Share, units)
        ),
        Hold::NothingToCut => "the grass is no taller than its height of cut".into(),
        Hold::Windy { m_s } => format!("the wind is at {} or more", shown(m_s, Kind::Speed, units)),
        Hold::Calm { m_s } => {
            format!("the air is still, {} or less", shown(m_s, Kind::Speed, units))
        }
        Hold::MownWithin { days } => {
            format!("the lawn was mown less than {} before", days_of(days))
        }
        Hold::SprayedWithin { days } => {
            format!("weeds were sprayed less than {} before", days_of(days))
        }
        Hold::NothingToSpray { below } => {
            format!("its weeds cover {} or less", shown(below, Kind::Share, units))
        }
        Hold::FewWeeds { sought: weeds, below } => {
            format!("{} cover {} or less", sought(weeds), shown(below, Kind::Share, units))
        }
        Hold::Closed { from, to } => {
            format!("a rule closes the season, {} to {}", day(from), day(to))
        }
        Hold::ShorterThan { mm } => format!("the grass is no taller than {}", depth(mm)),
        Hold::GreenWithin { points } => format!(
            "the lawn looks less than {points} points (of the scale from 1 to 9) paler than its fed strip"
        ),
    }
}

/// The whole practice in a few sentences.
pub fn tell(practice: &Practice, all: &[Practice], units: Units) -> String {
    let mut out = format!(
        "{}; {}.",
        upper_first(&what(&practice.what, units)),
        when(&practice.cue, all, units)
    );
    let holds: Vec<String> = practice.holds.iter().map(|h| hold(h, units)).collect();
    if !holds.is_empty() {
        out.push_str(&format!(
            " Waits while {}; given up after {}.",
            holds.join(", or while "),
            days_of(practice.give_up_days)
        ));
    }
    match (practice.by, &practice.what) {
        (Hands::Client, _) => out.push_str(" The client does it."),
        (Hands::House, What::Water { .. }) | (Hands::Crew, _) => {}
        (Hands::House, _) => out.push_str(" Whoever lives there does it."),
    }
    out
}

/// "15 Apr".
pub fn day(day: MonthDay) -> String {
    day.in_year(LEAP_YEAR).date().strftime("%-d %b").to_string()
}

/// "1 day", "14 days".
pub fn days_of(days: u32) -> String {
    counted(days as usize, "day")
}
