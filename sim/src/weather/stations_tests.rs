//! Station files as people download them, made here from the carried records in each layout: what they
//! hold comes back, and what cannot be read says what would settle it.

use std::fmt::Write as _;

use proptest::prelude::*;

use super::tests_support::{close, jfk, seattle};
use super::*;

/// Days of each file.
const DAYS: usize = 400;

/// The first days of a record.
fn beginning(record: &Record) -> Vec<(Day, RecordDay)> {
    (0..).zip(&record.days[..DAYS]).map(|(i, day)| (record.first.plus(i), *day)).collect()
}

/// Tenths, as NOAA writes them.
fn tenths(value: f64) -> i64 {
    (value * 10.0).round() as i64
}

const ACCESS_HEADER: &str = "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\
    \"PRCP\",\"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n";

/// GHCN-Daily as one CSV a station: quoted, padded, with attributes.
fn access(record: &Record, key: &str) -> String {
    let mut text = String::new();
    for (date, day) in beginning(record) {
        let _ = writeln!(
            text,
            "\"{key}\",\"{date}\",\"{}\",\"-70.0\",\"{}\",\"{}, US\",\"{:5}\",\",,W\",\"{:5}\",\",,W\",\
             \"{:5}\",\",,W,2400\"",
            record.site.latitude_deg,
            record.site.elevation_m,
            record.name,
            tenths(day.precip_mm),
            tenths(day.t_max_c),
            tenths(day.t_min_c),
        );
    }
    text
}

/// One reading a line, without a header.
fn long(record: &Record, key: &str) -> String {
    let mut text = String::new();
    for (date, day) in beginning(record) {
        let date = date.to_string().replace('-', "");
        for (element, value) in
            [("PRCP", day.precip_mm), ("TMAX", day.t_max_c), ("TMIN", day.t_min_c)]
        {
            let _ = writeln!(text, "{key},{date},{element},{},,,W,2400", tenths(value));
        }
    }
    text
}

/// Fixed width: a line for each month and element; trailing blanks are cut from some lines.
fn fixed(record: &Record, key: &str) -> String {
    let days = beginning(record);
    let mut text = String::new();
    let mut months: Vec<(i32, u8)> = days.iter().map(|(d, _)| (d.ymd().0, d.ymd().1)).collect();
    months.dedup();
    for (year, month) in months {
        type Of = fn(&RecordDay) -> f64;
        let elements: [(&str, Of); 3] =
            [("TMAX", |d| d.t_max_c), ("TMIN", |d| d.t_min_c), ("PRCP", |d| d.precip_mm)];
        for (element, of) in elements {
            let _ = write!(text, "{key}{year}{month:02}{element}");
            for dom in 1..=31 {
                let date = Day::from_ymd(year, month, dom);
                let day = days.iter().find(|(d, _)| Some(*d) == date);
                let value = day.map_or(-9999, |(_, d)| tenths(of(d)));
                let flags = if value == -9999 { "   " } else { "  W" };
                let _ = write!(text, "{value:5}{flags}");
            }
            text.truncate(text.trim_end().len());
            text.push('\n');
        }
    }
    text
}

/// A day's readings as a program for orders writes them.
fn order(record: &Record, us: bool) -> String {
    let mut text = "\"STATION\",\"NAME\",\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n".to_owned();
    for (date, day) in beginning(record) {
        let name = &record.name;
        let f = |c: f64| (c * 1.8 + 32.0).round();
        let _ = if us {
            writeln!(
                text,
                "\"USW00000001\",\"{name}, US\",\"{date}\",\"{:.2}\",\"{}\",\"{}\"",
                day.precip_mm / 25.4,
                f(day.t_max_c),
                f(day.t_min_c)
            )
        } else {
            writeln!(
                text,
                "\"USW00000001\",\"{name}, US\",\"{date}\",\"{:.1}\",\"{:.1}\",\"{:.1}\"",
                day.precip_mm, day.t_max_c, day.t_min_c
            )
        };
    }
    text
}

/// The older orders: dates without hyphens, tenths, -9999, flags in columns of their own.
fn legacy(record: &Record) -> String {
    let mut text =
        "STATION,STATION_NAME,DATE,PRCP,Measurement Flag,Quality Flag,TMAX,Measurement Flag,\
                    Quality Flag,TMIN,Measurement Flag,Quality Flag\n"
            .to_owned();
    for (date, day) in beginning(record) {
        let _ = writeln!(
            text,
            "GHCND:USW00000001,{},{},{}, , ,{}, , ,{}, , ",
            record.name.replace(',', " "),
            date.to_string().replace('-', ""),
            tenths(day.precip_mm),
            tenths(day.t_max_c),
            tenths(day.t_min_c),
        );
    }
    text
}

fn read(text: &str, options: ReadOptions<'_>) -> ReadRecord {
    read_record(text, &options).unwrap_or_else(|fault| panic!("{fault}"))
}

fn fault(text: &str, options: ReadOptions<'_>) -> RecordFault {
    read_record(text, &options).expect_err("a fault")
}

fn placed() -> ReadOptions<'static> {
    let site = Some(Site { latitude_deg: 41.0, elevation_m: 10.0 });
    ReadOptions { name: "file", site, ..ReadOptions::default() }
}

#[test]
fn every_layout_gives_the_carried_days_back() {
    for record in [jfk(), seattle()] {
        let key = "USW00000001";
        let access = format!("{ACCESS_HEADER}{}", access(&record, key));
        let files = [
            (Layout::Columns, access, 0.051),
            (Layout::Long, long(&record, key), 0.051),
            (
                Layout::Long,
                format!(
                    "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n{}",
                    long(&record, key)
                ),
                0.051,
            ),
            (Layout::FixedWidth, fixed(&record, key), 0.051),
            (Layout::Columns, order(&record, false), 0.051),
            // Whole degrees F and hundredths of an inch.
            (Layout::Columns, order(&record, true), 0.28),
            (Layout::Columns, legacy(&record), 0.051),
        ];
        for (layout, text, within) in files {
            for text in [text.clone(), format!("\u{feff}{}", text.replace('\n', "\r\n"))] {
                let got = read(&text, placed());
                assert_eq!(got.account.layout, layout);
                assert_eq!(got.record.first, record.first);
                assert_eq!(got.record.days.len(), DAYS, "{layout:?}");
                assert_eq!(got.account.temperature_days, DAYS);
                assert!(got.account.filled.is_empty(), "{:?}", got.account.filled);
                for (a, b) in got.record.days.iter().zip(&record.days) {
                    close(a.t_min_c, b.t_min_c, within);
                    close(a.t_max_c, b.t_max_c, within);
                    close(a.precip_mm, b.precip_mm, if within > 0.1 { 0.13 } else { within });
                }
            }
        }
    }
}

#[test]
fn of_several_stations_one_has_to_be_named() {
    let (here, there) = (jfk(), seattle());
    let tables = [
        format!("{ACCESS_HEADER}{}{}", access(&here, "USW00094789"), access(&there, "USW00024233")),
        long(&here, "USW00094789") + &long(&there, "USW00024233"),
        fixed(&here, "USW00094789") + &fixed(&there, "USW00024233"),
    ];
    for text in &tables {
        let which = fault(text, placed());
        assert_eq!(which.ask, Some(Ask::Station));
        assert!(which.message.contains("2 stations"), "{which}");
        assert!(which.message.contains("USW00024233") && which.message.contains("USW00094789"));
        for (key, record) in [("USW00024233", &there), ("usw00094789", &here)] {
            let got = read(text, ReadOptions { station: Some(key), ..placed() });
            assert_eq!(got.account.station, Some(key.to_uppercase()));
            close(got.record.days[1].t_max_c, record.days[1].t_max_c, 0.051);
            close(got.record.days[300].t_max_c, record.days[300].t_max_c, 0.051);
        }
        let near = fault(text, ReadOptions { station: Some("USW00024234"), ..placed() });
        assert!(near.help.contains("did you mean USW00024233"), "{near}");
    }
    let listed = fault(&tables[0], placed());
    assert!(listed.message.contains("Seattle, US, 400 days"), "{listed}");
    let nameless = "date,tmin_c,tmax_c,precip_mm\n2024-04-01,1,12,0\n";
    let none = fault(nameless, ReadOptions { station: Some("X"), ..placed() });
    assert!(none.message.contains("names no stations"), "{none}");
}

#[test]
fn units_that_nothing_tells_are_asked_for() {
    let table = "STATION,DATE,PRCP,TMAX,TMIN\nA,2024-01-09,0,29,12\nA,2024-01-10,1,31,10\n";
    let unclear = fault(table, placed());
    assert_eq!(unclear.ask, Some(Ask::Units));
    assert!(unclear.message.contains("31 F, 31 C or 3.1 C"), "{unclear}");
    let high =
        |units| read(table, ReadOptions { units: Some(units), ..placed() }).record.days[1].t_max_c;
    close(high(TableUnits::Us), -1.0 / 1.8, 1e-9);
    close(high(TableUnits::Metric), 31.0, 1e-9);
    close(high(TableUnits::Tenths), 3.1, 1e-9);
    let decimal = table.replace("31", "31.5");
    let wrong = fault(&decimal, ReadOptions { units: Some(TableUnits::Tenths), ..placed() });
    assert!(wrong.message.contains("31.5 is not in tenths") && wrong.line == Some(3), "{wrong}");
    // A decimal alone makes them C, but not at 88.
    close(read(&decimal, placed()).record.days[1].t_max_c, 31.5, 1e-9);
    close(read(&decimal.replace("31.5", "88.0"), placed()).record.days[1].t_max_c, 31.1111, 1e-3);

    let bare = "date,tmin,tmax,precip,wind\n2024-01-09,50,68,1.00,10\n";
    let open = fault(bare, placed());
    assert_eq!(open.ask, Some(Ask::Units));
    assert!(open.help.contains("needs its unit"), "{open}");
    let day = read(bare, ReadOptions { units: Some(TableUnits::Us), ..placed() }).record.days[0];
    close(day.t_max_c, 20.0, 1e-9);
    close(day.precip_mm, 25.4, 1e-9);
    close(day.wind_m_s.unwrap(), 4.4704, 1e-9);
}

#[test]
fn order_and_repetition_are_mended_and_told() {
    let table = "date,tmin_c,tmax_c,precip_mm\n2024-04-03,3,13,1\n2024-04-01,1,11,2\n\
                 2024-04-02,2,12,0\n2024-04-01,1,11,2\n";
    let got = read(table, placed());
    let highs: Vec<f64> = got.record.days.iter().map(|d| d.t_max_c).collect();
    assert_eq!(highs, [11.0, 12.0, 13.0]);
    let notes = got.notes.join("; ");
    assert!(notes.contains("2024-04-01 on line 3 after 2024-04-03): sorted"), "{notes}");
    assert!(notes.contains("1 day there twice with the same readings"), "{notes}");
    let clash = fault(&table.replace("2024-04-02,2,12,0", "2024-04-01,2,12,0"), placed());
    assert!(clash.message.contains("2024-04-01 is there twice with different"), "{clash}");
    let long = "X,20240401,TMAX,200,,,W\nX,20240401,TMAX,210,,,W\n";
    let clash = fault(long, placed());
    assert!(clash.message.contains("TMAX of 20240401 is there twice"), "{clash}");
    assert_eq!(clash.line, Some(2));
}

#[test]
fn leap_days_are_days() {
    let around = |feb_29: &str| {
        format!("date,tmin_c,tmax_c,precip_mm\n2024-02-28,0,10,0\n{feb_29}2024-03-01,4,14,0\n")
    };
    let there = read(&around("2024-02-29,9,19,7\n"), placed());
    assert_eq!(there.record.days.len(), 3);
    close(there.record.days[1].precip_mm, 7.0, 0.0);
    // Some programs write years of 365 days: a gap of one day.
    let left_out = read(&around(""), placed());
    close(left_out.record.days[1].t_max_c, 12.0, 1e-9);
    assert_eq!(left_out.account.temperature_days, 2);
    let gap = left_out.account.filled[0];
    assert_eq!((gap.dates().as_str(), gap.what), ("2024-02-29", Filled::Temperature));
    let never = fault("date,tmin_c,tmax_c,precip_mm\n2023-02-29,0,10,0\n", placed());
    assert!(never.message.contains("the calendar has no '2023-02-29'"), "{never}");
}

#[test]
fn totals_of_several_days_are_spread_over_them() {
    let text = "X,20240401,TMAX,200,,,W\nX,20240401,TMIN,100,,,W\nX,20240401,PRCP,5,,,W\n\
                X,20240404,MDPR,90,,,W\nX,20240404,DAPR,3,,,W\n\
                X,20240404,TMAX,200,,,W\nX,20240404,TMIN,100,,,W\n";
    let got = read(text, placed());
    let rain: Vec<f64> = got.record.days.iter().map(|d| d.precip_mm).collect();
    for (got, want) in rain.iter().zip([0.5, 3.0, 3.0, 3.0]) {
        close(*got, want, 1e-9);
    }
    assert!(got.notes.iter().any(|n| n.contains("1 total of several days' rain")));
}

#[test]
fn long_gaps_are_named_with_what_can_be_read() {
    // Two years of Seattle, three weeks of the first summer missing, and some rain in the second.
    let record = seattle();
    let mut text = "date,tmin_c,tmax_c,precip_mm\n".to_owned();
    for (i, day) in (0..).zip(&record.days) {
        let date = record.first.plus(i);
        let (year, month, dom) = date.ymd();
        if year == 2012 && month == 7 && dom > 10 {
            continue;
        }
        let dry = year == 2013 && month == 3 && dom < 9;
        let rain = if dry { String::new() } else { day.precip_mm.to_string() };
        let _ = writeln!(text, "{date},{},{},{rain}", day.t_min_c, day.t_max_c);
    }
    let gaps = fault(&text, placed());
    for part in [
        "temperature is missing for 21 days, 2012-07-11 to 2012-07-31",
        "precipitation for 21 days, 2012-07-11 to 2012-07-31",
        "precipitation for 8 days, 2013-03-01 to 2013-03-08",
    ] {
        assert!(gaps.message.contains(part), "{gaps}");
    }
    assert!(gaps.help.contains("2013-03-09 to 2015-12-31"), "{gaps}");
    assert_eq!(gaps.ask, Some(Ask::Years(2014, 2015)));
    let got = read(&text, ReadOptions { years: Some((2014, 2015)), ..placed() });
    let highs = |days: &[RecordDay]| days.iter().map(|d| d.t_max_c).collect::<Vec<_>>();
    assert_eq!(highs(&got.record.days), highs(&record.days[731..]));
    let none = fault(&text, ReadOptions { years: Some((1990, 1999)), ..placed() });
    assert!(none.message.contains("goes from 2012-01-01 to 2015-12-31"), "{none}");
}

/// Layouts that are no daily record, each in a line or two of the real form.
#[test]
fn other_products_are_refused_by_name() {
    let cases = [
        (
            "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"PRCP\",\"TMAX\",\"TMIN\"\n\
             \"USW00000001\",\"2024-01\",\"40.8\",\"-74.0\",\"42.7\",\"PARK\",\"  83.1\",\"  5.1\",\" -1.2\"\n",
            "monthly",
        ),
        (
            "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"TEMP\",\
             \"TEMP_ATTRIBUTES\",\"DEWP\",\"STP\",\"MAX\",\"MIN\",\"PRCP\",\"FRSHTT\"\n",
            "global summary of the day",
        ),
        (
            "\"STATION\",\"DATE\",\"REPORT_TYPE\",\"HourlyDryBulbTemperature\"\n\
             \"1\",\"2024-01-01T00:51:00\",\"FM-15\",\"40\"\n",
            "hourly",
        ),
        ("STATION,DATE,DLY-TMAX-NORMAL,DLY-TMIN-NORMAL\nA,01-01,39.5,28.1\n", "normals"),
        ("<!DOCTYPE html>\n<html>\n", "a web page"),
        ("{\"results\": []}\n", "JSON"),
    ];
    for (text, words) in cases {
        let got = fault(text, placed());
        assert!(got.message.contains(words), "{words}: {got}");
        assert!(!got.help.is_empty() && got.line.is_some(), "{got}");
    }
}

/// Readings that failed a check, in each form that carries flags.
#[test]
fn quality_flags_blank_a_reading_and_measurement_flags_do_not() {
    let mut record = jfk();
    record.days.truncate(DAYS);
    let long = long(&record, "USW00000001").replacen("TMAX,100,,,W", "TMAX,100,,I,W", 1);
    let legacy = legacy(&record).replacen("100, , ,", "100, ,I,", 1);
    let fixed = fixed(&record, "USW00000001").replacen("TMAX  100  W", "TMAX  100 IW", 1);
    for text in [long, legacy, fixed] {
        // The first day's high is lost, and with it the day at the record's end.
        let got = read(&text, placed());
        assert_eq!(got.record.first, record.first.plus(1), "{:?}", got.notes);
        assert!(got.notes.iter().any(|n| n.contains("failed NOAA's checks")), "{:?}", got.notes);
    }
    let trace = read(
        "X,20240401,TMAX,200,,,W\nX,20240401,TMIN,100,H,,W\nX,20240401,PRCP,0,T,,W\n",
        placed(),
    );
    assert_eq!(trace.record.days[0].precip_mm, 0.0);
}

/// A file that was cut, mangled or glued together in some way.
fn mangled(text: &str, cuts: &[(u16, u8, char)]) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for (at, how, letter) in cuts {
        if letters.is_empty() {
            break;
        }
        let at = usize::from(*at) * 13 % letters.len();
        match how % 5 {
            0 => letters[at] = *letter,
            1 => letters.insert(at, *letter),
            2 => drop(letters.remove(at)),
            3 => letters.truncate(at),
            _ => {
                let end = letters.len().min(at + 90);
                let piece: Vec<char> = letters[at..end].to_vec();
                letters.splice(at..at, piece);
            }
        }
    }
    letters.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    /// Whatever was done to a file of any layout, it reads into a sound record or gives a fault.
    #[test]
    fn mangled_files_read_or_say_why(
        which in 0usize..6,
        cuts in proptest::collection::vec(
            (any::<u16>(), any::<u8>(), proptest::sample::select(
                vec!['"', ',', '\n', '\r', '-', '9', '.', ' ', 'T', '\u{feff}', 'é', '#'],
            )),
            1..6,
        ),
    ) {
        thread_local! {
            static FILES: Vec<String> = {
                let (mut a, mut b) = (jfk(), seattle());
                a.days.truncate(DAYS);
                b.days.truncate(DAYS);
                vec![
                    format!("{ACCESS_HEADER}{}", access(&a, "USW00000001")),
                    long(&b, "USW00000001"),
                    fixed(&a, "USW00000001"),
                    order(&b, true),
                    order(&a, false),
                    legacy(&b),
                ]
            };
        }
        let text = FILES.with(|files| mangled(&files[which], &cuts));
        match read_record(&text, &placed()) {
            Ok(got) => {
                prop_assert!(!got.record.days.is_empty());
                prop_assert!(got.record.days.iter().all(|d| d.t_min_c <= d.t_max_c));
                prop_assert!(got.account.temperature_days <= got.record.days.len());
            }
            Err(fault) => prop_assert!(!fault.message.is_empty() && !fault.expected.is_empty()),
        }
    }
}
