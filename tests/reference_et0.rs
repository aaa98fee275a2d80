//! Reference evapotranspiration of a station year against the general library refet 0.5.0 (method
//! "asce"); the values and the script that made them are in `tests/reference`.

use sim::calendar::Day;
use sim::parameters::Catalogue;
use sim::weather::{RecordDay, Site, Sky, WeatherParameters, skies};

/// One day: what goes in, and the library's radiation (MJ/m2) and ET0 (mm).
struct Row {
    record: RecordDay,
    rs_mj_m2: f64,
    et0_mm: f64,
    /// Without ASCE's floor of 0.3 under Rs/Rso.
    et0_no_floor_mm: f64,
}

fn rows() -> Vec<Row> {
    let text = include_str!("reference/et0_refet.csv");
    let number = |cell: &str| cell.parse::<f64>().expect("a number");
    text.lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let record = RecordDay {
                t_min_c: number(cells[1]),
                t_max_c: number(cells[2]),
                precip_mm: 0.0,
                wind_m_s: Some(number(cells[3])),
                rs_mj_m2: None,
                rh_pct: None,
            };
            Row {
                record,
                rs_mj_m2: number(cells[4]),
                et0_mm: number(cells[5]),
                et0_no_floor_mm: number(cells[6]),
            }
        })
        .collect()
}

fn played(rows: &[Row]) -> Vec<Sky> {
    // The library was given kRs 0.16, whatever the model's own is.
    let p = WeatherParameters { krs: 0.16, ..Catalogue::embedded().central().weather };
    let days: Vec<RecordDay> = rows.iter().map(|row| row.record).collect();
    let first = Day::from_ymd(2013, 1, 1).expect("a date");
    let jfk = Site { latitude_deg: 40.639, elevation_m: 3.0 };
    skies(&days, first, &jfk, 10.0, &p, &mut || 0.5)
}

/// Every day of JFK 2013 within 0.005 mm: the library's sigma (4.901e-9) and solar constant differ
/// in the fourth digit.
///
/// DIFFERENCE: "asce" takes Rs/Rso as 0.3 at least, FAO-56 (the model) sets no floor. It matters on
/// days with a range under 2 C; those are held against the library's parts without the floor, and
/// against the library as it comes to 0.1 mm, the model above it (less long-wave loss).
#[test]
fn et0_of_a_station_year() {
    let rows = rows();
    assert_eq!(rows.len(), 365);
    let mut floored = 0;
    for (row, sky) in rows.iter().zip(played(&rows)) {
        let off = sky.et0_mm - row.et0_no_floor_mm;
        assert!(off.abs() < 0.005, "{}: {} for {}", sky.day, sky.et0_mm, row.et0_no_floor_mm);
        let off = sky.et0_mm - row.et0_mm;
        if row.et0_mm == row.et0_no_floor_mm {
            assert!(off.abs() < 0.005, "{}: {} for {}", sky.day, sky.et0_mm, row.et0_mm);
        } else {
            floored += 1;
            assert!((-0.005..0.1).contains(&off), "{}: {} for {}", sky.day, sky.et0_mm, row.et0_mm);
        }
    }
    assert!((1..10).contains(&floored), "{floored} days under the floor");
}

/// The library's extraterrestrial radiation behind eq 50, day by day within 0.1 %.
#[test]
fn radiation_of_a_station_year() {
    let rows = rows();
    for (row, sky) in rows.iter().zip(played(&rows)) {
        let ratio = sky.rs_mj_m2 / row.rs_mj_m2;
        assert!((ratio - 1.0).abs() < 1e-3, "{}: {ratio}", sky.day);
    }
}

/// The year's sum within 0.05 %: differences do not pile up.
#[test]
fn et0_of_the_whole_year() {
    let rows = rows();
    let want: f64 = rows.iter().map(|row| row.et0_mm).sum();
    let got: f64 = played(&rows).iter().map(|sky| sky.et0_mm).sum();
    assert!((got / want - 1.0).abs() < 5e-4, "{got} mm for {want} mm");
    assert!((700.0..1300.0).contains(&want), "{want}");
}
