//! What is done, when, with what load, and how its dates spread, in the sheet's language.

use sim::analysis::sheet::load::{
    ACRE_128TH_M2, Dose, bags_to_buy, calibration_catch_ml, minutes_of_water, passes, tank_mix,
};
use sim::analysis::sheet::{Job, Load, Material, Spread, TOPSOIL, Tool};
use sim::calendar::{LEAP_YEAR, MonthDay};
use sim::ensemble::odds::Odds;
use sim::quantity::Kind;
use sim::scenario::{Cue, Hold, Practice, Tend, What};
use sim::work::{Clippings, Fate, Sowing, Stimulant, Tending};

use super::figures::{self, amount, carrier, carrier_large, number, shown, water, weight};
use super::gear::Tools;
use super::phrases::{Lang, Say};
use crate::units::Units;
use crate::words::name::{SECOND, practice_in_line, upper_first};

/// 1 US gallon and 1 US fluid ounce, mL (NIST SP 811, appendix B.8).
const FL_OZ_ML: f64 = 29.573_529_562_5;

/// A square of 10 m2, for a calibration in metric units.
const METRIC_PLOT_M2: f64 = 10.0;

/// In which language and units, and with which gear.
#[derive(Clone, Copy, Debug)]
pub(super) struct Voice<'a> {
    pub lang: Lang,
    pub units: Units,
    pub tools: &'a Tools,
}

impl Voice<'_> {
    /// A practice's own name: its key as the person wrote it.
    pub(super) fn name(&self, key: &str) -> String {
        upper_first(&self.name_in_line(key))
    }

    fn name_in_line(&self, key: &str) -> String {
        match key.strip_suffix(SECOND) {
            Some(half) => self.lang.fill(Say::SecondHalf, &[&practice_in_line(half)]),
            None => practice_in_line(key),
        }
    }

    /// "0.5 in".
    pub(super) fn depth(&self, mm: f64) -> String {
        shown(mm, Kind::Depth, self.units)
    }

    /// "mow at 3 in, leave the clippings".
    pub(super) fn does(&self, what: &What) -> String {
        let fill = |say, gap: &str| self.lang.fill(say, &[gap]);
        match what {
            What::Mow { height_mm, clippings } => {
                let say = match clippings {
                    Clippings::Return => Say::MowLeave,
                    Clippings::Collect => Say::MowBag,
                };
                fill(say, &self.depth(*height_mm))
            }
            What::PreEmergent { product, .. } => fill(Say::PreEmergent, &product.name),
            What::Spread { product, .. } => fill(Say::Spread, &product.name),
            What::Water { depth_mm } => fill(Say::Water, &self.depth(*depth_mm)),
            What::Topdress { depth_mm, .. } => fill(Say::Topdress, &self.depth(*depth_mm)),
            What::Spray(spray) => {
                let say = if spray.spots { Say::SpraySpots } else { Say::SprayWeeds };
                fill(say, &spray.product.name)
            }
            What::Tend(tend) => self.tends(tend),
            What::Overseed { method, product, .. } => {
                let say = match method {
                    Sowing::Broadcast => Say::SowBroadcast,
                    Sowing::Raked => Say::SowRaked,
                    Sowing::Slit => Say::SowSlit,
                };
                fill(say, &product.name)
            }
        }
    }

    fn tends(&self, tend: &Tend) -> String {
        let product = tend.product.as_ref().map_or("", |product| product.name.as_str());
        let (say, gap) = match tend.tending {
            Tending::Core { depth_mm, .. } => (Say::Core, self.depth(depth_mm)),
            Tending::Scarify { depth_mm } => (Say::Scarify, self.depth(depth_mm)),
            Tending::Kill { .. } => (Say::Kill, product.into()),
            Tending::Level { depth_mm } => (Say::Level, self.depth(depth_mm)),
            Tending::LaySod { .. } => return self.lang.say(Say::Sod).into(),
            Tending::Lime { .. } => (Say::Lime, product.into()),
            Tending::SprayIron { .. } => (Say::Iron, product.into()),
            Tending::Stimulate { kind, .. } => {
                (Say::Stimulate, self.lang.say(stimulant(kind)).into())
            }
            Tending::FeedStrip => return self.lang.say(Say::FeedStrip).into(),
        };
        self.lang.fill(say, &[&gap])
    }

    fn month_day(&self, day: MonthDay) -> String {
        figures::day(day.in_year(LEAP_YEAR), self.lang)
    }

    /// What calls for a practice: "on 10 May, 10 Sep". `all` are the practices of its program.
    pub(super) fn when(&self, cue: &Cue, all: &[Practice]) -> String {
        let day = |d: &MonthDay| self.month_day(*d);
        let fill = |say, gaps: &[&str]| self.lang.fill(say, gaps);
        match cue {
            Cue::Dates(days) => {
                fill(Say::OnDate, &[&days.iter().map(day).collect::<Vec<_>>().join(", ")])
            }
            Cue::Every { days, from, to } => {
                fill(Say::EveryDays, &[&days.to_string(), &day(from), &day(to)])
            }
            Cue::SoilTemperature { at_least_c, for_days, from, to } => {
                let value = shown(*at_least_c, Kind::Temperature, self.units);
                fill(Say::SoilTemperature, &[&value, &for_days.to_string(), &day(from), &day(to)])
            }
            Cue::DegreeDays { at_least_c_days, base_c, from, to } => {
                let sum = shown(*at_least_c_days, Kind::DegreeDays, self.units);
                let base = shown(*base_c, Kind::Temperature, self.units);
                fill(Say::DegreeDays, &[&sum, &base, &day(from), &day(to)])
            }
            Cue::CanopyHeight { at_least_mm, from, to, min_gap_days } => fill(
                Say::CanopyHeight,
                &[&self.depth(*at_least_mm), &day(from), &day(to), &min_gap_days.to_string()],
            ),
            Cue::DaysAfter { practice, days } => {
                let leader = all.get(*practice).map(|p| self.name_in_line(&p.key));
                fill(Say::DaysAfter, &[&days.to_string(), &leader.unwrap_or_default()])
            }
            Cue::WeedCover { stand, at_least, from, to, min_gap_days } => {
                let share = shown(*at_least, Kind::Share, self.units);
                let gaps = [stand.name(), &share, &day(from), &day(to), &min_gap_days.to_string()];
                fill(Say::WeedCover, &gaps)
            }
            Cue::DrySoil { at_most, from, to, min_gap_days } => {
                let share = shown(*at_most, Kind::Share, self.units);
                fill(Say::DrySoil, &[&share, &day(from), &day(to), &min_gap_days.to_string()])
            }
        }
    }

    /// "Not while: wind 12 mph or more; over 0.5 in of rain the day before."; empty without holds.
    pub(super) fn holds(&self, holds: &[Hold]) -> String {
        if holds.is_empty() {
            return String::new();
        }
        let told: Vec<String> = holds.iter().map(|hold| self.hold(hold)).collect();
        self.lang.fill(Say::NotWhile, &[&told.join("; ")])
    }

    fn hold(&self, hold: &Hold) -> String {
        let fill = |say, gap: &str| self.lang.fill(say, &[gap]);
        match *hold {
            Hold::Hotter { than_c } => {
                fill(Say::Hotter, &shown(than_c, Kind::Temperature, self.units))
            }
            Hold::RainComing { mm } => fill(Say::RainComing, &self.depth(mm)),
            Hold::RainIn3Days { mm } => fill(Say::RainIn3Days, &self.depth(mm)),
            Hold::Wet { mm } => fill(Say::Wet, &self.depth(mm)),
            Hold::Dormant => self.lang.say(Say::Dormant).into(),
            Hold::Drier { than } => fill(Say::Drier, &shown(than, Kind::Share, self.units)),
            Hold::Windy { m_s } => fill(Say::Windy, &shown(m_s, Kind::Speed, self.units)),
            Hold::Closed { from, to } => {
                self.lang.fill(Say::Closed, &[&self.month_day(from), &self.month_day(to)])
            }
            Hold::NothingToCut => self.lang.say(Say::NothingToCut).into(),
            Hold::Cooler { than_c } => {
                fill(Say::Cooler, &shown(than_c, Kind::Temperature, self.units))
            }
            Hold::Calm { m_s } => fill(Say::Calm, &shown(m_s, Kind::Speed, self.units)),
            Hold::MownWithin { days } => fill(Say::MownWithin, &days.to_string()),
            Hold::SprayedWithin { days } => fill(Say::SprayedWithin, &days.to_string()),
            Hold::NothingToSpray { below } | Hold::FewWeeds { below, .. } => {
                fill(Say::FewWeeds, &shown(below, Kind::Share, self.units))
            }
            Hold::GreenWithin { points } => fill(Say::GreenWithin, &points.to_string()),
            Hold::ShorterThan { mm } => fill(Say::ShorterThan, &self.depth(mm)),
        }
    }

    /// "18 of 20": never finer than the members support.
    fn odds(&self, odds: Odds) -> String {
        let so_many = |hits: u32, of: u32| {
            self.lang.fill(Say::SoManyOf, &[&hits.to_string(), &of.to_string()])
        };
        let all = || self.lang.fill(Say::AllOf, &[&odds.of.to_string()]);
        let Some(steps) = odds.denominator() else { return so_many(odds.hits, odds.of) };
        if odds.hits == odds.of {
            return all();
        }
        match (odds.share() * f64::from(steps)).round() as u32 {
            0 => self.lang.fill(Say::FewerThan, &[&steps.to_string()]),
            near if near == steps => {
                self.lang.fill(Say::MoreThan, &[&(steps - 1).to_string(), &steps.to_string()])
            }
            near => so_many(near, steps),
        }
    }

    /// "4-21 Apr in 18 of 20 futures, half by 12 Apr; not done in 1 of 20".
    pub(super) fn spread(&self, spread: &Spread) -> String {
        let mut told = String::new();
        if let Some([early, middle, late]) = spread.days {
            let odds = self.odds(spread.between);
            told = self.lang.fill(Say::Between, &[&figures::days(early, late, self.lang), &odds]);
            if early != late {
                let by = figures::day(middle, self.lang);
                told.push_str(&format!(", {}", self.lang.fill(Say::HalfBy, &[&by])));
            }
        }
        let rest = [
            (Say::PutOff, spread.put_off),
            (Say::NotDone, spread.not_done),
            (Say::NotNeeded, spread.not_needed),
        ];
        for (say, odds) in rest.into_iter().filter(|(_, odds)| odds.hits > 0) {
            let mark = if told.is_empty() { "" } else { "; " };
            told.push_str(&format!("{mark}{}", self.lang.fill(say, &[&self.odds(odds)])));
        }
        told
    }

    /// What kept a job from its day, where something did.
    pub(super) fn fate(&self, job: &Job) -> Option<String> {
        let (fate, why) = job.call.fate?;
        let why = self.lang.why(why);
        Some(match fate {
            Fate::Pushed => {
                let due = figures::day(job.call.due, self.lang);
                self.lang.fill(Say::DueOn, &[&due, why])
            }
            Fate::Missed | Fate::GivenUp | Fate::WindowClosed | Fate::NotNeeded => {
                self.lang.fill(Say::LeftUndone, &[why])
            }
        })
    }

    /// What is laid as a layer: compost, unless it has a name of its own.
    pub(super) fn loose(&self, material: &Material) -> &'static str {
        self.lang.say(if material.name == TOPSOIL { Say::Topsoil } else { Say::Compost })
    }

    /// The amount of a load: "18.75 lb (18 lb 12 oz), 0.38 bag of 50 lb".
    pub(super) fn load(&self, load: &Load) -> String {
        let told = amount(load.material.dose, load.amount, self.units);
        match (load.material.dose, load.material.tool) {
            (Dose::Dry(_), Tool::Spreader | Tool::SlitSeeder) => {
                let bags = number(load.amount / self.tools.bag_kg);
                let bag = weight(self.tools.bag_kg, self.units);
                let bags = self.lang.fill(Say::Bags, &[&bags, &bag]);
                format!("{}, {bags}", self.lang.fill(Say::Load, &[&told]))
            }
            (Dose::Layer(_), _) => {
                let what = self.loose(&load.material);
                let layer = self.lang.fill(Say::Layer, &[&told, what]);
                self.lang.fill(Say::Load, &[&layer])
            }
            (Dose::Water(mm), _) => match self.tools.sprinkler_mm_h {
                Some(rate) => {
                    let minutes = number(minutes_of_water(mm, rate).round());
                    let rate = shown(rate, Kind::DepthPerHour, self.units);
                    format!("{told}, {}", self.lang.fill(Say::RunFor, &[&minutes, &rate]))
                }
                None => told,
            },
            _ => self.lang.fill(Say::Load, &[&told]),
        }
    }

    /// How a load is divided: passes of a spreader, fills of a tank; `None` where it is not.
    pub(super) fn divided(&self, load: &Load) -> Option<String> {
        let Load { material, area_m2, amount: whole } = load;
        let told = |part: f64| amount(material.dose, part, self.units);
        match material.tool {
            Tool::Spreader => {
                let split = passes(*whole, *area_m2, self.tools.spreader_m);
                let width = self.tools.width(self.units);
                let gaps = [told(split.each), width, split.across.to_string()];
                Some(self.lang.fill(Say::TwoPasses, &gaps.each_ref().map(String::as_str)))
            }
            Tool::SlitSeeder => {
                let each = passes(*whole, *area_m2, self.tools.spreader_m).each;
                Some(self.lang.fill(Say::TwoWays, &[&told(each)]))
            }
            Tool::Sprayer => Some(self.tank(load)),
            Tool::Barrow | Tool::Sprinkler => None,
        }
    }

    fn tank(&self, load: &Load) -> String {
        let told = |part: f64| amount(load.material.dose, part, self.units);
        let mixed = |litres: f64| water(litres, self.units);
        let least = load.material.dose.carries_ml_m2();
        let Tools { carrier_ml_m2, tank_l, .. } = *self.tools;
        let mix = tank_mix(load.amount, least, load.area_m2, carrier_ml_m2, tank_l);
        let rate = carrier(carrier_ml_m2.max(least), self.units);
        let full = mix.full_fills.to_string();
        let tank = mixed(tank_l);
        let fill = |say, gaps: &[&str]| self.lang.fill(say, gaps);
        match (mix.full_fills, mix.last_l > 0.0) {
            (0, _) => fill(Say::TankOne, &[&mixed(mix.mix_l), &rate, &told(load.amount)]),
            (_, false) => fill(
                Say::TankEven,
                &[&mixed(mix.mix_l), &rate, &tank, &full, &told(mix.product_a_fill)],
            ),
            (_, true) => fill(
                Say::Tank,
                &[
                    &mixed(mix.mix_l),
                    &rate,
                    &tank,
                    &full,
                    &told(mix.product_a_fill),
                    &mixed(mix.last_l),
                    &told(mix.product_in_last),
                ],
            ),
        }
    }

    /// How to see that the sprayer lays what it should.
    pub(super) fn calibration(&self) -> String {
        let rate = self.tools.carrier_ml_m2;
        let large = carrier_large(rate, self.units);
        let small = carrier(rate, self.units);
        let (say, caught) = match self.units {
            Units::Us => (Say::CalibrateUs, calibration_catch_ml(rate, ACRE_128TH_M2) / FL_OZ_ML),
            Units::Metric => (Say::CalibrateMetric, calibration_catch_ml(rate, METRIC_PLOT_M2)),
        };
        self.lang.fill(say, &[&number(caught), &large, &small])
    }

    /// What of a product a year takes: "37.5 lb; bags of 50 lb: 1".
    pub(super) fn purchase(&self, dose: Dose, tool: Tool, whole: f64) -> String {
        let told = amount(dose, whole, self.units);
        match (dose, tool) {
            (Dose::Dry(_), Tool::Spreader | Tool::SlitSeeder) if whole > 0.0 => {
                let bags = bags_to_buy(whole, self.tools.bag_kg).to_string();
                let bag = weight(self.tools.bag_kg, self.units);
                self.lang.fill(Say::BagsOf, &[&told, &bag, &bags])
            }
            _ => told,
        }
    }
}

fn stimulant(kind: Stimulant) -> Say {
    match kind {
        Stimulant::Humic => Say::Humic,
        Stimulant::Seaweed => Say::Seaweed,
        Stimulant::Microbial => Say::Microbial,
    }
}
