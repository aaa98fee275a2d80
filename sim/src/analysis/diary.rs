//! The story of one track: work and turning points in order of time, and which of them matter most.
//!
//! How much an entry matters is the change that it stands for over the least difference that matters
//! of the outcome it bears on: five points of cover count 1, so do two weeks of quality, 0.3 g/m2 of
//! lost nitrogen, 10 mm of runoff, a tenth of the year's crabgrass stopped or let through. What is laid
//! is always told, and mowings and waterings are told as sums.

use std::mem::discriminant;

use crate::calendar::Day;
use crate::ensemble::ToldTrack;
use crate::lawn::turning::{Note, Turning};
use crate::outcomes::{OUTCOMES, outcome};
use crate::scenario::{Program, What as Doing};
use crate::work::{Act, Fate, Setback, WorkEntry};

/// Entries of a season that are told unless all are asked for.
pub const PER_SEASON: usize = 20;

/// What matters less than this is left to `--all`: half a difference that matters.
const LEAST_WEIGHT: f64 = 0.5;

/// Share of the year's crabgrass that counts 1.
const SEEDLINGS: f64 = 0.1;

/// Days of brown or sleeping turf that count 1.
const BROWN_DAYS: f64 = 7.0;

/// What a storm counts of its runoff: whatever the care, most of it runs off.
const RUNOFF_SHARE: f64 = 0.3;

/// Share of the leaf that a cut may take by the usual rule.
pub const THIRD: f64 = 1.0 / 3.0;

/// Past the third by less than this is a third, to the eye and in whole percents.
pub const PLAINLY: f64 = 0.01;

/// Nitrogen in clippings that counts 1, g/m2 (about a pound on 1,000 square feet).
const CLIPPINGS_G_M2: f64 = 5.0;

/// Something that happened or was done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// On the lawn.
    Turning(Turning),
    /// Work, and what kept it from its day where it came late.
    Work(WorkEntry, Option<Setback>),
    /// Other work that did not go by the calendar.
    Setback(Setback),
    /// Mowings of some months, as one; the entry's day is the last.
    Mowed(Mowed),
    /// Waterings of some months, as one; the entry's day is the last.
    Watered(Watered),
}

/// Mowings of one practice in some months.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mowed {
    /// Index of the practice.
    pub practice: u16,
    /// The first; the last is the entry's day.
    pub first: Day,
    /// How many.
    pub times: u32,
    /// Height of cut, mm.
    pub to_mm: f64,
    /// Height of the canopy when it was cut, mean, mm; 0 where nothing was ever cut.
    pub from_mm: f64,
    /// How many took more than a third of the leaf.
    pub over_third: u32,
    /// The largest share of leaf that one took.
    pub most_leaf: f64,
    /// How many due ones were missed or given up.
    pub lost: u32,
}

/// Waterings of one practice in some months.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Watered {
    /// Index of the practice.
    pub practice: u16,
    /// The first; the last is the entry's day.
    pub first: Day,
    /// How many.
    pub times: u32,
    /// What reached the ground, mm in all.
    pub water_mm: f64,
}

/// One entry of a diary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// When.
    pub day: Day,
    /// What.
    pub what: What,
    /// How much it matters, in least differences that matter; infinite for what is always told.
    pub weight: f64,
}

/// Everything that is known of a track, one by one, in order of time: on a day the work first.
pub fn all(told: &ToldTrack) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    let ToldTrack { track, notes, .. } = told;
    // What a mowing took is told by the lawn, where there was anything to take.
    let cut_on =
        |day: Day| notes.iter().any(|n| n.day == day && matches!(n.turning, Turning::Cut { .. }));
    let mut late: Vec<&Setback> = Vec::new();
    for work in track.work.iter().filter(|w| !(is_cut(w) && cut_on(w.day))) {
        let why = track
            .setbacks
            .iter()
            .find(|s| s.fate == Fate::Pushed && (s.day, s.practice) == (work.day, work.practice));
        let first = why.filter(|why| !late.contains(why));
        late.extend(first);
        let weight = if is_cut(work) || is_wet(work) { 0.0 } else { f64::INFINITY };
        entries.push(Entry { day: work.day, what: What::Work(*work, first.copied()), weight });
    }
    for setback in track.setbacks.iter().filter(|s| !late.contains(s)) {
        let what = What::Setback(*setback);
        entries.push(Entry { day: setback.day, what, weight: setback_weight(setback) });
    }
    for (at, note) in notes.iter().enumerate() {
        let weight = weight(note, &notes[at + 1..]);
        entries.push(Entry { day: note.day, what: What::Turning(note.turning), weight });
    }
    entries.sort_by_key(|entry| entry.day);
    entries
}

/// The entries of each season that matter most, with the sums of what is done again and again.
pub fn chosen(told: &ToldTrack, program: &Program, per_season: usize) -> Vec<Entry> {
    let mut kept = sums(told, program);
    for season in all(told).chunk_by(|a, b| a.day.ymd().0 == b.day.ymd().0) {
        let worth = |e: &(usize, &Entry)| e.1.weight >= LEAST_WEIGHT && !folded(e.1, program);
        let mut order: Vec<(usize, &Entry)> = season.iter().enumerate().filter(worth).collect();
        // The weightiest first; of two alike, the earlier.
        order.sort_by(|a, b| b.1.weight.total_cmp(&a.1.weight));
        order.truncate(per_season);
        order.sort_by_key(|(at, _)| *at);
        kept.extend(order.into_iter().map(|(_, entry)| *entry));
    }
    kept.sort_by_key(|entry| entry.day);
    kept
}

fn is_cut(work: &WorkEntry) -> bool {
    matches!(work.act, Act::Cut { .. })
}

fn is_wet(work: &WorkEntry) -> bool {
    matches!(work.act, Act::Wet { .. })
}

/// Whether an entry is told within a sum: setbacks of mowing and watering.
fn folded(entry: &Entry, program: &Program) -> bool {
    let What::Setback(setback) = entry.what else { return false };
    let what = program.practices.get(usize::from(setback.practice)).map(|p| &p.what);
    matches!(what, Some(Doing::Mow { .. } | Doing::Water { .. }))
}

/// Parts of the year over which sums are told: to the end of June, July and August, and the rest.
fn part_of_year(day: Day) -> (i32, u8) {
    let (year, month, _) = day.ymd();
    (year, if month < 7 { 0 } else { u8::from(month > 8) + 1 })
}

/// Mowings and waterings, as sums over parts of the year.
fn sums(told: &ToldTrack, program: &Program) -> Vec<Entry> {
    let mut out = Vec::new();
    for (practice, of) in program.practices.iter().enumerate() {
        let practice = practice as u16;
        let work: Vec<&WorkEntry> =
            told.track.work.iter().filter(|w| w.practice == practice).collect();
        for part in work.chunk_by(|a, b| part_of_year(a.day) == part_of_year(b.day)) {
            let (Some(first), Some(last)) = (part.first(), part.last()) else { continue };
            let (first, day) = (first.day, last.day);
            let what = match of.what {
                Doing::Mow { height_mm, .. } => {
                    What::Mowed(mowed(told, practice, height_mm, (first, day), part.len()))
                }
                Doing::Water { .. } => {
                    let wet = |w: &&WorkEntry| match w.act {
                        Act::Wet { water_mm } => water_mm,
                        _ => 0.0,
                    };
                    let water_mm = part.iter().map(wet).sum();
                    What::Watered(Watered { practice, first, times: part.len() as u32, water_mm })
                }
                _ => continue,
            };
            out.push(Entry { day, what, weight: f64::INFINITY });
        }
    }
    out
}

fn mowed(
    told: &ToldTrack,
    practice: u16,
    to_mm: f64,
    (first, last): (Day, Day),
    times: usize,
) -> Mowed {
    let part = part_of_year(last);
    let worked = |day: Day| {
        told.track.work.iter().any(|w| w.practice == practice && w.day == day && is_cut(w))
    };
    let cuts: Vec<(f64, f64)> = told
        .notes
        .iter()
        .filter(|note| (first..=last).contains(&note.day) && worked(note.day))
        .filter_map(|note| match note.turning {
            Turning::Cut { from_mm, leaf, .. } => Some((from_mm, leaf)),
            _ => None,
        })
        .collect();
    let from_mm = cuts.iter().map(|cut| cut.0).sum::<f64>() / cuts.len().max(1) as f64;
    let lost =
        |s: &&Setback| s.practice == practice && s.fate.is_lost() && part_of_year(s.due) == part;
    Mowed {
        practice,
        first,
        times: times as u32,
        to_mm,
        from_mm,
        over_third: cuts.iter().filter(|cut| cut.1 > THIRD + PLAINLY).count() as u32,
        most_leaf: cuts.iter().map(|cut| cut.1).fold(0.0, f64::max),
        lost: told.track.setbacks.iter().filter(lost).count() as u32,
    }
}

/// The least difference that matters of an outcome, in its unit.
fn least(key: &str) -> f64 {
    outcome(key).map_or(1.0, |at| OUTCOMES[at].least_difference)
}

fn setback_weight(setback: &Setback) -> f64 {
    match setback.fate {
        Fate::NotNeeded => 0.0,
        // A week of waiting.
        Fate::Pushed => f64::from(setback.day.0 - setback.due.0) / 7.0,
        Fate::Missed | Fate::GivenUp | Fate::WindowClosed => f64::INFINITY,
    }
}

/// How much a turning point matters; `later` are those after it.
fn weight(note: &Note, later: &[Note]) -> f64 {
    let cover = least("turf_cover_end") / 100.0;
    let weed = least("crabgrass_peak") / 100.0;
    let nitrogen = least("n_leached");
    // Days until the next of a kind.
    let until = |next: fn(&Turning) -> bool| {
        let found = later.iter().find(|n| next(&n.turning));
        found.map_or(30.0, |n| f64::from(n.day.0 - note.day.0))
    };
    match note.turning {
        Turning::BarrierInPlace { stopped, to_come, .. } => stopped * to_come / SEEDLINGS,
        Turning::BarrierWaits { lost, stopped, .. } => (lost + 0.5 * (1.0 - stopped)) / SEEDLINGS,
        Turning::BarrierBelow { level, to_come, .. } => level * to_come / SEEDLINGS,
        Turning::FirstSeedlings { stopped, .. } => 1.0 + stopped,
        Turning::Flush { emerging_m2, through_m2, .. } => {
            1.0 + through_m2 / emerging_m2.max(1.0) / SEEDLINGS
        }
        Turning::CrabgrassPasses { level, displaced, .. } => 0.5 * level / weed + displaced / cover,
        Turning::CrabgrassPeak { cover, .. } | Turning::CrabgrassKilled { cover, .. } => {
            cover / weed
        }
        Turning::CrabgrassDiesBack { most, cover, .. } => (most - cover) / weed,
        Turning::DandelionPasses { level, .. } | Turning::CloverPasses { level, .. } => {
            1.0 + 0.5 * level / weed
        }
        Turning::DandelionDies { cover: lost, .. } | Turning::CloverDies { cover: lost, .. } => {
            lost / weed
        }
        Turning::DandelionSeeds { .. } | Turning::NutsedgeUp { .. } => 1.0,
        Turning::NutsedgePasses { level, .. } | Turning::NutsedgeKilled { cover: level, .. } => {
            level / weed
        }
        Turning::SprayWashed { lost, .. } => lost / SEEDLINGS,
        Turning::SprayTakes { .. } => 3.0,
        Turning::SeedSet { seed_m2, old_m2 } => seed_m2 / (seed_m2 + old_m2) / (3.0 * SEEDLINGS),
        Turning::TurfFilled { from, to, .. } | Turning::TurfThinned { from, to, .. } => {
            (to - from).abs() / cover
        }
        Turning::Cut { leaf, cover_lost, .. } => {
            (leaf - 1.5 * THIRD).max(0.0) / SEEDLINGS + cover_lost / cover
        }
        Turning::Storm { runoff_mm, .. } => RUNOFF_SHARE * runoff_mm / least("runoff"),
        Turning::GrowthStops { .. } => 1.5,
        Turning::Browns { .. } => {
            1.0 + until(|t| matches!(t, Turning::GreenAgain { .. })) / BROWN_DAYS
        }
        Turning::Dormant { .. } => 1.0 + until(|t| matches!(t, Turning::Wakes { .. })) / BROWN_DAYS,
        Turning::Wakes { days, .. } | Turning::GreenAgain { days, .. } => {
            1.0 + f64::from(days) / BROWN_DAYS
        }
        Turning::Leached { n_g_m2, .. }
        | Turning::WashedOff { n_g_m2, .. }
        | Turning::Ammonia { n_g_m2, .. } => n_g_m2 / nitrogen,
        Turning::FedWhenGreen { .. } => 1.0,
        Turning::SownUp { .. } => 3.0,
        Turning::SownOnBarrier { stopped } => 1.0 + stopped / SEEDLINGS,
        Turning::Burned { leaf, cover_lost, .. } => (leaf + cover_lost) / cover,
        Turning::Tracks { browned, opened, .. } => (browned + opened) / cover,
        Turning::Hungry { .. } => 1.0,
        Turning::Greens { from, to, .. } => (to - from) / least("quality_summer"),
        Turning::ClippingsGaveBack { n_g_m2, .. } => n_g_m2 / CLIPPINGS_G_M2,
        // Quality counts from April to October, as in `days_acceptable`.
        Turning::QualityPasses { .. } if !(4..=10).contains(&note.day.ymd().1) => 0.0,
        Turning::QualityPasses { .. } => {
            until(|t| matches!(t, Turning::QualityPasses { .. })) / least("days_acceptable")
        }
    }
}

impl What {
    /// Whether two entries of two programs tell the same thing, with whatever numbers: the same kind of
    /// turning point at the same line, work or setback of practices with the same key. `key` and `others`
    /// name the practices of the two.
    pub fn is_like<K: PartialEq>(
        &self,
        other: &What,
        key: impl Fn(u16) -> K,
        others: impl Fn(u16) -> K,
    ) -> bool {
        match (self, other) {
            (What::Turning(a), What::Turning(b)) => a.is_like(b),
            (What::Work(a, _), What::Work(b, _)) => {
                discriminant(&a.act) == discriminant(&b.act)
                    && key(a.practice) == others(b.practice)
            }
            (What::Setback(a), What::Setback(b)) => {
                a.fate == b.fate && key(a.practice) == others(b.practice)
            }
            (What::Mowed(a), What::Mowed(b)) => {
                key(a.practice) == others(b.practice)
                    && part_of_year(a.first) == part_of_year(b.first)
            }
            (What::Watered(a), What::Watered(b)) => {
                key(a.practice) == others(b.practice)
                    && part_of_year(a.first) == part_of_year(b.first)
            }
            _ => false,
        }
    }
}

impl Turning {
    /// Whether two turning points are of one kind and at one line.
    pub fn is_like(&self, other: &Turning) -> bool {
        discriminant(self) == discriminant(other)
            && match (self, other) {
                (
                    Turning::BarrierBelow { level: a, .. },
                    Turning::BarrierBelow { level: b, .. },
                )
                | (Turning::Flush { share: a, .. }, Turning::Flush { share: b, .. })
                | (
                    Turning::DandelionPasses { level: a, .. },
                    Turning::DandelionPasses { level: b, .. },
                )
                | (
                    Turning::CloverPasses { level: a, .. },
                    Turning::CloverPasses { level: b, .. },
                )
                | (
                    Turning::CrabgrassPasses { level: a, .. },
                    Turning::CrabgrassPasses { level: b, .. },
                )
                | (
                    Turning::NutsedgePasses { level: a, .. },
                    Turning::NutsedgePasses { level: b, .. },
                ) => a == b,
                (Turning::QualityPasses { up: a, .. }, Turning::QualityPasses { up: b, .. }) => {
                    a == b
                }
                _ => true,
            }
    }

    /// The measure that shows a turning point best, by key; `None` where no measure does.
    pub fn measure(&self) -> Option<&'static str> {
        match self {
            Turning::BarrierInPlace { .. }
            | Turning::BarrierWaits { .. }
            | Turning::BarrierBelow { .. }
            | Turning::FirstSeedlings { .. } => Some("barrier"),
            Turning::Flush { .. } => Some("crabgrass_emerged"),
            Turning::CrabgrassPasses { .. } | Turning::CrabgrassPeak { .. } => {
                Some("crabgrass_cover")
            }
            Turning::CrabgrassKilled { .. }
            | Turning::CrabgrassDiesBack { .. }
            | Turning::DandelionDies { .. }
            | Turning::CloverDies { .. } => Some("bare_ground"),
            Turning::DandelionPasses { .. } | Turning::DandelionSeeds { .. } => {
                Some("broadleaf_cover")
            }
            Turning::NutsedgeUp { .. }
            | Turning::NutsedgePasses { .. }
            | Turning::NutsedgeKilled { .. } => Some("nutsedge_cover"),
            Turning::SprayWashed { .. } => None,
            Turning::SprayTakes { crabgrass, dandelion, clover, .. } => {
                Some(if crabgrass.is_some() {
                    "crabgrass_cover"
                } else if dandelion.is_some() {
                    "broadleaf_cover"
                } else if clover.is_some() {
                    "clover_cover"
                } else {
                    "nutsedge_cover"
                })
            }
            Turning::CloverPasses { .. } => Some("clover_cover"),
            Turning::TurfFilled { .. }
            | Turning::TurfThinned { .. }
            | Turning::SownUp { .. }
            | Turning::SownOnBarrier { .. } => Some("turf_cover"),
            Turning::Browns { .. }
            | Turning::Dormant { .. }
            | Turning::Wakes { .. }
            | Turning::GreenAgain { .. }
            | Turning::Burned { .. }
            | Turning::Tracks { .. } => Some("green_cover"),
            Turning::Greens { .. } | Turning::Hungry { .. } => Some("colour"),
            Turning::FedWhenGreen { .. } => Some("colour_short"),
            Turning::QualityPasses { .. } => Some("quality"),
            Turning::SeedSet { .. }
            | Turning::Cut { .. }
            | Turning::Storm { .. }
            | Turning::GrowthStops { .. }
            | Turning::Leached { .. }
            | Turning::WashedOff { .. }
            | Turning::Ammonia { .. }
            | Turning::ClippingsGaveBack { .. } => None,
        }
    }
}
