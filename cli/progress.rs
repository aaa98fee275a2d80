//! The progress bar: on stderr, on a terminal, and only for runs that one would wait for.

use std::io::IsTerminal;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use sim::ensemble::{Continue, Observer};

use crate::failure::Failure;
use crate::interrupt;

/// A run shorter than this shows no bar.
const PATIENCE: Duration = Duration::from_secs(1);

/// A bar that stays hidden until the run has taken about a second.
struct Progress {
    bar: ProgressBar,
    started: Instant,
    shown: AtomicBool,
    wanted: bool,
}

impl Progress {
    /// A hidden bar for `members` members.
    fn new(members: u32) -> Progress {
        let hidden = ProgressDrawTarget::hidden();
        let bar = ProgressBar::with_draw_target(Some(u64::from(members)), hidden);
        let style = "playing {bar:24} {human_pos} of {human_len} futures, {eta} left";
        if let Ok(style) = ProgressStyle::with_template(style) {
            bar.set_style(style);
        }
        let wanted = std::io::stderr().is_terminal();
        Progress { bar, started: Instant::now(), shown: AtomicBool::new(false), wanted }
    }

    /// `done` members are finished. Callable from any thread.
    fn at(&self, done: u32) {
        if !self.wanted || self.started.elapsed() < PATIENCE {
            return;
        }
        if !self.shown.swap(true, Ordering::Relaxed) {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        self.bar.set_position(u64::from(done));
    }

    /// Takes the bar away.
    fn finish(&self) {
        self.bar.finish_and_clear();
    }
}

/// Plays `members` members with a bar on the terminal, and stops them where Ctrl-C asks for it.
///
/// # Errors
/// Those of `play`; [`Failure::Stopped`] after Ctrl-C, whatever had been played.
pub fn watched<T>(
    members: u32,
    play: impl FnOnce(Observer) -> Result<T, Failure>,
) -> Result<T, Failure> {
    let progress = Progress::new(members);
    let observer = |done: u32| {
        progress.at(done);
        if interrupt::asked() { Continue::No } else { Continue::Yes }
    };
    let played = play(&observer);
    progress.finish();
    interrupt::check()?;
    played
}
