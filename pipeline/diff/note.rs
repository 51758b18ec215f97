//! The change note for people who bought an older version, in plain words; it is meant to be edited.

use crate::model::Fault;
use crate::model::difference::{Change, Comparison};
use tera::{Context, Tera};

const TEMPLATE: &str = include_str!("note.md.tera");

/// Writes the note.
///
/// # Errors
/// When the template cannot be filled, which is a fault of the program.
pub fn write(found: &Comparison) -> Result<String, Fault> {
    let wrong = |e: tera::Error| Fault::new(format!("the change note could not be written: {e}"));
    let mut tera = Tera::default();
    tera.add_raw_template("note", TEMPLATE).map_err(wrong)?;
    // What lies in an archive is told of the loose file, where there is one.
    let count = |kinds: &[Change]| found.differences.iter().filter(|d| kinds.contains(&d.kind)).count();
    let licence = found.differences.iter().any(|d| d.message.starts_with("the licence terms changed"));
    let mut context = Context::new();
    context.insert("same", &found.same);
    context.insert("download", &found.download_again);
    context.insert("licence", &licence);
    for (key, kinds) in [
        ("files_added", &[Change::FileAdded][..]),
        ("files_removed", &[Change::FileRemoved]),
        ("files_renamed", &[Change::FileRenamed]),
        ("pages_added", &[Change::PageInserted]),
        ("pages_removed", &[Change::PageRemoved]),
        ("pages_moved", &[Change::PageMoved]),
        ("pages_redrawn", &[Change::PageRedrawn]),
        ("links_added", &[Change::LinkAdded]),
        ("links_removed", &[Change::LinkRemoved]),
        ("links_changed", &[Change::LinkRetargeted, Change::LinkMoved]),
        ("images", &[Change::ImageChanged]),
    ] {
        context.insert(key, &count(kinds));
    }
    let facts: Vec<String> = found
        .facts
        .iter()
        .map(|f| format!("{}: {} before, {} now", f.what, f.old.unwrap_or(0), f.new.unwrap_or(0)))
        .collect();
    context.insert("facts", &facts);
    let text = tera.render("note", &context).map_err(wrong)?;
    let mut lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    lines.dedup_by(|a, b| a.is_empty() && b.is_empty());
    Ok(format!("{}\n", lines.join("\n").trim()))
}
