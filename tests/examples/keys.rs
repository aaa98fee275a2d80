//! Prints the reference page of the scenario's keys, made from the key registry; `--write` puts it
//! into scenarios/KEYS.md.

fn main() -> std::io::Result<()> {
    let page = sim::scenario::reference();
    print!("{page}");
    if std::env::args().any(|a| a == "--write") {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/KEYS.md");
        std::fs::write(path, page)?;
    }
    Ok(())
}
