//! The carried station records against values worked elsewhere from the same files, through the
//! public door of the weather part.

use sim::calendar::Day;
use sim::weather::{Record, RecordDay, evapotranspiration, radiation};

fn carried(key: &str) -> Record {
    let station = swardplay::carried::station(key).expect("a carried station");
    let read = station.read().expect("the carried record reads");
    assert!(read.notes.is_empty(), "{:?}", read.notes);
    read.record
}

fn jfk() -> Record {
    carried("jfk")
}

/// The days of a calendar year with their dates.
fn year(record: &Record, year: i32) -> Vec<(Day, RecordDay)> {
    (0..)
        .zip(&record.days)
        .map(|(i, day)| (record.first.plus(i), *day))
        .filter(|(date, _)| date.ymd().0 == year)
        .collect()
}

fn month_day(date: Day) -> (u8, u8) {
    let (_, month, day) = date.ymd();
    (month, day)
}

/// Last day of spring and first day of fall with a low at or below 0 C, JFK, worked elsewhere.
#[test]
fn frost_dates_at_jfk() {
    let record = jfk();
    let table = [
        (2012, (3, 27), (11, 6)),
        (2013, (4, 4), (11, 12)),
        (2014, (4, 16), (11, 15)),
        (2015, (3, 29), (11, 24)),
    ];
    for (y, spring, fall) in table {
        let frosts: Vec<(u8, u8)> = year(&record, y)
            .iter()
            .filter(|(_, d)| d.t_min_c <= 0.0)
            .map(|(date, _)| month_day(*date))
            .collect();
        assert_eq!(frosts.iter().rfind(|d| d.0 < 7), Some(&spring), "{y}");
        assert_eq!(frosts.iter().find(|d| d.0 >= 7), Some(&fall), "{y}");
    }
}

/// Hottest week (mean of lows and highs, last day), JFK, worked elsewhere; 0.001 is the last digit.
#[test]
fn hottest_weeks_at_jfk() {
    let record = jfk();
    let table = [
        (2012, 27.779, (7, 8)),
        (2013, 30.250, (7, 21)),
        (2014, 26.136, (9, 6)),
        (2015, 27.500, (8, 1)),
    ];
    for (y, want, end) in table {
        let days = year(&record, y);
        let (date, mean) = days
            .windows(7)
            .map(|w| {
                let sum: f64 = w.iter().map(|(_, d)| 0.5 * (d.t_min_c + d.t_max_c)).sum();
                (w[6].0, sum / 7.0)
            })
            .fold((Day(0), f64::MIN), |best, now| if now.1 > best.1 + 1e-9 { now } else { best });
        assert!((mean - want).abs() < 0.001, "{y}: {mean}");
        assert_eq!(month_day(date), end, "{y}");
    }
}

/// Longest dry spell of the year (below 0.254 mm), its length and last day, JFK, worked elsewhere.
#[test]
fn dry_spells_at_jfk() {
    let record = jfk();
    let table = [(2012, 18, (4, 20)), (2013, 13, (10, 30)), (2014, 9, (3, 28)), (2015, 16, (5, 8))];
    for (y, length, end) in table {
        let (mut run, mut best, mut last) = (0, 0, Day(0));
        for (date, day) in year(&record, y) {
            run = if day.precip_mm < 0.254 { run + 1 } else { 0 };
            if run > best {
                (best, last) = (run, date);
            }
        }
        assert_eq!((best, month_day(last)), (length, end), "{y}");
    }
}

/// First dates at which growing degree-days (base 10 C, from 1 March) reach 50, 100, 139 and 278 at
/// JFK, worked elsewhere.
#[test]
fn growing_degree_days_at_jfk() {
    let record = jfk();
    let table = [
        (2012, [(4, 7), (4, 19), (5, 6), (5, 26)]),
        (2013, [(5, 2), (5, 15), (5, 21), (6, 7)]),
        (2014, [(5, 2), (5, 11), (5, 16), (6, 3)]),
        (2015, [(4, 28), (5, 8), (5, 12), (5, 29)]),
    ];
    for (y, dates) in table {
        let days = year(&record, y);
        for (goal, want) in [50.0, 100.0, 139.0, 278.0].into_iter().zip(dates) {
            let mut sum = 0.0;
            let reached = days.iter().filter(|(date, _)| date.ymd().1 >= 3).find(|(_, d)| {
                sum += (0.5 * (d.t_min_c + d.t_max_c) - 10.0).max(0.0);
                sum >= goal
            });
            assert_eq!(month_day(reached.unwrap().0), want, "{y} {goal}");
        }
    }
}

/// Five days of reference evapotranspiration by FAO-56 eq 6 against the general library refet 0.5.0
/// (method "asce", which uses sigma 4.901e-9): agreement is better than 0.001 mm.
#[test]
fn penman_monteith_against_a_general_library() {
    // Tmin, Tmax, ea (kPa), Rs, wind at 10 m, elevation, latitude, day of the year, refet's result.
    let days = [
        (2.0, 11.0, 0.70, 9.5, 3.5, 250.0, 42.0, 100, 1.783515),
        (21.0, 36.0, 1.60, 28.0, 4.0, 250.0, 42.0, 195, 8.324017),
    ];
    for (t_min_c, t_max_c, ea_kpa, rs, wind, elevation, latitude, doy, want) in days {
        let ra = radiation::extraterrestrial(latitude, doy);
        let rso = radiation::clear_sky(elevation, ra);
        let long = radiation::net_long_wave(t_min_c, t_max_c, ea_kpa, rs, rso);
        let et0 = evapotranspiration::PenmanMonteith {
            t_mean_c: 0.5 * (t_min_c + t_max_c),
            es_kpa: evapotranspiration::mean_saturation_kpa(t_min_c, t_max_c),
            ea_kpa,
            rn_mj_m2: radiation::net(radiation::net_short_wave(0.23, rs), long),
            g_mj_m2: 0.0,
            u2_m_s: wind * evapotranspiration::wind_factor_2m(10.0),
            gamma_kpa_c: evapotranspiration::psychrometric_kpa_c(evapotranspiration::pressure_kpa(
                elevation,
            )),
        }
        .et0_mm();
        assert!((et0 - want).abs() < 0.001, "{et0} for {want}");
    }
}

/// Seattle has wet winters and dry summers; the record must show it (common knowledge, and the mean
/// of 2012-2015 lies within a third of the station's normals of about 950-1000 mm a year).
#[test]
fn seattle_is_seattle() {
    let record = carried("seattle");
    let total: f64 = record.days.iter().map(|d| d.precip_mm).sum();
    assert!((700.0..1300.0).contains(&(total / 4.0)), "{total}");
    let month = |wanted: u8| -> f64 {
        (0..)
            .zip(&record.days)
            .filter(|(i, _)| record.first.plus(*i).ymd().1 == wanted)
            .map(|(_, d)| d.precip_mm)
            .sum()
    };
    assert!(month(11) + month(12) > 3.0 * (month(7) + month(8)));
}
