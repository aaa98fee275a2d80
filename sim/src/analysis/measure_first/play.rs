//! Plays what the value of knowing and the plain sensitivity need, on the same members.

use std::sync::atomic::{AtomicU32, Ordering};

use rayon::ThreadPool;
use rayon::prelude::*;

use super::elsewhere::{self, Elsewhere};
use super::evppi::{Knowing, floor, knowing, perfect};
use super::facts::{Group, Subject, subjects};
use super::group::{Whole, whole};
use super::morris::{Effect, effect, place};
use super::regression::Smoother;
use super::sobol::{Indices, indices};
use crate::draw::{Purpose, Streams, key, shuffle};
use crate::ensemble::{Continue, Observer, RunFault, RunPlan, Stage, mean_and_error, threads};
use crate::outcomes::{Better, OUTCOMES, outcome};
use crate::parameters::{Catalogue, Entry};
use crate::scenario::{Program, Scenario};

/// Members that are played again for each fact and constant, at most: an effect is then good to about
/// an eighth of its spread.
const SCREENED: u32 = 64;
/// Members of the two samples behind shares of variance, at most.
const SAMPLED: u32 = 512;
/// Constants of the model with the largest effects whose shares are worked out, beside all facts.
const LEADING: usize = 4;
/// Deals of the outcomes to other members, for the noise of a value.
const DEALS: u32 = 200;

/// Outcomes by which programs are compared where nobody says, the first that they change by what
/// matters.
const USUAL: [&str; 4] =
    ["crabgrass_peak", "quality_summer", "turf_cover_end", "organic_matter_change"];

/// What the choice is by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// Index of the outcome; `None` takes the first of the usual ones that the programs change.
    pub outcome: Option<usize>,
    /// Money that one unit of the outcome is worth, to be weighed against cost; `None` leaves cost out.
    pub worth: Option<f64>,
}

/// What the choice was by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Index of the outcome.
    pub outcome: usize,
    /// Money that one unit of it is worth.
    pub worth: Option<f64>,
}

impl Aim {
    /// What a program brings, more being better: the outcome towards its better side, or the money that
    /// it is worth less what the program costs.
    pub fn net(&self, outcomes: &[Vec<f64>]) -> Vec<f64> {
        let sign = if OUTCOMES[self.outcome].better == Better::Lower { -1.0 } else { 1.0 };
        let brought = outcomes[self.outcome].iter().map(|value| sign * value);
        match (self.worth, outcome("cost")) {
            (Some(worth), Some(cost)) => {
                brought.zip(&outcomes[cost]).map(|(value, cost)| worth * value - cost).collect()
            }
            _ => brought.collect(),
        }
    }

    /// Gains smaller than this do not matter, in the unit of [`Aim::net`].
    pub fn least(&self) -> f64 {
        let kind = match self.worth {
            Some(_) => outcome("cost").unwrap_or(self.outcome),
            None => self.outcome,
        };
        OUTCOMES[kind].least_difference
    }
}

/// One fact or constant.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// Which.
    pub subject: Subject,
    /// What knowing it is worth.
    pub knowing: Knowing,
    /// How far it moves what the best program brings; `None` where members were chosen by what was seen.
    pub effect: Option<Effect>,
    /// Its shares of the spread in the same weather, for facts and the leading constants.
    pub indices: Option<Indices>,
}

/// A kind of luck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JudgedGroup {
    /// Which.
    pub group: Group,
    /// What knowing all of it is worth.
    pub whole: Whole,
    /// How far what the best program brings moves where all of it is drawn anew, and the standard error.
    pub moved: (f64, f64),
}

/// What was found. Gains and values are in the unit of the outcome, or in money where it is given a worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Findings {
    /// What the choice is by.
    pub aim: Aim,
    /// Index of the program that is best on average.
    pub best: usize,
    /// The others, in the order of the gains of [`Knowing`].
    pub others: Vec<usize>,
    /// Mean gain of each of the others over the best, 0 or less, and its standard error.
    pub gains: Vec<(f64, f64)>,
    /// Mean cost of every program, in the scenario's currency.
    pub costs: Vec<f64>,
    /// Share of members in which another program is better than the best by what matters, 0..=1.
    pub regret: f64,
    /// What knowing everything, the weather too, would gain.
    pub perfect: f64,
    /// Facts that a person can find out, the most valuable first.
    pub facts: Vec<Judged>,
    /// Constants of the model, likewise.
    pub constants: Vec<Judged>,
    /// Kinds of luck, in the order of [`Group::ALL`].
    pub groups: Vec<JudgedGroup>,
    /// The choice by other outcomes that the programs change by what matters; empty where the outcome is
    /// weighed against cost.
    pub elsewhere: Vec<Elsewhere>,
    /// Values of facts up to this come of noise alone in 19 of 20 cases, all facts taken together.
    pub floor: f64,
    /// The same for constants.
    pub constants_floor: f64,
    /// Members.
    pub members: u32,
    /// Calendar years of record behind the weather.
    pub record_years: u32,
}

/// Members that will be played, over all plays: what the observer hears of.
pub fn plays(scenario: &Scenario, catalogue: &[Entry], members: u32) -> u32 {
    let all = subjects(scenario, catalogue);
    let (screened, sampled) = (members.min(SCREENED), members.min(SAMPLED));
    let facts = all.iter().filter(|subject| subject.findable()).count() as u32;
    let groups = members.saturating_mul(3 + Group::ALL.len() as u32);
    let leading = (all.len() as u32 - facts).min(LEADING as u32);
    if scenario.season_before.is_some() || scenario.scouting.is_some() {
        return groups;
    }
    groups
        .saturating_add(screened * all.len() as u32)
        .saturating_add(sampled.saturating_mul(facts + leading))
}

/// Counts plays on over several runs.
struct Counted<'a> {
    observer: Observer<'a>,
    done: AtomicU32,
}

impl Counted<'_> {
    fn hear(&self, _: u32) -> Continue {
        (self.observer)(self.done.fetch_add(1, Ordering::Relaxed) + 1)
    }
}

/// Orders in which outcomes are dealt to members.
pub(super) fn deals(members: u32, count: u32, streams: &Streams) -> Vec<Vec<u32>> {
    let deal = |number: u32| {
        let mut luck = streams.keyed(number, Purpose::Analysis, key("deal"), 0);
        let mut order: Vec<u32> = (0..members).collect();
        shuffle(&mut order, &mut luck);
        order
    };
    (0..count).map(deal).collect()
}

/// Works out what knowing each fact is worth for the choice between some programs of the plan's scenario.
///
/// # Errors
/// See [`RunFault`].
pub fn measure_first(
    plan: &RunPlan,
    catalogue: &Catalogue,
    programs: &[Program],
    asked: Asked,
    observer: Observer,
) -> Result<Findings, RunFault> {
    if programs.is_empty() {
        return Err(RunFault::NoPrograms);
    }
    let counted = Counted { observer, done: AtomicU32::new(0) };
    let observer = |done: u32| counted.hear(done);
    let quiet = |_: u32| (counted.observer)(counted.done.load(Ordering::Relaxed));
    let world = Stage::new(plan, catalogue, &quiet)?;
    let (scenario, members) = (&plan.scenario.with_programs(programs), plan.members);
    let streams = Streams::new(plan.seed);
    let mut played = world.outcomes(scenario, members, &streams, &observer)?;
    // The care that the lawn had before is played too, and is no choice.
    played.truncate(programs.len());
    let aim = Aim { outcome: asked.outcome.unwrap_or_else(|| usual(&played)), worth: asked.worth };
    let choice = Choice::by(aim, &played);
    let best = choice.best;
    let (gains, chosen) = choice.gains_and_net(&played);
    let orders = deals(members, DEALS, &streams);
    let all = subjects(scenario, plan.catalogue);
    let draws: Vec<Vec<Vec<f64>>> = all
        .iter()
        .map(|subject| subject.factors.iter().map(|f| world.draws(f, members, &streams)).collect())
        .collect();
    let pool = threads(plan)?;
    let known = each_known(&draws, &gains, &orders, &pool, &quiet)?;
    let kept = |again: &[Vec<Vec<f64>>]| choice.gains_and_net(again);
    let groups = groups(&world, scenario, &streams, &observer, members, kept)?;
    let elsewhere = if aim.worth.is_some() {
        vec![]
    } else {
        let facts = (&all[..], &draws[..]);
        by_others((&played, aim.outcome), best, facts, &orders, &pool)
    };
    // A part is worth no more than everything.
    let perfect = perfect(&gains);
    let judged_groups = Group::ALL.iter().zip(&groups.kept).map(|(group, (again, kept))| {
        let changed = effect(&groups.redrawn, kept, &vec![0.0; kept.len()]);
        JudgedGroup {
            group: *group,
            whole: whole(&gains, again, &orders, &streams).at_most(perfect),
            moved: (changed.moved, changed.error),
        }
    });

    let alone = scenario.with_programs(std::slice::from_ref(&programs[best]));
    let plain = Plain { world: &world, alone: &alone, aim, streams: &streams, base: &chosen };
    let (effects, shares) = if world.chosen() {
        (vec![None; all.len()], vec![None; all.len()])
    } else {
        plain.sensitivity(&all, &draws, &groups.lawn_redrawn, &observer)?
    };

    let told = known.into_iter().zip(effects).zip(shares);
    let judged = all.into_iter().zip(told).map(|(subject, ((knowing, effect), indices))| Judged {
        subject,
        knowing,
        effect,
        indices,
    });
    let (facts, constants) = by_value(judged.collect());
    Ok(Findings {
        best,
        gains: gains.iter().map(|gain| mean_and_error(gain)).collect(),
        others: choice.others,
        costs: mean_costs(&played),
        regret: regret(&gains, aim.least(), members),
        perfect,
        floor: floor(facts.iter().map(|judged| &judged.knowing)),
        constants_floor: floor(constants.iter().map(|judged| &judged.knowing)),
        groups: judged_groups.collect(),
        elsewhere,
        facts,
        constants,
        aim,
        members,
        record_years: plan.record.years(),
    })
}

/// The program that is taken as things stand, and what the others would do instead.
pub(super) struct Choice {
    aim: Aim,
    /// Index of the program with the best mean.
    pub best: usize,
    /// Indices of the others.
    others: Vec<usize>,
}

impl Choice {
    pub fn by(aim: Aim, played: &[Vec<Vec<f64>>]) -> Choice {
        let net: Vec<Vec<f64>> = played.iter().map(|outcomes| aim.net(outcomes)).collect();
        let best = best(&net);
        Choice { aim, best, others: (0..net.len()).filter(|program| *program != best).collect() }
    }

    /// What each of the others would gain, member by member, and what the aim makes of the chosen
    /// program itself. What was played may have the care before among its last.
    pub fn gains_and_net(&self, played: &[Vec<Vec<f64>>]) -> (Vec<Vec<f64>>, Vec<f64>) {
        let chosen = self.aim.net(&played[self.best]);
        let gain = |other: &usize| {
            self.aim.net(&played[*other]).iter().zip(&chosen).map(|(a, b)| a - b).collect()
        };
        (self.others.iter().map(gain).collect(), chosen)
    }
}

/// Mean cost of each program.
fn mean_costs(played: &[Vec<Vec<f64>>]) -> Vec<f64> {
    let Some(cost) = outcome("cost") else { return vec![] };
    played.iter().map(|outcomes| mean_and_error(&outcomes[cost]).0).collect()
}

/// What knowing each subject is worth, by its members' draws.
fn each_known(
    draws: &[Vec<Vec<f64>>],
    gains: &[Vec<f64>],
    orders: &[Vec<u32>],
    pool: &ThreadPool,
    observer: Observer,
) -> Result<Vec<Knowing>, RunFault> {
    let one = |drawn: &Vec<Vec<f64>>| {
        (observer(0) == Continue::Yes)
            .then(|| knowing(&Smoother::new(drawn), gains, orders))
            .ok_or(RunFault::Stopped)
    };
    pool.install(|| draws.par_iter().map(one).collect())
}

/// The choice by the outcomes that nobody asked for. `facts` are the subjects and their members' draws.
fn by_others(
    (played, chosen_by): (&[Vec<Vec<f64>>], usize),
    best: usize,
    (all, draws): (&[Subject], &[Vec<Vec<f64>>]),
    orders: &[Vec<u32>],
    pool: &ThreadPool,
) -> Vec<Elsewhere> {
    let findable = all.iter().zip(draws).filter(|(subject, _)| subject.findable());
    let facts: Vec<(&str, Smoother)> =
        findable.map(|(subject, drawn)| (&*subject.key, Smoother::new(drawn))).collect();
    let others = elsewhere::others(played, chosen_by);
    let one = |other: &usize| elsewhere::by(played, *other, best, &facts, orders);
    pool.install(|| others.par_iter().map(one).collect())
}

/// Facts that a person can find out, and constants of the model; of each, the worthiest first.
fn by_value(judged: Vec<Judged>) -> (Vec<Judged>, Vec<Judged>) {
    let (mut facts, mut constants): (Vec<Judged>, Vec<Judged>) =
        judged.into_iter().partition(|judged| judged.subject.findable());
    for judged in [&mut facts, &mut constants] {
        judged.sort_by(|a, b| b.knowing.value.total_cmp(&a.knowing.value));
    }
    (facts, constants)
}

/// Share of the members in which another program would have gained by the least that matters or more.
fn regret(gains: &[Vec<f64>], least: f64, members: u32) -> f64 {
    let rued = |i: &usize| gains.iter().any(|gain| gain[*i] >= least);
    (0..members as usize).filter(rued).count() as f64 / f64::from(members)
}

/// Plays with a kind of luck kept.
struct Grouped {
    /// By group: gains, and what the best program brings, with all other luck drawn anew.
    kept: Vec<(Vec<Vec<f64>>, Vec<f64>)>,
    /// What the best program brings with all luck drawn anew.
    redrawn: Vec<f64>,
    /// The same with lawn and model drawn anew, in the same weather and with the same slips.
    lawn_redrawn: Vec<f64>,
}

fn groups(
    world: &Stage,
    scenario: &Scenario,
    streams: &Streams,
    observer: Observer,
    members: u32,
    keep: impl Fn(&[Vec<Vec<f64>>]) -> (Vec<Vec<f64>>, Vec<f64>),
) -> Result<Grouped, RunFault> {
    let play = |purposes: &[Purpose]| {
        let streams = streams.doubled(purposes);
        Ok(keep(&world.outcomes(scenario, members, &streams, observer)?))
    };
    let kept = Group::ALL
        .iter()
        .map(|group| play(&group.others()))
        .collect::<Result<Vec<_>, RunFault>>()?;
    let everything: Vec<Purpose> =
        Group::ALL.iter().flat_map(|group| group.purposes().iter().copied()).collect();
    let redrawn = play(&everything)?.1;
    let lawn = [Group::Lawn.purposes(), Group::Model.purposes()].concat();
    let lawn_redrawn = play(&lawn)?.1;
    Ok(Grouped { kept, redrawn, lawn_redrawn })
}

/// Effects and shares of variance, where they were worked out.
type Sensitivity = (Vec<Option<Effect>>, Vec<Option<Indices>>);

/// Plays of the best program alone, with one fact exchanged.
struct Plain<'a> {
    world: &'a Stage<'a>,
    alone: &'a Scenario,
    aim: Aim,
    streams: &'a Streams,
    /// What it brings as first played.
    base: &'a [f64],
}

impl Plain<'_> {
    /// Effects of all, and shares of the spread of all facts and of the leading constants.
    fn sensitivity(
        &self,
        all: &[Subject],
        draws: &[Vec<Vec<f64>>],
        lawn_redrawn: &[f64],
        observer: Observer,
    ) -> Result<Sensitivity, RunFault> {
        let members = self.base.len() as u32;
        let screened = members.min(SCREENED);
        let pairs = all.iter().zip(draws);
        let effects = pairs
            .map(|(subject, drawn)| self.effect(subject, drawn, screened, observer))
            .collect::<Result<Vec<Effect>, RunFault>>()?;
        let mut leading: Vec<usize> = (0..all.len()).filter(|at| !all[*at].findable()).collect();
        leading.sort_by(|a, b| effects[*b].moved.total_cmp(&effects[*a].moved));
        leading.truncate(LEADING);
        let sampled = members.min(SAMPLED);
        let n = sampled as usize;
        let mut shares = vec![None; all.len()];
        for at in (0..all.len()).filter(|at| all[*at].findable() || leading.contains(at)) {
            let found = self.exchanged(&all[at], sampled, observer)?;
            shares[at] = Some(indices(&self.base[..n], &lawn_redrawn[..n], &found));
        }
        Ok((effects.into_iter().map(Some).collect(), shares))
    }

    fn exchanged(
        &self,
        subject: &Subject,
        members: u32,
        observer: Observer,
    ) -> Result<Vec<f64>, RunFault> {
        let luck: Vec<(Purpose, u64)> = subject.factors.iter().map(|f| f.luck()).collect();
        let streams = self.streams.exchanging(&luck);
        let played = self.world.outcomes(self.alone, members, &streams, observer)?;
        Ok(self.aim.net(&played[0]))
    }

    fn effect(
        &self,
        subject: &Subject,
        drawn: &[Vec<f64>],
        members: u32,
        observer: Observer,
    ) -> Result<Effect, RunFault> {
        let after = self.exchanged(subject, members, observer)?;
        let luck: Vec<(Purpose, u64)> = subject.factors.iter().map(|f| f.luck()).collect();
        let streams = self.streams.exchanging(&luck);
        let mut steps = vec![0.0; members as usize];
        // Of several facts at once the mean step is taken.
        for (factor, values) in subject.factors.iter().zip(drawn) {
            let mut sorted = values.clone();
            sorted.sort_by(f64::total_cmp);
            let doubles = self.world.draws(factor, members, &streams);
            for ((step, before), double) in steps.iter_mut().zip(values).zip(doubles) {
                let whole = place(&sorted, double) - place(&sorted, *before);
                *step += whole / subject.factors.len() as f64;
            }
        }
        Ok(effect(&self.base[..members as usize], &after, &steps))
    }
}

/// Index of the first of the usual outcomes that the programs change by what matters; else of the one
/// that they change most.
fn usual(played: &[Vec<Vec<f64>>]) -> usize {
    let apart = |at: usize| apart(played, at);
    let wanted: Vec<usize> = USUAL.iter().filter_map(|key| outcome(key)).collect();
    let first = wanted.iter().copied().find(|at| apart(*at) >= 1.0);
    let most = || wanted.iter().copied().max_by(|a, b| apart(*a).total_cmp(&apart(*b)));
    first.or_else(most).unwrap_or(0)
}

/// How far the programs' means of an outcome lie apart, in differences that matter.
pub(super) fn apart(played: &[Vec<Vec<f64>>], outcome: usize) -> f64 {
    let means = played.iter().map(|outcomes| mean_and_error(&outcomes[outcome]).0);
    let (low, high) = means.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mean| {
        (mean.min(low), mean.max(high))
    });
    (high - low) / OUTCOMES[outcome].least_difference
}

/// The program with the best mean, the first of equals.
fn best(net: &[Vec<f64>]) -> usize {
    let means: Vec<f64> = net.iter().map(|values| mean_and_error(values).0).collect();
    let most = means.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    means.iter().position(|mean| *mean == most).unwrap_or(0)
}
