//! Turning points as sentences, by what turned.

use sim::lawn::turning::{Part, Tread, Turning};

use super::amount::{date, days, share, times};
use super::entry::{Teller, dry, rest, shaded_out, takers};
use crate::round::fixed;
use crate::words::name::upper_first;

impl Teller<'_> {
    /// A turning point in words.
    pub(super) fn turning(&self, turning: &Turning) -> String {
        match turning {
            Turning::BarrierInPlace { .. }
            | Turning::BarrierWaits { .. }
            | Turning::BarrierBelow { .. } => self.barrier(turning),
            Turning::FirstSeedlings { .. }
            | Turning::Flush { .. }
            | Turning::CrabgrassPasses { .. }
            | Turning::CrabgrassPeak { .. }
            | Turning::CrabgrassKilled { .. }
            | Turning::CrabgrassDiesBack { .. }
            | Turning::SeedSet { .. } => self.crabgrass(turning),
            Turning::DandelionPasses { .. }
            | Turning::DandelionSeeds { .. }
            | Turning::DandelionDies { .. }
            | Turning::CloverPasses { .. }
            | Turning::CloverDies { .. } => self.perennial(turning),
            Turning::NutsedgeUp { .. }
            | Turning::NutsedgePasses { .. }
            | Turning::NutsedgeKilled { .. } => self.nutsedge(turning),
            Turning::SprayWashed { .. } | Turning::SprayTakes { .. } => self.spray(turning),
            Turning::TurfFilled { .. }
            | Turning::TurfThinned { .. }
            | Turning::Cut { .. }
            | Turning::SownOnBarrier { .. }
            | Turning::SownUp { .. }
            | Turning::Tracks { .. }
            | Turning::QualityPasses { .. } => self.turf(turning),
            Turning::Storm { .. }
            | Turning::GrowthStops { .. }
            | Turning::Browns { .. }
            | Turning::Dormant { .. }
            | Turning::Wakes { .. }
            | Turning::GreenAgain { .. } => self.water(turning),
            Turning::Leached { .. }
            | Turning::FedWhenGreen { .. }
            | Turning::WashedOff { .. }
            | Turning::Ammonia { .. }
            | Turning::Burned { .. }
            | Turning::Hungry { .. }
            | Turning::Greens { .. }
            | Turning::ClippingsGaveBack { .. } => self.nitrogen(turning),
        }
    }

    /// What dandelion and clover tell.
    fn perennial(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::DandelionPasses { level, plants_m2, seedlings_m2 } => format!(
                "Dandelions pass {} of the lawn, with {}; {}.",
                share(level),
                u.sparse(plants_m2, "grown plants"),
                u.sparse(seedlings_m2, "seedlings")
            ),
            Turning::DandelionSeeds { heads_m2, seed_m2 } => {
                let whose = if heads_m2 > 0.0 {
                    format!("of {} in flower here and of the wind", u.count(heads_m2, "heads"))
                } else {
                    "all of it blown in".to_owned()
                };
                format!(
                    "The spring's dandelion seed is down: {}, {whose}. It comes up where the ground is \
                     bare or the turf thin.",
                    u.count(seed_m2, "seeds")
                )
            }
            Turning::DandelionDies { cover, share: died, bare } => format!(
                "{} of the dandelions are dead and have given up {} of the lawn; {} of it is bare.",
                upper_first(&share(died)),
                share(cover),
                share(bare)
            ),
            Turning::CloverPasses { level, fixed_g_m2 } => format!(
                "Clover passes {} of the lawn; it has taken {} of nitrogen from the air so far.",
                share(level),
                u.spread(fixed_g_m2)
            ),
            Turning::CloverDies { cover, share: died, bare } => format!(
                "{} of the clover is dead and has given up {} of the lawn; {} of it is bare.",
                upper_first(&share(died)),
                share(cover),
                share(bare)
            ),
            _ => String::new(),
        }
    }

    /// What a barrier tells.
    fn barrier(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::BarrierInPlace { days: since, water_mm, lost, stopped, to_come } => {
                let water = u.water(water_mm);
                let how = if since == 0 {
                    format!("Watered in at once ({water}), the barrier works")
                } else if lost >= 0.05 && water_mm < 1.3 {
                    format!(
                        "{} went by with hardly any water, and the sun took {} of the barrier before it \
                         was in the ground",
                        upper_first(&days(since)),
                        share(lost)
                    )
                } else if lost >= 0.05 {
                    format!(
                        "The barrier is in the ground after {}: the sun took {} of it before {water} of \
                         water had washed in the rest",
                        days(since),
                        share(lost)
                    )
                } else {
                    format!("{water} of water in {} has washed the barrier in", days(since))
                };
                format!("{how}. It now stops {} of what sprouts.{}", share(stopped), rest(to_come))
            }
            Turning::BarrierWaits { days: since, water_mm, lost, stopped } => format!(
                "The barrier has lain for {} with {}: the sun has taken {} of it, and what is in the \
                 ground stops {} of what sprouts.",
                days(since),
                if water_mm >= 1.3 {
                    format!("only {} of water", u.water(water_mm))
                } else {
                    "hardly any water".into()
                },
                share(lost),
                share(stopped)
            ),
            Turning::BarrierBelow { level, days: since, residue, to_come } => format!(
                "The barrier wears thin: {} on, {} of it is left, and it stops less than {} of what \
                 sprouts.{}",
                days(since),
                share(residue),
                if level == 0.5 { "half".into() } else { share(level) },
                if to_come >= 0.01 {
                    rest(to_come)
                } else {
                    " The year's crabgrass is all up.".into()
                }
            ),
            _ => String::new(),
        }
    }

    /// What crabgrass tells.
    fn crabgrass(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::FirstSeedlings { warmth_dd, soil_c, stopped } => format!(
                "The first crabgrass comes up: the soil stands at {}, after {} of warmth in moist \
                 ground. {}",
                u.warmth(soil_c),
                u.warmth_sum(warmth_dd),
                if stopped >= 0.01 {
                    format!("The barrier stops {} of it.", share(stopped))
                } else {
                    "Nothing stops it.".into()
                }
            ),
            Turning::Flush { share: of, emerging_m2, through_m2, days: since } => {
                let part = if of == 0.5 {
                    "Half".into()
                } else {
                    format!("{} in 10", fixed(10.0 * of, 0))
                };
                let tried = u.count(emerging_m2, "");
                let how = if through_m2 >= 0.99 * emerging_m2 {
                    format!("{tried}, and nothing stopped them")
                } else {
                    let stopped = share(1.0 - through_m2 / emerging_m2);
                    format!(
                        "of {tried} the barrier stopped {stopped}, and {} came through",
                        u.count(through_m2, "")
                    )
                };
                format!(
                    "{part} of the year's crabgrass seedlings have sprouted, {} after the first: {how}.",
                    days(since)
                )
            }
            Turning::CrabgrassPasses { level, plants_m2, displaced } => format!(
                "Crabgrass passes {} of the lawn, with {}{}.",
                share(level),
                u.count(plants_m2, "plants"),
                shaded_out(displaced)
            ),
            Turning::CrabgrassPeak { cover, displaced } => format!(
                "Crabgrass stands at the year's most, {} of the lawn{}.",
                share(cover),
                shaded_out(displaced)
            ),
            Turning::CrabgrassKilled { t_min_c, cover, bare } => format!(
                "Frost ({}) kills the crabgrass: {} of the lawn falls bare, {} is bare in all.",
                u.warmth(t_min_c),
                share(cover),
                share(bare)
            ),
            Turning::CrabgrassDiesBack { most, cover, bare } => format!(
                "The crabgrass has died back from {} to {} of the lawn; {} of the lawn is bare.",
                share(most),
                share(cover),
                share(bare)
            ),
            Turning::SeedSet { seed_m2, old_m2 } => format!(
                "The year's crabgrass leaves {} in the ground, beside {} from earlier years.",
                u.count(seed_m2, "seeds"),
                u.count(old_m2, "")
            ),
            _ => String::new(),
        }
    }

    /// What cover, mowing and ratings tell.
    fn turf(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::TurfFilled { since, from, to, bare_from, bare_to } => format!(
                "Since {} the turf has spread from {} to {} of the lawn, and bare ground has gone from \
                 {} to {}.",
                date(since),
                share(from),
                share(to),
                share(bare_from),
                share(bare_to)
            ),
            Turning::TurfThinned { since, from, to, losses } => format!(
                "Since {} the turf has thinned from {} to {} of the lawn{}.",
                date(since),
                share(from),
                share(to),
                takers(&losses)
            ),
            Turning::Cut { from_mm, to_mm, leaf, cover_lost } => {
                self.cut(from_mm, to_mm, leaf, cover_lost)
            }
            Turning::Tracks { browned, opened, visits, by } => tracks(browned, opened, visits, by),
            Turning::SownOnBarrier { stopped } => format!(
                "The seed lies on a barrier that does not know grass from crabgrass: it stops {} of the \
                 seedlings that would come up today.",
                share(stopped)
            ),
            Turning::SownUp { days: since, seedlings_m2, stopped } => format!(
                "Half of the sown seed that will come up has, {} after it was sown: {}{}.",
                days(since),
                u.count(seedlings_m2, "seedlings"),
                if stopped >= 0.05 {
                    format!("; the barrier stops {} of them", share(stopped))
                } else {
                    String::new()
                }
            ),
            Turning::QualityPasses { up, quality, by } => {
                let word = match (by, up) {
                    (Part::Density, true) => "the stand has thickened",
                    (Part::Density, false) => "the stand has thinned",
                    (Part::Evenness, true) => "it has become more even",
                    (Part::Evenness, false) => "weeds, bare ground or ragged cuts make it uneven",
                    (Part::Colour, true) => "it has greened",
                    (Part::Colour, false) => "it has paled",
                };
                let turn = if up { "rises to acceptable" } else { "falls below acceptable" };
                // Rounded to its own side of the line: "falls below acceptable (6.0)" would puzzle.
                let tenths = 10.0 * quality;
                let told = if up { tenths.ceil() } else { tenths.floor() } / 10.0;
                format!("Quality {turn} ({}): {word}.", fixed(told, 1))
            }
            _ => String::new(),
        }
    }

    /// What water tells.
    fn water(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::Storm { rain_mm, runoff_mm } => {
                format!(
                    "A storm: {} of rain, {} of it runs off.",
                    u.water(rain_mm),
                    u.water(runoff_mm)
                )
            }
            Turning::GrowthStops { soil_water, dry_days } => format!(
                "Growth all but stops: the soil is down to {} of the water that it can hold for the \
                 roots{}.",
                share(soil_water),
                dry(dry_days)
            ),
            Turning::Browns { green, dry: by_drought, soil_water, t_max_c } => {
                let brown = share(1.0 - green);
                if by_drought {
                    let left = share(soil_water);
                    format!(
                        "The turf browns for want of water ({left} left in the soil): \
                         {brown} of it is brown now."
                    )
                } else {
                    let high = u.warmth(t_max_c);
                    format!(
                        "The turf browns in the heat (highs of {high} this week): {brown} of it is brown \
                         now."
                    )
                }
            }
            Turning::Dormant { green, soil_water, dry_days } => format!(
                "The turf goes dormant: {} of it is green, {} of the soil's water is left{}.",
                share(green),
                share(soil_water),
                dry(dry_days)
            ),
            Turning::Wakes { days: asleep, water_mm } => format!(
                "The turf wakes after {}: {} of water in a week.",
                days(asleep),
                u.water(water_mm)
            ),
            Turning::GreenAgain { days: brown, water_mm } => format!(
                "The turf is all but fully green again, {} after it began to brown{}.",
                days(brown),
                if water_mm >= 5.0 {
                    format!("; {} of water this week", u.water(water_mm))
                } else {
                    String::new()
                }
            ),
            _ => String::new(),
        }
    }

    /// What nitrogen tells.
    fn nitrogen(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::Leached { until, n_g_m2, drained_mm } => format!(
                "Until {} water draining away ({}) takes {} of nitrogen down past the roots.",
                date(until),
                u.water(drained_mm),
                u.spread(n_g_m2)
            ),
            Turning::WashedOff { n_g_m2, rain_mm, runoff_mm } => format!(
                "{} of rain runs off in part ({}) and takes {} of fertilizer nitrogen along.",
                u.water(rain_mm),
                u.water(runoff_mm),
                u.spread(n_g_m2)
            ),
            Turning::FedWhenGreen { n_g_m2, .. } => format!(
                "The lawn was about as green as nitrogen makes it when {} went down: a strip fed \
                 double would look no greener.",
                u.spread(n_g_m2)
            ),
            Turning::Ammonia { n_g_m2, laid_g_m2, days: since } => format!(
                "In {} {} of nitrogen has gone into the air, {} of the urea that was laid and not \
                 watered in.",
                days(since),
                u.spread(n_g_m2),
                share(n_g_m2 / laid_g_m2)
            ),
            Turning::Burned { leaf, n_g_m2, t_max_c, days: lay, cover_lost } => format!(
                "Fertilizer burn: {} of quick nitrogen lay dry on the turf for {} in highs of up to {}, and \
                 its salt burned {} of the leaf{}.",
                u.spread(n_g_m2),
                days(lay),
                u.warmth(t_max_c),
                share(leaf),
                if cover_lost >= 0.005 {
                    format!("; {} of the lawn opened", share(cover_lost))
                } else {
                    String::new()
                }
            ),
            Turning::Hungry { growth } => format!(
                "The turf is short of nitrogen: it grows at {} of the pace of well-fed turf.",
                share(growth)
            ),
            Turning::Greens { days: since, n_g_m2, from, to } => format!(
                "{} after feeding ({} of nitrogen) the colour has gone from {} to {} of 9.",
                days(since),
                u.spread(n_g_m2),
                fixed(from, 1),
                fixed(to, 1)
            ),
            Turning::ClippingsGaveBack { n_g_m2, laid_g_m2 } => format!(
                "The year's clippings, left where they fell, carried {} of nitrogen back; {}.",
                u.spread(n_g_m2),
                if laid_g_m2 > 0.0 {
                    format!("{} was laid", u.spread(laid_g_m2))
                } else {
                    "none was laid".into()
                }
            ),
            _ => String::new(),
        }
    }
}

/// What wheels and feet did in some mowings: brown tracks where there was green, bare ground where crowns died.
fn tracks(browned: f64, opened: f64, visits: u32, by: Tread) -> String {
    let visits = if visits == 1 { "one mowing".into() } else { times(visits, "mowing") };
    let turf = match by {
        Tread::Frosted => "frosted",
        Tread::Wilted if browned < opened => "brown",
        Tread::Wilted => "wilted",
    };
    let mut parts = Vec::new();
    if browned >= 0.005 {
        parts.push(format!("leave brown tracks on {} of the lawn", share(browned)));
    }
    if opened >= 0.005 {
        parts.push(format!("kill the turf on {}", share(opened)));
    }
    format!("Wheels and feet in {visits} of {turf} turf {}.", parts.join(" and "))
}
