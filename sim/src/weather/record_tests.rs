//! Reading station tables: what is accepted, what is refused and how it is told.

use proptest::prelude::*;

use super::tests_support::{close, jfk, seattle};
use super::*;

const SITE: Site = Site { latitude_deg: 41.0, elevation_m: 10.0 };

fn read(text: &str) -> Result<ReadRecord, RecordFault> {
    read_daily_csv(text, "here", Some(SITE))
}

fn fault(text: &str) -> RecordFault {
    read(text).expect_err("a fault")
}

#[test]
fn the_carried_records_read_whole() {
    for (record, rain_first) in [(jfk(), 1.8), (seattle(), 0.0)] {
        assert_eq!(record.days.len(), 1461);
        assert_eq!(record.first, Day::from_ymd(2012, 1, 1).unwrap());
        assert!(record.days.iter().all(|d| d.wind_m_s.is_some()));
        close(record.days[0].precip_mm, rain_first, 1e-12);
        close(record.anemometer_m, 10.0, 0.0);
    }
    // The last line of the file, by eye: 2015-12-31 has what the table says.
    let text = include_str!("../../../scenarios/weather/jfk_2012_2015.csv");
    let last: Vec<f64> =
        text.lines().last().unwrap().split(',').skip(1).map(|v| v.parse().unwrap()).collect();
    let day = jfk().days[1460];
    assert_eq!(vec![day.t_min_c, day.t_max_c, day.precip_mm, day.wind_m_s.unwrap()], last);
}

#[test]
fn order_quotes_padding_mark_and_line_ends_do_not_matter() {
    let plain = "date,tmin_c,tmax_c,precip_mm,wind_m_s\n2024-04-01,1.5,12,0.3,2\n\
                 2024-04-02,2,13,0,\n";
    let want = read(plain).unwrap().record;
    let others = [
        "\u{feff}\"precip_mm\",\"wind_m_s\",\"date\",\"tmax_c\",\"tmin_c\"\r\n\
         \" 0.3\",\"2\",\"2024-04-01\",\" 12\",\"1.5 \"\r\n0,,20240402,13,2\r\n\r\n",
        "date, Tmin (C), TMax (C) ,Precip_mm , wind_m/s\r2024-04-01, 1.5 ,12, 0.3,2\r\
         2024-04-02,2,13, T ,NA\r",
        "# a comment\ndate,tmin_c,tmax_c,precip_mm,wind_m_s,who\n\
         2024-04-01,1.5,12,0.3,2, \"Ann, Bob\"\n# another\n2024-04-02,2,13,0,-9999,\"x\"\"y\"\n",
    ];
    for text in &others[..2] {
        assert_eq!(read(text).unwrap().record, want, "{text}");
    }
    // A blank before a quote is not CSV: the comma inside counts.
    assert!(fault(others[2]).message.contains("7 fields"));
    let mended = others[2].replace(", \"Ann", ",\"Ann");
    let got = read(&mended).unwrap();
    assert_eq!(got.record, want);
    assert_eq!(got.notes, ["not used: who"]);
}

#[test]
fn us_units_are_turned_to_si() {
    let got = read(
        "date,tmin_f,tmax_f,precip_in,wind_mph,rs_mj_m2,rh_pct\n2024-04-01,32,50,1,10,20.5,70\n",
    )
    .unwrap();
    let day = got.record.days[0];
    close(day.t_min_c, 0.0, 1e-12);
    close(day.t_max_c, 10.0, 1e-12);
    close(day.precip_mm, 25.4, 1e-12);
    close(day.wind_m_s.unwrap(), 4.4704, 1e-12);
    assert_eq!((day.rs_mj_m2, day.rh_pct), (Some(20.5), Some(70.0)));
}

#[test]
fn comment_lines_give_the_site() {
    let text = "# name: Home station,,,\n# latitude_deg: 40.64\n#elevation_m: 3\n\
                # anemometer_m: 2\ndate,tmin_c,tmax_c,precip_mm\n2024-04-01,1,12,0\n";
    let record = read_daily_csv(text, "file", None).unwrap().record;
    assert_eq!(record.name, "Home station");
    assert_eq!(record.site, Site { latitude_deg: 40.64, elevation_m: 3.0 });
    close(record.anemometer_m, 2.0, 0.0);
    assert_eq!(read(text).unwrap().record.site, SITE);

    let bare = "date,tmin_c,tmax_c,precip_mm\n2024-04-01,1,12,0\n";
    let none = read_daily_csv(bare, "file", None).unwrap_err();
    assert!(none.expected.contains("# latitude_deg: 40.64"), "{none}");
    let north = read_daily_csv(&text.replace("40.64", "95"), "file", None).unwrap_err();
    assert_eq!(north.line, Some(2));
    let odd = Site { latitude_deg: f64::NAN, elevation_m: 0.0 };
    assert!(read_daily_csv(bare, "file", Some(odd)).is_err());
}

#[test]
fn short_gaps_are_filled_and_told() {
    let got = read(
        "date,tmin_c,tmax_c,precip_mm\n2024-03-30,,,4\n2024-03-31,0,10,1\n2024-04-01,2,,5\n\
         2024-04-04,4,18,\n2024-04-05,5,19,2\n",
    )
    .unwrap();
    let days = &got.record.days;
    assert_eq!(got.record.first, Day::from_ymd(2024, 3, 31).unwrap());
    let lows: Vec<f64> = days.iter().map(|d| d.t_min_c).collect();
    let highs: Vec<f64> = days.iter().map(|d| d.t_max_c).collect();
    assert_eq!(lows, [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]);
    assert_eq!(highs, [10.0, 12.0, 14.0, 16.0, 18.0, 19.0]);
    let rain: Vec<f64> = days.iter().map(|d| d.precip_mm).collect();
    assert_eq!(rain, [1.0, 5.0, 0.0, 0.0, 0.0, 2.0]);
    assert_eq!(
        got.notes,
        [
            "left off at the ends: 1 day without temperature",
            "2024-04-01 to 2024-04-03: temperature was interpolated",
            "2024-04-02 to 2024-04-04: no rain was assumed",
        ]
    );
}

#[test]
fn long_gaps_name_their_dates() {
    let gap = fault(
        "date,tmin_c,tmax_c,precip_mm\n2024-04-01,1,12,0\n2024-04-02,1,12,0\n2024-04-09,1,12,0\n",
    );
    assert_eq!(gap.line, Some(4));
    assert!(gap.message.contains("6 days, 2024-04-03 to 2024-04-08"), "{gap}");
    // Huge distances are refused before anything is made of them.
    let far = fault(
        "date,tmin_c,tmax_c,precip_mm\n0001-01-01,1,12,0\n0001-01-02,1,12,0\n9999-12-31,1,12,0\n",
    );
    assert!(far.message.contains("missing for"), "{far}");
    let rain: String = (1..=9).map(|d| format!("2024-04-0{d},1,12,\n")).collect();
    let dry = fault(&format!("date,tmin_c,tmax_c,precip_mm\n{rain}"));
    assert!(dry.message.contains("no day has low, high and precipitation"), "{dry}");
}

/// Each of these texts is a thing people have: the fault names line, column, value and a way out.
#[test]
fn faults_say_where_what_and_how_to_mend() {
    let table = |rows: &str| format!("date,tmin_c,tmax_c,precip_mm\n{rows}");
    // Text, line, column, part of the message, part of the help.
    type Case = (String, Option<usize>, Option<&'static str>, &'static str, &'static str);
    let cases: [Case; 18] = [
        (table("2024-04-01,1,x12,0"), Some(2), Some("tmax_c"), "'x12' is not a number", ""),
        (table("2024-04-01,45,71,0"), Some(2), Some("tmax_c"), "71", "tmin_f and tmax_f"),
        (table("2024-04-01,-10,278,0"), Some(2), Some("tmax_c"), "278", "tenths of a degree"),
        (table("2024-04-01,1,12,-1"), Some(2), Some("precip_mm"), "-1", "empty"),
        (table("2024-04-01,1,12,700"), Some(2), Some("precip_mm"), "700", "tenths"),
        (table("2024-04-01,1,inf,0"), Some(2), Some("tmax_c"), "'inf'", ""),
        (table("2024-04-01,12,1,0"), Some(2), Some("tmax_c"), "below the low of 12", "swapped"),
        (table("2024-04-01,1,12,0\n2024-04-01,2,12,0"), Some(3), Some("date"), "twice", "hourly"),
        (table("2024-02-30,1,12,0"), Some(2), Some("date"), "the calendar has no", ""),
        (table("04/01/2024,1,12,0"), Some(2), Some("date"), "is not a date", "year, month"),
        (table("2024-04,1,12,0"), Some(2), Some("date"), "is a month", "monthly"),
        (table("2024-04-01T13:00,1,12,0"), Some(2), Some("date"), "time of day", "hourly"),
        (
            table("2024-01-01,1,12,0\n2024-02-01,1,12,0\n2024-03-01,1,12,0"),
            Some(3),
            Some("date"),
            "monthly",
            "",
        ),
        (table("2024-04-01,1,5,12,0"), Some(2), None, "5 fields", "decimals"),
        ("date,tmin_c,tmax,precip_mm\n".into(), Some(1), None, "tmax_c", "needs its unit"),
        ("date;tmin_c;tmax_c\n".into(), Some(1), None, "not separated by commas", "CSV"),
        ("date,tmin_c,tmin_f,tmax_c,precip_mm\n".into(), Some(1), Some("tmin_f"), "twice", ""),
        (table("2024-04-01,1,\"12,0"), Some(2), None, "not closed", ""),
    ];
    for (text, line, column, message, help) in cases {
        let got = fault(&text);
        assert_eq!(got.line, line, "{text}: {got}");
        assert_eq!(got.column.as_deref(), column, "{text}: {got}");
        assert!(got.message.contains(message), "{text}: {got}");
        assert!(got.help.contains(help), "{text}: {got}");
        assert!(!got.expected.is_empty());
    }
    assert!(fault("").message.contains("no table"));
    assert!(fault("date,tmin_c,tmax_c,precip_mm\n").message.contains("no day"));
    // A station's name in a plain table does not make it one of NOAA's.
    let named = "station,date,tmin_c,tmax_c,precip_mm\nhere,2024-04-01,1,12,0\n";
    let named = read(named).unwrap();
    assert_eq!(named.account.station.as_deref(), Some("here"));
    assert_eq!(named.notes, [""; 0]);
    let near = fault("date,tmin_c,tmax_c,precipt_mm\n");
    assert!(near.help.contains("did you mean 'precipt_mm'"), "{near}");
    let shown = fault(&table("2024-04-01,1,12,-1")).to_string();
    assert!(shown.starts_with("line 2, column precip_mm: no station measures -1 (expected"));
}

#[test]
fn a_line_number_counts_blank_and_comment_lines() {
    let got = fault("# x\n\ndate,tmin_c,tmax_c,precip_mm\r\n\r\n# y\n2024-04-01,1,12,x\n");
    assert_eq!(got.line, Some(6));
}

proptest! {
    #[test]
    fn no_text_panics(text in "\\PC*") {
        let _ = read_daily_csv(&text, "x", None);
        let _ = read(&text);
    }

    #[test]
    fn no_bytes_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let text = String::from_utf8_lossy(&bytes);
        let _ = read(&text);
        let _ = read(&format!("date,tmin_c,tmax_c,precip_mm\n{text}"));
        let _ = read(&format!("STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN\n{text}"));
        let _ = read(&format!("USX,20240409,TMAX,200,,,W,2400\n{text}"));
        let _ = read(&format!("USW00000001202404TMAX  200  W\n{text}"));
    }

    /// Tables that are nearly right: whatever reads is gapless and in order.
    #[test]
    fn what_reads_is_sound(
        rows in proptest::collection::vec(
            (1u32..400, "(-?[0-9]{1,3}(\\.[0-9])?|NA||x)", "(-?[0-9]{1,2}|NA|)", "([0-9]{1,3}|T|)"),
            0..60,
        ),
        sorted in any::<bool>(),
    ) {
        let mut rows = rows;
        if sorted {
            // Close dates that go up, so that many tables read.
            for (i, row) in rows.iter_mut().enumerate() {
                row.0 = 2 * i as u32 + row.0 % 2;
            }
        }
        let start = Day::from_ymd(2023, 12, 1).unwrap();
        let lines: String = rows
            .iter()
            .map(|(day, low, high, rain)| {
                format!("{},{low},{high},{rain}\n", start.plus(*day as i32))
            })
            .collect();
        if let Ok(got) = read(&format!("date,tmin_c,tmax_c,precip_mm\n{lines}")) {
            prop_assert!(!got.record.days.is_empty());
            for day in &got.record.days {
                prop_assert!(day.t_min_c <= day.t_max_c);
                prop_assert!((0.0..=600.0).contains(&day.precip_mm));
            }
        }
    }
}
