//! The two lessons as grids of paired comparisons.

use super::played::{Ground, Pair, Sample, Years};
use super::texts::{Program, Texts};
use std::error::Error;

/// Pre-emergents compared: name, product, total rate. The first is long-lived, the others short.
const BARRIERS: [(&str, &str, &str); 3] = [
    ("prodiamine", "prodiamine-wg-65", "0.5 lb ai/ac"),
    ("dithiopyr", "dithiopyr-liquid-2", "0.5 lb ai/ac"),
    ("pendimethalin", "pendimethalin-liquid-3-8", "2 lb ai/ac"),
];
const DATES: [&str; 3] = ["20 Mar", "10 Apr", "1 May"];
const WEEKS: [u32; 3] = [6, 8, 10];

/// The exponent of the blade profile, and `None`: drawn from its range, member by member.
const PROFILES: [Option<f64>; 4] = [Some(0.6), Some(1.0), Some(1.5), None];
const PROFILE_NOTE: &str = "The blade profile says how leaf is spread over the height: leaf below a \
     height goes as (height / canopy height) to this power, so that below 1 much of the leaf stands \
     low and above 1 it sits on top, where a mower takes it. It is not known for lawns; `drawn` \
     takes another value in each run";
const PROFILE: &str = "sward.blade_profile";
const HEIGHTS: [&str; 3] = ["2.5 in", "3 in", "3.5 in"];
const SELDOM: u32 = 14;
const OFTEN: [u32; 2] = [7, 5];

/// One comparison: where it was made, and what came of it.
pub struct Cell {
    /// A level for each of the lesson's factors.
    pub at: Vec<String>,
    /// The choice against its baseline.
    pub pair: Pair,
}

/// A lesson: the same choice in many places.
pub struct Lesson {
    /// Names of the factors.
    pub factors: Vec<&'static str>,
    /// Every combination of their levels.
    pub cells: Vec<Cell>,
    /// What else to know: a label and the median of the headline outcome.
    pub context: Vec<(String, f64)>,
    /// What the levels stand for.
    pub notes: Vec<String>,
    /// Calendar years of record behind the weather.
    pub record_years: u32,
    /// Seasons of a run.
    pub seasons: u32,
}

/// One barrier, laid once or in two halves of the same total.
pub fn barrier(ground: &Ground) -> Result<Lesson, Box<dyn Error>> {
    let texts = Texts::new()?;
    let (mut cells, mut context, mut years) = (vec![], vec![], Years::default());
    let mut notes = vec![];
    for (name, product, rate) in BARRIERS {
        let mut programs: Vec<Program> = vec![texts.usual("none").bare()?];
        for (i, date) in DATES.iter().enumerate() {
            let laid = |id: String, split| texts.usual(&id).barrier(product, rate, date, split);
            programs.push(laid(format!("once-{i}"), None)?);
            for weeks in WEEKS {
                programs.push(laid(format!("split-{i}-{weeks}"), Some(weeks))?);
            }
        }
        let (samples, of_run) = ground.play(&texts.scenario(programs, &ground.constants)?)?;
        years = of_run;
        let (none, laid) = samples.split_first().ok_or("nothing was played")?;
        if context.is_empty() {
            context.push(("no barrier".to_owned(), none.median("crabgrass_peak")));
        }
        let life = ground.constant(&format!("active.{name}.half_life_days")).unwrap_or(f64::NAN);
        notes.push(format!("{name} {rate}, half-life about {life:.0} days"));
        for (date, group) in DATES.iter().zip(laid.chunks_exact(1 + WEEKS.len())) {
            let [once, halves @ ..] = group else { continue };
            context.push((format!("{name} once, {date}"), once.median("crabgrass_peak")));
            for (weeks, half) in WEEKS.iter().zip(halves) {
                let at = vec![name.to_owned(), (*date).to_owned(), format!("{weeks} weeks")];
                cells.push(Cell { at, pair: half.against(once) });
            }
        }
    }
    let factors = vec!["barrier", "first date", "second half after"];
    let Years { record: record_years, seasons } = years;
    Ok(Lesson { factors, cells, context, notes, record_years, seasons })
}

/// The same height, cut seldom or often.
pub fn mowing(ground: &Ground) -> Result<Lesson, Box<dyn Error>> {
    let texts = Texts::new()?;
    let (mut cells, mut context, mut years) = (vec![], vec![], Years::default());
    let mut played: Vec<(String, Vec<Sample>)> = vec![];
    for profile in PROFILES {
        let mut constants = ground.constants.clone();
        constants.extend(profile.map(|value| (PROFILE.to_owned(), value)));
        let mut programs = vec![];
        for height in HEIGHTS {
            for days in [&[SELDOM][..], &OFTEN].concat() {
                let id = format!("every-{days}-at-{}", height.replace([' ', '.'], "-"));
                programs.push(texts.usual(&id).mown(days, height)?);
            }
        }
        let (samples, of_run) = ground.play(&texts.scenario(programs, &constants)?)?;
        years = of_run;
        let fixed = ground.constants.iter().any(|(name, _)| name == PROFILE);
        let called = match profile {
            Some(value) => format!("{value:.1}"),
            None if fixed => "as set".to_owned(),
            None => "drawn".to_owned(),
        };
        played.push((called, samples));
    }
    for (i, often) in OFTEN.iter().enumerate() {
        for (profile, samples) in &played {
            for (height, group) in HEIGHTS.iter().zip(samples.chunks_exact(1 + OFTEN.len())) {
                let [seldom, rest @ ..] = group else { continue };
                let at = vec![
                    format!("{often} days"),
                    format!("profile {profile}"),
                    (*height).to_owned(),
                ];
                cells.push(Cell { at, pair: rest[i].against(seldom) });
            }
        }
    }
    if let Some((_, samples)) = played.last() {
        for (height, group) in HEIGHTS.iter().zip(samples.chunks_exact(1 + OFTEN.len())) {
            let called = format!("every {SELDOM} days at {height}");
            context.push((called, group[0].median("crabgrass_peak")));
        }
    }
    let factors = vec!["cut every", "blade profile", "height"];
    let notes = vec![PROFILE_NOTE.to_owned()];
    let Years { record: record_years, seasons } = years;
    Ok(Lesson { factors, cells, context, notes, record_years, seasons })
}
