//! What is told of a product that moves to other months.

use base::model::SourceSpan;
use calendar::Span;
use serde::Serialize;

/// The manifest's name, for messages.
pub const MANIFEST: &str = "product.toml";

/// A change of the manifest.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Edit {
    /// Line of the old manifest, from 1.
    pub line: usize,
    /// The key, as `calendar.first`.
    pub key: String,
    /// What stood there.
    pub before: String,
    /// What stands there now; nothing, where it was taken out.
    pub after: Option<String>,
}

/// Something that nobody but the designer can decide.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Eye {
    /// The file, below the product's folder.
    pub file: String,
    /// Its line, from 1; nothing where it is the file's name.
    pub line: Option<usize>,
    /// What is so.
    pub what: String,
    /// What to do about it.
    pub help: String,
}

/// A product for other months.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Redated {
    /// The first month that it had.
    pub from: String,
    /// The first month that it has now.
    pub to: String,
    /// The manifest.
    #[serde(skip)]
    pub manifest: String,
    /// What was changed in it.
    pub edits: Vec<Edit>,
    /// What needs the designer's eye.
    pub eye: Vec<Eye>,
    /// What the calendar does: days, weeks, rows of months.
    pub calendar: Vec<String>,
}

/// The months of a planner before and after.
pub struct Move {
    /// Those before.
    pub from: Span,
    /// Those after.
    pub to: Span,
}

impl Move {
    /// By how many years the numbers of years move.
    pub fn years(&self) -> i32 {
        i32::from(self.to.first().year()) - i32::from(self.from.first().year())
    }

    /// Whether a year is one of those before.
    pub fn is_old(&self, year: i32) -> bool {
        i16::try_from(year).is_ok_and(|year| self.from.calendar_years().contains(&year))
    }

    /// Whether a year is one of those after.
    pub fn is_new(&self, year: i32) -> bool {
        i16::try_from(year).is_ok_and(|year| self.to.calendar_years().contains(&year))
    }
}

/// A place in the manifest, for messages.
pub fn place(text: &str, at: usize, length: usize) -> SourceSpan {
    let before = text.get(..at).unwrap_or(text);
    let begin = before.rfind('\n').map_or(0, |i| i + 1);
    let line = text.get(begin..).unwrap_or_default().lines().next().unwrap_or_default();
    let column = before[begin..].chars().count() + 1;
    SourceSpan::short(line_of(text, at), column, line, length.clamp(1, 60))
}

/// The line, from 1, on which a byte stands.
pub fn line_of(text: &str, at: usize) -> usize {
    text.get(..at).unwrap_or(text).matches('\n').count() + 1
}
