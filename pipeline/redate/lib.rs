//! The next year's product: a planner's manifest for other months, and all that nobody but the designer can decide.
//!
//! The manifest is edited where its text says the old months and nowhere else, so that comments, order and quotes stay as
//! they are; `toml_edit` says where. Whatever else may name the old year is listed, never changed and never dropped.
//! Going there and back gives the first manifest again, byte for byte, as long as no text of it names a year of both
//! planners and the version ends in `.0.0`.

mod edits;
mod eye;
mod outlook;
mod told;
mod years;

pub use eye::is_read;
pub use told::{Edit, Eye, Redated};

use base::model::Fault;
use calendar::{Month, Span};
use std::collections::BTreeMap;
use std::str::FromStr;
use told::{MANIFEST, Move, place};
use toml_edit::{Document, Item};

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
    let (mut eye, clashes) = eye::events(&manifest_after, &plan, files);
    eye.extend(eye::texts(&manifest_after, &plan, files));
    eye.extend(eye::manifest(&manifest_after, &plan));
    eye.sort_by(|a, b| a.file.cmp(&b.file).then(a.line.cmp(&b.line)).then_with(|| a.what.cmp(&b.what)));
    eye.dedup();
    let mut calendar = outlook::outlook(&plan, calendar);
    calendar.extend(clashes);
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

#[cfg(test)]
mod tests;
