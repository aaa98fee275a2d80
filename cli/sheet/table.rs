//! sheet.csv: one row for each load of each practice on each day, in metric units, every season.

use std::io::{self, Write};

use sim::analysis::sheet::load::{Dose, minutes_of_water, passes, tank_mix};
use sim::analysis::sheet::{Job, Load, Tool, Visit};
use sim::ensemble::odds::Odds;

use super::told::{Source, waits};
use crate::files::table::Table;
use crate::round;
use crate::words::setback;

/// The columns: a contract, told in scenarios/README.md.
const HEADER: [&str; 35] = [
    "date",
    "due",
    "order",
    "practice",
    "by",
    "timing",
    "fate",
    "reason",
    "earliest",
    "middle",
    "latest",
    "share_between",
    "share_put_off",
    "share_not_done",
    "share_not_needed",
    "material",
    "tool",
    "rate",
    "rate_unit",
    "area_m2",
    "amount",
    "unit",
    "bags",
    "tank_fills",
    "tank_l",
    "product_a_fill",
    "last_fill_l",
    "product_in_last_fill",
    "product_a_pass",
    "sprinkler_minutes",
    "job_minutes",
    "job_cost",
    "visit_minutes",
    "visit_travel_minutes",
    "visit_cost",
];

/// Writes the table.
///
/// # Errors
/// Where it cannot be written.
pub(super) fn write(source: &Source, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::start(out, &HEADER)?;
    for visit in &source.sheet.visits {
        for (order, job) in visit.jobs.iter().enumerate() {
            let loads = &source.sheet.practices[usize::from(job.call.practice)].loads;
            let rows = loads.iter().map(Some).chain(loads.is_empty().then_some(None));
            for (nth, load) in rows.enumerate() {
                when(source, visit, (order, job), &mut table)?;
                material(source, load, &mut table)?;
                // Sums over rows are right: what a job or a visit takes stands in its first row.
                let job_first = (nth == 0).then_some(job);
                let visit_first = (nth == 0 && order == 0).then_some(visit);
                optional(&mut table, job_first.map(|j| j.minutes), "minutes")?;
                optional(&mut table, job_first.map(|j| j.cost), "currency")?;
                optional(&mut table, visit_first.map(|v| v.minutes), "minutes")?;
                optional(&mut table, visit_first.map(|v| v.travel_minutes), "minutes")?;
                optional(&mut table, visit_first.map(|v| v.cost), "currency")?;
                table.end()?;
            }
        }
    }
    table.finish()
}

fn optional(table: &mut Table, value: Option<f64>, unit: &str) -> io::Result<()> {
    match value {
        Some(value) => table.figure(value, round::decimals(unit)),
        None => table.text(""),
    }
}

fn when(
    source: &Source,
    visit: &Visit,
    (order, job): (usize, &Job),
    table: &mut Table,
) -> io::Result<()> {
    let practice = &source.program.practices[usize::from(job.call.practice)];
    table.text(&visit.day.to_string())?;
    table.text(&job.call.due.to_string())?;
    table.count(order + 1)?;
    table.text(&practice.key)?;
    table.text(match job.by {
        sim::scenario::Hands::Crew => "crew",
        sim::scenario::Hands::House => "house",
        sim::scenario::Hands::Client => "client",
    })?;
    table.text(if waits(&practice.cue) { "cue" } else { "calendar" })?;
    let (fate, why) = job.call.fate.unzip();
    table.text(fate.map_or("", setback::fate))?;
    table.text(why.map_or("", setback::why))?;
    let days = job.spread.days.map(|days| days.map(|day| day.to_string()));
    for at in 0..3 {
        table.text(days.as_ref().map_or("", |days| days[at].as_str()))?;
    }
    let spread = &job.spread;
    for odds in [spread.between, spread.put_off, spread.not_done, spread.not_needed] {
        share(odds, table)?;
    }
    Ok(())
}

fn share(odds: Odds, table: &mut Table) -> io::Result<()> {
    table.figure(odds.share(), round::share_decimals(odds.of))
}

fn material(source: &Source, load: Option<&Load>, table: &mut Table) -> io::Result<()> {
    let Some(load) = load else {
        // Nothing is loaded: the columns from `material` to `sprinkler_minutes` stay empty.
        return (0..15).try_for_each(|_| table.text(""));
    };
    let tools = source.voice.tools;
    let (rate, rate_unit, unit) = match load.material.dose {
        Dose::Dry(g_m2) => (g_m2, "g/m2", "kg"),
        Dose::Liquid(ml_m2) => (ml_m2, "mL/m2", "L"),
        Dose::Layer(mm) => (mm, "mm", "m3"),
        Dose::Water(mm) => (mm, "mm", "L"),
    };
    table.text(match load.material.dose {
        Dose::Water(_) => "water",
        Dose::Layer(_) if load.material.name.is_empty() => "compost",
        Dose::Layer(_) | Dose::Dry(_) | Dose::Liquid(_) => &load.material.name,
    })?;
    table.text(match load.material.tool {
        Tool::Spreader => "spreader",
        Tool::Sprayer => "sprayer",
        Tool::SlitSeeder => "slit-seeder",
        Tool::Barrow => "barrow",
        Tool::Sprinkler => "sprinkler",
    })?;
    table.figure(rate, 4)?;
    table.text(rate_unit)?;
    table.figure(load.area_m2, 2)?;
    table.figure(load.amount, 4)?;
    table.text(unit)?;
    let bagged = matches!(load.material.tool, Tool::Spreader | Tool::SlitSeeder);
    figure(table, bagged.then_some(load.amount / tools.bag_kg))?;
    let least = load.material.dose.carries_ml_m2();
    let mix = (load.material.tool == Tool::Sprayer)
        .then(|| tank_mix(load.amount, least, load.area_m2, tools.carrier_ml_m2, tools.tank_l));
    match &mix {
        Some(mix) => table.count(mix.full_fills as usize)?,
        None => table.text("")?,
    }
    figure(table, mix.map(|_| tools.tank_l))?;
    figure(table, mix.map(|mix| mix.product_a_fill))?;
    figure(table, mix.map(|mix| mix.last_l))?;
    figure(table, mix.map(|mix| mix.product_in_last))?;
    let halves = bagged.then(|| passes(load.amount, load.area_m2, tools.spreader_m).each);
    figure(table, halves)?;
    let minutes = match (load.material.dose, tools.sprinkler_mm_h) {
        (Dose::Water(mm), Some(rate)) => Some(minutes_of_water(mm, rate)),
        _ => None,
    };
    optional(table, minutes, "minutes")
}

fn figure(table: &mut Table, value: Option<f64>) -> io::Result<()> {
    match value {
        Some(value) => table.figure(value, 4),
        None => table.text(""),
    }
}
