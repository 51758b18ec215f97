//! The next year's product: a planner's manifest for other months, and all that nobody but the designer can decide.
//!
//! The manifest is edited where its text says the old months and nowhere else, so that comments, order and quotes stay as
//! they are; `toml_edit` says where. Whatever else may name the old year is listed, never changed and never dropped.
//! Going there and back gives the first manifest again, byte for byte, as long as no text of it names a year of both
//! planners and the version ends in `.0.0`.

mod edits;
mod eye;
mod outlook;
mod years;

pub use eye::is_read;

use base::model::{Fault, SourceSpan};
use calendar::{Month, Span};
use serde::Serialize;
use std::collections::BTreeMap;
use std::str::FromStr;
use toml_edit::{Document, Item};

/// The manifest's name, for messages.
const MANIFEST: &str = "product.toml";

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
struct Move {
    from: Span,
    to: Span,
}

impl Move {
    /// By how many years the numbers of years move.
    fn years(&self) -> i32 {
        i32::from(self.to.first().year()) - i32::from(self.from.first().year())
    }

    /// Whether a year is one of those before.
    fn is_old(&self, year: i32) -> bool {
        i16::try_from(year).is_ok_and(|year| self.from.calendar_years().contains(&year))
    }

    /// Whether a year is one of those after.
    fn is_new(&self, year: i32) -> bool {
        i16::try_from(year).is_ok_and(|year| self.to.calendar_years().contains(&year))
    }
}

/// Plans the product for the months from `to` (`2028-01`) on. `files` are the product's files by their paths; only texts
/// and lists need their bytes.
///
/// # Errors
/// When the manifest cannot be read or has no months, or when `to` is no month or the one that it has.
pub fn redate(manifest: &str, to: &str, files: &BTreeMap<String, Vec<u8>>) -> Result<Redated, Vec<Fault>> {
    let document = Document::parse(manifest).map_err(|error| {
        let fault = Fault::new(error.message().to_owned()).in_file(MANIFEST);
        vec![match error.span() {
            Some(span) => fault.at(place(manifest, span.start, span.len())),
            None => fault,
        }]
    })?;
    let to = Month::from_str(to).map_err(|unread| {
        vec![Fault::new(format!("--from: {}", unread.what)).help("write year and month, as in --from 2028-01")]
    })?;
    let Some(calendar) = document.get("calendar").filter(|item| item.is_table_like()) else {
        let help = "only a planner can be redated; a notebook without dates stays as it is from year to year";
        return Err(vec![Fault::new("the product has no [calendar]").in_file(MANIFEST).help(help)]);
    };
    let (from, first) = first(manifest, calendar)?;
    let months = calendar.get("months").and_then(Item::as_integer).unwrap_or(12);
    let span = |first| {
        Span::new(first, months).map_err(|unread| {
            let at = calendar.get("months").and_then(Item::span).unwrap_or_default();
            vec![Fault::new(unread.what).in_file(MANIFEST).at(place(manifest, at.start, at.len())).help(unread.help)]
        })
    };
    let plan = Move { from: span(from)?, to: span(to)? };
    if from == to {
        let at = place(manifest, first.start, first.len());
        let fault = Fault::new(format!("the planner begins with {to} already"));
        return Err(vec![fault.in_file(MANIFEST).at(at).help("name another month with --from")]);
    }
    let (manifest_after, edits) = edits::edit(manifest, &document, &first, &plan);
    let mut eye = eye::events(&manifest_after, &plan, files);
    eye.extend(eye::texts(&manifest_after, &plan, files));
    eye.extend(eye::manifest(&manifest_after, &plan));
    eye.sort_by(|a, b| a.file.cmp(&b.file).then(a.line.cmp(&b.line)).then_with(|| a.what.cmp(&b.what)));
    eye.dedup();
    let calendar = outlook::outlook(&plan, calendar);
    Ok(Redated { from: from.to_string(), to: to.to_string(), manifest: manifest_after, edits, eye, calendar })
}

/// The first month and where it is written.
fn first(manifest: &str, calendar: &Item) -> Result<(Month, std::ops::Range<usize>), Vec<Fault>> {
    let help = "write the first month as first = \"2027-01\"";
    let Some(item) = calendar.get("first") else {
        return Err(vec![Fault::new("[calendar] has no `first`").in_file(MANIFEST).help(help)]);
    };
    let at = item.span().unwrap_or_default();
    let fault =
        |what: String| vec![Fault::new(what).in_file(MANIFEST).at(place(manifest, at.start, at.len())).help(help)];
    let text = item.as_str().ok_or_else(|| fault("`first` is no text".to_owned()))?;
    // A month that is written with escapes could not be changed where it stands.
    if manifest.get(at.clone()).is_none_or(|written| !written.contains(text)) {
        return Err(fault("`first` is not written plainly".to_owned()));
    }
    Month::from_str(text).map(|month| (month, at.clone())).map_err(|unread| fault(unread.what))
}

/// A place in the manifest, for messages.
fn place(text: &str, at: usize, length: usize) -> SourceSpan {
    let before = text.get(..at).unwrap_or(text);
    let begin = before.rfind('\n').map_or(0, |i| i + 1);
    let line = text.get(begin..).unwrap_or_default().lines().next().unwrap_or_default();
    let column = before[begin..].chars().count() + 1;
    SourceSpan::short(line_of(text, at), column, line, length.clamp(1, 60))
}

/// The line, from 1, on which a byte stands.
fn line_of(text: &str, at: usize) -> usize {
    text.get(..at).unwrap_or(text).matches('\n').count() + 1
}

#[cfg(test)]
mod tests;
