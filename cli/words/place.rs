//! What a scenario says of its lawn, its work and the model's numbers: fact by fact, exact or not.

use sim::calendar::Day;
use sim::quantity::{Kind, show_number};
use sim::scenario::{
    Compaction, Crew, HydrologicGroup, Practice, Scenario, SoilTest, Uncertain, What,
};

use super::figure::money;
use super::name::{practice_in_line, upper_first};
use super::practice::shown;
use crate::units::Units;

/// One fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// "Slope".
    pub what: String,
    /// What is known of it.
    pub given: Given,
}

/// What is known of a fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Given {
    /// One value.
    Exact(String),
    /// Each future draws its own: low, likely (where one value is likelier than others), high.
    Range(String, Option<String>, String),
}

impl Fact {
    fn exact(what: &str, value: impl Into<String>) -> Fact {
        Fact { what: what.into(), given: Given::Exact(value.into()) }
    }

    fn of(what: &str, value: Uncertain, tell: impl Fn(f64) -> String) -> Fact {
        let given = match value {
            Uncertain::Exact(value) => Given::Exact(tell(value)),
            Uncertain::Range(low, high) => Given::Range(tell(low), None, tell(high)),
            Uncertain::Triple(low, likely, high) => {
                Given::Range(tell(low), Some(tell(likely)), tell(high))
            }
        };
        Fact { what: what.into(), given }
    }
}

/// The lawn as it was described.
pub fn lawn(scenario: &Scenario, units: Units) -> Vec<Fact> {
    let (lawn, soil, doubts) = (&scenario.lawn, &scenario.lawn.soil, &scenario.doubts);
    let exact = Uncertain::Exact;
    let share = |v: f64| shown(v, Kind::Share, units);
    let depth = |v: f64| shown(v, Kind::Depth, units);
    let slope = |v: f64| shown(v, Kind::Slope, units);
    let seeds = |v: f64| shown(v, Kind::CountPerArea, units);
    let mut facts = vec![Fact::exact("Area", shown(lawn.area_m2, Kind::Area, units))];
    // A grass without a share is only sown.
    for (grass, part) in lawn.grasses.iter().filter(|(_, part)| *part > 0.0) {
        let name = upper_first(grass.name());
        facts.push(Fact::exact(&name, format!("{} of the grass", share(*part))));
    }
    facts.extend([
        Fact::of("Ground under live grass at the start", lawn.turf_cover, share),
        Fact::of("Crabgrass last August", lawn.crabgrass_last_august, share),
    ]);
    facts
        .extend(lawn.seed_bank_m2.map(|v| Fact::of("Living crabgrass seed in the soil", v, seeds)));
    let weeds = [
        ("Dandelion and its like last autumn", lawn.dandelion),
        ("White clover last autumn", lawn.clover),
        ("Yellow nutsedge last August", lawn.nutsedge),
    ];
    facts.extend(weeds.iter().filter_map(|(what, v)| Some(Fact::of(what, (*v)?, share))));
    facts.extend([
        Fact::of("Share of full sun", doubts.sun.unwrap_or(exact(lawn.sun)), share),
        Fact::of("Slope", doubts.slope.unwrap_or(exact(lawn.slope)), slope),
        Fact::of("Sand, by weight", doubts.sand.unwrap_or(exact(soil.sand)), share),
        Fact::of("Clay, by weight", doubts.clay.unwrap_or(exact(soil.clay)), share),
        Fact::of("Organic matter in the topsoil", soil.organic_matter, share),
        Fact::of("Topsoil", doubts.topsoil_mm.unwrap_or(exact(soil.topsoil_mm)), depth),
        Fact::exact("Soil below the topsoil", compaction(soil.compaction)),
    ]);
    if !doubts.group_by_texture {
        facts.push(Fact::exact("How water soaks in", group(soil.hydrologic_group)));
    }
    facts.extend(soil.ph.map(|ph| Fact::exact("Soil pH (noted, without effect)", show_number(ph))));
    facts.extend(soil.test.iter().flat_map(|test| soil_test(test, units)));
    let efficiency = doubts.irrigation_efficiency.unwrap_or(exact(lawn.irrigation_efficiency));
    facts.push(Fact::of("Water from a sprinkler that reaches the roots", efficiency, share));
    facts
}

/// What a laboratory found, and what of it the lawn here feels.
fn soil_test(test: &SoilTest, units: Units) -> Vec<Fact> {
    let ppm = |v: f64| format!("{} ppm (Mehlich 3)", show_number(v.round()));
    let day = |day: Day| day.date().strftime("%-d %b %Y").to_string();
    let lime = |v: f64| shown(v, Kind::MassPerArea, units);
    let facts = [
        test.taken.map(|taken| Fact::exact("Soil sampled on", day(taken))),
        test.ph.map(|ph| Fact::exact("Soil pH, tested", show_number(ph))),
        test.ph.map(|_| Fact::exact("Soil pH wanted", show_number(test.target_ph))),
        test.lime_g_m2.map(|v| Fact::exact("Lime that the laboratory recommends", lime(v))),
        test.phosphorus_ppm
            .map(|v| Fact::exact("Phosphorus (felt by seedlings where it is low)", ppm(v))),
        test.potassium_ppm
            .map(|v| Fact::exact("Potassium (noted; the evidence for an effect is thin)", ppm(v))),
    ];
    facts.into_iter().flatten().collect()
}

/// What work takes and costs, and how reliably it is done.
pub fn work(scenario: &Scenario, units: Units) -> Vec<Fact> {
    let (crew, slips, doubts) = (&scenario.crew, &scenario.slips, &scenario.doubts);
    let exact = Uncertain::Exact;
    let share = |v: f64| shown(v, Kind::Share, units);
    let minutes = |v: f64| shown(v, Kind::Minutes, units);
    let sum = |v: f64| money(v, &crew.currency);
    let speed = doubts.mower_speed_m_s.unwrap_or(exact(crew.mower_speed_m_s));
    let mut facts = vec![
        Fact::of("An hour of one person", doubts.hour_cost.unwrap_or(exact(crew.hour_cost)), sum),
        Fact::exact("Travel and set-up of a visit", minutes(crew.visit_minutes)),
        Fact::exact("Days of visits", visit_days(crew)),
        Fact::exact("Mower's width of cut", shown(crew.mower_width_m * 1000.0, Kind::Depth, units)),
        Fact::of("Mowing speed", speed, |v| shown(v, Kind::Speed, units)),
        Fact::exact("Of it, after overlap and turning", share(crew.mower_efficiency)),
    ];
    if crew.least_visit_minutes > 0.0 {
        facts.push(Fact::exact("Least that a visit counts for", minutes(crew.least_visit_minutes)));
    } else if crew.least_visit_cost > 0.0 {
        facts.push(Fact::exact("Least that a visit counts for", sum(crew.least_visit_cost)));
    }
    let in_spots = |p: &Practice| matches!(&p.what, What::Spray(spray) if spray.spots);
    if scenario.programs.iter().any(|program| program.practices.iter().any(in_spots)) {
        let found = doubts.weeds_found.unwrap_or(exact(crew.weeds_found));
        facts.push(Fact::of("Weeds found where spots are sprayed, by their ground", found, share));
        let margin = share(crew.spot_margin);
        facts.push(Fact::exact("Ground sprayed around them, as a share of theirs", margin));
    }
    for (key, days) in &doubts.release_days {
        let what = format!("Release time of slow nitrogen, {}", practice_in_line(key));
        facts.push(Fact::of(&what, *days, |v| shown(v, Kind::Duration, units)));
    }
    facts.extend([
        Fact::exact("Work that is due and forgotten", share(slips.missed)),
        Fact::exact("Work that comes late", share(slips.late)),
        Fact::exact("How late, on average", format!("{} days", show_number(slips.late_mean_days))),
        Fact::exact("How far a rate laid is off (one standard deviation)", share(slips.rate_cv)),
    ]);
    facts
}

/// Numbers of the model that the scenario sets itself.
pub fn overrides(scenario: &Scenario) -> Vec<Fact> {
    let all = scenario.overrides.iter();
    all.map(|(name, value)| Fact::of(name, *value, show_number)).collect()
}

fn compaction(compaction: Compaction) -> &'static str {
    match compaction {
        Compaction::None => "loose: a probe goes in freely",
        Compaction::Moderate => "packed: a probe goes in with effort",
        Compaction::Severe => "packed hard: a probe does not go in",
    }
}

fn group(group: HydrologicGroup) -> &'static str {
    match group {
        HydrologicGroup::A => "fast (hydrologic group A)",
        HydrologicGroup::B => "well (hydrologic group B)",
        HydrologicGroup::C => "slowly (hydrologic group C)",
        HydrologicGroup::D => "very slowly (hydrologic group D)",
    }
}

/// "any", or "Tue, Fri".
fn visit_days(crew: &Crew) -> String {
    // Any seven days running have each day of the week once; the first is a Monday.
    let week = (0..7).map(|n| Day::from_ymd(2024, 1, 1).map(|monday| monday.plus(n)));
    let days: Vec<String> = week
        .flatten()
        .filter(|day| crew.visit_days.has(*day))
        .map(|day| day.date().strftime("%a").to_string())
        .collect();
    if days.len() == 7 { "any".into() } else { days.join(", ") }
}
