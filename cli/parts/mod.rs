//! A run in parts: some futures here, some there, and the same bytes in the end.

pub mod file;

use std::fs;
use std::path::{Path, PathBuf};

use sim::ensemble::{Part, Results, stretch};

use crate::again::Recorded;
use crate::args::PlayOptions;
use crate::engine::{Players, Weather};
use crate::failure::Failure;
use crate::files::run::typed;
use crate::inputs::Inputs;
use crate::progress::watched;
use crate::{interrupt, outfile, terminal};
use file::Head;

/// Most parts of one run.
pub const PARTS_MAX: u32 = 1000;

/// One part of several.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Which {
    /// Which, from 1.
    pub number: u32,
    /// Of how many.
    pub of: u32,
}

/// Reads "3/10".
///
/// # Errors
/// What was expected.
pub fn read_which(text: &str) -> Result<Which, String> {
    let read = || -> Option<Which> {
        let (number, of) = text.split_once('/')?;
        let which = Which { number: number.trim().parse().ok()?, of: of.trim().parse().ok()? };
        let good = (1..=PARTS_MAX).contains(&which.of) && (1..=which.of).contains(&which.number);
        good.then_some(which)
    };
    read().ok_or_else(|| {
        format!("expected which part of how many, such as 3/10; at most {PARTS_MAX} parts")
    })
}

impl Which {
    /// Name of its file; names sort in the order of the parts.
    fn file(self) -> String {
        let digits = PARTS_MAX.to_string().len();
        format!("part-{:0digits$}-of-{:0digits$}{}", self.number, self.of, file::ENDING)
    }
}

/// Plays one part into its file in the folder of results, and gives back where it is.
///
/// # Errors
/// [`Failure`]; nothing is left half-written.
pub fn play_one(
    (inputs, weather): (&Inputs, &Weather),
    options: &PlayOptions,
    which: Which,
    run: &Recorded,
) -> Result<PathBuf, Failure> {
    enough("futures", options.members, which.of)?;
    let path = options.out.join(which.file());
    let players = Players::new(&inputs.checked.scenario, weather, options)?;
    play(&players, options, &[which], run)?;
    Ok(path)
}

/// Plays some parts into their files.
fn play(
    players: &Players,
    options: &PlayOptions,
    these: &[Which],
    run: &Recorded,
) -> Result<(), Failure> {
    fs::create_dir_all(&options.out).map_err(|error| Failure::write(&options.out, &error))?;
    let members = |which: &Which| stretch(options.members, which.number, which.of);
    let all: usize = these.iter().map(|which| members(which).len()).sum();
    watched(all as u32, |observer| {
        let mut next = these.iter();
        players.parts(these.iter().map(members), observer, |part| {
            let Some(Which { number, of }) = next.next().copied() else { return Ok(()) };
            let head = Head { part: number, of, run: run.clone() };
            file::write(&options.out.join(Which { number, of }.file()), &head, &part)
        })
    })
}

/// Puts the parts of a run, in order, together.
///
/// # Errors
/// [`Failure::Input`] where a part is not of this run.
pub fn together(
    players: &Players,
    paths: impl Iterator<Item = PathBuf>,
) -> Result<Results, Failure> {
    players.together(
        paths,
        |path| {
            interrupt::check()?;
            file::read(path)?.part(path)
        },
        |path, why| refused(path, why),
    )
}

/// What `play --part` says in the end.
pub fn told(which: Which, path: &Path) -> String {
    let folder = outfile::folder(path).display().to_string();
    format!(
        "Part {} of {} is in {}\nOnce all parts are played, bring their files together and type \
         `swardplay merge {}`\n",
        which.number,
        which.of,
        terminal::harmless(&path.display().to_string()),
        terminal::harmless(&typed(&folder))
    )
}

/// Plays all parts, one after the other, and puts them together. Those that an earlier try left in the
/// folder are taken as they are; the files stay there until [`clear`].
///
/// # Errors
/// [`Failure`]; what has been played is kept.
pub fn play_all(
    (inputs, weather): (&Inputs, &Weather),
    options: &PlayOptions,
    of: u32,
    run: &Recorded,
) -> Result<Results, Failure> {
    enough("futures", options.members, of)?;
    let players = Players::new(&inputs.checked.scenario, weather, options)?;
    let all: Vec<Which> = (1..=of).map(|number| Which { number, of }).collect();
    let open: Vec<Which> = all.iter().copied().filter(|w| !kept(options, *w, run)).collect();
    if !open.is_empty() {
        play(&players, options, &open, run).map_err(|failure| match failure {
            Failure::Stopped => stopped(&all, options, run),
            other => other,
        })?;
    }
    together(&players, all.iter().map(|which| options.out.join(which.file())))
}

/// Takes the part files of a finished run away.
pub fn clear(options: &PlayOptions, of: u32) {
    for number in 1..=of {
        // What cannot be taken away does no harm.
        let _ = fs::remove_file(options.out.join(Which { number, of }.file()));
    }
}

/// A part file that is of no use: "`a.part` cannot be used: why".
pub fn refused(path: &Path, why: &str) -> Failure {
    Failure::Input(format!(
        "`{}` cannot be used: {why}",
        terminal::harmless(&path.display().to_string())
    ))
}

/// Whether an earlier try of the same run left a part.
fn kept(options: &PlayOptions, which: Which, run: &Recorded) -> bool {
    let path = options.out.join(which.file());
    file::read(&path).is_ok_and(|taken| {
        (taken.head.part, taken.head.of) == (which.number, which.of)
            && taken.head.run.unlike(run).is_empty()
            && taken.part(&path).is_ok()
    })
}

fn stopped(all: &[Which], options: &PlayOptions, run: &Recorded) -> Failure {
    match all.iter().filter(|which| kept(options, **which, run)).count() {
        0 => Failure::Stopped,
        count => Failure::StoppedMidway(format!(
            "stopped; {count} of {} parts are kept in `{}`. Type the same again to go on",
            all.len(),
            options.out.display()
        )),
    }
}

/// Sees that there is something in every part.
///
/// # Errors
/// [`Failure::Input`] where there is not.
pub fn enough(what: &str, count: u32, of: u32) -> Result<(), Failure> {
    if of <= count {
        return Ok(());
    }
    Err(Failure::Input(format!(
        "{count} {what} cannot be split into {of} parts; expected no more parts than {what}"
    )))
}

/// Whether a part is what it is said to be.
pub fn holds(part: &Part, which: Which, members: u32) -> bool {
    which.of <= members && part.members() == stretch(members, which.number, which.of)
}
