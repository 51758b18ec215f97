//! Archives: does everybody's unpacker open them, and is what is inside whole.

use super::catalogue::{Findings, found};
use base::model::Where;
use base::model::facts::{EntryFacts, Inspected, ZipFacts};

/// Checks an archive and its entries.
pub fn check(file: &Inspected, facts: &ZipFacts, findings: &mut Findings) {
    for fault in &facts.damage {
        found!(findings, "archive-damaged", Where::file(&file.path), "the archive is broken: {fault}");
    }
    whole(file, facts, findings);
    // A bundle that was packed as a whole, to be kept: no buyer unpacks it.
    let bundle = facts.entries.iter().any(|e| e.name.rsplit('/').next() == Some("bundle.json"));
    for entry in &facts.entries {
        let at = Where::entry(&file.path, &entry.name);
        check_entry(entry, &at, findings);
        if is_archive(&entry.name) && !is_junk(&entry.name) && !bundle {
            found!(findings, "archive-nested", at, "the entry is an archive itself");
        }
    }
}

/// An archive that unpacks to more than this many times its size, and more than that many bytes, is no honest one.
const BOMB: (u64, u64) = (100, 200_000_000);

fn whole(file: &Inspected, facts: &ZipFacts, findings: &mut Findings) {
    let at = || Where::file(&file.path);
    let unpacked: u64 = facts.entries.iter().fold(0, |sum, e| sum.saturating_add(e.size));
    if unpacked > BOMB.1 && unpacked / BOMB.0 > file.size {
        found!(findings, "archive-bomb", at(), "the archive has {} bytes and states {unpacked} unpacked", file.size);
    }
    if facts.shared > 0 {
        let shared = facts.shared;
        let message = format!("{shared} entries overlap others, so that the same bytes are unpacked twice");
        found!(findings, "archive-bomb", at(), "{message}");
    }
    if facts.zip64 {
        found!(findings, "archive-zip64", at(), "the archive uses ZIP64");
    }
    if facts.stray_bytes > 0 {
        found!(findings, "archive-stray-bytes", at(), "{} bytes of the archive belong to no entry", facts.stray_bytes);
    }
}

/// Files that desktop systems leave behind.
fn is_junk(name: &str) -> bool {
    name.split(['/', '\\']).any(|part| {
        matches!(
            part.to_ascii_lowercase().as_str(),
            "__macosx" | ".ds_store" | "thumbs.db" | "desktop.ini" | ".spotlight-v100" | ".trashes" | "ehthumbs.db"
        ) || part.starts_with("._")
    })
}

fn is_archive(name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    [".zip", ".7z", ".rar", ".tar", ".tgz", ".gz"].iter().any(|ending| name.ends_with(ending))
}

fn check_entry(entry: &EntryFacts, at: &Where, findings: &mut Findings) {
    if entry.flags & 1 != 0 {
        found!(findings, "entry-encrypted", at.clone(), "the entry is encrypted");
        return;
    }
    if is_junk(&entry.name) {
        found!(findings, "junk-packed", at.clone(), "the entry is something that a desktop system left behind");
    }
    if entry.symlink {
        found!(findings, "entry-is-symlink", at.clone(), "the entry is a symbolic link");
    }
    if entry.flags & (1 << 11) == 0 && entry.utf8 && !entry.name.is_ascii() {
        found!(
            findings,
            "entry-name-unmarked",
            at.clone(),
            "the name is UTF-8, but bit 11 of the flags does not say so"
        );
    } else if entry.flags & (1 << 11) == 0 && !entry.name.is_ascii() {
        found!(findings, "entry-name-unmarked", at.clone(), "the name is in an old code page");
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
