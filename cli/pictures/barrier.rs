//! The barrier picture: how long it holds in the first season, and the crabgrass behind it.

use std::ops::Range;

use sim::calendar::Day;
use sim::ensemble::{Band, ProgramResults, Results, measure};
use sim::scenario::{Practice, Program, Scenario, What};
use sim::work::Act;

use super::sketch::{BarrierRow, Content, Sketch, Span, note, these_programs};
use crate::round;
use crate::units::Units;
use crate::words::figure::quantile;
use crate::words::name::{self, quoted};

/// The picture, where any program lays a barrier.
pub fn sketch(results: &Results, scenario: &Scenario, units: Units) -> Option<Sketch> {
    let season = first_season(results);
    let shown = Shown::of(scenario);
    let (mut rows, mut drawn) = (Vec::new(), Vec::new());
    let mut shares = Vec::new();
    for place in &shown.places {
        let (program, written) = (results.programs.get(*place)?, scenario.programs.get(*place)?);
        let (row, stopped) = row(results, program, written, season.clone(), units)?;
        // Where the season's barrier is past, or never came, there is nothing to show of it.
        if row.laid.is_empty() {
            continue;
        }
        rows.push(row);
        drawn.push(*place);
        let named = shown.pair.is_none_or(|(a, b)| *place == a || *place == b);
        shares.extend(stopped.filter(|_| named).map(|s| (s, program.title.as_str())));
    }
    if rows.is_empty() {
        return None;
    }
    let mut programs = these_programs(results, &drawn);
    let every = shown.every && drawn.len() == shown.places.len();
    if let ([only], true) = (&mut programs[..], every) {
        only.name = "Every program".into();
    }
    let title = title(shares, every);
    let first = results.first.plus(season.start as i32).date();
    let when = if scenario.seasons > 1 {
        format!("first season ({})", first.year())
    } else {
        format!("{}", first.year())
    };
    Some(Sketch {
        name: "barrier".into(),
        subtitle: format!("{}, {when}", scenario.title),
        alt: format!("Strength of the barrier and crabgrass seedlings by day. {title}."),
        title,
        note: note(results),
        programs,
        content: Content::Barrier(
            Span { first, days: season.len() },
            format!("{} a day", units.shown("1/m2").unit),
            rows,
        ),
    })
}

/// Which programs are shown: one for each way to lay the barrier.
struct Shown {
    /// Their places.
    places: Vec<usize>,
    /// Base and program that differ in the barrier alone, where there are such: the fair pair.
    pair: Option<(usize, usize)>,
    /// Whether every program lays a barrier, so that a single one shown is that of all.
    every: bool,
}

impl Shown {
    fn of(scenario: &Scenario) -> Shown {
        let lays = |p: &&Practice| matches!(p.what, What::PreEmergent { .. });
        let barriers = |i: usize| -> Vec<&Practice> {
            scenario.programs[i].practices.iter().filter(lays).collect()
        };
        let others = |i: usize| -> Vec<&Practice> {
            scenario.programs[i].practices.iter().filter(|p| !lays(p)).collect()
        };
        let all = || (0..scenario.programs.len()).filter(|i| !barriers(*i).is_empty());
        let pair = all().find_map(|i| {
            let base = scenario.programs[i].based_on.as_ref()?;
            let base = all().find(|b| scenario.programs[*b].id == *base)?;
            (barriers(base) != barriers(i) && others(base) == others(i)).then_some((base, i))
        });
        let mut places: Vec<usize> = pair.into_iter().flat_map(|(a, b)| [a, b]).collect();
        for i in all() {
            // A program that differs in something else would only repeat the picture.
            if !places.iter().any(|shown| barriers(*shown) == barriers(i)) {
                places.push(i);
            }
        }
        places.sort_unstable();
        Shown { places, pair, every: all().count() == scenario.programs.len() }
    }
}

/// Day indices of the first calendar year of the run. In it every program has the same seed bank;
/// in a later one a program that let more crabgrass seed has more to stop.
fn first_season(results: &Results) -> Range<usize> {
    let next = Day::from_ymd(results.first.ymd().0 + 1, 1, 1);
    let end = next.and_then(|next| usize::try_from(next.0 - results.first.0).ok());
    0..end.map_or(results.days, |end| end.min(results.days))
}

/// One program's row, and the share of seedlings that its barrier stops.
fn row(
    results: &Results,
    program: &ProgramResults,
    written: &Program,
    season: Range<usize>,
    units: Units,
) -> Option<(BarrierRow, Option<f64>)> {
    let barrier = measure("barrier")?;
    let per = units.shown("1/m2");
    let mean = |key: &str| -> Option<Vec<f64>> {
        let days = program.bands.get(measure(key)?)?.mean.get(season.clone())?;
        Some(days.iter().map(|n| per.value(*n)).collect())
    };
    let (trying, through) = (mean("crabgrass_pressure")?, mean("crabgrass_through")?);
    let (all, past): (f64, f64) = (trying.iter().sum(), through.iter().sum());
    let stopped = (all > 0.0).then(|| 1.0 - past / all);
    let spoken = |v: f64| round::spoken(v, round::spoken_step(1.0, v / 50.0));
    let row = BarrierRow {
        strength: slice(program.bands.get(barrier)?, season.clone()),
        trying,
        through,
        laid: laid(results, program, written, &season),
        result: format!(
            "on average about {} of {} seedlings {} come through",
            spoken(past),
            spoken(all),
            per.unit
        ),
    };
    Some((row, stopped))
}

fn slice(band: &Band, days: Range<usize>) -> Band {
    let cut = |v: &[f64]| v.get(days.clone()).unwrap_or(&[]).to_vec();
    Band {
        p05: cut(&band.p05),
        p25: cut(&band.p25),
        p50: cut(&band.p50),
        p75: cut(&band.p75),
        p95: cut(&band.p95),
        mean: cut(&band.mean),
    }
}

/// The first, second... laying of each practice in the season, over the members.
fn laid(
    results: &Results,
    program: &ProgramResults,
    written: &Program,
    season: &Range<usize>,
) -> Vec<(String, f64, f64, f64)> {
    let mut days: Vec<Vec<f64>> = vec![];
    let mut labels: Vec<String> = vec![];
    for work in &program.work {
        let laid = work.iter().filter(|e| matches!(e.act, Act::LayBarrier { .. }));
        let since = laid.filter_map(|e| {
            let day = usize::try_from(e.day.0 - results.first.0).ok()?;
            season.contains(&day).then(|| (day - season.start, usize::from(e.practice)))
        });
        for (nth, (day, practice)) in since.enumerate() {
            if nth == days.len() {
                days.push(vec![]);
                labels.push(label(written, practice));
            }
            days[nth].push(day as f64);
        }
    }
    labels
        .into_iter()
        .zip(days)
        .map(|(label, mut days)| {
            days.sort_by(f64::total_cmp);
            (label, quantile(&days, 0.05), quantile(&days, 0.5), quantile(&days, 0.95))
        })
        .collect()
}

/// "Barrier", or "Barrier, first half" where a second one follows.
fn label(written: &Program, practice: usize) -> String {
    let Some(practice) = written.practices.get(practice) else { return String::new() };
    let second = format!("{}{}", practice.key, name::SECOND);
    let label = name::practice(&practice.key);
    if written.practices.iter().any(|p| p.key == second) {
        format!("{label}, first half")
    } else {
        label
    }
}

/// How much of the crabgrass meets the barrier: all seedlings of all members counted together.
fn title(mut shares: Vec<(f64, &str)>, every: bool) -> String {
    shares.sort_by(|a, b| b.0.total_cmp(&a.0));
    let percent = |share: f64| round::spoken(share * 100.0, 5.0);
    let same = shares.first().zip(shares.last()).map(|(a, b)| percent(a.0) == percent(b.0));
    match shares[..] {
        [] => "No crabgrass tries to come up".into(),
        [(share, _)] if every => {
            format!("The barrier stops about {} % of crabgrass seedlings", percent(share))
        }
        [(share, name)] => {
            let name = quoted(name);
            format!(
                "The barrier stops about {} % of crabgrass seedlings with {name}",
                percent(share)
            )
        }
        [(share, _), ..] if same == Some(true) => {
            format!("Each barrier stops about {} % of crabgrass seedlings", percent(share))
        }
        [(first, name), .., (last, other)] => format!(
            "The barrier stops about {} % of crabgrass seedlings with {}, {} % with {}",
            percent(first),
            quoted(name),
            percent(last),
            quoted(other)
        ),
    }
}
