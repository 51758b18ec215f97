//! `redate`: what was edited, what needs the designer's eye, what the calendar does.

use super::outcome::{CLEAN, complain, print, typed};
use crate::driver::{self, Redated};
use base::files::slashed;
use std::fmt::Write;
use std::path::Path;

/// Moves a product to other months, and tells of it.
pub fn redate(product: &Path, from: &str, into: Option<&Path>, json: bool) -> u8 {
    let redated = match driver::redate(product, from, into) {
        Ok(redated) => redated,
        Err(faults) => return complain(&faults),
    };
    if json {
        let mut value = serde_json::json!(redated);
        value["into"] = into.map(slashed).into();
        print(&format!("{value:#}\n"));
    } else {
        print(&people(&redated, into));
    }
    CLEAN
}

/// The report for people.
fn people(redated: &Redated, into: Option<&Path>) -> String {
    let mut out = format!("From {} to {}.\n\nEdited in product.toml:\n", redated.from, redated.to);
    for edit in &redated.edits {
        let (line, key, before) = (edit.line, &edit.key, &edit.before);
        // Writing to a text does not fail.
        let _ = match &edit.after {
            Some(after) => writeln!(out, "  line {line}, {key}: {before} \u{2192} {after}"),
            None => writeln!(out, "  line {line}, {key}: taken out ({before})"),
        };
    }
    if !redated.eye.is_empty() {
        out.push_str("\nNeeds your eye:\n");
    }
    for eye in &redated.eye {
        let line = eye.line.map_or(String::new(), |line| format!(":{line}"));
        let _ = writeln!(out, "  {}{line}: {}\n    {}", eye.file, eye.what, eye.help);
    }
    out.push_str("\nWhat the calendar does:\n");
    for line in &redated.calendar {
        let _ = writeln!(out, "  {line}");
    }
    let _ = match into {
        Some(into) => writeln!(out, "\nMade {}. Next: sheafwright build {}", slashed(into), typed(into)),
        None => writeln!(out, "\nNothing was written."),
    };
    out
}
