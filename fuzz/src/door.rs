//! What a person sees of it all.

use std::io;
use std::path::Path;

use sim::ensemble::Results;
use sim::parameters;
use sim::scenario::{Checked, Fault, Scenario};
use sim::weather::RecordFault;
use sha2::{Digest, Sha256};
use swardplay::lawns::table::Table;
use swardplay::lawns::template;
use swardplay::station::{Says, told};
use swardplay::units::Units;
use swardplay::words::summary::Told;
use swardplay::{again, args, diagnostic, files, input, parts, pictures, vet, words};

const DEMO: &str = include_str!("../../scenarios/thin-front-lawn.toml");

/// Faults as the terminal shows them.
pub fn shown(text: &str, faults: &[Fault]) {
    for colour in [false, true] {
        let shown = diagnostic::render("lawn.toml", text, faults, colour);
        assert!(faults.is_empty() || !shown.is_empty());
        assert!(colour || shown.chars().all(|c| !c.is_control() || c == '\n' || c == '\t'));
    }
}

/// What `vet` says of a sound scenario.
pub fn vetted(scenario: &Scenario) {
    for units in [Units::Us, Units::Metric] {
        vet::verdict("lawn.toml", scenario, units);
    }
}

/// A station file's fault, wherever a person may settle it.
pub fn told_of_a_record(fault: &RecordFault) {
    for says in [Says::Keys, Says::Flags, Says::Answer] {
        assert!(!told("station.csv", fault, says).is_empty());
    }
}

/// The record of a past run, from any bytes.
pub fn record(bytes: &[u8]) {
    let Ok(text) = input::decode(bytes.to_vec()) else { return };
    if let Ok(past) = again::parse(&text, Path::new("run.json")) {
        let args = past.args(&args::PlayOptions::default());
        assert!((1..=args::MEMBERS_MAX).contains(&args.options.members));
    }
}

/// Rows that are put into a scenario: its check is a thousand times as slow as the reading of a table.
const ROWS: usize = 3;

/// A table of lawns, from any bytes, over the demo.
pub fn lawns(bytes: &[u8]) {
    let Ok(text) = input::decode(bytes.to_vec()) else { return };
    match Table::parse("lawns.csv".into(), text) {
        Ok(mut table) => {
            assert!(!table.rows.is_empty());
            assert!(table.rows.iter().all(|row| !row.name.is_empty()));
            let keys = table.keys.len();
            assert!(table.rows.iter().flat_map(|row| &row.cells).all(|(key, _)| *key < keys));
            table.rows.truncate(ROWS);
            match template::scenarios(DEMO, &table) {
                Ok(all) => assert_eq!(all.len(), table.rows.len()),
                Err(faults) => assert!(!table.refuse(&faults).to_string().is_empty()),
            }
        }
        Err(fault) => assert!(!fault.to_string().is_empty()),
    }
}

/// A part file that says of itself that it is whole, whatever it holds.
pub fn part(bytes: &[u8]) {
    let mut file = parts::file::FIRST_LINE.as_bytes().to_vec();
    file.extend_from_slice(bytes);
    let sum = Sha256::digest(&file);
    file.extend_from_slice(&sum);
    let path = Path::new("some.part");
    if let Ok(taken) = parts::file::whole(file, path) {
        let _ = taken.part(path);
    }
}

/// All words, pictures and tables of a run.
pub fn told_of_a_run(checked: &Checked, results: &Results) {
    let scenario = &checked.scenario;
    let catalogue = parameters::catalogue(parameters::TEXT).expect("the embedded catalogue");
    for units in [Units::Us, Units::Metric] {
        words::summary(&Told {
            results,
            scenario,
            units,
            catalogue: &catalogue,
            cautions: &[],
            folder: "out",
            files: &[],
        });
        pictures::all(results, scenario, units);
    }
    let mut sink = io::sink();
    let currency = scenario.crew.currency.as_str();
    files::bands::write(results, &mut sink).expect("a table");
    files::outcomes::write(results, scenario, &mut sink).expect("a table");
    files::contrasts::write(results, currency, &mut sink).expect("a table");
    files::work::write(results, scenario, &mut sink).expect("a table");
    files::missed::write(results, scenario, &mut sink).expect("a table");
    files::ledger::write(results, &mut sink).expect("a table");
    files::tracks::write(results, &mut sink).expect("a table");
}
