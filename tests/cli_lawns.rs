//! Many lawns over one scenario, through the program itself.

#[path = "support/door.rs"]
mod door;

use std::fs;

use door::swardplay;

const TABLE: &str = "\
name,lawn.area,lawn.seen.grass-cover,lawn.sun
\"Oak Street, 12\",\"6,000 ft2\",50 % to 60 %,
Elm 3,200 m2,80 %,half
Ash 7,,,most
";

/// Rows of a results table that begin with a lawn's name.
fn rows(text: &str, lawn: &str) -> Vec<String> {
    text.lines().filter(|line| line.starts_with(lawn)).map(str::to_string).collect()
}

#[test]
fn a_lawn_comes_out_the_same_whatever_the_other_rows() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let play = |table: &str, out: &str, more: &[&str]| -> (String, String) {
        fs::write(at.join("lawns.csv"), table).unwrap();
        let args = ["lawns", "lawns.csv", "--template", "dry-summer-lawn", "--members", "30"];
        let (code, said, err) = swardplay(at, &[&args, more, &["--out", out]].concat());
        assert_eq!((code, err.as_str()), (0, ""));
        (said, fs::read_to_string(at.join(out).join("lawns.csv")).unwrap())
    };
    let (said, all) = play(TABLE, "all", &["--threads", "1"]);
    assert!(said.starts_with("3 lawns, each in 30 simulated futures"), "{said}");
    for name in ["Oak Street, 12", "Elm 3", "Ash 7"] {
        assert!(said.contains(&format!("\n{name}\n")), "{said}");
    }
    // By itself, among others, and in a part.
    let head = TABLE.lines().next().unwrap();
    let (_, one) = play(&format!("{head}\nElm 3,200 m2,80 %,half\n"), "one", &["--threads", "2"]);
    let (_, part) = play(TABLE, "part", &["--part", "2/3"]);
    assert!(!rows(&all, "Elm 3,").is_empty());
    assert_eq!(rows(&one, "Elm 3,"), rows(&all, "Elm 3,"));
    assert_eq!(one, part);
    // And as `play` has it, where nothing of the template is changed.
    let (_, as_it_is) = play("name\nTemplate\n", "plain", &[]);
    let args = ["play", "dry-summer-lawn", "--members", "30", "--out", "played"];
    assert_eq!(swardplay(at, &args).0, 0);
    let outcomes = fs::read_to_string(at.join("played/outcomes.csv")).unwrap();
    let first = rows(&as_it_is, "Template,")[0].clone();
    let first: Vec<&str> = first.split(',').collect();
    let (program, outcome, mean) = (first[1], first[2], first[9].parse::<f64>().unwrap());
    let cells = outcomes.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let values: Vec<f64> = cells
        .filter(|cells| (cells[0], cells[2]) == (program, outcome))
        .map(|cells| cells[4].parse().unwrap())
        .collect();
    let played = values.iter().sum::<f64>() / values.len() as f64;
    assert_eq!(values.len(), 30);
    // Both files give tenths of a percent.
    assert!((played - mean).abs() <= 0.1, "{outcome}: {played} and {mean}");
}

#[test]
fn a_faulty_table_is_told_by_line_and_column_and_nothing_is_played() {
    let folder = tempfile::tempdir().unwrap();
    let refused = |table: &str| -> String {
        fs::write(folder.path().join("lawns.csv"), table).unwrap();
        let (code, out, err) = swardplay(folder.path(), &["lawns", "lawns.csv"]);
        assert_eq!((code, out.as_str()), (2, ""), "{err}");
        assert!(err.contains("`lawns.csv` needs mending") && !err.contains("panicked"), "{err}");
        assert!(!folder.path().join("swardplay-lawns").exists());
        err
    };
    let err = refused("name,grass-cover\nA,50 %\n");
    assert!(err.contains("column 2") && err.contains("`lawn.seen.grass-cover`?"), "{err}");
    let err = refused("name,lawn.area,lawn.soil.texture\nA,6000,loam\nB,6000 ft2,lom\n");
    assert!(err.contains("line 2 (A), column `lawn.area`"), "{err}");
    assert!(err.contains("line 3 (B), column `lawn.soil.texture`"), "{err}");
    assert!(err.contains("did you mean \"loam\""), "{err}");
    let err = refused("name,lawn.soil.ph\nA,sour\n");
    assert!(err.contains("column `lawn.soil.ph`: \"sour\" cannot be read"), "{err}");
    let err = refused("name,lawn.area\nA,\"1 \u{1b}[31m ft2\"\n");
    assert!(!err.contains('\u{1b}'), "{err}");
}
