//! Lists of holidays and events: CSV, and calendars as RFC 5545 has them (`.ics`). Bytes and a file's name in, events
//! and faults out. Every fault of a file is reported; whatever else is in the file can be used all the same.

mod csv;
mod ics;
mod zone;

pub use csv::read_csv;
pub use ics::{Appointment, Between, Limits, Stretch, read_ics};
pub use zone::Zone;

use crate::{Event, EventSource};

/// What was read from a list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Read {
    /// The events that could be read.
    pub events: Vec<Event>,
    /// What could not be read.
    pub faults: Vec<Fault>,
}

/// Something in a list that could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{written_at}: {what}; {help}")]
pub struct Fault {
    /// File, line and column.
    pub written_at: EventSource,
    /// What is wrong.
    pub what: String,
    /// How to mend it.
    pub help: String,
}

/// The largest list, in bytes. A list of a lifetime has a few hundred kilobytes.
const LARGEST: usize = 32 << 20;

/// The text of a file, without the mark at its start that some programs write.
fn text<'a>(bytes: &'a [u8], file: &str) -> Result<&'a str, Fault> {
    let fault = |line, column, what: String, help: &str| Fault {
        written_at: EventSource { file: file.to_owned(), line, column },
        what,
        help: help.to_owned(),
    };
    if bytes.len() > LARGEST {
        let what = format!("a list of {} MB is too large", bytes.len() >> 20);
        return Err(fault(1, 1, what, "split it, or leave out what lies before the planner; at most 32 MB are read"));
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.strip_prefix('\u{feff}').unwrap_or(text)),
        Err(error) => {
            let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            let line = before.matches('\n').count() + 1;
            let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
            Err(fault(line, column, "a character that is not UTF-8".into(), "save the file as UTF-8"))
        }
    }
}

/// At most so many characters of a text, for messages.
fn short(text: &str) -> String {
    match text.char_indices().nth(60) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}
