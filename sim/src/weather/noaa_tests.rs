//! NOAA's tables: the same days in each layout, written by hand in the form of real exports.

use super::tests_support::close;
use super::*;

/// 9 to 12 April 2024 in GHCN-Daily's CSV form: a trace, a failed high, a missing low.
const ACCESS: &str = "\
\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"PRCP\",\"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"
\"USX\",\"2024-04-09\",\"40.8\",\"-74.0\",\"42.7\",\"PARK, NY US\",\"    0\",\"T,,W\",\"  161\",\",,W\",\"   50\",\",,W\"
\"USX\",\"2024-04-10\",\"40.8\",\"-74.0\",\"42.7\",\"PARK, NY US\",\"  302\",\",,W,2400\",\"  400\",\",I,W\",\"   56\",\",,W\"
\"USX\",\"2024-04-11\",\"40.8\",\"-74.0\",\"42.7\",\"PARK, NY US\",\"    0\",\"P,,0,0700\",\"  181\",\",,W\",\"\",\"\"
\"USX\",\"2024-04-12\",\"40.8\",\"-74.0\",\"42.7\",\"PARK, NY US\",\"   13\",\",,W\",\"  191\",\",,W\",\"   80\",\",,W\"
";

fn days(text: &str) -> (Record, Vec<String>) {
    let site = Site { latitude_deg: 40.8, elevation_m: 42.7 };
    let read = read_daily_csv(text, "file", Some(site)).expect("the table reads");
    (read.record, read.notes)
}

#[test]
fn station_csv_in_tenths_brings_its_name_place_and_flags() {
    let read = read_daily_csv(ACCESS, "file", None).unwrap();
    let record = read.record;
    assert_eq!(record.name, "PARK, NY US");
    assert_eq!(record.site, Site { latitude_deg: 40.8, elevation_m: 42.7 });
    assert_eq!(record.first, Day::from_ymd(2024, 4, 9).unwrap());
    let rain: Vec<f64> = record.days.iter().map(|d| d.precip_mm).collect();
    assert_eq!(rain, [0.0, 30.2, 0.0, 1.3]);
    // The failed high and the missing low take both days' temperatures; they are interpolated.
    for (day, (low, high)) in
        record.days.iter().zip([(5.0, 16.1), (6.0, 17.1), (7.0, 18.1), (8.0, 19.1)])
    {
        close(day.t_min_c, low, 1e-9);
        close(day.t_max_c, high, 1e-9);
    }
    let notes = read.notes.join("; ");
    assert!(notes.contains("1 reading of TMAX failed"), "{notes}");
    assert!(notes.contains("tenths of C"), "{notes}");
    assert!(notes.contains("2024-04-10 to 2024-04-11: temperature was interpolated"), "{notes}");
}

#[test]
fn orders_in_us_and_metric_units_and_the_legacy_form_agree() {
    let us = "\"STATION\",\"NAME\",\"DATE\",\"AWND\",\"PRCP\",\"SNOW\",\"TMAX\",\"TMIN\"\n\
              \"USX\",\"PARK, NY US\",\"2024-04-09\",\"10.07\",\"1.00\",\"0.0\",\"68\",\"50\"\n\
              \"USX\",\"PARK, NY US\",\"2024-04-10\",\"\",\"0.00\",\"0.0\",\"86\",\"32\"\n";
    let metric = "STATION,NAME,DATE,AWND,PRCP,TMAX,TMIN\n\
                  USX,PARK,2024-04-09,4.5,25.4,20.0,10.0\nUSX,PARK,2024-04-10,,0.0,30.0,0.0\n";
    let legacy = "STATION,STATION_NAME,DATE,PRCP,TMAX,TMIN,AWND\n\
                  GHCND:USX,PARK,20240409,254,200,100,45\nGHCND:USX,PARK,20240410,0,300,0,-9999\n";
    let long = "USX,20240409,TMAX,200,,,W,2400\nUSX,20240409,TMIN,100,,,W,2400\n\
                USX,20240410,TMIN,0,,,W,2400\nUSX,20240410,TMAX,300,,,W,2400\n\
                USX,20240409,PRCP,254,,,W,2400\nUSX,20240410,PRCP,0,T,,W,2400\n\
                USX,20240409,SNWD,999,,,W,2400\nUSX,20240409,AWND,45,,,W\n";
    for (text, words) in
        [(us, "US units"), (metric, "metric units"), (legacy, "tenths"), (long, "tenths")]
    {
        let (record, notes) = days(text);
        assert!(notes.iter().any(|n| n.contains(words)), "{words}: {notes:?}");
        assert_eq!(record.first, Day::from_ymd(2024, 4, 9).unwrap());
        assert_eq!(record.days.len(), 2, "{words}");
        let first = record.days[0];
        close(first.t_min_c, 10.0, 1e-9);
        close(first.t_max_c, 20.0, 1e-9);
        close(first.precip_mm, 25.4, 1e-9);
        close(first.wind_m_s.unwrap(), 4.5, 0.01);
        close(record.days[1].t_max_c, 30.0, 1e-9);
        close(record.days[1].t_min_c, 0.0, 1e-9);
        assert_eq!(record.days[1].wind_m_s, None);
    }
}

#[test]
fn tables_that_cannot_be_read_say_why() {
    let fault = |text: &str| {
        let site = Site { latitude_deg: 40.8, elevation_m: 42.7 };
        read_daily_csv(text, "file", Some(site)).unwrap_err()
    };
    let head = "STATION,DATE,PRCP,TMAX,TMIN\n";
    let two = fault(&format!("{head}A,2024-04-09,0.0,9.0,1.0\nB,2024-04-10,0.0,9.0,1.0\n"));
    assert!(two.message.contains("A (1 day), B (1 day)") && two.line == Some(3), "{two}");
    let unclear = fault(&format!("{head}A,2024-01-09,0,29,12\nA,2024-01-10,0,31,10\n"));
    assert!(unclear.message.contains("nothing tells the units"), "{unclear}");
    let month = fault(&format!("{head}A,2024-01,0.0,29.0,12.0\n"));
    assert!(month.help.contains("monthly"), "{month}");
    let lacking = fault("STATION,DATE,PRCP,TMAX\nA,2024-01-09,0.0,29.0\n");
    assert!(lacking.message.contains("no TMIN"), "{lacking}");
    let odd = fault("USX,20240409,TMAX,200,,,W,2400\nUSX,x\n");
    assert!(odd.message.contains("not like the ones before") && odd.line == Some(2), "{odd}");
    let mixed = fault("USX,20240409,TMAX,200,,,W,2400\nUSY,20240409,TMAX,200,,,W,2400\n");
    assert!(mixed.message.contains("USX (1 day), USY (1 day)"), "{mixed}");
    // No place: the order left it out.
    let placeless = read_daily_csv(&format!("{head}A,2024-04-09,0.0,9.0,1.0\n"), "file", None);
    assert!(placeless.unwrap_err().message.contains("latitude_deg"));
}

#[test]
fn a_high_below_its_low_is_left_out() {
    let (record, notes) = days(
        "STATION,DATE,PRCP,TMAX,TMIN\nA,2024-04-09,0.0,9.0,1.0\nA,2024-04-10,0.0,1.0,9.0\n\
         A,2024-04-11,0.0,11.0,3.0\n",
    );
    close(record.days[1].t_max_c, 10.0, 1e-9);
    assert!(notes.iter().any(|n| n.contains("1 day with a high below")), "{notes:?}");
}
