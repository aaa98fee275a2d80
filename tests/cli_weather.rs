//! Station files at the door: `climate`, the questions that it asks, and weather so far in a run.

#[path = "support/door.rs"]
mod door;
#[path = "support/folder.rs"]
mod folder;

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;

use door::swardplay;
use folder::names;

const JFK: &str = include_str!("../scenarios/weather/jfk_2012_2015.csv");

/// JFK as ordered in US units, without a place.
fn order() -> String {
    let mut text = "\"STATION\",\"NAME\",\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n".to_owned();
    for line in JFK.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let f = |i: usize| (cells[i].parse::<f64>().unwrap() * 1.8 + 32.0).round();
        let rain = cells[3].parse::<f64>().unwrap() / 25.4;
        let _ = writeln!(
            text,
            "\"USW00094789\",\"JFK, NY US\",\"{}\",\"{rain:.2}\",\"{}\",\"{}\"",
            cells[0],
            f(2),
            f(1)
        );
    }
    text
}

#[test]
fn a_carried_record_is_told_drawn_and_tabled() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = swardplay(folder.path(), &["climate", "jfk"]);
    assert_eq!((code, err.as_str()), (0, ""));
    for words in [
        "New York, JFK airport (40.64° N, 10 ft)",
        "2012-01-01 to 2015-12-31: 1461 days, 4 complete years",
        "Gaps: none",
        "Too short to know how years differ",
        "27 Mar   1 Apr  16 Apr",
        "Wind: measured",
        "Humidity: not measured; estimated from the low",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
    let made = folder.path().join("swardplay-climate");
    let pictures = ["emergence", "normals", "simulated"];
    let want = pictures.iter().flat_map(|p| [format!("{p}.png"), format!("{p}.svg")]);
    let want: BTreeSet<String> = want.chain(["climate.csv".into(), "run.json".into()]).collect();
    assert_eq!(names(&made), want);
    let table = fs::read_to_string(made.join("climate.csv")).unwrap();
    assert!(table.starts_with("part,what,when,value,unit,remark\n"));
    // The first frost-free and crabgrass dates worked elsewhere: 16 Apr 2014, 7 May 2012.
    assert!(table.contains("date,last-frost,2014: 16 Apr,106,"), "{table}");
    assert!(table.contains("date,soil-42,2012: 7 May,127,"), "{table}");
    for line in table.lines() {
        assert!(!line.contains("NaN"), "{line}");
    }
    // The same again is the same to the byte, and metric units change words only.
    let again = ["climate", "jfk", "--out", "again", "--units", "metric"];
    let (code, out, _) = swardplay(folder.path(), &again);
    assert_eq!(code, 0);
    assert!(out.contains("(40.64° N, 3 m)") && out.contains("°C"), "{out}");
    assert_eq!(table, fs::read_to_string(folder.path().join("again/climate.csv")).unwrap());
}

#[test]
fn an_order_without_a_place_is_asked_for_it() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("order.csv"), order()).unwrap();
    let (code, out, err) = swardplay(folder.path(), &["climate", "order.csv"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("latitude_deg") && err.contains("--latitude 40.64"), "{err}");
    assert_eq!(names(folder.path()).len(), 1, "nothing was written");
    let placed = ["climate", "order.csv", "--latitude", "40.64", "--elevation", "10 ft"];
    let (code, out, err) = swardplay(folder.path(), &placed);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("JFK, NY US (40.64° N, 10 ft)") && out.contains("US units"), "{out}");
    // One year of it can be told, and no seasons drawn from it.
    let one = [&placed[..], &["--from", "2013", "--to", "2013"]].concat();
    let (code, out, _) = swardplay(folder.path(), &one);
    assert_eq!(code, 0);
    assert!(out.contains("365 days, 1 complete year\n"), "{out}");
    assert!(out.contains("No simulated years"), "{out}");
    assert!(!names(&folder.path().join("swardplay-climate")).contains("simulated.png"));
}

#[test]
fn what_a_file_leaves_open_is_asked_with_the_flag_or_key_that_settles_it() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("units.csv", "STATION,DATE,PRCP,TMAX,TMIN\nA,2024-01-09,0,29,12\nA,2024-01-10,0,31,10\n");
    write(
        "two.csv",
        "STATION,DATE,PRCP,TMAX,TMIN\nA,2024-01-09,0.0,2.9,1.2\nB,2024-01-09,0.0,3.1,1.0\n",
    );
    write("month.csv", "STATION,DATE,PRCP,TMAX,TMIN\nA,2024-01,0.0,2.9,1.2\n");
    for (file, flag, key) in [
        ("units.csv", "--file-units us, metric or tenths", "file-units = \"us\""),
        ("two.csv", "--station ID", "station-id = \"ID\""),
        ("month.csv", "monthly", "monthly"),
    ] {
        let (code, out, err) = swardplay(folder.path(), &["climate", file]);
        assert_eq!((code, out.as_str()), (2, ""), "{file}");
        assert!(err.contains(flag) && err.contains("line "), "{file}: {err}");
        let scenario = example().replace("station = \"jfk\"", &format!("file = \"{file}\""));
        write("lawn.toml", &scenario);
        let (code, _, err) = swardplay(folder.path(), &["vet", "lawn.toml"]);
        assert_eq!(code, 2, "{file}");
        assert!(err.contains(key) && !err.contains("panicked"), "{file}: {err}");
    }
    let near = swardplay(folder.path(), &["climate", "jfkk"]);
    assert!(near.0 == 2 && near.2.contains("the carried record is called `jfk`"), "{}", near.2);
    let far = ["climate", "two.csv", "--station", "A", "--latitude", "95", "--elevation", "1 m"];
    let (code, _, err) = swardplay(folder.path(), &far);
    assert!(code == 2 && err.contains("latitude_deg is 95"), "{err}");
    for (args, message) in [
        (["--elevation", "10"], "--elevation 10"),
        (["--latitude", "north"], "--latitude"),
        (["--file-units", "furlongs"], "us, metric, tenths"),
        (["--station", "C"], "no station 'C'"),
    ] {
        let (code, _, err) =
            swardplay(folder.path(), &[&["climate", "two.csv"][..], &args].concat());
        assert_eq!(code, 2, "{args:?}");
        assert!(err.contains(message), "{args:?}: {err}");
    }
}

fn example() -> &'static str {
    include_str!("../scenarios/thin-front-lawn.toml")
}

/// The example with keys added under [weather] and its run begun in 2015.
fn scenario(keys: &str) -> String {
    example()
        .replace("station = \"jfk\"", &format!("station = \"jfk\"\n{keys}"))
        .replace("first-year = 2026", "first-year = 2015")
        .replace("seasons = 2", "seasons = 1")
}

#[test]
fn a_run_begins_with_the_weather_so_far() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let header = JFK.lines().next().unwrap();
    let year: Vec<&str> = JFK.lines().filter(|line| line.starts_with("2015-")).collect();
    write("so-far.csv", &format!("{header}\n{}\n", year[..200].join("\n")));
    write("lawn.toml", &scenario("so-far = \"so-far.csv\""));
    write("plain.toml", &scenario(""));
    let play = |name: &str, out: &str| {
        let args = ["play", name, "--members", "12", "--out", out];
        let (code, out, err) = swardplay(folder.path(), &args);
        assert_eq!((code, err.as_str()), (0, ""));
        out
    };
    let said = play("lawn.toml", "out");
    assert!(said.contains("observed up to 2015-07-19, the same in every future"), "{said}");
    let run = fs::read_to_string(folder.path().join("out/run.json")).unwrap();
    assert!(run.contains("weather_so_far") && run.contains("so-far.csv"), "{run}");
    play("plain.toml", "plain");
    let plain = fs::read_to_string(folder.path().join("plain/run.json")).unwrap();
    assert!(!plain.contains("weather_so_far"), "{plain}");
    // The whole record is its own weather so far.
    write("whole.toml", &scenario("so-far = \"record\""));
    let said = play("whole.toml", "whole");
    assert!(said.contains("observed up to 2015-12-31"), "{said}");
}

#[test]
fn weather_so_far_that_does_not_fit_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let refused = |keys: &str, message: &str| {
        write("lawn.toml", &scenario(keys));
        let (code, out, err) = swardplay(folder.path(), &["vet", "lawn.toml"]);
        assert_eq!((code, out.as_str()), (2, ""), "{keys}");
        assert!(err.contains(message), "{keys}: {err}");
    };
    write("late.csv", "date,tmin_c,tmax_c,precip_mm\n2015-03-01,1,12,0\n2015-03-02,1,12,0\n");
    write("old.csv", "date,tmin_c,tmax_c,precip_mm\n2014-03-01,1,12,0\n2014-03-02,1,12,0\n");
    write("bad.csv", "date,tmin_c,tmax_c,precip_mm\n2015-01-01,1,x,0\n");
    refused("so-far = \"late.csv\"", "begins on 2015-03-01, and the run begins on 2015-01-01");
    refused("so-far = \"old.csv\"", "ends on 2014-03-02, before the run begins");
    refused("so-far = \"bad.csv\"", "`bad.csv`: line 2, column tmax_c: 'x' is not a number");
    refused("so-far = \"none.csv\"", "there is no weather record file");
    refused("file-units = \"us\"", "is about a station file, and none is named");
    refused("latitude = 40.0", "is about a station file, and none is named");
    refused("from-year = 2013", "is about a station file");
    let years = scenario("from-year = 2014\nto-year = 2013")
        .replace("station = \"jfk\"", "file = \"old.csv\"");
    write("lawn.toml", &years);
    let (code, _, err) = swardplay(folder.path(), &["vet", "lawn.toml"]);
    assert!(code == 2 && err.contains("`to-year` is before `from-year`"), "{err}");
}

/// The README's walk: a downloaded file that does not say where its station lies, to bands.
#[test]
fn a_dropped_file_leads_to_bands() {
    let folder = tempfile::tempdir().unwrap();
    let run = |args: &[&str]| swardplay(folder.path(), args);
    let (code, _, err) = run(&["play", "own-station", "--members", "8"]);
    assert_eq!(code, 2);
    assert!(err.contains("in the folder that you are in"), "{err}");

    fs::write(folder.path().join("my-station.csv"), order()).unwrap();
    let (code, _, err) = run(&["init", "--yes", "--weather", "my-station.csv"]);
    assert_eq!(code, 2);
    assert!(err.contains("my-station.csv, latitude 40.64, elevation 10 ft"), "{err}");
    let odd = ["init", "--yes", "--weather", "my-station.csv, latitud 40.64"];
    let (code, _, err) = run(&odd);
    assert_eq!(code, 2);
    assert!(err.contains("did you mean \"latitude\"?"), "{err}");
    assert_eq!(names(folder.path()).len(), 1);

    let told = "my-station.csv, latitude 40.64, elevation 10 ft";
    let (code, _, err) = run(&["init", "--yes", "--weather", told]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert_eq!(run(&["vet", "my-lawn.toml"]).0, 0);
    let (code, _, err) = run(&["play", "my-lawn.toml", "--members", "8", "--out", "own"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(names(&folder.path().join("own")).contains("bands.csv"));

    let placed = format!("# latitude_deg: 40.64\n# elevation_m: 3\n{}", order());
    fs::write(folder.path().join("my-station.csv"), placed).unwrap();
    let (code, out, err) = run(&["play", "own-station", "--members", "8"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("A barrier when the soil warms"), "{out}");
}
