//! Archives: does everybody's unpacker open them, and is what is inside whole.

use super::catalogue::{Findings, found};
use crate::model::Where;
use crate::model::facts::{EntryFacts, Inspected, ZipFacts};

/// Checks an archive and its entries.
pub fn check(file: &Inspected, facts: &ZipFacts, findings: &mut Findings) {
    for fault in &facts.damage {
        found!(findings, "archive-damaged", Where::file(&file.path), "the archive is broken: {fault}");
    }
    for entry in &facts.entries {
        one(entry, &Where::entry(&file.path, &entry.name), findings);
    }
}

fn one(entry: &EntryFacts, at: &Where, findings: &mut Findings) {
    if entry.flags & 1 != 0 {
        found!(findings, "entry-encrypted", at.clone(), "the entry is encrypted");
        return;
    }
    if let Some(why) = climbs(&entry.name) {
        found!(findings, "entry-climbs", at.clone(), "the entry's path {why}");
    }
    if entry.method != 0 && entry.method != 8 {
        found!(findings, "entry-method-odd", at.clone(), "the entry is packed by method {}", entry.method);
    } else if !entry.sound && !entry.folder {
        found!(findings, "entry-damaged", at.clone(), "the entry does not unpack: {}", entry.skipped);
    }
    if !entry.contradicts.is_empty() {
        found!(findings, "archive-damaged", at.clone(), "the two headers of the entry disagree: {}", entry.contradicts);
    }
}

/// Whether a path leaves the folder that it is unpacked into.
fn climbs(name: &str) -> Option<&'static str> {
    let mut chars = name.chars();
    let drive = chars.next().is_some_and(|c| c.is_ascii_alphabetic()) && chars.next() == Some(':');
    if name.starts_with(['/', '\\']) {
        Some("is absolute")
    } else if drive {
        Some("begins with a drive letter")
    } else if name.split(['/', '\\']).any(|part| part == "..") {
        Some("climbs out of its folder")
    } else if name.contains('\\') {
        Some("is divided by backslashes, which other systems take for a part of the name")
    } else {
        None
    }
}
