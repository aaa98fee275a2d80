//! One file that a person names: whole, or not there at all.

use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use crate::failure::Failure;

/// Makes sure, before any question is asked, that a file may be written.
///
/// # Errors
/// [`Failure::Input`] where it is there already and may not be replaced, where a folder has its
/// name, or where its folder is not there; [`Failure::Machine`] without permission or room.
pub fn may_write(path: &Path, replace: bool) -> Result<(), Failure> {
    let name = path.display();
    if path.is_dir() {
        return Err(Failure::Input(format!("`{name}` is a folder; name a file inside it")));
    }
    if path.file_name().is_none() {
        return Err(Failure::Input(format!("`{name}` is not the name of a file")));
    }
    let folder = folder(path);
    if !folder.is_dir() {
        return Err(Failure::Input(format!(
            "there is no folder `{}` to write `{name}` in",
            folder.display()
        )));
    }
    if fs::symlink_metadata(path).is_ok() && !replace {
        return Err(there(path));
    }
    aside(path).map(|_| ()).map_err(|error| Failure::write(path, &error))
}

/// Writes a file aside and moves it into place; stopped midway, it leaves nothing behind.
///
/// # Errors
/// [`Failure::Input`] where the file has come to be there meanwhile, [`Failure::Machine`] without
/// permission or room.
pub fn write(path: &Path, text: &str, replace: bool) -> Result<(), Failure> {
    fill(path, replace, |file| file.write_all(text.as_bytes()))
}

/// The same of a file that `fill` writes.
///
/// # Errors
/// As [`write()`].
pub fn fill(
    path: &Path,
    replace: bool,
    fill: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), Failure> {
    let fail = |error: &io::Error| match error.kind() {
        ErrorKind::AlreadyExists => there(path),
        _ => Failure::write(path, error),
    };
    let mut aside = aside(path).map_err(|error| fail(&error))?;
    fill(aside.as_file_mut()).map_err(|error| fail(&error))?;
    let moved = if replace { aside.persist(path) } else { aside.persist_noclobber(path) };
    moved.map(|_| ()).map_err(|error| fail(&error.error))
}

/// A file beside another, gone again unless it is moved into its place.
fn aside(path: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".unfinished-");
    // As any new file: the person's own mask decides who may read it.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder(path))
}

/// The folder of a file; the working folder where it names none.
pub fn folder(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    }
}

fn there(path: &Path) -> Failure {
    Failure::Input(format!(
        "`{}` is there already; name another file, or replace it with --force",
        path.display()
    ))
}
