//! Searches, judges what was found on fresh members, and picks the futures that stand for the rest.

use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::ops::Range;

use super::choice::{Choice, Scored, choose};
use super::judge::{Asked, Judge};
use super::race::{self, Game, Knob, Mark, Search, Try, enough};
use super::space::Space;
use super::weather::{Split, facts, split};
use crate::analysis::typical;
use crate::ensemble::odds::Odds;
use crate::ensemble::{Observer, Retold, RunFault, RunPlan, Seen, Stage};
use crate::outcomes::{OUTCOMES, outcome};
use crate::parameters::Catalogue;
use crate::scenario::{Program, Spare};

/// What is asked.
#[derive(Clone, Copy, Debug)]
pub struct Order<'a> {
    /// What must hold, needs first.
    pub asked: &'a [Asked],
    /// Share of the futures in which all of it must.
    pub odds: f64,
    /// What is to be spent as little of as can be: costs are counted in it.
    pub spare: Spare,
    /// Members that search.
    pub members: u32,
    /// Members that judge, numbered on from these.
    pub fresh: u32,
    /// Most tries.
    pub tries: usize,
    /// Index of the start whose failure is told, if it fails; if not given, the one that comes nearest to
    /// holding, those that fail on a need before those that fail on a budget.
    pub story: Option<usize>,
}

/// A program on the fresh members.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// For each member and each thing asked, the day on which it is settled that it is missed.
    pub misses: Vec<Vec<Option<u32>>>,
    /// Outcomes, `[outcome][member]`.
    pub outcomes: Vec<Vec<f64>>,
}

/// How often one thing asked is missed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Missed {
    /// Index of what was asked.
    pub asked: usize,
    /// Members that miss it.
    pub members: u32,
    /// Members that miss it before anything else.
    pub first: u32,
    /// Middle day, counted from the run's first, on which these do.
    pub usual_day: Option<u32>,
}

/// One of those that were judged in the end.
#[derive(Clone, Debug, PartialEq)]
pub struct Finalist {
    /// The try.
    pub one: Try,
    /// Its program.
    pub program: Program,
    /// How many settings it changes of its start.
    pub changes: usize,
    /// On the fresh members.
    pub judged: Judged,
}

/// A member that stands for others.
#[derive(Clone, Debug, PartialEq)]
pub struct Future {
    /// Everything that happened.
    pub retold: Retold,
    /// What the decisive thing is about, day by day, where days show it.
    pub series: Option<Vec<f64>>,
    /// Day, counted from the run's first, on which it is settled that it is missed.
    pub missed: Option<u32>,
    /// How many members it stands for.
    pub of: usize,
}

/// A program that fails, and what would mend it.
#[derive(Clone, Debug, PartialEq)]
pub struct Story {
    /// Index of the start.
    pub start: usize,
    /// Index of what was asked that most failing members miss first.
    pub decisive: usize,
    /// A member that stands for those that miss it first.
    pub failing: Future,
    /// One that stands for those that hold, where there are any.
    pub holding: Option<Future>,
    /// Days, counted from the run's first, in which what is decisive is looked at.
    pub stretches: Vec<Range<usize>>,
    /// The cheapest single change with which it holds often enough.
    pub mend: Option<Finalist>,
    /// How many single changes were played.
    pub tried: usize,
}

/// All that came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Those that were judged; the starts as they are come first, in their order.
    pub finalists: Vec<Finalist>,
    /// How many of them are the starts.
    pub starts: usize,
    /// Which is recommended.
    pub choice: Choice,
    /// Those that no other beats in cost and odds, the cheapest first.
    pub curve: Vec<usize>,
    /// Weather of each fresh member, season by season.
    pub weather: Vec<Vec<[f64; 3]>>,
    /// How it fails.
    pub story: Option<Story>,
    /// How many programs were played.
    pub tried: usize,
    /// How many more were refused, by the code of the reason.
    pub refused: BTreeMap<&'static str, u32>,
    /// Members of the search, and fresh ones.
    pub members: (u32, u32),
    /// Calendar years of record behind the weather.
    pub record_years: u32,
}

/// Finalists beside the starts, of each kind: along the curve, the cheapest, the simplest.
const FINALISTS: [usize; 3] = [12, 6, 6];
/// Single changes that are judged: the cheapest and the surest.
const MENDS: [usize; 2] = [4, 2];

impl Judged {
    /// Members in which everything holds.
    pub fn odds(&self) -> Odds {
        Odds::count(&self.misses, |misses| misses.iter().all(Option::is_none))
    }

    /// An outcome in each member.
    pub fn outcome(&self, key: &str) -> &[f64] {
        outcome(key).and_then(|at| self.outcomes.get(at)).map_or(&[], Vec::as_slice)
    }

    /// Mean of an outcome.
    pub fn mean(&self, key: &str) -> f64 {
        let values = self.outcome(key);
        values.iter().sum::<f64>() / values.len() as f64
    }

    /// What is missed, in the order of what was asked.
    pub fn missed(&self) -> Vec<Missed> {
        let asked = self.misses.first().map_or(0, Vec::len);
        (0..asked)
            .map(|at| {
                let members = self.misses.iter().filter(|m| m[at].is_some()).count() as u32;
                let mut days: Vec<u32> = self
                    .misses
                    .iter()
                    .filter(|m| first(m) == Some(at))
                    .filter_map(|m| m[at])
                    .collect();
                days.sort_unstable();
                let usual_day = days.get(days.len() / 2).copied();
                Missed { asked: at, members, first: days.len() as u32, usual_day }
            })
            .collect()
    }

    /// Index of what was asked that most failing members miss first.
    pub fn decisive(&self) -> Option<usize> {
        let missed = self.missed();
        // Of equals the one asked first.
        let most = missed.iter().rev().max_by_key(|m| m.first)?;
        (most.first > 0).then_some(most.asked)
    }

    fn scored(&self, spare: Spare, changes: usize) -> Scored {
        Scored {
            costs: self.outcome(spare.outcome()).to_vec(),
            holds: self.misses.iter().map(|m| m.iter().all(Option::is_none)).collect(),
            changes,
            visits: self.mean("visits"),
        }
    }
}

/// What a member misses first; of what is missed on one day the one asked first.
fn first(misses: &[Option<u32>]) -> Option<usize> {
    let missed = misses.iter().enumerate().filter_map(|(at, day)| Some(((*day)?, at)));
    missed.min().map(|(_, at)| at)
}

impl Answer {
    /// In which weather one of the finalists misses: of what is told by its fact, that of the season in
    /// which a member first misses beside that of the seasons of members that hold.
    pub fn split(&self, finalist: usize, first_days: &[u32]) -> Vec<Split> {
        let Some(finalist) = self.finalists.get(finalist) else { return vec![] };
        let (mut missing, mut holding) = (Vec::new(), Vec::new());
        for (misses, seasons) in finalist.judged.misses.iter().zip(&self.weather) {
            match misses.iter().flatten().min() {
                Some(day) => {
                    let season = first_days.iter().filter(|first| *first <= day).count();
                    missing.extend(seasons.get(season.saturating_sub(1)));
                }
                None => {
                    let mean = |at: usize| {
                        seasons.iter().map(|s| s[at]).sum::<f64>() / seasons.len() as f64
                    };
                    holding.push([mean(0), mean(1), mean(2)]);
                }
            }
        }
        split(&missing, &holding)
    }
}

/// Weather of members, season by season.
type Weather = Vec<Vec<[f64; 3]>>;

/// What the race plays: programs of a space on a stage.
struct Field<'f, 'c> {
    stage: &'f Stage<'f>,
    space: &'f mut Space<'c>,
    judge: &'f Judge,
    spare: Spare,
    observer: Observer<'f>,
    /// Tracks played so far.
    done: Cell<u32>,
}

impl Field<'_, '_> {
    fn played<T: Send>(
        &self,
        programs: &[Program],
        members: Range<u32>,
        keep: impl Fn(Seen) -> T + Sync,
    ) -> Result<Vec<Vec<T>>, RunFault> {
        let count = programs.len() as u32;
        let before = self.done.get();
        let observer = self.observer;
        let heard = move |done: u32| observer(before.saturating_add(done.saturating_mul(count)));
        let played = self.stage.play(programs, members.clone(), &heard, keep)?;
        self.done.set(before.saturating_add(count.saturating_mul(members.len() as u32)));
        Ok(played)
    }

    /// Programs on the fresh members, and the weather of these.
    fn judged(
        &self,
        programs: &[Program],
        members: Range<u32>,
        years: &Range<i32>,
    ) -> Result<(Vec<Judged>, Weather), RunFault> {
        let keep = |seen: Seen| {
            let misses = self.judge.misses(&programs[seen.program], &seen.rows, &seen.track);
            let skies = (seen.program == 0).then_some(seen.skies);
            let weather: Vec<[f64; 3]> =
                skies.map_or(vec![], |s| years.clone().map(|year| facts(s, year)).collect());
            (misses, seen.track.outcomes, weather)
        };
        let mut judged: Vec<Judged> = programs
            .iter()
            .map(|_| Judged { misses: vec![], outcomes: vec![vec![]; OUTCOMES.len()] })
            .collect();
        let mut weather = Vec::new();
        for member in self.played(programs, members, keep)? {
            for (judged, (misses, outcomes, facts)) in judged.iter_mut().zip(member) {
                judged.misses.push(misses);
                judged.outcomes.iter_mut().zip(outcomes).for_each(|(all, one)| all.push(one));
                if !facts.is_empty() {
                    weather.push(facts);
                }
            }
        }
        Ok((judged, weather))
    }
}

impl Game for Field<'_, '_> {
    type Fault = RunFault;

    fn starts(&self) -> Vec<Vec<Knob>> {
        self.space.knobs()
    }

    fn plain(&self, one: Try) -> Try {
        self.space.plain(one)
    }

    fn allowed(&mut self, one: &Try) -> bool {
        self.space.allowed(one)
    }

    fn play(&mut self, tries: &[Try], members: Range<u32>) -> Result<Vec<Vec<Mark>>, RunFault> {
        let programs: Vec<Program> =
            tries.iter().filter_map(|one| self.space.program(one)).cloned().collect();
        let at = outcome(self.spare.outcome()).unwrap_or(usize::MAX);
        let judge = self.judge;
        let keep = |seen: Seen| Mark {
            cost: seen.track.outcomes.get(at).copied().unwrap_or(f64::NAN),
            holds: judge.holds(&programs[seen.program], &seen.rows, &seen.track),
        };
        let played = self.played(&programs, members, keep)?;
        let of = |program: usize| played.iter().map(|member| member[program]).collect();
        Ok((0..programs.len()).map(of).collect())
    }
}

/// Tracks that a search takes at the most, about.
pub fn effort(order: &Order, space: &Space) -> u32 {
    let (members, fresh) = (f64::from(order.members), f64::from(order.fresh));
    // What successive halving plays of each try, as a part of all members.
    const RACED: f64 = 0.35;
    let singles = 8.0 * space.size() as f64 / space.starts().len().max(1) as f64;
    let raced = RACED * members * (order.tries as f64 + singles);
    let starts = space.starts().len() as f64;
    let judged = FINALISTS.iter().chain(&MENDS).sum::<usize>() as f64 + starts;
    (starts * members + raced + judged * fresh) as u32
}

/// Searches and judges. The plan's members must be those of the search and the fresh ones together.
///
/// # Errors
/// See [`RunFault`].
pub fn thrift(
    plan: &RunPlan,
    catalogue: &Catalogue,
    space: &mut Space,
    order: &Order,
    observer: Observer,
) -> Result<Answer, RunFault> {
    let judge = Judge::new(plan.scenario, order.asked);
    let years = plan.scenario.years();
    let fresh = order.members..order.members.saturating_add(order.fresh);
    let stage = Stage::new(plan, catalogue, observer)?;
    let starts = space.starts().len();
    let spare = order.spare;
    let mut field =
        Field { stage: &stage, space, judge: &judge, spare, observer, done: Cell::new(0) };
    let tie = outcome(spare.outcome()).map_or(0.0, |at| OUTCOMES[at].least_difference);
    let race = race::Order {
        odds: order.odds,
        members: order.members,
        tries: order.tries,
        tie,
        seed: plan.seed,
    };
    let mut search = Search::new(&mut field, race);
    search.run()?;
    let chosen = chosen(&search, starts, tie);
    let changes: Vec<usize> = chosen.iter().map(|one| search.changes(one)).collect();
    drop(search);
    let (finalists, weather) = judge_all(&field, chosen, &changes, fresh.clone(), &years)?;
    let scored: Vec<Scored> = finalists.iter().map(|f| f.judged.scored(spare, f.changes)).collect();
    let choice = choose(&scored, order.odds, tie);
    let told = told(order, &finalists[..starts]);
    let mut answer = Answer {
        curve: curve(&scored),
        finalists,
        starts,
        choice,
        weather,
        story: None,
        tried: 0,
        refused: BTreeMap::new(),
        members: (order.members, order.fresh),
        record_years: plan.record.years(),
    };
    if let Some(start) = told {
        let mut search = Search::new(&mut field, race::Order { tries: 0, ..race });
        let pool = search.mend(start)?;
        let (chosen, tried) = (mends(&search, &pool), search.played().len());
        drop(search);
        let ones = vec![1; chosen.len()];
        let (mended, _) = judge_all(&field, chosen, &ones, fresh.clone(), &years)?;
        let scored: Vec<Scored> = mended.iter().map(|f| f.judged.scored(spare, 1)).collect();
        let pick = choose(&scored, order.odds, 0.0).pick;
        let mend = pick.and_then(|at| mended.into_iter().nth(at));
        let program = &answer.finalists[start];
        answer.story = story((&stage, &judge), program, start, fresh.start, mend, tried)?;
    }
    answer.tried = field.space.tried();
    answer.refused = field.space.refused.clone();
    Ok(answer)
}

/// What is judged on fresh members: every program as it was given, then what the search ends with.
fn chosen(search: &Search<Field>, starts: usize, tie: f64) -> Vec<Try> {
    let mut chosen: Vec<Try> = (0..starts).map(|start| search.own(start)).collect();
    for at in finalists(search, tie) {
        let one = &search.played()[at].one;
        if !chosen.contains(one) {
            chosen.push(one.clone());
        }
    }
    chosen
}

/// Which of the programs as they were given has its failure told, if any fails.
fn told(order: &Order, starts: &[Finalist]) -> Option<usize> {
    let fails = |at: &usize| {
        let Odds { hits, of } = starts[*at].judged.odds();
        !enough(hits as usize, of as usize, order.odds)
    };
    if let Some(asked_for) = order.story {
        return Some(asked_for).filter(fails);
    }
    // How a budget runs out is no story, where another program fails on the lawn; and what comes
    // nearest is the likeliest to be mended.
    (0..starts.len()).filter(fails).min_by_key(|at| {
        let judged = &starts[*at].judged;
        let decisive = judged.decisive();
        let budget = decisive.is_none_or(|at| matches!(order.asked[at], Asked::Budget(_)));
        (budget, Reverse(judged.odds().hits))
    })
}

/// Tries on the fresh members.
fn judge_all(
    field: &Field,
    chosen: Vec<Try>,
    changes: &[usize],
    members: Range<u32>,
    years: &Range<i32>,
) -> Result<(Vec<Finalist>, Weather), RunFault> {
    let programs: Vec<Program> =
        chosen.iter().filter_map(|one| field.space.program(one)).cloned().collect();
    let (judged, weather) = field.judged(&programs, members, years)?;
    let all = chosen.into_iter().zip(programs).zip(changes).zip(judged);
    let finalist = |(((one, program), changes), judged): (((Try, Program), &usize), Judged)| {
        Finalist { one, program, changes: *changes, judged }
    };
    Ok((all.map(finalist).collect(), weather))
}

/// Tries worth judging: along the curve, the cheapest that hold, and the simplest of these.
fn finalists<G: Game>(search: &Search<G>, tie: f64) -> Vec<usize> {
    let [along, cheap, simple] = FINALISTS;
    let played = search.played();
    let frontier = search.frontier();
    let last = frontier.len().saturating_sub(1) as f64;
    let picks = along.min(frontier.len());
    let step = |i: usize| (i as f64 * last / (picks.max(2) - 1) as f64).round() as usize;
    let mut out: Vec<usize> = (0..picks).map(|i| frontier[step(i)]).collect();
    let mut holding: Vec<usize> =
        (0..played.len()).filter(|at| search.holds(&played[*at])).collect();
    holding.sort_by(|a, b| played[*a].cost().total_cmp(&played[*b].cost()));
    out.extend(holding.iter().take(cheap));
    if let Some(least) = holding.first().map(|at| played[*at].cost()) {
        holding.retain(|at| played[*at].cost() <= least + tie);
        holding.sort_by_key(|at| search.changes(&played[*at].one));
        out.extend(holding.iter().take(simple));
    }
    out
}

/// Single changes worth judging: the cheapest that hold, and those that hold most often.
fn mends<G: Game>(search: &Search<G>, pool: &[usize]) -> Vec<Try> {
    let [cheap, sure] = MENDS;
    let played = search.played();
    let mut holding: Vec<usize> =
        pool.iter().copied().filter(|at| search.holds(&played[*at])).collect();
    holding.sort_by(|a, b| played[*a].cost().total_cmp(&played[*b].cost()));
    holding.truncate(cheap);
    let mut surest: Vec<usize> = pool.to_vec();
    surest.sort_by(|a, b| {
        let (a, b) = (&played[*a], &played[*b]);
        b.hits().cmp(&a.hits()).then(a.cost().total_cmp(&b.cost()))
    });
    for at in surest.into_iter().take(sure) {
        if !holding.contains(&at) {
            holding.push(at);
        }
    }
    holding.into_iter().map(|at| played[at].one.clone()).collect()
}

/// Those that no other beats in cost and odds, the cheapest first.
fn curve(scored: &[Scored]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..scored.len()).collect();
    order.sort_by(|a, b| {
        let (a, b) = (&scored[*a], &scored[*b]);
        a.cost().total_cmp(&b.cost()).then(b.hits().cmp(&a.hits()))
    });
    let mut most = None;
    order.retain(|at| {
        let hits = Some(scored[*at].hits());
        let better = hits > most;
        most = most.max(hits);
        better
    });
    order
}

/// The members that stand for those that fail, and for those that hold, told again.
fn story(
    (stage, judge): (&Stage, &Judge),
    failing: &Finalist,
    start: usize,
    first_member: u32,
    mend: Option<Finalist>,
    tried: usize,
) -> Result<Option<Story>, RunFault> {
    let Finalist { judged, program, .. } = failing;
    let Some(decisive) = judged.decisive() else { return Ok(None) };
    let future = |wanted: &dyn Fn(&[Option<u32>]) -> bool| -> Result<Option<Future>, RunFault> {
        let among: Vec<usize> =
            (0..judged.misses.len()).filter(|m| wanted(&judged.misses[*m])).collect();
        let found = typical::most_typical_of(&judged.outcomes, &among);
        let Some(member) = found else { return Ok(None) };
        let number = first_member.saturating_add(member as u32);
        let retold = stage.retell(std::slice::from_ref(program), number)?;
        let series = retold
            .tracks
            .first()
            .and_then(|told| judge.series(decisive, program, &told.rows, &told.track));
        let missed = judged.misses[member][decisive];
        Ok(Some(Future { retold, series, missed, of: among.len() }))
    };
    let Some(fails) = future(&|misses| first(misses) == Some(decisive))? else { return Ok(None) };
    Ok(Some(Story {
        start,
        decisive,
        failing: fails,
        holding: future(&|misses| misses.iter().all(Option::is_none))?,
        stretches: judge.stretches(decisive),
        mend,
        tried,
    }))
}
