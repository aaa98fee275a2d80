//! Prints the reference page of the scenario's keys, made from the key registry; `--write` puts it
//! into scenarios/KEYS.md, and the schema for editors into scenarios/scenario.schema.json.

fn main() -> std::io::Result<()> {
    let page = sim::scenario::reference();
    print!("{page}");
    if std::env::args().any(|a| a == "--write") {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios");
        std::fs::write(format!("{folder}/KEYS.md"), page)?;
        std::fs::write(format!("{folder}/scenario.schema.json"), sim::scenario::schema())?;
    }
    Ok(())
}
