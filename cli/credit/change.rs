//! What was changed of a practice, in words, from the two programs as they were checked.

use sim::analysis::credit::Player;
use sim::calendar::MonthDay;
use sim::quantity::{Kind, Units as Shown, show};
use sim::scenario::{
    Cue, Hands, Hold, Practice, Program, Spray, Tend, What, day_of_year, show_day,
};
use sim::work::{Carrier, Clippings};

use crate::units::Units;
use crate::words::name::{self, listed};
use crate::words::tending;

/// What was changed: "every 5 days instead of every 14 days", "added: on 20 Apr", "left out".
pub(crate) fn tell(player: &Player, base: &Program, program: &Program, units: Units) -> String {
    let shown = units.into();
    let before = Whole::new(base, &player.before);
    let after = Whole::new(program, &player.after);
    match (before, after) {
        (None, Some(after)) => format!("added, {}", after.cue(shown, false)),
        (Some(_), None) => "left out".into(),
        (Some(before), Some(after)) => {
            let parts = differences(&before, &after, shown);
            if parts.is_empty() { "done differently".into() } else { parts.join("; ") }
        }
        (None, None) => String::new(),
    }
}

/// A practice as written: the two halves of a split one put together.
struct Whole<'a> {
    program: &'a Program,
    practice: &'a Practice,
    /// Days from the first half to the second.
    split_days: Option<u32>,
}

impl<'a> Whole<'a> {
    fn new(program: &'a Program, places: &[usize]) -> Option<Whole<'a>> {
        let at = |place: &usize| program.practices.get(*place);
        let practice = at(places.first()?)?;
        let split_days = places.get(1).and_then(at).and_then(|second| match second.cue {
            Cue::DaysAfter { days, .. } => Some(days),
            _ => None,
        });
        Some(Whole { program, practice, split_days })
    }

    /// When, in words.
    fn cue(&self, shown: Shown, window: bool) -> String {
        let days = |n: u32| if n == 1 { "day".to_string() } else { format!("{n} days") };
        let date = |day| show_day(day_of_year(day));
        let (said, between) = match &self.practice.cue {
            Cue::Dates(dates) => {
                let dates: Vec<String> = dates.iter().map(|day| date(*day)).collect();
                (format!("on {}", listed(&dates)), None)
            }
            Cue::Every { days: n, from, to } => (format!("every {}", days(*n)), Some((from, to))),
            Cue::SoilTemperature { at_least_c, for_days, from, to } => {
                let warm = show(*at_least_c, Kind::Temperature, shown);
                let held = format!("when the soil has stood at {warm} for {for_days} days");
                (held, Some((from, to)))
            }
            Cue::DegreeDays { at_least_c_days, base_c, from, to } => {
                let sum = show(*at_least_c_days, Kind::DegreeDays, shown);
                let base = show(*base_c, Kind::Temperature, shown);
                (format!("once {sum} above {base} have come together"), Some((from, to)))
            }
            Cue::CanopyHeight { at_least_mm, from, to, .. } => {
                let high = show(*at_least_mm, Kind::Depth, shown);
                (format!("when the grass stands {high} high"), Some((from, to)))
            }
            Cue::DaysAfter { practice, days } => {
                let key = self.program.practices.get(*practice).map_or("?", |p| p.key.as_str());
                (format!("{days} days after {}", name::practice_in_line(key)), None)
            }
            Cue::DrySoil { at_most, from, to, .. } => {
                let dry = show(*at_most, Kind::Share, shown);
                (format!("when soil water is down to {dry}"), Some((from, to)))
            }
            Cue::WeedCover { stand, at_least, from, to, .. } => {
                let cover = show(*at_least, Kind::Share, shown);
                (format!("when {} cover {cover} of the lawn", stand.name()), Some((from, to)))
            }
        };
        match between.filter(|_| window) {
            Some((from, to)) => format!("{said} from {} to {}", date(*from), date(*to)),
            None => said,
        }
    }

    /// The stretch of the year in which it is done, where its cue has one.
    fn window(&self) -> Option<(MonthDay, MonthDay)> {
        match self.practice.cue {
            Cue::Every { from, to, .. }
            | Cue::SoilTemperature { from, to, .. }
            | Cue::DegreeDays { from, to, .. }
            | Cue::CanopyHeight { from, to, .. }
            | Cue::WeedCover { from, to, .. }
            | Cue::DrySoil { from, to, .. } => Some((from, to)),
            Cue::Dates(_) | Cue::DaysAfter { .. } => None,
        }
    }

    /// What is laid over both halves, as a factor of the first.
    fn halves(&self) -> f64 {
        if self.split_days.is_some() { 2.0 } else { 1.0 }
    }
}

fn differences(before: &Whole, after: &Whole, shown: Shown) -> Vec<String> {
    let mut parts = Vec::new();
    match (before.split_days, after.split_days) {
        (None, Some(days)) => {
            parts.push(format!("in two halves {days} days apart instead of all at once"));
        }
        (Some(_), None) => parts.push("all at once instead of in two halves".into()),
        (Some(b), Some(a)) if a != b => {
            parts.push(format!("halves {a} days apart instead of {b} days"));
        }
        _ => {}
    }
    let same = |window| before.cue(shown, window) == after.cue(shown, window);
    // The window is told where it was changed, alone or with the rest.
    let window = same(false) || before.window() != after.window();
    instead(&mut parts, "", [before.cue(shown, window), after.cue(shown, window)]);
    what(&mut parts, before, after, shown);
    let (b, a) = (before.practice, after.practice);
    instead(&mut parts, "done by ", [hands(b.by), hands(a.by)]);
    if other_holds(b, a) {
        parts.push("waits on other conditions".into());
    }
    instead(&mut parts, "given up after ", [b, a].map(|p| format!("{} days", p.give_up_days)));
    parts
}

/// Whether other conditions hold a practice up. "Shorter than the height of cut" goes with the height.
fn other_holds(before: &Practice, after: &Practice) -> bool {
    let heights = [before, after].map(|p| match p.what {
        What::Mow { height_mm, .. } => Some(height_mm),
        _ => None,
    });
    let follows = |hold: &&Hold| {
        let Hold::ShorterThan { mm } = hold else { return false };
        heights.contains(&Some(*mm))
    };
    let kept = |p: &Practice| -> Vec<Hold> {
        p.holds.iter().filter(|hold| !follows(hold)).copied().collect()
    };
    kept(before) != kept(after)
}

/// Adds "LEADafter instead of before", where the two differ.
fn instead(parts: &mut Vec<String>, lead: &str, [before, after]: [String; 2]) {
    if before != after {
        parts.push(format!("{lead}{after} instead of {before}"));
    }
}

/// What is done, and how much of it.
fn what(parts: &mut Vec<String>, before: &Whole, after: &Whole, shown: Shown) {
    let both = [before, after];
    let depth = |mm: f64| show(mm, Kind::Depth, shown);
    let other = parts.len();
    match (&before.practice.what, &after.practice.what) {
        (
            What::Mow { height_mm: b, clippings: b_clippings },
            What::Mow { height_mm: a, clippings: a_clippings },
        ) => {
            instead(parts, "at ", [depth(*b), depth(*a)]);
            let word = |clippings: &Clippings| match clippings {
                Clippings::Return => "returned".to_string(),
                Clippings::Collect => "bagged".to_string(),
            };
            instead(parts, "clippings ", [word(b_clippings), word(a_clippings)]);
        }
        (
            What::PreEmergent { rate_kg_ha: b, carrier: bc, water_in_mm: bw, product: bp, .. },
            What::PreEmergent { rate_kg_ha: a, carrier: ac, water_in_mm: aw, product: ap, .. },
        ) => {
            instead(parts, "", [bp.name.clone(), ap.name.clone()]);
            let rate = |(kg_ha, whole): (&f64, &Whole)| {
                show(kg_ha * whole.halves(), Kind::ActiveRate, shown)
            };
            instead(parts, "at ", [rate((b, both[0])), rate((a, both[1]))]);
            let word = |carrier: &Carrier| match carrier {
                Carrier::Spray => "sprayed".to_string(),
                Carrier::Granule => "as granules".to_string(),
            };
            if bp.name == ap.name {
                instead(parts, "", [word(bc), word(ac)]);
            }
            instead(parts, "watered in with ", [depth(*bw), depth(*aw)]);
        }
        (
            What::Spread { nitrogen: b, water_in_mm: bw, product: bp, .. },
            What::Spread { nitrogen: a, water_in_mm: aw, product: ap, .. },
        ) => {
            instead(parts, "", [bp.name.clone(), ap.name.clone()]);
            let laid = |(g_m2, whole): (f64, &Whole)| {
                show(g_m2 * whole.halves(), Kind::NitrogenRate, shown)
            };
            let (b, a) = (b.total_g_m2(), a.total_g_m2());
            instead(parts, "", [laid((b, both[0])), laid((a, both[1]))]);
            instead(parts, "watered in with ", [depth(*bw), depth(*aw)]);
        }
        (What::Spray(b), What::Spray(a)) => {
            instead(parts, "", [b.product.name.clone(), a.product.name.clone()]);
            let rate = |spray: &Spray| show(spray.rate_kg_ha, Kind::ActiveRate, shown);
            instead(parts, "at ", [rate(b), rate(a)]);
            let place = |spray: &Spray| match spray.spots {
                true => "in spots".to_string(),
                false => "on all of the lawn".to_string(),
            };
            instead(parts, "", [place(b), place(a)]);
        }
        (What::Water { depth_mm: b }, What::Water { depth_mm: a })
        | (What::Topdress { depth_mm: b, .. }, What::Topdress { depth_mm: a, .. }) => {
            instead(parts, "", [depth(*b), depth(*a)]);
        }
        (What::Tend(b), What::Tend(a)) => {
            let amount = |tend: &Tend| tending::amount(&tend.tending, shown);
            instead(parts, "", [amount(b), amount(a)]);
        }
        _ => {}
    }
    let (b, a) = (&before.practice.what, &after.practice.what);
    let split = before.split_days.is_some() != after.split_days.is_some();
    if parts.len() == other && b != a && !split {
        parts.push("with other work or other material".into());
    }
}

fn hands(by: Hands) -> String {
    match by {
        Hands::Crew => "the crew".into(),
        Hands::House => "whoever lives there".into(),
        Hands::Client => "the client".into(),
    }
}
