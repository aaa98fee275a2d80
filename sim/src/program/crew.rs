//! The crew: takes a program through one member's mornings.

use super::cue::{CueState, End, Trigger};
use super::hold::{Lately, ground_closed, holds, why};
use super::labour::tap_mm;
use super::slip::{Slip, week_of};
use crate::calendar::{Day, MonthDay, Weekdays};
use crate::draw::{Purpose, Streams, cut_normal, key};
use crate::scenario::{
    Crew, Cue, Event, Hands, Hold, Lawn, LocalRules, Program, RainLimit, Settled, Slips, Tend,
    WaterDays, What,
};
use crate::weather::Forecast;
use crate::work::{Act, Carrier, Fate, NitrogenForms, Reach, Setback, Signs, Why};

/// Standard error of a crew's look at two shades of green side by side, points of the scale from 1 to
/// 9: half of the least difference that raters' trials tell apart on good dates (NTEP tables, 0.8).
const COLOUR_RATING_SD: f64 = 0.4;

/// One act of this morning, and whose it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Job {
    /// Index of the practice in its program.
    pub practice: u16,
    /// What the lawn gets.
    pub act: Act,
    /// What was laid as a factor of what was meant (1 where nothing is laid).
    pub rate_factor: f64,
    /// Share of the lawn that it is done on, 0..=1: less than all where spots are sprayed.
    pub ground: f64,
}

/// A program made ready for a run's calendar. Immutable, shared by all members.
#[derive(Clone, Debug)]
pub struct Orders {
    practices: Vec<Standing>,
    /// The order of a morning: as written, follow-ups of the same day after what they follow.
    turns: Vec<u16>,
    slips: Slips,
    irrigation_efficiency: f64,
    /// Share of the weeds' ground that is found where spots are sprayed, 0..=1.
    weeds_found: f64,
    /// Ground sprayed around the weeds found, as a share of theirs.
    spot_margin: f64,
    /// The run's days.
    days: (Day, Day),
}

/// One practice of [`Orders`].
#[derive(Clone, Debug)]
struct Standing {
    trigger: Trigger,
    what: What,
    holds: Vec<Hold>,
    give_up_days: i32,
    by: Hands,
    /// Days of the week on which it may be done.
    weekdays: Weekdays,
    /// Stretches, both ends included, on which an event keeps everybody off.
    quiet: Vec<(Day, Day)>,
    /// Mornings on which a visit falls due for an event's sake, each with its last day.
    besides: Vec<(Day, Day)>,
    /// What local rules forbid, each with how it is told.
    rules: Vec<(Hold, Why)>,
    /// Days on which local rules allow it to water.
    water_days: WaterDays,
    /// Share of the lawn that its product goes on, 0..=1.
    treated: f64,
    /// Whether it is done for once.
    once: bool,
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
    /// Which practices were ever done.
    done: Vec<bool>,
    setbacks: Vec<Setback>,
    lately: Lately,
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
    /// What has stood in its way, last of all.
    why: Option<Why>,
    /// Whether an event asked for it, and not its cue.
    besides: bool,
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
                holds: practice.holds.iter().map(|hold| in_full(hold, &practice.what)).collect(),
                give_up_days: i32::try_from(practice.give_up_days).unwrap_or(i32::MAX / 4),
                by: practice.by,
                weekdays: Weekdays::ALL,
                quiet: Vec::new(),
                besides: Vec::new(),
                rules: Vec::new(),
                water_days: WaterDays::Any,
                treated: 1.0,
                once: matches!(&practice.what, What::Tend(tend) if tend.once),
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
            weeds_found: 1.0,
            spot_margin: 0.0,
            days: (first, last),
        }
    }

    /// The same orders as one member settles what is not known exactly: the share of the tap's water
    /// that reaches the roots, the share of the weeds that is found, and how long coated nitrogen lasts.
    #[must_use]
    pub fn settled(&self, by: &Settled) -> Orders {
        let mut orders =
            Orders { irrigation_efficiency: by.place.irrigation_efficiency, ..self.clone() };
        orders.weeds_found = by.crew.weeds_found;
        for practice in &mut orders.practices {
            let What::Spread { nitrogen, release_days: Some(known), .. } = &mut practice.what
            else {
                continue;
            };
            let drawn = by.release_days.iter().find(|d| d.0 == practice.key && d.1 == *known);
            if let Some((.., days)) = drawn {
                nitrogen.coated_days = *days;
            }
        }
        orders
    }

    /// The same under a crew's habits: its visit days, the rain that sends it away, and how it sprays
    /// spots. Whatever needs no visit keeps to its own days.
    #[must_use]
    pub fn under(mut self, crew: &Crew) -> Orders {
        (self.weeds_found, self.spot_margin) = (crew.weeds_found, crew.spot_margin);
        for practice in self.practices.iter_mut().filter(|p| p.by == Hands::Crew) {
            practice.weekdays = crew.visit_days;
            let limit = crew.rain_out.and_then(|rain| match Work::of(&practice.what) {
                Work::Mowing => Some(rain.mow),
                Work::Spraying => Some(rain.spray),
                Work::Spreading => Some(rain.spread),
                Work::Watering => None,
            });
            if let Some(RainLimit { fallen_mm, coming_mm }) = limit {
                practice.holds.push(Hold::Wet { mm: fallen_mm });
                practice.holds.push(Hold::RainComing { mm: coming_mm });
            }
        }
        self
    }

    /// The same around events: nobody works on their days, nobody sprays right before, and mowings
    /// fall due ahead of them where they ask for that.
    #[must_use]
    pub fn around(mut self, events: &[Event]) -> Orders {
        let (first, last) = self.days;
        let before = |day: Day, days: u32| day.plus(-i32::try_from(days).unwrap_or(0));
        for event in events {
            for day in event.days(first, last) {
                for practice in &mut self.practices {
                    let work = Work::of(&practice.what);
                    let off = if work == Work::Spraying { event.no_spray_days } else { 0 };
                    practice.quiet.push((before(day, off), day));
                    if let (Work::Mowing, Some(days)) = (work, event.mow_days) {
                        practice.besides.push((before(day, days), day.plus(-1)));
                    }
                }
            }
        }
        self
    }

    /// The same under the rules of the place: what is due on a forbidden day waits, and a strip beside
    /// water is left out. Amounts are laid as written, whatever the ceilings say.
    #[must_use]
    pub fn obeying(mut self, rules: &LocalRules, lawn: &Lawn) -> Orders {
        let closed = |all: &[(MonthDay, MonthDay)], why| -> Vec<(Hold, Why)> {
            all.iter().map(|&(from, to)| (Hold::Closed { from, to }, why)).collect()
        };
        for practice in &mut self.practices {
            match &practice.what {
                What::Spread { nitrogen, .. } => {
                    if nitrogen.total_g_m2() > rules.fertilizer_closed_over_g_m2 {
                        practice
                            .rules
                            .extend(closed(&rules.fertilizer_closed, Why::FertilizerClosed));
                    }
                    let rain = rules.rain_coming_mm.map(|mm| Hold::RainIn3Days { mm });
                    practice.rules.extend(rain.map(|hold| (hold, Why::FertilizerRain)));
                }
                what if what.is_pesticide() => {
                    practice.rules.extend(closed(&rules.pesticide_closed, Why::PesticideClosed));
                }
                _ => {}
            }
            if tap_mm(&practice.what) > 0.0 {
                practice.water_days = rules.water_days;
            }
            practice.treated = rules.treated_share(&practice.what, lawn);
        }
        self
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

    /// Share of the lawn that its product goes on, 0..=1.
    pub fn treated(&self, practice: u16) -> f64 {
        self.practices[usize::from(practice)].treated
    }

    /// What one visit of a practice does, laid just as written; `spots` is the share of the lawn that
    /// it takes where it treats spots, 0..=1.
    pub fn planned(&self, practice: u16, spots: f64) -> Vec<Job> {
        let streams = Streams::new(0);
        let mut jobs = Vec::new();
        // The amounts of a visit are the same for every member, but for its slip.
        Runner::new(self, &streams, 0).act(practice, 1.0, spots, &mut jobs);
        jobs
    }

    /// Whose hands do it.
    pub fn by(&self, practice: u16) -> Hands {
        self.practices[usize::from(practice)].by
    }
}

/// A hold with the height of cut, or the weeds looked for, put in where it means that.
fn in_full(hold: &Hold, what: &What) -> Hold {
    match (hold, what) {
        (Hold::NothingToCut, What::Mow { height_mm, .. }) => Hold::ShorterThan { mm: *height_mm },
        (Hold::NothingToSpray { below }, What::Spray(spray)) => {
            Hold::FewWeeds { sought: spray.sought, below: *below }
        }
        _ => *hold,
    }
}

/// Kinds of work that rain and events tell apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Work {
    Mowing,
    Spraying,
    Spreading,
    Watering,
}

impl Work {
    fn of(what: &What) -> Work {
        match what {
            What::Mow { .. } => Work::Mowing,
            What::PreEmergent { carrier: Carrier::Spray, .. } | What::Spray(_) => Work::Spraying,
            What::Spread { product, .. } if product.liquid => Work::Spraying,
            What::PreEmergent { .. }
            | What::Spread { .. }
            | What::Topdress { .. }
            | What::Overseed { .. } => Work::Spreading,
            What::Tend(tend) if tend.tending.sprayed() => Work::Spraying,
            What::Tend(_) => Work::Spreading,
            What::Water { .. } => Work::Watering,
        }
    }
}

impl Standing {
    /// What keeps a visit from being made today; where it is no visit day, what did before.
    fn obstacle(
        &self,
        visit: &Visit,
        today: Day,
        signs: &Signs,
        forecast: &Forecast,
        lately: &Lately,
    ) -> Option<Why> {
        if !self.weekdays.has(today) {
            return Some(visit.why.unwrap_or(Why::NoVisitDay));
        }
        if ground_closed(signs) {
            return Some(Why::Frozen);
        }
        if self.quiet.iter().any(|(from, to)| (*from..=*to).contains(&today)) {
            return Some(Why::Event);
        }
        let rule = self.rules.iter().find(|(hold, _)| holds(hold, today, signs, forecast));
        let stands = |h: &&Hold| holds(h, today, signs, forecast) || lately.holds(h, today);
        let own = || self.holds.iter().find(stands).map(why);
        // A closed season outlasts a day without watering, and is the reason to tell.
        let dry = || (!self.water_days.allow(today)).then_some(Why::WaterDay);
        rule.map(|(_, why)| *why).or_else(dry).or_else(own)
    }

    /// Whether what stood in the way means that the work was not wanted: grass too short to cut,
    /// too few weeds to spray, rain that spares a watering.
    fn needless(&self, why: Option<Why>) -> bool {
        let watering = matches!(self.what, What::Water { .. });
        match why {
            Some(Why::Short | Why::FewWeeds | Why::GreenEnough) => true,
            Some(Why::RainComing | Why::Wet) => watering,
            _ => false,
        }
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
            done: vec![false; orders.practices.len()],
            setbacks: Vec::with_capacity(32),
            lately: Lately::default(),
        }
    }

    /// What did not go by the calendar so far, in the order in which it was settled.
    pub fn setbacks(self) -> Vec<Setback> {
        self.setbacks
    }

    /// Takes a lawn over from the crew that really had it so far. Whatever follows a practice that the
    /// lawn never had is not due: no second half without a first.
    pub fn take_over(&mut self, from: &Runner<'_>) {
        let had = |key: u64| {
            let theirs = from.orders.practices.iter().zip(&from.done);
            theirs.into_iter().any(|(practice, done)| *done && practice.key == key)
        };
        self.lately = from.lately;
        for (done, practice) in self.done.iter_mut().zip(&self.orders.practices) {
            *done |= practice.once && had(practice.key);
        }
        for leader in self.orders.practices.iter().filter(|leader| !had(leader.key)) {
            for &(follower, _) in &leader.followers {
                self.cues[usize::from(follower)].queue.clear();
                self.waiting[usize::from(follower)] = None;
            }
        }
    }

    /// Adds this morning's jobs to `out`. To be called every morning, in order of time.
    ///
    /// Each practice has at most one visit waiting; whatever falls due meanwhile falls together with
    /// it. A visit waits for the crew's next visit day. From then on it waits while one of its holds
    /// stands or the ground is frozen or under snow, is tried again on every visit day for
    /// `give_up_days`, and is then dropped. A practice with a window makes no visit after its last
    /// day, but for one that a soil temperature called for.
    #[inline]
    pub fn morning(&mut self, today: Day, signs: &Signs, forecast: &Forecast, out: &mut Vec<Job>) {
        let orders = self.orders;
        for &turn in &orders.turns {
            let at = usize::from(turn);
            let practice = &orders.practices[at];
            if practice.once && self.done[at] {
                continue;
            }
            let visit = match self.waiting[at] {
                Some(visit) => visit,
                None => {
                    let until = if practice.trigger.due(&mut self.cues[at], today, signs) {
                        None
                    } else if let Some((_, last)) = practice.besides.iter().find(|b| b.0 == today) {
                        Some(*last)
                    } else {
                        continue;
                    };
                    match self.slip(turn, today, until) {
                        Some(visit) => visit,
                        None => continue,
                    }
                }
            };
            self.attend(turn, visit, today, signs, forecast, out);
        }
    }

    /// Draws the slip of a visit that falls due today; `None` where it is missed. `besides` is the
    /// last day of a visit that an event asked for.
    fn slip(&mut self, turn: u16, today: Day, besides: Option<Day>) -> Option<Visit> {
        let at = usize::from(turn);
        let practice = &self.orders.practices[at];
        let slips = &self.orders.slips;
        let slip = Slip::draw(slips, self.streams, self.member, practice.key, week_of(today));
        if slip.missed {
            if besides.is_none() {
                practice.trigger.settle(&mut self.cues[at], today, today, End::Missed);
            }
            self.note(turn, today, today, Fate::Missed, Why::Forgotten);
            return None;
        }
        let come = today.plus(slip.late_days);
        let ready = practice.weekdays.next(come).unwrap_or(come);
        let why = (slip.late_days > 0).then_some(Why::Late);
        Some(Visit {
            due: today,
            ready,
            until: besides.unwrap_or_else(|| practice.trigger.last_chance(&self.cues[at])),
            rate_factor: slip.rate_factor,
            why: why.or((ready > today).then_some(Why::NoVisitDay)),
            besides: besides.is_some(),
        })
    }

    /// Makes a visit, lets it wait, or drops it.
    fn attend(
        &mut self,
        turn: u16,
        mut visit: Visit,
        today: Day,
        signs: &Signs,
        forecast: &Forecast,
        out: &mut Vec<Job>,
    ) {
        let at = usize::from(turn);
        let practice = &self.orders.practices[at];
        let end = if today > visit.until {
            End::Dropped
        } else if today < visit.ready {
            self.waiting[at] = Some(visit);
            return;
        } else if let Some(why) = practice.obstacle(
            &visit,
            today,
            &self.rated(practice, today, signs),
            forecast,
            &self.lately,
        ) {
            visit.why = Some(why);
            let last = visit.ready.plus(practice.give_up_days).min(visit.until);
            if today < last {
                self.waiting[at] = Some(visit);
                return;
            }
            End::Dropped
        } else {
            let spots = self.spots(&practice.what, signs);
            self.act(turn, visit.rate_factor, spots, out);
            self.done[at] = true;
            match practice.what {
                What::Mow { .. } => self.lately.mown = Some(today),
                What::Spray(_) => self.lately.sprayed = Some(today),
                _ => {}
            }
            for &(follower, days) in &practice.followers {
                self.cues[usize::from(follower)].follow(today.plus(days));
            }
            End::Done
        };
        self.waiting[at] = None;
        self.tell(turn, &visit, today, end);
        // A mowing for an event's sake starts the next interval, and is no answer to other cues.
        if !visit.besides || end == End::Done && practice.trigger.counts_from_done() {
            practice.trigger.settle(&mut self.cues[at], visit.due, today, end);
        }
    }

    /// The signs as the crew reads them: by eye two shades of green are told apart no better than a
    /// rater does ([`COLOUR_RATING_SD`]), one error a practice and week.
    fn rated(&self, practice: &Standing, today: Day, signs: &Signs) -> Signs {
        if !practice.holds.iter().any(|hold| matches!(hold, Hold::GreenWithin { .. })) {
            return *signs;
        }
        let week = week_of(today);
        let rng = &mut self.streams.keyed(self.member, Purpose::Rating, practice.key, week);
        let error = COLOUR_RATING_SD * cut_normal(rng);
        Signs { colour_short: (signs.colour_short + error).max(0.0), ..*signs }
    }

    /// Writes down what did not go by the calendar. Waiting for a visit day is no setback.
    fn tell(&mut self, turn: u16, visit: &Visit, today: Day, end: End) {
        let needless = self.orders.practices[usize::from(turn)].needless(visit.why);
        let fate = match end {
            End::Done if today == visit.due || needless || visit.why == Some(Why::NoVisitDay) => {
                return;
            }
            End::Done => Fate::Pushed,
            _ if needless => Fate::NotNeeded,
            _ if today >= visit.until => Fate::WindowClosed,
            _ => Fate::GivenUp,
        };
        self.note(turn, visit.due, today, fate, visit.why.unwrap_or(Why::NoVisitDay));
    }

    fn note(&mut self, practice: u16, due: Day, day: Day, fate: Fate, why: Why) {
        self.setbacks.push(Setback { due, day, practice, fate, why });
    }

    /// Share of the lawn that is treated where a crew goes by the weeds that it sees, 0..=1.
    fn spots(&self, what: &What, signs: &Signs) -> f64 {
        let What::Spray(spray) = what else { return 1.0 };
        let around = self.orders.weeds_found * spray.sought.cover(signs);
        (around * (1.0 + self.orders.spot_margin)).clamp(0.0, 1.0)
    }

    /// What a visit does to the lawn; `spots` is the share of it that a treatment of spots takes.
    fn act(&self, practice: u16, rate_factor: f64, spots: f64, out: &mut Vec<Job>) {
        let plain = |act| Job { practice, act, rate_factor: 1.0, ground: 1.0 };
        let laid = |act| Job { practice, act, rate_factor, ground: 1.0 };
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
                let unevenness = self.orders.slips.unevenness_cv;
                let nitrogen = NitrogenForms { unevenness, ..nitrogen.scaled(rate_factor) };
                out.push(laid(Act::LayNitrogen(nitrogen)));
                out.extend((water_in_mm > 0.0).then(|| wet(water_in_mm)));
            }
            What::Water { depth_mm } => out.push(wet(depth_mm)),
            What::Topdress { depth_mm, .. } => {
                let depth_mm = depth_mm * rate_factor;
                out.push(laid(Act::LayCompost { depth_mm }));
            }
            What::Overseed { seed, pure_live_seed, method, water_in_mm, .. } => {
                let seed = seed.scaled(rate_factor);
                out.push(laid(Act::SowGrass { seed, pure_live_seed, method }));
                out.extend((water_in_mm > 0.0).then(|| wet(water_in_mm)));
            }
            What::Spray(ref spray) => {
                let (reach, ground) = if spray.spots {
                    (Reach::Spots { found: self.orders.weeds_found }, spots)
                } else {
                    (Reach::Blanket, 1.0)
                };
                let (post, rate_kg_ha) = (spray.post, spray.rate_kg_ha * rate_factor);
                out.push(Job { ground, ..laid(Act::Spray { post, rate_kg_ha, reach }) });
            }
            What::Tend(Tend { tending, water_in_mm, .. }) => {
                out.push(if tending.lays() {
                    laid(Act::Tend(tending.scaled(rate_factor)))
                } else {
                    plain(Act::Tend(tending))
                });
                out.extend((water_in_mm > 0.0).then(|| wet(water_in_mm)));
            }
        }
    }
}
