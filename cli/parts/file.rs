//! A part's file: a line that says what it is, a line of JSON that says of which run, the part itself in
//! postcard's format (<https://postcard.jamesmunns.com/wire-format>), and a SHA-256 of all that.

use std::fs::File;
use std::io::{self, BufWriter, Read, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use sim::ensemble::Part;

use super::{Which, holds, refused};
use crate::again::Recorded;
use crate::failure::Failure;
use crate::outfile;
use crate::terminal::harmless;

/// How the names of part files end.
pub const ENDING: &str = ".part";

/// First line of a part's file. Another layout takes another number.
pub const FIRST_LINE: &str = "swardplay part, layout 1\n";

/// Longest head that is read, bytes.
const HEAD_MAX: usize = 1 << 20;

/// Largest file that is read, bytes: a little more than all rows that a run keeps.
const FILE_MAX: u64 = 5 << 30;

/// Bytes of a SHA-256.
const CHECK: usize = 32;

/// What a part is a part of.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Head {
    /// Which part, from 1.
    pub part: u32,
    /// Of how many.
    pub of: u32,
    /// Of which run.
    pub run: Recorded,
}

/// A part's file, whole and undamaged; what is in it is not looked at yet.
#[derive(Clone, Debug)]
pub struct Taken {
    /// What it is a part of.
    pub head: Head,
    bytes: Vec<u8>,
    /// Where the part begins and ends.
    body: std::ops::Range<usize>,
}

/// Writes a part aside and moves it into place.
///
/// # Errors
/// [`Failure::Machine`] where it cannot be written.
pub fn write(path: &Path, head: &Head, part: &Part) -> Result<(), Failure> {
    outfile::fill(path, true, |file| {
        let mut out =
            Checked { inner: BufWriter::with_capacity(1 << 16, file), sum: Sha256::new() };
        out.write_all(FIRST_LINE.as_bytes())?;
        serde_json::to_writer(&mut out, head)?;
        out.write_all(b"\n")?;
        let mut failed = None;
        let sink = Sink { out: &mut out, failed: &mut failed };
        postcard::serialize_with_flavor(part, sink)
            .map_err(|error| failed.unwrap_or_else(|| io::Error::other(error.to_string())))?;
        let Checked { mut inner, sum } = out;
        inner.write_all(&sum.finalize())?;
        inner.flush()
    })
}

/// Reads a part's file and sees that it is whole.
///
/// # Errors
/// [`Failure::Input`] where there is none, or it is damaged.
pub fn read(path: &Path) -> Result<Taken, Failure> {
    let bad = |why: &str| refused(path, why);
    let open = |error: io::Error| bad(&error.to_string());
    let file = File::open(path).map_err(open)?;
    if !file.metadata().map_err(open)?.is_file() {
        return Err(bad("it is not a file; expected one that `swardplay play --part` wrote"));
    }
    let mut bytes = Vec::new();
    let mut file = file.take(FILE_MAX);
    file.by_ref().take(FIRST_LINE.len() as u64).read_to_end(&mut bytes).map_err(open)?;
    if bytes != FIRST_LINE.as_bytes() {
        return Err(bad(
            "it is not a part file of this version; expected one that `swardplay play \
                        --part` wrote",
        ));
    }
    file.read_to_end(&mut bytes).map_err(open)?;
    whole(bytes, path)
}

/// Sees that the bytes of a part's file, first line and all, are whole; `path` is where they were read.
///
/// # Errors
/// [`Failure::Input`] where they are damaged.
pub fn whole(bytes: Vec<u8>, path: &Path) -> Result<Taken, Failure> {
    let bad = |why: &str| refused(path, why);
    let damaged = "it is damaged or not whole; play that part again, or copy its file again";
    let end = bytes.len().checked_sub(CHECK).ok_or_else(|| bad(damaged))?;
    if Sha256::digest(&bytes[..end])[..] != bytes[end..] {
        return Err(bad(damaged));
    }
    let start = FIRST_LINE.len().min(end);
    let line = bytes[start..end.min(start + HEAD_MAX)].iter().position(|b| *b == b'\n');
    let line = start + line.ok_or_else(|| bad(damaged))?;
    let head: Head = serde_json::from_slice(&bytes[start..line])
        .map_err(|error| bad(&format!("its head: {}", harmless(&error.to_string()))))?;
    Ok(Taken { head, bytes, body: line + 1..end })
}

impl Taken {
    /// The part itself; `path` is where it was read.
    ///
    /// # Errors
    /// [`Failure::Input`] where it does not hold what its head says.
    pub fn part(&self, path: &Path) -> Result<Part, Failure> {
        let Head { part: number, of, ref run } = self.head;
        let other = || refused(path, "it does not hold the futures that it says; play it again");
        let part: Part =
            postcard::from_bytes(&self.bytes[self.body.clone()]).map_err(|_| other())?;
        if holds(&part, Which { number, of }, run.members()) { Ok(part) } else { Err(other()) }
    }
}

/// A writer that keeps the sum of what went through it.
struct Checked<W> {
    inner: W,
    sum: Sha256,
}

impl<W: Write> Write for Checked<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let count = self.inner.write(bytes)?;
        self.sum.update(&bytes[..count]);
        Ok(count)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}

/// Where postcard's bytes go. It has an error of its own, so that of the disk is kept beside.
struct Sink<'a, W> {
    out: &'a mut W,
    failed: &'a mut Option<io::Error>,
}

impl<W: Write> postcard::ser_flavors::Flavor for Sink<'_, W> {
    type Output = ();

    fn try_push(&mut self, byte: u8) -> postcard::Result<()> {
        self.try_extend(&[byte])
    }

    fn try_extend(&mut self, bytes: &[u8]) -> postcard::Result<()> {
        self.out.write_all(bytes).map_err(|error| {
            *self.failed = Some(error);
            postcard::Error::SerializeBufferFull
        })
    }

    fn finalize(self) -> postcard::Result<()> {
        Ok(())
    }
}
