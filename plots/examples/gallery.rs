//! Draws every picture from invented data into the folder named: `cargo run --example gallery DIR`.

mod invented;

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    let folder =
        std::env::args_os().nth(1).map(PathBuf::from).ok_or("name a folder to draw into")?;
    std::fs::create_dir_all(&folder)?;
    let pictures = [
        ("overview", plots::overview(&invented::overview())?),
        ("contrast", plots::contrast(&invented::contrast())?),
        ("barrier", plots::barrier(&invented::barrier())?),
        ("dots", plots::dots(&invented::dots())?),
        ("scorecard", plots::scorecard(&invented::scorecard())?),
    ];
    for (name, picture) in pictures {
        std::fs::write(folder.join(name).with_extension("svg"), &picture.svg)?;
        std::fs::write(folder.join(name).with_extension("png"), picture.png(1.0)?)?;
        std::fs::write(folder.join(format!("{name}-phone.png")), picture.png(0.5)?)?;
    }
    Ok(())
}
