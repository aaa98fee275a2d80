//! What the telling remembers from one day to the next.

use super::super::plant::Plant;
use super::super::setting::MAX_GRASSES;
use super::super::state::{State, Today, Totals};
use super::super::{
    barrier, burn, clover, crabgrass, dandelion, mowing, nitrogen, nutsedge, quality, seeding,
    spray, tillers, traffic, water,
};
use crate::calendar::Day;

/// The lawn on the evening before, as far as the telling asks.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Before {
    pub totals: Totals,
    pub today: Today,
    pub plants: [Plant; MAX_GRASSES],
    pub turf_cover: f64,
    pub weed_cover: f64,
    pub nutsedge_cover: f64,
}

impl Before {
    pub(super) fn of(state: &State) -> Before {
        Before {
            totals: state.totals,
            today: state.today,
            plants: state.plants,
            turf_cover: state.turf_cover(),
            weed_cover: state.weed.cover,
            nutsedge_cover: state.nutsedge.cover,
        }
    }
}

/// Each process's own.
#[derive(Clone, Debug, Default)]
pub(in crate::lawn) struct Memory {
    pub barrier: barrier::Telling,
    pub burn: burn::Telling,
    pub clover: clover::Telling,
    pub crabgrass: crabgrass::Telling,
    pub dandelion: dandelion::Telling,
    pub mowing: mowing::Telling,
    pub nitrogen: nitrogen::Telling,
    pub nutsedge: nutsedge::Telling,
    pub quality: quality::Telling,
    pub seeding: seeding::Telling,
    pub spray: spray::Telling,
    pub traffic: traffic::Telling,
    pub turf: tillers::Telling,
    pub water: water::Telling,
}

/// Amounts that come on days close together, told as one.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Spell {
    /// Its first day, while it lasts.
    pub since: Option<Day>,
    /// Its last day so far.
    pub until: Day,
    /// Two amounts so far.
    pub sum: [f64; 2],
}

impl Spell {
    /// Takes a day's amounts.
    pub fn add(&mut self, today: Day, amounts: [f64; 2]) {
        self.since.get_or_insert(today);
        self.until = today;
        self.sum.iter_mut().zip(amounts).for_each(|(sum, more)| *sum += more);
    }

    /// Gives the spell and forgets it, where nothing was added for so many days.
    pub fn over(&mut self, today: Day, quiet_days: i32) -> Option<(Day, Spell)> {
        let since = self.since?;
        if today.0 - self.until.0 < quiet_days {
            return None;
        }
        Some((since, std::mem::take(self)))
    }
}

/// A day, the value of that day, and another.
pub(in crate::lawn) type Point = (Day, f64, f64);

/// A stretch in which a value goes one way; small turns back do not end it.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Leg {
    /// Where it began, and the farthest that it has come. While the way is not known, the highest and
    /// the lowest so far.
    pub ends: Option<[Point; 2]>,
    /// Up or down, once that is known.
    up: Option<bool>,
}

impl Leg {
    /// Takes today's value. Where it has turned back by `least` or more from the farthest, gives the
    /// leg that ended there, and goes on with the next. Also whether today is the farthest so far;
    /// steps under `step` do not count.
    pub fn take(&mut self, now: Point, least: f64, step: f64) -> (Option<Leg>, bool) {
        let Some([start, far]) = &mut self.ends else {
            self.ends = Some([now, now]);
            return (None, true);
        };
        let Some(up) = self.up else {
            let (high, low) = (start, far);
            if now.1 > high.1 {
                *high = now;
            } else if now.1 < low.1 {
                *low = now;
            }
            // It begins on the last day on which it still stood there.
            if now.1 - low.1 < step {
                low.0 = now.0;
            } else if high.1 - now.1 < step {
                high.0 = now.0;
            }
            if high.1 - low.1 >= least {
                let up = high.0 > low.0;
                self.ends = Some(if up { [*low, *high] } else { [*high, *low] });
                self.up = Some(up);
            }
            return (None, true);
        };
        let onward = if up { now.1 - far.1 } else { far.1 - now.1 };
        if onward >= step {
            *far = now;
            return (None, true);
        }
        if -onward >= least {
            let start = *far;
            let ended = *self;
            *self = Leg { ends: Some([start, now]), up: Some(!up) };
            return (Some(ended), true);
        }
        (None, false)
    }
}

/// A perennial weed that gains ground, and loses it again.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Rise {
    /// Levels that it has passed; none before the first evening.
    passed: Option<usize>,
    /// Most of what lasts of it through winter (plants, stolons), and its cover at most since then.
    most: [f64; 2],
}

impl Rise {
    /// Where its cover, 0..=1, is past a level for the first time, gives that level. What was there
    /// before the run (`seen`, 0..=1) is no news.
    pub fn passed(&mut self, cover: f64, seen: f64, levels: &[f64]) -> Option<f64> {
        let past = |cover: f64| levels.iter().filter(|level| cover > **level).count();
        let over = past(cover);
        let passed = *self.passed.get_or_insert(past(seen));
        if over <= passed {
            return None;
        }
        self.passed = Some(over);
        Some(levels[over - 1])
    }

    /// Where less than half is left of the most that there was of it, gives the cover that it gave up
    /// and the share that died; then it is told no more until it has grown anew.
    pub fn fell(&mut self, cover: f64, lasting: f64) -> Option<(f64, f64)> {
        let [most, most_cover] = &mut self.most;
        *most_cover = most_cover.max(cover);
        if lasting > *most {
            *most = lasting;
            return None;
        }
        if lasting >= FELL * *most || *most_cover - cover < LEAST_GAP {
            return None;
        }
        let told = (*most_cover - cover, 1.0 - lasting / *most);
        self.most = [lasting, cover];
        Some(told)
    }
}

/// So little of it is left when it counts as dead.
const FELL: f64 = 0.5;

/// A gap that is worth telling, share of the lawn.
const LEAST_GAP: f64 = 0.02;

/// A state that counts once it has lasted for some days.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::lawn) struct Waiting {
    /// Whether it is on.
    pub on: bool,
    /// Since when, and what there was to note on that day.
    pub since: Day,
    /// See `since`.
    pub mark: [f64; 3],
    coming: [f64; 3],
    run: i32,
}

impl Waiting {
    /// Takes whether today is on, and what there is to note of today; true on the day on which a
    /// change has lasted for `days`. `since` is then its first day, and `mark` that day's note.
    pub fn turned(&mut self, today: Day, on: bool, days: i32, mark: [f64; 3]) -> bool {
        self.run = if on == self.on { 0 } else { self.run + 1 };
        if self.run == 1 {
            self.coming = mark;
        }
        if self.run < days {
            return false;
        }
        (self.on, self.since, self.mark, self.run) = (on, today.plus(1 - days), self.coming, 0);
        true
    }
}
