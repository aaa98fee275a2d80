//! Why a command did not finish, and the exit code that says so.

use std::io;
use std::path::Path;

/// Why a command did not finish.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Failure {
    /// The input is at fault; the message says how to mend it.
    #[error("{0}")]
    Input(String),
    /// Faults of a scenario, already rendered with their lines.
    #[error("{0}")]
    Faults(String),
    /// The machine, not the input: a full disk, a folder without permission.
    #[error("{0}")]
    Machine(String),
    /// Stopped by Ctrl-C.
    #[error("stopped; nothing was written")]
    Stopped,
    /// Stopped by Ctrl-C with part of the work kept; the message says where.
    #[error("{0}")]
    StoppedMidway(String),
    /// Whoever read stdout has had enough.
    #[error("the reader of the output has gone")]
    ClosedPipe,
}

impl Failure {
    /// 2 for input, 130 for Ctrl-C (128 + SIGINT, as shells do), 0 for a closed pipe, else 1.
    pub fn exit_code(&self) -> u8 {
        match self {
            Failure::Input(_) | Failure::Faults(_) => 2,
            Failure::Machine(_) => 1,
            Failure::Stopped | Failure::StoppedMidway(_) => 130,
            Failure::ClosedPipe => 0,
        }
    }

    /// A failed write to stdout.
    pub fn stdout(error: &io::Error) -> Failure {
        if error.kind() == io::ErrorKind::BrokenPipe {
            Failure::ClosedPipe
        } else {
            Failure::Machine(format!("cannot write to standard output: {error}"))
        }
    }

    /// A failed write of `target`, a file or folder named by the user.
    pub fn write(target: &Path, error: &io::Error) -> Failure {
        let name = target.display();
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Failure::Machine(format!(
                "the disk is full: there is no room for `{name}`. Nothing was changed there. Free \
                 some space, or choose a place on another disk"
            )),
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                Failure::Machine(format!("no permission to write `{name}`. Choose another place"))
            }
            _ => Failure::Machine(format!("cannot write `{name}`: {error}")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_disk_is_told_as_one_and_is_not_the_inputs_fault() {
        let full = io::Error::from(io::ErrorKind::StorageFull);
        let failure = Failure::write(Path::new("out"), &full);
        assert_eq!(failure.exit_code(), 1);
        assert!(failure.to_string().contains("the disk is full"), "{failure}");
    }

    #[test]
    fn a_closed_pipe_is_a_good_end() {
        let gone = io::Error::from(io::ErrorKind::BrokenPipe);
        assert_eq!(Failure::stdout(&gone).exit_code(), 0);
    }
}
