//! The page of lessons with the model's answers. Prints it; `--write` puts it into
//! scenarios/lessons/README.md.

#[path = "../support/lessons_page.rs"]
mod lessons_page;

use std::error::Error;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let page = lessons_page::page()?;
    print!("{page}");
    if std::env::args().any(|word| word == "--write") {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        std::fs::write(root.join("scenarios/lessons/README.md"), page)?;
    }
    Ok(())
}
