//! The program as a person starts it.

use std::path::Path;
use std::process::{Command, Stdio};

use assert_cmd::cargo::cargo_bin;

/// Runs the program in `folder`: exit code, stdout, stderr.
pub fn swardplay(folder: &Path, args: &[&str]) -> (i32, String, String) {
    let run = Command::new(cargo_bin("swardplay"))
        .current_dir(folder)
        .args(args)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (run.status.code().unwrap(), text(&run.stdout), text(&run.stderr))
}
