//! Ctrl-C: the run is asked to stop, and whatever was written aside is thrown away.

use std::sync::atomic::{AtomicBool, Ordering};

use crate::failure::Failure;

// A signal handler can only reach a static.
static ASKED: AtomicBool = AtomicBool::new(false);

/// From here on Ctrl-C asks the run to stop instead of killing it. Called once, after the input
/// was read: reading may wait for a person, and there Ctrl-C should simply end the program.
pub fn listen() {
    // Without a handler Ctrl-C still ends the program; only the tidying up is lost.
    let _ = ctrlc::set_handler(|| ASKED.store(true, Ordering::Relaxed));
}

/// Whether Ctrl-C was pressed.
pub fn asked() -> bool {
    ASKED.load(Ordering::Relaxed)
}

/// Ends a stretch of work early where Ctrl-C was pressed.
///
/// # Errors
/// [`Failure::Stopped`].
pub fn check() -> Result<(), Failure> {
    if asked() { Err(Failure::Stopped) } else { Ok(()) }
}
