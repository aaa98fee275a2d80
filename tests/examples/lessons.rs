//! The headline lessons as results: one barrier or two halves, cutting seldom or often. Prints the
//! page that the documents carry; `--write` puts it into tests/LESSONS.md.
//!
//! `--members N` and `--seed S` change the run; `--constant NAME=VALUE` sets a constant of the model
//! in all of it, to see whether the words follow (such a page is not written).

#[path = "lessons/page.rs"]
mod page;
#[path = "lessons/played.rs"]
mod played;
#[path = "lessons/texts.rs"]
mod texts;
#[path = "lessons/trials.rs"]
mod trials;
#[path = "lessons/words.rs"]
mod words;

use std::error::Error;
use std::path::Path;

const USAGE: &str = "lessons [--write] [--members N] [--seed S] [--constant NAME=VALUE]...";

/// What was asked for.
struct Asked {
    write: bool,
    members: u32,
    seed: u64,
    constants: Vec<(String, f64)>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let asked = asked(std::env::args().skip(1))?;
    let ground = played::Ground::new(asked.members, asked.seed, asked.constants)?;
    let barrier = trials::barrier(&ground)?;
    let mowing = trials::mowing(&ground)?;
    let page = page::page(&ground, &barrier, &mowing)?;
    print!("{page}");
    if asked.write {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        std::fs::write(root.join("tests/LESSONS.md"), page)?;
    }
    Ok(())
}

fn asked(mut words: impl Iterator<Item = String>) -> Result<Asked, Box<dyn Error>> {
    let mut asked = Asked { write: false, members: 300, seed: 1, constants: vec![] };
    while let Some(word) = words.next() {
        let mut next = || words.next().ok_or(USAGE);
        match word.as_str() {
            "--write" => asked.write = true,
            "--members" => asked.members = next()?.parse()?,
            "--seed" => asked.seed = next()?.parse()?,
            "--constant" => {
                let set = next()?;
                let (name, value) = set.split_once('=').ok_or(USAGE)?;
                asked.constants.push((name.to_owned(), value.parse()?));
            }
            _ => return Err(USAGE.into()),
        }
    }
    if asked.write && !asked.constants.is_empty() {
        return Err("a page with constants set by hand is not written".into());
    }
    Ok(asked)
}
