//! How a command ends: the exit codes, and what it says on the way.

use base::model::Fault;
use std::io::Write;

/// Everything is well.
pub const CLEAN: u8 = 0;
/// Errors were found.
pub const ERRORS: u8 = 1;
/// The command could not be run.
pub const FAILED: u8 = 2;

/// Writes to standard output; a reader that has gone away is no fault of ours.
pub(super) fn print(text: &str) {
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}

/// Writes to standard error; where it leads to a full disk, the words are lost and the command goes on.
pub(super) fn print_aside(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// Says a line on standard error, as `eprintln!` does, which would panic where nobody takes it.
macro_rules! say {
    ($($words:tt)*) => { $crate::cli::outcome::print_aside(&(format!($($words)*) + "\n")) };
}
pub(super) use say;

/// Says what is wrong, for people.
pub(super) fn complain(faults: &[Fault]) -> u8 {
    for fault in faults {
        say!("error: {fault}");
    }
    if faults.len() > 1 {
        say!("{} things to mend.", faults.len());
    }
    FAILED
}
