//! Runs the published studies in tests/studies on the real model and prints the table that the
//! documents carry; `--write` puts it into tests/STUDIES.md. `--series ID TREATMENT a,b,c` prints
//! daily series of one treatment, for looking at what the model does.

#[path = "../support/published.rs"]
mod published;

use published::{records, root, studies};
use sim::parameters::Catalogue;
use sim::study::{Study, check, run, series_position};
use sim::weather::Record;
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let records = records()?;
    let catalogue = Catalogue::embedded();
    if arguments.first().is_some_and(|a| a == "--series") {
        return series(&arguments[1..], &records, &catalogue);
    }
    let only: Vec<&String> = arguments.iter().filter(|a| !a.starts_with("--")).collect();
    let mut table = String::from("# Published studies against the model\n\n");
    let (mut passed, mut all) = (0, 0);
    for study in studies()? {
        if !only.is_empty() && !only.contains(&&study.id) {
            continue;
        }
        let tracks = run(&study, &catalogue, &|key| records.get(key))?;
        let rows = check(&study, &tracks)?;
        passed += rows.iter().filter(|r| r.pass).count();
        all += rows.len();
        section(&mut table, &study, &rows)?;
    }
    writeln!(table, "{passed} of {all} checks pass.")?;
    print!("{table}");
    if arguments.iter().any(|a| a == "--write") {
        std::fs::write(root().join("tests/STUDIES.md"), table)?;
    }
    Ok(())
}

fn section(
    table: &mut String,
    study: &Study,
    rows: &[sim::study::CheckResult],
) -> std::fmt::Result {
    writeln!(table, "## {}: {}\n", study.id, study.title)?;
    let role = if study.sets_parameters { "sets parameters" } else { "sets none" };
    writeln!(table, "{}. Rank {}, {role}. {}\n", study.source, study.rank, study.conditions)?;
    writeln!(table, "| check | published | model | |\n|---|---|---|---|")?;
    for r in rows {
        let verdict = if r.pass { "pass" } else { "MISS" };
        writeln!(table, "| {} | {} | {} | {verdict} |", r.name, r.published, r.model)?;
    }
    writeln!(table)
}

fn series(
    arguments: &[String],
    records: &BTreeMap<String, Record>,
    catalogue: &Catalogue,
) -> Result<(), Box<dyn Error>> {
    let [id, treatment, names, rest @ ..] = arguments else {
        return Err("--series ID TREATMENT a,b,c [EVERY]".into());
    };
    let every: usize = rest.first().map_or(Ok(7), |e| e.parse())?;
    let study = studies()?.into_iter().find(|s| s.id == *id).ok_or("no such study")?;
    let at =
        study.treatment.iter().position(|t| t.name == *treatment).ok_or("no such treatment")?;
    let tracks = run(&study, catalogue, &|key| records.get(key))?;
    let names: Vec<&str> = names.split(',').collect();
    let columns: Vec<usize> = names
        .iter()
        .map(|n| series_position(n).ok_or_else(|| format!("no series {n}")))
        .collect::<Result<_, _>>()?;
    for track in &tracks[at] {
        println!("date,{}   (worst residual {:.1e})", names.join(","), track.worst_residual);
        for (i, row) in track.rows.iter().enumerate().step_by(every) {
            let figures: Vec<String> = columns.iter().map(|c| format!("{:.3}", row[*c])).collect();
            println!("{},{}", track.first.plus(i as i32), figures.join(","));
        }
    }
    Ok(())
}
