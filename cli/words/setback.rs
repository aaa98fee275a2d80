//! What did not go by the calendar, in words.

use sim::ensemble::ProgramResults;
use sim::work::{Fate, Setback, Why};

use super::figure::Figure;
use crate::units::Units;

/// What became of it: "given up".
pub fn fate(fate: Fate) -> &'static str {
    match fate {
        Fate::Pushed => "pushed",
        Fate::Missed => "missed",
        Fate::GivenUp => "given up",
        Fate::WindowClosed => "window closed",
        Fate::NotNeeded => "not needed",
    }
}

/// What stood in the way: "wet ground".
pub fn why(why: Why) -> &'static str {
    match why {
        Why::Forgotten => "nobody came",
        Why::Late => "late",
        Why::NoVisitDay => "no visit day",
        Why::Frozen => "frozen ground or snow",
        Why::Wet => "wet ground",
        Why::RainComing => "rain coming",
        Why::Heat => "heat",
        Why::Cold => "cold",
        Why::Wind => "wind",
        Why::Calm => "still air",
        Why::Dormant => "dormant turf",
        Why::Dry => "dry soil",
        Why::Closed => "closed season",
        Why::FertilizerClosed => "local rule: closed to fertilizer",
        Why::PesticideClosed => "local rule: closed to pesticides",
        Why::WaterDay => "local rule: no watering day",
        Why::FertilizerRain => "local rule: no fertilizer before heavy rain",
        Why::Event => "an event",
        Why::Short => "too short to cut",
        Why::Mown => "mown shortly before",
        Why::Sprayed => "sprayed shortly before",
        Why::FewWeeds => "too few weeds",
        Why::GreenEnough => "as green as its fed strip",
    }
}

/// "about 3 (9 in 10 between 1 and 6), most often: nobody came": work of a program that was wanted
/// and not done.
pub fn lost(program: &ProgramResults) -> String {
    let lost = |s: &&Setback| s.fate.is_lost();
    let counts: Vec<f64> =
        program.setbacks.iter().map(|all| all.iter().filter(lost).count() as f64).collect();
    let figure = Figure::new(&counts, "count", Units::Metric, "");
    if figure.is_nothing() {
        return "none".into();
    }
    format!("{}, most often: {}", figure.told().replace("  ", " "), often(program))
}

/// The reason that most of the lost work had; of two as frequent, the one that was met first.
fn often(program: &ProgramResults) -> &'static str {
    let mut counts: Vec<(Why, usize)> = Vec::new();
    for setback in program.setbacks.iter().flatten().filter(|s| s.fate.is_lost()) {
        match counts.iter_mut().find(|(why, _)| *why == setback.why) {
            Some((_, count)) => *count += 1,
            None => counts.push((setback.why, 1)),
        }
    }
    let most = counts.iter().map(|(_, count)| *count).max();
    counts.iter().find(|(_, count)| Some(*count) == most).map_or("", |(reason, _)| why(*reason))
}
