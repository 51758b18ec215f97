//! How a command ends: the exit codes, and what it says on the way.

use base::files::slashed;
use base::model::Fault;
use std::io::{IsTerminal, Write};
use std::path::Path;

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

/// Whether what is written on standard error may have colours.
pub(super) fn colour() -> bool {
    std::env::var_os("NO_COLOR").is_none_or(|v| v.is_empty())
        && std::env::var_os("TERM").is_none_or(|t| t != "dumb")
        && std::io::stderr().is_terminal()
}

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

/// A path as it is typed in a shell: in quotes, where a blank or a sign in it means something there.
pub(super) fn typed(path: &Path) -> String {
    let text = slashed(path);
    let plain = |c: char| c.is_alphanumeric() || "-_./:,+@%".contains(c);
    if !text.is_empty() && text.chars().all(plain) {
        return text;
    }
    // The shells of Windows know double quotes alone, and no path has one there.
    if cfg!(windows) { format!("\"{text}\"") } else { format!("'{}'", text.replace('\'', "'\\''")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn paths_are_typed_as_a_shell_reads_them() {
        let typed = |path: &str| typed(Path::new(path));
        assert_eq!(typed("products/tide-log"), "products/tide-log");
        assert_eq!(typed("My Tide Log"), "'My Tide Log'");
        assert_eq!(typed("Ann's log"), "'Ann'\\''s log'");
        assert_eq!(typed("a$b"), "'a$b'");
    }
}
