//! Each entry as a sentence or two.

use sim::analysis::diary::{Entry, Mowed, PLAINLY, THIRD, Watered, What};
use sim::calendar::Day;
use sim::lawn::turning::{Losses, Turning};
use sim::parameters::ACTIVES;
use sim::scenario::{Program, What as Doing, post_name};
use sim::work::{Act, Fate, Reach, Setback, Why, WorkEntry};

use super::amount::{date, days, share, times};
use crate::round::fixed;
use crate::units::Units;
use crate::words::name::practice;
use crate::words::tending;

/// A rate off by less is not told, share: what a calibrated spreader is usually off.
const OFF_RATE: f64 = 0.10;

/// Who tells: the program whose practices are named, and the reader's units.
#[derive(Clone, Copy, Debug)]
pub struct Teller<'a> {
    /// The program.
    pub program: &'a Program,
    /// The reader's units.
    pub units: Units,
}

impl<'a> Teller<'a> {
    /// A practice's key.
    pub fn practice_key(&self, practice: u16) -> &'a str {
        self.program.practices.get(usize::from(practice)).map_or("", |p| p.key.as_str())
    }

    /// An entry in words.
    pub fn words(&self, entry: &Entry) -> String {
        match &entry.what {
            What::Turning(turning) => self.turning(turning),
            What::Work(work, late) => self.work(work, late.as_ref()),
            What::Setback(setback) => self.setback(setback),
            What::Mowed(mowed) => self.mowed(mowed, entry.day),
            What::Watered(watered) => self.watered(watered, entry.day),
        }
    }

    fn work(&self, work: &WorkEntry, late: Option<&Setback>) -> String {
        let key = practice(self.practice_key(work.practice));
        let u = self.units;
        let done = match work.act {
            Act::Cut { height_mm, .. } => {
                format!("mowed; nothing stood above {}", u.height(height_mm))
            }
            Act::LayBarrier { active, rate_kg_ha, .. } => {
                let name = ACTIVES.get(usize::from(active.0)).copied().unwrap_or("");
                format!("{} of {} laid", u.active(rate_kg_ha), name.replace('_', " and "))
            }
            Act::LayNitrogen(forms) => format!("{} of nitrogen", u.spread(forms.total_g_m2())),
            Act::Wet { water_mm } => format!("watered, {} into the ground", u.water(water_mm)),
            Act::LayCompost { depth_mm } => format!("{} of compost spread", u.height(depth_mm)),
            Act::Spray { post, rate_kg_ha, reach } => {
                let with = format!("{} of {}", u.active(rate_kg_ha), post_name(post));
                match reach {
                    Reach::Blanket => format!("all of the lawn sprayed with {with}"),
                    Reach::Spots { .. } => {
                        format!("{} of the lawn sprayed in spots with {with}", share(work.ground))
                    }
                }
            }
            Act::SowGrass { seed, .. } => format!("{} of seed sown", u.spread(seed.total_g_m2())),
            Act::Tend(tended) => tending::done(&tended, u),
        };
        let late = late.map_or(String::new(), |late| {
            let by = (late.day.0 - late.due.0).unsigned_abs();
            let why = match late.why {
                Why::Late => String::new(),
                why => format!(": {}", reason(why)),
            };
            format!(", {} late{why}", days(by))
        });
        let off = self.off_rate(work);
        format!("{key}: {done}{off}{late}.")
    }

    /// How far a spreader or sprayer laid more or less than was meant; empty where it hardly did.
    fn off_rate(&self, work: &WorkEntry) -> String {
        let practice = self.program.practices.get(usize::from(work.practice));
        let (laid, meant) = match (work.act, practice.map(|p| &p.what)) {
            (
                Act::LayBarrier { rate_kg_ha, .. },
                Some(Doing::PreEmergent { rate_kg_ha: meant, .. }),
            ) => (rate_kg_ha, *meant),
            (Act::LayNitrogen(forms), Some(Doing::Spread { nitrogen, .. })) => {
                (forms.total_g_m2(), nitrogen.total_g_m2())
            }
            _ => return String::new(),
        };
        let off = if meant > 0.0 { laid / meant - 1.0 } else { 0.0 };
        if off.abs() < OFF_RATE {
            return String::new();
        }
        let side = if off > 0.0 { "more" } else { "less" };
        format!(", {} {side} than was meant", share(off.abs()))
    }

    /// The number that matters most of an entry, for the other program's side; empty where its date
    /// says it.
    pub fn gist(&self, entry: &Entry) -> String {
        match &entry.what {
            What::Turning(turning) => self.gist_of(turning),
            What::Work(work, _) => match work.act {
                Act::LayBarrier { rate_kg_ha, .. } | Act::Spray { rate_kg_ha, .. } => {
                    self.units.active(rate_kg_ha)
                }
                Act::LayNitrogen(forms) => self.units.spread(forms.total_g_m2()),
                Act::Wet { water_mm } => self.units.water(water_mm),
                Act::LayCompost { depth_mm } => self.units.height(depth_mm),
                Act::SowGrass { seed, .. } => self.units.spread(seed.total_g_m2()),
                Act::Tend(tended) => tending::amount(&tended, self.units),
                Act::Cut { .. } => String::new(),
            },
            What::Setback(_) => String::new(),
            What::Mowed(mowed) => {
                let over = match mowed.over_third {
                    0 => String::new(),
                    n => format!(", {n} of them over a third of the leaf"),
                };
                format!("{}{over}", times(mowed.times, "cut"))
            }
            What::Watered(watered) => self.units.water(watered.water_mm),
        }
    }

    fn gist_of(&self, turning: &Turning) -> String {
        let u = self.units;
        match *turning {
            Turning::BarrierInPlace { stopped, .. }
            | Turning::BarrierWaits { stopped, .. }
            | Turning::FirstSeedlings { stopped, .. } => {
                format!("the barrier stops {}", share(stopped))
            }
            Turning::BarrierBelow { days: since, .. } => {
                format!("{} after it was laid", days(since))
            }
            Turning::Flush { emerging_m2, through_m2, .. } => {
                format!("{} through, of {}", u.count(through_m2, ""), u.count(emerging_m2, ""))
            }
            Turning::CrabgrassPasses { plants_m2, .. } => u.count(plants_m2, "plants"),
            Turning::CrabgrassPeak { cover, .. } => share(cover),
            Turning::CrabgrassKilled { bare, .. } => format!("{} bare", share(bare)),
            Turning::CrabgrassDiesBack { most, cover, bare } => {
                format!("from {} to {}, {} bare", share(most), share(cover), share(bare))
            }
            Turning::DandelionPasses { plants_m2, .. } => u.sparse(plants_m2, "grown plants"),
            Turning::DandelionSeeds { seed_m2, .. } => u.count(seed_m2, "seeds"),
            Turning::CloverPasses { fixed_g_m2, .. } => {
                format!("{} of nitrogen from the air", u.spread(fixed_g_m2))
            }
            Turning::DandelionDies { bare, .. } | Turning::CloverDies { bare, .. } => {
                format!("{} bare", share(bare))
            }
            Turning::SeedSet { seed_m2, old_m2 } => {
                format!("{} beside {}", u.count(seed_m2, "seeds"), u.count(old_m2, ""))
            }
            Turning::NutsedgeUp { soil_c, .. } => format!("soil at {}", u.warmth(soil_c)),
            Turning::NutsedgePasses { shoots_m2, .. } => u.count(shoots_m2, "shoots"),
            Turning::NutsedgeKilled { tubers_m2, .. } => u.count(tubers_m2, "tubers left"),
            Turning::SprayWashed { lost, .. } => format!("{} of it", share(lost)),
            Turning::SprayTakes { crabgrass, dandelion, clover, nutsedge, .. } => {
                let most = [crabgrass, dandelion, clover, nutsedge].into_iter().flatten();
                format!("at most {} of a weed dies", share(most.fold(0.0, f64::max)))
            }
            Turning::TurfFilled { from, to, .. } | Turning::TurfThinned { from, to, .. } => {
                format!("from {} to {}", share(from), share(to))
            }
            Turning::Cut { leaf, .. } | Turning::Burned { leaf, .. } => {
                format!("{} of the leaf", share(leaf))
            }
            Turning::Tracks { browned, .. } => format!("{} of the lawn", share(browned)),
            Turning::Storm { runoff_mm, .. } => format!("{} runs off", u.water(runoff_mm)),
            Turning::GrowthStops { soil_water, .. } => format!("at {}", share(soil_water)),
            Turning::Browns { green, .. } | Turning::Dormant { green, .. } => {
                format!("{} still green", share(green))
            }
            Turning::Wakes { days: lasted, .. } | Turning::GreenAgain { days: lasted, .. } => {
                format!("after {}", days(lasted))
            }
            Turning::Leached { n_g_m2, .. }
            | Turning::WashedOff { n_g_m2, .. }
            | Turning::Ammonia { n_g_m2, .. }
            | Turning::ClippingsGaveBack { n_g_m2, .. } => u.spread(n_g_m2),
            Turning::SownOnBarrier { stopped } => {
                format!("the barrier stops {}", share(stopped))
            }
            Turning::SownUp { seedlings_m2, .. } => u.count(seedlings_m2, "seedlings"),
            Turning::FedWhenGreen { colour_short, .. } => {
                format!("{} points of colour short", fixed(colour_short, 1))
            }
            Turning::Hungry { growth } => format!("{} of the pace", share(growth)),
            Turning::Greens { from, to, .. } => {
                format!("from {} to {}", fixed(from, 1), fixed(to, 1))
            }
            Turning::QualityPasses { quality, .. } => fixed(quality, 1),
        }
    }

    fn setback(&self, setback: &Setback) -> String {
        let key = practice(self.practice_key(setback.practice));
        let why = reason(setback.why);
        let late = (setback.day.0 - setback.due.0).unsigned_abs();
        let due = date(setback.due);
        match setback.fate {
            Fate::Pushed if setback.why == Why::Late => {
                format!("{key}, due on {due}, comes {} late.", days(late))
            }
            Fate::Pushed => format!("{key}, due on {due}, comes {} late: {why}.", days(late)),
            Fate::Missed => format!("{key}: due, and nobody came."),
            Fate::GivenUp => {
                format!("{key}, due on {due}, is given up after {}: {why}.", days(late))
            }
            Fate::WindowClosed => {
                format!("{key}, due on {due}, is never done: {why} until its time was over.")
            }
            Fate::NotNeeded => format!("{key}: due, not needed ({why})."),
        }
    }

    fn mowed(&self, mowed: &Mowed, last: Day) -> String {
        let u = self.units;
        let key = practice(self.practice_key(mowed.practice));
        let to = u.height(mowed.to_mm);
        let mut out = if mowed.times == 1 {
            format!("{key}: once, at {to}")
        } else {
            let (first, last) = (date(mowed.first), date(last));
            format!("{key}: {} between {first} and {last}, at {to}", times(mowed.times, "cut"))
        };
        if mowed.from_mm > 0.0 {
            out.push_str(&format!(", from a canopy of {}", u.canopy(mowed.from_mm)));
        }
        out.push('.');
        let most = share(mowed.most_leaf);
        match mowed.over_third {
            0 => {}
            1 if mowed.times == 1 => {
                out.push_str(&format!(" It took {most} of the leaf, more than a third."));
            }
            n if n == mowed.times => {
                out.push_str(&format!(" Each took more than a third of the leaf, at most {most}."));
            }
            n => out.push_str(&format!(" {n} took more than a third of the leaf, at most {most}.")),
        }
        if mowed.lost > 0 {
            out.push_str(&format!(" {} not made.", times(mowed.lost, "due cut")));
        }
        out
    }

    fn watered(&self, watered: &Watered, last: Day) -> String {
        let key = practice(self.practice_key(watered.practice));
        let water = self.units.water(watered.water_mm);
        if watered.times == 1 {
            return format!("{key}: once, {water} into the ground.");
        }
        let (first, last) = (date(watered.first), date(last));
        let times = times(watered.times, "time");
        format!("{key}: {times} between {first} and {last}, {water} into the ground in all.")
    }

    pub(super) fn cut(&self, from_mm: f64, to_mm: f64, leaf: f64, cover_lost: f64) -> String {
        let u = self.units;
        let mut out = format!(
            "Mowed from {} to {}: {} of the leaf",
            u.canopy(from_mm),
            u.height(to_mm),
            share(leaf)
        );
        if leaf > THIRD + PLAINLY {
            out.push_str(" at one cut, more than a third");
        }
        if cover_lost >= 0.01 {
            out.push_str(&format!("; {} of the lawn opens", share(cover_lost)));
        }
        out.push('.');
        out
    }
}

/// " 38 % of the year's crabgrass has yet to come up.", once some has.
pub(super) fn rest(to_come: f64) -> String {
    if to_come >= 0.98 {
        return String::new();
    }
    format!(" {} of the year's crabgrass has yet to come up.", share(to_come))
}

/// "; 12 days since a good rain", where that is long.
pub(super) fn dry(dry_days: u32) -> String {
    if dry_days < 4 {
        String::new()
    } else {
        format!(", {} after the last good rain", days(dry_days))
    }
}

pub(super) fn shaded_out(displaced: f64) -> String {
    if displaced < 0.01 {
        return String::new();
    }
    format!("; it has shaded out turf on {}", share(displaced))
}

/// What took ground, the most first: ": crabgrass took 12 points, heat 3".
pub(super) fn takers(losses: &Losses) -> String {
    let mut all = [
        ("drought", losses.drought),
        ("spent reserves", losses.hunger),
        ("heat", losses.heat),
        ("summer blight", losses.blight),
        ("crabgrass", losses.crabgrass),
        ("mowing", losses.mowing),
        ("fertilizer burn", losses.burn),
    ];
    all.sort_by(|a, b| b.1.total_cmp(&a.1));
    let told = all.iter().filter(|(_, lost)| *lost >= 0.01).take(3);
    let parts: Vec<String> =
        told.map(|(what, lost)| format!("{what} {}", fixed(100.0 * lost, 0))).collect();
    match parts.len() {
        0 => String::new(),
        1 => format!("; points lost to {}", parts[0]),
        _ => format!("; points lost to {}", parts.join(", ")),
    }
}

/// What stood in the way, as the end of a sentence.
fn reason(why: Why) -> &'static str {
    match why {
        Why::Forgotten => "nobody came",
        Why::Late => "the crew was late",
        Why::NoVisitDay => "no visit day came",
        Why::Frozen => "the ground was frozen or under snow",
        Why::Wet => "the ground was too wet",
        Why::RainComing => "rain was promised",
        Why::Heat => "it was too hot",
        Why::Cold => "it was too cold",
        Why::Wind => "it was too windy",
        Why::Calm => "the air was still",
        Why::Dormant => "the turf was dormant",
        Why::Dry => "the soil was too dry",
        Why::Closed => "it was closed season",
        Why::FertilizerClosed => "local rules closed the season to fertilizer",
        Why::PesticideClosed => "local rules closed the season to pesticides",
        Why::WaterDay => "local rules allowed no watering that day",
        Why::FertilizerRain => "local rules allow no fertilizer ahead of heavy rain",
        Why::Event => "an event was on",
        Why::Short => "the grass was too short",
        Why::Mown => "the lawn had just been mown",
        Why::Sprayed => "the lawn had just been sprayed",
        Why::FewWeeds => "too few weeds stood",
        Why::GreenEnough => "the lawn was as green as its fed strip",
    }
}
