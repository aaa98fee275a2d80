//! Which values of a setting are tried: round ones, around the program's own.

use super::NotSwept;
use crate::quantity::{Kind, Units, show, shown};
use crate::scenario::{Dial, Measure, show_day};

/// What a person asked for; the rest is chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Asked {
    /// Least value, in the setting's own unit.
    pub from: Option<f64>,
    /// Greatest value.
    pub to: Option<f64>,
    /// How many values, 2 or more.
    pub steps: Option<usize>,
}

/// Values tried where a person does not say: an odd number, so that one lies in the middle.
const STEPS: usize = 13;
/// So many more may be tried to keep the step round.
const MORE: usize = 2;
/// Days to both sides of a date, or of a time between two.
const AROUND_DAYS: f64 = 42.0;
/// Usual time to a second half where there is none yet, days.
const SPLIT_DAYS: f64 = 56.0;
/// No second half is tried sooner than this, days.
const SPLIT_LEAST_DAYS: f64 = 14.0;
/// Degrees to both sides of a temperature, by units.
const AROUND_DEGREES: (f64, f64) = (12.0, 6.0);
/// Points to both sides of a share.
const AROUND_SHARE: f64 = 0.3;
/// Shares of the program's own amount: of a height, and of what is laid.
const HEIGHTS: (f64, f64) = (0.5, 1.5);
const AMOUNTS: (f64, f64) = (0.25, 2.0);
/// Shares of the program's own interval.
const INTERVALS: (f64, f64) = (0.3, 2.0);

/// The values to try, rising, in the setting's own unit; the program's own (of several dates, that at
/// `nth`) among them where it lies between the ends.
///
/// # Errors
/// Where the ends are reversed or beyond what a scenario may say.
pub fn values(dial: &Dial, nth: usize, asked: &Asked, units: Units) -> Result<Vec<f64>, NotSwept> {
    let (unit, factor, offset) = unit(dial, units);
    let out = |si: f64| si * factor + offset;
    let back = |shown: f64| (shown - offset) / factor;
    let now = dial.now.get(nth).copied();
    for (flag, end) in [("from", asked.from), ("to", asked.to)] {
        if let Some(end) = end.filter(|end| !allowed(dial, *end)) {
            return Err(NotSwept {
                message: format!("--{flag} {} is out of range", tell(dial, end, units)),
                expected: between(dial, dial.range, units),
                help: None,
            });
        }
    }
    let (low, high) = ends(usual(dial, now, units), asked.from.map(out), asked.to.map(out));
    let (low, high) = (low.max(out(dial.range.0)), high.min(out(dial.range.1)));
    if low >= high {
        let (from, to) = (tell(dial, back(low), units), tell(dial, back(high), units));
        return Err(NotSwept {
            message: format!("nothing lies between --from {from} and --to {to}"),
            expected: "an earlier or smaller --from".into(),
            help: None,
        });
    }
    let whole = !matches!(dial.measure, Measure::Amount(_));
    let mut list = match asked.steps {
        Some(steps) => {
            let gaps = (steps.max(2) - 1) as f64;
            (0..steps.max(2)).map(|i| low + (high - low) * i as f64 / gaps).collect()
        }
        None => {
            let step = round_step(high - low, whole, unit == "in");
            // Days are counted from the program's own, amounts are round in themselves.
            let from = match (asked.from, now) {
                (Some(_), _) => low,
                (None, Some(now)) if whole => now - ((now - low) / step).floor() * step,
                _ => (low / step - 1e-9).ceil() * step,
            };
            steps_of(step, (from, high), asked.to.is_some())
        }
    };
    if whole {
        list.iter_mut().for_each(|value| *value = value.round());
    }
    let gap = (high - low) / list.len() as f64;
    let mut list: Vec<f64> = list.into_iter().map(back).collect();
    if let Some(now) = now.filter(|now| (low..=high).contains(&out(*now))) {
        // The program's own in place of one that is only rounding away from it.
        list.retain(|value| (out(*value) - out(now)).abs() > 0.02 * gap);
        list.push(now);
    }
    list.sort_by(f64::total_cmp);
    list.dedup();
    // A day cannot be there twice.
    let other =
        |value: &f64| dial.now.iter().enumerate().any(|(at, day)| at != nth && day == value);
    list.retain(|value| dial.measure != Measure::Date || !other(value));
    Ok(list)
}

/// The ends of a sweep as shown: those asked for, or the usual ones. An end beyond the usual other one
/// takes that with it.
fn ends((usual_low, usual_high): (f64, f64), from: Option<f64>, to: Option<f64>) -> (f64, f64) {
    let span = usual_high - usual_low;
    let low = match (from, to) {
        (Some(from), _) => from,
        (None, Some(to)) if to <= usual_low => to - span,
        _ => usual_low,
    };
    (low, to.unwrap_or(if usual_high > low { usual_high } else { low + span }))
}

/// Values a step apart; the last end too, where it was asked for and is not met.
fn steps_of(step: f64, (from, high): (f64, f64), to_the_end: bool) -> Vec<f64> {
    let count = ((high - from) / step + 1e-9).floor() as usize;
    let mut list: Vec<f64> = (0..=count).map(|i| from + i as f64 * step).collect();
    if to_the_end && list.last().is_some_and(|last| high - last > 0.01 * step) {
        list.push(high);
    }
    list
}

/// Whether a scenario may say so, rounding of a unit apart.
fn allowed(dial: &Dial, value: f64) -> bool {
    let slack = |end: f64| if end.is_finite() { 1e-9 * end.abs() } else { 0.0 };
    let (low, high) = dial.range;
    (low - slack(low)..=high + slack(high)).contains(&value)
}

/// Unit in which values are round, with factor and offset to it.
fn unit(dial: &Dial, units: Units) -> (&'static str, f64, f64) {
    match dial.measure {
        Measure::Amount(kind) => shown(kind, units),
        _ => ("days", 1.0, 0.0),
    }
}

/// Ends where a person gives none, in the shown unit.
fn usual(dial: &Dial, now: Option<f64>, units: Units) -> (f64, f64) {
    let (_, factor, offset) = unit(dial, units);
    let own = now.unwrap_or(SPLIT_DAYS) * factor + offset;
    let of = |(low, high): (f64, f64)| (low * own, high * own);
    match dial.measure {
        Measure::Date => (own - AROUND_DAYS, own + AROUND_DAYS),
        Measure::Days if dial.key == "split" => {
            ((own - AROUND_DAYS).max(SPLIT_LEAST_DAYS), own + AROUND_DAYS)
        }
        Measure::Days if dial.after.is_some() => (own - AROUND_DAYS, own + AROUND_DAYS),
        Measure::Days => {
            let low = (INTERVALS.0 * own).round().max(1.0);
            (low, (INTERVALS.1 * own).max(low + (STEPS - 1) as f64))
        }
        Measure::Amount(Kind::Temperature) => {
            let (us, metric) = AROUND_DEGREES;
            let around = if units == Units::Us { us } else { metric };
            (own - around, own + around)
        }
        Measure::Amount(Kind::Share) => {
            let around = AROUND_SHARE * factor;
            ((own - around).max(0.0), (own + around).min(factor))
        }
        // None so far, such as water given after a barrier: up to an inch.
        Measure::Amount(_) if own <= 0.0 => (0.0, 25.4 * factor),
        Measure::Amount(_) if dial.key.ends_with("height") => of(HEIGHTS),
        Measure::Amount(_) => of(AMOUNTS),
    }
}

/// The least round step that takes no more values than are usual.
fn round_step(span: f64, whole: bool, inches: bool) -> f64 {
    let fits = |step: &f64| span / step < (STEPS + MORE) as f64 - 1e-9;
    let widest = 10f64.powf(span.max(1e-9).log10().ceil());
    if whole {
        const DAYS: [f64; 11] = [1.0, 2.0, 3.0, 4.0, 5.0, 7.0, 10.0, 14.0, 21.0, 28.0, 42.0];
        return DAYS.into_iter().find(fits).unwrap_or(widest);
    }
    if inches {
        let halves = (0..10).map(|n| 0.0625 * 2f64.powi(n));
        return halves.into_iter().find(fits).unwrap_or(widest);
    }
    let tens = (0..4).rev().map(|n| widest * 10f64.powi(-n));
    let steps = tens.flat_map(|ten| [0.1, 0.2, 0.25, 0.5].map(|part| part * ten));
    steps.into_iter().find(fits).unwrap_or(widest)
}

/// A value for people.
fn tell(dial: &Dial, value: f64, units: Units) -> String {
    match dial.measure {
        Measure::Date => show_day(value),
        Measure::Days => format!("{value:.0} days"),
        Measure::Amount(kind) => show(value, kind, units),
    }
}

fn between(dial: &Dial, (low, high): (f64, f64), units: Units) -> String {
    match (low.is_finite(), high.is_finite()) {
        (true, true) => format!("{} to {}", tell(dial, low, units), tell(dial, high, units)),
        (true, false) => format!("{} or more", tell(dial, low, units)),
        _ => "another value".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dial(key: &'static str, measure: Measure, range: (f64, f64), now: &[f64]) -> Dial {
        Dial { key, measure, range, now: now.to_vec(), after: None, held_at: false }
    }

    fn shown_values(dial: &Dial, asked: Asked) -> Vec<f64> {
        let (_, factor, offset) = unit(dial, Units::Us);
        let list = values(dial, 0, &asked, Units::Us).unwrap();
        list.iter().map(|v| ((v * factor + offset) * 1e6).round() / 1e6).collect()
    }

    #[test]
    fn usual_values_are_round_and_hold_the_programs_own() {
        let split = dial("split", Measure::Days, (7.0, 180.0), &[56.0]);
        let weeks: Vec<f64> = (2..=14).map(|w| 7.0 * f64::from(w)).collect();
        assert_eq!(shown_values(&split, Asked::default()), weeks);
        let none = Dial { now: vec![], ..split };
        assert_eq!(shown_values(&none, Asked::default()), weeks);
        let every = dial("every", Measure::Days, (1.0, 365.0), &[14.0]);
        let days: Vec<f64> = (2..=14).map(|n| 2.0 * f64::from(n)).collect();
        assert_eq!(shown_values(&every, Asked::default()), days);
        let height = dial("height", Measure::Amount(Kind::Depth), (6.0, 200.0), &[76.2]);
        let quarters: Vec<f64> = (6..=18).map(|n| 0.25 * f64::from(n)).collect();
        assert_eq!(shown_values(&height, Asked::default()), quarters);
        let soil =
            dial("soil-temperature", Measure::Amount(Kind::Temperature), (-5.0, 40.0), &[10.0]);
        let degrees: Vec<f64> = (19..=31).map(|n| 2.0 * f64::from(n)).collect();
        assert_eq!(shown_values(&soil, Asked::default()), degrees);
        let compost = dial("depth", Measure::Amount(Kind::Depth), (0.5, 50.0), &[6.35]);
        let sixteenths: Vec<f64> = (1..=8).map(|n| 0.0625 * f64::from(n)).collect();
        assert_eq!(shown_values(&compost, Asked::default()), sixteenths);
        // 0.67 lb N/1000 ft2 is none of the round ones.
        let feed =
            dial("nitrogen", Measure::Amount(Kind::NitrogenRate), (0.01, 30.0), &[0.67 * 4.882_43]);
        let list = shown_values(&feed, Asked::default());
        assert_eq!((list[0], list[1], *list.last().unwrap()), (0.2, 0.3, 1.3));
        assert!(list.iter().any(|v| (v - 0.67).abs() < 1e-5), "{list:?}");
    }

    #[test]
    fn ends_and_steps_are_kept_to() {
        let split = dial("split", Measure::Days, (7.0, 180.0), &[56.0]);
        let asked = Asked { from: Some(20.0), to: Some(40.0), steps: Some(3) };
        assert_eq!(shown_values(&split, asked), [20.0, 30.0, 40.0]);
        let asked = Asked { from: Some(28.0), to: Some(150.0), steps: None };
        let list = shown_values(&split, asked);
        assert_eq!((list[0], *list.last().unwrap()), (28.0, 150.0));
        assert!(list.len() <= STEPS + MORE + 2 && list.contains(&56.0), "{list:?}");
        let late = shown_values(&split, Asked { from: Some(120.0), ..Asked::default() });
        assert_eq!((late[0], *late.last().unwrap()), (120.0, 180.0));
        let soon = shown_values(&split, Asked { to: Some(10.0), ..Asked::default() });
        assert_eq!((soon[0], *soon.last().unwrap()), (7.0, 10.0));
    }

    #[test]
    fn ends_out_of_range_or_reversed_are_told() {
        let split = dial("split", Measure::Days, (7.0, 180.0), &[56.0]);
        let ask = |from, to| values(&split, 0, &Asked { from, to, steps: None }, Units::Us);
        let far = ask(None, Some(400.0)).unwrap_err().to_string();
        assert_eq!(far, "--to 400 days is out of range; expected 7 days to 180 days");
        let turned = ask(Some(60.0), Some(30.0)).unwrap_err().to_string();
        assert!(
            turned.contains("nothing lies between --from 60 days and --to 30 days"),
            "{turned}"
        );
    }

    #[test]
    fn a_date_never_falls_on_another_of_the_list() {
        let on = dial("on", Measure::Date, (0.0, 364.0), &[100.0, 121.0]);
        let list = values(&on, 0, &Asked::default(), Units::Us).unwrap();
        assert!(list.contains(&100.0) && list.contains(&114.0) && !list.contains(&121.0));
        let late = dial("on", Measure::Date, (0.0, 364.0), &[350.0]);
        let list = values(&late, 0, &Asked::default(), Units::Us).unwrap();
        assert!(list.iter().all(|v| (0.0..=364.0).contains(v)), "{list:?}");
    }
}
