//! Does drawn weather look like its record? Each gate is one comparison with what it allows.

use super::dates::{YearDates, dates};
use super::statistics::{Mean, Statistics, places};
use crate::calendar::MONTHS;
use crate::draw::{Purpose, Streams};
use crate::ensemble::quantile_sorted;
use crate::weather::{
    PlanFault, Record, Resampler, SiteTables, WeatherParameters, WeatherPlan, complete_years,
};

/// The gate of the last frost that counts frosts at 0 C sharp.
pub const SHARP_FROST: &str = "last spring frost, 0 C sharp";

/// One comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Gate {
    /// What it compares.
    pub name: &'static str,
    /// The drawn against the record, in `unit`: a difference, or a ratio of drawn to record.
    pub value: f64,
    /// Least value allowed.
    pub low: f64,
    /// Greatest value allowed.
    pub high: f64,
    /// Of the three: "C", "days", "share" (of the record's), "x" (times the record's), or none.
    pub unit: &'static str,
    /// The month that is worst, from 0, where every month is compared.
    pub month: Option<usize>,
    /// The record's value.
    pub record: f64,
    /// The drawn one.
    pub drawn: f64,
    /// Unit of the two: "degC", "mm", "days", or none.
    pub measured_in: &'static str,
}

impl Gate {
    /// Whether the drawn are like the record.
    pub fn holds(&self) -> bool {
        (self.low..=self.high).contains(&self.value)
    }

    /// The record's value and the drawn one, with the month that is worst.
    pub fn detail(&self) -> String {
        let month = self.month.map_or(String::new(), |m| format!("{}: ", MONTHS[m]));
        format!("{month}{:.2} -> {:.2}", self.record, self.drawn)
    }
}

/// A record and what was drawn from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// First calendar year of both.
    pub first_year: i32,
    /// The record's complete years.
    pub record: Statistics,
    /// As many years drawn again and again.
    pub drawn: Vec<Statistics>,
    /// The dates of each drawn year.
    pub drawn_dates: Vec<YearDates>,
    /// What was compared; gates that have nothing to compare (no frost, a single year) are left out.
    pub gates: Vec<Gate>,
}

/// Draws synthetic records, each as long as the record's complete years and on their calendar, and holds
/// them against it.
///
/// The gates are those proposed by a trial of several generators; no published tolerance for weather
/// generators was found (`tests/reference/GENERATOR.md`).
///
/// # Errors
/// A record without a complete year, or too short for the plan.
pub fn compare(
    record: &Record,
    plan: WeatherPlan,
    replicates: u32,
    seed: u64,
    p: &WeatherParameters,
) -> Result<Comparison, PlanFault> {
    let resampler = Resampler::new(record)?;
    let Some(whole) = whole_years(record) else {
        // A record without a complete year has nothing to be compared with.
        return Err(PlanFault {
            message: format!("the record of {} has no complete calendar year", record.name),
            help: "use a record with at least one year from January to December, better ten".into(),
        });
    };
    let (first_year, years) = (whole.first.ymd().0, complete_years(&whole).len());
    // What is drawn from is what is compared with.
    let resampler = Resampler::new(&whole).unwrap_or(resampler);
    let calendar = places(first_year, years);
    let tables = SiteTables::new(&record.site, record.anemometer_m);
    let streams = Streams::new(seed);
    let (mut drawn, mut drawn_dates) = (vec![], vec![]);
    for replicate in 0..replicates {
        let mut rng = streams.of_member(replicate, Purpose::Weather);
        let path = resampler.draw(plan, first_year, years as u32, &mut rng)?;
        drawn.push(Statistics::of(&path, &calendar));
        drawn_dates.extend(dates(&path, whole.first, &tables, p));
    }
    let record = Statistics::of(&whole.days, &calendar);
    let mut gates = gates(&record, &drawn, years);
    gates.retain(|gate| gate.value.is_finite());
    Ok(Comparison { first_year, record, drawn, drawn_dates, gates })
}

/// The record without the days before and after its complete years.
fn whole_years(record: &Record) -> Option<Record> {
    let spans = complete_years(record);
    let start = spans.first()?;
    let length = places(start.year, spans.len()).len();
    let days = record.days.get(start.start..)?.get(..length)?.to_vec();
    Some(Record { first: record.first.plus(start.start as i32), days, ..record.clone() })
}

fn gates(record: &Statistics, drawn: &[Statistics], years: usize) -> Vec<Gate> {
    let month_p = if years >= 30 { 0.05 } else { 0.15 };
    let mut gates = months(record, drawn, month_p);
    let mean = |of: fn(&Statistics) -> f64| drawn.iter().map(of).collect::<Mean>().mean();
    let mut push = |name, unit, measured_in, record: f64, drawn: f64, low, high| {
        let value = if unit == "x" { drawn / record } else { drawn - record };
        gates.push(Gate { name, value, low, high, unit, month: None, record, drawn, measured_in });
    };
    let p_year = mean(|c| c.p_year_mm);
    push("precipitation of the year", "x", "mm", record.p_year_mm, p_year, 0.98, 1.02);
    let t_max = mean(|c| c.t_max_sd_c);
    push("SD of daily highs", "x", "C", record.t_max_sd_c, t_max, 0.97, 1.03);
    let p_month = median(drawn, |c| c.p_month_sd_mm);
    push("SD of monthly rain, median", "x", "mm", record.p_month_sd_mm, p_month, 0.90, 1.05);
    let p_sd = median(drawn, |c| c.p_year_sd_mm);
    push("SD of the year's rain, median", "x", "mm", record.p_year_sd_mm, p_sd, 0.8, 1.1);
    let lag = mean(|c| c.lag_1);
    push("lag-1 correlation of temperature", "", "", record.lag_1, lag, -0.02, 0.02);
    let dry = mean(|c| c.dry_spell_days);
    push("longest dry spell, Apr-Oct", "days", "days", record.dry_spell_days, dry, -1.0, 1.0);
    let p99 = |wet: &mut Vec<f64>| {
        wet.sort_by(f64::total_cmp);
        quantile_sorted(wet, 0.99)
    };
    let (seen, pooled) = (
        p99(&mut record.wet_mm.clone()),
        p99(&mut drawn.iter().flat_map(|c| c.wet_mm.iter().copied()).collect()),
    );
    push("99 % wet day", "x", "mm", seen, pooled, 0.95, 1.05);
    let frost = mean(|c| c.last_frost_day);
    push("last spring frost", "days", "day of year", record.last_frost_day, frost, -2.0, 2.0);
    let sharp = mean(|c| c.last_frost_sharp_day);
    push(SHARP_FROST, "days", "day of year", record.last_frost_sharp_day, sharp, -2.0, 2.0);
    gates
}

/// The gates that every month has to pass, each by its worst month.
fn months(record: &Statistics, drawn: &[Statistics], month_p: f64) -> Vec<Gate> {
    let mean = |of: &dyn Fn(&Statistics) -> f64| drawn.iter().map(of).collect::<Mean>().mean();
    let worst = |name, unit, measured_in, high: f64, off: &dyn Fn(usize) -> (f64, f64, f64)| {
        let worse = |a: usize, b: usize| if off(b).0.abs() > off(a).0.abs() { b } else { a };
        let month = (1..12).fold(0, worse);
        let (value, record, drawn) = off(month);
        let month = Some(month);
        Gate { name, value, low: -high, high, unit, month, record, drawn, measured_in }
    };
    vec![
        worst("temperature of the worst month", "C", "degC", 0.4, &|m| {
            let (seen, got) = (record.t_month_c[m], mean(&|c| c.t_month_c[m]));
            (got - seen, seen, got)
        }),
        worst("precipitation of the worst month", "share", "mm", month_p, &|m| {
            let (seen, got) = (record.p_month_mm[m], mean(&|c| c.p_month_mm[m]));
            // A month without rain has nothing to be a share of.
            (if seen > 0.0 { got / seen - 1.0 } else { 0.0 }, seen, got)
        }),
        worst("wet days of the worst month", "days", "days", 0.6, &|m| {
            let (seen, got) = (record.wet_days[m], mean(&|c| c.wet_days[m]));
            (got - seen, seen, got)
        }),
    ]
}

fn median(drawn: &[Statistics], of: fn(&Statistics) -> f64) -> f64 {
    let mut values: Vec<f64> = drawn.iter().map(of).collect();
    values.sort_by(f64::total_cmp);
    quantile_sorted(&values, 0.5)
}
