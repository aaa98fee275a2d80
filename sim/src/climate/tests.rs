//! Dates and normals against values worked elsewhere from the same records.

use super::*;
use crate::calendar::{Day, MONTHS};
use crate::parameters::Catalogue;
use crate::weather::{Site, read_daily_csv};

fn jfk() -> Record {
    let site = Site { latitude_deg: 40.639, elevation_m: 3.0 };
    let text = include_str!("../../../scenarios/weather/jfk_2012_2015.csv");
    read_daily_csv(text, "JFK", Some(site)).expect("the carried record reads").record
}

fn climate_of(record: &Record) -> Climate {
    climate(record, &Catalogue::embedded().central().weather, 20, 1)
}

/// Frosts at 0 C, air sums of 111.1 and 278 C-days above 10 C from 1 March and soil sums of 42, 78, 140
/// and 230 C-days above 12 C from 1 April, worked elsewhere from the same four years by the same rules.
#[test]
fn frosts_and_warmth_at_jfk() {
    let climate = climate_of(&jfk());
    type Date = (u8, u8);
    type Year = (i32, [Date; 2], [Date; 2], [Date; 4]);
    let table: [Year; 4] = [
        (2012, [(3, 27), (11, 6)], [(4, 22), (5, 26)], [(5, 7), (5, 17), (5, 26), (6, 4)]),
        (2013, [(4, 4), (11, 12)], [(5, 17), (6, 7)], [(5, 18), (5, 26), (6, 4), (6, 15)]),
        (2014, [(4, 16), (11, 15)], [(5, 12), (6, 3)], [(5, 14), (5, 20), (5, 29), (6, 10)]),
        (2015, [(3, 29), (11, 24)], [(5, 9), (5, 29)], [(5, 9), (5, 14), (5, 23), (6, 5)]),
    ];
    assert_eq!(climate.years, [2012, 2013, 2014, 2015]);
    for ((year, frosts, air, soil), got) in table.into_iter().zip(&climate.dates) {
        let day = |(month, dom)| Some(Day::from_ymd(year, month, dom).unwrap().day_of_year());
        assert_eq!(got.year, year);
        assert_eq!([got.last_frost, got.first_frost], frosts.map(day), "{year}");
        assert_eq!(got.air[1..], air.map(day), "{year}");
        assert_eq!(got.soil, soil.map(day), "{year}");
    }
}

/// Months counted straight from the file's lines.
#[test]
fn normals_are_the_files_own_means() {
    let record = jfk();
    let normals = climate_of(&record).normals;
    let text = include_str!("../../../scenarios/weather/jfk_2012_2015.csv");
    for (m, normal) in normals.iter().enumerate() {
        let (mut low, mut high, mut rain, mut wet, mut n) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for line in text.lines().skip(1) {
            let cells: Vec<&str> = line.split(',').collect();
            if cells[0][5..7].parse() != Ok(m + 1) {
                continue;
            }
            let value = |i: usize| cells[i].parse::<f64>().unwrap();
            low += value(1);
            high += value(2);
            rain += value(3) / 4.0;
            // A tenth of a mm more than 0.254 is 0.3.
            wet += f64::from(value(3) >= 0.3) / 4.0;
            n += 1.0;
        }
        for (got, want) in [
            (normal.t_min_c, low / n),
            (normal.t_max_c, high / n),
            (normal.precip_mm, rain),
            (normal.wet_days, wet),
        ] {
            assert!((got - want).abs() < 1e-9, "{}: {got}, expected {want}", MONTHS[m]);
        }
        assert_eq!(normal.precip_by_year_mm.len(), 4);
    }
}

#[test]
fn months_that_are_not_whole_do_not_count() {
    let mut record = jfk();
    record.days = record.days[10..10 + 365 + 31].to_vec();
    record.first = record.first.plus(10);
    // 11 January 2012 to 9 February 2013: no whole January but 2013's, and February of 2012 only.
    let climate = climate_of(&record);
    assert_eq!(climate.years, [0; 0]);
    assert_eq!(climate.dates, []);
    let years = |m: usize| -> Vec<i32> {
        climate.normals[m].precip_by_year_mm.iter().map(|(year, _)| *year).collect()
    };
    assert_eq!((years(0), years(1), years(11)), (vec![2013], vec![2012], vec![2012]));
    assert!(climate.comparison.is_err());
}

#[test]
fn one_year_has_no_spread_to_compare() {
    let mut record = jfk();
    record.days.truncate(366 + 365 + 10);
    let comparison = climate_of(&record).comparison.expect("two years can be drawn from");
    assert_eq!(comparison.drawn_dates.len(), 20 * 2);
    record.days.truncate(366);
    assert!(climate_of(&record).comparison.is_err(), "a single year makes no blocks");
}

/// A place without frost has no frost to compare, and says nothing of it.
#[test]
fn a_place_without_frost_has_no_frost_gates() {
    let mut record = jfk();
    for day in &mut record.days {
        day.t_min_c += 40.0;
        day.t_max_c += 40.0;
    }
    let climate = climate_of(&record);
    assert!(climate.dates.iter().all(|d| d.last_frost.is_none() && d.first_frost.is_none()));
    let gates = climate.comparison.unwrap().gates;
    assert!(gates.iter().all(|g| !g.name.contains("frost")) && gates.len() == 10);
}
