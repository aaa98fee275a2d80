//! The folder of results: written aside first, then moved into place file by file, so that a full
//! disk, a fault or Ctrl-C never leaves a half-written file or a mix of two runs.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use crate::failure::Failure;
use crate::interrupt;

/// The file that names all others of its run. It is moved last: where it stands, the set is whole.
pub const INDEX: &str = "run.json";

/// Beginning of the name of a folder aside.
const ASIDE: &str = ".unfinished-";

/// A file in the folder aside that is locked for as long as its run lives.
const LOCK: &str = ".lock";

/// A folder of results in the making. Dropped without [`OutDir::commit`], it leaves no trace.
#[derive(Debug)]
pub struct OutDir {
    target: PathBuf,
    // Inside the target, so that the moves stay within one disk.
    aside: Option<TempDir>,
    // Tells later runs that the folder aside is in use.
    lock: Option<File>,
    // Folders that this run made, innermost first.
    made: Vec<PathBuf>,
    names: BTreeSet<String>,
    committed: bool,
}

impl OutDir {
    /// Makes sure, before any work is done, that results can be written to `target`.
    ///
    /// # Errors
    /// [`Failure::Input`] where a file stands in the way, [`Failure::Machine`] without permission
    /// or room.
    pub fn open(target: &Path) -> Result<OutDir, Failure> {
        let mut made = Vec::new();
        let mut missing: Option<&Path> = Some(target);
        while let Some(folder) = missing.filter(|f| !f.as_os_str().is_empty()) {
            match fs::metadata(folder) {
                Ok(found) if found.is_dir() => break,
                Ok(_) => return Err(in_the_way(folder)),
                Err(error) if error.kind() == ErrorKind::NotADirectory => {}
                Err(error) if error.kind() == ErrorKind::NotFound => made.push(folder.into()),
                Err(error) => return Err(Failure::write(target, &error)),
            }
            missing = folder.parent();
        }
        let mut out = OutDir {
            target: target.to_path_buf(),
            aside: None,
            lock: None,
            made,
            names: BTreeSet::new(),
            committed: false,
        };
        // From here on, dropping `out` takes back whatever was made.
        fs::create_dir_all(target).map_err(|e| Failure::write(target, &e))?;
        sweep(target);
        let aside = tempfile::Builder::new().prefix(ASIDE).tempdir_in(target);
        let aside = out.aside.insert(aside.map_err(|e| Failure::write(target, &e))?);
        // Where locks are not known, nothing is swept either.
        out.lock =
            File::create(aside.path().join(LOCK)).ok().filter(|lock| lock.try_lock().is_ok());
        Ok(out)
    }

    /// Names of the files written so far, sorted.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.names.iter().map(String::as_str)
    }

    /// Names of the files written so far and of the index that comes last, sorted.
    pub fn listing(&self) -> Vec<String> {
        let mut names: Vec<String> = self.names().map(str::to_string).collect();
        names.push(INDEX.to_string());
        names.sort();
        names
    }

    /// Writes one file aside.
    ///
    /// # Errors
    /// [`Failure::Machine`] where it cannot be written, [`Failure::Stopped`] after Ctrl-C.
    pub fn write(
        &mut self,
        name: &str,
        fill: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), Failure> {
        interrupt::check()?;
        let fail = |e: io::Error| Failure::write(&self.target, &e);
        let Some(aside) = &self.aside else {
            return Err(fail(io::Error::from(ErrorKind::NotFound)));
        };
        let file = File::create(aside.path().join(name)).map_err(fail)?;
        let mut stoppable = Stoppable { inner: BufWriter::with_capacity(1 << 16, file) };
        match fill(&mut stoppable).and_then(|()| stoppable.flush()) {
            Ok(()) => {}
            Err(_) if interrupt::asked() => return Err(Failure::Stopped),
            Err(error) => return Err(fail(error)),
        }
        self.names.insert(name.to_string());
        Ok(())
    }

    /// Moves all files into place; files of an earlier run that this one did not make are taken
    /// away. Gives back the folder.
    ///
    /// # Errors
    /// [`Failure::Machine`] where a file cannot be moved.
    pub fn commit(mut self) -> Result<PathBuf, Failure> {
        interrupt::check()?;
        let fail = |e: io::Error| Failure::write(&self.target, &e);
        let Some(aside) = self.aside.take() else {
            return Err(fail(io::Error::from(ErrorKind::NotFound)));
        };
        self.check_places()?;
        let earlier = earlier_names(&self.target);
        // Without its index an interrupted move cannot pass for a whole set.
        remove(&self.target.join(INDEX)).map_err(fail)?;
        for name in earlier.difference(&self.names) {
            remove(&self.target.join(name)).map_err(fail)?;
        }
        let last = self.names.iter().filter(|n| *n == INDEX);
        for name in self.names.iter().filter(|n| *n != INDEX).chain(last) {
            fs::rename(aside.path().join(name), self.target.join(name)).map_err(fail)?;
        }
        self.committed = true;
        self.lock = None;
        Ok(self.target.clone())
    }

    fn check_places(&self) -> Result<(), Failure> {
        let blocked = self.names.iter().map(|n| self.target.join(n)).find(|p| p.is_dir());
        match blocked {
            Some(path) => Err(Failure::Input(format!(
                "a folder `{}` stands where a results file should go; move it, or choose another \
                 folder with --out",
                path.display()
            ))),
            None => Ok(()),
        }
    }
}

impl Drop for OutDir {
    fn drop(&mut self) {
        if self.committed {
            return;
        }
        self.lock = None;
        self.aside = None;
        // Only empty folders go: if someone else has put a file there, it stays.
        for folder in &self.made {
            let _ = fs::remove_dir(folder);
        }
    }
}

/// Takes away what a run that was killed has left aside: its lock went with it.
fn sweep(target: &Path) {
    for entry in fs::read_dir(target).into_iter().flatten().flatten() {
        let left = entry.file_name().to_str().is_some_and(|name| name.starts_with(ASIDE));
        let lock = || File::open(entry.path().join(LOCK)).ok().filter(|f| f.try_lock().is_ok());
        if left && lock().is_some() {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

fn in_the_way(path: &Path) -> Failure {
    Failure::Input(format!(
        "`{}` is a file; a folder for the results was expected. Choose another with --out",
        path.display()
    ))
}

fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

/// What the index of an earlier run lists. Only plain names count, whatever the file says: an
/// index must not be able to name files elsewhere.
fn earlier_names(target: &Path) -> BTreeSet<String> {
    let read = || -> Option<BTreeSet<String>> {
        let text = fs::read_to_string(target.join(INDEX)).ok()?;
        let index: serde_json::Value = serde_json::from_str(&text).ok()?;
        index.get("swardplay")?;
        let names = index.get("files")?.as_array()?.iter().filter_map(|v| v.as_str());
        Some(names.filter(|n| plain(n)).map(str::to_string).collect())
    };
    read().unwrap_or_default()
}

fn plain(name: &str) -> bool {
    let known = [".csv", ".json", ".svg", ".png", ".html"];
    known.iter().any(|end| name.ends_with(end))
        && !name.starts_with('.')
        && name.chars().all(|c| c.is_ascii_alphanumeric() || "-_.".contains(c))
}

/// A writer that fails after Ctrl-C, so that long tables stop too.
struct Stoppable<W> {
    inner: W,
}

impl<W: Write> Write for Stoppable<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if interrupt::asked() {
            return Err(io::Error::from(ErrorKind::Other));
        }
        self.inner.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}
