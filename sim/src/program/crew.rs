//! The crew: takes a program through one member's mornings.

use super::cue::{CueState, End, Trigger};
use super::hold::{ground_closed, holds};
use super::slip::{Slip, week_of};
use crate::calendar::Day;
use crate::draw::{Streams, key};
use crate::scenario::{Cue, Hold, Lawn, Program, Slips, What};
use crate::weather::Forecast;
use crate::work::{Act, Signs};

/// One act of this morning, and whose it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Job {
    /// Index of the practice in its program.
    pub practice: u16,
    /// What the lawn gets.
    pub act: Act,
    /// What was laid as a factor of what was meant (1 where nothing is laid).
    pub rate_factor: f64,
}

/// A program made ready for a run's calendar. Immutable, shared by all members.
#[derive(Clone, Debug)]
pub struct Orders {
    practices: Vec<Standing>,
    /// The order of a morning: as written, follow-ups of the same day after what they follow.
    turns: Vec<u16>,
    slips: Slips,
    irrigation_efficiency: f64,
}

/// One practice of [`Orders`].
#[derive(Clone, Debug)]
struct Standing {
    trigger: Trigger,
    what: What,
    holds: Vec<Hold>,
    give_up_days: i32,
    key: u64,
    /// Practices that follow this one, and after how many days.
    followers: Vec<(u16, i32)>,
}

/// One member's crew: where each practice of its program stands.
#[derive(Debug)]
pub struct Runner<'a> {
    orders: &'a Orders,
    streams: &'a Streams,
    member: u32,
    cues: Vec<CueState>,
    waiting: Vec<Option<Visit>>,
}

/// A visit that is due and not yet made.
#[derive(Clone, Copy, Debug)]
struct Visit {
    /// The day on which its cue called.
    due: Day,
    /// The day on which the crew first tries: later than due where it is late.
    ready: Day,
    /// The last day on which it may still be made.
    until: Day,
    rate_factor: f64,
}

impl Orders {
    /// Lays a program out over the days `first..=last` of a run.
    ///
    /// A program may hold up to 65,535 practices; further ones are left out. A `DaysAfter` cue that
    /// names no practice of the program, or itself, never calls.
    pub fn new(program: &Program, lawn: &Lawn, slips: &Slips, first: Day, last: Day) -> Orders {
        let mut practices: Vec<Standing> = program
            .practices
            .iter()
            .take(usize::from(u16::MAX))
            .map(|practice| Standing {
                trigger: Trigger::new(&practice.cue, first, last),
                what: practice.what.clone(),
                holds: practice.holds.clone(),
                give_up_days: i32::try_from(practice.give_up_days).unwrap_or(i32::MAX / 4),
                key: key(&practice.key),
                followers: Vec::new(),
            })
            .collect();
        for (follower, practice) in program.practices.iter().enumerate().take(practices.len()) {
            if let Cue::DaysAfter { practice: leader, days } = practice.cue
                && leader != follower
                && let Some(leader) = practices.get_mut(leader)
            {
                let days = i32::try_from(days).unwrap_or(i32::MAX / 4);
                leader.followers.push((follower as u16, days));
            }
        }
        Orders {
            turns: turns(&practices),
            practices,
            slips: *slips,
            irrigation_efficiency: lawn.irrigation_efficiency,
        }
    }

    /// The same orders where another share of the tap's water, 0..=1, reaches the roots.
    pub fn with_irrigation_efficiency(&self, share: f64) -> Orders {
        Orders { irrigation_efficiency: share, ..self.clone() }
    }

    /// Number of practices.
    pub fn len(&self) -> usize {
        self.practices.len()
    }

    /// Whether the program does nothing at all.
    pub fn is_empty(&self) -> bool {
        self.practices.is_empty()
    }

    /// What a practice does.
    pub fn what(&self, practice: u16) -> &What {
        &self.practices[usize::from(practice)].what
    }
}

/// As written, but whatever follows another practice on the same day comes after it.
fn turns(practices: &[Standing]) -> Vec<u16> {
    let mut placed = vec![false; practices.len()];
    let mut order = Vec::with_capacity(practices.len());
    let same_day = |leader: usize, follower: usize| {
        practices[leader].followers.contains(&(follower as u16, 0))
    };
    loop {
        let before = order.len();
        for follower in 0..practices.len() {
            let free = (0..practices.len()).all(|l| placed[l] || !same_day(l, follower));
            if !placed[follower] && free {
                placed[follower] = true;
                order.push(follower as u16);
            }
        }
        // A ring of follow-ups never begins, so its order does not matter.
        if order.len() == before {
            order.extend((0..practices.len()).filter(|p| !placed[*p]).map(|p| p as u16));
            return order;
        }
    }
}

impl<'a> Runner<'a> {
    /// A member's crew before the first morning.
    pub fn new(orders: &'a Orders, streams: &'a Streams, member: u32) -> Runner<'a> {
        Runner {
            orders,
            streams,
            member,
            cues: orders.practices.iter().map(|p| p.trigger.start()).collect(),
            waiting: vec![None; orders.practices.len()],
        }
    }

    /// Adds this morning's jobs to `out`. To be called every morning, in order of time.
    ///
    /// Each practice has at most one visit waiting; whatever falls due meanwhile falls together with
    /// it. A visit waits while one of its holds stands or the ground is frozen or under snow, is
    /// tried again every morning for `give_up_days`, and is then dropped. A practice with a window
    /// makes no visit after its last day.
    #[inline]
    pub fn morning(&mut self, today: Day, signs: &Signs, forecast: &Forecast, out: &mut Vec<Job>) {
        let orders = self.orders;
        for &turn in &orders.turns {
            let at = usize::from(turn);
            let practice = &orders.practices[at];
            let visit = match self.waiting[at] {
                Some(visit) => visit,
                None if practice.trigger.due(&mut self.cues[at], today, signs) => {
                    match self.slip(at, today) {
                        Some(visit) => visit,
                        None => continue,
                    }
                }
                None => continue,
            };
            self.attend(turn, visit, today, signs, forecast, out);
        }
    }

    /// Draws the slip of a visit that falls due today; `None` where it is missed.
    fn slip(&mut self, at: usize, today: Day) -> Option<Visit> {
        let practice = &self.orders.practices[at];
        let slips = &self.orders.slips;
        let slip = Slip::draw(slips, self.streams, self.member, practice.key, week_of(today));
        if slip.missed {
            practice.trigger.settle(&mut self.cues[at], today, today, End::Missed);
            return None;
        }
        Some(Visit {
            due: today,
            ready: today.plus(slip.late_days),
            until: practice.trigger.end(&self.cues[at]),
            rate_factor: slip.rate_factor,
        })
    }

    /// Makes a visit, lets it wait, or drops it.
    fn attend(
        &mut self,
        turn: u16,
        visit: Visit,
        today: Day,
        signs: &Signs,
        forecast: &Forecast,
        out: &mut Vec<Job>,
    ) {
        let at = usize::from(turn);
        let practice = &self.orders.practices[at];
        let held = || {
            ground_closed(signs) || practice.holds.iter().any(|h| holds(h, today, signs, forecast))
        };
        let end = if today > visit.until {
            End::Dropped
        } else if today < visit.ready {
            self.waiting[at] = Some(visit);
            return;
        } else if held() {
            let last = visit.ready.plus(practice.give_up_days).min(visit.until);
            if today < last {
                self.waiting[at] = Some(visit);
                return;
            }
            End::Dropped
        } else {
            self.act(turn, visit.rate_factor, out);
            for &(follower, days) in &practice.followers {
                self.cues[usize::from(follower)].follow(today.plus(days));
            }
            End::Done
        };
        self.waiting[at] = None;
        practice.trigger.settle(&mut self.cues[at], visit.due, today, end);
    }

    /// What a visit does to the lawn.
    fn act(&self, practice: u16, rate_factor: f64, out: &mut Vec<Job>) {
        let plain = |act| Job { practice, act, rate_factor: 1.0 };
        let laid = |act| Job { practice, act, rate_factor };
        let wet =
            |tap_mm: f64| plain(Act::Wet { water_mm: tap_mm * self.orders.irrigation_efficiency });
        match *self.orders.what(practice) {
            What::Mow { height_mm, clippings } => {
                out.push(plain(Act::Cut { height_mm, clippings }))
            }
            What::PreEmergent { active, rate_kg_ha, carrier, water_in_mm, .. } => {
                let unevenness = self.orders.slips.unevenness_cv;
                let rate_kg_ha = rate_kg_ha * rate_factor;
                out.push(laid(Act::LayBarrier { active, rate_kg_ha, carrier, unevenness }));
                out.extend((water_in_mm > 0.0).then(|| wet(water_in_mm)));
            }
            What::Spread { nitrogen, water_in_mm, .. } => {
                out.push(laid(Act::LayNitrogen(nitrogen.scaled(rate_factor))));
                out.extend((water_in_mm > 0.0).then(|| wet(water_in_mm)));
            }
            What::Water { depth_mm } => out.push(wet(depth_mm)),
            What::Topdress { depth_mm, .. } => {
                let depth_mm = depth_mm * rate_factor;
                out.push(laid(Act::LayCompost { depth_mm }));
            }
        }
    }
}
