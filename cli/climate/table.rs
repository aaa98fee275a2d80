//! climate.csv: all that is printed, one figure a line, in metric units.

use std::io::{self, Write};

use sim::calendar::MONTHS;

use super::Told;
use super::dates::{events, in_words, quantiles};
use crate::files::table::Table;

const HEADER: [&str; 6] = ["part", "what", "when", "value", "unit", "remark"];

/// Writes the table.
pub(super) fn write(told: &Told, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::start(out, &HEADER)?;
    record(&mut table, told)?;
    normals(&mut table, told)?;
    dates(&mut table, told)?;
    comparison(&mut table, told)?;
    table.finish()
}

/// One line.
fn line(
    table: &mut Table<'_>,
    [part, what, when]: [&str; 3],
    (value, decimals): (f64, usize),
    unit: &str,
    remark: &str,
) -> io::Result<()> {
    for text in [part, what, when] {
        table.text(text)?;
    }
    table.figure(value, decimals)?;
    table.text(unit)?;
    table.text(remark)?;
    table.end()
}

fn record(table: &mut Table<'_>, told: &Told) -> io::Result<()> {
    let (record, account) = (&told.read.record, &told.read.account);
    let last = record.first.plus(record.days.len() as i32 - 1);
    let days = |n: usize| (n as f64, 0);
    let span = format!("{} to {last}", record.first);
    line(table, ["record", "days", &span], days(record.days.len()), "days", &told.name)?;
    line(table, ["record", "complete years", ""], days(told.climate.years.len()), "years", "")?;
    line(table, ["record", "latitude", ""], (record.site.latitude_deg, 3), "degrees north", "")?;
    line(table, ["record", "elevation", ""], (record.site.elevation_m, 0), "m", "")?;
    for (what, n) in [
        ("temperature read", account.temperature_days),
        ("precipitation read", account.precip_days),
        ("wind read", account.wind_days),
        ("radiation read", account.rs_days),
        ("humidity read", account.rh_days),
    ] {
        line(table, ["record", what, ""], days(n), "days", "")?;
    }
    for gap in &account.filled {
        let words = gap.what.in_words();
        line(table, ["gap", words, &gap.dates()], days(gap.days() as usize), "days", "")?;
    }
    Ok(())
}

fn normals(table: &mut Table<'_>, told: &Told) -> io::Result<()> {
    for (normal, month) in told.climate.normals.iter().zip(MONTHS) {
        let years = format!("{} years", normal.precip_by_year_mm.len());
        for (what, value, unit) in [
            ("mean low", normal.t_min_c, "degC"),
            ("mean high", normal.t_max_c, "degC"),
            ("precipitation", normal.precip_mm, "mm"),
            ("wet days", normal.wet_days, "days"),
            ("reference evapotranspiration", normal.et0_mm, "mm"),
        ] {
            line(table, ["normal", what, month], (value, 1), unit, &years)?;
        }
    }
    Ok(())
}

fn dates(table: &mut Table<'_>, told: &Told) -> io::Result<()> {
    for event in events() {
        let remark = if event.goal_c_days > 0.0 {
            format!("{} ({:.0} C-days)", event.title, event.goal_c_days)
        } else {
            event.title.clone()
        };
        for (year, day) in event.days(&told.climate.dates) {
            let (when, number) = (format!("{year}: {}", in_words(day)), day + 1.0);
            line(table, ["date", event.key, &when], (number, 0), "day of a common year", &remark)?;
        }
        let Ok(drawn) = &told.climate.comparison else { continue };
        let days = event.days(&drawn.drawn_dates);
        let quantiles = quantiles(&days, [0.05, 0.5, 0.95]).into_iter().flatten();
        for (day, quantile) in quantiles.zip(["5 %", "50 %", "95 %"]) {
            let when = format!("simulated {quantile}: {}", in_words(day));
            line(
                table,
                ["date", event.key, &when],
                (day + 1.0, 0),
                "day of a common year",
                &remark,
            )?;
        }
    }
    Ok(())
}

fn comparison(table: &mut Table<'_>, told: &Told) -> io::Result<()> {
    let Ok(comparison) = &told.climate.comparison else { return Ok(()) };
    for gate in &comparison.gates {
        let month = gate.month.map_or("", |m| MONTHS[m]);
        let allowed = format!("allowed {} to {}", gate.low, gate.high);
        let verdict = if gate.holds() { "holds" } else { "does not hold" };
        let remark = format!("{allowed}: {verdict}");
        for (of, value, unit, remark) in [
            ("record", (gate.record, 2), gate.measured_in, ""),
            ("simulated", (gate.drawn, 2), gate.measured_in, ""),
            ("off by", (gate.value, 3), gate.unit, remark.as_str()),
        ] {
            line(
                table,
                ["simulated", &format!("{}: {of}", gate.name), month],
                value,
                unit,
                remark,
            )?;
        }
    }
    Ok(())
}
