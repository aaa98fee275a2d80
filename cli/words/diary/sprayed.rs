//! What yellow nutsedge and sprays on standing weeds tell.

use sim::lawn::turning::Turning;

use super::amount::{days, share};
use super::entry::Teller;

/// Less of the turf's leaf than this browns without a word.
const BROWNED: f64 = 0.03;

/// A spray that went in as far as this is told as one that had good conditions.
const GONE_IN: f64 = 0.9;

impl Teller<'_> {
    /// What nutsedge tells.
    pub(super) fn nutsedge(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::NutsedgeUp { soil_c, tubers_m2 } => format!(
                "The first yellow nutsedge comes up from its tubers: the soil stands at {}; {} have not \
                 sprouted yet. No crabgrass barrier stops it.",
                u.warmth(soil_c),
                u.count(tubers_m2, "")
            ),
            Turning::NutsedgePasses { level, shoots_m2, above_mm } => {
                let above = if above_mm >= 1.0 {
                    format!("; it stands {} above the turf", u.height(above_mm))
                } else {
                    String::new()
                };
                format!(
                    "Yellow nutsedge passes {} of the lawn, with {}{above}.",
                    share(level),
                    u.count(shoots_m2, "shoots")
                )
            }
            Turning::NutsedgeKilled { t_min_c, cover, tubers_m2 } => format!(
                "Frost ({}) kills the tops of the yellow nutsedge, {} of the lawn; {} are left in the ground.",
                u.warmth(t_min_c),
                share(cover),
                u.count(tubers_m2, "tubers")
            ),
            _ => String::new(),
        }
    }

    /// What a spray tells.
    pub(super) fn spray(&self, turning: &Turning) -> String {
        match *turning {
            Turning::SprayWashed { days: since, water_mm, lost } => {
                let when = if since == 0 {
                    "the same day".into()
                } else {
                    format!("{} later", days(since))
                };
                format!(
                    "{} of water, {when}, takes about {} of the spray off the leaves before it is in.",
                    self.units.water(water_mm),
                    share(lost)
                )
            }
            Turning::SprayTakes {
                days: since,
                taken,
                crabgrass,
                tillered,
                dandelion,
                clover,
                nutsedge,
                turf,
            } => {
                let weeds = [
                    (crabgrass, "of the crabgrass plants"),
                    (dandelion, "of the dandelions, root and all"),
                    (clover, "of the clover"),
                    (nutsedge, "of the nutsedge shoots, tuber and all"),
                ];
                let dies: Vec<String> = weeds
                    .into_iter()
                    .filter_map(|(dies, of)| dies.map(|dies| format!("{} {of}", share(dies))))
                    .collect();
                let mut text = if dies.is_empty() {
                    format!("{} after the spray: no weed stood that it could take.", days(since))
                } else {
                    let all = dies.join(", ");
                    format!("{} after the spray it is settled what will die: {all}.", days(since))
                };
                if crabgrass.is_some_and(|dies| dies < 0.9) && tillered >= 0.01 {
                    text += &format!(
                        " {} of the crabgrass had tillered, which is harder to kill.",
                        share(tillered)
                    );
                }
                if taken < GONE_IN {
                    text += &format!(
                        " Rain, cool air or time let {} of it in, of what goes in on a mild dry day.",
                        share(taken)
                    );
                }
                if turf >= BROWNED {
                    text += &format!(" {} of the turf's leaf will brown.", share(turf));
                }
                text
            }
            _ => String::new(),
        }
    }
}
