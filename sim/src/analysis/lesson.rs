//! What a lesson's members answer: which choice is right, how surely, and the figures of its chain.

use crate::calendar::Day;
use crate::ensemble::{MEASURES, Results, TrackRows, quantile_sorted};
use crate::outcomes::OUTCOMES;
use crate::scenario::{Lesson, LessonFault, Look, Named, Vocabulary, When, check_lesson};

/// Place of the program without the change in a lesson's results.
pub const USUAL: usize = 0;
/// Place of the program with it.
pub const CHANGED: usize = 1;

/// What the members answer. Figures are in the unit of the outcome or measure that they are of.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// What was asked, with the change and without.
    pub pair: Pair,
    /// What the choices are about, a value a member: the change, or the value with it.
    pub asked: Vec<f64>,
    /// Its median.
    pub median: f64,
    /// The 95 % interval of the median over other draws of members.
    pub interval: (f64, f64),
    /// Number of members in which each choice holds.
    pub hits: Vec<u32>,
    /// Choices that the interval of the median reaches: one, unless the members do not tell. The
    /// first is the one that holds the median.
    pub right: Vec<usize>,
    /// The figures of each link.
    pub links: Vec<Pair>,
}

/// One figure under both programs, a value a member, in the unit of its outcome or measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// With the change.
    pub changed: Vec<f64>,
    /// Without it.
    pub usual: Vec<f64>,
}

/// Which way a change goes in most members.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// More with the change.
    More,
    /// Less with it.
    Less,
    /// The members do not tell.
    Same,
}

impl Answer {
    /// The choice that holds the median.
    pub fn middle(&self) -> usize {
        self.right.first().copied().unwrap_or(0)
    }

    /// Whether the members tell the choices apart.
    pub fn is_clear(&self) -> bool {
        self.right.len() == 1
    }
}

impl Pair {
    /// The change, member by member.
    pub fn differences(&self) -> Vec<f64> {
        self.changed.iter().zip(&self.usual).map(|(with, without)| with - without).collect()
    }

    /// The way of the median change; [`Way::Same`] where its interval reaches zero.
    pub fn way(&self) -> Way {
        let (_, (low, high)) = median(&self.differences());
        if low > 0.0 {
            Way::More
        } else if high < 0.0 {
            Way::Less
        } else {
            Way::Same
        }
    }
}

/// Checks a lesson's text; it may speak of every outcome and measure that results hold. `base` is the
/// text of the scenario that it names, `studies` the ids that it may refer to.
///
/// # Errors
/// As [`check_lesson`].
pub fn check(
    text: &str,
    base: Option<&str>,
    products: &str,
    rules: &str,
    studies: &[&str],
) -> Result<Lesson, Vec<LessonFault>> {
    let outcomes: Vec<Named> =
        OUTCOMES.iter().map(|o| Named { key: o.key, label: o.label, unit: o.unit }).collect();
    let measures: Vec<Named> =
        MEASURES.iter().map(|m| Named { key: m.key, label: m.label, unit: m.unit }).collect();
    let vocabulary = Vocabulary { outcomes: &outcomes, measures: &measures, studies };
    check_lesson(text, base, products, rules, &vocabulary)
}

/// Reads a lesson's answer off its results, which must have kept their tracks.
///
/// # Errors
/// What is missing of the results.
pub fn answer(lesson: &Lesson, results: &Results) -> Result<Answer, String> {
    let pair = |look| {
        let changed = values(look, results, CHANGED)?;
        Ok::<_, String>(Pair { changed, usual: values(look, results, USUAL)? })
    };
    let asked_pair = pair(lesson.asked)?;
    let asked = if lesson.of_value { asked_pair.changed.clone() } else { asked_pair.differences() };
    let (median, interval) = median(&asked);
    let hits = |value: f64| lesson.choices.iter().position(|choice| choice.holds(value));
    let mut counts = vec![0; lesson.choices.len()];
    asked.iter().filter_map(|value| hits(*value)).for_each(|choice| counts[choice] += 1);
    let middle = hits(median).ok_or("no choice holds the median")?;
    let reached = |choice: &usize| {
        let choice = &lesson.choices[*choice];
        choice.from.is_none_or(|from| from <= interval.1)
            && choice.to.is_none_or(|to| to > interval.0)
    };
    let others = (0..lesson.choices.len()).filter(|at| *at != middle).filter(reached);
    let right = [middle].into_iter().chain(others).collect();
    let links = lesson.links.iter().map(|link| pair(link.look)).collect::<Result<_, _>>()?;
    Ok(Answer { pair: asked_pair, asked, median, interval, hits: counts, right, links })
}

/// Fewest values whose range holds the median of what they are drawn from with 95 %: it is missed
/// where all lie on one side, 2 / 2^n of the time.
pub const FEWEST: usize = 6;

/// The median of some values and its 95 % interval, without a guess at their distribution: the
/// order statistics about 1.96 sqrt(n) / 2 ranks either side of the middle (Conover 1999, Practical
/// Nonparametric Statistics, section 3.2, from memory). Fewer than [`FEWEST`] values bound it
/// nowhere: even their whole range holds it less often. NaN for none.
pub fn median(values: &[f64]) -> (f64, (f64, f64)) {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = quantile_sorted(&sorted, 0.5);
    if sorted.len() < FEWEST {
        return (middle, (f64::NEG_INFINITY, f64::INFINITY));
    }
    let top = sorted.len() - 1;
    let count = sorted.len() as f64;
    let below = ((count - 1.96 * count.sqrt()) / 2.0).floor().max(1.0) as usize - 1;
    (middle, (sorted[below.min(top)], sorted[top - below.min(top)]))
}

/// A look under one program, member by member.
fn values(look: Look, results: &Results, program: usize) -> Result<Vec<f64>, String> {
    let played = results.programs.get(program).ok_or("the pair of programs was not played")?;
    match look.when {
        None => {
            let outcome = played.outcomes.get(look.index);
            outcome.cloned().ok_or_else(|| "an outcome is missing".to_string())
        }
        Some((when, season)) => {
            let tracks = played.tracks.as_ref().ok_or("the run kept no tracks")?;
            let days = days_of(when, season, results)?;
            tracks.iter().map(|rows| mean(rows, look.index, days)).collect()
        }
    }
}

/// First and last day of a look, from the start of the run.
fn days_of(when: When, season: u32, results: &Results) -> Result<(usize, usize), String> {
    let year = results.first.ymd().0 + i32::try_from(season).unwrap_or(i32::MAX);
    let outside = || "a look is outside the run".to_string();
    let (first, last) = match when {
        When::On(date) => (date.in_year(year), date.in_year(year)),
        When::In(month) => {
            let first = Day::from_ymd(year, month, 1).ok_or_else(outside)?;
            let next = match month {
                12 => Day::from_ymd(year + 1, 1, 1),
                month => Day::from_ymd(year, month + 1, 1),
            };
            (first, Day(next.ok_or_else(outside)?.0 - 1))
        }
    };
    let place = |day: Day| usize::try_from(day.0 - results.first.0).map_err(|_| outside());
    Ok((place(first)?, place(last)?))
}

fn mean(rows: &TrackRows, measure: usize, (first, last): (usize, usize)) -> Result<f64, String> {
    let values = (first..=last).map(|day| rows.get(day * MEASURES.len() + measure));
    let values: Vec<f32> = values
        .collect::<Option<Vec<&f32>>>()
        .ok_or("a look is outside the run")?
        .into_iter()
        .copied()
        .collect();
    Ok(values.iter().map(|v| f64::from(*v)).sum::<f64>() / values.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Ranks from tables of the binomial with p = 1/2 (Conover 1999, table A3, from memory): for 100
    // values the 40th and 61st bound the median with 95 %.
    #[test]
    fn the_median_has_an_interval_of_ranks() {
        let values: Vec<f64> = (1..=100).rev().map(f64::from).collect();
        assert_eq!(median(&values), (50.5, (40.0, 61.0)));
        // 1 - 2 / 2^5 = 0.94, 1 - 2 / 2^6 = 0.97.
        assert_eq!(median(&[3.0, 1.0, 2.0, 5.0, 4.0]).1, (f64::NEG_INFINITY, f64::INFINITY));
        assert_eq!(median(&[3.0, 1.0, 2.0, 5.0, 4.0, 6.0]).1, (1.0, 6.0));
        assert!(median(&[]).0.is_nan());
    }

    #[test]
    fn a_way_shows_only_where_the_interval_leaves_zero() {
        let pair = |by: &dyn Fn(i32) -> f64| Pair {
            changed: (0..100).map(|n| 10.0 + by(n)).collect(),
            usual: vec![10.0; 100],
        };
        assert_eq!(pair(&|_| 1.0).way(), Way::More);
        assert_eq!(pair(&|_| -1.0).way(), Way::Less);
        assert_eq!(pair(&|n| if n % 2 == 0 { 3.0 } else { -3.0 }).way(), Way::Same);
        assert_eq!(pair(&|_| 0.0).way(), Way::Same);
    }
}
