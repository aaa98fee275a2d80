//! timing.json: the only file that differs between two runs of the same inputs.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::time::Instant;

use serde::Serialize;

/// Wall seconds by stage.
#[derive(Clone, Debug, Serialize)]
pub struct Timing {
    /// Stage and seconds, to the millisecond.
    pub wall_seconds: BTreeMap<&'static str, f64>,
    /// Days of lawn simulated: programs x members x days.
    pub lawn_days: u64,
    /// Of the stage "play" alone.
    pub lawn_days_per_second: u64,
}

/// Measures stages one after another.
#[derive(Debug)]
pub struct Stopwatch {
    since: Instant,
    stages: BTreeMap<&'static str, f64>,
}

impl Stopwatch {
    /// Starts the first stage.
    pub fn start() -> Stopwatch {
        Stopwatch { since: Instant::now(), stages: BTreeMap::new() }
    }

    /// Ends a stage, named now, and starts the next.
    pub fn lap(&mut self, stage: &'static str) {
        let now = Instant::now();
        let seconds = ((now - self.since).as_secs_f64() * 1000.0).round() / 1000.0;
        self.stages.insert(stage, seconds);
        self.since = now;
    }

    /// The record, for so many lawn-days.
    pub fn finish(self, lawn_days: u64) -> Timing {
        let play = self.stages.get("play").copied().unwrap_or(0.0);
        // A run shorter than the clock's step is counted as that step.
        let rate = (lawn_days as f64 / play.max(0.001)).round() as u64;
        Timing { wall_seconds: self.stages, lawn_days, lawn_days_per_second: rate }
    }
}

/// Writes the record as JSON.
///
/// # Errors
/// Where it cannot be written.
pub fn write(timing: &Timing, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, timing)?;
    out.write_all(b"\n")
}
