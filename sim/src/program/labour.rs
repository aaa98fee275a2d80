//! What work takes: minutes and money of an act.

use super::Job;
use crate::quantity::rates;
use crate::scenario::{Crew, Hands, Lawn, What};
use crate::work::{Act, Carrier, Clippings, Sowing};

/// Minutes of one person and money, in the scenario's currency.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Toll {
    /// Labour, minutes of one person.
    pub minutes: f64,
    /// Labour, product and water.
    pub cost: f64,
}

/// Area that a mower covers, m2 a minute: [`rates::mowing_m2_per_h`] over 60.
pub fn mowing_m2_per_minute(width_m: f64, speed_m_s: f64, efficiency: f64) -> f64 {
    rates::mowing_m2_per_h(width_m, speed_m_s, efficiency) / 60.0
}

/// Getting there and setting up, once for each day with a visit, whatever is done there. What is
/// not in the crew's hands ([`Hands`]) is no visit: whoever lives there, or a timer, opens the tap.
pub fn travel(crew: &Crew) -> Toll {
    labour(crew, crew.visit_minutes)
}

/// What a job of a practice takes, without travel.
///
/// Product is paid for as it was laid, rate error included; that of spots for the ground that they
/// take, while the whole lawn is walked for them. Water is paid for as it left the tap,
/// losses included. Watering in after a product counts as a watering.
pub fn toll(crew: &Crew, lawn: &Lawn, what: &What, job: &Job) -> Toll {
    let hundreds = lawn.area_m2 / 100.0;
    let over = |pace: f64| labour(crew, pace * hundreds);
    match (&job.act, what) {
        (Act::Wet { .. }, _) | (_, What::Water { .. }) => watering(crew, lawn, what),
        (_, What::Mow { clippings, .. }) => labour(crew, mowing(crew, lawn, *clippings)),
        (_, What::PreEmergent { carrier, product, .. }) => {
            let pace = match carrier {
                Carrier::Spray => crew.spray_minutes_per_100_m2,
                Carrier::Granule => crew.spread_minutes_per_100_m2,
            };
            bought(over(pace), product.price_per_m2 * lawn.area_m2, job)
        }
        (_, What::Spread { product, .. }) => {
            let pace = if product.liquid {
                crew.spray_minutes_per_100_m2
            } else {
                crew.spread_minutes_per_100_m2
            };
            bought(over(pace), product.price_per_m2 * lawn.area_m2, job)
        }
        (_, What::Topdress { depth_mm, price_m3 }) => {
            let depth_mm = depth_mm * job.rate_factor;
            let base = labour(crew, crew.topdress_minutes_per_100_m2_mm * hundreds * depth_mm);
            let volume_m3 = lawn.area_m2 * depth_mm / 1000.0;
            Toll { cost: base.cost + price_m3 * volume_m3, ..base }
        }
        (_, What::Overseed { method, product, .. }) => {
            let pace = match method {
                Sowing::Broadcast => crew.overseed_minutes_per_100_m2,
                Sowing::Raked => crew.overseed_minutes_per_100_m2 + crew.rake_in_minutes_per_100_m2,
                Sowing::Slit => crew.slit_seed_minutes_per_100_m2,
            };
            bought(over(pace), product.price_per_m2 * lawn.area_m2, job)
        }
        (_, What::Spray(spray)) => {
            let pace = if spray.spots {
                crew.spot_walk_minutes_per_100_m2 + crew.spot_spray_minutes_per_100_m2 * job.ground
            } else {
                crew.spray_minutes_per_100_m2
            };
            let sprayed_m2 = lawn.area_m2 * job.ground;
            bought(over(pace), spray.product.price_per_m2 * sprayed_m2, job)
        }
        (_, What::Tend(tend)) => {
            bought(over(tend.minutes_per_100_m2), tend.price_per_m2 * lawn.area_m2, job)
        }
    }
}

/// A watering: somebody opens the tap, and the meter runs.
fn watering(crew: &Crew, lawn: &Lawn, what: &What) -> Toll {
    let volume_m3 = lawn.area_m2 * tap_mm(what) / 1000.0;
    let base = labour(crew, crew.water_minutes);
    Toll { cost: base.cost + crew.water_price_m3 * volume_m3, ..base }
}

/// What a job takes in these hands, without travel: the client's cost no crew time.
pub fn toll_of(by: Hands, crew: &Crew, lawn: &Lawn, what: &What, job: &Job) -> Toll {
    if by == Hands::Client {
        let unpaid = Crew { currency: String::new(), hour_cost: 0.0, ..*crew };
        return Toll { minutes: 0.0, ..toll(&unpaid, lawn, what, job) };
    }
    toll(crew, lawn, what, job)
}

/// The same where the job's product goes on a share of the lawn only, 0..=1. Water goes on all of it.
pub fn toll_on(treated: f64, whole: Toll, job: &Job) -> Toll {
    if takes_product(job) {
        return Toll { minutes: whole.minutes * treated, cost: whole.cost * treated };
    }
    whole
}

/// Share of the lawn that a job is done on, 0..=1, where its product may go on a share only.
pub fn ground(treated: f64, job: &Job) -> f64 {
    if takes_product(job) { treated * job.ground } else { job.ground }
}

/// Whether a rule of the place may keep a job's product off part of the lawn.
fn takes_product(job: &Job) -> bool {
    matches!(job.act, Act::LayBarrier { .. } | Act::LayNitrogen(_) | Act::Spray { .. })
}

/// What is missing in a visit that took so much to the least that a visit counts for.
pub fn top_up(crew: &Crew, taken: Toll) -> Toll {
    let minutes = (crew.least_visit_minutes - taken.minutes).max(0.0);
    let labour = labour(crew, minutes);
    let cost = (crew.least_visit_cost - taken.cost - labour.cost).max(0.0);
    Toll { minutes, cost: labour.cost + cost }
}

/// Water that leaves the tap in one watering of a practice, mm over the lawn.
pub fn tap_mm(what: &What) -> f64 {
    match what {
        What::Water { depth_mm } => *depth_mm,
        What::PreEmergent { water_in_mm, .. }
        | What::Spread { water_in_mm, .. }
        | What::Overseed { water_in_mm, .. } => *water_in_mm,
        What::Tend(tend) => tend.water_in_mm,
        What::Mow { .. } | What::Topdress { .. } | What::Spray(_) => 0.0,
    }
}

/// Minutes of one mowing: the mower's passes, longer where clippings are bagged, and the trimming.
fn mowing(crew: &Crew, lawn: &Lawn, clippings: Clippings) -> f64 {
    let pace =
        mowing_m2_per_minute(crew.mower_width_m, crew.mower_speed_m_s, crew.mower_efficiency);
    let passes = lawn.area_m2 / pace;
    let bagging = match clippings {
        Clippings::Return => 1.0,
        Clippings::Collect => crew.bagging_factor,
    };
    passes * bagging + crew.trim_minutes_per_100_m2 * lawn.area_m2 / 100.0
}

fn labour(crew: &Crew, minutes: f64) -> Toll {
    Toll { minutes, cost: minutes / 60.0 * crew.hour_cost }
}

fn bought(base: Toll, price: f64, job: &Job) -> Toll {
    Toll { cost: base.cost + price * job.rate_factor, ..base }
}
